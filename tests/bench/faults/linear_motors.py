"""Faults of linear motors: force, current, attraction, velocity. Written before their rules."""

from __future__ import annotations

from fractions import Fraction

from .fault_list import fault
from .plain_axis import PlainAxis, factor, parts, rounded

G = Fraction(980665, 100000)
"""Standard gravity in m/s² (CGPM 1901)."""

MOTOR, DRIVE, HOMING = "motor", "drive", "controller.homing"


def _is_linear_motor(a: PlainAxis) -> bool:
    return a.get("motor.rated_force") is not None


def _metres(a: PlainAxis, path: str) -> Fraction:
    number, unit = parts(a.get(path))
    return number * factor(unit) / 1000


def _mass(a: PlainAxis) -> Fraction:
    return a.need("mechanics.load_mass") + a.need("motor.moving_mass")


def _gravity(a: PlainAxis) -> Fraction:
    """Force of the weight that nothing balances, on an axis that stands upright."""
    if not a.get("mechanics.moved_by_gravity"):
        return Fraction(0)
    return _mass(a) * G * (1 - (a.base("mechanics.counterbalance") or 0))


def _starting(a: PlainAxis) -> Fraction:
    """Force at the highest acceleration, in N."""
    rate = _metres(a, "controller.max_acceleration")
    return _mass(a) * rate + a.need("mechanics.friction_force") + _gravity(a)


def _forces(a: PlainAxis, peak: Fraction) -> bool:
    a.write("motor.rated_force", rounded(peak / 3, 3))
    return a.write("motor.peak_force", rounded(peak, 3))


@fault("linear-motor-too-weak", "fits a linear motor that gives four fifths of what a start takes")
def _(a: PlainAxis) -> bool:
    return _is_linear_motor(a) and _forces(a, _starting(a) * 4 / 5)


@fault("force-limit-of-larger-motor", "fits a smaller linear motor and keeps the force limit")
def _(a: PlainAxis) -> bool:
    return _is_linear_motor(a) and _forces(a, a.need("motor.peak_force") / 2)


@fault("force-limit-one-decimal-off", "types a force limit of a tenth")
def _(a: PlainAxis) -> bool:
    return _is_linear_motor(a) and a.scale("drive.force_limit", Fraction(1, 10))


@fault("heavier-load-on-a-linear-motor", "moves ten times the load the linear motor was made for")
def _(a: PlainAxis) -> bool:
    return _is_linear_motor(a) and a.scale("mechanics.load_mass", 10)


@fault("linear-acceleration-in-metres", "types mm/s² as m/s² on an axis with a linear motor")
def _(a: PlainAxis) -> bool:
    path = "controller.max_acceleration"
    if not _is_linear_motor(a) or parts(a.get(path))[1] != "mm/s^2":
        return False
    return a.retype(path, "m/s^2")


@fault("linear-stop-in-metres", "types the stop of a linear motor in m/s² that is in mm/s²")
def _(a: PlainAxis) -> bool:
    path = "drive.stop_reaction.deceleration"
    if not _is_linear_motor(a) or parts(a.get(path))[1] != "mm/s^2":
        return False
    return a.retype(path, "m/s^2")


@fault("linear-homing-acceleration-in-metres", "types a homing acceleration in m/s²")
def _(a: PlainAxis) -> bool:
    path = f"{HOMING}.acceleration"
    if not _is_linear_motor(a) or not a.get(path) or parts(a.get(path))[1] != "mm/s^2":
        return False
    if not a.get(f"{HOMING}.switch") and a.method in (33, 34):
        # The drive latches the next mark and needs no place to stop at. Even with all its force
        # the axis runs on, and no harm is done if the following error stays within its window.
        slow = (a.need("motor.peak_force") - _gravity(a)) / _mass(a) * 1000
        if a.need(f"{HOMING}.search_speed") ** 2 / (2 * slow) < a.need(
            "drive.following_error_window"
        ):
            return False
    return a.retype(path, "m/s^2")


@fault("friction-without-the-magnets", "works out the friction of guides without the attraction")
def _(a: PlainAxis) -> bool:
    if not _is_linear_motor(a) or a.get("motor.attraction_force") is None:
        return False
    weight = Fraction(0) if a.get("mechanics.moved_by_gravity") else _mass(a) * G
    share = a.need("mechanics.friction_coefficient")
    true = share * (weight + a.need("motor.attraction_force"))
    without = share * weight
    # Of weak magnets on a heavy load it makes no difference.
    return without < true * 4 / 5 and a.write("mechanics.friction_force", rounded(without, 3))


@fault("attraction-of-newtons-in-kilonewtons", "types the newtons of the attraction as kilonewtons")
def _(a: PlainAxis) -> bool:
    return _is_linear_motor(a) and a.scale("motor.attraction_force", 1000)


@fault("linear-duty-above-peak", "runs a duty with a segment above the motor's peak force")
def _(a: PlainAxis) -> bool:
    return _is_linear_motor(a) and a.write(
        "controller.duty.0.force", a.need("motor.peak_force") * 3 / 2
    )


@fault("linear-duty-without-rest", "cuts the pauses out of a duty of a linear motor")
def _(a: PlainAxis) -> bool:
    if not _is_linear_motor(a):
        return False
    a.write("controller.duty.0.force", a.need("motor.rated_force") * 2)
    return a.put("controller.duty", a.get("controller.duty")[:1])


@fault("linear-duty-without-load", "takes the duty of a vertical linear motor without its load")
def _(a: PlainAxis) -> bool:
    if not _is_linear_motor(a) or not a.get("mechanics.moved_by_gravity"):
        return False
    return all(
        a.scale(f"controller.duty.{number}.force", Fraction(1, 50))
        for number in range(len(a.get("controller.duty")))
    )


@fault("linear-load-of-tonnes-in-kg", "types a load in tonnes with the unit kg, on linear motors")
def _(a: PlainAxis) -> bool:
    return _is_linear_motor(a) and a.scale("mechanics.load_mass", Fraction(1, 1000))


@fault("linear-load-without-its-tool", "forgets the tool, which is most of the load")
def _(a: PlainAxis) -> bool:
    if not _is_linear_motor(a):
        return False
    a.scale("motor.moving_mass", Fraction(1, 10))
    a.scale("mechanics.load_mass", Fraction(1, 10))
    # The duty shows it where most of its force is for the mass.
    highest = max(
        abs(a.need(f"controller.duty.{number}.force"))
        for number in range(len(a.get("controller.duty")))
    )
    return highest > Fraction(21, 10) * _starting(a)


@fault(
    "smaller-drive-on-a-linear-motor", "fits a drive whose peak current is too low for the moves"
)
def _(a: PlainAxis) -> bool:
    if not _is_linear_motor(a):
        return False
    amperes = _starting(a) / a.need("motor.force_constant") * 4 / 5
    a.write("drive.rated_current", rounded(min(amperes, a.need("drive.rated_current")), 3))
    return a.write("drive.peak_current", rounded(amperes, 3))


@fault("drive-too-small-for-the-linear-duty", "fits a drive whose rated current the duty exceeds")
def _(a: PlainAxis) -> bool:
    if not _is_linear_motor(a):
        return False
    rows = [
        (a.need(f"controller.duty.{n}.force"), a.need(f"controller.duty.{n}.time"))
        for n in range(len(a.get("controller.duty")))
    ]
    mean = sum(f * f * s for f, s in rows) / sum(s for _, s in rows)
    effective = Fraction(float(mean) ** 0.5)
    amperes = effective / a.need("motor.force_constant") * 4 / 5
    return a.write("drive.rated_current", rounded(amperes, 3))


@fault("force-constant-per-peak-ampere", "copies a force constant per ampere of the sine's peak")
def _(a: PlainAxis) -> bool:
    return _is_linear_motor(a) and a.scale("motor.force_constant", Fraction(7071, 10000))


@fault("force-constant-of-another-winding", "copies the force constant of the parallel winding")
def _(a: PlainAxis) -> bool:
    return _is_linear_motor(a) and a.scale("motor.force_constant", Fraction(1, 2))


@fault("linear-forces-swapped", "notes rated and peak force of a motor in each other's place")
def _(a: PlainAxis) -> bool:
    return a.swap("motor.rated_force", "motor.peak_force")


@fault("linear-velocities-swapped", "notes rated and highest velocity in each other's place")
def _(a: PlainAxis) -> bool:
    return a.swap("motor.rated_velocity", "motor.max_velocity")


@fault("slower-linear-motor", "fits a linear motor that permits four fifths of the velocity")
def _(a: PlainAxis) -> bool:
    top = a.need("controller.max_velocity")
    a.write("motor.rated_velocity", rounded(top * 3 / 5, 4))
    return a.write("motor.max_velocity", rounded(top * 4 / 5, 4))


@fault("linear-velocity-per-minute", "types a velocity per minute as one per second")
def _(a: PlainAxis) -> bool:
    return _is_linear_motor(a) and a.scale("controller.max_velocity", 60)


@fault("drive-limits-linear-velocity", "leaves the velocity limit of the drive at half")
def _(a: PlainAxis) -> bool:
    return a.write("drive.max_velocity", a.need("controller.max_velocity") / 2)


@fault("drive-permits-more-than-linear-motor", "leaves the velocity limit of a faster linear motor")
def _(a: PlainAxis) -> bool:
    limit = a.base("motor.max_velocity")
    return limit is not None and a.write("drive.max_velocity", limit * 3 / 2)


@fault("linear-motor-rated-for-less", "fits a linear motor rated for two thirds of the velocity")
def _(a: PlainAxis) -> bool:
    return a.write("motor.rated_velocity", rounded(a.need("controller.max_velocity") * 2 / 3, 4))


@fault("linear-homing-presses-hard", "homes a linear motor against its stop with the rated force")
def _(a: PlainAxis) -> bool:
    return _is_linear_motor(a) and a.write(f"{HOMING}.force_limit", a.need("motor.rated_force"))


@fault("linear-homing-too-gentle", "homes a linear motor against its stop with less than friction")
def _(a: PlainAxis) -> bool:
    friction = a.need("mechanics.friction_force") if _is_linear_motor(a) else Fraction(0)
    return a.write(f"{HOMING}.force_limit", rounded(friction * 9 / 10, 3))


@fault("peak-force-one-decimal-off", "moves the decimal point of a linear motor's peak force")
def _(a: PlainAxis) -> bool:
    return _is_linear_motor(a) and a.scale("motor.peak_force", 10)


@fault("linear-brake-in-kilonewtons", "types the newtons of a brake's holding force as kilonewtons")
def _(a: PlainAxis) -> bool:
    return a.scale("motor.brake.holding_force", 1000)


@fault("linear-brake-too-weak", "fits a brake to a vertical linear motor that holds a tenth")
def _(a: PlainAxis) -> bool:
    if not a.get("mechanics.moved_by_gravity"):
        return False
    return a.scale("motor.brake.holding_force", Fraction(1, 20))


@fault(
    "moving-part-of-the-larger-motor", "fits a larger linear motor that weighs as much as a load"
)
def _(a: PlainAxis) -> bool:
    """The heavier part takes more force than the drive, set as before, permits."""
    if not _is_linear_motor(a):
        return False
    more = a.need("drive.force_limit") * 11 / 10 - _starting(a)
    rate = _metres(a, "controller.max_acceleration")
    return a.write("motor.moving_mass", rounded(a.need("motor.moving_mass") + more / rate, 3))


@fault("linear-motor-with-a-torque", "types the torque of a rotary motor for a linear one, too")
def _(a: PlainAxis) -> bool:
    return _is_linear_motor(a) and a.put("motor.rated_torque", "2.4 N·m")


@fault("shaft-motor-with-a-force", "types the force of a linear motor for one with a shaft, too")
def _(a: PlainAxis) -> bool:
    return a.turns_shaft and a.put("motor.rated_force", "180 N")
