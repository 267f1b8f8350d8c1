"""What is wrong with a rule file is said in words, with line and column; nothing else escapes."""

from __future__ import annotations

import re
from typing import Any

import pytest
from axisproof.base.errors import RuleError
from axisproof.catalogue.catalogue import from_texts, shipped_texts
from axisproof.language.bounds import MAX_DEPTH
from axisproof.language.parser import MAX_RULE_BYTES
from axisproof.language.rule_file import RuleFile
from hypothesis import given
from hypothesis import strategies as st

from tests.examples import examples
from tests.language.evaluating import rule_text

PAIR = (
    "axis with other where axis.name is other.gantry.partner"
    " directed by other.gantry.partner without skips"
)
DEFINE = 'define axis.x kind ratio as {} meaning "m"'
SETTING = 'setting room default {} meaning "m" basis "b"'

# § stands where the fault must be placed; it is taken out before the text is read.
CASES: list[tuple[str, dict[str, str] | str, str, str]] = [
    # dimensions
    ("mm plus deg", {"require": "§1mm + 1deg > 1mm"}, "angle cannot be added to a length", "two"),
    ("seconds minus mm", {"require": "§1mm - 1s > 1mm"}, "a time cannot be subtracted", ""),
    ("mm against s", {"require": "§1mm < 1s"}, "a length cannot be compared with a time", ""),
    ("mm against number", {"require": "§1mm = 1"}, "a length cannot be compared with a plain", ""),
    ("mm between s", {"require": "§1mm between 1mm and 2s"}, "cannot be compared", "one dimension"),
    ("mm within s", {"require": "§1mm within 1s of 1mm"}, "cannot be compared", ""),
    ("mm divides s", {"require": "§1mm divides 1s"}, "cannot be compared", ""),
    ("counts plus turns", {"require": "§1count + 1rev = 1rev"}, "cannot be added", ""),
    (
        "literal against position",
        {"require": "§axis.controller.cycle > 5mm"},
        "a position of axis cannot be compared with a length",
        "a condition on axis.motion",
    ),
    (
        "literal under the wrong guard",
        {"require": "§axis.controller.cycle > 5mm", "when": "axis.motion is rotary"},
        "an angle cannot be compared with a length",
        "",
    ),
    (
        "positions of two axes",
        {"require": "§axis.controller.cycle = other.controller.cycle", "each": PAIR},
        "cannot be compared",
        "the condition axis.motion is other.motion before",
    ),
    (
        "sum of user units of all axes",
        {
            "require": "(sum of §a.controller.cycle for a in machine.axes) > 1mm",
            "each": "machine",
        },
        "different axes cannot be combined",
        "a condition on a.motion",
    ),
    ("whole mm", {"require": "§1mm is whole"}, "depends on the unit", "counts or turns"),
    (
        "product of lengths",
        {"require": "(product of §1mm for s in axis.mechanics.stages) > 1mm"},
        "only ratios",
        "a ratio",
    ),
    ("choice of kinds", {"require": "(1mm if true else §1s) > 1mm"}, "this is a time", "leng"),
    (
        "default of kinds",
        {"require": "(axis.drive.node default §1s) > 1"},
        "this is a time",
        "number",
    ),
    ("argument of the wrong dimension", {"require": "floor(§1mm) = 1"}, "this is a length", "x"),
    ("arguments that differ", {"require": "min(1mm, §1s) = 1mm"}, "this is a time", "length"),
    (
        "kind of a definition",
        {"require": "true", "before": DEFINE.format("§1mm")},
        "this is a length",
        "declared as",
    ),
    ("unit in a message", {"require": "true", "say": "{§1mm in s}"}, "s is a unit of time", "leng"),
    (
        "unknown unit in a message",
        {"require": "true", "say": "{§1mm in mn}"},
        "mn is not a unit",
        "perhaps",
    ),
    ("unknown unit", {"require": "§5mn > 1mm"}, "mn", ""),
    ("date plus number", {"require": "§machine.check_date + 1 > 1"}, "a date is not something", ""),
    ("date against number", {"require": "machine.check_date > §1"}, "a number and a date", ""),
    # names
    (
        "unknown fact",
        {"require": "§axis.controller.cylce > 1"},
        "is not a fact",
        "perhaps axis.controller.cycle",
    ),
    (
        "fact in the wrong place",
        {"require": "§axis.cycle > 1"},
        "is not a fact",
        "perhaps axis.controller.cycle",
    ),
    (
        "unknown root",
        {"require": "§axle.drive.node = 1"},
        "axle is not known here",
        "begins with axis or machine",
    ),
    ("unknown word", {"require": "§room > 1"}, "room is not known here", ""),
    (
        "unknown let",
        {"require": "§cycels = 1", "lets": "let cycles = 1"},
        "cycels is not known",
        "perhaps cycles",
    ),
    (
        "group of facts",
        {"require": "§axis.drive.position_register = 1"},
        "is a group of facts",
        "such as",
    ),
    (
        "unknown name",
        {"require": "axis.motion is §lineal"},
        "is not one of its words",
        "perhaps linear",
    ),
    (
        "unknown name in a list",
        {"require": "axis.motion is one of [linear, §rotari]"},
        "not one of its words",
        "perhaps rotary",
    ),
    (
        "no word in common",
        {"require": "axis.motion is §axis.drive.polarity"},
        "no word in common",
        "",
    ),
    ("unknown function", {"require": "§flor(1) = 1"}, "flor is not a function", "perhaps floor"),
    ("too few arguments", {"require": "§remainder(1) = 1"}, "is given 1 values", "remainder(a, b)"),
    ("too many arguments", {"require": "§floor(1, 2) = 1"}, "is given 2 values", "floor(x)"),
    ("let twice", {"require": "true", "lets": "let a = 1 let §a = 2"}, "a means something", ""),
    ("let named as a subject", {"require": "true", "lets": "let §axis = 1"}, "means something", ""),
    ("let with a dot", {"require": "true", "lets": "let §a.b = 1"}, "cannot be used as a name", ""),
    (
        "let named by a keyword",
        {"require": "true", "lets": "let §whole = 1"},
        "whole is a word of",
        "another name",
    ),
    (
        "let named true",
        {"require": "true", "lets": "let §true = 1"},
        "true is a word of",
        "another name",
    ),
    (
        "loop over a taken name",
        {"require": "every §axis in axis.mechanics.stages has true"},
        "means something already",
        "",
    ),
    (
        "keyword as a value",
        {"require": "§safe = 1"},
        "safe is a word of the language",
        "another name",
    ),
    (
        "list in a let",
        {"require": "true", "lets": "let a = §axis.mechanics.stages"},
        "a list cannot be named",
        "",
    ),
    (
        "let before it is known",
        {"require": "true", "lets": "let a = §b let b = 1"},
        "b is not known",
        "",
    ),
    # kinds of value
    ("number as a condition", {"require": "§1"}, "a number is not a condition", "true or false"),
    ("number before is", {"require": "§1 is 2"}, "a number before is", "= for numbers"),
    ("word compared by size", {"require": "§axis.motion < 1"}, "a word has no order", ""),
    ("word equated", {"require": "§axis.motion = linear"}, "a word has no order", "is for words"),
    ("text in a sum", {"require": "§axis.drive.serial + 1 > 1"}, "a text is not something", ""),
    ("never none", {"require": "§axis.drive.serial is none"}, "this is never none", "may be none"),
    ("not a list", {"require": "every s in §axis.drive.node has true"}, "has no records", "a list"),
    (
        "includes in no list",
        {"require": "§axis.drive.node includes 1"},
        "before includes",
        "a list",
    ),
    (
        "includes in a choice of lists",
        {
            "require": "(§axis.encoder.turn_counter.battery.places default"
            " axis.encoder.turn_counter.battery.places) includes cable"
        },
        "a list cannot be chosen",
        "single value",
    ),
    (
        "unique flags",
        {"require": "unique §s.reversing for s in axis.mechanics.stages"},
        "cannot be told apart",
        "",
    ),
    (
        "decimals of a sum",
        {"require": "decimals of §axis.x = 1", "before": DEFINE.format("1")},
        "only a stated fact",
        "a fact",
    ),
    (
        "part in a message",
        {"require": "true", "say": "{§axis.motor.brake}"},
        "a part cannot be",
        "",
    ),
    (
        "unit of a word",
        {"require": "true", "say": "{§axis.motion in mm}"},
        "a word has no unit",
        "",
    ),
    (
        "equality of what is never exact",
        {"require": "§1rad + 1rev = 1rev"},
        "never exact",
        "within",
    ),
    (
        "wholeness of what is never exact",
        {"require": "§circumference(1) + 1 is whole"},
        "never exact",
        "",
    ),
    (
        "division of what is never exact",
        {"require": "1 divides §circumference(1) + 1"},
        "never exact",
        "",
    ),
    ("power too high", {"require": "2^§5 > 1"}, "power 5", "1, 2, 3 or 4"),
    ("power that is not whole", {"require": "2^§2.5 > 1"}, "power 2.5", "1, 2, 3 or 4"),
    ("number too long", {"require": f"§{'1' * 41} > 1"}, "41 digits", "at most 40"),
    # subjects and pairs
    ("unknown subject", {"require": "true", "each": "§axle"}, "axle is not a subject", "axis"),
    (
        "pair of machines",
        {"require": "true", "each": "§machine with other where machine.name is other.name"},
        "a pair of machine",
        "each axis",
    ),
    (
        "pair without a key",
        rule_text("true", each="axis with §other"),
        "something is missing after other",
        "where",
    ),
    (
        "pair by order",
        {"require": "true", "each": "axis with b where axis.drive.node §< b.drive.node"},
        "does not fit",
        "is",
    ),
    (
        "pair with itself",
        {"require": "true", "each": "axis with §axis where axis.name is axis.name"},
        "means something already",
        "",
    ),
    (
        "pair on one side",
        {"require": "true", "each": "axis with b where axis.name is §axis.gantry.partner"},
        "no fact of b",
        "",
    ),
    (
        "pair of unlike kinds",
        {"require": "true", "each": "axis with b where axis.name is §b.drive.node"},
        "of different kinds",
        "",
    ),
    (
        "pair on a flag",
        {
            "require": "true",
            "each": "axis with b where §axis.encoder.index_pulse is b.encoder.index_pulse",
        },
        "cannot be matched on",
        "",
    ),
    (
        "all with all",
        {"require": "§every a in machine.axes has a.drive.node > axis.drive.node"},
        "every one of machine.axes with every one",
        "an equality",
    ),
    (
        "four loops",
        {
            "require": "every a in axis.mechanics.stages has every b in axis.mechanics.stages has"
            " every c in axis.mechanics.stages has §every d in axis.mechanics.stages has true"
        },
        "more than 3 loops",
        "",
    ),
    # clauses
    ("unknown level", "language 2 rule r level §bad", "", ""),
    (
        "no example that passes",
        'language 2 rule §r level error title "t" each axis require true'
        ' say "s" why "w" remedy "r" basis "b" fails "f"',
        "no example that passes",
        'passes "what',
    ),
    (
        "no example that fails",
        'language 2 rule §r level error title "t" each axis require true'
        ' say "s" why "w" remedy "r" basis "b" passes "f"',
        "no example that fails",
        'fails "what',
    ),
    (
        "no clause",
        "language 2\nrule §a-b level error",
        "rule a-b has no title",
        "begins with title",
    ),
    (
        "neither headline nor say",
        'language 2\nrule §a-b level error title "t" each axis require true why "w" remedy "r"'
        ' basis "b"',
        "rule a-b has no headline or say",
        "begins with headline or say",
    ),
    ("clause twice", {"require": "true", "extra": '§why "again"'}, "states why twice", ""),
    (
        "set twice",
        {"require": "true", "extra": "set axis.drive.node to 1 §set axis.drive.node to 2"},
        "states set twice",
        "",
    ),
    (
        "set of a list",
        {"require": "true", "extra": "set §axis.mechanics.stages to 1"},
        "only a single fact",
        "",
    ),
    (
        "set of the wrong kind",
        {"require": "true", "extra": "set axis.drive.node to §1mm"},
        "this is a length",
        "the fact is",
    ),
    (
        "rule twice",
        rule_text("true")
        + rule_text("true").removeprefix("language 2").replace("rule the-rule", "rule §the-rule"),
        "defined twice",
        "",
    ),
    ("rule with a dot", "language 2 rule §a.b level error", "", ""),
    (
        "rule with a capital",
        rule_text("true").replace("the-rule", "§Rule"),
        "name of a rule",
        "lower-case",
    ),
    (
        "rule with an underscore",
        rule_text("true").replace("the-rule", "§the_rule"),
        "name of a rule",
        "",
    ),
    (
        "rule named as a check built in",
        rule_text("true").replace("the-rule", "§sources-agree"),
        "built in",
        "another name",
    ),
    ("unknown clause", {"require": "true", "extra": '§wyh "x"'}, "wyh does not fit here", ""),
    (
        "misspelt clause",
        "language 2\nrule a-b\n  §levle error",
        "levle does not fit here",
        "perhaps level",
    ),
    ("wrong version", "language §3", "language version 3 is not known", "language 2"),
    (
        "earlier version",
        "# a comment\nlanguage §1\ndefine axis.x as 1 otherwise 2",
        "no longer reads language 1",
        "else for the old otherwise",
    ),
    ("no version", "§rule a-b level error", "does not say its language version", "language 2"),
    ("empty file", "§", "the text ends too early", "language"),
    # definitions and settings
    (
        "definition of itself",
        {"require": "true", "before": DEFINE.format("§axis.x + 1")},
        "defined through itself",
        "",
    ),
    (
        "definition of a stated fact",
        {"require": "true", "before": DEFINE.format("1").replace("axis.x", "§axis.name")},
        "exists already",
        "",
    ),
    (
        "definition without subject",
        {"require": "true", "before": DEFINE.format("1").replace("axis.x", "§x")},
        "does not say whose",
        "axis.name",
    ),
    (
        "definition of no subject",
        {"require": "true", "before": DEFINE.format("1").replace("axis.x", "§gantry.x")},
        "gantry is not a subject",
        "axis or machine",
    ),
    (
        "definition over no list",
        {
            "require": "true",
            "before": 'define §s.x for s in axis.drive kind ratio as 1 meaning "m"',
        },
        "not defined over a list",
        "axis.LIST",
    ),
    (
        "unknown kind",
        {"require": "true", "before": DEFINE.format("1").replace("ratio", "§rato")},
        "rato is not a kind",
        "perhaps ratio",
    ),
    (
        "kind to a power that is not whole",
        {"require": "true", "before": DEFINE.format("1").replace("ratio", "length^§2.5")},
        "power 2.5",
        "1, 2, 3 or 4",
    ),
    (
        "definition without meaning",
        {"require": "true", "before": "define §axis.x kind ratio as 1"},
        "has no meaning",
        "",
    ),
    (
        "definition in a unit of another kind",
        {"require": "true", "before": DEFINE.format("1") + " unit §mm"},
        "mm is a unit of length",
        "",
    ),
    (
        "setting twice",
        {
            "require": "true",
            "before": SETTING.format("1") + " " + SETTING.format("2").replace("room", "§room"),
        },
        "defined twice",
        "",
    ),
    (
        "setting that is a word",
        {"require": "true", "before": SETTING.format("§much")},
        "'much' does not begin with a number",
        "",
    ),
    (
        "setting that is a list",
        {"require": "true", "before": SETTING.format("§[1]")},
        "cannot be a list",
        "",
    ),
    (
        "setting within a list item",
        {
            "require": "true",
            "before": SETTING.format("1")
            + ' define s.x for s in axis.mechanics.stages kind ratio as §room meaning "m"',
        },
        "not known within a list item",
        "",
    ),
    # texts and examples
    (
        "text not closed",
        {"require": "true", "extra": 'set axis.drive.serial to §"abc'},
        "not closed on its line",
        "",
    ),
    ("brace not closed", {"require": "true", "say": "a §{1mm"}, "is not closed", "}"),
    ("brace that closes nothing", {"require": "true", "say": "a §} b"}, "closes nothing", "}}"),
    ("empty braces", {"require": "true", "say": "a {§} b"}, "ends too early", ""),
    ("fault within braces", {"require": "true", "say": "a {1mm + §s} b"}, "s is not known", ""),
    ("escape that means nothing", {"require": "true", "say": "a §\\q"}, "means nothing", "\\n"),
    (
        "fact twice in an example",
        {"require": "true", "passes": "axis.drive.node = 1 §axis.drive.node = 2"},
        "is stated twice",
        "",
    ),
    (
        "key twice in an example",
        {"require": "true", "passes": "axis.mechanics.stages = [{kind: belt, §kind: belt}]"},
        "kind is given twice",
        "",
    ),
    (
        "pinned value of the wrong kind",
        {"require": "true", "lets": "let a = 1", "passes": "expect a = §1mm"},
        "this is a length",
        "",
    ),
    ("pinned name unknown", {"require": "true", "passes": "§expect b = 1"}, "b is not known", ""),
    (
        "pinned value that is no constant",
        {"require": "true", "lets": "let a = 1", "passes": "expect a = §axis.drive.node"},
        "axis is not known here",
        "",
    ),
    (
        "needs of an example that passes",
        {"require": "true", "passes": "§needs axis.drive.node"},
        "only an example of the kind `undecided`",
        "",
    ),
    # characters
    ("strange character", {"require": "§€ > 1"}, "'€' does not fit here", ""),
    ("bracket too many", {"require": "(1 = 1)§)"}, ") does not fit here", ""),
    ("operator missing", {"require": "1 §1 = 2"}, "1 does not fit here", ""),
    (
        "comparison of a comparison",
        {"require": "1 §< 2 < 3"},
        "two comparisons in a row",
        "between",
    ),
    # follows from
    (
        "itself",
        {
            "require": "axis.drive.node = 5",
            "extra": "set axis.drive.node to 5 follows from §the-rule",
        },
        "the-rule follows from the-rule",
        "one direction",
    ),
    (
        "no rule",
        {"require": "axis.drive.node = 5", "extra": "follows from §no-such-rule"},
        "no-such-rule is not a rule",
        "the name of a rule",
    ),
]


def read(text: str) -> None:
    from_texts({"a.rules": text})


@pytest.mark.parametrize(
    ("parts", "what", "expected"), [case[1:] for case in CASES], ids=[case[0] for case in CASES]
)
def test_a_faulty_rule_is_refused_where_the_fault_is(
    parts: dict[str, str] | str, what: str, expected: str
) -> None:
    marked = parts if isinstance(parts, str) else rule_text(**parts)
    text = marked.replace("§", "")
    before = marked.split("§")[0]
    with pytest.raises(RuleError) as caught:
        read(text)
    error = caught.value
    assert what in error.what
    assert expected in error.expected
    assert error.place is not None
    assert error.place.file == "a.rules"
    if what:
        line, column = before.count("\n") + 1, len(before) - before.rfind("\n")
        assert (error.place.line, error.place.column) == (line, column), error
        assert error.source_line == text.split("\n")[line - 1]


def test_the_table_of_faulty_rules_is_long() -> None:
    assert len(CASES) >= 60
    assert len({case[0] for case in CASES}) == len(CASES)


def test_cyclic_definitions_are_refused_where_the_circle_closes() -> None:
    before = DEFINE.format("axis.y + 1") + "\n" + DEFINE.format("axis.x").replace("x k", "y k", 1)
    with pytest.raises(RuleError, match="defined through itself") as caught:
        read(rule_text("true", before=before))
    assert caught.value.place is not None


@pytest.mark.parametrize(
    "require",
    [
        "(" * 3_000 + "1 = 1" + ")" * 3_000,
        "(" * 3_000,
        "not " * 3_000 + "true",
        "+".join(["1"] * 3_000) + " = 1",
        " and ".join(["true"] * 3_000),
        " default ".join(["axis.drive.node"] * 3_000) + " = 1",
        "-" * 3_000 + "1 = 1",
        "1 = 1 if true else " * 2_000 + "true",
        "every s in axis.mechanics.stages has " * 2_000 + "true",
        "absolute(" * 2_000 + "1" + ")" * 2_000 + " = 1",
        " require ".join(["true"] * 2_000),
        "+".join(["1"] * 3_000) + ") = 1",
    ],
    ids=lambda text: text[:20],
)
def test_absurd_nesting_is_refused_in_words(require: str) -> None:
    with pytest.raises(RuleError) as caught:
        read(rule_text(require))
    assert caught.value.place is not None


@pytest.mark.parametrize("value", ["[" * 5_000, "{a: " * 5_000, "[" * 40 + "]" * 40])
def test_absurd_nesting_of_an_example_is_refused(value: str) -> None:
    with pytest.raises(RuleError):
        read(rule_text("true", passes=f"axis.mechanics.stages = {value} x"))


def test_nesting_up_to_the_limit_is_compiled_and_runs() -> None:
    depth = MAX_DEPTH - 3
    for require in (
        "(" * depth + "1 = 1" + ")" * depth,
        "true and (" * depth + "axis.drive.node = 1" + ")" * depth,
        " or ".join(["axis.drive.node = 1"] * depth),
        "true if axis.drive.node = 1 else " * depth + "true",
        "absolute(" * depth + "axis.drive.node" + ")" * depth + " = 1",
    ):
        read(rule_text(require))


def test_a_long_chain_of_definitions_is_refused() -> None:
    chain = 'define axis.d0 kind ratio as axis.drive.node meaning "m"\n' + "\n".join(
        f'define axis.d{n + 1} kind ratio as axis.d{n} meaning "m"' for n in range(400)
    )
    with pytest.raises(RuleError, match="through definitions"):
        read(rule_text("axis.d400 = 1", before=chain))


def test_too_many_definitions_are_refused() -> None:
    many = "\n".join(f'define axis.d{n} kind ratio as 1 meaning "m"' for n in range(501))
    with pytest.raises(RuleError, match="more than 500 definitions"):
        read(rule_text("true", before=many))


def test_a_file_too_large_is_refused_before_it_is_read() -> None:
    with pytest.raises(RuleError, match="larger than"):
        read("#" * (MAX_RULE_BYTES + 1))


def test_a_place_beyond_the_last_line_has_an_empty_line() -> None:
    file = RuleFile("a.rules", "language 2\r\n")
    assert (file.line(1), file.line(9), file.line(0)) == ("language 2", "", "")


# Random text ------------------------------------------------------------------------------------

TOKENS = re.compile(r'"(?:[^"\\\n]|\\.)*"|[A-Za-z0-9_.²³·-]+|\s+|[^\s]')
SAMPLE = rule_text(
    "cycles is whole and axis.controller.cycle > 5mm or not axis.motor.brake is none",
    before=SETTING.format("10%") + "\n" + DEFINE.format("axis.drive.node default 1"),
    when="axis.motion is linear and axis.motion is one of [linear, rotary]",
    lets="let cycles = (sum of s.motor_side_teeth for s in axis.mechanics.stages where s.kind is"
    " belt) / -2^2 * room",
    say="after {cycles} of {axis.controller.cycle in mm}",
    extra="set axis.drive.node to floor(cycles) safe given axis.motion = linear",
    passes="axis.drive.node = 1 expect cycles = 3",
    fails='axis.mechanics.stages = [{kind: belt}] undecided "u" needs axis.drive.node',
)
WORDS = sorted({token for token in TOKENS.findall(SAMPLE) if not token.isspace()} | {"{", "}", '"'})


def read_or_refuse(text: str) -> None:
    refusal = None
    try:
        read(text)
    except RuleError as error:
        refusal = error
    if refusal is not None:
        assert refusal.what
        assert refusal.place is None or refusal.place.line >= 1


@examples(1.5)
@given(st.text(max_size=80), st.sampled_from(["", "language 2\n", "language 2\nrule a-b\n"]))
def test_random_text_is_read_or_refused(text: str, before: str) -> None:
    read_or_refuse(before + text)


@examples(1.5)
@given(st.lists(st.sampled_from(WORDS), max_size=30))
def test_random_words_of_the_language_are_read_or_refused(words: list[str]) -> None:
    read_or_refuse("language 2\n" + " ".join(words))


edits = st.tuples(
    st.sampled_from(["delete", "insert", "duplicate", "swap", "replace"]),
    st.integers(0, 10_000),
    st.sampled_from(WORDS),
)


def edited(tokens: list[str], edit: tuple[str, int, str]) -> list[str]:
    kind, number, word = edit
    at = number % len(tokens)
    match kind:
        case "delete":
            return tokens[:at] + tokens[at + 1 :]
        case "insert":
            return [*tokens[:at], " ", word, " ", *tokens[at:]]
        case "duplicate":
            return tokens[:at] + tokens[at : at + 1] * 2 + tokens[at + 1 :]
        case "swap":
            return tokens[at:] + tokens[:at] if at % 7 == 0 else tokens[:at] + tokens[at:][::-1]
    return [*tokens[:at], word, *tokens[at + 1 :]]


@examples(3)
@given(st.lists(edits, min_size=1, max_size=3))
def test_a_rule_with_words_changed_is_read_or_refused(changes: list[Any]) -> None:
    tokens = TOKENS.findall(SAMPLE)
    for change in changes:
        tokens = edited(tokens, change) or [""]
    read_or_refuse("".join(tokens))


def test_the_sample_that_is_mutated_is_itself_sound() -> None:
    read(SAMPLE)


@given(st.data())
def test_a_shipped_rule_with_a_character_changed_is_read_or_refused(data: st.DataObject) -> None:
    texts = shipped_texts()
    if not texts:
        pytest.skip("no rules are shipped")
    text = data.draw(st.sampled_from(sorted(texts.values())))
    # A window keeps it quick: the head of the file and one stretch of it.
    rules = re.split(r"(?m)^(?=rule )", text)
    part = "language 2\n" + data.draw(st.sampled_from(rules[1:] or rules))
    at = data.draw(st.integers(0, len(part) - 1))
    sign = data.draw(st.sampled_from(['"', "{", "}", "(", "#", "\\", "§", "0", "x", " ", ""]))
    read_or_refuse(part[:at] + sign + part[at + 1 :])


def test_an_equality_with_a_literal_is_no_key_for_a_loop_within_a_loop() -> None:
    text = """language 2
rule every-pair-met
  level error title "t" each axis
  require every a in machine.axes where a.motion is linear has a.drive.node > 0
  say "s" why "w" remedy "r" basis "b"
  passes "p" axis.drive.node = 1
  fails "f" axis.drive.node = 1
"""
    with pytest.raises(RuleError) as caught:
        from_texts({"own.rules": text})
    assert caught.value.place is not None
    assert (caught.value.place.line, caught.value.place.column) == (4, 11)
    assert "meets every one of machine.axes" in caught.value.what


CAUSE = 'rule cause level error title "t" each axis require axis.drive.node = 5 {} say "s" '
CAUSE += 'why "w" remedy "r" basis "b" passes "p" fails "f"\n'


@pytest.mark.parametrize(
    ("parts", "cause", "what"),
    [
        ({"require": "axis.motor.brake is none"}, "set axis.drive.node to 5", "gravity, brakes"),
        ({"require": "axis.hangs"}, "set axis.drive.node to 5", "gravity, brakes"),
        (
            {"require": "axis.drive.node = 5", "when": "axis.hangs"},
            "set axis.drive.node to 5",
            "gravity, brakes",
        ),
        (
            {"require": 'machine.name is "a"', "each": "machine"},
            "set axis.drive.node to 5",
            "is not about one axis alone",
        ),
        ({"require": "axis.drive.node = 5"}, "", "cause computes no value of one fact"),
    ],
)
def test_what_must_be_told_follows_from_nothing(
    parts: dict[str, str], cause: str, what: str
) -> None:
    define = 'define axis.{} kind flag meaning "m" as {}\n'
    before = define.format("hangs", "axis.drive.node = 3") + define.format("x", "axis.hangs")
    text = rule_text(**parts, before=before + CAUSE.format(cause), extra="follows from cause")
    with pytest.raises(RuleError) as caught:
        from_texts({"a.rules": text})
    assert what in caught.value.what
