"""A parameter list as facts of axes, by its mapping."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from ..base.errors import InputError, Place
from ..source.files import Plain, Source
from ..source.limits import shortened
from ..source.places import KeyPath
from ..source.reader import DISK, Reader
from .axis_names import AxisNames
from .cells import Cell, Progress, open_table
from .decoding import Decoder
from .export import Export, ImportRemark, Statement, Statements
from .mapping import FactSource, Mapping, PackedNumber, fact_sources_of
from .values import MACHINE

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
    table = open_table(path, mapping, progress, reader)
    encoding = "utf-8-sig" if mapping.encoding == "utf-8" else mapping.encoding
    line_source = Export(path, path.as_posix(), "", "yaml", encoding=encoding, streamed=True)
    source: Source = line_source if table.streamed else table.source
    table_import = _TableImport(mapping, names, source, axis)
    for cell in table.cells:
        table_import.take(cell)
    table_import.finish()
    return Export(
        path,
        source.name,
        source.text,
        source.form,
        statements=table_import.statements.by_path,
        remarks=tuple(table_import.remarks),
        encoding=encoding,
        streamed=table.streamed,
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
        self.seen: dict[tuple[str, str], Place] = {}
        self.axes: dict[str, Place] = {}
        self.subjects: dict[str, str] = {}
        self.unmapped: dict[str, Place] = {}
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
            if name not in self.mapping.ignored and len(self.unmapped) < MAX_REMARKED:
                self.unmapped.setdefault(name, cell.place)
            return
        before = self.seen.setdefault((axis, name), cell.place)
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
        for fact_source in fact_sources:
            self.state(axis, fact_source, self.decoder.decode(fact_source, cell), cell.place, name)
        if name in self.mapping.ignored_bits and cell.text:
            self.remark_bits(name, fact_sources, cell)

    def remark_bits(self, name: str, fact_sources: tuple[FactSource, ...], cell: Cell) -> None:
        read = self.mapping.ignored_bits[name]
        for fact_source in fact_sources:
            if fact_source.bits is not None:
                low, high = fact_source.bits
                read |= ((1 << high - low + 1) - 1) << low
        left = self.decoder.bits_of(cell) & ~read
        if left:
            bits = ", ".join(str(n) for n in range(64) if left >> n & 1)
            self.remarks.append(
                ImportRemark(
                    cell.place, f"{shortened(name)} has bit {bits} set, which is not mapped"
                )
            )

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
            find = self.names.by_node if self.mapping.subject == "node" else self.names.by_name
            found = self.subjects[cell.subject] = find(cell.subject, cell.subject_place, self.error)
        return found

    def finish(self) -> None:
        for (axis, number), cells in self.words.items():
            self.combine(axis, self.mapping.packed[number], cells)
        for fact_source in fact_sources_of(self.mapping):
            if not fact_source.required:
                continue
            for axis, place in self.axes.items():
                if _path(axis, fact_source.to) not in self.statements.by_path:
                    raise self.error(
                        f"{axis} has no {self.parameter_of(fact_source)}",
                        place,
                        f"it, since {self.mapping.name} requires {fact_source.to}",
                    )
        for name, place in self.unmapped.items():
            self.remarks.append(ImportRemark(place, f"{shortened(name)} is not mapped"))
        found = {name for _, name in self.seen}
        for name in sorted((set(self.mapping.parameters) | set(self.packed)) - found):
            start = self.source.place(0, 0)
            self.remarks.append(
                ImportRemark(start, f"{shortened(name)} is mapped and does not occur")
            )

    def parameter_of(self, fact_source: FactSource) -> str:
        """The parameter, as the mapping file names it."""
        if fact_source.path[0] == "packed":
            return " and ".join(self.mapping.packed[int(fact_source.path[1])].words)
        return str(fact_source.path[1])

    def combine(self, axis: str, packed: PackedNumber, cells: dict[str, Cell]) -> None:
        first = next(iter(cells.values()))
        filled = {name: cell for name, cell in cells.items() if cell.text}
        if not filled:
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
        self, axis: str, fact_source: FactSource, value: Plain | None, place: Place, name: str
    ) -> None:
        if value is None:
            return
        note = shortened(name)
        if fact_source.bits is not None:
            low, high = fact_source.bits
            note += f" bit {low}" if low == high else f" bits {low} to {high}"
        if fact_source.minus:
            note = f"minus {note}"
        statement = Statement(_path(axis, fact_source.to), value, place, note)
        self.statements.add(statement, self.source.line_text(place.line))

    def error(self, what: str, place: Place, expected: str) -> InputError:
        return self.decoder.error(what, place, expected)


def _path(axis: str, to: str) -> KeyPath:
    if to.startswith(MACHINE):
        return tuple(to.removeprefix(MACHINE).split("."))
    return ("axes", axis, *to.split("."))
