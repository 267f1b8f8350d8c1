"""As many digits of pi as somebody asks for."""

from __future__ import annotations

from functools import lru_cache

from .rational import Fraction

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final


PI_DIGITS: Final = (
    "31415926535897932384626433832795028841971693993751"
    "05820974944592307816406286208998628034825342117067"
    "98214808651328230664709384460955058223172535940812"
)
"""The first 150 digits of pi, truncated (OEIS A000796; a test recomputes them)."""


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
