"""What `recalibrate` asks of an axis that homes to a switch, a mark or an index pulse."""

from __future__ import annotations

import pytest
from axisproof.numbers.rational import Fraction
from axisproof.report.recalibration_words import step_words

from tests.swap.recalibrated import answer, facts, outcomes, told


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
    assert found - {"revolution", "mark-stays"} == failed


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


@pytest.mark.parametrize(
    ("indicated", "method", "pulse", "mark"),
    [
        # 5 mm a revolution, tolerance 0.1 mm
        ("98.75 mm", None, "failed", "absent"),
        ("100.1 mm", None, "passed", "absent"),
        ("100.2 mm", None, "failed", "absent"),
        ("95 mm", None, "passed", "absent"),
        # a home switch is no mark where homing does not search it
        ("98.75 mm", 33, "absent", "failed"),
        ("98.75 mm", 1, "failed", "absent"),
        ("98.75 mm", 19, "absent", "absent"),
    ],
)
def test_a_new_home_switch_moves_only_what_it_marks(
    indicated: str, method: int | None, pulse: str, mark: str
) -> None:
    one = facts("hall.yaml", "label_slide")
    if method is not None:
        one["controller"]["homing"]["method"] = method
    found = outcomes(answer(one, "100 mm", indicated, after="home-switch"))
    assert found.get("pulse-stays", "absent") == pulse
    assert found.get("mark-stays", "absent") == mark


@pytest.mark.parametrize("after", ["second-encoder", "motor", "controller", "nothing"])
def test_a_mark_on_the_load_stays_as_closely_as_it_is_read(after: str) -> None:
    """A fiftieth of a revolution of the table is 7.2 deg; it must be right to 0.1 deg."""
    one = facts("two_encoders.yaml", "cap_turner")
    found = {
        indicated: outcomes(answer(one, "10 deg", indicated, after=after))["mark-stays"]
        for indicated in ("10 deg", "10.2 deg", "10.3 deg", "12 deg")
    }
    assert found == {
        "10 deg": "passed", "10.2 deg": "passed", "10.3 deg": "failed", "12 deg": "failed"
    }  # fmt: skip
    del one["mechanics"]["required_accuracy"]
    assert outcomes(answer(one, "10 deg", "12 deg", after=after))["mark-stays"] == (
        "cannot be decided"
    )


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


def test_an_unknown_ratio_leaves_the_index_angle_open() -> None:
    one = facts(
        "hall.yaml", "label_slide", controller__homing__index_after_switch=None,
        encoder__mounted_on=None,
    )  # fmt: skip
    result = answer(one, "100 mm", "98.75 mm", after="motor", index_angle="0.75rev")
    assert "failed" not in outcomes(result).values()
    assert "cannot be decided" in outcomes(result).values()


@pytest.mark.parametrize(
    ("indicated", "outcome"),
    [
        ("80 mm", "failed"),  # one spacing of 20 mm
        ("40.02 mm", "failed"),  # three, but for the accuracy of 0.02 mm
        ("99.5 mm", "passed"),
        ("79.9 mm", "passed"),
    ],
)
def test_a_shift_of_whole_spacings_of_a_scale_points_to_another_mark(
    indicated: str, outcome: str
) -> None:
    result = answer(facts("shuttle.yaml", "tray_stop"), "100 mm", indicated, after="encoder")
    assert outcomes(result)["mark"] == outcome
    if outcome == "failed":
        assert "Look for another index mark before this is written" in told(result)


def test_the_spacing_of_a_scale_must_be_known() -> None:
    one = facts("shuttle.yaml", "tray_stop", encoder__index_marks__spacing=None)
    result = answer(one, "100 mm", "80 mm", after="encoder")
    assert outcomes(result)["mark"] == "cannot be decided"


def test_the_next_mark_of_a_ring_is_a_spacing_away() -> None:
    result = answer(facts("scales.yaml", "check_table"), "100 deg", "80 deg", tolerance="0.1 deg")
    assert outcomes(result)["mark"] == "failed"


def test_a_rotary_encoder_with_one_mark_has_no_spacing() -> None:
    result = answer(facts("hall.yaml", "label_slide"), "100 mm", "98.75 mm", after="motor")
    assert "mark" not in outcomes(result)
