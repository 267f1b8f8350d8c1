"""Faults of option codes, of the older factors of speed, and of torque limits by direction.

They were written before the rules that find them, from the objects of CiA 402 that no rule read.
"""

from __future__ import annotations

from fractions import Fraction

from .braked_loads import has_a_brake
from .fault_list import fault
from .plain_axis import PlainAxis, in_unit, spelled
from .planted import accelerating_torque
from .planted_gravity import SWITCHES, TRAVEL
from .swinging import falls_both_ways

BRAKE = "motor.brake"
STOP = "drive.stop_reaction"


def _hangs_on_a_brake(a: PlainAxis) -> bool:
    return bool(a.get("mechanics.moved_by_gravity") and a.get(BRAKE))


def _room(a: PlainAxis) -> Fraction | None:
    """The smaller room between a limit switch and its hard stop; None without one of them."""
    if not a.get(SWITCHES) or not a.get(TRAVEL):
        return None
    below = a.need(f"{SWITCHES}.negative") - a.need(f"{TRAVEL}.min")
    return min(below, a.need(f"{TRAVEL}.max") - a.need(f"{SWITCHES}.positive"))


def other_ramp(a: PlainAxis) -> str:
    """The ramp on which the stop reaction does not stop."""
    quick = str(a.get(f"{STOP}.option")).startswith("quick_stop")
    return "slow_down_then_disable" if quick else "quick_stop_then_disable"


# --- option codes ---------------------------------------------------------------------------------


@fault("torque-off-at-a-fault", "lets a fault switch torque off at once on a suspended load")
def _(a: PlainAxis) -> bool:
    if not _hangs_on_a_brake(a):
        return False
    a.scale(f"{BRAKE}.apply_time", 20)
    return a.put("drive.fault_reaction_option", "disable_at_once")


@fault("fault-leaves-a-carriage-to-friction", "lets a fault switch torque off on a fast carriage")
def _(a: PlainAxis) -> bool:
    space = _room(a)
    if space is None or a.get("mechanics.moved_by_gravity") or has_a_brake(a):
        return False
    force, mass = a.base("mechanics.friction_force"), a.base("mechanics.load_mass")
    if force is None or mass is None or a.get(f"{STOP}.option") == "disable_at_once":
        return False
    # By friction on the load's mass alone, which is less than all that moves.
    run = a.need("controller.max_velocity") ** 2 / (2 * 1000 * force / mass)
    return run > space and a.put("drive.fault_reaction_option", "disable_at_once")


@fault("fault-on-the-soft-ramp", "lets a fault stop the axis on the ramp of its moves")
def _(a: PlainAxis) -> bool:
    space = _room(a)
    if space is None or a.get(f"{STOP}.option") == "disable_at_once":
        return False
    soft = a.need(f"{STOP}.deceleration") / 20
    if a.need("controller.max_velocity") ** 2 / (2 * soft) <= space:
        return False
    a.facts["drive"]["fault_deceleration"] = in_unit(soft, f"{a.unit}/s^2")
    return a.put("drive.fault_reaction_option", other_ramp(a))


def _drops(a: PlainAxis, option: str) -> bool:
    a.facts["drive"] |= {option: "disable_at_once", "brake_off_delay_always": False}
    return _hangs_on_a_brake(a)


@fault("shutdown-before-the-brake", "lets a shutdown switch torque off before the brake holds")
def _(a: PlainAxis) -> bool:
    return _drops(a, "shutdown_option")


@fault("disable-before-the-brake", "lets a disable switch torque off before the brake holds")
def _(a: PlainAxis) -> bool:
    return _drops(a, "disable_operation_option")


@fault("halt-before-the-brake", "lets a halt switch torque off before the brake holds")
def _(a: PlainAxis) -> bool:
    return _drops(a, "halt_option")


# --- older factors --------------------------------------------------------------------------------


def older_factors(a: PlainAxis, by: Fraction = Fraction(1)) -> bool:
    """State the four older factors, each ``by`` times what gearing and encoder make."""
    if a.has_pi or not a.turns_shaft or a.base("drive.counts_per_revolution") is None:
        return False
    counts, turn = int(a.need("drive.counts_per_revolution")), a.per_motor_turn
    unit = a.unit
    step = Fraction(1, 1000)
    per_second = {"command": f"{in_unit(step, unit)}/s"}
    into_rpm = by * step / turn * 60 * 4096
    into_counts = by * step / turn * counts
    from_rpm = by * turn / 60 / step
    fractions = (into_rpm, into_counts, from_rpm)
    if any(max(each.numerator, each.denominator) >= 2**32 for each in fractions):
        return False
    a.facts["drive"] |= {
        "velocity_factor": _pair(into_rpm) | per_second | {"motor_speed": "1/4096 rpm"},
        "velocity_encoder_factor": _pair(into_counts) | per_second
        | {"counts_per_revolution": counts},
        "motor_data_factor": _pair(from_rpm) | per_second | {"motor_speed": "1 rpm"},
        "acceleration_factor": _pair(into_rpm)
        | {"command": f"{in_unit(step, unit)}/s^2", "motor_speed_per_second": "1/4096 rpm"},
    }  # fmt: skip
    return True


def _pair(value: Fraction) -> dict[str, object]:
    return {"numerator": value.numerator, "divisor": value.denominator}


def _upside_down(a: PlainAxis, factor: str) -> bool:
    return older_factors(a) and a.swap(f"drive.{factor}.numerator", f"drive.{factor}.divisor")


def _only(a: PlainAxis, factor: str, by: Fraction) -> bool:
    """One of the factors off by a factor, the others right."""
    wrong = a.changed()
    if not older_factors(a) or not older_factors(wrong, by):
        return False
    a.facts["drive"][factor] = wrong.facts["drive"][factor]
    return True


@fault("velocity-factor-upside-down", "enters the velocity factor upside down")
def _(a: PlainAxis) -> bool:
    return _upside_down(a, "velocity_factor")


@fault("velocity-factor-per-minute", "takes a velocity per minute for one per second")
def _(a: PlainAxis) -> bool:
    return _only(a, "velocity_factor", Fraction(60))


@fault("velocity-factor-of-old-gearbox", "keeps the velocity factor of the gearbox of before")
def _(a: PlainAxis) -> bool:
    return bool(a.get("mechanics.stages")) and _only(a, "velocity_factor", Fraction(4, 5))


@fault("velocity-encoder-factor-of-old-encoder", "keeps the velocity factor of the old encoder")
def _(a: PlainAxis) -> bool:
    return _only(a, "velocity_encoder_factor", Fraction(1, 4))


@fault("velocity-encoder-factor-with-lines", "states lines for counts beside the velocity factor")
def _(a: PlainAxis) -> bool:
    path = "drive.velocity_encoder_factor.counts_per_revolution"
    return older_factors(a) and a.scale(path, Fraction(1, 4))


@fault("motor-data-factor-upside-down", "enters the factor for motor data upside down")
def _(a: PlainAxis) -> bool:
    return _upside_down(a, "motor_data_factor")


@fault("motor-data-factor-of-old-gearbox", "keeps the factor for motor data of the gearbox before")
def _(a: PlainAxis) -> bool:
    return bool(a.get("mechanics.stages")) and _only(a, "motor_data_factor", Fraction(5, 4))


@fault("acceleration-factor-per-minute", "takes speed per minute for speed per second in ramps")
def _(a: PlainAxis) -> bool:
    return _only(a, "acceleration_factor", Fraction(1, 60))


# --- torque by direction --------------------------------------------------------------------------


def torque_by_direction(a: PlainAxis, weaker: Fraction) -> bool:
    """Limit the torque of one direction: on a hanging axis that in which the load sinks."""
    limit = a.base("drive.torque_limit")
    if limit is None or falls_both_ways(a):
        return False
    a.facts["mechanics"].setdefault("falls_towards", "negative")
    falls_down = a.get("mechanics.falls_towards") == "negative"
    straight = (a.get("controller.polarity") == "normal") == (a.get("drive.polarity") == "normal")
    lifts, lowers = ("positive", "negative") if straight == falls_down else ("negative", "positive")
    a.facts["drive"] |= {
        f"torque_limit_{lifts}": spelled(limit, "N·m"),
        f"torque_limit_{lowers}": spelled(limit * weaker, "N·m"),
    }
    return a.write("drive.torque_limit", limit * weaker)


@fault("torque-limit-of-the-stronger-way", "states the limit of the stronger direction for both")
def _(a: PlainAxis) -> bool:
    limit = a.base("drive.torque_limit")
    if limit is None or not torque_by_direction(a, Fraction(1, 2)):
        return False
    return a.write("drive.torque_limit", limit)


@fault("torque-limits-of-directions-swapped", "limits the direction that lifts, not the other one")
def _(a: PlainAxis) -> bool:
    if not a.get("mechanics.moved_by_gravity") or not a.turns_shaft:
        return False
    if not torque_by_direction(a, Fraction(1, 10)):
        return False
    # A well balanced load may need no more than the weaker direction gives.
    if accelerating_torque(a) <= a.need("drive.torque_limit"):
        return False
    return a.swap("drive.torque_limit_positive", "drive.torque_limit_negative")


def _one_way(a: PlainAxis, way: str) -> bool:
    """State a limit of each direction, and leave one at that of a motor half as strong again."""
    peak = a.base("motor.peak_torque")
    if peak is None or a.base("drive.torque_limit") is None or not a.turns_shaft:
        return False
    right = min(peak, a.need("drive.torque_limit"))
    for each in ("positive", "negative"):
        limit = peak * 3 / 2 if each == way else right
        a.facts["drive"][f"torque_limit_{each}"] = spelled(limit, "N·m")
    return True


@fault("positive-torque-limit-of-larger-motor", "keeps a larger motor's limit of one direction")
def _(a: PlainAxis) -> bool:
    return _one_way(a, "positive")


@fault("negative-torque-limit-of-larger-motor", "keeps a larger motor's limit of the other way")
def _(a: PlainAxis) -> bool:
    return _one_way(a, "negative")
