"""Kinds of swap of a motor and of an encoder: what is unlike the fitted one."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any, TypeAlias

from .plain_axis import PlainAxis, factor, in_unit, parts, rounded
from .swap_axis import DrawnSwap, built_in
from .swap_list import Alter, add
from .swap_loads import gravity_torque, load_inertia, own_inertia
from .swap_motion import counts, scale_counts, torques

Need: TypeAlias = Callable[[PlainAxis], Fraction]

MARGIN = Fraction(27, 20)
"""A spare called strong enough has at least this much more than the axis takes."""


def like_fitted(_: DrawnSwap) -> bool:
    return True


def times(path: str, by: float) -> Alter:
    return lambda swap: swap.scale(path, by)


def to(path: str, *choices: Any) -> Alter:
    """Another of these values."""

    def alter(swap: DrawnSwap) -> bool:
        other = [each for each in choices if each != swap.new(path)]
        if swap.new(path) is None or not other:
            return False
        return swap.put(path, swap.rng.choice(other))

    return alter


def both(*alters: Alter) -> Alter:
    return lambda swap: all(alter(swap) for alter in alters)


def enough(path: str, need: Need, margin: Fraction = MARGIN) -> Alter:
    """Less than fitted, and more than the axis takes with a margin."""

    def alter(swap: DrawnSwap) -> bool:
        has, takes = swap.axis.base(path), need(swap.axis)
        if has is None or swap.new(path) is None:
            return False
        less = rounded(max(takes * margin, has * Fraction(4, 5)), 4)
        return less < has * Fraction(97, 100) and less >= takes * margin * Fraction(99, 100) and (
            swap.put(path, in_unit(less, parts(swap.axis.get(path))[1]))
        )  # fmt: skip

    return alter


def short(path: str, need: Need, share: Fraction = Fraction(4, 5)) -> Alter:
    """Less than the axis takes."""

    def alter(swap: DrawnSwap) -> bool:
        has, takes = swap.axis.base(path), need(swap.axis)
        if has is None or takes <= 0 or swap.new(path) is None:
            return False
        less = rounded(takes * share, 4)
        return less < has and swap.put(path, in_unit(less, parts(swap.axis.get(path))[1]))

    return alter


# --- what the axis takes --------------------------------------------------------------------------


def top_speed(axis: PlainAxis) -> Fraction:
    """Of the motor, in revolutions a second."""
    number, unit = parts(axis.get("controller.max_velocity"))
    return number * _length(unit) / axis.per_motor_turn


def encoder_speed(axis: PlainAxis) -> Fraction:
    return top_speed(axis) * axis.per_motor_turn / axis.per_encoder_turn


def _length(unit: str) -> Fraction:
    return factor(unit)


def heating(axis: PlainAxis) -> Fraction:
    return Fraction(torques(axis).rms)


def pull(axis: PlainAxis) -> Fraction:
    return Fraction(torques(axis).peak)


def per_amp(axis: PlainAxis) -> Fraction:
    return axis.need("motor.rated_torque") / axis.need("motor.rated_current")


def hanging(axis: PlainAxis) -> Fraction:
    """What the brake has to hold: the weight and half as much again."""
    return Fraction(gravity_torque(axis)) * Fraction(3, 2)


def rate(axis: PlainAxis) -> Fraction:
    if axis.linear_scale:
        return top_speed(axis) * axis.per_motor_turn * scale_counts(axis)
    return encoder_speed(axis) * counts(axis)


def reach(axis: PlainAxis) -> Fraction:
    """Encoder revolutions of the whole travel."""
    return axis.span / axis.per_encoder_turn


# --- where ----------------------------------------------------------------------------------------


def braked(axis: PlainAxis) -> bool:
    return axis.get("motor.brake") is not None


def unbraked(axis: PlainAxis) -> bool:
    return not braked(axis)


def vertical(axis: PlainAxis) -> bool:
    return bool(axis.get("mechanics.moved_by_gravity"))


def flat_braked(axis: PlainAxis) -> bool:
    return braked(axis) and not vertical(axis)


def multiturn(axis: PlainAxis) -> bool:
    return axis.multiturn


def stroke(axis: PlainAxis) -> bool:
    return axis.multiturn and not axis.endless


def forgetful(axis: PlainAxis) -> bool:
    return bool(axis.get("encoder.kind") == "incremental") and not axis.linear_scale


def commutated(axis: PlainAxis) -> bool:
    return axis.get("motor.commutation") is not None


def indexed(axis: PlainAxis) -> bool:
    return isinstance(axis.method, int) and axis.method < 15


# --- motors ---------------------------------------------------------------------------------------

BRAKE = {
    "holding_torque": "9 N·m",
    "release_time": "50 ms",
    "apply_time": "25 ms",
    "voltage": "24 V",
}


def _brake_added(swap: DrawnSwap) -> bool:
    return swap.put("motor.brake", dict(BRAKE))


def _output(axis: PlainAxis) -> bool:
    return unbraked(axis) and axis.get("drive.brake_voltage") == "24 V"


def _no_output(axis: PlainAxis) -> bool:
    return unbraked(axis) and axis.get("drive.brake_voltage") is None


def _currents(by: float) -> Alter:
    return both(times("motor.rated_current", by), times("motor.peak_current", by))


def _rewound(swap: DrawnSwap) -> bool:
    """The same motor with turns for the other voltage, which take so much less or more current.

    Otherwise it would give the same power from another one.
    """
    was, now = (
        ("230 V", "400 V") if swap.new("motor.rated_voltage") == "230 V" else ("400 V", "230 V")
    )
    by = parts(was)[0] / parts(now)[0]
    swap.put("motor.rated_voltage", now)
    return _currents(float(by))(swap)


def _light(swap: DrawnSwap) -> bool:
    """So light that the loop meets another inertia, and not just a little less."""
    whole = own_inertia(swap.axis) + load_inertia(swap.axis)
    less = float(swap.axis.need("motor.inertia")) * 0.95
    return whole > 1.5 * (whole - less) and swap.scale("motor.inertia", 0.05)


def _other_type(swap: DrawnSwap) -> bool:
    swap.put("motor.model", "SM other")
    return True


def _motors() -> None:
    other = _other_type
    add("motor", "of the same type", like_fitted)
    add("motor", "of another designation, all else equal", other)
    add(
        "motor",
        "stronger",
        both(
            other, times("motor.rated_torque", 1.2), times("motor.peak_torque", 1.2), _currents(1.2)
        ),
    )
    add(
        "motor",
        "of less continuous torque, enough",
        both(other, enough("motor.rated_torque", heating), times("motor.rated_current", 0.8)),
    )
    add(
        "motor",
        "of too little continuous torque",
        both(other, short("motor.rated_torque", heating)),
    )
    add("motor", "of less peak torque, enough", both(other, enough("motor.peak_torque", pull)))
    add("motor", "of too little peak torque", both(other, short("motor.peak_torque", pull)))
    add("motor", "of less speed, enough", both(other, enough("motor.max_speed", top_speed)))
    add(
        "motor",
        "that is too slow",
        both(other, short("motor.max_speed", top_speed), short("motor.rated_speed", top_speed)),
    )
    add(
        "motor",
        "that runs faster",
        both(other, times("motor.max_speed", 1.4), times("motor.rated_speed", 1.2)),
    )
    add("motor", "with another flange", both(other, to("motor.flange", "square 70", "square 130")))
    add("motor", "with another shaft", both(other, to("motor.shaft", "16 mm, plain", "28 mm, key")))
    add(
        "motor",
        "with another flange and shaft",
        both(other, to("motor.flange", "square 130"), to("motor.shaft", "28 mm, key")),
    )
    add(
        "motor",
        "wound for the other voltage",
        both(other, _rewound),
    )
    add("motor", "with more poles", both(other, to("motor.pole_pairs", 3, 4, 5, 7)))
    add("motor", "that takes more current, within the drive", both(other, _currents(1.15)))
    add("motor", "that takes more current than the drive gives", both(other, _currents(6)))
    add("motor", "with a rotor a little heavier", both(other, times("motor.inertia", 1.04)))
    add("motor", "with a rotor a little lighter", both(other, times("motor.inertia", 0.96)))
    add("motor", "with a rotor much lighter", both(other, _light))
    add(
        "motor",
        "without the brake that holds the load",
        both(other, lambda s: s.put("motor.brake", "none")),
        vertical,
    )
    add(
        "motor",
        "without the brake of an axis that does not fall",
        both(other, lambda s: s.put("motor.brake", "none")),
        flat_braked,
    )
    add(
        "motor",
        "with a coil for another voltage",
        both(other, to("motor.brake.voltage", "90 V", "180 V", "12 V")),
    )
    add(
        "motor",
        "with a brake of less torque, enough",
        both(other, enough("motor.brake.holding_torque", hanging, Fraction(11, 10))),
        vertical,
    )
    add(
        "motor",
        "with a weaker brake on an axis that does not fall",
        both(other, times("motor.brake.holding_torque", 0.8)),
        flat_braked,
    )
    add(
        "motor",
        "with a brake of too little torque",
        both(other, short("motor.brake.holding_torque", hanging, Fraction(3, 5))),
    )
    add("motor", "with a stronger brake", both(other, times("motor.brake.holding_torque", 1.3)))
    add(
        "motor",
        "with a brake that releases late",
        both(other, to("motor.brake.release_time", "250 ms")),
    )
    add(
        "motor",
        "with a brake that applies late, hanging",
        both(other, to("motor.brake.apply_time", "250 ms")),
        vertical,
    )
    add(
        "motor",
        "with a brake that releases sooner",
        both(other, to("motor.brake.release_time", "25 ms")),
    )
    add(
        "motor",
        "with a brake where none was, and an output for it",
        both(other, _brake_added),
        _output,
    )
    add(
        "motor",
        "with a brake where none was, and no output for it",
        both(other, _brake_added),
        _no_output,
    )
    add("motor", "that takes over the fitted encoder", lambda s: s.put("encoder", "none"), built_in)


_motors()
add("encoder", "of the same type", like_fitted)
