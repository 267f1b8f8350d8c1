"""Numbers as somebody writes them: read exactly, with bounds on their digits."""

from __future__ import annotations

from ..base.lazy import pattern
from .exact import QuantityError
from .rational import Fraction, norm

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final


MAX_DIGITS: Final = 40
"""Most digits a written number may have."""

MAX_EXPONENT: Final = 30
"""Largest power of ten (either sign) a written number may carry."""

NUMBER_PATTERN: Final = r"[+-]?[0-9]+(?:/0*[1-9][0-9]*|(?:\.[0-9]+)?(?:[eE][+-]?[0-9]{1,2})?)"
"""How a number is written, apart from the caps on digits; safe for Python and ECMA 262."""

WRITTEN: Final = r"([+-]?)([0-9]+)(?:/([0-9]+)|(?:\.([0-9]+))?(?:[eE]([+-]?[0-9]+))?)"
"""The same without caps; its groups are what ``number_of`` takes behind the text."""

_WRITTEN: Final = pattern(WRITTEN)

NUMBER_EXPECTED: Final = "a number such as 12, 0.25, 1.5e-3 or 720/7"


def in_quotes(text: str, limit: int = 60) -> str:
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
        raise QuantityError(f"{in_quotes(text)} is not a number", NUMBER_EXPECTED)
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
            what = f"{in_quotes(text)} has {digits} digits"
            raise QuantityError(what, f"at most {MAX_DIGITS} digits in a number")
    tens = 0
    if exponent is not None:
        tens = int(exponent)
        if len(exponent.lstrip("+-")) > 2 or abs(tens) > MAX_EXPONENT:
            raise QuantityError(
                f"{in_quotes(text)} has the power of ten {exponent}",
                f"at most two digits, from -{MAX_EXPONENT} to {MAX_EXPONENT}",
            )
    value: int | Fraction
    if denominator is not None:
        below = int(denominator)
        if not below:
            raise QuantityError(f"{in_quotes(text)} divides by zero", "a denominator above 0")
        value = norm(Fraction(int(whole), below))
    elif decimals is None and tens == 0:
        value = int(whole)
    else:
        scale = tens - len(decimals or "")
        number = int(whole + (decimals or ""))
        value = number * 10**scale if scale >= 0 else norm(Fraction(number, 10**-scale))
    return (-value if sign == "-" else value), len(decimals or "")
