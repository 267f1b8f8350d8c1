"""Positions of the Language Server Protocol in the units that editor and server agreed on.

A character of a position counts code units of UTF-8, UTF-16 or UTF-32 within its line (Language
Server Protocol 3.17, `general.positionEncodings`). Lines end at CR LF, LF or CR.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Final

from lsprotocol import types

from ..base.errors import Place
from ..source.files import Source

_WIDTHS: Final[Mapping[str, Callable[[str], int]]] = {
    "utf-8": lambda char: len(char.encode("utf-8", "surrogatepass")),
    "utf-16": lambda char: 2 if char > "\uffff" else 1,
    "utf-32": lambda char: 1,
}


class BetweenUnits(Exception):
    """A position within the units of one character."""


@dataclass(frozen=True, slots=True)
class Positions:
    """Turns offsets and columns in code points into positions of an editor, and back."""

    encoding: str = "utf-16"

    def units(self, text: str) -> int:
        """The length of a text in units."""
        if self.encoding == "utf-32" or text.isascii():
            return len(text)
        return sum(map(_WIDTHS[self.encoding], text))

    def code_points(self, line: str, units: int, *, exact: bool = False) -> int:
        """How many characters of a line lie before a unit (from 0); all of them beyond the line.

        Within the units of a character, the characters before it. With ``exact``, BetweenUnits is
        raised there.
        """
        if self.encoding == "utf-32" or line.isascii():
            return min(units, len(line))
        width, passed = _WIDTHS[self.encoding], 0
        for number, char in enumerate(line):
            if passed == units:
                return number
            passed += width(char)
            if passed > units:
                if exact:
                    raise BetweenUnits
                return number
        return len(line)

    def offset(self, text: str, position: types.Position) -> int:
        """The offset of a position; beyond the text, its end."""
        source = _source(text)
        starts = source.line_starts
        if position.line >= len(starts):
            return len(text)
        line = source.line_text(position.line + 1)
        return starts[position.line] + self.code_points(line, position.character)

    def span(self, text: str, start: int, end: int) -> types.Range:
        """The range of ``text[start:end]``."""
        source = _source(text)
        return types.Range(self._at(source, start), self._at(source, end))

    def _at(self, source: Source, offset: int) -> types.Position:
        line, column = source.position(offset)
        return types.Position(line - 1, self.units(source.line_text(line)[: column - 1]))

    def of_place(self, place: Place, line_text: str) -> types.Range:
        """A place as a range; a place over several lines ends with its first line."""
        start = types.Position(place.line - 1, self._column(line_text, place.column))
        last = place.end_column if place.end_line == place.line else len(line_text) + 1
        end = self._column(line_text, last)
        return types.Range(start, types.Position(place.line - 1, max(end, start.character)))

    def _column(self, line_text: str, column: int) -> int:
        """A column in code points (from 1) in units (from 0); it can lie beyond the line."""
        return self.units(line_text[: column - 1]) + max(column - 1 - len(line_text), 0)


@lru_cache(maxsize=2)
def _source(text: str) -> Source:
    return Source(Path("text"), "text", text, "yaml")
