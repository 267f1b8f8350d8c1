"""Numbers as words.

``say_number`` is for workings and data: exact where short, marked where cut (…) and where rounded
(≈). ``say_rounded`` and ``say_in_full`` are for people.
"""

from __future__ import annotations

import math
from typing import Final

from .dimensions import Dimension
from .exact import Approx, Exact, Number, Pi, absolute, enclose, simplest
from .rational import Fraction
from .units import UNITS, default_unit, in_unit

SIGNIFICANT: Final = 6
"""Digits shown of a number that does not end."""

MOST_DIGITS: Final = 18
"""Most digits shown to get past zeros at the cut."""

WHOLE_DIGITS: Final = 15
"""Most digits of a whole number (or of the whole part of one) that are shown in full."""

FRACTION_DIGITS: Final = 12
"""Most digits a numerator or denominator may have to be shown."""

TOLD: Final = 4
"""Digits that people are told of a measured quantity that was computed."""

MOST_TOLD: Final = 12
"""Most digits that people are told, however close two numbers are."""

SHORT: Final = 7
"""Most digits of a number that people are told in full although it was not typed."""

ENTERED: Final = Fraction(1, 100_000)
"""By how much rounding may move a value that somebody enters, in its unit."""

TYPED_SHARE: Final = Fraction(1, 10_000_000)
"""By what share rounding may move a value that somebody types and that no fraction equals.

A scaling may be off by a millionth where pi is in it (`rounding_of_pi`).
"""

SMALLEST_EXPONENT: Final = -6
"""Smallest power of ten of a first digit that is still written without one (0.000001)."""


def _first_digit_exponent(value: Fraction) -> int:
    """The power of ten of the first digit of a value above 0."""
    n, d = value.numerator, value.denominator
    exponent = math.floor((n.bit_length() - d.bit_length()) * 0.30103) - 1
    scaled = value / Fraction(10) ** exponent
    while scaled >= 10:
        scaled /= 10
        exponent += 1
    while scaled < 1:
        scaled *= 10
        exponent -= 1
    return exponent


def _places(exponent: int) -> int:
    """How many digits to show of a number that does not end."""
    return max(SIGNIFICANT, exponent + 1) if exponent < WHOLE_DIGITS else SIGNIFICANT


def _digits(value: Fraction) -> tuple[str, int, bool]:
    """First digits of a value above 0 (cut, not rounded), their exponent, and if that is all.

    A cut after a 0 would hide that the number goes on, as in 65534.0…, so it is moved to the next
    digit other than 0 if one comes within MOST_DIGITS.
    """
    exponent = _first_digit_exponent(value)
    places = _places(exponent)
    cut = _cut_at(value, exponent, places)
    if cut[0].endswith("0") and not cut[1] and exponent < WHOLE_DIGITS:
        for more in range(places + 1, MOST_DIGITS + 1):
            further = _cut_at(value, exponent, more)
            if not further[0].endswith("0"):
                return further[0], exponent, further[1]
    return cut[0], exponent, cut[1]


def _cut_at(value: Fraction, exponent: int, places: int) -> tuple[str, bool]:
    """So many digits of a value above 0, and if they are all."""
    scaled = value * Fraction(10) ** (places - 1 - exponent)
    whole = math.floor(scaled)
    return str(whole), whole == scaled


def _laid_out(digits: str, exponent: int) -> str:
    """Digits and the exponent of the first one as a plain or power-of-ten number."""
    if SMALLEST_EXPONENT <= exponent < 0:
        return f"0.{'0' * (-exponent - 1)}{digits}"
    if 0 <= exponent < WHOLE_DIGITS:
        digits = digits.ljust(exponent + 1, "0")
        whole, rest = digits[: exponent + 1], digits[exponent + 1 :]
        return f"{whole}.{rest}" if rest else whole
    rest = f".{digits[1:]}" if len(digits) > 1 else ""
    return f"{digits[0]}{rest}e{exponent:+d}"


def _cut(value: Exact) -> tuple[str, bool]:
    """The magnitude of a nonzero number as text, and if the text is all of it."""
    if not isinstance(value, Pi):
        digits, exponent, whole = _digits(abs(Fraction(value)))
        if whole:
            digits = digits.rstrip("0")
        return _laid_out(digits, exponent), whole
    precision = 100
    while True:
        low, high = (_digits(bound) for bound in enclose(abs(value), precision))
        if low[:2] == high[:2]:
            return _laid_out(low[0], low[1]), False
        precision *= 2


def say_exact(value: Exact) -> str:
    """Give an exact number as a fraction or product with π ("720/7", "5·π/3"); "" if too long."""
    coefficient = value.coefficient if isinstance(value, Pi) else value
    exponent = value.exponent if isinstance(value, Pi) else 0
    limit = 10**FRACTION_DIGITS
    n, d = abs(coefficient.numerator), coefficient.denominator
    if n >= limit or d >= limit:
        return ""
    power = "π" if abs(exponent) == 1 else f"π^{abs(exponent)}"
    above = [str(n)] if n != 1 or exponent <= 0 else []
    below = [str(d)] if d != 1 else []
    if exponent > 0:
        above.append(power)
    elif exponent < 0:
        below.append(power)
    sign = "-" if coefficient < 0 else ""
    top, bottom = "·".join(above), "·".join(below)
    if not bottom:
        return f"{sign}{top}"
    return f"{sign}{top}/({bottom})" if len(below) > 1 else f"{sign}{top}/{bottom}"


def _say_approx(value: Approx) -> str:
    if math.isinf(value.error):
        return "≈ a number out of reach"
    size = abs(value.value)
    if size == 0.0:
        text = "0"
    else:
        exponent = int(f"{size:.{SIGNIFICANT - 1}e}".partition("e")[2])
        if SMALLEST_EXPONENT <= exponent < WHOLE_DIGITS:
            text = f"{size:.{max(0, SIGNIFICANT - 1 - exponent)}f}"
            text = text.rstrip("0").rstrip(".") if "." in text else text
        else:
            mantissa, _, _ = f"{size:.{SIGNIFICANT - 1}e}".partition("e")
            text = f"{mantissa.rstrip('0').rstrip('.')}e{exponent:+d}"
    sign = "-" if value.value < 0 else ""
    # An error too small to touch the digits shown goes unsaid.
    doubt = f" ± {value.error:.1g}" if value.error > size * 0.5 * 10.0 ** (1 - SIGNIFICANT) else ""
    return f"≈ {sign}{text}{doubt}" if size or value.error > 1e-300 else "≈ 0"


def _joined(text: str, unit: str) -> str:
    if not unit:
        return text
    return f"{text}{unit}" if unit == "°" else f"{text} {unit}"


def say_number(value: Number, unit: str = "", *, exactly: bool = True) -> str:
    """Say a value that is already in ``unit``.

    Whole numbers of up to 15 digits and decimals of up to 6 significant digits are said exactly
    ("62.5 mm"). Others are cut after 6 digits (never inside the whole part, nor after a 0) and
    followed by the exact value where that is short: "102.857… deg (720/7)", "62.8318… mm (20·π)".
    An Approx is rounded and marked: "≈ 3.14159 N·m". Unless ``exactly``, only the cut is said.
    """
    if isinstance(value, Approx):
        return _joined(_say_approx(value), unit)
    if not isinstance(value, Pi) and not value:
        return _joined("0", unit)
    text, whole = _cut(value)
    negative = (value.coefficient if isinstance(value, Pi) else value) < 0
    text = f"-{text}" if negative else text
    if whole:
        return _joined(text, unit)
    exact = say_exact(value) if exactly else ""
    mantissa, e, tens = text.partition("e")
    said = _joined(f"{mantissa}…{e}{tens}", unit)
    return f"{said} ({exact})" if exact else said


def say_rounded(
    value: Number,
    unit: str = "",
    *,
    way: int = 0,
    finest: Number | None = None,
    whole: bool = False,
) -> str:
    """Say a computed value that is already in ``unit``, rounded for people.

    It has 4 digits, and more until rounding moves it by ``finest`` at the most. ``way`` is 1 to
    round up, -1 to round down, 0 to the nearest. ``whole``: what counts has all digits before the
    point and, unless it is a whole number, two after it.
    """
    if isinstance(value, Approx) and math.isinf(value.error):
        return "a number out of reach"
    exact = _bound_of(value, way)
    if not exact:
        return _joined("0", unit)
    exponent = _first_digit_exponent(abs(exact))
    decimals = 0 if exact.denominator == 1 else 2
    places = max(TOLD, exponent + 1 + decimals) if whole else TOLD
    number, step = _rounded(exact, exponent, places, way)
    limit = None if finest is None else _bound_of(finest, -1)
    while limit is not None and abs(number * step - exact) > limit > 0 and places < MOST_TOLD:
        places += 1
        number, step = _rounded(exact, exponent, places, way)
    text = plain_digits(number * step)
    error = value.error if isinstance(value, Approx) else 0.0
    doubt = f" ± {error:.1g}" if error > float(step) else ""
    return _joined(f"{text}{doubt}", unit)


def _bound_of(value: Number, way: int) -> Fraction:
    """A value, or its bound on the side that ``way`` names."""
    if isinstance(value, Approx):
        return Fraction(value.value) + way * Fraction(value.error)
    if isinstance(value, Pi):
        low, high = enclose(value)
        return high if way > 0 else low
    return Fraction(value)


def _rounded(value: Fraction, exponent: int, places: int, way: int) -> tuple[int, Fraction]:
    """The value in whole steps of its last place, and the step."""
    step = Fraction(10) ** (exponent - places + 1)
    scaled = value / step
    if way:
        return (math.ceil(scaled) if way > 0 else math.floor(scaled)), step
    nearest = math.floor(abs(scaled) + Fraction(1, 2))
    return (nearest if scaled > 0 else -nearest), step


def plain_digits(value: Fraction) -> str:
    """A number that ends, with all its digits."""
    if not value:
        return "0"
    size = abs(value)
    shift = 0
    while (size * 10**shift).denominator != 1:
        shift += 1
    number = str((size * 10**shift).numerator)
    digits = number.rstrip("0") or number
    return f"{'-' if value < 0 else ''}{_laid_out(digits, len(number) - 1 - shift)}"


def ends_within(value: Number, places: int) -> bool:
    """Whether a number ends within so many digits."""
    if isinstance(value, Pi | Approx):
        return False
    rest = Fraction(value).denominator
    for factor in (2, 5):
        while rest % factor == 0:
            rest //= factor
    if rest != 1:
        return False
    digits = plain_digits(Fraction(value)).partition("e")[0]
    return len(digits.strip("-0").replace(".", "").lstrip("0")) <= places


def say_in_full(value: Number, unit: str = "") -> str:
    """Say a value that is already in ``unit`` so that somebody can type it.

    A number that ends has all its digits. Another one is a fraction, if that is short. What no
    fraction equals has so many digits that rounding moves it by a tenth of a millionth at the most.
    """
    if isinstance(value, Pi | Approx):
        return say_near(value, unit, TYPED_SHARE)
    if ends_within(value, MOST_TOLD):
        return _joined(plain_digits(Fraction(value)), unit)
    fraction = say_exact(value)
    return _joined(fraction, unit) if fraction else say_rounded(value, unit, whole=True)


def say_near(value: Number, unit: str, share: Fraction) -> str:
    """Say a value that is already in ``unit``, which rounding moves by this share at the most."""
    return say_rounded(value, unit, finest=absolute(value) * share)


def say_plainly(value: Number, unit: str = "", *, whole: bool = False) -> str:
    """Say a value of which nobody knows if it was typed: in full if it is short, else rounded."""
    if ends_within(value, SHORT):
        return say_in_full(value, unit)
    return say_rounded(value, unit, whole=whole)


def say_to_enter(value: Number, unit: str = "") -> str:
    """Say a reading, or a value that somebody types where no fraction can be typed."""
    if ends_within(value, MOST_TOLD):
        return say_in_full(value, unit)
    return say_rounded(value, unit, finest=ENTERED)


def say(value: Number, dimension: Dimension, unit: str | None = None) -> str:
    """Say a value in base units of ``dimension``, in ``unit`` or the usual unit of the dimension.

    Raises QuantityError if ``unit`` is given and unknown.
    """
    if unit is None:
        unit = default_unit(dimension)
        if unit not in UNITS:  # a product of base units the table lacks
            return say_number(value, unit)
    return say_number(in_unit(value, unit), unit)


def exact_json(value: Number, unit: str) -> dict[str, object]:
    """Give a value that is already in ``unit`` as JSON fields.

    Exact: numerator, denominator, pi_power, unit, text. Approx: value, error, unit, text, with
    null for both numbers when the error is unbounded.
    """
    text = say_number(value, unit)
    if isinstance(value, Approx):
        if math.isinf(value.error):
            return {"value": None, "error": None, "unit": unit, "text": text}
        return {"value": value.value, "error": value.error, "unit": unit, "text": text}
    coefficient = simplest(value.coefficient if isinstance(value, Pi) else value)
    assert isinstance(coefficient, int | Fraction)
    return {
        "numerator": coefficient.numerator,
        "denominator": coefficient.denominator,
        "pi_power": value.exponent if isinstance(value, Pi) else 0,
        "unit": unit,
        "text": text,
    }
