"""The plan of a hanging axis carried out on a simulated one: the load never drops.

The axis is simulated from mechanics alone: a weight of mass x standard gravity (9.80665 m/s², CGPM
1901) on a screw, which takes (weight + friction) x lead / 2 pi / efficiency of the motor to lift
and weight x lead / 2 pi to hold, losses left out. It knows no plan: it is told which step is done.
"""

from __future__ import annotations

import copy
import json
import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from axisproof.swap.api import spare
from axisproof.swap.part import Kind
from axisproof.swap.result import PlanStep

from tests.swap.planned_work import DAY, axis_with, part_of

CLEARANCE = 3.0
"""How far the load is jogged off its support, in mm."""


class Dropped(Exception):
    """The load fell further than to a support just below it."""


@dataclass
class Hanging:
    """A load on a screw. ``above`` is its height above its support in mm.

    ``brake_good`` tells of the brake after the exchange; the one before it holds.
    """

    lift: float
    hold: float
    brake_good: bool
    supported: bool = False
    above: float = 0.0
    braked: bool = True
    enabled: bool = False
    taught: bool = True
    limit: float = math.inf
    fell: float = 0.0
    exchanged: bool = False

    def settle(self, step: str) -> None:
        """Let gravity act after a step."""
        by_brake = self.braked and (self.brake_good or not self.exchanged)
        by_motor = self.enabled and self.taught and self.limit >= self.hold
        if by_brake or by_motor or (self.supported and self.above == 0):
            return
        if not self.supported:
            raise Dropped(step)
        self.fell, self.above = self.above, 0.0

    def needs_support(self, step: str) -> None:
        """Release the brake with nothing but the support to hold the load."""
        self.braked = self.enabled = False
        self.settle(step)

    def do(self, step: PlanStep) -> None:
        """What the axis does when a step is carried out; others leave it as it is."""
        match step.name:
            case "support-load":
                self.supported = True
            case "exchange" | "turn-by-hand" | "commutation" | "commutation-first-enable":
                self.needs_support(step.name)
                self.exchanged = True
                self.taught = self.taught or step.name == "commutation"
            case "enable-on-support":
                said = re.search(r"Set the torque limit to ([0-9.]+) N·m", step.do)
                assert said, step.do
                self.limit, self.enabled, self.braked = float(said[1]), True, False
            case "jog-off-the-support":
                if self.enabled and self.taught and self.limit >= self.lift:
                    self.above = CLEARANCE
            case "brake-test" | "brake-holds-load":
                assert self.above > 0, "a brake that carries nothing proves nothing"
                self.braked, self.enabled = True, False
            case "take-support-away":
                self.supported = False
            case "low-torque-jog" | "limit-switches" | "home":
                self.braked, self.enabled = False, True
        self.settle(step.name)


def carried_out(axis: Hanging, steps: Sequence[PlanStep]) -> Hanging:
    """Do the steps in order, until one shows that the brake does not hold."""
    for step in steps:
        axis.do(step)
        if step.name in ("brake-test", "brake-holds-load") and axis.fell:
            break
    return axis


def steps_for(
    folder: Path, part: Kind, mass: float, friction: float, efficiency: float
) -> tuple[PlanStep, ...]:
    axis: dict[str, Any] = copy.deepcopy(axis_with("battery", True, True))
    axis["mechanics"] |= {
        "load_mass": f"{mass} kg", "friction_force": f"{friction} N", "efficiency": efficiency,
        "stages": [], "final": {"kind": "screw", "lead": "10 mm"},
    }  # fmt: skip
    machine, file = folder / "machine.json", folder / "spare.json"
    machine.write_text(json.dumps({"format": 1, "machine": "m", "axes": {"x": axis}}))
    file.write_text(json.dumps(part_of(part, axis)))
    plan = spare(machine, "x", part, file, on=DAY, plan=True).plan
    assert plan is not None
    return plan.steps


def hanging(mass: float, friction: float, efficiency: float, brake_good: bool = True) -> Hanging:
    """The axis of those numbers with a new part: nothing of its commutation is taught."""
    a_turn = 0.010 / (2 * math.pi)
    weight = mass * 9.80665
    lift = (weight + friction) * a_turn / efficiency
    return Hanging(lift, weight * a_turn, brake_good, taught=False)


@pytest.mark.parametrize(
    ("part", "mass", "friction", "efficiency"),
    [("motor", 60, 40, 0.86), ("drive", 7.5, 90, 0.35), ("encoder", 310, 0, 1)],
)
def test_the_load_never_drops_while_the_plan_is_carried_out(
    tmp_path: Path, part: Kind, mass: float, friction: float, efficiency: float
) -> None:
    steps = steps_for(tmp_path, part, mass, friction, efficiency)
    done = carried_out(hanging(mass, friction, efficiency), steps)
    assert not done.supported
    assert not done.fell
    # the limit carries load and friction, and hardly more than a quarter above
    assert done.lift * 1.25 <= done.limit <= done.lift * 1.25 + 0.01

    # a brake that does not hold is found while the support is just below
    found = carried_out(hanging(mass, friction, efficiency, brake_good=False), steps)
    assert found.fell == CLEARANCE
    assert found.supported

    # and the order matters: without the test of the brake, such a load drops
    brake = "brake-holds-load" if part == "encoder" else "brake-test"
    names = [step.name for step in steps]
    at, gone = names.index(brake), names.index("take-support-away")
    later = [*steps[:at], *steps[at + 1 : gone + 1], steps[at], *steps[gone + 1 :]]
    with pytest.raises(Dropped, match=brake):
        carried_out(hanging(mass, friction, efficiency, brake_good=False), later)

    # with the support taken away too early it drops, whatever the brake is worth
    early = [steps[gone], *steps[names.index("exchange") :]]
    with pytest.raises(Dropped, match="exchange"):
        carried_out(hanging(mass, friction, efficiency), early)
