"""Columns in code points, as places have them, and in UTF-16 code units, as SARIF has them."""

from __future__ import annotations


def utf16_column(line_text: str, column: int) -> int:
    """A column in code points (from 1) as one in UTF-16 code units (from 1)."""
    before = line_text[: column - 1]
    beyond = max(column - 1 - len(before), 0)
    return 1 + len(before) + sum(char > "\uffff" for char in before) + beyond


def code_points(line_text: str, units: int) -> int:
    """How many code points of a line lie before its UTF-16 code unit ``units`` (from 0).

    Within a pair of units it is the character before; beyond the line it is all of the line.
    """
    passed = 0
    for number, char in enumerate(line_text):
        passed += 2 if char > "\uffff" else 1
        if passed > units:
            return number
    return len(line_text)
