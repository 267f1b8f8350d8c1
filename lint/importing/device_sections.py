"""The sections of a device file (CiA 306): which objects they describe, and what they leave out."""

from __future__ import annotations

import datetime
import re
from typing import Final, TypeAlias

from ..base.errors import Place
from ..source.files import Source
from ..source.limits import shortened
from .export import ImportRemark
from .ini import IniEntry, Section

ObjectKey: TypeAlias = tuple[int, int]
"""Index and subindex."""

_KEYWORDS: Final = {
    word.lower(): word
    for word in (
        "ParameterName ObjectType DataType AccessType DefaultValue ParameterValue LowLimit "
        "HighLimit PDOMapping SubNumber CompactSubObj NrOfEntries StorageLocation NodeID Baudrate "
        "SupportedObjects Lines CreationDate ModificationDate"
    ).split()
}
_SECTIONS: Final = {
    "deviceinfo": "DeviceInfo",
    "devicecomissioning": "DeviceComissioning",
    "devicecommissioning": "DeviceComissioning",
    "comments": "Comments",
    "fileinfo": "FileInfo",
    "mandatoryobjects": "MandatoryObjects",
    "optionalobjects": "OptionalObjects",
    "manufacturerobjects": "ManufacturerObjects",
}
_OBJECT: Final = re.compile(r"([0-9A-Fa-f]{4})(?:[Ss][Uu][Bb]([0-9A-Fa-f]{1,2}))?")
_DAY: Final = re.compile(r"([0-9]{1,2})-([0-9]{1,2})-([0-9]{4})")
_NEEDED: Final = ("ParameterName", "DataType", "AccessType")
_LISTS: Final = ("MandatoryObjects", "OptionalObjects", "ManufacturerObjects")
VARIABLES: Final = (2, 7)
"""Object types of a single value (CiA 301): DOMAIN and VAR."""
_ARRAY: Final = 8
_ARRAYS: Final = (_ARRAY, 9)


def canonical_sections(source: Source, sections: dict[str, Section]) -> dict[str, Section]:
    """Section names and keywords in one spelling."""
    out: dict[str, Section] = {}
    for name, section in sections.items():
        proper = _SECTIONS.get(name.lower(), name)
        found = _OBJECT.fullmatch(name)
        if found:
            proper = found[1].upper() + (f"sub{int(found[2], 16):X}" if found[2] else "")
        if proper in out:
            raise source.error(f"the section [{proper}] stands twice", *section.span, "one")
        entries: dict[str, IniEntry] = {}
        for key, entry in section.entries.items():
            known = _KEYWORDS.get(key.lower(), key)
            if known in entries:
                raise source.error(f"{known} stands twice in [{name}]", *entry.key_span, "one")
            entries[known] = entry
        out[proper] = Section(proper, section.span, entries)
    return out


def object_sections(source: Source, sections: dict[str, Section]) -> dict[ObjectKey, Section]:
    """Object sections by index and subindex; the subindex of a whole object is −1 here."""
    objects: dict[ObjectKey, Section] = {}
    for name, section in sections.items():
        found = _OBJECT.fullmatch(name)
        if found:
            index = int(found[1], 16)
            objects[index, int(found[2], 16) if found[2] else -1] = section
    if not objects:
        raise source.error(
            "the file describes no object", 0, 0, "a device file with sections such as [1000]"
        )
    for (index, sub), section in objects.items():
        kind = section_number(source, section, "ObjectType", 7)
        if sub >= 0 and (index, -1) not in objects:
            raise source.error(
                f"[{section.name}] belongs to no object", *section.span, f"a section [{index:04X}]"
            )
        if sub < 0 and kind in _ARRAYS and "CompactSubObj" not in section.entries:
            needed: tuple[str, ...] = ("ParameterName",)
        elif sub < 0 and kind not in VARIABLES + _ARRAYS:
            needed = ("ParameterName",)
        else:
            needed = _NEEDED
        for key in needed:
            if key not in section.entries:
                raise source.error(
                    f"[{section.name}] lacks {key}",
                    *section.span,
                    f"{key}=…. Perhaps the file is cut off",
                )
        if "DataType" in section.entries:
            section_number(source, section, "DataType", 0)
    return objects


def partly_described(
    source: Source, objects: dict[ObjectKey, Section]
) -> tuple[dict[int, tuple[str, Place]], list[ImportRemark]]:
    """Arrays and records whose subindexes are not all described, or in a way nobody can read."""
    short: dict[int, tuple[str, Place]] = {}
    remarks = []
    for (index, sub), section in objects.items():
        if sub < 0 and "CompactSubObj" in section.entries:
            if section_number(source, section, "ObjectType", 7) not in (*VARIABLES, _ARRAY):
                place = source.place(*section.entries["CompactSubObj"].key_span)
                what = f"0x{index:04X} has CompactSubObj and is no array"
                short[index] = (what, place)
                remarks.append(ImportRemark(place, what))
            continue
        if sub >= 0 or "SubNumber" not in section.entries:
            continue
        wanted = section_number(source, section, "SubNumber", 0)
        found = sum(1 for each, part in objects if each == index and part >= 0)
        if wanted > found:
            place = source.place(*section.entries["SubNumber"].value_span)
            what = f"0x{index:04X} announces {wanted} subindexes and {found} are described"
            short[index] = (what, place)
            remarks.append(ImportRemark(place, what))
    return short, remarks


def listed_only(
    source: Source, sections: dict[str, Section], objects: dict[ObjectKey, Section]
) -> tuple[dict[int, tuple[str, Place]], list[ImportRemark]]:
    """Objects that the file lists and does not describe, and words about them."""
    missing: dict[int, tuple[str, Place]] = {}
    remarks = []
    for name in _LISTS:
        section = sections.get(name)
        for entry in section.entries.values() if section else ():
            if not entry.key.isdecimal():
                continue
            index = _whole(entry.value)
            if index is None:
                raise source.error(
                    f"{shortened(entry.value) or 'nothing'} is no object index",
                    *(entry.value_span if entry.value else entry.key_span),
                    "an index such as 0x6091. Perhaps the file is cut off",
                )
            if (index, -1) not in objects:
                place = source.place(*entry.value_span)
                what = f"0x{index:04X} is listed in [{name}] and not described"
                missing[index] = (what, place)
                remarks.append(ImportRemark(place, what))
    return missing, remarks


_COMPACT: Final = re.compile(r"([0-9A-Fa-f]{4})(Value|Name)", re.IGNORECASE)


def compact_sections(sections: dict[str, Section], word: str) -> dict[int, Section]:
    """The sections with the set values (Value) or names (Name) of compact arrays, by index."""
    found = ((_COMPACT.fullmatch(name), section) for name, section in sections.items())
    return {
        int(match[1], 16): section
        for match, section in found
        if match and match[2].lower() == word.lower()
    }


def stated_node(source: Source, sections: dict[str, Section]) -> tuple[int, IniEntry] | None:
    """The node id that the file states, with its entry. Raises InputError for an impossible one."""
    section = sections.get("DeviceComissioning")
    entry = section.entries.get("NodeID") if section else None
    if entry is None or not entry.value:
        return None
    number = _whole(entry.value)
    if number is None or not 1 <= number <= 127:
        raise source.error(
            f"the node id is {shortened(entry.value)}", *entry.value_span, "1 to 127 (CiA 301)"
        )
    return number, entry


def stated_day(
    source: Source, sections: dict[str, Section]
) -> tuple[tuple[str, Place] | None, list[ImportRemark]]:
    """The day on which the file was last written (ISO 8601), and a remark on one that is none.

    ModificationDate in [FileInfo], else CreationDate, as mm-dd-yyyy (CiA 306, from memory; so is it
    in the device file in the ``canopen`` source archive).
    """
    section = sections.get("FileInfo")
    for key in ("ModificationDate", "CreationDate"):
        entry = section.entries.get(key) if section else None
        if entry is None or not entry.value:
            continue
        place = source.place(*entry.value_span)
        found = _DAY.fullmatch(entry.value)
        try:
            if found is None:
                raise ValueError
            day = datetime.date(int(found[3]), int(found[1]), int(found[2]))
        except ValueError:
            what = f"{key} is {shortened(entry.value)}, which is no day as mm-dd-yyyy"
            return None, [ImportRemark(place, what)]
        return (day.isoformat(), place), []
    return None, []


def section_number(source: Source, section: Section, key: str, default: int) -> int:
    """The number in an entry of a section, or ``default`` if the section lacks the entry."""
    entry = section.entries.get(key)
    if entry is None:
        return default
    number = _whole(entry.value)
    if number is None:
        raise source.error(
            f"{key} of [{section.name}] is {shortened(entry.value) or 'empty'}",
            *(entry.value_span if entry.value else entry.key_span),
            "a number such as 7 or 0x0007. Perhaps the file is cut off",
        )
    return number


def _whole(text: str) -> int | None:
    try:
        return int(text, 0)
    except ValueError:
        return None
