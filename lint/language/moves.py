"""Torque and heat of a move from standstill to standstill, with equal ramps.

The load takes ``steady`` (gravity, friction and process) and while it accelerates ``inertia``
besides, both at the motor and without losses. ``rotor`` is what the rotor and transmission take.
Where the motor drives the load, the transmission divides by the efficiency; where the load drives
the motor, it multiplies. With an efficiency of one or less, the larger of both is the right one of
either sign (elementary mechanics, from memory).
"""

from __future__ import annotations

from ..numbers.exact import Number, absolute, div, maximum


def _motor_torque(rotor: Number, load: Number, efficiency: Number) -> Number | None:
    driving = div(load, efficiency)
    through = None if driving is None else maximum((driving, load * efficiency))
    return None if through is None else rotor + through


def _torques(
    rotor: Number, inertia: Number, steady: Number, efficiency: Number
) -> tuple[Number, Number, Number] | None:
    """Motor torque at the start, at even speed and at the stop."""
    start = _motor_torque(rotor, steady + inertia, efficiency)
    even = _motor_torque(0, steady, efficiency)
    stop = _motor_torque(-rotor, steady - inertia, efficiency)
    if start is None or even is None or stop is None:
        return None
    return start, even, stop


def move_torque(
    rotor: Number, inertia: Number, steady: Number, efficiency: Number
) -> Number | None:
    """The highest torque of the motor in a move, in whichever direction."""
    found = _torques(rotor, inertia, steady, efficiency)
    return None if found is None else maximum([absolute(each) for each in found])


def move_heat(
    rotor: Number,
    inertia: Number,
    steady: Number,
    efficiency: Number,
    ramp: Number,
    even: Number,
    torque: Number,
) -> Number | None:
    """How long the motor must give ``torque`` to get as warm as by the move: Σ T²·t / torque²."""
    found = _torques(rotor, inertia, steady, efficiency)
    if found is None:
        return None
    start, between, stop = found
    return div((start * start + stop * stop) * ramp + between * between * even, torque * torque)
