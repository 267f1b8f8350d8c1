"""The examples of a rule are run: outcomes, pinned values, and what is wrong with them."""

from __future__ import annotations

import copy
from dataclasses import replace

import pytest
from axisproof.base.errors import RuleError
from axisproof.catalogue.catalogue import shipped
from axisproof.engine.engine import Options, check_machine
from axisproof.findings.rule_info import RuleFault, RuleTestReport
from axisproof.language import compiler
from axisproof.language.operators import OPERATORS
from axisproof.language.syntax import NOWHERE, Assignment
from axisproof.machine.reader import read_plain
from axisproof.numbers.calendar_periods import day_of
from axisproof.rulebook import rule_tests
from axisproof.rulebook.example_machines import complete_axes
from axisproof.rulebook.rule_tests import run_rule_tests
from axisproof.rulebook.variations import with_value

from tests.rulebook.tested_rules import BOUNDARY, Run, place


def only(report: RuleTestReport) -> RuleFault:
    (fault,) = report.faults
    return fault


# Examples that are wrong ------------------------------------------------------------------------


def test_an_example_with_another_outcome_is_reported_where_it_stands(tested: Run) -> None:
    report = tested("axis.drive.node <= 5", BOUNDARY.replace("= 6", "= 4"))
    fault = only(report)
    assert fault.what == 'fails "one above": the rule holds, by axis.drive.node = 4'
    assert fault.expected == "the rule fails"
    assert place(fault).startswith('fails "one above"')
    assert report.mutants == 0


def test_an_undecided_example_says_what_it_lacks(tested: Run) -> None:
    examples = BOUNDARY.replace("axis.drive.node = 6", "axis.drive.node = missing")
    fault = only(tested("axis.drive.node <= 5", examples))
    assert fault.what == 'fails "one above": the rule cannot be decided (lacks axis.drive.node)'


def test_a_rule_that_does_not_apply_to_an_example_is_no_pass(tested: Run) -> None:
    fault = only(
        tested(
            "axis.drive.node <= 5",
            BOUNDARY.replace('passes "at the limit"', 'passes "p" axis.motion = rotary'),
            when="when axis.motion is linear",
        )
    )
    assert "the rule does not apply" in fault.what


@pytest.mark.parametrize(
    ("pin", "what", "expected"),
    [
        ("expect twice = 11", "twice is 10", "11"),
        ("expect axis.drive.node = 6", "axis.drive.node is 5", "6"),
        ("expect axis.motion = rotary", "axis.motion is linear", "rotary"),
    ],
)
def test_a_wrong_pinned_value_is_reported_with_what_it_is(
    tested: Run, pin: str, what: str, expected: str
) -> None:
    report = tested(
        "axis.drive.node <= 5",
        BOUNDARY.replace('passes "at the limit"', f'passes "p" {pin}'),
        lets="let twice = axis.drive.node * 2",
    )
    fault = only(report)
    assert (fault.what, fault.expected) == (what, expected)
    assert place(fault) == pin


def test_a_fact_a_definition_and_a_derived_value_can_be_pinned(tested: Run) -> None:
    examples = (
        "given axis.drive.node = 5 "
        'passes "p" expect axis.drive.node = 5 expect axis.twice = 10 expect machine.size = 1 '
        'fails "f" axis.drive.node = 6 expect axis.twice = 12'
    )
    before = (
        'define axis.twice kind ratio as axis.drive.node * 2 meaning "m" '
        'define machine.size kind ratio as count of a in machine.axes meaning "m"'
    )
    assert tested("axis.drive.node <= 5", examples, before=before).faults == ()


def test_an_approximate_value_is_pinned_to_five_digits_or_so(tested: Run) -> None:
    examples = 'passes "p" axis.drive.node = 5 expect x = {} fails "f" axis.drive.node = 6'
    lets = "let x = circumference(axis.drive.node) + 1"

    def wrong(value: str) -> list[str]:
        report = tested("axis.drive.node <= 5", examples.format(value), lets=lets)
        return [f.what for f in report.faults]

    assert wrong("16.70796") == []  # 5π + 1 = 16.70796326...
    assert wrong("16.709") == ["x is ≈ 16.708"]


def test_a_value_that_an_example_does_not_reach_cannot_be_pinned(tested: Run) -> None:
    examples = 'passes "p" axis.drive.node = 5 fails "f" axis.drive.node = 6 ' + (
        'skips "s" axis.motion = rotary expect x = 1'
    )
    report = tested(
        "axis.drive.node <= 5",
        examples,
        when="when axis.motion is linear",
        lets="let x = axis.drive.node",
    )
    assert "x has no value in this example" in [f.what for f in report.faults]


def test_a_need_that_is_not_what_is_missing_is_reported(tested: Run) -> None:
    examples = BOUNDARY.replace("needs axis.drive.node", "needs axis.drive.polarity")
    fault = only(tested("axis.drive.node <= 5", examples))
    assert fault.what == "axis.drive.polarity is not what is missing"
    assert fault.expected == "axis.drive.node"
    assert "axis.drive.polarity" in place(fault)


@pytest.mark.parametrize(
    ("fact", "what", "at"),
    [
        ('axis.drive.node = "12 mm"', "axes.axis.drive.node is", '"12 mm"'),
        ("axis.drive.nod = 5", "is not a fact that the machine file knows", "axis.drive.nod"),
        ("axis.motor.brake = 5", "axes.axis.motor.brake is 5", "5"),
        ("axis = 5", "axis is no fact", "axis"),
        ("axis.motion = [linear]", "axes.axis.motion is a list", "[linear]"),
        ("axis.drive.node.x = 5", "within a single value", "axis.drive.node.x"),
        ("axis.mechanics.stages = [{teeth: 5}]", "is not a fact", "axis.mechanics.stages"),
    ],
)
def test_a_fact_that_no_machine_file_could_state_is_reported_where_it_stands(
    tested: Run, fact: str, what: str, at: str
) -> None:
    examples = BOUNDARY.replace(
        'passes "at the limit"', f'passes "at the limit" passes "p" axis.drive.node = 5 {fact}'
    )
    if fact.startswith("axis.drive.node ="):
        examples = examples.replace("axis.drive.node = 5 axis", "axis")
    fault = only(tested("axis.drive.node <= 5", examples))
    assert what in fault.what
    assert place(fault) == at


def test_an_example_may_have_several_axes_and_a_machine(tested: Run) -> None:
    examples = (
        'passes "p" a.drive.node = 1 b.drive.node = 2 machine.network.cycle_time = "1 ms" '
        'fails "f" a.drive.node = 1 b.drive.node = 1'
    )
    report = tested("unique a.drive.node for a in machine.axes", examples, each="machine")
    assert report.faults == ()


def test_all_cases_of_an_example_count_and_the_worst_wins(tested: Run) -> None:
    examples = (
        'passes "p" a.drive.node = 5 b.drive.node = 5 '
        'fails "f" a.drive.node = 5 b.drive.node = 6 '
        'undecided "u" a.drive.node = 5 b.motion = linear'
    )
    assert tested("axis.drive.node <= 5", examples).faults == ()


@pytest.mark.parametrize("kind", ["passes", "fails"])
def test_a_rule_without_an_example_of_either_kind_is_refused(tested: Run, kind: str) -> None:
    with pytest.raises(RuleError, match=f"has no example that {kind}"):
        tested("axis.drive.node <= 5", BOUNDARY.replace(kind, "skips"))


def test_evaluators_that_differ_are_reported(tested: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    slipped = {**OPERATORS, "le": replace(OPERATORS["le"], code="{0} < {1}")}
    monkeypatch.setattr(compiler, "OPERATORS", slipped)
    report = tested("axis.drive.node <= 5", BOUNDARY)
    assert any("the two evaluators differ" in fault.what for fault in report.faults)


# Which rules ------------------------------------------------------------------------------------


def test_only_the_rules_of_the_paths_given_are_tested(tested: Run) -> None:
    assert tested("axis.drive.node <= 5", BOUNDARY).rules == 1


def test_the_examples_of_all_shipped_rules_hold(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(rule_tests, "_all_mutants", lambda *_: ())
    report = run_rule_tests()
    assert report.faults == ()
    assert report.rules == len(rule_tests.shipped().entries)
    assert report.examples > 3 * report.rules


@pytest.mark.exhaustive
def test_without_paths_the_shipped_rules_are_tested_and_faultless() -> None:
    report = run_rule_tests()
    assert report.clean
    assert report.killed == report.mutants
    assert report.rules == len(rule_tests.shipped().entries)


def test_a_proposed_value_that_does_not_mend_a_failing_example_is_a_fault(tmp_path) -> None:
    path = tmp_path / "own.rules"
    text = """language 2
rule counts-are-alike
  level error title "t" each axis
  require axis.drive.counts_per_revolution = axis.encoder.counts_per_revolution
  say "s" why "w" remedy "r" basis "b"
  set axis.drive.counts_per_revolution to axis.encoder.counts_per_revolution{}
  passes "p" axis.drive.counts_per_revolution = 10 axis.encoder.counts_per_revolution = 10
  fails "f" axis.drive.counts_per_revolution = 10 axis.encoder.counts_per_revolution = 20
"""
    path.write_text(text.format(""), "utf-8")
    assert run_rule_tests([path]).faults == ()
    path.write_text(text.format(" / 4"), "utf-8")
    (fault,) = run_rule_tests([path]).faults
    assert fault.what == (
        'fails "f": axes.axis.drive.counts_per_revolution = 5 does not make the rule hold'
    )
    assert fault.place is not None
    assert (fault.place.line, fault.place.column) == (6, 7)
    words = '    says "set axis.drive.counts_per_revolution to 0 count/rev"\n'
    path.write_text(text.format(" - 20count/rev") + words, "utf-8")
    assert run_rule_tests([path]).faults == ()  # 0 counts are never offered


def test_a_proposed_value_that_the_machine_file_refuses_is_a_fault(tmp_path) -> None:
    path = tmp_path / "own.rules"
    path.write_text(
        """language 2
rule speeds-are-alike
  level error title "t" each axis
  require axis.drive.max_speed = axis.motor.max_speed
  say "s" why "w" remedy "r" basis "b"
  set axis.drive.max_speed to axis.motor.max_speed - 2000rpm
  passes "p" axis.drive.max_speed = 3000rpm axis.motor.max_speed = 3000rpm
  fails "f" axis.drive.max_speed = 3000rpm axis.motor.max_speed = 1000rpm
""",
        "utf-8",
    )
    (fault,) = run_rule_tests([path]).faults
    assert "axes.axis.drive.max_speed = -1000 rpm is refused" in fault.what


def test_only_a_failing_example_says_anything(tested: Run) -> None:
    examples = BOUNDARY.replace('passes "at the limit"', 'passes "at the limit" says "s"')
    with pytest.raises(RuleError, match="only a failing example says anything"):
        tested("axis.drive.node <= 5", examples)


@pytest.mark.parametrize(
    "facts",
    [
        'axis.motor.brake = {voltage: "24 V"} axis.motor.brake.voltage = "48 V"',
        'axis.motor.brake.voltage = "48 V" axis.motor.brake = {voltage: "24 V"}',
    ],
)
def test_an_example_states_a_fact_once(tested: Run, facts: str) -> None:
    examples = f'passes "p" {facts} fails "f" axis.motor.brake.voltage = "24 V"'
    (fault, *_) = tested("axis.motor.brake.voltage > 24V", examples).faults
    assert "is stated twice" in fault.what


COMPLETE = """given axis = complete
  passes "as it is"
  fails "more" axis.motor.rated_torque = "2.5 N·m"
  fails "and faster" axis.controller.max_velocity = "301 mm/s"
  skips "another kind of axis" axis = complete_rotary
"""


def test_an_example_may_begin_with_a_complete_axis(tested: Run) -> None:
    require = "axis.motor.rated_torque <= 2.4N·m and axis.controller.max_velocity <= 300mm/s"
    when = "when axis.motion is linear"
    assert tested(require, COMPLETE, when=when).clean
    wrong = COMPLETE.replace("2.5 N·m", "2.4 N·m")
    fault = only(tested(require, wrong, when=when))
    assert fault.what == (
        'fails "more": the rule holds, by axis.motor.rated_torque = 2.4 N·m, '
        "axis.controller.max_velocity = 300 mm/s"
    )


@pytest.mark.parametrize("word", ["complete", "complete_rotary"])
def test_a_complete_axis_has_no_finding_and_leaves_no_rule_about_one_axis_undecided(
    word: str,
) -> None:
    facts = copy.deepcopy(complete_axes()[word])
    found = shipped()
    machine = read_plain({"axes": {"axis": facts}})
    machine.facts["check_date"] = day_of("2026-06-01")
    results = check_machine(machine, "m", found, Options())
    assert [f.rule for f in results.findings if f.subject == "axis"] == []
    one_axis = {
        entry.name for entry in found.entries if entry.subject == "axis" and entry.range is None
    }
    of_machine = ("machine.", "network", "collision_pairs", "conditions")
    open_checks = [u for u in results.undecided if u.rule in one_axis]
    assert [
        (u.rule, u.missing)
        for u in open_checks
        if not any(path.startswith(of_machine) for path in u.missing)
    ] == []


def test_an_axis_that_is_nothing_else_is_refused_with_what_it_may_be(tested: Run) -> None:
    fault, *_ = tested("axis.drive.node <= 5", BOUNDARY + 'passes "p" axis = whole').faults
    assert fault.what == "axis is no fact"
    assert "axis = complete" in fault.expected


def test_a_fact_below_a_part_that_an_example_states_to_be_none_can_be_tried() -> None:
    """An example with `brake = none` gets a brake where a proposal states something of it."""
    rule = shipped().examples["brake-voltage-fits"][0]
    none = replace(rule, facts=(Assignment("axis.motor", {"brake": "none"}, NOWHERE, NOWHERE),))
    made = with_value(none, ("axis", "motor", "brake", "voltage"), "24 V")
    assert [(fact.path, fact.value) for fact in made.facts] == [
        ("axis.motor", {"brake": {"voltage": "24 V"}})
    ]
