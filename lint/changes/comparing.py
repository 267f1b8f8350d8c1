"""From two versions of a machine to the facts and axes that differ."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final

from ..base.absence import NONE, PRESENT
from ..findings.change_report import AxisChange, FactChange
from ..findings.finding import Mark
from ..machine.derived_facts import FOLLOWS_FROM
from ..machine.machine import Machine
from ..machine.records import CHECK_DATE, NOTES, Facts, notes_of
from ..machine.value_reader import as_written

_SERIALS: Final = ("encoder.serial", "motor.serial", "drive.serial")
_NAMED_BY: Final[Mapping[str, tuple[str, ...]]] = {
    "interlocks": ("name",),
    "mechanics.couplings": ("name",),
    "network.nodes": ("address", "network"),
    "conditions": ("code",),
    "collision_pairs": ("first", "second"),
}
"""Lists and the facts that identify their items, wherever in the list an item is.

The first of several facts is always stated.
"""

_NOT_COMPARED: Final = frozenset({"name", "axes", CHECK_DATE, NOTES, *FOLLOWS_FROM})
"""What no file states of a record, or what is compared in another way."""


@dataclass(frozen=True, slots=True)
class AxisPairs:
    """The axes of two machines: those in both (renamed ones too), and those in one only."""

    both: tuple[tuple[Facts, Facts], ...]
    removed: tuple[Facts, ...]
    added: tuple[Facts, ...]

    @property
    def renamed(self) -> dict[str, str]:
        """Old name to new name, of the renamed axes."""
        return {old["name"]: new["name"] for old, new in self.both if old["name"] != new["name"]}


def pair_axes(old: Machine, new: Machine) -> AxisPairs:
    """Pair the axes by name, and the other axes by serial numbers.

    A missing axis and a new one are a pair if they share a serial number of encoder, motor or drive
    (more shared numbers win), or if neither states any and all their facts are equal.
    """
    before = {axis["name"]: axis for axis in old.axes}
    after = {axis["name"]: axis for axis in new.axes}
    both = [(before[name], after[name]) for name in after if name in before]
    gone = [axis for name, axis in before.items() if name not in after]
    added = [axis for name, axis in after.items() if name not in before]
    pairs = [(_shared_serials(a, b), i, j) for i, a in enumerate(gone) for j, b in enumerate(added)]
    paired_gone: set[int] = set()
    paired_added: set[int] = set()
    for score, i, j in sorted(pairs, key=lambda each: (-each[0], each[1], each[2])):
        if score and i not in paired_gone and j not in paired_added:
            paired_gone.add(i)
            paired_added.add(j)
            both.append((gone[i], added[j]))
    order = {name: number for number, name in enumerate(after)}
    both.sort(key=lambda pair: order[pair[1]["name"]])
    return AxisPairs(
        tuple(both),
        tuple(axis for i, axis in enumerate(gone) if i not in paired_gone),
        tuple(axis for j, axis in enumerate(added) if j not in paired_added),
    )


def _shared_serials(old: Facts, new: Facts) -> int:
    known = [key for key in _SERIALS if key in old or key in new]
    if known:
        return sum(old.get(key) == new.get(key) for key in known)
    return int(_stated_facts(old) == _stated_facts(new))


def _stated_facts(record: Any) -> Any:
    """What a record states, without its name and place."""
    if isinstance(record, list):
        return [_stated_facts(item) for item in record]
    if not isinstance(record, dict):
        return record
    notes = notes_of(record)
    facts = {key: _stated_facts(item) for key, item in record.items() if key not in _NOT_COMPARED}
    return facts, notes.partial, notes.decimals, notes.disputed


def axis_changes(label: str, pairs: AxisPairs) -> Iterator[AxisChange]:
    """Axes that were removed, added or renamed."""
    for axis in pairs.removed:
        yield AxisChange(label, axis["name"], "removed")
    for axis in pairs.added:
        yield AxisChange(label, axis["name"], "added")
    for old, new in pairs.renamed.items():
        yield AxisChange(label, new, "renamed", old)


class MachineComparison:
    """Compares the records of two versions of the machine called ``label``."""

    def __init__(self, old: Machine, new: Machine, label: str) -> None:
        self.old = old
        self.new = new
        self.label = label
        self.unsettled = _unsettled(old), _unsettled(new)

    def machine(self) -> list[FactChange]:
        """What changed about the whole machine."""
        changes = []
        if self.old.name != self.new.name:
            marks = self.old_mark("machine", "machine"), self.new_mark("machine", "machine")
            names = self.old.name, self.new.name
            changes.append(FactChange(self.label, "", "machine", "changed", *names, *marks))
        return [*changes, *self.records("", self.old.facts, self.new.facts, "")]

    def axis(self, old: Facts, new: Facts) -> list[FactChange]:
        """What changed about one axis."""
        return list(self.records(new["name"], old, new, ""))

    def records(self, subject: str, old: Facts, new: Facts, prefix: str) -> Iterator[FactChange]:
        """Changes within a record; ``prefix`` leads to it from the axis or the machine."""
        one, two = self.with_unsettled(old, 0), self.with_unsettled(new, 1)
        motion_kept = old.get("motion") == new.get("motion")
        dropped: list[str] = []
        for key in _in_order(one, two):
            a, b = one.get(key), two.get(key)
            if any(key.startswith(above + ".") for above in dropped):
                continue
            if _holds_records(a) or _holds_records(b):
                yield from self.lists(subject, key, old, new, prefix)
                continue
            partial = key in notes_of(old).partial, key in notes_of(new).partial
            paths = _absolute_path(old, key), _absolute_path(new, key)
            kept = motion_kept or self.old.written(paths[0]) == self.new.written(paths[1])
            if a == b and partial[0] == partial[1] and kept:
                continue
            if (a is PRESENT and b is None) or (a is None and b is PRESENT):
                continue  # the facts within the part show this change
            if b is NONE and a is PRESENT:
                dropped.append(key)
            texts = (
                self.text(self.old, paths[0], a, partial[0]),
                self.text(self.new, paths[1], b, partial[1]),
            )
            yield self.change(subject, prefix + key, paths, texts)
        yield from self.settings(subject, old, new, prefix)

    def with_unsettled(self, record: Facts, side: int) -> dict[str, Any]:
        """What a record states, with disputed and misfitting facts as texts in their place."""
        path = notes_of(record).path
        base = path + "." if path else ""
        stated = {key: value for key, value in record.items() if key not in _NOT_COMPARED}
        for path, text in self.unsettled[side].items():
            key = path.removeprefix(base)
            if path.startswith(base) and "[" not in key and not key.startswith("axes."):
                stated[key] = text
        return stated

    def lists(
        self, subject: str, key: str, old: Facts, new: Facts, prefix: str
    ) -> Iterator[FactChange]:
        """Changes within a list of records, matched by name if all have one, else by order."""
        partial = [key in notes_of(record).partial for record in (old, new)]
        paths = _absolute_path(old, key), _absolute_path(new, key)
        whole = key not in old or key not in new
        if whole or partial[0] != partial[1]:
            texts = [
                None
                if key not in record
                else f"{'part of ' if part else ''}a list of {len(record[key])}"
                for record, part in zip((old, new), partial, strict=True)
            ]
            yield self.change(subject, prefix + key, paths, (texts[0], texts[1]))
        if whole:
            return
        both = old[key], new[key]
        names = [_item_names(items, key) for items in both]
        if any(len(found) < len(items) for found, items in zip(names, both, strict=True)):
            names = [list(map(str, range(len(items)))) for items in both]
        before, after = (
            dict(zip(found, items, strict=True)) for found, items in zip(names, both, strict=True)
        )
        for name in _in_order(before, after):
            one, two = before.get(name), after.get(name)
            inside = f"{prefix}{key}[{name}]"
            if one is not None and two is not None:
                yield from self.records(subject, one, two, inside + ".")
            elif one is not None:
                at = notes_of(one).path, paths[1]
                yield self.change(subject, inside, at, (_described(one), None))
            elif two is not None:
                at = paths[0], notes_of(two).path
                yield self.change(subject, inside, at, (None, _described(two)))

    def settings(self, subject: str, old: Facts, new: Facts, prefix: str) -> Iterator[FactChange]:
        """Changes of the settings a record states."""
        before, after = notes_of(old).stated_settings, notes_of(new).stated_settings
        for name in _in_order(before, after):
            values = before.get(name, (None,))[0], after.get(name, (None,))[0]
            if values[0] == values[1]:
                continue
            texts = [None if value is None else as_written(value) for value in values]
            key = f"settings.{name}"
            paths = _absolute_path(old, f"{key}.value"), _absolute_path(new, f"{key}.value")
            yield self.change(subject, prefix + key, paths, (texts[0], texts[1]))

    def change(
        self,
        subject: str,
        fact: str,
        paths: tuple[str, str],
        texts: tuple[str | None, str | None],
    ) -> FactChange:
        """A change with its places in both versions; ``paths`` are absolute."""
        old, new = texts
        kind: Any = "added" if old is None else "removed" if new is None else "changed"
        return FactChange(
            self.label,
            subject,
            fact,
            kind,
            old,
            new,
            None if old is None else self.old_mark(paths[0], fact),
            None if new is None else self.new_mark(paths[1], fact),
        )

    def old_mark(self, path: str, label: str) -> Mark | None:
        """The place of a fact in the old version."""
        return _mark_at(self.old, path, label)

    def new_mark(self, path: str, label: str) -> Mark | None:
        """The place of a fact in the new version."""
        return _mark_at(self.new, path, label)

    @staticmethod
    def text(machine: Machine, path: str, value: Any, partial: bool) -> str | None:
        """A value as it is written; None if the fact is not stated."""
        if value is None:
            return None
        if value is NONE:
            return "none"
        if value is PRESENT:
            return "described"
        if isinstance(value, _Unsettled):
            return value.text
        if isinstance(value, list):
            items = [
                machine.written(f"{path}[{number}]") or str(item)
                for number, item in enumerate(value)
            ]
            listed = f"[{', '.join(items)}]"
            return f"{{partial: {listed}}}" if partial else listed
        return machine.written(path) or str(value)


@dataclass(frozen=True, slots=True)
class _Unsettled:
    """A stated fact without a usable value: it is disputed, or its unit does not fit."""

    text: str


def _unsettled(machine: Machine) -> dict[str, _Unsettled]:
    found = {
        dispute.path: _Unsettled(
            " or ".join(f"{text} ({source})" for text, source in dispute.claims)
        )
        for dispute in machine.disputes
    }
    return found | {misfit.path: _Unsettled(misfit.written) for misfit in machine.misfits}


def _mark_at(machine: Machine, path: str, label: str) -> Mark | None:
    places = machine.places(path)
    place = places[0] if places else machine.nearest(path)
    return None if place is None else Mark(place, machine.line_text(place), path, label)


def _absolute_path(record: Facts, key: str) -> str:
    path = notes_of(record).path
    return f"{path}.{key}" if path else key


def _holds_records(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and isinstance(value[0], dict)


def _item_names(items: list[Facts], key: str) -> list[str]:
    """The names of the records of a list; empty if the names are not unique."""
    facts = _NAMED_BY.get(key, ())
    names = [
        " and ".join(str(item[fact]) for fact in facts if fact in item)
        for item in items
        if facts and facts[0] in item
    ]
    return names if facts and len(set(names)) == len(items) else []


def _described(item: Facts) -> str:
    count = sum(key != NOTES for key in item)
    return f"an entry of {count} fact{'' if count == 1 else 's'}"


def _in_order(one: Iterable[str], two: Iterable[str]) -> list[str]:
    return list(dict.fromkeys([*two, *one]))
