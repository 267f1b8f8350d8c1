"""Faults that leave no trace in the facts, so no rule can find them.

The list names them so that nobody expects them to be found.
"""

from __future__ import annotations

from fractions import Fraction

from .fault_list import fault
from .plain_axis import PlainAxis


@fault("friction-understated", "measures friction on the new machine only")
def _(a: PlainAxis) -> bool:
    return a.scale("mechanics.friction_force", Fraction(1, 2)) or (
        a.scale("mechanics.friction_torque", Fraction(1, 2))
    )


@fault("load-understated", "notes the load without the workpiece")
def _(a: PlainAxis) -> bool:
    if a.get("mechanics.moved_by_gravity"):
        return False
    return a.scale("mechanics.load_mass", Fraction(9, 10)) or (
        a.scale("mechanics.load_inertia", Fraction(9, 10))
    )


@fault("pin-calibrated-off", "calibrates at a pin that was moved, and notes the old place")
def _(a: PlainAxis) -> bool:
    if a.method != 37 or a.endless or a.get("gantry"):
        return False
    path = "controller.homing.reference_position"
    return a.write(path, a.need(path) + a.span / 100)


@fault("endless-cycle-wrong-but-whole", "enters two products as one cycle of a conveyor")
def _(a: PlainAxis) -> bool:
    if not a.endless or a.get("motion") != "linear" or a.get("drive.position_range"):
        return False
    return a.scale("controller.cycle", 2)


@fault("cycle-of-one-station", "enters the pitch of one station as the cycle of a table")
def _(a: PlainAxis) -> bool:
    if not a.endless or a.get("motion") != "rotary" or a.get("drive.position_range"):
        return False
    return (a.scaling / 8).denominator == 1 and a.scale("controller.cycle", Fraction(1, 8))


@fault("pulley-wrong-everywhere", "miscounts a pulley and enters the same number everywhere")
def _(a: PlainAxis) -> bool:
    teeth = a.get("mechanics.final.teeth")
    # One tooth less: slower by as much, so that nothing else comes near a limit.
    if a.get("mechanics.final.kind") != "belt" or a.get("drive.gear") or a.linear_scale:
        return False
    if a.endless:
        return False
    by = Fraction(teeth - 1, teeth)
    if not a.get("controller.scaling"):
        return False
    if a.get("encoder.mounted_on") != "motor":
        return False
    a.scale("controller.scaling.distance", by)
    a.scale("drive.feed_constant.feed", by)
    return a.put("mechanics.final.teeth", teeth - 1)


@fault("battery-date-a-year-off", "types last year for this as the day of fitting a battery")
def _(a: PlainAxis) -> bool:
    path = "encoder.turn_counter.battery.fitted_on"
    day = a.get(path)
    return day is not None and a.put(path, str(int(day[:4]) - 1) + day[4:])


@fault("hard-stop-moved", "moves a hard stop outwards by a little and notes nothing")
def _(a: PlainAxis) -> bool:
    if a.endless or a.get("gantry"):
        return False
    if "hard_stop" in str(a.method) or a.method in (3, 19):
        return False
    return a.write("mechanics.travel.max", a.need("mechanics.travel.max") + a.span / 200)


@fault("switch-scatter-understated", "takes the scatter of a new switch for that of the worn one")
def _(a: PlainAxis) -> bool:
    return a.scale("controller.homing.switch.scatter", Fraction(1, 2))


@fault("free-distance-overstated", "believes there is more room to damage than there is")
def _(a: PlainAxis) -> bool:
    return a.scale("mechanics.free_distance", 2)


@fault("brake-worn", "notes the brake's torque from the plate; its lining is worn")
def _(a: PlainAxis) -> bool:
    # The facts stay those of the plate.
    return a.get("motor.brake") is not None


@fault("serial-mistyped-everywhere", "types a serial wrongly wherever it stands")
def _(a: PlainAxis) -> bool:
    old = a.get("motor.serial")
    for path in (
        "motor.serial",
        "controller.homing.taught.motor_serial",
        "motor.commutation.motor_serial",
    ):
        if a.get(path) == old:
            a.put(path, f"{old}0")
    return True


@fault("interlock-not-in-the-program", "documents an interlock that the program does not have")
def _(a: PlainAxis) -> bool:
    return bool(a.get("interlocks"))


@fault("guidance-unhelpful", "tells the operator to call somebody who has left")
def _(a: PlainAxis) -> bool:
    return bool(a.get("interlocks")) and (a.put("interlocks.0.guidance", "Call extension 4711."))


@fault("accuracy-understated", "states an accuracy looser than the product needs")
def _(a: PlainAxis) -> bool:
    return a.scale("mechanics.required_accuracy", Fraction(3, 2))


@fault("switch-moved-a-little", "moves a limit switch by a five hundredth of the travel")
def _(a: PlainAxis) -> bool:
    if a.method not in (17, 18) or a.get("gantry"):
        return False
    end = "negative" if a.method == 17 else "positive"
    inwards = a.span / (500 if a.method == 17 else -500)
    path = f"mechanics.limit_switches.{end}"
    limit = a.need(
        "controller.software_limits.min" if a.method == 17 else "controller.software_limits.max"
    )
    # Where there is room for it: nothing else is to come near a bound.
    if abs(limit - a.need(path)) < 20 * abs(inwards):
        return False
    return a.write(path, a.need(path) + inwards)
