"""The faults of a machine file after its first: each is taken out, and the rest is read again.

This takes as many readings as there are faults, but only for a file that cannot be used.
"""

from __future__ import annotations

from typing import Any, Final

from ..base.errors import MOST_ERRORS
from ..source.places import KeyPath
from .fact_readers import machine_reader
from .reading import Fault, Reading
from .records import new_record

MOST_VALUES: Final = 200_000
"""Values of a file from which on only its first fault is told: each more needs a new reading."""


def further_faults(plain: Any, first: Fault, headless: bool) -> list[Fault]:
    """The faults of a plain tree after its first one, in the order of the file.

    A fact that is missing is not missed again, so that what stands beside it is read. If the number
    of the format is not known, nothing else is told, as it may have another meaning.
    """
    found: list[Fault] = []
    excused: frozenset[KeyPath] = frozenset()
    fault: Fault | None = first
    newer = first.path == ("format",) and type(plain["format"]) is int
    if newer or _size(plain) > MOST_VALUES:
        return found
    while fault is not None and len(found) < MOST_ERRORS - 1:
        cut = _cut(fault.path)
        record = fault.path if fault.lacking else fault.path[:-1]
        excused |= {(*record, fault.missing) if fault.missing else cut}
        if not (fault.lacking and fault.missing):
            if not cut:
                break
            plain = _without(plain, cut)
        fault = _fault_of(plain, headless, excused)
        if fault is not None and not _is_of_taking_out(fault, excused):
            found.append(fault)
    return found


def _fault_of(plain: Any, headless: bool, excused: frozenset[KeyPath]) -> Fault | None:
    out = new_record("")
    out |= {"name": "example", "axes": []}
    try:
        machine_reader(headless)(plain, out, Reading(excused))
    except Fault as fault:
        return fault
    return None


def _is_of_taking_out(fault: Fault, taken: frozenset[KeyPath]) -> bool:
    """Whether a record is only empty without what was taken out of it."""
    here = fault.path
    return fault.lacking and not fault.missing and any(path[: len(here)] == here for path in taken)


def _without(plain: Any, path: KeyPath) -> Any:
    """A tree without the value at a path. Shared parts are not changed."""
    head, *rest = path
    if isinstance(plain, dict) and head in plain:
        copy: Any = dict(plain)
    elif isinstance(plain, list) and isinstance(head, int) and head < len(plain):
        copy = list(plain)
    else:
        return plain
    if rest:
        copy[head] = _without(plain[head], tuple(rest))
    else:
        del copy[head]
    return copy


def _cut(path: KeyPath) -> KeyPath:
    """What is taken out for a fault: for an item of a list the list, as others would move up."""
    return path[:-1] if path and isinstance(path[-1], int) else path


def _size(plain: Any) -> int:
    """Number of values, as far as it matters."""
    waiting, seen = [plain], 0
    while waiting and seen <= MOST_VALUES:
        value = waiting.pop()
        seen += 1
        if isinstance(value, dict):
            waiting += value.values()
        elif isinstance(value, list):
            waiting += value
    return seen
