"""Checked rules as plain JSON data and back, so that a run need not parse rule text.

Only data: loading it runs nothing that the file brings along.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from ..quantity import Pi
from ..rational import Fraction
from .syntax import (
    Assignment,
    Definition,
    Example,
    Expr,
    Hole,
    Join,
    Remedy,
    Rule,
    RuleSet,
    Setting,
    Span,
    Type,
)

_CLASSES: dict[str, type[Any]] = {
    cls.__name__: cls
    for cls in (
        Assignment,
        Definition,
        Example,
        Expr,
        Hole,
        Join,
        Remedy,
        Rule,
        RuleSet,
        Setting,
        Span,
        Type,
    )
}


def to_plain(value: Any) -> Any:
    """Turn a tree into lists, dicts, strings, ints, bools and None."""
    if value is None or isinstance(value, str | bool | int):
        return value
    if isinstance(value, tuple):
        return ["()", *map(to_plain, value)]
    if isinstance(value, list):
        return ["[]", *map(to_plain, value)]
    if isinstance(value, dict):
        return ["{}", *([key, to_plain(item)] for key, item in value.items())]
    if isinstance(value, Fraction):
        return ["Fraction", value.numerator, value.denominator]
    if isinstance(value, Decimal):
        return ["Decimal", str(value)]
    if isinstance(value, Pi):
        return ["Pi", to_plain(value.coefficient), value.exponent]
    cls = type(value)
    if _CLASSES.get(cls.__name__) is not cls:
        raise TypeError(f"cannot store {cls.__name__}")
    return [cls.__name__, *(to_plain(getattr(value, name)) for name in cls.__slots__)]


def from_plain(value: Any) -> Any:
    """The inverse of to_plain."""
    if not isinstance(value, list):
        return value
    word, *rest = value
    match word:
        case "()":
            return tuple(map(from_plain, rest))
        case "[]":
            return list(map(from_plain, rest))
        case "{}":
            return {key: from_plain(item) for key, item in rest}
        case "Fraction":
            return Fraction(*rest)
        case "Decimal":
            return Decimal(rest[0])
        case "Pi":
            return Pi(from_plain(rest[0]), rest[1])
    return _CLASSES[word](*map(from_plain, rest))
