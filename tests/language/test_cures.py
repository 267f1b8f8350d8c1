"""Slips of people who know other languages: each has its sentence, its place and its cure."""

from __future__ import annotations

import pytest
from axisproof.base.errors import RuleError
from axisproof.catalogue.catalogue import parse_texts, shipped

from tests.language.evaluating import rule_text

STAGES = "axis.mechanics.stages"

PAIR = (
    "axis with other where axis.name is other.gantry.partner"
    " directed by other.gantry.partner without skips"
)

# What stands between § is the place of the mistake.
SLIPS = [
    ("axis.drive.node §==§ 1", "== is no sign", "a = b for numbers"),
    ("axis.drive.node §!=§ 1", "!= is no sign", "not a = b for numbers"),
    ("axis.motor.brake §!=§ none", "!= is no sign", "a is not b for words, texts, flags and none"),
    ("axis.drive.node §<>§ 1", "<> is no sign", "not a = b"),
    ("axis.drive.node §=>§ 1", "=> is no sign", ">="),
    ("1 §< axis.drive.node <=§ 3", "two comparisons in a row", "a <= b and b <= c"),
    ("axis.motor.max_speed < §3000/min§", "min is the least of values", "3000rpm for a speed"),
    ("axis.motor.max_speed < §3000 /min§", "min is the least of values", "3000rpm for a speed"),
    ("axis.motor.max_speed < §3000 1/min§ or true", "no unit", "3000rpm for a speed"),
    ("axis.motor.max_speed < §3000U/min§", "not a known unit", "perhaps 'rpm'"),
    ("axis.motor.max_speed < §3,000§rpm", "no comma and no sign", "2.5, 3000"),
    ("axis.motor.max_speed < §3'000§rpm", "no comma and no sign", "2.5, 3000"),
    ("axis.controller.cycle <= §2,5§mm", "no comma", "a point before decimals"),
    ("axis.motor.max_speed <= §1e3rpm§", "no exponent", "all its digits"),
    ("axis.motor.rated_torque >= §5 N*m§", "a blank stands between", "5N·m"),
    ("axis.motor.brake.release_time < §100 milliseconds§", "is no unit", "as one word: 100ms"),
    ("axis.controller.max_velocity < §500 mm/sec§", "is no unit", "as one word: 500mm/s"),
    ("axis.controller.max_velocity < §5mm per§ s", "per is no word", "/, as in 5mm/s"),
    ("§axis.motor.max_speed < 3000§", "compared with a plain number", "a unit directly after"),
    ("§axis.motor.max_speed within 5% of 3000rpm§", "plain number", "5% * 3000rpm"),
    ("axis.motor.max_speed = 3000rpm §±§ 5%", "± is no sign", "a within t of b"),
    ("axis.motor.max_speed = 3000rpm §+/-§ 5%", "+/- is no sign", "a within t of b"),
    ("axis.motor.rated_torque > 1.5§x§ axis.motor.rated_torque", "x is no sign", "*"),
    ("axis.motor.rated_torque > 150§% of§ axis.motor.rated_torque", "not multiply", "150% * x"),
    ("axis.drive.node §%§ 2 = 0", "no signs of the language", "remainder(a, b)"),
    ("axis.drive.node §mod§ 2 = 0", "no signs of the language", "remainder(a, b)"),
    ("axis.drive.node = 1§;§", "a semicolon ends no clause", "where the next one begins"),
    ("axis.motor.brake §exists§", "whether a part is there", "x is not none"),
    ("§axis.motor.brake§ is present", "a part before is", "is none, or is not none"),
    ("§axis.motor.brake§ = yes", "no order or size", "is none, or is not none"),
    ("not §axis.motor.brake§", "a part is not a condition", "is none, or is not none"),
    ("axis.encoder.index_pulse is §yes§", "yes is not known", "true"),
    ("machine.check_date > §today§", "today is not known", "machine.check_date"),
    ("axis.drive.firmware >= §1.2.3§", "a version is a text", 'version_at_least(a, "1.2.3")'),
    ("axis.drive.node §is between 1§ and 127", "is does not stand before", "a between b and c"),
    ("axis.drive.node §is greater than§ 5", "compared by signs", "a > b for more"),
    ("axis.drive.node §is at least§ 5", "compared by signs", "a >= b for at least"),
    ("axis.drive.node §in 1..127§", "in is not asked of a number", "a between b and c"),
    ("axis.drive.node §in (1, 2)§", "in is not asked of a number", "a = b or a = c"),
    ("§axis.drive.node§ is one of [1, 2]", "a number before is one of", "a = b or a = c"),
    ("axis.drive.node §not =§ 5", "before the whole comparison", "not a = b"),
    ("axis.motion §not in§ [linear]", "in is not asked of a word", "is not one of"),
    ("axis.motion is §linear,§ rotary", "in square brackets", "is one of [a, b]"),
    ("axis.motion is (§linear or rotary§)", "whole conditions", "is one of [linear, rotary]"),
    ("axis.motion §is either linear§ or rotary", "either is no word", "is one of [a, b]"),
    ("axis.motion §is one of linear,§ rotary", "in square brackets", "is one of [a, b]"),
    ("§if axis.drive.node = 1: true§", "before what is required", "when, a clause before require"),
    ("§for x in axis.interlocks: true§", "for begins no condition", "every x in LIST"),
    ("§all x§ in axis.interlocks have true", "of comes after this word", "every x in LIST"),
    ("§any axis.drive.node§ > 1", "of comes after this word", "any of LIST in [a, b]"),
    ("axis.interlocks§[0]§.kind is a", "has no number", "some x in LIST has"),
    ("§count of axis.interlocks >§ 1", "count of names each item", "count of x in LIST"),
    ("§abs(axis.drive.node)§ > 1", "abs is not a function", "absolute(a)"),
    ("§len(axis.interlocks)§ > 1", "len is not a function", "count of x in LIST"),
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
    ("§if true then§ 1 = 1", "if does not stand before its value", "a if c else b"),
    (f"every s in {STAGES} where true §and§ true has true", "without brackets", "where (a and b)"),
    (f"no s in {STAGES} where true §or§ true has true", "without brackets", "where (a or b)"),
    (f"§every s in {STAGES} has true§ and true", "not clear where this ends", "brackets around it"),
    (f"true or (true) and §no s in {STAGES} has (true)§ or true", "not clear where", "or around"),
    (f"§unique s.name for s in {STAGES} where true§ or true", "not clear where", "brackets"),
    (f"true or 1 = §count of s in {STAGES} where true§ and true", "not clear where", "brackets"),
    ("(1 if true §otherwise§ 2) = 1", "otherwise is no word of the language", "a if c else b"),
    ("axis.drive.node §else§ 1 = 1", "no if stands before this else", "a default b where nobody"),
    ("§count =§ 3", "this is a word of the language", "another name"),
    ("axis.encoder.index_pulse is §True§", "True is not known", "perhaps true"),
    ("every §where§ in axis.interlocks has true", "where is a word of the language", "another"),
    ("axis.drive.node §≤§ 1", "≤ is no sign", "<="),
    ("axis.drive.node §≠§ 1", "≠ is no sign", "not a = b"),
    ("axis.drive.node > 1 §AND§ true", "in lower case", "and, or"),
    ("axis.drive.node > §1.§", "a digit is missing", "1.5"),
    ("§count(§axis.interlocks) = 1", "asked of the items", "count of x in LIST"),
    ("any of §axis.interlocks.triggers§ in [position_lost]", "is a list", "some item in axis.int"),
    ("§axis.release_time§ > 1ms", "is not a fact", "perhaps axis.motor.brake.release_time"),
    ("axis.name is §feed§", "is not known here", "in double quotes"),
    ("§axis.controller.max_velocity < axis.motor.max_speed§", "of axis cannot", "units_per_motor"),
    ("true §or§", "something is missing after or", "the rest of it"),
    ("axis.drive.node §<§  # comment", "something is missing after <", "the rest of it"),
    ("axis.motion §is§", "something is missing after is", "the rest of it"),
    ("§axis.encoder.index_pulse§ = true", "has no order", "is for words, texts and flags"),
    ("true §xor§ true", "xor is no word of the language", "(a or b) and not (a and b)"),
    ("true §->§ true", "-> is no sign of the language", "when, a clause before require"),
    ("true §implies§ true", "implies is no word", "when, a clause before require"),
    ("axis.drive§->§node = 1", "-> is no sign of the language", "a point: axis.drive.node"),
    ("axis.drive.node §+=§ 1", "+= is no sign of the language", "let NAME = a + b"),
    ("axis.drive.node = §+§1", "a sign + stands before a value", "the value alone"),
    ("§unless true§", "unless does not stand here", "when, a clause before require"),
    ("true §unless§ true", "unless joins no conditions", "a or b"),
    ("true §but§ true", "but is no word of the language", "and"),
    ("true§,§ true", "a comma joins no conditions", "and"),
    ("true§,§", "a comma ends no clause", "nothing"),
    ("true§.§", "a point ends no clause", "nothing"),
    ("true§)§", "this ) closes nothing", "a ( before it"),
    ("true §//§ comment", "// is no sign of the language", "# before a comment"),
    ("true and §and§ true", "and stands twice", "and"),
    ("axis.drive.node §> =§ 1", "a blank stands within a sign", "<= or >="),
    ("axis.drive.node §>==§ 1", ">== is no sign", "<= or >="),
    ("axis.drive.node §===§ 1", "=== is no sign", "a = b for numbers"),
    ("axis.drive.node §~=§ 1", "~= is no sign", "a within t of b"),
    ("axis.drive.node §equals§ 1", "equals is no word", "a = b for numbers"),
    ("axis.drive.node §is equal to§ 1", "is equal to is no word", "a = b for numbers"),
    ("§axis.drive.node§ is 1", "a number before is", "= for numbers and dates"),
    ("axis.drive.node is §unknown§", "not asked of a fact", "cannot be decided"),
    ("axis.drive.node §is greater§ 1", "compared by signs", "a > b for more"),
    ("axis.drive.node §exceeds§ 1", "compared by signs", "a > b for more"),
    ("axis.drive.node §must be§ > 1", "must be is no word", "the condition alone"),
    ('axis.name §is like§ "a"', "is like is no word", "begins with"),
    ("axis.name contains §[a]§", "no list", "a contains b or a contains c"),
    ("axis.drive.node between 1 §to§ 3", "between takes and", "a between b and c"),
    ("axis.drive.node between §(1, 3)§", "between takes and", "a between b and c"),
    ("axis.drive.node §is within§ 1 and 3", "before within", "a within t of b"),
    ("axis.interlocks is §[]§", "an empty list is no value", "is empty"),
    ("axis.motion is §[linear]§", "a list is not compared", "is one of [a, b]"),
    ("axis.drive.node > §1_000§", "no sign between thousands", "3000"),
    ("axis.drive.node > §.5§", "missing before the point", "0.5"),
    ("axis.drive.node§²§ > 1", "² stands after a unit only", "^2 or ^3"),
    ("axis.drive.node §squared§ > 1", "squared is no word", "^2 or ^3"),
    ("axis.drive.node §÷§ 2 = 1", "÷ is no sign", "/"),
    ('axis§["drive"]§.node = 1', "a part stands after a point", "axis.drive.node"),
    ("§$§axis.drive.node = 1", "$ is no sign", "the name alone"),
    ("axis.drive.node §??§ 1 = 1", "?? is no sign", "a default b"),
    ("axis.drive.node §? 1 : 2 = 1§", "no choice of the language", "a if c else b"),
    ("§each x§ in axis.interlocks has true", "begins a condition on a list", "every x in LIST"),
    ("§there is x in§ axis.interlocks", "begins a condition on a list", "every x in LIST"),
    ("every x §of§ axis.interlocks has true", "in stands before a list", "every x in LIST"),
    ("every x in axis.interlocks§:§ true", "has stands before what is asked", "every x in LIST"),
    ("axis §has§ brake", "only after every, some or no", "x is not none"),
    ("§max of axis.drive.node, 1 > 1§", "goes through a list", "max(a, b)"),
    ("machine.check_date - §18 months§ > 2026-01-01", "a blank stands between", "18months"),
    ("machine.check_date - §3 weeks§ > 2026-01-01", "weeks is no unit", "such as 21days"),
    ("axis.drive.node = 2^§16§", "16 is no power", "1, 2, 3 or 4"),
    ("§axis.controller.max_acceleration > 1g§", "compared with a mass", "9.80665m/s^2 for"),
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


@pytest.mark.parametrize(
    ("parts", "what", "expected"),
    [
        ({"when": "", "lets": "if axis.motion is linear"}, "if begins no clause", "when"),
        (
            {"lets": "let x = axis.controller.cycle in mm"},
            "the unit of a let stands before its =",
            'let needed "needed delay" in ms = …',
        ),
        ({"lets": "let x := 3"}, "a : stands after the name of a let", "="),
        ({"lets": "let speed limit = 3"}, "a name is one word", "words joined by _"),
        ({"when": "when axis.drive.node = 1"}, "when stands twice", "when"),
        ({"lets": "let x is 3"}, "the = of a let is missing", "="),
        ({"lets": "let x-y = 3"}, "a name is one word", "words joined by _"),
        ({"lets": "let x = 3, y = 4"}, "a let names one value", "another let"),
        ({"lets": "x = 3"}, "a value is named by let", "let x = …"),
        ({"lets": "const x = 3"}, "const begins no clause", "let"),
        ({"lets": "for each axis"}, "for each begins no clause", "each"),
        ({"lets": "unless true"}, "unless begins no clause", "when not (…)"),
        (
            {"lets": "when true then"},
            "then is no word of the language",
            "require, a clause of its own",
        ),
        (
            {"lets": "when true and"},
            "something is missing after and",
            "the rest of it on this line or the next",
        ),
        ({"extra": "requires true"}, "requires begins no clause", "require"),
        ({"extra": "require: true"}, ": stands after the word of a clause", "a blank"),
        ({"extra": "warn 60 days before"}, "unless stands after warn", "warn unless …"),
        ({"extra": "why because"}, "a text stands in double quotes", '"…"'),
        (
            {"extra": 'why "a" + "b"'},
            "texts are joined without a sign",
            '"…" "…", one after the other',
        ),
        ({"extra": 'level "error"'}, "a level stands without quotes", "error, warning or note"),
        ({"say": "{}"}, "this {} holds no value", "{axis.drive.node}, or {{}} as text"),
        (
            {"say": "{axis.drive.node:.2f}"},
            "a value in a text has no format",
            "{x}, {x in mm}, {x rounded up} or {x rounded down}",
        ),
        (
            {"before": 'rule "a-b"'},
            "the name of a rule stands without quotes",
            "lower-case words joined by hyphens",
        ),
        (
            {"before": "rule brake fitted"},
            "the name of a rule is one word",
            "lower-case words joined by hyphens",
        ),
        (
            {"before": "rule a-b:"},
            ": stands after the name",
            "nothing: it ends where the next one begins",
        ),
        (
            {"passes": "axis.drive.node is 1"},
            "a fact of an example takes another sign",
            "axis.drive.node = 1",
        ),
        (
            {"passes": "axis.drive.node = 1, axis.motion = linear"},
            "nothing stands between the facts of an example",
            "a blank: axis.drive.node = 1",
        ),
        (
            {"passes": "axis.drive.node = 1 and axis.motion = linear"},
            "and does not stand between the facts of an example",
            "a blank",
        ),
        (
            {"passes": "axis.motor.max_speed = 3000 rpm"},
            "a blank stands between a number and its unit",
            "3000rpm",
        ),
        (
            {"passes": "axis.motor.serial = S-1"},
            "a text with other signs than letters stands in double quotes",
            '"…"',
        ),
        (
            {"lets": "let x = 3000/min"},
            "min is the least of values here, and no unit",
            "3000rpm for a speed of rotation, or 3000 / 1min",
        ),
    ],
)
def test_a_slip_in_a_clause_is_told_with_its_cure(
    parts: dict[str, str], what: str, expected: str
) -> None:
    with pytest.raises(RuleError) as caught:
        parse_texts({"site.rules": rule_text("true", **parts)}, shipped().trees)
    assert (caught.value.what, caught.value.expected) == (what, expected)


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
        parse_texts({"site.rules": rule_text("true").replace("language 2", "")})
    assert caught.value.expected == "language 2 as first line"
