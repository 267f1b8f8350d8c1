"""Faults of reels and drums whose diameter changes, written before the rules that find them."""

from __future__ import annotations

from fractions import Fraction

from .fault_list import fault
from .plain_axis import PI, PlainAxis, rounded, spelled
from .winding import WINDING, line_speed_limit, tension_limit, weight

EMPTY, FULL = f"{WINDING}.empty_diameter", f"{WINDING}.full_diameter"


def _is_reel(a: PlainAxis) -> bool:
    return bool(a.get(WINDING)) and a.get("motion") == "rotary"


def _is_drum(a: PlainAxis) -> bool:
    return bool(a.get(WINDING)) and a.get("motion") == "linear"


@fault("winding-diameters-swapped", "enters the diameter of the full reel as that of the empty one")
def _(a: PlainAxis) -> bool:
    return bool(a.get(WINDING)) and a.swap(EMPTY, FULL)


@fault("winding-radius-as-diameter", "enters the radius of a full reel as its diameter")
def _(a: PlainAxis) -> bool:
    if not a.get(WINDING) or a.need(FULL) < Fraction(5, 2) * a.need(EMPTY):
        return False
    return a.scale(FULL, Fraction(1, 2))


@fault("winding-thickness-of-both-sides", "enters twice the thickness, since a layer adds it twice")
def _(a: PlainAxis) -> bool:
    return (a.base(f"{WINDING}.layers") or 0) > 2 and a.scale(f"{WINDING}.thickness", 2)


@fault("winding-of-thinner-material", "keeps the diameters for a material a third as thick")
def _(a: PlainAxis) -> bool:
    return (a.base(f"{WINDING}.layers") or 0) > 2 and a.scale(
        f"{WINDING}.thickness", Fraction(1, 3)
    )


@fault("winding-longer-than-it-holds", "orders more material than the full reel can hold")
def _(a: PlainAxis) -> bool:
    return a.scale(f"{WINDING}.length", Fraction(5, 2))


@fault("reel-speed-of-the-full-reel", "takes the speed that the full reel permits for the line")
def _(a: PlainAxis) -> bool:
    if not _is_reel(a) or a.need(FULL) < Fraction(13, 10) * a.need(EMPTY):
        return False
    return a.write(f"{WINDING}.line_speed", rounded(line_speed_limit(a, a.need(FULL)), 4))


@fault("reel-speed-of-the-mean-diameter", "takes the speed at the mean diameter for the line")
def _(a: PlainAxis) -> bool:
    if not _is_reel(a):
        return False
    mean = (a.need(EMPTY) + a.need(FULL)) / 2
    return a.write(f"{WINDING}.line_speed", rounded(line_speed_limit(a, mean), 4))


@fault("reel-tension-of-the-empty-reel", "takes the tension that the motor holds on the core")
def _(a: PlainAxis) -> bool:
    if not _is_reel(a) or a.need(FULL) < Fraction(12, 10) * a.need(EMPTY):
        return False
    return a.write(f"{WINDING}.tension", rounded(tension_limit(a, a.need(EMPTY)), 4))


@fault("reel-tension-of-the-mean-diameter", "takes the tension that it holds at the mean diameter")
def _(a: PlainAxis) -> bool:
    if not _is_reel(a):
        return False
    mean = (a.need(EMPTY) + a.need(FULL)) / 2
    return a.write(f"{WINDING}.tension", rounded(tension_limit(a, mean), 4))


@fault("reel-inertia-of-the-empty-reel", "states the inertia of core and shaft for the full reel")
def _(a: PlainAxis) -> bool:
    return _is_reel(a) and a.scale("mechanics.load_inertia", Fraction(1, 2))


@fault("reel-changed-and-not-measured", "lets the controller keep the diameter of the last reel")
def _(a: PlainAxis) -> bool:
    if not _is_reel(a):
        return False
    a.facts["mechanics"]["winding"] |= {
        "reel_is_changed": True,
        "diameter_found_by": "turn_count",
    }
    return a.put(f"{WINDING}.change_clears_diameter", False)


@fault("drum-of-one-feed", "scales the controller by one feed per revolution of a drum of layers")
def _(a: PlainAxis) -> bool:
    return _is_drum(a) and a.put(f"{WINDING}.controller_follows", False)


@fault("drum-stated-as-a-roller", "states a drum as a roller of its mean diameter")
def _(a: PlainAxis) -> bool:
    if not _is_drum(a):
        return False
    mean = rounded((a.need(EMPTY) + a.need(FULL)) / 2, 4)
    final = {"kind": "roller", "diameter": spelled(mean, "mm")}
    return a.put("mechanics.final", final | {"direction": a.get("mechanics.final.direction")})


@fault("drum-speed-of-the-top-layer", "takes the speed that the top layer permits for the hook")
def _(a: PlainAxis) -> bool:
    if not _is_drum(a):
        return False
    shaft = min(a.need("motor.max_speed"), a.need("drive.max_speed")) / a.ratio
    return a.write("controller.max_velocity", rounded(shaft * PI * a.need(FULL), 4))


@fault("drum-brake-for-the-lowest-layer", "fits a brake for the torque in the lowest layer")
def _(a: PlainAxis) -> bool:
    if not _is_drum(a):
        return False
    lowest = weight(a) * a.need(EMPTY) / 2000 / a.ratio
    return a.write("motor.brake.holding_torque", rounded(lowest * Fraction(3, 2), 5))


@fault("drum-motor-for-the-lowest-layer", "fits a motor that holds the load in the lowest layer")
def _(a: PlainAxis) -> bool:
    if not _is_drum(a):
        return False
    lowest = weight(a) * a.need(EMPTY) / 2000 / a.ratio / a.need("mechanics.efficiency")
    return a.write("motor.rated_torque", rounded(lowest, 5))


@fault("drum-rope-shorter-than-its-travel", "orders a rope for less than the travel")
def _(a: PlainAxis) -> bool:
    return _is_drum(a) and a.write(f"{WINDING}.length", rounded(a.span * Fraction(8, 10), 4))


@fault("drum-turns-beyond-the-counter", "counts fewer turns than the drum makes from end to end")
def _(a: PlainAxis) -> bool:
    if not _is_drum(a) or not a.multiturn:
        return False
    turns = a.need(f"{WINDING}.turns_per_layer") * a.need(f"{WINDING}.layers") * a.encoder_ratio
    return a.put("encoder.distinguishable_revolutions", max(1, int(turns * Fraction(9, 10))))
