"""The text report: undecided checks, by the facts that would decide them."""

from __future__ import annotations

from dataclasses import replace

from axisproof.findings.finding import (
    DecidingFact,
    Tally,
    Undecided,
)

from tests.report.report_samples import CLEAN, FULL, SPEED
from tests.report.text_helpers import folded, shown, undecided


def test_undecided_checks_come_with_the_facts_that_would_decide_most() -> None:
    wanted = DecidingFact("axes.infeed.motor.max_speed", 4, 2, ("infeed", ""))
    report = replace(FULL, deciding_facts=(wanted,))
    text = folded(shown(report, detail=True))
    assert "Cannot be decided: 1 check" in text
    assert "bears on 4 checks, 2 of them without any other data, on infeed, the machine" in text
    assert f"speed-through-gearing, hall · infeed {SPEED.reason}" in text


def test_undecided_checks_are_told_by_the_data_they_need_the_gravest_and_nearest_first() -> None:
    checks = (
        undecided("note-rule", "note", "infeed", "a"),
        undecided("far-rule", "error", "infeed", "b", "c", "d"),
        undecided("near-rule", "error", "infeed", "e", "f"),
        undecided("shared-rule", "warning", "infeed", "g"),
        undecided("shared-rule", "warning", "outfeed", "g"),
        undecided("other-rule", "error", "outfeed", "e", reason="two sources disagree"),
    )
    lines = shown(replace(FULL, undecided=checks), width=100).splitlines()
    at = lines.index("6 checks of 5 rules need this data")
    assert lines[at + 2 : at + 7] == [
        "  outfeed: e (two sources disagree), for 1 check (1 of level error).",
        "  infeed: e, f, for 1 check (1 of level error).",
        "  infeed: b, c, d, for 1 check (1 of level error).",
        "  infeed, outfeed: g, for 2 checks (2 of level warning).",
        "  infeed: a, for 1 check (1 of level note).",
    ]


def test_checks_that_need_other_data_than_what_is_listed_are_counted() -> None:
    checks = tuple(
        undecided(f"rule-{number}", "error", "infeed", f"fact{number}") for number in range(30)
    )
    text = folded(shown(replace(FULL, undecided=checks)))
    assert "30 checks of 30 rules need this data" in text
    assert "24 more checks need other data. --detail lists every check." in text
    whole = folded(shown(replace(FULL, undecided=checks), detail=True))
    assert all(check.rule in whole for check in checks)


def test_a_reason_that_says_more_than_the_missing_facts_is_shown_with_them() -> None:
    check = replace(SPEED, missing=("a.b", "a.c"), reason="two sources disagree")
    report = replace(FULL, undecided=(check,))
    assert "a.b, a.c (two sources disagree), for 1 check" in folded(shown(report))
    text = folded(shown(report, detail=True))
    assert "needs a.b, a.c (two sources disagree)" in text


def test_a_check_undecided_for_another_cause_gives_that_cause() -> None:
    check = replace(SPEED, missing=(), reason="cycle is zero, and something is divided by it")
    assert check.reason in folded(shown(replace(FULL, undecided=(check,))))


def test_many_undecided_checks_are_grouped_by_what_they_lack() -> None:
    checks = tuple(
        Undecided(rule, "error", "hall", axis, "t", (f"axes.{axis}.motor.max_speed",), "")
        for axis in (f"axis{number}" for number in range(20))
        for rule in ("first-rule", "second-rule")
    )
    text = shown(replace(FULL, undecided=checks), detail=True)
    assert text.count("axis.motor.max_speed") == 1
    assert "first-rule on axis0, axis1" in text
    assert "and 12 more" in folded(text)
    assert "40 checks cannot be decided" in folded(text)


def test_in_detail_every_group_is_listed() -> None:
    checks = tuple(
        Undecided(f"rule-{number}-{check}", "error", "hall", "feed", "t", (f"fact{number}",), "")
        for number in range(30)
        for check in range(2 if number >= 20 else 1)
    )
    report = replace(FULL, undecided=checks)
    for whole in (shown(report, detail=True), shown(report, workings=True)):
        assert all(f"{check.rule} on feed" in folded(whole) for check in checks)


def test_grouped_checks_keep_their_reason_and_tell_machines_apart() -> None:
    checks = tuple(
        replace(
            SPEED,
            rule=f"rule-{number}",
            machine=machine,
            missing=("axes.infeed.a",),
            reason="two sources disagree",
        )
        for machine in ("hall", "annex")
        for number in range(10)
    )
    text = folded(shown(replace(FULL, undecided=checks), detail=True))
    assert text.count("needs axis.a (two sources disagree)") == 1
    for number in range(10):
        assert f"rule-{number} on hall · infeed, annex · infeed" in text


def test_nothing_sounds_well_while_checks_are_undecided() -> None:
    text = shown(replace(CLEAN, undecided=(SPEED,)))
    assert "Each check that could be decided passed. 1 check cannot be decided" in folded(text)
    assert "Every check" not in text


def test_a_clean_report_claims_no_more_than_it_checked() -> None:
    text = folded(shown(CLEAN))
    assert "Every check that applied passed" in text
    assert "This does not show that the machine is set like that, or that it is safe." in text


def test_a_report_in_which_nothing_applied_claims_nothing() -> None:
    report = replace(CLEAN, tallies=(Tally("hall", "infeed", 0, 0, 0, 15),))
    assert "No check applied, so nothing is shown." in folded(shown(report))


def test_changed_settings_are_listed_with_their_reason() -> None:
    text = folded(shown(FULL))
    assert "range_margin = 20 % hall · infeed: Retuned every spring." in text


def test_every_outcome_gives_its_reason() -> None:
    lines = shown(FULL).splitlines()
    assert "  passed             home-method-fits" in lines
    assert "  does not apply     rollover-divides-cycle: no modulo axis" in lines
