"""Linear encoders and linear motors: worked by hand from counts per length."""

from __future__ import annotations

from typing import Any

import pytest
from axisproof.numbers.rational import Fraction

from tests.reference.test_position_chain import derived


def motor(step: str, velocity: str) -> dict[str, Any]:
    return {
        "motion": "linear",
        "encoder": {"form": "linear", "mounted_on": "load", "measuring_step": step},
        "controller": {"max_velocity": velocity},
        "mechanics": {"stages": [], "final": {"kind": "direct"}},
    }


# f = v / step: signal rate of an incremental scale by its speed (encoder handbooks, from memory).
@pytest.mark.parametrize(
    ("step", "velocity", "per_mm", "per_second"),
    [
        ("0.5 um", "2000 mm/s", 2000, 4_000_000),
        ("1 um", "500 mm/s", 1000, 500_000),
        ("0.1 um", "3 m/s", 10_000, 30_000_000),
    ],
)
def test_a_linear_motor_counts_velocity_over_measuring_step(
    step: str, velocity: str, per_mm: int, per_second: int
) -> None:
    plain = motor(step, velocity)
    assert derived("counts_per_unit", plain) == per_mm
    assert derived("top_count_rate", plain) == per_second
    assert derived("has_driving_shaft", plain) is False


def test_behind_a_screw_the_drive_may_hold_the_scale_to_less_than_is_commanded() -> None:
    plain = motor("1 um", "500 mm/s")
    plain["drive"] = {"max_speed": "3000 rpm"}
    plain["mechanics"] = {
        "stages": [{"motor_turns_per_load_turn": 2}],
        "final": {"kind": "screw", "lead": "10 mm"},
    }
    # 3000 rpm / 2 x 10 mm = 250 mm/s, in micrometres 250,000 per second
    assert derived("reachable_velocity", plain) == 250
    assert derived("top_count_rate", plain) == 250_000
    plain["drive"] = {"max_speed": "9000 rpm"}
    assert derived("top_count_rate", plain) == 500_000


def test_the_turn_counter_of_a_linear_encoder_is_relied_on_by_nobody() -> None:
    plain = motor("0.1 um", "1 m/s")
    plain["encoder"]["kind"] = "absolute_multiturn"
    plain["drive"] = {"encoder_use": "absolute"}
    assert derived("relies_on_turn_counter", plain) is False
    assert derived("forgets_position", plain) is False
    assert derived("counts_per_unit", plain) == Fraction(10_000)
