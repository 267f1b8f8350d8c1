"""Screens are read in ten seconds: what is wrong, how bad, and what to do first stand at the top.

The texts in ``fixtures/screens/`` are examples. A screen is held to the shape of its example (order
of its parts, number of lines), not to each word.
"""

from __future__ import annotations

import datetime
import re
from itertools import groupby

import pytest
from axisproof.api import CheckOptions, check
from axisproof.catalogue.catalogue import shipped
from axisproof.findings.finding import Report
from axisproof.machine.schema import axis_type, facts, machine_type
from axisproof.report.finding_text import LINES, finding_lines
from axisproof.report.rendering import CAUTION, RenderOptions
from axisproof.report.words import wrong_words

from tests.report.readme_pictures import PICTURE, README, SEAL, seal_of, with_screen
from tests.report.screens import (
    COMMANDS,
    FAULTS,
    FOLDER,
    PAGE,
    ROOT,
    SPARES,
    file_of,
    printed,
    screen,
)

DAY = datetime.date(2026, 6, 1)
FIRST = 25
"""Lines that a reader sees without moving."""

MARGINS = ("ERROR", "WARNING", "NOTE", "at", "Remedy", "Rule", "Axis", "all", "Checked", "[ ]")


@pytest.fixture(scope="module")
def shown() -> dict[str, str]:
    return {name: screen(name) for name in COMMANDS}


def first_lines(text: str) -> str:
    return " ".join(" ".join(text.splitlines()[:FIRST]).split())


def shape(text: str) -> list[str]:
    """The parts of a screen in their order, each once where it repeats."""
    lines = text.splitlines()
    parts = []
    for line, below in zip(lines, [*lines[1:], ""], strict=True):
        if below and not below.strip("─"):
            parts.append("heading")
        parts += [word for word in MARGINS if line.startswith(f"{word} ")]
    return [part for part, _ in groupby(parts)]


def test_every_example_is_that_of_a_screen() -> None:
    assert {path.stem for path in FOLDER.glob("*.txt")} == set(COMMANDS)


@pytest.mark.parametrize("name", COMMANDS)
def test_a_screen_has_the_shape_of_its_example(name: str, shown: dict[str, str]) -> None:
    """``python -m tests.report.screens`` writes the examples anew."""
    example, text = file_of(name).read_text("utf-8"), shown[name]
    assert shape(text) == shape(example)
    lines, there = len(text.splitlines()), len(example.splitlines())
    assert abs(lines - there) <= 3 + there // 10


def test_the_demo_fits_ninety_lines(shown: dict[str, str]) -> None:
    assert len(shown["check_demo"].splitlines()) <= 90
    assert shown["check_demo"].count("\nERROR ") == 5


@pytest.mark.parametrize("name", ["demo", *FAULTS])
def test_the_first_lines_of_a_check_say_what_is_wrong_how_bad_and_what_to_do(
    name: str, shown: dict[str, str]
) -> None:
    path = "fixtures/demo" if name == "demo" else f"fixtures/faults/{name}.yaml"
    report = check([ROOT / path], CheckOptions(on=DAY))
    text = first_lines(shown[f"check_{name}"])
    order = ["error", CAUTION, "Axis failed warnings", "ERROR", "Remedy"]
    places = [text.index(words) for words in order]
    assert places == sorted(places)
    assert any(wrong_words(finding)[:60] in text for finding in report.findings)


@pytest.mark.parametrize("name", SPARES)
def test_a_spare_begins_with_its_verdict_and_the_numbers(name: str, shown: dict[str, str]) -> None:
    lines = shown[f"spare_{name}"].splitlines()
    verdict = " ".join(lines[3:8])
    if name == "like_fitted":
        assert verdict.startswith("Fits. No setting has to be written.")
        return
    assert "each again" not in verdict
    assert lines[3].startswith("Does not fit. ")
    by = {
        "too_slow": "too slow for the highest velocity (by 500 rpm).",
        "weak_brake": "too weak for the load (by 0.505 N·m).",
    }[name]
    assert by in lines[3]
    numbers = {"too_slow": ("3000 rpm", "2500 rpm"), "weak_brake": ("0.9 N·m", "1.405 N·m")}[name]
    assert all(number in first_lines("\n".join(lines)) for number in numbers)


def test_other_screens_begin_with_what_they_found(shown: dict[str, str]) -> None:
    assert shown["changes_speed"].startswith("The change brings 2 errors.\n")
    assert "New reference position: -58.75 mm" in "\n".join(shown["recalibrate"].splitlines()[:4])
    assert "passed" in shown["check_sound"]


def test_the_usual_caution_stands_once_on_each_screen_that_sends_someone_to_a_machine(
    shown: dict[str, str],
) -> None:
    for name, text in shown.items():
        flat = " ".join(text.split())
        number = flat.count("isolate the power circuit and lock it out")
        quiet = name.startswith(("lines", "rules", "explain", "check_sound"))
        assert number == (0 if quiet else 1), name


@pytest.fixture(scope="module")
def faults() -> Report:
    return check([ROOT / "fixtures" / "faults"], CheckOptions(on=DAY))


def test_a_finding_takes_twelve_lines_at_most_at_a_hundred_columns(faults: Report) -> None:
    options = RenderOptions(width=100)
    sizes = {finding.rule: len(finding_lines(finding, options)) for finding in faults.findings}
    assert len(sizes) > 150
    assert {rule: lines for rule, lines in sizes.items() if lines > LINES} == {}


def test_no_short_finding_and_no_screen_shows_the_name_of_a_variable(
    faults: Report, shown: dict[str, str]
) -> None:
    catalogue = shipped()
    names = {name for rule in catalogue.rules.values() for name, _ in rule.lets if "_" in name}
    known = {part for path in facts(axis_type()) for part in path.split(".")}
    known |= {part for path in facts(machine_type()) for part in path.split(".")}
    names -= known
    assert len(names) > 30
    options = RenderOptions(width=100)
    texts = {
        finding.rule: "\n".join(finding_lines(finding, options)) for finding in faults.findings
    }
    for name, text in {**texts, **shown}.items():
        words = set(re.findall(r"[a-z]+(?:_[a-z]+)+", text))
        assert words & names == set(), name


def test_the_readme_shows_the_screen_and_the_picture_as_they_are(shown: dict[str, str]) -> None:
    """If this fails, run ``python -m tests.report.screens``, look, and commit what it wrote."""
    readme = README.read_text("utf-8")
    assert with_screen(readme, shown["check_demo"]) == readme
    assert f"]({PICTURE.relative_to(ROOT).as_posix()})" in readme
    assert PICTURE.read_bytes().startswith(b"\x89PNG")
    assert seal_of(printed(PAGE)) == SEAL.read_text("utf-8")
