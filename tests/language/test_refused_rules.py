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
from tests.language.faulty_clauses import CLAUSES
from tests.language.faulty_expressions import EXPRESSIONS
from tests.language.rule_parts import DEFINE, SETTING

CASES = [*EXPRESSIONS, *CLAUSES]


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
