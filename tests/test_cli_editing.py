"""Commands for people at work: progress on a terminal, and the server's absence in words."""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

import pytest
from axisproof import cli
from axisproof.watching import stamps

FIXTURES = Path(__file__).parent.parent / "fixtures"
Captured = pytest.CaptureFixture[str]


def machines(folder: Path, number: int) -> Path:
    for each in range(number):
        shutil.copy(FIXTURES / "sound" / "table.json", folder / f"table{each}.json")
    return folder


@pytest.mark.parametrize(
    ("number", "terminal", "shown"), [(12, True, True), (12, False, False), (2, True, False)]
)
def test_a_long_check_shows_its_progress_on_a_terminal_only(
    number: int,
    terminal: bool,
    shown: bool,
    tmp_path: Path,
    capsys: Captured,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(sys.stderr, "isatty", lambda: terminal)
    assert cli.run(["check", str(machines(tmp_path, number))]) == 0
    captured = capsys.readouterr()
    assert ("Checking" in captured.err) is shown
    assert ("100%" in captured.err) is shown
    assert "Checking" not in captured.out


def test_without_its_packages_the_server_says_how_to_get_them(
    capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delitem(sys.modules, "axisproof.editor.server", raising=False)
    monkeypatch.setitem(sys.modules, "lsprotocol", None)
    assert cli.run(["serve"]) == 2
    told = " ".join(capsys.readouterr().err.split())
    assert "needs the package pygls, which is not installed" in told
    assert "axisproof[editor]" in told


def test_stamps_cover_folders_files_and_what_is_not_there(tmp_path: Path) -> None:
    machines(tmp_path, 1)
    (tmp_path / "notes.txt").write_text("x", "utf-8")
    (tmp_path / ".git").mkdir()
    (tmp_path / ".git" / "x.yaml").write_text("x", "utf-8")
    (tmp_path / "site.rules").write_text("language 1\n", "utf-8")
    gone = tmp_path / "gone.yaml"
    found = stamps([tmp_path, gone], [FIXTURES / "sound" / "table.json"])
    assert {path.name for path in found} == {
        "table0.json",
        "site.rules",
        "gone.yaml",
        "table.json",
    }
    assert found[gone] is None
    gone.write_text("x", "utf-8")
    assert stamps([gone])[gone] is not None
