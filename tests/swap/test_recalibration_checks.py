"""What `recalibrate` asks before it gives a clear answer, on cases worked out by hand.

Method numbers are those of CiA 402 (from memory). That an index pulse moves with the encoder and a
switch does not is common practice, no source.
"""

from __future__ import annotations

import copy
import json
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, cast

import pytest
from axisproof.base.errors import UsageError
from axisproof.cli.main import run
from axisproof.importing.entry import load_trees
from axisproof.numbers.rational import Fraction
from axisproof.report import recalibration_text
from axisproof.report.recalibration_words import step_words
from axisproof.report.rendering import RenderOptions
from axisproof.swap.api import recalibrate
from axisproof.swap.recalibrating import Recalibrated

FIXTURES = Path(__file__).parents[2] / "fixtures" / "sound"


@lru_cache(maxsize=4)
def plain(file: str) -> dict[str, Any]:
    return json.loads(json.dumps(load_trees([FIXTURES / file])[0].plain, default=str))


def facts(file: str, axis: str, **changes: Any) -> dict[str, Any]:
    """An axis of a fixture; a name such as controller__homing__method replaces a fact."""
    one = copy.deepcopy(plain(file)["axes"][axis])
    for name, value in changes.items():
        *groups, last = name.split("__")
        here = one
        for group in groups:
            here = here[group]
        if value is None:
            del here[last]
        else:
            here[last] = value
    return cast("dict[str, Any]", one)


def answer(one: dict[str, Any], true: str, indicated: str, **others: str) -> Recalibrated:
    with TemporaryDirectory() as folder:
        file = Path(folder, "machine.json")
        file.write_text(json.dumps({"format": 1, "machine": "m", "axes": {"a": one}}))
        return recalibrate(file, "a", true, indicated, **{"after": "nothing", **others})


def outcomes(result: Recalibrated) -> dict[str, str]:
    return {each.name: each.outcome for each in result.checks}


def told(result: Recalibrated) -> str:
    """The text, on one line."""
    return " ".join(recalibration_text.render(result, RenderOptions(width=100)).split())


# Homing to a mark ---------------------------------------------------------------------------------


def test_an_axis_that_homes_to_a_mark_is_homed_first() -> None:
    result = answer(facts("hall.yaml", "infeed_pusher"), "100 mm", "99.9 mm")
    assert result.demands == ("home first",)
    assert not result.to_solve
    steps = step_words(result)
    assert steps[0].startswith("Home first. Use only positions that were read after homing.")
    assert steps[1].startswith("Set the position at the reference to -59.9 mm in the drive.")
    assert steps[2] == "Home the axis again."


@pytest.mark.parametrize(
    ("true", "indicated", "failed"),
    [
        # stops at -80 and 980 mm, and a hundredth of the 1060 mm between them is calibration
        ("100 mm", "990.6 mm", set()),
        ("100 mm", "990.7 mm", {"indicated-within-stops"}),
        ("100 mm", "-90.6 mm", set()),
        ("100 mm", "-90.7 mm", {"indicated-within-stops"}),
        ("990.6 mm", "985 mm", set()),
        ("990.7 mm", "985 mm", {"true-within-stops"}),
    ],
)
def test_a_position_beyond_the_stops_is_found(true: str, indicated: str, failed: set[str]) -> None:
    one = facts("hall.yaml", "infeed_pusher")
    result = answer(one, true, indicated, tolerance="0.001 mm")
    found = {each.name for each in result.checks if each.outcome == "failed"}
    assert found - {"revolution"} == failed


def test_an_index_pulse_may_lie_a_revolution_beyond_the_stop() -> None:
    # the label slide, 5 mm a revolution: stops at -35 and 335 mm or so, from the file
    one = facts("hall.yaml", "label_slide", mechanics__travel={"min": "-40 mm", "max": "340 mm"})
    # 1 % of 380 mm is 3.8 mm, and an honest shift is below 5 mm
    for indicated, outcome in (("348.8 mm", "passed"), ("348.9 mm", "failed")):
        result = answer(one, "340 mm", indicated)
        assert outcomes(result)["indicated-within-stops"] == outcome


@pytest.mark.parametrize(("indicated", "outcome"), [("719 mm", "passed"), ("721 mm", "failed")])
def test_a_position_that_the_controller_cannot_show_is_found(indicated: str, outcome: str) -> None:
    # 156 turns of 10 mm, symmetric about the reference at -60 mm: from -840 to 720 mm
    one = facts(
        "hall.yaml",
        "infeed_pusher",
        encoder__distinguishable_revolutions=156,
        drive__distinguishable_revolutions=156,
        encoder__turn_counter__reading_at_reference=78,
    )
    result = answer(one, "100 mm", indicated)
    assert outcomes(result)["indicated-within-range"] == outcome
    assert (f"cannot show {indicated}" in told(result)) == (outcome == "failed")


def test_more_than_a_cycle_is_no_position_of_an_endless_axis() -> None:
    one = facts("hall.yaml", "index_table")
    assert outcomes(answer(one, "10 deg", "360 deg"))["indicated-within-cycle"] == "passed"
    assert outcomes(answer(one, "10 deg", "361 deg"))["indicated-within-cycle"] == "failed"


@pytest.mark.parametrize(
    ("indicated", "taught", "after", "outcome"),
    [
        # 5 mm a revolution, reference at -7.5 mm
        ("95.1 mm", "as is", "motor", "passed"),
        ("104.9 mm", "as is", "motor", "passed"),
        ("95 mm", "as is", "motor", "failed"),
        ("105 mm", "as is", "encoder", "failed"),
        ("92 mm", "as is", None, "failed"),
        ("92 mm", "none", "motor", "absent"),
        ("92 mm", "missing", "motor", "cannot be decided"),
        ("96 mm", "missing", "motor", "passed"),
        ("92 mm", "as is", "home-switch", "absent"),
    ],
)
def test_a_shift_of_a_revolution_is_not_honest_where_an_unmoved_switch_chooses_the_pulse(
    indicated: str, taught: str, after: str | None, outcome: str
) -> None:
    one = facts("hall.yaml", "label_slide")
    if taught == "none":
        one["controller"]["homing"]["taught"] = "none"
    if taught == "missing":
        del one["controller"]["homing"]["taught"]
    more = {} if after is None else {"after": after}
    found = outcomes(answer(one, "100 mm", indicated, **more))
    assert found.get("shift-below-revolution", "absent") == outcome


def test_the_shift_counts_from_the_reference_on_record_where_another_is_in_use() -> None:
    # the drive came with an offset of 0; by it the slide is 7.5 mm off, and it moves back to -7.5
    one = facts("hall.yaml", "label_slide")
    result = answer(one, "100 mm", "107.5 mm", reference="0 mm", after="drive")
    assert result.result.new == Fraction(-15, 2)
    assert outcomes(result)["shift-below-revolution"] == "passed"
    assert outcomes(result)["mark-stays"] == "passed"
    # without that word the same readings say that the mark moved
    blind = answer(one, "100 mm", "107.5 mm", after="drive")
    assert outcomes(blind)["mark-stays"] == "failed"
    assert "give it with --reference" in told(blind)


@pytest.mark.parametrize(
    ("axis", "after", "outcome"),
    [
        ("infeed_pusher", "motor", "failed"),  # a limit switch, without index
        ("infeed_pusher", "home-switch", "absent"),
        ("label_slide", "motor", "absent"),  # its pulse turns with the motor
        ("label_slide", "gearbox", "absent"),
        ("label_slide", "controller", "failed"),
    ],
)
def test_a_mark_that_the_work_does_not_touch_stays(axis: str, after: str, outcome: str) -> None:
    result = answer(facts("hall.yaml", axis), "100 mm", "99 mm", after=after)
    assert outcomes(result).get("mark-stays", "absent") == outcome
    near = answer(facts("hall.yaml", axis), "100 mm", "99.9 mm", after=after)
    assert outcomes(near).get("mark-stays", "passed") == "passed"


def test_an_index_on_the_load_does_not_move_with_the_motor() -> None:
    one = facts("hall.yaml", "label_slide", encoder__mounted_on="load")
    one["encoder"]["turns_per_driving_shaft_turn"] = 1
    assert outcomes(answer(one, "100 mm", "99 mm", after="motor"))["mark-stays"] == "failed"
    assert "mark-stays" not in outcomes(answer(one, "100 mm", "99 mm", after="encoder"))


# The index pulse ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("indicated", "computed"),
    [
        # half a revolution of 5 mm at -7.5 mm, met in the positive direction
        ("98.75 mm", Fraction(3, 4)),
        ("101 mm", Fraction(3, 10)),
        ("97.4 mm", Fraction(51, 50)),
        ("102.6 mm", Fraction(-1, 50)),
    ],
)
def test_the_new_index_angle_follows_from_the_shift(indicated: str, computed: Fraction) -> None:
    one = facts("hall.yaml", "label_slide")
    result = answer(one, "100 mm", indicated, after="motor")
    assert result.angle is not None
    assert (result.angle.before, result.angle.computed) == (Fraction(1, 2), computed)
    possible = "passed" if 0 <= computed < 1 else "failed"
    assert outcomes(result)["index-angle"] == possible


def test_a_pulse_met_in_the_negative_direction_counts_the_other_way() -> None:
    # method 1 searches the negative limit switch and meets the pulse in the positive direction;
    # method 2 the other way round
    for method, computed in ((1, Fraction(3, 4)), (2, Fraction(1, 4))):
        one = facts("hall.yaml", "label_slide", controller__homing__method=method)
        result = answer(one, "100 mm", "98.75 mm", after="motor")
        assert result.angle is not None
        assert result.angle.computed == computed


@pytest.mark.parametrize(
    ("measured", "outcome"),
    [
        ("0.75 rev", "passed"),
        ("0.77 rev", "passed"),  # within a fiftieth of a revolution
        ("0.78 rev", "failed"),
        ("270 deg", "passed"),
        ("0.25 rev", "failed"),
        (None, "cannot be decided"),
    ],
)
def test_the_new_index_angle_is_compared_with_what_was_measured(
    measured: str | None, outcome: str
) -> None:
    one = facts("hall.yaml", "label_slide")
    more = {} if measured is None else {"index_angle": measured}
    result = answer(one, "100 mm", "98.75 mm", after="motor", **more)
    assert outcomes(result)["index-angle-measured"] == outcome
    if measured is None:
        assert "Give it with --index-angle." in told(result)


def test_without_an_angle_on_record_the_switch_on_the_drawing_tells() -> None:
    # the edge at -10 mm, the reference moved to -6.25 mm: 3.75 mm of 5 mm
    one = facts("hall.yaml", "label_slide", controller__homing__index_after_switch=None)
    result = answer(one, "100 mm", "98.75 mm", after="motor", index_angle="0.75rev")
    assert result.angle is not None
    assert (result.angle.computed, result.angle.by_drawing) == (Fraction(3, 4), True)
    assert outcomes(result)["index-angle-measured"] == "passed"


@pytest.mark.parametrize(
    ("indicated", "outcome"),
    [("98.75 mm", "passed"), ("98.7 mm", "failed"), ("101.3 mm", "failed")],
)
def test_a_pulse_close_to_the_switch_edge_is_found(indicated: str, outcome: str) -> None:
    # from a quarter to three quarters of a revolution is clear: common practice, no source
    result = answer(facts("hall.yaml", "label_slide"), "100 mm", indicated, after="motor")
    assert outcomes(result)["index-clear-of-edge"] == outcome


def test_the_next_index_pulse_is_found_from_one_side() -> None:
    one = facts("hall.yaml", "label_slide", controller__homing__method=33)
    result = answer(one, "100 mm", "99 mm", after="motor")
    assert result.demands == ("home first", "home from one side")
    assert result.angle is None


# Where the axis stands, and without homing --------------------------------------------------------


@pytest.mark.parametrize("method", [35, 37, "current_position"])
def test_a_position_assigned_where_the_axis_stands_is_assigned_there(method: Any) -> None:
    one = facts("hall.yaml", "infeed_pusher", controller__homing__method=method)
    result = answer(one, "612.5 mm", "530 mm")
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


# The wrap -----------------------------------------------------------------------------------------


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


# Linear motors ------------------------------------------------------------------------------------


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
    assert not result.to_solve


# What the text holds ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("file", "axis", "points", "accuracy"),
    [
        ("hall.yaml", "infeed_pusher", (90, 810), Fraction(1, 10)),  # 0 to 900 mm
        ("hall.yaml", "label_slide", (30, 270), Fraction(1, 20)),  # 0 to 300 mm
        ("shuttle.yaml", "tray_shuttle", (180, 820), Fraction(3, 100)),  # 100 to 900 mm
    ],
)
def test_the_two_places_to_prove_and_the_accuracy_to_reach_are_told(
    file: str, axis: str, points: tuple[int, int], accuracy: Fraction
) -> None:
    result = answer(facts(file, axis), "100 mm", "100 mm")
    assert (result.points, result.accuracy) == (points, accuracy)
    text = told(result)
    assert f"Measure the true position at {points[0]} mm and {points[1]} mm." in text
    assert f"must not exceed {result.say(accuracy)}" in text


def test_an_endless_axis_is_proved_half_a_cycle_apart() -> None:
    result = answer(facts("hall.yaml", "index_table"), "10 deg", "10 deg")
    assert result.points == (Fraction(10, 360), Fraction(190, 360))


def test_what_cannot_be_told_of_the_proof_is_said() -> None:
    one = facts("hall.yaml", "infeed_pusher", mechanics__required_accuracy=None)
    one["controller"].pop("software_limits")
    result = answer(one, "100 mm", "100 mm")
    assert result.accuracy is None
    assert result.points is None
    assert "at two distant places" in told(result)
    assert "must not exceed the accuracy that the process needs" in told(result)


@pytest.mark.parametrize("indicated", ["99.9 mm", "2000 mm"])
@pytest.mark.parametrize(("vertical", "words"), [
    (True, "Gravity moves this axis."), (False, ""), (None, "If gravity moves the axis,"),
])  # fmt: skip
def test_the_answer_comes_first_and_the_cautions_before_the_steps(
    indicated: str, vertical: bool | None, words: str
) -> None:
    one = facts("hall.yaml", "infeed_pusher", mechanics__moved_by_gravity=vertical)
    result = answer(one, "100 mm", indicated)
    text = told(result)
    first = "Write nothing yet." if result.to_solve else "New reference position: -59.9 mm"
    steps = "Keep to this" if result.to_solve else "Steps"
    assert bool(result.to_solve) == (indicated == "2000 mm")
    assert text.index(first) < text.index("Passed") < text.index("Caution") < text.index(steps)
    assert words in text[: text.index(steps)]
    assert ("Gravity moves this axis." in text) == (vertical is True)
    assert ("If gravity moves the axis," in text) == (vertical is None)


@pytest.mark.parametrize(
    ("option", "value"),
    [("index_angle", "-0.1rev"), ("index_angle", "1 mm"), ("reading", "-1"), ("reading", "x"),
     ("after", "paint")],
)  # fmt: skip
def test_a_reading_that_can_be_none_is_refused(option: str, value: str) -> None:
    with pytest.raises(UsageError) as caught:
        answer(facts("hall.yaml", "label_slide"), "1 mm", "1 mm", **{option: value})
    assert value in str(caught.value)
    assert option.replace("_", "-") in str(caught.value)


def test_nothing_is_to_be_written_before_somebody_says_what_was_done(
    capsys: pytest.CaptureFixture[str],
) -> None:
    given = ["recalibrate", str(FIXTURES / "hall.yaml"), "--axis", "infeed_pusher"]
    given += ["--true", "100mm", "--indicated", "98.75mm"]
    assert run(given) == 1
    lines = [line for line in capsys.readouterr().out.splitlines() if line]
    assert lines[2].startswith("Write nothing yet. State which part was replaced with --after")
    assert run([*given, "--after", "nothing"]) == 0
    assert "New reference position: -58.75 mm" in capsys.readouterr().out


def test_an_unknown_ratio_leaves_the_index_angle_open() -> None:
    one = facts(
        "hall.yaml", "label_slide", controller__homing__index_after_switch=None,
        encoder__mounted_on=None,
    )  # fmt: skip
    result = answer(one, "100 mm", "98.75 mm", index_angle="0.75rev")
    assert "failed" not in outcomes(result).values()
    assert "cannot be decided" in outcomes(result).values()
