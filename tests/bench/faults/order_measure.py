"""Measures whether the first finding that somebody reads is the fault that was put in.

Run as ``python -m tests.bench.faults --part order``.
"""

from __future__ import annotations

import json
import tempfile
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from axisproof.catalogue.catalogue import shipped
from axisproof.engine.engine import Options, Results, check_machine
from axisproof.findings.finding import Finding
from axisproof.machine.reader import load_machine
from axisproof.report.summary_table import rank_on_axis

from .fault_list import FAULTS, FaultKind
from .measure import DAY, PER_MACHINE, map_in_processes, seeded, shared_machine
from .plain_axis import Plain, PlainAxis
from .swap_measure import last_commit_to_rules
from .verdicts import EXPECTED

MACHINES = 60
"""Machines that are looked through for axes on which a fault can be put."""


@dataclass(frozen=True)
class OrderRun:
    """A run: the seed (of the last commit to rules if None), axes per kind, processes, kinds."""

    seed: int | None
    per_kind: int
    jobs: int = 1
    kinds: tuple[str, ...] = ()


@dataclass
class OrderCounts:
    """What is read first where a fault of one kind was put in."""

    kind: str
    found: int = 0
    first: int = 0
    """Of the rule that must find the fault, or of one that its finding follows from."""
    points: int = 0
    """Of another rule, but its first mark is on what the fault changed."""
    before: Counter[str] = field(default_factory=Counter)
    """Rules whose finding stands before that of the fault and points elsewhere."""


def first_read(
    findings: Sequence[Finding], axis: str, expected: Sequence[str], changed: frozenset[str]
) -> tuple[str, str] | None:
    """What is read first where the fault shows, and its rule; None if no rule shows the fault.

    That is on the axis, or on the pair or machine if only they have a finding of it.
    """
    hits = [each for each in findings if each.rule in expected]
    subjects = [each.subject for each in hits]
    if not subjects:
        return None
    subject = axis if axis in subjects else subjects[0]
    first = min((each for each in findings if each.subject == subject), key=rank_on_axis)
    here = [each for each in hits if each.subject == subject]
    if first.rule in {*expected, *(cause for each in here for cause in each.follows)}:
        return "first", first.rule
    fact = first.marks[0].fact if first.marks else ""
    on_it = any(fact == each or fact.startswith((f"{each}.", f"{each}[")) for each in changed)
    return ("points" if on_it else "before"), first.rule


def changed_facts(before: Any, after: Any, path: str = "") -> Iterator[str]:
    """The paths of all that differs between two plain machines."""
    if isinstance(before, dict) and isinstance(after, dict):
        for key in before.keys() | after.keys():
            inner = f"{path}.{key}" if path else key
            yield from changed_facts(before.get(key), after.get(key), inner)
    elif isinstance(before, list) and isinstance(after, list) and len(before) == len(after):
        for at, (old, new) in enumerate(zip(before, after, strict=True)):
            yield from changed_facts(old, new, f"{path}[{at}]")
    elif before != after:
        yield path


def check_file(plain: Plain) -> Sequence[Finding]:
    """The findings of a plain machine that lies in a file, with the places that they mark."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "machine.json"
        file.write_text(json.dumps(plain), "utf-8")
        read = load_machine(file)
    read.facts["check_date"] = DAY
    found: Results = check_machine(read, "bench", shipped(), Options())
    findings: Sequence[Finding] = found.findings
    return findings


def order_of(fault: FaultKind, seeds: Sequence[int], most: int) -> OrderCounts:
    """Put a fault into at most ``most`` axes of these machines, and read what is told first."""
    result, tried = OrderCounts(fault.name), 0
    for seed in seeds:
        here, sound = 0, shared_machine(seed)
        for name in sound["axes"]:
            if tried == most or here == PER_MACHINE:
                break
            faulty = fault.on(PlainAxis(sound, name))
            if faulty is None:
                continue
            tried, here = tried + 1, here + 1
            changed = frozenset(changed_facts(sound, faulty.machine))
            expected = EXPECTED[fault.name]
            read = first_read(check_file(faulty.machine), name, expected, changed)
            result.found += read is not None
            result.first += read is not None and read[0] == "first"
            result.points += read is not None and read[0] == "points"
            result.before.update([read[1]] if read is not None and read[0] == "before" else [])
        if tried == most:
            break
    return result


@dataclass(frozen=True)
class OrderJob:
    name: str
    seed: int
    per_kind: int


def _run_order(job: OrderJob) -> OrderCounts:
    fault = next(fault for fault in FAULTS if fault.name == job.name)
    seeds = [seeded(job.seed, number) for number in range(MACHINES)]
    return order_of(fault, seeds, job.per_kind)


def run_order(run: OrderRun) -> list[OrderCounts]:
    """The results of every kind of fault of the run that a rule must find."""
    seed = int(last_commit_to_rules()[:8], 16) if run.seed is None else run.seed
    names = [fault.name for fault in FAULTS if fault.name in EXPECTED]
    jobs = [OrderJob(n, seed, run.per_kind) for n in names if not run.kinds or n in run.kinds]
    return map_in_processes(_run_order, jobs, run.jobs)


def order_table(counts: Sequence[OrderCounts]) -> list[str]:
    """A line for each kind where a consequence is read first, and the sums."""
    lines = []
    for each in counts:
        if each.before:
            before = ", ".join(f"{rule} ({count})" for rule, count in each.before.most_common())
            read = each.first + each.points
            lines.append(f"{each.kind}: {read}/{each.found}; read first: {before}")
    found, first, points = (sum(getattr(e, name) for e in counts) for name in SUMS)
    return [
        *lines,
        f"faults found: {found}",
        f"read first on its axis, by its rule or a cause of it: {first} ({_share(first, found)})",
        f"another rule first, whose first mark is the fault: {points} ({_share(points, found)})",
    ]


SUMS = ("found", "first", "points")


def _share(part: int, whole: int) -> str:
    return f"{part / max(1, whole):.1%}"


def order_main(run: OrderRun) -> int:
    """Print the table."""
    print("\n".join(order_table(run_order(run))))
    return 0
