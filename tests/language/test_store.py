"""Checked trees as plain data and back."""

from __future__ import annotations

import json
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from axisproof.catalogue.catalogue import parse_texts, shipped_texts
from axisproof.language.store import from_plain, to_plain
from axisproof.numbers.exact import Pi
from axisproof.numbers.rational import Fraction
from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from tests.examples import examples
from tests.language.evaluating import rule_text, unless_refused
from tests.language.random_rules import BEFORE, flags, numbers
from tests.numbers.random_fractions import random_fractions

numbers_stored = st.one_of(
    st.integers(),
    random_fractions(),
    st.builds(Pi, st.integers(1, 99), st.sampled_from([-2, -1, 1, 2])),
    st.decimals(allow_nan=False, allow_infinity=False),
)
leaves = st.one_of(st.none(), st.booleans(), st.text(), numbers_stored)
values = st.recursive(
    leaves,
    lambda inner: st.one_of(
        st.lists(inner, max_size=3),
        st.lists(inner, max_size=3).map(tuple),
        st.dictionaries(st.text(), inner, max_size=3),
    ),
    max_leaves=12,
)


def through_text(value: Any) -> Any:
    return from_plain(json.loads(json.dumps(to_plain(value))))


def same(a: Any, b: Any) -> bool:
    """Equal and of one type throughout (1 is not True, and no list is a tuple)."""
    if type(a) is not type(b):
        return False
    if isinstance(a, list | tuple):
        return len(a) == len(b) and all(map(same, a, b))
    if isinstance(a, dict):
        return list(a) == list(b) and all(same(a[key], b[key]) for key in a)
    return bool(a == b)


@given(values)
def test_any_value_of_a_tree_comes_back_as_it_was(value: Any) -> None:
    assert same(through_text(value), value)


@examples(0.5, suppress_health_check=list(HealthCheck))
@given(flags(3), numbers("position", 2))
def test_random_rules_come_back_as_they_were(require: str, let: str) -> None:
    text = rule_text(require, before=BEFORE, lets=f"let x = {let}", say="{x} is {machine.nodes}")
    trees = unless_refused(lambda: parse_texts({"a.rules": text}))
    assert through_text(trees) == trees


@pytest.mark.exhaustive
def test_the_shipped_rules_come_back_as_they_were_places_included() -> None:
    trees = parse_texts(shipped_texts())
    back = through_text(trees)
    assert back == trees
    for mine, theirs in zip(trees.rules, back.rules, strict=True):
        assert [node.at for node in mine.require.walk()] == [
            node.at for node in theirs.require.walk()
        ]


def test_what_is_no_part_of_a_tree_is_not_stored() -> None:
    with pytest.raises(TypeError, match="cannot store"):
        to_plain(Path("x"))


def test_loading_builds_only_the_classes_of_trees() -> None:
    with pytest.raises(KeyError):
        from_plain(["Popen", "x"])


def test_numbers_keep_their_kind() -> None:
    assert through_text(Fraction(1, 3)) == Fraction(1, 3)
    assert through_text(Pi(Fraction(1, 2), -1)) == Pi(Fraction(1, 2), -1)
    assert str(through_text(Decimal("3.330"))) == "3.330"
