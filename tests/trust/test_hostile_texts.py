"""A hostile repository: what of its texts reaches a reader."""

from __future__ import annotations

import json
import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path

import pytest
from markdown_it import MarkdownIt

from tests.captured import Captured
from tests.trust.hostile_texts import rule_text, shown

FIXTURES = Path(__file__).parent.parent.parent / "fixtures"


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
    from axisproof.source.reader import DISK

    told = analyse(machine, DISK, read_side_files(SideFileOptions((repository / "site.rules",))))
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
