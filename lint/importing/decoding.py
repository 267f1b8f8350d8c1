"""One cell of a parameter list as a value of the machine file: exact, or refused with its place."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, Final

from ..base.errors import InputError, Place
from ..machine.schema import Leaf, ListType
from ..machine.value_reader import Convert, Refusal, converter, expectation
from ..numbers.rational import Fraction
from ..numbers.units import UNITS, suggest_unit, units_of
from ..numbers.written import in_quotes
from ..source.files import Plain, Source
from .cell import Cell
from .export import ImportRemark
from .fact_source import FactSource
from .mapping import AS_WRITTEN, LEFT_OUT, NUMERIC, Mapping
from .unit_words import AmbiguousUnit, export_unit, meanings
from .values import NotANumber, exact_text, number_and_unit, read_number, scaled_unit

_ORDERS: Final = {
    "yyyy-mm-dd": ("-", (0, 1, 2)),
    "dd.mm.yyyy": (".", (2, 1, 0)),
    "dd/mm/yyyy": ("/", (2, 1, 0)),
    "mm/dd/yyyy": ("/", (2, 0, 1)),
}


_OF_COUNTS: Final = {"", "count", "counts", "turn", "rev", "count/rev", "counts/rev", "count/r"}
"""What a whole number may count: things, counts, turns, counts per turn."""


class Decoder:
    """Decodes cells of one list; ``remarks`` collects what was left out."""

    def __init__(self, mapping: Mapping, source: Source) -> None:
        self.mapping = mapping
        self.source = source
        self.remarks: list[ImportRemark] = []
        self.converters: dict[str, Convert] = {}

    def error(self, what: str, place: Place, expected: str) -> InputError:
        """An error about ``place`` in the list, to be raised by the caller."""
        return InputError(
            what, expected=expected, place=place, source_line=self.source.line_text(place.line)
        )

    def decode(self, fact_source: FactSource, cell: Cell) -> Plain | None:
        """The value that ``cell`` states for ``fact_source``; None if it states none.

        Raises InputError for a text that is not what the mapping says, and for a number that the
        fact cannot hold exactly.
        """
        text = cell.text
        if text == "" and "" not in fact_source.none:
            return None
        if fact_source.bits is None and text in fact_source.none:
            return "none"
        kind = fact_source.field.type
        if isinstance(kind, ListType):
            return self._list_of(fact_source, cell)
        if fact_source.bits is not None:
            number = self._field_of(fact_source, cell)
            if fact_source.names is not None:
                return self._word(fact_source, cell, str(number))
            return self._number_value(fact_source, cell, Fraction(number))
        return self._single(fact_source, cell, text)

    def _single(self, fact_source: FactSource, cell: Cell, text: str) -> Plain | None:
        if fact_source.names is not None:
            return self._word(fact_source, cell, text)
        leaf = fact_source.leaf
        assert leaf is not None
        if leaf.kind == "method" and text in leaf.names:
            return text
        if leaf.kind in NUMERIC:
            if self.mapping.form.unit_in_value:
                text, unit = number_and_unit(text)
                cell = replace(cell, unit=unit or cell.unit)
            return self._number_value(fact_source, cell, self._number(fact_source, cell, text))
        value: Plain = self._day(fact_source, cell, text) if leaf.kind == "date" else text
        return self._checked(fact_source, cell, value)

    def _list_of(self, fact_source: FactSource, cell: Cell) -> Plain:
        entries: list[Plain] = []
        for part in cell.text.split(fact_source.separator):
            value = self._single(fact_source, cell, part.strip())
            if value is not None:
                entries.append(value)
        return {"partial": entries} if fact_source.partial else entries

    def _word(self, fact_source: FactSource, cell: Cell, text: str) -> Plain | None:
        """What the mapping names ``text``; None if it is left out."""
        assert fact_source.names is not None
        found = fact_source.names.get(text)
        if found is None:
            try:
                found = fact_source.names.get(
                    exact_text(read_number(text, comma=self.mapping.comma))
                )
            except NotANumber:
                found = None
        if found is None:
            known = ", ".join(map(str, list(fact_source.names)[:12]))
            raise self.error(
                f"{cell.parameter} is {in_quotes(text)}{_bits(fact_source)}, which "
                f"{self.mapping.name} does not name",
                cell.place,
                f"one of {known}",
            )
        if found == LEFT_OUT:
            self.remarks.append(
                ImportRemark(
                    cell.place,
                    f"{cell.parameter} is {in_quotes(text)}{_bits(fact_source)}: left out",
                )
            )
            return None
        return found

    def _number(self, fact_source: FactSource, cell: Cell, text: str) -> Fraction:
        try:
            value = read_number(text, comma=self.mapping.comma)
        except NotANumber as fault:
            raise self.error(
                f"{cell.parameter} is {in_quotes(text)}, which {fault.what}",
                cell.place,
                fault.expected,
            ) from None
        if fact_source.width is not None:
            value = Fraction(self._of_width(fact_source, cell, value))
        return value

    def _of_width(self, fact_source: FactSource, cell: Cell, value: Fraction) -> int:
        """A number of a stated width; two's complement (or a sign) if it is signed."""
        assert fact_source.width is not None
        width = fact_source.width
        low = -(1 << width - 1) if fact_source.signed else 0
        if value.denominator != 1 or not low <= value < 1 << width:
            raise self.error(
                f"{cell.parameter} is {in_quotes(cell.text)}, which {width} bits cannot hold",
                cell.place,
                f"a whole number from {low} to {(1 << width) - 1}",
            )
        number = int(value)
        if fact_source.signed and number >= 1 << width - 1:
            number -= 1 << width
        return number

    def _field_of(self, fact_source: FactSource, cell: Cell) -> int:
        assert fact_source.bits is not None
        first, last = fact_source.bits
        number = self.bits_of(cell)
        return number >> first & ((1 << last - first + 1) - 1)

    def bits_of(self, cell: Cell) -> int:
        """The cell as a number whose bits are read."""
        try:
            value = read_number(cell.text, comma=self.mapping.comma)
        except NotANumber as fault:
            raise self.error(
                f"{cell.parameter} is {in_quotes(cell.text)}, which {fault.what}",
                cell.place,
                "a whole number, whose bits are read",
            ) from None
        if value.denominator != 1 or not 0 <= value < 1 << 64:
            raise self.error(
                f"{cell.parameter} is {in_quotes(cell.text)}, whose bits cannot be read",
                cell.place,
                "a whole number from 0 to 2^64 - 1",
            )
        return int(value)

    def _number_value(self, fact_source: FactSource, cell: Cell, number: Fraction) -> Plain:
        """A number, scaled and with its unit, as the machine file writes it."""
        leaf = fact_source.leaf
        assert leaf is not None
        value = number * fact_source.scale + fact_source.offset
        if fact_source.minus:
            value = -value
        if leaf.kind in ("whole", "method"):
            self._check_unit_of_count(fact_source, cell)
            if value.denominator != 1:
                raise self.error(
                    f"{cell.parameter} is {in_quotes(cell.text)}, which makes {fact_source.to} "
                    f"{exact_text(value)}",
                    cell.place,
                    "a whole number, so that nothing is lost",
                )
            return self._checked(fact_source, cell, int(value))
        unit = self._unit(fact_source, cell, leaf)
        text = exact_text(value)
        return self._checked(fact_source, cell, f"{text} {unit}" if unit else text)

    def _check_unit_of_count(self, fact_source: FactSource, cell: Cell) -> None:
        """Refuse a unit of measure beside a whole number, which would be another quantity."""
        units = meanings(cell.unit) if cell.unit and fact_source.scale == 1 else ()
        if units and _OF_COUNTS.isdisjoint(units):
            raise self.error(
                f"the unit of {cell.parameter} is {in_quotes(cell.unit or '')}",
                cell.unit_place or cell.place,
                f"no unit or counts, since {fact_source.to} is a whole number",
            )

    def _unit(self, fact_source: FactSource, cell: Cell, leaf: Leaf) -> str:
        written = cell.unit or ""
        place = cell.unit_place or cell.place
        allowed = units_of(leaf.quantity or "")
        if fact_source.unit == AS_WRITTEN:
            if not written:
                raise self.error(
                    f"{cell.parameter} is {in_quotes(cell.text)} without a unit",
                    place,
                    expectation(leaf),
                )
            try:
                unit = export_unit(written, leaf.quantity or "")
            except AmbiguousUnit as several:
                raise self.error(
                    f"the unit of {cell.parameter} is {in_quotes(written)}, which is {several}",
                    place,
                    f"one of the two, or in {self.mapping.name} unit: {several}",
                ) from None
            if unit is None:
                close = suggest_unit(written, allowed)
                raise self.error(
                    f"the unit of {cell.parameter} is {in_quotes(written)}",
                    place,
                    f"perhaps {close!r}" if close else expectation(leaf),
                )
            return unit
        if written and _is_scaled(written, fact_source):
            return fact_source.unit
        if written and not any(_same_unit(each, fact_source.unit) for each in meanings(written)):
            raise self.error(
                f"the unit of {cell.parameter} is {in_quotes(written)}",
                place,
                f"{fact_source.unit or 'none'}, as {self.mapping.name} states",
            )
        return fact_source.unit

    def _day(self, fact_source: FactSource, cell: Cell, text: str) -> str:
        mark, (year, month, day) = _ORDERS[fact_source.date]
        parts = text.split(mark)
        if len(parts) == 3 and all(part.isascii() and part.isdigit() for part in parts):
            return f"{parts[year]:>04}-{parts[month]:>02}-{parts[day]:>02}"
        raise self.error(
            f"{cell.parameter} is {in_quotes(text)}", cell.place, f"a day as {fact_source.date}"
        )

    def _checked(self, fact_source: FactSource, cell: Cell, value: Any) -> Plain:
        """``value`` if the fact takes it; a refusal shows the list, not what became of it."""
        leaf = fact_source.leaf
        assert leaf is not None
        convert = self.converters.get(fact_source.to)
        if convert is None:
            convert = self.converters[fact_source.to] = converter(leaf, fact_source.field.examples)
        try:
            convert(value)
        except Refusal as refusal:
            raise self.error(
                f"{cell.parameter} is {in_quotes(cell.text)}: {fact_source.to} {refusal.what}",
                cell.place,
                refusal.expected,
            ) from None
        plain: Plain = value
        return plain


_STEPS: Final = frozenset({"count", "counts", "%", "‰"})
"""What a scale can turn into another unit: increments, and shares of a rated value."""


def _is_scaled(written: str, fact_source: FactSource) -> bool:
    """Whether the scale of a mapping turns what a list writes into the unit of the mapping.

    A list can write the factor itself ("0.1 A"), or count increments or per cent.
    """
    if fact_source.scale == 1:
        return False
    found = scaled_unit(written)
    if found is None:
        return not _STEPS.isdisjoint(meanings(written))
    same = any(_same_unit(each, fact_source.unit) for each in meanings(found[1]))
    return same and found[0] == fact_source.scale


def _bits(fact_source: FactSource) -> str:
    """In which bits a number stands, if it does not fill its parameter."""
    if fact_source.bits is None:
        return ""
    low, high = fact_source.bits
    return f" in bit {low}" if low == high else f" in bits {low} to {high}"


def _same_unit(one: str, two: str) -> bool:
    known, other = UNITS.get(one), UNITS.get(two)
    if known is None or other is None:
        return False
    return known.dimension == other.dimension and known.factor == other.factor
