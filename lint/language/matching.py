"""Items of a machine's list whose fact equals a value, found by a hash table.

``some node in machine.network.nodes where node.address = axis.drive.node`` is asked of every axis:
looking at every node each time would make the work grow with the square of the machine. Items are
therefore filed once by their value, in the record that owns the list. Only items whose value is
known to be another one are passed over; the filter itself is still evaluated on all others.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import chain
from operator import itemgetter

from ..base.absence import NONE
from ..machine.records import Facts, notes_of
from ..numbers.exact import Approx

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any


_NUMBER, _ITEM = itemgetter(0), itemgetter(1)


def matching(record: Facts, path: str, key: str, value: Any) -> Sequence[Facts]:
    """The items of the list at ``path`` whose ``key`` equals ``value`` or may do so.

    Those that are equal come first, in the order of the list; then those whose key is unknown, none
    or not exact. All items, in this order, if ``value`` itself is one of these. The list must be
    there.
    """
    items: list[Facts] = record[path]
    if value is NONE:
        return sorted(items, key=lambda item: item.get(key) is not NONE)
    if value is None or isinstance(value, Approx):
        return items
    table, unsure = _items_by_value(record, path, key)
    return [item for _, item in chain(table.get(value, ()), unsure)]


def in_order(record: Facts, path: str, key: str, value: Any) -> Iterator[Facts]:
    """The items of ``matching`` in the order of the list."""
    if value is None or value is NONE or isinstance(value, Approx):
        yield from record[path]
        return
    table, unsure = _items_by_value(record, path, key)
    equals = table.get(value, [])
    filed: Iterable[tuple[int, Facts]] = equals
    if unsure:
        from heapq import merge

        filed = merge(equals, unsure, key=_NUMBER) if equals else unsure
    yield from map(_ITEM, filed)


def equal(record: Facts, path: str, key: str, value: Any) -> Iterator[Facts]:
    """The items whose ``key`` is known to equal a known and exact value."""
    return map(_ITEM, _items_by_value(record, path, key)[0].get(value, ()))


Filed = list[tuple[int, Facts]]


def _items_by_value(record: Facts, path: str, key: str) -> tuple[dict[Any, Filed], Filed]:
    """Items with their numbers by value, and those without an exact one; made when first asked."""
    memo, name = notes_of(record).memo, f"items of {path} by {key}"
    found: tuple[dict[Any, Filed], Filed] | None = memo.get(name)
    if found is None:
        table: dict[Any, Filed] = {}
        unsure: Filed = []
        for number, item in enumerate(record[path]):
            value = item.get(key)
            if value is None or value is NONE or isinstance(value, Approx):
                unsure.append((number, item))
            else:
                table.setdefault(value, []).append((number, item))
        found = memo[name] = table, unsure
    return found
