"""A parameter list as facts of axes, by its mapping."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Final

from ..base.errors import InputError, Place
from ..source.files import Plain, Source
from ..source.limits import shortened
from ..source.places import KeyPath, path_text
from ..source.reader import DISK, Reader
from .axis_names import AxisNames
from .cell import Cell
from .cells import open_table
from .csv_cells import Progress
from .decoding import Decoder
from .export import Export, ImportRemark, Statement, Statements
from .fact_source import EACH_ROW, FactSource, PackedNumber
from .mapping import Mapping, fact_sources_of

MAX_REMARKED: Final = 1000
"""Most parameters without mapping that are kept by name."""


def table_export(
    path: Path,
    mapping: Mapping,
    names: AxisNames,
    axis: str | None = None,
    progress: Progress | None = None,
    reader: Reader = DISK,
) -> Export:
    """Read a parameter list; memory grows with the facts it states, not with its rows.

    ``axis`` is what the list is about if its mapping names no subject. Raises InputError, with line
    and column, for a row of another shape, an axis or node that is not known, a parameter that is
    stated twice, and a value that is not what the mapping says or that a fact cannot hold.
    """
    table = open_table(path, mapping.form, progress, reader)
    encoding = mapping.form.codec
    name = reader.name(path)
    line_source = Export(path, name, "", "yaml", encoding=encoding, streamed=True, reader=reader)
    source: Source = line_source if table.streamed else table.source
    table_import = _TableImport(mapping, names, source, axis)
    for cell in table.cells:
        table_import.take(cell)
    table_import.finish(table.unread)
    return Export(
        path,
        source.name,
        source.text,
        source.form,
        statements=table_import.statements.by_path,
        remarks=tuple(table_import.remarks),
        encoding=encoding,
        streamed=table.streamed,
        reader=reader,
    )


class _TableImport:
    def __init__(
        self, mapping: Mapping, names: AxisNames, source: Source, axis: str | None
    ) -> None:
        self.mapping = mapping
        self.names = names
        self.source = source
        self.axis = axis
        self.decoder = Decoder(mapping, source)
        self.statements = Statements()
        self.seen: dict[tuple[str, str, int], Place] = {}
        self.records: dict[KeyPath, dict[int, int]] = {}
        """The rows that make records of a list, with the numbers of the records."""
        self.first_cells: dict[KeyPath, Place] = {}
        """Where the first fact of each record stands."""
        self.partial = {
            fact_source.target.path
            for fact_source in fact_sources_of(mapping)
            if fact_source.partial and fact_source.target.number is not None
        }
        self.axes: dict[str, Place] = {}
        self.subjects: dict[str, str] = {}
        self.unmapped: dict[str, Place] = {}
        self.not_kept = 0
        self.ignored: dict[str, dict[str, Place]] = {}
        self.empty: dict[str, Place] = {}
        self.words: dict[tuple[str, int], dict[str, Cell]] = {}
        self.packed: dict[str, tuple[int, PackedNumber]] = {}
        for number, packed in enumerate(mapping.packed):
            for word in packed.words:
                self.packed[word] = number, packed
        self.remarks: list[ImportRemark] = self.decoder.remarks

    def take(self, cell: Cell) -> None:
        axis = self.axis_of(cell)
        self.axes.setdefault(axis, cell.subject_place or cell.place)
        name = cell.parameter
        fact_sources = self.mapping.parameters.get(name)
        packed = self.packed.get(name)
        if fact_sources is None and packed is None:
            if name in self.mapping.ignored:
                self.leave_out(name, self.mapping.ignored[name], cell.place)
            elif name in self.unmapped or len(self.unmapped) < MAX_REMARKED:
                self.unmapped.setdefault(name, cell.place)
            else:
                self.not_kept += 1
            return
        row = cell.row if self.mapping.form.layout == "row_per_record" else 0
        before = self.seen.setdefault((axis, name, row), cell.place)
        if before is not cell.place:
            raise self.error(
                f"{shortened(name)} of {axis} is stated twice, first on line {before.line}",
                cell.place,
                "one row for each parameter",
            )
        if packed is not None:
            self.words.setdefault((axis, packed[0]), {})[name] = cell
            return
        assert fact_sources is not None
        if not cell.text and not all("" in fact_source.none for fact_source in fact_sources):
            self.empty.setdefault(name, cell.place)
        for fact_source in fact_sources:
            value = self.decoder.decode(fact_source, cell)
            self.state(axis, fact_source, value, cell.place, name, cell.row)
        if name in self.mapping.ignored_bits and cell.text:
            self.remark_bits(name, fact_sources, cell)

    def remark_bits(self, name: str, fact_sources: tuple[FactSource, ...], cell: Cell) -> None:
        number = self.decoder.bits_of(cell)
        read = 0
        for mask, why in self.mapping.ignored_bits[name]:
            read |= mask
            if number & mask:
                self.leave_out(f"bit {_bits(number & mask)} of {name}", why, cell.place)
        for fact_source in fact_sources:
            if fact_source.bits is not None:
                low, high = fact_source.bits
                read |= ((1 << high - low + 1) - 1) << low
        left = number & ~read
        if left:
            self.remarks.append(
                ImportRemark(
                    cell.place, f"{shortened(name)} has bit {_bits(left)} set, which is not mapped"
                )
            )

    def leave_out(self, what: str, why: str, place: Place) -> None:
        """Note what the mapping leaves out on purpose, for a reason."""
        self.ignored.setdefault(why, {}).setdefault(what, place)

    def axis_of(self, cell: Cell) -> str:
        if cell.subject is None or cell.subject_place is None:
            if self.axis is None:
                raise self.error(
                    "the list does not say which axis it is about",
                    cell.place,
                    "the axis beside the list, or a subject in its mapping",
                )
            return self.axis
        found = self.subjects.get(cell.subject)
        if found is None:
            find = self.names.by_node if self.mapping.form.subject == "node" else self.names.by_name
            found = self.subjects[cell.subject] = find(cell.subject, cell.subject_place, self.error)
        return found

    def finish(self, unread: Iterable[tuple[str, Place]]) -> None:
        """Combine packed numbers, ask for what is required, and account for what is not taken."""
        for (axis, number), cells in self.words.items():
            self.combine(axis, self.mapping.packed[number], cells)
        self.complete_records()
        for fact_source in fact_sources_of(self.mapping):
            if fact_source.required:
                self.demand(fact_source)
        self.account(unread)
        found = {name for _, name, _ in self.seen}
        for name in sorted((set(self.mapping.parameters) | set(self.packed)) - found):
            start = self.source.place(0, 0)
            self.remarks.append(
                ImportRemark(start, f"{shortened(name)} is mapped and does not occur")
            )

    def demand(self, fact_source: FactSource) -> None:
        """Refuse a list in which an axis (or a record of one) lacks a fact that is required."""
        target = fact_source.target
        for axis, place in self.axes.items():
            paths: list[KeyPath] = [(*target.at(axis), *target.inner)]
            if target.number is not None:
                paths = [
                    (*record, *target.inner)
                    for record in self.first_cells
                    if record[: len(target.at(axis))] == target.at(axis)
                    and target.number in (EACH_ROW, record[-1])
                ]
            for path in paths:
                if path not in self.statements.by_path:
                    raise self.error(
                        f"{axis} has no {self.parameter_of(fact_source)}",
                        self.first_cells.get(path[:-1], place),
                        f"it, since {self.mapping.name} requires {fact_source.to}",
                    )

    def complete_records(self) -> None:
        """State what is alike in all records, and see that none of a list is skipped."""
        for path, place in list(self.first_cells.items()):
            number = path[-1]
            assert isinstance(number, int)
            if number and (*path[:-1], number - 1) not in self.first_cells:
                raise self.error(
                    f"{path_text(path)} is stated without {path_text((*path[:-1], number - 1))}",
                    place,
                    "the records of a list from 0 on, none left out",
                )
            for fact_source, value in self.mapping.fixed:
                target = fact_source.target
                if target.number not in (EACH_ROW, number) or not _of_list(path, target.path):
                    continue
                note = f"fixed in {self.mapping.name}"
                statement = Statement((*path, *target.inner), value, place, note)
                self.statements.add(statement, self.source.line_text)

    def account(self, unread: Iterable[tuple[str, Place]]) -> None:
        """Name what no fact takes."""
        for name, place in unread:
            self.remarks.append(ImportRemark(place, f"{name} is not read"))
        for name, place in self.unmapped.items():
            self.remarks.append(ImportRemark(place, f"{shortened(name)} is not mapped"))
        if self.not_kept:
            more = "1 further value" if self.not_kept == 1 else f"{self.not_kept} further values"
            self.remarks.append(
                ImportRemark(self.source.place(0, 0), f"{more} of parameters that are not mapped")
            )
        for name, place in self.empty.items():
            self.remarks.append(ImportRemark(place, f"{shortened(name)} is mapped and empty"))
        for why, places in self.ignored.items():
            named = ", ".join(map(shortened, places))
            place = next(iter(places.values()))
            self.remarks.append(ImportRemark(place, f"left out: {named} ({shortened(why)})"))

    def parameter_of(self, fact_source: FactSource) -> str:
        """The parameter, as the mapping file names it."""
        if fact_source.path[0] == "packed":
            return " and ".join(self.mapping.packed[int(fact_source.path[1])].words)
        return str(fact_source.path[1])

    def combine(self, axis: str, packed: PackedNumber, cells: dict[str, Cell]) -> None:
        first = next(iter(cells.values()))
        filled = {name: cell for name, cell in cells.items() if cell.text}
        if not filled:
            self.empty.setdefault(" and ".join(packed.words), first.place)
            return
        whole = 0
        for word in packed.words:
            cell = filled.get(word)
            if cell is None:
                raise self.error(
                    f"{axis} has {' and '.join(filled)} without {word}",
                    first.place,
                    f"all of {', '.join(packed.words)}",
                )
            number = self.decoder.bits_of(cell)
            if number >> packed.word_bits:
                raise self.error(
                    f"{word} is {shortened(cell.text)}, which {packed.word_bits} bits cannot hold",
                    cell.place,
                    f"0 to {(1 << packed.word_bits) - 1}",
                )
            whole = whole << packed.word_bits | number
        top = filled[packed.words[0]]
        cell = Cell(
            " and ".join(packed.words), str(whole), top.place, unit=top.unit, unit_place=top.place
        )
        value = self.decoder.decode(packed.fact_source, cell)
        self.state(axis, packed.fact_source, value, top.place, cell.parameter)

    def state(
        self,
        axis: str,
        fact_source: FactSource,
        value: Plain | None,
        place: Place,
        name: str,
        row: int = 0,
    ) -> None:
        if value is None:
            return
        note = shortened(name)
        if fact_source.bits is not None:
            low, high = fact_source.bits
            note += f" bit {low}" if low == high else f" bits {low} to {high}"
        if fact_source.minus:
            note = f"minus {note}"
        path = self.path(axis, fact_source, row)
        if fact_source.target.number is not None:
            self.first_cells.setdefault(path[: -len(fact_source.target.inner)], place)
        statement = Statement(path, value, place, note)
        self.statements.add(statement, self.source.line_text)

    def path(self, axis: str, fact_source: FactSource, row: int) -> KeyPath:
        """Where a fact stands in the machine file."""
        target = fact_source.target
        path = target.at(axis)
        if target.number is None:
            return path
        number = target.number
        if target.path in self.partial:
            path = (*path, "partial")
        if number == EACH_ROW:
            rows = self.records.setdefault(path, {})
            number = rows.setdefault(row, len(rows))
        return (*path, number, *target.inner)

    def error(self, what: str, place: Place, expected: str) -> InputError:
        return self.decoder.error(what, place, expected)


def _bits(number: int) -> str:
    return ", ".join(str(bit) for bit in range(64) if number >> bit & 1)


def _of_list(path: KeyPath, of: tuple[str, ...]) -> bool:
    """Whether the record at ``path`` belongs to a list."""
    above = path[:-2] if path[-2] == "partial" else path[:-1]
    return above[-len(of) :] == of
