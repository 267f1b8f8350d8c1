"""Dates, calendar periods, π, products of units, and the larger of two."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest
from axisproof.language.printing import formula
from axisproof.numbers.calendar_periods import day_of, earlier, later
from axisproof.numbers.compound_units import unit_named
from axisproof.rulebook.rule_tests import run_rule_tests
from hypothesis import given
from hypothesis import strategies as st

from tests.language.evaluating import (
    BROKEN,
    HOLDS,
    UNDECIDED,
    assert_refused,
    checked,
    judge,
    outcome,
    rule_text,
)

FITTED = {"encoder": {"turn_counter": {"battery": {"fitted_on": "2024-08-31"}}}}
ON = "axis.encoder.turn_counter.battery.fitted_on"


@pytest.mark.parametrize(
    ("day", "months", "landed"),
    [
        ("2026-01-31", 1, "2026-02-28"),
        ("2024-01-31", 1, "2024-02-29"),
        ("2024-02-29", 12, "2025-02-28"),
        ("2024-02-29", 48, "2028-02-29"),
        ("2026-03-31", -1, "2026-02-28"),
        ("2026-12-15", 1, "2027-01-15"),
        ("2026-01-15", -1, "2025-12-15"),
        ("2024-08-31", 18, "2026-02-28"),
        ("1969-12-31", 2, "1970-02-28"),
        ("2100-01-30", 1, "2100-02-28"),
    ],
)
def test_months_land_on_the_same_day_or_the_last(day: str, months: int, landed: str) -> None:
    start, end = day_of(day), day_of(landed)
    assert start is not None
    assert later(start, months) == end
    assert earlier(start, -months) == end


@given(st.dates(), st.integers(-2000, 2000))
def test_a_period_ends_in_the_month_that_is_meant(day: datetime.date, months: int) -> None:
    start = (day - datetime.date(1970, 1, 1)).days * 86400
    end = later(start, months)
    years, month = divmod(day.month - 1 + months, 12)
    if not 1 <= day.year + years <= 9999:
        assert end is None
        return
    assert isinstance(end, int)
    landed = datetime.date(1970, 1, 1) + datetime.timedelta(seconds=end)
    assert (landed.year, landed.month) == (day.year + years, month + 1)
    if landed.day != day.day:  # it was the last of its month
        following = landed.toordinal() + 1
        assert landed.day < day.day
        assert following > datetime.date.max.toordinal() or (
            datetime.date.fromordinal(following).day == 1
        )


@pytest.mark.parametrize(
    ("require", "expected"),
    [
        (f"{ON} + 18months = 2026-02-28", HOLDS),
        (f"{ON} + 1year = 2025-08-31", HOLDS),
        (f"{ON} - 6months = 2024-02-29", HOLDS),
        (f"{ON} + 365d = 2025-08-31", HOLDS),
        (f"{ON} - 2024-08-01 = 30d", HOLDS),
        (f"{ON} < 2024-08-31", BROKEN),
        (f"{ON} + 18months + 1d = 2026-03-01", HOLDS),
        (f"{ON} + 9999years = 2026-03-01", UNDECIDED),
    ],
)
def test_dates(require: str, expected: str) -> None:
    assert outcome(require, FITTED) == expected
    assert outcome(require) == UNDECIDED


def test_a_period_outside_the_calendar_says_so() -> None:
    assert (
        "outside the calendar" in judge(f"{ON} + 9999years = 2026-03-01", FITTED).traced.reasons[0]
    )


def test_a_let_and_a_setting_can_hold_a_period() -> None:
    setting = 'setting most_age default 18months meaning "m" basis "b"'
    assert outcome(f"{ON} + most_age = 2026-02-28", FITTED, before=setting) == HOLDS
    assert outcome(f"{ON} + age = 2026-02-28", FITTED, lets="let age = 18months") == HOLDS


@pytest.mark.parametrize(
    ("require", "what", "expected"),
    [
        ("machine.check_date > 2026-02-30", "the calendar has no day 2026-02-30", "2026-03-14"),
        ("machine.check_date + 1 > 2026-02-28", "not something to compute with", "a number"),
        ("18months > 1d", "a calendar period has no order", "a date plus the period"),
        (f"machine.check_date - {ON} < 18months", "a calendar period has no order", "a date plus"),
        ("18months * 2 = 1", "a calendar period is not something to compute with", "a number"),
        ("5N/foo > 1N", "not a known unit", ""),
    ],
)
def test_what_the_calendar_does_not_hold_is_refused(require: str, what: str, expected: str) -> None:
    assert_refused(lambda: checked(require), what, expected)


@pytest.mark.parametrize(
    ("require", "expected"),
    [
        ("5N/mm² = 5N / (1mm * 1mm)", HOLDS),
        ("1kg·m² = 1kg·m²", HOLDS),
        ("7850kg/m³ * 1m^3 = 7850kg", HOLDS),
        ("2N·m/rad * 1rad = 2N·m", HOLDS),
        ("circumference(2mm) = 2mm * pi", HOLDS),
        ("circumference(2mm) = π * 2mm", HOLDS),
        ("pi is whole", BROKEN),
        ("2 * pi / pi is whole", HOLDS),
        ("max(1mm, 2mm) = 2mm", HOLDS),
        ("min(1mm, 2mm) = 1mm", HOLDS),
        ("max(axis.drive.node, 2) = 3", HOLDS),
        ("min(axis.motor.max_speed, 2rpm) = 2rpm", UNDECIDED),
    ],
)
def test_numbers_as_they_are_written(require: str, expected: str) -> None:
    assert outcome(require, {"drive": {"node": 3}}) == expected


@pytest.mark.parametrize(
    "text", ["N·m·foo", "N/", "/s", "·m", "N//s", "kg·m·s·A·N·V·W", "mm^9", "N/mm²/", ""]
)
def test_what_is_no_product_of_units(text: str) -> None:
    known = unit_named(text)
    assert known is None or (text == "" and known.name == "")


def test_a_product_of_units_shows_a_value() -> None:
    found = checked("true", say="{6N / 2mm^2 in N/mm²} {6N / (2mm * 1mm) in N/cm^2}", lets="")
    assert [getattr(part, "unit", None) for part in found.rules[0].say] == ["N/mm²", None, "N/cm^2"]


@pytest.mark.parametrize(
    "text",
    [
        "machine.check_date > 2026-03-14",
        "machine.check_date − 18 months < 2026-03-14",
        "(2 × pi)² > 3",
        "max(drive.node, 2) = 3",
        "5 N/mm² = 3 N/mm²",
    ],
)
def test_it_is_printed_as_it_is_written(text: str) -> None:
    raw = text.replace("drive.node", "axis.drive.node").replace("²", "^2") if "pi" in text else text
    raw = raw.replace("−", "-").replace("×", "*").replace("drive.node", "axis.drive.node")
    raw = raw.replace("18 months", "18months").replace(" N/", "N/")
    assert formula(checked(raw).rules[0].require) == text


def test_an_example_sets_the_day_of_the_check(tmp_path: Path) -> None:
    day = "machine.check_date = {}\n    axis.encoder.turn_counter.battery.fitted_on = 2024-08-31"
    text = rule_text(
        f"machine.check_date <= {ON} + 18months",
        passes=day.format("2026-02-28"),
        fails=day.format("2026-03-01"),
    )
    file = tmp_path / "site.rules"
    file.write_text(text, "utf-8")
    found = run_rule_tests([file])
    assert [fault.what for fault in found.faults] == []
    assert found.mutants == found.killed > 1
    file.write_text(text.replace("= 2026-02-28", "= 2026-02-30"), "utf-8")
    assert "no day 2026-02-30" in run_rule_tests([file]).faults[0].what


SETTING = 'setting most_age default 18months meaning "m" basis "b"'


def test_an_example_sets_a_setting(tmp_path: Path) -> None:
    facts = (
        f"machine.check_date = 2026-03-31\n {ON} = 2024-08-31\n machine.settings.most_age = {{}}"
    )
    text = rule_text(
        f"machine.check_date <= {ON} + most_age",
        before=SETTING,
        passes=facts.format("19months"),
        fails=facts.format("18months"),
    )
    file = tmp_path / "site.rules"
    file.write_text(text, "utf-8")
    found = run_rule_tests([file])
    assert [fault.what for fault in found.faults] == []
    for wrong, what, under in (
        ("most_age = 19d", "19d is not a number of months", "19d"),
        ("most_aeg = 19months", "most_aeg is not a setting", "machine.settings.most_aeg"),
    ):
        file.write_text(text.replace("most_age = 19months", wrong), "utf-8")
        (fault, *_) = run_rule_tests([file]).faults
        assert what in fault.what
        assert fault.place is not None
        assert fault.source_line is not None
        start, end = fault.place.column - 1, (fault.place.end_column or 0) - 1
        assert fault.source_line[start:end] == under
