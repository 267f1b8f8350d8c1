"""Random fractions of the class that axisproof computes with."""

from typing import Any

from axisproof.numbers.rational import Fraction
from hypothesis import strategies as st


def random_fractions(*bounds: Any, **more: Any) -> st.SearchStrategy[Fraction]:
    """What ``hypothesis.strategies.fractions`` draws, in that class."""
    return st.fractions(*bounds, **more).map(Fraction)
