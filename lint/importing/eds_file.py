"""EDS and DCF device files (CiA 306): their sections as the objects of one device.

Structure follows CiA 306 (from memory): sections ``[6091]`` and ``[6091sub1]`` with ParameterName,
ObjectType, DataType, AccessType, DefaultValue, ParameterValue, LowLimit and HighLimit; keywords in
any case; node id in ``[DeviceComissioning]``. Tests hold every value to what the ``canopen``
library reads.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from ..source.files import Source
from ..source.limits import shortened
from ..source.reader import DISK, Reader
from .device import Device
from .device_sections import (
    VARIABLES,
    ObjectKey,
    canonical_sections,
    compact_sections,
    listed_only,
    object_sections,
    partly_described,
    section_number,
    stated_day,
    stated_node,
)
from .device_values import (
    INTEGERS,
    DeviceValue,
    depends_on_node,
    known_type,
    limit_value,
    object_name,
    typed_value,
)
from .export import decoded
from .ini import IniEntry, Section, scan_ini

_ARRAY = 8


def eds_device(path: Path, data: bytes, node: int | None, reader: Reader = DISK) -> Device:
    """The device that an EDS or DCF describes. Raises InputError, with a line."""
    source = decoded(path, data, ("utf-8-sig", "latin-1"), reader=reader)
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
    values = _values(source, sections, objects, number)
    single = {
        index
        for (index, sub), section in objects.items()
        if sub < 0 and _is_single(source, section)
    }
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


def _is_single(source: Source, section: Section) -> bool:
    return section_number(source, section, "ObjectType", 7) in VARIABLES


def _values(
    source: Source,
    sections: dict[str, Section],
    objects: dict[ObjectKey, Section],
    node: int | None,
) -> dict[ObjectKey, DeviceValue]:
    values: dict[ObjectKey, DeviceValue] = {}
    stated = compact_sections(sections, "Value")
    names = compact_sections(sections, "Name")
    for (index, sub), section in sorted(objects.items(), key=lambda item: item[0]):
        whole = objects[index, -1]
        kind = section_number(source, whole, "ObjectType", 7)
        if sub < 0 and kind in VARIABLES:
            values[index, 0] = _device_value(source, section, (index, 0), node)
        elif sub < 0 and kind == _ARRAY and "CompactSubObj" in section.entries:
            given, called = stated.get(index), names.get(index)
            for each, value in _compact(source, section, index, node, given, called):
                values[index, each] = value
        elif sub >= 0 and kind in (_ARRAY, 9) and "CompactSubObj" not in whole.entries:
            values[index, sub] = _device_value(source, section, (index, sub), node)
    return values


def _compact(
    source: Source,
    section: Section,
    index: int,
    node: int | None,
    given: Section | None,
    called: Section | None,
) -> Iterator[tuple[int, DeviceValue]]:
    """The entries of an array that one section describes; set values stand in another section."""
    for sub in range(1, min(section_number(source, section, "CompactSubObj", 0), 254) + 1):
        entries = dict(section.entries)
        stated = given.entries.get(str(sub)) if given else None
        if stated is not None:
            entries["ParameterValue"] = stated
        name = called.entries.get(str(sub)) if called else None
        if name is None and sub > 1:
            plain = entries["ParameterName"]
            name = replace(plain, value=f"{plain.value}_{sub:x}")
        if name is not None:
            entries["ParameterName"] = name
        whole = Section(section.name, section.span, entries)
        value = _device_value(source, whole, (index, sub), node)
        if value.configured and stated is None:
            what = f"{object_name((index, sub))} is set for the whole array"
            value = replace(
                value, value=None, fault=f"{what}, and not in a section [{index:04X}Value]"
            )
        yield sub, value


def _device_value(
    source: Source, section: Section, key: ObjectKey, node: int | None
) -> DeviceValue:
    data_type = known_type(section_number(source, section, "DataType", 0))
    word = "ParameterValue"
    entry = section.entries.get(word)
    if entry is None or not entry.value:
        word = "DefaultValue"
        entry = section.entries.get(word)
    value, fault = None, ""
    if entry is not None and entry.value:
        if depends_on_node(entry.value) and node is None:
            fault = f"{object_name(key)} depends on the node id, which is not known"
        else:
            try:
                value = typed_value(entry.value, data_type, node)
            except ValueError:
                fault = f"{object_name(key)} is {shortened(entry.value)}"
    low, wrong_low = _limit(section, "LowLimit", data_type)
    high, wrong_high = _limit(section, "HighLimit", data_type)
    wrong = wrong_low or wrong_high
    if wrong is not None and not fault:
        fault = f"{wrong.key} of {object_name(key)} is {shortened(wrong.value)}"
        entry = wrong
    return DeviceValue(
        key,
        section.entries["ParameterName"].value,
        data_type,
        value,
        low,
        high,
        word,
        word == "ParameterValue",
        entry.value if entry else "",
        source.place(*(entry.value_span if entry and entry.value else section.span)),
        fault,
    )


def _limit(section: Section, word: str, data_type: int) -> tuple[int | None, IniEntry | None]:
    """A limit, or the entry that should state one and does not."""
    entry = section.entries.get(word)
    if entry is None or not entry.value:
        return None, None
    number = limit_value(entry.value, data_type)
    return number, entry if number is None and data_type in INTEGERS else None
