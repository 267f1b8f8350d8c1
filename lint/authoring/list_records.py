"""Where the rows of a JSON, YAML or XML list stand, and what their fields are, guessed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from ..importing.branches import Branch, around, entries, path_steps, place_of, select
from ..importing.rows import row_paths
from ..source.files import Source

_FEWEST: Final = 3
_LEVELS: Final = 2


@dataclass(frozen=True, slots=True)
class Records:
    """The rows at ``path``: ``names`` are paths of fields, ``labels`` what to call them."""

    path: str
    names: list[str]
    labels: list[str]
    table: list[tuple[int, list[str]]]


def record_table(source: Source, root: Branch) -> Records | None:
    """The rows that most likely are the parameters; None if there are none."""
    found = row_paths(root)
    paths = sorted(
        (path for path, (count, fields) in found.items() if count >= _FEWEST and len(fields) > 1),
        key=lambda path: -found[path][0],
    )
    for path in paths:
        rows = list(dict.fromkeys(entries(select(root, path_steps(path)))))
        if rows:
            names = [*found[path][1], *_own_names(rows), *_around(rows[0])]
            return Records(
                path, names, [_label(name) for name in names], _cells(source, rows, names)
            )
    return None


def _own_names(rows: list[Branch]) -> Iterator[str]:
    """The way to the names of rows, and to their texts, if they are no list of like parts."""
    if len({row.name for row in rows}) > 1:
        yield "#"


def _around(row: Branch) -> Iterator[str]:
    """The paths of single values that stand beside or above a row."""
    above = row
    path = ""
    for _ in range(_LEVELS):
        outer = around(above)
        if outer is None:
            return
        above = outer
        path = f"{path}../"
        for part in above.parts:
            if part.text is not None and part.name:
                yield path + part.name


def _label(path: str) -> str:
    return path.rsplit("/", 1)[-1].lstrip("@") if not path.startswith("..") else path


def _cells(source: Source, rows: list[Branch], names: list[str]) -> list[tuple[int, list[str]]]:
    steps = [path_steps(name) for name in names]
    table = []
    for row in rows:
        cells = []
        for each in steps:
            found = select(row, each)
            cells.append((found[0].text or "").strip() if len(found) == 1 else "")
        table.append((place_of(source, row).line, cells))
    return table
