"""Faults of speeds, torque, brake and position loop."""

from __future__ import annotations

import math
from fractions import Fraction

from .braked_loads import friction_holds, held_besides
from .fault_list import fault
from .plain_axis import PlainAxis, parts

FINAL = "mechanics.final"
BRAKE = "motor.brake"
CRITICAL = {
    "fixed_free": Fraction(34, 10),
    "supported_supported": Fraction(97, 10),
    "fixed_supported": Fraction(151, 10),
    "fixed_fixed": Fraction(219, 10),
}
"""Of a screw's critical speed k·10⁷·d/L² in rpm and mm (ball screw handbooks, from memory)."""


@fault("speed-per-minute", "types a speed per minute into a field per second")
def _(a: PlainAxis) -> bool:
    if not a.turns_shaft:
        return False
    return a.scale("controller.max_velocity", 60)


@fault("rpm-for-degrees-per-second", "types revolutions per minute into degrees per second")
def _(a: PlainAxis) -> bool:
    path = "controller.max_velocity"
    return parts(a.get(path))[1] == "deg/s" and a.retype(path, "rpm")


@fault("speed-in-inches", "types millimetres per second as inches per second")
def _(a: PlainAxis) -> bool:
    if not a.turns_shaft:
        return False
    path = "controller.max_velocity"
    return parts(a.get(path))[1] == "mm/s" and a.retype(path, "in/s")


@fault("slower-motor", "fits a motor that stands a third of the speed")
def _(a: PlainAxis) -> bool:
    top = a.need("controller.max_velocity") / a.per_motor_turn
    a.write("motor.rated_speed", top / 3)
    return a.write("motor.max_speed", top / 2)


@fault("drive-speed-limit-too-low", "leaves the drive's speed limit at half the speed wanted")
def _(a: PlainAxis) -> bool:
    return a.write("drive.max_speed", a.need("controller.max_velocity") / a.per_motor_turn / 2)


@fault("drive-allows-more-than-motor", "leaves the speed limit of a faster motor in the drive")
def _(a: PlainAxis) -> bool:
    if not a.turns_shaft:
        return False
    return a.write("drive.max_speed", a.need("motor.max_speed") * 3 / 2)


@fault("slower-encoder", "fits an encoder that stands half the speed")
def _(a: PlainAxis) -> bool:
    if a.linear_scale or a.get("encoder.max_speed") is None:
        return False
    top = a.need("controller.max_velocity") / a.per_encoder_turn
    return a.write("encoder.max_speed", top / 2)


@fault(
    "lines-for-edges-in-frequency", "reads a limit in lines per second as one in edges per second"
)
def _(a: PlainAxis) -> bool:
    path = "encoder.max_frequency"
    rate = a.base(path)
    if rate is None or a.linear_scale:
        return False
    counts = a.need("encoder.lines_per_revolution") * a.need("encoder.edges_per_line")
    top = a.need("controller.max_velocity") / a.per_encoder_turn * counts
    return rate / 4 < top and a.scale(path, Fraction(1, 4))


@fault("drive-input-too-slow", "fits a drive whose encoder input counts half as fast as needed")
def _(a: PlainAxis) -> bool:
    path = "drive.feedback_frequency_limit"
    if a.base(path) is None or a.linear_scale:
        return False
    counts = a.need("drive.counts_per_revolution")
    top = a.need("controller.max_velocity") / a.per_encoder_turn * counts
    return a.write(path, top / 2)


@fault("command-increments-too-fast", "makes the command so fine that its rate is beyond the drive")
def _(a: PlainAxis) -> bool:
    path = "drive.command_frequency_limit"
    if a.base(path) is None or not a.get("drive.gear"):
        return False
    top = a.need("controller.max_velocity") / a.need("drive.gear.command_increment")
    return a.write(path, top / 2)


@fault("longer-screw", "fits a screw three times as long and runs it as fast")
def _(a: PlainAxis) -> bool:
    if a.get(f"{FINAL}.support") is None or a.get(f"{FINAL}.turning_part") == "nut":
        return False
    k = CRITICAL[a.get(f"{FINAL}.support")] * 10**7
    length = 3 * a.need(f"{FINAL}.unsupported_length")
    critical = k * a.need(f"{FINAL}.root_diameter") / length**2 / 60
    if critical >= a.need("controller.max_velocity") / a.feed:
        return False
    return a.scale(f"{FINAL}.unsupported_length", 3)


@fault("screw-end-left-free", "removes the far bearing of a screw")
def _(a: PlainAxis) -> bool:
    if a.get(f"{FINAL}.support") is None or a.get(f"{FINAL}.turning_part") == "nut":
        return False
    k = Fraction(34, 10) * 10**7
    length = a.need(f"{FINAL}.unsupported_length")
    critical = k * a.need(f"{FINAL}.root_diameter") / length**2 / 60
    top = a.need("controller.max_velocity") / a.feed
    return critical < top and a.put(f"{FINAL}.support", "fixed_free")


@fault("cheaper-screw", "fits a screw that permits half the speed")
def _(a: PlainAxis) -> bool:
    top = a.need("controller.max_velocity") / a.feed if a.get(FINAL) else Fraction(0)
    if a.get(f"{FINAL}.rated_speed") is not None:
        return a.write(f"{FINAL}.rated_speed", top / 2)
    if a.get(f"{FINAL}.speed_index") is None:
        return False
    return a.put(f"{FINAL}.speed_index", int(a.need(f"{FINAL}.nominal_diameter") * top * 60 / 2))


@fault("acceleration-in-metres", "types mm/s² as m/s²")
def _(a: PlainAxis) -> bool:
    if not a.turns_shaft:
        return False
    path = "controller.max_acceleration"
    return parts(a.get(path))[1] == "mm/s^2" and a.retype(path, "m/s^2")


@fault("acceleration-one-decimal-off", "slips a decimal in the highest acceleration")
def _(a: PlainAxis) -> bool:
    if not a.turns_shaft:
        return False
    # A motor that can do it even so has no fault.
    alpha = float(10 * a.need("controller.max_acceleration") / a.per_motor_turn) * math.tau
    if float(a.need("motor.inertia")) * alpha < 1.2 * float(a.need("motor.peak_torque")):
        return False
    return a.scale("controller.max_acceleration", 10)


@fault("jerk-in-metres", "types the digits of a jerk in m/s³ into a field in mm/s³")
def _(a: PlainAxis) -> bool:
    return a.scale("controller.max_jerk", Fraction(1, 1000))


@fault("jerk-without-effect", "types a jerk so high that it limits nothing")
def _(a: PlainAxis) -> bool:
    return a.scale("controller.max_jerk", 10000)


@fault("torque-limit-of-larger-motor", "fits a smaller motor and keeps the drive's torque limit")
def _(a: PlainAxis) -> bool:
    a.scale("motor.rated_torque", Fraction(1, 2))
    return a.scale("motor.peak_torque", Fraction(1, 2))


@fault("torque-limit-in-percent", "types per cent into a torque limit in per mille")
def _(a: PlainAxis) -> bool:
    return a.scale("drive.torque_limit", Fraction(1, 10))


@fault("heavier-load", "moves ten times the load the axis was made for")
def _(a: PlainAxis) -> bool:
    if not a.turns_shaft:
        return False
    return a.scale("mechanics.load_mass", 10) or a.scale("mechanics.load_inertia", 10)


@fault("motor-without-inertia-match", "fits a motor with a twentieth of the rotor inertia")
def _(a: PlainAxis) -> bool:
    return a.scale("motor.inertia", Fraction(1, 20))


@fault("duty-above-peak", "runs a duty with a segment above the motor's peak torque")
def _(a: PlainAxis) -> bool:
    if not a.get("controller.duty") or not a.turns_shaft:
        return False
    return a.write("controller.duty.0.torque", a.need("motor.peak_torque") * 3 / 2)


@fault("duty-without-rest", "cuts the pauses out of a duty that needed them")
def _(a: PlainAxis) -> bool:
    duty = a.get("controller.duty")
    if not duty or not a.turns_shaft:
        return False
    a.write("controller.duty.0.torque", a.need("motor.rated_torque") * 2)
    return a.put("controller.duty", a.get("controller.duty")[:1])


@fault("window-below-lag", "sets the following error window to half the lag at speed")
def _(a: PlainAxis) -> bool:
    speed, gain = a.need("controller.max_velocity"), a.need("controller.position_loop_gain")
    left = 1 - a.need("controller.velocity_feedforward")
    return left > 0 and a.write("drive.following_error_window", speed / gain * left / 2)


@fault("window-opened-to-silence-it", "opens the following error window until the alarm stops")
def _(a: PlainAxis) -> bool:
    free = a.base("mechanics.free_distance")
    return free is not None and a.write("drive.following_error_window", 50 * free)


@fault("window-timeout-in-seconds", "types the following error's time out as seconds")
def _(a: PlainAxis) -> bool:
    return a.retype("drive.following_error_timeout", "s")


@fault("gain-unit-mistaken", "types a gain in (m/min)/mm that the field wants in 1/s")
def _(a: PlainAxis) -> bool:
    return a.scale("controller.position_loop_gain", Fraction(6, 100))


@fault("gain-scaled-twice", "converts a gain from (m/min)/mm that is in 1/s already")
def _(a: PlainAxis) -> bool:
    by = Fraction(1000, 60)
    if a.need("controller.position_loop_gain") * a.need("controller.cycle_time") * by < Fraction(
        3, 10
    ):
        return False  # a loop so fast that it stands even this
    return a.scale("controller.position_loop_gain", by)


@fault("feedforward-off", "switches the feed-forward off after a fault and leaves it so")
def _(a: PlainAxis) -> bool:
    speed, gain = a.need("controller.max_velocity"), a.need("controller.position_loop_gain")
    if speed / gain < a.need("drive.following_error_window"):
        return False
    return a.put("controller.velocity_feedforward", "0 %")


@fault("brake-time-not-waited-for", "moves before the brake has opened")
def _(a: PlainAxis) -> bool:
    if not a.get(BRAKE):
        return False
    return a.write("drive.brake_release_delay", a.need(f"{BRAKE}.release_time") / 2)


@fault("torque-off-before-brake-holds", "switches torque off before the brake holds")
def _(a: PlainAxis) -> bool:
    if not a.get(BRAKE) or not a.get("mechanics.moved_by_gravity"):
        return False
    return a.write("drive.brake_off_delay", a.need(f"{BRAKE}.apply_time") / 2)


@fault("slower-brake", "fits a motor whose brake is three times as slow")
def _(a: PlainAxis) -> bool:
    return a.scale(f"{BRAKE}.release_time", 5) and a.scale(f"{BRAKE}.apply_time", 5)


@fault("brake-too-weak", "fits a motor whose brake holds a tenth")
def _(a: PlainAxis) -> bool:
    if not a.get("mechanics.moved_by_gravity"):
        return False
    return a.scale(f"{BRAKE}.holding_torque", Fraction(1, 20))


@fault("brake-forgotten", "fits a motor without brake to a vertical axis")
def _(a: PlainAxis) -> bool:
    a.facts["mechanics"].pop("self_locking", None)
    return (
        bool(a.get("mechanics.moved_by_gravity"))
        and a.get(BRAKE) is not None
        and a.get("mechanics.counterbalance") is None  # with one, friction can hold the rest
        and not held_besides(a)
        and a.put(BRAKE, "none")
    )


@fault("brake-of-another-voltage", "fits a motor with a 90 V brake to a drive that gives 24 V")
def _(a: PlainAxis) -> bool:
    return a.get(BRAKE) is not None and a.put(f"{BRAKE}.voltage", "90 V")


@fault("returned-power-forgotten", "fits a drive without braking resistor to a hoist")
def _(a: PlainAxis) -> bool:
    return a.get("drive.braking_power") is not None and a.put("drive.braking_power", "0 W")


@fault("counterbalance-removed", "runs on after the counterbalance cylinder was removed")
def _(a: PlainAxis) -> bool:
    if a.get("mechanics.counterbalance") is None or not a.get(BRAKE) or not a.turns_shaft:
        return False
    arm = float(a.per_motor_turn) / 1000 / math.tau
    if float(a.need(f"{BRAKE}.holding_torque")) > float(a.need("mechanics.load_mass")) * 9.8 * arm:
        return False  # a brake that holds all the weight
    return a.put("mechanics.counterbalance", "none")


@fault("vertical-not-noted", "notes an axis that stands upright as a horizontal one")
def _(a: PlainAxis) -> bool:
    if not a.get("mechanics.moved_by_gravity") or a.get("mechanics.counterbalance"):
        return False
    if a.get("mechanics.load_lock") or friction_holds(a):
        return False
    a.facts["mechanics"].pop("self_locking", None)
    return a.put("mechanics.moved_by_gravity", False)


@fault("torque-off-at-once", "lets the drive switch torque off at once on a suspended load")
def _(a: PlainAxis) -> bool:
    if not a.get("mechanics.moved_by_gravity") or not a.get("drive.stop_reaction"):
        return False
    if a.get(BRAKE) is None:
        return False
    a.scale(f"{BRAKE}.apply_time", 20)
    a.put("drive.stop_reaction.stop_category", 0)
    return a.put("drive.stop_reaction.option", "disable_at_once")


@fault("stop-category-of-other-option", "notes stop category 2 where the drive switches torque off")
def _(a: PlainAxis) -> bool:
    path = "drive.stop_reaction.stop_category"
    return a.get(path) is not None and a.put(path, 2)


@fault("stop-harder-than-motor", "enters a stop deceleration that no torque can give")
def _(a: PlainAxis) -> bool:
    if not a.turns_shaft:
        return False
    # The rotor alone needs more than the motor's peak for it.
    stop = a.base("drive.stop_reaction.deceleration")
    if stop is None or a.endless:
        return False
    alpha = float(40 * stop / a.per_motor_turn) * math.tau
    if float(a.need("motor.inertia")) * alpha < 1.2 * float(a.need("motor.peak_torque")):
        return False
    return a.scale("drive.stop_reaction.deceleration", 40)


@fault("efficiency-as-percent", "types 90 for an efficiency of 0.9")
def _(a: PlainAxis) -> bool:
    return a.get("mechanics.efficiency") is not None and a.put("mechanics.efficiency", 90)


@fault("weaker-coupling", "fits a coupling for a twentieth of the torque")
def _(a: PlainAxis) -> bool:
    return bool(a.get("mechanics.couplings")) and a.scale(
        "mechanics.couplings.0.rated_torque", Fraction(1, 20)
    )


@fault("cycle-no-multiple", "gives controller and network cycles that do not meet")
def _(a: PlainAxis) -> bool:
    cycle = a.need("controller.cycle_time") * Fraction(3, 2)
    network = parts(a.machine["network"]["cycle_time"])[0] / 1000
    if (cycle / network).denominator == 1 or (network / cycle).denominator == 1:
        return False
    return a.write("controller.cycle_time", cycle)


@fault("resolution-wasted-on-linear-scale", "fits a scale a hundred times too coarse")
def _(a: PlainAxis) -> bool:
    return a.scale("encoder.measuring_step", 1000) and a.scale(
        "controller.counts_per_unit", Fraction(1, 1000)
    )
