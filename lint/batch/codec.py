"""From frozen dataclasses (see base/lazy.py) to plain JSON values and back.

A decoder checks every value against the type of its field. So a file from anyone gives a value of
the right shape or an error.
"""

from __future__ import annotations

import math
import types
import typing
from collections.abc import Callable
from functools import lru_cache
from typing import Any, Final, Literal, Union, get_args, get_origin, get_type_hints

from ..base.errors import Place
from ..numbers.exact import Approx, Pi
from ..numbers.rational import Fraction
from ..source.limits import MAX_BYTES

Coder = Callable[[Any], Any]

_TYPES: Final = vars(typing)
"""Names in annotations that their modules import for the type checker alone."""

MAX_COUNT: Final = 1 << 53
"""Largest whole number of a count; what is computed exactly may be larger."""

MAX_POWER: Final = 64
"""Largest power of pi: far more than any chain of facts has."""

_SCALARS: Final = (str, int, bool)
_NUMBER: Final = frozenset({int, Fraction, Pi, Approx})


class DecodeError(ValueError):
    """A plain value is not the encoding of the expected type."""


@lru_cache(maxsize=256)
def encoder(kind: Any) -> Coder:
    """The function from values of a type to plain values.

    Types are str, int, bool, None, Literal, tuples, dicts of JSON scalars by name, numbers of
    ``quantity``, unions with None, and dataclasses of such. Raises TypeError for any other.
    """
    origin, arguments = get_origin(kind), get_args(kind)
    if kind in _SCALARS or origin in (Literal, dict):
        return _identity
    if origin in (Union, types.UnionType):
        if set(arguments) >= _NUMBER:
            return _encode_number
        inner = encoder(_optional(arguments))
        return lambda value: None if value is None else inner(value)
    if origin is tuple:
        if arguments[1:] == (...,):
            item = encoder(arguments[0])
            return lambda value: [item(each) for each in value]
        items = [encoder(each) for each in arguments]
        return lambda value: [code(each) for code, each in zip(items, value, strict=True)]
    if _is_dataclass(kind):
        hints = get_type_hints(kind, localns=_TYPES)
        coders = [(name, encoder(hints[name])) for name in kind.__match_args__]
        return lambda value: {name: code(getattr(value, name)) for name, code in coders}
    raise TypeError(f"no encoding for {kind}")


@lru_cache(maxsize=256)
def decoder(kind: Any) -> Coder:
    """The function from plain values to values of a type; it raises DecodeError."""
    origin, arguments = get_origin(kind), get_args(kind)
    if kind is int:
        return _decode_count
    if kind in _SCALARS:
        return lambda value: value if type(value) is kind else _refuse(value, kind)
    if kind is Place:
        return _place_decoder()
    if origin is Literal:
        return lambda value: value if value in arguments else _refuse(value, kind)
    if origin is dict:
        return _decode_scalars
    if origin in (Union, types.UnionType):
        if set(arguments) >= _NUMBER:
            optional = type(None) in arguments
            return lambda value: None if optional and value is None else _decode_number(value)
        inner = decoder(_optional(arguments))
        return lambda value: None if value is None else inner(value)
    if origin is tuple:
        return _tuple_decoder(arguments)
    if _is_dataclass(kind):
        return _dataclass_decoder(kind)
    raise TypeError(f"no encoding for {kind}")


def _is_dataclass(kind: Any) -> bool:
    return isinstance(kind, type) and hasattr(kind, "__dataclass_fields__")


def _identity(value: Any) -> Any:
    return value


def _refuse(value: Any, kind: Any) -> Any:
    raise DecodeError(f"{type(value).__name__} is no {kind}")


def _optional(arguments: tuple[Any, ...]) -> Any:
    """The other type of a union with None. Raises TypeError for a longer union."""
    (kind,) = [each for each in arguments if each is not type(None)]
    return kind


def _tuple_decoder(arguments: tuple[Any, ...]) -> Coder:
    if arguments[1:] == (...,):
        item = decoder(arguments[0])

        def decode_items(value: Any) -> Any:
            if type(value) is not list:
                _refuse(value, tuple)
            return tuple(item(each) for each in value)

        return decode_items
    items = [decoder(each) for each in arguments]

    def decode_fixed(value: Any) -> Any:
        if type(value) is not list or len(value) != len(items):
            _refuse(value, tuple)
        return tuple(code(each) for code, each in zip(items, value, strict=True))

    return decode_fixed


def _dataclass_decoder(kind: Any) -> Coder:
    hints = get_type_hints(kind, localns=_TYPES)
    coders = [(name, decoder(hints[name])) for name in kind.__match_args__]

    def decode(value: Any) -> Any:
        if type(value) is not dict or len(value) != len(coders):
            _refuse(value, kind)
        try:
            return kind(*[code(value[name]) for name, code in coders])
        except KeyError:
            return _refuse(value, kind)

    return decode


def _decode_count(value: Any) -> Any:
    return value if type(value) is int and abs(value) <= MAX_COUNT else _refuse(value, int)


def _place_decoder() -> Coder:
    decode = _dataclass_decoder(Place)

    def decode_place(value: Any) -> Any:
        place: Place = decode(value)
        numbers = (place.line, place.column, place.end_line, place.end_column)
        start, end = numbers[:2], numbers[2:]
        if not all(1 <= each <= MAX_BYTES + 1 for each in numbers) or end < start:
            _refuse(value, Place)
        return place

    return decode_place


def _decode_scalars(value: Any) -> Any:
    if type(value) is not dict or not all(
        each is None
        or type(each) in (str, int, bool)
        or (type(each) is float and math.isfinite(each))
        for each in value.values()
    ):
        _refuse(value, dict)
    return value


def _encode_number(value: Any) -> Any:
    if value is None or type(value) is int:
        return value
    if isinstance(value, Fraction):
        return {"fraction": [value.numerator, value.denominator]}
    if isinstance(value, Pi):
        return {"pi": [*value.coefficient.as_integer_ratio(), value.exponent]}
    assert isinstance(value, Approx)
    return {"approx": [value.value.hex(), value.error.hex()]}


def _decode_number(value: Any) -> Any:
    if type(value) is int:
        return value
    if type(value) is not dict or len(value) != 1:
        _refuse(value, "number")
    ((form, parts),) = value.items()
    kinds = {"fraction": (int, int), "pi": (int, int, int), "approx": (str, str)}.get(form)
    if type(parts) is not list or tuple(map(type, parts)) != kinds:
        _refuse(value, "number")
    try:
        if form == "approx":
            number, error = map(float.fromhex, parts)
            return Approx(number, error) if math.isfinite(number) else _refuse(value, "number")
        ratio = Fraction(parts[0], parts[1])
        if form == "fraction":
            return ratio
        return Pi(ratio, parts[2]) if abs(parts[2]) <= MAX_POWER else _refuse(value, "number")
    except (ValueError, ArithmeticError):
        return _refuse(value, "number")
