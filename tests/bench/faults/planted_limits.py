"""Planted faults as in planted.py: limits, safety functions, speeds, factors and exports."""

from __future__ import annotations

from fractions import Fraction

from .fault_list import fault
from .plain_axis import PlainAxis, digits, in_unit, parts, rounded, spelled
from .planted import HOMING, drop
from .planted_gravity import SWITCHES, TRAVEL

SOFT = "controller.software_limits"
LARGEST = 2**31 - 1


# --- limits that limit nothing --------------------------------------------------------------------


def _limits(a: PlainAxis, low: str, high: str) -> bool:
    if not a.get(SOFT) or a.get("gantry"):
        return False
    a.put(f"{SOFT}.min", low)
    return a.put(f"{SOFT}.max", high)


def _at_end_of_numbers(a: PlainAxis) -> bool:
    increment = a.base("drive.gear.command_increment")
    reach = LARGEST * increment if increment else LARGEST / a.scaling
    reach = reach / abs(parts(f"1 {a.unit}")[0])
    return _limits(a, in_unit(-reach, a.unit), in_unit(reach, a.unit))


def _no_ends(a: PlainAxis) -> None:
    drop(a, TRAVEL, SWITCHES)


def _no_ramps(a: PlainAxis) -> None:
    drop(a, "controller.stop", "controller.overshoot", "controller.max_velocity", f"{SOFT}.planned")


@fault("limits-at-the-end-of-the-numbers", "leaves the software limits as the drive came")
def _(a: PlainAxis) -> bool:
    return _at_end_of_numbers(a) and a.need(f"{SOFT}.max") > a.need(f"{TRAVEL}.max")


@fault("limits-at-the-end-of-the-numbers-alone", "leaves limits as they came, no ends on record")
def _(a: PlainAxis) -> bool:
    _no_ends(a)
    return _at_end_of_numbers(a)


@fault("limits-beyond-stops-without-ramps", "sets a limit beyond a stop, no ramps on record")
def _(a: PlainAxis) -> bool:
    if not a.get(SOFT):
        return False
    _no_ramps(a)
    return a.write(f"{SOFT}.max", a.need(f"{TRAVEL}.max") + a.span / 20)


@fault("one-limit-beyond-its-stop", "sets a limit beyond a stop, and the other is not on record")
def _(a: PlainAxis) -> bool:
    if not a.get(SOFT):
        return False
    _no_ramps(a)
    drop(a, f"{SOFT}.max")
    return a.write(f"{SOFT}.min", a.need(f"{TRAVEL}.min") - a.span / 20)


@fault("limits-beyond-stops-planned", "plans stops at limits beyond the hard stops")
def _(a: PlainAxis) -> bool:
    if not a.get(SOFT):
        return False
    a.put(f"{SOFT}.planned", True)
    drop(a, "controller.overshoot")
    return a.write(f"{SOFT}.min", a.need(f"{TRAVEL}.min") - a.span / 50)


@fault("limits-of-kilometres", "types limits that no machine reaches, no ends on record")
def _(a: PlainAxis) -> bool:
    if a.get("motion") != "linear":
        return False
    _no_ends(a)
    return _limits(a, "-9999 m", "9999 m")


@fault("limits-of-thousands-of-turns", "types limits that no arm reaches, no ends on record")
def _(a: PlainAxis) -> bool:
    if a.get("motion") != "rotary":
        return False
    _no_ends(a)
    return _limits(a, "-99999 rev", "99999 rev")


@fault(
    "limit-in-metres-without-ramps", "types millimetres of a limit as metres, no ramps on record"
)
def _(a: PlainAxis) -> bool:
    top = a.base(f"{SOFT}.max")
    if top is None or top <= 0 or parts(a.get(f"{SOFT}.max"))[1] != "mm":
        return False
    _no_ramps(a)
    return a.retype(f"{SOFT}.max", "m")


@fault("limits-as-counts-in-units", "copies limits at the end of the numbers as user units")
def _(a: PlainAxis) -> bool:
    _no_ends(a)
    return _limits(a, f"-{LARGEST} {a.unit}", f"{LARGEST} {a.unit}")


# --- the scaling of safety functions --------------------------------------------------------------


def _safety(a: PlainAxis, by: Fraction, unit: str | None = None) -> bool:
    """State a scaling of the safety functions whose counts per unit are off by a factor."""
    if a.has_pi or a.linear_scale or a.base("encoder.counts_per_revolution") is None:
        return False
    counts = a.need("encoder.counts_per_revolution")
    distance = a.per_encoder_turn / by
    text = in_unit(distance, a.unit)
    if unit:
        text = spelled(parts(text)[0], unit)
    a.facts["drive"]["safety_scaling"] = {
        "counts": int(counts),
        "distance": text,
        "encoder": "encoder",
    }
    return by != 1 or unit is not None


@fault("safety-of-the-old-gearbox", "keeps the gearing in the safety functions")
def _(a: PlainAxis) -> bool:
    return _safety(a, Fraction(5, 4))


@fault("safety-of-the-old-encoder", "keeps the counts of the old encoder in the safety functions")
def _(a: PlainAxis) -> bool:
    return _safety(a, Fraction(1, 8))


@fault("safety-of-the-other-encoder", "says that safety functions watch the other encoder")
def _(a: PlainAxis) -> bool:
    """Both encoders of a direct drive can have the same counts per unit. Then this does no harm."""
    if not a.get("second_encoder") or not _safety(a, Fraction(1), a.unit):
        return False
    if a.get("second_encoder.form") != "linear":
        return False
    return a.put("drive.safety_scaling.encoder", "second_encoder")


@fault("safety-with-lines-for-counts", "enters lines for counts in the safety functions")
def _(a: PlainAxis) -> bool:
    return _safety(a, Fraction(1, 4))


@fault("safety-without-the-gearbox", "forgets the gearbox in the safety functions")
def _(a: PlainAxis) -> bool:
    return _safety(a, 1 / a.encoder_ratio)


@fault("safety-gearbox-upside-down", "enters the gearbox of the safety functions upside down")
def _(a: PlainAxis) -> bool:
    return _safety(a, 1 / a.encoder_ratio**2)


@fault("safety-in-inches", "enters millimetres of the safety functions as inches")
def _(a: PlainAxis) -> bool:
    return a.unit == "mm" and _safety(a, Fraction(1), "in")


@fault("safety-one-tooth-off", "miscounts a tooth of a hundred in the safety functions")
def _(a: PlainAxis) -> bool:
    return _safety(a, Fraction(101, 100))


# --- directions and speeds ------------------------------------------------------------------------


@fault(
    "beyond-rated-speed-without-weak-field", "runs a motor faster than rated with its full field"
)
def _(a: PlainAxis) -> bool:
    if not a.turns_shaft or a.get("motor.rated_speed") is None:
        return False
    a.facts["motor"]["field_weakening"] = False
    a.facts["motor"]["torque_curve"] = "none"  # that of the other motor tells nothing of this one
    top = a.need("controller.max_velocity") / a.per_motor_turn
    return a.write("motor.rated_speed", rounded(top * 3 / 4, 3))


@fault("weak-field-beyond-highest-speed", "runs a motor with a weak field beyond its highest speed")
def _(a: PlainAxis) -> bool:
    if not a.turns_shaft or a.get("motor.max_speed") is None:
        return False
    if a.get("controller.max_velocity") is None:
        return False  # another fault took it away
    a.facts["motor"]["field_weakening"] = True
    top = a.need("controller.max_velocity") / a.per_motor_turn
    a.write("motor.rated_speed", rounded(top / 2, 3))
    return a.write("motor.max_speed", rounded(top * 3 / 4, 3))


@fault("velocity-of-turns-for-degrees", "types a velocity six times too high, rpm for deg/s")
def _(a: PlainAxis) -> bool:
    return a.get("motion") == "rotary" and a.scale("controller.max_velocity", 6)


@fault("velocity-per-minute", "types a velocity per minute as one per second")
def _(a: PlainAxis) -> bool:
    return a.turns_shaft and a.scale("controller.max_velocity", 60)


# --- factors --------------------------------------------------------------------------------------


def _scaled(a: PlainAxis, by: Fraction) -> bool:
    if a.get("drive.gear"):
        return False
    number, unit = parts(a.get("controller.counts_per_unit") or "0")
    if number:
        return a.put("controller.counts_per_unit", f"{digits(number * by)} {unit}")
    return a.scale("controller.scaling.distance", 1 / by)


@fault("scaling-off-by-six", "enters a scaling that is off by a factor of 6")
def _(a: PlainAxis) -> bool:
    return _scaled(a, Fraction(6))


@fault("scaling-off-by-sixty", "enters a scaling that is off by a factor of 60")
def _(a: PlainAxis) -> bool:
    return _scaled(a, Fraction(60))


@fault("scaling-off-by-a-sixtieth", "enters a scaling that is off by a factor of 1/60")
def _(a: PlainAxis) -> bool:
    return _scaled(a, Fraction(1, 60))


def _tooth(a: PlainAxis, more: int) -> bool:
    if a.ratio.denominator != 1 or a.ratio < 30:
        return False
    return a.put("drive.gear_ratio.motor_turns", int(a.ratio) + more)


@fault("strain-wave-one-tooth-more", "takes 101 for the ratio of a strain wave gear of 100")
def _(a: PlainAxis) -> bool:
    return _tooth(a, 1)


@fault("strain-wave-one-tooth-less", "takes 99 for the ratio of a strain wave gear of 100")
def _(a: PlainAxis) -> bool:
    return _tooth(a, -1)


# --- exports --------------------------------------------------------------------------------------


@fault("drive-read-before-the-teaching", "checks settings that were read before the last teaching")
def _(a: PlainAxis) -> bool:
    if not a.get(f"{HOMING}.taught"):
        return False
    a.facts["drive"]["exported_on"] = "2026-01-15"
    return True


@fault("encoder-read-before-the-teaching", "checks an encoder's settings from before the teaching")
def _(a: PlainAxis) -> bool:
    if not a.get(f"{HOMING}.taught"):
        return False
    a.facts["encoder"]["exported_on"] = "2026-01-15"
    return True
