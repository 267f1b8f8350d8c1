"""Faults from the 206 that people planted without reading the rules: those that passed unseen.

The kinds were written before the rules that find them, and each class brings its siblings. What
they say of gravity, of brakes and of the time that inputs take is in planted_gravity.py. What they
say of limits, speeds, factors and exports is in planted_limits.py.
"""

from __future__ import annotations

import math
from fractions import Fraction

from .fault_list import fault
from .marks import has_marks
from .plain_axis import PlainAxis, in_unit, parts, rounded
from .planted_gravity import STANDARD_GRAVITY, SWITCHES, TRAVEL
from .swinging import UNBALANCE, pull

HOMING = "controller.homing"


def drop(a: PlainAxis, *paths: str) -> None:
    """Take facts out of the file."""
    for path in paths:
        *above, last = path.split(".")
        at = a.get(".".join(above)) if above else a.facts
        if isinstance(at, dict):
            at.pop(last, None)


def _in(a: PlainAxis, base: Fraction | int) -> str:
    return in_unit(rounded(Fraction(base), 8), a.unit)


# --- endless or not -------------------------------------------------------------------------------


def _modulo(a: PlainAxis, share: int = 1) -> bool:
    """Make the axis an endless one whose cycle is this share of a turn or of the travel."""
    if a.endless or a.get("gantry") or not a.get(TRAVEL):
        return False
    cycle = (Fraction(1) if a.get("motion") == "rotary" else a.span) / share
    a.facts["controller"] |= {"cycle": _in(a, cycle), "remainder_carried": True}
    return a.put("controller.type", "modulo")


@fault("modulo-on-a-swivel", "sets up an arm between stops as an endless axis")
def _(a: PlainAxis) -> bool:
    return a.get("motion") == "rotary" and _modulo(a)


@fault("modulo-on-a-slide", "sets up a slide as an endless axis whose cycle is its travel")
def _(a: PlainAxis) -> bool:
    return a.get("motion") == "linear" and _modulo(a)


@fault("modulo-between-switches", "sets up an axis between limit switches as an endless one")
def _(a: PlainAxis) -> bool:
    if not a.get(SWITCHES) or not _modulo(a):
        return False
    return a.put(TRAVEL, "none")


@fault("modulo-with-cycle-of-half-the-travel", "lets a position repeat within the travel")
def _(a: PlainAxis) -> bool:
    return _modulo(a, 2)


@fault("table-that-got-stops", "fits hard stops for a cable to an endless axis")
def _(a: PlainAxis) -> bool:
    if not a.endless:
        return False
    half = a.need("controller.cycle") * 2 / 5
    return a.put(TRAVEL, {"min": _in(a, -half), "max": _in(a, half)})


@fault("table-that-got-switches", "fits limit switches for a cable to an endless axis")
def _(a: PlainAxis) -> bool:
    if not a.endless:
        return False
    half = a.need("controller.cycle") * 2 / 5
    return a.put(SWITCHES, {"negative": _in(a, -half), "positive": _in(a, half)})


# --- cycles and single-turn encoders --------------------------------------------------------------


def single_turn(a: PlainAxis) -> bool:
    """Replace the encoder of an endless axis by a single-turn one that is trusted as absolute."""
    if not a.endless or a.linear_scale or a.has_pi or not a.multiturn:
        return False
    drop(a, "encoder.distinguishable_revolutions", "encoder.total_range", "encoder.turn_counter")
    drop(a, "encoder.capability.distinguishable_revolutions", "drive.distinguishable_revolutions")
    drop(a, "storage.turns", "controller.power_off_motion")
    a.put("encoder.kind", "absolute_singleturn")
    a.facts["controller"] |= {"unfolding": "encoder_zero_unsigned", "wraps_retained": False}
    a.put("drive.encoder_use", "absolute")
    return True


def _misfit(a: PlainAxis) -> bool:
    return (a.per_encoder_turn / a.need("controller.cycle")).denominator != 1


@fault("single-turn-behind-a-gearbox", "fits a single-turn encoder to the motor of a table")
def _(a: PlainAxis) -> bool:
    return single_turn(a) and a.get("encoder.mounted_on") == "motor" and _misfit(a)


@fault("single-turn-geared-to-a-table", "gears a single-turn encoder up to the table")
def _(a: PlainAxis) -> bool:
    return single_turn(a) and a.get("encoder.mounted_on") == "load" and _misfit(a)


@fault("single-turn-with-a-cycle-of-three-quarters", "sets a cycle of three quarters of a turn")
def _(a: PlainAxis) -> bool:
    if not single_turn(a) or a.get("drive.position_range"):
        return False
    return a.write("controller.cycle", a.per_encoder_turn * 3 / 4)


@fault("single-turn-with-a-cycle-of-two-turns", "sets a cycle of two turns of the encoder")
def _(a: PlainAxis) -> bool:
    if not single_turn(a) or a.get("drive.position_range"):
        return False
    return a.write("controller.cycle", a.per_encoder_turn * 2)


@fault("single-turn-on-a-conveyor", "fits a single-turn encoder to a conveyor")
def _(a: PlainAxis) -> bool:
    return a.get("motion") == "linear" and single_turn(a) and _misfit(a)


# --- homing ---------------------------------------------------------------------------------------


def _friction(a: PlainAxis) -> Fraction:
    """Friction at the motor in N·m, before losses."""
    turn = a.per_motor_turn
    if a.get("motion") == "rotary":
        return a.need("mechanics.friction_torque") * turn
    return a.need("mechanics.friction_force") * turn / 1000 / Fraction(math.tau)


def _against_stop(a: PlainAxis) -> bool:
    stop = "hard_stop" in str(a.method) and not a.get("mechanics.moved_by_gravity")
    return stop and a.turns_shaft


@fault("stop-search-weaker-than-friction", "limits the homing torque to less than friction")
def _(a: PlainAxis) -> bool:
    if not _against_stop(a):
        return False
    return a.write(f"{HOMING}.torque_limit", rounded(_friction(a) * 4 / 5, 3))


@fault("stop-search-weaker-than-losses", "limits the homing torque to friction without losses")
def _(a: PlainAxis) -> bool:
    if not _against_stop(a):
        return False
    return a.write(f"{HOMING}.torque_limit", rounded(_friction(a) * 102 / 100, 4))


@fault("stop-search-after-new-scrapers", "fits tighter seals and keeps the homing torque")
def _(a: PlainAxis) -> bool:
    if not _against_stop(a):
        return False
    by = rounded(a.need(f"{HOMING}.torque_limit") / _friction(a) * 12 / 10, 3)
    return a.scale("mechanics.friction_force", by) or a.scale("mechanics.friction_torque", by)


@fault("stop-search-torque-one-decimal-off", "slips a decimal in the homing torque")
def _(a: PlainAxis) -> bool:
    if not _against_stop(a) or not a.scale(f"{HOMING}.torque_limit", Fraction(1, 10)):
        return False
    return a.need(f"{HOMING}.torque_limit") < _friction(a)


def _reference_off(a: PlainAxis) -> bool:
    """Move the taught reference inwards by more than is free, yet as little as calibration does."""
    free = a.base("mechanics.free_distance")
    if free is None or a.get("gantry") or a.endless:
        return False
    if free * 3 / 2 > a.span / 100:
        free = rounded(a.span / 160, 3)
        a.write("mechanics.free_distance", free)
    inwards = 1 if a.get(f"{HOMING}.direction") == "negative" else -1
    path = f"{HOMING}.reference_position"
    return a.write(path, a.need(path) + rounded(inwards * free * 3 / 2, 3))


@fault(
    "reference-off-at-a-limit-switch", "teaches a reference off by more than is free, at a limit"
)
def _(a: PlainAxis) -> bool:
    return a.method in (17, 18) and _reference_off(a)


@fault(
    "reference-off-at-a-home-switch", "teaches a reference off by more than is free, at a switch"
)
def _(a: PlainAxis) -> bool:
    return a.method in range(19, 31) and _reference_off(a)


@fault("reference-off-at-a-hard-stop", "teaches a reference off by more than is free, at a stop")
def _(a: PlainAxis) -> bool:
    return _against_stop(a) and _reference_off(a)


@fault("reference-off-at-an-index", "teaches a reference off by more than is free, at an index")
def _(a: PlainAxis) -> bool:
    return a.method in range(1, 15) and not has_marks(a, "distance_coded") and _reference_off(a)


def _remembers(a: PlainAxis) -> bool:
    """An absolute axis that is homed to a switch without index, with stated repeatability."""
    return bool(
        a.multiturn and a.method in range(17, 31) and a.base(f"{HOMING}.repeatability") is not None
    )


@fault("absolute-axis-homed-roughly", "asks less of the homing of an absolute axis than the work")
def _(a: PlainAxis) -> bool:
    return _remembers(a) and a.write(
        f"{HOMING}.repeatability", 10 * a.need("mechanics.required_accuracy")
    )


@fault("absolute-axis-creeping-fast", "raises the creep speed of an absolute axis")
def _(a: PlainAxis) -> bool:
    if not _remembers(a):
        return False
    time = a.need("drive.input_scan") + a.need(f"{HOMING}.latch_jitter")
    fast = rounded(a.need(f"{HOMING}.repeatability") / time * 6 / 5, 3)
    return fast < a.need(f"{HOMING}.search_speed") and a.write(f"{HOMING}.creep_speed", fast)


@fault("absolute-axis-at-a-worn-switch", "keeps a worn switch of an absolute axis")
def _(a: PlainAxis) -> bool:
    if not _remembers(a):
        return False
    at = f"{HOMING}.switch" if a.get(f"{HOMING}.switch") else SWITCHES
    return a.write(f"{at}.scatter", rounded(a.need(f"{HOMING}.repeatability") * 3, 3))


@fault("absolute-axis-with-a-slow-scan", "lets a slow task read the switch of an absolute axis")
def _(a: PlainAxis) -> bool:
    if not _remembers(a):
        return False
    late = a.need(f"{HOMING}.repeatability") / a.need(f"{HOMING}.creep_speed")
    return a.write("drive.input_scan", rounded(late * 2, 3))


@fault("name-that-the-drive-has-not", "names a homing that no number of the drive means")
def _(a: PlainAxis) -> bool:
    if a.method not in range(19, 31):
        return False
    a.put("drive.supported_homing_methods", [1, 2, 17, 18, 33, 34, 37])
    return a.put(f"{HOMING}.method", f"home_switch_{a.get(f'{HOMING}.direction')}")


@fault("endless-axis-homed-at-a-limit", "homes an endless axis at a limit switch that it has not")
def _(a: PlainAxis) -> bool:
    return a.endless and a.put(f"{HOMING}.method", 17)


@fault(
    "endless-axis-without-its-home-switch", "homes an endless axis at a switch that is not there"
)
def _(a: PlainAxis) -> bool:
    return a.endless and a.put(f"{HOMING}.method", 24)


# --- what duty and load say of each other ---------------------------------------------------------


def accelerating_torque(a: PlainAxis) -> float:
    """Torque in N·m that the highest acceleration takes of the motor, upwards if gravity acts."""
    turn = float(a.per_motor_turn)
    arm = turn / math.tau if a.get("motion") == "rotary" else turn / 1000 / math.tau
    turns = float(a.need("controller.max_acceleration")) / turn
    alpha, eta = turns * math.tau, float(a.need("mechanics.efficiency"))
    own = float(a.need("motor.inertia") + a.need("mechanics.transmission_inertia"))
    balanced = float(a.base("mechanics.counterbalance") or 0)
    if a.get("motion") == "rotary":
        load = float(a.need("mechanics.load_inertia")) * turn**2
        # The motor lifts the unbalanced weight, whether or not a lock holds it without torque.
        weighs = pull(a) if a.get(UNBALANCE) else float(a.base("mechanics.unbalanced_torque") or 0)
        steady = float(_friction(a)) + turn * weighs
        return own * alpha + (load * alpha + steady) / eta
    mass, inert = float(a.weighing_mass), float(a.inert_mass)
    slope = a.base("mechanics.inclination")
    hangs = 1.0 if a.get("mechanics.moved_by_gravity") else 0.0
    share = hangs if slope is None else abs(math.sin(float(slope) * math.tau))
    steady = float(_friction(a)) + mass * float(STANDARD_GRAVITY) * abs(1 - balanced) * share * arm
    return own * alpha + (inert * arm**2 * alpha + steady) / eta


def _duty_contradicts(a: PlainAxis) -> bool:
    """The highest torque of the duty is far above what the load on record takes."""
    duty = a.get("controller.duty")
    if not duty or not a.turns_shaft:
        return False
    peak = max(abs(parts(each["torque"])[0]) for each in duty)
    return float(peak) > 2.1 * accelerating_torque(a)


@fault("mass-one-decimal-off", "slips a decimal in the mass of the load")
def _(a: PlainAxis) -> bool:
    return a.scale("mechanics.load_mass", Fraction(1, 10)) and _duty_contradicts(a)


@fault("inertia-one-decimal-off", "slips a decimal in the inertia of the load")
def _(a: PlainAxis) -> bool:
    return a.scale("mechanics.load_inertia", Fraction(1, 10)) and _duty_contradicts(a)


@fault("inertia-in-kg-cm2", "types the inertia of the load in kg m^2 as kg cm^2")
def _(a: PlainAxis) -> bool:
    return a.retype("mechanics.load_inertia", "kg cm^2") and _duty_contradicts(a)


@fault("duty-of-a-heavier-axis", "copies the duty of an axis that moves much more")
def _(a: PlainAxis) -> bool:
    duty = a.get("controller.duty") or []
    for number in range(len(duty)):
        a.scale(f"controller.duty.{number}.torque", Fraction(22, 10))
    return bool(duty) and _duty_contradicts(a)
