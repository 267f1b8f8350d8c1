"""Measures whether the first finding that somebody reads is the fault that was put in.

Run as ``python -m tests.bench.faults --part order``.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field

from axisproof.findings.finding import Finding
from axisproof.report.summary_table import rank_on_axis

from .fault_list import FAULTS, FaultKind
from .measure import PER_MACHINE, check_plain, map_in_processes, seeded, shared_machine
from .plain_axis import PlainAxis
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
    before: Counter[str] = field(default_factory=Counter)
    """Rules whose finding stands before that of the fault."""


def first_read(findings: Sequence[Finding], axis: str, expected: Sequence[str]) -> str | None:
    """The rule that is read first where the fault shows; None if no rule shows it.

    That is on the axis, or on the pair or machine if only they have a finding of it.
    """
    hits = [each for each in findings if each.rule in expected]
    subjects = [each.subject for each in hits]
    if not subjects:
        return None
    subject = axis if axis in subjects else subjects[0]
    first = min((each for each in findings if each.subject == subject), key=rank_on_axis)
    here = [each for each in hits if each.subject == subject]
    causes = {cause for each in here for cause in each.follows}
    return "" if first.rule in {*expected, *causes} else first.rule


def order_of(fault: FaultKind, seeds: Sequence[int], most: int) -> OrderCounts:
    """Put a fault into at most ``most`` axes of these machines, and read what is told first."""
    result, tried = OrderCounts(fault.name), 0
    for seed in seeds:
        here = 0
        for name in shared_machine(seed)["axes"]:
            if tried == most or here == PER_MACHINE:
                break
            changed = fault.on(PlainAxis(shared_machine(seed), name))
            if changed is None:
                continue
            tried, here = tried + 1, here + 1
            findings = check_plain(changed.machine).findings
            first = first_read(findings, name, EXPECTED[fault.name])
            result.found += first is not None
            result.first += first == ""
            result.before.update([first] if first else [])
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
    """A line for each kind whose fault is not read first, and the sums."""
    lines = []
    for each in counts:
        if each.before:
            before = ", ".join(f"{rule} ({count})" for rule, count in each.before.most_common())
            expected = " ".join(EXPECTED[each.kind])
            lines.append(f"{each.kind}: {each.first}/{each.found}; before {expected}: {before}")
    found, first = (sum(n) for n in zip(*((e.found, e.first) for e in counts), strict=True))
    share = first / max(1, found)
    return [*lines, f"faults found: {found}; read first on their axis: {first} ({share:.1%})"]


def order_main(run: OrderRun) -> int:
    """Print the table."""
    print("\n".join(order_table(run_order(run))))
    return 0
