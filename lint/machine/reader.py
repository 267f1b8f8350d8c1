"""A machine file against the schema: flat facts with exact values, and where they were written.

The schema's type tree is compiled once into one function per fact; reading a file runs them in the
order of the file and stops at the first fault.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType
from typing import Any, NoReturn, TypeAlias

from ..base.absence import NONE, PRESENT
from ..base.errors import AxisproofError, InputError
from ..base.lazy import pattern
from ..numbers.written import in_quotes
from ..source.limits import MAX_AXES
from ..source.merge import Tree, load_tree
from ..source.places import KeyPath, path_text
from .homing_order import add_homing_order
from .machine import Dispute, Machine, Misfit
from .records import NOTES, Facts, RecordNotes, new_record, notes_of
from .schema import (
    Field,
    Leaf,
    ListType,
    MapType,
    RecordType,
    Type,
    axis_type,
    facts,
    machine_type,
    near,
)
from .value_reader import Refusal, Value, as_written, converter, expectation, show

MAX_CLAIMS = 20


class Fault(Exception):
    """The first thing wrong with a plain tree: where, what, and what was expected.

    ``what`` is a whole sentence that begins with the path; ``key`` tells whether the key is at
    fault (unknown, or lacking something below it) and not the value.
    """

    def __init__(self, path: KeyPath, what: str, expected: str, key: bool = False) -> None:
        self.path = path
        self.what = f"{path_text(path) or 'the file'} {what}"
        self.expected = expected
        self.key = key
        super().__init__(self.what)


def load_machine(path: Path, root: Path | None = None) -> Machine:
    """Read a machine file and what it includes; raises InputError (see source.merge.load_tree)."""
    return read_machine(load_tree(path, root))


def read_machine(tree: Tree) -> Machine:
    """Read a plain tree with places; raises InputError at the first fault in file order."""

    def where(fault: Fault) -> AxisproofError:
        places = (tree.key_places if fault.key else tree.places)(fault.path)
        place = places[0] if places else tree.nearest(fault.path)
        return InputError(
            fault.what,
            expected=fault.expected,
            place=place,
            source_line=tree.line_text(place),
        )

    return _read(tree.plain, tree, where, headless=False)


def read_plain(
    plain: Any,
    where: Callable[[Fault], AxisproofError] | None = None,
    *,
    headless: bool = True,
) -> Machine:
    """Read a plain tree that comes from no file, such as a rule's example.

    ``where`` turns a fault into the error to raise (default: an InputError without a place).
    ``headless``: the keys ``format`` and ``machine`` may be left out.
    """

    def without_place(fault: Fault) -> AxisproofError:
        return InputError(fault.what, expected=fault.expected)

    return _read(plain, None, where or without_place, headless=headless)


def _read(
    plain: Any,
    tree: Tree | None,
    where: Callable[[Fault], AxisproofError],
    *,
    headless: bool,
) -> Machine:
    reading = _Reading()
    out = new_record("")
    out |= {"name": "example", "axes": []}
    try:
        _machine_reader(headless)(plain, out, reading)
    except Fault as fault:
        raise where(fault) from None
    add_homing_order(out["axes"])
    unusable = [dispute.path for dispute in reading.disputes]
    unusable += [misfit.path for misfit in reading.misfits]
    for path in unusable:
        _mark_disputed(out, path)
    return Machine(out, plain, tree, tuple(reading.disputes), tuple(reading.misfits))


def _mark_disputed(machine: Facts, path: str) -> None:
    """Note a fact that is stated and cannot be used as disputed in the records it lies in.

    Paths there are relative to the record, with ``[]`` for an index (see language/reach.py).
    """
    path = re.sub(r"\.claims\[[0-9]+\]\.value$", "", path)
    plain = re.sub(r"\[[0-9]+\]", "[]", path)
    notes_of(machine).disputed |= {plain}
    for axis in machine["axes"]:
        notes = notes_of(axis)
        if path.startswith(notes.path + "."):
            begin = len(notes.path) + 1
            notes_of(machine).disputed |= {"axes[]." + plain[begin:]}
            notes.disputed |= {plain[begin:]}
            _mark_item(axis, path[begin:])
            return
    _mark_item(machine, path)


def _mark_item(record: Facts, path: str) -> None:
    found = re.match(r"([^\[]+)\[([0-9]+)\]\.(.+)", path)
    items = record.get(found[1]) if found else None
    if found and isinstance(items, list):
        item = items[int(found[2])]
        notes_of(item).disputed |= {re.sub(r"\[[0-9]+\]", "[]", found[3])}
        _mark_item(item, found[3])


# Compiled readers -------------------------------------------------------------------------------


class _Reading:
    """What the readers share: where the record at hand stands, and what they found on the way."""

    __slots__ = ("disputes", "misfits", "motion", "parts", "text")

    def __init__(self) -> None:
        self.parts: KeyPath = ()
        self.text = ""
        self.motion: str | None = None
        self.disputes: list[Dispute] = []
        self.misfits: list[Misfit] = []


_Reader: TypeAlias = Callable[[Any, Facts, _Reading], None]
"""Checks a plain value and puts its facts into the record at hand; raises Fault."""


@lru_cache(maxsize=2)
def _machine_reader(headless: bool) -> _Reader:
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

    def read(value: Any, out: Facts, reading: _Reading) -> None:
        if type(value) is dict and "format" in value:
            # A newer format is refused by name, before what it may have renamed is misread.
            read_format(value["format"], out, reading)
        read_all(value, out, reading)

    return read


class _Readers(dict[str, _Reader]):
    """The readers of a record's fields, each compiled when a file first states the field."""

    __slots__ = ("_kind", "_parts", "_special")

    def __init__(
        self,
        kind: RecordType,
        parts: tuple[str, ...],
        special: Mapping[str, Callable[[Field, tuple[str, ...]], _Reader]] = MappingProxyType({}),
    ) -> None:
        super().__init__()
        self._kind = kind
        self._parts = parts
        self._special = special

    def __missing__(self, name: str) -> _Reader:
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


def _format(field: Field, parts: tuple[str, ...]) -> _Reader:
    assert isinstance(field.type, Leaf)
    convert = converter(field.type)
    known = field.type.maximum
    assert known is not None

    def read(value: Any, out: Facts, reading: _Reading) -> None:
        try:
            convert(value)
        except Refusal as refusal:
            what = refusal.what
            if type(value) is int and value > known:
                what += ", which this axisproof is too old to read"
            raise Fault(parts, what, refusal.expected) from None

    return read


def _machine_name(field: Field, parts: tuple[str, ...]) -> _Reader:
    read_leaf = _field(field, parts)

    def read(value: Any, out: Facts, reading: _Reading) -> None:
        read_leaf(value, out, reading)
        out["name"] = out.pop("machine")

    return read


def _checked_only(field: Field, parts: tuple[str, ...]) -> _Reader:
    read_field = _field(field, parts)

    def read(value: Any, out: Facts, reading: _Reading) -> None:
        read_field(value, {}, reading)

    return read


def _field(field: Field, parts: tuple[str, ...]) -> _Reader:
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
) -> _Reader:
    def read(value: Any, out: Facts, reading: _Reading) -> None:
        if type(value) is not dict:
            raise Fault(reading.parts + parts, f"is {_named(value)}", _record_words(kind))
        for name in required:
            if name not in value:
                wanted = f"{name}: {_field_words(kind.fields[name])}"
                raise Fault(reading.parts + parts, f"lacks {name!r}", wanted, key=True)
        for name, inner in value.items():
            try:
                reader = readers[name]
            except KeyError:
                raise _unknown(reading.parts + parts, name, kind, readers.names()) from None
            reader(inner, out, reading)

    return read


def _named(value: Any) -> str:
    return f"the text {show(value)}" if isinstance(value, str) else show(value)


def _record_words(kind: RecordType) -> str:
    names = [*kind.required, *(name for name, field in kind.fields.items() if not field.implied)]
    names = list(dict.fromkeys(names))
    return f"a record with facts such as {', '.join(names[:3])}"


def _field_words(field: Field) -> str:
    if isinstance(field.type, Leaf):
        return expectation(field.type, field.examples)
    if isinstance(field.type, ListType):
        return "a list"
    return "a record" if isinstance(field.type, RecordType) else "a record of records by name"


def _unknown(path: KeyPath, name: str, kind: RecordType, names: list[str]) -> Fault:
    candidates = near(name, names)
    elsewhere = [fact for fact in facts(kind) if fact.endswith(f".{name}")]
    if candidates:
        expected = " or ".join(repr(each) for each in candidates)
        expected = f"perhaps {expected}"
    elif elsewhere:
        expected = f"it to stand at {' or '.join(elsewhere[:3])}"
    else:
        expected = f"one of {', '.join(names[:12])}{', …' if len(names) > 12 else ''}"
    return Fault((*path, name), "is not a fact that the machine file knows", expected, key=True)


def _part(field: Field, kind: RecordType, parts: tuple[str, ...]) -> _Reader:
    """A nested record, which dissolves into dotted paths."""
    read_record = _record(kind, kind.required, _Readers(kind, parts), parts)
    if not field.nullable:
        return read_record
    key = ".".join(parts)

    def read(value: Any, out: Facts, reading: _Reading) -> None:
        if value == "none":
            out[key] = NONE
            return
        if type(value) is not dict:
            expected = f"{_record_words(kind)}, or none"
            raise Fault(reading.parts + parts, f"is {_named(value)}", expected)
        out[key] = PRESENT
        read_record(value, out, reading)

    return read


def _leaf(field: Field, kind: Leaf, parts: tuple[str, ...]) -> _Reader:
    convert = converter(kind, field.examples, nullable=field.nullable)
    key = ".".join(parts)

    def read(value: Any, out: Facts, reading: _Reading) -> None:
        if type(value) is dict:
            _claims(value, out, reading, parts, kind, convert)
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


def _as_it_is(values: frozenset[object], type_: type, key: str, otherwise: _Reader) -> _Reader:
    """Take the few values that a fact may have as they are, and leave all others to another."""

    def read(value: Any, out: Facts, reading: _Reading) -> None:
        if type(value) is type_ and value in values:
            out[key] = value
        else:
            otherwise(value, out, reading)

    return read


def _nullable_leaf(field: Field, kind: Leaf, parts: tuple[str, ...]) -> _Reader:
    """A leaf that may be `none`, also in a claim (two files can differ in that)."""
    read_leaf = _leaf(field, kind, parts)
    convert = converter(kind, field.examples, nullable=field.nullable)
    key = ".".join(parts)

    def convert_or_none(value: Any) -> Value:
        return (NONE, 0, None) if value == "none" else convert(value)

    def read(value: Any, out: Facts, reading: _Reading) -> None:
        if value == "none":
            out[key] = NONE
        elif type(value) is dict:
            _claims(value, out, reading, parts, kind, convert_or_none)
        else:
            read_leaf(value, out, reading)

    return read


def _claims(
    value: dict[str, Any],
    out: Facts,
    reading: _Reading,
    parts: tuple[str, ...],
    kind: Leaf,
    convert: Callable[[Any], Value],
) -> None:
    """Read ``{claims: [{value, source}, ...]}``: one fact if they agree, else a dispute."""
    path = reading.parts + parts
    stated = _stated(value, path, kind, convert)
    key = ".".join(parts)
    fitting: list[tuple[Value, str, str]] = []
    for index, claim in enumerate(stated):
        try:
            found = convert(claim["value"])
        except Refusal as refusal:
            at = (*path, "claims", index, "value")
            raise Fault(at, refusal.what, refusal.expected) from None
        written = as_written(claim["value"])
        if found[2] is None or found[2] == reading.motion:
            fitting.append((found, written, claim["source"]))
        elif reading.motion is not None:
            at_text = f"{reading.text}{key}.claims[{index}].value"
            reading.misfits.append(Misfit(at_text, written, reading.motion))
    if not fitting:
        return
    first = fitting[0][0][0]
    if any(found[0] != first for found, _, _ in fitting):
        claims = tuple((written, source) for _, written, source in fitting)
        reading.disputes.append(Dispute(reading.text + key, claims))
    elif len(fitting) == len(stated):
        out[key] = first
        decimals = [found[1] for found, _, _ in fitting]
        if all(decimals):
            notes_of(out).add_decimals(key, max(decimals))


def _stated(
    value: dict[str, Any], path: KeyPath, kind: Leaf, convert: Callable[[Any], Value]
) -> list[dict[str, Any]]:
    """The list of claims, each checked to be a value with a source."""
    if "claims" not in value:
        if not kind.claims or not near(next(iter(value), ""), ("claims",)):
            _refuse_record(value, path, convert)
        raise Fault((*path, next(iter(value))), "is not known here", "'claims'", key=True)
    if not kind.claims:
        _refuse_claims(value["claims"], path)
    for name in value:
        if name != "claims":
            raise Fault((*path, name), "stands beside claims", "nothing beside claims", key=True)
    claims = value["claims"]
    at = (*path, "claims")
    if type(claims) is not list or not 1 <= len(claims) <= MAX_CLAIMS:
        count = f"has {len(claims)} entries" if type(claims) is list else f"is {_named(claims)}"
        raise Fault(at, count, f"a list of 1 to {MAX_CLAIMS} claims")
    for index, claim in enumerate(claims):
        _check_claim(claim, (*at, index))
    return claims


def _check_claim(claim: Any, at: KeyPath) -> None:
    expected = "a record of value and source"
    if type(claim) is not dict:
        raise Fault(at, f"is {_named(claim)}", expected)
    for name in ("value", "source"):
        if name not in claim:
            raise Fault(at, f"lacks {name!r}", expected, key=True)
    for name in claim:
        if name not in ("value", "source"):
            raise Fault((*at, name), "is not part of a claim", expected, key=True)
    source = claim["source"]
    if type(source) is not str or not source:
        raise Fault((*at, "source"), f"is {_named(source)}", "the name of the source as text")


def _refuse_record(value: Any, path: KeyPath, convert: Callable[[Any], Value]) -> NoReturn:
    try:
        convert(value)
    except Refusal as refusal:
        raise Fault(path, refusal.what, refusal.expected) from None
    raise AssertionError(f"a leaf took the record {value!r}")


def _refuse_claims(claims: Any, path: KeyPath) -> NoReturn:
    texts = [
        in_quotes(as_written(claim["value"]))
        for claim in (claims if type(claims) is list else [])
        if type(claim) is dict and "value" in claim
    ]
    what = f"is claimed to be {' and '.join(texts[:3])}" if texts else "has claims"
    raise Fault(path, what, "one value, the same in every file")


def _list(kind: ListType, examples: tuple[object, ...], parts: tuple[str, ...]) -> _Reader:
    key = ".".join(parts)
    item = _item(kind.item, examples, key)
    most = kind.max_items
    expected = "a list" + (", or {partial: [...]} if it may be incomplete" if kind.partial else "")

    def read(value: Any, out: Facts, reading: _Reading) -> None:
        path = reading.parts + parts
        if kind.partial and type(value) is dict:
            for name in value:
                if name != "partial":
                    raise Fault((*path, name), "is not known here", expected, key=True)
            if not value:
                raise Fault(path, "is an empty record", expected)
            path = (*path, "partial")
            value = value["partial"]
            notes_of(out).partial |= {key}
        if type(value) is not list:
            raise Fault(path, f"is {_named(value)}", expected)
        if len(value) > most:
            raise Fault(path, f"has {len(value)} entries", f"at most {most}")
        out[key] = item(value, path, reading)

    return read


def _item(
    kind: Type, examples: tuple[object, ...], key: str
) -> Callable[[list[Any], KeyPath, _Reading], list[Any]]:
    """Compile the reading of a whole list's items."""
    if isinstance(kind, Leaf):
        convert = converter(kind, examples)

        def read_leaves(values: list[Any], path: KeyPath, reading: _Reading) -> list[Any]:
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

    def read_records(values: list[Any], path: KeyPath, reading: _Reading) -> list[Any]:
        parts, text = reading.parts, reading.text
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


def _axes(field: Field, parts: tuple[str, ...]) -> _Reader:
    kind = field.type
    assert isinstance(kind, MapType)
    form = pattern(kind.key_pattern)
    axis = axis_type()
    readers = _Readers(axis, (), {"settings": _settings})
    read_axis = _record(axis, axis.required, readers, ())

    def read(value: Any, out: Facts, reading: _Reading) -> None:
        if type(value) is not dict:
            raise Fault(("axes",), f"is {_named(value)}", "a record of axes by name")
        if not value:
            raise Fault(("axes",), "names no axis", "at least one axis")
        if len(value) > MAX_AXES:
            raise Fault(("axes",), f"names {len(value)} axes", f"at most {MAX_AXES}")
        axes = out["axes"]
        for name, plain in value.items():
            if not form.search(name):
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


def _settings(field: Field, parts: tuple[str, ...]) -> _Reader:
    kind = field.type
    assert isinstance(kind, MapType)
    assert isinstance(kind.item, RecordType)
    setting = kind.item
    form = pattern(kind.key_pattern)
    read_setting = _record(setting, setting.required, _Readers(setting, ()), ())

    def read(value: Any, out: Facts, reading: _Reading) -> None:
        base = reading.parts
        path = (*base, "settings")
        if type(value) is not dict:
            raise Fault(path, f"is {_named(value)}", "a record of settings by name")
        found: dict[str, tuple[Any, str]] = {}
        for name, plain in value.items():
            if not form.search(name):
                raise Fault(
                    (*path, name),
                    "is not a name for a setting",
                    "small letters, digits and _ that begin with a letter",
                    key=True,
                )
            reading.parts = (*path, name)
            record = new_record("")
            read_setting(plain, record, reading)
            found[name] = (plain["value"], record["reason"])
        notes_of(out).stated_settings = found
        reading.parts = base

    return read
