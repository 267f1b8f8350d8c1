"""Text for a terminal: visible control characters, width in columns, wrapped lines, cut excerpts.

All text from a file goes through `visible`, `prose` or `excerpt` before it is printed, so no escape
sequence of an input reaches the terminal.
"""

from __future__ import annotations

import unicodedata

from ..base.errors import Place
from ..base.lazy import dataclass, pattern
from ..numbers.units import UNITS
from .ci_commands import ANYWHERE

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final


WORD_LIMIT: Final = 260
"""A single word wider than this many columns is clipped, unless it may be a path.

The name of a file has at most 255 bytes.
"""
PROSE_LIMIT: Final = 4000
"""Most columns of a paragraph; a wider one is clipped."""
TAB: Final = "    "
QUOTED: Final = "│ "
"""What stands before a line of an input that is shown as it is."""
ELLIPSIS: Final = "…"

_KEPT_SPACE: Final = "\x1f"
"""Stands for a space that `wrap` keeps. No text holds one that `visible` has seen."""
_SIGN = pattern(r"[(\[\"']*[≈±~]")
_NUMBER = pattern(r"[(\[\"']*[≈±~]?[-+−]?[0-9π][0-9.,/·^πe+…-]*[0-9π…)]|[(\[\"']*[-+−]?[0-9π]")
_ENDS_OF_NUMBERS: Final = "≈±~π…)"
_AFTER_UNITS: Final = ".,;:!?)]}\"'…"
_UNIT_OF_PARTS = pattern(r"[A-Za-zµμΩ°%]+[²³]?(?:\^-?[0-9])?(?:[·⋅*/][A-Za-zµμΩ°0-9²³^()-]+)+")
"""A product of units that the table of units lacks."""

_SPACES = pattern(r"(?:\r\n|[ \t\n])+")
_PLAIN_INSTEAD: Final = str.maketrans(
    {
        "├": "<",
        "┤": ">",
        "─": "-",
        "│": "|",
        "↑": "*",
        "…": "...",
        "≈": "~",
        "π": "pi",
        "×": "x",
        "·": "*",
        "−": "-",
        "°": "deg ",
        "²": "^2",
        "³": "^3",
        "≤": "<=",
        "≥": ">=",
        "≠": "!=",
    }
)


def visible(text: str) -> str:
    r"""Return ``text`` with every unprintable character written as ``\x1b`` or ``\u202e``.

    That covers control characters, line separators, invisible format and direction characters,
    unusual spaces, lone surrogates and unassigned code points. What a system that reads the output
    takes for a command wherever it stands is taken apart likewise (ci_commands.py).
    """
    if "##" in text:
        text = ANYWHERE.sub("\\\\x23", text)
    if text.isprintable():
        return text
    return "".join(char if char.isprintable() else _backslash_escaped(char) for char in text)


def _backslash_escaped(char: str) -> str:
    code = ord(char)
    if code < 0x100:
        return f"\\x{code:02x}"
    return f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"


def columns(text: str) -> int:
    """Return how many terminal columns printable ``text`` takes."""
    return len(text) if text.isascii() else sum(map(_cell, text))


def _cell(char: str) -> int:
    if char.isascii():
        return 1
    if unicodedata.category(char) in ("Mn", "Me") or "\u1160" <= char <= "\u11ff":
        return 0
    return 2 if unicodedata.east_asian_width(char) in "WF" else 1


def _fitting(text: str, room: int) -> int:
    """Return how many characters of ``text`` fit into ``room`` columns, with their accents."""
    if text.isascii():
        return min(len(text), max(room, 0))
    used = 0
    for index, char in enumerate(text):
        used += _cell(char)
        if used > room or index >= 4 * room:
            return index
    return len(text)


def clip(text: str, room: int) -> str:
    """Return ``text``, shortened to ``room`` columns with an ellipsis if it is longer."""
    if _fitting(text, room) == len(text):
        return text
    return text[: _fitting(text, room - 1)] + ELLIPSIS


def pad(text: str, room: int) -> str:
    """Return ``text`` followed by spaces up to ``room`` columns."""
    return text + " " * (room - columns(text))


def prose(text: str) -> str:
    """Return ``text`` as one safe paragraph: with single spaces, and clipped where too long."""
    words = _SPACES.sub(" ", text[: 8 * PROSE_LIMIT]).strip(" ").split(" ")
    return clip(" ".join(map(_clipped_word, words)), PROSE_LIMIT)


def _clipped_word(word: str) -> str:
    """Clip a word; one that could begin a line as a command is taken apart."""
    if word.startswith("::"):
        word = f"\\x3a{word[1:]}"
    return clip(visible(word), PROSE_LIMIT if "/" in word else WORD_LIMIT)


def unbroken(text: str) -> str:
    """Return ``text``, made visible, so that `wrap` does not break it at its spaces either."""
    return visible(text).replace(" ", _KEPT_SPACE)


def wrap(text: str, room: int) -> list[str]:
    """Break a safe paragraph into lines of at most ``room`` columns; an empty one has no line.

    Lines break between words only, and not between a number and its unit. A longer word has a
    line of its own that is as wide as the word: a path can be copied, a number cannot be misread.
    """
    room = max(room, 12)
    lines: list[str] = []
    line = ""
    for word in _joined_words(text.split(" ")):
        if line and columns(line) + 1 + columns(word) <= room:
            line += " " + word
            continue
        if line:
            lines.append(line)
        line = word
    if line:
        lines.append(line)
    return [each.replace(_KEPT_SPACE, " ") for each in lines]


def _joined_words(words: list[str]) -> list[str]:
    """Return the words that are not empty, each number together with its signs and its unit."""
    joined: list[str] = []
    last = ""
    for word in words:
        if not word:
            continue
        if joined and _belong_together(last, word):
            joined[-1] += " " + word
        else:
            joined.append(word)
        last = word
    return joined


def _belong_together(first: str, second: str) -> bool:
    """Return whether two words are parts of one quantity, as in ``≈ 62.8 ± 0.1 N·m``."""
    if not first[-1].isdigit() and first[-1] not in _ENDS_OF_NUMBERS:
        return False
    if _SIGN.fullmatch(first):
        return _NUMBER.match(second) is not None
    if not _NUMBER.fullmatch(first):
        return False
    unit = second.rstrip(_AFTER_UNITS)
    return second == "±" or unit in UNITS or _UNIT_OF_PARTS.fullmatch(unit) is not None


@dataclass(frozen=True, slots=True)
class Excerpt:
    """A piece of a source line that fits, and the columns (from 0) of its marker."""

    text: str
    start: int
    length: int

    def marker(self) -> str:
        """Return a dimension line as on a drawing, as wide as the value above."""
        if self.length == 1:
            return " " * self.start + "↑"
        return " " * self.start + "├" + "─" * (self.length - 2) + "┤"


def excerpt(line_text: str, place: Place, room: int) -> Excerpt:
    """Cut the part around ``place`` out of its source line, without indentation, within ``room``.

    Tabs and unprintable characters are replaced by visible ones, so the marker is always below the
    value. The marker of a place over several lines ends with the first line.
    """
    first = min(max(place.column - 1, 0), len(line_text))
    last = place.end_column - 1 if place.end_line == place.line else len(line_text)
    last = min(max(last, first), len(line_text))
    indent = len(line_text) - len(line_text.lstrip(" \t"))
    lowest = min(indent, first)
    # Only the text near the place is read: a file may be one line of a megabyte.
    low = max(lowest, first - 2 * room)
    high = min(len(line_text), first + 4 * room)
    taken_apart = {match.start() for match in ANYWHERE.finditer(line_text, low, high)}
    before = _cells(line_text[low:first], low, taken_apart)
    value = _cells(line_text[first : min(last, high)], first, taken_apart)
    rest = min(last, high)
    after = _cells(line_text[rest:high].rstrip(" \t\r\n"), rest, taken_apart)
    cut_left = low > lowest
    cut_right = high < len(line_text)

    if (
        _cell_columns(before) + _cell_columns(value) + _cell_columns(after) + cut_left + cut_right
        > room
    ):
        # The text after the value is cut first: the name of the fact is before the value.
        lead_room = max(
            room // 3, room - 2 - _cell_columns(value) - min(_cell_columns(after), room // 4)
        )
        kept = _fitting_cells(before[::-1], lead_room)
        cut_left = cut_left or kept < len(before)
        before = before[len(before) - kept :]
        # Two columns are kept back for the ellipses.
        kept = _fitting_cells(value, room - _cell_columns(before) - 2)
        if kept < len(value):
            value, after, cut_right = value[:kept], [], True
        kept = _fitting_cells(after, room - _cell_columns(before) - _cell_columns(value) - 2)
        cut_right = cut_right or kept < len(after)
        after = after[:kept]
    start = _cell_columns(before) + cut_left
    cells = [ELLIPSIS * cut_left, *before, *value, *after, ELLIPSIS * cut_right]
    return Excerpt("".join(cells), start, max(_cell_columns(value), 1))


def _cells(text: str, start: int, taken_apart: set[int]) -> list[str]:
    """Split into printable cells, each one source character; accents stay with their letter.

    The first character has the offset ``start``; those at the offsets ``taken_apart`` are signs
    that would be a command.
    """
    cells: list[str] = []
    for offset, char in enumerate(text, start):
        shown = TAB if char == "\t" else visible(char)
        if offset in taken_apart:
            shown = r"\x23"
        if cells and _cell(char) == 0:
            cells[-1] += shown
        else:
            cells.append(shown)
    return cells


def _fitting_cells(cells: list[str], room: int) -> int:
    """Return how many of the first ``cells`` fit into ``room`` columns."""
    used = 0
    for index, cell in enumerate(cells):
        used += columns(cell)
        if used > room:
            return index
    return len(cells)


def _cell_columns(cells: list[str]) -> int:
    return sum(map(columns, cells))


def marked_source(line_text: str, place: Place, label: str, room: int) -> list[str]:
    """Return the quoted source line, the marker below the value, and the label next to it."""
    piece = excerpt(line_text, place, room - len(QUOTED))
    source, marker = QUOTED + piece.text, " " * len(QUOTED) + piece.marker()
    words = prose(label)
    if columns(marker) + 1 + columns(words) <= room:
        return [source, f"{marker} {words}".rstrip()]
    return [source, marker, *wrap(words, room)]


def encodable(text: str, encoding: str | None) -> str:
    """Return ``text`` in characters of ``encoding``, with plain ones for those it lacks."""
    encoding = encoding or "ascii"
    try:
        text.encode(encoding)
    except UnicodeEncodeError:
        plain = text.translate(_PLAIN_INSTEAD)
        return plain.encode(encoding, "backslashreplace").decode(encoding)
    return text
