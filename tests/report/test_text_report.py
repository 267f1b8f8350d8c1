"""The text report: what it says, that it fits, and that inputs cannot write to the terminal."""

from __future__ import annotations

import unicodedata
from dataclasses import replace
from pathlib import Path

import pytest
from axisproof.api import list_rules
from axisproof.base.errors import InputError, Place, RuleError
from axisproof.findings.finding import (
    Caution,
    DecidingFact,
    DerivationStep,
    Report,
    Tally,
    Undecided,
    WaivedBy,
)
from axisproof.findings.rule_info import (
    ExampleInfo,
    FactInfo,
    RuleFault,
    RuleInfo,
    RuleTestReport,
    SettingInfo,
)
from axisproof.numbers.units import UNITS
from axisproof.report.error_text import render_error
from axisproof.report.finding_text import finding_lines
from axisproof.report.layout import (
    columns,
    encodable,
    excerpt,
    marked_source,
    prose,
    visible,
    wrap,
)
from axisproof.report.rendering import CAUTION, RenderOptions
from axisproof.report.rule_text import (
    render_concerns,
    render_facts,
    render_rule,
    render_rule_test,
    render_rules,
)
from axisproof.report.text import render
from hypothesis import given
from hypothesis import strategies as st

from tests.report.report_samples import CLEAN, FULL, NODES, ROLLOVER, SPEED, WEAKENED, mark

PLAIN = RenderOptions()
HOSTILE = "\x1b[2J\x1b]0;owned\x07\u202e\x9b31m\x00\ud800\u2028"


def shown(report: Report, **options: object) -> str:
    return render(report, RenderOptions(**options))  # type: ignore[arg-type]


def folded(text: str) -> str:
    return " ".join(text.split())


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


def test_undecided_checks_come_with_the_facts_that_would_decide_most() -> None:
    wanted = DecidingFact("axes.infeed.motor.max_speed", 4, 2, ("infeed", ""))
    report = replace(FULL, deciding_facts=(wanted,))
    text = folded(shown(report, detail=True))
    assert "Cannot be decided: 1 check" in text
    assert "bears on 4 checks, 2 of them without any other data, on infeed, the machine" in text
    assert f"speed-through-gearing, hall · infeed {SPEED.reason}" in text


def undecided(rule: str, level: str, axis: str, *missing: str, reason: str = "") -> Undecided:
    facts = tuple(f"axes.{axis}.{fact}" for fact in missing)
    return Undecided(rule, level, "hall", axis, "t", facts, reason)  # type: ignore[arg-type]


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


@pytest.mark.parametrize("width", [50, 60, 80, 120])
def test_no_line_is_wider_than_asked_for_unless_one_word_is(width: int) -> None:
    long = "x" * 300
    report = replace(
        FULL,
        findings=(
            replace(
                ROLLOVER,
                rule="rule-" + long,
                message=f"value {long} end",
                marks=(mark(f"{long}: {long}", long, "a label of several words " * 8),),
            ),
            ROLLOVER,
        ),
        undecided=(replace(SPEED, missing=(f"axes.{long}.y",), subject="漢字" * 40),),
        tallies=(*FULL.tallies, Tally("hall", "an axis with a long name " * 4, 1)),
        settings=(("hall", long, long, long, long),),
    )
    lines = shown(report, width=width, workings=True).splitlines()
    wide = [line for line in lines if columns(line) > width]
    assert len(wide) > 5
    for line in wide:
        # A word may stand in the margin. Without it the line is one word.
        word = line.removeprefix("Rule").removeprefix("Offered")
        assert len(word.split()) == 1, line


@pytest.mark.parametrize("width", [50, 100])
def test_a_long_name_of_a_figure_stands_above_its_value_and_is_not_cut(width: int) -> None:
    name = "mechanics.limit_switches.positive_side"
    finding = replace(
        ROLLOVER,
        figures=(replace(ROLLOVER.figures[0], name=name, text="1265 mm"), ROLLOVER.figures[0]),
        workings=(
            DerivationStep(name, "a + b", "1 mm + 2 mm", "3 mm"),
            DerivationStep("u", "c", "", "4 mm"),
        ),
    )
    lines = shown(replace(FULL, findings=(finding,)), width=width, workings=True).splitlines()
    at = lines.index(f"Figures   {name}")
    assert lines[at + 1 : at + 3] == [
        " " * 10 + " " * len("cycles") + "  1265 mm",
        "          cycles  9362.28… (65536/7)",
    ]
    at = lines.index(f"Workings    {name}")
    assert lines[at + 1 : at + 5] == [
        "              = a + b",
        "              = 1 mm + 2 mm",
        "              = 3 mm",
        "            u = c",
    ]


def test_a_long_source_line_is_cut_around_the_marked_value() -> None:
    line = "{" + "a: 1, " * 200_000 + "node: 4711, " + "b: 2, " * 200_000 + "}"
    source, marker = marked_source(line, mark(line, "4711", "").place, "node", 60)
    assert source.startswith("│ …")
    assert source.endswith("…")
    assert columns(source) <= 60
    start = marker.index("├")
    assert source[start : start + 4] == "4711"
    assert marker.strip() == "├──┤ node"


def test_a_value_longer_than_the_line_is_cut_and_its_start_kept() -> None:
    line = "serial: " + "S" * 500
    piece = excerpt(line, mark(line, "S" * 500, "").place, 40)
    assert piece.text == "serial: " + "S" * (40 - 8 - 2) + "…"
    assert (piece.start, piece.length) == (8, 30)


@pytest.mark.parametrize(
    ("line", "value", "expected"),
    [
        ("\tnode:\t4711", "4711", ("│ node:    4711", "           ├──┤")),
        ("name: 送り軸 # 7", "送り軸", ("│ name: 送り軸 # 7", "        ├────┤")),
        ("送り軸: 12", "12", ("│ 送り軸: 12", "          ├┤")),
        ("e\u0301te\u0301: 7", "7", ("│ e\u0301te\u0301: 7", "       ↑")),
        ("a\x1bb: 123", "123", ("│ a\\x1bb: 123", "          ├─┤")),
    ],
)
def test_the_marker_meets_the_value_after_tabs_wide_accented_and_control_characters(
    line: str, value: str, expected: tuple[str, str]
) -> None:
    source, marker = marked_source(line, mark(line, value, "").place, "", 60)
    assert (source, marker) == expected


def test_a_place_past_the_end_of_its_line_is_marked_at_the_end() -> None:
    piece = excerpt("a:", Place("f", 1, 9, 1, 9), 40)
    assert (piece.text, piece.start, piece.length) == ("a:", 2, 1)


def test_a_place_over_several_lines_is_marked_to_the_end_of_its_first() -> None:
    piece = excerpt("axes: {a: 1,", Place("f", 1, 7, 3, 2), 40)
    assert (piece.start, piece.length) == (6, 6)


def test_nothing_of_an_input_reaches_the_terminal_unescaped() -> None:
    undecided = replace(SPEED, rule=HOSTILE, subject=HOSTILE, missing=(HOSTILE,), reason=HOSTILE)
    assert ROLLOVER.fix is not None
    finding = replace(
        ROLLOVER,
        rule=HOSTILE,
        subject=HOSTILE,
        title=HOSTILE,
        message=HOSTILE,
        why=HOSTILE,
        remedy=HOSTILE,
        basis=HOSTILE,
        marks=(mark(f"x: {HOSTILE}", HOSTILE, HOSTILE, file=HOSTILE),),
        figures=(replace(ROLLOVER.figures[0], name=HOSTILE, text=HOSTILE),),
        workings=(replace(ROLLOVER.workings[0], name=HOSTILE, formula=HOSTILE, meaning=HOSTILE),),
        fix=replace(ROLLOVER.fix, fact=HOSTILE, value=HOSTILE),
    )
    report = replace(
        FULL,
        machines=(HOSTILE,),
        findings=(finding,),
        undecided=(undecided,) * 20,
        tallies=(Tally(HOSTILE, HOSTILE, 1),),
        deciding_facts=(DecidingFact(HOSTILE, 1, 1, (HOSTILE,)),),
        outcomes=(replace(FULL.outcomes[0], rule=HOSTILE, subject=HOSTILE, reason=HOSTILE),),
        settings=((HOSTILE,) * 5,),
    )
    for one in (report, replace(report, undecided=(undecided,))):
        text = shown(one, workings=True)
        assert [char for char in text if not char.isprintable() and char != "\n"] == []
        assert "\\x1b[2J" in text
    error = InputError(
        HOSTILE, place=Place(HOSTILE, 1, 1, 1, 4), source_line=HOSTILE, expected=HOSTILE
    )
    text = render_error(error, PLAIN)
    assert [char for char in text if not char.isprintable() and char != "\n"] == []


def test_colour_appears_only_when_asked_for_and_changes_no_word() -> None:
    plain, coloured = shown(FULL), shown(FULL, colour=True)
    assert "\x1b" not in plain
    assert "\x1b[1;31mERROR" in coloured
    from rich.text import Text

    assert Text.from_ansi(coloured).plain.rstrip("\n") == plain.rstrip("\n")
    assert f"{Path('hall.yaml').absolute().as_uri()}\x1b\\" in coloured
    # Green is the colour of a safe condition (ISO 3864), which the tool never reports.
    assert "\x1b[32m" not in coloured


def test_characters_the_output_lacks_become_plain_ones() -> None:
    text = encodable(shown(FULL, detail=True), "ascii")
    assert "<---> turn states" in text
    assert text.isascii()
    assert encodable("Vorschub ≈ 5", "latin-1") == "Vorschub ~ 5"
    assert encodable("送", "ascii") == "\\u9001"
    assert encodable("≈", "utf-8") == "≈"


@given(st.text(max_size=200), st.integers(12, 90))
def test_wrapping_changes_no_word_and_only_a_single_word_overflows(text: str, room: int) -> None:
    lines = wrap(visible(text), room)
    assert " ".join(lines).split() == visible(text).split()
    for line in lines:
        assert columns(line) <= room or whole_thing(line)


def whole_thing(line: str) -> bool:
    """Whether a line that is too wide is one word, or one number with its signs and its unit."""
    words = line.split(" ")
    return len(words) == 1 or any(char.isdigit() or char == "π" for char in words[0] + words[1])


NAMES = st.text("abcdefghijkäö軸_-0123456789", min_size=1, max_size=60)
FILE_NAMES = st.builds(
    lambda folders, name, end: "/".join([*folders, name + end]),
    st.lists(NAMES, max_size=6),
    NAMES,
    st.sampled_from([".yaml", ".dcf", ".html", ""]),
)
FACT_NAMES = st.lists(NAMES, min_size=2, max_size=8).map(".".join)
DIMENSIONED = st.builds(
    lambda before, value, unit, after: f"{before}{value} {unit}{after}",
    st.sampled_from(["", "≈ ", "(", "≈ -"]),
    st.one_of(
        st.integers(0, 10**15).map(str),
        st.decimals(0, 10**9, places=3).map(str),
        st.builds("{}/{}".format, st.integers(1, 999), st.integers(2, 99)),
        st.sampled_from(["102.857…", "20·π", "1.5e-7", "16.7 ± 0.1"]),
    ),
    st.sampled_from([name for name in UNITS if name and " " not in name]),
    st.sampled_from(["", ",", ".", ")", ";"]),
)
THINGS = st.one_of(FILE_NAMES, FACT_NAMES, DIMENSIONED)


@given(st.lists(st.one_of(THINGS, st.text(max_size=9)), max_size=9), st.data(), st.integers(1, 90))
def test_no_line_ends_inside_a_file_name_a_fact_name_or_a_number(
    around: list[str], data: st.DataObject, room: int
) -> None:
    thing = data.draw(THINGS)
    at = data.draw(st.integers(0, len(around)))
    text = prose(" ".join([*around[:at], thing, *around[at:]]))
    assert any(thing in line for line in wrap(text, room))
    error = InputError(text, place=Place(thing, 4711, 12, 4711, 13), expected=text)
    lines = render_error(error, replace(PLAIN, width=50)).splitlines()
    assert any(f"{thing}:4711:12" in line for line in lines)


@given(st.lists(NAMES, min_size=1, max_size=9).map(" ".join), st.integers(50, 90))
def test_the_place_of_a_file_whose_name_has_spaces_stands_in_one_line(
    name: str, width: int
) -> None:
    error = InputError("no", place=Place(name, 4711, 12, 4711, 13))
    lines = render_error(error, replace(PLAIN, width=width)).splitlines()
    assert any(f"{name}:4711:12" in line for line in lines)


def test_a_value_longer_than_any_file_name_is_clipped_and_a_path_is_not() -> None:
    assert prose("x" * 261) == "x" * 259 + "…"
    path = "folder/" * 500
    assert prose(path) == path


@given(
    st.text(st.characters(exclude_characters="\n"), max_size=120),
    st.integers(1, 130),
    st.integers(0, 130),
    st.integers(20, 90),
)
def test_an_excerpt_of_any_line_fits_and_keeps_its_marker_within(
    line: str, column: int, length: int, room: int
) -> None:
    piece = excerpt(line, Place("f", 1, column, 1, column + length), room)
    assert columns(piece.text) <= room
    assert piece.start >= 0
    assert piece.start + piece.length <= room + 1
    assert piece.text.isprintable()


def test_width_of_a_character_follows_unicode() -> None:
    # UAX 11: W and F take two columns; nonspacing marks take none.
    assert unicodedata.east_asian_width("軸") == "W"
    assert columns("axis") == 4
    assert columns("軸") == columns("Ａ") == 2
    assert columns("e\u0301") == columns("…") == 1
    # A Hangul syllable of three conjoining letters is as wide as its first.
    assert columns("\u1112\u1161\u11ab") == 2


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


def test_concerns_are_a_table_that_a_screen_holds() -> None:
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
    assert len(shipped_rules.splitlines()) <= 32
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
