"""A folder of many small machines: one process against as many as there are cores."""

from __future__ import annotations

import statistics
from collections.abc import Iterator
from functools import partial

from axisproof.fleet import cores

from .machines import DAY
from .scale import Bench
from .table import Row
from .timing import Spent, in_turn, process, ratios


def folder(bench: Bench) -> Iterator[Row]:
    """Whole runs of the command, in wall time, since that is what more processes are for."""
    path, most = str(bench.many()), cores()
    spent: dict[int, list[Spent]] = {1: [], most: []}

    def run(jobs: int) -> float:
        options = ("--on", DAY, "--jobs", str(jobs))
        spent[jobs].append(process("-m", "axisproof", "check", path, *options))
        return spent[jobs][-1].wall

    found = in_turn(bench.scale.slopes, {str(jobs): partial(run, jobs) for jobs in spent})
    more = statistics.median(
        ratios([each.processor for each in spent[most]], [each.processor for each in spent[1]])
    )
    yield Row(
        "folder",
        f"folder of {bench.scale.files:,} machines, wall time with 1 process / {most} processes",
        ratios(found["1"], found[str(most)]),
        least=0.7 * most,
        note=f"clean, 1 to 8 axes each, JSON; as many processes as cores, which take {more:.2f} "
        "times the processor time; wants an idle computer",
    )
