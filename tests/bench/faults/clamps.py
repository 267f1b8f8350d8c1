"""Faults of axes with a clamp that must be open before the axis moves."""

from __future__ import annotations

from fractions import Fraction

from .braked_loads import CLAMP, LOAD_BRAKE, MOTOR_BRAKE, at_shaft, holding, peak, pull
from .fault_list import fault
from .plain_axis import PlainAxis, rounded


def _clamped(a: PlainAxis) -> bool:
    return bool(a.get(CLAMP))


def _hangs_on_it(a: PlainAxis) -> bool:
    """Whether the clamp alone holds the load."""
    hangs = _clamped(a) and bool(a.get("mechanics.moved_by_gravity"))
    return hangs and not a.get(MOTOR_BRAKE) and not a.get(LOAD_BRAKE)


def _in_its_place(a: PlainAxis, force: Fraction) -> Fraction:
    """A force along the travel as the clamp meets it."""
    return at_shaft(a, force) if holding(a, CLAMP).endswith("torque") else force


def _motor(a: PlainAxis) -> Fraction:
    """What the motor gives at its peak, at the place of the clamp."""
    if a.turns_shaft and not holding(a, CLAMP).endswith("torque"):
        return peak(a) / at_shaft(a, Fraction(1))
    return peak(a)


# --- motion ---------------------------------------------------------------------------------------


@fault("clamp-not-asked-before-motion", "starts motion without asking if the clamp is open")
def _(a: PlainAxis) -> bool:
    return _clamped(a) and a.put(f"{CLAMP}.inhibits", [])


@fault("clamp-not-asked-in-automatic", "asks the clamp before homing and jog alone")
def _(a: PlainAxis) -> bool:
    return _clamped(a) and a.put(f"{CLAMP}.inhibits", ["homing", "jog"])


@fault("clamp-not-asked-before-homing", "homes the axis without asking if the clamp is open")
def _(a: PlainAxis) -> bool:
    return _clamped(a) and a.put(f"{CLAMP}.inhibits", ["automatic_motion", "jog"])


@fault("clamp-not-asked-in-jog", "jogs the axis without asking if the clamp is open")
def _(a: PlainAxis) -> bool:
    return _clamped(a) and a.put(f"{CLAMP}.inhibits", ["automatic_motion", "homing"])


@fault("clamp-closes-in-motion", "lets the program close the clamp while the axis moves")
def _(a: PlainAxis) -> bool:
    return _clamped(a) and a.put(f"{CLAMP}.closes_at_standstill", False)


@fault("clamp-slower-than-its-timeout", "fits a clamp that opens slower than the controller waits")
def _(a: PlainAxis) -> bool:
    if not _clamped(a):
        return False
    return a.write(f"{CLAMP}.release_time", a.need(f"{CLAMP}.open_timeout") * Fraction(3, 2))


# --- what it holds --------------------------------------------------------------------------------


@fault("clamp-too-weak-for-the-process", "lets the process push harder than the clamp holds")
def _(a: PlainAxis) -> bool:
    if not _clamped(a):
        return False
    kind = "process_force" if a.get("motion") == "linear" else "process_torque"
    held = a.need(holding(a, CLAMP))
    force = held / at_shaft(a, Fraction(1)) if holding(a, CLAMP).endswith("torque") else held
    return a.write(f"{CLAMP}.{kind}", rounded(force * Fraction(9, 10), 3))


@fault("clamp-too-weak-for-its-load", "hangs a load on a clamp that holds it without a margin")
def _(a: PlainAxis) -> bool:
    if not _hangs_on_it(a):
        return False
    return a.write(holding(a, CLAMP), rounded(_in_its_place(a, pull(a)) * Fraction(13, 10), 3))


@fault("motor-pushes-through-its-clamp", "leaves full torque on against a clamp that holds less")
def _(a: PlainAxis) -> bool:
    if not _clamped(a):
        return False
    a.write(holding(a, CLAMP), rounded(_motor(a) * Fraction(8, 10), 3))
    return a.put(f"{CLAMP}.torque_while_closed", "full")


@fault("limit-under-the-clamp-one-decimal-off", "slips a decimal in the limit under a closed clamp")
def _(a: PlainAxis) -> bool:
    if a.get(f"{CLAMP}.torque_while_closed") != "limited":
        return False
    a.write(holding(a, CLAMP), rounded(_motor(a) * Fraction(3, 10), 3))
    return a.scale(f"{CLAMP}.torque_limit_while_closed", 10) or a.scale(
        f"{CLAMP}.force_limit_while_closed", 10
    )


# --- a load that hangs on it ----------------------------------------------------------------------


@fault("clamp-opens-before-the-drive-holds", "opens the clamp of a lift while torque is off")
def _(a: PlainAxis) -> bool:
    return _hangs_on_it(a) and a.put(f"{CLAMP}.opens_under_torque", False)


@fault("clamp-opens-without-air", "hangs a load on a clamp that opens when its air fails")
def _(a: PlainAxis) -> bool:
    return _hangs_on_it(a) and a.put(f"{CLAMP}.closed_without_power", False)


@fault("torque-off-before-the-clamp-holds", "switches torque off before the clamp holds the load")
def _(a: PlainAxis) -> bool:
    if not _hangs_on_it(a):
        return False
    return a.write(f"{CLAMP}.off_delay", a.need(f"{CLAMP}.apply_time") / 2)


@fault("clamp-of-a-lift-taken-away", "takes the clamp away that alone holds a lift")
def _(a: PlainAxis) -> bool:
    if not _hangs_on_it(a) or a.get("mechanics.counterbalance"):
        return False
    a.facts["mechanics"]["load_lock"] = False
    return a.put(CLAMP, "none")


@fault("clamp-on-the-rail-of-a-table", "notes the clamp of a table as one on a rail")
def _(a: PlainAxis) -> bool:
    rotary = a.get("motion") == "rotary"
    return rotary and _clamped(a) and a.put(f"{CLAMP}.acts_on", "carriage")


@fault("clamp-on-a-shaft-that-is-not-there", "notes a clamp on the shaft of a linear motor")
def _(a: PlainAxis) -> bool:
    return _clamped(a) and not a.turns_shaft and a.put(f"{CLAMP}.acts_on", "driving_shaft")
