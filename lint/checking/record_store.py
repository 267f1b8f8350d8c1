"""The records of a check: a few in memory, many in a temporary file, each part by itself."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..base import set_aside
from ..base.lazy import replace
from .record import Record

TYPE_CHECKING = False
if TYPE_CHECKING:
    from array import array
    from typing import Any, Final

PARTS: Final = (
    "findings",
    "undecided",
    "undecided_concerns",
    "outcomes",
    "tallies",
    "overrides",
    "left_out",
    "sketches",
)
"""What a report tells of a machine, row by row. The rest of a record is its head."""


class RecordStore:
    """Records by a number below ``size``. From the first of ``in_memory`` on all are set aside."""

    def __init__(self, size: int, in_memory: int | None = None) -> None:
        self.size = size
        self.in_memory = set_aside.IN_MEMORY if in_memory is None else in_memory
        self.file: set_aside.ValueFile | None = None
        self._records: dict[int, Record] = {}
        self._offsets: dict[str, array[int]] = {}
        self._counts: dict[str, array[int]] = {}

    def put(self, number: int, record: Record) -> None:
        """Keep a record."""
        if self.file is None:
            self._records[number] = record
            if len(self._records) <= self.in_memory:
                return
            self.file = set_aside.ValueFile()
            for each, kept in self._records.items():
                self._set_aside(self.file, each, kept)
            self._records = {}
        else:
            self._set_aside(self.file, number, record)

    def _set_aside(self, file: set_aside.ValueFile, number: int, record: Record) -> None:
        filled = {part: rows for part in PARTS if (rows := getattr(record, part))}
        without: dict[str, Any] = dict.fromkeys(filled, ())
        self._note("", number, file.add(replace(record, **without)), 1)
        for part, rows in filled.items():
            self._note(part, number, file.add(rows), len(rows))

    def _note(self, part: str, number: int, offset: int, count: int) -> None:
        if part not in self._offsets:
            from array import array

            self._offsets[part] = array("Q", bytes(8 * self.size))
            self._counts[part] = array("I", bytes(4 * self.size))
        self._offsets[part][number] = offset
        self._counts[part][number] = count

    def head(self, number: int) -> Record:
        """A record, of which at least the head is whole."""
        if self.file is None:
            return self._records[number]
        head: Record = self.file.at(self._offsets[""][number])
        return head

    def rows(self, number: int, part: str) -> tuple[Any, ...]:
        """One part of a record."""
        if self.file is None:
            found: tuple[Any, ...] = getattr(self._records[number], part)
            return found
        if not self.count(number, part):
            return ()
        rows: tuple[Any, ...] = self.file.at(self._offsets[part][number])
        return rows

    def count(self, number: int, part: str) -> int:
        """The number of rows of one part of a record."""
        if self.file is None:
            return len(getattr(self._records[number], part))
        return self._counts[part][number] if part in self._counts else 0


class StoredRecords:
    """Records in the order of a report. Each look at them reads them anew."""

    def __init__(self, store: RecordStore, numbers: Sequence[int]) -> None:
        self._store = store
        self._numbers = numbers

    @classmethod
    def of(cls, records: Sequence[Record]) -> StoredRecords:
        """Records that are in memory and stay there."""
        store = RecordStore(len(records), len(records))
        for number, record in enumerate(records):
            store.put(number, record)
        return cls(store, range(len(records)))

    @property
    def set_aside(self) -> bool:
        """Whether they lie in a temporary file."""
        return self._store.file is not None

    def heads(self) -> Iterator[Record]:
        """All records, of each at least its head."""
        return map(self._store.head, self._numbers)

    def rows(self, part: str) -> Iterator[tuple[int, Any]]:
        """All rows of one part, each with the number of its record in this order."""
        for at, number in enumerate(self._numbers):
            for row in self._store.rows(number, part):
                yield at, row

    def count(self, part: str) -> int:
        """The number of all rows of one part."""
        return sum(self._store.count(number, part) for number in self._numbers)

    def __iter__(self) -> Iterator[Record]:
        """All records, whole."""
        for number in self._numbers:
            head = self._store.head(number)
            if self._store.file is None:
                yield head
            else:
                rows: dict[str, Any] = {p: self._store.rows(number, p) for p in PARTS}
                yield replace(head, **rows)
