"""Mapping files: which parameter of a list is which fact, checked like a rule before any list is.

Everything a mapping can get wrong without seeing a list is refused when it is read: unknown facts,
units of another kind, words that the fact does not take, bit fields with numbers that have no name.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from ..base.errors import InputError
from ..machine.schema import Field, Leaf, ListType, RecordType, UnknownField
from ..machine.value_reader import Refusal, converter, expectation, show
from ..numbers.exact import QuantityError
from ..numbers.rational import Fraction
from ..numbers.units import UNITS, suggest_unit, units_of
from ..numbers.written import parse_number
from ..source.files import Source
from ..source.parsing import parse
from ..source.places import KeyPath
from ..source.reader import DISK, Reader, read_source
from .fact_source import EACH_ROW, FactSource, PackedNumber, fact_path
from .list_form import ListForm
from .mapping_form import check_form, columns_of, form_of, layout_of
from .shape import check_shape, error_at
from .values import fact_at

LEFT_OUT: Final = "left_out"
AS_WRITTEN: Final = "as_written"
REFERENCE: Final = "controller.homing.reference_position"
NUMERIC: Final = ("quantity", "whole", "method")


@dataclass(frozen=True, slots=True, eq=False)
class Mapping:
    """A checked mapping file."""

    source: Source
    form: ListForm
    comma: bool
    parameters: dict[str, tuple[FactSource, ...]]
    ignored_bits: dict[str, tuple[tuple[int, str], ...]]
    packed: tuple[PackedNumber, ...]
    ignored: dict[str, str]
    fixed: tuple[tuple[FactSource, Any], ...] = ()
    """Facts that are alike in all records of a list, with their values."""

    @property
    def name(self) -> str:
        """The file as the user knows it."""
        return self.source.name


def read_mapping(path: Path, reader: Reader = DISK) -> Mapping:
    """Read and check a mapping file. Raises InputError, with line and column, for what is wrong."""
    source = read_source(path, reader)
    plain = check_shape(source, parse(source), "mapping")
    return _Checking(source, plain).mapping()


class _Checking:
    def __init__(self, source: Source, plain: dict[str, Any]) -> None:
        self.source = source
        self.plain = plain
        self.feeds: dict[str, KeyPath] = {}
        self.columns = columns_of(plain)
        self.per_record = layout_of(plain) == "row_per_record"
        self.units_written = "unit" in self.columns or plain.get("unit_in_value", False)

    def error(self, path: KeyPath, what: str, expected: str, key: bool = False) -> InputError:
        return error_at(self.source, path, what, expected, key=key)

    def mapping(self) -> Mapping:
        plain = self.plain
        check_form(self.source, plain)
        parameters: dict[str, tuple[FactSource, ...]] = {}
        ignored_bits: dict[str, tuple[tuple[int, str], ...]] = {}
        for name, entry in plain.get("parameters", {}).items():
            path: KeyPath = ("parameters", name)
            if isinstance(entry.get("bits"), list):
                parameters[name], ignored_bits[name] = self.bit_fields(entry["bits"], path)
            else:
                parameters[name] = (self.fact_source(entry, path),)
        packed = []
        used = set(parameters)
        for number, entry in enumerate(plain.get("packed", ())):
            path = ("packed", number)
            for index, word in enumerate(entry["words"]):
                if word in used:
                    at = (*path, "words", index)
                    raise self.error(at, f"{word} is used already", "each parameter once")
                used.add(word)
            width = entry["word_bits"] * len(entry["words"])
            if width > 64:
                raise self.error((*path, "words"), f"the words have {width} bits", "at most 64")
            fact_source = self.fact_source({**entry, "width": width}, path)
            if fact_source.leaf is None or fact_source.leaf.kind not in NUMERIC:
                raise self.error(
                    (*path, "to"), f"{fact_source.to} is no number", "a fact that is one"
                )
            packed.append(PackedNumber(tuple(entry["words"]), entry["word_bits"], fact_source))
        ignored = plain.get("ignored", {})
        for name in ignored:
            if name in used:
                raise self.error(
                    ("ignored", name), f"{name} is mapped and ignored", "one of the two", key=True
                )
        if not parameters and not packed:
            raise self.error((), "the mapping maps no parameter", "parameters or packed")
        return Mapping(
            self.source,
            form_of(plain, frozenset(used) | frozenset(ignored)),
            plain.get("decimal") == "comma",
            parameters,
            ignored_bits,
            tuple(packed),
            ignored,
            self.fixed_facts(),
        )

    def fixed_facts(self) -> tuple[tuple[FactSource, Any], ...]:
        """The facts that a mapping states itself, of each record that the list makes."""
        found = []
        for to, value in self.plain.get("fixed", {}).items():
            path: KeyPath = ("fixed", to)
            fact_source = FactSource(to, self.fact(to, path, path), path)
            self.feed(to, path, path)
            leaf = fact_source.leaf
            if fact_source.target.number is None or leaf is None:
                what = f"{to} belongs to no record of a list"
                raise self.error(path, what, "a path such as mechanics.stages[].kind", True)
            try:
                converter(leaf, fact_source.field.examples)(value)
            except Refusal as refusal:
                what = f"{to} {refusal.what}"
                raise self.error(path, what, refusal.expected or "another value") from None
            found.append((fact_source, value))
        return tuple(found)

    def feed(self, to: str, path: KeyPath, at: KeyPath) -> None:
        """Note that a fact is fed. Raises InputError if it is fed twice or has no row to it."""
        if to in self.feeds:
            raise self.error(at, f"{to} is fed twice", "one parameter for each fact")
        self.feeds[to] = path
        each_row = fact_path(to).number == EACH_ROW
        if each_row != self.per_record:
            what = f"{to} is {'a fact of each row' if each_row else 'no fact of a record'}"
            expected = (
                "layout: row_per_record, or a number from 0 on: mechanics.stages[0].kind"
                if each_row
                else "a path such as mechanics.stages[].kind, since a row is a record"
            )
            raise self.error(at, what, expected)
        lists = {fact_path(each).path for each in self.feeds}
        if self.per_record and len(lists) > 1:
            raise self.error(at, f"{to} is of another list", "one list in a mapping")

    def bit_fields(
        self, entries: list[dict[str, Any]], path: KeyPath
    ) -> tuple[tuple[FactSource, ...], tuple[tuple[int, str], ...]]:
        """The facts that the bits state, and the bits that are ignored, with the reason."""
        fact_sources: list[FactSource] = []
        ignored: list[tuple[int, str]] = []
        taken = 0
        for number, entry in enumerate(entries):
            at = (*path, "bits", number)
            low, _, high = entry["bits"].partition("-")
            first, last = int(low), int(high or low)
            if last < first or last > 63:
                raise self.error(
                    (*at, "bits"), f"bits are {entry['bits']}", "0 to 63, lowest first"
                )
            mask = ((1 << last - first + 1) - 1) << first
            if mask & taken:
                raise self.error(
                    (*at, "bits"), f"bits {entry['bits']} are used already", "each bit once"
                )
            taken |= mask
            if ("to" in entry) == ("ignored" in entry):
                raise self.error(at, "the bits need either `to` or `ignored`", "one of the two")
            if "ignored" in entry:
                ignored.append((mask, entry["ignored"]))
            else:
                fact_sources.append(self.fact_source(entry, at, (first, last)))
        return tuple(fact_sources), tuple(ignored)

    # One fact source -------------------------------------------------------------------------

    def fact_source(
        self, entry: dict[str, Any], path: KeyPath, bits: tuple[int, int] | None = None
    ) -> FactSource:
        to = entry["to"]
        fact = self.fact(to, path, (*path, "to"))
        self.feed(to, path, (*path, "to"))
        fact_source = FactSource(
            to,
            fact,
            path,
            bits,
            entry.get("unit", ""),
            self.number(entry, "scale", 1, path),
            self.number(entry, "offset", 0, path),
            entry.get("names"),
            tuple(entry.get("none", ())),
            entry.get("reference_reads") == "minus_offset",
            entry.get("list", ""),
            entry.get("partial", False),
            entry.get("date", "yyyy-mm-dd"),
            entry.get("required", False),
            entry.get("width"),
            entry.get("signed", False),
        )
        if fact_source.signed and fact_source.width is None:
            raise self.error((*path, "signed"), "signed needs the width", "width: 16 or another")
        self.check_reference(fact_source, entry)
        self.check_shape_of_fact(fact_source, entry)
        self.check_numeric(fact_source, entry)
        self.check_names(fact_source)
        return fact_source

    def fact(self, to: str, path: KeyPath, at: KeyPath) -> Field:
        try:
            fact = fact_at(to)
        except UnknownField as fault:
            close = " or ".join(fault.candidates)
            raise self.error(
                at,
                f"{to} is no fact of the machine file",
                f"perhaps {close}" if close else "a path such as drive.max_speed",
            ) from None
        kind = fact.type
        leaves = isinstance(kind, Leaf) or (
            isinstance(kind, ListType) and isinstance(kind.item, Leaf)
        )
        if not leaves and not (isinstance(kind, RecordType) and fact.nullable):
            inner = list(kind.fields) if isinstance(kind, RecordType) else []
            raise self.error(
                at,
                f"{to} is {'a record' if inner else 'a list of records'}, not a single fact",
                f"a fact in it, such as {to}.{inner[0]}" if inner else _in_list(to, kind),
            )
        return fact

    def number(self, entry: dict[str, Any], key: str, default: int, path: KeyPath) -> Fraction:
        if key not in entry:
            return Fraction(default)
        try:
            value = Fraction(parse_number(str(entry[key]))[0])
        except QuantityError as fault:
            raise self.error(
                (*path, key), f"{key}: {fault.what}", fault.expected or "an exact number"
            ) from None
        if key == "scale" and value == 0:
            raise self.error((*path, key), "the scale is 0", "a number other than 0")
        return value

    def check_reference(self, fact_source: FactSource, entry: dict[str, Any]) -> None:
        if fact_source.to == REFERENCE and "reference_reads" not in entry:
            raise self.error(
                (*fact_source.path, "to"),
                "the sign convention of the home offset is not chosen",
                "reference_reads: offset if the axis shows the exported number at its reference, "
                "minus_offset if it shows minus that",
            )
        if fact_source.to != REFERENCE and "reference_reads" in entry:
            raise self.error(
                (*fact_source.path, "reference_reads"),
                f"{fact_source.to} has no sign convention",
                f"reference_reads with {REFERENCE} only",
                key=True,
            )

    def check_shape_of_fact(self, fact_source: FactSource, entry: dict[str, Any]) -> None:
        kind = fact_source.field.type
        if isinstance(kind, ListType) != bool(fact_source.separator):
            if fact_source.separator:
                raise self.error(
                    (*fact_source.path, "list"),
                    f"{fact_source.to} is no list",
                    "no separator",
                    True,
                )
            raise self.error(
                (*fact_source.path, "to"), f"{fact_source.to} is a list", "list: and its separator"
            )
        in_record = fact_source.target.number is not None
        if (
            fact_source.partial
            and not in_record
            and not (isinstance(kind, ListType) and kind.partial)
        ):
            raise self.error(
                (*fact_source.path, "partial"), f"{fact_source.to} cannot be partial", "none", True
            )
        if fact_source.none and not fact_source.field.nullable:
            raise self.error(
                (*fact_source.path, "none"), f"{fact_source.to} cannot be none", "no `none`", True
            )
        if "date" in entry and (fact_source.leaf is None or fact_source.leaf.kind != "date"):
            raise self.error(
                (*fact_source.path, "date"), f"{fact_source.to} is no day", "no `date`", True
            )

    def check_numeric(self, fact_source: FactSource, entry: dict[str, Any]) -> None:
        leaf = fact_source.leaf
        kind = "record" if leaf is None else leaf.kind
        numeric = kind in NUMERIC and fact_source.names is None
        for key in ("scale", "offset", "unit"):
            if key in entry and not numeric:
                raise self.error(
                    (*fact_source.path, key), f"{fact_source.to} takes no {key}", "none", True
                )
        if leaf is None or kind != "quantity":
            if fact_source.unit:
                stated = f" ({leaf.unit})" if leaf is not None and leaf.unit else ""
                raise self.error(
                    (*fact_source.path, "unit"),
                    f"{fact_source.to} is a whole number{stated} and takes no unit",
                    "no unit",
                )
            return
        assert leaf.quantity is not None
        allowed = units_of(leaf.quantity)
        if not fact_source.unit:
            if "" in allowed or fact_source.names is not None:
                return
            raise self.error(
                (*fact_source.path, "to"),
                f"{fact_source.to} has no unit",
                f"unit: such as {next(unit for unit in allowed if unit)!r}"
                + (", or as_written" if self.units_written else ""),
            )
        if fact_source.unit == AS_WRITTEN:
            if not self.units_written:
                raise self.error(
                    (*fact_source.path, "unit"),
                    "there is no unit column",
                    "a unit, or columns: unit",
                )
            return
        if fact_source.unit not in allowed:
            close = suggest_unit(fact_source.unit, allowed)
            known = "another quantity" if fact_source.unit in UNITS else "no unit that is known"
            raise self.error(
                (*fact_source.path, "unit"),
                f"the unit of {fact_source.to} is {fact_source.unit}, {known}",
                f"perhaps {close!r}" if close else expectation(leaf),
            )

    def check_names(self, fact_source: FactSource) -> None:
        leaf = fact_source.leaf
        kind = "record" if leaf is None else leaf.kind
        if fact_source.names is None:
            if kind in ("name", "flag", "record"):
                expected = "none, left_out" if leaf is None else expectation(leaf)
                raise self.error(
                    (*fact_source.path, "to"),
                    f"{fact_source.to} is stated in words, and the export's are not named",
                    f"names: for each text or number of the export {expected}",
                )
            if fact_source.bits is not None and kind not in NUMERIC:
                what = "a day" if kind == "date" else "a text"
                raise self.error(
                    (*fact_source.path, "to"), f"{fact_source.to} is {what}", "names for the bits"
                )
            return
        convert = None if leaf is None else converter(leaf, fact_source.field.examples)
        for code, word in fact_source.names.items():
            at = (*fact_source.path, "names", code)
            if word == LEFT_OUT or (word == "none" and fact_source.field.nullable):
                continue
            if convert is None:
                raise self.error(at, f"{fact_source.to} cannot be {show(word)}", "none or left_out")
            try:
                convert(word)
            except Refusal as refusal:
                raise self.error(
                    at, f"{fact_source.to} {refusal.what}", refusal.expected or "another word"
                ) from None
        if fact_source.bits is not None:
            self.check_all_named(fact_source)

    def check_all_named(self, fact_source: FactSource) -> None:
        assert fact_source.bits is not None
        assert fact_source.names is not None
        size = fact_source.bits[1] - fact_source.bits[0] + 1
        if size > 10:
            return
        missing = [str(n) for n in range(1 << size) if str(n) not in fact_source.names]
        if missing:
            raise self.error(
                (*fact_source.path, "names"),
                f"bits {fact_source.bits[0]} to {fact_source.bits[1]} can be "
                f"{', '.join(missing[:4])}, which has no word",
                "a word for every number, or left_out",
                key=True,
            )


def _in_list(to: str, kind: Any) -> str:
    """How a fact of a record in a list is named."""
    item = kind.item if isinstance(kind, ListType) else None
    if not isinstance(item, RecordType):
        return "a single fact"
    return f"a fact of one record, such as {to}[0].{next(iter(item.fields))}"


def fact_sources_of(mapping: Mapping) -> Iterator[FactSource]:
    """Every fact a mapping can feed."""
    for fact_sources in mapping.parameters.values():
        yield from fact_sources
    for packed in mapping.packed:
        yield packed.fact_source
