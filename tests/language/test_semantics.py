"""One test for every statement on types, absence, three values, shape and evaluation.

Each rule goes through both evaluators (see evaluating.py), which must agree.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from axisproof.base.absence import NONE
from axisproof.base.errors import RuleError
from axisproof.catalogue.catalogue import from_texts
from axisproof.engine.engine import Options, check_machine
from axisproof.language.syntax import SUBJECTS
from axisproof.machine.records import notes_of
from axisproof.numbers.dimensions import dim
from axisproof.numbers.exact import Approx, Pi
from axisproof.numbers.powers import MAX_BITS
from axisproof.numbers.rational import Fraction
from axisproof.rulebook.rule_tests import run_rule_tests

from tests.language.evaluating import (
    BROKEN,
    HOLDS,
    NOT_APPLICABLE,
    UNDECIDED,
    Verdict,
    catalogue_of,
    checked,
    judge,
    machine_of,
    outcome,
    rule_text,
    run,
)

LINEAR: dict[str, Any] = {"motion": "linear"}
ROTARY: dict[str, Any] = {"motion": "rotary"}


def refused(require: str, **parts: str) -> str:
    with pytest.raises(RuleError) as caught:
        checked(require, **parts)
    assert caught.value.place is not None
    return str(caught.value)


def value_of(expression: str, axis: dict[str, Any] | None = None, **parts: Any) -> Any:
    return judge("true", axis, lets=f"let x = {expression}", **parts).let("x")


def findings_of(found: Any, machine: Any) -> list[Any]:
    return check_machine(machine, "hall", found, Options()).findings


# Types ------------------------------------------------------------------------------------------


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


# Absence ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("motor", "expected"),
    [({"brake": "none"}, HOLDS), ({}, UNDECIDED), ({"brake": {"apply_time": "1 ms"}}, BROKEN)],
)
def test_a_missing_fact_is_unlike_one_known_to_be_absent(
    motor: dict[str, Any], expected: str
) -> None:
    assert outcome("axis.motor.brake is none", {"motor": motor}) == expected


def test_what_belongs_to_an_absent_part_is_unknown_and_the_reason_names_the_part() -> None:
    verdict = judge("axis.motor.brake.apply_time > 0s", {"motor": {"brake": "none"}})
    assert verdict.outcome == UNDECIDED
    assert verdict.traced.missing == ()
    assert "axes.axis.motor.brake is none" in verdict.traced.reasons[0]


@pytest.mark.parametrize("form", ["axis.mechanics.counterbalance", "axis.balance"])
def test_a_number_that_is_none_counts_as_unknown_in_a_calculation(form: str) -> None:
    before = 'define axis.balance kind ratio as axis.mechanics.counterbalance meaning "m"'
    absent = {"mechanics": {"counterbalance": "none"}}
    assert outcome(f"{form} + 1 > 0", absent, before=before) == UNDECIDED
    assert outcome(f"({form} default 0) + 1 > 0", absent, before=before) == HOLDS


INCLUDES = "axis.encoder.turn_counter.battery.places includes cable"


def battery(places: Any) -> dict[str, Any]:
    return {"encoder": {"turn_counter": {"battery": {"places": places}}}}


def test_a_written_list_is_complete_so_it_proves_absence() -> None:
    assert outcome(INCLUDES, battery(["drive"])) == BROKEN
    assert outcome(INCLUDES, battery([])) == BROKEN


def test_a_partial_list_proves_presence_but_never_absence() -> None:
    assert outcome(INCLUDES, battery({"partial": ["drive", "cable"]})) == HOLDS
    verdict = judge(INCLUDES, battery({"partial": ["drive"]}))
    assert verdict.outcome == UNDECIDED
    assert verdict.traced.missing == (
        "axes.axis.encoder.turn_counter.battery.places (the whole list)",
    )


def disputed(first: object, second: object) -> dict[str, Any]:
    return {"claims": [{"value": first, "source": "a"}, {"value": second, "source": "b"}]}


def test_a_fact_with_unlike_claims_is_unknown() -> None:
    assert outcome("axis.drive.node = 5", {"drive": {"node": disputed(5, 6)}}) == UNDECIDED
    assert outcome("axis.drive.node = 5", {"drive": {"node": disputed(5, 5)}}) == HOLDS


def test_a_fact_with_unlike_claims_has_a_finding_of_its_own() -> None:
    found = catalogue_of("axis.drive.node = 5")
    results = check_machine(
        machine_of({"drive": {"node": disputed(5, 6)}}), "hall", found, Options()
    )
    assert [finding.rule for finding in results.findings] == ["sources-agree"]
    assert results.findings[0].message == "drive.node is stated differently. a says 5. b says 6"
    assert "two different ways" in results.undecided[0].reason


# Three values -----------------------------------------------------------------------------------

TRUE, FALSE, UNKNOWN = "1 = 1", "1 = 2", "axis.drive.node = 1"


@pytest.mark.parametrize(
    ("require", "expected"),
    [
        (f"{FALSE} and {UNKNOWN}", BROKEN),
        (f"{UNKNOWN} and {FALSE}", BROKEN),
        (f"{TRUE} and {UNKNOWN}", UNDECIDED),
        (f"{UNKNOWN} and {UNKNOWN}", UNDECIDED),
        (f"{TRUE} or {UNKNOWN}", HOLDS),
        (f"{UNKNOWN} or {TRUE}", HOLDS),
        (f"{FALSE} or {UNKNOWN}", UNDECIDED),
        (f"not {UNKNOWN}", UNDECIDED),
        (f"{UNKNOWN} if {TRUE} else {TRUE}", UNDECIDED),
        (f"{TRUE} if {TRUE} else {UNKNOWN}", HOLDS),
        (f"{TRUE} if {UNKNOWN} else {TRUE}", UNDECIDED),
    ],
)
def test_and_or_not_and_if_follow_kleene(require: str, expected: str) -> None:
    assert outcome(require) == expected


def stages(*teeth: int | None, partial: bool = False) -> dict[str, Any]:
    items = [{} if t is None else {"motor_side_teeth": t} for t in teeth]
    return {"mechanics": {"stages": {"partial": items} if partial else items}}


EVERY = "every s in axis.mechanics.stages has s.motor_side_teeth > 10"
SOME = "some s in axis.mechanics.stages has s.motor_side_teeth > 10"


@pytest.mark.parametrize(
    ("facts", "expected"),
    [
        (stages(20, 5), BROKEN),
        (stages(None, 5), BROKEN),
        (stages(5, partial=True), BROKEN),
        (stages(20, None), UNDECIDED),
        (stages(20, partial=True), UNDECIDED),
        (stages(20, 30), HOLDS),
        ({}, UNDECIDED),
    ],
)
def test_every_is_false_if_any_is_false_else_unknown_if_any_is_unknown_or_the_list_is_partial(
    facts: dict[str, Any], expected: str
) -> None:
    assert outcome(EVERY, facts) == expected


@pytest.mark.parametrize(
    ("facts", "expected"),
    [
        (stages(5, 20), HOLDS),
        (stages(None, 20), HOLDS),
        (stages(20, partial=True), HOLDS),
        (stages(5, None), UNDECIDED),
        (stages(5, partial=True), UNDECIDED),
        (stages(5, 6), BROKEN),
        ({}, UNDECIDED),
    ],
)
def test_some_is_the_dual_of_every(facts: dict[str, Any], expected: str) -> None:
    assert outcome(SOME, facts) == expected


@pytest.mark.parametrize(
    ("items", "expected"),
    [
        ([{"motor_side_teeth": 5}], UNDECIDED),
        ([{"motor_side_teeth": 20}], HOLDS),
        ([{"motor_side_teeth": 5, "kind": "gearbox"}], HOLDS),
        ([{"motor_side_teeth": 5, "kind": "belt"}], BROKEN),
    ],
)
def test_an_element_whose_filter_is_unknown_counts_only_if_it_makes_a_difference(
    items: list[Any], expected: str
) -> None:
    require = "every s in axis.mechanics.stages where s.kind is belt has s.motor_side_teeth > 10"
    assert outcome(require, {"mechanics": {"stages": items}}) == expected


@pytest.mark.parametrize(
    ("item", "used"),
    [
        ({"motor_side_teeth": 20, "kind": "belt"}, ["kind", "motor_side_teeth"]),
        ({"motor_side_teeth": 20}, ["motor_side_teeth"]),
    ],
)
def test_what_decides_an_element_is_told_with_its_filter_if_that_is_known(
    item: dict[str, Any], used: list[str]
) -> None:
    require = "every s in axis.mechanics.stages where s.kind is belt has s.motor_side_teeth > 10"
    verdict = judge(require, {"mechanics": {"stages": [item]}})
    paths = [f"axes.axis.mechanics.stages[0].{name}" for name in used]
    assert [path for path in verdict.traced.uses if "[0]" in path] == paths
    assert verdict.traced.missing == ()


@pytest.mark.parametrize(
    ("require", "expected"),
    [
        (EVERY, HOLDS),
        (SOME, BROKEN),
        ("(count of s in axis.mechanics.stages) = 0", HOLDS),
        ("(sum of s.motor_side_teeth for s in axis.mechanics.stages) = 0", HOLDS),
        ("(product of s.motor_side_teeth for s in axis.mechanics.stages) = 1", HOLDS),
        ("unique s.motor_side_teeth for s in axis.mechanics.stages", HOLDS),
        ("(max of s.motor_side_teeth for s in axis.mechanics.stages) > 0", UNDECIDED),
        ("(min of s.motor_side_teeth for s in axis.mechanics.stages) > 0", UNDECIDED),
    ],
)
def test_over_an_empty_list(require: str, expected: str) -> None:
    verdict = judge(require, stages())
    assert verdict.outcome == expected
    if expected == UNDECIDED:
        assert "nothing to compare" in verdict.traced.reasons[0]


@pytest.mark.parametrize("name", ["sum", "product", "max", "min"])
def test_an_aggregate_with_an_unknown_element_is_unknown(name: str) -> None:
    require = f"({name} of s.motor_side_teeth for s in axis.mechanics.stages) > 0"
    assert outcome(require, stages(5, 6)) == HOLDS
    verdict = judge(require, stages(5, None))
    assert verdict.outcome == UNDECIDED
    assert verdict.traced.missing == ("axes.axis.mechanics.stages[1].motor_side_teeth",)
    assert outcome(require, stages(5, partial=True)) == UNDECIDED


def test_count_counts_elements_whatever_is_known_of_them() -> None:
    assert outcome("(count of s in axis.mechanics.stages) = 2", stages(5, None)) == HOLDS
    filtered = "(count of s in axis.mechanics.stages where s.motor_side_teeth > 1) = 1"
    assert outcome(filtered, stages(5, None)) == UNDECIDED
    assert outcome("(count of s in axis.mechanics.stages) = 1", stages(5, partial=True)) == (
        UNDECIDED
    )


UNIQUE = "unique s.motor_side_teeth for s in axis.mechanics.stages"


@pytest.mark.parametrize(
    ("facts", "expected"),
    [
        (stages(5, 6), HOLDS),
        (stages(5, 5), BROKEN),
        (stages(5, None, 5), BROKEN),
        (stages(5, 5, partial=True), BROKEN),
        (stages(5, None), UNDECIDED),
        (stages(5, partial=True), UNDECIDED),
    ],
)
def test_unique_is_broken_by_known_duplicates_else_left_unknown_by_unknown_keys(
    facts: dict[str, Any], expected: str
) -> None:
    assert outcome(UNIQUE, facts) == expected


def test_unique_is_undecided_for_values_that_are_not_exact() -> None:
    require = (
        "unique circumference(s.motor_side_teeth) + s.load_side_teeth"
        " for s in axis.mechanics.stages"
    )
    items = [{"motor_side_teeth": 5, "load_side_teeth": 6}] * 2
    assert outcome(require, {"mechanics": {"stages": items}}) == UNDECIDED


PARTNER = (
    "axis with other where axis.gantry.partner is other.name"
    " directed by axis.gantry.partner without skips"
)


def gantry(**partners: str | None) -> Any:
    axes = {
        name: {"motion": "linear"} | ({} if to is None else {"gantry": {"partner": to}})
        for name, to in partners.items()
    }
    axis = axes.pop("axis")
    return machine_of(axis, axes=axes)


def pair_outcomes(machine: Any, each: str = PARTNER) -> list[tuple[str, str]]:
    verdicts = run(catalogue_of("axis.motion is other.motion", each=each), machine)
    return [(v.env["axis"]["name"], v.outcome) for v in verdicts]


def test_a_pair_whose_key_is_unknown_is_undecided_and_names_the_key() -> None:
    machine = gantry(axis=None, b="axis")
    verdicts = run(catalogue_of("axis.motion is other.motion", each=PARTNER), machine)
    assert [v.outcome for v in verdicts] == [UNDECIDED, HOLDS]
    assert verdicts[0].traced.missing == ("axes.axis.gantry",)


def test_without_a_match_an_unknown_key_on_the_other_side_leaves_it_unknown() -> None:
    each = (
        "axis with other where axis.name is other.gantry.partner"
        " directed by other.gantry.partner without skips"
    )
    assert pair_outcomes(gantry(axis="b", b=None), each) == [("axis", UNDECIDED), ("b", HOLDS)]


def test_a_match_is_used_although_other_keys_are_unknown() -> None:
    each = (
        "axis with other where axis.name is other.gantry.partner"
        " directed by other.gantry.partner without skips"
    )
    found = pair_outcomes(gantry(axis=None, b="axis", c=None), each)
    assert found[0] == ("axis", HOLDS)


def test_without_a_match_and_all_keys_known_a_pair_does_not_apply() -> None:
    machine = machine_of({"gantry": "none"}, axes={"b": {"motion": "linear", "gantry": "none"}})
    assert pair_outcomes(machine) == [("axis", NOT_APPLICABLE), ("b", NOT_APPLICABLE)]


def test_an_unknown_condition_leaves_the_rule_undecided() -> None:
    assert outcome("1 = 2", when=UNKNOWN) == UNDECIDED
    assert outcome("1 = 2", {"drive": {"node": 2}}, when=UNKNOWN) == NOT_APPLICABLE
    assert outcome("1 = 2", {"drive": {"node": 1}}, when=UNKNOWN) == BROKEN


NODE = {"drive": {"input_filter": "0 s"}}


@pytest.mark.parametrize(
    "expression",
    [
        "1s / axis.drive.input_filter = 1",
        "axis.drive.input_filter divides 1s",
        "remainder(1s, axis.drive.input_filter) = 0s",
        "largest_multiple(axis.drive.input_filter, 1s) = 0s",
    ],
)
def test_division_by_zero_is_undecided_names_the_divisor_and_has_its_own_finding(
    expression: str,
) -> None:
    verdict = judge(expression, NODE)
    assert verdict.outcome == UNDECIDED
    assert verdict.traced.zero_divisors == ("axes.axis.drive.input_filter",)
    assert verdict.traced.reasons == (
        "drive.input_filter is zero, and nothing can be divided by it",
    )
    (finding,) = findings_of(catalogue_of(expression), machine_of(NODE))
    assert (finding.rule, finding.subject) == ("divisor-is-not-zero", "axis")


# Shape ------------------------------------------------------------------------------------------


def test_subjects_are_typed_roots_from_one_table() -> None:
    assert set(SUBJECTS) == {"axis", "machine", "change", "spare"}
    for subject, roots in SUBJECTS.items():
        root = next(iter(roots))
        fact = "name is text" if root == "machine" else "drive.node = 1"
        if root == "machine":
            fact = 'description is "x"'
        (rule,) = checked(f"{root}.{fact}", each=subject).rules
        assert rule.subject == subject


def test_a_pair_without_an_equality_key_cannot_be_written() -> None:
    with pytest.raises(RuleError):
        checked("true", each="axis with other")
    with pytest.raises(RuleError):
        checked("true", each="axis with other where axis.drive.node < other.drive.node")


@pytest.mark.parametrize(
    ("each", "require"),
    [
        ("axis", "every a in machine.axes has a.drive.node = axis.drive.node"),
        ("machine", "every a in machine.axes has every b in machine.axes has a.name is b.name"),
        ("axis", "(count of n in machine.network.nodes where n.address > axis.drive.node) = 0"),
    ],
)
def test_a_loop_over_all_within_each_needs_an_equality_that_picks_some(
    each: str, require: str
) -> None:
    assert "with every one of the others" in refused(require, each=each)


def test_a_loop_with_an_equality_joins_by_node_address() -> None:
    require = "some n in machine.network.nodes where n.address = axis.drive.node has n.serial is {}"
    machine = machine_of(
        {"drive": {"node": 3}},
        network={"nodes": [{"address": 2, "serial": "x"}, {"address": 3, "serial": "y"}]},
    )
    assert outcome(require.format('"y"'), machine=machine) == HOLDS
    assert outcome(require.format('"x"'), machine=machine) == BROKEN


class Counting(dict[str, Any]):
    """Facts that count how often they are asked for one."""

    asked = 0

    def get(self, key: str, default: Any = None) -> Any:
        Counting.asked += 1
        return super().get(key, default)


@pytest.mark.parametrize("count", [20, 200])
def test_pairs_are_found_through_an_index_that_rules_share(count: int) -> None:
    from axisproof.engine.cases import cases

    partners = {n: {"partner": f"a{n ^ 1}"} for n in range(count)}
    axes = {f"a{n}": {"motion": "linear", "gantry": partners[n]} for n in range(count)}
    machine = machine_of({"gantry": "none"}, axes=axes)
    machine.axes[:] = [Counting(axis) for axis in machine.axes]
    (entry,) = catalogue_of("axis.motion is other.motion", each=PARTNER).entries
    Counting.asked = 0
    paired: Any = {}
    for _ in range(3):
        found = [
            (c.env["axis"]["name"], c.env["other"]["name"])
            for c in cases(entry, machine, paired)
            if not c.absent
        ]
        assert found == [(f"a{n}", f"a{n ^ 1}") for n in range(count)]
    assert Counting.asked < 5 * count


def test_a_rule_may_propose_a_value_and_say_that_it_is_safe() -> None:
    found = catalogue_of(
        "axis.drive.node = 5", extra="set axis.drive.node to axis.drive.node + 1 safe"
    )
    (finding,) = findings_of(found, machine_of({"drive": {"node": 7}}))
    assert (finding.fix.fact, finding.fix.value, finding.fix.safe) == (
        "axes.axis.drive.node",
        "8",
        True,
    )


def test_a_proposed_value_comes_from_the_rule_and_so_does_the_margin() -> None:
    found = catalogue_of(
        "axis.encoder.distinguishable_revolutions <= 7rev",
        lets="let best = largest_multiple(7rev, axis.encoder.distinguishable_revolutions)",
        extra="set axis.encoder.distinguishable_revolutions to best",
    )
    (finding,) = findings_of(found, machine_of({"encoder": {"distinguishable_revolutions": 65536}}))
    assert finding.fix.value == "65534"  # 65536 = 9362·7 + 2, domain.md section 2
    assert not finding.fix.safe
    assert {f.name: f.text for f in finding.figures}["too large by"] == "65529 rev"


def test_an_undecided_rule_names_the_smallest_set_of_facts_that_decides_it() -> None:
    require = (
        "(axis.drive.node + axis.drive.position_register.bits"
        " default axis.encoder.edges_per_line) = 1"
    )
    assert judge(require).traced.missing == ("axes.axis.encoder.edges_per_line",)
    both = "axis.drive.node + axis.drive.position_register.bits = 1"
    assert set(judge(both).traced.missing) == {
        "axes.axis.drive.node",
        "axes.axis.drive.position_register.bits",
    }
    assert judge(both, {"drive": {"node": 1}}).traced.missing == (
        "axes.axis.drive.position_register.bits",
    )


def test_a_unit_literal_is_one_token_without_inner_spaces() -> None:
    assert outcome("1 m/s = 60m/min".replace("1 m", "1m")) == HOLDS
    with pytest.raises(RuleError):
        checked("1 m/s = 60m/min")


def test_keywords_are_reserved() -> None:
    said = refused("true", lets="let every = 1")
    assert "every is a word of the language" in said
    assert "true is a word of the language" in refused("true", lets="let true = 1")


@pytest.mark.parametrize("first", ["", "language 1\n", "language 3\n", "rule x level error"])
def test_a_rule_file_states_a_language_version_that_is_known(first: str) -> None:
    text = first + rule_text("true").removeprefix("language 2\n")
    with pytest.raises(RuleError):
        from_texts({"a.rules": text})


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        ("5/8 * 100mm", "62.5 mm"),
        ("720/7 * 1deg", "102.86 deg"),
        ("circumference(20mm)", "62.83 mm"),
        ("4096count", "4096 count"),
        ("1/3", "0.3333"),
    ],
)
def test_messages_give_short_numbers_exactly_and_round_long_ones(value: str, shown: str) -> None:
    units = " in deg" if "deg" in value else ""
    found = catalogue_of("1 = 2", say=f"{{{value}{units}}}")
    (finding,) = findings_of(found, machine_of())
    assert finding.message == shown


def test_figures_carry_numerator_denominator_and_unit() -> None:
    found = catalogue_of("x < 1deg", lets="let x = 720/7 * 1deg")
    (finding,) = findings_of(found, machine_of())
    figure = next(f for f in finding.figures if f.name == "x")
    assert figure.exact["unit"] == "rev"
    assert (figure.exact["numerator"], figure.exact["denominator"]) == (2, 7)


# Evaluation -------------------------------------------------------------------------------------


def test_evaluation_sees_bare_values_and_places_live_beside_them() -> None:
    machine = machine_of(
        {"drive": {"node": 3}, "motor": {"brake": "none"}, "controller": {"cycle": "10 mm"}}
    )
    (axis,) = machine.axes
    assert axis["drive.node"] == 3
    assert axis["controller.cycle"] == 10
    assert axis["motor.brake"] is NONE


def test_a_let_is_unknown_without_making_the_rule_unknown_where_it_is_not_needed() -> None:
    lets = "let x = axis.drive.node + 1"
    assert outcome("axis.motion is linear or x = 1", lets=lets) == HOLDS


def test_a_definition_is_computed_once_per_record() -> None:
    before = 'define axis.twice kind ratio as axis.drive.node * 2 meaning "m"'
    found = catalogue_of("axis.twice = 6 and axis.twice + 1 = 7", before=before)
    machine = machine_of({"drive": {"node": 3}})
    (entry,) = found.entries
    assert entry.function(machine.axes[0], machine.facts) == 1
    assert notes_of(machine.axes[0]).memo["twice"] == 6


def test_a_setting_has_its_default_unless_machine_or_axis_says_otherwise() -> None:
    before = 'setting room default 10% meaning "m" basis "b"'
    found = catalogue_of("room = 0.1", before=before)
    machine = machine_of()
    assert [v.outcome for v in run(found, machine)] == [HOLDS]
    notes_of(machine.axes[0]).settings = {"room": Fraction(1, 5)}
    assert [v.outcome for v in run(found, machine)] == [BROKEN]


def test_both_evaluators_read_one_checked_tree() -> None:
    found = catalogue_of("axis.drive.node = 1")
    verdict: Verdict = run(found, machine_of({"drive": {"node": 1}}))[0]
    assert verdict.traced.uses == ("axes.axis.drive.node",)
    assert found.rules["the-rule"].require.op == "eq"


DISPUTED_ELSE = """language 2
define stage.ratio_of for stage in axis.mechanics.stages
  kind ratio meaning "m"
  as stage.motor_turns_per_load_turn default stage.load_side_teeth / stage.motor_side_teeth
define axis.ratio_of
  kind ratio meaning "m"
  as (product of s.ratio_of for s in axis.mechanics.stages) default axis.mechanics.stated_ratio
rule ratio-is-seven
  level error title "t" each axis
  require axis.ratio_of = 7
  say "s" why "w" remedy "r" basis "b"
  passes "p" axis.mechanics.stated_ratio = 7
  fails "f" axis.mechanics.stated_ratio = 6
"""


@pytest.mark.parametrize(
    ("stage", "verdict"),
    [
        ({"load_side_teeth": 70, "motor_side_teeth": 10}, 1),
        ({"motor_side_teeth": 10}, 1),  # nothing about the ratio: the stated one counts
        (
            {
                "motor_turns_per_load_turn": {
                    "claims": [{"value": 7, "source": "a"}, {"value": 8, "source": "b"}]
                },
                "load_side_teeth": 70,
                "motor_side_teeth": 10,
            },
            None,
        ),
        (
            {
                "load_side_teeth": {
                    "claims": [{"value": 70, "source": "a"}, {"value": 80, "source": "b"}]
                },
                "motor_side_teeth": 10,
            },
            None,
        ),
    ],
)
def test_default_passes_over_a_missing_fact_but_not_over_a_disputed_one(stage, verdict) -> None:
    from axisproof.catalogue.catalogue import from_texts
    from axisproof.language.tracer import Tracer
    from axisproof.machine.reader import read_plain

    catalogue = from_texts({"own.rules": DISPUTED_ELSE})
    plain = {"motion": "linear", "mechanics": {"stages": [stage], "stated_ratio": 7}}
    machine = read_plain({"axes": {"axis": plain}})
    env = {"axis": machine.axes[0], "machine": machine.facts}
    (entry,) = catalogue.entries
    traced = Tracer(catalogue.definitions, catalogue.defaults).value(
        catalogue.rules[entry.name].require, env
    )
    assert traced.value is {1: True, None: None}[verdict]
    assert entry.function(env["axis"], env["machine"]) == verdict
    if verdict is None:
        assert len(traced.missing) == 1
        assert "stages[0]" in traced.missing[0]


# Lists in messages ------------------------------------------------------------------------------


def test_all_of_lists_what_is_known_to_pass_and_stands_in_messages_alone(tmp_path: Path) -> None:
    text = """language 2
rule node-is-low
  level note title "t" each machine
  require every axis in machine.axes has axis.drive.node < 9
  say "{all of axis.name for axis in machine.axes where (axis.drive.node >= 9)} at"
      "{all of axis.drive.node for axis in machine.axes where axis.drive.node >= 9}; no polarity:"
      "{all of axis.name for axis in machine.axes where axis.drive.polarity is normal}"
  why "w" remedy "r" basis "b"
  passes "p" a.drive.node = 1
  fails "f" a.drive.node = 9 b.drive.node = 8 c.drive.node = 12 d.motion = linear
    says "a, c at 9, 12; no polarity: none"
"""
    path = tmp_path / "own.rules"
    path.write_text(text, "utf-8")
    report = run_rule_tests([path])
    assert report.faults == ()
    require = "require every axis in machine.axes has axis.drive.node < 9"
    listing = require.replace("every axis", "all of axis.name for axis").split(" has")[0]
    with pytest.raises(RuleError, match="all of is for messages"):
        from_texts({"own.rules": text.replace(require, listing)})
    with pytest.raises(RuleError, match="cannot be listed"):
        from_texts({"own.rules": text.replace("of axis.drive.node", "of axis.controller.cycle")})
