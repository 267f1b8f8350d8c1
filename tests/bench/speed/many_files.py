"""A folder of many small machines: several processes, shares for several computers, a cache."""

from __future__ import annotations

import statistics
from collections.abc import Iterator
from functools import partial

from axisproof.batch.workers import cores

from .machines import DAY
from .scale import SpeedBench
from .table import MeasuredRow
from .timing import ProcessTimes, in_turn, ratios, run_process, run_task

SHARES = 4


def folder_rows(bench: SpeedBench) -> Iterator[MeasuredRow]:
    """Rows: whole runs of the command on the folder."""
    path, most = str(bench.many()), cores()
    kept_in = str(bench.folder / "cache")
    runs: dict[str, tuple[str, ...]] = {
        "one": ("--jobs", "1", "--no-cache"),
        "most": ("--jobs", str(most), "--no-cache"),
        "share": ("--jobs", "1", "--no-cache", "--shard", f"1/{SHARES}"),
        "kept": ("--jobs", "1", "--cache", kept_in),
    }
    spent: dict[str, list[ProcessTimes]] = {name: [] for name in runs}

    def run(name: str) -> float:
        found = run_process("-m", "axisproof", "check", path, "--on", DAY, *runs[name])
        spent[name].append(found)
        return found.processor

    def longest(jobs: int) -> float:
        found = run_task("shared", bench.many() / str(jobs))
        return found.seconds + float(found.output["workers"]) / jobs

    run("kept")  # fills the cache
    filling = spent["kept"].pop().processor
    work = {name: partial(run, name) for name in runs}
    work |= {"alone": partial(longest, 1), "together": partial(longest, most)}
    found = in_turn(bench.scale.slopes, work)
    wall = {name: [each.wall for each in took] for name, took in spent.items()}
    more = statistics.median(ratios(found["most"], found["one"]))
    by_wall = statistics.median(ratios(wall["one"], wall["most"]))
    seconds = statistics.median(found["one"])
    what = f"folder of {bench.scale.files:,} machines"
    yield MeasuredRow(
        "folder",
        f"{what}, 1 process / {most} processes (the main one and an even share of the work)",
        ratios(found["alone"], found["together"]),
        least=0.7 * most,
        note=f"clean, 1 to 8 axes each, JSON, {seconds:.1f} s here; {more:.2f} times the processor "
        f"time in all; by wall time {by_wall:.2f} (wants an idle computer)",
    )
    yield MeasuredRow(
        "folder",
        f"{what}, whole / one of {SHARES} shares",
        ratios(found["one"], found["share"]),
        least=0.7 * SHARES,
        note=f"--shard 1/{SHARES}, 1 process",
    )
    yield MeasuredRow(
        "folder",
        f"{what}, unchanged with its cache / checked again",
        ratios(found["kept"], found["one"]),
        note=f"1 process; filling the cache took {filling / seconds:.2f} times a check without",
    )
