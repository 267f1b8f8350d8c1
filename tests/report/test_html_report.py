"""The HTML report: complete, self-contained, and nothing of an input becomes markup."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from axisproof.api import CheckOptions, check
from axisproof.base.errors import Place
from axisproof.findings.finding import AxisSketch, Gap, Outcome, Report, Tally, Undecided
from axisproof.report.html import parts_of_line, render
from axisproof.report.rendering import CAUTION, RenderOptions
from hypothesis import given
from hypothesis import strategies as st

from tests.report.html_pages import Page
from tests.report.report_samples import CLEAN, FULL, NODES, ROLLOVER, SPEED, TRAVEL

SOUND = Path(__file__).parents[2] / "fixtures" / "sound"


def page_of(report: Report) -> Page:
    return Page(render(report, RenderOptions()))


def test_the_page_shows_all_of_a_finding() -> None:
    text = page_of(FULL).text
    for words in (
        ROLLOVER.rule,
        ROLLOVER.title,
        ROLLOVER.message,
        "hall.yaml, line 41, column 34: turn states",
        "distinguishable_revolutions: 65536 # new",
        "hall.yaml, line 77",
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
    assert "Nothing is known about what it would have said" in text
    assert f"{SPEED.rule} ({SPEED.title}): axes.infeed.motor.max_speed is not stated" in text
    assert "Facts that would decide most" in text
    assert "range_margin" in text
    assert "Retuned every spring." in text


def test_the_overview_counts_by_axis_and_concern() -> None:
    page = render(FULL, RenderOptions())
    table = page[page.index('<table class="overview">') : page.index("</table>")]
    rows = [
        [re.sub(r"<[^>]+>|\s+", " ", cell).split() for cell in re.split(r"</t[hd]>", row)[:-1]]
        for row in re.findall(r"<tr>(.*?)</tr>", table, re.DOTALL)
    ]
    assert rows[0] == [["Axis"], ["homing"], ["other"], ["turn", "counter"], ["all"]]
    none = ["–", "none", "applied"]
    assert rows[1] == [
        ["infeed"], ["1", "held"], none, none, ["1", "undecided", "11", "held"],
    ]  # fmt: skip
    assert rows[3] == [["whole", "machine"], none, ["1", "broken"], none, ["1", "broken"]]


def test_every_picture_has_a_table_that_says_the_same_in_words() -> None:
    page = page_of(FULL)
    assert page.tags["svg"] == 2
    for picture in (each for sketch in FULL.sketches for each in sketch.pictures):
        assert picture.summary in page.text
        for feature in picture.features:
            assert feature.name in page.text
            assert feature.text in page.text


def test_what_is_not_drawn_is_said() -> None:
    text = page_of(FULL).text
    assert "It has no soft limits." in text
    assert (
        "Not drawn: stopping distance past the limit switch, for want of axes.infeed.drive.delay."
        in text
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
    def with_text(words: str) -> Report:
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

    # A word as such is compared, since an empty one leaves a place out.
    hostile, harmless = page_of(with_text(f"x{text}")), page_of(with_text("x"))
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
    assert page.tags["svg"] == sum(len(sketch.pictures) for sketch in report.sketches)
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
