"""``python -m tests.bench.speed``: how long axisproof takes, in ratios."""

from __future__ import annotations

import argparse
import platform
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

from .evaluators import rules
from .folder import folder
from .scale import FULL, QUICK, Bench, Scale
from .start import start
from .table import Row, markdown, shown, text
from .timing import BenchError
from .validation import validation
from .whole import findings, growth, joins, memory, whole

MEASURES: dict[str, Callable[[Bench], Iterator[Row]]] = {
    "start": start,
    "whole": whole,
    "findings": findings,
    "growth": growth,
    "joins": joins,
    "memory": memory,
    "validation": validation,
    "rules": rules,
    "folder": folder,
}


def measured(scale: Scale, names: list[str]) -> Iterator[Row]:
    """The rows of these measures, told on the error output as they come."""
    with tempfile.TemporaryDirectory() as folder:
        bench = Bench(scale, Path(folder))
        for name in names:
            for row in MEASURES[name](bench):
                print(f"{row.what}: {shown(row.median)}", file=sys.stderr, flush=True)
                yield row


def main(arguments: list[str] | None = None, scale: Scale | None = None) -> int:
    """Measure and print the table; 1 if a goal is missed, 2 if something cannot be measured."""
    wants = argparse.ArgumentParser(prog="python -m tests.bench.speed", description=__doc__)
    wants.add_argument("--markdown", action="store_true", help="the table of the README")
    wants.add_argument(
        "--only", action="append", default=[], choices=[*MEASURES], help="this measure alone"
    )
    wants.add_argument("--quick", action="store_true", help="up to 10,000 axes, fewer repetitions")
    wanted = wants.parse_args(arguments)
    chosen = scale or (QUICK if wanted.quick else FULL)
    try:
        rows = list(measured(chosen, wanted.only or [*MEASURES]))
    except ModuleNotFoundError as missing:
        print(f"there is no {missing.name}: pip install '.[bench]'", file=sys.stderr)
        return 2
    except BenchError as fault:
        print(fault, file=sys.stderr)
        return 2
    print("\n".join((markdown if wanted.markdown else text)(rows)))
    print(f"\n{about(chosen)}")
    return 1 if any(row.missed for row in rows) else 0


def about(scale: Scale) -> str:
    """How the figures came about."""
    python = f"{platform.python_implementation()} {platform.python_version()}"
    return (
        f"Processor time, things compared taken in turn; {python} on {platform.machine()}; "
        f"axes are random and sound, none like another; up to {scale.sizes[-1]:,} axes."
    )
