"""The time of a whole run on one axis, against the part that no such run can avoid."""

from __future__ import annotations

from collections.abc import Iterator

from .machines import DAY
from .scale import SpeedBench
from .table import MeasuredRow
from .timing import ProcessTimes, in_turn, ratios, run_process

BARE = (
    "import sys, yaml, lark, click;yaml.load(open(sys.argv[1], encoding='utf-8'), yaml.CSafeLoader)"
)


def start_rows(bench: SpeedBench) -> Iterator[MeasuredRow]:
    """Rows: a one-axis file checked by a new process."""
    one = str(bench.one())
    spent: dict[str, list[ProcessTimes]] = {"bare": [], "check": []}

    def run(name: str, *arguments: str) -> float:
        spent[name].append(run_process(*arguments))
        return spent[name][-1].processor

    work = {
        "bare": lambda: run("bare", "-c", BARE, one),
        "check": lambda: run("check", "-m", "axisproof", "check", one, "--on", DAY),
    }
    in_turn(2, work)  # bytecode is cached from here on
    for each in spent.values():
        each.clear()
    found = in_turn(bench.scale.starts, work)
    wall = ratios([each.wall for each in spent["check"]], [each.wall for each in spent["bare"]])
    yield MeasuredRow(
        "start",
        "one axis, new process / process that imports yaml, lark, click and parses the file",
        ratios(found["check"], found["bare"]),
        most=0.8,
        note=f"shipped rules, clean; wall time {MeasuredRow('', '', wall).median:.2f}",
    )
