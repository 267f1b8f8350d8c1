"""Measures how long axisproof takes, in ratios: ``python -m tests.bench.speed``."""

from __future__ import annotations

import argparse
import platform
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

from ..guide_page import write_part
from .clashes import clash_rows
from .evaluators import evaluator_rows
from .many_files import folder_rows
from .peers import peer_rows
from .scale import FULL, QUICK, BenchScale, SpeedBench
from .start import start_rows
from .table import MeasuredRow, markdown, shown, text
from .timing import BenchError
from .validation import validation_rows
from .whole_checks import finding_rows, growth_rows, join_rows, memory_rows, whole_rows

MEASURES: dict[str, Callable[[SpeedBench], Iterator[MeasuredRow]]] = {
    "start": start_rows,
    "whole": whole_rows,
    "findings": finding_rows,
    "growth": growth_rows,
    "joins": join_rows,
    "clash": clash_rows,
    "memory": memory_rows,
    "validation": validation_rows,
    "rules": evaluator_rows,
    "peers": peer_rows,
    "folder": folder_rows,
}


def measured(scale: BenchScale, names: list[str]) -> Iterator[MeasuredRow]:
    """The rows of these measures; each is also printed to standard error at once."""
    with tempfile.TemporaryDirectory() as folder:
        bench = SpeedBench(scale, Path(folder))
        for name in names:
            for row in MEASURES[name](bench):
                print(f"{row.what}: {shown(row.median)}", file=sys.stderr, flush=True)
                yield row


def main(arguments: list[str] | None = None, scale: BenchScale | None = None) -> int:
    """Measure and print the table; return 1 if a goal is missed, 2 if a measure is not possible."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.speed", description=__doc__)
    parser.add_argument("--markdown", action="store_true", help="the table as Markdown")
    parser.add_argument("--guide", action="store_true", help="write it into the guide, too")
    parser.add_argument(
        "--only", action="append", default=[], choices=[*MEASURES], help="this measure alone"
    )
    parser.add_argument("--quick", action="store_true", help="up to 10,000 axes, fewer repetitions")
    options = parser.parse_args(arguments)
    chosen = scale or (QUICK if options.quick else FULL)
    try:
        rows = list(measured(chosen, options.only or [*MEASURES]))
    except ModuleNotFoundError as missing:
        print(f"there is no {missing.name}: pip install '.[bench]'", file=sys.stderr)
        return 2
    except BenchError as fault:
        print(fault, file=sys.stderr)
        return 2
    print("\n".join((markdown if options.markdown else text)(rows)))
    print(f"\n{about(chosen)}")
    if options.guide:
        write_part("speed", (about(chosen), "", *markdown(rows)))
    return 1 if any(row.missed for row in rows) else 0


def about(scale: BenchScale) -> str:
    """The conditions of the measurement."""
    python = f"{platform.python_implementation()} {platform.python_version()}"
    return (
        f"Processor time, things compared taken in turn; {python} on {platform.machine()}; "
        f"axes are random and sound, none like another; up to {scale.sizes[-1]:,} axes."
    )
