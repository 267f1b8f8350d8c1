"""Slips of people who know other languages: each has its sentence, its place and its cure."""

from __future__ import annotations

import pytest
from axisproof.base.errors import RuleError
from axisproof.catalogue.catalogue import parse_texts, shipped

from tests.language.evaluating import rule_text

PAIR = "axis with other where axis.name is other.gantry.partner"

# What stands between § is the place of the mistake.
SLIPS = [
    ("axis.drive.node §==§ 1", "== is no sign", "a = b for numbers"),
    ("axis.drive.node §!=§ 1", "!= is no sign", "not a = b for numbers"),
    ("axis.motor.brake §!=§ none", "!= is no sign", "a is not b for words, texts, flags and none"),
    ("axis.drive.node §<>§ 1", "<> is no sign", "not a = b"),
    ("axis.drive.node §=>§ 1", "=> is no sign", ">="),
    ("1 §< axis.drive.node <=§ 3", "two comparisons in a row", "a <= b and b <= c"),
    ("axis.drive.input_filter <= §5 ms§", "a blank stands between", "5ms"),
    ("axis.motor.max_speed <= §3.5  rpm§", "a blank stands between", "3.5rpm"),
    ("axis.drive.node <= §5 %§", "a blank stands between", "5%"),
    ("machine.check_date > §2026-3-1§", "a number and a date", "as one word: 2026-03-01"),
    ("machine.check_date > §1/3/2026§", "a number and a date", "as one word: 2026-03-01"),
    ('machine.check_date > §"2026-03-01"§', "a text has no order", "without quotes: 2026-03-01"),
    ("machine.check_date > §2026.03.01§", "not how a day is written", "2026-03-14"),
    ("machine.check_date > §01.03.2026§", "not how a day is written", "2026-03-14"),
    (
        "axis.motion is linear or §rotary§",
        "rotary is not a condition",
        "axis.motion is one of [linear, rotary]",
    ),
    (
        "axis.motion is not linear and §rotary§",
        "rotary is not a condition",
        "axis.motion is not one of [linear, rotary]",
    ),
    (
        'axis.motor.serial is "A" or §"B"§',
        "is not a condition",
        'axis.motor.serial is one of ["A", "B"]',
    ),
    (
        "axis.drive.node = 1 or §2§",
        "2 is not a condition",
        "axis.drive.node = 1 or axis.drive.node = 2",
    ),
    ("axis.motor.brake = §none§", "none is no number", "axis.motor.brake is none"),
    ("axis.motion §is in [linear]§", "is in is not asked", "is one of"),
    ("axis.motion §in [linear]§", "in is not asked of a word", "is one of"),
    ("axis.drive.node is not §known§", "known is a word of the language", "acquit"),
    ("axis.motor.serial §includes any of§ [a]", "includes is asked of one word", "any of LIST"),
    ("§axis.interlocks§ contains 3", "a list before contains", "LIST includes WORD"),
    ('axis.name §startswith§ "a"', "no word of the language", "begins with"),
    ('axis.name §like§ "a"', "a text has no patterns", "begins with"),
    ("axis.name is §'a'§", "double quotes", '"…"'),
    ("axis.name is §“a”§", "straight double quotes", '"…"'),
    ("true §&&§ true", "& is no sign", "and"),
    ("true §||§ true", "| is no sign", "or"),
    ("§!§true", "! is no sign", "not"),
    ("axis.drive.node §**§ 2 = 4", "** is no sign", "^"),
    ("§2pi§ > 3", "a sign is missing", "2 * pi"),
    ("§2π§ > 3", "a sign is missing", "2 * pi"),
    ("§if true then§ 1 = 1", "if does not stand before its value", "a if c otherwise b"),
    ("§count =§ 3", "this is a word of the language", "another name"),
    ("axis.encoder.index_pulse is §True§", "True is not known", "perhaps true"),
    ("§every where in axis.interlocks has true§", "where is a word of the language", "another"),
    ("true §or§", "something is missing after or", "the rest of it"),
    ("axis.drive.node §<§  # comment", "something is missing after <", "the rest of it"),
    ("axis.motion §is§", "something is missing after is", "the rest of it"),
    ("§axis.encoder.index_pulse§ = true", "has no order", "is for words, texts and flags"),
]


@pytest.mark.parametrize(("require", "what", "expected"), SLIPS)
def test_a_slip_is_told_with_its_cure_at_its_place(require: str, what: str, expected: str) -> None:
    start, end = require.index("§"), require.rindex("§") - 1
    text = rule_text(require.replace("§", ""))
    with pytest.raises(RuleError) as caught:
        parse_texts({"site.rules": text}, shipped().trees)
    fault = caught.value
    assert what in fault.what
    assert expected in fault.expected
    assert fault.place is not None
    line = text.split("\n").index(f"  require {require.replace('§', '')}") + 1
    begin = len("  require ") + 1
    found = (fault.place.line, fault.place.column - begin, (fault.place.end_column or 0) - begin)
    assert found == (line, start, end)


def test_a_position_of_one_axis_against_that_of_another() -> None:
    with pytest.raises(RuleError) as caught:
        parse_texts(
            {"site.rules": rule_text("axis.travel_span = other.travel_span", each=PAIR)},
            shipped().trees,
        )
    assert caught.value.expected == (
        "the condition axis.motion is other.motion before a user unit of axis meets one of other"
    )


@pytest.mark.parametrize(
    ("text", "what"),
    [
        (rule_text("true").replace("the-rule", "brake-holds-load"), "a rule that ships"),
        (
            rule_text("true", before='define axis.gear_ratio kind ratio as 1 meaning "m"'),
            "a definition that ships",
        ),
        (
            rule_text("true", before='setting plate_rounding default 1 meaning "m" basis "b"'),
            "a setting that ships",
        ),
    ],
)
def test_a_clash_with_what_ships_says_so(text: str, what: str) -> None:
    with pytest.raises(RuleError) as caught:
        parse_texts({"site.rules": text}, shipped().trees)
    assert what in caught.value.what
    assert "another name" in caught.value.expected


@pytest.mark.parametrize("word", ["count", "level", "all", "known", "true", "pi"])
def test_a_word_of_the_language_is_no_name(word: str) -> None:
    with pytest.raises(RuleError) as caught:
        parse_texts({"site.rules": rule_text("true", lets=f"let {word} = 1")})
    assert f"{word} is a word of the language" in caught.value.what or word == "pi"
    assert caught.value.expected


def test_a_file_says_its_version_first() -> None:
    with pytest.raises(RuleError) as caught:
        parse_texts({"site.rules": rule_text("true").replace("language 1", "")})
    assert caught.value.expected == "language 1 as first line"
