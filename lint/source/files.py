"""One file as text, with places in it and errors about them; and which characters are refused."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Sequence
from decimal import Decimal
from functools import cached_property
from pathlib import Path

from ..base.errors import InputError, Place
from ..base.lazy import dataclass, pattern

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, ClassVar, Literal, TypeAlias, TypeVar

    Result = TypeVar("Result")

Plain: TypeAlias = "dict[str, Plain] | list[Plain] | str | int | Decimal | bool"
"""A value without places. Never null, never float. Aliased parts of a YAML file are one shared
object, so a plain tree is to be read, not changed."""

Form: TypeAlias = 'Literal["yaml", "json"]'

Kind: TypeAlias = 'Literal["file", "folder", "link", "other"]'
"""What stands at a path. Only a revision has links: those of the disk are followed."""

_LINE_BREAK = pattern(r"\r\n?|\n")
_LINE_FEED = pattern(r"\n")
"""Found twice as fast; most files have no other line break."""
# What YAML 1.2 calls printable, less the line breaks that only some readers honour (U+0085, U+2028,
# U+2029: libyaml would split a line there and an editor would not) and the byte order mark.
FOREIGN = pattern(
    "[^\t\n\r\x20-\x7e\xa0-\u2027\u202a-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]"
)

ODD_INDENT = pattern("(?m)^ *([\u00a0\u2000-\u200a\u202f\u3000])")
"""A space that indents nothing, as word processors and chat programs put it in."""


@dataclass(frozen=True)
class Source:
    """One file as text. ``name`` is how the user knows it; a byte order mark is not in ``text``.

    Offsets into ``text`` count code points. Lines end at CR LF, LF or CR.
    """

    path: Path
    name: str
    text: str
    form: Form
    bom: bool = False

    verbatim: ClassVar[bool] = True
    """Whether its values stand as the machine file writes them, so that one could be replaced."""

    @cached_property
    def line_starts(self) -> Sequence[int]:
        """The offset at which each line starts; never empty."""
        from array import array

        starts = array("i", [0])
        line_break = _LINE_BREAK if "\r" in self.text else _LINE_FEED
        starts.extend(match.end() for match in line_break.finditer(self.text))
        return starts

    @cached_property
    def _kept(self) -> dict[Callable[[Any], Any], Any]:
        return {}

    def once(self, make: Callable[[Source], Result]) -> Result:
        """What ``make`` makes of the file: it is made on the first call and kept for the next."""
        kept = self._kept
        if make not in kept:
            kept[make] = make(self)
        return kept[make]  # type: ignore[no-any-return]

    def line_text(self, line: int) -> str:
        """The text of the 1-based ``line`` without its line break; empty beyond the last line."""
        starts = self.line_starts
        if not 1 <= line <= len(starts):
            return ""
        end = starts[line] if line < len(starts) else len(self.text)
        return self.text[starts[line - 1] : end].rstrip("\r\n")

    def position(self, offset: int) -> tuple[int, int]:
        """1-based line and column of ``offset``."""
        line = bisect_right(self.line_starts, offset)
        return line, offset - self.line_starts[line - 1] + 1

    def place(self, start: int, end: int) -> Place:
        """The place of ``text[start:end]``; an empty stretch is shown one column wide."""
        line, column = self.position(start)
        end_line, end_column = self.position(end) if end > start else (line, column + 1)
        return Place(self.name, line, column, end_line, end_column)

    def error(self, what: str, start: int, end: int, expected: str = "") -> InputError:
        """An error about ``text[start:end]``, to be raised by the caller."""
        return self.error_at(what, self.place(start, end), expected)

    def error_at(self, what: str, place: Place, expected: str = "") -> InputError:
        """An error about ``place`` in this file, to be raised by the caller."""
        return InputError(
            what, expected=expected, place=place, source_line=self.line_text(place.line)
        )


def check_text(source: Source) -> None:
    """Raise InputError at the first character that a machine file must not hold."""
    text = source.text
    if text.replace("\n", "").replace("\r", "").replace("\t", "").isprintable():
        return  # quick to ask, and no character that Unicode calls printable is foreign
    foreign = FOREIGN.search(text)
    if foreign is None:
        if space := ODD_INDENT.search(text):
            what = f"a space of another kind (U+{ord(space[1]):04X}) in the indentation"
            raise source.error(what, space.start(1), space.end(1), "ordinary spaces")
        return
    code = ord(foreign[0])
    if code in (0x85, 0x2028, 0x2029):
        what, expected = (
            f"the line break U+{code:04X} is not seen as one by every program",
            "an ordinary line break, or an escape",
        )
    elif code == 0xFEFF:
        what, expected = (
            "a byte order mark (U+FEFF) stands inside the text",
            "none, or one at the start",
        )
    elif code == 0 and text.count("\0") > len(text) // 4:
        what, expected = "the file holds NUL bytes and looks like UTF-16", "a file saved as UTF-8"
    elif 0xD800 <= code <= 0xDFFF:
        what, expected = f"U+{code:04X} is half a surrogate pair", "whole characters"
    else:
        what, expected = f"the file holds the control character U+{code:04X}", "printable text"
    raise source.error(what, foreign.start(), foreign.end(), expected)


def unprintable(text: str) -> str:
    """The first character in a scalar's value that must not reach a report, as U+XXXX, or ''.

    An escape can write what check_text refuses as a character: terminal control sequences, NUL and
    halves of surrogate pairs. Line breaks written as escapes are allowed.
    """
    if text.isprintable():
        return ""
    for character in text:
        code = ord(character)
        if (code < 0x20 and code not in (9, 10, 13)) or (0x7F <= code < 0xA0 and code != 0x85):
            return f"U+{code:04X}"
        if 0xD800 <= code <= 0xDFFF or code in (0xFFFE, 0xFFFF):
            return f"U+{code:04X}"
    return ""
