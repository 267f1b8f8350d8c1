"""Numbers of an export as the machine file writes them, and paths of facts."""

from __future__ import annotations

import re
from typing import Final

from ..machine.schema import (
    Field,
    ListType,
    RecordType,
    UnknownField,
    axis_type,
    facts,
    lookup,
    machine_type,
    near,
)
from ..numbers.rational import Fraction, read_fraction
from ..numbers.written import MAX_DIGITS
from ..source.limits import NUMBER_BOUNDS, number_fault

MACHINE: Final = "machine."
"""Begins a path of the machine as a whole, such as machine.network.cycle_time."""

_POINT: Final = re.compile(r"[+-]?[0-9]+(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?")
_COMMA: Final = re.compile(r"[+-]?[0-9]+(?:,[0-9]+)?(?:[eE][+-]?[0-9]+)?")
_GROUPS: Final = re.compile(r"[+-]?[0-9]{1,3}(?:[ \u00a0\u2009\u202f][0-9]{3})+(?![0-9])")
"""Digits in groups of three with a small space between them, as ISO 80000-1 permits."""

_HEX: Final = re.compile(r"0[xX][0-9a-fA-F]+")


_IN_RECORD: Final = re.compile(r"([^\[\]]+)\[[0-9]{0,4}\]\.([^\[\]]+)")


class NotANumber(ValueError):
    """A text that is no number of an export: what it is, and what was expected."""

    def __init__(self, what: str, expected: str) -> None:
        super().__init__(what)
        self.what = what
        self.expected = expected


def exact_text(value: Fraction | int) -> str:
    """A number as decimal digits if it ends, else as a fraction; the machine file reads it back."""
    value = Fraction(value)
    if value.denominator == 1:
        return str(value.numerator)
    rest, twos, fives = value.denominator, 0, 0
    while rest % 2 == 0:
        rest //= 2
        twos += 1
    while rest % 5 == 0:
        rest //= 5
        fives += 1
    places = max(twos, fives)
    if rest != 1 or places > MAX_DIGITS // 2:
        return f"{value.numerator}/{value.denominator}"
    digits = str(abs(value.numerator) * 10**places // value.denominator).rjust(places + 1, "0")
    return f"{'-' if value < 0 else ''}{digits[:-places]}.{digits[-places:]}"


def read_number(text: str, *, comma: bool = False) -> Fraction:
    """A number as an export writes it: decimal (with a point or a comma) or 0x hexadecimal.

    A space can divide its digits into groups of three. Raises NotANumber for anything else,
    formulas and groups with another sign between them included.
    """
    grouped = _GROUPS.match(text)
    if grouped is not None:
        text = re.sub(r"\s", "", grouped[0]) + text[grouped.end() :]
    if _HEX.fullmatch(text):
        fault = number_fault(text)
        if not fault:
            return Fraction(int(text, 16))
    elif (_COMMA if comma else _POINT).fullmatch(text):
        fault = number_fault(text)
        if not fault:
            return read_fraction(text.replace(",", "."))
    else:
        other = (_POINT if comma else _COMMA).fullmatch(text)
        mark = "comma" if comma else "point"
        if other:
            raise NotANumber("has another decimal sign", f"a number with a decimal {mark}")
        raise NotANumber("is no number", f"a number such as {'12,5' if comma else '12.5'}")
    raise NotANumber(fault, NUMBER_BOUNDS)


_NUMBER_AND_UNIT: Final = re.compile(
    r"([+-]?[0-9]+(?:[ \u00a0\u2009\u202f][0-9]{3}(?![0-9]))*(?:[.,][0-9]+)?(?:[eE][+-]?[0-9]+)?)"
    r"\s*([^\s0-9.,+-].*|1/.*|[0-9.,/]+\s*[^\W\d_].*)?"
)
_FACTOR: Final = re.compile(r"(?:1/(10+)|([0-9]+(?:[.,][0-9]+)?))\s*[*x·]?\s*([^\d\s/].*)")


def number_and_unit(text: str) -> tuple[str, str]:
    """A number and the unit behind it; the text and no unit if it is no number with a unit."""
    found = _NUMBER_AND_UNIT.fullmatch(text)
    return (found[1], found[2] or "") if found else (text, "")


def scaled_unit(written: str) -> tuple[Fraction, str] | None:
    """The factor and the unit of a unit such as "0.1 A" or "1/100 mm"; None for another."""
    found = _FACTOR.fullmatch(written)
    if found is None:
        return None
    factor = f"1/{found[1]}" if found[1] else found[2].replace(",", ".")
    return read_fraction(factor), found[3]


def fact_at(path: str) -> Field:
    """The field at a path of a fact, in an axis or after ``machine.``.

    Raises UnknownField, whose candidates are whole paths.
    """
    of_machine = path.startswith(MACHINE)
    record = machine_type() if of_machine else axis_type()
    inner = path.removeprefix(MACHINE)
    try:
        in_record = _IN_RECORD.fullmatch(inner)
        if in_record is not None:
            of_list = lookup(record, in_record[1]).type
            if not isinstance(of_list, ListType) or not isinstance(of_list.item, RecordType):
                raise UnknownField(inner, (), "")
            return lookup(of_list.item, in_record[2])
        field = lookup(record, inner)
        if field.implied or (of_machine and "." not in inner):
            raise UnknownField(inner, (), "")
    except UnknownField as fault:
        known = list(facts(axis_type()))
        known += [MACHINE + each for each in facts(machine_type()) if each.startswith("network")]
        last = inner.rsplit(".", 1)[-1]
        candidates = [each for each in known if each.endswith(f".{last}")]
        candidates += [each for each in near(path, known) if each not in candidates]
        raise UnknownField(path, tuple(candidates[:3]), fault.parent) from None
    return field
