"""The text report fits its width, marks values, and lets no input write to the terminal."""

from __future__ import annotations

import unicodedata
from dataclasses import replace
from pathlib import Path

import pytest
from axisproof.base.errors import InputError, Place
from axisproof.findings.finding import (
    DecidingFact,
    DerivationStep,
    Tally,
)
from axisproof.numbers.units import UNITS
from axisproof.report.error_text import render_error
from axisproof.report.layout import (
    columns,
    encodable,
    excerpt,
    marked_source,
    prose,
    visible,
    wrap,
)
from hypothesis import given
from hypothesis import strategies as st

from tests.report.report_samples import FULL, ROLLOVER, SPEED, mark
from tests.report.text_helpers import PLAIN, shown

HOSTILE = "\x1b[2J\x1b]0;owned\x07\u202e\x9b31m\x00\ud800\u2028"


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
