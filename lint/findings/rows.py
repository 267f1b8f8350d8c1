"""The rows of a long report, which are read anew for each look and so need no memory."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import chain, islice
from operator import eq

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, TypeVar

    _Row = TypeVar("_Row")
    _Shown = TypeVar("_Shown")
else:
    _Row = None


class Rows(Sequence[_Row]):
    """Rows that ``read`` gives one after the other, the same ones each time."""

    def __init__(self, read: Callable[[], Iterable[_Row]], count: int | None = None) -> None:
        self._read = read
        self._count = count

    def __iter__(self) -> Iterator[_Row]:
        return iter(self._read())

    def __len__(self) -> int:
        if self._count is None:
            self._count = sum(1 for _ in self)
        return self._count

    def __bool__(self) -> bool:
        return any(True for _ in self) if self._count is None else self._count > 0

    def __getitem__(self, at: Any) -> Any:
        """A row, or a tuple of some; all rows before them are read."""
        if isinstance(at, int):
            return next(islice(self, range(len(self))[at], None))
        numbers = range(len(self))[at]
        if numbers.step < 0:
            return tuple(self)[at]
        return tuple(islice(self, numbers.start, numbers.stop, numbers.step))

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Sequence):
            return NotImplemented
        return len(self) == len(other) and all(map(eq, self, other))

    __hash__ = None  # type: ignore[assignment]

    def __reduce__(self) -> tuple[Any, ...]:
        return tuple, (tuple(self),)  # another process cannot read what this one set aside


def in_memory(rows: Sequence[_Row]) -> Sequence[_Row]:
    """The same rows, held in memory."""
    return tuple(rows) if isinstance(rows, Rows) else rows


def like(
    rows: Sequence[_Row], read: Callable[[], Iterable[_Shown]], count: int | None = None
) -> Sequence[_Shown]:
    """What ``read`` gives, held in memory if ``rows`` are, else read anew for each look."""
    return Rows(read, count) if isinstance(rows, Rows) else tuple(read())


def each_of(rows: Sequence[_Row], shown: Callable[[_Row], _Shown]) -> Sequence[_Shown]:
    """Something for each row: a list, or rows that are read anew for each look."""
    if isinstance(rows, Rows):
        return Rows(lambda: map(shown, rows), len(rows))
    return [shown(row) for row in rows]


def joined(*parts: Sequence[_Row]) -> Sequence[_Row]:
    """All rows of the parts: a list, or rows that are read anew if those of one part are."""
    if any(isinstance(part, Rows) for part in parts):
        return Rows(lambda: chain(*parts))
    return list(chain(*parts))
