"""The examples of a rule are run, and must tell the rule from every small change to it."""

from __future__ import annotations

import copy
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from axisproof.base.errors import RuleError
from axisproof.catalogue.catalogue import parse_texts, shipped
from axisproof.engine.engine import Options, check_machine
from axisproof.findings.rule_info import Alteration, RuleFault, RuleTestReport
from axisproof.language import compiler
from axisproof.language.operators import OPERATORS
from axisproof.language.rule_file import RuleFile
from axisproof.language.syntax import NOWHERE, Assignment
from axisproof.machine.reader import read_plain
from axisproof.numbers.calendar_periods import day_of
from axisproof.rulebook import rule_tests
from axisproof.rulebook.alterations import alteration
from axisproof.rulebook.example_machines import complete_axes
from axisproof.rulebook.mutants import mutants_of
from axisproof.rulebook.rule_tests import run_rule_tests
from axisproof.rulebook.variations import with_value

RULE = """language 2
{before}
rule site-rule
  level warning
  title "t"
  each {each}
  {when}
  {lets}
  require {require}
  say "s"
  why "w"
  remedy "r"
  basis "b"
  {examples}
"""

BOUNDARY = """given axis.drive.node = 5
  passes "at the limit"
  fails "one above"
    axis.drive.node = 6
  undecided "no node"
    axis.drive.node = missing
    needs axis.drive.node
"""


def text_of(require: str, examples: str, **parts: str) -> str:
    fields = {"before": "", "each": "axis", "when": "", "lets": ""} | parts
    return RULE.format(require=require, examples=examples, **fields)


Run = Callable[..., RuleTestReport]


@pytest.fixture
def tested(tmp_path: Path) -> Run:
    def run(require: str, examples: str, **parts: str) -> RuleTestReport:
        path = tmp_path / "site.rules"
        path.write_text(text_of(require, examples, **parts), "utf-8")
        return run_rule_tests([path])

    return run


def only(report: RuleTestReport) -> RuleFault:
    (fault,) = report.faults
    return fault


def alterations(report: RuleTestReport) -> list[Alteration]:
    """What no example notices."""
    return [altered for each in report.unnoticed for altered in each.alterations]


def place(fault: RuleFault | Alteration) -> str:
    """The stretch of the source line that a fault points at."""
    assert fault.place is not None
    assert fault.source_line is not None
    end = fault.place.end_column if fault.place.end_line == fault.place.line else None
    return fault.source_line[fault.place.column - 1 : end and end - 1]


# Mutants ----------------------------------------------------------------------------------------


def test_examples_on_both_sides_of_the_boundary_notice_every_mutant(tested: Run) -> None:
    report = tested("axis.drive.node <= 5", BOUNDARY)
    assert report == RuleTestReport(1, 3, 3, 3, ())


def test_a_rule_without_an_example_at_the_boundary_is_reported(tested: Run) -> None:
    examples = 'passes "far below" axis.drive.node = 1 fails "far above" axis.drive.node = 100'
    report = tested("axis.drive.node <= 5", examples)
    assert (report.mutants, report.killed) == (3, 1)
    assert report.faults == ()
    assert sorted((each.what, place(each)) for each in alterations(report)) == [
        ("change `5` to `10`", "5"),
        ("change `<=` to `<`", "<="),
    ]
    assert {each.owner for each in alterations(report)} == {"site-rule"}


@pytest.mark.parametrize(
    ("require", "examples", "what"),
    [
        (
            "axis.drive.node = 1 and axis.drive.polarity is normal",
            'passes "p" axis.drive.node = 1 axis.drive.polarity = normal '
            'fails "f" axis.drive.node = 2 axis.drive.polarity = reversed '
            'fails "g" axis.drive.node = 2 axis.drive.polarity = normal',
            "leave out `and axis.drive.polarity is normal`",
        ),
        (
            "axis.encoder.kind is one of [incremental, absolute_singleturn]",
            'passes "p" axis.encoder.kind = incremental '
            'fails "f" axis.encoder.kind = absolute_multiturn',
            "leave out `, absolute_singleturn`",
        ),
        (
            "every s in axis.mechanics.stages where s.kind is belt has s.motor_side_teeth > 10",
            'passes "p" axis.mechanics.stages = [{kind: belt, motor_side_teeth: 11},'
            " {kind: belt, motor_side_teeth: 11}] "
            'fails "f" axis.mechanics.stages = [{kind: belt, motor_side_teeth: 10},'
            " {kind: belt, motor_side_teeth: 11}]",
            "leave out `where s.kind is belt`",
        ),
        (
            "(max of s.motor_side_teeth for s in axis.mechanics.stages) <= 5",
            'passes "p" axis.mechanics.stages = [{motor_side_teeth: 5}] '
            'fails "f" axis.mechanics.stages = [{motor_side_teeth: 6}]',
            "change `max` to `min`",
        ),
    ],
)
def test_a_part_that_no_example_needs_is_reported(
    tested: Run, require: str, examples: str, what: str
) -> None:
    assert any(what in each.what for each in alterations(tested(require, examples)))


def test_a_pinned_value_notices_a_mutant_that_leaves_the_outcome_alone(tested: Run) -> None:
    examples = 'passes "p" axis.drive.node = 5 {} fails "f" axis.drive.node = 6'
    lets = "let twice = axis.drive.node * 3"
    unpinned = tested("axis.drive.node <= 5", examples.format(""), lets=lets)
    assert [each.what for each in alterations(unpinned)] == [
        "change `*` to `/`",
        "change `3` to `6`",
    ]
    (would,) = unpinned.unnoticed
    assert (would.adds_to, would.example) == ('passes "p"', ("expect twice = 15",))
    pinned = tested("axis.drive.node <= 5", examples.format("expect twice = 15"), lets=lets)
    assert pinned.clean


def test_a_definition_is_altered_too_and_every_rule_that_uses_it_may_notice(tested: Run) -> None:
    before = 'define axis.twice kind ratio as axis.drive.node * 2 meaning "m"'
    blind = 'passes "p" axis.drive.node = 10 fails "f" axis.drive.node = 1'
    report = tested("axis.twice > 4", blind, before=before)
    assert any(each.owner == "twice" for each in alterations(report))
    sharp = 'passes "p" axis.drive.node = 3 fails "f" axis.drive.node = 2'
    report = tested("axis.twice > 4", sharp, before=before)
    assert [each for each in alterations(report) if each.owner == "twice"] == []


def test_mutants_change_one_thing_each_and_none_is_the_rule_itself() -> None:
    text = text_of(
        "(axis.drive.node + 1 < 5 or not strict) and axis.motion is linear",
        'passes "p" fails "f"',
        before='setting strict default true meaning "m" basis "b"',
        when="when axis.motion is one of [linear, rotary]",
        lets="let x = (sum of s.motor_side_teeth for s in axis.mechanics.stages) / 2",
    )
    (rule,) = parse_texts({"a.rules": text}).rules
    mutants = list(mutants_of(rule))
    assert len(mutants) == len({repr(mutant) for _, mutant in mutants})
    file = RuleFile("a.rules", text)
    for change, mutant in mutants:
        assert mutant != rule
        changed = [
            mutant.when != rule.when,
            mutant.lets != rule.lets,
            mutant.require != rule.require,
        ]
        assert sum(changed) == 1
        altered = alteration(change, file)
        assert place(altered) in altered.what


@pytest.mark.parametrize(
    ("require", "words"),
    [
        (
            "(axis.drive.node = 1 or strict) and strict",
            "leave out `(axis.drive.node = 1 or strict) and`",
        ),
        ("(axis.drive.node = 1 or strict) and strict", "leave out `and strict`"),
        ("not strict", "leave out `not`"),
        (
            "axis.motor.brake is none",
            "change `axis.motor.brake is none` to `axis.motor.brake is not none`",
        ),
        (
            "axis.encoder.turn_counter.battery.fitted_on >= 2026-02-28",
            "change `2026-02-28` to `2026-03-01`",
        ),
        ("machine.check_date - 18months > 2024-01-01", "change `18months` to `36months`"),
        ("axis.drive.node * 1/3mm > 0mm", "change `1/3mm` to `2/3mm`"),
        ("axis.drive.node * 1/3mm > 0mm", "change `0mm` to `1mm`"),
        ("axis.drive.node * pi > 3", "change `pi` to `2 * pi`"),
        ('axis.name is one of ["ab", "c"]', 'leave out `, "c"`'),
        ("axis.drive.node > 1 # or so\n and strict", "leave out `axis.drive.node > 1 # or so and`"),
    ],
)
def test_an_alteration_is_told_in_the_words_of_the_file(require: str, words: str) -> None:
    text = text_of(
        require,
        'passes "p" fails "f"',
        before='setting strict default true meaning "m" basis "b"',
    )
    (rule,) = parse_texts({"a.rules": text}).rules
    file = RuleFile("a.rules", text)
    told = [alteration(change, file).what for change, _ in mutants_of(rule)]
    assert words in told


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


TELLING = """language 2
rule brake-is-free-in-time
  level error title "t" each axis
  require axis.drive.brake_release_delay >= axis.motor.brake.release_time
  say "{axis.motor.brake.release_time / 2 in ms}" why "{axis.drive.brake_release_delay + 1ms in ms}"
  remedy "{min(axis.motor.brake.release_time, 90ms) in ms}" basis "b"
  set axis.drive.brake_release_delay to axis.motor.brake.release_time + 5ms
  given axis.motor.brake.release_time = "60 ms"
  passes "p" axis.drive.brake_release_delay = "60 ms"
  fails "f" axis.drive.brake_release_delay = "59 ms"
"""


def test_a_number_worked_out_in_a_message_is_altered_too(tmp_path: Path) -> None:
    path = tmp_path / "own.rules"
    path.write_text(TELLING, "utf-8")
    unsaid = [each.what for each in alterations(run_rule_tests([path]))]
    assert sorted(unsaid) == sorted(
        f"change `{old}` to `{new}`"
        for old, new in (
            ("/", "*"),
            ("2", "4"),
            ("+", "-"),
            ("1ms", "2ms"),
            ("min", "max"),
            ("90ms", "180ms"),
            ("+", "-"),
            ("5ms", "10ms"),
        )
    )
    said = """    says "30 ms" says "60 ms"
    says "set axis.drive.brake_release_delay to 65 ms"
  fails "g" axis.motor.brake.release_time = "200 ms" axis.drive.brake_release_delay = "199 ms"
    says "200 ms" says "90 ms"
"""
    path.write_text(TELLING + said, "utf-8")
    assert run_rule_tests([path]).clean


def test_words_that_an_example_does_not_say_are_a_fault(tmp_path: Path) -> None:
    path = tmp_path / "own.rules"
    path.write_text(TELLING + '    says "31 ms"\n', "utf-8")
    fault, *_ = run_rule_tests([path]).faults
    assert fault.what == 'fails "f" does not say this'
    assert fault.expected == ("30 ms\n60 ms\n60 ms\nset axis.drive.brake_release_delay to 65 ms")
    assert fault.place is not None
    assert (fault.place.line, fault.place.column) == (11, 5)


def test_only_a_failing_example_says_anything(tested: Run) -> None:
    examples = BOUNDARY.replace('passes "at the limit"', 'passes "at the limit" says "s"')
    with pytest.raises(RuleError, match="only a failing example says anything"):
        tested("axis.drive.node <= 5", examples)


def test_a_rule_altered_so_that_it_no_longer_applies_says_nothing(tested: Run) -> None:
    examples = """given axis.drive.node = 5 axis.drive.polarity = normal
  passes "p" expect limit = 5
  fails "f" axis.drive.node = 6 says "s"
  skips "s" axis.drive.polarity = reversed
"""
    when = "when axis.drive.polarity is normal"
    report = tested("axis.drive.node <= limit", examples, when=when, lets="let limit = 5")
    assert report.faults == ()


def test_a_fact_within_a_given_record_changes_that_record_in_one_example(tested: Run) -> None:
    examples = """given axis.motor.brake = {release_time: "60 ms", voltage: "24 V"}
  passes "p" axis.motor.brake.voltage = "48 V" expect axis.motor.brake.release_time = 60ms
  fails "f"
  undecided "u" axis.motor.brake.voltage = missing needs axis.motor.brake.voltage
  undecided "v" axis.motor.brake = missing
"""
    assert tested("axis.motor.brake.voltage > 24V", examples).faults == ()


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


def test_two_requirements_are_told_apart_by_their_own_lines(tested: Run) -> None:
    report = tested(
        "axis.drive.node <= 5 require axis.drive.polarity is normal",
        'passes "p" axis.drive.node = 5 axis.drive.polarity = normal '
        'fails "f" axis.drive.node = 6 axis.drive.polarity = reversed',
    )
    whats = {each.what for each in alterations(report)}
    assert "leave out `axis.drive.node <= 5`" in whats
    assert "leave out `axis.drive.polarity is normal`" in whats
    assert "join `axis.drive.polarity is normal` by `or` to the requirement before" in whats


def test_a_fact_below_a_part_that_an_example_states_to_be_none_can_be_tried() -> None:
    """An example with `brake = none` gets a brake where a proposal states something of it."""
    rule = shipped().examples["brake-voltage-fits"][0]
    none = replace(rule, facts=(Assignment("axis.motor", {"brake": "none"}, NOWHERE, NOWHERE),))
    made = with_value(none, ("axis", "motor", "brake", "voltage"), "24 V")
    assert [(fact.path, fact.value) for fact in made.facts] == [
        ("axis.motor", {"brake": {"voltage": "24 V"}})
    ]
