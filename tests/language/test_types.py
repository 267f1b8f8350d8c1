"""One test for every statement on types, units and exactness."""

from __future__ import annotations

from typing import Any

import pytest
from axisproof.base.errors import RuleError
from axisproof.numbers.dimensions import dim
from axisproof.numbers.exact import Approx, Pi
from axisproof.numbers.powers import MAX_BITS
from axisproof.numbers.rational import Fraction

from tests.language.evaluating import (
    BROKEN,
    HOLDS,
    UNDECIDED,
    catalogue_of,
    checked,
    judge,
    machine_of,
    outcome,
)
from tests.language.semantics import findings_of, refused

LINEAR: dict[str, Any] = {"motion": "linear"}
ROTARY: dict[str, Any] = {"motion": "rotary"}


def value_of(expression: str, axis: dict[str, Any] | None = None, **parts: Any) -> Any:
    return judge("true", axis, lets=f"let x = {expression}", **parts).let("x")


@pytest.mark.parametrize(
    ("motion", "cycle", "limit"), [("linear", "10 mm", "12 mm"), ("rotary", "10 deg", "12 deg")]
)
def test_one_rule_compares_positions_in_mm_on_one_axis_and_in_deg_on_the_next(
    motion: str, cycle: str, limit: str
) -> None:
    facts = {"motion": motion, "controller": {"cycle": cycle, "software_limits": {"max": limit}}}
    assert outcome("axis.controller.cycle < axis.controller.software_limits.max", facts) == HOLDS


def test_a_stopping_distance_is_of_the_dimension_of_the_limits_it_is_compared_with() -> None:
    # v²/(2a) = (500 mm/s)²/(2·2000 mm/s²) = 62.5 mm
    found = checked(
        "stop <= axis.controller.software_limits.max",
        lets="let stop = stopping_distance(axis.controller.max_velocity,"
        " axis.controller.stop.deceleration, 0s)",
    )
    assert dict(found.rules[0].lets)["stop"].type.dim == (("position:axis", 1),)


@pytest.mark.parametrize("literal", ["5mm", "5deg"])
def test_a_length_or_angle_literal_does_not_meet_a_position_without_a_guard(literal: str) -> None:
    said = refused(f"axis.controller.cycle > {literal}")
    assert "cannot be compared" in said
    assert "a condition on axis.motion" in said


@pytest.mark.parametrize(
    ("when", "require"),
    [
        ("axis.motion is linear", "axis.controller.cycle > 5mm"),
        ("axis.motion is not linear", "axis.controller.cycle > 5deg"),
        ("", "axis.motion is linear and axis.controller.cycle > 5mm"),
        ("", "axis.motion is rotary or axis.controller.cycle > 5mm"),
        ("", "axis.controller.cycle > (5mm if axis.motion is linear else 5deg)"),
        (
            "",
            "axis.controller.cycle > (axis.mechanics.backlash if axis.motion is linear else"
            " axis.mechanics.backlash + axis.mechanics.backlash)",
        ),
        (
            "",
            "(axis.controller.cycle / 5mm if axis.motion is linear else"
            " axis.controller.cycle / 5deg) is whole",
        ),
        (
            "",
            "(axis.controller.cycle if axis.motion is linear else"
            " axis.controller.cycle + 1deg) > axis.mechanics.backlash",
        ),
        (
            "",
            "(5mm if axis.motion is linear else axis.mechanics.backlash) < axis.controller.cycle",
        ),
        ("", "(axis.controller.cycle > 5mm) if axis.motion is linear else true"),
    ],
)
def test_a_guard_on_the_motion_lets_a_literal_meet_a_position(when: str, require: str) -> None:
    checked(require, when=when)


def test_a_guard_on_one_axis_says_nothing_about_another() -> None:
    said = refused(
        "other.controller.cycle > 5mm",
        each=(
            "axis with other where axis.name is other.gantry.partner"
            " directed by other.gantry.partner without skips"
        ),
        when="axis.motion is linear",
    )
    assert "other.motion" in said


def test_user_units_of_two_axes_meet_only_if_their_motions_are_the_same() -> None:
    each = (
        "axis with other where axis.name is other.gantry.partner"
        " directed by other.gantry.partner without skips"
    )
    require = "axis.controller.cycle = other.controller.cycle"
    assert "cannot be compared" in refused(require, each=each)
    checked(require, each=each, when="axis.motion is other.motion")


def test_angle_is_a_base_dimension_in_turns() -> None:
    assert (
        value_of(
            "axis.encoder.distinguishable_revolutions",
            {"encoder": {"distinguishable_revolutions": 5}},
        )
        == 5
    )
    assert value_of("720deg") == 2
    assert checked("720deg = 2rev").rules[0].require.kids[0].type.dim == dim(angle=1)


def test_two_pi_comes_with_the_units_of_torque_and_inertia() -> None:
    # SI: 1 kg·m² turned up at 1 rad/s² takes 1 N·m; 1 N·m over one radian is 1 J.
    assert outcome("1kg·m^2 * 1rad/s^2 = 1N·m") == HOLDS
    assert outcome("1N·m * 1rad = 1J") == HOLDS
    # A screw of 10 mm lead pushed by 1000 N: 1000 N · 0.01 m / 2π = 1.5915494 N·m.
    assert outcome("1000N * 10mm / 1rev within 0.0000001N·m of 1.5915494N·m") == HOLDS


def test_counts_and_turns_are_separate_bases() -> None:
    assert "cannot be added" in refused("1count + 1rev > 1rev")


def test_rpm_is_turns_per_minute() -> None:
    assert outcome("1rpm = 1rev / 1min") == HOLDS


@pytest.mark.parametrize("require", ["5% = 0.05", "1ppm * 1000000 = 1", "1/3 * 3 = 1"])
def test_ratios_percent_and_ppm_are_plain_numbers(require: str) -> None:
    assert outcome(require) == HOLDS


def test_numbers_are_rational_times_a_power_of_pi_and_whole_ones_are_ints() -> None:
    assert (value_of("6 / 3"), type(value_of("6 / 3"))) == (2, int)
    assert value_of("circumference(3)") == Pi(3, 1)
    assert value_of("circumference(3) / circumference(2)") == Fraction(3, 2)
    assert value_of("1rad") == Pi(Fraction(1, 2), -1)


def test_a_sum_of_unlike_powers_of_pi_is_approximate() -> None:
    value = value_of(
        "circumference(axis.drive.gear.min_ratio) + 1", {"drive": {"gear": {"min_ratio": 2}}}
    )
    assert isinstance(value, Approx)
    assert abs(value.value - 7.283185307179586) <= value.error


def test_a_root_is_approximate_unless_it_comes_out_even() -> None:
    # v ≤ a²/j: s = v·√(v/j); v = 2, j = 1 gives 2·√2, v = 4, j = 1 gives 8.
    root = "stopping_distance_with_jerk({}mm/s, 1000mm/s^2, 1mm/s^3, 0s)"
    assert isinstance(value_of(root.format(2)), Approx)
    assert value_of(root.format(4)) == 8


def test_exact_with_approximate_is_shown_with_four_digits() -> None:
    gear = {"drive": {"gear": {"min_ratio": 2}}}
    found = catalogue_of(
        "1 > 2", lets="let a = circumference(axis.drive.gear.min_ratio) + 1", say="{a * 2}"
    )
    (finding,) = findings_of(found, machine_of(gear))
    assert finding.message == "14.57"


@pytest.mark.parametrize("require", ["1rad + 1rev = 2rev", "(1rad + 1rev) / 1rev is whole"])
def test_equality_or_wholeness_of_what_is_never_exact_is_an_error_in_the_rule(require: str) -> None:
    assert "never exact" in refused(require)


def test_a_definition_that_is_never_exact_cannot_be_equated_wherever_it_stands() -> None:
    before = (
        'define axis.first kind ratio as axis.second meaning "m"\n'
        'define axis.second kind ratio as circumference(1) + 1 meaning "m"'
    )
    assert "never exact" in refused("axis.first = 4", before=before)


@pytest.mark.parametrize("question", ["x = 7.283185307179586", "x is whole"])
def test_equality_of_what_may_be_approximate_is_undecided_when_it_is(question: str) -> None:
    lets = "let x = circumference(axis.drive.gear.min_ratio) + axis.drive.gear.max_ratio"
    near_whole = "0.71681469282041352307" if "whole" in question else "1"
    gear = {"drive": {"gear": {"min_ratio": 2, "max_ratio": near_whole}}}
    assert outcome(question, gear, lets=lets) == UNDECIDED


def test_a_multiple_of_pi_is_provably_not_whole() -> None:
    assert outcome("circumference(2) is whole") == BROKEN
    assert outcome("circumference(2) is not whole") == HOLDS


def test_an_approximate_value_is_compared_with_within() -> None:
    gear = {"drive": {"gear": {"min_ratio": 2}}}
    lets = "let x = circumference(axis.drive.gear.min_ratio) + 1"
    assert outcome("x within 0.001 of 7.2832", gear, lets=lets) == HOLDS
    assert outcome("x within 0.00001 of 7.2832", gear, lets=lets) == BROKEN


def test_an_order_inside_the_error_bound_is_undecided() -> None:
    # 2π = 6.28318530717958647692528676655900576839433879875021...
    gear = {"drive": {"gear": {"min_ratio": 2}}}
    lets = "let x = circumference(axis.drive.gear.min_ratio) + 1"
    digits = "7.28318530717958647692528676655900576839"
    verdict = judge(f"x <= {digits}", gear, lets=lets)
    assert verdict.outcome == UNDECIDED
    assert "too close together" in verdict.traced.reasons[0]
    assert outcome("x <= 7.2831853072", gear, lets=lets) == HOLDS


def test_division_of_whole_numbers_is_exact() -> None:
    assert value_of("1 / 3") == Fraction(1, 3)
    assert outcome("1 / 49 * 49 = 1") == HOLDS


@pytest.mark.parametrize("number", ["9" * 41, "0." + "1" * 41, "1" * 100_000])
def test_a_number_of_too_many_digits_is_refused_before_it_is_made(number: str) -> None:
    assert "digits" in refused(f"{number} > 1")


def test_a_chain_of_squares_is_refused_when_the_rule_is_loaded() -> None:
    lets = "let a0 = axis.drive.gear.min_ratio\n" + "\n".join(
        f"  let a{n + 1} = a{n} * a{n}" for n in range(40)
    )
    with pytest.raises(RuleError) as caught:
        checked("a40 > 1", lets=lets)
    assert "too large" in caught.value.what
    place = caught.value.place
    assert place is not None
    assert caught.value.source_line == "  let a10 = a9 * a9"
    assert (place.column, place.end_column) == (13, 20)


def test_a_chain_of_squares_through_definitions_is_refused_too() -> None:
    before = 'define axis.d0 kind ratio as axis.drive.gear.min_ratio meaning "m"\n' + "\n".join(
        f'define axis.d{n + 1} kind ratio as (axis.d{n} + axis.d{n})^4 meaning "m"'
        for n in range(20)
    )
    assert "too large" in refused("axis.d20 > 1", before=before)


def test_an_aggregate_that_grows_beyond_bounds_is_undecided() -> None:
    stages = [{"motor_turns_per_load_turn": "1234567890123456789012345678901234567/3"}] * 60
    verdict = judge(
        "(product of s.motor_turns_per_load_turn for s in axis.mechanics.stages) > 1",
        {"mechanics": {"stages": stages}},
    )
    assert verdict.outcome == UNDECIDED
    assert "too large" in verdict.traced.reasons[0]
    assert MAX_BITS < 60 * 120
