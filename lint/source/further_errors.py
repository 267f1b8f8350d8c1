"""The errors of a YAML text after its first one: each is blanked out, and the rest is read again.

Blanked out is the line of the error with the lines that are indented deeper. An error that follows
only from what was blanked out is not told: one further up, a bracket that closes nothing now, or an
alias of an anchor that is gone.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from typing import Final

from ..base.errors import MOST_ERRORS, InputError
from .files import Plain, Source

LONGEST: Final = 1_000_000
"""Most characters of a text of which more than the first error is told: each needs a reading."""

MOST_READINGS: Final = 3 * MOST_ERRORS
"""Most times that a text is read again."""


class Recovery:
    """A text from which lines with errors are blanked out, one after the other."""

    def __init__(self, source: Source) -> None:
        self.source = source
        starts = [*source.line_starts, len(source.text)]  # str.splitlines knows other breaks
        self.lines = [source.text[start:end] for start, end in pairwise(starts)]
        self.gone: set[int] = set()
        self.had_anchor = self.had_bracket = False

    @property
    def rest(self) -> Source:
        """What is left of the source, each line where it was."""
        kept = ("\n" if number in self.gone else line for number, line in enumerate(self.lines))
        return replace(self.source, text="".join(kept))

    def blank_out(self, line: int) -> bool:
        """Blank out the line (from 0) of an error, or what it left empty above; False if nothing.

        Deeper lines below go with it.
        """
        while line in self.gone or (0 <= line < len(self.lines) and not self.lines[line].strip()):
            line -= 1
        if line < 0 or line >= len(self.lines):
            return False
        depth = _depth(self.lines[line])
        end = line + 1
        if self.lines[line].startswith("---") and line > 0:  # the errors of another document
            end = len(self.lines)
        while end < len(self.lines) and (
            not self.lines[end].strip() or _depth(self.lines[end]) > depth
        ):
            end += 1
        for number in range(line, end):
            self.gone.add(number)
            self.had_anchor |= "&" in self.lines[number]
            self.had_bracket |= "[" in self.lines[number] or "{" in self.lines[number]
        return True

    def follows(self, error: InputError, line: int) -> bool:
        """Whether an error at a line may only follow from what was blanked out."""
        if line <= max(self.gone) or line >= len(self.lines):
            return True
        if self.had_anchor and "names no anchor" in error.what:
            return True
        return self.had_bracket and self.lines[line].lstrip().startswith(("]", "}", ",", '"', "'"))


def _depth(line: str) -> int:
    return len(line) - len(line.lstrip(" \t"))


def further_errors(
    source: Source, first: InputError, parse: Callable[[Source], Plain]
) -> tuple[tuple[InputError, ...], tuple[Source, Plain] | None]:
    """The errors after the first, in the order of the text, and the source without them all.

    The source, with its value, is None if no rest could be read.
    """
    if len(source.text) > LONGEST or first.place is None:
        return (), None
    recovery = Recovery(source)
    error, found = first, list[InputError]()
    for _ in range(MOST_READINGS):
        if error.place is None or not recovery.blank_out(error.place.line - 1):
            break
        rest = recovery.rest
        try:
            plain = parse(rest)
        except InputError as next_error:
            error = next_error
        else:
            return tuple(found), (rest, plain)
        if error.place is not None and not recovery.follows(error, error.place.line - 1):
            found.append(error)
        if len(found) >= MOST_ERRORS - 1:
            break
    return tuple(found), None
