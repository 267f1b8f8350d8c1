"""The torque curve of a motor comes and goes with the motor."""

from __future__ import annotations

import datetime
import json
from pathlib import Path
from typing import Any, cast

from axisproof.importing.entry import load_trees
from axisproof.swap.api import spare

SOUND = Path(__file__).parents[2] / "fixtures" / "sound" / "pallet.yaml"


def verdict(tmp_path: Path, **changes: Any) -> tuple[str, list[str], list[str]]:
    """Verdict, failed rules and facts to settle for a motor that differs from the fitted one."""
    plain = cast("dict[str, Any]", load_trees([SOUND])[0].plain)
    axis = json.loads(json.dumps(plain["axes"]["crate_pusher"], default=str))
    axis["motor"] |= {
        **{"pole_pairs": 4, "rated_voltage": "230 V", "flange": "none", "shaft": "none"},
        **{"rated_current": "1 A", "peak_current": "3 A"},
    }
    axis["drive"] |= {"rated_current": "2 A", "peak_current": "6 A"}
    machine, file = tmp_path / "machine.json", tmp_path / "spare.json"
    machine.write_text(json.dumps({"format": 1, "machine": "m", "axes": {"x": axis}}))
    motor = {**axis["motor"], "serial": "M-9"}
    encoder = {**axis["encoder"], "serial": "E-9"}
    motor = {name: value for name, value in {**motor, **changes}.items() if value is not None}
    part = {"format": 1, "part": "motor", "motor": motor, "encoder": encoder}
    file.write_text(json.dumps(part))
    report = spare(machine, "x", "motor", file, on=datetime.date(2026, 6, 1))
    return (
        report.verdict,
        sorted({each.rule for each in report.broken}),
        [each.fact for each in report.settle],
    )


def curve(*points: tuple[int, str, str]) -> dict[str, Any]:
    return {
        "voltage": "230 V",
        "points": [
            {"speed": f"{n} rpm", "continuous_torque": steady, "peak_torque": peak}
            for n, steady, peak in points
        ],
    }


def test_a_motor_with_the_same_curve_breaks_no_rule(tmp_path: Path) -> None:
    assert verdict(tmp_path)[1] == []


def test_a_spare_whose_torque_falls_earlier_does_not_fit(tmp_path: Path) -> None:
    falls = curve((800, "0.47 N·m", "1.38 N·m"), (2300, "0.3 N·m", "0.5 N·m"))
    found, broken, _ = verdict(tmp_path, torque_curve=falls)
    assert found == "does not fit"
    assert "acceleration-torque-at-top-speed" in broken


def test_a_spare_that_does_not_state_its_curve_is_asked_for_it(tmp_path: Path) -> None:
    _, broken, settle = verdict(tmp_path, torque_curve=None)
    assert broken == []
    assert "axes.x.motor.torque_curve" in settle
    assert "axes.x.motor.torque_curve" not in verdict(tmp_path)[2]
