"""Prints what `axisproof spare` says of random swaps that a simulation decides.

Run as ``python -m tests.bench.faults --part spares``.
"""

from __future__ import annotations

from dataclasses import dataclass

from .measure import map_in_processes
from .swap_linear import linear_outcomes
from .swap_measure import (
    SwapCounts,
    SwapJob,
    SwapOutcome,
    last_commit_to_rules,
    run_job,
    swap_kinds,
)

STRICT_SHARE = 0.005
"""Share of swaps for which the tool may be stricter than the simulation."""


@dataclass(frozen=True)
class SwapRun:
    """What is drawn. ``dice`` is the hash of the last commit to rules, unless it is given."""

    dice: str
    per_kind: int = 3
    pairs: int = 120
    name: str = ""
    """Only kinds with this in their name."""

    def jobs(self) -> list[SwapJob]:
        kinds = swap_kinds(self.dice, self.pairs)
        chosen = [at for at, kind in enumerate(kinds) if self.name in kind.name]
        return [SwapJob(self.dice, at, self.pairs, self.per_kind) for at in chosen]


def run_swaps(run: SwapRun, jobs: int) -> SwapCounts:
    """Draw every kind of the run, ask the tool, and compare."""
    whole = SwapCounts()
    for each in map_in_processes(run_job, run.jobs(), jobs):
        whole.outcomes += each.outcomes
        whole.nowhere += each.nowhere
    whole.outcomes += linear_outcomes(run.dice, run.per_kind, run.name)
    return whole


def swaps_main(seed: int | None, per_kind: int, jobs: int, name: str = "") -> int:
    """Print the table; return 1 for a wrong "fits", a missing lesson or too much strictness."""
    dice = last_commit_to_rules() if seed is None else str(seed)
    counts = run_swaps(SwapRun(dice, per_kind, name=name), jobs)
    print("\n".join(swap_table(dice, counts)))
    return 1 if swap_faults(counts) else 0


def swap_faults(counts: SwapCounts) -> list[str]:
    """What keeps the run from passing."""
    faults = [f"{each.kind}: wrong fit" for each in counts.outcomes if each.wrong_fit]
    faults += [f"{each.kind}: untaught" for each in counts.outcomes if each.untaught]
    strict = [f"{each.kind}: too strict" for each in counts.outcomes if each.strict]
    return faults + (strict if len(strict) > STRICT_SHARE * len(counts.outcomes) else [])


def swap_table(dice: str, counts: SwapCounts) -> list[str]:
    """A line for each part, the sums, and every swap that the tool judges otherwise."""
    lines = [
        f"dice: {dice}",
        "",
        f"{'part':16} kinds  swaps  fits  wrong fit  untaught  too strict  left open  in vain",
    ]
    groups = list(dict.fromkeys(each.group for each in counts.outcomes))
    for group in groups:
        lines.append(_line(group, [e for e in counts.outcomes if e.group == group]))
    lines += [_line("together", counts.outcomes), ""]
    lines += [told for each in counts.outcomes if (told := _offence(each))]
    lines += [f"no axis among the machines has a place for {name}" for name in counts.nowhere]
    return lines


def _line(title: str, some: list[SwapOutcome]) -> str:
    kinds = len({each.kind for each in some})
    fits = sum(each.true.startswith("fits") for each in some)
    sums = [
        sum(bool(getattr(each, name)) for each in some)
        for name in ("wrong_fit", "untaught", "strict", "vague", "in_vain")
    ]
    cells = f"{sums[0]:10} {sums[1]:9} {sums[2]:11} {sums[3]:10} {sums[4]:8}"
    return f"{title:16} {kinds:5} {len(some):6} {fits:5} {cells}"


def _offence(each: SwapOutcome) -> str:
    """What is wrong with one verdict; empty if nothing is."""
    told = []
    if each.wrong_fit:
        told.append(f"WRONG FIT ({each.wrong_fit})")
    if each.untaught:
        told.append(f"UNTAUGHT ({', '.join(each.untaught)})")
    if each.strict:
        told.append(f"too strict ({each.strict})")
    if each.in_vain:
        told.append(f"taught in vain ({', '.join(each.in_vain)})")
    if not told:
        return ""
    why = f"; {each.why[0]}" if each.why else ""
    return f"{each.kind} [axis {each.seed}]: {', '.join(told)}: said {each.said!r}{why}"
