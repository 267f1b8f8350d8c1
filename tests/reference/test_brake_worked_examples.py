"""The drop of a hanging load at power-off against stepping through time."""

from __future__ import annotations

import math

import pytest
from test_torque_worked_examples import derived, screw_axis


@pytest.mark.parametrize(
    ("speed", "apply_time", "holding"), [(0.3, 0.03, 4.0), (0.3, 0.1, 2.0), (0.05, 0.2, 1.5)]
)
def test_the_drop_agrees_with_numerical_integration(
    speed: float, apply_time: float, holding: float
) -> None:
    """Fall of all inertias at the motor under gravity alone, then against the brake."""
    plain = screw_axis()
    plain["controller"]["max_velocity"] = f"{speed * 1000} mm/s"
    plain["motor"]["brake"] = {
        "holding_torque": f"{holding} N·m",
        "apply_time": f"{apply_time * 1000} ms",
    }
    per_turn = 0.01 / (2 * math.pi)
    inertia = 3.2e-4 + 60 * per_turn**2
    gravity = 60 * 9.80665 * per_turn
    t, v, s, dt = 0.0, speed, 0.0, 1e-6
    while v > 0:
        torque = gravity if t < apply_time else gravity - holding
        a = torque / inertia * per_turn
        s += v * dt + a * dt * dt / 2
        v += a * dt
        t += dt
    assert derived("drop_at_power_off", "mm", plain) == pytest.approx(s * 1000, rel=2e-4)


def test_a_load_without_other_inertia_falls_free() -> None:
    """With rotor and transmission left out a hanging load falls with g (by hand)."""
    plain = screw_axis(transmission_inertia="0 kg cm^2")
    plain["motor"]["inertia"] = "0 kg cm^2"
    assert derived("fall_acceleration", "m/s²", plain) == pytest.approx(9.80665)
