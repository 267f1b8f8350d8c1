"""The encoding of what a cache or a shard holds: exact, and refused where it is of another form."""

from __future__ import annotations

import json
from dataclasses import fields, is_dataclass
from typing import Any

import pytest
from axisproof.batch import codec
from axisproof.checking.record import Record
from axisproof.findings.finding import Feature, Figure
from axisproof.numbers.exact import Approx, Number, Pi
from axisproof.numbers.rational import Fraction, norm
from hypothesis import given
from hypothesis import strategies as st

from tests.numbers.random_fractions import random_fractions

rationals = random_fractions().map(norm)
numbers: st.SearchStrategy[Number] = st.one_of(
    st.integers(),
    random_fractions(),
    st.builds(Pi, rationals.filter(bool), st.integers(-5, 5).filter(bool)),
    st.builds(Approx, st.floats(allow_nan=False), st.floats(0)),
)
texts = st.text(st.characters())  # halves of surrogate pairs included: names of files may have them


@given(texts, texts, numbers, st.none() | numbers)
def test_what_is_encoded_comes_back_as_it_was(
    name: str, text: str, start: Number, end: Number | None
) -> None:
    feature = Feature("wrap", name, text, start, end)
    plain = json.loads(json.dumps(codec.encoder(Feature)(feature)))
    back = codec.decoder(Feature)(plain)
    assert back == feature
    assert [type(back.start), type(back.end)] == [type(start), type(end)]


plain_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from(["rule", "file", "fraction", "pi", "approx", "start", "x"]),
            inner,
            max_size=3,
        )
    ),
    max_leaves=8,
)


@given(plain_values, st.sampled_from(Feature.__match_args__))
def test_a_value_of_the_wrong_form_is_refused_and_nothing_else_happens(
    value: Any, field: str
) -> None:
    right = codec.encoder(Feature)(Feature("wrap", "n", "t", Fraction(1, 3), None))
    for plain in (value, {**right, field: value}):
        try:
            back = codec.decoder(Feature)(plain)
        except codec.DecodeError:
            continue
        again = codec.encoder(Feature)(back)
        assert codec.decoder(Feature)(again) == back


def test_every_part_of_a_record_has_an_encoding() -> None:
    assert is_dataclass(Record)
    empty = Record("a.yaml", figures := ())
    assert figures == ()
    plain = codec.encoder(Record)(empty)
    assert set(plain) == {each.name for each in fields(Record)}
    assert codec.decoder(Record)(plain) == empty
    figure = Figure("f", "1 mm", {"value": 1.5, "error": 0.1, "unit": "mm", "text": None})
    assert codec.decoder(Figure)(codec.encoder(Figure)(figure)) == figure
    with pytest.raises(TypeError):
        codec.encoder(bytes)
    with pytest.raises(TypeError):
        codec.decoder(bytes)
