"""The formula that workings show for a function is the one that computes its result."""

from __future__ import annotations

import pytest
from axisproof import CheckOptions
from axisproof.language.library import FUNCTIONS, nearby_fraction
from axisproof.numbers.exact import to_float
from axisproof.numbers.rational import Fraction
from axisproof.numbers.written import MAX_DIGITS
from hypothesis import given
from hypothesis import strategies as st

from tests.numbers.random_fractions import random_fractions

WORKED = [function for function in FUNCTIONS.values() if function.worked is not None]
positive = random_fractions(min_value=Fraction(1, 1000), max_value=100_000, max_denominator=1000)


def evaluated(text: str, names: dict[str, float]) -> float:
    """The displayed formula, read as arithmetic by Python."""
    python = text.replace("·", "*").replace("²", "**2").replace("√(v/j)", "(v/j)**0.5")
    return float(eval(python, {"__builtins__": {}}, names))


@pytest.mark.parametrize("function", WORKED, ids=lambda function: function.name)
@given(data=st.data())
def test_the_shown_formula_gives_the_value(function, data) -> None:
    values = [data.draw(positive) for _ in function.symbols]
    shown = function.worked(*values)
    names = {symbol: float(value) for symbol, value in zip(function.symbols, values, strict=True)}
    assert evaluated(shown, names) == pytest.approx(to_float(function.call(*values)), rel=1e-9)


def test_workings_name_each_symbol_and_put_its_number_in() -> None:
    from pathlib import Path

    from axisproof.api import check

    fault = Path(__file__).parents[2] / "fixtures/faults/software-limits-leave-room-to-stop.yaml"
    (finding,) = check([fault], CheckOptions(workings=True)).findings
    step = next(s for s in finding.workings if s.name == "controller_stopping_distance")
    assert step.formula.startswith("v·t + v²/(2·a) + v·a/(2·j) with v = controller.max_velocity, ")
    assert step.filled == (
        "(500 mm/s)·(4 ms) + (500 mm/s)²/(2·(4000 mm/s^2)) + (500 mm/s)·(4000 mm/s^2)/(2·(40000 "
        "mm/s^3))"
    )
    assert step.result == "58.25 mm"


def likely(value: Fraction, decimals: int) -> Fraction:
    """What ``nearby_fraction`` is described to give, by trying every p/q there is."""
    if decimals <= 0:
        return value
    for q in range(1, 101):
        if 4 * q * q > 10**decimals or q >= value.denominator:
            return value
        near = [Fraction(p, q) for p in range(int(value * q) - 1, int(value * q) + 3) if p]
        near = [each for each in near if abs(each - value) < Fraction(1, 10**decimals)]
        if near:
            return min(near, key=lambda each: abs(each - value))
    return value


@pytest.mark.parametrize("decimals", range(6))
def test_the_fraction_a_decimal_stands_for_is_the_one_that_trying_all_finds(decimals: int) -> None:
    unit = 10**decimals
    # Around every p/q with a small q, where the answer changes, and some that stand for nothing.
    near = {round(Fraction(p, q) * unit) for q in (1, 2, 3, 7, 11, 16, 50, 51) for p in (1, 5, 9)}
    for digits in sorted({each + by for each in near for by in (-2, -1, 0, 1, 2) if each + by > 0}):
        value = Fraction(digits, unit)
        assert nearby_fraction(value, decimals) == likely(value, decimals), value


def test_more_digits_than_a_number_may_have_stand_for_nothing() -> None:
    assert nearby_fraction(Fraction(1, 2), MAX_DIGITS) == Fraction(1, 2)
    assert nearby_fraction(Fraction(1, 2), MAX_DIGITS + 1) is None
