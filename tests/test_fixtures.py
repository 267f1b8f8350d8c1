"""The demo machines say what their names promise, and nothing else."""

from __future__ import annotations

import datetime
import re
from pathlib import Path

import pytest
from axisproof.api import CheckOptions, check, list_rules
from axisproof.findings.builtin import BUILT_IN

FIXTURES = Path(__file__).parent.parent / "fixtures"
FAULTS = sorted((FIXTURES / "faults").glob("*.yaml"))
TODAY = datetime.date(2026, 6, 1)
"""A day on which the batteries of the sound machines are young."""

APPLIES_ELSEWHERE = {
    "suspended-load-caught-in-time": "the sound lift stops under control, so nothing falls",
    "power-cut-stops-before-hard-stop": "the sound axes stop under torque",
    "load-brake-stops-before-hard-stop": "the sound axes stop under torque",
    "helix-stated-alike": "the sound racks state their helix once",
    "rack-pitch-is-that-of-its-module": "the sound racks state no pitch beside their module",
    "torque-stays-until-brake-holds": "no command of the sound lift disables its drive at once",
    "brake-slows-a-falling-load": "the sound lift stops under control, so nothing falls",
    "gantry-partners-set-at-one-position": "the sound gantry homes at limit switches",
}


def test_the_sound_machines_have_no_finding_and_nothing_undecided() -> None:
    report = check([FIXTURES / "sound"], CheckOptions(on=TODAY))
    assert report.axes >= 6
    assert [(f.rule, f.subject, f.message) for f in report.findings] == []
    assert [(u.rule, u.subject, u.missing) for u in report.undecided] == []


def test_every_rule_applies_to_some_sound_axis() -> None:
    """A rule that never applies on the sound machines would be held to nothing there."""
    report = check([FIXTURES / "sound"], CheckOptions(on=TODAY, every_outcome=True))
    held = {outcome.rule for outcome in report.outcomes if outcome.verdict == "holds"}
    ranging = {r.name for r in list_rules() if r.subject in ("axis", "pair", "machine")}
    assert ranging - {check.name for check in BUILT_IN} - held == set(APPLIES_ELSEWHERE)


@pytest.mark.parametrize("path", FAULTS, ids=lambda path: path.stem)
def test_a_fault_machine_has_exactly_its_own_finding(path: Path) -> None:
    report = check([path], CheckOptions(on=TODAY))
    assert [finding.rule for finding in report.findings] == [path.stem]
    assert [(u.rule, u.subject, u.missing) for u in report.undecided] == []
    (finding,) = report.findings
    assert finding.marks, "a finding points at a line"
    for mark in finding.marks:
        line = path.read_text("utf-8").splitlines()[mark.place.line - 1]
        assert mark.line_text == line


def test_every_rule_has_a_fault_machine_of_its_name() -> None:
    ranging = {r.name for r in list_rules() if r.subject in ("axis", "pair", "machine")}
    missing = ranging - {check.name for check in BUILT_IN} - {path.stem for path in FAULTS}
    assert sorted(missing) == []


def test_the_demo_shows_findings_of_several_kinds_and_one_thing_undecided() -> None:
    report = check([FIXTURES / "demo"], CheckOptions(on=TODAY))
    assert len({finding.rule for finding in report.findings}) == len(report.findings) == 5
    assert report.undecided


def text_of(path: Path) -> str:
    """The text of a fixture: UTF-16 if it begins with that mark, else UTF-8."""
    content = path.read_bytes()
    return content.decode("utf-16" if content[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8")


def test_the_codes_that_fixtures_show_are_words() -> None:
    """A code of figures could be that of somebody's drive."""
    code = re.compile(r"""\bcode: *["']?([^"',}\n]+)""")
    files = [*FIXTURES.rglob("*.yaml"), *FIXTURES.rglob("*.txt")]
    texts = [text_of(path) for path in files]
    shown = {each for text in texts for each in code.findall(text)}
    assert len(shown) >= 5
    assert {each for each in shown if not re.fullmatch(r"[a-z]+(-[a-z]+)*", each.strip())} == set()
