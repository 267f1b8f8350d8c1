"""An export that is older than a teaching is a finding; without a day there is nothing to check."""

from __future__ import annotations

from typing import Any

import pytest
from axisproof.catalogue.catalogue import from_texts
from axisproof.engine.engine import Options, check_machine
from axisproof.findings.finding import Finding
from axisproof.machine.reader import read_plain

RULES = """language 2

rule gear-fits
  level   error
  title   "t"
  each    axis
  require axis.drive.gear.min_ratio >= 0.1
  say     "s"
  why     "w"
  remedy  "r"
  basis   "b"
  passes "p" axis.drive.gear.min_ratio = 1
  fails  "f" axis.drive.gear.min_ratio = 0.05
"""


def found(**facts: Any) -> list[Finding]:
    axis = {"motion": "linear", "drive": {}, **facts}
    results = check_machine(
        read_plain({"axes": {"a": axis}}), "m", from_texts({"a.rules": RULES}), Options()
    )
    old = [each for each in results.findings if each.rule == "export-is-current"]
    assert results.tallies[0].broken == len(old)
    return old


def taught(day: str) -> dict[str, Any]:
    return {"homing": {"taught": {"on": day}}}


@pytest.mark.parametrize(
    ("read_on", "taught_on", "findings"),
    [
        ("2026-02-03", "2026-02-04", 1),
        ("2026-02-03", "2026-02-03", 0),
        ("2026-02-04", "2026-02-03", 0),
    ],
)
def test_settings_read_before_the_teaching_are_old(
    read_on: str, taught_on: str, findings: int
) -> None:
    assert len(found(drive={"exported_on": read_on}, controller=taught(taught_on))) == findings
    assert len(found(encoder={"exported_on": read_on}, controller=taught(taught_on))) == findings
    motor = {"commutation": {"on": taught_on}}
    assert len(found(drive={"exported_on": read_on}, motor=motor)) == findings


def test_the_finding_names_both_days_and_the_last_teaching() -> None:
    (finding,) = found(
        drive={"exported_on": "2026-01-01"},
        motor={"commutation": {"on": "2026-03-05"}},
        controller=taught("2026-02-02"),
    )
    assert finding.level == "warning"
    assert finding.message == (
        "The settings of the drive were read out on 2026-01-01, before "
        "the commutation angle was taught on 2026-03-05."
    )


@pytest.mark.parametrize(
    "facts",
    [
        {"controller": taught("2026-02-02")},
        {"drive": {"exported_on": "2026-01-01"}},
        {"drive": {"exported_on": "2026-01-01"}, "controller": {"homing": {"taught": "none"}}},
        {"drive": {"exported_on": "2026-01-01"}, "motor": {"commutation": "none"}},
    ],
)
def test_without_both_days_there_is_nothing_to_say(facts: dict[str, Any]) -> None:
    assert found(**facts) == []
