"""The text report: findings, the table of axes, and what a short report leaves out."""

from __future__ import annotations

from dataclasses import replace

import pytest
from axisproof.catalogue.catalogue import shipped
from axisproof.catalogue.describing import concern_of
from axisproof.findings.finding import (
    Caution,
    Report,
    Tally,
    WaivedBy,
)
from axisproof.report.finding_text import finding_lines
from axisproof.report.rendering import CAUTION, RenderOptions
from axisproof.report.summary_table import _CAUSES, BASIC, cause_rank

from tests.report.report_samples import CLEAN, FULL, NODES, ROLLOVER, WEAKENED, mark
from tests.report.text_helpers import folded, shown


def with_finding(**changes: object) -> Report:
    return replace(FULL, findings=(replace(ROLLOVER, **changes),))  # type: ignore[arg-type]


def test_in_detail_a_finding_shows_level_rule_subject_message_why_remedy_and_basis() -> None:
    text = shown(with_finding(headline="It wraps too late."), detail=True)
    for line in (
        "turntable " + "─" * 70,
        "ERROR     It wraps too late.",
        "Rule      rollover-divides-cycle",
        "Required  The turn counter wraps on a whole number of machine cycles",
        "Basis     computed",
    ):
        assert line in text.splitlines()
    for part in (ROLLOVER.message, f"Why {ROLLOVER.why}", f"Remedy {ROLLOVER.remedy}"):
        assert part in folded(text)


def test_a_finding_is_short_unless_all_of_it_is_asked_for() -> None:
    lines = shown(with_finding(headline="It wraps too late."), width=100).splitlines()
    at = lines.index("ERROR     It wraps too late.")
    assert lines[at + 1 : at + 7] == [
        "at        hall.yaml:41:34",
        "            │ distinguishable_revolutions: 65536 # new",
        "                                           ├───┤ turn states",
        "          hall.yaml:77:12  one cycle of the table 360 deg",
        f"Remedy    {ROLLOVER.remedy}",
        "Rule      rollover-divides-cycle",
    ]
    for left_out in (ROLLOVER.why, ROLLOVER.title, "Figures", "Basis"):
        assert left_out not in folded("\n".join(lines))


def test_without_a_headline_the_first_sentence_stands_there_and_is_cut_at_two_lines() -> None:
    first = "the table " + "turns " * 60 + "on"
    lines = shown(with_finding(message=f"{first}. And more."), width=100).splitlines()
    at = next(number for number, line in enumerate(lines) if line.startswith("ERROR"))
    assert lines[at].startswith("ERROR     The table turns")
    assert lines[at + 1].endswith("…")
    assert lines[at + 2].startswith("at ")
    assert first.replace("the", "The", 1) in folded(
        shown(with_finding(message=f"{first}. And more."), detail=True)
    )


@pytest.mark.parametrize("width", [100, 120])
@pytest.mark.parametrize("remedy", [1, 3, 6])
def test_a_short_finding_has_at_most_twelve_lines_and_counts_the_places_left_out(
    width: int, remedy: int
) -> None:
    places = tuple(
        mark(f"    fact_{number}: 12 mm", "12 mm", f"mechanics.fact_{number}", line=number)
        for number in range(1, 7)
    )
    words = " ".join(["Set the value and home."] * 3 * remedy)
    finding = replace(ROLLOVER, headline="It is wrong. " * 9, marks=places, remedy=words)
    lines = finding_lines(finding, RenderOptions(width=width))
    assert len(lines) <= 12
    assert words in folded("\n".join(lines))
    told = [number for number in range(1, 7) if f"hall.yaml:{number}:" in "\n".join(lines)]
    left_out = 6 - len(told)
    assert told[0] == 1
    assert ("not shown" in "\n".join(lines)) == (left_out > 0)
    if left_out:
        assert f"({left_out} more place" in "\n".join(lines)


def test_the_fact_of_another_place_loses_the_start_of_its_path_before_its_value() -> None:
    name = "mechanics.stages[0].motor_turns_per_load_turn"
    other = mark("  motor_turns_per_load_turn: 7.25 # plate", "7.25", name, file="f" * 40)
    finding = replace(ROLLOVER, marks=(ROLLOVER.marks[0], other))
    text = "\n".join(finding_lines(finding, RenderOptions(width=92)))
    assert f"{'f' * 40}:41:30  ….motor_turns_per_load_turn 7.25" in text


def test_a_caution_that_the_top_does_not_cover_stands_before_the_remedy() -> None:
    cautions = (Caution("lock-out", "Lock it."), Caution("lift-off", "Lift the product off."))
    for detail in (False, True):
        text = shown(with_finding(cautions=cautions), detail=detail)
        assert text.index("Caution   Lift the product off.") < text.index("\nRemedy ")
        assert "Lock it." not in text


def test_a_waived_finding_says_so_and_does_not_count_as_failed() -> None:
    waived = WaivedBy("Until the new gearbox comes.", "plant engineer", "2026-09-01")
    text = shown(with_finding(waived=waived))
    assert "Until the new gearbox comes." in folded(text)
    rows = [line.split() for line in text.splitlines()]
    head = next(row for row in rows if row[:1] == ["Axis"])
    assert head == "Axis failed warnings waived cannot be decided passed".split()
    assert ["turntable", "-", "-", "1", "-", "12"] in rows


def test_the_marker_stands_under_the_value_with_its_label() -> None:
    lines = shown(FULL, detail=True).splitlines()
    at = lines.index("at        hall.yaml:41:34")
    assert lines[at + 1] == "            │ distinguishable_revolutions: 65536 # new"
    assert lines[at + 2] == "                                           ├───┤ turn states"
    second = lines.index("and at    hall.yaml:77:12")
    assert lines[second + 1 : second + 3] == [
        "            │ cycle: 360 deg",
        "                     ├─────┤ one cycle of the table",
    ]


def test_figures_stand_under_each_other() -> None:
    lines = shown(FULL, detail=True).splitlines()
    at = lines.index("Figures   cycles  9362.28… (65536/7)")
    assert lines[at + 1 : at + 3] == ["          radius  ≈ 12.5 mm", "          state   referenced"]


def test_workings_are_written_by_hand_and_only_when_asked_for() -> None:
    assert "Workings" not in shown(FULL)
    lines = shown(FULL, workings=True).splitlines()
    at = lines.index("Workings  travel per encoder revolution:")
    assert lines[at + 1 : at + 7] == [
        "            u      = F / i",
        "                   = 360 deg / 7",
        "                   = 51.4285… deg (360/7)",
        "            cycles = N * u / C",
        "                   = 65536 * (360/7 deg) / 360 deg",
        "                   = 9362.28… (65536/7)",
    ]


def test_a_working_does_not_repeat_itself() -> None:
    step = replace(ROLLOVER.workings[0], filled="360 deg", result="360 deg", meaning="")
    text = shown(with_finding(workings=(step,)), workings=True)
    assert text.count("= 360 deg\n") == 1


def test_an_offered_value_says_whether_someone_must_go_to_the_machine() -> None:
    assert "not to be applied without the work the remedy describes" in folded(
        shown(FULL, detail=True)
    )
    assert ROLLOVER.fix is not None
    safe = with_finding(fix=replace(ROLLOVER.fix, safe=True))
    assert "nobody has to go to the machine" in folded(shown(safe, detail=True))
    assert "= 65534 (line 41 of hall.yaml)" in folded(shown(safe, detail=True))
    assert "`axisproof fix` writes 65534." in folded(shown(safe))
    assert "axisproof fix" not in shown(FULL)


def test_findings_come_from_the_worst_axis_on_and_on_an_axis_by_level_then_cause() -> None:
    note = replace(ROLLOVER, level="note", rule="a-note", concern="brake")
    cause = replace(ROLLOVER, rule="z-gear", concern="gearing")
    follows = replace(ROLLOVER, rule="a-site-rule", concern="of a site")
    turns = replace(ROLLOVER, concern="turn counter")
    other = replace(ROLLOVER, machine="annex", rule="annexed")
    infeed = replace(ROLLOVER, subject="infeed", rule="infeed-rule")
    report = replace(
        FULL,
        machines=("annex", "hall"),
        findings=(other, infeed, note, NODES, follows, turns, cause),
    )
    text = shown(report)
    order = [
        "z-gear",
        "rollover-divides-cycle",
        "a-site-rule",
        "a-note",
        "infeed-rule",
        "node-address-unique",
        "annexed",
    ]
    places = [text.index(f"Rule      {rule}") for rule in order]
    assert places == sorted(places)
    assert text.index("\nhall · turntable ─") < text.index("\nannex · turntable ─")


def test_the_caution_stands_once_above_the_findings_and_only_with_findings() -> None:
    for detail in (False, True):
        text = shown(FULL, detail=detail)
        assert folded(text).count(CAUTION) == 1
        assert text.index(CAUTION[:30]) < text.index("Axis ") < text.index("ERROR")
    assert "lock it out" not in shown(CLEAN)


def test_the_table_counts_each_axis_and_all_and_has_the_worst_first() -> None:
    rows = [line.split() for line in shown(FULL).splitlines()]
    at = rows.index("Axis failed warnings cannot be decided passed".split())
    assert rows[at + 1 : at + 5] == [
        ["turntable", "1", "-", "-", "12"],
        ["(whole", "machine)", "-", "1", "-", "-"],
        ["infeed", "-", "-", "1", "11"],
        ["all", "1", "1", "1", "23"],
    ]


def test_what_does_not_apply_is_counted_in_detail() -> None:
    rows = [line.split() for line in shown(FULL, detail=True).splitlines()]
    assert ["infeed", "-", "-", "1", "11", "3"] in rows
    assert ["all", "1", "1", "1", "23", "5"] in rows


def test_a_thousand_sound_axes_share_one_row_and_the_odd_one_keeps_its_own() -> None:
    tallies = [Tally("hall", f"axis{number}", 5, 0, 0, 1) for number in range(1000)]
    tallies[900] = Tally("hall", "axis900", 4, 0, 1, 1)
    rows = [line.split() for line in shown(replace(CLEAN, tallies=tuple(tallies))).splitlines()]
    assert ["axis900", "-", "-", "1", "4"] in rows
    assert ["999", "other", "axes", "-", "-", "-", "4995"] in rows
    assert ["all", "-", "-", "1", "4999"] in rows
    assert len(rows) < 20


def test_a_long_table_keeps_every_axis_with_a_finding_and_counts_the_others() -> None:
    tallies = [Tally("hall", f"axis{number}", 5, 0, 2, 1) for number in range(100)]
    findings = tuple(replace(ROLLOVER, subject=f"axis{number}") for number in range(0, 60, 2))
    report = replace(CLEAN, tallies=tuple(tallies), findings=findings)
    rows = [line.split() for line in shown(report).splitlines()]
    for number in range(0, 60, 2):
        assert [f"axis{number}", "1", "-", "2", "5"] in rows
    assert ["60", "other", "axes", "-", "-", "120", "300"] in rows
    assert ["all", "30", "-", "200", "500"] in rows


def test_a_quiet_report_counts_what_imports_do_not_take() -> None:
    report = replace(CLEAN, left_out=WEAKENED.left_out)
    assert "Not taken from exports: 1 value." in shown(report, quiet=True)
    assert shown(CLEAN, quiet=True) == ""


def test_a_quiet_report_gives_the_reason_of_each_rule_that_is_switched_off_or_lowered() -> None:
    report = replace(CLEAN, level_changes=WEAKENED.level_changes)
    told = " ".join(shown(report, quiet=True).split())
    assert WEAKENED.level_changes
    for change in WEAKENED.level_changes:
        assert change.rule in told
        assert change.reason in told


def test_what_others_are_worked_out_from_stands_after_what_can_hurt_and_before_the_rest() -> None:
    rules = shipped().rules
    assert set(BASIC) <= set(rules)

    def place(rule: str, concern: str) -> int:
        return cause_rank(replace(ROLLOVER, rule=rule, concern=concern))

    for hurts in _CAUSES[: _CAUSES.index("statements")]:
        assert place("any", hurts) < place(BASIC[0], "bookkeeping")
    basic = [place(rule, concern_of(rules[rule].file)) for rule in BASIC]
    assert basic == sorted(set(basic))
    rest = [
        place("any", each) for each in (*_CAUSES[_CAUSES.index("statements") :], "a site's own")
    ]
    assert basic[-1] < rest[0]
    assert rest == sorted(set(rest))
