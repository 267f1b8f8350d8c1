"""The position chain and stopping distances against standards' formulas and worked examples."""

from __future__ import annotations

import math
from typing import Any

import pytest
from axisproof.catalogue.catalogue import shipped
from axisproof.language.library import stopping_distance, stopping_distance_with_jerk
from axisproof.language.tracer import Tracer
from axisproof.machine.reader import read_plain
from axisproof.numbers.exact import Pi, to_float
from axisproof.numbers.rational import Fraction, read_fraction
from hypothesis import given
from hypothesis import strategies as st


def derived(name: str, plain: dict[str, Any]) -> Any:
    """A definition's value for one axis, in base units (mm, turn, count)."""
    machine = read_plain({"axes": {"axis": plain}})
    catalogue = shipped()
    return (
        Tracer(catalogue.definitions, catalogue.defaults)
        .definition(machine.axes[0], "axis", name)
        .value
    )


def linear(final: dict[str, Any], stages: list[dict[str, Any]], counts: int = 1) -> dict[str, Any]:
    return {
        "motion": "linear",
        "encoder": {"mounted_on": "motor", "counts_per_revolution": counts},
        "mechanics": {"stages": stages, "final": final},
    }


# The position formula of CiA 402 / IEC 61800-7-201 (from memory):
#   position = internal counts x feed constant / (position encoder resolution x gear ratio)


@given(
    counts=st.integers(1, 1 << 24),
    feed=st.builds(Fraction, st.integers(1, 5000), st.integers(1, 16)),
    driving=st.integers(1, 200),
    driven=st.integers(1, 200),
    internal=st.integers(-(1 << 40), 1 << 40),
)
def test_counts_per_unit_inverts_the_position_formula_of_cia_402(
    counts: int, feed: Fraction, driving: int, driven: int, internal: int
) -> None:
    gear_ratio = Fraction(driven, driving)
    position = internal * feed / (counts * gear_ratio)
    stages = [{"motor_side_teeth": driving, "load_side_teeth": driven}]
    plain = linear({"kind": "screw", "lead": f"{feed} mm"}, stages, counts)
    assert position * derived("counts_per_unit", plain) == internal


def test_a_two_start_screw_of_5_mm_pitch_leads_10_mm() -> None:
    """lead = starts x pitch (ISO 3408-1 terms; numbers chosen so the product is plain)."""
    plain = linear({"kind": "screw", "starts": 2, "pitch": "5 mm"}, [])
    assert derived("feed_constant", plain) == 10


def test_a_sprocket_of_17_teeth_at_12_7_mm_pitch_moves_215_9_mm_and_no_pitch_circle() -> None:
    """Each turn moves as many links as the sprocket has teeth (ISO 606 pitches; from memory)."""
    plain = linear({"kind": "chain", "teeth": 17, "pitch": "12.7 mm"}, [])
    assert derived("feed_constant", plain) == Fraction(2159, 10)
    circle = 12.7 / math.sin(math.pi / 17)
    assert math.pi * circle > 216.9  # the circle through the pins is longer than the polygon


@pytest.mark.parametrize("angle", ["0", "8", "19.5283333", "20", "30", "45"])
def test_a_rack_moves_its_transverse_pitch_for_each_tooth(angle: str) -> None:
    """Transverse pitch = pi x normal module / cos(helix angle) (gear geometry, from memory)."""
    final = {"kind": "rack", "teeth": 20, "module": "2 mm", "helix_angle": f"{angle} deg"}
    feed = to_float(derived("feed_constant", linear(final, [])))
    assert feed == pytest.approx(40 * math.pi / math.cos(math.radians(float(angle))), rel=1e-13)


def test_a_rack_without_a_stated_helix_is_not_taken_as_straight() -> None:
    final = {"kind": "rack", "teeth": 20, "module": "2 mm"}
    assert derived("feed_constant", linear(final, [])) is None


def test_a_belt_pulley_of_32_teeth_at_5_mm_pitch_moves_160_mm() -> None:
    """Pitch line length = teeth x pitch (synchronous belts, ISO 17396 pitches; from memory)."""
    plain = linear({"kind": "belt", "teeth": 32, "pitch": "5 mm"}, [])
    assert derived("feed_constant", plain) == 160


def test_a_straight_rack_of_module_2_moves_40_pi_on_20_teeth() -> None:
    """Pitch circle d = z·m (ISO 54 modules), so one revolution is pi·z·m."""
    plain = linear({"kind": "rack", "teeth": 20, "module": "2 mm", "helix": "straight"}, [])
    assert derived("feed_constant", plain) == Pi(40, 1)


@pytest.mark.parametrize(("teeth", "module"), [(20, 2), (25, 3), (30, 1), (18, 4)])
def test_the_usual_helical_rack_agrees_with_the_cosine_of_its_angle(
    teeth: int, module: int
) -> None:
    """d = z·m_n / cos(beta), beta = 19 deg 31 min 42 s: against the cosine itself."""
    beta = math.radians(19 + 31 / 60 + 42 / 3600)
    plain = linear(
        {"kind": "rack", "teeth": teeth, "module": f"{module} mm", "helix": "standard"}, []
    )
    exact = derived("feed_constant", plain)
    assert exact == Fraction(teeth * module * 10, 3)
    # the angle is rounded to a second of arc, which is 1.7e-6 of the length
    assert float(exact) == pytest.approx(math.pi * teeth * module / math.cos(beta), rel=3e-6)


def test_two_stages_multiply_and_name_both_ends() -> None:
    """20:60 teeth then 7:1 is 21 motor revolutions per driving shaft revolution (by hand)."""
    stages = [
        {"motor_side_teeth": 20, "load_side_teeth": 60},
        {"motor_turns_per_load_turn": "7"},
    ]
    plain = linear({"kind": "screw", "lead": "10 mm"}, stages)
    assert derived("gear_ratio", plain) == 21
    assert derived("units_per_motor_rev", plain) == Fraction(10, 21)


def test_2500_lines_evaluated_on_every_edge_are_10000_counts() -> None:
    """Quadrature: four edges per line (common practice, no source)."""
    plain = linear({"kind": "screw", "lead": "10 mm"}, [])
    plain["encoder"] = {"mounted_on": "motor", "lines_per_revolution": 2500, "edges_per_line": 4}
    assert derived("encoder_counts_per_revolution", plain) == 10_000
    assert derived("counts_per_unit", plain) == 1000


# Stopping ---------------------------------------------------------------------------------------


def integrated(v: float, a: float, j: float, t: float) -> float:
    """Distance until standstill, by stepping the deceleration through its jerk-limited ramps."""
    distance, deceleration, dt = v * t, 0.0, 1e-5
    # ramp down begins when the speed left is what the ramp itself takes away
    while v > 0:
        rising = v > deceleration**2 / (2 * j)
        deceleration = min(a, deceleration + j * dt) if rising else max(0.0, deceleration - j * dt)
        if deceleration <= 0:
            break
        distance += v * dt - deceleration * dt * dt / 2
        v -= deceleration * dt
    return distance


def test_the_worked_example_500_mm_per_s_with_jerk_is_87_5_mm() -> None:
    """v = 500, a = 2000, j = 20000, t = 0: 62.5 + 25 mm (integral by hand)."""
    assert stopping_distance(500, 2000, 0) == Fraction(125, 2)
    assert stopping_distance_with_jerk(500, 2000, 20_000, 0) == Fraction(175, 2)


@pytest.mark.parametrize(
    ("v", "a", "j", "t"),
    [
        (500, 2000, 20_000, 0.0),
        (500, 2000, 20_000, 0.004),
        (100, 2000, 20_000, 0.001),  # too slow to reach full deceleration
        (200, 2000, 20_000, 0.0),  # just reaches it
        (1500, 8000, 400_000, 0.002),
    ],
)
def test_stopping_distance_with_jerk_agrees_with_numerical_integration(
    v: int, a: int, j: int, t: float
) -> None:
    exact = stopping_distance_with_jerk(v, a, j, read_fraction(str(t)))
    assert exact is not None
    assert to_float(exact) == pytest.approx(integrated(v, a, j, t), rel=2e-3)


@given(st.integers(1, 3000), st.integers(1, 20_000))
def test_an_unlimited_jerk_approaches_the_plain_formula_from_above(v: int, a: int) -> None:
    plain = stopping_distance(v, a, 0)
    limited = stopping_distance_with_jerk(v, a, 10**12, 0)
    assert plain is not None
    assert limited is not None
    assert (limited >= plain) is True
    assert to_float(limited) == pytest.approx(to_float(plain), rel=1e-3, abs=1e-4)
