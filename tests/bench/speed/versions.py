"""Compares the rows of this checkout with those of an earlier one, measured in turn.

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
class RowMedian:
    """The median of a row, and its goal as the table shows it (``≤ 2``, ``≥ 2`` or empty)."""

    value: float
    goal: str


def medians(table: str) -> dict[str, RowMedian]:
    """The median and the goal of each row of a table that ``--markdown`` printed."""
    rows = (line.strip("|").split("|") for line in table.splitlines() if line.startswith("| "))
    cells = ([cell.strip() for cell in row] for row in rows)
    return {
        row[0]: RowMedian(float(row[1]), row[3])
        for row in cells
        if len(row) == len(HEAD) and row[0] != HEAD[0]
    }


def run_bench(root: Path, python: Path, measure: str, quick: bool) -> dict[str, RowMedian]:
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
    before: Sequence[dict[str, RowMedian]], after: Sequence[dict[str, RowMedian]]
) -> Iterator[tuple[str, str, float, float]]:
    """Each row that all rounds have: its name, its goal, and the medians before and after."""
    for what, row in after[0].items():
        if all(what in each for each in (*before, *after)):
            old = statistics.median(each[what].value for each in before)
            new = statistics.median(each[what].value for each in after)
            yield what, row.goal, old, new


def main(arguments: list[str] | None = None) -> int:
    """Print the table; return 1 if a row is worse than allowed, 2 if a measure is not possible."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.speed.versions")
    parser.add_argument("earlier", type=Path)
    parser.add_argument("--only", action="append", default=[], choices=[*MEASURES])
    parser.add_argument("--rounds", type=int, default=3)
    parser.add_argument("--quick", action="store_true")
    options = parser.parse_args(arguments)
    earlier = options.earlier.resolve()
    worse = False
    print("| ratio | before | after | after / before |\n|---|--:|--:|--:|")
    try:
        for measure in options.only or MEASURES:
            before, after = [], []
            for _ in range(options.rounds):
                before.append(
                    run_bench(earlier, earlier / ".venv/bin/python", measure, options.quick)
                )
                after.append(run_bench(ROOT, Path(sys.executable), measure, options.quick))
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
    """Whether a row is worse by more than ``ALLOWED``; a row without a goal never is."""
    if not goal:
        return False
    return (before / after if goal.startswith("≥") else after / before) > ALLOWED


if __name__ == "__main__":
    sys.exit(main())
