"""Machines in which everything clashes: what is told of N things that clash has to cost N.

For each rule across axes, its failing examples are repeated in one machine. ``alike`` copies share
addresses, serial numbers, codes and pairs, so each thing clashes with all its copies. ``apart``
copies have their own, so each clashes within its copy alone. Axes are named anew in both.
"""

from __future__ import annotations

import copy
from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from pathlib import Path
from time import process_time
from typing import Any

from axisproof.catalogue.catalogue import Catalogue, shipped
from axisproof.engine.engine import Options, Results, check_machine
from axisproof.language.syntax import Rule
from axisproof.machine.reader import read_plain
from axisproof.machine.records import EPOCH, set_check_date
from axisproof.rulebook.example_machines import example_machine

from tests.bench.faults.plain_axis import Plain

from .machines import across_axes, clean, write_json, write_yaml
from .scale import SpeedBench
from .table import MeasuredRow
from .timing import BenchError, in_turn, ratios, run_task
from .whole_checks import slope

OWN = ("serial", "serial_at_calibration", "code")
"""Texts by which copies are told apart."""

RUNS = 3
"""A rule alone takes some hundredths of a second: the least of so many runs is its time."""


def copies(plain: Plain, count: int, *, alike: bool) -> Plain:
    """The axes of a machine ``count`` times, and the entries of its lists as often."""
    names = set(plain["axes"])
    made: Plain = {key: value for key, value in plain.items() if key != "axes"}
    made["axes"] = {}
    for number in range(count):
        for name, axis in plain["axes"].items():
            made["axes"][f"{name}_{number}"] = _copy(axis, names, number, alike)
    for key in ("conditions", "collision_pairs"):
        if isinstance(plain.get(key), list):
            made[key] = [_copy(each, names, n, alike) for n in range(count) for each in plain[key]]
    network = plain.get("network")
    if isinstance(network, dict) and isinstance(network.get("nodes"), list):
        nodes = [_copy(each, names, n, alike) for n in range(count) for each in network["nodes"]]
        made["network"] = {**network, "nodes": nodes}
    return made


def _copy(value: Any, axes: set[str], number: int, alike: bool, key: str = "") -> Any:
    if isinstance(value, dict):
        return {name: _copy(each, axes, number, alike, name) for name, each in value.items()}
    if isinstance(value, list):
        return [_copy(each, axes, number, alike, key) for each in value]
    if isinstance(value, str) and value in axes:
        return f"{value}_{number}"
    if not alike and key in OWN and value != "none":
        return f"{value}-{number}"
    if not alike and key in ("node", "address") and isinstance(value, int):
        return value + 30 * number
    return copy.copy(value)


def failing(catalogue: Catalogue, rule: Rule) -> Iterator[Plain]:
    """The machines of a rule's examples that break it."""
    for example in catalogue.examples[rule.name]:
        if example.kind == "fails":
            yield example_machine(catalogue, rule, example).plain


def judged(plain: Plain, catalogue: Catalogue) -> tuple[float, Results]:
    """The processor seconds of judging a machine, without reading it, and the results."""
    machine = read_plain(plain)
    set_check_date(machine.facts, EPOCH)
    start = process_time()
    results = check_machine(machine, "machine", catalogue, Options())
    return process_time() - start, results


def alone(catalogue: Catalogue, rule: Rule) -> Catalogue:
    """The catalogue with one rule in force."""
    entries = tuple(entry for entry in catalogue.entries if entry.name == rule.name)
    return replace(catalogue, entries=entries)


def one_address(axes: int) -> tuple[Plain, Plain]:
    """A sound machine, and the same with one address and one serial number for all of its axes.

    Nobody looked at its network, so that nothing but the clash is told of the second one.
    """
    whole = clean(axes)
    whole["network"].pop("nodes", None)
    clash: Plain = copy.deepcopy(whole)
    for axis in clash["axes"].values():
        axis["drive"] |= {"node": 5, "network": 1}
        _same_serial(axis)
    return whole, clash


def _same_serial(record: Any) -> None:
    """Give one serial number to all parts of an axis but the drive, wherever it stands."""
    for name, each in record.items():
        if isinstance(each, dict) and name != "drive":
            _same_serial(each)
        elif "serial" in name and "drive" not in name:
            record[name] = "S-1"


def clash_rows(bench: SpeedBench) -> Iterator[MeasuredRow]:
    """Rows: one address and one serial number for all axes, and each rule on its own clash."""
    axes, folder = bench.scale.axes, bench.folder
    apart, clash = one_address(axes)
    for form, write in (("yaml", write_yaml), ("json", write_json)):
        paths = [write(apart, folder / f"apart.{form}"), write(clash, folder / f"clash.{form}")]
        told = [run_task("check", path).output["findings"] for path in paths]
        if told[0] or not told[1]:
            raise BenchError(f"apart and clashing machines have {told} findings")
        work = {path.stem: partial(_seconds, path) for path in paths}
        found = in_turn(bench.scale.repeats, work)
        yield MeasuredRow(
            "clash",
            f"one address and one serial number for {axes:,} axes as {form.upper()} / apart",
            ratios(found["clash"], found["apart"]),
            most=1.5,
            note=f"whole checks; {told[1]} findings",
        )
    catalogue = shipped()
    sizes = (axes // 4, axes) if axes >= 400 else (axes, 2 * axes)
    for name in sorted(across_axes(catalogue)):
        yield _rule_row(catalogue, catalogue.rules[name], sizes)


def _seconds(path: Path) -> float:
    return run_task("check", path).seconds


def _rule_row(catalogue: Catalogue, rule: Rule, sizes: tuple[int, int]) -> MeasuredRow:
    """The slope of a rule's time over the number of its axes that clash; that of its worst."""
    one, worst = alone(catalogue, rule), (0.0, 0.0)
    findings = 0
    for plain in failing(catalogue, rule):
        seconds = []
        for size in sizes:
            made = copies(plain, max(1, size // len(plain["axes"])), alike=True)
            runs = [judged(made, one) for _ in range(RUNS)]
            seconds.append(min(took for took, _ in runs))
            results = runs[0][1]
        findings = max(findings, len(results.findings))
        worst = max(worst, (seconds[1], slope(sizes, seconds)))
    if not findings:
        raise BenchError(f"no copies of an example break {rule.name}")
    return MeasuredRow(
        "clash",
        f"slope of {rule.name} over {sizes[0]:,} to {sizes[1]:,} axes that all clash",
        (worst[1],),
        most=1.2,
        note=f"judged alone, {worst[0]:.3f} s; {findings:,} findings",
    )
