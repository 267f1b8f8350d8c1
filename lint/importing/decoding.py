"""One cell of a parameter list as a value of the machine file: exact, or refused with its place."""

from __future__ import annotations

from typing import Any, Final

from ..base.errors import InputError, Place
from ..machine.schema import Leaf, ListType
from ..machine.value_reader import Convert, Refusal, converter, expectation
from ..numbers.rational import Fraction
from ..numbers.units import UNITS, suggest_unit, units_of
from ..numbers.written import in_quotes
from ..source.files import Plain, Source
from .cells import Cell
from .export import ImportRemark
from .mapping import AS_WRITTEN, LEFT_OUT, NUMERIC, FactSource, Mapping
from .values import NotANumber, exact_text, read_number

_ORDERS: Final = {
    "yyyy-mm-dd": ("-", (0, 1, 2)),
    "dd.mm.yyyy": (".", (2, 1, 0)),
    "dd/mm/yyyy": ("/", (2, 1, 0)),
    "mm/dd/yyyy": ("/", (2, 0, 1)),
}


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

    def decode(self, take: FactSource, cell: Cell) -> Plain | None:
        """The value that ``cell`` states for ``take``; None if it states none.

        Raises InputError for a text that is not what the mapping says, and for a number that the
        fact cannot hold exactly.
        """
        text = cell.text
        if text == "" and "" not in take.none:
            return None
        if take.bits is None and text in take.none:
            return "none"
        kind = take.field.type
        if isinstance(kind, ListType):
            return self._list_of(take, cell)
        if take.bits is not None:
            number = self._field_of(take, cell)
            if take.names is not None:
                return self._word(take, cell, str(number))
            return self._number_value(take, cell, Fraction(number))
        return self._single(take, cell, text)

    def _single(self, take: FactSource, cell: Cell, text: str) -> Plain | None:
        if take.names is not None:
            return self._word(take, cell, text)
        leaf = take.leaf
        assert leaf is not None
        if leaf.kind == "method" and text in leaf.names:
            return text
        if leaf.kind in NUMERIC:
            return self._number_value(take, cell, self._number(take, cell, text))
        value: Plain = self._day(take, cell, text) if leaf.kind == "date" else text
        return self._checked(take, cell, value)

    def _list_of(self, take: FactSource, cell: Cell) -> Plain:
        entries: list[Plain] = []
        for part in cell.text.split(take.separator):
            value = self._single(take, cell, part.strip())
            if value is not None:
                entries.append(value)
        return {"partial": entries} if take.partial else entries

    def _word(self, take: FactSource, cell: Cell, text: str) -> Plain | None:
        """What the mapping names ``text``; None if it is left out."""
        assert take.names is not None
        found = take.names.get(text)
        if found is None:
            try:
                found = take.names.get(exact_text(read_number(text, comma=self.mapping.comma)))
            except NotANumber:
                found = None
        if found is None:
            known = ", ".join(map(str, list(take.names)[:12]))
            raise self.error(
                f"{cell.parameter} is {in_quotes(text)}{_bits(take)}, which "
                f"{self.mapping.name} does not name",
                cell.place,
                f"one of {known}",
            )
        if found == LEFT_OUT:
            self.remarks.append(
                ImportRemark(
                    cell.place, f"{cell.parameter} is {in_quotes(text)}{_bits(take)}: left out"
                )
            )
            return None
        return found

    def _number(self, take: FactSource, cell: Cell, text: str) -> Fraction:
        try:
            value = read_number(text, comma=self.mapping.comma)
        except NotANumber as fault:
            raise self.error(
                f"{cell.parameter} is {in_quotes(text)}, which {fault.what}",
                cell.place,
                fault.expected,
            ) from None
        if take.width is not None:
            value = Fraction(self._of_width(take, cell, value))
        return value

    def _of_width(self, take: FactSource, cell: Cell, value: Fraction) -> int:
        """A number of a stated width; two's complement (or a sign) if it is signed."""
        assert take.width is not None
        width = take.width
        low = -(1 << width - 1) if take.signed else 0
        if value.denominator != 1 or not low <= value < 1 << width:
            raise self.error(
                f"{cell.parameter} is {in_quotes(cell.text)}, which {width} bits cannot hold",
                cell.place,
                f"a whole number from {low} to {(1 << width) - 1}",
            )
        number = int(value)
        if take.signed and number >= 1 << width - 1:
            number -= 1 << width
        return number

    def _field_of(self, take: FactSource, cell: Cell) -> int:
        assert take.bits is not None
        first, last = take.bits
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

    def _number_value(self, take: FactSource, cell: Cell, number: Fraction) -> Plain:
        """A number, scaled and with its unit, as the machine file writes it."""
        leaf = take.leaf
        assert leaf is not None
        value = number * take.scale + take.offset
        if take.minus:
            value = -value
        if leaf.kind in ("whole", "method"):
            if value.denominator != 1:
                raise self.error(
                    f"{cell.parameter} is {in_quotes(cell.text)}, which makes {take.to} "
                    f"{exact_text(value)}",
                    cell.place,
                    "a whole number, so that nothing is lost",
                )
            return self._checked(take, cell, int(value))
        unit = self._unit(take, cell, leaf)
        text = exact_text(value)
        return self._checked(take, cell, f"{text} {unit}" if unit else text)

    def _unit(self, take: FactSource, cell: Cell, leaf: Leaf) -> str:
        written = cell.unit or ""
        place = cell.unit_place or cell.place
        allowed = units_of(leaf.quantity or "")
        if take.unit == AS_WRITTEN:
            if not written:
                raise self.error(
                    f"{cell.parameter} is {in_quotes(cell.text)} without a unit",
                    place,
                    expectation(leaf),
                )
            if written not in allowed:
                close = suggest_unit(written, allowed)
                raise self.error(
                    f"the unit of {cell.parameter} is {in_quotes(written)}",
                    place,
                    f"perhaps {close!r}" if close else expectation(leaf),
                )
            return written
        if written and not _same_unit(written, take.unit):
            raise self.error(
                f"the unit of {cell.parameter} is {in_quotes(written)}",
                place,
                f"{take.unit or 'none'}, as {self.mapping.name} states",
            )
        return take.unit

    def _day(self, take: FactSource, cell: Cell, text: str) -> str:
        mark, (year, month, day) = _ORDERS[take.date]
        parts = text.split(mark)
        if len(parts) == 3 and all(part.isascii() and part.isdigit() for part in parts):
            return f"{parts[year]:>04}-{parts[month]:>02}-{parts[day]:>02}"
        raise self.error(
            f"{cell.parameter} is {in_quotes(text)}", cell.place, f"a day as {take.date}"
        )

    def _checked(self, take: FactSource, cell: Cell, value: Any) -> Plain:
        """``value`` if the fact takes it; a refusal shows the list, not what became of it."""
        leaf = take.leaf
        assert leaf is not None
        convert = self.converters.get(take.to)
        if convert is None:
            convert = self.converters[take.to] = converter(leaf, take.field.examples)
        try:
            convert(value)
        except Refusal as refusal:
            raise self.error(
                f"{cell.parameter} is {in_quotes(cell.text)}: {take.to} {refusal.what}",
                cell.place,
                refusal.expected,
            ) from None
        plain: Plain = value
        return plain


def _bits(take: FactSource) -> str:
    """In which bits a number stands, if it does not fill its parameter."""
    if take.bits is None:
        return ""
    low, high = take.bits
    return f" in bit {low}" if low == high else f" in bits {low} to {high}"


def _same_unit(one: str, two: str) -> bool:
    known, other = UNITS.get(one), UNITS.get(two)
    if known is None or other is None:
        return False
    return known.dimension == other.dimension and known.factor == other.factor
