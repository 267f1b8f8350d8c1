"""A part of a report shows what was asked for, and counts what it leaves out."""

from __future__ import annotations

import datetime
from dataclasses import replace
from pathlib import Path

import pytest
from axisproof import api
from axisproof.api import CheckOptions
from axisproof.base.errors import UsageError
from axisproof.findings.finding import Report, UndecidedConcern, WaivedBy

DEMO = Path(__file__).parents[2] / "fixtures" / "demo"


@pytest.fixture(scope="module")
def report() -> Report:
    return api.check([DEMO], CheckOptions(on=datetime.date(2026, 6, 1), every_outcome=True))


def test_a_concern_stands_for_all_its_rules(report: Report) -> None:
    part = api.narrowed(report, ["gearing"])
    assert [finding.rule for finding in part.findings] == ["drive-gear-exact"]
    assert part.narrowed is not None
    assert part.narrowed.levels == {"error": 4}
    assert part.narrowed.undecided == len(report.undecided) - len(part.undecided) > 0
    assert part.outcomes == ()


def test_the_checks_of_selected_rules_are_counted_on_each_axis(report: Report) -> None:
    part = api.narrowed(report, ["drive-gear-exact"], outcomes=True)
    assert {outcome.rule for outcome in part.outcomes} == {"drive-gear-exact"}
    counted = {tally.subject: (tally.broken, tally.not_applicable) for tally in part.tallies}
    assert counted["crate_shift"] == (1, 0)
    assert counted["infeed_pusher"] == (0, 1)
    assert part.levels == {"error": 1}


def test_an_axis_has_its_findings_and_those_that_rest_on_its_facts(report: Report) -> None:
    part = api.narrowed(report, axes=["lift"])
    assert {finding.subject for finding in part.findings} == {"lift"}
    assert {tally.subject for tally in part.tallies} == {"lift"}
    assert part.deciding_facts == report.deciding_facts
    of_pair = replace(part.findings[0], subject="crate_shift", rule="of-a-pair")
    both = api.narrowed(replace(report, findings=(of_pair,)), axes=["lift"])
    assert [finding.rule for finding in both.findings] == ["of-a-pair"]


def test_what_was_shown_and_what_was_left_out_are_the_whole(report: Report) -> None:
    for select, axes in ((["homing", "brake"], []), ([], ["lift"]), (["gearing"], ["crate_shift"])):
        part = api.narrowed(report, select, axes)
        assert part.narrowed is not None
        assert len(part.findings) + sum(part.narrowed.levels.values()) == len(report.findings)
        assert len(part.undecided) + part.narrowed.undecided == len(report.undecided)


def test_a_waived_finding_that_is_left_out_does_not_count(report: Report) -> None:
    waived = tuple(replace(each, waived=WaivedBy("for now")) for each in report.findings)
    part = api.narrowed(replace(report, findings=waived), ["brake"])
    assert part.narrowed is not None
    assert part.narrowed.levels == {}


def test_a_concern_of_which_nothing_is_known_is_shown_whatever_is_selected(report: Report) -> None:
    open_ = UndecidedConcern(report.machines[0], "lift", "homing", 3)
    part = api.narrowed(replace(report, undecided_concerns=(open_,)), ["gearing"])
    assert part.undecided_concerns == (open_,)
    other = api.narrowed(replace(report, undecided_concerns=(open_,)), axes=["crate_shift"])
    assert other.narrowed is not None
    assert (other.undecided_concerns, other.narrowed.undecided_concerns) == ((), 1)


@pytest.mark.parametrize(
    ("select", "axes", "what", "hint"),
    [
        (["gaering"], [], "there is no rule or concern gaering", "gearing"),
        (["zzzz"], [], "there is no rule or concern", "rules list"),
        ([], ["lfit"], "there is no axis lfit", "lift"),
    ],
)
def test_a_name_that_nothing_has_is_refused(
    report: Report, select: list[str], axes: list[str], what: str, hint: str
) -> None:
    with pytest.raises(UsageError, match=what) as caught:
        api.narrowed(report, select, axes)
    assert hint in str(caught.value.expected)
