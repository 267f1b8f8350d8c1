"""Screens of machines that the benches draw: the first lines say what is wrong and what to do."""

from __future__ import annotations

from pathlib import Path

import pytest
from axisproof.api import check
from axisproof.report.words import wrong_words

from .screens import printed
from .trials import DAY, FIRST, faulty, swaps

SEED = "21"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("trials")


def flat(lines: list[str]) -> str:
    return " ".join(" ".join(lines).split())


def test_checks_and_changes_of_drawn_faults_tell_the_fault_in_their_first_lines(
    folder: Path,
) -> None:
    commands = list(faulty(SEED, folder, 5))
    assert len(commands) == 10
    for command in commands:
        first = flat(printed(command).splitlines()[:FIRST])
        told = [word in first for word in ("ERROR ", "WARNING ", "NOTE ")]
        assert any(told), command
        assert "Remedy " in first, command
        if command.startswith("changes"):
            assert first.startswith("The change brings ")
            assert first.index("Changed ") < first.index("Before work")
        else:
            report = check([Path(command.split()[1])])
            assert any(wrong_words(each)[:60] in first for each in report.findings), command


def test_drawn_swaps_begin_with_their_verdict_and_send_nobody_to_work_too_early(
    folder: Path,
) -> None:
    commands = list(swaps(SEED, folder))
    assert len(commands) == 9
    assert all(DAY in command for command in commands if command.startswith("spare"))
    for command in commands:
        text = flat(printed(command).splitlines()[:FIRST])
        if command.startswith("recalibrate"):
            assert "Write nothing yet." in text or "osition" in text.partition("True ")[0], command
            continue
        verdicts = ("Fits", "Does not fit.", "Cannot be said yet if it fits:")
        verdict = next(each for each in verdicts if f" {each}" in text)
        assert ("Teach again after the work" in text) <= (verdict == "Fits"), command
        assert ("Do not fit it until" in text) == (verdict != "Fits"), command
