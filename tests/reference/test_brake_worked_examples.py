"""The drop of a hanging load at power-off against stepping through time."""

from __future__ import annotations

import math

import pytest

from tests.reference.test_torque_worked_examples import derived, screw_axis


@pytest.mark.parametrize(
    ("speed", "apply_time", "holding", "share"),
    [(0.3, 0.03, 4.0, 0.6), (0.3, 0.1, 2.0, 0.8), (0.05, 0.2, 1.7, 0.6), (0.05, 0.2, 1.5, 1.0)],
)
def test_the_drop_agrees_with_numerical_integration(
    speed: float, apply_time: float, holding: float, share: float
) -> None:
    """Fall of all inertias at the motor under gravity alone, then against the sliding brake.

    ``share`` is how much of its holding torque the brake still has while it slides, as set.
    """
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
        torque = gravity if t < apply_time else gravity - share * holding
        a = torque / inertia * per_turn
        s += v * dt + a * dt * dt / 2
        v += a * dt
        t += dt
    settings = {"brake_dynamic_share": share}
    got = derived("drop_at_power_off", "mm", plain, settings)
    assert got == pytest.approx(s * 1000, rel=2e-4)


def test_a_load_without_other_inertia_falls_free() -> None:
    """With rotor and transmission left out a hanging load falls with g (by hand)."""
    plain = screw_axis(transmission_inertia="0 kg cm^2")
    plain["motor"]["inertia"] = "0 kg cm^2"
    assert derived("fall_acceleration", "m/s²", plain) == pytest.approx(9.80665)


@pytest.mark.parametrize("friction", [26.0, 60.0, 120.0])
def test_a_level_axis_without_brake_coasts_until_friction_has_stopped_it(friction: float) -> None:
    """v²/(2a), a by friction against all inertia at the motor (audit of the rules, by hand).

    60 N · 10 mm/2 pi on 3.2e-4 + 1.52e-4 kg m² are 0.3227 m/s²: 139.4 mm from 300 mm/s.
    """
    plain = screw_axis(moved_by_gravity=False, friction_force=f"{friction} N", inclination="0 deg")
    plain["motor"]["brake"] = "none"
    per_turn = 0.01 / (2 * math.pi)
    inertia = 3.2e-4 + 60 * per_turn**2
    v, s, dt = 0.3, 0.0, 1e-5
    while v > 0:
        s += v * dt
        v -= friction * per_turn / inertia * per_turn * dt
    assert derived("run_without_torque", "mm", plain) == pytest.approx(s * 1000, rel=2e-4)


@pytest.mark.parametrize(
    ("place", "holds", "ratio"),
    [("driving_shaft", 12.0, 3), ("driving_shaft", 6.0, 1), ("carriage", 2000.0, 4)],
)
def test_the_drop_on_a_brake_behind_a_gear_agrees_with_integration_on_the_load_side(
    place: str, holds: float, ratio: int
) -> None:
    """Reckoned on the load side, with rotor and transmission reflected there by the gear ratio.

    The tool reckons at the motor, so a gear ratio taken the wrong way round would show. The
    controller opens the brake, so it closes a cycle of the controller later.
    """
    plain = screw_axis()
    plain["mechanics"]["stages"] = [{"motor_turns_per_load_turn": ratio}]
    plain["motor"]["brake"] = {"holding_torque": "50 N·m", "apply_time": "1 ms"}  # never added
    held = {"driving_shaft": ("holding_torque", "N·m"), "carriage": ("holding_force", "N")}[place]
    plain["mechanics"]["load_brake"] = {
        "acts_on": place, held[0]: f"{holds} {held[1]}", "apply_time": "40 ms",
        "opened_by": "controller",
    }  # fmt: skip
    plain["controller"] |= {"max_velocity": "200 mm/s", "cycle_time": "4 ms"}
    per_radian = 0.02 / (2 * math.pi)  # of the screw
    force = holds / per_radian if place == "driving_shaft" else holds
    mass = 60 + 3.2e-4 * (ratio / per_radian) ** 2
    t, v, s, dt = 0.0, 0.2, 0.0, 1e-6
    while v > 0:
        a = (60 * 9.80665 - (0.6 * force if t >= 0.044 else 0.0)) / mass
        s += v * dt + a * dt * dt / 2
        v += a * dt
        t += dt
    assert derived("drop_on_load_brake", "mm", plain) == pytest.approx(s * 1000, rel=2e-4)
    at_motor = force * per_radian / ratio
    assert derived("load_brake_torque", "N·m", plain) == pytest.approx(at_motor)
