"""The schema's type tree, compiled into one reader per fact.

A reader is compiled when a file first states its fact. Reading a file runs the readers in the order
of the file and stops at the first fault.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache
from types import MappingProxyType

from ..base.absence import NONE, PRESENT
from ..source.limits import MAX_AXES, MAX_ENTRIES
from ..source.places import KeyPath
from .machine import Misfit
from .names import TextForm
from .reading import Fault, Reading, lacks_fact, named, record_words, unknown_fact
from .records import NOTES, Facts, RecordNotes, new_record, notes_of
from .schema import Field, Leaf, ListType, MapType, RecordType, Type, axis_type, machine_type
from .value_reader import Refusal, Value, as_written, converter

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, TypeAlias


FactReader: TypeAlias = "Callable[[Any, Facts, Reading], None]"
"""Checks a plain value and puts its facts into the record at hand; raises Fault."""


@lru_cache(maxsize=2)
def machine_reader(headless: bool) -> FactReader:
    """The reader of a whole file; ``headless``: ``format`` and ``machine`` may be left out."""
    kind = machine_type()
    special = {
        "format": _format,
        "machine": _machine_name,
        "axes": _axes,
        "settings": _settings,
        "$schema": _checked_only,
        "include": _checked_only,
    }
    readers = _Readers(kind, (), special)
    required = tuple(n for n in kind.required if not (headless and n in ("format", "machine")))
    read_all = _record(kind, required, readers, ())
    read_format = _format(kind.fields["format"], ("format",))

    def read(value: Any, out: Facts, reading: Reading) -> None:
        if type(value) is dict and "format" in value:
            # A newer format is refused by name, before what it may have renamed is misread.
            read_format(value["format"], out, reading)
        read_all(value, out, reading)

    return read


class _Readers(dict[str, FactReader]):
    """The readers of a record's fields, each compiled when a file first states the field."""

    __slots__ = ("_kind", "_parts", "_special")

    def __init__(
        self,
        kind: RecordType,
        parts: tuple[str, ...],
        special: Mapping[str, Callable[[Field, tuple[str, ...]], FactReader]] = MappingProxyType(
            {}
        ),
    ) -> None:
        super().__init__()
        self._kind = kind
        self._parts = parts
        self._special = special

    def __missing__(self, name: str) -> FactReader:
        """The reader of a field that is read for the first time. KeyError if there is none."""
        field = self._kind.fields[name]
        if field.implied:
            raise KeyError(name)
        make = self._special.get(name, _field)
        reader = self[name] = make(field, (*self._parts, name))
        return reader

    def names(self) -> list[str]:
        """The names of all fields, compiled or not."""
        return [name for name, field in self._kind.fields.items() if not field.implied]


def _format(field: Field, parts: tuple[str, ...]) -> FactReader:
    assert isinstance(field.type, Leaf)
    convert = converter(field.type)
    known = field.type.maximum
    assert known is not None

    def read(value: Any, out: Facts, reading: Reading) -> None:
        try:
            convert(value)
        except Refusal as refusal:
            what = refusal.what
            if type(value) is int and value > known:
                what += ", which this axisproof is too old to read"
            raise Fault(parts, what, refusal.expected) from None

    return read


def _machine_name(field: Field, parts: tuple[str, ...]) -> FactReader:
    read_leaf = _field(field, parts)

    def read(value: Any, out: Facts, reading: Reading) -> None:
        read_leaf(value, out, reading)
        out["name"] = out.pop("machine")

    return read


def _checked_only(field: Field, parts: tuple[str, ...]) -> FactReader:
    read_field = _field(field, parts)

    def read(value: Any, out: Facts, reading: Reading) -> None:
        read_field(value, {}, reading)

    return read


def _field(field: Field, parts: tuple[str, ...]) -> FactReader:
    """Compile a field at ``parts`` below the record at hand (a machine, axis or list item)."""
    kind = field.type
    if isinstance(kind, RecordType):
        return _part(field, kind, parts)
    if isinstance(kind, ListType):
        return _list(kind, field.examples, parts)
    assert isinstance(kind, Leaf)
    return _nullable_leaf(field, kind, parts) if field.nullable else _leaf(field, kind, parts)


def _record(
    kind: RecordType, required: tuple[str, ...], readers: _Readers, parts: tuple[str, ...]
) -> FactReader:
    def read(value: Any, out: Facts, reading: Reading) -> None:
        if type(value) is not dict:
            raise Fault(reading.parts + parts, f"is {named(value)}", record_words(kind))
        for name in required:
            if name not in value and (*reading.parts, *parts, name) not in reading.excused:
                raise lacks_fact(reading.parts + parts, name, kind, value)
        for name, inner in value.items():
            try:
                reader = readers[name]
            except KeyError:
                raise unknown_fact(reading.parts + parts, name, kind, readers.names()) from None
            reader(inner, out, reading)

    return read


def _part(field: Field, kind: RecordType, parts: tuple[str, ...]) -> FactReader:
    """A nested record, which dissolves into dotted paths."""
    read_record = _record(kind, kind.required, _Readers(kind, parts), parts)
    if not field.nullable:
        return read_record
    key = ".".join(parts)

    def read(value: Any, out: Facts, reading: Reading) -> None:
        if value == "none":
            out[key] = NONE
            return
        if type(value) is not dict:
            expected = f"{record_words(kind)}, or none"
            raise Fault(reading.parts + parts, f"is {named(value)}", expected)
        out[key] = PRESENT
        read_record(value, out, reading)

    return read


def _leaf(field: Field, kind: Leaf, parts: tuple[str, ...]) -> FactReader:
    convert = converter(kind, field.examples, nullable=field.nullable)
    key = ".".join(parts)

    def read(value: Any, out: Facts, reading: Reading) -> None:
        if type(value) is dict:
            from .claims import read_claims

            read_claims(value, out, reading, parts, kind, convert)
            return
        try:
            bare, decimals, motion = convert(value)
        except Refusal as refusal:
            raise Fault(reading.parts + parts, refusal.what, refusal.expected) from None
        if motion is not None and motion != reading.motion:
            if reading.motion is not None:
                path = reading.text + key
                reading.misfits.append(Misfit(path, as_written(value), reading.motion))
            return
        out[key] = bare
        if decimals:
            out[NOTES].add_decimals(key, decimals)

    if kind.kind == "name":
        return _as_it_is(frozenset(kind.names), str, key, read)
    if kind.kind == "flag":
        return _as_it_is(frozenset({True, False}), bool, key, read)
    return read


def _as_it_is(
    values: frozenset[object], type_: type, key: str, otherwise: FactReader
) -> FactReader:
    """Take the few values that a fact may have as they are, and leave all others to another."""

    def read(value: Any, out: Facts, reading: Reading) -> None:
        if type(value) is type_ and value in values:
            out[key] = value
        else:
            otherwise(value, out, reading)

    return read


def _nullable_leaf(field: Field, kind: Leaf, parts: tuple[str, ...]) -> FactReader:
    """A leaf that may be `none`, also in a claim (two files can differ in that)."""
    read_leaf = _leaf(field, kind, parts)
    convert = converter(kind, field.examples, nullable=field.nullable)
    key = ".".join(parts)

    def convert_or_none(value: Any) -> Value:
        return (NONE, 0, None) if value == "none" else convert(value)

    def read(value: Any, out: Facts, reading: Reading) -> None:
        if value == "none":
            out[key] = NONE
        elif type(value) is dict:
            from .claims import read_claims

            read_claims(value, out, reading, parts, kind, convert_or_none)
        else:
            read_leaf(value, out, reading)

    return read


def _list(kind: ListType, examples: tuple[object, ...], parts: tuple[str, ...]) -> FactReader:
    key = ".".join(parts)
    item = _item(kind.item, examples, key)
    most = kind.max_items
    expected = "a list" + (", or {partial: [...]} if it may be incomplete" if kind.partial else "")

    def read(value: Any, out: Facts, reading: Reading) -> None:
        path = reading.parts + parts
        if kind.partial and type(value) is dict:
            for name in value:
                if name != "partial":
                    raise Fault((*path, name), "is not known here", expected, key=True)
            if not value:
                raise Fault(path, "is an empty record", expected, lacking=True)
            path = (*path, "partial")
            value = value["partial"]
            notes_of(out).partial |= {key}
        if type(value) is not list:
            raise Fault(path, f"is {named(value)}", expected)
        if len(value) > most:
            raise Fault(path, f"has {len(value)} entries", f"at most {most}")
        out[key] = item(value, path, reading)

    return read


def _item(
    kind: Type, examples: tuple[object, ...], key: str
) -> Callable[[list[Any], KeyPath, Reading], list[Any]]:
    """Compile the reading of a whole list's items."""
    if isinstance(kind, Leaf):
        convert = converter(kind, examples)

        def read_leaves(values: list[Any], path: KeyPath, reading: Reading) -> list[Any]:
            bare = []
            for index, value in enumerate(values):
                try:
                    bare.append(convert(value)[0])
                except Refusal as refusal:
                    raise Fault((*path, index), refusal.what, refusal.expected) from None
            return bare

        return read_leaves
    assert isinstance(kind, RecordType)
    read_record = _record(kind, kind.required, _Readers(kind, ()), ())

    def read_records(values: list[Any], path: KeyPath, reading: Reading) -> list[Any]:
        parts, text = reading.parts, reading.text
        reading.entries += len(values)
        if reading.entries > MAX_ENTRIES:
            what = f"brings the lists of the machine to {reading.entries:,} entries"
            raise Fault(path, what, f"at most {MAX_ENTRIES:,}")
        items = []
        for index, value in enumerate(values):
            here = f"{text}{key}[{index}]"
            reading.parts, reading.text = (*path, index), f"{here}."
            record: Facts = {NOTES: RecordNotes(here)}
            read_record(value, record, reading)
            items.append(record)
        reading.parts, reading.text = parts, text
        return items

    return read_records


def _axes(field: Field, parts: tuple[str, ...]) -> FactReader:
    kind = field.type
    assert isinstance(kind, MapType)
    form = TextForm(kind.key_pattern)
    axis = axis_type()
    readers = _Readers(axis, (), {"settings": _settings})
    read_axis = _record(axis, axis.required, readers, ())

    def read(value: Any, out: Facts, reading: Reading) -> None:
        if type(value) is not dict:
            raise Fault(("axes",), f"is {named(value)}", "a record of axes by name")
        if not value:
            raise Fault(("axes",), "names no axis", "at least one axis", lacking=True)
        if len(value) > MAX_AXES:
            raise Fault(("axes",), f"names {len(value)} axes", f"at most {MAX_AXES}")
        axes = out["axes"]
        for name, plain in value.items():
            if not form.fits(name):
                raise Fault(
                    ("axes", name),
                    "is not a name for an axis",
                    "up to 64 letters, digits, - and _ that begin with a letter",
                    key=True,
                )
            facts_of = new_record(f"axes.{name}", out)
            facts_of["name"] = name
            reading.parts, reading.text = ("axes", name), f"axes.{name}."
            reading.motion = _motion(plain)
            read_axis(plain, facts_of, reading)
            axes.append(facts_of)
        reading.parts, reading.text, reading.motion = (), "", None

    return read


def _motion(plain: Any) -> str | None:
    """An axis's motion before it is read in order; None if it is disputed (or will be refused).

    An axis of disputed motion has no facts in user units.
    """
    stated = plain.get("motion") if type(plain) is dict else None
    if type(stated) is dict and type(stated.get("claims")) is list:
        claims = [claim.get("value") for claim in stated["claims"] if type(claim) is dict]
        stated = claims[0] if claims and all(claim == claims[0] for claim in claims) else None
    return stated if type(stated) is str else None


def _settings(field: Field, parts: tuple[str, ...]) -> FactReader:
    kind = field.type
    assert isinstance(kind, MapType)
    assert isinstance(kind.item, RecordType)
    setting = kind.item
    form = TextForm(kind.key_pattern)
    read_setting = _record(setting, setting.required, _Readers(setting, ()), ())

    def read(value: Any, out: Facts, reading: Reading) -> None:
        base = reading.parts
        path = (*base, "settings")
        if type(value) is not dict:
            raise Fault(path, f"is {named(value)}", "a record of settings by name")
        found: dict[str, tuple[Any, str]] = {}
        for name, plain in value.items():
            if not form.fits(name):
                raise Fault(
                    (*path, name),
                    "is not a name for a setting",
                    "small letters, digits and _ that begin with a letter",
                    key=True,
                )
            reading.parts = (*path, name)
            record = new_record("")
            read_setting(plain, record, reading)
            found[name] = (plain.get("value"), record.get("reason", ""))
        notes_of(out).stated_settings = found
        reading.parts = base

    return read
