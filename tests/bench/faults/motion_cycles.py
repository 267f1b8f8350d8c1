"""Faults of the moves of a machine cycle, written before the rules that find them."""

from __future__ import annotations

import math
from fractions import Fraction

from .curved_motors import CYCLE, MOVES, at_motor, efficiency, load_inertia, turning
from .fault_list import fault
from .mechanics import up
from .plain_axis import PlainAxis, rounded, spelled

OUT, BACK = f"{MOVES}.0", f"{MOVES}.1"


def _one_load(a: PlainAxis) -> bool:
    """Whether it moves in a cycle with the same load at each place: no reel, crank, arm or tilt."""
    changing = (
        "mechanics.unbalance",
        "mechanics.tilted_by",
        "mechanics.winding",
        "mechanics.crank",
    )
    return _cycles(a) and all(a.get(part) in (None, "none") for part in changing)


def _cycles(a: PlainAxis) -> bool:
    return bool(a.get(MOVES))


def _fill(a: PlainAxis) -> bool:
    """Write the cycle time anew, so that only the fault itself is left."""
    numbers = range(len(a.get(MOVES)))
    paths = [f"{MOVES}.{number}.{what}" for number in numbers for what in ("time", "dwell")]
    return a.write(f"{CYCLE}.repeats_after", sum(a.need(path) for path in paths))


@fault("move-left-out", "leaves the way back out of the list of moves")
def _(a: PlainAxis) -> bool:
    return _cycles(a) and a.put(MOVES, a.get(MOVES)[:1])


@fault("dwell-a-digit-too-long", "types a rest ten times too long")
def _(a: PlainAxis) -> bool:
    return _cycles(a) and a.scale(f"{OUT}.dwell", 10)


@fault("cycle-time-of-the-line", "states the cycle time of a line that makes two products at once")
def _(a: PlainAxis) -> bool:
    return _cycles(a) and a.scale(f"{CYCLE}.repeats_after", 2)


@fault("cycle-quicker-than-its-moves", "promises each move in half of the time that it takes")
def _(a: PlainAxis) -> bool:
    return _cycles(a) and a.scale(f"{OUT}.time", Fraction(1, 2)) and _fill(a)


@fault("move-way-in-inches", "types the inches of a move as if they were millimetres, and longer")
def _(a: PlainAxis) -> bool:
    if not _cycles(a) or a.endless:
        return False
    return all(a.scale(f"{each}.distance", Fraction(254, 10)) for each in (OUT, BACK))


@fault("move-faster-than-the-axis", "plans a move with twice the highest velocity")
def _(a: PlainAxis) -> bool:
    return _cycles(a) and a.scale(f"{OUT}.velocity", 2)


@fault("move-harder-than-the-axis", "plans a move with more than the highest acceleration")
def _(a: PlainAxis) -> bool:
    return _cycles(a) and a.scale(f"{BACK}.acceleration", Fraction(3, 2))


@fault("move-without-its-sign", "leaves out the sign of the way back")
def _(a: PlainAxis) -> bool:
    back = a.base(f"{BACK}.distance")
    return back is not None and back < 0 and a.write(f"{BACK}.distance", -back)


@fault("move-with-a-heavier-product", "carries a product that the motor cannot accelerate")
def _(a: PlainAxis) -> bool:
    peak, what = a.base("motor.peak_torque"), "load_mass"
    if a.get("motion") == "rotary":
        what = "load_inertia"
    if not _one_load(a) or peak is None or a.get("mechanics.telescope"):
        return False
    takes = load_inertia(a) * turning(a, a.need("controller.max_acceleration")) / efficiency(a)
    return a.scale(f"{OUT}.{what}", up(float(peak) / takes * 1.1))


def _pressing(a: PlainAxis) -> Fraction | None:
    """The rated torque of the motor, if the axis can press in moves with one load on the level."""
    level = not a.get("mechanics.moved_by_gravity")
    return a.base("motor.rated_torque") if _one_load(a) and level else None


def _press(a: PlainAxis, torque: float) -> bool:
    """Press in both moves with what asks for ``torque`` (N·m) at the motor."""
    kind, unit = ("torque", "N·m") if a.get("motion") == "rotary" else ("force", "N")
    press = rounded(Fraction(torque * efficiency(a) / at_motor(a, Fraction(1))), 4)
    changed = [a.put(f"{each}.process_{kind}", spelled(press, unit)) for each in (OUT, BACK)]
    return all(changed)


@fault("press-force-forgotten", "presses in a move that was planned for its load alone")
def _(a: PlainAxis) -> bool:
    rated = _pressing(a)
    if rated is None:
        return False
    total = float(a.need(f"{CYCLE}.repeats_after"))
    moving = sum(
        float(abs(a.need(f"{each}.distance")) / a.need(f"{each}.velocity")) for each in (OUT, BACK)
    )
    return _press(a, float(rated) * 1.2 * math.sqrt(total / moving))


@fault("no-rest-for-the-motor", "lets a motor press for ever with a little more than its torque")
def _(a: PlainAxis) -> bool:
    rated = _pressing(a)
    if rated is None:
        return False
    for each in (OUT, BACK):
        a.write(f"{each}.dwell", 0)
        a.scale(f"{each}.acceleration", Fraction(1, 10))
        # Slow enough that the whole move is driven evenly.
        a.write(f"{each}.velocity", rounded(_even(a, each), 3))
        way, v = abs(a.need(f"{each}.distance")), a.need(f"{each}.velocity")
        a.write(f"{each}.time", up(float(way / v + v / a.need(f"{each}.acceleration")), 4))
    _press(a, float(rated) * 1.4)
    return _fill(a)


def _even(a: PlainAxis, move: str) -> Fraction:
    """A velocity whose ramps are a tenth of the way."""
    way, acceleration = abs(a.need(f"{move}.distance")), a.need(f"{move}.acceleration")
    return Fraction(math.sqrt(float(way * acceleration) / 10))
