"""A text as an editor holds it, brought up to date by the changes that the editor sends.

A change of a part names its range. A range that does not lie in the text shows that server and
editor no longer hold the same text. Then nothing may be said of it until the whole text comes.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final

from lsprotocol import types

from .positions import BetweenUnits, Positions

_LINE: Final = re.compile(r"[^\r\n]*(?:\r\n?|\n|\Z)")


class ChangeMisfit(Exception):
    """A change whose range does not lie in the text: why, in words."""


def is_whole(change: types.TextDocumentContentChangeEvent) -> bool:
    """Whether a change is the whole text."""
    return not isinstance(change, types.TextDocumentContentChangePartial)


class OpenText:
    """The lines of a text, each with its line break; the last has none and may be empty."""

    def __init__(self, text: str, version: int | None = None) -> None:
        self.version = version
        self._lines = _lines_of(text)
        self._text: str | None = text

    @property
    def text(self) -> str:
        """The whole text."""
        if self._text is None:
            self._text = "".join(self._lines)
        return self._text

    def change(
        self, changes: Iterable[types.TextDocumentContentChangeEvent], positions: Positions
    ) -> None:
        """Carry out changes one after the other. Raises ChangeMisfit; the text is lost then."""
        for change in changes:
            if isinstance(change, types.TextDocumentContentChangePartial):
                self._replace(change.range, change.text, positions)
            else:
                self._lines, self._text = _lines_of(change.text), change.text

    def _replace(self, span: types.Range, text: str, positions: Positions) -> None:
        first, begin = self._spot(span.start, positions)
        last, end = self._spot(span.end, positions)
        if (first, begin) > (last, end):
            raise ChangeMisfit(f"{_words(span.start)} lies behind {_words(span.end)}")
        new = self._lines[first][:begin] + text + self._lines[last][end:]
        # A CR and an LF that meet are one line break, so the lines around count as changed, too.
        low, high = max(first - 1, 0), min(last + 2, len(self._lines))
        around = "".join((*self._lines[low:first], new, *self._lines[last + 1 : high]))
        lines = _lines_of(around)
        if high < len(self._lines) and not lines[-1]:
            lines.pop()  # what follows the last line break is the next line, which is there
        self._lines[low:high] = lines
        self._text = None

    def _spot(self, position: types.Position, positions: Positions) -> tuple[int, int]:
        """The line of a position, and how many of its characters lie before it.

        A character beyond the line is its end, as the protocol says. Many editors name the end of
        a text as the beginning of the line after the last.
        """
        number, count = position.line, len(self._lines)
        if number == count and position.character == 0:
            return count - 1, len(self._lines[-1])
        if number >= count:
            raise ChangeMisfit(f"{_words(position)} lies behind line {count}, the last one")
        line = self._lines[number].rstrip("\r\n")
        try:
            return number, positions.code_points(line, position.character, exact=True)
        except BetweenUnits:
            raise ChangeMisfit(f"{_words(position)} lies within a character") from None


def _lines_of(text: str) -> list[str]:
    lines = _LINE.findall(text)
    if len(lines) > 1 and lines[-2][-1:] not in ("\r", "\n"):
        lines.pop()  # \Z is found once more behind a last line without a line break
    return lines


def _words(position: types.Position) -> str:
    return f"line {position.line + 1}, character {position.character}"
