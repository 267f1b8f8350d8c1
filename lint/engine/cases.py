"""From a rule and a machine to the cases that the rule ranges over."""

from __future__ import annotations

from collections.abc import Iterator

from ..base.absence import NONE, none_above
from ..base.lazy import dataclass
from ..catalogue.catalogue import RunnableRule
from ..language.budget import PAIR_STEPS, charged, metered
from ..language.groups import GROUP
from ..machine.machine import Machine
from ..machine.records import Facts, new_record, notes_of
from .joins import (
    MAX_LACKING,
    Functions,
    Index,
    Unlisted,
    group_record,
    index_of,
    lacking,
    value_of,
)

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, TypeAlias

    from ..language.plain_ranges import PlainJoin, PlainRange


@dataclass(frozen=True, slots=True)
class Case:
    """One subject of a rule: its records by variable, or the reason why no records match.

    ``missing`` (a key that is not known) makes the rule undecided. ``absent`` (nothing matches)
    makes it broken if ``fails``, else not applicable. ``swapped`` has the two axes of an unordered
    pair the other way round. ``lacks`` is what is not known of a group's members; the ``rest``
    shares nothing that is known. ``marks`` are the facts by which the records match.
    """

    subject: str
    env: dict[str, Any]
    missing: tuple[str, ...] = ()
    absent: str = ""
    fails: bool = False
    swapped: dict[str, Any] | None = None
    lacks: tuple[str, ...] = ()
    marks: tuple[str, ...] = ()
    rest: bool = False

    def __init__(  # written out: there is one for each axis and each rule across axes
        self,
        subject: str,
        env: dict[str, Any],
        missing: tuple[str, ...] = (),
        absent: str = "",
        fails: bool = False,
        swapped: dict[str, Any] | None = None,
        lacks: tuple[str, ...] = (),
        marks: tuple[str, ...] = (),
        rest: bool = False,
    ) -> None:
        put = object.__setattr__
        put(self, "subject", subject)
        put(self, "env", env)
        put(self, "missing", missing)
        put(self, "absent", absent)
        put(self, "fails", fails)
        put(self, "swapped", swapped)
        put(self, "lacks", lacks)
        put(self, "marks", marks)
        put(self, "rest", rest)


def change_case(before: Facts, after: Facts) -> Case:
    """The case of one axis before and after a change; ``before`` is of the old machine."""
    env = {"before": before, "after": after, "machine": notes_of(after).machine}
    return Case(after["name"], env)


def spare_case(axis: Facts, fitted: Facts) -> Case:
    """The case of one axis with a spare in place; ``fitted`` is of the machine before."""
    return Case(axis["name"], {"axis": axis, "fitted": fitted, "machine": notes_of(axis).machine})


def looks_at_one_axis(entry: RunnableRule) -> bool:
    """Whether a rule looks at each axis alone (and the machine it belongs to)."""
    return entry.subject == "axis" and entry.range is None


Shared: TypeAlias = "dict[object, Any]"
"""The cases and indexes that rules share which range over the same."""


def cases(entry: RunnableRule, machine: Machine, shared: Shared) -> Iterator[Case]:
    """The cases of a rule in a machine; ``shared`` keeps those that several rules share."""
    facts = machine.facts
    if entry.range is None:
        if entry.subject == "machine":
            yield Case("", {"machine": facts})
        elif entry.subject == "axis":
            for axis in machine.axes:
                yield Case(axis["name"], {"axis": axis, "machine": facts})
        return  # the caller gives changes and spares (see check_cases)
    found = shared.get(entry.range)
    if found is None:
        ranged = _Ranged(entry, machine, shared)
        found = shared[entry.range] = list(ranged.groups() if entry.range[2] else ranged.matches())
    else:  # the cases are made once, but each rule pays for them
        charged([case for case in found if not case.missing and not case.absent], PAIR_STEPS)
    yield from found


class _Ranged:
    """What one rule ranges over in one machine."""

    def __init__(self, entry: RunnableRule, machine: Machine, shared: Shared) -> None:
        assert entry.range is not None
        self.range: PlainRange = entry.range
        self.functions: Functions = entry.functions
        self.machine = machine
        self.shared = shared

    def index(self, path: str, keys: tuple[Any, ...]) -> Index:
        """The index of a list, which all rules share. Raises Unlisted if there is no list."""
        known = path, tuple(key[1:] for key in keys)
        found: Index | None = self.shared.get(known)
        if found is None:
            made = index_of(self.machine.facts, path, keys, self.functions)
            found = self.shared[known] = made
        return found

    def groups(self) -> Iterator[Case]:
        """A case for each group of two or more, and one for what shares nothing that is known."""
        item, path, keys, *_ = self.range
        machine = {"machine": self.machine.facts}
        try:
            index = self.index(path, keys)
        except Unlisted as fault:
            yield self.without_list(fault, machine)
            return
        lacks = _lacking_in_group(index) if index.unsure or index.whole else ()
        found = False
        for members in index.table.values():
            if len(members) < 2:
                continue
            if path == "axes":
                members = sorted(members, key=_name)
            marks = [_place(each, keys[0][1]) for each in members[:MAX_LACKING]]
            env = {**machine, item: members[0], GROUP: group_record(members, bool(lacks))}
            metered(members, PAIR_STEPS)
            yield Case("", env, lacks=lacks, marks=tuple(marks))
            found = True
        if lacks or not found:
            env = {**machine, item: new_record(path), GROUP: group_record([], bool(lacks))}
            yield Case("", env, lacks=lacks, rest=True)

    def without_list(self, fault: Unlisted, env: dict[str, Any]) -> Case:
        """The case of a list that is not there."""
        return Case("", env, missing=() if fault.absent else (fault.missing,), absent=fault.absent)

    def matches(self) -> Iterator[Case]:
        """A case for each subject and what matches it, or for each that nothing matches."""
        item, path, _, joins, unordered, fails = self.range
        if unordered and not item:
            yield from self.unordered_axes(joins[0], unordered)
            return
        for subject, env in self.subjects(item, path):
            if isinstance(env, Case):
                yield env
                continue
            for case in self.joined(Case(subject, env, fails=fails), joins):
                if unordered and not case.missing and not case.absent:
                    one, other = unordered
                    swapped = {**case.env, one: case.env[other], other: case.env[one]}
                    case = Case(case.subject, case.env, swapped=swapped)
                yield case

    def subjects(self, item: str, path: str) -> Iterator[tuple[str, Any]]:
        """The name and records of each subject before anything is joined to it."""
        machine = {"machine": self.machine.facts}
        if not item:
            for axis in self.machine.axes:
                yield axis["name"], {"axis": axis, **machine}
            return
        try:
            index = self.index(path, ())
        except Unlisted as fault:
            yield "", self.without_list(fault, machine)
            return
        records = index.table.get((), ())
        for record in records:
            yield "", {item: record, **machine}
        if index.whole:
            yield "", Case("", machine, missing=(index.whole,))
        elif not records:
            yield "", Case("", machine, absent=f"{path} is an empty list")

    def joined(self, case: Case, joins: tuple[PlainJoin, ...]) -> Iterator[Case]:
        """The cases that a case becomes with all that matches it."""
        if not joins or case.missing or case.absent:
            yield case
            return
        for each in self.join(case, joins[0]):
            yield from self.joined(each, joins[1:])

    def join(self, case: Case, join: PlainJoin) -> Iterator[Case]:
        """The case with each item that matches, and with the reason why none or no other does.

        An item that may match too is asked as well: what is not known of it must not acquit.
        """
        variable, path, pairs = join
        env, fails = case.env, case.fails
        subject = case.subject

        def without(missing: tuple[str, ...] = (), absent: str = "", fails: bool = False) -> Case:
            marks = tuple(_place(env[own[0]], own[1]) for own, _ in pairs)
            return Case(subject, env, missing, absent, fails, marks=marks)

        own = [(key, value_of(env[key[0]], key, self.functions)) for key, _ in pairs]
        for key, value in own:
            if value is NONE:
                yield without(absent=_none_reason(env[key[0]], key[1]))
                return
        facts = (lacking(env[key[0]], key) for key, value in own if value is None)
        unknown = [fact for each in facts for fact in each]
        if unknown:
            yield without(missing=tuple(dict.fromkeys(unknown)))
            return
        try:
            index = self.index(path, tuple(theirs for _, theirs in pairs))
        except Unlisted as fault:
            yield without(() if fault.absent else (fault.missing,), fault.absent)
            return
        values = tuple([value for _, value in own])
        known = {id(each) for each in env.values()}
        partners = [each for each in index.table.get(values, ()) if id(each) not in known]
        for partner in metered(partners, PAIR_STEPS):
            yield Case(subject, {**env, variable: partner}, fails=fails)
        missing = index.lacking(values, known)
        if missing:
            yield without(missing)
        if partners or missing:
            return
        both = zip(pairs, values, strict=True)
        theirs = " and ".join(f"{key[1]} {value}" for (_, key), value in both)
        what = "other axis" if path == "axes" else f"entry of {path}"
        yield without(absent=f"no {what} has {theirs}", fails=fails)

    def unordered_axes(self, join: PlainJoin, names: tuple[str, ...]) -> Iterator[Case]:
        """Each two axes that match either way, once, and each axis that may match or does not."""
        first, second = names
        pairs: dict[frozenset[str], Case] = {}
        others: list[Case] = []
        paired: set[str] = set()
        for axis in self.machine.axes:
            case = Case(axis["name"], {first: axis, "machine": self.machine.facts})
            for found in self.join(case, join):
                if second not in found.env:
                    others.append(found)
                    continue
                one, other = sorted((found.env[first], found.env[second]), key=_name)
                env = {**found.env, first: one, second: other}
                swapped = {**env, first: other, second: one}
                both = frozenset((one["name"], other["name"]))
                pairs.setdefault(both, Case(one["name"], env, swapped=swapped))
                paired |= both
        yield from pairs.values()
        yield from (each for each in others if not each.absent or each.subject not in paired)


def _name(axis: Facts) -> str:
    return str(axis["name"])


def _place(record: Facts, path: str) -> str:
    base = notes_of(record).path
    return f"{base}.{path}" if base else path


def _none_reason(record: Facts, path: str) -> str:
    return f"{none_above(record, path) or path} is none"


def _lacking_in_group(index: Index) -> tuple[str, ...]:
    """What is not known of items that may share their keys with another one."""
    found: dict[str, None] = {}
    if index.count() > 1:
        for item, values in index.unsure:
            for value, key in zip(values, index.keys, strict=True):
                if value is None:
                    found.update(dict.fromkeys(lacking(item, key)))
            if len(found) >= MAX_LACKING:
                break
    return (*found, index.whole) if index.whole else tuple(found)


OF_GROUP = f"{GROUP}."
"""What the path of a group's members begins with; no file states it."""


def of_members(missing: tuple[str, ...], case: Case) -> tuple[str, ...]:
    """The missing facts: those of a group's members in place of the group."""
    if case.rest:
        return case.lacks
    stated = tuple(path for path in missing if not path.startswith(OF_GROUP))
    return (*stated, *case.lacks) if len(stated) < len(missing) else missing
