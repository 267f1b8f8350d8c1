"""Critical speed, permitted speed and buckling against handbook tables and beam theory."""

from __future__ import annotations

import math
from typing import Any

import pytest

from tests.reference.test_torque_worked_examples import derived

STEEL = 206e9  # N/m²
DENSITY = 7850.0  # kg/m³


def screw(**final: Any) -> dict[str, Any]:
    return {
        "motion": "linear",
        "controller": {"max_velocity": "500 mm/s"},
        "mechanics": {"final": {"kind": "screw", "lead": "10 mm", **final}},
    }


# First root λ of the bending frequency equation of a uniform beam (mechanics handbooks):
# cos·cosh = -1, sin = 0, tan = tanh, cos·cosh = 1.
BEAMS = {
    "fixed_free": (lambda x: math.cos(x) * math.cosh(x) + 1, 1.0, 3.0),
    "supported_supported": (math.sin, 2.0, 4.0),
    "fixed_supported": (
        lambda x: math.sin(x) * math.cosh(x) - math.cos(x) * math.sinh(x),
        3.5,
        4.5,
    ),
    "fixed_fixed": (lambda x: math.cos(x) * math.cosh(x) - 1, 4.0, 5.5),
}


def root(equation: Any, low: float, high: float) -> float:
    """Bisect a sign change."""
    for _ in range(80):
        middle = (low + high) / 2
        if equation(low) * equation(middle) <= 0:
            high = middle
        else:
            low = middle
    return low


@pytest.mark.parametrize("support", BEAMS)
def test_critical_speed_is_four_fifths_of_the_first_bending_frequency(support: str) -> None:
    """n = λ²/(2π)·√(E·I/(ρ·A))/L² with I/A = d²/16; the rule rounds k to 0.01."""
    diameter, length = 0.0176, 1.2
    wave = root(*BEAMS[support])
    frequency = wave**2 / (2 * math.pi) * math.sqrt(STEEL * diameter**2 / 16 / DENSITY) / length**2
    plain = screw(support=support, root_diameter="17.6 mm", unsupported_length="1200 mm")
    assert derived("critical_speed", "rpm", plain) == pytest.approx(0.8 * frequency * 60, rel=0.002)


def test_critical_speeds_worked_by_hand() -> None:
    """15.08·10⁷·17.6/1200² = 1843.1 rpm; 21.88·10⁷·17.6/1105² = 3153.8 rpm (beam theory)."""
    plain = screw(support="fixed_supported", root_diameter="17.6 mm", unsupported_length="1200 mm")
    assert derived("critical_speed", "rpm", plain) == pytest.approx(1843.1, abs=0.1)
    plain = screw(support="fixed_fixed", root_diameter="17.6 mm", unsupported_length="1105 mm")
    assert derived("critical_speed", "rpm", plain) == pytest.approx(3153.8, abs=0.1)
    assert derived("screw_speed", "rpm", plain) == pytest.approx(3000)


def test_d_times_n_of_70000_permits_3500_rpm_at_20_mm() -> None:
    plain = screw(speed_index=70000, nominal_diameter="20 mm")
    assert derived("speed_by_index", "rpm", plain) == pytest.approx(3500)


@pytest.mark.parametrize(
    ("support", "table"),
    [
        ("fixed_free", 1.3),
        ("supported_supported", 5.1),
        ("fixed_supported", 10.2),
        ("fixed_fixed", 20.3),
    ],
)
def test_half_of_eulers_load_is_the_handbook_table(support: str, table: float) -> None:
    """P[N] = m·10⁴·d⁴/L² in mm with a factor of 0.5 inside (ball screw handbooks, from memory)."""
    plain = screw(support=support, root_diameter="17.6 mm", unsupported_length="1200 mm")
    handbook = table * 1e4 * 17.6**4 / 1200**2
    assert derived("buckling_load", "N", plain) / 2 == pytest.approx(handbook, rel=0.05)


@pytest.mark.parametrize(
    ("support", "effective"),
    [
        ("fixed_free", 2.0),
        ("supported_supported", 1.0),
        ("fixed_supported", 0.7),
        ("fixed_fixed", 0.5),
    ],
)
def test_buckling_agrees_with_the_effective_lengths(support: str, effective: float) -> None:
    """π²·E·I/(K·L)² with K = 2, 1, 0.7, 0.5 (Euler's cases); 0.7 stands for 1/√2 within 2 %."""
    inertia = math.pi * 0.0176**4 / 64
    load = math.pi**2 * STEEL * inertia / (effective * 1.2) ** 2
    plain = screw(support=support, root_diameter="17.6 mm", unsupported_length="1200 mm")
    assert derived("buckling_load", "N", plain) == pytest.approx(load, rel=0.021)
