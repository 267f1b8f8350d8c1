"""Axes of the hall with spare parts, and the plan of the work on them."""

from __future__ import annotations

import copy
import datetime
import json
from functools import lru_cache
from pathlib import Path
from typing import Any, cast

from axisproof.importing.entry import load_trees
from axisproof.swap.api import spare
from axisproof.swap.part import Kind
from axisproof.swap.result import PlanStep, SpareReport

HALL = Path(__file__).parents[2] / "fixtures" / "sound" / "hall.yaml"
DAY = datetime.date(2026, 3, 1)


@lru_cache(maxsize=1)
def hall_axes() -> dict[str, Any]:
    plain = cast("dict[str, Any]", load_trees([HALL])[0].plain)
    axes = json.loads(json.dumps(plain["axes"], default=str))
    return cast("dict[str, Any]", axes)


def axis_with(encoder: str, brake: bool, vertical: bool) -> dict[str, Any]:
    """The lift of the hall, altered."""
    axis = copy.deepcopy(hall_axes()["lift"])
    axis["mechanics"]["moved_by_gravity"] = vertical
    axis["motor"]["commutation"] = {"motor_serial": "M-1", "encoder_serial": "E-1"}
    axis["drive"]["discharge_time"] = "7 min"
    axis["storage"] = {"turns": "encoder", "offset": "drive", "motor_data": "drive"} | {
        "commutation": "drive"
    }
    if not brake:
        axis["motor"]["brake"] = "none"
    if encoder in ("incremental", "absolute_singleturn"):
        axis["encoder"]["kind"] = encoder
        for name in ("distinguishable_revolutions", "capability", "turn_counter"):
            axis["encoder"].pop(name)
        axis["drive"].pop("distinguishable_revolutions")
    if encoder == "incremental":
        axis["encoder"]["index_pulse"] = True
        axis["drive"]["encoder_use"] = "incremental"
        axis["controller"]["homing"]["method"] = "limit_switch_negative_index"
    if encoder == "batteryless":
        axis["encoder"]["turn_counter"] |= {"backup": "batteryless", "battery": "none"}
    return axis


def part_of(part: str, axis: dict[str, Any]) -> dict[str, Any]:
    """A spare like what is fitted."""
    plain: dict[str, Any] = {"format": 1, "part": part}
    if part == "gearbox":
        return plain | {"gearbox": axis["mechanics"]["stages"][0]}
    if part == "battery":
        return plain | {"battery": {"places": ["cable"], "life": "3 years"}}
    plain[part] = copy.deepcopy(axis[part])
    plain[part]["serial"] = "NEW-1"
    if part == "motor":
        plain["encoder"] = copy.deepcopy(axis["encoder"]) | {"serial": "NEW-2"}
    return plain


def before(names: tuple[str, ...], first: str, second: str) -> bool:
    """Whether every step is there and in this order."""
    return names.index(first) < names.index(second)


def planned(
    folder: Path, axis: dict[str, Any], part: Kind = "encoder"
) -> tuple[SpareReport, dict[str, PlanStep]]:
    """The report for a part like what is fitted, and the steps of its plan by name, in order."""
    machine, file = folder / "machine.json", folder / "spare.json"
    machine.write_text(json.dumps({"format": 1, "machine": "m", "axes": {"x": axis}}))
    file.write_text(json.dumps(part_of(part, axis)))
    report = spare(machine, "x", part, file, on=DAY, plan=True)
    assert report.plan is not None
    return report, {step.name: step for step in report.plan.steps}


def touched(folder: Path, axis: dict[str, Any], work: Kind) -> dict[str, PlanStep]:
    """The steps of the plan of a work that needs no spare."""
    machine = folder / "machine.json"
    machine.write_text(json.dumps({"format": 1, "machine": "m", "axes": {"x": axis}}))
    report = spare(machine, "x", work, on=DAY, plan=True)
    assert report.plan is not None
    return {step.name: step for step in report.plan.steps}
