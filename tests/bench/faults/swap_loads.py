"""What a load asks of its motor, worked out for the simulation of swaps."""

from __future__ import annotations

import math
from fractions import Fraction

from .plain_axis import PlainAxis, factor, parts
from .swinging import UNBALANCE, tilted_share
from .swinging import pull as arm_pull

G = 9.80665
"""Standard gravity in m/s² (CGPM 1901)."""


def own_inertia(axis: PlainAxis) -> float:
    """Of rotor and transmission, at the motor shaft, in kg m²."""
    rotor, rest = axis.base("motor.inertia"), axis.base("mechanics.transmission_inertia")
    return float(rotor or 0) + float(rest or 0)


def load_inertia(axis: PlainAxis) -> float:
    """Of the load, at the motor shaft, in kg m²."""
    if axis.get("mechanics.load_mass") is not None:
        return float(axis.inert_mass) * metres_per_radian(axis) ** 2
    return float(axis.base("mechanics.load_inertia") or 0) / float(axis.ratio) ** 2


def metres_per_radian(axis: PlainAxis) -> float:
    return float(axis.per_motor_turn) / 1000 / math.tau


def gravity_torque(axis: PlainAxis) -> float:
    """Of the weight at the motor shaft, without losses."""
    if not axis.get("mechanics.moved_by_gravity"):
        return 0.0
    carried = float(axis.base("mechanics.counterbalance") or 0)
    if axis.get(UNBALANCE):
        return arm_pull(axis) / float(axis.ratio)
    weight = float(axis.weighing_mass) * G * tilted_share(axis)
    return weight * (1 - carried) * metres_per_radian(axis)


def pull(axis: PlainAxis) -> float:
    """Of the weight at the motor shaft: also of what friction or a lock holds on a slope."""
    if axis.get("mechanics.moved_by_gravity"):
        return gravity_torque(axis)
    unbalanced, slope = (
        axis.base("mechanics.unbalanced_torque"), axis.base("mechanics.inclination"),
    )  # fmt: skip
    if unbalanced is not None:
        return float(unbalanced) / float(axis.ratio)
    mass = float(axis.weighing_mass if axis.get("mechanics.load_mass") else 0)
    return mass * G * math.sin(float(slope or 0) * math.tau) * metres_per_radian(axis)


def friction(axis: PlainAxis) -> float:
    force = axis.base("mechanics.friction_force")
    if force is not None:
        return float(force) * metres_per_radian(axis)
    return float(axis.base("mechanics.friction_torque") or 0) / float(axis.ratio)


def motion(axis: PlainAxis, path: str) -> Fraction:
    """Speed, acceleration or jerk in mm or rev, and s."""
    number, unit = parts(axis.get(path))
    return number * factor(unit)


def returned(axis: PlainAxis) -> float:
    """Power in W that flows back while the load is stopped on its way down; friction takes some."""
    if axis.get(UNBALANCE):
        radians = math.tau / float(axis.per_motor_turn)
        alpha = float(motion(axis, "controller.max_acceleration")) * radians
        driving = gravity_torque(axis) + load_inertia(axis) * alpha - friction(axis)
        return max(driving, 0.0) * float(motion(axis, "controller.max_velocity")) * radians
    speed = float(motion(axis, "controller.max_velocity")) / 1000
    carried = float(axis.base("mechanics.counterbalance") or 0)
    rate = float(motion(axis, "controller.max_acceleration")) / 1000
    drag = friction(axis) / metres_per_radian(axis)
    pull_down = float(axis.need("mechanics.load_mass")) * (
        G * tilted_share(axis) * (1 - carried) + rate
    )
    return max(pull_down - drag, 0.0) * speed
