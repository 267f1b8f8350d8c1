"""The HTML report: complete, self-contained, and nothing of an input becomes markup."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from axisproof.api import CheckOptions, check
from axisproof.base.errors import Place
from axisproof.catalogue.catalogue import shipped
from axisproof.catalogue.describing import concern_names
from axisproof.findings.finding import (
    AxisSketch,
    Gap,
    Outcome,
    Report,
    Tally,
    Undecided,
    WaivedBy,
)
from axisproof.report.html import parts_of_line, render
from axisproof.report.html_overview import GROUPS
from axisproof.report.rendering import CAUTION, RenderOptions
from hypothesis import given
from hypothesis import strategies as st

from tests.report.html_pages import Page
from tests.report.report_samples import CLEAN, FULL, NODES, ROLLOVER, SPEED, TRAVEL

SOUND = Path(__file__).parents[2] / "fixtures" / "sound"


def page_of(report: Report) -> Page:
    return Page(render(report, RenderOptions()))


def with_words(words: str) -> Report:
    """A report in which each text is ``words``."""
    finding = replace(
        ROLLOVER, message=words, title=words, why=words, remedy=words, basis=words,
        machine=words, subject=words,
    )  # fmt: skip
    return replace(
        FULL,
        files=(words,),
        machines=(words,),
        findings=(finding,),
        undecided=(Undecided(words, "error", words, words, words, (words,), words),),
        tallies=(Tally(words, words, 1, 1, 1, 1),),
        outcomes=(Outcome(words, words, words, "holds"),),
        concerns={words: words},
        settings=((words, words, words, words, words),),
        sketches=(AxisSketch(words, words, words, (TRAVEL,), (words,), (Gap(words, ()),)),),
    )


@cache
def harmless_page() -> Page:
    return page_of(with_words("x"))


def test_the_page_shows_all_of_a_finding() -> None:
    text = page_of(FULL).text
    for words in (
        ROLLOVER.rule,
        ROLLOVER.title,
        ROLLOVER.message,
        "hall.yaml, line 41, column 34: turn states",
        "distinguishable_revolutions: 65536 # new",
        "line 77, column 12: one cycle of the table",
        ROLLOVER.why,
        ROLLOVER.remedy,
        "not to be applied without the work the remedy describes",
        "cycles9362.28… (65536/7)".replace("cycles", "", 1),
        "= 65536 * (360/7 deg) / 360 deg",
        "travel per encoder revolution",
    ):
        assert words in text, words


def test_the_value_at_fault_is_marked_in_its_line() -> None:
    page = render(FULL, RenderOptions())
    assert "distinguishable_revolutions: <mark>65536</mark> # new" in page


def test_undecided_checks_wanted_facts_and_settings_are_shown() -> None:
    text = page_of(FULL).text
    assert "Nothing is known about its result" in text
    assert f"{SPEED.rule} ({SPEED.title}): axes.infeed.motor.max_speed is not stated" in text
    assert "Data that decides most" in text
    assert "range_margin" in text
    assert "Retuned every spring." in text


def overview_rows(report: Report) -> list[list[str]]:
    """The cells of the overview, row by row, as a screen reader hears them."""
    page = render(report, RenderOptions())
    table = page[page.index('<table class="overview">') : page.index("</table>")]
    return [
        [" ".join(re.sub(r"<[^>]+>", "", cell).split()) for cell in re.split(r"</t[hd]>", row)[:-1]]
        for row in re.findall(r"<tr[^>]*>(.*?)</tr>", table, re.DOTALL)
    ]


def test_the_overview_has_a_row_for_each_axis_and_a_cell_for_each_group_of_concerns() -> None:
    head, *rows = overview_rows(FULL)
    assert head == ["Axis", "Turn counter", "Homing", "Records and network", "All passed checks"]
    counts = {row[0]: row[1:] for row in rows if len(row) > 1}
    none = "–none applied"
    assert counts == {
        "turntable": ["✗ 1 failed", none, none, "12"],
        "whole machine": [none, none, "! 1 warning", "none"],
        "infeed": [none, "1 passed", "? 1 cannot be decided", "11"],
    }


def test_what_failed_stands_below_the_row_of_its_axis_with_the_worst_axis_first() -> None:
    wrong = replace(ROLLOVER, headline="It wraps too late.")
    report = replace(FULL, findings=(NODES, wrong))
    rows = overview_rows(report)[1:]
    assert [row[0] for row in rows] == [
        "turntable",
        f"✗ error It wraps too late. First: {wrong.remedy}",
        "whole machine",
        f"! warning Infeed and outfeed both have node 4. First: {wrong.remedy}",
        "infeed",
        "? not decided 1 check (1 of level error) cannot be decided. Missing: motor.max_speed.",
    ]
    page = render(report, RenderOptions())
    table = page[page.index('<table class="overview">') : page.index("</table>")]
    for address in re.findall(r'href="#([^"]+)"', table):
        assert f'id="{address}"' in page


def test_an_axis_that_is_not_decided_never_looks_as_if_it_passed() -> None:
    undecided = replace(FULL, findings=(), outcomes=(), tallies=(Tally("hall", "infeed", 0, 0, 1),))
    page = render(undecided, RenderOptions())
    start = page.index('<tr class="counts">')
    row = page[start : page.index("</tr>", start)]
    assert 'class="state undecided"' in row
    assert 'class="passed"' not in row
    assert overview_rows(undecided)[1] == ["infeed", "? 1 cannot be decided", "none"]


def test_a_waived_finding_has_a_sign_of_its_own() -> None:
    waived = replace(ROLLOVER, waived=WaivedBy("Runs one way.", "maintenance", "2026-12-01"))
    rows = overview_rows(replace(FULL, findings=(waived,)))
    assert ["turntable", "w 1 waived", "–none applied", "–none applied", "12"] in rows
    assert any(row[0].startswith("w error, waived") for row in rows)


def test_each_concern_of_the_rules_has_a_group() -> None:
    grouped = [concern for concerns in GROUPS.values() for concern in concerns]
    assert len(set(grouped)) == len(grouped)
    assert set(concern_names(shipped()).values()) <= {*grouped, "changes", "spare"}


@pytest.mark.parametrize(("axes", "inputs"), [(1, 0), (60, 61), (61, 0)])
def test_an_axis_can_be_picked_where_there_are_several_but_not_very_many(
    axes: int, inputs: int
) -> None:
    findings = tuple(replace(ROLLOVER, subject=f"a{number}") for number in range(axes))
    assert page_of(replace(CLEAN, findings=findings)).tags["input"] == inputs


def test_axes_of_several_machines_stand_below_their_machine() -> None:
    others = (Tally("hall", "infeed", 3), Tally("press", "ram", 4))
    report = replace(CLEAN, machines=("hall", "press"), tallies=others)
    assert [row[0] for row in overview_rows(report)[1:]] == ["hall", "infeed", "press", "ram"]


def test_a_picture_says_in_words_what_it_shows() -> None:
    page = page_of(FULL)
    assert page.tags["svg"] == 2 * 2
    for picture in (each for sketch in FULL.sketches for each in sketch.pictures):
        assert picture.summary in page.text
        for feature in picture.features:
            assert f"{feature.name}: {feature.text}" in page.text


def test_a_fault_is_drawn_and_leads_to_its_finding() -> None:
    page = render(FULL, RenderOptions())
    drift = page[page.index('<figure class="drawing">', page.index("Cycle and rollover") - 90) :]
    assert 'class="drift fault"' in drift
    address = re.search(r'<span class="drawn">✗ <a href="#([^"]+)">', drift)
    assert address is not None
    assert f'<h4 id="{address[1]}">' in page


def test_what_is_not_drawn_is_said() -> None:
    text = page_of(FULL).text
    assert "It has no software limits." in text
    assert (
        "Not drawn: stopping distance past the limit switch, because data is missing: "
        "axes.infeed.drive.delay." in text
    )
    far = AxisSketch("hall", "infeed", "", (replace(TRAVEL, high=10**400),))
    assert "out of reach of a drawing" in page_of(replace(FULL, sketches=(far,))).text


def test_a_gap_tells_its_reason() -> None:
    sketch = AxisSketch("hall", "infeed", "", gaps=(Gap("the dial", (), "it is none"),))
    assert "Not drawn: the dial (it is none)." in page_of(replace(FULL, sketches=(sketch,))).text


def test_the_caution_goes_with_findings_and_the_disclaimer_with_every_page() -> None:
    assert CAUTION in page_of(FULL).text
    assert CAUTION not in page_of(CLEAN).text
    assert "it never says that a machine is safe" in page_of(CLEAN).text


def test_the_page_loads_nothing_and_runs_nothing() -> None:
    page = page_of(FULL)
    assert page.tags["script"] == 0
    for tag, name, value in page.attributes:
        assert not name.startswith("on"), (tag, name)
        if name in ("href", "src"):
            assert value.startswith("#") or value == "data:,", value
    text = render(FULL, RenderOptions())
    assert "default-src 'none'" in text
    assert not re.search(r"@import|url\((?!#)", text)
    assert "http" not in text.replace("http-equiv", "").replace("http://www.w3.org/2000/svg", "")


def test_ids_are_unique_and_links_lead_somewhere() -> None:
    page = page_of(FULL)
    assert len(set(page.ids)) == len(page.ids)
    targets = {
        name
        for tag, key, value in page.attributes
        if key in ("aria-labelledby",) or (key == "href" and value.startswith("#"))
        for name in value.removeprefix("#").split()
    }
    assert targets
    assert targets <= set(page.ids)


def test_a_file_on_one_huge_line_is_cut_around_the_value() -> None:
    line = "a: 1, " * 100_000 + "b: 22" + ", c: 3" * 100_000
    at = line.index("22") + 1
    before, value, after = parts_of_line(line, Place("a", 1, at, 1, at + 2))
    assert (before[0], value, after[-1]) == ("…", "22", "…")
    assert before.endswith("b: ")
    assert len(before) + len(after) < 250


@pytest.mark.parametrize(
    ("place", "parts"),
    [
        (Place("a", 1, 5, 1, 7), ("a: ", "12", " # x")),
        (Place("a", 1, 5, 3, 2), ("a: ", "12 # x", "")),
        (Place("a", 1, 99, 1, 99), ("a: 12 # x", "", "")),
    ],
)
def test_a_line_is_parted_at_the_place(place: Place, parts: tuple[str, str, str]) -> None:
    assert parts_of_line("\ta: 12 # x\r\n".replace("\r\n", ""), place) == parts


@given(st.text(st.characters(), max_size=30))
def test_no_text_of_an_input_adds_a_tag_or_an_attribute(text: str) -> None:
    # A word as such is compared, since an empty one leaves a place out.
    hostile, harmless = page_of(with_words(f"x{text}")), harmless_page()
    assert hostile.tags == harmless.tags
    names = [(tag, name) for tag, name, _ in hostile.attributes]
    assert names == [(tag, name) for tag, name, _ in harmless.attributes]


def test_control_characters_are_written_out() -> None:
    page = render(
        replace(FULL, findings=(replace(NODES, message="a\x1b[31m\u202eb"),)), RenderOptions()
    )
    assert r"a\x1b[31m\u202eb" in page
    assert "\x1b" not in page


def test_a_real_check_shows_every_axis() -> None:
    report = check([SOUND], CheckOptions(every_outcome=True, sketches=True, workings=True))
    page = page_of(report)
    assert page.tags["svg"] == 2 * sum(len(sketch.pictures) for sketch in report.sketches)
    assert page.tags["h3"] == report.axes


def test_a_report_without_outcomes_and_sketches_still_renders() -> None:
    page = page_of(
        replace(FULL, outcomes=(), concerns={}, sketches=(), deciding_facts=(), settings=())
    )
    assert ROLLOVER.message in page.text
    assert page.tags["svg"] == 0


def test_equal_reports_give_equal_text() -> None:
    turned = replace(FULL, concerns=dict(reversed(FULL.concerns.items())))
    assert render(turned, RenderOptions(width=50)) == render(FULL, RenderOptions())


def test_what_follows_from_a_finding_stands_under_it_and_counts() -> None:
    cause = replace(ROLLOVER, headline="It wraps too late.")
    other = replace(
        cause, rule="turns-fit", headline="It counts too far.", follows=(cause.rule,), fix=None
    )
    report = replace(FULL, findings=(other, cause))
    rows = overview_rows(report)
    assert ["turntable", "✗ 1 failed", "–none applied", "✗ 1 failed", "12"] in rows
    first = (
        "First: Set encoder, drive and controller to 65534 revolutions, then home and calibrate."
    )
    told = f"✗ error It wraps too late. {first} ✗ error, follows from it It counts too far."
    assert rows[2] == [told]
    page = render(report, RenderOptions())
    folded = page[page.index('<details class="consequences">') :]
    assert "With 65534 here, 1 more failed check passes: turns-fit." in folded
    assert folded.index("It counts too far.") < folded.index("</details>\n</article>")
