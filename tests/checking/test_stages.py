"""A rule that warns before it is due: its two stages, and what covers each of them."""

from __future__ import annotations

import datetime
import json
from dataclasses import replace
from pathlib import Path

import pytest
from axisproof import api
from axisproof.base.errors import RuleError
from axisproof.findings.finding import Report
from axisproof.language.stages import DUE, EARLY
from axisproof.report.formats import renderer
from axisproof.report.rendering import RenderOptions
from axisproof.rulebook.rule_tests import run_rule_tests

RULE = """language 2
setting battery_age default 18months meaning "m" basis "b"
rule battery-changed-in-time
  level {level} title "Each battery is changed in time" each axis
  let last_day = axis.encoder.turn_counter.battery.fitted_on + battery_age
  require machine.check_date <= last_day
  warn unless machine.check_date <= last_day - {before} saying "It is due on {{last_day}}."
  say "It was due on {{last_day}}." why "w" remedy "r" basis "b"
  given axis.encoder.turn_counter.battery.fitted_on = 2024-08-31
  passes "p" machine.check_date = 2025-12-30
  warns "w" machine.check_date = 2025-12-31 says "It is due on 2026-02-28"
  warns "x" machine.check_date = 2026-02-28
  fails "f" machine.check_date = 2026-03-01 says "It was due on 2026-02-28"
"""

MACHINE = """format: 1
machine: hall
axes:
  lift:
    motion: linear
    encoder: {turn_counter: {battery: {fitted_on: 2024-08-31}}}
"""

WAIVER = """waivers: 1
entries:
- rule: battery-changed-in-time
  machine: hall
  axis: lift
  reason: r
  approved_by: lead
  expires: 2027-01-01
  values: {{encoder.turn_counter.battery.fitted_on: 2024-08-31}}
{stage}"""

EARLY_DAY, DUE_DAY = datetime.date(2026, 1, 15), datetime.date(2026, 3, 1)


class Hall:
    """A machine with a site rule of two stages."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.rules = folder / "site.rules"
        self.rules.write_text(RULE.format(level="error", before="60d"), "utf-8")
        self.machine = folder / "hall.yaml"
        self.machine.write_text(MACHINE, "utf-8")

    def report(self, day: datetime.date, **files: str) -> Report:
        paths = {}
        for name, text in files.items():
            paths[name] = self.folder / f"{name}.yaml"
            paths[name].write_text(text, "utf-8")
        options = api.CheckOptions(rules=[self.rules], on=day, **paths)
        return api.check([self.machine], options)

    def findings(self, day: datetime.date, **files: str) -> list[tuple[str, str, str, bool]]:
        return [
            (each.rule, each.level, each.stage, each.waived is not None)
            for each in self.report(day, **files).findings
            if each.rule.startswith(("battery-changed", "waiver"))
        ]


@pytest.fixture
def hall(tmp_path: Path) -> Hall:
    return Hall(tmp_path)


NAME = "battery-changed-in-time"


def test_a_rule_warns_one_level_lower_and_in_its_own_words_until_it_is_due(hall: Hall) -> None:
    assert hall.findings(datetime.date(2025, 12, 30)) == []
    assert hall.findings(EARLY_DAY) == [(NAME, "warning", EARLY, False)]
    assert hall.findings(DUE_DAY) == [(NAME, "error", DUE, False)]
    for day, message in ((EARLY_DAY, "It is due on"), (DUE_DAY, "It was due on")):
        (finding,) = (each for each in hall.report(day).findings if each.rule == NAME)
        assert finding.message == f"{message} 2026-02-28."


@pytest.mark.parametrize("form", ["text", "json", "sarif", "junit", "markdown", "html"])
def test_the_day_of_the_check_stands_in_every_form_of_the_report(hall: Hall, form: str) -> None:
    report = hall.report(datetime.date(2026, 1, 15))
    assert report.day == "2026-01-15"
    told, untold = (
        renderer(form)(each, RenderOptions(width=200)).replace("\\-", "-").count("2026-01-15")
        for each in (report, replace(report, day=""))
    )
    assert told == untold + 1


def test_a_site_lowers_both_stages(hall: Hall) -> None:
    site = f"levels: {{{NAME}: {{level: warning, reason: r}}}}"
    assert hall.findings(EARLY_DAY, settings=site) == [(NAME, "note", EARLY, False)]
    assert hall.findings(DUE_DAY, settings=site) == [(NAME, "warning", DUE, False)]


def test_a_waiver_covers_the_early_stage_and_lapses_when_the_rule_is_due(hall: Hall) -> None:
    waiver = WAIVER.format(stage="")
    assert hall.findings(EARLY_DAY, waivers=waiver) == [(NAME, "warning", EARLY, True)]
    assert hall.findings(DUE_DAY, waivers=waiver) == [
        (NAME, "error", DUE, False),
        ("waiver-lapsed", "warning", "", False),
    ]


def test_a_waiver_of_what_is_due_covers_that_stage_alone(hall: Hall) -> None:
    waiver = WAIVER.format(stage="  stage: due\n")
    assert hall.findings(DUE_DAY, waivers=waiver) == [(NAME, "error", DUE, True)]
    early = hall.findings(EARLY_DAY, waivers=waiver)
    assert early[0] == (NAME, "warning", EARLY, False)


def test_an_accepted_finding_is_no_longer_accepted_when_it_is_due(hall: Hall) -> None:
    text = api.accepted_text(hall.report(EARLY_DAY), EARLY_DAY)
    assert [each["stage"] for each in json.loads(text)["findings"] if "stage" in each] == [EARLY]
    assert hall.findings(EARLY_DAY, accepted=text) == [(NAME, "warning", EARLY, True)]
    assert hall.findings(DUE_DAY, accepted=text) == [(NAME, "error", DUE, False)]
    gone = hall.report(DUE_DAY, accepted=text).accepted_gone
    assert [(each.rule, each.stage) for each in gone] == [(NAME, EARLY)]
    due = api.accepted_text(hall.report(DUE_DAY), DUE_DAY)
    assert hall.findings(DUE_DAY, accepted=due) == [(NAME, "error", DUE, True)]


def test_a_fact_that_decides_whether_it_is_due_leaves_both_stages_undecided(hall: Hall) -> None:
    hall.machine.write_text(MACHINE.replace("fitted_on: 2024-08-31", "places: [drive]"), "utf-8")
    assert hall.findings(DUE_DAY) == []
    assert NAME in [each.rule for each in hall.report(DUE_DAY).undecided]


def test_examples_tell_the_stages_apart_and_notice_every_alteration(hall: Hall) -> None:
    assert run_rule_tests([hall.rules]).clean
    text = hall.rules.read_text("utf-8")
    hall.rules.write_text(text.replace('warns "w"', 'fails "w"'), "utf-8")
    (fault,) = run_rule_tests([hall.rules]).faults
    assert fault.what == (
        'fails "w": the rule warns, by axis.encoder.turn_counter.battery.fitted_on = 2024-08-31'
    )
    hall.rules.write_text(text.replace("2025-12-30", "2025-12-01"), "utf-8")
    missed = run_rule_tests([hall.rules])
    assert not missed.clean
    assert all(each.example for each in missed.unnoticed)


@pytest.mark.parametrize(
    ("old", "new", "what"),
    [
        ("level error", "level note", "is a note, and nothing is lower"),
        ('warns "w"', "#", "has no example that warns"),
        ("warn unless", "#", "never warns"),
    ],
)
def test_a_stage_that_cannot_be_is_refused(hall: Hall, old: str, new: str, what: str) -> None:
    text = hall.rules.read_text("utf-8")
    if old.startswith("warns"):
        text = "\n".join(line for line in text.split("\n") if "warns" not in line)
    elif old.startswith("warn "):
        text = "\n".join(line for line in text.split("\n") if "warn unless" not in line)
    hall.rules.write_text(text.replace(old, new), "utf-8")
    with pytest.raises(RuleError, match=what):
        run_rule_tests([hall.rules])
