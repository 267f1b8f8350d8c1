"""What `recalibrate` asks where an axis does not home to a mark: presets, wraps, linear motors."""

from __future__ import annotations

from typing import Any

import pytest
from axisproof.numbers.rational import Fraction

from tests.swap.recalibrated import answer, facts, outcomes, told


@pytest.mark.parametrize("method", [35, 37, "current_position"])
def test_a_position_assigned_where_the_axis_stands_is_assigned_there(method: Any) -> None:
    one = facts("hall.yaml", "infeed_pusher", controller__homing__method=method)
    result = answer(one, "612.5 mm", "530 mm", after="motor")
    assert result.demands == ("assign here",)
    assert result.result.new == Fraction(1225, 2)
    assert not result.to_solve
    text = told(result)
    assert "Home the axis there. Never home it anywhere else." in text
    assert "Home first" not in text


def preset(**changes: Any) -> dict[str, Any]:
    one = facts("hall.yaml", "infeed_pusher", controller__homing="none", **changes)
    one["storage"]["offset"] = "encoder"
    return one


def test_a_preset_is_made_where_the_axis_stands() -> None:
    result = answer(preset(), "612.5 mm", "530 mm", reading="61.25 rev")
    assert result.demands == ("assign here",)
    assert not result.to_solve
    assert "Preset the encoder to indicate 612.5 mm there. Never preset it anywhere" in told(result)


@pytest.mark.parametrize(
    ("reading", "outcome"),
    [
        # 1060 mm from stop to stop at -80 and 980 mm, 212 turns of 10 mm: the reading is good for
        # 1060 mm to either side of the encoder's zero, which lies 10 mm a turn below 612.5 mm
        ("61.25 rev", "passed"),  # at 0 mm
        ("53.2 rev", "passed"),  # at 80.5 mm
        ("69.3 rev", "failed"),  # at -80.5 mm, so the reading ends at 979.5 mm
        (None, "cannot be decided"),
    ],
)
def test_after_a_preset_the_wrap_goes_by_the_reading_there(
    reading: str | None, outcome: str
) -> None:
    few = {"encoder__distinguishable_revolutions": 212, "drive__distinguishable_revolutions": 212}
    more = {} if reading is None else {"reading": reading}
    result = answer(preset(**few), "612.5 mm", "530 mm", **more)
    assert outcomes(result)["wrap-outside-travel"] == outcome


def test_an_offset_of_an_encoder_that_forgets_does_not_last() -> None:
    one = facts("hall.yaml", "label_slide", controller__homing="none")
    one["storage"]["offset"] = "controller"
    result = answer(one, "100 mm", "99 mm", reference="0 mm")
    assert outcomes(result)["position-survives"] == "failed"


def test_an_axis_that_forgets_is_homed_at_its_place_after_each_power_on() -> None:
    one = facts("hall.yaml", "label_slide", controller__homing__method=37)
    result = answer(one, "100 mm", "99 mm")
    assert result.demands == ("assign here", "home here after power-on")
    assert "Home the axis again where both positions were read." in told(result)


@pytest.mark.parametrize(("method", "gone"), [(-3, False), (15, False), (None, True)])
def test_while_the_way_of_homing_is_not_known_nothing_is_written(method: Any, gone: bool) -> None:
    one = facts("hall.yaml", "infeed_pusher", controller__homing__method=method)
    result = answer(one, "100 mm", "99.9 mm")
    assert {"find out how it homes", "home first", "assign here"} <= set(result.demands)
    assert outcomes(result)["way-known"] == "cannot be decided"
    text = told(result)
    assert "Write nothing yet." in text
    assert "Set the position" not in text
    assert ("State axes.a.controller.homing.method" in text) == gone


def counted(turns: int, reading: float | None = None, **changes: Any) -> dict[str, Any]:
    """The pusher, 10 mm a turn, stops at -80 and 980 mm, with few turns to count."""
    changes |= {
        "encoder__distinguishable_revolutions": turns,
        "drive__distinguishable_revolutions": turns,
        "encoder__turn_counter__reading_at_reference": reading,
    }
    return facts("hall.yaml", "infeed_pusher", **changes)


@pytest.mark.parametrize(
    ("true", "outcome"),
    [
        # 210 turns, symmetric about the reference: 1050 mm to either side of it. The upper stop is
        # 1040 mm above -60 mm; by a shift of more than 10 mm downwards the wrap enters the travel.
        ("100 mm", "passed"),
        ("90.1 mm", "passed"),
        ("90 mm", "failed"),
        ("80 mm", "failed"),
    ],
)
def test_a_wrap_that_the_new_reference_brings_into_the_travel_is_found(
    true: str, outcome: str
) -> None:
    result = answer(counted(210, 105), true, "100 mm")
    assert outcomes(result)["wrap-outside-travel"] == outcome
    if outcome == "failed":
        assert "wraps within the travel" in told(result)


def test_a_range_shorter_than_the_travel_always_wraps_within_it() -> None:
    result = answer(counted(100, 50), "100 mm", "100 mm")
    assert outcomes(result)["wrap-outside-travel"] == "failed"


@pytest.mark.parametrize(
    ("reading", "after", "given", "outcome"),
    [
        # unsigned from the encoder's own zero, rising: the wrap lies r turns of 10 mm below the
        # reference at -60 mm. The lower stop is 20 mm below it, the upper one 1040 mm above.
        (2, None, None, "passed"),  # somewhere from 20 to 30 mm below
        (1, None, None, "failed"),  # from 10 to 20 mm below
        (2, "motor", None, "cannot be decided"),  # the reading was that of the old encoder
        (2, "motor", "5", "passed"),
        (2, "motor", "1", "failed"),
        (None, None, "95", "passed"),  # more than 104 of 200 turns are left above the reference
        (None, None, "96", "failed"),  # 104 at the most
        (None, None, "95.5", "passed"),  # exactly 104.5 turns
        (None, None, "96.5", "failed"),  # 103.5 turns
        (2, "controller", None, "passed"),
    ],
)
def test_the_wrap_at_the_zero_of_the_encoder_goes_by_the_reading_at_the_reference(
    reading: int | None, after: str | None, given: str | None, outcome: str
) -> None:
    one = counted(200, reading, controller__unfolding="encoder_zero_unsigned")
    more: dict[str, str] = {"after": after} if after else {}
    if given:
        more["reading"] = given
    result = answer(one, "100 mm", "100 mm", **more)
    assert outcomes(result)["wrap-outside-travel"] == outcome
    if outcome == "cannot be decided":
        assert "Give them with --reading." in told(result)


def test_where_the_axis_never_homes_the_offset_lies_at_the_wrap() -> None:
    one = counted(200, None, controller__unfolding="encoder_zero_unsigned")
    one["controller"]["homing"] = "none"
    one["storage"]["offset"] = "drive"
    # the raw zero is the offset: -90 mm lies below the stop at -80 mm, -70 mm above it
    for offset, outcome in (("-90 mm", "passed"), ("-70 mm", "failed")):
        result = answer(one, "100 mm", "100 mm", reference=offset)
        assert outcomes(result)["wrap-outside-travel"] == outcome
    assert outcomes(answer(one, "100 mm", "100 mm"))["wrap-outside-travel"] == "cannot be decided"


def test_a_linear_motor_is_recalibrated_without_facts_of_a_shaft() -> None:
    one = facts("shuttle.yaml", "tray_shuttle")
    result = answer(one, "100 mm", "99.98 mm", after="encoder")
    assert result.result.new == Fraction("60.02")
    assert result.missing == ()
    assert not result.to_solve
    assert {each.step.kind for each in result.result.comparisons} == {"sign"}
    assert result.tolerance_from.startswith("the accuracy to reach")
    # its switch does not move with the scale, and 0.03 mm is asked for
    moved = answer(one, "100 mm", "99.96 mm", after="encoder")
    assert outcomes(moved)["mark-stays"] == "failed"


def test_a_linear_motor_that_homes_to_an_index_has_no_revolution_to_compare() -> None:
    one = facts("shuttle.yaml", "tray_shuttle", controller__homing__method=5)
    result = answer(one, "100 mm", "70 mm", after="encoder")
    assert not {"revolution", "range", "shift-below-revolution", "index-angle"} & set(
        outcomes(result)
    )
    assert [each.name for each in result.to_solve] == ["mark"]  # its marks may be evenly spaced
    one["encoder"]["index_marks"] = {"kind": "single"}
    assert not answer(one, "100 mm", "70 mm", after="encoder").to_solve


@pytest.mark.parametrize(
    ("axis", "after", "outcome"),
    [
        # the encoder of the turret is on the load and has no battery
        ("turret", "nothing", "failed"),
        ("turret", "motor", "failed"),
        ("turret", "gearbox", "failed"),
        ("turret", "feedback-cable", "failed"),
        ("turret", "encoder", "absent"),
        ("turret", "drive", "absent"),  # the drive holds the offset
        ("turret", "backup", "absent"),
        # that of the table is on the motor, with its battery in the cable
        ("index_table", "nothing", "failed"),
        ("index_table", "home-switch", "failed"),
        ("index_table", "controller", "failed"),
        ("index_table", "motor", "absent"),
        ("index_table", "gearbox", "absent"),
        ("index_table", "battery", "absent"),
        ("index_table", "feedback-cable", "absent"),
    ],
)
def test_a_position_that_the_work_does_not_touch_stays(axis: str, after: str, outcome: str) -> None:
    one = facts("hall.yaml", axis)
    wrong = answer(one, "10 deg", "15 deg", after=after)
    assert outcomes(wrong).get("position-stays", "absent") == outcome
    assert ("position is wrong by -5 deg" in told(wrong)) == (outcome == "failed")
    near = answer(one, "10 deg", "10.05 deg", after=after)
    assert outcomes(near).get("position-stays", "passed") == "passed"
    # never taught, there is nothing that it could have stayed at
    one["controller"]["homing"]["taught"] = "none"
    assert "position-stays" not in outcomes(answer(one, "10 deg", "15 deg", after=after))
