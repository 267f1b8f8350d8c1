"""Sound variations of a sound axis: each is right, and a rule that is too simple calls it wrong.

They match the kinds in planted.py and were written with them, before the rules. About a third of
all axes gets one. Dice of their own keep the machines as they were without variations.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction
from random import Random

from .plain_axis import Plain, PlainAxis, in_unit, rounded
from .planted import drop, single_turn
from .planted_gravity import (
    REACTION,
    SLOWED_BY,
    STANDARD_GRAVITY,
    SWITCHES,
    TRAVEL,
    brakes_a_shaft,
    drive_stops,
    input_time,
    power_cut,
    room,
    run,
)
from .planted_reactions import older_factors, other_ramp, torque_by_direction
from .swinging import UNBALANCE, falls_both_ways

HOMING = "controller.homing"


def vary(seed: int, built: Plain) -> None:
    """Give some axes of a machine a sound variation, in place."""
    _vary(built, Random(f"variation {seed}"), VARIATIONS, Fraction(2, 5))
    _vary(built, Random(f"reaction {seed}"), REACTIONS, Fraction(1, 5))


def _vary(
    built: Plain, rng: Random, known: list[Callable[[PlainAxis], bool]], share: Fraction
) -> None:
    for name in built["axes"]:
        if rng.random() < share:
            tried = rng.sample(known, len(known))
            axis = PlainAxis(built, name)
            for variation in tried[:4]:
                changed = axis.changed()
                if not changed.partners and variation(changed):
                    built["axes"][name] = changed.facts
                    break


def _slope_behind_a_stated_lock(a: PlainAxis) -> bool:
    mass, friction = a.base("mechanics.load_mass"), a.base("mechanics.friction_force")
    if mass is None or friction is None or a.get("mechanics.moved_by_gravity") or not a.turns_shaft:
        return False
    pull = float(friction * Fraction(11, 10) / (mass * STANDARD_GRAVITY))
    a.put("mechanics.inclination", f"{math.degrees(math.asin(pull)):.3f} deg")
    _lock(a)
    return bool(a.get("mechanics.stages"))


def _lock(a: PlainAxis) -> None:
    """Only a poor transmission locks itself; beside a good one a clamp on the load does it."""
    lock = "self_locking" if a.need("mechanics.efficiency") <= Fraction(8, 10) else "load_lock"
    a.facts["mechanics"][lock] = True


def _slope_within_friction(a: PlainAxis) -> bool:
    mass, friction = a.base("mechanics.load_mass"), a.base("mechanics.friction_force")
    if mass is None or friction is None or a.get("mechanics.moved_by_gravity"):
        return False
    if a.get("controller.homing.force_limit") is not None:
        return False  # chosen for the friction alone
    mass = a.weighing_mass + (a.base("motor.moving_mass") or 0)
    pull = float(friction * Fraction(9, 10) / (mass * STANDARD_GRAVITY))
    return a.put("mechanics.inclination", f"{math.degrees(math.asin(pull)):.3f} deg")


def _arm_behind_a_stated_lock(a: PlainAxis) -> bool:
    if a.get("motion") != "rotary" or not a.get("mechanics.stages") or a.get(UNBALANCE):
        return False
    _lock(a)
    return a.write("mechanics.unbalanced_torque", a.need("mechanics.friction_torque") * 11 / 10)


def _balance_within_friction(a: PlainAxis) -> bool:
    if not a.get("mechanics.moved_by_gravity") or not a.turns_shaft or a.get(UNBALANCE):
        return False
    weight = a.need("mechanics.load_mass") * STANDARD_GRAVITY
    rest = a.need("mechanics.friction_force") / weight / 2
    share = 100 * (1 - rest if a.facts["drive"]["node"] % 2 else 1 + rest)
    drop(a, "controller.duty")
    a.put("motor.brake", "none")
    return a.put("mechanics.counterbalance", f"{float(share):.3f} %")


def _lift_caught_in_time(a: PlainAxis) -> bool:
    if not brakes_a_shaft(a) or not a.get("mechanics.moved_by_gravity") or not a.get(SWITCHES):
        return False
    way = run(a, float(SLOWED_BY))
    if way == math.inf or falls_both_ways(a) or not _may_move_stops(a):
        return False
    power_cut(a)
    a.facts["mechanics"]["falls_towards"] = "negative"
    free = rounded(Fraction(way) * Fraction(12, 10), 4)
    room(a, free + a.need("controller.max_velocity") * input_time(a) * 2)
    return free > a.need("mechanics.free_distance") and a.write("mechanics.free_distance", free)


def _may_move_stops(a: PlainAxis) -> bool:
    """No switch is held to a hard stop that moves, and no reference is on one."""
    return a.method in (1, 2, 17, 18, 37) and a.get(TRAVEL) is not None


def _slow_filter_with_room(a: PlainAxis) -> bool:
    if not a.get(SWITCHES) or not _may_move_stops(a) or a.get(f"{REACTION}.jerk"):
        return False
    a.put("drive.input_filter", "10 ms")
    v = a.need("controller.max_velocity")
    return room(a, rounded((drive_stops(a) + v * input_time(a)) * Fraction(12, 10), 5))


def _single_turn_that_divides(a: PlainAxis) -> bool:
    if not single_turn(a):
        return False
    return (a.per_encoder_turn / a.need("controller.cycle")).denominator == 1


def _safety_functions(a: PlainAxis) -> bool:
    if a.has_pi or a.linear_scale or a.base("encoder.counts_per_revolution") is None:
        return False
    a.facts["drive"]["safety_scaling"] = {
        "counts": int(a.need("encoder.counts_per_revolution")),
        "distance": in_unit(a.per_encoder_turn, a.unit),
        "encoder": "encoder",
    }
    return True


def _older_factors(a: PlainAxis) -> bool:
    return older_factors(a)


def _fault_on_the_other_ramp(a: PlainAxis) -> bool:
    return a.put("drive.fault_reaction_option", other_ramp(a))


def _disabled_before_the_brake(a: PlainAxis) -> bool:
    """Commands disable the drive at once, and its off delay counts all the same."""
    options = ("shutdown_option", "disable_operation_option")
    a.facts["drive"] |= dict.fromkeys(options, "disable_at_once")
    a.facts["drive"] |= {"halt_option": "slow_down_and_hold", "brake_off_delay_always": True}
    return bool(a.get("motor.brake"))


def _weak_on_the_way_down(a: PlainAxis) -> bool:
    return bool(a.get("mechanics.moved_by_gravity")) and torque_by_direction(a, Fraction(1, 2))


def _homing_by_name(a: PlainAxis) -> bool:
    if a.method not in range(19, 31) and a.method not in range(3, 15):
        return False
    index = isinstance(a.method, int) and a.method < 17
    direction = a.get(f"{HOMING}.direction")
    first = 3 if index else 19
    a.put("drive.supported_homing_methods", [37, *range(first, first + 12)])
    return a.put(f"{HOMING}.method", f"home_switch_{direction}{'_index' if index else ''}")


def _table_homed_without_limits(a: PlainAxis) -> bool:
    if not a.endless or not a.multiturn or a.get("motion") != "rotary":
        return False
    accuracy = a.need("mechanics.required_accuracy")
    edge = Fraction(1, 4)
    creep, search = accuracy * 100, Fraction(10, 360)
    creep = min(rounded(creep, 2), search / 4)
    a.facts["drive"]["home_input"] = "wired"
    a.put("drive.supported_homing_methods", [24, 27, 37])
    say = a.unit
    slow = rounded(a.need("controller.max_acceleration") / 4, 2)
    a.facts["controller"]["homing"] |= {
        "method": 24,
        "direction": "positive",
        "reference_position": in_unit(edge, say),
        "search_speed": f"{in_unit(search, say)}/s",
        "creep_speed": f"{in_unit(creep, say)}/s",
        "acceleration": f"{in_unit(slow, say)}/s^2",
        "latch_delay": "1 ms",
        "latch_jitter": "0.25 ms",
        "repeatability": in_unit(accuracy, say),
        "switch": {
            "position": in_unit(edge, say),
            "width": in_unit(Fraction(20, 360), say),
            "held_to_travel_end": False,
            "scatter": in_unit(accuracy / 10, say),
        },
    }
    return True


def _weak_field(a: PlainAxis) -> bool:
    if not a.turns_shaft or a.get("motor.rated_speed") is None:
        return False
    a.facts["motor"] |= {"field_weakening": True, "torque_curve": "none"}
    top = a.need("controller.max_velocity") / a.per_motor_turn
    return a.write("motor.rated_speed", rounded(top * 3 / 4, 3))


def _spindle(a: PlainAxis) -> bool:
    if not a.endless or not a.turns_shaft or a.get("motor.rated_speed") is None:
        return False
    a.facts["controller"] |= {"position_matters": False, "homing": "none"}
    a.facts["motor"] |= {"field_weakening": True, "torque_curve": "none"}
    drop(a, "controller.duty")
    a.scale("motor.inertia", Fraction(1, 20))
    top = a.need("controller.max_velocity") / a.per_motor_turn
    return a.write("motor.rated_speed", rounded(top * 3 / 4, 3))


def _exported_later(a: PlainAxis) -> bool:
    a.facts["drive"]["exported_on"] = "2026-05-30"
    a.facts["encoder"]["exported_on"] = "2026-05-29"
    return True


def _lock_as_well(a: PlainAxis) -> bool:
    """A lift with a brake whose worm locks itself, or with another lock on its load."""
    if not a.turns_shaft:
        return False
    _lock(a)
    return bool(a.get("mechanics.moved_by_gravity"))


VARIATIONS: list[Callable[[PlainAxis], bool]] = [
    _slope_behind_a_stated_lock,
    _slope_within_friction,
    _arm_behind_a_stated_lock,
    _balance_within_friction,
    _lift_caught_in_time,
    _slow_filter_with_room,
    _single_turn_that_divides,
    _safety_functions,
    _exported_later,
    _lock_as_well,
    _homing_by_name,
    _table_homed_without_limits,
    _weak_field,
    _spindle,
]

REACTIONS: list[Callable[[PlainAxis], bool]] = [
    _older_factors,
    _fault_on_the_other_ramp,
    _disabled_before_the_brake,
    _weak_on_the_way_down,
]
"""Variations of what planted_reactions.py plants, with dice of their own."""
