"""The slope and travel of a crank, against many angles and against worked values."""

from __future__ import annotations

import math
from random import Random

import pytest
from axisproof.numbers.cranks import crank_travel, largest_crank_slope, smallest_crank_slope
from axisproof.numbers.exact import Approx, Number, to_approx
from axisproof.numbers.rational import Fraction

STEPS = 4000


def place(ratio: float, turns: float) -> float:
    """Of the slide over the radius, by the triangle of crank and rod."""
    angle = math.tau * turns
    return math.cos(angle) + math.sqrt(1 / ratio**2 - math.sin(angle) ** 2)


def value(found: Number | None) -> float:
    assert found is not None
    near: float = to_approx(found).value
    return near


def test_slopes_and_travel_are_those_of_many_angles() -> None:
    """The slope by differences of places, which a step of 1e-6 turns gives to 1e-5."""
    rng = Random("cranks")
    for _ in range(60):
        ratio = Fraction(rng.randint(50, 900), 1000)
        low = Fraction(rng.randint(-1000, 1000), 1000)
        high = low + Fraction(rng.randint(1, 1200), 1000)
        turns = [float(low + (high - low) * step / STEPS) for step in range(STEPS + 1)]
        r, h = float(ratio), 1e-6
        slopes = [abs(place(r, t + h) - place(r, t - h)) / (2 * h * math.tau) for t in turns]
        places = [place(r, t) for t in turns]
        near = float(high - low) / STEPS * math.tau * 20
        assert value(largest_crank_slope(ratio, low, high)) == pytest.approx(max(slopes), abs=near)
        assert value(smallest_crank_slope(ratio, low, high)) == pytest.approx(min(slopes), abs=near)
        assert value(crank_travel(ratio, low, high)) == pytest.approx(
            max(places) - min(places), abs=near
        )


def test_a_whole_turn_moves_twice_the_radius_and_meets_both_dead_points() -> None:
    assert crank_travel(Fraction(1, 4), 0, 1) == 2
    assert crank_travel(Fraction(1, 4), 0, Fraction(1, 2)) == 2
    assert smallest_crank_slope(Fraction(1, 4), Fraction(1, 8), Fraction(1, 2)) == 0
    assert smallest_crank_slope(Fraction(1, 4), Fraction(-1, 8), Fraction(1, 8)) == 0


def test_at_a_quarter_turn_the_slide_moves_as_fast_as_the_crank() -> None:
    """sin 90 deg = 1 and cos 90 deg = 0, so the rod does not matter there."""
    quarter = Fraction(1, 4)
    assert value(largest_crank_slope(Fraction(1, 3), quarter, quarter)) == pytest.approx(1)
    assert value(smallest_crank_slope(Fraction(1, 3), -quarter, -quarter)) == pytest.approx(1)


def test_the_peak_of_a_usual_crank_is_the_tabled_one() -> None:
    """A ratio of 1/4 has its highest slide speed at 77 deg, 1.03 of the pin's (from memory)."""
    assert value(largest_crank_slope(Fraction(1, 4), 0, 1)) == pytest.approx(1.031, abs=0.001)


def test_what_cannot_be_told_has_no_slope() -> None:
    for ask in (largest_crank_slope, smallest_crank_slope, crank_travel):
        assert ask(1, 0, 1) is None
        assert ask(Fraction(5, 4), 0, 1) is None
        assert ask(Fraction(1, 4), 1, 0) is None


def test_an_end_that_may_be_a_dead_point_counts_as_one() -> None:
    near = Approx(0.5 - 1e-13, 1e-12)
    assert smallest_crank_slope(Fraction(1, 4), Fraction(1, 8), near) == 0
