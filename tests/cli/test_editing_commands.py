"""Commands for people at work: progress on a terminal, and the server's absence in words."""

from __future__ import annotations

import re
import shutil
import sys
from pathlib import Path

import pytest
from axisproof.cli import main as cli
from axisproof.cli.watching import stamps

from tests.captured import Captured

FIXTURES = Path(__file__).parents[2] / "fixtures"


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
    assert (f"{number} of {number} machines" in captured.err) is shown
    assert "Checking" not in captured.out


def test_without_its_packages_the_server_says_how_to_get_them(
    capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delitem(sys.modules, "axisproof.editor.server", raising=False)
    monkeypatch.setitem(sys.modules, "lsprotocol", None)
    assert cli.run(["serve"]) == 2
    told = " ".join(capsys.readouterr().err.split())
    assert "needs the package pygls, which is not installed" in told
    assert "axisproof installed with its extra `editor`" in told
    assert "pip install '.[editor]' in its folder" in told


@pytest.mark.parametrize("option", [[], ["--rules"], ["--settings"]])
def test_a_watch_over_what_does_not_exist_ends_at_once(
    option: list[str], tmp_path: Path, capsys: Captured
) -> None:
    present = [str(machines(tmp_path, 1))] if option else []
    nowhere = str(tmp_path / "nowhere")
    assert cli.run(["check", *present, *option, nowhere, "--watch"]) == 2
    captured = capsys.readouterr()
    assert "there is no file or folder" in captured.err
    assert not captured.out


def test_a_cache_that_took_the_only_path_is_named(tmp_path: Path, capsys: Captured) -> None:
    folder = machines(tmp_path, 1)
    assert cli.run(["check", "--cache", str(folder)]) == 2
    told = "".join(capsys.readouterr().err.split())
    assert f"nopathisleft:--cachetook{folder}asitsfolder" in told.replace("PATH", "path")
    assert "pathsbefore--cache" in told
    assert cli.run(["check", "--cache"]) == 2
    assert "Missing argument" in capsys.readouterr().err


@pytest.mark.parametrize("group", [[], ["rules"]])
def test_no_one_line_help_is_cut_at_eighty_columns(
    group: list[str], capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    assert cli.run([*group, "--help"]) == 0
    told = capsys.readouterr().out
    listed = told.partition("Commands:\n")[2].partition("\n\n")[0].splitlines()
    assert len(listed) >= 3
    for line in listed:
        assert re.search(r"[^.]\.$", line), line


def test_stamps_cover_folders_files_and_what_is_not_there(tmp_path: Path) -> None:
    machines(tmp_path, 1)
    (tmp_path / "notes.txt").write_text("x", "utf-8")
    (tmp_path / ".git").mkdir()
    (tmp_path / ".git" / "x.yaml").write_text("x", "utf-8")
    (tmp_path / "site.rules").write_text("language 2\n", "utf-8")
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


@pytest.fixture
def mendable(tmp_path: Path) -> Path:
    name = "ratio-as-exact-as-on-record.yaml"
    return Path(shutil.copy(FIXTURES / "faults" / name, tmp_path / name))


DAY = ["--on", "2026-03-02"]


def test_check_with_fix_writes_the_safe_value_and_then_checks(
    mendable: Path, capsys: Captured
) -> None:
    before = mendable.read_text("utf-8")
    assert cli.run(["check", str(mendable), "--fix", "--yes", *DAY]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert told.index("10/3") < told.index("Written: ") < told.index("Every check that applied")
    after = mendable.read_text("utf-8")
    assert after == before.replace("load_turn: 3.333,", "load_turn: 10/3,") != before


def test_check_with_fix_writes_nothing_without_consent(mendable: Path, capsys: Captured) -> None:
    before = mendable.read_text("utf-8")
    assert cli.run(["check", str(mendable), "--fix", *DAY]) == 1
    told = capsys.readouterr().out
    assert "Nothing was written" in told
    assert "ratio-as-exact-as-on-record" in told
    assert mendable.read_text("utf-8") == before


@pytest.mark.parametrize("option", ["--waivers", "--accepted"])
def test_check_with_fix_leaves_what_does_not_count(
    option: str, mendable: Path, tmp_path: Path, capsys: Captured
) -> None:
    """Written, a waiver for it would have lapsed and failed the check that follows."""
    before = mendable.read_text("utf-8")
    aside = tmp_path / "aside.yaml"
    if option == "--accepted":
        assert cli.run(["accept", str(mendable), "--output", str(aside), *DAY]) == 0
    else:
        aside.write_text(
            "waivers: 1\nentries:\n"
            f"  - {{rule: {mendable.stem}, machine: Bottling hall, axis: crate_shift,\n"
            "     reason: read out at the next stop, approved_by: maintenance lead,\n"
            "     expires: 2026-03-02,\n"
            "     values: {'mechanics.stages[0].motor_turns_per_load_turn': 3.333}}\n",
            "utf-8",
        )
    given = ["check", str(mendable), "--fix", "--yes", option, str(aside), *DAY]
    assert cli.run(given) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "There is no value to write." in told
    assert f"Found 1 warning (1 {'accepted' if option == '--accepted' else 'waived'})." in told
    assert mendable.read_text("utf-8") == before


@pytest.mark.parametrize(
    "options",
    [["--yes"], ["--fix", "--watch"], ["--fix", "--format", "json"]],
    ids=["yes alone", "watch", "json"],
)
def test_options_that_do_not_go_with_fix_are_refused(
    options: list[str], mendable: Path, capsys: Captured
) -> None:
    assert cli.run(["check", str(mendable), *options]) == 2
    captured = capsys.readouterr()
    assert "--fix" in captured.err
    assert captured.out == ""
