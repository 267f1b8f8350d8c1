"""Torque, duty and returned power against worked examples, unit by unit with pint."""

from __future__ import annotations

import math
from typing import Any

import pint
import pytest
from axisproof.catalogue.catalogue import shipped
from axisproof.language.library import sine, square_root
from axisproof.language.tracer import Tracer
from axisproof.machine.reader import read_plain
from axisproof.machine.records import notes_of
from axisproof.numbers.exact import Approx, Pi, to_float
from axisproof.numbers.rational import Fraction
from axisproof.numbers.units import UNITS
from hypothesis import given
from hypothesis import strategies as st

from tests.examples import examples

pint_units: Any = pint.UnitRegistry()


def derived(
    name: str, unit: str, plain: dict[str, Any], settings: dict[str, float] | None = None
) -> float:
    """A definition's value for one axis, in ``unit``; ``settings`` are shares, by name."""
    machine = read_plain({"axes": {"axis": plain}})
    shares = {name: Fraction(str(share)) for name, share in (settings or {}).items()}
    notes_of(machine.axes[0]).settings = shares
    catalogue = shipped()
    value = (
        Tracer(catalogue.definitions, catalogue.defaults)
        .definition(machine.axes[0], "axis", name)
        .value
    )
    return to_float(value) / to_float(UNITS[unit].factor)


def screw_axis(**mechanics: Any) -> dict[str, Any]:
    return {
        "motion": "linear",
        "motor": {
            "inertia": "1.4 kg cm^2",
            "rated_torque": "2.4 N·m",
            "peak_torque": "7.2 N·m",
        },
        "drive": {"torque_limit": "7.2 N·m"},
        "controller": {"max_acceleration": "2 m/s^2", "max_velocity": "300 mm/s"},
        "mechanics": {
            "stages": [{"motor_side_teeth": 24, "load_side_teeth": 48}],
            "final": {"kind": "screw", "lead": "20 mm"},
            "moved_by_gravity": True,
            "inclination": "90 deg",
            "counterbalance": "none",
            "load_mass": "60 kg",
            "transmission_inertia": "1.8 kg cm^2",
            "friction_force": "50 N",
            "efficiency": "88 %",
            **mechanics,
        },
    }


@pytest.mark.parametrize("inclination", [0, 10, 30, 45, 72.5, 90])
def test_acceleration_torque_of_a_screw_axis_agrees_with_si_units(inclination: float) -> None:
    """T = J·α + (J_load·α + F·p/2π)/η, every unit carried by pint (drive sizing handbooks)."""
    u = pint_units
    lead = 10 * u.mm / (2 * math.pi * u.rad)  # 20 mm behind 24:48
    alpha = 2 * u.m / u.s**2 / lead
    shaft = (1.4 + 1.8) * u.kg * u.cm**2 / u.rad**2
    weight = 60 * u.kg * 9.80665 * u.m / u.s**2 * math.sin(math.radians(inclination))
    load = 60 * u.kg * lead**2 * alpha + (weight + 50 * u.N) * lead
    torque = shaft * alpha + load / 0.88
    expected = torque.to(u.N * u.m / u.rad).magnitude
    plain = screw_axis(inclination=f"{inclination} deg")
    assert derived("acceleration_torque", "N·m", plain) == pytest.approx(expected, rel=1e-12)


def test_a_table_behind_7_to_1_by_hand() -> None:
    """0.16 kg m² / 49 = 32.65 kg cm²; 3600 deg/s² · 7 = 439.8 rad/s²; 2 N·m / 7 = 0.2857 N·m.

    5.5e-4 · 439.8 + (32.65e-4 · 439.8 + 0.2857)/0.94 = 0.2419 + 1.8317 = 2.074 N·m (by hand).
    """
    plain = {
        "motion": "rotary",
        "motor": {"inertia": "4.5 kg cm^2"},
        "controller": {"max_acceleration": "3600 deg/s^2"},
        "mechanics": {
            "stages": [{"motor_turns_per_load_turn": 7}],
            "final": {"kind": "rotary_table"},
            "moved_by_gravity": False,
            "load_inertia": "0.16 kg m^2",
            "transmission_inertia": "1 kg cm^2",
            "friction_torque": "2 N·m",
            "efficiency": "94 %",
        },
    }
    assert derived("load_inertia_at_motor", "kg cm^2", plain) == pytest.approx(32.653, rel=1e-4)
    assert derived("acceleration_torque", "N·m", plain) == pytest.approx(2.0736, rel=1e-4)


def test_attainable_accelerations_need_just_the_torque_there_is() -> None:
    """Put back into T = J·α + bracket/η, and bracket·η when the load drives (drive handbooks)."""
    plain = screw_axis()
    per_turn = 0.01 / (2 * math.pi)
    shaft, load = 3.2e-4, 60 * per_turn**2
    gravity, friction = 60 * 9.80665 * per_turn, 50 * per_turn
    up = derived("attainable_acceleration", "m/s²", plain) / per_turn
    down = derived("attainable_deceleration", "m/s²", plain) / per_turn
    assert shaft * up + (load * up + gravity + friction) / 0.88 == pytest.approx(7.2, rel=1e-12)
    assert shaft * down + (load * down + gravity - friction) * 0.88 == pytest.approx(7.2, rel=1e-12)


def test_returned_power_is_the_energy_lost_per_time_while_braking_begins() -> None:
    """Energy balance: d/dt of kinetic and potential energy of the load, less friction, times η."""
    plain = screw_axis()
    plain["controller"]["software_limits"] = "none"
    plain["drive"]["stop_reaction"] = {"option": "disable_at_once"}
    v, a, per_turn = 0.3, 2.0, 0.01 / (2 * math.pi)
    load = (60 * v * a + 60 * 9.80665 * v - 50 * v) * 0.88
    rotor = 3.2e-4 * (v / per_turn) * (a / per_turn)
    assert derived("returned_power", "W", plain) == pytest.approx(load + rotor, rel=1e-12)


@given(
    st.lists(
        st.tuples(st.integers(-700, 700).filter(bool), st.integers(1, 5000)),
        min_size=1,
        max_size=6,
    )
)
def test_effective_torque_is_the_root_of_the_mean_square(segments: list[tuple[int, int]]) -> None:
    """√(Σ T²·t / Σ t) in plain floats, over the rated 2.4 N·m."""
    plain = screw_axis()
    plain["controller"]["duty"] = [
        {"torque": f"{torque / 100} N·m", "time": f"{time} ms"} for torque, time in segments
    ]
    total = sum(time for _, time in segments)
    square = sum((torque / 100) ** 2 * time for torque, time in segments) / total
    assert derived("duty_load", "", plain) == pytest.approx(math.sqrt(square) / 2.4, rel=1e-12)


@given(st.integers(-5000, 5000), st.integers(1, 5000))
@examples(1.5)
def test_the_sine_lies_within_its_error_of_the_math_library(top: int, bottom: int) -> None:
    turns = Fraction(top, bottom)
    value = sine(turns)
    assert value is not None
    folded = math.sin(2 * math.pi * float(turns % 1))
    assert abs(to_float(value) - folded) < 3e-15  # the check's own rounding included


@pytest.mark.parametrize(
    ("degrees", "exact"),
    [(0, 0), (30, Fraction(1, 2)), (90, 1), (150, Fraction(1, 2)), (180, 0), (-90, -1)],
)
def test_the_sine_is_exact_where_it_is_rational(degrees: int, exact: Fraction) -> None:
    """Niven's theorem: 0, ±1/2 and ±1 are the only rational sines of rational degrees."""
    assert sine(Fraction(degrees, 360)) == exact


def test_the_sine_of_an_angle_in_radians_is_approximate() -> None:
    half_radian = Pi(Fraction(1, 4), -1)  # turns
    value = sine(half_radian)
    assert isinstance(value, Approx)
    assert abs(value.value - math.sin(0.5)) <= value.error < 1e-14


def test_the_square_root_is_exact_for_squares_only() -> None:
    assert square_root(Fraction(9, 4)) == Fraction(3, 2)
    assert isinstance(square_root(2), Approx)
    assert square_root(-1) is None


def test_the_lift_gives_back_most_in_its_hardest_stop() -> None:
    """9000 mm/s² at the drive's stop: (J + m p²·η)·α + (m·g - F)·p·η with p = 10 mm/2 pi (by hand).

    Motor torque times 188.5 rad/s, or the torque limit times that.
    """
    plain = screw_axis()
    plain["controller"]["software_limits"] = "none"
    plain["drive"]["stop_reaction"] = {
        "option": "quick_stop_then_disable",
        "deceleration": "9000 mm/s^2",
    }
    per_radian = 0.01 / math.tau
    alpha = 9 / per_radian
    torque = (3.2e-4 + 60 * per_radian**2 * 0.88) * alpha
    torque += (60 * 9.80665 - 50) * per_radian * 0.88
    assert torque == pytest.approx(3.3199, abs=5e-4)
    assert derived("braking_torque", "N·m", plain) == pytest.approx(torque)
    assert derived("returned_power", "W", plain) == pytest.approx(torque * 0.3 / per_radian)
    plain["drive"]["torque_limit"] = "3 N·m"
    assert derived("returned_power", "W", plain) == pytest.approx(3 * 0.3 / per_radian)


def test_a_swivel_whose_weight_pulls_by_hand() -> None:
    """12 N·m at the arm are 12/40 = 0.3 N·m at a motor behind 40:1 (by hand)."""
    plain = {
        "motion": "rotary",
        "mechanics": {
            "stages": [{"motor_turns_per_load_turn": 40}],
            "final": {"kind": "direct"},
            "moved_by_gravity": True,
            "unbalanced_torque": "12 N·m",
        },
    }
    assert derived("gravity_torque", "N·m", plain) == pytest.approx(0.3)
