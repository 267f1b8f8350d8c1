"""Faults of gravity, brakes and of the time that an input takes, from the 206 that people planted.

They were written before the rules that find them, from the list of what those rules missed.
"""

from __future__ import annotations

import math
from fractions import Fraction

from .braked_loads import friction_holds, held_besides
from .fault_list import fault
from .plain_axis import PlainAxis, parts, rounded, spelled
from .swinging import UNBALANCE
from .swinging import pull as weight_of_arm

SWITCHES, TRAVEL = "mechanics.limit_switches", "mechanics.travel"
REACTION = "drive.stop_reaction"
STANDARD_GRAVITY = Fraction(980665, 100000)
SLOWED_BY = Fraction(3, 5)
"""A holding brake slows a moving load with about so much of its static torque (no source)."""


def _may_slope(a: PlainAxis) -> bool:
    return bool(
        a.get("motion") == "linear"
        and not a.get("mechanics.moved_by_gravity")
        and not a.get("gantry")
        and a.get("mechanics.load_mass")
        and not a.get("mechanics.load_lock")  # a device on the load holds it on any slope
    )


def _slope(a: PlainAxis) -> bool:
    """Incline a level linear axis so far that friction does not hold its load."""
    if not _may_slope(a):
        return False
    a.facts["mechanics"].pop("self_locking", None)
    a.put("mechanics.inclination", "30 deg")
    return a.need("mechanics.friction_force") < a.need("mechanics.load_mass") * STANDARD_GRAVITY / 2


def _unbalance(a: PlainAxis) -> bool:
    """Put a load out of balance so far that friction does not hold it."""
    if a.get("motion") != "rotary" or a.get("mechanics.moved_by_gravity"):
        return False
    if a.get("mechanics.load_lock"):
        return False  # a device on the load holds it however far it is out of balance
    a.facts["mechanics"].pop("self_locking", None)
    return a.write("mechanics.unbalanced_torque", 2 * a.need("mechanics.friction_torque"))


def _worm(a: PlainAxis) -> bool:
    return any(stage["kind"] == "worm" for stage in a.get("mechanics.stages") or [])


@fault("slope-left-to-two-poor-stages", "takes the losses of two stages for a lock on a slope")
def _(a: PlainAxis) -> bool:
    a.put("mechanics.efficiency", "49 %")
    return len(a.get("mechanics.stages")) > 1 and _slope(a)


@fault("slope-left-to-one-poor-stage", "takes the losses of a transmission for a lock on a slope")
def _(a: PlainAxis) -> bool:
    a.put("mechanics.efficiency", "40 %")
    return a.turns_shaft and _slope(a)


@fault("slope-left-to-a-worm", "takes a worm of 70 % for a lock on a slope")
def _(a: PlainAxis) -> bool:
    a.put("mechanics.efficiency", "70 %")
    return _worm(a) and _slope(a)


@fault("slope-whose-lock-is-denied", "states that nothing locks itself, and notes a slope as level")
def _(a: PlainAxis) -> bool:
    found = a.turns_shaft and _slope(a)
    a.facts["mechanics"]["self_locking"] = False
    return found


@fault("arm-left-to-a-worm", "takes a worm of 70 % for a lock of an arm")
def _(a: PlainAxis) -> bool:
    a.put("mechanics.efficiency", "70 %")
    return _worm(a) and _unbalance(a)


@fault("arm-left-to-poor-stages", "takes the losses of a transmission for a lock of an arm")
def _(a: PlainAxis) -> bool:
    a.put("mechanics.efficiency", "45 %")
    return bool(a.get("mechanics.stages")) and _unbalance(a)


@fault("arm-whose-lock-is-denied", "states that nothing locks itself, and notes an arm as balanced")
def _(a: PlainAxis) -> bool:
    found = _unbalance(a)
    a.facts["mechanics"]["self_locking"] = False
    return found


@fault("linear-motor-that-locks-itself", "states that a linear motor locks itself")
def _(a: PlainAxis) -> bool:
    a.facts["mechanics"]["self_locking"] = True
    return not a.turns_shaft


@fault("efficient-gear-that-locks-itself", "states that an efficient transmission locks itself")
def _(a: PlainAxis) -> bool:
    if not a.turns_shaft or a.need("mechanics.efficiency") < Fraction(82, 100):
        return False
    a.facts["mechanics"]["self_locking"] = True
    return bool(a.get("mechanics.stages"))


def _without_brake(a: PlainAxis) -> bool:
    a.facts["mechanics"].pop("self_locking", None)
    a.put("mechanics.counterbalance", "none")
    a.put("motor.brake", "none")
    return bool(a.get("mechanics.moved_by_gravity")) and not held_besides(a)


@fault("hoist-left-to-its-worm", "fits a motor without brake to a hoist with a worm")
def _(a: PlainAxis) -> bool:
    return _worm(a) and _without_brake(a)


@fault("lift-left-to-poor-efficiency", "fits a motor without brake to a lift of 45 %")
def _(a: PlainAxis) -> bool:
    a.put("mechanics.efficiency", "45 %")
    return _without_brake(a)


@fault("balance-short-by-twice-the-friction", "leaves the rest of a balanced load to friction")
def _(a: PlainAxis) -> bool:
    if not _without_brake(a) or a.get("mechanics.load_mass") is None:
        return False
    weight = a.need("mechanics.load_mass") * STANDARD_GRAVITY
    share = 1 - 2 * a.need("mechanics.friction_force") / weight
    return 0 < share < 1 and a.put("mechanics.counterbalance", f"{float(100 * share):.1f} %")


def _lifts(a: PlainAxis) -> bool:
    """Whether a counterbalance lifts its load: more is left than friction holds.

    Friction can be large: the magnets of a linear motor press it onto its guides. Of an arm, mass
    and place give the weight without its counterbalance.
    """
    if not a.get("mechanics.moved_by_gravity"):
        return False
    if a.get(UNBALANCE) and a.get("mechanics.unbalanced_torque") is None:
        rest = Fraction(weight_of_arm(a)) * abs(1 - a.need("mechanics.counterbalance"))
        return rest > a.need("mechanics.friction_torque")
    return not friction_holds(a)


@fault("balance-beyond-the-weight", "sets a counterbalance for a heavier load")
def _(a: PlainAxis) -> bool:
    return a.put("mechanics.counterbalance", "130 %") and _lifts(a)


@fault("balance-without-percent-sign", "types 80 for a counterbalance of 80 %")
def _(a: PlainAxis) -> bool:
    return bool(a.get("mechanics.moved_by_gravity")) and a.put("mechanics.counterbalance", 80)


@fault("balance-of-twice-the-load", "takes half of the load off and keeps the counterbalance")
def _(a: PlainAxis) -> bool:
    a.scale("mechanics.load_mass", Fraction(1, 2))
    return a.scale("mechanics.counterbalance", 2) and _lifts(a)


@fault("balance-for-a-brake-beyond-the-weight", "replaces a brake by too much counterbalance")
def _(a: PlainAxis) -> bool:
    return _without_brake(a) and a.put("mechanics.counterbalance", "140 %") and _lifts(a)


@fault(
    "slope-lifted-by-its-balance", "balances a slide on a slope three times and notes it as level"
)
def _(a: PlainAxis) -> bool:
    a.put("mechanics.counterbalance", "300 %")
    return _slope(a)


# --- brakes that stop a moving load ---------------------------------------------------------------


def _arm(a: PlainAxis) -> float:
    """Metres per radian of the motor."""
    return float(a.per_motor_turn) / 1000 / math.tau


def _braked(a: PlainAxis, share: float) -> tuple[float, float]:
    """Deceleration by that share of the brake's torque and acceleration by gravity, in mm/s²."""
    arm, mass = _arm(a), float(a.weighing_mass)
    inertia = float(a.need("motor.inertia") + a.need("mechanics.transmission_inertia"))
    inertia += float(a.inert_mass) * arm**2
    balanced = a.base("mechanics.counterbalance") or Fraction(0)
    pull = mass * float(STANDARD_GRAVITY * abs(1 - balanced))
    if not a.get("mechanics.moved_by_gravity"):
        pull = 0.0
    brake = share * float(a.need("motor.brake.holding_torque"))
    return brake / inertia * arm * 1000, pull * arm / inertia * arm * 1000


def run(a: PlainAxis, share: float) -> float:
    """How far a level axis or a falling load runs, in mm; infinite if the brake is too weak."""
    brake, fall = _braked(a, share)
    if brake <= fall:
        return math.inf
    v, t = float(a.need("controller.max_velocity")), float(a.need("motor.brake.apply_time"))
    caught = v + fall * t
    return (v + caught) / 2 * t + caught**2 / (2 * (brake - fall))


def brakes_a_shaft(a: PlainAxis) -> bool:
    return bool(
        a.get("motor.brake")
        and a.turns_shaft
        and a.get("motion") == "linear"
        and not a.get("gantry")
        and a.get("mechanics.load_mass")
    )


def power_cut(a: PlainAxis) -> None:
    a.put(f"{REACTION}.stop_category", 0)
    a.put(f"{REACTION}.option", "disable_at_once")


def _between(low: float, high: float) -> Fraction:
    return rounded(Fraction(low + (min(high, 3 * low) - low) * 0.5), 5)


@fault("drop-by-static-torque", "works out a drop with the static torque of the holding brake")
def _(a: PlainAxis) -> bool:
    if not brakes_a_shaft(a) or not a.get("mechanics.moved_by_gravity"):
        return False
    power_cut(a)
    free = _between(run(a, 1), run(a, float(SLOWED_BY)))
    return a.write("mechanics.free_distance", free)


@fault("drop-of-a-brake-that-only-holds", "lets a brake that just holds the load stop its fall")
def _(a: PlainAxis) -> bool:
    if not brakes_a_shaft(a) or not a.get("mechanics.moved_by_gravity"):
        return False
    power_cut(a)
    brake, fall = _braked(a, 1)
    holding = a.need("motor.brake.holding_torque") * Fraction(fall) / Fraction(brake)
    return a.write("motor.brake.holding_torque", rounded(holding * Fraction(155, 100), 4))


def room(a: PlainAxis, behind: Fraction) -> bool:
    """Move the hard stops to this distance from the limit switches."""
    a.write(f"{TRAVEL}.min", a.need(f"{SWITCHES}.negative") - behind)
    return a.write(f"{TRAVEL}.max", a.need(f"{SWITCHES}.positive") + behind)


@fault("run-by-static-torque", "works out a level stop with the static torque of the brake")
def _(a: PlainAxis) -> bool:
    if not brakes_a_shaft(a) or a.get("mechanics.moved_by_gravity") or not a.get(SWITCHES):
        return False
    power_cut(a)
    late = float(a.need("controller.max_velocity") * input_time(a))
    return room(a, _between(run(a, 1) + late, run(a, float(SLOWED_BY)) + late))


# --- the time that an input takes -----------------------------------------------------------------


def input_time(a: PlainAxis) -> Fraction:
    return a.need("drive.input_filter") + a.need("drive.input_scan")


def drive_stops(a: PlainAxis) -> Fraction:
    """Way of the drive's stop from the moment at which it knows of the switch."""
    v, slow = a.need("controller.max_velocity"), a.need(f"{REACTION}.deceleration")
    return v * a.need(f"{REACTION}.delay") + v**2 / (2 * slow)


def _stops_at_switch(a: PlainAxis) -> bool:
    return bool(
        a.get(SWITCHES)
        and a.get(TRAVEL)
        and a.get(f"{REACTION}.option") != "disable_at_once"
        and not a.get(f"{REACTION}.jerk")
    )


def _spare_time(a: PlainAxis) -> Fraction:
    """How long the input may take until the room behind a switch is used up."""
    least = min(
        a.need(f"{SWITCHES}.negative") - a.need(f"{TRAVEL}.min"),
        a.need(f"{TRAVEL}.max") - a.need(f"{SWITCHES}.positive"),
    )
    return (least - drive_stops(a)) / a.need("controller.max_velocity")


@fault("slow-input-filter", "raises the filter of the inputs against bouncing contacts")
def _(a: PlainAxis) -> bool:
    if not _stops_at_switch(a):
        return False
    return a.write("drive.input_filter", rounded(_spare_time(a) * Fraction(13, 10), 3))


@fault("slow-input-scan", "lets a slow task read the inputs")
def _(a: PlainAxis) -> bool:
    if not _stops_at_switch(a):
        return False
    return a.write("drive.input_scan", rounded(_spare_time(a) * Fraction(13, 10), 3))


@fault("input-filter-in-seconds", "types milliseconds of the input filter as seconds")
def _(a: PlainAxis) -> bool:
    return _stops_at_switch(a) and a.retype("drive.input_filter", "s")


@fault("room-measured-without-input-time", "leaves just the braking way behind a limit switch")
def _(a: PlainAxis) -> bool:
    if not _stops_at_switch(a):
        return False
    v = a.need("controller.max_velocity")
    return room(a, drive_stops(a) + v * input_time(a) / 2)


@fault("room-of-a-smooth-stop-without-input-time", "smooths the drive's stop and forgets the input")
def _(a: PlainAxis) -> bool:
    if not _stops_at_switch(a):
        return False
    v, slow = a.need("controller.max_velocity"), a.need(f"{REACTION}.deceleration")
    number, unit = parts(a.get(f"{REACTION}.deceleration"))
    if v < slow / 20:
        return False
    a.put(f"{REACTION}.jerk", spelled(rounded(number * 20, 3), unit.replace("^2", "^3")))
    jerk = a.need(f"{REACTION}.jerk")
    way = drive_stops(a) + v * slow / (2 * jerk)
    return room(a, way + v * input_time(a) / 2)


@fault("input-filter-of-one-side", "raises the input filter of one gantry side")
def _(a: PlainAxis) -> bool:
    if not a.get("gantry") or not _stops_at_switch(a):
        return False
    late = 4 * a.need("gantry.racking_tolerance") / a.need("controller.max_velocity")
    return a.write("drive.input_filter", input_time(a) + rounded(late, 3))


@fault("power-cut-after-a-slow-filter", "cuts the power behind a slow input of a level axis")
def _(a: PlainAxis) -> bool:
    if not brakes_a_shaft(a) or a.get("mechanics.moved_by_gravity") or not a.get(SWITCHES):
        return False
    power_cut(a)
    v = a.need("controller.max_velocity")
    needed = Fraction(run(a, float(SLOWED_BY))) + v * input_time(a)
    room(a, rounded(needed * Fraction(11, 10), 5))
    return a.write("drive.input_filter", rounded(needed / 5 / v, 3) + Fraction(5, 1000))


@fault("search-input-scanned-slowly", "lets a slow task read the home switch")
def _(a: PlainAxis) -> bool:
    width, speed = (
        a.base("controller.homing.switch.width"),
        a.base("controller.homing.search_speed"),
    )
    if width is None or speed is None or a.get("controller.homing.switch.held_to_travel_end"):
        return False
    return a.write("drive.input_scan", rounded(2 * width / speed, 3))
