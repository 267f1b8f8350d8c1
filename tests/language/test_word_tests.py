"""What rules ask of texts and of lists of words: three values, and what is refused."""

from __future__ import annotations

import itertools
from typing import Any

import pytest
from axisproof.base.errors import RuleError
from axisproof.language.printing import formula
from axisproof.language.word_tests import all_of, any_of, is_empty, none_of
from axisproof.machine.reader import read_plain

from tests.language.evaluating import (
    BROKEN,
    HOLDS,
    UNDECIDED,
    assert_refused,
    catalogue_of,
    checked,
    judge,
    outcome,
    run,
)

SERIAL = {"motor": {"serial": "MX-1200"}}
PLACES = "axis.encoder.turn_counter.battery.places"


def with_places(places: Any) -> dict[str, Any]:
    battery = {} if places is None else {"places": places}
    return {"encoder": {"turn_counter": {"battery": battery}}}


@pytest.mark.parametrize(
    ("require", "expected"),
    [
        ('axis.motor.serial begins with "MX"', HOLDS),
        ('axis.motor.serial begins with "X"', BROKEN),
        ('axis.motor.serial begins with "mx"', BROKEN),
        ('axis.motor.serial ends with "00"', HOLDS),
        ('axis.motor.serial ends with "12"', BROKEN),
        ('axis.motor.serial contains "12"', HOLDS),
        ('axis.motor.serial contains "21"', BROKEN),
        ('not axis.motor.serial contains "21"', HOLDS),
        ('axis.motor.serial is one of ["MX-1200", "MX-1300"]', HOLDS),
        ('axis.motor.serial is not one of ["MX-1200", "MX-1300"]', BROKEN),
        ('axis.motor.serial is one of ["MX-12", "MX-1300"]', BROKEN),
        ('axis.motor.serial contains "*"', BROKEN),
    ],
)
def test_of_a_text(require: str, expected: str) -> None:
    assert outcome(require, SERIAL) == expected
    verdict = judge(require)
    assert verdict.outcome == UNDECIDED
    assert verdict.traced.missing == ("axes.axis.motor.serial",)


def test_a_text_that_is_none_begins_with_nothing() -> None:
    none = {"drive": {"firmware_minimum": "none"}}
    assert outcome('axis.drive.firmware_minimum begins with "2"', none) == BROKEN
    assert outcome('not axis.drive.firmware_minimum contains "2"', none) == HOLDS


def test_a_text_can_be_compared_with_a_text_of_the_machine() -> None:
    facts = {"motor": {"serial": "MX-1200"}, "encoder": {"serial": "12"}}
    assert outcome("axis.motor.serial contains axis.encoder.serial", facts) == HOLDS
    assert outcome("axis.motor.serial begins with axis.encoder.serial", facts) == BROKEN


@pytest.mark.parametrize(
    ("require", "what", "expected"),
    [
        ('axis.name is "feed*"', "compared letter by letter", 'begins with "feed"'),
        ('axis.name is "*feed"', "compared letter by letter", 'ends with "feed"'),
        ('axis.name is "*feed*"', "compared letter by letter", 'contains "feed"'),
        ('axis.name is "a*b"', "compared letter", 'begins with "a", and ends with "b"'),
        ('"feed*" is axis.name', "compared letter by letter", 'begins with "feed"'),
        ('axis.name is one of ["feed*"]', "compared letter by letter", 'begins with "feed"'),
        ('axis.name begins with "feed*"', "compared letter by letter", 'begins with "feed"'),
        ('axis.name contains "*feed*"', "compared letter by letter", 'contains "feed"'),
        (
            'axis.controller.homing.after includes "feed*"',
            "compared letter by letter",
            'begins with "feed"',
        ),
        ('axis.name is "feed 1"', 'no name is ever "feed 1"', "schema permits"),
        ('axis.name begins with "1"', 'no name ever begins with "1"', "schema permits"),
        ('axis.name contains " "', 'no name ever contains " "', "schema permits"),
        ('axis.name ends with "."', 'no name ever ends with "."', "schema permits"),
        ('axis.gantry.partner begins with "-"', "no partner ever begins with", "schema"),
        ('axis.motor.serial contains ""', "every text holds the empty text", "one letter"),
        ('axis.encoder.kind begins with "abs"', "a word before begins with", "is one of ["),
        ('axis.drive.node contains "1"', "a number before contains", "a text"),
        ("axis.motor.serial contains 1", "this is a number", "a text"),
        ('"abc" contains "b"', "the same on every machine", "a fact"),
        ('axis.motor.serial is one of ["A", "A"]', "stands here twice", "once"),
        (f"{PLACES} is known", "would let a missing fact decide", "asks for documentation"),
        ("any of [cable] in [drive]", "the same on every machine", "a list"),
        (f"any of {PLACES} in [cabel]", "is not one of its words", "cable"),
        (f"any of {PLACES} in axis.controller.homing.after", "no word in common", ""),
        ("any of axis.interlocks in [cable]", "a list after any of", "words or numbers"),
        ('axis.controller.homing.after includes "a b"', 'no after is ever "a b"', "permits"),
        ("axis.motor is empty", "a group of facts", "one of them"),
        ("axis.drive.node is empty", "a number before is empty", "a list"),
    ],
)
def test_what_cannot_be_meant_is_refused(require: str, what: str, expected: str) -> None:
    assert_refused(lambda: checked(require), what, expected)


def test_a_name_that_the_schema_permits_is_accepted() -> None:
    for words in ('begins with "feed"', 'ends with "-1"', 'contains "_"', 'is "feed-1"'):
        assert checked(f"axis.name {words}").rules


TABLE = [
    # list, partial, any of [cable, drive], all of it, none of it, all of [cable, drive] in it
    ([], False, False, True, True, False),
    ([], True, None, None, None, None),
    (["cable"], False, True, True, False, False),
    (["cable"], True, True, None, False, None),
    (["cable", "drive"], False, True, True, False, True),
    (["cable", "drive"], True, True, None, False, True),
    (["encoder"], False, False, False, True, False),
    (["encoder"], True, None, False, None, None),
    (["encoder", "cable"], False, True, False, False, False),
    (["encoder", "cable"], True, True, False, False, None),
    (None, False, None, None, None, None),
]
OUTCOMES = {True: HOLDS, False: BROKEN, None: UNDECIDED}


@pytest.mark.parametrize(("words", "partial", "some", "whole", "none", "holds"), TABLE)
def test_of_a_list_of_words(
    words: Any, partial: bool, some: Any, whole: Any, none: Any, holds: Any
) -> None:
    facts = with_places({"partial": words} if partial else words)
    assert outcome(f"any of {PLACES} in [cable, drive]", facts) == OUTCOMES[some]
    assert outcome(f"all of {PLACES} in [cable, drive]", facts) == OUTCOMES[whole]
    assert outcome(f"none of {PLACES} in [cable, drive]", facts) == OUTCOMES[none]
    assert outcome(f"all of [cable, drive] in {PLACES}", facts) == OUTCOMES[holds]
    assert outcome(f"any of [cable, drive] in {PLACES}", facts) == OUTCOMES[some]
    empty = None if words is None or (partial and not words) else not words
    assert outcome(f"{PLACES} is empty", facts) == OUTCOMES[empty]
    denied = None if empty is None else not empty
    assert outcome(f"{PLACES} is not empty", facts) == OUTCOMES[denied]


def test_two_lists_of_the_machine() -> None:
    battery = {"places": ["cable"], "offered_places": ["cable", "drive"]}
    facts = {"encoder": {"turn_counter": {"battery": battery}}}
    offered = "axis.encoder.turn_counter.battery.offered_places"
    assert outcome(f"all of {PLACES} in {offered}", facts) == HOLDS
    assert outcome(f"all of {offered} in {PLACES}", facts) == BROKEN
    battery["places"] = {"partial": ["cable"]}  # type: ignore[assignment]
    verdict = judge(f"all of {PLACES} in {offered}", facts)
    assert verdict.outcome == UNDECIDED
    assert verdict.traced.missing == (
        "axes.axis.encoder.turn_counter.battery.places (the whole list)",
    )


LISTS = [None, [], ["a"], ["b"], ["a", "b"], ["a", "b", "c"]]
WHOLE: list[list[str]] = [each for each in LISTS if each is not None]


@pytest.mark.parametrize("test", [any_of, all_of, none_of])
def test_less_evidence_never_turns_an_answer(test: Any) -> None:
    """What a partial or missing list says, every whole list says that it can stand for."""

    def stands_for(known: Any, partial: bool) -> list[list[str]]:
        if known is None:
            return WHOLE
        return [w for w in WHOLE if set(known) <= set(w)] if partial else [known]

    for one, p, other, q in itertools.product(LISTS, (False, True), LISTS, (False, True)):
        said = test(one, p and one is not None, other, q and other is not None)
        for first, second in itertools.product(stands_for(one, p), stands_for(other, q)):
            sure = test(first, False, second, False)
            assert sure is not None
            assert said is None or said is sure, (one, p, other, q, first, second)
        if p and one is not None and test is not any_of:
            assert said is not True
        if q and other is not None and test is all_of:
            assert said is not False


def test_an_empty_list_is_whole_and_without_items() -> None:
    assert [is_empty(*each) for each in ((None, False), ([], False), ([], True), ([0], True))] == [
        None, True, None, False,
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("locks", "expected"),
    [
        (["position_lost"], BROKEN),
        ([], HOLDS),
        ({"partial": []}, UNDECIDED),
        ({"partial": ["position_lost"]}, BROKEN),
    ],
)
def test_no_item(locks: Any, expected: str) -> None:
    words = locks["partial"] if isinstance(locks, dict) else locks
    items: Any = [{"latched": True, "triggers": [word]} for word in words]
    facts = {"interlocks": {"partial": items} if isinstance(locks, dict) else items}
    assert outcome("no lock in axis.interlocks has lock.latched", facts) == expected
    assert outcome("no lock in axis.interlocks where lock.latched has true", facts) == expected


ASKS = {"extra": "asks for documentation"}


@pytest.mark.parametrize(
    ("facts", "expected"),
    [
        ({}, BROKEN),
        ({"motor": {"brake": {}}}, HOLDS),
        ({"motor": {"brake": "none"}}, HOLDS),
    ],
)
def test_is_known_in_a_rule_that_asks_for_documentation(facts: Any, expected: str) -> None:
    assert outcome("axis.motor.brake is known", facts, **ASKS) == expected


def test_is_known_of_a_fact_in_dispute_or_below_none() -> None:
    claims = [{"value": 1, "source": "a"}, {"value": 2, "source": "b"}]
    disputed = {"drive": {"node": {"claims": claims}}}
    verdict = judge("axis.drive.node is known", disputed, **ASKS)
    assert verdict.outcome == UNDECIDED
    assert verdict.traced.missing == ("axes.axis.drive.node",)
    none = {"motor": {"brake": "none"}}
    assert outcome("axis.motor.brake.voltage is known", none, **ASKS) == HOLDS
    assert outcome("axis.motor.brake.voltage is known", **ASKS) == BROKEN


def test_is_known_of_a_list() -> None:
    for stated, expected in (([], HOLDS), ({"partial": []}, UNDECIDED), (None, BROKEN)):
        facts = {} if stated is None else {"interlocks": stated}
        assert outcome("axis.interlocks is known", facts, **ASKS) == expected


@pytest.mark.parametrize(
    "require",
    [
        "not (axis.drive.node is known)",
        "axis.drive.node is known or axis.signed",
        "true if axis.drive.node is known else false",
    ],
)
def test_is_known_stands_alone(require: str) -> None:
    require = require.replace("axis.signed", "axis.encoder.index_pulse")
    with pytest.raises(RuleError, match="is known would let a missing fact decide here"):
        checked(require, **ASKS)


def test_a_rule_that_asks_for_documentation_says_for_which() -> None:
    with pytest.raises(RuleError, match="asks for no documentation"):
        checked("axis.drive.node = 1", **ASKS)


def test_two_requirements_of_which_one_asks() -> None:
    found = catalogue_of("axis.drive.node is known require axis.motor.serial is known", **ASKS)
    for drive, motor, expected in ((1, "A", HOLDS), (1, None, BROKEN), (None, "A", BROKEN)):
        axis: dict[str, Any] = {"motion": "linear"}
        axis |= {"drive": {"node": drive}} if drive else {}
        axis |= {"motor": {"serial": motor}} if motor else {}
        machine = read_plain({"axes": {"axis": axis}})
        machine.facts["check_date"] = 0
        assert run(found, machine)[0].outcome == expected


@pytest.mark.parametrize(
    "text",
    [
        'motor.serial begins with "MX"',
        'not motor.serial ends with "1"',
        'motor.serial is not one of ["A", "B"]',
        "any of encoder.turn_counter.battery.places in [cable, drive]",
        "not all of [cable] in encoder.turn_counter.battery.places",
        "none of drive.supported_homing_methods in [3, 35]",
        'any of controller.homing.after in ["a"]',
        "interlocks is not empty",
        "no i in interlocks has i.latched",
        "(no i in interlocks has i.latched) and encoder.index_pulse",
    ],
)
def test_it_is_printed_as_it_is_written(text: str) -> None:
    raw = text
    for root in ("motor", "encoder", "drive", "controller", "interlocks"):
        raw = raw.replace(f"{root}.", f"axis.{root}.") if root != "interlocks" else raw
    raw = raw.replace(" interlocks", " axis.interlocks")
    raw = f"axis.{raw}" if raw.startswith("interlocks") else raw
    assert formula(checked(raw).rules[0].require) == text
