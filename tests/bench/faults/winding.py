"""Sound reels and drums, whose working diameter changes from layer to layer.

The numbers follow from the motor that the axis has, in another way than axisproof calculates them:
layer by layer. Dice of their own keep the machines as they were.
"""

from __future__ import annotations

import math
from fractions import Fraction
from random import Random

from .plain_axis import PI, Plain, PlainAxis, in_unit, rounded, spelled

WINDING = "mechanics.winding"
G = 9.80665
NEEDED = ("motor.max_speed", "drive.max_speed", "motor.rated_torque", "mechanics.efficiency")
MATERIALS = (Fraction(1, 20), Fraction(3, 25), Fraction(1, 4), Fraction(3, 4), Fraction(2))
"""Thickness of film, paper, felt and belts in mm."""


def wind_some(seed: int, built: Plain) -> None:
    """Make reels of some endless rotary axes and drums of some hoists of a machine, in place."""
    rng = Random(f"winding {seed}")
    for name in built["axes"]:
        dice, a = rng.random(), PlainAxis(built, name)
        if dice > 0.8 or a.partners or not all(a.base(path) for path in NEEDED):
            continue
        if (
            dice < 0.5
            and a.get("motion") == "rotary"
            and a.endless
            and a.get("mechanics.tilted_by") is None
        ):
            _make_reel(rng, a)
        elif name.startswith(("hoist", "chain_hoist")):
            _make_drum(rng, a)


def layer_diameters(empty: Fraction, thickness: Fraction, layers: int) -> list[Fraction]:
    """The working diameter of each layer in mm."""
    return [empty + 2 * thickness * number for number in range(layers)]


def torque_limit(a: PlainAxis) -> Fraction:
    """The torque in N·m that the motor can give for ever, as the drive is set."""
    limits = ("drive.torque_limit", "drive.torque_limit_positive", "drive.torque_limit_negative")
    known = [limit for path in limits if (limit := a.base(path)) is not None]
    return min(a.need("motor.rated_torque"), *known)


def line_speed_limit(a: PlainAxis, diameter: Fraction) -> Fraction:
    """The line speed in mm/s at which the axis reaches a limit of its speed at this diameter."""
    shaft = min(a.need("motor.max_speed"), a.need("drive.max_speed")) / a.ratio
    return min(shaft, a.need("controller.max_velocity")) * diameter * PI


def tension_limit(a: PlainAxis, diameter: Fraction) -> Fraction:
    """The pull in N at which the motor reaches its rated torque at this diameter (in mm)."""
    shaft = torque_limit(a) * a.ratio * a.need("mechanics.efficiency")
    return shaft / (diameter / 2000)


def weight(a: PlainAxis) -> Fraction:
    """The weight in N that hangs on a drum."""
    balanced = a.base("mechanics.counterbalance") or Fraction(0)
    return a.need("mechanics.load_mass") * Fraction(G) * (1 - balanced)


def _make_reel(rng: Random, a: PlainAxis) -> None:
    inertia = a.base("mechanics.load_inertia")
    if inertia is None or a.get("mechanics.unbalance") or a.get("controller.max_velocity") is None:
        return
    empty, thickness = Fraction(rng.choice((76, 90, 152))), rng.choice(MATERIALS)
    layers = rng.randint(20, 200) if thickness < 1 else rng.randint(10, 60)
    diameters = layer_diameters(empty, thickness, layers)
    full = diameters[-1] + (2 * thickness if rng.random() < 0.5 else 0)
    mass = inertia * Fraction(8, 10) * 8 / ((full / 1000) ** 2 + (empty / 1000) ** 2)
    changed = rng.random() < 0.6
    found = rng.choice(("sensor", "speed_ratio", "turn_count", "entered"))
    a.facts["mechanics"]["winding"] = {
        "empty_diameter": spelled(empty, "mm"),
        "full_diameter": spelled(full, "mm"),
        "thickness": spelled(thickness, "mm"),
        "layers": layers,
        "turns_per_layer": 1,
        "length": spelled(rounded(PI * sum(diameters) * Fraction(9, 10), 3) / 1000, "m"),
        "line_speed": in_unit(rounded(line_speed_limit(a, empty) * Fraction(8, 10), 3), "mm/s"),
        "tension": spelled(rounded(tension_limit(a, full) * Fraction(7, 10), 2), "N"),
        "full_mass": spelled(rounded(mass, 2), "kg"),
        "diameter_found_by": found,
        "reel_is_changed": changed,
        "change_clears_diameter": found != "sensor" or rng.random() < 0.5,
    }


def _make_drum(rng: Random, a: PlainAxis) -> None:
    """Put a drum in the place of the belt: its lowest layer has the feed that the belt had."""
    others = ("load_brake", "clamp", "tilted_by", "self_locking", "load_lock")
    if any(a.get(f"mechanics.{part}") for part in others) or a.get("second_encoder"):
        return
    if not a.get("mechanics.moved_by_gravity") or a.get("motor.brake") is None:
        return
    empty = rounded(a.feed / PI, 4)
    layers = rng.randint(2, 3)
    thickness = rounded(empty * Fraction(rng.uniform(0.02, 0.06)), 2)
    diameters = layer_diameters(empty, thickness, layers)
    if weight(a) > tension_limit(a, diameters[-1]) * Fraction(95, 100):
        return
    turns = math.ceil(a.span * Fraction(12, 10) / (PI * empty) / layers) + 2
    wound = PI * sum(diameters) * turns
    if a.multiturn and turns * layers * a.encoder_ratio > a.turns:
        return
    a.facts["mechanics"]["winding"] = {
        "empty_diameter": spelled(empty, "mm"),
        "full_diameter": spelled(diameters[-1], "mm"),
        "thickness": spelled(thickness, "mm"),
        "layers": layers,
        "turns_per_layer": turns,
        "length": in_unit(rounded((a.span + wound) / 2, 4), "m"),
        "reel_is_changed": False,
        "controller_follows": True,
    }
    direction = a.get("mechanics.final.direction")
    a.facts["mechanics"]["final"] = {"kind": "reel", "direction": direction}
    held = weight(a) * diameters[-1] / 2000 / a.ratio
    a.write("motor.brake.holding_torque", rounded(held * Fraction(22, 10), 3))
