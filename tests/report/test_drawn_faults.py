"""What is at fault in a picture: the right thing, on the right side, and how far it lies beyond."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from axisproof.api import CheckOptions, check
from axisproof.catalogue.catalogue import shipped
from axisproof.findings.finding import Feature, Finding, Picture
from axisproof.report.drawn_faults import DRAWN, drawn_faults

from tests.report.report_samples import ROLLOVER, mark

FAULTS = Path(__file__).parents[2] / "fixtures" / "faults"

STRIP = Picture(
    "strip",
    "Travel",
    "",
    "mm",
    -20,
    130,
    (
        Feature(
            "hard stop", "lower hard stop", "-10 mm", -10, None, "mechanics.travel.min", "lower"
        ),
        Feature(
            "hard stop", "upper hard stop", "110 mm", 110, None, "mechanics.travel.max", "upper"
        ),
        Feature(
            "limit switch", "upper limit switch", "100 mm", 100,
            None, "mechanics.limit_switches.positive", "upper"),
        Feature(
            "software limit",
            "lower software limit",
            "0 mm",
            0,
            None,
            "controller.software_limits.min", "lower"),
        Feature(
            "software limit",
            "upper software limit",
            "98 mm",
            98,
            None,
            "controller.software_limits.max", "upper"),
        Feature(
            "stopping distance", "run past the lower software limit at top speed", "5 mm", 0, -5,
            "controller.software_limits.min", "lower"),
        Feature(
            "stopping distance", "run past the upper software limit at top speed", "5 mm", 98, 103,
            "controller.software_limits.max", "upper"),
        Feature(
            "stopping distance", "run past the upper limit switch at top speed", "12 mm", 100, 112,
            "mechanics.limit_switches.positive", "upper"),
        Feature("reference", "reference", "120 mm", 120),
        Feature("wrap", "upper wrap of the turn counter", "90 mm", 90, side="upper"),
    ),
)  # fmt: skip


def finding(rule: str, *facts: str) -> Finding:
    marks = tuple(replace(mark("a: 1", "1", ""), fact=f"axes.x.{fact}") for fact in facts)
    return replace(ROLLOVER, rule=rule, subject="x", marks=marks)


def drawn(*findings: Finding) -> dict[str, str]:
    """What is at fault, and how far it lies beyond what it may not pass."""
    faults = drawn_faults(STRIP, findings)
    names = {place: STRIP.features[place].name for place in faults.features}
    return {
        name: faults.beyond[at].words if at in faults.beyond else "" for at, name in names.items()
    }


def test_the_side_that_the_finding_names_is_at_fault() -> None:
    lower = finding("software-limits-leave-room-to-stop", "controller.software_limits.min")
    assert drawn(lower) == {
        "lower software limit": "",
        "run past the lower software limit at top speed": "",
    }


def test_if_both_sides_are_named_the_one_in_wrong_order_is_at_fault() -> None:
    ends = ("controller.software_limits.min", "controller.software_limits.max")
    assert drawn(finding("software-limits-leave-room-to-stop", *ends)) == {
        "upper software limit": "",
        "run past the upper software limit at top speed": "3 mm beyond the limit switch",
    }


def test_a_run_past_a_limit_switch_is_measured_from_the_hard_stop() -> None:
    switch = finding("limit-switch-stops-before-hard-stop", "mechanics.limit_switches.positive")
    assert drawn(switch) == {
        "upper limit switch": "",
        "run past the upper limit switch at top speed": "2 mm beyond the hard stop",
    }


def test_a_point_beyond_a_hard_stop_is_measured_too() -> None:
    assert drawn(finding("reference-within-travel")) == {"reference": "10 mm beyond the hard stop"}


def test_a_wrap_within_the_travel_is_at_fault() -> None:
    assert drawn(finding("wrap-outside-travel")) == {"upper wrap of the turn counter": ""}


def test_a_finding_about_something_else_is_not_drawn() -> None:
    faults = drawn_faults(STRIP, [finding("brake-holds-load", "mechanics.travel.min")])
    assert not faults.features
    assert not faults.findings


def test_each_rule_that_is_drawn_is_shipped() -> None:
    assert set(DRAWN) <= set(shipped().rules)


@pytest.mark.parametrize("rule", sorted(DRAWN))
def test_the_fault_of_each_such_rule_is_drawn(rule: str) -> None:
    report = check([FAULTS / f"{rule}.yaml"], CheckOptions(sketches=True))
    pictures = [(each.subject, picture) for each in report.sketches for picture in each.pictures]
    for found in report.findings:
        assert found.rule == rule
        axes = found.subject.split(" and ")
        own = [picture for subject, picture in pictures if subject in axes]
        assert any(drawn_faults(picture, [found]).findings for picture in own)
