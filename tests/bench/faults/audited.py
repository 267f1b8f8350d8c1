"""Faults from an audit of the rules: no list had them and no rule found them.

The rules that find them came afterwards, so their recall says nothing about other unknown faults.
"""

from __future__ import annotations

from fractions import Fraction

from .braked_loads import has_a_brake
from .fault_list import fault
from .homing import SWITCH_METHODS
from .plain_axis import PlainAxis, parts, rounded

HOMING = "controller.homing"
SWITCHES = "mechanics.limit_switches"


@fault("power-cut-on-a-level-axis", "lets the drive switch torque off at once at a limit switch")
def _(a: PlainAxis) -> bool:
    if (
        not a.get(SWITCHES)
        or a.get("mechanics.moved_by_gravity")
        or has_a_brake(a)
        or a.get("gantry")
    ):
        return False
    force, mass = a.base("mechanics.friction_force"), a.base("mechanics.load_mass")
    if force is None or mass is None:
        return False
    # By friction on the load's mass alone, which is less than all that moves.
    run = a.need("controller.max_velocity") ** 2 / (2 * 1000 * force / mass)
    if run < a.need(f"{SWITCHES}.negative") - a.need("mechanics.travel.min"):
        return False
    a.put("drive.stop_reaction.stop_category", 0)
    return a.put("drive.stop_reaction.option", "disable_at_once")


@fault("power-cut-on-one-side", "lets the drive of one gantry side switch torque off at once")
def _(a: PlainAxis) -> bool:
    if not a.get("gantry") or a.get("motor.brake"):
        return False
    force, mass = a.base("mechanics.friction_force"), a.base("mechanics.load_mass")
    if force is None or mass is None:
        return False
    # Friction may by chance brake a side about as hard as its drive does: then no harm is done.
    ratio = 1000 * force / mass / a.need("drive.stop_reaction.deceleration")
    if Fraction(1, 2) < ratio < 2:
        return False
    a.put("drive.stop_reaction.stop_category", 0)
    return a.put("drive.stop_reaction.option", "disable_at_once")


@fault("inclination-against-the-vertical", "notes 0 deg for an axis that stands upright")
def _(a: PlainAxis) -> bool:
    if not a.get("mechanics.moved_by_gravity") or a.get("motion") != "linear":
        return False
    return a.put("mechanics.inclination", "0 deg")


@fault("gantry-side-homed-alone", "has one side of a gantry homed after the other")
def _(a: PlainAxis) -> bool:
    if a.get("gantry.role") != "follower" or a.method == 37:
        return False
    return a.put(f"{HOMING}.after", [a.get("gantry.partner")])


@fault("gantry-jerk-of-one-side", "smooths the motion of one gantry side")
def _(a: PlainAxis) -> bool:
    return a.get("gantry") is not None and a.scale("controller.max_jerk", Fraction(4, 5))


@fault("gantry-cycle-of-one-side", "runs one gantry side in a cycle of twice the time")
def _(a: PlainAxis) -> bool:
    if not a.get("gantry"):
        return False
    return a.scale("controller.cycle_time", 2)


@fault("gantry-pin-of-one-side-moved", "sets one side of a gantry at a pin that is not square")
def _(a: PlainAxis) -> bool:
    if not a.get("gantry") or a.method != 37 or a.get("gantry.torque") == "shared":
        return False
    path = f"{HOMING}.reference_position"
    return a.write(path, a.need(path) + 4 * a.need("gantry.racking_tolerance"))


@fault("search-faster-than-the-axis", "copies the search speed of a faster axis")
def _(a: PlainAxis) -> bool:
    top = a.need("controller.max_velocity") * 6 / 5
    return a.base(f"{HOMING}.search_speed") is not None and a.write(f"{HOMING}.search_speed", top)


@fault("search-at-full-speed", "searches the reference nearly as fast as the axis goes")
def _(a: PlainAxis) -> bool:
    fast = a.need("controller.max_velocity") * 9 / 10
    slow = Fraction(300) if a.get("motion") == "linear" else Fraction(40, 360)
    return (
        fast > slow
        and a.base(f"{HOMING}.search_speed") is not None
        and a.write(f"{HOMING}.search_speed", fast)
    )


@fault("homing-acceleration-in-metres", "types a homing acceleration in mm/s² as m/s²")
def _(a: PlainAxis) -> bool:
    path = f"{HOMING}.acceleration"
    if not a.turns_shaft or not a.get(path):
        return False
    return parts(a.get(path))[1] == "mm/s^2" and a.retype(path, "m/s^2")


@fault("hard-stop-search-too-fast", "drives against the hard stop at a speed for open travel")
def _(a: PlainAxis) -> bool:
    fast = Fraction(100) if a.get("motion") == "linear" else Fraction(30, 360)
    return "hard_stop" in str(a.method) and a.write(f"{HOMING}.search_speed", fast)


@fault("repeatability-one-decimal-off", "asks of the homing a tenth of what the process needs")
def _(a: PlainAxis) -> bool:
    needed = a.need("mechanics.required_accuracy")
    if a.get("encoder.kind") != "incremental" or a.get(f"{HOMING}.repeatability") is None:
        return False
    return a.write(f"{HOMING}.repeatability", 10 * needed)


@fault("motor-speeds-swapped", "notes rated and highest speed of a motor in each other's place")
def _(a: PlainAxis) -> bool:
    return a.swap("motor.rated_speed", "motor.max_speed")


@fault("motor-torques-swapped", "notes rated and peak torque of a motor in each other's place")
def _(a: PlainAxis) -> bool:
    return a.swap("motor.rated_torque", "motor.peak_torque")


@fault("motor-rated-for-less", "fits a motor that is rated for two thirds of the top speed")
def _(a: PlainAxis) -> bool:
    if not a.turns_shaft or a.get("motor.rated_speed") is None:
        return False
    a.facts["motor"].pop("field_weakening", None)
    a.facts["motor"]["torque_curve"] = "none"  # that of the other motor tells nothing of this one
    top = a.need("controller.max_velocity") / a.per_motor_turn
    return a.write("motor.rated_speed", top * 2 / 3)


@fault("duty-recorded-without-load", "takes the duty of a hoist without its load")
def _(a: PlainAxis) -> bool:
    if not a.get("mechanics.moved_by_gravity") or not a.get("controller.duty"):
        return False
    return all(
        a.scale(f"controller.duty.{number}.torque", Fraction(1, 50))
        for number in range(len(a.get("controller.duty")))
    )


@fault("home-switch-behind-limit-switch", "mounts the home switch behind the limit switch")
def _(a: PlainAxis) -> bool:
    if a.method not in SWITCH_METHODS or not a.get(SWITCHES):
        return False
    low, high = (a.need(f"{SWITCHES}.{end}") for end in ("negative", "positive"))
    bottom, top = (a.need(f"mechanics.travel.{end}") for end in ("min", "max"))
    to = (
        (2 * low + bottom) / 3
        if a.get(f"{HOMING}.direction") == "negative"
        else (2 * high + top) / 3
    )
    at, reference = a.need(f"{HOMING}.switch.position"), a.need(f"{HOMING}.reference_position")
    a.write(f"{HOMING}.reference_position", reference + to - at)
    return a.write(f"{HOMING}.switch.position", to)


@fault("search-into-limit-switch", "brakes so softly that the search ends on the limit switch")
def _(a: PlainAxis) -> bool:
    if a.method not in (3, 5, 19, 21) or not a.get(SWITCHES):
        return False
    low = a.get(f"{HOMING}.direction") == "negative"
    edge = a.need(f"{HOMING}.switch.position")
    limit = abs(edge - a.need(f"{SWITCHES}.{'negative' if low else 'positive'}"))
    stop = abs(edge - a.need(f"mechanics.travel.{'min' if low else 'max'}"))
    speed = a.need(f"{HOMING}.search_speed")
    late = speed * (a.need("drive.input_filter") + a.need("drive.input_scan"))
    softer = rounded(speed**2 / (2 * ((limit + stop) / 2 - late)), 4)
    return softer < a.need(f"{HOMING}.acceleration") and a.write(f"{HOMING}.acceleration", softer)


@fault("position-range-left-from-a-table", "leaves the range of a table in the drive of a slide")
def _(a: PlainAxis) -> bool:
    if a.endless or a.get("drive.position_range") or a.has_pi:
        return False
    gear = a.base("drive.gear.command_increment")
    steps = a.span / gear if gear else a.span * a.scaling
    a.put("drive.position_range", {"min": 0, "max": int(steps * 4 / 5)})
    return True


def _cleared(a: PlainAxis, condition: str, by: list[str]) -> bool:
    for code in a.machine.get("conditions", []):
        if code["condition"] == condition:
            code["cleared_by"] = by
            return True
    return False


@fault("new-motor-code-goes-away", "notes that the code for another motor goes away by itself")
def _(a: PlainAxis) -> bool:
    return _cleared(a, "motor_unlike_record", ["by_itself"])


@fault("new-drive-code-goes-away", "notes that the code for another drive goes away by itself")
def _(a: PlainAxis) -> bool:
    return _cleared(a, "drive_unlike_record", ["by_itself"])


@fault("new-motor-code-is-reset", "notes that an alarm reset clears the code for another motor")
def _(a: PlainAxis) -> bool:
    if not a.multiturn or a.get("encoder.mounted_on") != "motor":
        return False
    return _cleared(a, "motor_unlike_record", ["alarm_reset"])


@fault("unknown-commutation-is-reset", "notes that a reset clears an unknown commutation angle")
def _(a: PlainAxis) -> bool:
    return _cleared(a, "commutation_unknown", ["alarm_reset", "power_cycle"])


@fault("station-at-address-of-drive", "gives a station of inputs the address of a drive")
def _(a: PlainAxis) -> bool:
    nodes = a.machine["network"]["nodes"]
    for number, node in enumerate(nodes):
        if node["address"] == a.get("drive.node"):
            nodes[number] = {"address": node["address"], "serial": "IO-0816", "drive": False}
            return True
    return False


@fault("switch-worn-as-far-as-the-index", "homes at an index beside a switch that is worn out")
def _(a: PlainAxis) -> bool:
    if a.linear_scale or a.get(f"{HOMING}.index_after_switch") is None:
        return False
    # A method by name has no number, and yet it ends at its own switch.
    at = f"{HOMING}.switch" if a.get(f"{HOMING}.switch") else SWITCHES
    return a.write(f"{at}.scatter", rounded(a.per_encoder_turn * 3 / 5, 2))
