"""The Markdown summary: what it names, how long it gets, and that no input acts as markup."""

from __future__ import annotations

import re
from dataclasses import replace
from html import unescape

import pytest
from axisproof.findings.finding import Report, Tally
from axisproof.report.layout import prose
from axisproof.report.markdown import code, escaped, render
from axisproof.report.rendering import CAUTION, RenderOptions
from hypothesis import example, given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from tests.report.report_samples import CLEAN, FULL, NODES, ROLLOVER, SPEED

READER = MarkdownIt("commonmark").enable("table")


def html(report: Report, options: RenderOptions | None = None) -> str:
    return str(READER.render(render(report, options or RenderOptions())))


def plain(page: str) -> str:
    """The text of HTML, without tags and comments."""
    return unescape(re.sub(r"<!-- -->|<[^>]+>", "", page)).strip()


def test_the_headline_counts_by_level_and_what_is_undecided() -> None:
    assert html(FULL).startswith(
        "<h2>axisproof: 1 error, 1 warning, 1 check cannot be decided</h2>"
    )
    assert html(CLEAN).startswith("<h2>axisproof: no findings</h2>")


def test_the_worst_finding_comes_first() -> None:
    heads = re.findall(r"<h3>(.*?)</h3>", html(FULL))
    assert heads[:2] == [
        "Error: rollover-divides-cycle, hall · turntable",
        "Warning: node-address-unique, hall (whole machine)",
    ]


def test_a_finding_shows_message_places_reason_remedy_and_offer() -> None:
    text = plain(html(FULL))
    for words in (
        ROLLOVER.message,
        "hall.yaml, line 41: distinguishable_revolutions: 65536 # new",
        ROLLOVER.why,
        ROLLOVER.remedy,
        "not to be applied without the work",
    ):
        assert words in text


def test_axes_with_nothing_to_do_share_a_row() -> None:
    report = replace(FULL, tallies=(*FULL.tallies, Tally("hall", "lift", 9, 0, 0, 1)))
    rows = re.findall(r"<tr>\s*<td>(.*?)</td>", html(report))
    assert rows == [
        "hall · infeed",
        "hall · turntable",
        "hall (whole machine)",
        "1 other axis",
    ]


def test_undecided_checks_name_what_they_lack() -> None:
    text = plain(html(FULL))
    assert "axes.infeed.motor.max_speed: bears on 1 check" in text
    assert "speed-through-gearing, hall · infeed: axes.infeed.motor.max_speed is not" in text


def test_workings_are_folded_away_and_shown_only_on_demand() -> None:
    assert "cycles = N * u / C" in plain(html(FULL, RenderOptions(workings=True)))
    assert "N * u / C" not in html(FULL)


def test_the_caution_goes_with_findings_and_only_with_them() -> None:
    assert CAUTION in plain(html(FULL))
    assert CAUTION[:40] not in plain(html(CLEAN))


def test_a_thousand_findings_still_fit_into_a_comment() -> None:
    long = replace(ROLLOVER, message="m " * 2000, remedy="r " * 2000)
    report = replace(FULL, findings=(long,) * 1000, undecided=(SPEED,) * 1000)
    text = render(report, RenderOptions())
    assert len(text) < 65536
    assert "970 further findings" in text
    assert "980 further checks" in text


@pytest.mark.parametrize(
    "text",
    [
        "@maintainer look",
        "see https://example.invalid/x and www.example.invalid",
        "<script>alert(1)</script>",
        "![x](y) [a](b) `c` *d* _e_ ~~f~~ | g",
        "1. not a list",
        "# not a heading",
        "&amp; &#64;",
        "back\\slash",
    ],
)
def test_text_of_an_input_is_shown_and_never_acts(text: str) -> None:
    page = READER.render(escaped(text))
    assert plain(page) == text
    assert set(re.findall(r"</?(\w+)", page)) == {"p"}
    assert "@maintainer" not in page
    assert "://" not in escaped(text)
    assert "www." not in escaped(text)


@given(st.text(st.characters(), max_size=40))
@example("- x")
@example("+ x")
@example("0) x")
@example("===")
@example("    indented")
@example("\\")
def test_any_text_comes_through_as_it_is(text: str) -> None:
    page = READER.render(f"### {escaped('x ' + text)}\n\nx\n\n{escaped(text)}\n")
    shown = [prose(each) for each in (f"x {text}", "x", text) if prose(each)]
    assert [prose(plain(line)) for line in page.splitlines() if plain(line)] == shown
    assert set(re.findall(r"</?(\w+)", page)) <= {"h3", "p"}


@given(st.text(st.sampled_from("`ab |\n\x1b"), max_size=12))
def test_a_code_span_holds_any_text(text: str) -> None:
    page = READER.render(f"x {code(text)} y")
    assert page.count("<code>") == 1


def test_a_report_on_the_whole_machine_is_named() -> None:
    assert "hall (whole machine)" in plain(html(replace(FULL, findings=(NODES,))))


def test_a_place_names_its_fact_and_the_caution_stands_above_the_findings() -> None:
    text = plain(html(replace(FULL, findings=(replace(ROLLOVER, headline="It wraps late."),))))
    assert "turn states in hall.yaml, line 41: distinguishable_revolutions: 65536 # new" in text
    assert "It wraps late." in text
    assert text.index(CAUTION[:20]) < text.index("It wraps late.")
