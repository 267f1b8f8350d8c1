"""Faults of axes with a brake on the load side, alone or beside the brake of the motor."""

from __future__ import annotations

import math
from fractions import Fraction

from .braked_loads import CUT, LOAD_BRAKE, MOTOR_BRAKE, OUTPUT, at_shaft, holding, peak, pull
from .fault_list import fault
from .mechanics import up
from .plain_axis import PlainAxis, rounded
from .planted_gravity import REACTION, SWITCHES, TRAVEL

SHARE = Fraction(6, 10)
"""A holding brake slows a moving load with about so much of what it holds (no source)."""


def _braked(a: PlainAxis) -> bool:
    return bool(a.get(LOAD_BRAKE))


def _hangs(a: PlainAxis) -> bool:
    return _braked(a) and bool(a.get("mechanics.moved_by_gravity"))


def _by_drive(a: PlainAxis) -> bool:
    return bool(a.get(f"{LOAD_BRAKE}.opened_by") == "drive")


def _delay(a: PlainAxis, what: str) -> str:
    """The path of the delay of the output that opens the brake."""
    return f"drive.brake_{what}" if _by_drive(a) else f"{OUTPUT}.{what}"


def _due(a: PlainAxis) -> Fraction:
    """What a brake must hold at the place of the brake on the load."""
    due = pull(a) * Fraction(3, 2)
    return at_shaft(a, due) if holding(a, LOAD_BRAKE).endswith("torque") else due


# --- what holds -----------------------------------------------------------------------------------


@fault("load-brake-taken-away", "takes the only brake of a lift, that on its load, away")
def _(a: PlainAxis) -> bool:
    alone = _hangs(a) and not a.get(MOTOR_BRAKE) and not a.get("mechanics.counterbalance")
    return alone and a.put(LOAD_BRAKE, "none")


@fault("load-brake-too-weak", "fits a brake on the load that holds a twentieth")
def _(a: PlainAxis) -> bool:
    return _hangs(a) and a.write(holding(a, LOAD_BRAKE), rounded(_due(a) / 20, 3))


@fault("load-brake-of-the-motor-side", "fits a brake of the motor side on the driving shaft")
def _(a: PlainAxis) -> bool:
    if not _hangs(a) or not holding(a, LOAD_BRAKE).endswith("torque") or a.ratio < 2:
        return False
    return a.write(holding(a, LOAD_BRAKE), rounded(_due(a) * Fraction(11, 10) / a.ratio, 3))


@fault("two-brakes-added-up", "lets two brakes hold together what each must hold alone")
def _(a: PlainAxis) -> bool:
    if not _hangs(a) or not a.get(MOTOR_BRAKE):
        return False
    return a.write(holding(a, LOAD_BRAKE), rounded(_due(a) * Fraction(6, 10), 3))


@fault("load-brake-holds-just-the-load", "fits a brake on the load that holds it without a margin")
def _(a: PlainAxis) -> bool:
    return _hangs(a) and a.write(holding(a, LOAD_BRAKE), rounded(_due(a) * Fraction(8, 10), 3))


@fault("load-brake-after-heavier-tool", "hangs twice the load on a brake that was chosen for less")
def _(a: PlainAxis) -> bool:
    weaker = _hangs(a) and a.write(holding(a, LOAD_BRAKE), rounded(_due(a) * Fraction(11, 10), 3))
    if a.get("motion") == "rotary":
        return weaker and a.scale("mechanics.unbalanced_torque", 2)
    return weaker and a.scale("mechanics.load_mass", 2)


@fault("load-brake-in-kilonewtons", "slips three decimals in what the brake on the load holds")
def _(a: PlainAxis) -> bool:
    if not _braked(a):
        return False
    most = peak(a) * 1000
    if not holding(a, LOAD_BRAKE).endswith("torque") and a.turns_shaft:
        most = most / at_shaft(a, Fraction(1))
    # What holds the motor's peak is rounded up before its unit is mistaken.
    return a.write(holding(a, LOAD_BRAKE), up(most, 3))


@fault("load-brake-on-a-shaft-that-is-not-there", "notes a brake on the shaft of a linear motor")
def _(a: PlainAxis) -> bool:
    return _braked(a) and not a.turns_shaft and a.put(f"{LOAD_BRAKE}.acts_on", "driving_shaft")


@fault("load-brake-on-the-rail-of-a-table", "notes the brake of a table as one on a rail")
def _(a: PlainAxis) -> bool:
    rotary = a.get("motion") == "rotary"
    return rotary and _braked(a) and a.put(f"{LOAD_BRAKE}.acts_on", "carriage")


# --- when it opens and closes ---------------------------------------------------------------------


@fault("load-brake-not-waited-for", "moves before the brake on the load has opened")
def _(a: PlainAxis) -> bool:
    if not _braked(a):
        return False
    a.put(f"{LOAD_BRAKE}.motion_waits_for_open", False)
    return a.write(_delay(a, "release_delay"), a.need(f"{LOAD_BRAKE}.release_time") / 2)


@fault(
    "load-brake-signal-removed", "bridges the open signal of a brake that is slower than its delay"
)
def _(a: PlainAxis) -> bool:
    if not a.get(f"{LOAD_BRAKE}.motion_waits_for_open"):
        return False
    a.write(f"{LOAD_BRAKE}.release_time", a.need(_delay(a, "release_delay")) * 2)
    return a.put(f"{LOAD_BRAKE}.motion_waits_for_open", False)


@fault(
    "torque-off-before-load-brake-holds", "switches torque off before the brake on the load holds"
)
def _(a: PlainAxis) -> bool:
    if not _hangs(a):
        return False
    return a.write(_delay(a, "off_delay"), a.need(f"{LOAD_BRAKE}.apply_time") / 2)


@fault("slower-load-brake", "fits a brake on the load that is five times as slow")
def _(a: PlainAxis) -> bool:
    return _hangs(a) and a.scale(f"{LOAD_BRAKE}.apply_time", 5)


@fault("delays-of-the-quicker-brake", "sets the delays of one output for the quicker of two brakes")
def _(a: PlainAxis) -> bool:
    if not _hangs(a) or not _by_drive(a) or not a.get(MOTOR_BRAKE):
        return False
    apply, quick = f"{LOAD_BRAKE}.apply_time", a.need(f"{MOTOR_BRAKE}.apply_time")
    a.write(apply, quick * 3)
    return a.write("drive.brake_off_delay", quick * 2)


@fault("load-brake-opened-by-nobody", "takes the output of the brake on the load out of use")
def _(a: PlainAxis) -> bool:
    if not _braked(a):
        return False
    return a.put("drive.brake_voltage", "none") if _by_drive(a) else a.put(OUTPUT, "none")


@fault("load-brake-of-another-voltage", "fits a brake on the load for 90 V to an output of 24 V")
def _(a: PlainAxis) -> bool:
    return _braked(a) and a.put(f"{LOAD_BRAKE}.voltage", "90 V")


@fault("shutdown-before-the-load-brake", "lets a shutdown switch torque off before the brake holds")
def _(a: PlainAxis) -> bool:
    a.facts["drive"] |= {"shutdown_option": CUT, "brake_off_delay_always": False}
    return _hangs(a)


# --- stops without torque -------------------------------------------------------------------------


def _cut(a: PlainAxis) -> None:
    a.put(f"{REACTION}.stop_category", 0)
    a.put(f"{REACTION}.option", CUT)


@fault(
    "torque-off-at-once-on-a-load-brake", "cuts torque off at once above a slow brake on the load"
)
def _(a: PlainAxis) -> bool:
    if not _hangs(a) or not a.get(REACTION):
        return False
    _cut(a)
    return a.scale(f"{LOAD_BRAKE}.apply_time", 20)


@fault("fault-drops-a-load-on-its-brake", "lets a fault cut torque above a slow brake on the load")
def _(a: PlainAxis) -> bool:
    if not _hangs(a) or not a.get(REACTION):
        return False
    a.scale(f"{LOAD_BRAKE}.apply_time", 20)
    return a.put("drive.fault_reaction_option", CUT)


@fault("load-brake-that-only-holds", "lets a brake on the load that just holds stop its fall")
def _(a: PlainAxis) -> bool:
    if not _hangs(a) or not a.get(REACTION):
        return False
    _cut(a)
    return a.write(holding(a, LOAD_BRAKE), rounded(_due(a) * Fraction(103, 100), 4))


def _slowest_run(a: PlainAxis) -> float:
    """Less than what a level axis runs in mm until its load brake has stopped it."""
    arm = float(a.per_motor_turn) / 1000 / math.tau
    inertia = float(a.need("motor.inertia") + a.need("mechanics.transmission_inertia"))
    inertia += float(a.need("mechanics.load_mass")) * arm**2
    held = float(a.need(holding(a, LOAD_BRAKE)) * SHARE)
    torque = held / float(a.ratio) if holding(a, LOAD_BRAKE).endswith("torque") else held * arm
    v, t = float(a.need("controller.max_velocity")), float(a.need(f"{LOAD_BRAKE}.apply_time"))
    return v * t + v**2 / (2 * torque / inertia * arm * 1000)


def _runs_into_its_stop(a: PlainAxis) -> bool:
    """Leave a level axis less room behind its switches than it needs on the brake of its load."""
    straight = _braked(a) and a.turns_shaft and a.get("motion") == "linear"
    if not straight or a.get("mechanics.moved_by_gravity") or not a.get(SWITCHES):
        return False
    if not a.get(TRAVEL) or a.get(f"{REACTION}.option") == CUT:
        return False
    a.scale(holding(a, LOAD_BRAKE), Fraction(1, 4))
    room = a.need(f"{SWITCHES}.negative") - a.need(f"{TRAVEL}.min")
    room = min(room, a.need(f"{TRAVEL}.max") - a.need(f"{SWITCHES}.positive"))
    return Fraction(_slowest_run(a)) > room


@fault("power-cut-leaves-a-carriage-to-its-load-brake", "cuts torque off before a short room")
def _(a: PlainAxis) -> bool:
    if not _runs_into_its_stop(a):
        return False
    _cut(a)
    return True


@fault(
    "fault-leaves-a-carriage-to-its-load-brake", "lets a fault cut torque off before a short room"
)
def _(a: PlainAxis) -> bool:
    return _runs_into_its_stop(a) and a.put("drive.fault_reaction_option", CUT)
