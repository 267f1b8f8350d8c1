"""How messages about rules speak of types, dimensions and names that are close."""

from __future__ import annotations

import difflib
from collections.abc import Iterable

from ..numbers.dimensions import Dimension, dim_words
from .syntax import Expr, Type


def nearest_name(word: str, choices: Iterable[str]) -> str:
    """The known name that a word most likely stands for, as a hint; empty if none is close."""
    choices = list(choices)
    close = difflib.get_close_matches(word, choices, 1, 0.6)
    if not close and "." in word:
        tail = word.rsplit(".", 1)[1]
        close = [c for c in choices if c.rsplit(".", 1)[-1] == tail][:1]
    if not close:
        ends = [c for c in choices if c.endswith("." + word)]
        close = ends[:1]
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
