"""Single values of a machine file: what was written, checked and made exact, in base units."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from functools import lru_cache

from ..base.lazy import pattern
from ..numbers.dimensions import dim_words
from ..numbers.exact import QuantityError
from ..numbers.rational import Fraction, norm
from ..numbers.units import KINDS, UNITS, parse_quantity, suggest_unit, units_of
from ..numbers.written import in_quotes
from .homing_methods import normalised
from .names import TextForm
from .schema import Leaf, near

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, Final, TypeAlias


CACHED: Final = 4096
"""Distinct written quantities remembered per kind of leaf."""

_EPOCH: Final = date(1970, 1, 1).toordinal()
_DAY: Final = 86400


class Refusal(Exception):
    """A value that its leaf does not take: ``what`` is a predicate ("is 'x'"), see errors.py."""

    def __init__(self, what: str, expected: str) -> None:
        super().__init__(what)
        self.what = what
        self.expected = expected


Value: TypeAlias = "tuple[Any, int, str | None]"
"""A bare value in base units, the digits written after its point, and the motion it fits.

The motion is ``linear`` or ``rotary`` for a quantity in user units of an axis, else None.
"""


def _bare(value: Any) -> Value:
    """A value that was written without decimals and fits any motion."""
    return value, 0, None


Convert: TypeAlias = "Callable[[Any], Value]"
"""Plain value to Value; raises Refusal."""

_KIND_WORDS: Final[dict[str, tuple[str, str]]] = {
    "length": ("a length", "12.5 mm"),
    "angle": ("an angle", "0.5 rev"),
    "position": ("a length or an angle", "12.5 mm"),
    "time": ("a time", "20 ms"),
    "speed": ("a speed", "500 mm/s"),
    "angular_speed": ("a rotational speed", "3000 rpm"),
    "position_speed": ("a speed", "500 mm/s"),
    "acceleration": ("an acceleration", "2000 mm/s^2"),
    "angular_acceleration": ("a rotational acceleration", "360 deg/s^2"),
    "position_acceleration": ("an acceleration", "2000 mm/s^2"),
    "jerk": ("a jerk", "20000 mm/s^3"),
    "angular_jerk": ("a rotational jerk", "3600 deg/s^3"),
    "position_jerk": ("a jerk", "20000 mm/s^3"),
    "feed": ("a feed per turn", "10 mm/rev"),
    "mass": ("a mass", "45 kg"),
    "inertia": ("a moment of inertia", "1.4 kg cm^2"),
    "torque": ("a torque", "2.4 N·m"),
    "force": ("a force", "40 N"),
    "force_constant": ("a force constant", "45 N/A"),
    "energy": ("an energy", "12 J"),
    "count": ("a count", "4096 count"),
    "count_rate": ("a rate of counts", "2 Mcount/s"),
    "rate": ("a rate", "30 1/s"),
    "resolution": ("counts per user unit", "13107.2 count/mm"),
    "current": ("a current", "3 A"),
    "voltage": ("a voltage", "24 V"),
    "voltage_constant": ("a voltage per speed", "80 V/krpm"),
    "power": ("a power", "400 W"),
}
_FREE_TEXTS: Final = ("serial", "text")
"""Texts of any wording, but for what marks a value that nobody filled in."""

_MARK = pattern(
    r"[-–—_#*/.·?…\s]+|\s*(?:<[^<>]*>|tbd|to ?do|x{3,9}|n/a|unknown|not known)\s*", re.IGNORECASE
)
"""What people write where a value is still to come, the starter's `…` among it.

Blanks match in one place of each part, so that a long text of blanks costs no more than it is long.
"""

_SERIAL_MARK = pattern(r"(?:[^…]*….*|\s*(?:0+|none|null|missing)\s*)", re.IGNORECASE | re.DOTALL)
"""What is no serial number besides: two such marks are alike, and say nothing of two parts."""

_SIGN_WORDS: Final = {"any": "", "positive": " above zero", "not_negative": " of zero or more"}


def show(value: Any) -> str:
    """Give a plain value as it is named in a message."""
    if isinstance(value, str):
        return in_quotes(value)
    if isinstance(value, dict):
        return "a record" if value else "an empty record"
    if isinstance(value, list):
        return "a list" if value else "an empty list"
    return as_written(value)


def as_written(value: Any) -> str:
    """Give a plain scalar as the user would write it, without quotes."""
    if isinstance(value, bool):
        return "true" if value else "false"
    return format(value, "f") if isinstance(value, Decimal) else str(value)


def expectation(leaf: Leaf, examples: tuple[object, ...] = ()) -> str:
    """Say what a leaf takes, with an example."""
    if leaf.kind == "quantity":
        return _quantity_expectation(leaf, examples)
    if leaf.kind == "whole":
        return _whole_expectation(leaf, examples)
    if leaf.kind == "flag":
        return "true or false"
    if leaf.kind == "name":
        return "one of " + ", ".join(leaf.names)
    if leaf.kind == "date":
        return 'a day as year-month-day, such as "2026-03-14"'
    if leaf.kind == "method":
        return (
            f"a CiA 402 method number from {leaf.minimum} to {leaf.maximum}, or a neutral name "
            f"such as {leaf.names[0]}"
        )
    if leaf.kind == "any":
        return 'a text, a number, true or false, such as "12.5 mm"'
    if leaf.definition == "axis_name":
        return "an axis name of up to 64 letters, digits, - and _ that begins with a letter"
    if leaf.pattern:
        return "up to 100 letters, digits, spaces, and . _ - that begin with a letter or digit"
    longest = "" if leaf.max_length is None else f" of at most {leaf.max_length} characters"
    return f"text{longest} (in quotes if it looks like a number)"


def _quantity_expectation(leaf: Leaf, examples: tuple[object, ...]) -> str:
    sign = _SIGN_WORDS[leaf.sign]
    if leaf.quantity == "ratio":
        return f'a ratio{sign}, such as 7, 0.85, "10/3" or "80 %"'
    words, example = _KIND_WORDS[leaf.quantity or ""]
    shown = examples[0] if examples else example
    return f'{words}{sign} with its unit, such as "{shown}"'


def _whole_expectation(leaf: Leaf, examples: tuple[object, ...]) -> str:
    low, high = leaf.minimum, leaf.maximum
    if low is not None and low == high:
        return str(low)
    if leaf.numbers:
        return f"one of {', '.join(map(str, leaf.numbers))}, without unit or quotes"
    bounds = ""
    if low is not None and high is not None:
        bounds = f" from {low} to {high}"
    elif low is not None:
        bounds = f" of {low} or more"
    example = f", such as {examples[0]}" if examples else ""
    return f"a whole number{bounds}, without unit or quotes{example}"


def converter(leaf: Leaf, examples: tuple[object, ...] = (), *, nullable: bool = False) -> Convert:
    """Compile the reading of a leaf into one function; `none` itself is the caller's to take."""
    expected = expectation(leaf, examples) + (", or none" if nullable else "")
    makers: dict[str, Callable[[Leaf, str], Convert]] = {
        "quantity": _quantity,
        "whole": _whole,
        "name": _name,
        "flag": _flag,
        "text": _text,
        "date": _date,
        "method": _method,
        "any": _any,
    }
    return makers[leaf.kind](leaf, expected)


def _mismatch(value: Any, expected: str) -> Refusal:
    """Refuse a value of the wrong type."""
    if value == "none":
        return Refusal("is none", f"{expected}. Leave the fact out if it is not known")
    if isinstance(value, bool):
        return Refusal(f"is {show(value)}", expected)
    if isinstance(value, int | Decimal):
        return Refusal(f"is the number {show(value)}", expected)
    if isinstance(value, str):
        return _unfilled(value, expected) or Refusal(f"is the text {show(value)}", expected)
    return Refusal(f"is {show(value)}", expected)


def _unfilled(value: str, expected: str, serial: bool = False) -> Refusal | None:
    """Refuse a mark for a value that nobody filled in; None if it is no such mark."""
    if not (_MARK.fullmatch(value) or (serial and _SERIAL_MARK.fullmatch(value))):
        return None
    return Refusal(
        f"is {in_quotes(value)}, which marks a value that is not filled in",
        f"{expected}. Leave the fact out if it is not known",
    )


def _quantity(leaf: Leaf, expected: str) -> Convert:
    kind = leaf.quantity or ""
    allowed = frozenset(units_of(kind))
    signless, positive = leaf.sign == "any", leaf.sign == "positive"
    in_user_units = leaf.in_user_units

    def signed(value: Value, written: str) -> Value:
        if not signless and (value[0] < 0 or written[:1] == "-"):
            raise Refusal(f"is {in_quotes(written)}, which is negative", expected)
        if positive and not value[0] > 0:
            raise Refusal(f"is {in_quotes(written)}, which is zero", expected)
        return value

    known: dict[str, Value] = {}

    def read(text: str) -> Value:
        try:
            quantity = parse_quantity(text)
        except QuantityError as error:
            raise _unreadable(text, kind, error, expected) from None
        if quantity.unit not in allowed:
            if not quantity.unit:
                raise Refusal(f"is {in_quotes(text)}, a number without a unit", expected)
            words = _dimension_of(quantity.unit, quantity.dimension)
            raise Refusal(f"is {in_quotes(text)}, {words}", expected)
        motion = None
        if in_user_units:
            linear = any(base == "length" for base, _ in quantity.dimension)
            motion = "linear" if linear else "rotary"
        return signed((quantity.value, quantity.decimals, motion), text)

    def convert(value: Any) -> Value:
        if type(value) is str:
            found = known.get(value)
            if found is None:
                if len(known) >= CACHED:
                    known.clear()
                found = known[value] = read(value)
            return found
        if type(value) is int or type(value) is Decimal:
            if not leaf.plain_number:
                raise Refusal(f"is {show(value)}, a number without a unit", expected)
            return signed(_plain_number(value), "" if value == 0 else as_written(value))
        raise _mismatch(value, expected)

    return convert


_BEGINS_AS_NUMBER: Final = pattern(r"[+-]?[0-9]")
_NUMBER_AND_REST: Final = pattern(
    r"[+-]?[0-9]+(?:/[0-9]+|(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?) *(.*)", re.DOTALL
)
_WITH_COMMA: Final = pattern(r"[+-]?[0-9]+,[0-9]")


def _unreadable(text: str, kind: str, error: QuantityError, expected: str) -> Refusal:
    """Word the refusal of a text that is no number with a unit of the table."""
    if not _BEGINS_AS_NUMBER.match(text):
        return _mismatch(text, expected)
    if _WITH_COMMA.match(text):
        return Refusal(
            f"is {in_quotes(text)}, written with a comma", f"a point, and here {expected}"
        )
    found = _NUMBER_AND_REST.fullmatch(text)
    hint = error.expected
    if found and found[1] and found[1] not in UNITS:
        perhaps = suggest_unit(found[1], units_of(kind))
        hint = f"perhaps {perhaps!r}" if perhaps else ""
    told = in_quotes(text)
    what = error.what.replace(told, f"{told}, which", 1) if told in error.what else ""
    what = what or f"{told}: {error.what}"
    return Refusal(f"is {what}", f"{hint}, and here {expected}" if hint else expected)


def _plain_number(value: int | Decimal) -> Value:
    if isinstance(value, int):
        return _bare(value)
    exponent = value.as_tuple().exponent
    assert isinstance(exponent, int)
    return norm(Fraction(value)), max(0, -exponent), None


def _dimension_of(unit: str, dimension: tuple[tuple[str, int], ...]) -> str:
    for kind, (words, _) in _KIND_WORDS.items():
        if KINDS[kind] == {dimension} and unit in units_of(kind):
            return words
    return f"a {dim_words(dimension)}"


def _whole(leaf: Leaf, expected: str) -> Convert:
    low, high = leaf.minimum, leaf.maximum
    numbers = frozenset(leaf.numbers)

    def convert(value: Any) -> Value:
        if type(value) is not int:
            value = _integer(value, expected)
        if numbers and value not in numbers:
            raise Refusal(f"is {value}", expected)
        if (low is not None and value < low) or (high is not None and value > high):
            raise Refusal(f"is {value}", expected)
        return _bare(value)

    return convert


def _integer(value: Any, expected: str) -> int:
    """A decimal number without a fraction, as an int; refuses all else that is not one."""
    if type(value) is Decimal and value == value.to_integral_value():
        return int(value)
    raise _mismatch(value, expected)


def _name(leaf: Leaf, expected: str) -> Convert:
    known = {name: _bare(name) for name in leaf.names}

    def convert(value: Any) -> Value:
        if type(value) is not str:
            raise _mismatch(value, expected)
        found = known.get(value)
        if found is None:
            raise _unknown_name(value, leaf, expected)
        return found

    return convert


def _unknown_name(value: str, leaf: Leaf, expected: str) -> Refusal:
    if value == "none":
        return _mismatch(value, expected)
    if refusal := _unfilled(value, expected):
        return refusal
    candidates = near(value, leaf.names)
    perhaps = f"perhaps {candidates[0]!r}, or " if candidates else ""
    return Refusal(f"is {in_quotes(value)}", perhaps + expected)


def _flag(leaf: Leaf, expected: str) -> Convert:
    known = {False: _bare(False), True: _bare(True)}

    def convert(value: Any) -> Value:
        if type(value) is not bool:
            raise _mismatch(value, expected)
        return known[value]

    return convert


def _text(leaf: Leaf, expected: str) -> Convert:
    shortest, longest = leaf.min_length, leaf.max_length
    form = TextForm(leaf.pattern) if leaf.pattern else None
    free, serial = leaf.definition in _FREE_TEXTS, leaf.definition == "serial"

    def convert(value: Any) -> Value:
        if type(value) is not str:
            raise _mismatch(value, expected)
        if free and (refusal := _unfilled(value, expected, serial)):
            raise refusal
        if len(value) < shortest:
            raise Refusal("is empty", expected)
        if longest is not None and len(value) > longest:
            raise Refusal(f"has {len(value)} characters", expected)
        if form is not None and not form.fits(value):
            raise _unfilled(value, expected) or Refusal(f"is {in_quotes(value)}", expected)
        return _bare(value)

    return convert


def _date(leaf: Leaf, expected: str) -> Convert:
    form = pattern(leaf.pattern)

    @lru_cache(maxsize=CACHED)
    def read(text: str) -> Value:
        if not form.search(text):
            raise _mismatch(text, expected)
        try:
            day = date(int(text[:4]), int(text[5:7]), int(text[8:10]))
        except ValueError:
            raise Refusal(f"is {text}, which no calendar has", expected) from None
        return _bare((day.toordinal() - _EPOCH) * _DAY)

    def convert(value: Any) -> Value:
        if type(value) is not str:
            raise _mismatch(value, expected)
        return read(value)

    return convert


def _method(leaf: Leaf, expected: str) -> Convert:
    known = {name: _bare(normalised(name)) for name in leaf.names}
    low, high = leaf.minimum, leaf.maximum
    assert low is not None
    assert high is not None

    def convert(value: Any) -> Value:
        if type(value) is str:
            found = known.get(value)
            if found is None:
                raise _unknown_name(value, leaf, expected)
            return found
        if type(value) is not int:
            value = _integer(value, expected)
        if not low <= value <= high:
            raise Refusal(f"is {value}", expected)
        return _bare(value)

    return convert


def _any(leaf: Leaf, expected: str) -> Convert:
    def convert(value: Any) -> Value:
        if type(value) not in (str, int, Decimal, bool):
            raise _mismatch(value, expected)
        return _bare(value)

    return convert
