"""Items of a machine's list whose fact equals a value, found by a hash table.

``some node in machine.network.nodes where node.address = axis.drive.node`` is asked of every axis:
looking at every node each time would make the work grow with the square of the machine. Items are
therefore filed once by their value, in the record that owns the list. Only items whose value is
known to be another one are passed over; the filter itself is still evaluated on all others.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import chain, product
from operator import itemgetter

from ..base.absence import NONE
from ..machine.records import Facts, notes_of
from ..numbers.exact import Approx

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, TypeAlias


_NUMBER, _ITEM = itemgetter(0), itemgetter(1)

_UNSURE = object()
"""Stands for a value that is unknown, none or not exact."""

Lists: TypeAlias = "dict[Any, list[Facts]]"


class Joined:
    """Lists one after the other, without a copy of their items."""

    __slots__ = ("lists",)

    def __init__(self, lists: list[list[Facts]]) -> None:
        self.lists = lists

    def __len__(self) -> int:
        return sum(map(len, self.lists))

    def __iter__(self) -> Iterator[Facts]:
        return chain.from_iterable(self.lists)

    def __contains__(self, item: object) -> bool:
        return any(item in each for each in self.lists)


def matching(record: Facts, path: str, key: str, value: Any) -> list[Facts] | Joined:
    """The items of the list at ``path`` whose ``key`` equals ``value`` or may do so.

    Those that are equal come first, in the order of the list; then those whose key is unknown, none
    or not exact. All items, in this order, if ``value`` itself is one of these. The list must be
    there, and what is given is not to be changed.
    """
    items: list[Facts] = record[path]
    if not _is_exact(value):
        return _none_first(record, path, key) if value is NONE else items
    memo, name = notes_of(record).memo, f"lists of {path} by {key}"
    lists: Lists | None = memo.get(name)
    if lists is None:
        lists = memo[name] = {}
        for item in items:
            found = item.get(key)
            lists.setdefault(found if _is_exact(found) else _UNSURE, []).append(item)
    return _joined(lists, (value, _UNSURE))


def matching_both(
    record: Facts, path: str, keys: tuple[str, str], value: Any, other_value: Any
) -> list[Facts] | Joined:
    """The items that ``matching`` gives for the first key and that pass the second one likewise.

    Those whose first key is equal still come first.
    """
    if not (_is_exact(value) and _is_exact(other_value)):
        return matching(record, path, keys[0], value)
    memo, name = notes_of(record).memo, f"lists of {path} by {keys}"
    lists: Lists | None = memo.get(name)
    if lists is None:
        lists = memo[name] = {}
        first, second = keys
        for item in record[path]:
            one, two = item.get(first), item.get(second)
            filed = one if _is_exact(one) else _UNSURE, two if _is_exact(two) else _UNSURE
            lists.setdefault(filed, []).append(item)
    return _joined(lists, product((value, _UNSURE), (other_value, _UNSURE)))


def _joined(lists: Lists, keys: Iterable[Any]) -> list[Facts] | Joined:
    found = [lists[key] for key in keys if key in lists]
    return found[0] if len(found) == 1 else Joined(found)


def _none_first(record: Facts, path: str, key: str) -> list[Facts]:
    memo, name = notes_of(record).memo, f"{path} with none first by {key}"
    found: list[Facts] | None = memo.get(name)
    if found is None:
        items: list[Facts] = record[path]
        found = memo[name] = sorted(items, key=lambda item: item.get(key) is not NONE)
    return found


def _is_exact(value: Any) -> bool:
    return not (value is None or value is NONE or isinstance(value, Approx))


def remembered(record: Facts, name: str, values: tuple[Any, ...]) -> list[Any] | None:
    """Where the result of a loop over items of ``record`` is kept; None if it cannot be.

    ``values`` are all that the loop reads elsewhere. What is given holds the result, or is empty
    and takes it. So a loop that all subjects ask for the same is gone through once: of N things
    that clash each would else meet all the others.
    """
    for value in values:
        if isinstance(value, Approx | Sequence) and not isinstance(value, str):
            return None
    known: dict[tuple[Any, ...], list[Any]] = notes_of(record).memo.setdefault(name, {})
    return known.setdefault(values, [])


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
            if not _is_exact(value):
                unsure.append((number, item))
            else:
                table.setdefault(value, []).append((number, item))
        found = memo[name] = table, unsure
    return found
