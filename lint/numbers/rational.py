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

__all__ = ["Fraction", "norm", "read_fraction"]


def norm(value: Fraction) -> int | Fraction:
    """Give a Fraction with denominator 1 as an int, any other unchanged."""
    return value.numerator if value.denominator == 1 else value


def read_fraction(text: str) -> Fraction:
    """The fraction that a text states: ``12``, ``0.5``, ``1e3`` or ``5/2``. Raises ValueError.

    Never give a text to ``Fraction`` itself: quicktions 1.24 writes the digits of a text of one
    character into a byte string that the whole process shares. Files read after that look damaged.
    A blank before the text makes quicktions work on a copy.
    """
    return Fraction(f" {text}")
