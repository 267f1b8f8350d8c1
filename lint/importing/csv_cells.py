"""CSV files cell by cell, read in a stream; cells are texts and never evaluated."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from pathlib import Path
from typing import TextIO

from ..base.errors import InputError, Place
from ..source.files import unprintable
from ..source.limits import MAX_TEXT, shortened
from ..source.reader import DISK, Reader
from .cell import Cell
from .export import MAX_LINE, opened_text
from .list_form import DELIMITERS, ListForm

Progress = Callable[[int], None]
"""Called with the number of bytes (or, in a stream, characters) read since the last call."""


class _Lines:
    """The lines of a CSV file one by one, keeping those of the row at hand."""

    def __init__(self, stream: Iterator[str], progress: Progress | None) -> None:
        self.stream = stream
        self.progress = progress
        self.number = 0
        self.first = ""
        self.row: list[str] = []

    def __iter__(self) -> Iterator[str]:
        for line in self.stream:
            self.number += 1
            self.first = self.first or line
            self.row.append(line)
            if self.progress is not None:
                self.progress(len(line))
            yield line


def csv_cells(
    path: Path,
    form: ListForm,
    progress: Progress | None,
    unread: list[tuple[str, Place]],
    text: str | None = None,
    reader: Reader = DISK,
) -> Iterator[Cell]:
    """The cells of a CSV file, of which ``text`` is the whole text if it is not read in a stream.

    Columns without a purpose go into ``unread``. Raises InputError, with line and column.
    """
    name = reader.name(path)
    with _opened(path, form.codec, text, reader) as stream:
        lines = _Lines(stream, progress)
        rows = divided(lines, form.delimiter)
        try:
            yield from _Rows(name, form, lines, unread).cells(rows)
        except UnicodeError:
            raise _undecodable(path, form, reader) from None
        except csv.Error as fault:
            row = _Row(name, lines, [""], ",")
            raise row.error(
                f"the row cannot be read as cells: {fault}",
                0,
                "cells whose quotes are closed and doubled inside",
            ) from None


def _opened(path: Path, encoding: str, text: str | None, reader: Reader) -> TextIO:
    if text is not None:
        return io.StringIO(text, newline="")
    return opened_text(path, encoding, reader)


def _undecodable(path: Path, form: ListForm, reader: Reader) -> InputError:
    name, named = reader.name(path), form.encoding_name
    expected = f"a file saved as {named}, or another encoding in the mapping"
    opened = opened_text(path, form.codec, reader, "replace", newline=None)
    with suppress(UnicodeError), opened as stream:
        for number, line in enumerate(stream, 1):
            at = line.find("\ufffd")
            if at >= 0:
                place = Place(name, number, at + 1, number, at + 2)
                line = line.rstrip("\n")
                return InputError(
                    f"the text is not {named}", expected=expected, place=place, source_line=line
                )
    return InputError(f"{name} is not {named}", expected=expected)


class _Row:
    """One row: its cells, and where each stands (worked out when asked)."""

    def __init__(self, name: str, lines: _Lines, cells: list[str], delimiter: str) -> None:
        self.name = name
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


def divided(lines: Iterable[str], delimiter: str) -> Iterator[list[str]]:
    """The rows of lines, each as its cells, by the name of a delimiter. Raises csv.Error."""
    if delimiter == "blanks":
        return _blank_rows(lines)
    return csv.reader(lines, delimiter=DELIMITERS[delimiter], strict=True)


class BrokenRow(Exception):
    """A row that cannot be divided into cells, and the line on which it begins."""

    def __init__(self, line: int) -> None:
        super().__init__(line)
        self.line = line


def numbered_rows(text: str, delimiter: str) -> Iterator[tuple[int, list[str]]]:
    """The rows of a text, each with the line on which it begins. Raises BrokenRow."""
    lines = _Lines(io.StringIO(text, newline=""), None)
    try:
        for cells in divided(lines, delimiter):
            yield lines.number - len(lines.row) + 1, cells
            lines.row = []
    except csv.Error:
        raise BrokenRow(lines.number - len(lines.row) + 1) from None


def _blank_rows(lines: Iterable[str]) -> Iterator[list[str]]:
    """The cells of each line, with two or more blanks between them; none of a ruled line."""
    for line in lines:
        ruled = not line.strip(" \t\r\n-=_+")
        yield [] if ruled else [line[start:end] for start, end in _between_blanks(line)]


def _between_blanks(line: str) -> list[tuple[int, int]]:
    return [found.span() for found in re.finditer(r"\S+(?: \S+)*", line)]


def cell_spans(raw: str, delimiter: str) -> list[tuple[int, int]]:
    """Where the cells of a row stand in its text, quotes included; the row end is left out."""
    text = raw.rstrip("\r\n")
    if delimiter == DELIMITERS["blanks"]:
        return _between_blanks(text) or [(0, len(text))]
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

    def __init__(
        self, name: str, form: ListForm, lines: _Lines, unread: list[tuple[str, Place]]
    ) -> None:
        self.unread = unread
        self.name = name
        self.form = form
        self.lines = lines
        self.header: list[str] | None = None
        self.at: dict[str, int] = {}

    def cells(self, rows: Iterator[list[str]]) -> Iterator[Cell]:
        delimiter = DELIMITERS[self.form.delimiter]
        number = 0
        for cells in rows:
            number += 1
            row = _Row(self.name, self.lines, cells, delimiter)
            self.lines.row = []
            if number < self.form.header_row or not any(cell.strip() for cell in cells):
                continue
            if self.header is None:
                self.begin(row)
                if self.form.header_row:
                    continue
            assert self.header is not None
            if self.form.delimiter == "blanks":
                cells += [""] * (len(self.header) - len(cells))
            if len(cells) != len(self.header):
                raise row.error(
                    f"the row has {len(cells)} cells",
                    min(len(cells), len(self.header)),
                    f"{len(self.header)}, as in the "
                    + ("header row" if self.form.header_row else "first row"),
                )
            if self.form.layout == "row_per_parameter":
                yield self.parameter_row(row)
            else:
                yield from self.axis_row(row, number)
        if self.header is None:
            line = self.lines.first.rstrip("\r\n")[:MAX_LINE]
            raise InputError(
                "the list has no header row",
                expected=f"row {max(self.form.header_row, 1)} with the names of the columns",
                place=Place(self.name, 1, 1, 1, 2),
                source_line=line,
            )

    def begin(self, row: _Row) -> None:
        """Take the first row: names of columns, or only their number."""
        if self.form.header_row:
            self.header = [cell.strip() for cell in row.cells]
        else:
            self.header = [str(number) for number in range(1, len(row.cells) + 1)]
        for index, name in enumerate(self.header):
            if name in self.at and name:
                raise row.error(
                    f"the column {shortened(name)} stands twice",
                    index,
                    "columns of different names",
                )
            self.at[name] = index
        for purpose, name in self.form.columns.items():
            if name not in self.at:
                from ..machine.schema import near

                close = near(name, self.header)
                hint = f". Perhaps {close[0]!r}" if close else ""
                raise row.error(
                    f"there is no column {shortened(name)}, which the mapping takes as {purpose}",
                    0,
                    f"it among {', '.join(map(shortened, self.header[:12]))}{hint}",
                )

        if self.form.layout == "row_per_parameter":
            purposes = set(self.form.columns.values())
            for index, name in enumerate(self.header):
                if name not in purposes:
                    word = shortened(name) if name else f"number {index + 1}"
                    self.unread.append((f"the column {word}", row.place(index)))

    def text(self, row: _Row, index: int) -> str:
        text = row.cells[index].strip()
        bad = unprintable(text)
        if bad:
            raise row.error(f"the cell holds the control character {bad}", index, "printable text")
        if len(text) > MAX_TEXT:
            raise row.error(f"the cell has {len(text)} characters", index, f"at most {MAX_TEXT}")
        return text

    def subject(self, row: _Row) -> tuple[str | None, Place | None]:
        name = self.form.columns.get("subject")
        if name is None:
            return None, None
        index = self.at[name]
        subject = self.text(row, index)
        if not subject:
            raise row.error(
                f"the row names no {self.form.subject}",
                index,
                f"the {self.form.subject} in the column {name}",
            )
        return subject, row.place(index)

    def parameter_row(self, row: _Row) -> Cell:
        columns = self.form.columns
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

    def axis_row(self, row: _Row, number: int) -> Iterator[Cell]:
        assert self.header is not None
        subject, subject_place = self.subject(row)
        own = self.form.columns.get("subject")
        for index, name in enumerate(self.header):
            if name == own and name not in self.form.wanted:
                continue
            text, place = self.text(row, index), row.place(index)
            yield Cell(name, text, place, subject, subject_place, row=number)
