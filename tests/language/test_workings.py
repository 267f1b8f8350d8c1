"""Workings: every named value as formula, formula with numbers, and result, in order."""

from __future__ import annotations

from typing import Any

import pytest
from axisproof.engine.engine import Options, check_machine
from axisproof.findings.finding import DerivationStep

from tests.language.evaluating import catalogue_of, machine_of


def workings(require: str, axis: dict[str, Any], **parts: Any) -> dict[str, DerivationStep]:
    found = catalogue_of(require, **parts)
    results = check_machine(machine_of(axis), "hall", found, Options(workings=True))
    (finding,) = results.findings
    return {step.name: step for step in finding.workings}


def test_a_stopping_distance_is_derived_as_by_hand() -> None:
    # domain.md section 6: 500 mm/s, 2000 mm/s², t = 0: 62.5 mm without jerk
    axis = {
        "controller": {
            "max_velocity": "500 mm/s",
            "stop": {"deceleration": "2000 mm/s^2"},
            "software_limits": {"max": "60 mm"},
        }
    }
    steps = workings(
        "stop <= axis.controller.software_limits.max",
        axis,
        lets="let stop = axis.controller.max_velocity^2 / (2 * axis.controller.stop.deceleration)",
    )
    assert list(steps) == ["stop", "must hold"]
    assert steps["stop"] == DerivationStep(
        "stop",
        "controller.max_velocity² ÷ (2 × controller.stop.deceleration)",
        "(500 mm/s)² ÷ (2 × 2000 mm/s^2)",
        "62.5 mm",
    )
    assert steps["must hold"] == DerivationStep(
        "must hold",
        "stop ≤ controller.software_limits.max",
        "62.5 mm ≤ 60 mm",
        "does not hold",
    )


BEFORE = """
define axis.upr kind feed
  as axis.controller.cycle / 1rev / axis.gear meaning "user units per motor revolution"
define axis.gear kind ratio
  as product of s.ratio for s in axis.mechanics.stages meaning "the product of the stages"
define s.ratio for s in axis.mechanics.stages kind ratio
  as s.motor_turns_per_load_turn default s.load_side_teeth / s.motor_side_teeth
  meaning "motor turns per load turn"
"""

STAGES = {
    "controller": {"cycle": "10 mm"},
    "mechanics": {
        "stages": [
            {"motor_turns_per_load_turn": 7},
            {"motor_side_teeth": 17, "load_side_teeth": 40},
        ]
    },
}


def test_definitions_come_before_what_is_built_on_them_and_say_what_they_mean() -> None:
    steps = workings(
        "x > 1", STAGES, before=BEFORE, lets="let x = axis.upr * 1rev / axis.upr / 9rev"
    )
    names = list(steps)
    assert names == ["stages[0].ratio", "stages[1].ratio", "gear", "upr", "x", "must hold"]
    assert steps["gear"].meaning == "the product of the stages"
    assert steps["upr"].result == "0.607142… mm/rev (17/28)"


def test_only_the_alternative_that_was_taken_is_shown() -> None:
    steps = workings("axis.gear < 1", STAGES, before=BEFORE)
    assert steps["stages[0].ratio"].formula == "s.motor_turns_per_load_turn"
    assert steps["stages[0].ratio"].filled == ""
    assert steps["stages[0].ratio"].result == "7"
    assert steps["stages[1].ratio"].formula == "s.load_side_teeth ÷ s.motor_side_teeth"
    assert steps["stages[1].ratio"].filled == "40 ÷ 17"
    assert steps["stages[1].ratio"].result == "2.35294… (40/17)"


def test_a_product_over_a_list_is_written_out_with_its_factors() -> None:
    steps = workings("axis.gear < 1", STAGES, before=BEFORE)
    assert steps["gear"].formula == "product of s.ratio for s in mechanics.stages"
    assert steps["gear"].filled == "7 × (40/17)"
    assert steps["must hold"].filled == "280/17 < 1"


@pytest.mark.parametrize(
    ("expression", "filled"),
    [
        ("(product of s.a + s.b for s in L)", "(1 + 2) × (3 + 4)"),
        ("2 * (sum of s.a for s in L)", "2 × (1 + 3)"),
        ("2 - (sum of s.a - s.b for s in L)", "2 − ((1 − 2) + (3 − 4))"),
        ("(max of s.a + 1 for s in L) * 2", "max(1 + 1, 3 + 1) × 2"),
        ("(count of s in L) * 2", "2 × 2"),
        ("(product of s.a + s.b for s in L where s.a = 1) * 2", "(1 + 2) × 2"),
        ("(sum of s.a for s in L where s.a = 9) + 1", "0 + 1"),
        ("(product of s.a for s in L where s.a = 9) + 1", "1 + 1"),
        ("(axis.drive.node default 5) * 2", "3 × 2"),
        ("(axis.drive.gear.numerator default axis.drive.node + 1) * 2", "(3 + 1) × 2"),
        ("(axis.drive.node + 1 if axis.motion is linear else 9) * 2", "(3 + 1) × 2"),
        ("(axis.drive.node - -5)^2", "(3 − (−5))²"),
    ],
)
def test_numbers_take_the_place_of_names_with_parentheses_where_needed(
    expression: str, filled: str
) -> None:
    axis = {
        "drive": {"node": 3},
        "mechanics": {
            "stages": [
                {"motor_side_teeth": 1, "load_side_teeth": 2},
                {"motor_side_teeth": 3, "load_side_teeth": 4},
            ]
        },
    }
    text = expression.replace("in L", "in axis.mechanics.stages")
    text = text.replace("s.a", "s.motor_side_teeth").replace("s.b", "s.load_side_teeth")
    steps = workings("x > 10000", axis, lets=f"let x = {text}")
    assert steps["x"].filled == filled


def test_a_negative_value_stands_in_parentheses_behind_an_operator() -> None:
    axis = {"controller": {"software_limits": {"min": "-5 mm", "max": "10 mm"}}}
    steps = workings(
        "span < 1mm",
        axis,
        when="axis.motion is linear",
        lets="let span = axis.controller.software_limits.max - axis.controller.software_limits.min",
    )
    assert steps["span"].filled == "10 mm − (-5 mm)"
    assert steps["span"].result == "15 mm"


def test_values_of_messages_are_derived_too_and_settings_take_part() -> None:
    before = BEFORE + 'setting room default 10% meaning "m" basis "b"'
    steps = workings("room > 20%", STAGES, before=before, say="{axis.gear} is much")
    assert "gear" in steps
    assert steps["must hold"].filled == "0.1 > 20 %"


def test_without_workings_a_finding_has_none() -> None:
    found = catalogue_of("1 = 2")
    (finding,) = check_machine(machine_of(), "hall", found, Options()).findings
    assert finding.workings == ()


TORQUES = {
    "motion": "linear",
    "motor": {"inertia": "8 kg cm^2", "peak_torque": "3 N·m", "max_speed": "3000 rpm"},
    "mechanics": {
        "friction_force": "2059.39 N",
        "load_mass": "10 kg",
        "final": {"lead": "5 mm"},
        "transmission_inertia": "2 kg cm^2",
    },
    "controller": {
        "duty": [{"torque": "2 N·m", "time": "1 s"}, {"torque": "1 N·m", "time": "1 s"}],
    },
}
WITH_2PI = ", with 1 rev = 2·π rad"


@pytest.mark.parametrize(
    ("value", "filled"),
    [
        (
            "axis.mechanics.friction_force * axis.mechanics.final.lead / 1rev",
            "2059.39 N × 5 mm ÷ 1 rev" + WITH_2PI,
        ),
        (
            "axis.mechanics.load_mass * (axis.mechanics.final.lead / 1rev)^2",
            "10 kg × (5 mm ÷ 1 rev)²" + WITH_2PI,
        ),
        ("axis.motor.peak_torque * axis.motor.max_speed", "3 N·m × 3000 rpm" + WITH_2PI),
        (
            "axis.motor.inertia + axis.mechanics.transmission_inertia",
            "8 kg cm^2 + 2 kg cm^2",
        ),
        ("(sum of s.torque for s in axis.controller.duty) * 2", "(2 N·m + 1 N·m) × 2"),
        (
            "(sum of s.torque for s in axis.controller.duty) * axis.motor.max_speed",
            "(2 N·m + 1 N·m) × 3000 rpm" + WITH_2PI,
        ),
        (
            "axis.mechanics.final.lead / 1rev / axis.motor.max_speed",
            "5 mm ÷ 1 rev ÷ 3000 rpm",
        ),
        ("axis.mechanics.friction_force * 5mm", "2059.39 N × 5 mm"),
    ],
)
def test_the_turn_between_revolutions_and_newton_metres_is_said(value: str, filled: str) -> None:
    """2059.39 N x 5 mm are 10.3 on a calculator, over 2π 1.64 N·m (by hand)."""
    steps = workings("1 = 2 and x = x", TORQUES, lets=f"let x = {value}")
    assert steps["x"].filled == filled
