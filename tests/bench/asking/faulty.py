"""Random machines with three planted faults each, and what must be found of each fault."""

from __future__ import annotations

from dataclasses import dataclass, replace
from random import Random

from axisproof.catalogue.catalogue import shipped
from axisproof.engine.cases import Shared, cases
from axisproof.engine.verdicts import BROKEN, verdict_of
from axisproof.machine.machine import Machine
from axisproof.machine.reader import read_plain

from ..faults.fault_list import FAULTS, FaultKind
from ..faults.measure import DAY, LISTS, check_plain
from ..faults.plain_axis import Plain, PlainAxis
from ..faults.sound_machine import machine
from ..faults.verdicts import EXPECTED

PLANTED = 3

NEXT_DRAW, MOST_DRAWS = 40_000_003, 20
"""Steps to the seed of the machine that is drawn in place of another, and most machines drawn."""

Hit = tuple[str, str]
"""A rule and the axis that it finds at fault."""


@dataclass(frozen=True)
class Planted:
    """A fault on an axis, and the findings of which any shows it."""

    kind: str
    axis: str
    hits: frozenset[Hit]


@dataclass(frozen=True)
class Faulty:
    """A machine with its planted faults."""

    seed: int
    plain: Plain
    faults: tuple[Planted, ...]


def findable() -> list[FaultKind]:
    """The kinds that a rule must find, in an order that does not rest on imports."""
    assert LISTS
    rules = {entry.name for entry in shipped().entries}
    found = (each for each in FAULTS if rules.intersection(EXPECTED.get(each.name, ())))
    return sorted(found, key=lambda each: each.name)


def faulty_machine(seed: int) -> Faulty:
    """The sound machine of a seed with three faults of different kinds, drawn alike.

    A machine that cannot have three, such as one whose positions do not matter, is drawn again.
    """
    again = (seed + number * NEXT_DRAW for number in range(MOST_DRAWS))
    return next(found for found in map(_with_faults, again) if found is not None)


def _with_faults(seed: int) -> Faulty | None:
    """The machine of a seed with three faults; a fault that hides an earlier one is drawn again."""
    rng = Random(f"three faults {seed}")
    plain, faults = machine(seed), tuple[Planted, ...]()
    for kind in rng.sample(findable(), len(findable())):
        name = rng.choice(list(plain["axes"]))
        try:
            changed = kind.on(PlainAxis(plain, name))
        except (AssertionError, LookupError):
            continue  # the kind does not reckon with a fault that is there already
        if changed is None:
            continue
        found = found_in(changed.machine)
        before = found_in(plain)
        hits = frozenset(hit for hit in found - before if hit[0] in EXPECTED[kind.name])
        if not hits or any(fault.hits.isdisjoint(found) for fault in faults):
            continue
        plain = changed.machine
        faults = (*faults, Planted(kind.name, name, hits))
        if len(faults) == PLANTED:
            faults = tuple(Planted(f.kind, f.axis, f.hits & found) for f in faults)
            return Faulty(seed, plain, faults)
    return None


def found_in(plain: Plain) -> frozenset[Hit]:
    """What all rules find."""
    return frozenset((each.rule, each.subject) for each in check_plain(plain).findings)


def finds(plain: Plain, hits: frozenset[Hit]) -> bool:
    """Whether one of these findings is made; without its words, which take longest."""
    return finds_in(read_bench(plain), hits)


def read_bench(plain: Plain) -> Machine:
    """The machine as rules see it on the day of the bench."""
    read = read_plain(plain, headless=False)
    read.facts["check_date"] = DAY
    return read


def finds_in(read: Machine, hits: frozenset[Hit]) -> bool:
    """Whether one of these findings is made on a machine that was read."""
    shared: Shared = {}
    for entry in shipped().entries:
        subjects = {subject for rule, subject in hits if rule == entry.name}
        if not subjects:
            continue
        for case in cases(entry, read, shared):
            ways = [case, replace(case, env=case.swapped)] if case.swapped else [case]
            if any(verdict_of(entry, way) == BROKEN for way in ways):
                names = {each["name"] for each in case.env.values() if each and "motion" in each}
                if subjects & {case.subject, *names}:
                    return True
    return False
