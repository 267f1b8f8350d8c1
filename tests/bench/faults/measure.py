"""Run the rules over sound, faulty and thinned machines and count what comes out."""

from __future__ import annotations

import copy
import datetime
import json
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field
from functools import cache
from importlib import resources
from random import Random
from typing import Any, TypeVar

from axisproof.catalogue.catalogue import shipped
from axisproof.engine.engine import Options, Results, check_machine
from axisproof.machine.reader import read_plain

from . import audited, bookkeeping, gearing, homing, interlocking, limits, motion, turns, unseen
from .fault import FAULTS, Fault
from .plain import Axis, Plain
from .sound import machine
from .verdicts import EXPECTED

LISTS = (gearing, turns, homing, limits, motion, interlocking, bookkeeping, audited, unseen)
"""The files that fill the list of faults, in the order of the report."""

DAY = (datetime.date(2026, 6, 1) - datetime.date(1970, 1, 1)).days * 86400
"""The day that counts as today, in seconds since 1970-01-01."""

PER_MACHINE = 2
"""How many axes of one machine get the same kind of fault, one at a time."""

In = TypeVar("In")
Out = TypeVar("Out")


def check(plain: Plain) -> Results:
    """Findings and undecided checks of a plain machine."""
    read = read_plain(plain, headless=False)
    read.facts["check_date"] = DAY
    return check_machine(read, "bench", shipped(), Options())


def seeded(seed: int, number: int) -> int:
    """The seed of the machine with this number in a run with this seed."""
    return seed * 1_000_000 + number


@cache
def known(seed: int) -> Plain:
    """A sound machine; nobody may change it."""
    return machine(seed)


@dataclass
class Sound:
    """What sound machines brought: whatever is in ``false`` is a fault of a rule."""

    axes: int = 0
    holds: int = 0
    undecided: Counter[str] = field(default_factory=Counter)
    false: list[tuple[int, str, str]] = field(default_factory=list)
    """Seed of the machine, rule, axis."""

    def add(self, seed: int, found: Results) -> None:
        self.axes += found.axes
        self.holds += sum(tally.holds for tally in found.tallies)
        self.undecided.update(told.rule for told in found.undecided)
        self.false += [(seed, each.rule, each.subject) for each in found.findings]

    def __add__(self, other: Sound) -> Sound:
        return Sound(
            self.axes + other.axes,
            self.holds + other.holds,
            self.undecided + other.undecided,
            self.false + other.false,
        )

    @property
    def share_undecided(self) -> float:
        """Of the checks that apply, or might."""
        undecided = self.undecided.total()
        return undecided / max(1, undecided + self.holds + len(self.false))


def sound(seeds: Iterable[int]) -> Sound:
    """Check sound machines as they are."""
    result = Sound()
    for seed in seeds:
        result.add(seed, check(machine(seed)))
    return result


def thinned(seeds: Iterable[int], share: float) -> Sound:
    """Check sound machines of which this share of facts was left out."""
    result = Sound()
    for seed in seeds:
        result.add(seed, check(without(known(seed), share, Random(f"thinned {seed} {share}"))))
    return result


def without(whole: Plain, share: float, rng: Random) -> Plain:
    """A copy of a machine of which this share of facts is left out."""
    plain = copy.deepcopy(whole)
    for axis in plain["axes"].values():
        _thin(axis, share, rng)
    for part in ("network", "conditions", "collision_pairs"):
        _thin(plain[part], share, rng)
    return plain


@cache
def required() -> frozenset[str]:
    """Names without which the schema refuses a record."""
    text = resources.files("axisproof.schemas").joinpath("machine.schema.json").read_text("utf-8")
    names: set[str] = set()

    def look(at: Any) -> None:
        if isinstance(at, dict):
            if isinstance(at.get("required"), list):
                names.update(at["required"])
            for value in at.values():
                look(value)
        elif isinstance(at, list):
            for value in at:
                look(value)

    look(json.loads(text))
    return frozenset(names)


def _thin(at: Any, share: float, rng: Random) -> None:
    """Leave facts out, in place: numbers, words and lists of words, not the records they are in."""
    if isinstance(at, list):
        for item in at:
            _thin(item, share, rng)
    elif isinstance(at, dict):
        for key, value in list(at.items()):
            record = isinstance(value, dict) or (
                isinstance(value, list) and any(isinstance(item, dict) for item in value)
            )
            if record:
                _thin(value, share, rng)
            elif key not in required() and rng.random() < share:
                del at[key]


@dataclass
class Found:
    """What one kind of fault brought."""

    kind: str
    injected: int = 0
    found: int = 0
    by: Counter[str] = field(default_factory=Counter)
    beside: Counter[str] = field(default_factory=Counter)
    missed: list[tuple[int, str]] = field(default_factory=list)
    """Seed of the machine and axis; of the kinds that are not to be found, those that were not."""

    @property
    def recall(self) -> float:
        return self.found / max(1, self.injected)


def faulty(fault: Fault, seeds: Sequence[int], wanted: int) -> Found:
    """Put a fault into so many axes of these machines, one at a time."""
    result = Found(fault.name)
    expected = EXPECTED.get(fault.name, ())
    for seed in seeds:
        here = 0
        for name in known(seed)["axes"]:
            if here == PER_MACHINE or result.injected == wanted:
                break
            changed = fault.on(Axis(known(seed), name))
            if changed is None:
                continue
            here += 1
            result.injected += 1
            rules = {finding.rule for finding in check(changed.machine).findings}
            hit = rules.intersection(expected) if expected else rules
            result.by.update(hit)
            result.beside.update(rules - hit)
            if hit:
                result.found += 1
            else:
                result.missed.append((seed, name))
        if result.injected == wanted:
            break
    return result


# --- in several processes -------------------------------------------------------------------------


def spread(work: Callable[[In], Out], over: Sequence[In], jobs: int) -> list[Out]:
    """The work for each, in order, in so many processes."""
    if jobs == 1:
        return [work(each) for each in over]
    with ProcessPoolExecutor(jobs) as pool:
        return list(pool.map(work, over))


@dataclass(frozen=True)
class Plan:
    """A run: the seed, how many sound axes, and how many axes each kind of fault is put into."""

    seed: int
    axes: int
    per_kind: int
    kinds: tuple[str, ...] = ()

    def seeds(self, count: int) -> list[int]:
        return [seeded(self.seed, number) for number in range(count)]

    @property
    def machines_for_faults(self) -> int:
        """Enough for the rarest kinds."""
        return 20 * self.per_kind

    def faults(self) -> list[Fault]:
        """The faults of this run, concern by concern."""
        order = [each.__name__.rpartition(".")[2] for each in LISTS]
        chosen = [fault for fault in FAULTS if not self.kinds or fault.name in self.kinds]
        return sorted(chosen, key=lambda fault: order.index(fault.concern))


@dataclass
class _FaultJob:
    plan: Plan
    name: str


def _run_fault(job: _FaultJob) -> Found:
    fault = next(fault for fault in FAULTS if fault.name == job.name)
    return faulty(fault, job.plan.seeds(job.plan.machines_for_faults), job.plan.per_kind)


def run_faults(plan: Plan, jobs: int) -> list[Found]:
    """Every kind of fault of the plan."""
    return spread(_run_fault, [_FaultJob(plan, fault.name) for fault in plan.faults()], jobs)


CHUNK = 50


def run_sound(plan: Plan, jobs: int) -> Sound:
    """Sound machines until there are as many axes as the plan wants."""
    result, number = Sound(), 0
    while result.axes < plan.axes:
        some = [
            range(seeded(plan.seed, first), seeded(plan.seed, first) + CHUNK)
            for first in range(number, number + CHUNK * jobs, CHUNK)
        ]
        number += CHUNK * jobs
        for part in spread(sound, some, jobs):
            result += part
    return result


SHARES = (0.0, 0.1, 0.2, 0.3, 0.4, 0.5)


@dataclass
class _ThinJob:
    plan: Plan
    machines: int
    share: float


def _run_thin(job: _ThinJob) -> Sound:
    return thinned(job.plan.seeds(job.machines), job.share)


def run_thinned(plan: Plan, machines: int, jobs: int) -> list[Sound]:
    """The same sound machines with more and more facts left out, by share."""
    return spread(_run_thin, [_ThinJob(plan, machines, share) for share in SHARES], jobs)
