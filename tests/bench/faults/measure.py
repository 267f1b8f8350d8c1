"""Runs the rules on sound, faulty and thinned machines and counts the results."""

from __future__ import annotations

import copy
import datetime
import json
from collections import Counter
from collections.abc import Callable, Collection, Iterable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field
from functools import cache
from importlib import resources
from random import Random
from typing import Any, Final, TypeVar

from axisproof.catalogue.catalogue import shipped
from axisproof.engine.engine import Options, Results, check_machine
from axisproof.machine.reader import read_plain

from . import (
    audited,
    bookkeeping,
    clamps,
    coupled,
    cranks,
    gantries,
    gearing,
    homing,
    index_marks,
    interlocking,
    kinds,
    limits,
    linear_motors,
    load_brakes,
    motion,
    motion_cycles,
    planted,
    planted_gravity,
    planted_limits,
    planted_reactions,
    plausible,
    second_encoder,
    swings,
    telescopes,
    torque_curves,
    turns,
    unseen,
    windings,
)
from .fault_list import FAULTS, FaultKind
from .newer_kinds import NewerAxes
from .plain_axis import Plain, PlainAxis
from .sound_machine import machine
from .verdicts import EXPECTED

LISTS = (
    gearing, kinds, turns, homing, limits, motion, linear_motors, load_brakes, clamps,
    swings, telescopes, windings, cranks, interlocking, bookkeeping,
    audited, planted, planted_gravity, planted_limits, planted_reactions, plausible,
    second_encoder, index_marks, gantries, coupled, torque_curves, motion_cycles, unseen,
)  # fmt: skip
"""The files that fill the list of faults, in the order of the report."""

DAY = (datetime.date(2026, 6, 1) - datetime.date(1970, 1, 1)).days * 86400
"""The day of the check, in seconds since 1970-01-01."""

PER_MACHINE = 2
"""Number of axes of one machine that get the same kind of fault, one at a time."""

In = TypeVar("In")
Out = TypeVar("Out")


def check_plain(plain: Plain) -> Results:
    """Findings and undecided checks of a plain machine."""
    read = read_plain(plain, headless=False)
    read.facts["check_date"] = DAY
    return check_machine(read, "bench", shipped(), Options())


def seeded(seed: int, number: int) -> int:
    """The seed of machine ``number`` in a run with ``seed``."""
    return seed * 1_000_000 + number


@cache
def shared_machine(seed: int) -> Plain:
    """A sound machine that several checks share; nobody may change it."""
    return machine(seed)


@dataclass
class SoundCounts:
    """The results of sound machines: each finding, in ``false``, is a fault of a rule."""

    axes: int = 0
    holds: int = 0
    undecided: Counter[str] = field(default_factory=Counter)
    false: list[tuple[int, str, str]] = field(default_factory=list)
    """Seed of the machine, rule, axis."""
    newer: NewerAxes = field(default_factory=NewerAxes)

    def add(self, seed: int, found: Results, silent: Collection[str] = ()) -> None:
        """Count the results of a machine. Findings of rules in ``silent`` are as they must be."""
        self.axes += found.axes
        self.holds += sum(tally.holds for tally in found.tallies)
        self.undecided.update(each.rule for each in found.undecided)
        self.false += [
            (seed, each.rule, each.subject) for each in found.findings if each.rule not in silent
        ]

    def __add__(self, other: SoundCounts) -> SoundCounts:
        return SoundCounts(
            self.axes + other.axes,
            self.holds + other.holds,
            self.undecided + other.undecided,
            self.false + other.false,
            self.newer + other.newer,
        )

    @property
    def share_undecided(self) -> float:
        """Share of undecided checks among those that apply or may apply."""
        undecided = self.undecided.total()
        return undecided / max(1, undecided + self.holds + len(self.false))


def check_sound(seeds: Iterable[int]) -> SoundCounts:
    """Check sound machines as they are."""
    result = SoundCounts()
    for seed in seeds:
        plain = machine(seed)
        found = check_plain(plain)
        result.add(seed, found)
        about = ([each.subject for each in part] for part in (found.findings, found.undecided))
        result.newer.add(plain, *about)
    return result


HOLDS_NOTHING: Final = ("vertical-axis-has-brake",)
"""Rules for which what nobody states holds no load: they may fail on a machine that says less."""


def check_thinned(seeds: Iterable[int], share: float) -> SoundCounts:
    """Check sound machines without this share of their facts."""
    result = SoundCounts()
    for seed in seeds:
        result.add(
            seed,
            check_plain(
                without_facts(shared_machine(seed), share, Random(f"thinned {seed} {share}"))
            ),
            HOLDS_NOTHING,
        )
    return result


def without_facts(whole: Plain, share: float, rng: Random) -> Plain:
    """A copy of a machine without this share of its facts."""
    plain = copy.deepcopy(whole)
    for axis in plain["axes"].values():
        _thin(axis, share, rng)
    for part in ("network", "conditions", "collision_pairs"):
        _thin(plain[part], share, rng)
    return plain


@cache
def required() -> frozenset[str]:
    """Names of facts that the schema requires, and of those that count as "no" if left out.

    A lock or a friction, for example, that nobody states holds no load.
    """
    text = resources.files("axisproof.schemas").joinpath("machine.schema.json").read_text("utf-8")
    names = {
        *("self_locking", "load_lock", "field_weakening", "position_matters"),
        *("friction_force", "friction_torque", "turning_part"),
    }

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
    """Remove facts in place: numbers, words and lists of words, but no records."""
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
class FaultCounts:
    """The results of one kind of fault."""

    kind: str
    injected: int = 0
    found: int = 0
    by: Counter[str] = field(default_factory=Counter)
    others: Counter[str] = field(default_factory=Counter)
    missed: list[tuple[int, str]] = field(default_factory=list)
    """Seed of the machine, and axis, of each fault without an expected finding."""

    @property
    def recall(self) -> float:
        return self.found / max(1, self.injected)


def check_faulty(fault: FaultKind, seeds: Sequence[int], most: int) -> FaultCounts:
    """Put a fault into at most ``most`` axes of these machines, one at a time."""
    result = FaultCounts(fault.name)
    expected = EXPECTED.get(fault.name, ())
    for seed in seeds:
        here = 0
        for name in shared_machine(seed)["axes"]:
            if here == PER_MACHINE or result.injected == most:
                break
            changed = fault.on(PlainAxis(shared_machine(seed), name))
            if changed is None:
                continue
            here += 1
            result.injected += 1
            rules = {finding.rule for finding in check_plain(changed.machine).findings}
            hit = rules.intersection(expected) if expected else rules
            result.by.update(hit)
            result.others.update(rules - hit)
            if hit:
                result.found += 1
            else:
                result.missed.append((seed, name))
        if result.injected == most:
            break
    return result


# --- in several processes -------------------------------------------------------------------------


def map_in_processes(work: Callable[[In], Out], over: Sequence[In], jobs: int) -> list[Out]:
    """The results of ``work`` in order, by ``jobs`` processes."""
    if jobs == 1:
        return [work(each) for each in over]
    with ProcessPoolExecutor(jobs) as pool:
        return list(pool.map(work, over))


@dataclass(frozen=True)
class FaultRun:
    """A run: the seed, the number of sound axes, and the number of axes for each kind of fault."""

    seed: int
    axes: int
    per_kind: int
    kinds: tuple[str, ...] = ()

    def seeds(self, count: int) -> list[int]:
        return [seeded(self.seed, number) for number in range(count)]

    @property
    def machines_for_faults(self) -> int:
        """Number of machines, enough for the rarest kinds."""
        return 20 * self.per_kind

    def faults(self) -> list[FaultKind]:
        """The faults of this run, concern by concern."""
        order = [each.__name__.rpartition(".")[2] for each in LISTS]
        chosen = [fault for fault in FAULTS if not self.kinds or fault.name in self.kinds]
        return sorted(chosen, key=lambda fault: order.index(fault.concern))


@dataclass
class FaultJob:
    run: FaultRun
    name: str


def _run_fault(job: FaultJob) -> FaultCounts:
    fault = next(fault for fault in FAULTS if fault.name == job.name)
    return check_faulty(fault, job.run.seeds(job.run.machines_for_faults), job.run.per_kind)


def run_faults(run: FaultRun, jobs: int) -> list[FaultCounts]:
    """The results of every kind of fault of the run."""
    return map_in_processes(_run_fault, [FaultJob(run, fault.name) for fault in run.faults()], jobs)


CHUNK = 50


def run_sound(run: FaultRun, jobs: int) -> SoundCounts:
    """Check sound machines until the run has enough axes."""
    result, number = SoundCounts(), 0
    while result.axes < run.axes:
        some = [
            range(seeded(run.seed, first), seeded(run.seed, first) + CHUNK)
            for first in range(number, number + CHUNK * jobs, CHUNK)
        ]
        number += CHUNK * jobs
        for part in map_in_processes(check_sound, some, jobs):
            result += part
    return result


SHARES = (0.0, 0.1, 0.2, 0.3, 0.4, 0.5)


@dataclass
class ThinningJob:
    run: FaultRun
    machines: int
    share: float


def _run_thin(job: ThinningJob) -> SoundCounts:
    return check_thinned(job.run.seeds(job.machines), job.share)


def run_thinned(run: FaultRun, machines: int, jobs: int) -> list[SoundCounts]:
    """The results of the same sound machines without more and more facts, by share."""
    return map_in_processes(
        _run_thin, [ThinningJob(run, machines, share) for share in SHARES], jobs
    )
