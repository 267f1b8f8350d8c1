"""Homing, direction and registers: the rules' formulas against integration and worked examples."""

from __future__ import annotations

from itertools import pairwise
from math import prod
from typing import Any

import pytest
from axisproof.catalogue.catalogue import shipped
from axisproof.language.tracer import Tracer
from axisproof.machine.reader import read_plain
from axisproof.numbers.exact import to_float
from axisproof.numbers.rational import Fraction, read_fraction


def derived(name: str, plain: dict[str, Any]) -> Any:
    """A definition's value for one axis, in base units (mm, turn, s, count)."""
    machine = read_plain({"axes": {"axis": {"motion": "linear", **plain}}})
    catalogue = shipped()
    tracer = Tracer(catalogue.definitions, catalogue.defaults)
    return tracer.definition(machine.axes[0], "axis", name).value


def homing(method: int | str, **facts: Any) -> dict[str, Any]:
    return {"controller": {"homing": {"method": method, **facts}}}


@pytest.mark.parametrize(
    ("speed", "acceleration", "filter_ms", "scan_ms"),
    [(100, 500, 4, 1), (50, 1000, 1, 0.25), (20, 80, 0, 2)],
)
def test_the_search_runs_past_its_edge_as_far_as_integrating_the_motion_says(
    speed: float, acceleration: float, filter_ms: float, scan_ms: float
) -> None:
    """Trapezoidal rule over the velocity: constant for filter + scan, then falling to zero."""
    facts = homing(17, search_speed=f"{speed} mm/s", acceleration=f"{acceleration} mm/s^2")
    facts["drive"] = {"input_filter": f"{filter_ms} ms", "input_scan": f"{scan_ms} ms"}
    delay = (filter_ms + scan_ms) / 1000
    corners = [(0.0, speed), (delay, speed), (delay + speed / acceleration, 0.0)]
    travelled = sum((t2 - t1) * (v1 + v2) / 2 for (t1, v1), (t2, v2) in pairwise(corners))
    assert to_float(derived("search_overrun", facts)) == pytest.approx(travelled, rel=1e-12)


def test_the_slide_of_the_hall_finds_its_index_half_a_revolution_after_the_edge() -> None:
    """By hand: edge at -10 mm, 0.5 rev of a 5 mm lead upwards (method 5), so -7.5 mm."""
    switch = {"position": "-10 mm"}
    mechanics = {"stages": [], "final": {"kind": "screw", "lead": "5 mm"}}
    for method, due in ((5, Fraction(-15, 2)), (6, Fraction(-25, 2)), (21, -10)):
        facts = homing(method, switch=switch, index_after_switch="0.5 rev")
        facts |= {"mechanics": mechanics, "encoder": {"mounted_on": "motor"}}
        assert derived("reference_due", facts) == due


@pytest.mark.parametrize("angle", ["0 rev", "0.2 rev", "0.5 rev", "0.8 rev", "2.3 rev"])
def test_the_nearest_index_pulse_is_the_nearest_of_all_pulses_in_a_row(angle: str) -> None:
    """A pulse each 5 mm from the one at the stated angle on; the edge lies at zero."""
    facts = homing(5, index_after_switch=angle)
    facts |= {
        "mechanics": {"stages": [], "final": {"kind": "screw", "lead": "5 mm"}},
        "encoder": {"mounted_on": "motor"},
    }
    stated = read_fraction(angle.split()[0]) * 5
    pulses = [stated + 5 * number for number in range(-9, 9)]
    assert derived("index_distance", facts) == min(abs(pulse) for pulse in pulses)


def test_an_edge_is_seen_within_what_the_axis_creeps_between_samples_and_the_scatter() -> None:
    """By hand: 5 mm/s for 0.25 ms + 0.25 ms are 0.0025 mm, and 0.02 mm of scatter: 0.0225 mm."""
    facts = homing(
        5, creep_speed="5 mm/s", latch_jitter="0.25 ms", switch={"scatter": "0.02 mm"}
    ) | {"drive": {"input_scan": "0.25 ms"}}
    assert derived("edge_spread", facts) == Fraction(225, 10000)


@pytest.mark.parametrize("reversals", range(16))
def test_the_load_follows_the_position_if_the_product_of_all_signs_is_positive(
    reversals: int,
) -> None:
    """Each reversal is a factor of -1: controller, drive, two stages, with the load's sense."""
    controller, drive, first, second = (bool(reversals >> bit & 1) for bit in range(4))
    words = {False: "normal", True: "reversed"}
    for final in ("same", "reversed"):
        facts = {
            "controller": {"polarity": words[controller]},
            "drive": {"polarity": words[drive]},
            "mechanics": {
                "stages": [{"reversing": first}, {"reversing": second}],
                "final": {"direction": final},
            },
        }
        signs = [controller, drive, first, second, final == "reversed"]
        product = prod(-1 if sign else 1 for sign in signs)
        assert derived("load_follows_position", facts) is (product == 1)


def test_a_controller_in_micrometres_needs_fewer_positions_than_the_encoder_tells() -> None:
    """By hand: 32768 turns of 10 mm are 327.68 m, which are 327 680 000 um (29 bits)."""
    facts = {
        "encoder": {
            "kind": "absolute_multiturn",
            "mounted_on": "motor",
            "counts_per_revolution": 131072,
            "distinguishable_revolutions": 32768,
        },
        "drive": {"encoder_use": "absolute", "gear": {"command_increment": "0.001 mm"}},
        "mechanics": {"stages": [], "final": {"kind": "screw", "lead": "10 mm"}},
    }
    assert derived("controller_positions_to_hold", facts) == 327_680_000
    assert 2**28 < 327_680_000 <= 2**29


@pytest.mark.parametrize(
    ("counts_per_mm", "slip"),
    [
        (5000, None),
        (5000 * Fraction(127, 5), "inches and millimetres"),
        (20000, "the four edges of a line counted twice"),
        (10000 * Fraction(1, 5) / 10, "the gear upside down, in the scaling or in the mechanics"),
        (5000 * 2**3, "a power of two: an encoder of more or fewer bits"),
        (5001, None),
    ],
)
def test_a_wrong_scaling_is_named_by_its_factor(counts_per_mm: Fraction, slip: str | None) -> None:
    """25.4 mm per inch is exact (international yard and pound agreement, 1959).

    By hand: 5 motor turns of 10000 counts make 10 mm, which is 5000 counts/mm. With the gear upside
    down a fifth of a turn makes 10 mm, which is 200 counts/mm.
    """
    facts = {
        "encoder": {"mounted_on": "motor", "counts_per_revolution": 10000},
        "drive": {"gear": "none"},
        "controller": {"counts_per_unit": f"{counts_per_mm} count/mm"},
        "mechanics": {
            "stages": [{"motor_turns_per_load_turn": 5}],
            "final": {"kind": "screw", "lead": "10 mm"},
        },
    }
    assert derived("scaling_is_gross", facts) is (slip is not None)
    if slip is not None:
        assert str(derived("scaling_slip", facts)).startswith(slip)
