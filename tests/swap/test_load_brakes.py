"""A swap on an axis with a brake on its load or a clamp: it is supported, and each brake is tested.

Expected by common practice: a brake or clamp is no support. Two brakes are tested one by one.
"""

from __future__ import annotations

import datetime
import json
from pathlib import Path
from typing import Any, Final

import pytest
from axisproof.swap.api import spare
from axisproof.swap.part import Kind
from axisproof.swap.result import SpareReport

BRAKES: Final = Path(__file__).parents[2] / "fixtures" / "sound" / "brakes.yaml"
DAY: Final = datetime.date(2026, 6, 1)


def swapped(axis: str, kind: Kind, file: Path = BRAKES, *, plan: bool = False) -> SpareReport:
    own = axis if file == BRAKES else None
    return spare(BRAKES, axis, kind, file, spare_axis=own, on=DAY, plan=plan)


def motor(tmp_path: Path, **facts: Any) -> Path:
    """The motor of the kegs, with other facts."""
    path = tmp_path / "motor.json"
    given: dict[str, Any] = {
        "serial": "M-1", "model": "SM80-24", "rated_speed": "3000 rpm", "max_speed": "4500 rpm",
        "rated_torque": "2.4 N·m", "peak_torque": "7.2 N·m", "inertia": "1.6 kg cm^2",
        "brake": "none", "commutation": "none",
    }  # fmt: skip
    path.write_text(json.dumps({"format": 1, "part": "motor", "motor": given | facts}))
    return path


def rules(report: SpareReport) -> set[str]:
    return {each.rule for each in (*report.broken, *report.warnings)}


@pytest.mark.parametrize("axis", ["crate_lift", "keg_lift", "lid_lift", "tray_hoist"])
def test_a_hanging_load_is_supported_and_what_holds_it_is_tested(axis: str) -> None:
    plan = swapped(axis, "motor", plan=True).plan
    assert plan is not None
    steps = {step.name: step for step in plan.steps}
    names = list(steps)
    held = "clamp-test" if axis == "lid_lift" else "load-brake-test"
    assert names.index("support-load") < names.index("exchange") < names.index("free-the-load")
    assert names.index("jog-off-the-support") < names.index(held)
    assert names.index(held) < names.index("take-support-away")
    assert ("brake-test" in steps) == (axis == "crate_lift")
    assert "is no support" in steps["support-load"].why
    assert ("on the load stays" in steps["support-load"].why) == (axis != "lid_lift")


def test_a_motor_without_its_brake_does_not_fit_although_the_load_has_one(tmp_path: Path) -> None:
    assert "spare-has-brake-like-fitted" in rules(swapped("crate_lift", "motor", motor(tmp_path)))


def test_a_motor_with_a_brake_of_its_own_asks_for_an_output(tmp_path: Path) -> None:
    brake = {
        "holding_torque": "4 N·m", "release_time": "60 ms", "apply_time": "30 ms", "voltage": "24 V"
    }  # fmt: skip
    with_brake = motor(tmp_path, brake=brake)
    assert "spare-brake-has-an-output" in rules(swapped("keg_lift", "motor", with_brake))
    hoist = {"rated_force": "90 N", "peak_force": "270 N", "moving_mass": "2 kg"}
    shared = motor(tmp_path, **hoist, brake=brake | {"holding_force": "180 N"})
    assert "spare-brake-has-its-own-output" in rules(swapped("tray_hoist", "motor", shared))
    assert "spare-brake-has-its-own-output" not in rules(swapped("tray_hoist", "motor"))


def test_the_brake_on_the_load_is_never_added_to_a_weaker_brake(tmp_path: Path) -> None:
    """The load takes 0.9365 N·m of the motor; 8 N·m on the screw do not help a brake of 0.9."""
    brake = {
        "holding_torque": "0.9 N·m", "release_time": "60 ms", "apply_time": "30 ms",
        "voltage": "24 V",
    }  # fmt: skip
    found = rules(swapped("crate_lift", "motor", motor(tmp_path, brake=brake)))
    assert {"brake-holds-load", "spare-brake-holds-like-fitted"} <= found


def test_a_drive_without_brake_output_does_not_fit_a_brake_on_the_load(tmp_path: Path) -> None:
    path = tmp_path / "drive.json"
    drive = {"serial": "D-1", "model": "AX", "brake_voltage": "none"}
    path.write_text(json.dumps({"format": 1, "part": "drive", "drive": drive}))
    found = rules(swapped("tray_hoist", "drive", path))
    assert {"spare-drive-switches-brake", "load-brake-has-an-output"} <= found
    assert "spare-drive-switches-brake" not in rules(swapped("keg_lift", "drive", path))
