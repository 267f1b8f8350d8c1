"""Scalings that no number equals: what to enter for a spare that counts otherwise."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from fractions import Fraction
from pathlib import Path
from typing import Any, cast

import pytest
from axisproof.importing.entry import load_trees
from axisproof.swap.api import spare
from axisproof.swap.result import SpareReport

from .test_spares import DAY, EXPECTED, FOLDER, HALL, below_axis

RACK = {"kind": "rack", "teeth": 20, "module": "2 mm", "helix_angle": "20 deg", "direction": "same"}
ROLLER = {"kind": "roller", "diameter": "42.567111 mm", "direction": "same"}
PER_TURN = {
    # z pi m / cos(helix angle), and pi d (gear geometry, from memory), by Python's own floats
    "rack": 20 * math.pi * 2 / math.cos(math.radians(20)), "roller": math.pi * 42.567111,
}  # fmt: skip
FINE = 1048576
"""Counts per revolution of the encoder in motor_finer_encoder.yaml; the fitted one has 131072."""


def on_irrational_feed(folder: Path, final: dict[str, Any], scaling: dict[str, Any]) -> SpareReport:
    """The judgement of a motor with a finer encoder on an axis with this final element."""
    plain = cast("dict[str, Any]", load_trees([HALL])[0].plain)
    name = EXPECTED["motor_finer_encoder"]["axis"]
    axis = json.loads(json.dumps(plain["axes"][name], default=str))
    axis["mechanics"] |= {"final": final}
    axis["controller"].pop("counts_per_unit", None)
    axis["controller"].pop("scaling", None)
    for group, facts in scaling.items():
        axis[group] |= facts
    axis["drive"] |= {
        "feed_constant": {"feed": f"{PER_TURN[final['kind']]:.8f} mm", "shaft_turns": 1}
    }
    machine = folder / "machine.json"
    machine.write_text(json.dumps({"format": 1, "machine": "m", "axes": {name: axis}}))
    return spare(machine, name, "motor", FOLDER / "motor_finer_encoder.yaml", on=DAY, plan=True)


def scalings(final: str, error: float = 0.0) -> dict[str, dict[str, Any]]:
    """The ways to state a scaling of 131072 counts per turn, this share too large."""
    per_turn = PER_TURN[final] / (1 + error)
    # A gear of 1310.72 / feed times 100 / 1: an increment of 0.001 mm.
    numerator = round(131072 / per_turn / 1000 * 10**7)
    gear = {
        "numerator": numerator, "denominator": 10**7, "multiplies": "command",
        "min_ratio": "1/1000", "max_ratio": 10000, "command_increment": "0.001 mm",
    }  # fmt: skip
    return {
        "number": {"controller": {"counts_per_unit": f"{131072 / per_turn:.7f} count/mm"}},
        "pair": {"controller": {"scaling": {"counts": 131072, "distance": f"{per_turn:.7f} mm"}}},
        "gear": {"drive": {"gear": gear}, "controller": {"counts_per_unit": "1000 count/mm"}},
    }  # fmt: skip


def counts_per_mm(writes: Mapping[str, str], before: dict[str, dict[str, Any]]) -> float:
    """What is scaled once these are written."""
    number = {name: Fraction(text.split()[0]) for name, text in writes.items() if text}
    if "drive" in before:
        return float(number["drive.gear.numerator"] / number["drive.gear.denominator"] * 1000)
    if "scaling" not in before["controller"]:
        return float(number["controller.counts_per_unit"])
    distance = number.get("controller.scaling.distance") or Fraction(
        before["controller"]["scaling"]["distance"].split()[0]
    )
    return float(number["controller.scaling.counts"] / distance)


@pytest.mark.parametrize("final", [RACK, ROLLER], ids=["rack", "roller"])
@pytest.mark.parametrize("way", ["number", "pair", "gear"])
@pytest.mark.parametrize("error", [0.0, 0.7e-6, 5e-6])
def test_a_scaling_that_cannot_be_exact_gets_numbers_to_enter(
    tmp_path: Path, final: dict[str, Any], way: str, error: float
) -> None:
    """A millionth is allowed where pi or a cosine is in it; what was wrong before is put right."""
    before = scalings(final["kind"], error)[way]
    report = on_irrational_feed(tmp_path, final, before)
    assert [each.rule for each in report.broken] == []
    writes = {below_axis(report, each.fact): each.new for each in report.writes}
    assert counts_per_mm(writes, before) == pytest.approx(FINE / PER_TURN[final["kind"]], rel=1e-6)
    assert report.plan is not None
    told = [f"{row.name} {row.value}" for step in report.plan.steps for row in step.rows]
    for fact, new in writes.items():
        if fact.startswith(("controller.", "drive.gear.")):
            assert any(fact in row and new in row for row in told), (fact, new, told)
