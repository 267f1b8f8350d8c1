"""What a parameter list says, cell by cell, whatever form it has: subject, parameter, value, place.

CSV is read in a stream; cells are texts and never evaluated.
"""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from ..base.errors import InputError, Place
from ..machine.value_reader import as_written
from ..source.files import Source, unprintable
from ..source.limits import MAX_TEXT, shortened
from ..source.parsing import locate, parse
from ..source.places import KeyPath, path_text
from ..source.reader import DISK, Reader
from .export import check_size, decoded, read_bytes, streamed_line
from .ini import scan_ini

if TYPE_CHECKING:
    from .mapping import Mapping

Progress = Callable[[int], None]
"""Called with the number of bytes (or, in a stream, characters) read since the last call."""

_DELIMITERS: Final = {"comma": ",", "semicolon": ";", "tab": "\t", "bar": "|"}


@dataclass(frozen=True, slots=True)
class Cell:
    """One value. ``subject`` (an axis or a node) and ``unit`` are None where the list has none."""

    parameter: str
    text: str
    place: Place
    subject: str | None = None
    subject_place: Place | None = None
    unit: str | None = None
    unit_place: Place | None = None


@dataclass(frozen=True, slots=True)
class Table:
    """A parameter list that is being read: ``source`` shows its lines, ``cells`` is read once."""

    source: Source
    streamed: bool
    cells: Iterator[Cell]


def open_table(
    path: Path, mapping: Mapping, progress: Progress | None = None, reader: Reader = DISK
) -> Table:
    """Begin to read a parameter list by its mapping.

    Raises InputError, with line and column, here or while the cells are read, for a list that has
    not the form the mapping describes.
    """
    if mapping.form == "csv":
        check_size(path, "a parameter list")
        reader.note_streamed(path)
        source = Source(path, path.as_posix(), "", "yaml")
        return Table(source, True, _csv_cells(path, mapping, progress))
    encoding = "utf-8-sig" if mapping.encoding == "utf-8" else mapping.encoding
    form: Any = "json" if mapping.form == "json" else "yaml"
    data = read_bytes(path, "a parameter list", reader)
    source = decoded(path, data, (encoding,), form)
    cells = _ini_cells(source, mapping) if mapping.form == "ini" else _tree_cells(source, mapping)
    return Table(source, False, cells)


# INI, JSON, YAML --------------------------------------------------------------------------------


def _ini_cells(source: Source, mapping: Mapping) -> Iterator[Cell]:
    for section in scan_ini(source, inline_comments=False).values():
        named = source.place(section.span[0] + 1, section.span[1] - 1)
        for entry in section.entries.values():
            value = source.place(*(entry.value_span if entry.value else entry.key_span))
            if mapping.subject:
                yield Cell(entry.key, entry.value, value, section.name, named)
            else:
                yield Cell(f"{section.name}.{entry.key}", entry.value, value)


def _tree_cells(source: Source, mapping: Mapping) -> Iterator[Cell]:
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
                f"{path_text(path) or 'the list'} is a list", place(path), "a flat parameter list"
            )
        else:
            yield path, value

    if not isinstance(plain, dict):
        raise source.error_at("the file holds no parameters", place(()), "parameter: value")
    for path, value in walk(plain, ()):
        if not mapping.subject:
            yield Cell(".".join(map(str, path)), as_written(value), place(path))
            continue
        if len(path) < 2:
            raise source.error_at(
                f"{path_text(path)} belongs to no {mapping.subject}",
                place(path, key=True),
                f"parameters below the name of their {mapping.subject}",
            )
        yield Cell(
            ".".join(map(str, path[1:])),
            as_written(value),
            place(path),
            str(path[0]),
            place(path[:1], key=True),
        )


# CSV --------------------------------------------------------------------------------------------


class _Lines:
    """The lines of a CSV file one by one, keeping those of the row at hand."""

    def __init__(self, stream: Iterator[str], progress: Progress | None) -> None:
        self.stream = stream
        self.progress = progress
        self.number = 0
        self.row: list[str] = []

    def __iter__(self) -> Iterator[str]:
        for line in self.stream:
            self.number += 1
            self.row.append(line)
            if self.progress is not None:
                self.progress(len(line))
            yield line


def _csv_cells(path: Path, mapping: Mapping, progress: Progress | None) -> Iterator[Cell]:
    encoding = "utf-8-sig" if mapping.encoding == "utf-8" else mapping.encoding
    with open(path, encoding=encoding, newline="") as stream:
        lines = _Lines(stream, progress)
        reader = csv.reader(lines, delimiter=_DELIMITERS[mapping.delimiter], strict=True)
        try:
            yield from _Rows(path, encoding, mapping, lines).cells(reader)
        except UnicodeError:
            raise _undecodable(path, encoding, mapping.encoding) from None
        except csv.Error as fault:
            row = _Row(path, encoding, lines, [""], ",")
            raise row.error(
                f"the row cannot be read as cells: {fault}",
                0,
                "cells whose quotes are closed and doubled inside",
            ) from None


def _undecodable(path: Path, encoding: str, named: str) -> InputError:
    expected = f"a file saved as {named}, or another encoding in the mapping"
    with suppress(UnicodeError), open(path, encoding=encoding, errors="replace") as stream:
        for number, line in enumerate(stream, 1):
            at = line.find("\ufffd")
            if at >= 0:
                place = Place(path.as_posix(), number, at + 1, number, at + 2)
                line = line.rstrip("\n")
                return InputError(
                    f"the text is not {named}", expected=expected, place=place, source_line=line
                )
    return InputError(f"{path.as_posix()} is not {named}", expected=expected)


class _Row:
    """One row: its cells, and where each stands (worked out when asked)."""

    def __init__(
        self, path: Path, encoding: str, lines: _Lines, cells: list[str], delimiter: str
    ) -> None:
        self.name = path.as_posix()
        self.raw = "".join(lines.row)
        self.first = lines.number - len(lines.row) + 1
        self.cells = cells
        self.delimiter = delimiter
        self.spans: list[tuple[int, int]] = []

    def place(self, index: int) -> Place:
        """Where cell ``index`` stands; beyond the last cell, the end of the row."""
        spans = self.spans = self.spans or cell_spans(self.raw, self.delimiter)
        start, end = spans[index] if index < len(spans) else (spans[-1][1], spans[-1][1] + 1)
        if end == start:
            end = start + 1
        line, column = _position(self.raw, start)
        end_line, end_column = _position(self.raw, end)
        if end_line != line:
            end_line, end_column = line, column + 1
        return Place(
            self.name, self.first + line, column + 1, self.first + end_line, end_column + 1
        )

    def error(self, what: str, index: int, expected: str) -> InputError:
        place = self.place(index)
        lines = self.raw.replace("\r\n", "\n").replace("\r", "\n").split("\n")
        at = min(place.line - self.first, len(lines) - 1)
        return InputError(what, expected=expected, place=place, source_line=lines[at])


def _position(raw: str, offset: int) -> tuple[int, int]:
    before = raw[:offset].replace("\r\n", " \n").replace("\r", "\n")
    line = before.count("\n")
    return line, offset - (before.rfind("\n") + 1)


def cell_spans(raw: str, delimiter: str) -> list[tuple[int, int]]:
    """Where the cells of a row stand in its text, quotes included; the row end is left out."""
    text = raw.rstrip("\r\n")
    spans: list[tuple[int, int]] = []
    start = at = 0
    while True:
        if text[at : at + 1] == '"':
            at += 1
            while at < len(text):
                if text[at] != '"':
                    at += 1
                elif text[at : at + 2] == '""':
                    at += 2
                else:
                    at += 1
                    break
        end = text.find(delimiter, at)
        if end < 0:
            spans.append((start, len(text)))
            return spans
        spans.append((start, end))
        start = at = end + 1


class _Rows:
    """Rows to cells by a mapping's columns."""

    def __init__(self, path: Path, encoding: str, mapping: Mapping, lines: _Lines) -> None:
        self.path = path
        self.encoding = encoding
        self.mapping = mapping
        self.lines = lines
        self.header: list[str] | None = None
        self.at: dict[str, int] = {}

    def cells(self, rows: Iterator[list[str]]) -> Iterator[Cell]:
        delimiter = _DELIMITERS[self.mapping.delimiter]
        number = 0
        for cells in rows:
            number += 1
            row = _Row(self.path, self.encoding, self.lines, cells, delimiter)
            self.lines.row = []
            if number < self.mapping.header_row or not any(cell.strip() for cell in cells):
                continue
            if self.header is None:
                self.begin(row)
                if self.mapping.header_row:
                    continue
            assert self.header is not None
            if len(cells) != len(self.header):
                raise row.error(
                    f"the row has {len(cells)} cells",
                    min(len(cells), len(self.header)),
                    f"{len(self.header)}, as in the "
                    + ("header row" if self.mapping.header_row else "first row"),
                )
            if self.mapping.layout == "row_per_axis":
                yield from self.axis_row(row)
            else:
                yield self.parameter_row(row)
        if self.header is None:
            line = streamed_line(self.path, self.encoding, 1)
            raise InputError(
                "the list has no header row",
                expected=f"row {max(self.mapping.header_row, 1)} with the names of the columns",
                place=Place(self.path.as_posix(), 1, 1, 1, 2),
                source_line=line,
            )

    def begin(self, row: _Row) -> None:
        """Take the first row: names of columns, or only their number."""
        if self.mapping.header_row:
            self.header = [cell.strip() for cell in row.cells]
        else:
            self.header = [str(number) for number in range(1, len(row.cells) + 1)]
        for index, name in enumerate(self.header):
            if name in self.at and name:
                raise row.error(
                    f"the column {shortened(name)} stands twice", index, "columns of unlike names"
                )
            self.at[name] = index
        for purpose, name in self.mapping.columns.items():
            if name not in self.at:
                from ..machine.schema import near

                close = near(name, self.header)
                hint = f"; perhaps {close[0]!r}" if close else ""
                raise row.error(
                    f"there is no column {shortened(name)}, which the mapping takes as {purpose}",
                    0,
                    f"it among {', '.join(map(shortened, self.header[:12]))}{hint}",
                )

    def text(self, row: _Row, index: int) -> str:
        text = row.cells[index].strip()
        bad = unprintable(text)
        if bad:
            raise row.error(f"the cell holds the control character {bad}", index, "printable text")
        if len(text) > MAX_TEXT:
            raise row.error(f"the cell has {len(text)} characters", index, f"at most {MAX_TEXT}")
        return text

    def subject(self, row: _Row) -> tuple[str | None, Place | None]:
        name = self.mapping.columns.get("subject")
        if name is None:
            return None, None
        index = self.at[name]
        subject = self.text(row, index)
        if not subject:
            raise row.error(
                f"the row names no {self.mapping.subject}",
                index,
                f"the {self.mapping.subject} in the column {name}",
            )
        return subject, row.place(index)

    def parameter_row(self, row: _Row) -> Cell:
        columns = self.mapping.columns
        at, value_at = self.at[columns["parameter"]], self.at[columns["value"]]
        parameter = self.text(row, at)
        if not parameter:
            raise row.error("the row names no parameter", at, "its name")
        subject, subject_place = self.subject(row)
        unit = unit_place = None
        if "unit" in columns:
            unit = self.text(row, self.at[columns["unit"]])
            unit_place = row.place(self.at[columns["unit"]])
        text, place = self.text(row, value_at), row.place(value_at)
        return Cell(parameter, text, place, subject, subject_place, unit, unit_place)

    def axis_row(self, row: _Row) -> Iterator[Cell]:
        assert self.header is not None
        subject, subject_place = self.subject(row)
        own = self.mapping.columns.get("subject")
        for index, name in enumerate(self.header):
            if name == own and name not in self.mapping.wanted:
                continue
            yield Cell(name, self.text(row, index), row.place(index), subject, subject_place)
