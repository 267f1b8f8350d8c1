"""Our fractions against ``fractions.Fraction`` of the Python that runs the tests."""

import math
import operator
import pickle
from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction as Standard

import pytest
from axisproof.numbers.rational import Fraction, read_fraction
from hypothesis import assume, given
from hypothesis import strategies as st

from tests.shared_bytes import assert_shared_bytes_are_whole

WIDE = st.fractions() | st.fractions(max_denominator=9) | st.integers().map(Standard)


def same(ours: object, theirs: object) -> None:
    """The same value of the corresponding class, in lowest terms."""
    if isinstance(theirs, Standard):
        assert isinstance(ours, Fraction)
        assert (ours.numerator, ours.denominator) == (theirs.numerator, theirs.denominator)
        assert str(ours) == str(theirs)
        assert hash(ours) == hash(theirs)
        assert pickle.loads(pickle.dumps(ours)) == ours
    else:
        assert type(ours) is type(theirs)
        assert ours == theirs


@pytest.mark.parametrize(
    "name",
    "add sub mul truediv floordiv mod divmod lt le eq ne gt ge".split(),
)
@given(a=WIDE, b=WIDE, whole=st.integers())
def test_operators_agree(name: str, a: Standard, b: Standard, whole: int) -> None:
    does = divmod if name == "divmod" else getattr(operator, name)
    assume((a and b and whole) or ("div" not in name and name != "mod"))
    x, y = Fraction(a), Fraction(b)
    for ours, theirs in (
        (does(x, y), does(a, b)),
        (does(x, whole), does(a, whole)),
        (does(whole, x), does(whole, a)),
    ):
        if isinstance(theirs, tuple):
            for one, other in zip(ours, theirs, strict=True):
                same(one, other)
        else:
            same(ours, theirs)


@pytest.mark.parametrize(
    "does", [operator.neg, abs, float, int, bool, math.floor, math.ceil, round, math.trunc]
)
@given(a=WIDE)
def test_conversions_agree(does: Callable[[object], object], a: Standard) -> None:
    try:
        theirs = does(a)
    except OverflowError:
        with pytest.raises(OverflowError):
            does(Fraction(a))
        return
    same(does(Fraction(a)), theirs)


@given(a=WIDE, exponent=st.integers(-20, 20), most=st.integers(1, 10**6))
def test_powers_and_nearest_fractions_agree(a: Standard, exponent: int, most: int) -> None:
    assume(a or exponent > 0)
    same(Fraction(a) ** exponent, a**exponent)
    same(Fraction(a).limit_denominator(most), a.limit_denominator(most))


@given(
    number=st.floats(allow_nan=False, allow_infinity=False),
    decimal=st.decimals(allow_nan=False, allow_infinity=False, places=12),
    top=st.integers(),
    bottom=st.integers().filter(bool),
)
def test_what_is_made_of_other_numbers_agrees(
    number: float, decimal: Decimal, top: int, bottom: int
) -> None:
    same(Fraction(number), Standard(number))
    same(Fraction(decimal), Standard(decimal))
    same(Fraction(top, bottom), Standard(top, bottom))
    assert Fraction(top, bottom) == Standard(top, bottom)
    same(read_fraction(str(decimal)), Standard(str(decimal)))


@pytest.mark.parametrize("text", [*"0123456789", "-1", "5/2", "0.5", "1e3"])
def test_a_text_is_read_without_harm_to_shared_byte_strings(text: str) -> None:
    same(read_fraction(text), Standard(text))
    assert_shared_bytes_are_whole()


@pytest.mark.parametrize("text", ["", " ", "a", "1/0", "1,5"])
def test_a_text_that_states_no_fraction_is_refused(text: str) -> None:
    with pytest.raises((ValueError, ZeroDivisionError)):
        read_fraction(text)
    assert_shared_bytes_are_whole()
