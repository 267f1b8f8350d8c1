"""A rule file, as text and as its raw items: words and places, but no types yet."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from ..base.errors import Place, RuleError
from .syntax import Assignment, Expr, Span, Template


@dataclass(frozen=True, slots=True)
class RuleFile:
    """The text of one rule file, under the name shown to the user."""

    name: str
    text: str

    def line(self, number: int) -> str:
        """Text of a 1-based line ('' past the end)."""
        lines = self.text.split("\n")
        return lines[number - 1].rstrip("\r") if 0 < number <= len(lines) else ""

    def written(self, at: Span) -> str:
        """What stands at a span, on one line."""
        lines = [self.line(number) for number in range(at.line, at.end_line + 1)]
        lines[-1] = lines[-1][: at.end_column - 1]
        lines[0] = lines[0][at.column - 1 :]
        return " ".join(line.strip() for line in lines)

    def place(self, at: Span) -> Place:
        """A span as a place of this file."""
        return Place(self.name, at.line, at.column, at.end_line, at.end_column)

    def error(self, at: Span, what: str, expected: str = "") -> RuleError:
        """A RuleError at a span of this file."""
        line = self.line(at.line)
        return RuleError(what, expected=expected, place=self.place(at), source_line=line)


Word = tuple[str, Span]
"""A word of a rule file with its place."""


@dataclass(frozen=True, slots=True)
class RawJoin:
    """``with NAME in LIST where KEY is KEY and …``; the list is empty if none is named."""

    name: Word
    listed: Word | None
    keys: tuple[tuple[Word, Word], ...]


@dataclass(frozen=True, slots=True)
class RawEach:
    """What stands behind `each`.

    ``item`` is the name behind `of`, ``listed`` the list behind `in`, ``keys`` the facts behind
    `by`. ``order`` is the place and the words behind `directed by`, none for `unordered`.
    ``without`` is the outcome where nothing matches, the rule that tells it and the text that does.
    """

    subject: Word
    item: Word | None
    listed: Word | None
    keys: tuple[Word, ...]
    joins: tuple[RawJoin, ...]
    order: tuple[Span, tuple[Word, ...]] | None
    without: tuple[Word, Word | None, Template | None] | None


@dataclass(frozen=True, slots=True)
class Clause:
    """One clause of a rule, definition or setting: its word, payload and place."""

    word: str
    payload: tuple[Any, ...]
    at: Span


@dataclass(frozen=True, slots=True)
class RawExample:
    """An example as written."""

    kind: str
    title: str
    facts: tuple[Assignment, ...]
    expected: tuple[tuple[str, Expr, Span], ...]
    needs: tuple[tuple[str, Span], ...]
    says: tuple[tuple[str, Span], ...]
    at: Span


@dataclass(frozen=True, slots=True)
class RawItem:
    """A setting, definition or rule as written."""

    word: str
    name: str
    name_at: Span
    clauses: tuple[Clause, ...]
    loop: tuple[str, str] | None = None
    end_line: int = 0


@dataclass(frozen=True, slots=True)
class RawFile:
    """All items of a rule file."""

    file: RuleFile
    items: tuple[RawItem, ...] = field(default=())
