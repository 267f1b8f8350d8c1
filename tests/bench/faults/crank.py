"""Sound cranks: on rotary axes that turn a crank, and in the place of a belt on linear axes.

What the crank does is found by trying many angles, in another way than axisproof does it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from random import Random

from .plain_axis import PI, Plain, PlainAxis, in_unit, rounded, spelled
from .winding import WINDING

CRANK = "mechanics.crank"
STEPS = 1440
NEEDED = (
    *("motor.max_speed", "motor.rated_speed", "drive.max_speed", "mechanics.efficiency"),
    *("motor.peak_torque", "drive.torque_limit", "controller.max_velocity"),
)
OTHERS = (
    *("mechanics.load_brake", "mechanics.clamp", "mechanics.tilted_by", "mechanics.unbalance"),
    *("second_encoder", WINDING),
)


@dataclass(frozen=True)
class Crank:
    """Radius and rod in mm, and the reach in turns from the outer dead point."""

    radius: float
    rod: float
    low: float
    high: float

    def place(self, turns: float) -> float:
        """Distance of the slide from the shaft in mm."""
        angle = math.tau * turns
        return self.radius * math.cos(angle) + math.sqrt(
            self.rod**2 - (self.radius * math.sin(angle)) ** 2
        )

    def slope(self, turns: float) -> float:
        """Travel in mm for a turn at this angle."""
        step = 1e-5
        return abs(self.place(turns + step) - self.place(turns - step)) / (2 * step)

    @property
    def angles(self) -> list[float]:
        return [self.low + (self.high - self.low) * step / STEPS for step in range(STEPS + 1)]

    @property
    def slopes(self) -> tuple[float, float]:
        """The smallest and the largest travel for a turn."""
        found = [self.slope(each) for each in self.angles]
        return min(found), max(found)

    @property
    def stroke(self) -> float:
        places = [self.place(each) for each in self.angles]
        return max(places) - min(places)


def crank_of(a: PlainAxis) -> Crank:
    """The crank of an axis."""
    names = ("radius", "rod_length", "lowest_angle", "highest_angle")
    return Crank(*(float(a.need(f"{CRANK}.{name}")) for name in names))


def force_limit(a: PlainAxis, slope: float) -> Fraction:
    """The force in N at which the motor reaches its torque where a turn moves ``slope`` mm."""
    paths = ("drive.torque_limit", "drive.torque_limit_positive", "drive.torque_limit_negative")
    known = [limit for path in paths if (limit := a.base(path)) is not None]
    torque = min(a.need("motor.peak_torque"), *known) * a.ratio * a.need("mechanics.efficiency")
    return torque / (Fraction(slope) / 1000 / (2 * PI))


def crank_some(seed: int, built: Plain) -> None:
    """Give some axes of a machine a crank, in place."""
    rng = Random(f"crank {seed}")
    for name in built["axes"]:
        dice, a = rng.random(), PlainAxis(built, name)
        if dice > 0.6 or a.partners or not all(a.base(path) for path in NEEDED):
            continue
        if any(a.get(path) for path in OTHERS) or a.get("mechanics.moved_by_gravity"):
            continue
        if a.get("motion") == "rotary" and a.endless:
            _turn_a_crank(rng, a)
        elif name.startswith(("belt", "chain_", "slide")) and not a.endless:
            _replace_belt(rng, a)


def _state(rng: Random, a: PlainAxis, crank: Crank) -> Plain:
    steepest = crank.slopes[1]
    return {
        "radius": spelled(Fraction(crank.radius), "mm"),
        "rod_length": spelled(Fraction(crank.rod), "mm"),
        "lowest_angle": f"{round(crank.low * 360)} deg",
        "highest_angle": f"{round(crank.high * 360)} deg",
        "stroke": spelled(rounded(Fraction(crank.stroke), 4), "mm"),
        "slide_force": spelled(rounded(force_limit(a, steepest) * Fraction(7, 10), 2), "N"),
        "reference_angle": f"{rng.randint(70, 110)} deg",
        "reference_on_slide": rng.random() < 0.4,
    }


def _turn_a_crank(rng: Random, a: PlainAxis) -> None:
    radius = rng.randint(15, 120)
    crank = Crank(radius, radius * rng.choice((2.5, 3, 4, 5)), 0.0, 1.0)
    made = a.facts["mechanics"]["crank"] = _state(rng, a, crank)
    fastest = a.need("controller.max_velocity") * Fraction(crank.slopes[1])
    made["slide_speed"] = in_unit(rounded(fastest * Fraction(12, 10), 3), "mm/s")


def _replace_belt(rng: Random, a: PlainAxis) -> None:
    """Put a crank in the place of the final element: it moves at least as far for a turn."""
    low, high = Fraction(rng.randint(40, 60), 360), Fraction(rng.randint(110, 135), 360)
    share = rng.choice((2.5, 3, 4, 5))
    unit = Crank(1.0, share, float(low), float(high))
    radius = max(float(a.span) / unit.stroke, float(a.feed) / unit.slopes[0]) * 1.1
    near = float(rounded(Fraction(radius), 3)) + 1
    crank = Crank(near, near * share, float(low), float(high))
    slowest = a.need("controller.max_velocity") / Fraction(crank.slopes[0]) * a.ratio
    if slowest < a.need("motor.rated_speed") / 12:
        return
    counts = a.base("encoder.counts_per_revolution")
    if counts is None or a.base("mechanics.required_accuracy") is None:
        return
    direction = a.get("mechanics.final.direction")
    coarse = Fraction(crank.slopes[1]) / counts / a.encoder_ratio * 20
    if coarse > a.need("mechanics.required_accuracy"):
        a.write("mechanics.required_accuracy", rounded(coarse, 2))
    a.facts["mechanics"]["final"] = {"kind": "crank", "direction": direction}
    a.facts["mechanics"]["crank"] = _state(rng, a, crank) | {"controller_follows": True}
