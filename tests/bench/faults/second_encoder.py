"""Faults of axes with a second encoder on the other side of the transmission."""

from __future__ import annotations

from fractions import Fraction

from .fault_list import fault
from .plain_axis import PlainAxis, in_unit, rounded
from .two_encoders import (
    DRIVE,
    MONITORING,
    SECOND,
    counts_per_unit,
    has_second,
    load_side,
    smallest_slip,
    typed,
)


def _drift(a: PlainAxis) -> Fraction:
    """The share by which one scaling must be off to use up the window of the monitoring."""
    return a.need(f"{MONITORING}.window") / a.span


# --- scaling --------------------------------------------------------------------------------------


def _rescale(a: PlainAxis, by: Fraction | int) -> bool:
    """Change the scaling of the second encoder in the drive, in the form that it has there."""
    if a.get(f"{DRIVE}.scaling"):
        return a.scale(f"{DRIVE}.scaling.distance", 1 / Fraction(by))
    return a.scale(f"{DRIVE}.feed_constant.feed", 1 / Fraction(by))


@fault("second-scaling-of-next-scale", "leaves the scaling of a scale with half the step")
def _(a: PlainAxis) -> bool:
    return bool(a.get(f"{SECOND}.form") == "linear") and _rescale(a, 2)


@fault("second-scaling-typed-short", "types the scaling of the second encoder with too few digits")
def _(a: PlainAxis) -> bool:
    return has_second(a) and not a.endless and _rescale(a, 1 + _drift(a) * Fraction(11, 10))


@fault("second-scaling-a-little-short", "lets both scalings drift by three quarters of the window")
def _(a: PlainAxis) -> bool:
    return has_second(a) and not a.endless and _rescale(a, 1 - _drift(a) * Fraction(3, 4))


@fault("second-scaling-off-on-a-table", "gives a table a second encoder that is off by 10 ppm")
def _(a: PlainAxis) -> bool:
    return has_second(a) and a.endless and _rescale(a, Fraction(100001, 100000))


@fault("second-ratio-forgotten", "enters the second encoder as if no gear lay before it")
def _(a: PlainAxis) -> bool:
    ratio = f"{DRIVE}.gear_ratio"
    if not a.get(ratio) or a.get(f"{ratio}.motor_turns") == a.get(f"{ratio}.shaft_turns"):
        return False
    return a.put(ratio, {"motor_turns": 1, "shaft_turns": 1})


@fault("second-ratio-upside-down", "swaps both numbers of the second encoder's gear ratio")
def _(a: PlainAxis) -> bool:
    ratio = f"{DRIVE}.gear_ratio"
    return bool(a.get(ratio)) and a.swap(f"{ratio}.motor_turns", f"{ratio}.shaft_turns")


@fault("second-encoder-of-twice-the-counts", "fits a second encoder of twice the counts")
def _(a: PlainAxis) -> bool:
    return has_second(a) and (
        a.scale(f"{SECOND}.counts_per_revolution", 2)
        or a.scale(f"{SECOND}.lines_per_revolution", 2)
        or a.scale(f"{SECOND}.measuring_step", Fraction(1, 2))
    )


@fault("second-lines-for-counts", "enters the lines of the second encoder for its counts")
def _(a: PlainAxis) -> bool:
    return a.get(f"{SECOND}.lines_per_revolution") is not None and _rescale(a, Fraction(1, 4))


@fault("gearbox-changed-before-second", "changes a gearbox and tells the drive of one encoder only")
def _(a: PlainAxis) -> bool:
    # The encoder that counts is on the load: its scaling stays, and that of the motor's changes.
    if not has_second(a) or load_side(a, SECOND) or not a.get("mechanics.stages"):
        return False
    by = Fraction(3, 2)
    ratio = "drive.gear_ratio"
    whole = a.need(f"{ratio}.motor_turns") / a.need(f"{ratio}.shaft_turns") * by
    a.put(ratio, {"motor_turns": whole.numerator, "shaft_turns": whole.denominator})
    a.scale("mechanics.stated_ratio", by)
    stage = "mechanics.stages.0"
    return a.scale(f"{stage}.motor_turns_per_load_turn", by) or a.scale(
        f"{stage}.load_side_teeth", by
    )


def _controller_scaled(a: PlainAxis, counts: Fraction) -> bool:
    """Give the controller a scaling in counts per base unit."""
    if a.get("drive.gear") or not has_second(a) or counts == a.scaling:
        return False
    for each in ("scaling", "counts_per_unit"):
        a.facts["controller"].pop(each, None)
    a.facts["controller"]["scaling"] = typed(counts, a.unit)
    return True


@fault("scaled-by-the-other-encoder", "scales the controller by the encoder that closes no loop")
def _(a: PlainAxis) -> bool:
    if not has_second(a) or a.get("drive.gear"):
        return False
    closed = a.get("drive.position_feedback")
    other = SECOND if closed == "encoder" else "encoder"
    ours, wrong = counts_per_unit(a, closed), counts_per_unit(a, other)
    # Whoever takes one for the other is not off by a rounding.
    return abs(wrong / ours - 1) > Fraction(1, 1000) and _controller_scaled(a, wrong)


@fault("loop-noted-on-the-other-encoder", "closes the position loop with the other encoder")
def _(a: PlainAxis) -> bool:
    if not has_second(a) or a.get("drive.gear"):
        return False
    ratio = counts_per_unit(a, SECOND) / counts_per_unit(a, "encoder")
    other = {"encoder": "second_encoder", "second_encoder": "encoder"}
    if abs(ratio - 1) < Fraction(1, 1000):
        return False
    return a.put("drive.position_feedback", other[a.get("drive.position_feedback")])


# --- direction ------------------------------------------------------------------------------------

TURNED = {"same": "reversed", "reversed": "same"}


@fault("second-direction-not-told", "does not tell the drive how the second encoder counts")
def _(a: PlainAxis) -> bool:
    return has_second(a) and a.put(f"{DRIVE}.direction", TURNED[a.get(f"{DRIVE}.direction")])


@fault("second-encoder-turned-round", "mounts the second encoder the other way round")
def _(a: PlainAxis) -> bool:
    path = f"{SECOND}.count_direction"
    return has_second(a) and a.put(path, TURNED[a.get(path)])


# --- monitoring -----------------------------------------------------------------------------------


def _loop_on_load(a: PlainAxis) -> bool:
    return has_second(a) and load_side(a, a.get("drive.position_feedback"))


@fault("difference-not-monitored", "switches the monitoring of the two encoders off")
def _(a: PlainAxis) -> bool:
    return _loop_on_load(a) and a.put(MONITORING, "none")


@fault("difference-not-monitored-on-a-lift", "does not monitor the two encoders of a hanging axis")
def _(a: PlainAxis) -> bool:
    hangs = a.get("mechanics.moved_by_gravity")
    return bool(hangs) and _loop_on_load(a) and a.put(MONITORING, "none")


@fault("difference-ignored", "lets the drive ignore the difference of the two encoders")
def _(a: PlainAxis) -> bool:
    return has_second(a) and a.put(f"{MONITORING}.reaction", "ignored")


@fault("difference-only-told", "lets the drive only warn while the load encoder closes the loop")
def _(a: PlainAxis) -> bool:
    return _loop_on_load(a) and a.put(f"{MONITORING}.reaction", "warns")


@fault("window-below-backlash", "sets the window narrower than the backlash")
def _(a: PlainAxis) -> bool:
    if not has_second(a):
        return False
    return a.write(f"{MONITORING}.window", rounded(a.need("mechanics.backlash") / 2, 2))


@fault("window-below-deflection", "sets the window narrower than the elastic deflection")
def _(a: PlainAxis) -> bool:
    if not has_second(a):
        return False
    bent = a.need("mechanics.elastic_deflection")
    return bent > 0 and a.write(f"{MONITORING}.window", rounded(bent * Fraction(9, 10), 3))


@fault("gear-worn-past-the-window", "keeps the window while the backlash of a gear grows")
def _(a: PlainAxis) -> bool:
    return has_second(a) and a.write("mechanics.backlash", a.need(f"{MONITORING}.window"))


@fault("window-wider-than-a-tooth", "sets the window wider than a tooth of the belt or chain")
def _(a: PlainAxis) -> bool:
    slip = smallest_slip(a) if has_second(a) else None
    if slip is None or slip >= a.per_motor_turn:
        return False
    return a.write(f"{MONITORING}.window", rounded(slip * Fraction(3, 2), 3))


@fault("window-wider-than-a-turn", "sets the window wider than a revolution of the motor")
def _(a: PlainAxis) -> bool:
    return has_second(a) and a.write(f"{MONITORING}.window", a.per_motor_turn * Fraction(3, 2))


@fault("window-one-decimal-off", "slips three decimals in the window")
def _(a: PlainAxis) -> bool:
    return has_second(a) and a.scale(f"{MONITORING}.window", 1000)


# --- roles ----------------------------------------------------------------------------------------


@fault("velocity-loop-on-the-load", "closes the velocity loop behind the gear")
def _(a: PlainAxis) -> bool:
    if not has_second(a):
        return False
    far = "second_encoder" if load_side(a, SECOND) else "encoder"
    return a.put("drive.velocity_feedback", far)


@fault("both-encoders-on-one-side", "notes both encoders on one side of the gear")
def _(a: PlainAxis) -> bool:
    if not has_second(a) or a.get(f"{SECOND}.form") == "linear" or a.linear_scale:
        return False
    return a.put(f"{SECOND}.mounted_on", a.get("encoder.mounted_on"))


@fault("homed-with-the-other-encoder", "homes with the encoder that does not count the position")
def _(a: PlainAxis) -> bool:
    return has_second(a) and a.put("controller.homing.encoder", "second_encoder")


@fault("reference-taught-with-the-other", "records the serial of the second encoder at teaching")
def _(a: PlainAxis) -> bool:
    # A switch without index makes a reference that does not depend on the encoder.
    if not has_second(a) or not (a.multiturn or a.method in range(1, 15)):
        return False
    path = "controller.homing.taught.encoder_serial"
    return a.put(path, a.get(f"{SECOND}.serial"))


@fault("commutation-of-the-load-encoder", "records the encoder on the load for the commutation")
def _(a: PlainAxis) -> bool:
    if not has_second(a) or not a.get("motor.commutation"):
        return False
    far = SECOND if load_side(a, SECOND) else "encoder"
    return a.put("motor.commutation.encoder_serial", a.get(f"{far}.serial"))


@fault("both-encoders-with-one-serial", "copies the serial number to the second encoder")
def _(a: PlainAxis) -> bool:
    return has_second(a) and a.put(f"{SECOND}.serial", a.get("encoder.serial"))


# --- limits ---------------------------------------------------------------------------------------


@fault("second-encoder-too-fast", "fits a second encoder that turns half as fast as the axis")
def _(a: PlainAxis) -> bool:
    if not has_second(a) or not a.get(f"{SECOND}.max_speed"):
        return False
    turn = a.feed / (a.ratio if not load_side(a, SECOND) else _its_ratio(a))
    top = min(a.need("controller.max_velocity") / a.per_motor_turn, a.need("drive.max_speed"))
    return a.write(f"{SECOND}.max_speed", rounded(top * a.per_motor_turn / turn / 2, 2))


def _its_ratio(a: PlainAxis) -> Fraction:
    return a.base(f"{SECOND}.turns_per_driving_shaft_turn") or Fraction(1)


@fault("second-encoder-counts-too-fast", "fits a second encoder that gives half the count rate")
def _(a: PlainAxis) -> bool:
    if not has_second(a) or not a.get(f"{SECOND}.max_frequency"):
        return False
    return a.scale(f"{SECOND}.max_frequency", Fraction(1, 5))


@fault("second-range-shorter-than-travel", "fits a second encoder with too few revolutions")
def _(a: PlainAxis) -> bool:
    path = f"{SECOND}.distinguishable_revolutions"
    if not has_second(a) or a.get(path) is None or a.endless:
        return False
    turn = a.feed / (a.ratio if not load_side(a, SECOND) else _its_ratio(a))
    turns = int(a.span / turn)
    return turns >= 1 and a.put(path, turns)


@fault("second-step-one-decimal-off", "slips a decimal in the step of the second encoder")
def _(a: PlainAxis) -> bool:
    step = a.base(f"{SECOND}.measuring_step")
    return step is not None and a.put(f"{SECOND}.measuring_step", in_unit(step * 10, "um"))


@fault("second-encoder-denied", "notes no second encoder, and leaves the drive set up for one")
def _(a: PlainAxis) -> bool:
    return has_second(a) and a.put(SECOND, "none")


@fault("difference-found-late", "gives the monitoring of the difference a time-out of seconds")
def _(a: PlainAxis) -> bool:
    if not has_second(a) or not a.get(f"{MONITORING}.timeout"):
        return False
    if a.get("mechanics.free_distance") is None:
        return False
    return a.put(f"{MONITORING}.timeout", "5 s")
