"""Reels and drums against sums over their layers (elementary geometry and mechanics)."""

from __future__ import annotations

import math
from typing import Any

import pytest
from axisproof.language.library import same_everywhere
from axisproof.numbers.exact import Approx
from axisproof.numbers.rational import Fraction

from .test_torque_worked_examples import derived

DRUM = {"empty_diameter": "200 mm", "full_diameter": "260 mm", "thickness": "10 mm", "layers": 4}


def drum(**winding: Any) -> dict[str, Any]:
    return {
        "motion": "linear",
        "motor": {"max_speed": "3000 rpm"},
        "controller": {"max_velocity": "500 mm/s"},
        "mechanics": {
            "stages": [{"motor_turns_per_load_turn": 20}],
            "final": {"kind": "reel"},
            "efficiency": "90 %",
            "moved_by_gravity": True,
            "inclination": "90 deg",
            "counterbalance": "none",
            "load_mass": "50 kg",
            "winding": {**DRUM, "turns_per_layer": 12, **winding},
        },
    }


def test_a_drum_holds_the_sum_of_its_layers() -> None:
    """Four layers of 12 turns on 200, 220, 240 and 260 mm from middle to middle of the rope."""
    wound = sum(12 * math.pi * diameter for diameter in (200, 220, 240, 260))
    assert derived("wound_length", "mm", drum()) == pytest.approx(wound)


def test_speed_counts_in_the_lowest_layer_and_torque_in_the_top_one() -> None:
    """500 mm/s on 200 mm behind 20:1, and 50 kg on a radius of 130 mm with 90 %."""
    speed = 500 / (math.pi * 200) * 20 * 60
    assert derived("top_motor_speed", "rpm", drum()) == pytest.approx(speed)
    torque = 50 * 9.80665 * 0.130 / 20
    assert derived("largest_gravity_torque", "N·m", drum()) == pytest.approx(torque)
    assert derived("full_reel_torque", "N·m", drum()) == pytest.approx(torque / 0.9)


def test_one_layer_has_one_feed_and_several_have_none() -> None:
    one = drum(full_diameter="200 mm", layers=1)
    assert derived("feed_constant", "mm/rev", one) == pytest.approx(math.pi * 200)
    assert same_everywhere(Fraction(1, 3), Fraction(1, 3)) == Fraction(1, 3)
    assert same_everywhere(1, 2) is None
    assert same_everywhere(Approx(1.0, 1e-9), 1) is None
