"""Powers and roots of numbers, within a bound on how wide an exact result may be."""

from __future__ import annotations

import math
from functools import lru_cache

from .digits_of_pi import pi_bounds
from .exact import (
    Approx,
    Number,
    Pi,
    QuantityError,
    div,
    enlarged,
    multiply_approx,
    power_of_pi,
    to_approx,
    with_pi,
)
from .rational import Fraction

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final


MAX_BITS: Final = 4096
"""Widest numerator or denominator a computation may produce; see ``bits``."""


def bits(value: Number) -> int:
    """Give the bits of the numerator or denominator, whichever is longer (a power of pi counts)."""
    if isinstance(value, int):
        return value.bit_length()
    if isinstance(value, Fraction):
        return max(value.numerator.bit_length(), value.denominator.bit_length())
    if isinstance(value, Pi):
        return max(bits(value.coefficient), 2 * abs(value.exponent))
    return 64


def power(value: Number, exponent: int) -> Number | None:
    """Give value^exponent; None for a negative power of what is or may be zero.

    Raises QuantityError when an exact result would be wider than MAX_BITS.
    """
    if exponent < 0:
        inverse = div(1, value)
        return None if inverse is None else power(inverse, -exponent)
    if exponent == 0:
        return 1
    if isinstance(value, Approx):
        result: Approx | None = None
        square = value
        while True:
            if exponent & 1:
                result = square if result is None else multiply_approx(result, square)
            exponent >>= 1
            if not exponent:
                return result
            square = multiply_approx(square, square)
    pi_exponent = value.exponent if isinstance(value, Pi) else 0
    coefficient = value.coefficient if isinstance(value, Pi) else value
    trivial = coefficient in (0, 1, -1)
    if (0 if trivial else (bits(coefficient) - 1) * exponent) >= MAX_BITS or (
        2 * abs(pi_exponent) * exponent >= MAX_BITS
    ):
        raise QuantityError(
            f"the power {exponent} of a number of {bits(value)} bits is too large",
            f"a result of at most {MAX_BITS} bits",
        )
    if trivial and not exponent & 1:
        coefficient = abs(int(coefficient))
    elif not trivial:
        coefficient = coefficient**exponent
    return with_pi(coefficient, pi_exponent * exponent)


def sqrt(value: Number) -> Approx | None:
    """Give the square root, always an Approx (error 0 for small perfect squares).

    None when the value is negative, or an Approx that may be negative.
    """
    if isinstance(value, Approx):
        if value.error > value.value:
            return None
        if value.value == 0.0:
            return Approx(0.0, 0.0)
        root = math.sqrt(value.value)
        return Approx(root, enlarged(enlarged(value.error) / root + math.ulp(root)))
    if isinstance(value, Pi):
        if value.coefficient < 0:
            return None
        half, odd = divmod(value.exponent, 2)
        result = _rational_root(value.coefficient)
        if half:
            result = multiply_approx(result, power_of_pi(half))
        return multiply_approx(result, _root_of_pi()) if odd else result
    if value < 0:
        return None
    return _rational_root(value)


def _rational_root(value: int | Fraction) -> Approx:
    if not value:
        return Approx(0.0, 0.0)
    n, d = value.numerator, value.denominator
    root_n, root_d = math.isqrt(n), math.isqrt(d)
    if root_n * root_n == n and root_d * root_d == d:
        return to_approx(Fraction(root_n, root_d))
    # floor(value * 4^shift) has over 128 bits, so its root has 64: finer than a float.
    shift = (d.bit_length() - n.bit_length()) // 2 + 66
    root = math.isqrt((n << 2 * shift) // d if shift >= 0 else n // (d << -2 * shift))
    near = to_approx(Fraction(root << -shift) if shift < 0 else Fraction(root, 1 << shift))
    return Approx(near.value, enlarged(near.error + math.ulp(near.value)))


@lru_cache(maxsize=1)
def _root_of_pi() -> Approx:
    return _rational_root(pi_bounds()[0])
