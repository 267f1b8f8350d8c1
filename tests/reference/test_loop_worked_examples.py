"""Lag, gain per cycle and ramp times against a position loop stepped cycle by cycle."""

from __future__ import annotations

import pytest

from tests.reference.test_torque_worked_examples import derived


def stepped(gain: float, cycle: float, target: float, cycles: int) -> list[float]:
    """Position of an integrator whose controller sees the position of one cycle ago."""
    position, seen, path = 0.0, 0.0, []
    for _ in range(cycles):
        speed = gain * (target - seen)
        seen = position
        position += speed * cycle
        path.append(position)
    return path


@pytest.mark.parametrize(
    ("product", "overshoots"),
    [(0.1, False), (0.24, False), (0.25, False), (0.3, True), (0.6, True)],
)
def test_a_quarter_per_cycle_is_the_most_without_overshoot(
    product: float, overshoots: bool
) -> None:
    """z² − z + Kv·T = 0 has real roots up to 1/4 (sampled control, elementary)."""
    path = stepped(product / 0.001, 0.001, 1.0, 400)
    assert (max(path) > 1 + 1e-9) == overshoots


@pytest.mark.parametrize(("product", "stable"), [(0.9, True), (0.99, True), (1.01, False)])
def test_a_gain_of_one_per_cycle_is_the_limit_of_stability(product: float, stable: bool) -> None:
    path = stepped(product / 0.001, 0.001, 1.0, 6000)
    assert (max(abs(x - 1) for x in path[-20:]) < 1) == stable


@pytest.mark.parametrize("forward", [0.0, 0.9])
def test_the_lag_is_what_a_stepped_loop_settles_at(forward: float) -> None:
    """A continuous loop: dx/dt = Kv·(v·t − x) + forward·v settles at (1 − forward)·v/Kv behind."""
    v, gain, dt, x, t = 500.0, 40.0, 1e-5, 0.0, 0.0
    for _ in range(60_000):
        x += (gain * (v * t - x) + forward * v) * dt
        t += dt
    plain = {
        "motion": "linear",
        "controller": {
            "max_velocity": "500 mm/s",
            "position_loop_gain": "40 1/s",
            "velocity_feedforward": f"{100 * forward} %",
        },
    }
    assert derived("lag", "mm", plain) == pytest.approx(v * t - x, rel=1e-3)


def test_ramp_and_jerk_times_by_hand() -> None:
    """500/2000 = 0.25 s; 2000/20000 = 0.1 s."""
    plain = {
        "motion": "linear",
        "controller": {
            "max_velocity": "500 mm/s",
            "max_acceleration": "2000 mm/s^2",
            "max_jerk": "20000 mm/s^3",
        },
    }
    assert derived("ramp_time", "s", plain) == pytest.approx(0.25)
    assert derived("jerk_time", "s", plain) == pytest.approx(0.1)


def test_a_standing_axis_is_found_after_window_and_time_out() -> None:
    """2 mm + 500 mm/s · 10 ms = 7 mm (by hand)."""
    plain = {
        "motion": "linear",
        "drive": {"following_error_window": "2 mm", "following_error_timeout": "10 ms"},
        "controller": {"max_velocity": "500 mm/s"},
    }
    assert derived("deviation_before_reaction", "mm", plain) == pytest.approx(7)


def test_the_count_rate_of_a_linear_scale_is_velocity_over_step() -> None:
    """400 mm/s over 0.5 µm are 800000 counts per second (by hand)."""
    plain = {
        "motion": "linear",
        "encoder": {"form": "linear", "mounted_on": "load", "measuring_step": "0.5 um"},
        "drive": {"max_speed": "6000 rpm"},
        "controller": {"max_velocity": "400 mm/s"},
        "mechanics": {"stages": [], "final": {"kind": "screw", "lead": "5 mm"}},
    }
    assert derived("top_count_rate", "count/s", plain) == pytest.approx(800_000)
