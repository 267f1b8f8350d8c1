"""Exact fractions: ``Fraction`` is that of the standard library, compiled.

quicktions is the standard library's class through Cython: its sums and products take an eighth of
the time, and half of what a check does is arithmetic. It has no types of its own.
"""

from __future__ import annotations

TYPE_CHECKING = False
if TYPE_CHECKING:
    from fractions import Fraction
else:
    from quicktions import Fraction

__all__ = ["Fraction", "norm"]


def norm(value: Fraction) -> int | Fraction:
    """Give a Fraction with denominator 1 as an int, any other unchanged."""
    return value.numerator if value.denominator == 1 else value
