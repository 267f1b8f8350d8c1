"""Faults of the torque over the speed, written before the rules that find them."""

from __future__ import annotations

import math
from fractions import Fraction

from .curved_motors import (
    CURVE,
    POINTS,
    A,
    V,
    efficiency,
    friction,
    least_start,
    load_inertia,
    own_inertia,
    top_speed,
    turning,
)
from .fault_list import fault
from .plain_axis import Plain, PlainAxis, in_unit, rounded, spelled


def _curved(a: PlainAxis) -> bool:
    return bool(a.get(POINTS)) and a.base(V) is not None and a.base(A) is not None


def _last(a: PlainAxis) -> str:
    return f"{POINTS}.{len(a.get(POINTS)) - 1}"


def _scale_all(a: PlainAxis, what: str, by: Fraction) -> bool:
    numbers = range(len(a.get(POINTS) or []))
    return all(a.scale(f"{POINTS}.{number}.{what}", by) for number in numbers) and len(numbers) > 0


# --- the curve itself -----------------------------------------------------------------------------


@fault("curve-of-a-smaller-motor", "copies the torque curve of the next smaller motor")
def _(a: PlainAxis) -> bool:
    both = ("continuous_torque", "peak_torque")
    return all(_scale_all(a, what, Fraction(7, 10)) for what in both)


@fault("curve-of-a-larger-motor", "copies the torque curve of the next larger motor")
def _(a: PlainAxis) -> bool:
    both = ("continuous_torque", "peak_torque")
    return all(_scale_all(a, what, Fraction(3, 2)) for what in both)


@fault("curve-columns-swapped", "swaps the columns of continuous and peak torque")
def _(a: PlainAxis) -> bool:
    if not _curved(a):
        return False
    first = f"{POINTS}.0"
    return a.swap(f"{first}.continuous_torque", f"{first}.peak_torque")


@fault("curve-speed-a-digit-short", "leaves out the last digit of the highest speed")
def _(a: PlainAxis) -> bool:
    return _curved(a) and a.scale(f"{_last(a)}.speed", Fraction(1, 10))


@fault("curve-read-upwards", "reads the torques of the points from the last one to the first")
def _(a: PlainAxis) -> bool:
    if not _curved(a):
        return False
    points: list[Plain] = a.get(POINTS)
    speeds = [each["speed"] for each in points]
    turned = [{**each, "speed": s} for each, s in zip(reversed(points), speeds, strict=True)]
    return a.put(POINTS, turned)


@fault("curve-without-its-end", "copies only the points of the table that stand on the first page")
def _(a: PlainAxis) -> bool:
    if not _curved(a):
        return False
    below = [
        each
        for number, each in enumerate(a.get(POINTS))
        if a.need(f"{POINTS}.{number}.speed") < top_speed(a)
    ]
    return len(below) > 0 and a.put(POINTS, below)


@fault("curve-of-a-higher-voltage", "runs a motor at 230 V and judges it by its curve for 400 V")
def _(a: PlainAxis) -> bool:
    if not _curved(a) or not a.get("drive.supply_voltage"):
        return False
    a.put("drive.supply_voltage", "230 V")
    return a.put(f"{CURVE}.voltage", "400 V")


@fault("winding-of-a-slower-motor", "fits the winding that makes its voltage at half the speed")
def _(a: PlainAxis) -> bool:
    return _full_field(a) and a.scale("motor.voltage_constant", 3)


@fault("bus-of-a-weaker-supply", "feeds the bus with a third of the voltage")
def _(a: PlainAxis) -> bool:
    return _full_field(a) and a.scale("drive.bus_voltage", Fraction(1, 3))


def _full_field(a: PlainAxis) -> bool:
    return _curved(a) and not a.get("motor.field_weakening")


# --- what a move or a stop takes at speed ---------------------------------------------------------


def _falls_to(a: PlainAxis, torque: float) -> bool:
    """Let the peak torque fall to this, which is not below rated torque, before the top speed."""
    peak, rated = a.need("motor.peak_torque"), a.need("motor.rated_torque")
    left = rounded(Fraction(torque), 4)
    if not _curved(a) or not rated <= left < peak:
        return False
    knee = rounded(min(top_speed(a), a.need("motor.rated_speed")) * 48, 4) / 60
    end = a.need("motor.max_speed")
    points = [
        _point(knee, rated, peak),
        _point(knee * Fraction(101, 100), rated, left),
        _point(end, rated / 4, left),
    ]
    return a.put(POINTS, points)


def _point(speed: Fraction, steady: Fraction, peak: Fraction) -> Plain:
    return {
        "speed": in_unit(speed, "rpm"),
        "continuous_torque": spelled(rounded(steady, 4), "N·m"),
        "peak_torque": spelled(rounded(peak, 4), "N·m"),
    }


@fault("torque-gone-before-top-speed", "accelerates to a speed at which too little torque is left")
def _(a: PlainAxis) -> bool:
    if not _curved(a):
        return False
    return _falls_to(a, least_start(a) * 0.9)


@fault(
    "stop-needs-torque-that-speed-takes", "sets a stop for the torque that the motor has at rest"
)
def _(a: PlainAxis) -> bool:
    stop = a.base("drive.stop_reaction.deceleration")
    if not _curved(a) or stop is None or a.endless:
        return False
    if a.get("drive.stop_reaction.option") == "disable_at_once":
        return False
    eta = efficiency(a)
    needed = own_inertia(a) * turning(a, stop)
    needed += (load_inertia(a) * turning(a, stop) - friction(a)) * eta
    return _falls_to(a, needed * 0.9)


@fault("weak-field-with-torque-of-rest", "accelerates in a weak field as hard as in a full one")
def _(a: PlainAxis) -> bool:
    if a.get(CURVE) or not a.turns_shaft or a.base(V) is None or a.base(A) is None:
        return False
    sized = ("motor.rated_speed", "motor.peak_torque", "motor.inertia", "mechanics.efficiency")
    if any(a.base(path) is None for path in sized) or a.get("mechanics.telescope"):
        return False
    share = math.floor(least_start(a) / float(a.need("motor.peak_torque")) * 900) / 1000
    if share < 0.05:
        return False
    a.facts["motor"]["field_weakening"] = True
    return a.write("motor.rated_speed", rounded(top_speed(a) * Fraction(share), 3))


@fault("weak-field-without-its-loss", "draws the curve of a weak field at full torque to its end")
def _(a: PlainAxis) -> bool:
    if not _curved(a):
        return False
    a.facts["motor"]["field_weakening"] = True
    rated, peak = a.need("motor.rated_torque"), a.need("motor.peak_torque")
    a.write(f"{_last(a)}.peak_torque", rounded(peak * Fraction(8, 10), 4))
    for number in range(len(a.get(POINTS)) - 1):
        a.write(f"{POINTS}.{number}.peak_torque", peak)
    return a.write(f"{_last(a)}.continuous_torque", rated)
