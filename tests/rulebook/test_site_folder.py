"""The worked folder of a site: its rules, their examples, its settings and what they find."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest
from axisproof import api
from axisproof.base.package_data import read_text
from axisproof.report.rendering import RenderOptions
from axisproof.report.rule_text import render_rule_test
from axisproof.rulebook.rule_tests import run_rule_tests

SITE = Path(__file__).parents[2] / "fixtures" / "site"
DAY = datetime.date(2026, 2, 15)


def test_the_rules_of_the_site_are_told_by_their_examples() -> None:
    report = run_rule_tests([SITE / "rules"])
    assert report.clean
    assert report.rules >= 5


def found(**options: Path) -> list[tuple[str, str, str]]:
    given = api.CheckOptions(rules=[SITE / "rules"], on=DAY, **options)
    own = {rule.name for rule in api.list_rules([SITE / "rules"])} - {
        rule.name for rule in api.list_rules()
    }
    report = api.check([SITE / "cell.yaml"], given)
    return [(f.rule, f.level, f.subject) for f in report.findings if f.rule in own]


def test_each_rule_of_the_hall_has_a_finding_on_its_cell() -> None:
    assert sorted(each for each in found() if each[0] in HALL) == [
        ("all-axes-count-the-same-turns", "warning", ""),
        ("battery-fitted-long-ago", "error", "lift"),
        ("collision-partners-watch-alike", "warning", ""),
        ("feeds-leave-room-to-catch-up", "warning", "feed_in"),
        ("hanging-axis-waits-for-its-brake", "error", "lift"),
    ]


def test_the_settings_of_the_site_change_what_is_found_and_at_which_level() -> None:
    changed = [each for each in found(settings=SITE / "settings.yaml") if each[0] in HALL]
    assert ("battery-fitted-long-ago", "warning", "lift") in changed
    assert ("all-axes-count-the-same-turns", "note", "") in changed


HALL = {
    "all-axes-count-the-same-turns",
    "battery-fitted-long-ago",
    "collision-partners-watch-alike",
    "feeds-leave-room-to-catch-up",
    "hanging-axis-waits-for-its-brake",
}


def test_the_partner_in_a_collision_is_named() -> None:
    report = api.check([SITE / "cell.yaml"], api.CheckOptions(rules=[SITE / "rules"], on=DAY))
    (clash,) = (f for f in report.findings if f.rule == "collision-partners-watch-alike")
    assert clash.headline.startswith("picker and lift can collide")


TRIAL = sorted((SITE / "trial").iterdir())


@pytest.mark.parametrize("folder", TRIAL, ids=lambda folder: folder.name)
def test_a_rule_of_the_trial_took_two_runs_at_the_most(folder: Path) -> None:
    texts = sorted(folder.glob("*.rules"))
    assert [text.name for text in texts] in (["run-1.rules"], ["run-1.rules", "run-2.rules"])
    assert folder.name not in read_text("axisproof.rules", "reference.md")
    report = run_rule_tests([texts[-1]])
    assert report.clean
    printed = texts[-1].with_suffix(".txt").read_text("utf-8")
    assert printed == render_rule_test(report, RenderOptions())


def test_the_trial_has_five_rules() -> None:
    assert len(TRIAL) == 5
