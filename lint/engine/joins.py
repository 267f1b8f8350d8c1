"""Items of a machine's lists by what they are matched on, each list indexed once."""

from __future__ import annotations

from collections.abc import Callable, Container, Mapping

from ..base.absence import NONE, none_above
from ..base.lazy import dataclass
from ..language.groups import GROUP, MEMBERS
from ..machine.records import Facts, new_record, notes_of
from ..numbers.exact import Approx

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, Final, TypeAlias

    from ..language.plain_ranges import PlainKey


Functions: TypeAlias = "Mapping[str, Callable[[Facts], Any]]"

MAX_LACKING: Final = 20
"""Most missing facts that are named of items that might match."""

WHOLE_LIST: Final = " (the whole list)"


class Unlisted(Exception):
    """The list is not there: ``missing`` is the fact to state, ``absent`` says it is none."""

    def __init__(self, missing: str, absent: str) -> None:
        self.missing = missing
        self.absent = absent


def value_of(record: Facts, key: PlainKey, functions: Functions) -> Any:
    """What a record is matched on: NONE if there is no such thing, None if it is not known."""
    _, path, function, _ = key
    value = functions[function](record) if function else record.get(path)
    if value is None:
        return NONE if not function and none_above(record, path) else None
    return None if isinstance(value, Approx) else value


def lacking(record: Facts, key: PlainKey) -> tuple[str, ...]:
    """The facts to state where a key is not known."""
    from ..language.fact_to_state import fact_to_state
    from ..language.traced import absolute_path

    _, path, function, reads = key
    facts = reads if function else (path,)
    unstated = [each for each in facts if record.get(each) is None] or facts
    found = (absolute_path(record, fact_to_state(record, each)) for each in unstated)
    return tuple(dict.fromkeys(found))


@dataclass(frozen=True, slots=True)
class Index:
    """The items of a list by the values of some keys.

    ``unsure`` are those of which a key is not known, with their values. An item of which a key is
    none is left out: it matches nothing. ``whole`` is the path of the list if it is partial.
    """

    table: dict[tuple[Any, ...], list[Facts]]
    unsure: list[tuple[Facts, tuple[Any, ...]]]
    keys: tuple[PlainKey, ...]
    whole: str

    def count(self) -> int:
        """How many items can match anything."""
        return len(self.unsure) + sum(map(len, self.table.values()))

    def lacking(self, wanted: tuple[Any, ...], known: Container[int]) -> tuple[str, ...]:
        """What is not known of the items that might match, but of those that ``known`` has."""
        found: dict[str, None] = {}
        for item, values in self.unsure:
            if id(item) in known:
                continue
            sides = [*zip(values, wanted, self.keys, strict=True)]
            if any(value is not None and value != want for value, want, _ in sides):
                continue
            for value, _, key in sides:
                if value is None:
                    found.update(dict.fromkeys(lacking(item, key)))
            if len(found) >= MAX_LACKING:
                break
        if self.whole:
            found[self.whole] = None
        return tuple(found)


def index_of(machine: Facts, path: str, keys: tuple[PlainKey, ...], functions: Functions) -> Index:
    """The index of a list of a machine. Raises Unlisted if the list is not there."""
    items = machine.get(path)
    if items is None or items is NONE:
        from ..language.fact_to_state import fact_to_state

        above = path if items is NONE else none_above(machine, path)
        absent = f"{above} is none" if above else ""
        raise Unlisted(fact_to_state(machine, path), absent)
    whole = f"{path}{WHOLE_LIST}" if path in notes_of(machine).partial else ""
    found = Index({}, [], keys, whole)
    for item in items:
        values = tuple([value_of(item, key, functions) for key in keys])
        if NONE in values:
            continue
        if None in values:
            found.unsure.append((item, values))
        else:
            found.table.setdefault(values, []).append(item)
    return found


def group_record(members: list[Facts], partial: bool) -> Facts:
    """The record that a rule knows as its group."""
    record = new_record(GROUP)
    record[MEMBERS] = members
    if partial:
        notes_of(record).partial = frozenset((MEMBERS,))
    return record
