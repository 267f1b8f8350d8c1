"""The plan says which way the position goes, and what a hanging axis needs."""

from __future__ import annotations

import copy
import itertools
from dataclasses import dataclass
from pathlib import Path

import pytest
from axisproof.swap.api import spare
from axisproof.swap.part import Kind

from tests.swap.planned_work import DAY, HALL, axis_with, before, hall_axes, planned, touched


@dataclass(frozen=True)
class Build:
    """How an axis is put together and set, as its file states it."""

    reversing: tuple[bool, ...]
    final: bool
    on_load: bool
    counts_up: bool
    drive: bool
    controller: bool

    def turned(self) -> tuple[int, int]:
        """What the load does and what is indicated (1 forward, −1 back) when the motor shaft is
        turned forward: one thing after the other, as they are connected.
        """
        shaft = 1
        for reverses in self.reversing:
            shaft = -shaft if reverses else shaft
        load = -shaft if self.final else shaft
        # the encoder senses its own shaft; how it sits makes it count as count_direction says
        sensed = shaft if self.on_load else 1
        sits = (1 if self.counts_up else -1) * sensed
        raw = sensed * sits
        # the drive takes the counts for the motor's direction as encoder_direction says
        motor = raw if self.counts_up else -raw
        position = -motor if self.drive else motor  # 0x607E: multiplied by −1
        return load, -position if self.controller else position


@pytest.mark.parametrize(
    "reversing",
    [
        (),
        (True,),
        pytest.param((False,), marks=pytest.mark.exhaustive),
        pytest.param((True, True), marks=pytest.mark.exhaustive),
    ],
)
@pytest.mark.parametrize("on_load", [False, True])
def test_the_position_goes_the_way_it_goes_at_the_machine(
    tmp_path: Path, reversing: tuple[bool, ...], on_load: bool
) -> None:
    for final, counts_up, drive, controller in itertools.product((False, True), repeat=4):
        build = Build(reversing, final, on_load, counts_up, drive, controller)
        load, indicated = build.turned()
        axis = copy.deepcopy(hall_axes()["infeed_pusher"])
        stages = [{"motor_turns_per_load_turn": 2, "reversing": each} for each in reversing]
        axis["mechanics"]["stages"] = stages
        axis["mechanics"]["final"]["direction"] = "reversed" if final else "same"
        axis["encoder"]["mounted_on"] = "load" if on_load else "motor"
        direction = "same" if counts_up else "reversed"
        axis["encoder"]["count_direction"] = axis["drive"]["encoder_direction"] = direction
        polarity = {True: "reversed", False: "normal"}
        axis["drive"] |= {"polarity": polarity[drive], "velocity_polarity": polarity[drive]}
        axis["controller"]["polarity"] = polarity[controller]
        report, steps = planned(tmp_path, axis, "drive")
        step = steps["turn-by-hand"]
        assert "clockwise" in step.do
        way = "rises" if indicated > 0 else "falls"
        travel = 10 // 2 ** len(reversing) if len(reversing) < 2 else "2.5"
        assert f"The indicated position {way} by {travel} mm" in step.expect, build
        named = {1: "positive", -1: "negative"}
        assert f"{named[indicated]} direction of the axis" in step.expect
        # the load goes the way of the indication, or the file itself says that it does not
        wrong = "axis-moves-the-way-it-is-told" in {each.rule for each in report.before}
        assert wrong == (load != indicated)


def test_without_the_polarity_the_plan_says_what_it_depends_on(tmp_path: Path) -> None:
    axis = copy.deepcopy(hall_axes()["infeed_pusher"])
    axis["controller"].pop("polarity")
    _, steps = planned(tmp_path, axis)
    expect = steps["turn-by-hand"].expect
    assert "rises if neither or both" in expect
    assert "falls if one of them is" in expect
    assert "upwards" not in expect


def test_a_mirrored_side_of_a_gantry_turns_the_other_way() -> None:
    # gantry_x2: drive reversed, motor on the other side; 40/3 mm per motor revolution
    file = HALL.parent.parent / "spares" / "motor_short_range.yaml"
    for axis, way in (("gantry_x1", "rises"), ("gantry_x2", "falls")):
        report = spare(HALL, axis, "motor", file, on=DAY, plan=True)
        assert report.plan is not None
        (step,) = [step for step in report.plan.steps if step.name == "turn-by-hand"]
        assert f"The indicated position {way} by 13.33 mm" in step.expect


def test_the_torque_limit_of_a_hanging_axis_carries_its_load(tmp_path: Path) -> None:
    # 60 kg x 9.80665 m/s2 and 40 N of friction on 10 mm per revolution, at 86 %:
    # (588.399 + 40) N x 10 mm / 2 pi / 0.86 = 1.16294 N·m, and a quarter more 1.45368 N·m
    axis = copy.deepcopy(hall_axes()["lift"])
    axis["mechanics"] |= {"load_mass": "60 kg", "friction_force": "40 N", "efficiency": 0.86}
    _, steps = planned(tmp_path, axis, "motor")
    step = steps["enable-on-support"]
    assert "take 1.17 N·m of the motor" in step.do
    assert "Set the torque limit to 1.46 N·m" in step.do
    assert "0.94 N·m" in steps["jog-off-the-support"].expect
    assert "keep the torque limit" in steps["low-torque-jog"].do
    assert "7.2 N·m" in steps["torque-limit-back"].do
    for name in ("enable-on-support", "jog-off-the-support", "brake-test", "take-support-away"):
        assert "Nobody is below" in steps[name].caution


@pytest.mark.parametrize("fact", ["load_mass", "friction_force", "efficiency"])
def test_without_its_facts_the_plan_names_no_torque_limit(tmp_path: Path, fact: str) -> None:
    axis = copy.deepcopy(hall_axes()["lift"])
    axis["mechanics"].pop(fact)
    _, steps = planned(tmp_path, axis, "motor")
    step = steps["enable-on-support"]
    assert "It is not known here" in step.do
    assert "N·m" not in step.do


def test_an_arm_goes_up_by_degrees_and_an_outweighed_load_goes_down(tmp_path: Path) -> None:
    axis = copy.deepcopy(hall_axes()["lift"])
    axis["mechanics"]["counterbalance"] = "120 %"
    _, steps = planned(tmp_path, axis, "motor")
    assert "Jog the axis down" in steps["jog-off-the-support"].do
    arm = copy.deepcopy(hall_axes()["index_table"])
    arm["mechanics"] |= {"moved_by_gravity": True, "unbalanced_torque": "8 N·m"}
    _, steps = planned(tmp_path, arm, "motor")
    assert "a few degrees" in steps["jog-off-the-support"].do


@pytest.mark.parametrize("part", ["motor", "encoder", "drive"])
def test_a_hanging_axis_is_turned_and_taught_only_on_its_support(
    tmp_path: Path, part: Kind
) -> None:
    axis = axis_with("battery", True, True)
    _, steps = planned(tmp_path, axis, part)
    names = tuple(steps)
    turn = steps["turn-by-hand"]
    assert "before the motor is coupled" in turn.do
    assert "only the way that the support allows" in turn.do
    assert "rises by 10 mm" in turn.expect
    for name in ("commutation", "commutation-first-enable"):
        assert "rests on its support" in steps[name].do
        assert before(names, name, "take-support-away")
    assert ("couple" in steps) == ("keep-uncoupled" in steps) == (part == "motor")
    if part == "motor":
        assert before(names, "keep-uncoupled", "exchange")
        assert before(names, "turn-by-hand", "couple")
        assert before(names, "commutation-first-enable", "couple")
        assert before(names, "couple", "enable-on-support")


@pytest.mark.parametrize("work", ["coupling", "belt", "controller", "backup", "feedback_cable"])
def test_whatever_the_work_a_hanging_load_keeps_its_support_until_the_brake_holds_it(
    tmp_path: Path, work: Kind
) -> None:
    steps = touched(tmp_path, axis_with("battery", True, True), work)
    names = tuple(steps)
    assert before(names, "support-load", "enable-on-support")
    assert before(names, "jog-off-the-support", "brake-holds-load")
    assert before(names, "brake-holds-load", "take-support-away")
    assert before(names, "take-support-away", "low-torque-jog")
