"""How big an input may be: bounds that keep reading time and memory in proportion.

Each bound is checked before the work that it limits. An input beyond a bound gets one clear error.
"""

from __future__ import annotations

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final


MAX_BYTES: Final = 64 * 1024 * 1024
"""Largest file in bytes. A machine of a thousand axes is about 1.4 MB; this is forty times that."""

MAX_DEPTH: Final = 64
"""Deepest nesting of mappings and lists, aliases expanded. A machine file needs about ten; later
stages may recurse over the tree, so the bound stays far below Python's recursion limit."""

MAX_NODES: Final = 5_000_000
"""Most values in a file, aliases counted as if written out, since later stages walk them so."""

MAX_ALIASED: Final = 500_000
"""Most values that the aliases of a file stand for: each takes memory as if it were written out."""

MAX_TEXT: Final = 64 * 1024
"""Longest single scalar in characters: a long remark fits, a pasted file does not."""

MAX_NUMBER_DIGITS: Final = 40
"""Most digits of a number. Exact arithmetic multiplies numerators and denominators, so the
digits of the inputs bound the digits of every result; a 64-bit counter has 20."""

MAX_EXPONENT: Final = 30
"""Largest power of ten, either sign: 1e1000000000 is short to write, endless as an int."""

MAX_AXES: Final = 10_000
"""Most axes of a machine: a report lists all that is undecided for each of them."""

MAX_ENTRIES: Final = 200_000
"""Most records in all lists of a machine together; the largest machine has some 80,000."""

MAX_INCLUDED_FILES: Final = 100
"""Most files one machine may be split over."""


def number_fault(raw: str) -> str:
    """What makes the number text ``raw`` absurd, as the end of a sentence; empty if nothing does.

    ``raw`` already has the shape of a number (sign, digits, point, exponent, or 0x / 0o digits).
    """
    if len(raw) <= 9 and "e" not in raw and "E" not in raw:
        return ""
    if raw[:2] in ("0x", "0o"):
        digits, exponent = raw[2:], ""
    else:
        digits, _, exponent = raw.lower().partition("e")
    count = sum(map(digits.count, "0123456789abcdefABCDEF"))
    if count > MAX_NUMBER_DIGITS:
        return f"has {count} digits"
    power = exponent.lstrip("+-").lstrip("0")
    if len(power) > 3 or (power and int(power) > MAX_EXPONENT):
        return f"has the exponent {shortened(exponent)}"
    return ""


NUMBER_BOUNDS: Final = f"at most {MAX_NUMBER_DIGITS} digits and an exponent within ±{MAX_EXPONENT}"


LONGEST_PATH: Final = 4096
"""Characters of a path that a message names in full: no system takes longer ones."""


def shortened(text: str, longest: int = 60) -> str:
    """``text`` fit for a one-line message: cut to ``longest`` characters."""
    return text if len(text) <= longest else text[: longest - 1] + "…"
