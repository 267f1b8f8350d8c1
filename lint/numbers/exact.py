"""Exact numbers and numbers with an error bound: arithmetic and comparison.

A number is an int, a Fraction, a ``Pi`` (rational times a power of pi) or an ``Approx`` (a float
and a bound on its error). Whatever can stay exact does; sums of different powers of pi and roots
become ``Approx``. A question that an ``Approx`` leaves open is answered with None, never guessed.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from functools import lru_cache

from ..base.lazy import dataclass
from .digits_of_pi import pi_bounds
from .rational import Fraction, norm

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final, TypeAlias


class QuantityError(ValueError):
    """A number or unit that cannot be used; ``what`` names it, ``expected`` says what would do."""

    def __init__(self, what: str, expected: str = "") -> None:
        super().__init__(f"{what}. Expected: {expected}" if expected else what)
        self.what = what
        self.expected = expected


_set: Final = object.__setattr__


@dataclass(frozen=True, slots=True)
class Pi:
    """``coefficient`` times pi to the power ``exponent``; neither is zero.

    ``==`` is exact (pi is transcendental, so different powers are never equal). Ordering against an
    int, Fraction or Pi is always decided; against an Approx it may be None.
    """

    coefficient: int | Fraction
    exponent: int

    def __init__(self, coefficient: int | Fraction, exponent: int) -> None:
        if not coefficient or not exponent:
            raise ValueError("Pi needs a nonzero coefficient and a nonzero exponent")
        if isinstance(coefficient, Fraction) and coefficient.denominator == 1:
            coefficient = coefficient.numerator
        _set(self, "coefficient", coefficient)
        _set(self, "exponent", exponent)

    def __neg__(self) -> Pi:
        return Pi(-self.coefficient, self.exponent)

    def __abs__(self) -> Pi:
        return self if self.coefficient > 0 else Pi(-self.coefficient, self.exponent)

    def __add__(self, other: Number) -> Number:
        return _add(self, other) if isinstance(other, _NUMBERS) else NotImplemented

    def __radd__(self, other: Number) -> Number:
        return _add(other, self) if isinstance(other, _NUMBERS) else NotImplemented

    def __sub__(self, other: Number) -> Number:
        return _add(self, -other) if isinstance(other, _NUMBERS) else NotImplemented

    def __rsub__(self, other: Number) -> Number:
        return _add(other, -self) if isinstance(other, _NUMBERS) else NotImplemented

    def __mul__(self, other: Number) -> Number:
        return _multiply(self, other) if isinstance(other, _NUMBERS) else NotImplemented

    def __rmul__(self, other: Number) -> Number:
        return _multiply(other, self) if isinstance(other, _NUMBERS) else NotImplemented

    def __lt__(self, other: Number) -> bool | None:
        return _less(self, other) if isinstance(other, _NUMBERS) else NotImplemented

    def __gt__(self, other: Number) -> bool | None:
        return _less(other, self) if isinstance(other, _NUMBERS) else NotImplemented

    def __le__(self, other: Number) -> bool | None:
        return _at_most(self, other) if isinstance(other, _NUMBERS) else NotImplemented

    def __ge__(self, other: Number) -> bool | None:
        return _at_most(other, self) if isinstance(other, _NUMBERS) else NotImplemented


@dataclass(frozen=True, slots=True)
class Approx:
    """A number known to lie within ``error`` (>= 0, may be infinite) of the float ``value``.

    ``==`` compares the two fields and serves tables and tests only; ask ``eq`` whether two
    numbers are equal. Ordering is None where the error bounds leave it open.
    """

    value: float
    error: float

    def __init__(self, value: float, error: float) -> None:
        if not math.isfinite(value) or math.isnan(error):
            value, error = 0.0, math.inf
        elif error < 0:
            raise ValueError("Approx needs an error of zero or more")
        _set(self, "value", value)
        _set(self, "error", error)

    def __neg__(self) -> Approx:
        return Approx(-self.value, self.error)

    def __abs__(self) -> Approx:
        return Approx(abs(self.value), self.error)

    def __add__(self, other: Number) -> Number:
        return _add(self, other) if isinstance(other, _NUMBERS) else NotImplemented

    def __radd__(self, other: Number) -> Number:
        return _add(other, self) if isinstance(other, _NUMBERS) else NotImplemented

    def __sub__(self, other: Number) -> Number:
        return _add(self, -other) if isinstance(other, _NUMBERS) else NotImplemented

    def __rsub__(self, other: Number) -> Number:
        return _add(other, -self) if isinstance(other, _NUMBERS) else NotImplemented

    def __mul__(self, other: Number) -> Number:
        return _multiply(self, other) if isinstance(other, _NUMBERS) else NotImplemented

    def __rmul__(self, other: Number) -> Number:
        return _multiply(other, self) if isinstance(other, _NUMBERS) else NotImplemented

    def __lt__(self, other: Number) -> bool | None:
        return _less(self, other) if isinstance(other, _NUMBERS) else NotImplemented

    def __gt__(self, other: Number) -> bool | None:
        return _less(other, self) if isinstance(other, _NUMBERS) else NotImplemented

    def __le__(self, other: Number) -> bool | None:
        return _at_most(self, other) if isinstance(other, _NUMBERS) else NotImplemented

    def __ge__(self, other: Number) -> bool | None:
        return _at_most(other, self) if isinstance(other, _NUMBERS) else NotImplemented


Exact: TypeAlias = int | Fraction | Pi
Number: TypeAlias = int | Fraction | Pi | Approx
_NUMBERS: Final = (int, Fraction, Pi, Approx)


def enclose(value: Pi, digits: int = 100) -> tuple[Fraction, Fraction]:
    """Give two fractions that enclose ``value``; more digits bring them closer."""
    low, high = pi_bounds(digits)
    if value.exponent > 0:
        low, high = low**value.exponent, high**value.exponent
    else:
        low, high = 1 / high**-value.exponent, 1 / low**-value.exponent
    if value.coefficient < 0:
        low, high = high, low
    return value.coefficient * low, value.coefficient * high


def decided(value: Pi, question: Callable[[Fraction], int]) -> int:
    """Answer a monotone question about an irrational number: enough digits of pi decide it."""
    digits = 100
    while True:
        low, high = enclose(value, digits)
        answer = question(low)
        if answer == question(high):
            return answer
        digits *= 2


# Arithmetic ---------------------------------------------------------------------------------------


def enlarged(error: float) -> float:
    """Give an error bound enlarged by more than the rounding of the few steps that computed it."""
    return error * (1.0 + 2.0**-48) + 1e-320


def _ulp(value: float) -> float:
    return math.ulp(value) if math.isfinite(value) else math.inf


def to_approx(value: Number) -> Approx:
    """Give the nearest float with a bound on its error (infinite beyond the range of floats)."""
    if isinstance(value, Approx):
        return value
    if isinstance(value, Pi):
        return multiply_approx(to_approx(value.coefficient), power_of_pi(value.exponent))
    try:
        result = float(value)
    except OverflowError:
        return Approx(0.0, math.inf)
    if isinstance(value, int) and -(2**53) <= value <= 2**53:
        return Approx(result, 0.0)
    return Approx(result, 0.0 if Fraction(result) == value else math.ulp(result))


@lru_cache(maxsize=256)
def power_of_pi(exponent: int) -> Approx:
    """Give pi^exponent."""
    low, high = enclose(Pi(1, exponent))
    try:
        result = float(low)
    except OverflowError:
        return Approx(0.0, math.inf)
    exact = Fraction(result)
    error = max(abs(high - exact), abs(low - exact))
    return Approx(result, enlarged(float(error)))


def to_float(value: Number) -> float:
    """Give a float close to ``value``, for display and plots only; infinite beyond the range."""
    near = to_approx(value)
    if math.isinf(near.error) and not isinstance(value, Approx):
        return math.inf if value > 0 else -math.inf
    return near.value


def _add(a: Number, b: Number) -> Number:
    if not isinstance(a, Approx) and not isinstance(b, Approx):
        if isinstance(a, Pi):
            if isinstance(b, Pi):
                if a.exponent == b.exponent:
                    total = a.coefficient + b.coefficient
                    return Pi(total, a.exponent) if total else 0
            elif not b:
                return a
        elif isinstance(b, Pi):
            if not a:
                return b
        else:
            return a + b
    x, y = to_approx(a), to_approx(b)
    value = x.value + y.value
    rounding = 0.0 if x.value == 0.0 or y.value == 0.0 else _ulp(value)
    if rounding == 0.0 and x.error == 0.0 and y.error == 0.0:
        return Approx(value, 0.0)
    return Approx(value, enlarged(x.error + y.error + rounding))


def _is_zero(value: Number) -> bool:
    return not isinstance(value, (Pi, Approx)) and not value


def _multiply(a: Number, b: Number) -> Number:
    if isinstance(a, Approx) or isinstance(b, Approx):
        if _is_zero(a) or _is_zero(b):
            return 0
        return multiply_approx(to_approx(a), to_approx(b))
    a_coefficient, a_exponent = (a.coefficient, a.exponent) if isinstance(a, Pi) else (a, 0)
    b_coefficient, b_exponent = (b.coefficient, b.exponent) if isinstance(b, Pi) else (b, 0)
    return with_pi(a_coefficient * b_coefficient, a_exponent + b_exponent)


def with_pi(coefficient: int | Fraction, exponent: int) -> Exact:
    """Give coefficient * pi^exponent in its simplest form."""
    if coefficient and exponent:
        return Pi(coefficient, exponent)
    return norm(coefficient) if isinstance(coefficient, Fraction) else coefficient


def multiply_approx(a: Approx, b: Approx) -> Approx:
    """Give a * b."""
    value = a.value * b.value
    error = abs(a.value) * b.error + abs(b.value) * a.error + a.error * b.error
    return Approx(value, enlarged(error + _ulp(value)))


def div(a: Number, b: Number) -> Number | None:
    """Give a / b, exact where both are; None when b is zero or an Approx that may be zero."""
    if isinstance(a, int) and isinstance(b, int):
        if not b:
            return None
        return a // b if not a % b else Fraction(a, b)
    if isinstance(b, Approx) or isinstance(a, Approx):
        x, y = to_approx(a), to_approx(b)
        room = math.nextafter(abs(y.value) - y.error, 0.0)
        if not room > 0.0:
            return None
        if _is_zero(a):
            return 0
        value = x.value / y.value
        spread = (abs(value) + _ulp(value)) * y.error + x.error
        return Approx(value, enlarged(enlarged(spread) / room + _ulp(value)))
    a_coefficient, a_exponent = (a.coefficient, a.exponent) if isinstance(a, Pi) else (a, 0)
    b_coefficient, b_exponent = (b.coefficient, b.exponent) if isinstance(b, Pi) else (b, 0)
    if not b_coefficient:
        return None
    return with_pi(Fraction(a_coefficient) / b_coefficient, a_exponent - b_exponent)


def absolute(value: Number) -> Number:
    """Give the magnitude of the value (``abs``, with a type the checker can follow)."""
    if isinstance(value, Pi):
        return abs(value)
    if isinstance(value, Approx):
        return abs(value)
    return value if value >= 0 else -value


def simplest(value: Number) -> Number:
    """Give a whole Fraction as an int (Python's own Fraction operators keep it a Fraction)."""
    return norm(value) if isinstance(value, Fraction) else value


# Comparison ---------------------------------------------------------------------------------------


def _sign(value: int | Fraction) -> int:
    return (value > 0) - (value < 0)


def _order_exact(a: Exact, b: Exact) -> int:
    """-1, 0 or 1 as a is below, equal to or above b; always decided."""
    qa, ka = (a.coefficient, a.exponent) if isinstance(a, Pi) else (a, 0)
    qb, kb = (b.coefficient, b.exponent) if isinstance(b, Pi) else (b, 0)
    if ka == kb:
        return _sign(qa - qb)
    sign_a, sign_b = _sign(qa), _sign(qb)
    if sign_a != sign_b:
        return 1 if sign_a > sign_b else -1
    x, y = to_approx(a), to_approx(b)
    difference = x.value - y.value
    if abs(difference) > enlarged(x.error + y.error + _ulp(difference)):
        return 1 if difference > 0 else -1
    # Same sign, different powers: compare the ratio of the coefficients with a power of pi.
    ratio = abs(Fraction(qa) / qb)
    above = decided(Pi(1, kb - ka), lambda bound: 1 if ratio > bound else -1)
    return above * sign_a


def _difference(a: Number, b: Number) -> tuple[float, float]:
    """b - a as floats: the value and its error bound."""
    x, y = to_approx(a), to_approx(b)
    value = y.value - x.value
    if x.error == 0.0 and y.error == 0.0:
        return value, 0.0
    return value, enlarged(x.error + y.error + _ulp(value))


def _less(a: Number, b: Number) -> bool | None:
    if not isinstance(a, Approx) and not isinstance(b, Approx):
        return _order_exact(a, b) < 0
    value, error = _difference(a, b)
    if value > error:
        return True
    return False if value <= -error else None


def _at_most(a: Number, b: Number) -> bool | None:
    if not isinstance(a, Approx) and not isinstance(b, Approx):
        return _order_exact(a, b) <= 0
    value, error = _difference(a, b)
    if value >= error:
        return True
    return False if value < -error else None


def eq(a: Number, b: Number) -> bool | None:
    """Tell whether two numbers are equal: decided if both are exact; an Approx is False or None."""
    if not isinstance(a, Approx) and not isinstance(b, Approx):
        return a == b
    value, error = _difference(a, b)
    return False if abs(value) > error else None


def minimum(values: Iterable[Number]) -> Number | None:
    """Give the least value, None for no values.

    Where an Approx leaves open which one is least, the result is an Approx that holds the least.
    """
    return _extreme(values, lambda a, b: _at_most(a, b), min)


def maximum(values: Iterable[Number]) -> Number | None:
    """Give the greatest value, None for no values; see ``minimum``."""
    return _extreme(values, lambda a, b: _at_most(b, a), max)


def _extreme(
    values: Iterable[Number],
    wins: Callable[[Number, Number], bool | None],
    pick: Callable[[float, float], float],
) -> Number | None:
    best: Number | None = None
    for value in values:
        if best is None:
            best = value
            continue
        verdict = wins(best, value)
        if verdict is None:
            x, y = to_approx(best), to_approx(value)
            low = pick(x.value - x.error, y.value - y.error)
            high = pick(x.value + x.error, y.value + y.error)
            middle = low / 2 + high / 2
            slack = _ulp(x.value) + _ulp(y.value) + _ulp(low) + _ulp(high)
            best = Approx(middle, enlarged(max(high - middle, middle - low) + 2 * slack))
        elif not verdict:
            best = value
    return best
