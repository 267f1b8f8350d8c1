"""Errors, rules, facts and tests of rules as texts."""

from __future__ import annotations

from dataclasses import replace

from axisproof.api import list_rules
from axisproof.base.errors import InputError, Place, RuleError
from axisproof.findings.finding import (
    Caution,
)
from axisproof.findings.rule_info import (
    ExampleInfo,
    FactInfo,
    RuleFault,
    RuleInfo,
    RuleTestReport,
    SettingInfo,
)
from axisproof.report.error_text import render_error
from axisproof.report.rule_text import (
    render_concerns,
    render_facts,
    render_rule,
    render_rule_test,
    render_rules,
)

from tests.report.report_samples import ROLLOVER
from tests.report.text_helpers import PLAIN, folded

# Errors and rules


def test_an_error_says_what_where_the_line_and_what_was_expected() -> None:
    error = InputError(
        'lead is "12 mn", and mn is no unit',
        expected="a length such as 12 mm",
        place=Place("hall.yaml", 4, 13, 4, 18),
        source_line="      lead: 12 mn",
    )
    assert render_error(error, PLAIN).splitlines() == [
        'Unusable input: lead is "12 mn", and mn is no unit',
        "  in hall.yaml:4:13",
        "      │ lead: 12 mn",
        "              ├───┤",
        "  expected: a length such as 12 mm",
    ]
    assert render_error(RuleError("it has no examples"), PLAIN) == (
        "Unusable rule: it has no examples\n"
    )


RULE = RuleInfo(
    name="brake-on-vertical-axis",
    title="A vertical axis has a brake",
    level="error",
    subject="axis",
    basis="common practice, no source",
    text="rule brake-on-vertical-axis\n  level error\n    require x\n",
    why="Without one the load drops.",
    remedy="Fit a motor with a brake.",
    condition="axis.mechanics.moved_by_gravity",
    requirement="axis.motor.brake is present",
    settings=(SettingInfo("brake_margin", "1.5", "torque to hold, times", "site"),),
    examples=(
        ExampleInfo("passes", "with brake", "{\n    vertical: true\n      brake: {}\n  }"),
        ExampleInfo("fails", "", "vertical: true"),
    ),
    file="rules/brake.rules",
    line=3,
)


def test_a_rule_is_explained_with_settings_and_examples() -> None:
    text = render_rule(RULE, PLAIN)
    lines = text.splitlines()
    for line in (
        "brake-on-vertical-axis",
        "Requires  A vertical axis has a brake",
        "Level     error",
        "Looks at  each axis",
        "Why       Without one the load drops.",
        "Basis     common practice, no source",
        "  brake_margin, default 1.5",
        "Examples that hold",
        "  with brake",
        "Examples that break it",
        "    vertical: true",
    ):
        assert line in lines
    assert "require x" not in text
    assert "axis.motor.brake" not in text
    for line in (
        "When      axis.mechanics.moved_by_gravity",
        "Formula   axis.motor.brake is present",
    ):
        assert line in render_rule(RULE, PLAIN, source=True).splitlines()
    assert "      require x" in render_rule(RULE, PLAIN, source=True).splitlines()


def test_the_numbers_of_a_rule_that_is_explained_are_those_of_its_example() -> None:
    caution = Caution("lock-out", "Lock it.")
    found = replace(ROLLOVER, headline="It wraps too late.", cautions=(caution,))
    rule = replace(RULE, remedy="Set (best count).", example="with 7 to 1", finding=found)
    text = folded(render_rule(rule, PLAIN))
    assert (
        f"Example with 7 to 1 Says It wraps too late. Caution Lock it. Remedy {ROLLOVER.remedy}"
        in text
    )
    assert "best count" not in text


def test_rules_are_listed_by_concern_in_a_table_with_level_and_title() -> None:
    gear = replace(RULE, name="gear-exact", level="note", concern="gearing", title="word " * 20)
    lines = render_rules((gear, replace(RULE, concern="brake")), PLAIN).splitlines()
    assert lines[:4] == [
        "brake (1 rule)",
        "──────────────",
        "error    brake-on-vertical-axis  A vertical axis has a brake",
        "",
    ]
    assert lines[6].startswith("note     gear-exact              word word")
    assert lines[7].startswith(" " * 33 + "word")
    assert lines[-1] == "2 rules of 2 concerns"
    assert "of 1 concern" not in render_rules((RULE,), PLAIN)


def test_concerns_are_a_table_of_a_line_each() -> None:
    gear = replace(RULE, name="gear-exact", level="note", concern="gearing", title="word " * 20)
    lines = render_concerns((gear, replace(RULE, concern="brake")), PLAIN).splitlines()
    assert lines[:4] == [
        "2 rules of 2 concerns.",
        "",
        "Concern  errors  warnings  notes  the first one requires",
        "brake         1         -      -  A vertical axis has a brake",
    ]
    assert lines[4].startswith("gearing       -         -      1  word word")
    assert lines[4].endswith("…")
    assert '`axisproof rules list "CONCERN"`' in lines[6]
    shipped_rules = render_concerns(list_rules(), PLAIN)
    concerns = {rule.concern for rule in list_rules()}
    assert len(shipped_rules.splitlines()) == len(concerns) + 5
    assert max(map(len, shipped_rules.splitlines())) <= PLAIN.width


def test_a_fact_is_explained_with_what_it_takes_and_the_rules_that_look_at_it() -> None:
    fact = FactInfo("drive.node", "a whole number", "Where the drive answers.", ("a-rule",), "")
    word = replace(fact, rules=(), word="from_reference")
    assert render_facts((fact, word), PLAIN).splitlines() == [
        "drive.node",
        "──────────",
        "Means     Where the drive answers.",
        "Takes     a whole number",
        "Rules     a-rule",
        "",
        "drive.node: from reference",
        "──────────────────────────",
        "Means     Where the drive answers.",
        "Takes     a whole number",
        "Rules     no rule looks at it alone",
    ]


def test_a_rule_test_shows_each_fault_where_it_is() -> None:
    fault = RuleFault(
        "some-rule", "the example holds", Place("a.rules", 2, 3, 2, 8), "  fails", "b"
    )
    report = RuleTestReport(1, 2, 30, 29, (fault,))
    assert render_rule_test(report, PLAIN).splitlines() == [
        "1 rule, 2 examples: 1 fault in them.",
        "30 altered rules tried: no example notices 1 of them.",
        "",
        "some-rule",
        "  the example holds",
        "  in a.rules:2:3",
        "      │ fails",
        "        ├───┤",
        "  expected: b",
    ]
