"""Whether a part lets its axis do its work, simulated: mount, switch on, move, stop, let go.

An axis here is what its facts say, and all of them are true. ``troubles`` runs it and tells what
goes wrong. Elementary mechanics and arithmetic of the position chain; nothing is taken from rules.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from .plain_axis import Plain, PlainAxis, factor, in_unit, parts, rounded, spelled
from .swap_brakes import holding_troubles
from .swap_loads import (
    friction,
    gravity_torque,
    load_inertia,
    motion,
    own_inertia,
    pull,
    returned,
)

CLOSE = Fraction(1, 10**7)
"""Feeds with pi are typed with ten figures; nobody sees less."""


@dataclass(frozen=True)
class Torques:
    """At the motor shaft in N·m: at the start, steady, at the stop, of the weight; the rms."""

    start: float
    steady: float
    stop: float
    weight: float
    rms: float
    rows: tuple[tuple[float, float], ...]
    """Torque and time of start, move, stop and rest."""

    @property
    def peak(self) -> float:
        return max(abs(self.start), abs(self.stop), abs(self.steady))


def torques(axis: PlainAxis) -> Torques:
    """Run a start, a move, a stop and a rest with the motor that is in place."""
    radian = math.tau / float(axis.per_motor_turn)
    speed = float(motion(axis, "controller.max_velocity"))
    rate = float(motion(axis, "controller.max_acceleration"))
    quick = float(max(motion(axis, "controller.stop.deceleration"), _stop_rate(axis)))
    share = float(axis.base("mechanics.efficiency") or 1)
    inertia, reflected = own_inertia(axis), load_inertia(axis)
    drag, weight = friction(axis), pull(axis)
    steady = (drag + weight) / share
    start = inertia * rate * radian + reflected * rate * radian / share + steady
    # On the way down the weight drives too, and what the transmission loses helps to stop.
    stop = -(inertia * quick * radian + (reflected * quick * radian + abs(weight)) * share)
    ramp = speed / rate
    braking = weight - (inertia + reflected) * rate * radian
    rows = ((start, ramp), (steady, 2 * ramp), (braking, ramp), (gravity_torque(axis), 4 * ramp))
    rms = math.sqrt(sum(t * t * s for t, s in rows) / sum(s for _, s in rows))
    process = axis.base(PROCESS)
    return Torques(start, steady, stop, weight, max(rms, float(process or 0)), rows)


def duty(axis: PlainAxis) -> list[Plain]:
    """The duty of a start, a move, a stop and a rest, as a file states it."""
    return [
        {
            "torque": spelled(rounded(Fraction(torque), 4), "N·m"),
            "time": in_unit(rounded(Fraction(time), 4), "ms"),
        }
        for torque, time in torques(axis).rows
    ]


PROCESS = "controller.process_torque"
"""Continuous torque of an axis whose work no file tells; no fact of a machine file."""


def _stop_rate(axis: PlainAxis) -> Fraction:
    path = "drive.stop_reaction.deceleration"
    return motion(axis, path) if axis.get(path) else Fraction(0)


# --- troubles -------------------------------------------------------------------------------------


def troubles(axis: PlainAxis, fitted: PlainAxis) -> list[str]:
    """What goes wrong on the axis, given what the place offers: ``fitted`` ran there."""
    found: list[str] = []
    for look in (
        _mounting, _supplies, holding_troubles, _power_cut, _speeds, _forces, _counting, _turns,
        _ways, _homing, _limits, _network, _battery,
    ):  # fmt: skip
        found += look(axis, fitted)
    return found


def _mounting(axis: PlainAxis, fitted: PlainAxis) -> list[str]:
    wrong = [
        f"the {name} does not go into its place"
        for name in ("flange", "shaft")
        if axis.get(f"motor.{name}") != fitted.get(f"motor.{name}")
    ]
    if axis.get("encoder.form") != fitted.get("encoder.form"):
        wrong.append("the encoder does not go into its place")
    return wrong


def _supplies(axis: PlainAxis, fitted: PlainAxis) -> list[str]:
    wrong = []
    if axis.get("drive.supply_voltage") != fitted.get("drive.supply_voltage"):
        wrong.append("the drive gets another supply than it needs")
    winding, supply = axis.need("motor.rated_voltage"), axis.need("drive.supply_voltage")
    if winding < supply:
        wrong.append("the winding gets more volts than it stands")
    if axis.get("encoder.protocol") != axis.get("drive.encoder_protocol"):
        wrong.append("drive and encoder do not understand each other")
    if axis.get("encoder.supply_voltage") != fitted.get("encoder.supply_voltage"):
        wrong.append("the encoder gets another supply than it needs")
    return wrong


SLIDING = 0.6
"""A brake that slides gives this share of the torque with which it holds: common practice."""


def _power_cut(axis: PlainAxis, _: PlainAxis) -> list[str]:
    """Stop by cutting the torque while a load goes down: it falls, and then the brake slides."""
    reaction = "drive.stop_reaction"
    cut = axis.get(f"{reaction}.option") == "disable_at_once"
    cut = cut or axis.get(f"{reaction}.stop_category") == 0
    if not (cut and axis.get("mechanics.moved_by_gravity") and axis.get("motor.brake")):
        return []
    radian = math.tau / float(axis.per_motor_turn)
    inertia, weight = own_inertia(axis) + load_inertia(axis), abs(gravity_torque(axis))
    slows = SLIDING * float(axis.need("motor.brake.holding_torque")) - weight
    if slows <= 0:
        return ["the brake does not stop the falling load"]
    falls, slows = (each / inertia / radian for each in (weight, slows))
    speed, wait = motion(axis, "controller.max_velocity"), axis.need("motor.brake.apply_time")
    caught = float(speed) + falls * float(wait)
    drop = (float(speed) + caught) / 2 * float(wait) + caught**2 / (2 * slows)
    too_far = drop > axis.need("mechanics.free_distance")
    return ["the load drops too far when torque is cut"] if too_far else []


def _speeds(axis: PlainAxis, _: PlainAxis) -> list[str]:
    wrong = []
    speed = motion(axis, "controller.max_velocity")
    shaft, its = speed / axis.per_motor_turn, speed / axis.per_encoder_turn
    stands, allows = axis.need("motor.max_speed"), axis.base("drive.max_speed")
    volts = axis.need("drive.supply_voltage") / axis.need("motor.rated_voltage")
    weakened = bool(axis.get("motor.field_weakening"))
    rated = stands if weakened else axis.need("motor.rated_speed")
    if shaft > min(stands, rated * min(volts, Fraction(1))):
        wrong.append("the motor does not reach the speed")
    if allows is None or shaft > allows:
        wrong.append("the drive does not let the motor reach the speed")
    elif allows > stands:
        wrong.append("the drive lets the motor run too fast")
    most = axis.base("encoder.max_speed")
    if most is not None and its > most:
        wrong.append("the encoder turns faster than it stands")
    if axis.get("encoder.kind") == "incremental":
        rate = its * counts(axis) if not axis.linear_scale else speed * scale_counts(axis)
        for path in ("encoder.max_frequency", "drive.feedback_frequency_limit"):
            limit = axis.base(path)
            if limit is not None and rate > limit:
                wrong.append(f"counts come faster than {path} passes on")
    return wrong


def counts(axis: PlainAxis) -> Fraction:
    """Counts that the encoder gives each revolution."""
    lines = axis.base("encoder.lines_per_revolution")
    if lines is not None:
        return lines * axis.need("encoder.edges_per_line")
    return axis.need("encoder.counts_per_revolution")


def scale_counts(axis: PlainAxis) -> Fraction:
    return 1 / axis.need("encoder.measuring_step")


def _forces(axis: PlainAxis, fitted: PlainAxis) -> list[str]:
    wrong = []
    load = torques(axis)
    rated, peak = float(axis.need("motor.rated_torque")), float(axis.need("motor.peak_torque"))
    per_amp = rated / float(axis.need("motor.rated_current"))
    limit = float(axis.base("drive.torque_limit") or 0)
    if load.rms > rated:
        wrong.append("the motor gets too hot")
    if load.rms / per_amp > float(axis.need("drive.rated_current")):
        wrong.append("the drive gets too hot")
    gives = min(peak, limit, per_amp * float(axis.need("drive.peak_current")))
    if load.peak > gives:
        wrong.append("the axis does not accelerate as it must")
    # At top speed the fitted motor gave what was needed, however its axis was sized.
    for path, needs in (("motor.rated_torque", load.steady), ("motor.peak_torque", load.start)):
        if at_top_speed(axis, path) < min(needs, at_top_speed(fitted, path)) * 0.999:
            wrong.append("the weakened field leaves too little torque at top speed")
    if limit > peak * 1.0001:
        wrong.append("the drive lets the motor take more than it stands")
    need = axis.base("drive.braking_power")
    if axis.get("mechanics.moved_by_gravity"):
        back = returned(axis)
        if need is None or float(need) < back:
            wrong.append("the drive trips while the load drives")
    return wrong


def at_top_speed(axis: PlainAxis, path: str) -> float:
    """What a motor gives at the top speed of its axis: above its rated speed, constant power.

    Less supply than the winding is made for brings the rated speed down with it. Elementary:
    volts of a winding grow with flux and speed, torque with flux and current.
    """
    torque = float(axis.need(path))
    if not axis.get("motor.field_weakening"):
        return torque
    volts = axis.need("drive.supply_voltage") / axis.need("motor.rated_voltage")
    base = axis.need("motor.rated_speed") * min(volts, Fraction(1))
    top = motion(axis, "controller.max_velocity") / axis.per_motor_turn
    return torque * min(1.0, float(base / top))


def _counting(axis: PlainAxis, _: PlainAxis) -> list[str]:
    """Move one unit by the drive's own numbers, and by those of the controller."""
    wrong = []
    if axis.linear_scale:
        per_unit = scale_counts(axis)
    else:
        per_unit = counts(axis) / axis.per_encoder_turn
        if axis.base("drive.counts_per_revolution") != counts(axis):
            wrong.append("the drive takes another number of counts for a revolution")
    watched = axis.get("drive.safety_scaling")
    if watched:
        number, unit = parts(watched["distance"])
        if abs(watched["counts"] / (number * factor(unit)) / per_unit - 1) > CLOSE:
            wrong.append("the safety functions watch another speed and position than there are")
    gear = axis.get("drive.gear")
    sent = axis.scaling
    if gear and "numerator" not in gear:
        wrong.append("the electronic gear is at whatever the maker ships")
    elif gear:
        step = axis.need("drive.gear.command_increment")
        times = Fraction(gear["numerator"], gear["denominator"])
        if gear["multiplies"] == "feedback":
            times = 1 / times
        moved = times / (per_unit * step)
        if abs(moved - 1) > CLOSE or abs(sent * step - 1) > CLOSE:
            wrong.append("the axis moves another distance than it is sent")
    elif abs(sent / per_unit - 1) > CLOSE:
        wrong.append("the axis moves another distance than it is sent")
    turns, shaft, feed = (
        axis.base(f"drive.{name}")
        for name in ("gear_ratio.motor_turns", "gear_ratio.shaft_turns", "feed_constant.feed")
    )
    if turns is None or shaft is None or feed is None:
        wrong.append("the drive does not know gear and feed")
        return wrong
    shown = feed / axis.need("drive.feed_constant.shaft_turns") * shaft / turns
    if abs(shown / axis.per_motor_turn - 1) > CLOSE:
        wrong.append("the drive shows another speed and position than there is")
    return wrong


def _turns(axis: PlainAxis, fitted: PlainAxis) -> list[str]:
    """Run through the whole travel, or many cycles, power off and on at each place."""
    wrong = []
    kind, use = axis.get("encoder.kind"), axis.get("drive.encoder_use")
    wants = fitted.get("encoder.kind")
    if (use == "absolute") != (kind != "incremental"):
        wrong.append("the drive takes the encoder for another kind")
    if kind == "incremental":
        if wants != "incremental":
            wrong.append("the axis forgets its position with the power")
        return wrong
    if kind != "absolute_multiturn":
        return wrong if wants == kind else [*wrong, "the axis forgets its turns"]
    turns = axis.turns
    if axis.get("drive.distinguishable_revolutions") != turns:
        wrong.append("drive and encoder count turns unlike")
    bits = axis.get("drive.position_register.bits")
    if bits is None or turns * counts(axis) > 2 ** int(bits):
        wrong.append("positions do not go into the drive's register")
    able = axis.base("encoder.capability.distinguishable_revolutions")
    if able is not None and turns > able:
        wrong.append("the encoder cannot count so many turns")
    span = turns * axis.per_encoder_turn
    retained = axis.get("controller.wraps_retained")
    tracked = axis.get("controller.unfolding") == "tracked"
    if not axis.endless:
        if not tracked and span < axis.span * Fraction(11, 10):
            wrong.append("the travel is longer than the turns reach")
    elif not retained:
        share = axis.per_encoder_turn / axis.need("controller.cycle")
        if turns % share.denominator:
            wrong.append("the position jumps at each wrap")
    away = axis.base("controller.power_off_motion")
    if away is not None and away >= span / 2:
        wrong.append("motion while off may go unseen")
    return wrong


def _ways(axis: PlainAxis, _: PlainAxis) -> list[str]:
    wrong = []
    if axis.get("encoder.count_direction") != axis.get("drive.encoder_direction"):
        wrong.append("the drive runs away: it sees the motor turn backwards")
    if axis.get("drive.polarity") != axis.get("drive.velocity_polarity"):
        wrong.append("position and velocity disagree about the direction")
    if sign(axis) * _plus(axis, "drive.polarity") * _plus(axis, "controller.polarity") < 0:
        wrong.append("the axis moves the other way")
    return wrong


def sign(axis: PlainAxis) -> int:
    """+1 if the load moves in its positive direction while the motor does."""
    way = _plus(axis, "mechanics.final.direction")
    for stage in axis.get("mechanics.stages") or []:
        way = -way if stage["reversing"] else way
    return way


def _plus(axis: PlainAxis, path: str) -> int:
    return -1 if axis.get(path) == "reversed" else 1


def _limits(axis: PlainAxis, _: PlainAxis) -> list[str]:
    """Run into the negative limit switch, and see whether the drive stops the way out."""
    inputs = axis.get("drive.limit_inputs")
    if axis.get("mechanics.limit_switches") is None:
        return []
    if inputs is None:
        return ["the drive does not look at the limit switches"]
    if any(inputs.get(side) != "wired" for side in ("negative", "positive")):
        return ["the drive does not look at the limit switches"]
    end = -1 if inputs.get("negative_guards") == "negative" else 1
    motor = end * sign(axis)
    seen = motor * _plus(axis, "drive.polarity") if inputs.get("follows_polarity") else motor
    return [] if seen < 0 else ["the drive stops the way back and lets the axis run on"]


def meant(axis: PlainAxis) -> list[int | str]:
    """The numbers that the method can be; a name of a switch search leaves open which edge ends it.

    CiA 402, from memory: 3, 4, 7 to 10 and 5, 6, 11 to 14, and sixteen more of each without index.
    """
    name = axis.method
    if not isinstance(name, str) or not name.startswith("home_switch_"):
        return [name]
    way = (3, 4, 7, 8, 9, 10) if "positive" in name else (5, 6, 11, 12, 13, 14)
    return [each if name.endswith("_index") else each + 16 for each in way]


def _homing(axis: PlainAxis, fitted: PlainAxis) -> list[str]:
    wrong = []
    if axis.get("controller.homing") is None:
        return []  # it is never homed
    knew, knows = (each.get("drive.supported_homing_methods") or [] for each in (fitted, axis))
    methods = [each for each in meant(axis) if each in knew]
    if not methods or any(each not in knows for each in methods):
        wrong.append("the drive does not know the homing method")
    method = meant(axis)[0]
    if not isinstance(method, int):
        return wrong
    if (method < 15 or method in (33, 34)) and not axis.get("encoder.index_pulse"):
        wrong.append("homing waits for an index pulse that never comes")
    if method not in (1, 2, 17, 18, 33, 34, 35, 37) and axis.get("drive.home_input") != "wired":
        wrong.append("the drive does not see the home switch")
    return wrong


def _network(axis: PlainAxis, fitted: PlainAxis) -> list[str]:
    wrong = []
    if axis.get("drive.node") != fitted.get("drive.node"):
        wrong.append("the controller does not find the drive")
    for path in SETTINGS:
        if axis.get(path) is None and fitted.get(path) is not None:
            wrong.append(f"{path} is at whatever the maker ships")
        elif axis.get(path) != fitted.get(path):
            wrong.append(f"{path} is not that of the axis")
    return wrong


SETTINGS = (
    "drive.following_error_window",
    "drive.following_error_timeout",
    "drive.input_filter",
    "drive.stop_reaction.option",
    "drive.stop_reaction.deceleration",
    "drive.stop_reaction.delay",
    "drive.position_range",
)


def _battery(axis: PlainAxis, _: PlainAxis) -> list[str]:
    if not axis.battery:
        if axis.get("encoder.turn_counter.backup") == "battery":
            return ["no battery keeps the turns"]
        return []
    wrong = []
    battery = axis.get("encoder.turn_counter.battery")
    if not set(battery["places"]) <= set(battery.get("offered_places", battery["places"])):
        wrong.append("the battery does not go into its place")
    if len(battery["places"]) > 1:
        wrong.append("two batteries feed each other")
    if battery.get("made_on") and _years("2026-06-01", battery["made_on"]) > float(
        parts(battery["life"])[0]
    ):
        wrong.append("the battery is used up")
    return wrong


def _years(later: str, earlier: str) -> float:
    days = [
        int(day[:4]) + (int(day[5:7]) - 1) / 12 + int(day[8:]) / 365 for day in (later, earlier)
    ]
    return days[0] - days[1]
