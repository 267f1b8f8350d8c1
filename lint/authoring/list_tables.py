"""The shape of a list in rows and columns: what divides cells, what the columns are."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from shlex import quote
from typing import Final

from ..base.errors import Place, UsageError
from ..importing.csv_cells import BrokenRow, numbered_rows
from ..source.files import Source
from ..source.limits import shortened
from .list_rows import (
    ListRow,
    ListShape,
    column_words,
    comma_decimal,
    has_unit,
    is_number,
    is_unit,
    share,
    split_unit,
    units_in_values,
    with_joined_units,
)
from .name_ideas import tokens
from .trade_words import fold, trade_words

Line = tuple[int, list[str]]
"""The number of a line, and its cells."""

Table = list[Line]

MOST_ROWS: Final = 20_000
"""Rows of a list that are looked at."""

_ORDER: Final = ("semicolon", "tab", "bar", "comma", "blanks")
_CLEARLY: Final = 0.05
_MOST_ABOVE: Final = 30
"""Rows among which the header is looked for."""


def table_shape(source: Source, encoding: str, column: str = "") -> ListShape:
    """The shape and the rows of a list of rows and columns. Raises InputError if it has none.

    ``column`` names the column of values, if there are several. Raises UsageError if it is none.
    """
    named, cells = _best_delimiter(source)
    shape = ListShape("csv", encoding, delimiter=named, column=column)
    counts = Counter(len(row) for _, row in cells if any(cell.strip() for cell in row))
    width = counts.most_common(1)[0][0]
    full = [(number, line, row) for number, (line, row) in enumerate(cells, 1)]
    body = [entry for entry in full if len(entry[2]) == width and any(entry[2])]
    header = _header(body)
    if header is None:
        shape.header_row = 0
        names = [str(number + 1) for number in range(width)]
        rows = body
    else:
        shape.header_row = header[0]
        names = [cell.strip() for cell in header[2]]
        rows = [entry for entry in body if entry[0] > header[0]]
    uneven = [
        line
        for number, line, row in full
        if len(row) != width and number > shape.header_row and any(cell.strip() for cell in row)
    ]
    if uneven:
        shape.remarks.append(
            f"line {uneven[0]} has another number of cells, and `import` refuses that"
        )
    table = [(line, [cell.strip() for cell in row]) for _, line, row in rows[:MOST_ROWS]]
    _lay_out(shape, names, [(line, row) for line, row in table if any(row)])
    return shape


def _best_delimiter(source: Source) -> tuple[str, Table]:
    """The delimiter that divides the most lines into the same number of cells, and the cells."""
    best: tuple[float, str, Table] | None = None
    broken = 0
    for named in _ORDER:
        cells: Table = []
        try:
            cells.extend(numbered_rows(source.text, named))
        except BrokenRow as row:
            broken = broken or row.line
            continue
        counts = Counter(len(row) for _, row in cells if any(cell.strip() for cell in row))
        width, alike = counts.most_common(1)[0] if counts else (0, 0)
        if width < 2:
            continue
        score = alike / sum(counts.values())
        if best is None or score > best[0] + _CLEARLY:
            best = score, named, cells
    if best is not None:
        return best[1], best[2]
    if broken:
        raise source.error_at(
            "the row cannot be read as cells",
            Place(source.name, broken, 1, broken, 2),
            "cells whose quotes are closed and doubled inside",
        )
    raise source.error(
        "the list has no columns",
        0,
        1,
        "rows of cells, sections with key = value, JSON, YAML or XML",
    )


def _header(body: list[tuple[int, int, list[str]]]) -> tuple[int, int, list[str]] | None:
    """The row that names the columns: the first that calls two by known names, or has no number."""
    known = frozenset[str]().union(*column_words().values())
    for entry in body[:_MOST_ABOVE]:
        if sum(fold(cell.strip()) in known for cell in entry[2]) >= 2:
            return entry
    return next((entry for entry in body[:_MOST_ABOVE] if _is_header(entry[2])), None)


def _is_header(cells: Sequence[str]) -> bool:
    return len(cells) >= 2 and all(cell.strip() and not is_number(cell.strip()) for cell in cells)


def _lay_out(shape: ListShape, names: list[str], table: Table) -> None:
    purposes = columns_of(names, table, shape)
    shape.comma = shape.delimiter != "comma" and comma_decimal(values_of(table, purposes))
    if "value" in purposes and "parameter" in purposes and not _names_in_header(names, table):
        row_per_parameter(shape, names, table, purposes)
    else:
        shape.remarks.clear()
        _row_per_axis(shape, names, table, purposes)


def values_of(table: Table, purposes: dict[str, int]) -> Iterator[str]:
    """The cells of all columns that neither name nor number the parameters."""
    named = {purposes.get(each) for each in ("parameter", "code", "group", "description", "unit")}
    return (cell for _, row in table for index, cell in enumerate(row) if index not in named)


def _names_in_header(names: list[str], table: Table) -> bool:
    """Whether the names of parameters stand in the header, and not in one of the columns."""
    words = column_words()
    columns = [[row[index] for _, row in table] for index in range(len(names))]
    known = frozenset[str]().union(*words.values())
    if any(fold(name) in words["value"] for name in names):
        return False
    tell = [name for name in names if fold(name) not in known and _tells(name)]
    best = max((share(column, _tells) for column in columns), default=0.0)
    return len(tell) / len(names) > max(best, 0.3)


def _tells(text: str) -> bool:
    return trade_words().tells(tokens(text)) > 0


# Columns ----------------------------------------------------------------------------------------


def columns_of(names: list[str], table: Table, shape: ListShape) -> dict[str, int]:
    """Which column is what, by its name first and by its cells then."""
    columns = {index: [row[index] for _, row in table] for index in range(len(names))}
    by_name = {index: _purposes_of(name) for index, name in enumerate(names)}
    found: dict[str, int] = {}
    values: list[int] = []
    for purpose in ("value", "unit", "subject", "group", "description", "parameter", "code"):
        fits = [
            index for index in columns if purpose in by_name[index] and index not in found.values()
        ]
        fits = [index for index in fits if _can_be(purpose, columns[index])]
        if fits:
            found[purpose] = fits[0]
        if purpose == "value":
            values = fits
    free = [index for index in columns if index not in found.values()]
    free = [index for index in free if "other" not in by_name[index]]
    if "parameter" not in found:
        _find_names(found, free, columns)
    if "value" not in found:
        values = [index for index in free if share(columns[index], _has_number) > 0.4]
        if values:
            found["value"] = values[0]
            free.remove(values[0])
    if "unit" not in found:
        units = [index for index in free if share(columns[index], is_unit) > 0.6]
        if units:
            found["unit"] = units[0]
    beside = [index for index in values if index not in set(found.values()) - {found.get("value")}]
    _choose_values(found, beside, names, shape)
    return found


def _choose_values(
    found: dict[str, int], values: list[int], names: list[str], shape: ListShape
) -> None:
    """Take the column of values that is asked for, and say which columns are left."""
    if shape.column:
        asked = [index for index in values if fold(names[index]) == fold(shape.column)]
        if not asked or "parameter" not in found:
            raise UsageError(
                f"no column of values is called {shortened(shape.column)}",
                expected=f"one of {', '.join(names[index] for index in values)}"
                if len(values) > 1
                else "a list with several columns of values, or no --column",
            )
        found["value"] = asked[0]
    others = [names[index] for index in values if index != found.get("value")]
    if others and "parameter" in found:
        each = " and ".join(f"`--column {quote(name)}`" for name in others)
        shape.remarks.append(
            f"the mapping reads the column {names[found['value']]}. "
            f"Values stand in {', '.join(others)} too: {each} maps them"
        )


def _find_names(found: dict[str, int], free: list[int], columns: dict[int, list[str]]) -> None:
    for purpose in ("description", "code"):
        if purpose in found and _can_be("parameter", columns[found[purpose]]):
            found["parameter"] = found.pop(purpose)
            return
    texts = [index for index in free if _can_be("parameter", columns[index])]
    if texts:
        found["parameter"] = max(texts, key=lambda index: (len(set(columns[index])), -index))
        free.remove(found["parameter"])


def _purposes_of(name: str) -> list[str]:
    """What a column can be by its name: as a whole, or by its first word ("value X")."""
    plain = " ".join(re.findall(r"[^\W_]+", fold(split_unit(name)[0]))) or fold(name)
    words = column_words()
    whole = [purpose for purpose, known in words.items() if plain in known]
    first = plain.partition(" ")[0]
    return whole or [purpose for purpose in ("value", "unit") if first in words[purpose]]


def _can_be(purpose: str, cells: list[str]) -> bool:
    filled = [cell for cell in cells if cell]
    if purpose == "parameter":
        distinct = len(set(filled))
        named = bool(filled) and len(filled) == len(cells) and distinct > 1
        return named and share(filled, is_number) < 0.2
    if purpose == "unit":
        return bool(filled) and share(filled, is_number) < 0.3
    if purpose == "subject":
        return len(filled) == len(cells) and 0 < len(set(filled)) <= max(1, len(cells) // 2)
    return bool(filled) or purpose != "value"


def _has_number(cell: str) -> bool:
    return is_number(cell) or has_unit(cell)


# Rows -------------------------------------------------------------------------------------------


def row_per_parameter(
    shape: ListShape, names: list[str], table: Table, purposes: dict[str, int]
) -> None:
    """Take the rows of a list with one parameter in a row."""
    shape.layout = "row_per_parameter"
    key = _key_column(table, purposes)
    if "subject" in purposes and len({row[purposes["subject"]] for _, row in table}) < 2:
        del purposes["subject"]  # all rows are about one axis
    used = {"parameter": key}
    used |= {each: purposes[each] for each in ("value", "unit", "subject") if each in purposes}
    shape.columns = {purpose: names[index] for purpose, index in used.items()}
    if "subject" in purposes:
        shape.name_subjects(dict.fromkeys(row[purposes["subject"]] for _, row in table))
    if "unit" not in purposes:
        shape.unit_in_value = units_in_values(row[purposes["value"]] for _, row in table)
    gathered: dict[str, Table] = {}
    for line, row in table:
        if row[key]:
            gathered.setdefault(row[key], []).append((line, row))
    shape.rows = [_row(shape, name, group, purposes) for name, group in gathered.items()]


def _row(shape: ListShape, name: str, group: Table, purposes: dict[str, int]) -> ListRow:
    line, row = group[0]
    subjects = [each[purposes["subject"]] for _, each in group if "subject" in purposes]
    labels, unit = [], ""
    for purpose in ("parameter", "description"):
        if purpose in purposes:
            label, inner = split_unit(row[purposes[purpose]])
            labels.append(label)
            unit = unit or inner
    column = "unit" in purposes and any(each[purposes["unit"]] for _, each in group)
    made = ListRow(
        name,
        tuple(filter(None, labels)),
        row[purposes["group"]] if "group" in purposes else "",
        tuple(each[purposes["value"]] for _, each in group),
        tuple(each[purposes["unit"]] if column else unit for _, each in group),
        line,
        column,
        repeated=len(group) > (len(set(subjects)) or 1),
    )
    return with_joined_units(made) if shape.unit_in_value else made


def _key_column(table: Table, purposes: dict[str, int]) -> int:
    """The column that names each row of an axis once; the one with names if both do."""
    for purpose in ("parameter", "code", "description"):
        index = purposes.get(purpose)
        if index is None:
            continue
        subject = purposes.get("subject")
        keys = [(row[index], row[subject] if subject is not None else "") for _, row in table]
        if len(set(keys)) == len(keys) and all(key for key, _ in keys):
            return index
    return purposes["parameter"]


def _row_per_axis(
    shape: ListShape, names: list[str], table: Table, purposes: dict[str, int]
) -> None:
    shape.layout = "row_per_axis"
    subject = _subject_column(names, table, purposes)
    shape.columns = {"subject": names[subject]}
    shape.name_subjects(row[subject] for _, row in table)
    for index, name in enumerate(names):
        if index != subject and name:
            label, unit = split_unit(name)
            values = tuple(row[index] for _, row in table)
            units = (unit,) * len(table)
            shape.rows.append(ListRow(name, (label,), "", values, units, shape.header_row))


def _subject_column(names: list[str], table: Table, purposes: dict[str, int]) -> int:
    """The column that names the axes: by its name, else the first whose cells are names."""
    cells = {index: [row[index] for _, row in table] for index in range(len(names))}
    fits = [index for index in cells if all(cells[index]) and len({*cells[index]}) == len(table)]
    named = [index for index in fits if _is_axis(names[index])]
    worded = [index for index in named if share(cells[index], str.isidentifier) == 1]
    stated = [purposes["subject"]] if "subject" in purposes else []
    return next(iter((*worded, *stated, *named, *fits, 0)))


def _is_axis(name: str) -> bool:
    words = trade_words().vocabularies.values()
    return any("axis" in each.meanings(token) for token in tokens(name) for each in words)
