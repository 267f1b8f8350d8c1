"""Fractions of small integers near a number: what a typed decimal or a rounded value stands for."""

from __future__ import annotations

import math

from .exact import Approx, Number, Pi, enclose, simplest, to_approx
from .rational import Fraction, norm
from .written import MAX_DIGITS

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final

MAX_SMALL_DENOMINATOR: Final = 100
"""A decimal is suspected of standing for p/q only up to this q; common practice, no source."""


def nearby_fraction(value: Number, decimals: Number) -> Number | None:
    """The fraction of integers that a typed decimal most likely stands for, or the decimal itself.

    Of all p/q with q ≤ 100, q small enough that fractions of that size lie sparser than the last
    digit (4·q² ≤ 10^decimals), which differ from the decimal by less than one unit of its last
    digit, the one with the least q. A decimal that is itself a fraction with a smaller or equal
    denominator stands for itself. Common practice, no source.
    """
    value, decimals = simplest(value), simplest(decimals)
    if not isinstance(value, (int, Fraction)) or not isinstance(decimals, int):
        return None
    if decimals <= 0:
        return value
    if decimals > MAX_DIGITS:
        return None
    unit = Fraction(1, 10**decimals)
    own = Fraction(value).denominator
    for q in range(1, MAX_SMALL_DENOMINATOR + 1):
        if 4 * q * q > 10**decimals or q >= own:
            break
        p = round(value * q)
        if p != 0 and abs(Fraction(p, q) - value) < unit:
            return norm(Fraction(p, q))
    return value


def simple_fraction(value: Number, tolerance: Number) -> Number | None:
    """The p/q of least q that lies within ``tolerance`` (a share of the value) of it.

    Without tolerance the value itself, if it is a fraction. Found by descending the Stern–Brocot
    tree, as continued fractions do (number theory textbooks, from memory). Of a number that is
    known with an error bound it is within the tolerance wherever the number lies.
    """
    value, tolerance = simplest(value), simplest(tolerance)
    if not isinstance(tolerance, (int, Fraction)):
        return None
    if isinstance(value, (int, Fraction)) and (tolerance == 0 or value == 0):
        return value
    if not 0 < tolerance < 1:
        return None
    near = _nearest_and_furthest(value)
    if near is None:
        return None
    low, high = near
    if high * (1 - tolerance) > low * (1 + tolerance):
        return None
    found = _simplest_between(high * (1 - tolerance), low * (1 + tolerance))
    negative = (value.coefficient if isinstance(value, Pi) else to_approx(value).value) < 0
    return norm(-found if negative else found)


def _nearest_and_furthest(value: Number) -> tuple[Fraction, Fraction] | None:
    """Bounds of the size of a number; None if it may be zero, or lies out of reach.

    Those of an Approx are wide enough that whatever compares the fraction with it is decided.
    """
    if isinstance(value, Pi):
        low, high = enclose(abs(value))
        return low, high
    if not isinstance(value, Approx):
        return abs(Fraction(value)), abs(Fraction(value))
    if math.isinf(value.error):
        return None
    size = Fraction(abs(value.value))
    error = 4 * Fraction(value.error) + size * _ROUNDING
    return (size - error, size + error) if size > error else None


_ROUNDING: Final = Fraction(1, 10**14)
"""Far more than the few steps of a comparison round, as a share."""


def _simplest_between(low: Fraction, high: Fraction) -> Fraction:
    """The fraction of least denominator from ``low`` up to ``high``, both above 0."""
    terms: list[int] = []
    while True:
        whole = math.ceil(low)
        if whole <= high:
            found = Fraction(whole)
            break
        terms.append(whole - 1)
        low, high = 1 / (high - (whole - 1)), 1 / (low - (whole - 1))
    for term in reversed(terms):
        found = term + 1 / found
    return found
