"""Processor time of work done in turn, so that other load on the machine affects all work alike."""

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
    """The measured work is not the intended work, so its time means nothing."""


def in_turn(repeats: int, work: Mapping[str, Callable[[], float]]) -> dict[str, list[float]]:
    """The results of each piece of work, one after the other in ``repeats`` rounds."""
    found: dict[str, list[float]] = {name: [] for name in work}
    for _ in range(repeats):
        for name, measure in work.items():
            found[name].append(measure())
    return found


def ratios(over: Sequence[float], under: Sequence[float]) -> tuple[float, ...]:
    """The ratio within each round."""
    return tuple(a / b for a, b in zip(over, under, strict=True))


def timed(work: Callable[[], object], rounds: int = 1) -> Callable[[], float]:
    """The processor seconds of one of several runs of the work in this process."""

    def measure() -> float:
        gc.collect()
        start = process_time()
        for _ in range(rounds):
            work()
        return (process_time() - start) / rounds

    return measure


def environment() -> dict[str, str]:
    """The environment of a child process: it caches bytecode, no results, and finds the bench."""
    kept = {k: v for k, v in os.environ.items() if not k.startswith("COV_CORE")}
    for name in ("PYTHONDONTWRITEBYTECODE", "COVERAGE_PROCESS_START", "AXISPROOF_CACHE"):
        kept.pop(name, None)
    return {**kept, "PYTHONPATH": str(ROOT)}


@dataclass(frozen=True)
class TaskSample:
    """The time and the result of one task in a process of its own."""

    seconds: float
    output: dict[str, Any]


def run_task(task: str, path: Path, *options: str) -> TaskSample:
    """Run a task of ``sample.py`` in a new interpreter, which has no value in memory.

    Raises BenchError if the task fails; the task prints the reason.
    """
    command = [sys.executable, "-m", "tests.bench.speed.sample", task, str(path), *options]
    done = subprocess.run(command, env=environment(), stdout=subprocess.PIPE, cwd=ROOT, check=False)
    if done.returncode:
        raise BenchError(f"{task} on {path.name} failed")
    said = json.loads(done.stdout)
    return TaskSample(said.pop("seconds"), said)


@dataclass(frozen=True)
class ProcessTimes:
    """The times of a whole process, with its child processes."""

    processor: float
    wall: float


def run_process(*arguments: str) -> ProcessTimes:
    """Run Python with these arguments to its end, without output.

    Raises BenchError for an unexpected exit status.
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
    return ProcessTimes(user + system, wall)
