"""What form a parameter list has, guessed from its bytes, and its rows as the form gives them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Final

from ..base.errors import InputError, UsageError
from ..importing.branches import Branch, leaves, place_of
from ..importing.device_reader import is_device_file
from ..importing.export import decoded, read_bytes
from ..importing.ini import scan_ini
from ..importing.rows import tree_in
from ..source.files import Source
from ..source.reader import DISK, Reader
from .list_records import record_table
from .list_rows import (
    ListRow,
    ListShape,
    comma_decimal,
    split_unit,
    suffix_unit,
    units_in_values,
    with_joined_units,
)
from .list_tables import columns_of, row_per_parameter, table_shape, values_of

_ALIKE: Final = 0.6
"""Share of keys that sections of axes have in common."""

_SUFFIXED: Final = 0.15
"""Share of names that end in a unit if a list writes its units there."""

_SECTION: Final = re.compile(r"^\s*\[[^\]\n]+\]\s*$", re.MULTILINE)
_ENTRY: Final = re.compile(r"^\s*[^=;#\[{\n]+=", re.MULTILINE)
_UNDEFINED: Final = frozenset({0x81, 0x8D, 0x8F, 0x90, 0x9D})


def encoding_of(data: bytes) -> str:
    """The encoding that the bytes of a list are most likely written in."""
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return "utf-16"
    try:
        data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return "latin-1" if set(data) & _UNDEFINED else "cp1252"
    return "utf-8"


def shape_of(path: Path, reader: Reader = DISK, column: str = "") -> ListShape:
    """The shape and the rows of the list at ``path``, with the values of a column if one is named.

    Raises InputError for a list that has none of the forms that a mapping can describe, UsageError
    for a column that it does not have.
    """
    shape = _shape_of(path, reader, column)
    if column and not shape.column:
        raise UsageError("the list has no columns of values", expected="no --column")
    if not any(row.units and row.unit for row in shape.rows):
        _take_units_from_names(shape)
    return shape


def _shape_of(path: Path, reader: Reader, column: str) -> ListShape:
    data = read_bytes(path, "a parameter list", reader)
    name = reader.name(path)
    if is_device_file(path, reader):
        raise InputError(
            f"{name} is a device file, which needs no mapping",
            expected="a parameter list. `axisproof import` takes the device file as it is",
        )
    encoding = encoding_of(data)
    ending = path.suffix.lower()
    if ending == ".xml" or data.lstrip()[:5] == b"<?xml":
        return _tree(*tree_in(path, data, "xml", "", reader), "xml", "")
    if ending not in (".json", ".yaml", ".yml"):
        codec = "utf-8-sig" if encoding == "utf-8" else encoding
        source = decoded(path, data, (codec,), reader=reader)
        if _is_ini(source.text):
            return _ini(source, encoding)
        if source.text.lstrip()[:1] not in ("{", "["):
            return table_shape(source, encoding, column)
    form = "yaml" if ending in (".yaml", ".yml") else "json"
    return _tree(*tree_in(path, data, form, encoding, reader), form, encoding)


def _is_ini(text: str) -> bool:
    """Whether all lines but comments are sections and entries."""
    lines = [line for line in text.splitlines() if line.strip() and line.strip()[0] not in "#;"]
    entries = sum(bool(_ENTRY.match(line)) for line in lines)
    return entries > 0 and entries + sum(map(bool, map(_SECTION.match, lines))) == len(lines)


def _take_units_from_names(shape: ListShape) -> None:
    """Of a list without any place for units, take those at the ends of names."""
    found = [suffix_unit(row.texts[0]) if row.texts else ("", "") for row in shape.rows]
    if sum(bool(unit) for _, unit in found) < _SUFFIXED * len(found):
        return
    shape.rows = [
        replace(row, texts=(label, *row.texts[1:]), units=(unit,) * len(row.values))
        if unit
        else row
        for row, (label, unit) in zip(shape.rows, found, strict=True)
    ]


def _ini(source: Source, encoding: str) -> ListShape:
    shape = ListShape("ini", encoding)
    sections = scan_ini(source, inline_comments=False, without_sections=True)
    entries = [
        (section.name, entry.key, entry.value, source.place(*entry.key_span).line)
        for section in sections.values()
        for entry in section.entries.values()
    ]
    _grouped(shape, entries)
    return shape


def _tree(source: Source, root: Branch, form: str, encoding: str) -> ListShape:
    shape = ListShape(form, encoding)
    records = record_table(source, root)
    if records is not None:
        shape.records = records.path
        purposes = columns_of(records.labels, records.table, shape)
        shape.comma = comma_decimal(values_of(records.table, purposes))
        if "value" in purposes and "parameter" in purposes:
            row_per_parameter(shape, records.names, records.table, purposes)
            return shape
        shape.records = ""
    if form == "xml":
        raise source.error(
            "the file has no rows with a name and a value",
            0,
            1,
            "a list of parameters, each with its name and its value",
        )
    entries: list[tuple[str, str, str, int]] = []
    for name, leaf in leaves(root):
        *parents, key = name.split("/")
        line = place_of(source, leaf).line
        entries.append((".".join(parents), key, leaf.text or "", line))
    _grouped(shape, entries)
    return shape


def _grouped(shape: ListShape, entries: Sequence[tuple[str, str, str, int]]) -> None:
    """Rows of sections: of each axis one section with the same keys, or of one axis in parts."""
    sections = list(dict.fromkeys(section for section, _, _, _ in entries))
    keys = {name: {key for at, key, _, _ in entries if at == name} for name in sections}
    alike = [
        len(keys[one] & keys[other]) / len(keys[one] | keys[other])
        for one, other in pairwise(sections)
    ]
    by_axis = len(sections) > 1 and bool(alike) and min(alike) >= _ALIKE
    if by_axis:
        shape.name_subjects(sections)
    values = [value for _, _, value, _ in entries]
    shape.unit_in_value = units_in_values(values)
    shape.comma = comma_decimal(values)
    gathered: dict[str, list[tuple[str, str, str, int]]] = {}
    for section, key, value, line in entries:
        name = key if by_axis or not section else f"{section}.{key}"
        gathered.setdefault(name, []).append((section, key, value, line))
    for name, group in gathered.items():
        section, key, _, line = group[0]
        label, unit = split_unit(key)
        row = ListRow(
            name,
            (label,),
            "" if by_axis else section,
            tuple(value for _, _, value, _ in group),
            (unit,) * len(group),
            line,
        )
        shape.rows.append(with_joined_units(row) if shape.unit_in_value else row)
