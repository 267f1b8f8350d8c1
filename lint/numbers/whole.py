"""Whole numbers around a number: is it one, which is nearest, what is left over.

Where an ``Approx`` leaves a question open, the answer is None.
"""

from __future__ import annotations

import math

from .exact import Approx, Number, Pi, absolute, decided, div, simplest
from .rational import Fraction

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final


def _floor_plus(value: Number, offset: Fraction) -> int | None:
    """floor(value + offset), None where an Approx leaves it open."""
    if isinstance(value, Approx):
        if math.isinf(value.error):
            return None
        middle, error = Fraction(value.value) + offset, Fraction(value.error)
        low, high = math.floor(middle - error), math.floor(middle + error)
        return low if low == high else None
    if isinstance(value, Pi):
        return decided(value, lambda bound: math.floor(bound + offset))
    return math.floor(value + offset)


_HALF: Final = Fraction(1, 2)
_ZERO: Final = Fraction(0)


def is_whole(value: Number) -> bool | None:
    """Tell whether the value is an integer; an Approx near one leaves it open."""
    if isinstance(value, int):
        return True
    if isinstance(value, Fraction):
        return value.denominator == 1
    if isinstance(value, Pi):
        return False
    low, high = floor(value), ceil(value)
    if low is None or high is None or low == high:
        return None
    return False


def floor(value: Number) -> int | None:
    """Give the greatest integer not above the value; None where an Approx leaves it open."""
    return value if isinstance(value, int) else _floor_plus(value, _ZERO)


def ceil(value: Number) -> int | None:
    """Give the least integer not below the value; None where an Approx leaves it open."""
    if isinstance(value, int):
        return value
    negative = _floor_plus(-value, _ZERO)
    return None if negative is None else -negative


def nearest_whole(value: Number) -> int | None:
    """Give the nearest integer, halves away from zero; None where an Approx leaves it open."""
    if isinstance(value, int):
        return value
    up = _floor_plus(value, _HALF)
    down = _floor_plus(-value, _HALF)
    if up is None or down is None:
        return None
    if up == -down:
        return up
    # Only a tie makes the two differ.
    positive = value > 0
    if positive is None:
        return None
    return up if positive else -down


def remainder(a: Number, b: Number) -> Number | None:
    """Give a - b * floor(a / b), which has the sign of b; None if b may be zero or it is open."""
    if isinstance(a, int) and isinstance(b, int):
        return a % b if b else None
    quotient = div(a, b)
    turns = None if quotient is None else floor(quotient)
    return None if turns is None else simplest(a - b * turns)


def nearest_remainder(a: Number, b: Number) -> Number | None:
    """Give what is left of a beside the nearest multiple of b, in (-|b|/2, |b|/2]."""
    size = absolute(b)
    quotient = div(a, size)
    if quotient is None:
        return None
    negative = _floor_plus(-quotient, _HALF)
    return None if negative is None else simplest(a + size * negative)


def divides(a: Number, b: Number) -> bool | None:
    """Tell whether b is a whole multiple of a; None if a may be zero or it is open."""
    quotient = div(b, a)
    return None if quotient is None else is_whole(quotient)
