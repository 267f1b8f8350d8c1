"""What pi in the mechanics or in a typed unit does to scalings and cycles, against the outside."""

from __future__ import annotations

import math
from typing import Any

import pytest
from axisproof.language.library import involves_pi
from axisproof.numbers.exact import Approx, Pi
from axisproof.numbers.near_fractions import simple_fraction
from axisproof.numbers.rational import Fraction, read_fraction
from hypothesis import given
from hypothesis import strategies as st

from tests.reference.test_position_chain import derived

ONE_PPM = Fraction(1, 10**6)


# Continued fraction of pi: 3, 22/7, 333/106, 355/113, 103993/33102 (Lambert 1761; OEIS A002485 over
# A002486, from memory). 22/7 is off by 4.0e-4 of pi, 355/113 by 8.5e-8.
@pytest.mark.parametrize(
    ("tolerance", "fraction"),
    [
        ("1/2", Fraction(2)),
        ("1/20", Fraction(3)),
        ("1/2000", Fraction(22, 7)),
        ("1/1000000", Fraction(355, 113)),
        ("1/5000000000", Fraction(103993, 33102)),
    ],
)
def test_the_simplest_fractions_of_pi_are_the_known_ones(
    tolerance: str, fraction: Fraction
) -> None:
    assert simple_fraction(Pi(1, 1), Fraction(tolerance)) == fraction
    assert simple_fraction(Pi(-1, 1), Fraction(tolerance)) == -fraction


@given(
    value=st.builds(Fraction, st.integers(1, 10**9), st.integers(1, 10**9)),
    tolerance=st.builds(Fraction, st.just(1), st.integers(2, 10**7)),
)
def test_no_fraction_of_a_smaller_denominator_lies_within_the_tolerance(
    value: Fraction, tolerance: Fraction
) -> None:
    found = simple_fraction(value, tolerance)
    assert isinstance(found, int | Fraction)
    assert abs(found - value) <= value * tolerance
    if Fraction(found).denominator > 1:
        # Python's own search for the nearest fraction of a bounded denominator
        best = value.limit_denominator(Fraction(found).denominator - 1)
        assert abs(best - value) > value * tolerance


def test_a_fraction_without_tolerance_is_itself_and_pi_has_none() -> None:
    assert simple_fraction(Fraction(10, 3), 0) == Fraction(10, 3)
    assert simple_fraction(0, ONE_PPM) == 0
    assert simple_fraction(Pi(1, 1), 0) is None
    assert simple_fraction(Pi(1, 1), 1) is None
    # A number known to three digits only has none within a millionth of wherever it lies.
    assert simple_fraction(Approx(3.14, 0.01), ONE_PPM) is None
    assert simple_fraction(Approx(0.0, 1e-9), ONE_PPM) is None
    assert simple_fraction(Approx(1.0, math.inf), ONE_PPM) is None


@given(
    value=st.floats(1e-6, 1e6),
    tolerance=st.builds(Fraction, st.just(1), st.integers(2, 10**7)),
    negative=st.booleans(),
)
def test_the_fraction_of_an_approximate_number_is_near_wherever_that_lies(
    value: float, tolerance: Fraction, negative: bool
) -> None:
    error = value * 1e-15
    found = simple_fraction(Approx(-value if negative else value, error), tolerance)
    assert isinstance(found, int | Fraction)
    assert (found < 0) is negative
    for end in (Fraction(value) - Fraction(error), Fraction(value) + Fraction(error)):
        assert abs(abs(found) / end - 1) <= tolerance


def test_pi_is_seen_in_exact_numbers_and_not_guessed_in_approximate_ones() -> None:
    assert involves_pi(Pi(Fraction(1, 3), -1)) is True
    assert involves_pi(Fraction(22, 7)) is False
    assert involves_pi(Approx(math.pi, 1e-15)) is None


# 1 rev = 2 pi rad (ISO 80000-3): a cycle typed in rad stands for a fraction of a revolution.
@pytest.mark.parametrize(
    ("cycle", "revolutions"),
    [
        ("6.283185307 rad", Fraction(1)),
        ("2.0943951 rad", Fraction(1, 3)),
        ("0.8975979 rad", Fraction(1, 7)),
        ("360/7 deg", Fraction(1, 7)),
        ("51.428571 deg", Fraction(51428571, 360000000)),
    ],
)
def test_a_cycle_in_rad_is_the_fraction_of_a_revolution_that_it_was_typed_from(
    cycle: str, revolutions: Fraction
) -> None:
    plain = {"motion": "rotary", "controller": {"cycle": cycle}}
    assert derived("cycle", plain) == revolutions


# 6.2832 rad are 2.3 ppm more than 2 pi, and 1 rad is no fraction of a revolution.
@pytest.mark.parametrize("cycle", ["6.2832 rad", "1 rad"])
def test_a_cycle_in_rad_that_fits_no_fraction_stays_what_it_is(cycle: str) -> None:
    plain = {"motion": "rotary", "controller": {"cycle": cycle}}
    number = read_fraction(cycle.split()[0])
    assert derived("cycle", plain) == Pi(number / 2, -1)


# Travel per motor revolution of a roller is pi d / i; counts per user unit are counts over that
# (the position formula of CiA 402 / IEC 61800-7-201, from memory).
def test_a_scaling_typed_for_a_roller_is_allowed_a_millionth_and_one_for_a_belt_nothing() -> None:
    plain: dict[str, Any] = {
        "motion": "linear",
        "encoder": {"mounted_on": "motor", "counts_per_revolution": 65536},
        "drive": {"gear": "none"},
        "controller": {"scaling": {"counts": 65536, "distance": "25.132741 mm"}},
        "mechanics": {
            "stages": [{"motor_turns_per_load_turn": 10}],
            "final": {"kind": "roller", "diameter": "80 mm"},
        },
    }
    assert derived("scaling_tolerance", plain) == ONE_PPM
    assert float(derived("scaling_factor", plain).coefficient) * math.pi == pytest.approx(
        8 * math.pi / 25.132741, rel=1e-12
    )
    plain["mechanics"]["final"] = {"kind": "belt", "teeth": 50, "pitch": "5 mm"}
    assert derived("scaling_tolerance", plain) == 0
