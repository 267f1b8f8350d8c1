"""Exact numbers, numbers with an error bound, and the algebra of dimensions.

A number is an int, a Fraction, a ``Pi`` (rational times a power of pi) or an ``Approx`` (a float
and a bound on its error). Whatever can stay exact does; sums of unlike powers of pi and roots
become ``Approx``. A question an ``Approx`` cannot answer is answered with None, never guessed.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from functools import lru_cache
from typing import Final, TypeAlias

from ..base.lazy import dataclass, pattern
from .rational import Fraction

MAX_BITS: Final = 4096
"""Widest numerator or denominator a computation may produce; see ``bits``."""

MAX_DIGITS: Final = 40
"""Most digits a written number may have."""

MAX_EXPONENT: Final = 30
"""Largest power of ten (either sign) a written number may carry."""

PI_DIGITS: Final = (
    "31415926535897932384626433832795028841971693993751"
    "05820974944592307816406286208998628034825342117067"
    "98214808651328230664709384460955058223172535940812"
)
"""The first 150 digits of pi, truncated (OEIS A000796; a test recomputes them)."""


class QuantityError(ValueError):
    """A number or unit that cannot be used; ``what`` names it, ``expected`` says what would do."""

    def __init__(self, what: str, expected: str = "") -> None:
        super().__init__(f"{what}; expected {expected}" if expected else what)
        self.what = what
        self.expected = expected


_set: Final = object.__setattr__


def norm(value: Fraction) -> int | Fraction:
    """Give a Fraction with denominator 1 as an int, any other unchanged."""
    return value.numerator if value.denominator == 1 else value


@dataclass(frozen=True, slots=True)
class Pi:
    """``coefficient`` times pi to the power ``exponent``; neither is zero.

    ``==`` is exact (pi is transcendental, so unlike powers are never equal). Ordering against an
    int, Fraction or Pi is always decided; against an Approx it may be None.
    """

    coefficient: int | Fraction
    exponent: int

    def __init__(self, coefficient: int | Fraction, exponent: int) -> None:
        if not coefficient or not exponent:
            raise ValueError("Pi needs a coefficient and an exponent unlike zero")
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


# Reading pi -------------------------------------------------------------------------------------


def pi_bounds(digits: int = 100) -> tuple[Fraction, Fraction]:
    """Give two fractions that enclose pi, at most 10^-digits apart."""
    if digits < len(PI_DIGITS):
        scaled = int(PI_DIGITS[: digits + 1])
    else:
        scaled = _machin(digits)
    scale = 10**digits
    return Fraction(scaled, scale), Fraction(scaled + 1, scale)


@lru_cache(maxsize=8)
def _machin(digits: int) -> int:
    """floor(pi * 10^digits), by Machin's formula pi = 16 atan(1/5) - 4 atan(1/239)."""
    guard: int = 10**20
    scale: int = 10**digits

    def arc_tangent(inverse: int) -> int:
        term = total = scale * guard // inverse
        divisor, sign = 1, 1
        while term:
            term //= inverse * inverse
            divisor += 2
            sign = -sign
            total += sign * (term // divisor)
        return total

    return (16 * arc_tangent(5) - 4 * arc_tangent(239)) // guard


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


def _decided(value: Pi, question: Callable[[Fraction], int]) -> int:
    """Answer a monotone question about an irrational number, which enough digits decide."""
    digits = 100
    while True:
        low, high = enclose(value, digits)
        answer = question(low)
        if answer == question(high):
            return answer
        digits *= 2


# Arithmetic -------------------------------------------------------------------------------------


def _grown(error: float) -> float:
    """An error bound enlarged by more than the rounding of the few steps that computed it."""
    return error * (1.0 + 2.0**-48) + 1e-320


def _ulp(value: float) -> float:
    return math.ulp(value) if math.isfinite(value) else math.inf


def to_approx(value: Number) -> Approx:
    """Give the nearest float with a bound on its error (infinite beyond the range of floats)."""
    if isinstance(value, Approx):
        return value
    if isinstance(value, Pi):
        return _multiply_approx(to_approx(value.coefficient), _power_of_pi(value.exponent))
    try:
        result = float(value)
    except OverflowError:
        return Approx(0.0, math.inf)
    if isinstance(value, int) and -(2**53) <= value <= 2**53:
        return Approx(result, 0.0)
    return Approx(result, 0.0 if Fraction(result) == value else math.ulp(result))


@lru_cache(maxsize=256)
def _power_of_pi(exponent: int) -> Approx:
    low, high = enclose(Pi(1, exponent))
    try:
        result = float(low)
    except OverflowError:
        return Approx(0.0, math.inf)
    exact = Fraction(result)
    error = max(abs(high - exact), abs(low - exact))
    return Approx(result, _grown(float(error)))


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
    return Approx(value, _grown(x.error + y.error + rounding))


def _is_zero(value: Number) -> bool:
    return not isinstance(value, (Pi, Approx)) and not value


def _multiply(a: Number, b: Number) -> Number:
    if isinstance(a, Approx) or isinstance(b, Approx):
        if _is_zero(a) or _is_zero(b):
            return 0
        return _multiply_approx(to_approx(a), to_approx(b))
    a_coefficient, a_exponent = (a.coefficient, a.exponent) if isinstance(a, Pi) else (a, 0)
    b_coefficient, b_exponent = (b.coefficient, b.exponent) if isinstance(b, Pi) else (b, 0)
    return with_pi(a_coefficient * b_coefficient, a_exponent + b_exponent)


def with_pi(coefficient: int | Fraction, exponent: int) -> Exact:
    """Give coefficient * pi^exponent in its simplest form."""
    if coefficient and exponent:
        return Pi(coefficient, exponent)
    return norm(coefficient) if isinstance(coefficient, Fraction) else coefficient


def _multiply_approx(a: Approx, b: Approx) -> Approx:
    value = a.value * b.value
    error = abs(a.value) * b.error + abs(b.value) * a.error + a.error * b.error
    return Approx(value, _grown(error + _ulp(value)))


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
        return Approx(value, _grown(_grown(spread) / room + _ulp(value)))
    a_coefficient, a_exponent = (a.coefficient, a.exponent) if isinstance(a, Pi) else (a, 0)
    b_coefficient, b_exponent = (b.coefficient, b.exponent) if isinstance(b, Pi) else (b, 0)
    if not b_coefficient:
        return None
    return with_pi(Fraction(a_coefficient) / b_coefficient, a_exponent - b_exponent)


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
                result = square if result is None else _multiply_approx(result, square)
            exponent >>= 1
            if not exponent:
                return result
            square = _multiply_approx(square, square)
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
        return Approx(root, _grown(_grown(value.error) / root + math.ulp(root)))
    if isinstance(value, Pi):
        if value.coefficient < 0:
            return None
        half, odd = divmod(value.exponent, 2)
        result = _rational_root(value.coefficient)
        if half:
            result = _multiply_approx(result, _power_of_pi(half))
        return _multiply_approx(result, _root_of_pi()) if odd else result
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
    return Approx(near.value, _grown(near.error + math.ulp(near.value)))


@lru_cache(maxsize=1)
def _root_of_pi() -> Approx:
    return _rational_root(pi_bounds()[0])


# Comparison -------------------------------------------------------------------------------------


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
    if abs(difference) > _grown(x.error + y.error + _ulp(difference)):
        return 1 if difference > 0 else -1
    # Same sign, unlike powers: compare the ratio of the coefficients with a power of pi.
    ratio = abs(Fraction(qa) / qb)
    above = _decided(Pi(1, kb - ka), lambda bound: 1 if ratio > bound else -1)
    return above * sign_a


def _difference(a: Number, b: Number) -> tuple[float, float]:
    """b - a as floats: the value and its error bound."""
    x, y = to_approx(a), to_approx(b)
    value = y.value - x.value
    if x.error == 0.0 and y.error == 0.0:
        return value, 0.0
    return value, _grown(x.error + y.error + _ulp(value))


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
            best = Approx(middle, _grown(max(high - middle, middle - low) + 2 * slack))
        elif not verdict:
            best = value
    return best


# Whole numbers ----------------------------------------------------------------------------------


def _floor_plus(value: Number, offset: Fraction) -> int | None:
    """floor(value + offset), None where an Approx leaves it open."""
    if isinstance(value, Approx):
        if math.isinf(value.error):
            return None
        middle, error = Fraction(value.value) + offset, Fraction(value.error)
        low, high = math.floor(middle - error), math.floor(middle + error)
        return low if low == high else None
    if isinstance(value, Pi):
        return _decided(value, lambda bound: math.floor(bound + offset))
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


# Written numbers --------------------------------------------------------------------------------

NUMBER_PATTERN: Final = r"[+-]?[0-9]+(?:/0*[1-9][0-9]*|(?:\.[0-9]+)?(?:[eE][+-]?[0-9]{1,2})?)"
"""How a number is written, apart from the caps on digits; safe for Python and ECMA 262."""

WRITTEN: Final = r"([+-]?)([0-9]+)(?:/([0-9]+)|(?:\.([0-9]+))?(?:[eE]([+-]?[0-9]+))?)"
"""The same without caps; its groups are what ``number_of`` takes behind the text."""

_WRITTEN: Final = pattern(WRITTEN)

NUMBER_EXPECTED: Final = "a number such as 12, 0.25, 1.5e-3 or 720/7"


def shortened(text: str, limit: int = 60) -> str:
    """Give the text quoted for a message, cut in the middle when long."""
    return repr(text if len(text) <= limit else f"{text[: limit - 20]}…{text[-12:]}")


def parse_number(text: str) -> tuple[int | Fraction, int]:
    """Read an integer, decimal, power-of-ten number or fraction; ASCII digits only.

    Gives the exact value and the digits written after the decimal point (0 for integers and
    fractions). Raises QuantityError, before any large number is made, for more than MAX_DIGITS
    digits or a power of ten beyond MAX_EXPONENT, and for anything that is not a number.
    """
    found = _WRITTEN.fullmatch(text)
    if found is None:
        raise QuantityError(f"{shortened(text)} is not a number", NUMBER_EXPECTED)
    return number_of(text, *found.groups())


def number_of(
    text: str,
    sign: str,
    whole: str,
    denominator: str | None,
    decimals: str | None,
    exponent: str | None,
) -> tuple[int | Fraction, int]:
    """Give what ``parse_number`` gives for ``text``, from the parts it was found to have."""
    if len(text) > MAX_DIGITS:
        digits = len(whole) + len(denominator or "") + len(decimals or "")
        digits += len((exponent or "").lstrip("+-"))
        if digits > MAX_DIGITS:
            what = f"{shortened(text)} has {digits} digits"
            raise QuantityError(what, f"at most {MAX_DIGITS} digits in a number")
    tens = 0
    if exponent is not None:
        tens = int(exponent)
        if len(exponent.lstrip("+-")) > 2 or abs(tens) > MAX_EXPONENT:
            raise QuantityError(
                f"{shortened(text)} has the power of ten {exponent}",
                f"at most two digits, from -{MAX_EXPONENT} to {MAX_EXPONENT}",
            )
    value: int | Fraction
    if denominator is not None:
        below = int(denominator)
        if not below:
            raise QuantityError(f"{shortened(text)} divides by zero", "a denominator above 0")
        value = norm(Fraction(int(whole), below))
    elif decimals is None and tens == 0:
        value = int(whole)
    else:
        scale = tens - len(decimals or "")
        number = int(whole + (decimals or ""))
        value = number * 10**scale if scale >= 0 else norm(Fraction(number, 10**-scale))
    return (-value if sign == "-" else value), len(decimals or "")


# Dimensions -------------------------------------------------------------------------------------

Dimension: TypeAlias = tuple[tuple[str, int], ...]
"""Base names with their exponents, sorted by name, none zero.

Bases are length, angle, time, mass, count, current, and ``position:NAME``: the user unit of one
axis, a length or an angle that is not known until the axis is.
"""

DIMENSIONLESS: Final[Dimension] = ()


def dim(**exponents: int) -> Dimension:
    """Build a dimension: ``dim(length=1, time=-1)`` is a speed."""
    return tuple(sorted((base, exponent) for base, exponent in exponents.items() if exponent))


def dim_mul(a: Dimension, b: Dimension) -> Dimension:
    """Give the dimension of a product."""
    if not b:
        return a
    if not a:
        return b
    exponents = dict(a)
    for base, exponent in b:
        exponents[base] = exponents.get(base, 0) + exponent
    return dim(**exponents)


def dim_div(a: Dimension, b: Dimension) -> Dimension:
    """Give the dimension of a quotient."""
    return dim_mul(a, dim_pow(b, -1))


def dim_pow(a: Dimension, exponent: int) -> Dimension:
    """Give the dimension of a power."""
    return tuple((base, power * exponent) for base, power in a) if exponent else ()


DIMENSION_WORDS: Final[dict[Dimension, str]] = {
    DIMENSIONLESS: "plain number",
    dim(length=1): "length",
    dim(length=2): "area",
    dim(length=3): "volume",
    dim(angle=1): "angle",
    dim(time=1): "time",
    dim(mass=1): "mass",
    dim(count=1): "count",
    dim(current=1): "current",
    dim(length=1, time=-1): "speed",
    dim(length=1, time=-2): "acceleration",
    dim(length=1, time=-3): "jerk",
    dim(angle=1, time=-1): "angular speed",
    dim(angle=1, time=-2): "angular acceleration",
    dim(angle=1, time=-3): "angular jerk",
    dim(length=1, angle=-1): "feed per turn",
    dim(length=1, mass=1, time=-2): "force",
    dim(length=2, mass=1, time=-2): "energy",
    dim(length=2, mass=1, time=-3): "power",
    dim(length=2, mass=1, time=-2, angle=-1): "torque",
    dim(length=2, mass=1, angle=-2): "inertia",
    dim(length=2, mass=1, time=-3, current=-1): "voltage",
    dim(time=-1): "rate",
    dim(count=1, time=-1): "count rate",
    dim(count=1, length=-1): "counts per length",
    dim(count=1, angle=-1): "counts per angle",
    dim(position=1): "position",
    dim(position=1, time=-1): "position speed",
    dim(position=1, time=-2): "position acceleration",
    dim(position=1, time=-3): "position jerk",
    dim(position=1, angle=-1): "position per turn",
    dim(count=1, position=-1): "counts per position",
}
"""The everyday names of dimensions; ``position`` stands for any ``position:NAME``."""


def dim_words(dimension: Dimension) -> str:
    """Name a dimension in words ("torque"), or as a product of bases ("length·time^-2")."""
    plain = plain_position(dimension)
    known = DIMENSION_WORDS.get(plain)
    if known is not None:
        return known
    ordered = sorted(plain, key=lambda part: part[1] < 0)
    return "·".join(base if power == 1 else f"{base}^{power}" for base, power in ordered)


def plain_position(dimension: Dimension) -> Dimension:
    """Give the dimension with ``position:NAME`` as ``position`` when only one axis is in it."""
    named = [base for base, _ in dimension if base.startswith("position:")]
    if len(named) != 1:
        return dimension
    return dim(**{("position" if base == named[0] else base): power for base, power in dimension})
