"""Faults of limits, stops and directions."""

from __future__ import annotations

from fractions import Fraction

from .fault_list import fault
from .plain_axis import PlainAxis, parts

SOFT = "controller.software_limits"
SWITCHES = "mechanics.limit_switches"
TRAVEL = "mechanics.travel"


def flip(a: PlainAxis, path: str) -> bool:
    other = {"normal": "reversed", "reversed": "normal", "same": "reversed"}
    if path.endswith("direction"):
        other["reversed"] = "same"
    return a.put(path, other[str(a.get(path))])


@fault("soft-limit-outside-hard-stop", "types a software limit beyond the hard stop")
def _(a: PlainAxis) -> bool:
    return a.get(SOFT) is not None and a.write(f"{SOFT}.max", a.need(f"{TRAVEL}.max") + a.span / 20)


@fault("soft-limit-beyond-switch", "sets a software limit between limit switch and hard stop")
def _(a: PlainAxis) -> bool:
    if not a.get(SWITCHES) or not a.get(SOFT):
        return False
    middle = (a.need(f"{TRAVEL}.min") + a.need(f"{SWITCHES}.negative")) / 2
    return a.write(f"{SOFT}.min", middle)


@fault("soft-limits-swapped", "enters the lower software limit as the upper one")
def _(a: PlainAxis) -> bool:
    return a.swap(f"{SOFT}.min", f"{SOFT}.max")


@fault("soft-limit-sign-flipped", "enters a software limit without its minus sign")
def _(a: PlainAxis) -> bool:
    lower = a.base(f"{SOFT}.min")
    if lower is None or lower >= 0:
        return False
    return -lower > a.need(f"{SOFT}.max") and a.write(f"{SOFT}.min", -lower)


@fault("soft-limit-without-room-to-stop", "puts the software limit right before the switch")
def _(a: PlainAxis) -> bool:
    if not a.get(SOFT) or planned(a):
        return False
    room = f"{SWITCHES}.positive" if a.get(SWITCHES) else f"{TRAVEL}.max"
    limit = a.need(f"{SOFT}.max")
    return a.write(f"{SOFT}.max", a.need(room) - (a.need(room) - limit) / 50)


@fault("soft-limits-in-inches", "enters millimetres of the software limits as inches")
def _(a: PlainAxis) -> bool:
    upper = a.base(f"{SOFT}.max")
    if upper is None or upper <= 0 or parts(a.get(f"{SOFT}.max"))[1] != "mm":
        return False
    return a.retype(f"{SOFT}.max", "in")


@fault("no-limit-of-any-kind", "leaves an axis without switches and software limits on its stops")
def _(a: PlainAxis) -> bool:
    if a.get(SWITCHES) or a.get("gantry"):
        return False
    return a.get(SOFT) is not None and a.put(SOFT, "none")


@fault("switch-outside-hard-stop", "notes a limit switch behind the hard stop")
def _(a: PlainAxis) -> bool:
    if not a.get(SWITCHES):
        return False
    return a.write(f"{SWITCHES}.positive", a.need(f"{TRAVEL}.max") + a.span / 50)


@fault("switches-swapped", "notes the two limit switches at each other's place")
def _(a: PlainAxis) -> bool:
    return a.swap(f"{SWITCHES}.negative", f"{SWITCHES}.positive")


@fault("switches-at-one-place", "notes one limit switch twice")
def _(a: PlainAxis) -> bool:
    at = a.get(f"{SWITCHES}.negative")
    return at is not None and a.put(f"{SWITCHES}.positive", at)


@fault("switch-without-room-to-stop", "mounts a limit switch right before the hard stop")
def _(a: PlainAxis) -> bool:
    if not a.get(SWITCHES) or a.method == 18:
        return False
    stop = a.need(f"{TRAVEL}.max")
    at = a.need(f"{SWITCHES}.positive")
    return a.write(f"{SWITCHES}.positive", stop - (stop - at) / 50)


@fault("stop-ten-times-softer", "slips a decimal in the deceleration of the stop at a limit")
def _(a: PlainAxis) -> bool:
    if planned(a) or not a.get(SOFT):
        return False
    return a.scale("controller.stop.deceleration", Fraction(1, 10))


@fault("stop-reaction-ten-times-softer", "slips a decimal in the deceleration of the drive's stop")
def _(a: PlainAxis) -> bool:
    if not a.get(SWITCHES):
        return False
    return a.scale("drive.stop_reaction.deceleration", Fraction(1, 10))


def planned(a: PlainAxis) -> bool:
    return bool(a.get(f"{SOFT}.planned"))


@fault("stop-jerk-forgotten", "smooths the stop with a low jerk and keeps the limits")
def _(a: PlainAxis) -> bool:
    slow = a.base("controller.stop.deceleration")
    if slow is None or planned(a) or not a.get(SOFT):
        return False
    unit = parts(a.get("controller.stop.deceleration"))[1].replace("^2", "^3")
    a.facts["controller"]["stop"]["jerk"] = f"0.1 {unit}"
    return a.write("controller.stop.jerk", slow)


@fault("stop-delay-in-seconds", "types milliseconds of the stop's delay as seconds")
def _(a: PlainAxis) -> bool:
    return not planned(a) and a.get(SOFT) is not None and a.retype("controller.stop.delay", "s")


@fault("drive-stop-delay-in-seconds", "types milliseconds of the drive's stop delay as seconds")
def _(a: PlainAxis) -> bool:
    return a.get(SWITCHES) is not None and a.retype("drive.stop_reaction.delay", "s")


@fault("overshoot-ignored", "plans the stop at a limit that it overshoots by more than the room")
def _(a: PlainAxis) -> bool:
    if not planned(a) or not a.get(SWITCHES):
        return False
    room = a.need(f"{SWITCHES}.positive") - a.need(f"{SOFT}.max")
    return a.write("controller.overshoot", 2 * room)


@fault("limit-inputs-swapped", "wires the two limit switches to each other's input")
def _(a: PlainAxis) -> bool:
    path = "drive.limit_inputs.negative_guards"
    guards = a.get(path)
    if guards is None:
        return False
    return a.put(path, "positive" if guards == "negative" else "negative")


@fault("limit-input-inhibited", "inhibits a limit input during commissioning and forgets it")
def _(a: PlainAxis) -> bool:
    inputs = a.get("drive.limit_inputs")
    if not inputs or not a.get(SWITCHES) or a.method in (1, 2, 17, 18):
        return False
    return a.put("drive.limit_inputs.positive", "inhibited")


@fault("limit-input-unwired", "mounts a limit switch and never wires it")
def _(a: PlainAxis) -> bool:
    inputs = a.get("drive.limit_inputs")
    if not inputs or not a.get(SWITCHES) or a.method in (1, 2, 17, 18):
        return False
    return a.put("drive.limit_inputs.negative", "unwired")


@fault("drive-polarity-flipped", "sets up a new drive with the polarity it came with")
def _(a: PlainAxis) -> bool:
    flip(a, "drive.velocity_polarity")
    return flip(a, "drive.polarity")


@fault("controller-polarity-flipped", "turns the direction round in the controller, and only there")
def _(a: PlainAxis) -> bool:
    return flip(a, "controller.polarity")


@fault("velocity-polarity-forgotten", "turns the position polarity and forgets the velocity's")
def _(a: PlainAxis) -> bool:
    return flip(a, "drive.velocity_polarity")


@fault("encoder-direction-flipped", "turns the encoder's counting direction in the drive")
def _(a: PlainAxis) -> bool:
    return a.get("drive.encoder_direction") is not None and flip(a, "drive.encoder_direction")


@fault("encoder-mounted-mirrored", "fits an encoder that counts the other way")
def _(a: PlainAxis) -> bool:
    return a.get("encoder.count_direction") is not None and flip(a, "encoder.count_direction")


@fault("reversing-stage-forgotten", "replaces a gearbox by one that turns the other way")
def _(a: PlainAxis) -> bool:
    stages = a.get("mechanics.stages")
    return bool(stages) and a.put(
        "mechanics.stages.0.reversing", not a.get("mechanics.stages.0.reversing")
    )


@fault("motor-mounted-mirrored", "mounts the motor on the other end of the shaft")
def _(a: PlainAxis) -> bool:
    return a.get("mechanics.final.direction") is not None and flip(a, "mechanics.final.direction")


@fault("soft-limits-absent", "runs a linear axis against its limit switches only")
def _(a: PlainAxis) -> bool:
    if a.get("gantry") or not a.get("mechanics.limit_switches"):
        return False
    return a.put("controller.software_limits", "none")


@fault("hard-stops-noted-as-none", "states that there are no hard stops on an axis that has ends")
def _(a: PlainAxis) -> bool:
    """An arm can have no stops, and turn until a cable is wound up."""
    return a.get("motion") == "linear" and bool(a.get(TRAVEL)) and a.put(TRAVEL, "none")
