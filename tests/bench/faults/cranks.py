"""Faults of cranks, written before the rules that find them."""

from __future__ import annotations

from fractions import Fraction

from .crank import CRANK, crank_of, force_limit
from .fault_list import fault
from .plain_axis import PlainAxis, rounded

LOW = f"{CRANK}.lowest_angle"


def _is_crank(a: PlainAxis, motion: str) -> bool:
    return bool(a.get(CRANK)) and a.get("motion") == motion


@fault("crank-rod-and-radius-swapped", "enters the rod as the radius of a crank")
def _(a: PlainAxis) -> bool:
    return bool(a.get(CRANK)) and a.swap(f"{CRANK}.radius", f"{CRANK}.rod_length")


@fault("crank-stroke-of-its-radius", "enters the radius of a crank as its stroke")
def _(a: PlainAxis) -> bool:
    return a.scale(f"{CRANK}.stroke", Fraction(1, 2))


@fault("crank-diameter-as-radius", "enters the diameter of the pin's circle as its radius")
def _(a: PlainAxis) -> bool:
    return a.scale(f"{CRANK}.radius", 2)


@fault("crank-speed-of-the-mean", "permits a slide the mean of its speed over the stroke")
def _(a: PlainAxis) -> bool:
    if not _is_crank(a, "rotary"):
        return False
    mean = a.need("controller.max_velocity") * Fraction(2 * crank_of(a).stroke)
    return a.write(f"{CRANK}.slide_speed", rounded(mean, 4))


@fault("crank-speed-without-its-rod", "permits the speed of the pin, which the slide exceeds")
def _(a: PlainAxis) -> bool:
    if not _is_crank(a, "rotary"):
        return False
    pin = a.need("controller.max_velocity") * Fraction(crank_of(a).slope(0.25))
    return a.write(f"{CRANK}.slide_speed", rounded(pin * Fraction(1005, 1000), 5))


@fault("crank-force-near-its-dead-point", "states the force that the motor makes near the end")
def _(a: PlainAxis) -> bool:
    if not a.get(CRANK):
        return False
    near = crank_of(a).slope(15 / 360)
    return a.write(f"{CRANK}.slide_force", rounded(force_limit(a, near), 3))


@fault("crank-force-of-the-mean", "states the force that the motor makes at the mean slope")
def _(a: PlainAxis) -> bool:
    if not _is_crank(a, "rotary"):
        return False
    return a.write(f"{CRANK}.slide_force", rounded(force_limit(a, 2 * crank_of(a).stroke), 3))


@fault("crank-through-its-dead-point", "lets a position axis go through the dead point of a crank")
def _(a: PlainAxis) -> bool:
    return _is_crank(a, "linear") and a.put(LOW, "-10 deg")


@fault("crank-referenced-at-its-dead-point", "homes a crank by a switch where its slide stands")
def _(a: PlainAxis) -> bool:
    if not a.get(CRANK):
        return False
    a.put(f"{CRANK}.reference_on_slide", True)
    return a.put(f"{CRANK}.reference_angle", "2 deg")


@fault("crank-of-one-feed", "scales the controller by one feed per revolution of a crank")
def _(a: PlainAxis) -> bool:
    return _is_crank(a, "linear") and a.put(f"{CRANK}.controller_follows", False)


@fault("crank-stated-as-a-screw", "states the stroke of a crank as the lead of a screw")
def _(a: PlainAxis) -> bool:
    if not _is_crank(a, "linear"):
        return False
    final = {"kind": "screw", "lead": a.get(f"{CRANK}.stroke")}
    return a.put("mechanics.final", final | {"direction": a.get("mechanics.final.direction")})


@fault("crank-shorter-than-its-travel", "fits a crank whose slide does not reach both hard stops")
def _(a: PlainAxis) -> bool:
    if not _is_crank(a, "linear"):
        return False
    smaller = a.span / Fraction(crank_of(a).stroke) * Fraction(8, 10)
    for name in ("radius", "rod_length", "stroke"):
        a.write(f"{CRANK}.{name}", rounded(a.need(f"{CRANK}.{name}") * smaller, 6))
    return True
