"""How messages about rules speak of types, dimensions and names that are close."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from typing import Final

from ..machine.old_names import new_name
from ..numbers.dimensions import Dimension, dim_words
from .syntax import Expr, Type

PART_ASKED: Final = "is none, or is not none: a part is known to be absent, or not"
"""How a part can be asked for."""


def nearest_name(word: str, choices: Iterable[str]) -> str:
    """The known name that a word most likely stands for, as a hint; empty if none is close."""
    choices = list(choices)
    renamed = new_name(word, choices)
    if renamed:
        return f"perhaps {renamed}"
    close = difflib.get_close_matches(word, choices, 1, 0.85)
    if not close:  # the last word is right, and the parts before it are not
        tail = word.rpartition(".")[2]
        same = [c for c in choices if "." in c and c.rpartition(".")[2] == tail]
        close = difflib.get_close_matches(word, same, 1, 0)
    close = close or difflib.get_close_matches(word, choices, 1, 0.6)
    return f"perhaps {close[0]}" if close else ""


def date_meant(expr: Expr) -> str:
    """How to write the day that numbers with signs between them most likely mean."""
    numbers = [node.data[0] for node in expr.walk() if node.op == "num"]
    signs = {node.op for node in expr.walk() if node.op != "num"}
    if len(numbers) != 3 or not (signs <= {"sub"} or signs <= {"div"}):
        return ""
    if not all(isinstance(number, int) for number in numbers):
        return ""
    year, month, day = numbers if numbers[0] > 31 else numbers[::-1]
    return f"a day as one word: {year:04}-{month:02}-{day:02}"


def kind_phrase(type_: Type) -> str:
    """The kind of a value, with its article."""
    return {
        "number": "a number",
        "flag": "true or false",
        "name": "a word",
        "text": "a text",
        "date": "a date",
        "period": "a calendar period",
        "method": "a homing method",
        "list": "a list",
        "record": "a record",
        "part": "a part",
    }[type_.kind]


def dimension_phrase(dimension: Dimension) -> str:
    """A dimension, with its article."""
    words = dim_words(dimension)
    if words.split("·")[0].split(" ")[-1] in ("counts",):
        return words
    return ("an " if words[:1] in "aeiou" else "a ") + words
