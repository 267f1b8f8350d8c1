"""Processor time of things done in turn, so that whatever else the machine does meets all alike."""

from __future__ import annotations

import gc
import json
import os
import resource
import subprocess
import sys
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from time import perf_counter, process_time
from typing import Any

ROOT = Path(__file__).resolve().parents[3]
"""The repository: where ``bench`` can be imported."""


class BenchError(Exception):
    """What was measured is not what it was taken for, so that its time means nothing."""


def in_turn(repeats: int, work: Mapping[str, Callable[[], float]]) -> dict[str, list[float]]:
    """What each piece of work gives, ``repeats`` times round, one after the other."""
    found: dict[str, list[float]] = {name: [] for name in work}
    for _ in range(repeats):
        for name, measure in work.items():
            found[name].append(measure())
    return found


def ratios(over: Sequence[float], under: Sequence[float]) -> tuple[float, ...]:
    """The ratio within each round."""
    return tuple(a / b for a, b in zip(over, under, strict=True))


def timed(work: Callable[[], object], rounds: int = 1) -> Callable[[], float]:
    """The processor seconds of doing something in this process, by one round of several."""

    def measure() -> float:
        gc.collect()
        start = process_time()
        for _ in range(rounds):
            work()
        return (process_time() - start) / rounds

    return measure


def environment() -> dict[str, str]:
    """The environment of a child: bytecode is cached and results are not, and it finds bench."""
    kept = {k: v for k, v in os.environ.items() if not k.startswith("COV_CORE")}
    for name in ("PYTHONDONTWRITEBYTECODE", "COVERAGE_PROCESS_START", "AXISPROOF_CACHE"):
        kept.pop(name, None)
    return {**kept, "PYTHONPATH": str(ROOT)}


@dataclass(frozen=True)
class Sample:
    """What one task in a process of its own took, and what it says about its result."""

    seconds: float
    told: dict[str, Any]


def sample(task: str, path: Path, *options: str) -> Sample:
    """Run a task of ``sample.py`` in a fresh interpreter: no value is known from before.

    Raises BenchError if it fails; it has said why.
    """
    command = [sys.executable, "-m", "tests.bench.speed.sample", task, str(path), *options]
    done = subprocess.run(command, env=environment(), stdout=subprocess.PIPE, cwd=ROOT, check=False)
    if done.returncode:
        raise BenchError(f"{task} on {path.name} failed")
    said = json.loads(done.stdout)
    return Sample(said.pop("seconds"), said)


@dataclass(frozen=True)
class Spent:
    """What a whole process took, its own children included."""

    processor: float
    wall: float


def process(*arguments: str) -> Spent:
    """Run Python with these arguments to its end, in silence.

    Raises BenchError if it does not end well.
    """
    started, before = perf_counter(), resource.getrusage(resource.RUSAGE_CHILDREN)
    done = subprocess.run(
        [sys.executable, *arguments], stdout=subprocess.DEVNULL, env=environment(), check=False
    )
    wall = perf_counter() - started
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    if done.returncode:
        raise BenchError(f"{' '.join(arguments)} ended with {done.returncode}")
    user, system = after.ru_utime - before.ru_utime, after.ru_stime - before.ru_stime
    return Spent(user + system, wall)
