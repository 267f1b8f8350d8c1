"""Whole checks of large machines, each in a fresh process, against loading their YAML."""

from __future__ import annotations

import math
import statistics
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path

from .scale import SpeedBench
from .table import MeasuredRow
from .timing import BenchError, TaskSample, in_turn, ratios, run_task


def clean_check(path: Path, *options: str) -> TaskSample:
    """Run a check that must have no finding and no undecided check."""
    found = run_task("check", path, *options)
    if found.output["findings"] or found.output["undecided"]:
        raise BenchError(f"{path.name} is not clean: {found.output}")
    return found


def _seconds(run: Callable[..., TaskSample], *arguments: object) -> Callable[[], float]:
    return lambda: run(*arguments).seconds


def whole_rows(bench: SpeedBench) -> Iterator[MeasuredRow]:
    """Rows: a clean machine as YAML and JSON against the YAML load, collector on and off."""
    axes = f"{bench.scale.axes:,} axes"
    yaml, json = bench.yaml("clean"), bench.json("clean")
    rules = clean_check(yaml).output["rules"]
    goals = {"yaml": (0.3, 0.85), "json": (0.21, 0.55)}
    for number, options in enumerate(((), ("gc-off",))):
        found = in_turn(
            bench.scale.repeats,
            {
                "load": _seconds(run_task, "yaml", yaml, *options),
                "yaml": _seconds(clean_check, yaml, *options),
                "json": _seconds(clean_check, json, *options),
            },
        )
        load = statistics.median(found["load"]) * 1e3
        for form in ("yaml", "json"):
            yield MeasuredRow(
                "whole",
                f"{axes} as {form.upper()}, whole check / yaml.load (CSafeLoader) of it"
                + (", garbage collector off" if options else ""),
                ratios(found[form], found["load"]),
                most=goals[form][number],
                note=f"{rules} rules, clean; the load took {load:.0f} ms here",
            )


def finding_rows(bench: SpeedBench) -> Iterator[MeasuredRow]:
    """Rows: missing facts, and a finding on every axis, against the clean machine."""
    axes = len(bench.of("clean")["axes"])
    output = {kind: run_task("check", bench.yaml(kind)).output for kind in ("thinned", "faulty")}
    if output["thinned"]["findings"] or not output["thinned"]["undecided"]:
        raise BenchError(f"facts left out brought {output['thinned']}")
    if output["faulty"]["subjects"] < axes:
        raise BenchError(f"{axes} axes with a fault brought {output['faulty']}")
    found = in_turn(
        bench.scale.repeats,
        {
            "clean": _seconds(clean_check, bench.yaml("clean")),
            "thinned": _seconds(run_task, "check", bench.yaml("thinned")),
            "faulty": _seconds(run_task, "check", bench.yaml("faulty")),
        },
    )
    yield MeasuredRow(
        "findings",
        "20 % of the facts left out / clean",
        ratios(found["thinned"], found["clean"]),
        most=1.3,
        note=f"{axes:,} axes as YAML; {output['thinned']['undecided']:,} checks undecided",
    )
    yield MeasuredRow(
        "findings",
        "a finding on every axis / clean",
        ratios(found["faulty"], found["clean"]),
        most=2,
        note=f"{axes:,} axes as YAML; {output['faulty']['findings']:,} findings",
    )


def slope(sizes: Sequence[int], seconds: Sequence[float]) -> float:
    """The slope of time over size on logarithmic scales (least squares); 1 is proportional."""
    return statistics.linear_regression([*map(math.log, sizes)], [*map(math.log, seconds)]).slope


def _slope_row(
    measure: str,
    name: str,
    sizes: Sequence[int],
    found: Mapping[str, Sequence[float]],
    note: str,
) -> MeasuredRow:
    """The slopes of each round, from the seconds for each size in turn."""
    rounds = [*zip(*found.values(), strict=True)]
    last = [slope(sizes[-2:], each[-2:]) for each in rounds]
    return MeasuredRow(
        measure,
        name,
        tuple(slope(sizes, each) for each in rounds),
        most=1.02,
        note=f"{note}; over the last step alone {statistics.median(last):.2f}",
    )


def growth_rows(bench: SpeedBench) -> Iterator[MeasuredRow]:
    """Row: the growth of the time of a check with the number of axes."""
    sizes = bench.scale.sizes
    found = in_turn(
        bench.scale.slopes,
        {str(size): _seconds(clean_check, bench.sized(size)) for size in sizes},
    )
    yield _slope_row(
        "growth",
        f"slope of time over {sizes[0]:,} to {sizes[-1]:,} axes, both logarithmic",
        sizes,
        found,
        "JSON, rules loaded anew each time, machines of at most 10,000 axes (the schema's bound)",
    )


def join_rows(bench: SpeedBench) -> Iterator[MeasuredRow]:
    """Row: the same growth for the rules about several axes, which can grow faster."""
    sizes = bench.scale.sizes
    path = bench.sized(sizes[0]) / "m0.json"

    def run(size: int) -> TaskSample:
        found = run_task("joins", path / str(size // sizes[0]))
        if found.output["findings"] or found.output["undecided"]:
            raise BenchError(f"{size} repeated axes are not clean: {found.output}")
        return found

    count = run(sizes[0]).output["rules"]
    found = in_turn(bench.scale.slopes, {str(size): _seconds(run, size) for size in sizes})
    yield _slope_row(
        "joins",
        f"slope of the rules across axes over {sizes[0]:,} to {sizes[-1]:,} axes",
        sizes,
        found,
        f"{count} rules alone, one machine in memory",
    )


def memory_rows(bench: SpeedBench) -> Iterator[MeasuredRow]:
    """Row: bytes for each fact of a machine in memory."""
    found = [run_task("memory", bench.yaml("clean")).output for _ in range(3)]
    count, peak = found[0]["facts"], statistics.median(each["peak"] for each in found)
    read = statistics.median(each["read"] for each in found)
    yield MeasuredRow(
        "memory",
        "bytes for each fact, places of all included",
        tuple(each["with_places"] / count for each in found),
        most=400,
        note=f"YAML, text included, tracemalloc; {read / count:.0f} before a place is asked for, "
        f"{peak / count:.0f} at the peak; {count:,} facts",
    )
