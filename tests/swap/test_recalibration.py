"""The arithmetic of recalibration, against a walk through the multiples one by one."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, cast

import pytest
from axisproof.base.errors import UsageError
from axisproof.importing.entry import load_trees
from axisproof.numbers.exact import Pi
from axisproof.numbers.rational import Fraction, read_fraction
from axisproof.report.recalibration_json import render as render_recalibration
from axisproof.report.recalibration_words import (
    comparison_words,
    instruction_words,
    plausibility_words,
)
from axisproof.report.rendering import RenderOptions
from axisproof.swap.api import recalibrate
from axisproof.swap.recalibration import ShiftStep, compare, recalibrated
from hypothesis import given
from hypothesis import strategies as st

from tests.numbers.random_fractions import random_fractions

HALL = Path(__file__).parents[2] / "fixtures" / "sound" / "hall.yaml"

fractions = random_fractions(-500, 500, max_denominator=40)
sizes = random_fractions(Fraction(1, 20), 400, max_denominator=40)
tolerances = random_fractions(0, 30, max_denominator=40)


def into(value: Fraction, low: Fraction, cycle: Fraction) -> Fraction:
    """Into [low, low + cycle)."""
    return value - cycle * ((value - low) // cycle)


@given(fractions, fractions, fractions)
def test_a_linear_reference_moves_by_true_minus_indicated(
    old: Fraction, true: Fraction, indicated: Fraction
) -> None:
    result = recalibrated(old, true, indicated)
    assert result.new == old + true - indicated
    assert result.interval is None


@given(fractions, fractions, fractions, random_fractions(30, 400, max_denominator=40))
def test_a_modulo_shift_is_the_nearest_signed_one_and_the_reference_stays_in_its_interval(
    old: Fraction, true: Fraction, indicated: Fraction, cycle: Fraction
) -> None:
    result = recalibrated(old, true, indicated, cycle)
    low = -cycle / 2 if old < 0 else Fraction(0)
    assert result.interval == (low, low + cycle)
    assert result.new == into(old + true - indicated, low, cycle)
    assert -cycle / 2 < result.shift <= cycle / 2
    assert into(read_fraction(str(result.shift)) - (true - indicated), Fraction(0), cycle) == 0


def places(step: Fraction, cycle: Fraction) -> dict[Fraction, int]:
    """Where multiples of a step lead on a cycle, with the smallest multiple that leads there."""
    found: dict[Fraction, int] = {}
    at, number = Fraction(0), 0
    while at not in found:
        found[at] = number
        at, number = into(at + step, Fraction(0), cycle), number + 1
    count = len(found)
    return {at: k - count if 2 * k > count else k for at, k in found.items()}


@given(fractions, st.integers(1, 12), st.integers(1, 12), sizes, tolerances)
def test_a_shift_on_a_cycle_is_compared_with_every_place_that_revolutions_lead_to(
    shift: Fraction, p: int, q: int, cycle: Fraction, tolerance: Fraction
) -> None:
    step = cycle * p / q
    led_to = places(step, cycle)
    found = compare(shift, ShiftStep("revolution", "encoder revolutions", step), tolerance, cycle)
    if len(led_to) == 1:
        assert found.finding == "invisible"
        return
    named = "close" if 8 * tolerance <= cycle / len(led_to) else "weak"
    # Places lie evenly, a whole part of the cycle apart.
    assert found.spacing == cycle / len(led_to)
    if 2 * tolerance >= cycle / len(led_to):
        assert found.finding == "no power"
        return
    away = {
        at: min(into(shift - at, Fraction(0), cycle), into(at - shift, Fraction(0), cycle))
        for at in led_to
    }
    nearest = min(away.values())
    assert abs(read_fraction(str(found.distance))) == nearest
    assert away[into(step * found.multiple, Fraction(0), cycle)] == nearest
    if nearest > tolerance:
        assert found.finding == "far"
    else:
        assert found.multiple == led_to[into(step * found.multiple, Fraction(0), cycle)]
        assert found.finding == ("unmoved" if found.multiple == 0 else named)


@given(fractions, sizes, tolerances)
def test_a_linear_shift_is_compared_with_the_nearest_multiple(
    shift: Fraction, step: Fraction, tolerance: Fraction
) -> None:
    found = compare(shift, ShiftStep("revolution", "encoder revolutions", step), tolerance, None)
    beyond = into(shift, Fraction(0), step)
    nearest = min(beyond, step - beyond)
    named = "close" if 8 * tolerance <= step else "weak"
    assert abs(read_fraction(str(found.distance))) == nearest
    if 2 * tolerance >= step:
        assert found.finding == "no power"
    elif nearest > tolerance:
        assert found.finding == "far"
    else:
        assert found.finding == ("unmoved" if found.multiple == 0 else named)


def test_the_test_loses_its_power_exactly_where_the_tolerance_reaches_half_a_residue() -> None:
    step = ShiftStep("revolution", "encoder revolutions", Fraction(360, 7))
    just_below = Fraction(360, 14) - Fraction(1, 10**6)
    assert compare(Fraction(10), step, just_below, Fraction(360)).finding != "no power"
    assert compare(Fraction(10), step, Fraction(360, 14), Fraction(360)).finding == "no power"


def test_a_shift_that_many_would_be_as_close_as_is_no_suspicion() -> None:
    # q = 147: residues 304.8/147 = 2.07 mm apart, and a fiftieth of a revolution is 0.83 mm
    result = recalibrate(HALL, "outfeed_belt", "1 mm", "7 mm", after="nothing")
    assert "weak" in {each.finding for each in result.result.comparisons}
    assert not result.result.suspicions


def test_a_revolution_that_has_no_common_measure_with_the_cycle_tells_nothing() -> None:
    step = ShiftStep("revolution", "encoder revolutions", Pi(10, 1))
    assert compare(5, step, Fraction(1, 1000), 360).finding == "no power"
    assert compare(Pi(10, 1), step, Fraction(1, 1000), None).finding == "close"


def test_a_revolution_of_a_whole_cycle_cannot_be_seen() -> None:
    step = ShiftStep("revolution", "encoder revolutions", 360)
    assert compare(12, step, 1, 360).finding == "invisible"


@pytest.mark.parametrize(
    ("shift", "finding", "multiple"), [(120, "close", 1), (-120, "close", -1), (240, "far", 1)]
)
def test_a_wrong_sign_shows_once_in_either_direction(
    shift: int, finding: str, multiple: int
) -> None:
    step = ShiftStep("sign", "twice the reference position", 120, single=True)
    found = compare(shift, step, Fraction(1, 10), None)
    assert (found.finding, found.multiple) == (finding, multiple)


def test_a_wrong_sign_of_a_quarter_of_the_cycle_is_invisible_only_for_the_half() -> None:
    assert compare(0, ShiftStep("sign", "2p", 360, single=True), 1, 360).finding == "invisible"
    assert compare(180, ShiftStep("sign", "2p", 180, single=True), 1, 360).finding == "close"


@pytest.mark.parametrize("bad", [{"cycle": 0}, {"cycle": -1}, {"tolerance": -1}])
def test_what_cannot_be_a_cycle_or_tolerance_is_refused(bad: dict[str, int]) -> None:
    with pytest.raises(ValueError, match=r"the (cycle|tolerance)"):
        recalibrated(0, 1, 2, **bad)  # type: ignore[arg-type]


# On a machine file -------------------------------------------------------------------------------


def test_an_axis_of_a_file_gets_its_new_reference_in_its_own_unit() -> None:
    result = recalibrate(HALL, "infeed_pusher", "100 mm", "98.75mm", after="nothing")
    assert result.unit == "mm"
    assert result.result.reference == -60
    assert result.result.new == Fraction(-235, 4)
    assert not result.result.suspicions


def test_whole_revolutions_behind_the_gearbox_of_a_table_are_named() -> None:
    # 3 x 360/7 deg beyond 10 deg, but for 0.01 deg
    result = recalibrate(HALL, "index_table", "10 deg", "215.704 deg", after="motor")
    (found,) = result.result.suspicions
    assert (found.step.kind, found.multiple) == ("revolution", 3)
    # its homing takes the table where it stands, so there is nothing to add to
    assert result.result.moved == Fraction(154296, 360000)
    assert result.result.new == Fraction(10, 360)


def test_a_tooth_is_looked_for_only_after_work_on_gearbox_or_belt() -> None:
    # one tooth of the belt, 5 mm pitch, of 32 mm per encoder revolution
    plain = recalibrate(HALL, "crate_shift", "100 mm", "95 mm", tolerance="0.2 mm", after="nothing")
    assert not plain.result.suspicions
    belt = recalibrate(HALL, "crate_shift", "100 mm", "95 mm", tolerance="0.2 mm", after="belt")
    (found,) = belt.result.suspicions
    assert (found.step.kind, found.multiple, found.distance) == ("tooth", 1, 0)


def test_a_chain_that_was_put_back_a_link_aside_is_suspected(tmp_path: Path) -> None:
    axis = json.loads(json.dumps(load_trees([HALL])[0].plain["axes"]["crate_shift"], default=str))  # type: ignore[index, call-overload]
    axis["mechanics"]["final"]["kind"] = "chain"
    machine = tmp_path / "machine.json"
    machine.write_text(json.dumps({"format": 1, "machine": "m", "axes": {"a": axis}}))
    after = recalibrate(machine, "a", "100 mm", "95 mm", tolerance="0.2 mm", after="chain")
    (found,) = after.result.suspicions
    assert (found.step.kind, found.multiple, found.step.name) == ("tooth", 1, "teeth of the chain")


def test_a_tooth_of_a_belt_stage_counts_on_its_load_side() -> None:
    # the lift: belt 24:48, screw of 20 mm lead: one tooth of 48 is 20/48 mm
    result = recalibrate(HALL, "lift", "100 mm", "99.5833 mm", tolerance="0.01 mm", after="belt")
    assert ("tooth", 1) in {(each.step.kind, each.multiple) for each in result.result.suspicions}


# How the reference is made ------------------------------------------------------------------------


def altered(folder: Path, axis: str, homing: object, keeper: str | None) -> Path:
    """The hall with one axis that homes in another way; the method missing if it is None."""
    plain = cast("dict[str, Any]", load_trees([HALL])[0].plain)
    one = json.loads(json.dumps(plain["axes"][axis], default=str))
    if homing == "none":
        one["controller"]["homing"] = "none"
    elif homing is None:
        one["controller"]["homing"].pop("method")
    else:
        one["controller"]["homing"]["method"] = homing
    one["storage"].pop("offset")
    if keeper is not None:
        one["storage"]["offset"] = keeper
    file = folder / "machine.json"
    file.write_text(json.dumps({"format": 1, "machine": "m", "axes": {axis: one}}))
    return file


@pytest.mark.parametrize(
    ("homing", "keeper", "way", "new", "said"),
    [
        # assigned -60 mm; true 612.5 mm, indicated 530 mm
        (17, "drive", "mark", Fraction(45, 2), "in the drive, with the sign that it has there"),
        (1, None, "mark", Fraction(45, 2), "and home again"),
        (33, "drive", "mark", Fraction(45, 2), "and home again"),
        ("hard_stop_positive", "controller", "mark", Fraction(45, 2), "in the controller"),
        (35, "drive", "stand", Fraction(1225, 2), "while it stands where these positions were"),
        (37, "encoder", "stand", Fraction(1225, 2), "Homed anywhere else, the reference is wrong"),
        ("current_position", None, "stand", Fraction(1225, 2), "is the true one: 612.5 mm"),
        (0, "controller", "offset", Fraction(45, 2), "never homes: let the offset in the contr"),
        ("none", "drive", "offset", None, "grow by the shift"),
        ("none", "encoder", "preset", Fraction(1225, 2), "preset the encoder so that 612.5 mm is"),
        ("none", None, "never homed", None, "Do not do both"),
        (-3, "drive", "not known", None, "Find out before anything is written"),
        (15, "drive", "not known", None, "to a mark, assign 22.5 mm (was -60 mm) and home again"),
        (None, "drive", "not known", None, "where it stands, assign 612.5 mm and home it while"),
    ],
)
def test_what_is_assigned_depends_on_how_the_reference_is_made(
    tmp_path: Path,
    homing: object,
    keeper: str | None,
    way: str,
    new: Fraction | None,
    said: str,
) -> None:
    machine = altered(tmp_path, "infeed_pusher", homing, keeper)
    result = recalibrate(machine, "infeed_pusher", "612.5 mm", "530 mm", after="nothing")
    assert (result.result.way, result.result.new) == (way, new)
    assert result.result.shift == Fraction(165, 2)
    assert said in instruction_words(result)
    known = way in ("never homed", "not known") and (homing is None or homing == "none")
    assert bool(result.missing) == known
    document = json.loads(render_recalibration(result, RenderOptions()))
    assert document["reference_by"] == way
    assert (document["new_reference"] is None) == (new is None)
    assert document["instruction"] == instruction_words(result)


@pytest.mark.parametrize(("true", "here"), [("-10 deg", 350), ("372 deg", 12), ("0 deg", 0)])
def test_the_true_position_of_a_table_is_assigned_within_its_cycle(true: str, here: int) -> None:
    result = recalibrate(HALL, "index_table", true, "3 deg", after="nothing")
    assert result.result.new == Fraction(here, 360)


def test_the_table_that_is_homed_with_a_pin_at_zero_keeps_zero() -> None:
    # 357 deg would be right only if its homing went to a mark
    result = recalibrate(HALL, "index_table", "0 deg", "3 deg", after="nothing")
    assert result.result.new == 0
    assert result.result.moved == Fraction(357, 360)


@pytest.mark.parametrize(
    ("homing", "kind", "revolution", "named"),
    [
        # whole revolutions of 10 mm: an index pulse only where homing ends at one, a turn only
        # where an absolute encoder counts them
        (17, "absolute_multiturn", True, "Look for a lost or wrongly set turn before"),
        (1, "absolute_multiturn", True, "another index pulse or a lost or wrongly set turn"),
        (1, "incremental", True, "Look for another index pulse before"),
        (17, "incremental", False, ""),
        (37, "absolute_multiturn", True, "Look for a lost or wrongly set turn before"),
    ],
)
def test_only_what_an_axis_has_is_named_as_the_cause_of_whole_revolutions(
    tmp_path: Path, homing: int, kind: str, revolution: bool, named: str
) -> None:
    machine = altered(tmp_path, "infeed_pusher", homing, "drive")
    plain = json.loads(machine.read_text())
    plain["axes"]["infeed_pusher"]["encoder"]["kind"] = kind
    machine.write_text(json.dumps(plain))
    result = recalibrate(machine, "infeed_pusher", "100 mm", "80 mm", after="nothing")
    compared = {each.step.kind: each for each in result.result.comparisons}
    assert ("revolution" in compared) == revolution
    if revolution:
        assert compared["revolution"].multiple == 2
        assert named in comparison_words(result, compared["revolution"])


def test_the_conclusion_says_what_the_shift_may_come_from(tmp_path: Path) -> None:
    switch = recalibrate(HALL, "infeed_pusher", "100 mm", "98.75 mm", after="home-switch")
    assert "new switch can act at another position" in plausibility_words(switch)
    unknown = recalibrate(HALL, "infeed_pusher", "100 mm", "98.75 mm")
    assert plausibility_words(unknown) == "The shift has no pattern of a fault."
    untaught = tmp_path / "untaught.json"
    plain = json.loads(json.dumps(load_trees([HALL])[0].plain, default=str))
    plain["axes"]["infeed_pusher"]["controller"]["homing"]["taught"] = "none"
    untaught.write_text(json.dumps(plain))
    motor = recalibrate(untaught, "infeed_pusher", "100 mm", "98.75 mm", after="motor")
    assert "does not move with a new part" in plausibility_words(motor)
    indexed = recalibrate(HALL, "label_slide", "100 mm", "98.75 mm", after="motor")
    assert "may be the angle of the new part" in plausibility_words(indexed)
    assert "stands where it stood" in plausibility_words(
        recalibrate(HALL, "infeed_pusher", "100 mm", "100.1 mm", after="nothing")
    )


def test_a_reference_given_by_hand_takes_the_place_of_the_file() -> None:
    result = recalibrate(
        HALL, "infeed_pusher", "100mm", "98mm", reference="-59 mm", after="nothing"
    )
    assert result.result.new == -57


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("infeed", "1mm", "2mm"), "infeed_pusher"),
        (("infeed_pusher", "1", "2mm"), "--true 1 is"),
        (("infeed_pusher", "1mm", "2deg"), "--indicated 2deg is"),
        (("infeed_pusher", "one", "2mm"), "--true"),
        (("index_table", "1mm", "2deg"), "rotary"),
    ],
)
def test_a_position_that_is_none_of_the_axis_is_refused(
    arguments: tuple[str, str, str], words: str
) -> None:
    with pytest.raises(UsageError) as caught:
        recalibrate(HALL, *arguments)
    assert words in str(caught.value)


def test_a_tolerance_below_zero_is_refused() -> None:
    with pytest.raises(UsageError, match="below zero"):
        recalibrate(HALL, "infeed_pusher", "1mm", "2mm", tolerance="-1mm", after="nothing")


@pytest.mark.parametrize("tolerance", ["5 mm", "1000 mm"])
def test_a_tolerance_that_hides_a_lost_turn_is_refused(tolerance: str) -> None:
    """The shift is five revolutions of 10 mm: no tolerance makes it one without a pattern."""

    with pytest.raises(UsageError, match="a lost turn would not be found"):
        recalibrate(HALL, "infeed_pusher", "100 mm", "50 mm", after="nothing", tolerance=tolerance)
