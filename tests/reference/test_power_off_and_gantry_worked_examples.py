"""Battery ages, encoder speed on battery and the two sides of a gantry, worked out another way."""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import Any

import pint
import pytest
from axisproof.api import CheckOptions, check
from axisproof.catalogue.catalogue import shipped
from axisproof.language.library import version_at_least
from axisproof.language.tracer import Tracer
from axisproof.machine.homing_methods import searches_negative
from axisproof.machine.reader import read_plain
from axisproof.numbers.rational import Fraction
from hypothesis import given
from hypothesis import strategies as st
from packaging.version import Version

FAULTS = Path(__file__).parents[2] / "fixtures" / "faults"


def derived(name: str, plain: dict[str, Any]) -> Any:
    """A definition's value for one axis, in base units (mm, turn, s)."""
    machine = read_plain({"axes": {"axis": plain}})
    catalogue = shipped()
    tracer = Tracer(catalogue.definitions, catalogue.defaults)
    return tracer.definition(machine.axes[0], "axis", name).value


# Days between two dates: Python's datetime (proleptic Gregorian calendar, ISO 8601).
# The Julian year of 365.25 days: IAU.


@pytest.mark.parametrize(
    ("fitted", "life", "days"),
    [
        ("2024-02-28", "2 d", Fraction(2)),  # over 29 February
        ("2023-02-28", "1 d", Fraction(1)),
        ("2022-11-17", "3 years", Fraction(1096)),  # to 2025-11-17, over 29 February 2024
        ("2026-02-03", "3 years", Fraction(1096)),  # to 2029-02-03; 3 x 365.25 are 1095.75
        ("2024-06-01", "2 years", Fraction(731)),  # to the nearest day of 730.5
        ("2025-03-01", "1 year", Fraction(365)),  # to 2026-03-01; 365.25
    ],
)
def test_a_battery_ends_its_life_on_the_day_that_the_calendar_says(
    fitted: str, life: str, days: Fraction
) -> None:
    battery = {"fitted_on": fitted, "life": life}
    got = derived("battery_ends_on", {"motion": "linear", "encoder": _counter(battery)})
    start = datetime.datetime.fromisoformat(fitted).replace(tzinfo=datetime.UTC)
    end = start + datetime.timedelta(days=float(days))
    assert got == Fraction(end.timestamp())


def _counter(battery: dict[str, Any]) -> dict[str, Any]:
    return {"turn_counter": {"backup": "battery", "battery": battery}}


def test_the_encoder_speed_at_power_failure_agrees_with_pint() -> None:
    # 500 mm/s on a screw of 10 mm lead behind 3:2, the encoder on the motor.
    ureg = pint.UnitRegistry()
    screw = 500 * ureg.mm / ureg.s / (10 * ureg.mm / ureg.turn)
    expected = (screw * 3 / 2).to("turn/s").magnitude
    axis = {
        "motion": "linear",
        "encoder": {"mounted_on": "motor"},
        "drive": {"max_speed": "9000 rpm"},
        "controller": {"max_velocity": "500 mm/s"},
        "mechanics": {
            "stages": [{"motor_side_teeth": 20, "load_side_teeth": 30}],
            "final": {"kind": "screw", "lead": "10 mm"},
        },
    }
    assert float(derived("top_encoder_speed", axis)) == pytest.approx(expected)


# Two sides of a gantry that brake from 800 mm/s: by hand, 800²/(2·4000) = 80 mm and
# 800²/(2·5000) = 64 mm, 16 mm apart. Both run on before they brake: 3 ms of input filter, 1 ms
# of scan and 2 ms of delay are 800 · 0.006 = 4.8 mm.


def test_two_unlike_ramps_leave_a_gantry_as_far_apart_as_worked_out_by_hand() -> None:
    def run(deceleration: str) -> Any:
        stop = {"deceleration": deceleration, "jerk": "none", "delay": "2 ms"}
        drive = {"stop_reaction": stop, "input_filter": "3 ms", "input_scan": "1 ms"}
        side = {"drive": drive, "controller": {"max_velocity": "800 mm/s"}}
        return derived("drive_stopping_distance", {"motion": "linear", **side})

    assert run("4000 mm/s^2") == Fraction(848, 10)
    assert run("5000 mm/s^2") == Fraction(688, 10)


@pytest.mark.parametrize(
    ("method", "place"),
    [
        (17, -250),
        (18, 3250),
        ("hard_stop_negative", -300),
        ("hard_stop_positive", 3300),
        (21, 12),
        ("home_switch_negative", 12),
    ],
)
def test_the_reference_lies_where_the_homing_method_finds_it(method: Any, place: int) -> None:
    # CiA 402 from memory: 17 and 18 negative and positive limit switch, 19 to 30 home switch.
    axis = {
        "motion": "linear",
        "controller": {"homing": {"method": method, "switch": {"position": "12 mm"}}},
        "mechanics": {
            "travel": {"min": "-300 mm", "max": "3300 mm"},
            "limit_switches": {"negative": "-250 mm", "positive": "3250 mm"},
        },
    }
    assert derived("reference_due", axis) == place


def test_limit_switch_methods_search_towards_their_switch() -> None:
    assert [searches_negative(method) for method in (1, 2, 17, 18)] == [True, False, True, False]
    assert [searches_negative(method) for method in (3, 5)] == [False, True]
    assert searches_negative(-1) is None


# Versions: the `packaging` library orders release numbers as PEP 440 does.

RELEASE = st.lists(st.integers(0, 30), min_size=1, max_size=4).map(
    lambda parts: ".".join(str(part) for part in parts)
)


@given(RELEASE, RELEASE)
def test_dotted_versions_are_ordered_as_release_numbers_are(version: str, least: str) -> None:
    assert version_at_least(version, least) is (Version(version) >= Version(least))


@pytest.mark.parametrize("word", ["2.10b", "", "2..1", "v", "latest", "²"])
def test_a_version_in_letters_is_not_compared(word: str) -> None:
    assert version_at_least(word, "1.0") is None
    assert version_at_least("1.0", word) is None


def test_the_gantry_that_stops_unlike_tells_the_distance_worked_out_by_hand() -> None:
    path = FAULTS / "gantry-partners-stop-together.yaml"
    (finding,) = check([path], CheckOptions(on=datetime.date(2026, 6, 1))).findings
    figures = {figure.name: figure.text for figure in finding.figures}
    assert figures["distance apart after a stop by the drives"] == "16 mm"
    assert "The racking tolerance is 0.5 mm. The drives stop them 16 mm apart." in finding.headline
    # Several bounds failed, so no single number says by how much.
    assert "too large by" not in figures


@pytest.mark.parametrize(
    ("day", "rules"),
    [
        # Fitted on 2025-07-02 for 365 days, to 2026-07-02; notice is wanted 60 days before.
        ("2026-05-03", []),
        ("2026-05-04", ["battery-change-due"]),
        ("2026-07-01", ["battery-change-due"]),
        ("2026-07-02", ["battery-within-its-life"]),
    ],
)
def test_a_battery_is_first_due_and_then_overdue(day: str, rules: list[str]) -> None:
    report = check(
        [FAULTS / "battery-change-due.yaml"], CheckOptions(on=datetime.date.fromisoformat(day))
    )
    assert [finding.rule for finding in report.findings] == rules
