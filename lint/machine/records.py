"""Records of facts, which rules read: a machine, an axis, an item of a list.

A record is a plain dict of facts by dotted path, because generated code spends most of its time
looking facts up: in a subclass of dict or behind a property, one look-up takes 1.5 times as long
(``python -m tests.bench.speed --only rules`` measures whole rules). What is known about a record
beside its facts stands in it under one key, as an object with typed attributes; ``notes_of`` gives
it.
"""

from __future__ import annotations

import datetime
from collections.abc import Mapping

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, Final, TypeAlias


Facts: TypeAlias = "dict[str, Any]"
"""Facts of a machine, an axis or a list item by dotted path, relative to it.

Numbers are int, Fraction or Pi in base units (dates: seconds since 1970-01-01); names and texts
str; flags bool; homing methods int where one number is meant, else str. What may be `none` is NONE,
or PRESENT if it is a record that is described. A missing fact has no key. Lists are lists of such
values, or of Facts. The one key that is no fact is NOTES.
"""

NOTES: Final = "@"
"""The key under which a record holds its RecordNotes. No path of a fact looks like it."""

CHECK_DATE: Final = "check_date"
"""The fact of a machine that says as of which day it is checked; no file states it."""

EPOCH: Final = datetime.date(1970, 1, 1)


class RecordNotes:
    """What is known about a record beside its facts.

    ``path`` leads to the record from the top of the machine file, as in axes.infeed.interlocks[0];
    ``machine`` is the machine an axis belongs to (None for other records). ``partial`` has the
    lists that may be incomplete; ``decimals`` the digits after the point of numbers that are
    written as decimals; ``disputed`` the facts that are stated and cannot be used, relative to the
    record, with ``[]`` for an index. ``stated_settings`` are the file's (name to plain value and
    reason), ``settings`` the values in force that are not the default. ``memo`` keeps what rules
    have worked out: values of definitions, sorted lists. The other attributes are replaced, not
    changed, when something is added.
    """

    __slots__ = (
        "_decimals",
        "decimals",
        "disputed",
        "machine",
        "memo",
        "partial",
        "path",
        "settings",
        "stated_settings",
    )

    def __init__(self, path: str, machine: Facts | None = None) -> None:
        self.path = path
        self.machine = machine
        self.partial: frozenset[str] = _NOTHING
        self.disputed: frozenset[str] = _NOTHING
        self.decimals: Mapping[str, int] = _NO_ENTRIES
        self._decimals: dict[str, int] | None = None
        self.stated_settings: Mapping[str, tuple[Any, str]] = _NO_ENTRIES
        self.settings: Mapping[str, Any] = _NO_ENTRIES
        self.memo: dict[str, Any] = {}

    def add_decimals(self, fact: str, digits: int) -> None:
        """Note how many digits after its point a number is written with."""
        if self._decimals is None:
            self.decimals = self._decimals = {}
        self._decimals[fact] = digits

    def __eq__(self, other: object) -> bool:
        """Whether the other notes say the same; of which machine an axis is does not count."""
        return isinstance(other, RecordNotes) and self._stated() == other._stated()

    __hash__ = None  # type: ignore[assignment]

    def _stated(self) -> tuple[Any, ...]:
        return self.path, self.partial, self.decimals, self.disputed, self.stated_settings

    def beside(self, path: str, machine: Facts | None) -> RecordNotes:
        """Notes of a copy of the record at another path, without what rules have worked out."""
        copy = RecordNotes(path, machine)
        copy.partial = self.partial
        copy.disputed = self.disputed
        copy.decimals = self.decimals
        copy.stated_settings = self.stated_settings
        copy.settings = self.settings
        return copy


_NOTHING: Final[frozenset[str]] = frozenset()
_NO_ENTRIES: Final[Mapping[str, Any]] = {}
"""Shared by all records that have nothing of a kind, which are most; never added to."""


def new_record(path: str, machine: Facts | None = None) -> Facts:
    """A record without facts, at an absolute path."""
    return {NOTES: RecordNotes(path, machine)}


def notes_of(record: Facts) -> RecordNotes:
    """What is known about a record beside its facts."""
    notes: RecordNotes = record[NOTES]
    return notes


def set_check_date(machine: Facts, day: datetime.date) -> None:
    """Say as of which day a machine is checked."""
    machine[CHECK_DATE] = (day - EPOCH).days * 86400
