"""Counts the facts that somebody types until three planted faults are met, in three orders.

Run as ``python -m tests.bench.asking`` (__main__.py).
"""

from __future__ import annotations

import argparse
import re
from collections.abc import Sequence
from dataclasses import dataclass

from axisproof.catalogue.catalogue import shipped
from axisproof.checking.assembling import wanted
from axisproof.engine.asking import Asking
from axisproof.machine.machine import Machine

from ..faults.measure import check_plain, map_in_processes, seeded
from ..guide_page import write_part
from .faulty import Faulty, faulty_machine, finds_in, read_bench
from .learned import askable, costs, facts_until_met, greedy_order, needs_of, typed_by
from .somebody import Somebody

BOUND = 1.2
"""Most facts that the tool may ask for, against the learned order."""

MACHINES, LEARNING = 50, 500
AFTER = (10, 25, 50, 100, 200, 400, 800)
"""Numbers of typed facts at which the curves are printed."""


@dataclass(frozen=True)
class Obeyed:
    """What was typed until each fault was met, in order, and whether all were met."""

    counts: tuple[int, ...]
    all_met: bool


class Requests:
    """The tool's own requests, as ``axisproof ask`` makes them."""

    def __init__(self) -> None:
        self.asking = Asking(shipped())
        self.stated = ""

    def __call__(self, somebody: Somebody, machine: Machine) -> str:
        """The next fact."""
        checks = self.asking.open_checks(machine, self.stated)
        fact: str = self.asking.next_fact(checks, machine)
        self.stated = fact if fact.startswith("axes.") else ""
        return fact

    def not_known(self, fact: str) -> None:
        """Take note that the papers do not state a fact."""
        self.asking.not_known(fact)


class MostChecks:
    """The order before: the fact that most undecided checks want, on the first axis without it."""

    def __init__(self) -> None:
        self.declined: set[str] = set()

    def __call__(self, somebody: Somebody, machine: Machine) -> str:
        """The next fact."""
        for each in wanted(check_plain(somebody.file).undecided):
            for subject in each.subjects:
                fact = re.sub(r"^axis\.", f"axes.{subject}.", str(each.fact))
                if fact not in self.declined:
                    return fact
        return ""

    def not_known(self, fact: str) -> None:
        """Take note that the papers do not state a fact."""
        self.declined.add(fact)


def obey(machine: Faulty, requests: Requests | MostChecks) -> Obeyed:
    """Type what is asked for, one fact after the other, until the last planted fault is met."""
    somebody, left = Somebody(machine.plain), list(machine.faults)
    counts: list[int] = []
    while True:
        read = read_bench(somebody.file)
        met = [fault for fault in left if finds_in(read, fault.hits)]
        counts += [somebody.typed] * len(met)
        left = [fault for fault in left if fault not in met]
        fact = requests(somebody, read) if left else ""
        if not fact:
            return Obeyed((*counts, *[somebody.typed] * len(left)), not left)
        if not somebody.answer(fact):
            requests.not_known(fact)


@dataclass(frozen=True)
class Job:
    """One machine in one order; ``order`` is the learned one."""

    name: str
    seed: int
    order: tuple[str, ...] = ()


def work(job: Job) -> Obeyed:
    """The result of one machine in one order."""
    machine = faulty_machine(job.seed)
    if job.name == LEARNED:
        return Obeyed(tuple(facts_until_met(typed_by(job.order, machine.plain), machine)), True)
    return obey(machine, Requests() if job.name == ASKED else MostChecks())


def learn(seed: int) -> tuple[Faulty, list[frozenset[str]]]:
    """A machine to learn from, with the facts that show its faults."""
    machine = faulty_machine(seed)
    return machine, needs_of(machine)


ASKED, LEARNED, BEFORE = "axisproof ask", "learned order", "most checks first"


def main(arguments: Sequence[str] | None = None) -> int:
    """Print the curves; return 1 if the tool asks for more than it may."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.asking", description=__doc__)
    parser.add_argument("--machines", type=int, default=MACHINES, help=f"machines ({MACHINES})")
    parser.add_argument("--learning", type=int, default=LEARNING, help=f"others ({LEARNING})")
    parser.add_argument("--seed", type=int, default=7, help="seed of all dice (7)")
    parser.add_argument("--jobs", type=int, default=2, help="processes (2)")
    parser.add_argument("--without-before", action="store_true", help="leave out the order before")
    parser.add_argument("--guide", action="store_true", help="write them into the guide, too")
    options = parser.parse_args(arguments)
    shipped()  # read once, for this process and its children
    others = [seeded(options.seed, 500_000 + number) for number in range(options.learning)]
    learned = map_in_processes(learn, others, options.jobs)
    needs = [need for _, some in learned for need in some]
    order = tuple(greedy_order(needs, costs([machine for machine, _ in learned])))
    seeds = [seeded(options.seed, number) for number in range(options.machines)]
    names = [LEARNED, ASKED, *([] if options.without_before else [BEFORE])]
    jobs = [Job(name, seed, order) for name in names for seed in seeds]
    found = map_in_processes(work, jobs, options.jobs)
    results = {
        name: [each for job, each in zip(jobs, found, strict=True) if job.name == name]
        for name in names
    }
    papers = sum(len(askable(faulty_machine(seed).plain)) for seed in seeds)
    print("\n".join(table(results, papers)))
    if options.guide:
        write_part("asking", markdown(results, papers, options.learning))
    ratio = typed(results[ASKED]) / typed(results[LEARNED])
    return int(ratio > BOUND or not all(each.all_met for each in results[ASKED]))


def typed(results: Sequence[Obeyed]) -> int:
    """How many facts were typed until all faults were met."""
    return sum(each.counts[-1] for each in results)


@dataclass(frozen=True)
class Curve:
    """Shares of the faults that are met after the numbers of AFTER, and sums of one order."""

    name: str
    shares: tuple[float, ...]
    average: float
    times: float
    unmet: int


def curves(results: dict[str, list[Obeyed]]) -> list[Curve]:
    """The curve of each order."""
    found = []
    for name, some in results.items():
        counts = [count for each in some for count in each.counts]
        shares = tuple(sum(c <= n for c in counts) / len(counts) for n in AFTER)
        times = typed(some) / typed(results[LEARNED])
        unmet = sum(not each.all_met for each in some)
        found.append(Curve(name, shares, typed(some) / len(some), times, unmet))
    return found


def table(results: dict[str, list[Obeyed]], papers: int) -> list[str]:
    """The curves and the sums as lines; ``papers`` is the number of facts of all machines."""
    machines = len(results[LEARNED])
    lines = [f"{machines} machines, three faults each, {papers} facts in all their papers", ""]
    head = "".join(f"{number:>7}" for number in AFTER)
    lines.append(f"{'faults met after so many facts':32}{head}   all three, on average")
    for each in curves(results):
        share = "".join(f"{met:>7.0%}" for met in each.shares)
        lines.append(
            f"{each.name:32}{share}{each.average:>12.1f}  ({each.times:.2f} times)"
            + (f", {each.unmet} not met" if each.unmet else "")
        )
    return lines


def markdown(results: dict[str, list[Obeyed]], papers: int, learning: int) -> list[str]:
    """The table of the guide."""
    machines = len(results[LEARNED])
    lines = [
        f"{machines} machines, three faults each, {papers} facts in all their papers. The learned "
        f"order comes from {learning} other machines.",
        "",
        f"| faults met after so many facts | {' | '.join(map(str, AFTER))} "
        "| facts until all three | against the learned order | machines with a fault not met |",
        "|---|" + "--:|" * (len(AFTER) + 3),
    ]
    for each in curves(results):
        share = " | ".join(f"{met:.0%}" for met in each.shares)
        sums = f"{each.average:.1f} | {each.times:.2f} times | {each.unmet}"
        lines.append(f"| {each.name} | {share} | {sums} |")
    return lines
