"""A hostile repository: what files in it can make axisproof do, and what of them reaches a reader.

All that is hostile is made here: names and texts with terminal sequences, characters that turn the
order of text, HTML, Markdown; links and paths that lead out; rules that try to be code.
"""

from __future__ import annotations

import ast
import io
import json
import re
import sys
import xml.etree.ElementTree as ET
from collections.abc import Callable, Iterator
from html.parser import HTMLParser
from pathlib import Path

import pytest
from axisproof import api
from axisproof.base.errors import AxisproofError, InputError, RuleError, UsageError
from axisproof.catalogue.catalogue import shipped
from axisproof.cli.main import run
from axisproof.language.checker import check_rules
from axisproof.language.compiler import generate
from axisproof.language.helpers import HELPERS
from axisproof.language.parser import parse_rules
from axisproof.language.rule_file import RuleFile
from markdown_it import MarkdownIt

Captured = pytest.CaptureFixture[str]

FIXTURES = Path(__file__).parent.parent.parent / "fixtures"
PACKAGE = Path(__file__).parent.parent.parent / "lint"

TURNING = "\u202e\u2066\u200f\u061c"
"""Characters that turn the order of the text around them."""

SEQUENCE = "\x1b[31m\x1b]0;owned\x07\x9b2J"
"""Terminal sequences; YAML cannot state them, names of files and rule texts may try."""

HTML = "<script>alert(1)</script><img src=x onerror=alert(2)>&lt;\"'"
MARKDOWN = "| `x` ``` **b** [l](http://e.example) ![i](http://e.example/i) # @everyone <b>"
TEXT = f"{TURNING} {HTML} {MARKDOWN}"

PRIVATE = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]")
"""What must reach no reader's terminal, whatever stood in a file."""


def quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)


RULE = """language 2

rule site-hostile
  level   error
  title   {text}
  each    axis
  require axis.motor.serial is "nothing"
  say     {text} "{{axis.motor.serial}}"
  why     {text}
  remedy  {text}
  basis   {text}
  passes  "p" axis.motor.serial = "nothing"
  fails   {text} axis.motor.serial = {text}
"""


def rule_text(text: str) -> str:
    """A rule whose every text is ``text``; braces in a message would be a value."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"').replace("{", "{{").replace("}", "}}")
    return RULE.format(text=f'"{escaped}"')


@pytest.fixture
def repository(tmp_path: Path) -> Path:
    """A folder whose names, machines, rules, waivers and settings are all hostile."""
    folder = tmp_path / f"m{SEQUENCE}{TURNING}<b>`|"
    folder.mkdir()
    plain = (FIXTURES / "changes/lift/speed-raised-past-room.yaml").read_text("utf-8")
    assert "  lift:\n" in plain
    hostile = re.sub(r"(?m)^( +)serial: .*$", lambda m: f"{m[1]}serial: {quoted(TEXT)}", plain)
    hostile = re.sub(
        r"(?m)^( +)guidance: .*$", lambda m: f"{m[1]}guidance: {quoted(TEXT)}", hostile
    )
    hostile += f"settings:\n  max_inertia_ratio: {{value: 3, reason: {quoted(TEXT)}}}\n"
    assert hostile.count("<script>") >= 3
    (folder / f"{SEQUENCE}{TURNING}<i>.yaml").write_text(hostile, "utf-8")
    (tmp_path / "site.rules").write_text(rule_text(TEXT), "utf-8")
    waiver = {
        "rule": "site-hostile",
        "machine": "Bottling hall",
        "axis": "lift",
        "reason": TEXT,
        "approved_by": TEXT,
        "expires": "2999-12-31",
        "values": {"motor.serial": TEXT},
    }
    (tmp_path / "waivers.json").write_text(json.dumps({"waivers": 1, "entries": [waiver]}))
    return tmp_path


def machine_in(repository: Path) -> Path:
    (found,) = repository.rglob("*.yaml")
    return found


def shown(capsys: Captured, *arguments: object) -> str:
    """What a command prints to either stream; it must not be an unforeseen failure."""
    status = run([str(each) for each in arguments])
    captured = capsys.readouterr()
    assert status in (0, 1, 2)
    assert "Unforeseen" not in captured.err, captured.err
    return captured.out + captured.err


def correctable(repository: Path) -> Path:
    """A machine with a correction to be shown, on a line with a hostile comment."""
    text = (FIXTURES / "faults/ratio-as-exact-as-on-record.yaml").read_text("utf-8")
    assert "3.333\n" in text
    path = repository / f"c{SEQUENCE}{TURNING}.yml"
    path.write_text(text.replace("3.333\n", f"3.333 # {TEXT}\n"), "utf-8")
    return path


def check_arguments(repository: Path) -> list[object]:
    rules, waivers = repository / "site.rules", repository / "waivers.json"
    day = ["--on", "2026-06-01"]
    return ["check", machine_in(repository), "--rules", rules, "--waivers", waivers, *day]


# What reaches a reader ----------------------------------------------------------------------------


@pytest.mark.parametrize("form", ["text", "markdown", "json", "sarif", "junit", "html"])
def test_no_report_holds_a_terminal_sequence_or_turns_text(
    form: str, repository: Path, capsys: Captured
) -> None:
    extra = ["--workings"] if form in ("text", "markdown") else []
    text = shown(capsys, *check_arguments(repository), "--format", form, *extra)
    assert "hostile" in text
    assert not PRIVATE.search(text), repr(PRIVATE.search(text))


def commands(repository: Path) -> Iterator[list[object]]:
    machine, rules = machine_in(repository), repository / "site.rules"
    before = FIXTURES / "changes/lift/before.yaml"
    yield ["show", machine]
    yield ["explain", "site-hostile", "--rules", rules, "--source"]
    yield ["rules", "list", "--rules", rules]
    yield ["rules", "test", rules]
    yield ["changes", before, machine, "--rules", rules]
    yield ["changes", machine, before, "--format", "json"]
    yield ["spare", machine, "--axis", "lift", "--part", "motor", "--plan", machine]
    yield ["accept", machine, "--rules", rules]
    yield ["fix", machine, "--rules", rules]
    yield ["fix", correctable(repository)]
    yield ["import", machine]
    yield ["init", "--machine", TEXT[:40], "--axis", "x:linear"]
    # errors
    yield ["check", repository / f"nowhere{SEQUENCE}{TURNING}"]
    yield ["check", machine, "--settings", repository / "waivers.json"]
    yield ["explain", f"x{SEQUENCE}{TURNING}"]
    yield ["show", machine, f"x{SEQUENCE}{TURNING}"]


@pytest.mark.parametrize("number", range(16))
def test_no_command_prints_a_terminal_sequence_or_turns_text(
    number: int, repository: Path, capsys: Captured
) -> None:
    command = list(commands(repository))[number]
    text = shown(capsys, *command)
    assert text
    assert not PRIVATE.search(text), (command, repr(PRIVATE.search(text)), text[-2000:])


@pytest.mark.parametrize(
    "text",
    [
        f"machine: {quoted(TEXT)} x\n",
        f"format: 1\n{quoted(TURNING)}: 1\n",
        f"format: 1\nmachine: M\naxes: {{{quoted(HTML)}: {{}}}}\n",
        f"format: 1\nmachine: M\naxes: {{x: {{motion: {quoted(TEXT)}}}}}\n",
        f"format: 1\nmachine: M\ninclude: [{quoted(TURNING)}]\naxes: {{x: {{motion: linear}}}}\n",
        f"format: 1\nmachine: M{SEQUENCE}\n",
        f"a: {TURNING}\n b: 1\n",
    ],
)
def test_no_message_about_a_bad_file_holds_a_terminal_sequence_or_turns_text(
    text: str, tmp_path: Path, capsys: Captured
) -> None:
    path = tmp_path / f"{SEQUENCE}{TURNING}.yaml"
    path.write_text(text, "utf-8")
    told = shown(capsys, "check", path)
    assert "Unusable input" in told
    assert not PRIVATE.search(told), repr(told)


@pytest.mark.parametrize("text", [SEQUENCE, TURNING, "\x00", "\u2028", "\ufeff"])
@pytest.mark.parametrize("spot", ["title", "rule site-hostile", "language 2", "require"])
def test_no_message_about_a_bad_rule_holds_a_terminal_sequence_or_turns_text(
    spot: str, text: str, tmp_path: Path, capsys: Captured
) -> None:
    path = tmp_path / "x.rules"
    path.write_text(rule_text("t").replace(spot, f"{spot} {text}"), "utf-8")
    told = shown(capsys, "rules", "test", path)
    assert "Unusable rule" in told
    assert not PRIVATE.search(told), repr(told)


def test_an_editor_is_told_without_them(repository: Path) -> None:
    pytest.importorskip("pygls")
    from tests.bench.fuzz.editor import session

    machine = machine_in(repository)
    (repository / "session").write_text("at 8 10\nat 12 9\ncut 400\n")
    assert session(repository, ["session", str(machine.relative_to(repository)), "site.rules"])
    from axisproof.editor.machines import analyse
    from axisproof.editor.side_files import SideFileOptions, read_side_files

    told = analyse(machine, {}, read_side_files(SideFileOptions((repository / "site.rules",))))
    remarks = [text for each in told.diagnostics for text in (each.text, each.why)]
    assert any("script" in text for text in remarks)
    # The protocol is JSON, and an editor shows plain text: nothing there is a terminal's.
    assert not [text for text in remarks if re.search("[\x00-\x08\x0b-\x1f\x7f-\x9f]", text)]


class Page(HTMLParser):
    """The elements, attributes and text of a page."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str | None]] = []
        self.texts: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes += attrs

    def handle_data(self, data: str) -> None:
        self.texts.append(data)


def test_nothing_from_an_input_is_an_element_of_the_page(
    repository: Path, capsys: Captured
) -> None:
    page = Page(shown(capsys, *check_arguments(repository), "--format", "html"))
    assert not {"script", "img", "iframe", "object", "i"} & set(page.tags)
    assert page.tags.count("link") == 1  # the page's own empty icon
    assert not [name for name, _ in page.attributes if name.startswith("on")]
    urls = [value for name, value in page.attributes if name in ("href", "src")]
    assert all(url == "data:," or str(url).startswith("#") for url in urls), urls
    assert any("<script>alert(1)</script>" in text for text in page.texts)


def test_nothing_from_an_input_is_markup_in_a_merge_request(
    repository: Path, capsys: Captured
) -> None:
    text = shown(capsys, *check_arguments(repository), "--format", "markdown")
    page = Page(MarkdownIt("commonmark").enable("table").render(text))
    assert not {"script", "img", "a", "b", "i"} & set(page.tags), page.tags
    assert "@everyone" not in re.sub(r"(?s)(`+)(?!`).*?(?<!`)\1(?!`)", "", text)
    rows = [line for line in text.splitlines() if line.startswith("|")]
    bars = {len(re.findall(r"(?<!\\)\|", row)) for row in rows}
    assert bars == {6}, bars


def test_junit_is_xml_that_holds_the_texts(repository: Path, capsys: Captured) -> None:
    text = shown(capsys, *check_arguments(repository), "--format", "junit")
    root = ET.fromstring(text)
    assert "<script>alert(1)</script>" in "".join(root.itertext())
    assert "<!DOCTYPE" not in text
    assert "<!ENTITY" not in text


@pytest.mark.parametrize("form", ["json", "sarif"])
def test_reports_for_programs_are_printable_ascii_and_lose_nothing(
    form: str, repository: Path, capsys: Captured
) -> None:
    text = shown(capsys, *check_arguments(repository), "--format", form)
    assert text.isascii()
    assert TURNING in json.dumps(json.loads(text), ensure_ascii=False)


# What files can make it do ------------------------------------------------------------------------

CODE = [
    '__import__("os").system("touch owned")',
    "'''\nimport os\nos.system('touch owned')\n'''",
    '"); __import__("os").system("touch owned"); ("',
    "{axis.__class__.__mro__}",
    "\\\nimport os",
    "'+str(open('/etc/passwd').read())+'",
]

NOTES = frozenset({"machine", "partial", "disputed", "decimals", "settings", "memo"})
"""What generated code reads of the notes of a record: plain values without methods of their own."""

ATTRIBUTES = frozenset({"get", "append", "add", *NOTES})
"""All attributes that generated code may ask for: of dicts, lists, sets and notes."""


def names_and_attributes(source: str) -> tuple[set[str], set[str], set[str]]:
    tree = ast.parse(source)
    nodes = list(ast.walk(tree))
    made = {node.name for node in nodes if isinstance(node, ast.FunctionDef)}
    made |= {node.arg for node in nodes if isinstance(node, ast.arg)}
    made |= {
        node.id for node in nodes if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store)
    }
    used = {node.id for node in nodes if isinstance(node, ast.Name)} - made
    attributes = {node.attr for node in nodes if isinstance(node, ast.Attribute)}
    return used, attributes, {type(node).__name__ for node in nodes}


def assert_harmless(source: str) -> None:
    used, attributes, kinds = names_and_attributes(source)
    known = {name for name in used if name.startswith("d_")}  # definitions of other files
    assert used - known <= {*HELPERS, "set", "len"}, used
    assert attributes <= ATTRIBUTES, attributes
    assert not kinds & {"Import", "ImportFrom", "Global", "Lambda", "Await", "ClassDef", "With"}


def test_the_code_made_from_shipped_rules_reaches_nothing_but_its_helpers() -> None:
    trees = shipped().trees
    assert_harmless(generate(trees, trees.settings))


@pytest.mark.parametrize("code", CODE)
def test_a_text_in_a_rule_stays_a_text(code: str, tmp_path: Path, monkeypatch: object) -> None:
    rules = tmp_path / "x.rules"
    escaped = code.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")
    text = rule_text("t").replace('"nothing"', f'"{escaped}"')
    rules.write_text(text, "utf-8")
    assert_harmless(generate(check_rules([parse_rules(RuleFile("x", text))])))
    api.check([FIXTURES / "sound/feeder.yaml"], api.CheckOptions(rules=[rules]))
    api.test_rules([rules])
    assert not Path("owned").exists()
    assert {path.name for path in tmp_path.iterdir()} == {"x.rules"}


@pytest.mark.parametrize("code", CODE)
@pytest.mark.parametrize(
    "spot",
    ["rule site-hostile", "each    axis", "axis.motor.serial is", "level   error", "axis.motor"],
)
def test_code_anywhere_else_in_a_rule_is_refused(spot: str, code: str, tmp_path: Path) -> None:
    rules = tmp_path / "x.rules"
    rules.write_text(rule_text("t").replace(spot, f"{spot} {code}"), "utf-8")
    with pytest.raises(RuleError):
        api.check([FIXTURES / "sound/feeder.yaml"], api.CheckOptions(rules=[rules]))


IMPORTED = {'"axisproof.rules.compiled"', '"axisproof.schemas.compiled"', "package"}
"""What `__import__` is given; `package` is one of axisproof's own (package_data.py)."""

ALLOWED: dict[str, set[str]] = {
    "exec": {"language/compiler.py"},  # generated code, held harmless above
    "compile": {"language/compiler.py"},
    "eval": set(),
    "__import__": {
        "catalogue/catalogue.py",
        "machine/schema.py",
        "base/package_data.py",
    },  # of axisproof's own, see below
    "subprocess": {"source/git_objects.py"},  # git cat-file, for `changes REVISION:PATH`
    "pickle": set(),
    "marshal": set(),
    "shelve": set(),
    "socket": set(),
    "http": set(),
    "urllib.request": set(),
    "ftplib": set(),
    "ctypes": set(),
}


def test_nothing_that_reads_files_can_run_code_or_reach_a_network() -> None:
    found: dict[str, set[str]] = {name: set() for name in ALLOWED}
    for path in PACKAGE.rglob("*.py"):
        name = path.relative_to(PACKAGE).as_posix()
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            modules: list[str] = []
            if isinstance(node, ast.Import):
                modules = [alias.name for alias in node.names]
            elif isinstance(node, ast.ImportFrom) and not node.level:
                modules = [node.module or ""]
            elif isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
                modules = [node.func.id]
            for module in modules:
                if module in found:
                    found[module].add(name)
    assert found == ALLOWED
    for name in ALLOWED["__import__"]:
        text = (PACKAGE / name).read_text("utf-8")
        assert set(re.findall(r"__import__\((\S+?)[,)]", text)) <= IMPORTED, name


def test_xml_is_read_by_the_hardened_reader_alone_and_no_csv_is_written() -> None:
    """So no entity is expanded, and no cell is written that a spreadsheet would compute."""
    for path in PACKAGE.rglob("*.py"):
        text = path.read_text("utf-8")
        found = re.search(r"ET\.(parse|fromstring|XML|iterparse)|minidom|expat|lxml", text)
        hardened = path.name == "xml_tree.py" and "from defusedxml" in text
        assert not found or hardened, path
        assert not re.search(r"csv\.(writer|DictWriter)", text), path


def test_cells_that_a_spreadsheet_would_compute_are_texts(tmp_path: Path) -> None:
    (tmp_path / "m.yaml").write_text(
        "mapping: 1\nform: csv\ncolumns: {parameter: N, value: V}\n"
        "parameters:\n  A: {to: motor.serial}\n",
    )
    (tmp_path / "l.csv").write_text("N,V\nA,\"=cmd|'/c calc'!A1\"\n")
    from axisproof.importing.single_export import ImportOptions

    options = ImportOptions("M", "x", "linear", tmp_path / "m.yaml")
    imported = api.import_([tmp_path / "l.csv"], options)
    plain = imported.tree.plain
    assert isinstance(plain, dict)
    assert plain["axes"]["x"]["motor"]["serial"] == "=cmd|'/c calc'!A1"  # type: ignore[index,call-overload]


# Paths --------------------------------------------------------------------------------------------

SECRET = "top-secret: [x\n"


@pytest.fixture
def outside(tmp_path: Path) -> Path:
    """A folder `repository` with a machine, and beside it a file that is none of its business."""
    (tmp_path / "secret.yaml").write_text(SECRET)
    (tmp_path / "secret.rules").write_text(SECRET)
    folder = tmp_path / "repository"
    folder.mkdir()
    (folder / "m.yaml").write_text("format: 1\nmachine: M\naxes: {x: {motion: linear}}\n")
    return folder


def link(folder: Path, name: str, target: str) -> None:
    (folder / name).symlink_to(folder / target)


def refused(use: Callable[[], object], words: str) -> None:
    with pytest.raises(AxisproofError) as caught:
        use()
    error = caught.value
    told = f"{error.what} {error.expected} {error.source_line}"
    assert words in error.what, error.what
    assert "top-secret" not in told


INCLUDES: dict[str, str] = {
    "above": "../secret.yaml",
    "absolute": "/etc/passwd.yaml",
    "around": "sub/../../secret.yaml",
    "by a link": "link.yaml",
    "by a link to a folder": "up/secret.yaml",
    "on another drive": "C:\\\\secret.yaml",
    "on a server": "\\\\\\\\server\\\\secret.yaml",
}


@pytest.mark.parametrize("entry", INCLUDES.values(), ids=INCLUDES.keys())
def test_an_include_stays_in_the_folder_of_its_machine(entry: str, outside: Path) -> None:
    (outside / "sub").mkdir()
    link(outside, "link.yaml", "../secret.yaml")
    link(outside, "up", "..")
    path = outside / "m.yaml"
    path.write_text(f'include: ["{entry}"]\n' + path.read_text())
    with pytest.raises(InputError) as caught:
        api.check([path])
    assert re.search("leaves the folder|absolute path", caught.value.what)
    assert "top-secret" not in str(caught.value)


@pytest.mark.parametrize("entry", INCLUDES.values(), ids=INCLUDES.keys())
@pytest.mark.parametrize("key", ["facts", "device", "table", "mapping"])
def test_a_source_of_a_project_stays_in_its_folder(key: str, entry: str, outside: Path) -> None:
    (outside / "sub").mkdir()
    link(outside, "link.yaml", "../secret.yaml")
    link(outside, "up", "..")
    (outside / "l.csv").write_text("A,B\n")
    stated = {"table": "l.csv", "mapping": "m.yaml"} if key in ("table", "mapping") else {}
    source = json.dumps({**stated, key: entry.replace("\\\\", "\\")})
    path = outside / "project.yaml"
    path.write_text(f"project: 1\nmachine: M\nsources:\n  - {source}\n")
    with pytest.raises(InputError) as caught:
        api.check([path])
    assert re.search("leaves the project's folder|absolute path", caught.value.what)
    assert "top-secret" not in str(caught.value)


def test_a_link_out_of_a_searched_folder_is_refused_unread(outside: Path) -> None:
    link(outside, "n.yaml", "../secret.yaml")
    refused(lambda: api.check([outside]), "n.yaml is a link that leads out of the folder")
    (outside / "n.yaml").unlink()
    (outside / "s.rules").symlink_to(outside.parent / "secret.rules")
    refused(lambda: api.test_rules([outside]), "s.rules is a link that leads out of the folder")


def test_a_link_inside_a_searched_folder_and_one_that_is_named_are_followed(outside: Path) -> None:
    link(outside, "n.yaml", "m.yaml")
    assert api.check([outside]).axes == 1  # the same machine, once
    (outside.parent / "named.yaml").symlink_to(outside / "m.yaml")
    assert api.check([outside.parent / "named.yaml"]).axes == 1


def test_links_to_folders_are_not_followed(outside: Path) -> None:
    (outside / "root").symlink_to("/")
    (outside / "self").symlink_to(outside)
    assert api.check([outside]).axes == 1


def test_what_is_no_file_is_not_opened(outside: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    import os

    os.mkfifo(outside / "pipe.yaml")
    refused(lambda: api.check([outside]), "is not a regular file")
    monkeypatch.setattr(sys, "stdin", io.StringIO())
    refused(lambda: api.check(["/dev/stdin"]), "is not a regular file")


def test_a_report_replaces_nothing_unless_it_is_forced_to(outside: Path, capsys: Captured) -> None:
    kept = outside.parent / "kept.txt"
    kept.write_text("mine")
    (outside / "report.html").symlink_to(kept)
    arguments = ["check", outside / "m.yaml", "--format", "html", "--output"]
    told = " ".join(shown(capsys, *arguments, outside / "report.html").split())
    assert "exists and would be overwritten" in told
    assert kept.read_text() == "mine"
    told = shown(capsys, *arguments, outside / "m.yaml", "--force")
    assert "not overwritten" in told


def test_a_revision_is_asked_for_below_the_repository_only(outside: Path) -> None:
    for path in ("HEAD:../secret.yaml", "HEAD:/etc/passwd", "--output=x:m.yaml", "HEAD:a\\..\\b"):
        with pytest.raises(UsageError):
            api.changes(path, outside / "m.yaml")
    assert not Path("x").exists()
