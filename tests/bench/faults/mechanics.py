"""Random transmissions: stages, the final element to user units, and the numbers that follow.

Numbers are exact fractions where pi has no part. They are in the unit of the axis (mm, in, deg, …).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from random import Random
from typing import Any, Literal

from .plain_axis import PI, Plain, factor, in_unit, rounded, spelled

Kind = Literal[
    "screw", "lift", "hoist", "belt", "rack", "table", "measured_table", "conveyor", "slide",
    "swivel", "scale", "shuttle", "chain", "chain_hoist", "chain_conveyor", "nut",
    "helical_rack", "linear_lift", "wheel", "arm", "telescope",
]  # fmt: skip

ENDLESS: tuple[Kind, ...] = ("table", "measured_table", "conveyor", "chain_conveyor", "wheel")
CONVEYORS: tuple[Kind, ...] = ("conveyor", "chain_conveyor")
HANGING: tuple[Kind, ...] = ("lift", "hoist", "chain_hoist", "linear_lift", "arm")
ROTARY: tuple[Kind, ...] = ("table", "measured_table", "swivel", "wheel", "arm")
LINEAR_MOTORS: tuple[Kind, ...] = ("shuttle", "linear_lift")

MODULES = ("1 mm", "1.5 mm", "2 mm", "3 mm")
RATIOS = ("3", "4", "5", "7", "10", "12", "16", "49/5", "20/3", "16/3", "29/4", "81/10")

SCREWS: tuple[tuple[int, Fraction, tuple[tuple[int, str], ...]], ...] = (
    (16, Fraction(131, 10), ((5, "1"), (10, "2"), (16, "4"))),
    (20, Fraction(164, 10), ((5, "1"), (10, "2"), (20, "4"))),
    (25, Fraction(211, 10), ((5, "1"), (10, "2"), (25, "5"))),
    (32, Fraction(272, 10), ((5, "1"), (10, "1"), (20, "2"), (32, "4"))),
    (40, Fraction(343, 10), ((10, "1"), (20, "2"), (40, "4"))),
)
"""Nominal and root diameter in mm, then lead in mm with its number of starts (invented series)."""

CHAIN_PITCHES = ("8", "9.525", "12.7", "15.875", "19.05", "25.4")
"""Pitches of roller chains in mm (ISO 606, from memory)."""

SUPPORTS = {
    "fixed_free": (Fraction(344, 100), Fraction(1, 4)),
    "supported_supported": (Fraction(965, 100), Fraction(1)),
    "fixed_supported": (Fraction(1508, 100), Fraction(2)),
    "fixed_fixed": (Fraction(2188, 100), Fraction(4)),
}
"""Factors of critical speed (beam theory, 0.978 λ²) and of buckling (Euler)."""


@dataclass
class Transmission:
    """From motor shaft to load. ``feed`` is per driving shaft revolution, in the axis's unit."""

    unit: str
    stages: list[Plain]
    ratio: Fraction
    feed: Fraction
    has_pi: bool
    final: Plain
    sign: int
    """+1 if the load moves in its positive direction while the motor does."""
    extends: Fraction = Fraction(1)
    """Travel of the last section of a telescope over that of the driven one."""

    @property
    def per_turn(self) -> Fraction:
        """User units per motor revolution."""
        return self.feed / self.ratio

    @property
    def metres_per_radian(self) -> float:
        """Of a linear axis, at the motor."""
        return float(self.per_turn * factor(self.unit) / 1000) / math.tau


def up(value: float | Fraction, figures: int = 2) -> Fraction:
    """Rounded up to ``figures`` figures, as a careful person types a bound."""
    exact = Fraction(value)
    near = rounded(exact, figures)
    if near >= exact:
        return near
    return near + Fraction(10) ** (math.floor(math.log10(near)) - figures + 1)


def stage(rng: Random, kind: str) -> tuple[Plain, Fraction]:
    """One stage and its ratio."""
    if kind == "teeth":
        driver, driven = rng.choice((15, 16, 18, 20, 24)), rng.choice((30, 32, 40, 45, 48, 60))
        made: Plain = {"kind": rng.choice(("belt", "chain", "gearbox"))}
        made |= {"motor_side_teeth": driver, "load_side_teeth": driven}
        ratio = Fraction(driven, driver)
    elif kind == "worm":
        ratio = Fraction(rng.choice((10, 15, 20, 30)))
        made = {"kind": "worm", "motor_turns_per_load_turn": int(ratio)}
    else:
        text = rng.choice(RATIOS)
        ratio = Fraction(text)
        made = {"kind": "gearbox", "motor_turns_per_load_turn": _plate(rng, text)}
    return {**made, "reversing": rng.random() < 0.3}, ratio


def _plate(rng: Random, text: str) -> int | str:
    """A ratio as people write it: a whole number, a fraction, or a finite decimal."""
    ratio = Fraction(text)
    if ratio.denominator == 1:
        return int(ratio)
    return spelled(ratio) if rng.random() < 0.5 else text


STAGES: dict[Kind, tuple[tuple[str, ...], ...]] = {
    "screw": ((), (), ("teeth",)),
    "lift": ((), ("teeth",), ("gearbox",)),
    "hoist": (("gearbox",), ("gearbox", "teeth"), ("worm",)),
    "belt": (("gearbox",), ("teeth",), ("gearbox", "teeth")),
    "rack": (("gearbox",), ("worm",)),
    "table": (("gearbox",), ("worm",), ("teeth", "worm"), ("gearbox", "teeth")),
    "measured_table": (("gearbox",), ("worm",), ("gearbox", "teeth")),
    "conveyor": (("gearbox",), ("gearbox", "teeth"), ("worm",)),
    "slide": ((), ("teeth",)),
    "swivel": (("worm",), ("gearbox", "teeth")),
    "scale": ((), ("teeth",)),
    "shuttle": ((),),
    "chain": (("gearbox",), ("teeth",), ("worm",), ("gearbox", "teeth")),
    "chain_hoist": (("gearbox",), ("gearbox", "teeth"), ("worm",)),
    "chain_conveyor": (("gearbox",), ("gearbox", "teeth"), ("worm",)),
    "nut": ((), ("teeth",), ("teeth",)),
    "helical_rack": (("gearbox",), ("worm",)),
    "linear_lift": ((),),
    "wheel": (("gearbox",), ("teeth",)),
    "telescope": (("gearbox",), ("gearbox", "teeth"), ("worm",)),
    "arm": (("teeth", "worm"), ("gearbox", "worm"), ("gearbox", "gearbox", "teeth")),
}


def train(rng: Random, kind: Kind) -> Transmission:
    """A transmission for an axis of this kind."""
    stages, ratio, sign = [], Fraction(1), 1
    for each in rng.choice(STAGES[kind]):
        made, its = stage(rng, each)
        stages.append(made)
        ratio *= its
        sign = -sign if made["reversing"] else sign
    direction = rng.choice(("same", "same", "reversed"))
    sign = -sign if direction == "reversed" else sign
    if kind in ROTARY:
        unit = rng.choice(("deg", "deg", "deg", "rev", "arcmin"))
        final: Plain = {"kind": "direct" if kind in ("swivel", "arm") else "rotary_table"}
        feed, has_pi = Fraction(1), False
    else:
        unit = rng.choice(("mm", "mm", "mm", "mm", "in", "cm", "m"))
        final, feed, has_pi = _final(rng, kind)
    extends = Fraction(1)
    if kind == "telescope":
        extends = rng.choice((Fraction(2), Fraction(2), Fraction(3), Fraction(5, 2), Fraction(4)))
    final["direction"] = direction
    feed *= extends
    return Transmission(unit, stages, ratio, feed / factor(unit), has_pi, final, sign, extends)


def _final(rng: Random, kind: Kind) -> tuple[Plain, Fraction, bool]:
    if kind in LINEAR_MOTORS:  # the feed is that of a motor of like size that turns
        return {"kind": "direct"}, Fraction(rng.choice((20, 40, 60))), False
    if kind == "telescope":
        return _final(rng, rng.choice(("belt", "rack", "chain")))
    if kind in ("belt", "hoist") or (kind == "conveyor" and rng.random() < 0.6):
        teeth, pitch = rng.randint(16, 40), Fraction(rng.choice((5, 8, 10, Fraction(254, 10))))
        return (
            {"kind": "belt", "teeth": teeth, "pitch": spelled(pitch, "mm")},
            teeth * pitch,
            False,
        )
    if kind in ("chain", "chain_hoist", "chain_conveyor"):
        # A chain lies round its sprocket as a polygon, but each turn moves a whole number of links.
        teeth, pitch = rng.randint(12, 25), Fraction(rng.choice(CHAIN_PITCHES))
        return (
            {"kind": "chain", "teeth": teeth, "pitch": spelled(pitch, "mm")},
            teeth * pitch,
            False,
        )
    if kind == "conveyor":
        diameter = rng.choice((60, 80, 89, 100))
        return {"kind": "roller", "diameter": f"{diameter} mm"}, diameter * PI, True
    if kind == "rack":
        teeth, module = rng.choice((18, 20, 22, 25)), rng.choice(MODULES)
        straight = rng.random() < 0.4
        helix = "straight" if straight else "standard"
        arc = teeth * Fraction(module.split()[0])
        final = {"kind": "rack", "teeth": teeth, "module": module, "helix": helix}
        return final, arc * (PI if straight else Fraction(10, 3)), straight
    if kind == "helical_rack":
        teeth, module = rng.choice((18, 20, 22, 25)), rng.choice(MODULES)
        angle = rng.choice(("8", "10.5", "15", "20", "22.5", "25", "30"))
        final = {"kind": "rack", "teeth": teeth, "module": module, "helix_angle": f"{angle} deg"}
        cosine = Fraction(math.cos(math.radians(float(angle))))
        return final, teeth * Fraction(module.split()[0]) * PI / cosine, True
    nominal, root, leads = rng.choice(SCREWS)
    lead, starts = rng.choice(leads)
    thread = spelled(Fraction(lead, int(starts)), "mm")
    final = {"kind": "screw", "lead": f"{lead} mm", "starts": int(starts), "pitch": thread}
    final |= {"root_diameter": spelled(root, "mm"), "nominal_diameter": f"{nominal} mm"}
    if kind == "nut":
        final["turning_part"] = "nut"
    return final, Fraction(lead), False


def bear(rng: Random, final: Plain, span: Fraction, speed: Fraction, force: float) -> bool:
    """Give a screw bearings, in place, for ``span`` mm, rev/s and N; False if none suffice."""
    root = Fraction(final["root_diameter"].split()[0])
    nominal = int(final["nominal_diameter"].split()[0])
    length = up(span * Fraction(21, 20) + 40)
    good = []
    for support, (critical, euler) in SUPPORTS.items():
        rpm = critical * 10**7 * root / length**2
        # Euler, with 206 GPa (steel) and I = pi d^4/64, in N and mm.
        load = float(euler) * math.pi**2 * 206000 * math.pi * float(root) ** 4 / 64
        # A screw that stands does not whip, however fast its nut turns.
        calm = final.get("turning_part") == "nut" or rpm > speed * 60 * Fraction(13, 10)
        if calm and load / float(length) ** 2 > 2.5 * force:
            good.append(support)
    if not good:
        return False
    final["support"] = rng.choice(good)
    final["unsupported_length"] = spelled(length, "mm")
    if rng.random() < 0.5:
        final["speed_index"] = int(up(nominal * speed * 60 * Fraction(12, 10)))
    else:
        final["rated_speed"] = in_unit(up(speed * 60 * Fraction(12, 10)) / 60, "rpm")
    if final.get("turning_part") == "nut":
        final["nut_rated_speed"] = in_unit(up(speed * 60 * Fraction(12, 10)) / 60, "rpm")
    return True


def couplings(rng: Random, peak: Fraction, ratio: Fraction) -> list[dict[str, Any]]:
    """None, or one on the motor shaft and perhaps one behind the gears, for this peak torque."""
    made = []
    if rng.random() < 0.7:
        made.append({"rated_torque": spelled(up(peak * 2), "N·m"), "motor_turns_per_turn": 1})
        if ratio > 1 and rng.random() < 0.4:
            behind = spelled(up(peak * ratio * 2), "N·m")
            made.append({"rated_torque": behind, "motor_turns_per_turn": spelled(ratio)})
    return made
