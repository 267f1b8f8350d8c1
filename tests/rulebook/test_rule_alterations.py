"""The examples of a rule must tell the rule from every small change to it."""

from __future__ import annotations

from pathlib import Path

import pytest
from axisproof.catalogue.catalogue import parse_texts
from axisproof.findings.rule_info import Alteration, RuleTestReport
from axisproof.language.rule_file import RuleFile
from axisproof.rulebook.alterations import alteration
from axisproof.rulebook.mutants import mutants_of
from axisproof.rulebook.rule_tests import run_rule_tests

from tests.rulebook.tested_rules import BOUNDARY, Run, place, text_of


def alterations(report: RuleTestReport) -> list[Alteration]:
    """What no example notices."""
    return [altered for each in report.unnoticed for altered in each.alterations]


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
