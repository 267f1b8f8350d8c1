"""The plan names soft limits, interlocks and resets that stand in the way."""

from __future__ import annotations

import copy
from pathlib import Path

import pytest
from axisproof.swap.part import Kind

from tests.swap.planned_work import axis_with, before, hall_axes, planned, touched


@pytest.mark.parametrize(
    ("active", "named"), [("always", True), ("after_homing", None), ("unknown", False)]
)
def test_software_limits_that_would_refuse_the_jog_are_named(
    tmp_path: Path, active: str, named: bool | None
) -> None:
    axis = copy.deepcopy(hall_axes()["infeed_pusher"])
    axis["controller"]["software_limits"]["active"] = active
    if active == "unknown":
        axis["controller"]["software_limits"].pop("active")
    _, steps = planned(tmp_path, axis, "motor")
    names = tuple(steps)
    both = {"software-limits-for-the-jog", "software-limits-on-again"} & set(steps)
    assert len(both) == (0 if named is None else 2)
    if named is not None:
        assert (
            "0 mm and 900 mm" in steps["software-limits-for-the-jog"].do.replace(",", "")
        ) == named
        assert before(names, "software-limits-for-the-jog", "low-torque-jog")
        assert before(names, "calibrate", "software-limits-on-again")
        assert "0 mm and 900 mm" in steps["software-limits-on-again"].do


def test_software_limits_are_left_alone_where_the_position_stays_right(tmp_path: Path) -> None:
    axis = copy.deepcopy(hall_axes()["infeed_pusher"])
    axis["storage"]["offset"] = "controller"
    report, steps = planned(tmp_path, axis, "drive")
    assert not report.lessons
    assert "software-limits-for-the-jog" not in steps


@pytest.mark.parametrize(
    ("place", "words"),
    [
        ("drive", "in the drive"),
        ("controller", "in the controller"),
        ("encoder", "at the encoder itself"),
        ("", "not stated here (encoder.turn_counter.reset_at)"),
    ],
)
def test_where_the_encoder_is_reset_is_a_fact_of_the_site(
    tmp_path: Path, place: str, words: str
) -> None:
    axis = copy.deepcopy(hall_axes()["infeed_pusher"])
    if place:
        axis["encoder"]["turn_counter"]["reset_at"] = place
    for part in ("encoder", "motor"):
        _, steps = planned(tmp_path, axis, part)
        assert words in steps["encoder-reset"].do
        assert "turns too" in steps["clear-turns"].do
        assert "clear its turns" not in steps["encoder-reset"].do
        assert before(tuple(steps), "encoder-reset", "clear-turns")


@pytest.mark.parametrize("part", ["motor", "encoder", "drive"])
def test_a_batteryless_encoder_is_not_told_to_clear_a_lost_position(
    tmp_path: Path, part: Kind
) -> None:
    axis = axis_with("batteryless", True, False)
    report, steps = planned(tmp_path, axis, part)
    assert not {"encoder-reset", "clear-turns", "battery-connected"} & set(steps)
    rows = {row.name: row for row in steps["expected-conditions"].rows}
    assert "encoder reset" not in " ".join(row.note for row in rows.values())
    if part != "drive":
        assert "position lost" not in rows
    assert all("reset" not in lesson.words for lesson in report.lessons)


def test_an_encoder_that_lost_its_battery_with_the_drive_shows_a_lost_position(
    tmp_path: Path,
) -> None:
    axis = copy.deepcopy(hall_axes()["infeed_pusher"])
    axis["encoder"]["turn_counter"]["battery"]["places"] = ["drive"]
    _, steps = planned(tmp_path, axis, "drive")
    rows = {row.name: row for row in steps["expected-conditions"].rows}
    assert "encoder reset, then power cycle, then homing" in rows["position lost"].note
    assert "encoder-reset" in steps


def test_a_controller_that_takes_the_homed_flag_with_it_is_homed_and_released(
    tmp_path: Path,
) -> None:
    axis = copy.deepcopy(hall_axes()["infeed_pusher"])
    axis["storage"] |= {"offset": "drive", "homed_flag": "controller"}
    steps = touched(tmp_path, axis, "controller")
    names = tuple(steps)
    assert before(names, "load-controller", "interlock-at-power-up-after-loss")
    assert before(names, "interlock-at-power-up-after-loss", "homed-flag")
    assert before(names, "homed-flag", "home")
    assert before(names, "home", "calibrate")
    assert before(names, "calibrate", "release-interlock")
    assert "interlock-test" not in steps
    axis["controller"]["homing"] |= {"method": 37}
    steps = touched(tmp_path, axis, "controller")
    assert before(tuple(steps), "set-at-gauge", "release-interlock")


@pytest.mark.parametrize("work", ["home_switch", "coupling", "backup"])
def test_whoever_tries_the_interlock_homes_and_releases_again(tmp_path: Path, work: Kind) -> None:
    axis = copy.deepcopy(hall_axes()["infeed_pusher"])
    names = tuple(touched(tmp_path, axis, work))
    assert names.index("home-and-release") == names.index("interlock-test") + 1
