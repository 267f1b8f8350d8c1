"""Numbers as words: exact where short, marked where cut (…) and where rounded (≈)."""

from __future__ import annotations

import math
from typing import Final

from .dimensions import Dimension
from .exact import Approx, Exact, Number, Pi, enclose, simplest
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
