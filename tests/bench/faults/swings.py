"""Faults of a weight that pulls by where an axis stands, written before the rules for them."""

from __future__ import annotations

import math
from fractions import Fraction

from .braked_loads import friction_holds
from .fault_list import fault
from .plain_axis import PlainAxis, rounded, spelled
from .swinging import TILTED, UNBALANCE, falls_both_ways, lever, pull, swing

TORQUE = "mechanics.unbalanced_torque"
MEAN = Fraction(2 / math.pi)
"""The mean of a sine over half a turn."""


def _say_torque(a: PlainAxis, torque: float) -> bool:
    a.facts["mechanics"][TORQUE.partition(".")[2]] = spelled(rounded(Fraction(torque), 3), "N·m")
    return True


@fault("arm-torque-taken-as-the-mean", "states the mean of the unbalanced torque over the swing")
def _(a: PlainAxis) -> bool:
    return bool(a.get(UNBALANCE)) and _say_torque(a, float(MEAN) * pull(a))


@fault(
    "arm-torque-measured-at-a-stop", "measures the unbalanced torque at the end where it is small"
)
def _(a: PlainAxis) -> bool:
    if not a.get(UNBALANCE):
        return False
    shares = [abs(math.sin(math.tau * end)) for end in swing(a)]
    moment = float(a.need(f"{UNBALANCE}.mass") * a.need(f"{UNBALANCE}.radius")) / 1000
    measured = moment * 9.80665 * min(shares) * lever(a)
    return measured < 0.9 * pull(a) and _say_torque(a, measured)


@fault(
    "arm-radius-to-its-tool", "states the length of an arm for the radius of its centre of gravity"
)
def _(a: PlainAxis) -> bool:
    return a.scale(f"{UNBALANCE}.radius", Fraction(7, 2))


@fault("arm-weight-of-pounds-in-kg", "types pounds as the kilograms of an arm")
def _(a: PlainAxis) -> bool:
    return bool(a.get(TORQUE)) and a.scale(f"{UNBALANCE}.mass", Fraction(220462, 100000))


@fault("arm-with-a-brake-for-the-mean", "fits a brake for the mean of an arm's torque")
def _(a: PlainAxis) -> bool:
    if not a.get(UNBALANCE) or not a.get("motor.brake"):
        return False
    mean = Fraction(pull(a)) * MEAN / a.ratio * Fraction(3, 2)
    return a.write("motor.brake.holding_torque", rounded(mean, 4))


@fault("arm-with-a-brake-for-one-end", "fits a brake for an arm's torque where it is parked")
def _(a: PlainAxis) -> bool:
    if not a.get(UNBALANCE) or not a.get("motor.brake"):
        return False
    parked = min(abs(math.sin(math.tau * end)) for end in swing(a))
    torque = Fraction(pull(a) * parked) / a.ratio * 2
    if torque <= 0 or torque > Fraction(pull(a) * 1.4) / a.ratio:
        return False
    return a.write("motor.brake.holding_torque", rounded(torque, 4))


@fault("arm-noted-as-balanced", "notes an arm that gravity turns as balanced")
def _(a: PlainAxis) -> bool:
    if not a.get(UNBALANCE) or a.get("mechanics.load_lock"):
        return False
    if pull(a) <= 1.1 * float(a.need("mechanics.friction_torque")):
        return False
    a.facts["mechanics"].pop("self_locking", None)
    return a.put("mechanics.moved_by_gravity", False)


@fault("arm-said-to-fall-one-way", "notes one end for an arm that falls to both")
def _(a: PlainAxis) -> bool:
    if not a.get(UNBALANCE) or a.get(TILTED) or not falls_both_ways(a):
        return False
    return a.put("mechanics.falls_towards", "negative")


@fault("arm-said-to-fall-the-other-way", "notes the upper end for an arm that falls to the lower")
def _(a: PlainAxis) -> bool:
    falls = a.get("mechanics.falls_towards")
    if not a.get(UNBALANCE) or falls is None or falls_both_ways(a):
        return False
    return a.put("mechanics.falls_towards", "positive" if falls == "negative" else "negative")


@fault("arm-mounted-half-a-turn-off", "enters the position where an arm stands as where it hangs")
def _(a: PlainAxis) -> bool:
    if a.get("mechanics.falls_towards") is None or not a.get(UNBALANCE):
        return False
    hangs = a.need(f"{UNBALANCE}.lowest_at")
    return a.write(f"{UNBALANCE}.lowest_at", hangs + Fraction(1, 2))


@fault("arm-inertia-of-its-drive-alone", "states an inertia that leaves the weight of an arm out")
def _(a: PlainAxis) -> bool:
    moment = a.base(f"{UNBALANCE}.mass")
    if moment is None:
        return False
    least = moment * (a.need(f"{UNBALANCE}.radius") / 1000) ** 2
    return a.write("mechanics.load_inertia", rounded(least * Fraction(3, 5), 4))


@fault("arm-limited-the-way-it-also-falls", "limits torque one way on an arm that falls both ways")
def _(a: PlainAxis) -> bool:
    limit = a.base("drive.torque_limit")
    if limit is None or not a.get(UNBALANCE) or not falls_both_ways(a):
        return False
    weak = rounded(min(limit / 10, Fraction(pull(a)) / a.ratio / 2), 4)
    a.facts["drive"] |= {
        "torque_limit_positive": spelled(limit, "N·m"),
        "torque_limit_negative": spelled(weak, "N·m"),
    }
    return a.write("drive.torque_limit", weak)


# --- axes that another axis tilts -----------------------------------------------------------------


@fault("tilted-by-an-axis-that-is-gone", "keeps the name of a tilting axis that was renamed")
def _(a: PlainAxis) -> bool:
    return bool(a.get(TILTED)) and a.put(f"{TILTED}.axis", "tilting_frame")


@fault("tilted-by-itself", "enters the name of an axis as that of the axis that tilts it")
def _(a: PlainAxis) -> bool:
    return bool(a.get(TILTED)) and a.put(f"{TILTED}.axis", a.name)


@fault("tilted-by-a-slide", "enters a linear axis as the one that tilts another")
def _(a: PlainAxis) -> bool:
    slides = [name for name in a.others if a.of(name).get("motion") == "linear"]
    return bool(a.get(TILTED)) and bool(slides) and a.put(f"{TILTED}.axis", slides[0])


@fault("inclination-of-the-parked-frame", "states the inclination where the tilting axis is parked")
def _(a: PlainAxis) -> bool:
    return bool(a.get(TILTED)) and a.scale("mechanics.inclination", Fraction(1, 2))


@fault("tilted-lift-noted-as-level", "notes an axis as not moved by gravity, since it starts level")
def _(a: PlainAxis) -> bool:
    if not a.get(TILTED) or a.get("motion") != "linear" or a.get("mechanics.counterbalance"):
        return False
    if a.get("mechanics.load_lock") or friction_holds(a):
        return False  # something else than a brake holds the load wherever the axis stands
    a.facts["mechanics"].pop("self_locking", None)
    return a.put("mechanics.moved_by_gravity", False)


@fault("tilted-lift-with-a-brake-for-half", "fits a brake for half of the tilt that is reached")
def _(a: PlainAxis) -> bool:
    if not a.get(TILTED) or a.get("motion") != "linear" or not a.turns_shaft:
        return False
    arm = float(a.per_motor_turn) / 1000 / math.tau
    half = float(a.need("mechanics.load_mass")) * 9.80665 * arm * 0.6
    return a.write("motor.brake.holding_torque", rounded(Fraction(half), 4))


@fault("tilted-lift-said-to-fall-one-way", "notes one end for an axis that tips both ways")
def _(a: PlainAxis) -> bool:
    if not a.get(TILTED) or a.get("motion") != "linear" or not falls_both_ways(a):
        return False
    return a.put("mechanics.falls_towards", "negative")
