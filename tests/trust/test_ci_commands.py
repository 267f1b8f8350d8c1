"""Nothing that a checked repository says becomes a command of the system that runs the check.

Such systems take a line that begins with ``::`` after blanks, and ``##word[`` anywhere in a line,
for a command: https://docs.github.com/actions/reference/workflow-commands and
https://learn.microsoft.com/azure/devops/pipelines/scripts/logging-commands, both from memory.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from axisproof.cli.main import run
from hypothesis import example, given
from hypothesis import strategies as st

from tests.captured import Captured

FIXTURES = Path(__file__).parent.parent.parent / "fixtures"

ACTIVE = re.compile(r"^(?:[\s\ufeff\u200b]|\x1b\[[0-9;]*m)*::|##[\w.-]*\[")

WORDS = ["::error::owned", "##vso[task.complete result=Succeeded;]", "##[error]owned"]
LONG = " ".join(("::stop-commands::x", *WORDS, "##teamcity[x]")) + " " + "a" * 59 + " ::add-mask::x"

NAMES = ["::error::m", "##vso[task.complete]m", "##[error]m"]


def active(text: str) -> list[str]:
    return [
        line
        for line in re.split(r"[\r\n\x0b\x0c\x1c-\x1e\x85\u2028\u2029]", text)
        if ACTIVE.search(line)
    ]


def quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)


@pytest.fixture
def repository(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    plain = (FIXTURES / "changes/lift/speed-raised-past-room.yaml").read_text("utf-8")
    plain = re.sub(r"(?m)^( +)guidance: .*$", rf"\1guidance: {quoted(LONG)}", plain)
    plain = re.sub(r"(?m)^( +)serial: .*$", lambda m: f"{m[1]}serial: {quoted(LONG)}", plain)
    plain += f"settings:\n  max_inertia_ratio: {{value: 3, reason: {quoted(LONG)}}}\n"
    for number, name in enumerate(NAMES):
        named = re.sub(r"(?m)^machine: .*$", f"machine: M{number}", plain)
        (tmp_path / f"{name}.yaml").write_text(named, "utf-8")
    rule = (
        'language 2\n\nrule site-hostile\n  level error\n  title {0}\n  each axis\n'
        '  require axis.motor.serial is "nothing"\n  say {0} "{{axis.motor.serial}}"\n'
        '  why {0}\n  remedy {0}\n  basis {0}\n'
        '  passes "p" axis.motor.serial = "nothing"\n  fails {0} axis.motor.serial = {0}\n'
    )  # fmt: skip
    (tmp_path / "site.rules").write_text(rule.format(quoted(LONG)), "utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def said(capsys: Captured, *arguments: str) -> str:
    status = run(list(arguments))
    captured = capsys.readouterr()
    assert status in (0, 1, 2)
    assert "Unforeseen" not in captured.err
    return captured.out + captured.err


@pytest.mark.parametrize(
    "form", ["text", "lines", "codequality", "markdown", "json", "sarif", "junit", "html"]
)
def test_no_report_holds_a_command(form: str, repository: Path, capsys: Captured) -> None:
    text = said(
        capsys, "check", ".", "--rules", "site.rules", "--format", form, "--width", "80",
        *(["--workings"] if form == "text" else []),
    )  # fmt: skip
    assert "hostile" in text
    assert not text.startswith(("Cannot", "Unusable", "Unforeseen"))
    assert active(text) == []


def test_annotations_are_the_commands_of_findings_and_no_others(
    repository: Path, capsys: Captured
) -> None:
    text = said(capsys, "check", ".", "--rules", "site.rules", "--format", "annotations")
    lines = text.splitlines()
    assert len(lines) > 6
    own = r"::(?:error|warning|notice) (?:[a-zA-Z]+=[^:,]*,)*title=[^:,]*::"
    assert all(re.match(own, line) for line in lines)
    assert all("##" not in line and "\r" not in line for line in lines)
    hostile = [line for line in lines if "title=site-hostile::" in line]
    assert len(hostile) == 3
    for line in hostile:
        assert re.match("::error file=%3A%3Aerror|::error file=##|::error file=", line)


def test_a_report_for_programs_says_the_same_texts(repository: Path, capsys: Captured) -> None:
    text = said(capsys, "check", ".", "--rules", "site.rules", "--format", "json")
    report = json.loads(text)
    assert LONG in {finding["remedy"] for finding in report["findings"]}
    assert {name.removesuffix(".yaml") for name in report["files"]} == set(NAMES)


def test_a_written_report_holds_none_either(repository: Path, capsys: Captured) -> None:
    for form in ("text", "html"):
        said(capsys, "check", ".", "--rules", "site.rules", "--format", form, "--output", "out")
        assert active(Path("out").read_text("utf-8")) == []
        Path("out").unlink()


def commands() -> Iterator[list[str]]:
    before = str(FIXTURES / "changes/lift/before.yaml")
    for name in NAMES:
        machine = f"{name}.yaml"
        yield ["show", machine]
        yield ["changes", before, machine, "--rules", "site.rules"]
        yield ["changes", before, machine, "--rules", "site.rules", "--format", "json"]
        yield ["spare", machine, "--axis", "lift", "--part", "motor", "--plan", machine]
        yield ["accept", machine, "--rules", "site.rules", "-o", f"{name}.json"]
        yield ["fix", machine, "--rules", "site.rules"]
        yield ["check", f"{name}.yml"]
        yield ["check", machine, "--settings", "site.rules"]
        yield ["check", name]
        yield ["show", machine, f"x {name}"]
        yield ["explain", name]
        yield [name]
        yield ["check", f"--{name}"]
    yield ["rules", "list", "--rules", "site.rules"]
    yield ["rules", "test", "site.rules"]
    yield ["explain", "site-hostile", "--rules", "site.rules", "--source"]
    yield ["init", "--machine", LONG, "--axis", "x:linear"]
    yield ["init", "--machine", "##vso[x]", "--axis", "##vso[x]:linear"]


@pytest.mark.parametrize("command", list(commands()), ids=" ".join)
def test_no_command_prints_one(command: list[str], repository: Path, capsys: Captured) -> None:
    text = said(capsys, *command)
    assert text
    assert active(text) == []


@pytest.mark.parametrize("word", WORDS)
@pytest.mark.parametrize(
    "text",
    [
        "{word}\n",
        "format: 1\n  {word}: 1\n",
        "format: 1\nmachine: M\naxes:\n  {word}\n",
        'format: 1\nmachine: M\naxes:\n  x: {{motion: up}} # {word}\n',
        'format: 1\nmachine: M\naxes:\n  "{word}": {{motion: up}}\n',
        "{{{word}",
    ],
)  # fmt: skip
def test_a_quoted_line_is_no_command(
    text: str, word: str, tmp_path: Path, capsys: Captured
) -> None:
    path = tmp_path / "m.yaml"
    path.write_text(text.format(word=word), "utf-8")
    told = said(capsys, "check", str(path))
    assert "Unusable input" in told
    assert active(told) == []


def test_a_quoted_line_carries_a_sign_and_its_marker_stands_under_the_value(
    tmp_path: Path, capsys: Captured
) -> None:
    path = tmp_path / "m.yaml"
    path.write_text('format: 1\nmachine: M\naxes: {x: {description: "##[a]", motion: up}}\n')
    lines = said(capsys, "check", str(path)).splitlines()
    (at,) = [number for number, line in enumerate(lines) if "description" in line]
    assert lines[at].lstrip().startswith("│ axes: {")
    assert lines[at][lines[at + 1].index("├") :].startswith("up}")


@given(st.text(st.sampled_from("#: a[\n\r\t\\x\u00a0.")), st.sampled_from(["text", "json", "html"]))
@example("##[[##vso[", "text")
@example(" \r\n ::", "text")
@example("a\r ::", "text")
def test_what_is_taken_apart_holds_no_command(text: str, form: str) -> None:
    from axisproof.report.ci_commands import without_commands

    done = without_commands(text, form)
    assert active(done) == []
    for sign, ways in (("#", ("\\x23", "\\u0023", "&#35;")), (":", ("\\x3a", "\\u003a", "&#58;"))):
        for way in ways:
            if way not in text:
                done = done.replace(way, sign)
    assert done == text
