"""A measured ratio with its spread and its goal, and the table of all."""

from __future__ import annotations

import statistics
from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class MeasuredRow:
    """One figure, measured several times.

    ``most`` or ``least`` is its goal, if it has one. ``note`` says what was compared, as far as
    ``what`` does not say it.
    """

    measure: str
    what: str
    values: tuple[float, ...]
    most: float | None = None
    least: float | None = None
    note: str = ""

    @property
    def median(self) -> float:
        return statistics.median(self.values)

    @property
    def quartiles(self) -> tuple[float, float]:
        """The first and the third."""
        if len(self.values) < 2:
            return self.values[0], self.values[0]
        first, _, third = statistics.quantiles(self.values, n=4, method="inclusive")
        return first, third

    @property
    def goal(self) -> str:
        if self.most is not None:
            return f"≤ {self.most:g}"
        return "" if self.least is None else f"≥ {self.least:g}"

    @property
    def missed(self) -> bool:
        too_much = self.most is not None and self.median > self.most
        return too_much or (self.least is not None and self.median < self.least)

    @property
    def verdict(self) -> str:
        return "missed" if self.missed else "met" if self.goal else "stated"

    def cells(self) -> tuple[str, ...]:
        """The row of the table: what, median, quartiles, goal, verdict, note."""
        spread = "–".join(map(shown, self.quartiles))
        return self.what, shown(self.median), spread, self.goal, self.verdict, self.note


HEAD = ("ratio", "median", "quartiles", "goal", "", "how")


def shown(value: float) -> str:
    """A number with three digits and without a power of ten."""
    digits = 0 if abs(value) >= 100 else 1 if abs(value) >= 10 else 2 if abs(value) >= 1 else 3
    return f"{value:.{digits}f}"


def text(rows: Iterable[MeasuredRow]) -> list[str]:
    """The table for a terminal, each note on a line below its row."""
    cells = [row.cells() for row in rows]
    widths = [
        max(map(len, column)) for column in zip(HEAD[:-1], *(c[:-1] for c in cells), strict=True)
    ]
    lines = [_line(HEAD[:-1], widths)]
    for cell in cells:
        lines.append(_line(cell[:-1], widths))
        if cell[-1]:
            lines.append(f"    {cell[-1]}")
    return lines


def _line(cells: tuple[str, ...], widths: list[int]) -> str:
    first, *others = zip(cells, widths, strict=True)
    parts = [first[0].ljust(first[1]), *(cell.rjust(width) for cell, width in others)]
    return "  ".join(parts).rstrip()


def markdown(rows: Iterable[MeasuredRow]) -> list[str]:
    """The table of the guide."""
    lines = [f"| {' | '.join(HEAD)} |", "|---|--:|--:|--:|---|---|"]
    return lines + [f"| {' | '.join(row.cells())} |" for row in rows]
