"""Stops with jerk limit, bending and buckling of screws, and the lag of a position loop, against
libraries from the registries: ruckig, scipy and python-control (extras ``stops``, ``beams``,
``loops``).
"""

from __future__ import annotations

import math
from typing import Any

import pytest
from axisproof.language.library import stopping_distance_with_jerk
from axisproof.numbers.exact import Approx
from axisproof.numbers.rational import Fraction

from tests.reference.test_screw_worked_examples import DENSITY, STEEL, screw
from tests.reference.test_torque_worked_examples import derived

WANTED = "not installed: pip install -e '.[stops,beams,loops]'"


@pytest.mark.parametrize(
    ("speed", "deceleration", "jerk"),
    [
        (500, 2000, 20000),
        (1000, 10000, 100000),
        (300, 3000, 30000),
        (40, 2000, 20000),
        (5, 900, 80),
    ],
)
def test_a_stop_with_jerk_limit_is_as_long_as_that_of_ruckig(
    speed: int, deceleration: int, jerk: int
) -> None:
    """The last two are so slow that the deceleration never reaches its limit."""
    ruckig = pytest.importorskip("ruckig", reason=f"ruckig is {WANTED}")
    order = ruckig.InputParameter(1)
    order.control_interface = ruckig.ControlInterface.Velocity
    order.current_position, order.current_velocity = [0.0], [float(speed)]
    order.current_acceleration = [0.0]
    order.target_velocity, order.target_acceleration = [0.0], [0.0]
    order.max_acceleration, order.max_jerk = [float(deceleration)], [float(jerk)]
    path = ruckig.Trajectory(1)
    ruckig.Ruckig(1).calculate(order, path)
    end = path.at_time(path.duration)[0][0]
    ours = stopping_distance_with_jerk(*map(Fraction, (speed, deceleration, jerk, 0)))
    assert ours is not None
    found = ours.value if isinstance(ours, Approx) else float(ours)
    assert found == pytest.approx(end, rel=1e-6)


CLAMPED, PINNED, FREE = "clamped", "pinned", "free"
ENDS = {
    "fixed_free": (CLAMPED, FREE),
    "supported_supported": (PINNED, PINNED),
    "fixed_supported": (CLAMPED, PINNED),
    "fixed_fixed": (CLAMPED, CLAMPED),
}
ELEMENTS = 40


def beam(support: str) -> tuple[Any, Any, Any]:
    """Stiffness, mass and axial matrices of a unit beam (cubic elements) in its bearings."""
    numpy = pytest.importorskip("numpy", reason=f"numpy is {WANTED}")
    h = 1 / ELEMENTS
    bending = numpy.array(
        [
            [12, 6 * h, -12, 6 * h],
            [6 * h, 4 * h * h, -6 * h, 2 * h * h],
            [-12, -6 * h, 12, -6 * h],
            [6 * h, 2 * h * h, -6 * h, 4 * h * h],
        ]
    ) / h**3  # fmt: skip
    mass = numpy.array(
        [
            [156, 22 * h, 54, -13 * h],
            [22 * h, 4 * h * h, 13 * h, -3 * h * h],
            [54, 13 * h, 156, -22 * h],
            [-13 * h, -3 * h * h, -22 * h, 4 * h * h],
        ]
    ) * h / 420  # fmt: skip
    axial = numpy.array(
        [
            [36, 3 * h, -36, 3 * h],
            [3 * h, 4 * h * h, -3 * h, -h * h],
            [-36, -3 * h, 36, -3 * h],
            [3 * h, -h * h, -3 * h, 4 * h * h],
        ]
    ) / (30 * h)  # fmt: skip
    size = 2 * (ELEMENTS + 1)
    whole = [numpy.zeros((size, size)) for _ in range(3)]
    for element in range(ELEMENTS):
        at = slice(2 * element, 2 * element + 4)
        for matrix, part in zip(whole, (bending, mass, axial), strict=True):
            matrix[at, at] += part
    held = set()
    for end, first in zip(ENDS[support], (0, size - 2), strict=True):
        held |= {CLAMPED: {first, first + 1}, PINNED: {first}, FREE: set()}[end]
    free = [number for number in range(size) if number not in held]
    cut = [matrix[numpy.ix_(free, free)] for matrix in whole]
    return cut[0], cut[1], cut[2]


@pytest.mark.parametrize("support", ENDS)
def test_critical_speed_is_that_of_finite_elements(support: str) -> None:
    """The lowest bending frequency of cubic beam elements, solved by scipy; 0.8 is the margin."""
    linalg = pytest.importorskip("scipy.linalg", reason=f"scipy is {WANTED}")
    bending, mass, _ = beam(support)
    lowest = math.sqrt(linalg.eigh(bending, mass, eigvals_only=True)[0])  # λ² of the unit beam
    diameter, length = 0.0171, 1.3
    speed = lowest / (2 * math.pi) * math.sqrt(STEEL * diameter**2 / 16 / DENSITY) / length**2
    plain = screw(support=support, root_diameter="17.1 mm", unsupported_length="1300 mm")
    assert derived("critical_speed", "rpm", plain) == pytest.approx(0.8 * speed * 60, rel=2e-3)


@pytest.mark.parametrize("support", ENDS)
def test_buckling_load_is_that_of_finite_elements(support: str) -> None:
    """The lowest axial load of cubic beam elements, solved by scipy; Euler's 2 is 2.0457."""
    linalg = pytest.importorskip("scipy.linalg", reason=f"scipy is {WANTED}")
    bending, _, axial = beam(support)
    lowest = min(load for load in linalg.eigh(bending, axial, eigvals_only=True) if load > 1e-9)
    diameter, length = 0.0171, 1.3
    load = lowest * STEEL * math.pi * diameter**4 / 64 / length**2
    plain = screw(support=support, root_diameter="17.1 mm", unsupported_length="1300 mm")
    ours = derived("buckling_load", "N", plain)
    assert ours == pytest.approx(load, rel=0.023)
    assert ours <= load * 1.001  # rounded towards the safe side


@pytest.mark.parametrize(("gain", "forward"), [(30, 0.0), (20, 0.9), (16.667, 0.5)])
def test_lag_at_constant_velocity_is_that_of_python_control(gain: float, forward: float) -> None:
    """A position loop Kv/s with a share of the velocity fed forward, on a ramp."""
    control = pytest.importorskip("control", reason=f"python-control is {WANTED}")
    s = control.tf("s")
    speed = 500.0
    follows = (gain + forward * s) / (s + gain)
    times = [number / 1000 for number in range(4001)]
    ramp = [speed * time for time in times]
    reply = control.forced_response(follows, times, ramp)
    lag = ramp[-1] - float(reply.outputs[-1])
    plain = {
        "motion": "linear",
        "controller": {
            "max_velocity": "500 mm/s",
            "position_loop_gain": f"{gain} 1/s",
            "velocity_feedforward": f"{forward * 100} %",
        },
    }
    assert derived("lag", "mm", plain) == pytest.approx(lag, rel=1e-3)
