"""What the tool says of every memory after every kind of work is what the table says."""

from __future__ import annotations

import copy
import datetime
import itertools
import json
import random
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any, Final, cast

import pytest
from axisproof.importing.entry import load_trees
from axisproof.swap.api import spare
from axisproof.swap.part import Kind
from axisproof.swap.result import MemoryFate, SpareReport

from tests.swap.memory_table import (
    LOAD,
    SWITCH,
    TABLE,
    TAUGHT,
    WORKS,
    Cell,
    cells,
    mark_of,
    with_consequences,
)

FIXTURES: Final = Path(__file__).parents[2] / "fixtures"
DAY: Final = datetime.date(2026, 3, 1)
EXHAUSTIVE: Final = pytest.mark.exhaustive
PLACES: Final[Mapping[str, tuple[tuple[str, ...], ...]]] = {
    memory: tuple(dict.fromkeys(c.place for c in cells(TABLE) if c.memory == memory))
    for memory in dict.fromkeys(cell.memory for cell in cells(TABLE))
}
INNOCENT: Final[Mapping[str, tuple[str, ...]]] = {
    "turns": ("battery", "encoder"),
    "zero": ("encoder",),
    "reference": ("controller",),
    "homed_flag": ("drive",),
    "commutation": ("encoder",),
    "motor_data": ("encoder",),
}


@lru_cache(maxsize=1)
def pusher() -> dict[str, Any]:
    plain = cast("dict[str, Any]", load_trees([FIXTURES / "sound" / "hall.yaml"])[0].plain)
    return cast(
        "dict[str, Any]", json.loads(json.dumps(plain["axes"]["infeed_pusher"], default=str))
    )


def axis_with(places: Mapping[str, tuple[str, ...] | None], base: str) -> dict[str, Any]:
    """An axis whose memories live there; None: the place is not stated."""
    axis = copy.deepcopy(pusher())
    axis["storage"] = {"turns": "encoder"}
    axis["motor"]["commutation"] = {"motor_serial": "M-20417", "encoder_serial": "E-99310"}
    axis["encoder"]["index_pulse"] = True
    axis["controller"]["homing"] |= {"method": 3, "switch": {"position": "-60 mm"}}
    axis["controller"]["unfolding"] = "tracked" if "wraps" in places else "symmetric"
    if base == "load":
        axis["encoder"]["mounted_on"] = "load"
        axis["mechanics"]["final"] = {"kind": "belt", "teeth": 2, "pitch": "5 mm"}
    if base == "switch":
        axis["encoder"] |= {"kind": "incremental", "turn_counter": {}}
        axis["drive"]["encoder_use"] = "incremental"
        axis["controller"]["homing"]["method"] = 19
    for memory, place in places.items():
        if memory == "turns":
            axis["encoder"]["turn_counter"] = turn_counter(place)
        elif place is not None and memory != "zero":
            fact = "offset" if memory == "reference" else memory
            axis["storage"][fact] = place[0]
    return axis


def turn_counter(place: tuple[str, ...] | None) -> dict[str, Any]:
    if place is None:
        return {"backup": "battery"}
    if place[0] == "batteryless":
        return {"backup": "batteryless", "battery": "none"}
    return {"backup": "battery", "battery": {"places": [place[1]], "life": "3 years"}}


def judge(axis: dict[str, Any], work: str, folder: Path) -> SpareReport:
    machine = folder / "machine.json"
    machine.write_text(json.dumps({"format": 1, "machine": "m", "axes": {"pusher": axis}}))
    kind = cast("Kind", work.removesuffix("_bare"))
    if work not in ("motor", "motor_bare", "encoder", "drive", "gearbox", "battery"):
        return spare(machine, "pusher", kind, on=DAY)
    part = spare_of(axis, work)
    file = folder / "spare.json"
    file.write_text(json.dumps({"format": 1, "part": kind, **part}))
    return spare(machine, "pusher", kind, file, on=DAY)


def spare_of(axis: dict[str, Any], work: str) -> dict[str, Any]:
    """The same part from stock; a motor is of another type."""
    if work == "gearbox":
        return {"gearbox": {"kind": "gearbox", "motor_turns_per_load_turn": 1}}
    if work == "battery":
        return {"battery": {"places": ["encoder"], "life": "3 years"}}
    records = {"motor_bare": ("motor",), "motor": ("motor", "encoder")}.get(work, (work,))
    part = {name: copy.deepcopy(axis[name]) for name in records}
    for name, record in part.items():
        record["serial"] = f"new {name}"
        record.pop("serial_at_calibration", None)
        if name == "motor":
            record["model"] = "of another type"
    if work == "motor_bare":
        part["encoder"] = "none"
    return part


def mark(fate: MemoryFate | None) -> str:
    if fate is None:
        return "."
    if fate.lost.why:
        return "L"
    if fate.wrong.why:
        return "W"
    return "r" if fate.at_risk.why else "."


def fates(report: SpareReport) -> dict[str, MemoryFate]:
    return {fate.memory: fate for fate in report.memories}


def possible(cell: Cell) -> bool:
    return cell.work != "battery" or cell.place[0] == "battery" or cell.memory != "turns"


def with_stage(axis: dict[str, Any], work: str) -> dict[str, Any]:
    if work == "gearbox":
        axis["mechanics"]["stages"] = [{"kind": "gearbox", "motor_turns_per_load_turn": 1}]
    return axis


ALL: Final = [
    (base, cell)
    for base, table in (("", TABLE), ("load", LOAD), ("switch", SWITCH))
    for cell in cells(table)
    if possible(cell) and (base != "switch" or cell.work != "battery")
]


def name_of(base: str, cell: Cell) -> str:
    return f"{base or 'motor'} {cell.memory} {'-'.join(cell.place)} {cell.work}"


@pytest.mark.parametrize(
    ("base", "cell"),
    [
        pytest.param(base, cell, id=name_of(base, cell), marks=EXHAUSTIVE if base else ())
        for base, cell in ALL
    ],
)
def test_every_cell_of_the_table(base: str, cell: Cell, tmp_path: Path) -> None:
    places: dict[str, tuple[str, ...] | None] = dict(INNOCENT)
    if base == "load":
        places["reference"] = ("drive",)
    places[cell.memory] = cell.place
    axis = with_stage(axis_with(places, base), cell.work)
    if cell.memory == "motor_data" and cell.work == "motor_bare" and cell.place == ("encoder",):
        axis["motor"]["model"] = "of the fitted type"
    if base == "switch":
        axis["encoder"]["turn_counter"] = {}
        if cell.memory != "homed_flag":
            axis["controller"]["homed_flag_retained"] = False
    report = judge(axis, cell.work, tmp_path)
    found = fates(report)
    # Every memory that rests on another one is followed by itself, so its own cell is seen only
    # where what it rests on is untouched: the others live where this work leaves them alone.
    expected = {cell.memory: cell.mark}
    if cell.memory in ("reference", "homed_flag", "wraps"):
        table = {"": TABLE, "load": LOAD, "switch": SWITCH}[base]
        rests = {"reference": ("turns", "zero"), "wraps": ("turns",),
                 "homed_flag": ("turns", "zero", "reference")}[cell.memory]  # fmt: skip
        named = {(c.memory, c.place) for c in cells(table)}
        for memory in rests:
            place = places[memory] or ()
            source = table if (memory, place) in named else TABLE
            if base == "switch" and memory in ("turns", "zero"):
                continue
            if base == "load" and (memory, place) not in named:
                place = next(p for m, p in named if m == memory)
                if memory == "turns":
                    continue
                source = table
            expected[memory] = mark_of(source, memory, place, cell.work)
        expected = with_consequences(expected)
    assert mark(found.get(cell.memory)) == expected[cell.memory]
    if expected[cell.memory] in "LW":
        fate = found[cell.memory]
        answer = fate.lost if expected[cell.memory] == "L" else fate.wrong
        assert answer.certain
        taught = {lesson.what for lesson in report.lessons if not lesson.missing}
        assert TAUGHT[cell.memory] in taught


DRAWN: Final = tuple(
    dict(zip(PLACES, choice, strict=True))
    for choice in random.Random(20261128).sample(list(itertools.product(*PLACES.values())), 12)
)  # fmt: skip


@pytest.mark.parametrize("work", WORKS)
@pytest.mark.parametrize(
    "places",
    [
        pytest.param(places, id=str(number), marks=EXHAUSTIVE if number > 2 else ())
        for number, places in enumerate(DRAWN)
    ],
)
def test_memories_that_rest_on_each_other(
    places: dict[str, tuple[str, ...]], work: str, tmp_path: Path
) -> None:
    if work == "battery" and places["turns"][0] != "battery":
        work = "belt"
    axis = with_stage(axis_with(places, ""), work)
    found = fates(judge(axis, work, tmp_path))
    marks = {memory: mark_of(TABLE, memory, place, work) for memory, place in places.items()}
    expected = with_consequences(marks)
    assert {memory: mark(found.get(memory)) for memory in expected} == expected


@pytest.mark.parametrize("work", WORKS)
@pytest.mark.parametrize("memory", [memory for memory in PLACES if memory != "zero"])
def test_a_memory_whose_place_is_not_stated_is_taken_as_lost(
    memory: str, work: str, tmp_path: Path
) -> None:
    places: dict[str, tuple[str, ...] | None] = dict(INNOCENT) | {"wraps": ("drive",)}
    marks = {mark_of(TABLE, memory, place, work) for place in PLACES[memory]}
    places[memory] = None
    axis = with_stage(axis_with(places, ""), work)
    report = judge(axis, work, tmp_path)
    fate = fates(report)[memory]
    if not marks & {"L", "W"}:
        assert mark(fate) in (".", "r", "W")
        return
    assert mark(fate) in "LW"
    assert TAUGHT[memory] in {lesson.what for lesson in report.lessons}
    if "." in marks and mark(fate) == "L":
        fact = {"turns": "encoder.turn_counter.battery", "reference": "storage.offset"}
        expected = fact.get(memory, f"storage.{memory}")
        named = f"axes.pusher.{expected}"
        assert any(fact == named or fact.startswith(f"{named}.") for fact in fate.lost.missing)


def test_a_swap_of_the_drive_teaches_the_turns_where_the_battery_is_in_the_drive(
    tmp_path: Path,
) -> None:
    axis = axis_with({**INNOCENT, "turns": ("battery", "drive")}, "")
    report = judge(axis, "drive", tmp_path)
    assert {"turns", "reference", "homed_flag"} <= {lesson.what for lesson in report.lessons}
    axis = axis_with({**INNOCENT, "turns": ("battery", "cable")}, "")
    kept = judge(axis, "drive", tmp_path)
    assert "turns" not in {lesson.what for lesson in kept.lessons}


@pytest.mark.parametrize("base", ["", "load", "switch"])
@pytest.mark.parametrize("place", [("battery", "cable"), ("batteryless",)])
def test_work_on_a_chain_does_what_work_on_a_belt_does(
    base: str, place: tuple[str, ...], tmp_path: Path
) -> None:
    places = {**INNOCENT, "turns": place, "reference": ("drive",)}
    axis = axis_with(places, base)
    chain = copy.deepcopy(axis)
    if base == "load":
        chain["mechanics"]["final"]["kind"] = "chain"
    marks = [
        {memory: mark(fate) for memory, fate in fates(judge(each, work, tmp_path)).items()}
        for each, work in ((axis, "belt"), (chain, "chain"))
    ]
    assert marks[0] == marks[1]
    assert ("W" in marks[0].values()) == (base != "switch")
