"""What an export says, cell by cell, in any form: subject, parameter, value, unit, place."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from ..base.errors import Place
from ..machine.value_reader import as_written
from ..source.files import Source
from ..source.parsing import locate, parse
from ..source.places import KeyPath, path_text
from ..source.reader import DISK, Reader
from .archive import is_inside
from .cell import Cell
from .csv_cells import Progress, csv_cells
from .export import check_size, decoded, first_bytes, read_bytes, refuse_stand_in
from .ini import scan_ini
from .list_form import ListForm
from .record_cells import record_cells


@dataclass(frozen=True, slots=True)
class Table:
    """A parameter list that is being read: ``source`` shows its lines, ``cells`` is read once.

    ``unread`` are columns and fields that the form gives no purpose, once the cells are read.
    """

    source: Source
    streamed: bool
    cells: Iterator[Cell]
    unread: list[tuple[str, Place]] = field(default_factory=list)


def open_table(
    path: Path, form: ListForm, progress: Progress | None = None, reader: Reader = DISK
) -> Table:
    """Begin to read a parameter list of a form.

    Raises InputError, with line and column, here or while the cells are read, for a list that has
    another form.
    """
    unread: list[tuple[str, Place]] = []
    if form.form == "csv" and not is_inside(path, reader):
        check_size(path, "a parameter list", reader)
        refuse_stand_in(reader.name(path), first_bytes(path, reader))
        reader.note_streamed(path)
        source = Source(path, reader.name(path), "", "yaml")
        cells = csv_cells(path, form, progress, unread, reader=reader)
        return Table(source, True, cells, unread)
    data = read_bytes(path, "a parameter list", reader)
    if form.form == "csv":
        source = decoded(path, data, (form.codec,), reader=reader)
        cells = csv_cells(path, form, progress, unread, source.text, reader)
        return Table(source, False, cells, unread)
    if form.form == "xml":
        from .xml_tree import xml_text, xml_tree

        source = xml_text(path, data, form.encoding, reader)
        return Table(source, False, record_cells(source, xml_tree(source), form, unread), unread)
    source = decoded(path, data, (form.codec,), "json" if form.form == "json" else "yaml", reader)
    if form.form == "ini":
        return Table(source, False, _ini_cells(source, form))
    if form.records:
        from .branches import data_tree

        return Table(source, False, record_cells(source, data_tree(source), form, unread), unread)
    return Table(source, False, _tree_cells(source, form))


# INI, JSON and YAML without rows -----------------------------------------------------------------


def _ini_cells(source: Source, form: ListForm) -> Iterator[Cell]:
    one_axis = not form.subject
    for section in scan_ini(source, inline_comments=False, without_sections=one_axis).values():
        named = source.place(section.span[0] + 1, section.span[1] - 1)
        for entry in section.entries.values():
            value = source.place(*(entry.value_span if entry.value else entry.key_span))
            if form.subject:
                yield Cell(entry.key, entry.value, value, section.name, named)
            else:
                name = f"{section.name}.{entry.key}" if section.name else entry.key
                yield Cell(name, entry.value, value)


def _tree_cells(source: Source, form: ListForm) -> Iterator[Cell]:
    plain = parse(source)
    here = locate(source)

    def place(path: KeyPath, key: bool = False) -> Place:
        found = here.key(path) if key else here.value(path)
        return found or source.place(0, 0)

    def walk(value: Any, path: KeyPath) -> Iterator[tuple[KeyPath, Any]]:
        if isinstance(value, dict):
            for key, inner in value.items():
                yield from walk(inner, (*path, key))
        elif isinstance(value, list):
            raise source.error_at(
                f"{path_text(path) or 'the list'} is a list",
                place(path),
                "a flat parameter list, or records: in the mapping with the path of the rows",
            )
        else:
            yield path, value

    if not isinstance(plain, dict):
        raise source.error_at("the file holds no parameters", place(()), "parameter: value")
    for path, value in walk(plain, ()):
        if not form.subject:
            yield Cell(".".join(map(str, path)), as_written(value), place(path))
            continue
        if len(path) < 2:
            raise source.error_at(
                f"{path_text(path)} belongs to no {form.subject}",
                place(path, key=True),
                f"parameters below the name of their {form.subject}",
            )
        yield Cell(
            ".".join(map(str, path[1:])),
            as_written(value),
            place(path),
            str(path[0]),
            place(path[:1], key=True),
        )
