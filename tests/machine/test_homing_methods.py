"""Homing methods of CiA 402: what each number and neutral name relies on (from memory)."""

from __future__ import annotations

import pytest
from axisproof.machine import homing_methods as methods
from axisproof.machine.schema import Leaf, axis_type, lookup

STANDARD = [*range(0, 15), *range(17, 31), 33, 34, 35, 37]


def where(question: object, among: list[int]) -> set[int]:
    assert callable(question)
    return {method for method in among if question(method)}


def test_methods_with_index_are_1_to_14_and_33_and_34() -> None:
    assert where(methods.uses_index, STANDARD) == {*range(1, 15), 33, 34}


def test_methods_with_home_switch_are_3_to_14_and_19_to_30() -> None:
    assert where(methods.uses_home_switch, STANDARD) == {*range(3, 15), *range(19, 31)}


def test_methods_with_limit_switch_use_it_as_reference_or_to_reverse() -> None:
    reference, reversal = {1, 2, 17, 18}, {*range(7, 15), *range(23, 31)}
    assert where(methods.uses_limit_switch, STANDARD) == reference | reversal


def test_methods_3_to_6_and_19_to_22_need_a_switch_held_to_the_travel_end() -> None:
    assert where(methods.needs_held_switch, STANDARD) == {3, 4, 5, 6, 19, 20, 21, 22}


def test_only_35_and_37_take_the_axis_where_it_stands() -> None:
    assert where(methods.sets_current_position, STANDARD) == {35, 37}
    assert methods.sets_current_position("current_position") is True


def test_a_method_without_index_is_its_partner_with_index_16_below() -> None:
    for method in range(17, 31):
        partner = method - 16
        assert methods.search_direction(method) == methods.search_direction(partner)
        assert methods.approach_direction(method) == methods.approach_direction(partner)
        assert methods.limit_switch(method) == methods.limit_switch(partner)
        assert methods.method_words(partner).replace(f"method {partner} ", f"method {method} ") == (
            methods.method_words(method).replace(")", " and index pulse)")
        )


@pytest.mark.parametrize(
    ("method", "search", "approach", "limit_switch"),
    [
        (1, "negative", "positive", "negative"),
        (2, "positive", "negative", "positive"),
        (3, None, "negative", None),
        (4, None, "positive", None),
        (5, None, "positive", None),
        (6, None, "negative", None),
        (7, "positive", "negative", "positive"),
        (8, "positive", "positive", "positive"),
        (10, "positive", "positive", "positive"),
        (11, "negative", "positive", "negative"),
        (14, "negative", "negative", "negative"),
        (33, "negative", "negative", None),
        (34, "positive", "positive", None),
        (37, None, None, None),
        ("hard_stop_negative", "negative", "negative", None),
        ("hard_stop_negative_index", "negative", "positive", None),
        ("home_switch_positive", "positive", None, None),
    ],
)
def test_directions_are_given_where_the_method_fixes_them(
    method: int | str, search: str | None, approach: str | None, limit_switch: str | None
) -> None:
    assert methods.search_direction(method) == search
    assert methods.approach_direction(method) == approach
    assert methods.limit_switch(method) == limit_switch


def test_the_side_that_is_searched_is_that_of_the_switch_or_stop() -> None:
    """From memory: 1, 5, 6, 11 to 14 look at the negative end, 2 to 4, 7 to 10 at the positive."""
    negative = {1, 5, 6, 11, 12, 13, 14}
    assert where(methods.searches_negative, list(range(1, 15))) == negative
    assert where(methods.searches_negative, list(range(17, 31))) == {n + 16 for n in negative}
    assert methods.searches_negative(33) is True
    assert methods.searches_negative(34) is False
    assert methods.searches_negative("hard_stop_negative") is True
    assert methods.searches_negative("home_switch_positive") is False
    assert methods.searches_negative(37) is None


def test_the_reference_is_met_in_the_direction_of_the_last_move() -> None:
    """From memory: the odd one of each pair about an edge leaves it on the other side."""
    assert where(methods.approaches_negative, list(range(1, 15))) == {2, 3, 6, 7, 9, 12, 14}
    assert methods.approaches_negative(37) is None


QUESTIONS = [
    methods.uses_index,
    methods.uses_home_switch,
    methods.uses_limit_switch,
    methods.needs_held_switch,
    methods.uses_hard_stop,
    methods.sets_current_position,
    methods.search_direction,
    methods.approach_direction,
    methods.limit_switch,
    methods.searches_negative,
    methods.approaches_negative,
]


@pytest.mark.parametrize("question", QUESTIONS)
@pytest.mark.parametrize("method", [-128, -4, -1, 15, 16, 31, 32, 36, 38, 120])
def test_nothing_is_claimed_about_the_makers_own_and_reserved_numbers(
    method: int, question: object
) -> None:
    assert callable(question)
    assert question(method) is None


def test_reserved_and_withdrawn_numbers_are_told_apart() -> None:
    reserved = {method for method in range(-128, 128) if methods.is_reserved(method)}
    assert reserved == {15, 16, 31, 32, 36, *range(38, 128)}
    assert {method for method in range(-128, 128) if methods.is_withdrawn(method)} == {35}
    assert not methods.is_reserved("current_position")
    assert not methods.is_withdrawn("current_position")
    assert not reserved & set(methods.NUMBERED)


def test_only_neutral_names_say_that_a_hard_stop_is_used() -> None:
    assert where(methods.uses_hard_stop, STANDARD) == set()
    assert {name for name in methods.NAMED if methods.uses_hard_stop(name)} == {
        "hard_stop_negative",
        "hard_stop_positive",
        "hard_stop_negative_index",
        "hard_stop_positive_index",
    }


def test_the_schema_knows_exactly_the_neutral_names() -> None:
    kind = lookup(axis_type(), "controller.homing.method").type
    assert isinstance(kind, Leaf)
    assert set(kind.names) == set(methods.NAMED)
    assert kind.maximum == max(methods.NUMBERED)


def test_a_name_that_ends_in_index_uses_the_index() -> None:
    for name in methods.NAMED:
        assert methods.uses_index(name) is (name.endswith("_index") or "next_index" in name)


def test_a_name_that_means_one_number_becomes_that_number() -> None:
    numbers = {name: methods.normalised(name) for name in methods.NAMED}
    assert {name: n for name, n in numbers.items() if isinstance(n, int)} == {
        "limit_switch_negative_index": 1,
        "limit_switch_positive_index": 2,
        "limit_switch_negative": 17,
        "limit_switch_positive": 18,
        "next_index_negative": 33,
        "next_index_positive": 34,
    }
    assert methods.normalised("current_position") == "current_position"
    assert methods.normalised(35) == 35
    for name, number in numbers.items():
        assert methods.traits(number) == methods.traits(name)


def test_a_home_switch_name_leaves_open_whether_the_switch_is_held() -> None:
    assert methods.uses_home_switch("home_switch_negative") is True
    assert methods.needs_held_switch("home_switch_negative") is None
    assert methods.uses_limit_switch("home_switch_negative_index") is None


@pytest.mark.parametrize(
    ("method", "words"),
    [
        (0, "method 0 (no homing)"),
        (1, "method 1 (negative limit switch and index pulse)"),
        (18, "method 18 (positive limit switch)"),
        (34, "method 34 (next index pulse in the positive direction)"),
        (35, "method 35 (current position, withdrawn)"),
        (37, "method 37 (current position)"),
        (-3, "method -3 (the maker’s own)"),
        (31, "method 31 (reserved)"),
        ("hard_stop_positive_index", "positive hard stop and index pulse"),
        ("home_switch_negative", "home switch searched in the negative direction"),
    ],
)
def test_a_method_is_said_in_words(method: int | str, words: str) -> None:
    assert methods.method_words(method) == words


def test_every_standard_method_is_said_differently() -> None:
    words = [methods.method_words(m).partition(" (")[2] for m in STANDARD if m != 35]
    assert len(set(words)) == len(words)
