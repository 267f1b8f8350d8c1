"""Where output goes and how: terminals, pipes and files."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import pytest
from axisproof.cli import main as cli

from tests.captured import Captured
from tests.cli.fake_api import CLEAN, WARNING, FakeApi


def test_piped_text_is_plain_and_100_columns(
    api: FakeApi, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "200")
    api.report = replace(CLEAN, findings=(replace(WARNING, remedy="word " * 60),))
    cli.run(["check", "a.yaml"])
    out = capsys.readouterr().out
    assert "\x1b" not in out
    assert 90 < max(map(len, out.splitlines())) <= 100
    cli.run(["check", "a.yaml", "--width", "120"])
    assert 100 < max(map(len, capsys.readouterr().out.splitlines())) <= 120


@pytest.mark.parametrize(
    ("variables", "coloured"),
    [
        ({"TERM": "xterm"}, True),
        ({"TERM": "xterm", "NO_COLOR": "1"}, False),
        # An empty NO_COLOR does not count (no-color.org).
        ({"TERM": "xterm", "NO_COLOR": ""}, True),
        ({"TERM": "dumb"}, False),
    ],
)
def test_a_terminal_gets_colour_unless_it_is_declined(
    api: FakeApi,
    capsys: Captured,
    monkeypatch: pytest.MonkeyPatch,
    variables: dict[str, str],
    coloured: bool,
) -> None:
    monkeypatch.delenv("NO_COLOR", raising=False)
    for name, value in variables.items():
        monkeypatch.setenv(name, value)
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    api.report = replace(CLEAN, findings=(WARNING,))
    cli.run(["check", "a.yaml"])
    assert ("\x1b[" in capsys.readouterr().out) is coloured


def test_output_goes_to_a_new_file_without_colour(
    api: FakeApi, capsys: Captured, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    target = tmp_path / "report.txt"
    api.report = replace(CLEAN, findings=(replace(WARNING, message="≈ 5 mm"),))
    assert cli.run(["check", "a.yaml", "--output", str(target)]) == 1
    text = target.read_text("utf-8")
    assert "≈ 5 mm" in text
    assert "\x1b" not in text
    assert capsys.readouterr().out == ""


def test_an_existing_file_is_overwritten_only_by_force(
    api: FakeApi, capsys: Captured, tmp_path: Path
) -> None:
    target = tmp_path / "report.txt"
    target.write_text("precious")
    assert cli.run(["check", "a.yaml", "--output", str(target)]) == 2
    assert target.read_text() == "precious"
    assert api.calls == []
    assert "exists and would be overwritten" in " ".join(capsys.readouterr().err.split())
    assert cli.run(["check", "a.yaml", "--output", str(target), "--force"]) == 0
    assert target.read_text().startswith("hall: no findings")


def test_a_checked_file_is_never_overwritten_by_its_report(api: FakeApi, tmp_path: Path) -> None:
    machine = tmp_path / "hall.yaml"
    machine.write_text("machine: hall")
    api.report = replace(CLEAN, files=(str(machine),))
    assert cli.run(["check", str(machine), "--output", str(machine), "--force"]) == 2
    assert machine.read_text() == "machine: hall"


def test_a_report_does_not_overwrite_the_rules_it_was_made_with(tmp_path, capsys) -> None:
    from axisproof.cli.main import run

    rules = tmp_path / "own.rules"
    rules.write_text("language 2\n", "utf-8")
    sound = str(Path(__file__).parents[2] / "fixtures" / "sound" / "table.json")
    options = ["--rules", str(tmp_path), "--output", str(rules), "--force"]
    assert run(["check", sound, *options]) == 2
    assert rules.read_text("utf-8") == "language 2\n"
