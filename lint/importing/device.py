"""CiA 306 device files (EDS and DCF): the objects of one device, their values and lines.

The values are those the ``canopen`` library reads; sections, entries and lines, which it drops,
come from a scan of the text. Structure follows CiA 306 (from memory): sections ``[6091]`` and
``[6091sub1]`` with ParameterName, ObjectType, DataType, AccessType, DefaultValue, ParameterValue,
LowLimit and HighLimit; keywords in any case; node id in ``[DeviceComissioning]``.
"""

from __future__ import annotations

import io
import logging
import re
import warnings
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from ..base.errors import InputError, Place, UsageError
from ..source.files import Source
from ..source.limits import shortened
from ..source.reader import DISK, Reader
from .device_sections import (
    ObjectKey,
    canonical_sections,
    listed_only,
    object_sections,
    partly_described,
    section_number,
    stated_day,
    stated_node,
)
from .export import ImportRemark, decoded, read_bytes
from .ini import Section, scan_ini

ENDINGS: Final = (".eds", ".dcf")

INTEGERS: Final[Mapping[int, tuple[str, int, bool]]] = {
    0x01: ("BOOLEAN", 1, False),
    0x02: ("INTEGER8", 8, True),
    0x03: ("INTEGER16", 16, True),
    0x04: ("INTEGER32", 32, True),
    0x05: ("UNSIGNED8", 8, False),
    0x06: ("UNSIGNED16", 16, False),
    0x07: ("UNSIGNED32", 32, False),
    0x10: ("INTEGER24", 24, True),
    0x12: ("INTEGER40", 40, True),
    0x13: ("INTEGER48", 48, True),
    0x14: ("INTEGER56", 56, True),
    0x15: ("INTEGER64", 64, True),
    0x16: ("UNSIGNED24", 24, False),
    0x18: ("UNSIGNED40", 40, False),
    0x19: ("UNSIGNED48", 48, False),
    0x1A: ("UNSIGNED56", 56, False),
    0x1B: ("UNSIGNED64", 64, False),
}
"""CiA 301 integer types by number: name, bits, signed."""

_OTHER_TYPES: Final = {
    0x08: "REAL32",
    0x09: "VISIBLE_STRING",
    0x0A: "OCTET_STRING",
    0x0B: "UNICODE_STRING",
    0x0C: "TIME_OF_DAY",
    0x0D: "TIME_DIFFERENCE",
    0x0F: "DOMAIN",
    0x11: "REAL64",
}
_TEXT_TYPES: Final = (0x09, 0x0B)

_VALUES: Final = re.compile(r"([0-9A-Fa-f]{4})[Vv][Aa][Ll][Uu][Ee]")
_NAMES: Final = re.compile(r"[0-9A-Fa-f]{4}Name")


@dataclass(frozen=True, slots=True)
class DeviceValue:
    """One value of a device: ``entry`` says whether it is its ParameterValue or DefaultValue.

    ``value`` is None if the file states none; ``fault`` then says what is wrong with the text, if
    there is any. ``library_value`` is the value before a hexadecimal INTEGER is taken as two's
    complement.
    """

    key: ObjectKey
    name: str
    data_type: int
    value: int | str | float | bytes | None
    library_value: int | str | float | bytes | None
    low: int | None
    high: int | None
    entry: str
    raw: str
    place: Place
    fault: str = ""

    @property
    def type_name(self) -> str:
        """The CiA 301 name of the data type."""
        return type_name(self.data_type)

    @property
    def configured(self) -> bool:
        """Whether somebody set it: a default says how the device comes, not how it is set."""
        return self.entry == "ParameterValue"

    @property
    def note(self) -> str:
        """What states the value, in words."""
        return f"{self.entry} of {object_name(self.key)}"


@dataclass(frozen=True, slots=True, eq=False)
class Device:
    """One device file.

    ``written_on`` is the day (ISO 8601) on which the file was written. ``single`` holds the indexes
    that are plain variables, ``incomplete`` those that are announced and not described, or not in
    full: asking for what is missing of them is an error.
    """

    source: Source
    node: int | None
    node_place: Place | None
    written_on: tuple[str, Place] | None
    values: Mapping[ObjectKey, DeviceValue]
    single: frozenset[int]
    places: Mapping[int, Place]
    incomplete: Mapping[int, tuple[str, Place]]
    remarks: tuple[ImportRemark, ...]

    def error(self, what: str, place: Place, expected: str) -> InputError:
        """An error about ``place`` in the file, to be raised by the caller."""
        return self.source.error_at(what, place, expected)

    def whole(self, key: ObjectKey) -> tuple[int, DeviceValue] | None:
        """The integer at ``key``; None if the object is not described or states no value.

        Raises InputError for an object of another shape or type, and for a value that is no number
        or lies outside the object's type or limits.
        """
        found = self._value(key)
        if found is None:
            return None
        if found.data_type not in INTEGERS:
            raise self.error(
                f"{object_name(key)} is of type {found.type_name}",
                found.place,
                "an integer type",
            )
        if found.value is None:
            return None
        assert isinstance(found.value, int)
        _, bits, signed = INTEGERS[found.data_type]
        low, high = (-(1 << bits - 1), (1 << bits - 1) - 1) if signed else (0, (1 << bits) - 1)
        if not low <= found.value <= high:
            raise self.error(
                f"{object_name(key)} is {found.raw}, which {found.type_name} cannot hold",
                found.place,
                f"{low} to {high}",
            )
        lowest, highest = found.low, found.high
        if (lowest is not None and found.value < lowest) or (
            highest is not None and found.value > highest
        ):
            raise self.error(
                f"{object_name(key)} is {found.value}, outside the limits the object states",
                found.place,
                f"{'' if lowest is None else lowest} to {'' if highest is None else highest}",
            )
        return found.value, found

    def text(self, key: ObjectKey) -> tuple[str, DeviceValue] | None:
        """The string at ``key``; None if there is none. Raises InputError for another type."""
        found = self._value(key)
        if found is None:
            return None
        if found.data_type not in _TEXT_TYPES:
            raise self.error(
                f"{object_name(key)} is of type {found.type_name}", found.place, "a string"
            )
        return None if found.value is None else (str(found.value), found)

    def _value(self, key: ObjectKey) -> DeviceValue | None:
        index, sub = key
        if key not in self.values and index in self.incomplete:
            what, place = self.incomplete[index]
            raise self.error(what, place, "a description of it; the file may be cut off")
        if index not in self.places:
            return None
        if sub and index in self.single:
            raise self.error(
                f"0x{index:04X} is a single variable",
                self.places[index],
                f"an array or record with sub {sub}",
            )
        if not sub and index not in self.single:
            raise self.error(
                f"0x{index:04X} is an array or record", self.places[index], "a single variable"
            )
        found = self.values.get(key)
        if found is not None and found.fault:
            raise self.error(found.fault, found.place, f"a value of type {found.type_name}")
        return found


def type_name(number: int) -> str:
    """The CiA 301 name of a data type, or its number."""
    if number in INTEGERS:
        return INTEGERS[number][0]
    return _OTHER_TYPES.get(number, f"0x{number:04X}")


def object_name(key: ObjectKey) -> str:
    """``0x6091 sub 1`` as people write it."""
    return f"0x{key[0]:04X} sub {key[1]}" if key[1] else f"0x{key[0]:04X}"


def read_device(path: Path, node: int | None = None, reader: Reader = DISK) -> Device:
    """Read a device file. ``node`` is the node id if the file does not state it.

    Raises InputError, with a line, for a file that is no device file, is cut off, or states another
    node id; UsageError for a node id outside 1 to 127.
    """
    if node is not None and not 1 <= node <= 127:
        raise UsageError(f"the node id {node} is impossible", expected="1 to 127 (CiA 301)")
    data = read_bytes(path, "a device file (EDS or DCF)", reader)
    source = decoded(path, data, ("utf-8-sig", "latin-1"))
    sections = canonical_sections(source, scan_ini(source, inline_comments=True))
    objects = object_sections(source, sections)
    missing, remarks = listed_only(source, sections, objects)
    short, more = partly_described(source, objects)
    stated = stated_node(source, sections)
    if stated is not None and node is not None and stated[0] != node:
        raise source.error(
            f"the file is that of node {stated[0]}",
            *stated[1].value_span,
            f"node {node}, as it was asked for",
        )
    number = node if stated is None else stated[0]
    day, doubts = stated_day(source, sections)
    dictionary = _library(source, sections, objects, number)
    values, single = _values(source, sections, objects, dictionary, number)
    places = {
        index: source.place(*section.span) for (index, sub), section in objects.items() if sub < 0
    }
    place = None if stated is None else source.place(*stated[1].value_span)
    return Device(
        source,
        number,
        place,
        day,
        values,
        frozenset(single),
        places,
        {**short, **missing},
        (*remarks, *more, *doubts),
    )


@contextmanager
def _quiet() -> Iterator[None]:
    """Keep the library's remarks on a file out of the user's terminal."""
    logger = logging.getLogger("canopen.objectdictionary.eds")
    before = logger.disabled
    logger.disabled = True
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            yield
    finally:
        logger.disabled = before


def _library(
    source: Source,
    sections: dict[str, Section],
    objects: dict[ObjectKey, Section],
    node: int | None,
) -> Any:
    """The object dictionary as the ``canopen`` library reads it."""
    from canopen.objectdictionary import eds

    reader: Any = eds.import_eds

    # The library wants an object before its subindexes, and may fail on sections nobody asks for.
    lines: list[str] = []
    ordered = sorted(objects.items(), key=lambda item: item[0])
    used = {section.name: section for _, section in ordered}
    for name, section in sections.items():
        if name in ("DeviceInfo", "DeviceComissioning") or _NAMES.fullmatch(name):
            used[name] = section
    for name, section in used.items():
        lines.append(f"[{name}]")
        lines += [f"{key}={entry.value}" for key, entry in section.entries.items()]
    try:
        with _quiet():
            return reader(io.StringIO("\n".join(lines) + "\n"), node)
    except Exception as fault:  # whatever a third party makes of a file is the file's fault
        raise source.error(
            f"the file cannot be read as a device file ({type(fault).__name__}: "
            f"{shortened(str(fault))})",
            0,
            0,
            "an EDS or DCF after CiA 306",
        ) from None


def _values(
    source: Source,
    sections: dict[str, Section],
    objects: dict[ObjectKey, Section],
    dictionary: Any,
    node: int | None,
) -> tuple[dict[ObjectKey, DeviceValue], set[int]]:
    from canopen.objectdictionary import ODArray, ODVariable

    values: dict[ObjectKey, DeviceValue] = {}
    single: set[int] = set()
    compact_values = {
        int(found[1], 16): section
        for name, section in sections.items()
        if (found := _VALUES.fullmatch(name))
    }
    for index in dictionary:
        thing = dictionary[index]
        if (index, -1) not in objects:
            continue
        if isinstance(thing, ODVariable):
            single.add(index)
            values[index, 0] = _device_value(
                source, objects[index, -1], (index, 0), thing, node, compact_values
            )
            continue
        whole = objects[index, -1]
        if "CompactSubObj" in whole.entries:
            if not isinstance(thing, ODArray):
                continue  # see partly_described
            for sub in range(1, min(section_number(source, whole, "CompactSubObj", 0), 254) + 1):
                values[index, sub] = _device_value(
                    source, whole, (index, sub), thing[sub], node, compact_values
                )
            continue
        for sub, variable in thing.subindices.items():
            values[index, sub] = _device_value(
                source, objects[index, sub], (index, sub), variable, node, {}
            )
    return values, single


def _device_value(
    source: Source,
    section: Section,
    key: ObjectKey,
    variable: Any,
    node: int | None,
    compact_values: Mapping[int, Section],
) -> DeviceValue:
    stated = section.entries.get("ParameterValue")
    entry, word, value = stated, "ParameterValue", variable.value
    if entry is None or not entry.value:
        entry, word, value = section.entries.get("DefaultValue"), "DefaultValue", variable.default
    fault = ""
    library_value = value
    if entry is None or not entry.value:
        value = None
    elif "$NODEID" in entry.value.upper() and node is None:
        value, fault = None, f"{object_name(key)} depends on the node id, which is not known"
    elif value is None:
        fault = f"{object_name(key)} is {shortened(entry.value)}"
    if key[0] in compact_values:
        fault = (
            f"the values of {object_name(key)} are in a section [{key[0]:04X}Value] of their own, "
            "which the library does not read"
        )
    value = _signed(value, variable.data_type, entry.value if entry else "")
    low, high = variable.min, variable.max
    for limit, found in (("LowLimit", low), ("HighLimit", high)):
        given = section.entries.get(limit)
        if given is not None and given.value and found is None and not fault:
            if variable.data_type not in INTEGERS:
                continue
            fault = f"{limit} of {object_name(key)} is {shortened(given.value)}"
            entry = given
    span = entry.value_span if entry and entry.value else section.span
    return DeviceValue(
        key,
        variable.name,
        variable.data_type,
        value,
        library_value,
        low,
        high,
        word,
        entry.value if entry else "",
        source.place(*span),
        fault,
    )


def _signed(value: Any, data_type: int, raw: str) -> Any:
    """A hexadecimal INTEGER as two's complement, as the library reads it in limits only."""
    kind = INTEGERS.get(data_type)
    if kind is None or not kind[2] or not isinstance(value, int):
        return value
    bits = kind[1]
    if raw.lower().startswith("0x") and 1 << bits - 1 <= value < 1 << bits:
        return value - (1 << bits)
    return value
