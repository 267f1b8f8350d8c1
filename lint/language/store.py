"""Checked rules as plain JSON data and back, so that a run need not parse rule text.

Only data: loading it runs nothing that the file brings along.
"""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from typing import Any, TypeAlias

from ..numbers.exact import Pi
from ..numbers.rational import Fraction
from .syntax import (
    Assignment,
    Definition,
    Example,
    Expr,
    Hole,
    Join,
    Key,
    Label,
    NamedText,
    Range,
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
        Key,
        Label,
        NamedText,
        Range,
        Remedy,
        Rule,
        RuleSet,
        Setting,
        Type,
    )
}
_CONSTRUCTORS: dict[str, Callable[..., Any]] = {
    **_CLASSES,
    "Fraction": Fraction,
    "Decimal": Decimal,
    "Pi": Pi,
}


def to_plain(value: Any) -> Any:
    """Turn a tree into lists, dicts, strings, ints, bools and None.

    Types, of which there are few in many places, stand in a list of their own: ``["=", n]`` is the
    n-th of them.
    """
    types: _Types = {}
    plain = _plain_data(value, types)
    return [[fields for _, fields in types.values()], plain]


_Types: TypeAlias = dict[Type, tuple[int, list[Any]]]
"""The number and the plain form of each type met so far; those it is made of come before it."""


def _plain_data(value: Any, types: _Types) -> Any:
    if value is None or isinstance(value, str | bool | int):
        return value
    if isinstance(value, Span):
        return ["Span", *value]
    if isinstance(value, tuple):
        return ["()", *(_plain_data(item, types) for item in value)]
    if isinstance(value, list):
        return ["[]", *(_plain_data(item, types) for item in value)]
    if isinstance(value, dict):
        return ["{}", *([key, _plain_data(item, types)] for key, item in value.items())]
    if isinstance(value, Fraction):
        return ["Fraction", value.numerator, value.denominator]
    if isinstance(value, Decimal):
        return ["Decimal", str(value)]
    if isinstance(value, Pi):
        return ["Pi", _plain_data(value.coefficient, types), value.exponent]
    if isinstance(value, Type):
        if value not in types:
            fields = _fields(value, types)
            types[value] = len(types), fields
        return ["=", types[value][0]]
    return _fields(value, types)


def _fields(value: Any, types: _Types) -> list[Any]:
    cls = type(value)
    if _CLASSES.get(cls.__name__) is not cls:
        raise TypeError(f"cannot store {cls.__name__}")
    return [cls.__name__, *(_plain_data(getattr(value, name), types) for name in cls.__slots__)]


def from_plain(plain: Any) -> Any:
    """The inverse of to_plain."""
    types: list[Type] = []

    def read(value: list[Any]) -> Any:
        word = value[0]
        if word == "=":
            return types[value[1]]
        if word == "Span":
            return Span._make(value[1:])
        if word == "{}":
            return {key: read(item) if type(item) is list else item for key, item in value[1:]}
        rest = [read(item) if type(item) is list else item for item in value]
        if word == "()":
            return tuple(rest[1:])
        if word == "[]":
            return rest[1:]
        return _CONSTRUCTORS[word](*rest[1:])

    listed, whole = plain
    for each in listed:
        types.append(read(each))
    return read(whole) if type(whole) is list else whole
