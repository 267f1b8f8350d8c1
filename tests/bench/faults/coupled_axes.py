"""Sound pairs of axes that two motors move together, over one belt.

Dice of their own keep the other machines as they were.
"""

from __future__ import annotations

import copy
from fractions import Fraction
from random import Random

from .plain_axis import Plain, PlainAxis, spelled
from .wide_gantries import renamed

SPEEDS = ("motor.max_speed", "drive.max_speed", "encoder.max_speed")


def couple(seed: int, built: Plain) -> None:
    """Give some belt axes a second one that shares their motors, in place."""
    rng = Random(f"coupled {seed}")
    axes = built["axes"]
    for name in [*axes]:
        a = PlainAxis(built, name)
        alone = a.get("gantry") is None and not a.endless and a.get("motion") == "linear"
        if not name.startswith("belt") or not alone or rng.random() < 0.4:
            continue
        if a.method == 37 or not all(a.base(path) for path in SPEEDS):
            continue
        _add(rng, a, len(axes) + 1)


def _add(rng: Random, a: PlainAxis, number: int) -> None:
    """Copy the axis, and couple the two: one motor makes the sum, the other one the difference."""
    axes, other = a.machine["axes"], f"belt_{number}"
    share = rng.choice((Fraction(1), Fraction(1, 2), Fraction(2, 3)))
    if share > Fraction(1, 2):
        for path in SPEEDS:
            a.scale(path, 2)
    each = copy.deepcopy(a.facts)
    new = {
        each[part]["serial"]: f"{letter}-{number:05}"
        for part, letter in (("motor", "M"), ("encoder", "E"), ("drive", "D"))
    }
    axes[other] = renamed(each, new)
    axes[other]["drive"]["node"] = number
    ratios = [spelled(share), spelled(share), spelled(-share), spelled(share)]
    if rng.random() < Fraction(1, 2):
        ratios = [spelled(share), spelled(-share), spelled(share), spelled(share)]
    for name, partner, own, its in (
        (a.name, other, *ratios[:2]),
        (other, a.name, *ratios[2:]),
    ):
        axes[name]["differential"] = {"partner": partner, "own_ratio": own, "partner_ratio": its}
    first, second = rng.sample((a.name, other), 2)
    axes[first]["controller"]["homing"]["after"] = []
    axes[second]["controller"]["homing"]["after"] = [first]
    drive = axes[other]["drive"]
    node = {"address": number, "serial": drive["serial"], "firmware": drive["firmware"]}
    a.machine["network"]["nodes"].append({**node, "drive": True})
