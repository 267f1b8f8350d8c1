"""The errors axisproof raises, each with a place, the offending value and what was expected."""

from __future__ import annotations

from .lazy import dataclass

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Self


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A stretch of text in a file: lines and columns from 1, in code points, end exclusive."""

    file: str
    line: int
    column: int
    end_line: int
    end_column: int

    def __str__(self) -> str:
        if not self.line:  # what the command line said
            return self.file
        return f"{self.file}:{self.line}:{self.column}"


MOST_ERRORS = 20
"""Most errors of a file that are told in one run."""


class AxisproofError(Exception):
    """Base of every error a user can cause.

    ``what`` is one sentence naming the offending value; ``expected`` says what would have been
    right (may be empty); ``place`` is where, if the error has a place in a file; ``source_line``
    is the text of that line, so that a marker can be drawn under the place. ``lacking`` says that
    nothing is wrong with what stands there, but something is missing: if a part of the file could
    not be read, it may stand in that part. ``others`` are further errors of the same file, in its
    order, at most ``MOST_ERRORS`` with this one.
    """

    def __init__(
        self,
        what: str,
        *,
        expected: str = "",
        place: Place | None = None,
        source_line: str | None = None,
        lacking: bool = False,
    ) -> None:
        super().__init__(what)
        self.what = what
        self.expected = expected
        self.place = place
        self.source_line = source_line
        self.lacking = lacking
        self.others: tuple[AxisproofError, ...] = ()

    def copy(self) -> Self:
        """The same error, to be raised once more."""
        copy = type(self)(
            self.what,
            expected=self.expected,
            place=self.place,
            source_line=self.source_line,
            lacking=self.lacking,
        )
        copy.others = self.others
        return copy

    def __str__(self) -> str:
        text = f"{self.place}: {self.what}" if self.place else self.what
        return f"{text}. Expected: {self.expected}" if self.expected else text


class InputError(AxisproofError):
    """A machine file (or other input) cannot be used."""


class RuleError(AxisproofError):
    """A rule file cannot be used."""


class UsageError(AxisproofError):
    """The command or API was called in a way that cannot be carried out."""
