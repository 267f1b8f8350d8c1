"""The rows of a JSON, YAML or XML file, wherever its form says that they stand, cell by cell."""

from __future__ import annotations

from collections.abc import Iterator

from ..base.errors import InputError, Place
from ..source.files import Source
from ..source.limits import shortened
from .branches import Branch, entries, leaves, path_steps, place_of, scalar, select
from .cell import Cell
from .list_form import ListForm


def record_cells(
    source: Source, root: Branch, form: ListForm, unread: list[tuple[str, Place]]
) -> Iterator[Cell]:
    """The cells of all rows, in the order of the file.

    What stands outside of the rows, or in a field without a purpose, goes into ``unread``. Raises
    InputError, with line and column, for a path that leads nowhere and for a row without a name.
    """
    rows = list(dict.fromkeys(entries(select(root, path_steps(form.records)))))
    if not rows:
        raise source.error_at(
            f"nothing stands at {shortened(form.records)}, where the mapping takes the rows from",
            place_of(source, root),
            f"rows there. The file begins with {_outline(root)}",
        )
    reading = _Records(source, form)
    for number, row in enumerate(rows, 1):
        if form.layout == "row_per_parameter":
            yield reading.parameter_row(row)
        else:
            yield from reading.whole_row(row, number)
    unread += reading.unread(root, rows)


def _outline(root: Branch) -> str:
    names = dict.fromkeys(part.name for one in entries([root]) for part in one.parts)
    shown = ", ".join(map(shortened, list(names)[:8]))
    return f"a list of records with {shown}" if root.is_list else shown or "nothing"


class _Records:
    def __init__(self, source: Source, form: ListForm) -> None:
        self.source = source
        self.form = form
        self.steps = {purpose: path_steps(path) for purpose, path in form.columns.items()}
        self.used: set[Branch] = set()

    def error(self, what: str, place: Place, expected: str) -> InputError:
        return self.source.error_at(what, place, expected)

    def place_of(self, found: tuple[str, Branch] | None, row: Branch) -> Place:
        """Where a field stands, or the row that lacks it."""
        if found is None:
            return self.source.place(*row.name_span)
        return place_of(self.source, found[1])

    def field(self, row: Branch, purpose: str) -> tuple[str, Branch] | None:
        """The text of a field of a row, and where it stands; None if the row has none."""
        path = self.form.columns[purpose]
        found = select(row, self.steps[purpose])
        if not found:
            return None
        if len(found) > 1:
            what = f"the row has {len(found)} times {shortened(path)}, the {purpose}"
            raise self.error(what, place_of(self.source, found[1]), "one")
        self.used.add(found[0])
        return scalar(self.source, found[0], f"the {purpose}"), found[0]

    def subject(self, row: Branch) -> tuple[str | None, Place | None]:
        if "subject" not in self.form.columns:
            return None, None
        given = self.field(row, "subject")
        if given is None or not given[0]:
            raise self.error(
                f"the row names no {self.form.subject}",
                self.place_of(given, row),
                f"the {self.form.subject} at {self.form.columns['subject']}",
            )
        return given[0], place_of(self.source, given[1])

    def parameter_row(self, row: Branch) -> Cell:
        name = self.field(row, "parameter")
        if name is None or not name[0]:
            where = self.form.columns["parameter"]
            raise self.error(
                "the row names no parameter",
                self.place_of(name, row),
                f"its name at {where}",
            )
        subject, subject_place = self.subject(row)
        value = self.field(row, "value")
        place = self.place_of(value, row)
        unit = unit_place = None
        if "unit" in self.form.columns:
            stated = self.field(row, "unit")
            unit = "" if stated is None else stated[0]
            unit_place = place if stated is None else self.place_of(stated, row)
        text = "" if value is None else value[0]
        return Cell(name[0], text, place, subject, subject_place, unit, unit_place)

    def whole_row(self, row: Branch, number: int) -> Iterator[Cell]:
        subject, subject_place = self.subject(row)
        for name, leaf in leaves(row):
            if leaf in self.used and name not in self.form.wanted:
                continue
            self.used.add(leaf)
            text, place = (leaf.text or "").strip(), place_of(self.source, leaf)
            yield Cell(name, text, place, subject, subject_place, row=number)

    def unread(self, root: Branch, rows: list[Branch]) -> list[tuple[str, Place]]:
        """What no cell is made of: fields of rows by name, and values outside of the rows."""
        found: dict[str, Branch] = {}
        inside: set[Branch] = set()
        for row in rows:
            for name, leaf in leaves(row):
                inside.add(leaf)
                if leaf not in self.used and leaf.text:
                    found.setdefault(f"the field {shortened(name)}", leaf)
        for name, leaf in leaves(root):
            if leaf not in inside and leaf not in self.used and leaf.text:
                found.setdefault(f"{shortened(_without_numbers(name))}, outside of the rows,", leaf)
        return [(what, place_of(self.source, leaf)) for what, leaf in found.items()]


def _without_numbers(name: str) -> str:
    """The path of a value without the numbers of list entries, so that it is told once."""
    return "/".join(step for step in name.split("/") if not step.isdigit()) or name
