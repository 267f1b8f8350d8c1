"""The pull of a weight by position, against sums over many angles and by hand."""

from __future__ import annotations

import math
from random import Random

import pytest
from axisproof.language.library import largest_sine
from axisproof.numbers.exact import Approx, to_approx
from axisproof.numbers.rational import Fraction

from .test_torque_worked_examples import derived


def sampled(low: Fraction, high: Fraction) -> float:
    """The largest |sin| of 2001 angles, which lies at most 1 - cos(half a step) too low."""
    step = (high - low) / 2000
    return max(abs(math.sin(math.tau * float(low + step * number))) for number in range(2001))


def test_the_largest_sine_is_that_of_many_angles() -> None:
    rng = Random("largest sine")
    for _ in range(100):
        low = Fraction(rng.randint(-7200, 7200), 3600)
        high = low + Fraction(rng.randint(0, 3000), 3600)
        found = largest_sine(low, high)
        assert found is not None
        near = to_approx(found)
        slack = 1 - math.cos(math.pi * float(high - low) / 2000)
        assert sampled(low, high) - 1e-12 <= near.value <= sampled(low, high) + slack + 1e-12
        around = largest_sine(Approx(float(low), 1e-12), Approx(float(high), 1e-12))
        assert isinstance(around, Approx)
        assert abs(around.value - near.value) <= around.error + near.error + 1e-15


@pytest.mark.parametrize(
    ("low", "high", "due"),
    [
        (Fraction(0), Fraction(1, 4), 1),  # just level
        (Fraction(1, 12), Fraction(1, 12), Fraction(1, 2)),
        (Fraction(3, 4), Fraction(3, 4), 1),
        (Fraction(-1, 12), Fraction(0), Fraction(1, 2)),
        (Fraction(0), Fraction(0), 0),
    ],
)
def test_the_largest_sine_is_exact_where_it_is_rational(
    low: Fraction, high: Fraction, due: Fraction
) -> None:
    assert largest_sine(low, high) == due


def test_ends_that_lie_the_wrong_way_round_have_no_largest_sine() -> None:
    assert largest_sine(Fraction(1, 4), Fraction(1, 5)) is None
    assert largest_sine(Approx(0.25, 1e-12), Approx(0.2, 1e-12)) is None


def arm(low: str, high: str, tilt: str = "0 deg") -> dict[str, object]:
    weight = {"mass": "8 kg", "radius": "250 mm", "lowest_at": "-90 deg", "axis_tilt": tilt}
    return {
        "motion": "rotary",
        "mechanics": {
            "stages": [{"motor_turns_per_load_turn": 50}],
            "final": {"kind": "direct"},
            "moved_by_gravity": True,
            "counterbalance": "none",
            "travel": {"min": low, "max": high},
            "unbalance": weight,
        },
    }


def test_an_arm_by_hand() -> None:
    """8 kg at 0.25 m that hang at -90 deg: 19.6133 N·m level at 0 deg (mass x gravity x arm).

    From 20 deg on the arm is cos(20 deg) = 0.939693 as long; the axis of rotation 60 deg from level
    halves the torque. Behind 50:1 it is a fiftieth at the motor.
    """
    assert derived("gravity_torque", "N·m", arm("-30 deg", "80 deg")) == pytest.approx(0.392266)
    over = 19.6133 * 0.9396926
    assert derived("largest_unbalanced_torque", "N·m", arm("20 deg", "80 deg")) == pytest.approx(
        over
    )
    tilted = arm("20 deg", "80 deg", "60 deg")
    assert derived("largest_unbalanced_torque", "N·m", tilted) == pytest.approx(over / 2)


def test_a_telescope_by_hand() -> None:
    """Three times the travel of 100 mm per turn; 6 kg and 4 kg at a third and two thirds of it.

    They weigh as 6/3 + 4·2/3 = 14/3 kg at the end, and are as inert as 6/9 + 4·4/9 = 22/9 kg.
    """
    sections = [
        {"mass": "6 kg", "travel_share": "1/3"},
        {"mass": "4 kg", "travel_share": "2/3"},
    ]
    plain = {
        "motion": "linear",
        "mechanics": {
            "stages": [],
            "final": {"kind": "belt", "teeth": 20, "pitch": "5 mm"},
            "load_mass": "10 kg",
            "telescope": {"travel_ratio": 3, "sections": sections},
        },
    }
    assert derived("feed_constant", "mm/rev", plain) == pytest.approx(300)
    assert derived("moved_mass", "kg", plain) == pytest.approx(10 + 14 / 3)
    inertia = (10 + 22 / 9) * (0.3 / math.tau) ** 2
    assert derived("load_inertia_at_motor", "kg m^2", plain) == pytest.approx(inertia)
