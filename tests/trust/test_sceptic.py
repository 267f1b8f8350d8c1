"""Attempts to get a false all-clear out of `check` and `changes`, written without the rules.

Each takes a sound axis and makes it wrong, thin or vague in one way.
"""

from __future__ import annotations

import copy
import datetime
import json
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest
from axisproof.cli import main as cli
from axisproof.importing.entry import load_trees

HALL = Path(__file__).parents[2] / "fixtures" / "sound" / "hall.yaml"
GONE = object()
DAY = datetime.date(2026, 3, 1).isoformat()


@lru_cache(maxsize=1)
def hall() -> str:
    return json.dumps(load_trees([HALL])[0].plain, default=str)


def machine(folder: Path, name: str, edits: dict[str, Any]) -> Path:
    """One sound axis of the hall alone, altered."""
    plain = json.loads(hall())
    axis = plain["axes"]["infeed_pusher"]
    plain |= {"axes": {"infeed_pusher": axis}, "collision_pairs": []}
    nodes = plain["network"]["nodes"]
    plain["network"]["nodes"] = [node for node in nodes if node["address"] == 1]
    for path, value in edits.items():
        *above, last = path.split(".")
        holder = axis
        for key in above:
            holder = holder[int(key)] if isinstance(holder, list) else holder[key]
        if value is GONE:
            del holder[last]
        else:
            holder[last] = copy.deepcopy(value)
    file = folder / f"{name}.json"
    file.write_text(json.dumps(plain))
    return file


def ended(*arguments: object) -> int:
    return cli.run([*map(str, arguments), "--on", DAY])


WRONG: dict[str, dict[str, Any]] = {
    "no drive": {"drive": GONE},
    "no controller": {"controller": GONE},
    "no encoder": {"encoder": GONE},
    "no motor": {"motor": GONE},
    "no mechanics": {"mechanics": GONE},
    "no turns": {"drive.distinguishable_revolutions": GONE,
                 "encoder.distinguishable_revolutions": GONE},
    "no interlocks": {"interlocks": GONE},
    "a list without entries": {"interlocks": []},
    "a list that is not whole": {"interlocks": {"partial": []}},
    "an interlock that inhibits nothing": {"interlocks.0.inhibits": []},
    "released by an alarm reset too": {
        "interlocks.0.released_by": ["alarm_reset", "homing_and_calibration"]},
    "released by homing alone": {"interlocks.0.released_by": ["homing"]},
    "not latched": {"interlocks.0.latched": False},
    "position of no matter": {"controller.position_matters": False},
    "used as incremental": {"drive.encoder_use": "incremental"},
    "a reserved method": {"controller.homing.method": 15},
    "homing not stated": {"controller.homing": GONE},
    "never taught": {"controller.homing.taught": "none"},
    "teaching not stated": {"controller.homing.taught": GONE},
    "another unit": {"controller.counts_per_unit": "13107.2 count/in"},
    "a dispute": {"drive.distinguishable_revolutions": {
        "claims": [{"value": 65536, "source": "a"}, {"value": 4096, "source": "b"}]}},
    "the highest turn": {"drive.distinguishable_revolutions": 65535},
    "two batteries": {"encoder.turn_counter.battery.places": ["cable", "drive"]},
    "no switches": {"mechanics.limit_switches": "none"},
    "an input that is off": {"drive.limit_inputs.negative": "inhibited"},
    "a range of counts": {"drive.position_range": {"min": -100, "max": 100}},
    "metres for millimetres": {"controller.max_velocity": "500 m/s"},
    "both serials a mark": {"motor.serial": "M-…", "controller.homing.taught.motor_serial": "M-…"},
    "both serials a dash": {"motor.serial": "-", "controller.homing.taught.motor_serial": "-"},
}  # fmt: skip


@pytest.mark.parametrize("attempt", WRONG)
def test_no_attempt_gets_an_all_clear_out_of_a_check(attempt: str, tmp_path: Path) -> None:
    assert ended("check", machine(tmp_path, "sound", {})) == 0
    assert ended("check", machine(tmp_path, "wrong", WRONG[attempt])) in (1, 2)


CHANGED: dict[str, dict[str, Any]] = {
    "turns deleted": {"drive.distinguishable_revolutions": GONE},
    "a list no longer whole": {"interlocks": {"partial": []}},
    "teaching deleted": {"controller.homing.taught": GONE},
    "another kind of encoder": {"encoder.kind": "absolute_singleturn"},
    "an encoder nobody taught": {"encoder.serial": "E-1"},
    "the day of the battery deleted": {"encoder.turn_counter.battery.fitted_on": GONE},
    "gravity deleted": {"mechanics.moved_by_gravity": GONE},
    "no software limits": {"controller.software_limits": "none"},
    "inputs deleted": {"drive.limit_inputs": GONE},
    "another reference": {"controller.homing.reference_position": "-50 mm"},
    "both polarities": {"controller.polarity": "reversed", "drive.polarity": "reversed"},
    "keepers deleted": {"storage": GONE},
    "lead, feed and scaling together": {
        "mechanics.final.lead": "20 mm", "drive.feed_constant.feed": "20 mm",
        "controller.counts_per_unit": "6553.6 count/mm"},
}  # fmt: skip


@pytest.mark.parametrize("attempt", CHANGED)
def test_no_attempt_gets_an_all_clear_out_of_a_change(attempt: str, tmp_path: Path) -> None:
    old = machine(tmp_path, "old", {})
    assert ended("changes", old, machine(tmp_path, "new", CHANGED[attempt])) == 1
    assert ended("changes", old, machine(tmp_path, "same", {})) == 0
