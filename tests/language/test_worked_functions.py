"""The formula that workings show for a function is the one that computes its result."""

from __future__ import annotations

from fractions import Fraction

import pytest
from axisproof.language.library import FUNCTIONS
from axisproof.quantity import to_float
from hypothesis import given, settings
from hypothesis import strategies as st

WORKED = [function for function in FUNCTIONS.values() if function.worked is not None]
positive = st.fractions(min_value=Fraction(1, 1000), max_value=100_000, max_denominator=1000)


def evaluated(text: str, names: dict[str, float]) -> float:
    """The displayed formula, read as arithmetic by Python."""
    python = text.replace("·", "*").replace("²", "**2").replace("√(v/j)", "(v/j)**0.5")
    return float(eval(python, {"__builtins__": {}}, names))


@pytest.mark.parametrize("function", WORKED, ids=lambda function: function.name)
@given(data=st.data())
@settings(max_examples=100, deadline=None)
def test_the_shown_formula_gives_the_value(function, data) -> None:
    values = [data.draw(positive) for _ in function.symbols]
    shown = function.worked(*values)
    names = {symbol: float(value) for symbol, value in zip(function.symbols, values, strict=True)}
    assert evaluated(shown, names) == pytest.approx(to_float(function.call(*values)), rel=1e-9)


def test_workings_name_each_symbol_and_put_its_number_in() -> None:
    from pathlib import Path

    from axisproof.api import check

    fault = Path(__file__).parents[2] / "fixtures/faults/software-limits-leave-room-to-stop.yaml"
    (finding,) = check([fault], workings=True).findings
    step = next(s for s in finding.workings if s.name == "controller_stopping_distance")
    assert step.formula.startswith("v·t + v²/(2·a) + v·a/(2·j) with v = controller.max_velocity, ")
    assert step.filled == (
        "(500 mm/s)·(4 ms) + (500 mm/s)²/(2·(4000 mm/s^2)) + (500 mm/s)·(4000 mm/s^2)/(2·(40000 "
        "mm/s^3))"
    )
    assert step.result == "58.25 mm"
