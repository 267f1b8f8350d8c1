"""Rows of this checkout beside those of an earlier one, measured in turn.

Run as ``python -m tests.bench.speed.versions EARLIER [--only MEASURE] [--rounds N]``.
``EARLIER`` is the folder of another checkout, with its own ``.venv`` in which its bench runs.
"""

from __future__ import annotations

import argparse
import statistics
import subprocess
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from .run import MEASURES
from .table import HEAD, shown
from .timing import ROOT, BenchError, environment

ALLOWED = 1.05
"""A row that is worse by more than this is named."""


@dataclass(frozen=True)
class Median:
    """The median of a row, and its goal as the table shows it (``≤ 2``, ``≥ 2`` or empty)."""

    value: float
    goal: str


def medians(table: str) -> dict[str, Median]:
    """The median and the goal of each row of a table that ``--markdown`` printed."""
    rows = (line.strip("|").split("|") for line in table.splitlines() if line.startswith("| "))
    cells = ([cell.strip() for cell in row] for row in rows)
    return {
        row[0]: Median(float(row[1]), row[3])
        for row in cells
        if len(row) == len(HEAD) and row[0] != HEAD[0]
    }


def run_bench(root: Path, python: Path, measure: str, quick: bool) -> dict[str, Median]:
    """Run one measure of a checkout. Raises BenchError if it prints no row."""
    module = "tests.bench.speed" if (root / "tests" / "bench" / "speed").is_dir() else "bench.speed"
    command = [str(python), "-m", module, "--markdown", "--only", measure]
    done = subprocess.run(
        command + ["--quick"] * quick,
        cwd=root,
        env={**environment(), "PYTHONPATH": str(root)},
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
        check=False,
    )
    found = medians(done.stdout)
    if not found:
        raise BenchError(f"{measure} of {root} gave no row")
    return found


def compared(
    before: Sequence[dict[str, Median]], after: Sequence[dict[str, Median]]
) -> Iterator[tuple[str, str, float, float]]:
    """Each row that all rounds have: its name, its goal, and the medians before and after."""
    for what, row in after[0].items():
        if all(what in each for each in (*before, *after)):
            old = statistics.median(each[what].value for each in before)
            new = statistics.median(each[what].value for each in after)
            yield what, row.goal, old, new


def main(arguments: list[str] | None = None) -> int:
    """Print the table; 1 if a row is worse than ``ALLOWED``, 2 if something cannot be measured."""
    wants = argparse.ArgumentParser(prog="python -m tests.bench.speed.versions")
    wants.add_argument("earlier", type=Path)
    wants.add_argument("--only", action="append", default=[], choices=[*MEASURES])
    wants.add_argument("--rounds", type=int, default=3)
    wants.add_argument("--quick", action="store_true")
    wanted = wants.parse_args(arguments)
    earlier = wanted.earlier.resolve()
    worse = False
    print("| ratio | before | after | after / before |\n|---|--:|--:|--:|")
    try:
        for measure in wanted.only or MEASURES:
            before, after = [], []
            for _ in range(wanted.rounds):
                before.append(
                    run_bench(earlier, earlier / ".venv/bin/python", measure, wanted.quick)
                )
                after.append(run_bench(ROOT, Path(sys.executable), measure, wanted.quick))
            for what, goal, old, new in compared(before, after):
                grown = " worse" if is_worse(goal, old, new) else ""
                worse = worse or bool(grown)
                print(
                    f"| {what} | {shown(old)} | {shown(new)} | {new / old:.3f}{grown} |", flush=True
                )
    except BenchError as fault:
        print(fault, file=sys.stderr)
        return 2
    return 1 if worse else 0


def is_worse(goal: str, before: float, after: float) -> bool:
    """Whether a row got worse by more than ``ALLOWED``; one without a goal is only stated."""
    if not goal:
        return False
    return (before / after if goal.startswith("≥") else after / before) > ALLOWED


if __name__ == "__main__":
    sys.exit(main())
