"""A hostile repository: no text in it becomes code."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest
from axisproof import api
from axisproof.base.errors import RuleError
from axisproof.catalogue.catalogue import shipped
from axisproof.language.checker import check_rules
from axisproof.language.compiler import generate
from axisproof.language.helpers import HELPERS
from axisproof.language.parser import parse_rules
from axisproof.language.rule_file import RuleFile

from tests.trust.hostile_texts import rule_text

FIXTURES = Path(__file__).parent.parent.parent / "fixtures"
PACKAGE = Path(__file__).parent.parent.parent / "lint"


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
    "pickle": {
        "base/set_aside.py",  # own values, in a temporary file without a name
        "batch/elsewhere.py",  # to and from the workers of an executor that the user gives
    },
    "marshal": set(),
    "shelve": set(),
    "socket": {"batch/elsewhere.py"},  # the name of a worker's computer, for a message
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
