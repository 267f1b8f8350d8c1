"""Torque over speed and moves of a cycle, against integrals over the motion, step by step.

The sources are elementary mechanics and the definition of the effective value, √(Σ T²·t / Σ t)
(Schröder, Elektrische Antriebe; duty types of IEC 60034-1, both from memory). A trapezoid of three
equal parts has v = 1.5·s/t and a = 4.5·s/t², a rule of drive sizing (common practice, no source).
"""

from __future__ import annotations

import math
from typing import Any

import pytest
from axisproof.language.moves import move_heat, move_torque
from axisproof.numbers.exact import to_float

from tests.reference.test_torque_worked_examples import derived

STEPS = 60_000
G = 9.80665
PER_RADIAN = 0.02 / (2 * math.pi)
"""Travel in m for a radian of the motor, of a screw with a lead of 20 mm."""

MOVES: list[dict[str, Any]] = [
    {
        **{"name": "up", "distance": "300 mm", "velocity": "1.5 m/s", "acceleration": "15 m/s^2"},
        **{"time": "300 ms", "dwell": "450 ms", "load_mass": "12 kg", "process_force": "0 N"},
    },
    {
        **{"name": "down", "distance": "-300 mm", "velocity": "2 m/s", "acceleration": "6 m/s^2"},
        **{"time": "500 ms", "dwell": "750 ms", "load_mass": "8 kg", "process_force": "25 N"},
    },
]

AXIS: dict[str, Any] = {
    "motion": "linear",
    "motor": {
        **{"inertia": "1.4 kg cm^2", "rated_torque": "2.4 N·m", "rated_speed": "3000 rpm"},
        "peak_torque": "7.2 N·m",
        "torque_curve": {
            "voltage": "400 V",
            "between_points": "straight",
            "points": [
                {"speed": "2000 rpm", "continuous_torque": "2.5 N·m", "peak_torque": "7.2 N·m"},
                {"speed": "6000 rpm", "continuous_torque": "1 N·m", "peak_torque": "3.2 N·m"},
            ],
        },
    },
    "drive": {"torque_limit": "7.2 N·m", "supply_voltage": "400 V"},
    "controller": {
        **{"max_velocity": "1.5 m/s", "max_acceleration": "15 m/s^2"},
        "motion_cycle": {"repeats_after": "2 s", "moves": MOVES},
    },
    "mechanics": {
        **{"stages": [], "final": {"kind": "screw", "lead": "20 mm"}, "moved_by_gravity": True},
        **{"inclination": "90 deg", "falls_towards": "negative", "counterbalance": "30 %"},
        **{"load_mass": "10 kg", "transmission_inertia": "0.6 kg cm^2", "friction_force": "40 N"},
        "efficiency": "85 %",
    },
}


def number(text: str) -> float:
    return float(text.split()[0])


def motor_torque(move: dict[str, Any], upwards: float) -> float:
    """Torque of the motor in the direction of the move, while it accelerates so much upwards."""
    sign = math.copysign(1, number(move["distance"]))
    mass, pulled = number(move["load_mass"]), number(move["load_mass"]) - 0.3 * 10
    against = sign * (mass * upwards + pulled * G) + 40 + number(move["process_force"])
    through = against * PER_RADIAN
    through = through / 0.85 if through > 0 else through * 0.85
    return sign * 2e-4 * upwards / PER_RADIAN + through


def speed_at(move: dict[str, Any], t: float) -> tuple[float, float]:
    """Speed and acceleration in m/s and m/s², without signs, at a time of the move."""
    way, a = abs(number(move["distance"])) / 1000, number(move["acceleration"])
    v = min(number(move["velocity"]), math.sqrt(way * a))
    ramp, whole = v / a, way / v + v / a
    if t < ramp:
        return a * t, a
    if t < whole - ramp:
        return v, 0.0
    return (v - a * (t - whole + ramp), -a) if t < whole else (0.0, 0.0)


def integrated() -> tuple[float, float, float]:
    """Effective torque, mean motor speed in rpm, and the highest torque, by many small steps."""
    heat = turned = total = highest = 0.0
    for move in MOVES:
        lasts = (number(move["time"]) + number(move["dwell"])) / 1000
        sign, step = math.copysign(1, number(move["distance"])), lasts / STEPS
        for count in range(STEPS):
            v, a = speed_at(move, (count + 0.5) * step)
            torque = motor_torque(move, sign * a)
            if v == 0.0:
                torque = (number(move["load_mass"]) - 0.3 * 10) * G * PER_RADIAN
            else:
                highest = max(highest, abs(torque))
            heat += torque**2 * step
            turned += v / 0.02 * step
        total += lasts
    return math.sqrt(heat / total), turned / total * 60, highest


def test_the_effective_torque_is_the_integral_over_the_cycle() -> None:
    effective, speed, _ = integrated()
    assert derived("moves_torque", "N·m", AXIS) == pytest.approx(effective, rel=1e-4)
    assert derived("mean_motor_speed", "rpm", AXIS) == pytest.approx(speed, rel=1e-4)
    assert derived("moves_take", "s", AXIS) == pytest.approx(2)


def test_the_peak_at_top_speed_lies_on_the_straight_line() -> None:
    # 1.5 m/s at 20 mm a turn are 4500 rpm: five eighths of the way from 7.2 to 3.2 N·m.
    assert derived("top_motor_speed", "rpm", AXIS) == pytest.approx(4500)
    assert derived("peak_torque_at_top_speed", "N·m", AXIS) == pytest.approx(7.2 - 4 * 5 / 8)


def test_a_move_torque_is_the_highest_of_the_three_parts() -> None:
    found = move_torque(3, 5, 2, 1)
    assert found is not None
    assert to_float(found) == 10  # 3 + 7 at the start, 2 between, 3 + 3 backwards at the stop
    assert move_torque(0, 0, -4, 1) == 4
    assert move_torque(1, 1, 1, 0) is None


def test_heat_is_torque_squared_by_time_over_the_torque_that_heats_as_much() -> None:
    # 10² x 2 + 2² x 5 + 6² x 2 over 2²
    assert move_heat(3, 5, 2, 1, 2, 5, 2) == 73
    assert move_heat(3, 5, 2, 1, 2, 5, 0) is None
