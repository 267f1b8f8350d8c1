"""How long a folder of many small files takes one process, two, and two workers of a scheduler.

    python -m tests.bench.computers [NUMBER] [--rounds N] [--workers N]

It needs the extra `cluster`. Scheduler and workers run on this computer, each a process of its own,
and are started before the clock. The three ways take turns, and each must print the same bytes. The
files are those of tests/bench/archive.py. Wall time wants an idle computer with a core for each
process. Processor time does not: the busiest process of a cluster is what bounds its wall time.
"""

from __future__ import annotations

import argparse
import json
import os
import resource
import statistics
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

from .archive import write_archive
from .speed.timing import BenchError, environment

DAY: Final = "2026-06-01"
DASK: Final = Path(sys.executable).with_name("dask")


@dataclass(frozen=True)
class Sample:
    """Seconds of one run: by the clock, of all processors, and of the busiest process known."""

    wall: float
    processor: float
    busiest: float
    output: bytes


def main() -> None:
    """Measure and print a table."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("number", nargs="?", type=int, default=10_000)
    parser.add_argument("--rounds", type=int, default=3)
    parser.add_argument("--workers", type=int, default=2)
    asked = parser.parse_args()
    with TemporaryDirectory() as name:
        folder = Path(name, "archive")
        write_archive(folder, asked.number)
        with _cluster(Path(name), asked.workers) as (address, pids):
            ways = {
                "1 process": ["--jobs", "1"],
                f"--jobs {asked.workers}": ["--jobs", str(asked.workers)],
                f"--cluster, {asked.workers} workers": ["--cluster", address],
            }
            found: dict[str, list[Sample]] = {way: [] for way in ways}
            for _ in range(asked.rounds):
                for way, options in ways.items():
                    found[way].append(_run(folder, options, pids))
    if len({sample.output for samples in found.values() for sample in samples}) != 1:
        raise BenchError("the reports are not the same bytes")
    print("\n".join(_table(asked.number, found)))


def _table(number: int, found: dict[str, list[Sample]]) -> Iterator[str]:
    one = next(iter(found.values()))
    rounds = f"median of {len(one)} rounds"
    yield f"{number:,} files, {rounds}; ratios are to 1 process in the same round."
    yield ""
    yield "| way | wall | ratio | processor | ratio | busiest process | ratio |"
    yield "|---|--:|--:|--:|--:|--:|--:|"
    for way, samples in found.items():
        cells = [way]
        for kind in ("wall", "processor", "busiest"):
            values = [getattr(sample, kind) for sample in samples]
            firsts = [getattr(sample, kind) for sample in one]
            shares = [value / first for value, first in zip(values, firsts, strict=True)]
            known = all(values)
            cells.append(f"{statistics.median(values):.1f} s" if known else "-")
            cells.append(f"{statistics.median(shares):.2f}" if known else "-")
        yield f"| {' | '.join(cells)} |"


def _run(folder: Path, options: list[str], pids: list[int]) -> Sample:
    """One run of the command; the processes of ``pids`` count if it uses them."""
    command = [sys.executable, "-m", "axisproof", "check", str(folder), "--on", DAY]
    command += ["--no-cache", "--fail-at", "never", *options]
    before = _children(), [_processor(pid) for pid in pids]
    start = time.perf_counter()
    done = subprocess.run(command, capture_output=True, env=environment(), check=False)
    wall = time.perf_counter() - start
    own = _children() - before[0]
    if done.returncode or done.stderr:
        raise BenchError(f"{' '.join(command)} ended with {done.returncode}: {done.stderr[:500]!r}")
    if "--jobs" in options:  # of several processes only the sum is known
        return Sample(wall, own, own if options[-1] == "1" else 0.0, done.stdout)
    others = [_processor(pid) - first for pid, first in zip(pids, before[1], strict=True)]
    return Sample(wall, own + sum(others), max(own, *others), done.stdout)


def _children() -> float:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def _processor(pid: int) -> float:
    """The processor seconds of a process that is still running."""
    fields = Path(f"/proc/{pid}/stat").read_text("utf-8").rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


@contextmanager
def _cluster(folder: Path, workers: int) -> Iterator[tuple[str, list[int]]]:
    """The address of a scheduler with workers on this computer, and their process ids."""
    where = folder / "scheduler.json"
    started: list[subprocess.Popen[bytes]] = []

    def start(*words: str) -> None:
        quiet = subprocess.DEVNULL
        command = [str(DASK), *words, "--no-dashboard"]
        started.append(subprocess.Popen(command, cwd=folder, stdout=quiet, stderr=quiet))

    try:
        start("scheduler", "--host", "127.0.0.1", "--port", "0", "--scheduler-file", str(where))
        address = _address(where)
        for _ in range(workers):
            start("worker", address, "--nthreads", "1", "--no-nanny")
        from distributed import Client

        with Client(address, set_as_default=False) as client:
            client.wait_for_workers(workers, timeout=60)
        yield address, [process.pid for process in started]
    finally:
        for process in reversed(started):
            process.kill()
            process.wait()


def _address(file: Path) -> str:
    """The address that a scheduler has written into its file."""
    for _ in range(600):
        if file.exists() and (text := file.read_text("utf-8")):
            return str(json.loads(text)["address"])
        time.sleep(0.1)
    raise BenchError("no scheduler starts here")


if __name__ == "__main__":
    main()
