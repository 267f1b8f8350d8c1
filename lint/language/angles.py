"""Sines of angles in turns, as the rule language knows them."""

from __future__ import annotations

import math
from types import MappingProxyType

from ..numbers.exact import Approx, Number, absolute, maximum, simplest, to_approx
from ..numbers.rational import Fraction, norm

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final

_SINES: Final = MappingProxyType(
    {twelfth: Fraction(half, 2) for half, twelfth in enumerate((0, 1, 3))}
)
"""Sines of 0, 30 and 90 deg (in twelfths of a turn): by Niven's theorem the only rational ones."""


def sine(angle: Number) -> Number | None:
    """sin of an angle in turns: exact at whole multiples of 30° where it is rational.

    Otherwise approximate: the angle is folded exactly into the first quarter turn, so that the
    argument is off by a few 1e-16 rad and the sine by less than 1e-15.
    """
    angle = simplest(angle)
    if not isinstance(angle, (int, Fraction)):
        return _sine_of_approx(angle)
    turns = Fraction(angle) % 1
    sign = 1
    if turns >= Fraction(1, 2):
        turns, sign = turns - Fraction(1, 2), -1
    turns = min(turns, Fraction(1, 2) - turns)
    known = _SINES.get(int(turns * 12)) if (turns * 12).denominator == 1 else None
    if known is not None:
        return norm(sign * known)
    return Approx(sign * math.sin(2 * math.pi * float(turns)), 1e-15)


def _sine_of_approx(angle: Number) -> Number:
    """Sine of an angle known as a float with error: |sin a − sin b| ≤ |a − b|."""
    near = to_approx(angle)
    radians = 2 * math.pi * math.remainder(near.value, 1.0)
    return Approx(math.sin(radians), near.error * 6.2831854 + 4e-15)


def largest_sine(low: Number, high: Number) -> Number | None:
    """Largest |sin| from one angle in turns to another: 1 where a quarter of a turn lies between.

    |sin| rises and falls between its peaks, so without a peak the larger end counts. Where an end
    is known as a float, a peak within its error counts as met: |sin| is flat there.
    """
    low, high = simplest(low), simplest(high)
    if isinstance(low, (int, Fraction)) and isinstance(high, (int, Fraction)):
        if low > high:
            return None
        if math.floor(2 * high - Fraction(1, 2)) >= math.ceil(2 * low - Fraction(1, 2)):
            return 1
    else:
        least, most = to_approx(low), to_approx(high)
        first, last = least.value - least.error, most.value + most.error
        if first > last:
            return None
        if math.floor(2 * last - 0.5) >= math.ceil(2 * first - 0.5):
            return Approx(1.0, (least.error + most.error) * 6.2831854 + 4e-15)
    ends = [absolute(end) for end in (sine(low), sine(high)) if end is not None]
    return maximum(ends)
