"""One test for every statement on absence and the three values."""

from __future__ import annotations

from typing import Any

import pytest
from axisproof.engine.engine import Options, check_machine

from tests.language.evaluating import (
    BROKEN,
    HOLDS,
    NOT_APPLICABLE,
    UNDECIDED,
    catalogue_of,
    judge,
    machine_of,
    outcome,
    run,
)
from tests.language.semantics import PARTNER, findings_of, stages


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
