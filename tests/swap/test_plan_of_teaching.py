"""The plan teaches the reference in the way it is made."""

from __future__ import annotations

import copy
import re
from pathlib import Path

import pytest
from axisproof.catalogue.catalogue import shipped
from axisproof.swap.api import spare

from tests.swap.planned_work import DAY, HALL, axis_with, hall_axes, planned, touched

TEACHING = {
    "home", "calibrate", "set-at-gauge", "home-from-gauge", "calibrate-from-gauge",
    "shift-offset", "preset-at-gauge", "correct-where-it-lives",
}  # fmt: skip


@pytest.mark.parametrize(
    ("homing", "keeper", "steps"),
    [
        # CiA 402 methods, from memory: 1 and 17 the negative limit switch, with index and without,
        # 33 the next index, 35 and 37 the current position, 0 none; below zero the maker's own
        (1, "drive", ["home", "calibrate"]),
        (17, "controller", ["home", "calibrate"]),
        (33, "drive", ["home", "calibrate"]),
        ("hard_stop_negative", "drive", ["home", "calibrate"]),
        (35, "drive", ["set-at-gauge"]),
        (37, "controller", ["set-at-gauge"]),
        ("current_position", "encoder", ["set-at-gauge"]),
        (-3, "drive", ["home-from-gauge", "calibrate-from-gauge"]),
        (15, "drive", ["home-from-gauge", "calibrate-from-gauge"]),
        ("unknown", "drive", ["home-from-gauge", "calibrate-from-gauge"]),
        ("disputed", "drive", ["home-from-gauge", "calibrate-from-gauge"]),
        (0, "drive", ["shift-offset"]),
        ("none", "controller", ["shift-offset"]),
        ("none", "encoder", ["preset-at-gauge"]),
        ("none", "unknown", ["correct-where-it-lives"]),
    ],
)
def test_the_reference_is_taught_in_the_way_it_is_made(
    tmp_path: Path, homing: int | str, keeper: str, steps: list[str]
) -> None:
    axis = copy.deepcopy(hall_axes()["infeed_pusher"])
    axis["storage"]["offset"] = keeper
    if keeper == "unknown":
        axis["storage"].pop("offset")
    if homing == "none":
        axis["controller"]["homing"] = "none"
    elif homing == "unknown":
        axis["controller"]["homing"].pop("method")
    elif homing == "disputed":
        claims = [{"value": 17, "source": "list"}, {"value": 37, "source": "export"}]
        axis["controller"]["homing"]["method"] = {"claims": claims}
    else:
        axis["controller"]["homing"]["method"] = homing
    report, found = planned(tmp_path, axis)
    assert [name for name in found if name in TEACHING] == steps
    for name in steps:
        uncertain = ("axes.x.storage.offset",) if keeper == "unknown" else ()
        assert found[name].missing == uncertain
        assert "unknown" not in found[name].do
        assert found[name].caution or name == "calibrate"
    (words,) = [lesson.words for lesson in report.lessons if lesson.what == "reference"]
    assert "home" not in words


@pytest.mark.parametrize("method", [35, 37, "current_position"])
def test_homing_where_the_axis_stands_is_done_at_the_gauge_and_nowhere_else(
    tmp_path: Path, method: int | str
) -> None:
    axis = copy.deepcopy(hall_axes()["infeed_pusher"])
    axis["controller"]["homing"] |= {"method": method, "reference_position": "612.5 mm"}
    _, steps = planned(tmp_path, axis, "motor")
    teach = steps["set-at-gauge"]
    assert "true position there is the position to assign" in teach.do
    assert "(612.5 mm now" in teach.do
    assert "in the drive, where the reference lives" in teach.do
    assert "does not move" in teach.expect
    assert "switch" not in teach.do + teach.expect
    assert "at its gauge" in steps["release-interlock"].do
    steps |= touched(tmp_path, axis, "home_switch")
    for name in ("interlock-test", "home-and-release"):
        assert "at its gauge" in steps[name].do or "to its gauge" in steps[name].do
    # no step homes it without the gauge, none tells of a mark or of an index pulse
    for step in steps.values():
        for sentence in step.do.split(". "):
            homes = "ome the axis" in sentence or "homing" in sentence or "ome it" in sentence
            nowhere = sentence.startswith(("Without homing", "Home it nowhere else"))
            assert not homes or nowhere or re.search("gauge|stands there", sentence), step.name
        assert "index pulse" not in step.do + step.why + step.expect


def test_an_axis_that_forgets_and_homes_where_it_stands_is_homed_at_its_gauge_each_time(
    tmp_path: Path,
) -> None:
    axis = axis_with("incremental", True, False)
    axis["controller"]["homing"]["method"] = 37
    report, steps = planned(tmp_path, axis, "motor")
    assert "reference" not in {lesson.what for lesson in report.lessons}
    assert steps["home-again"].do.startswith("Bring the axis to its gauge and home it there")
    assert "home it" not in steps["record-position-incremental"].do
    assert "home it at its gauge" in steps["two-points"].do


@pytest.mark.parametrize(
    ("method", "index"), [(1, True), (17, False), ("hard_stop_negative", False)]
)
def test_what_a_shift_can_mean_depends_on_what_the_axis_homes_to(
    tmp_path: Path, method: int | str, index: bool
) -> None:
    axis = copy.deepcopy(hall_axes()["infeed_pusher"])
    axis["controller"]["homing"]["method"] = method
    _, steps = planned(tmp_path, axis)
    step = steps["calibrate"]
    assert "-60 mm + (true position − indicated position)" in step.do
    assert ("points to another index pulse" in step.expect) == index
    assert ("does not move with the part" in step.expect) == (not index)
    assert "angle" not in step.why


def test_nobody_stands_at_a_switch_while_the_axis_is_enabled() -> None:
    file = HALL.parent.parent / "spares" / "motor_like_fitted.yaml"
    report = spare(HALL, "infeed_pusher", "motor", file, on=DAY, plan=True)
    assert report.plan is not None
    (step,) = [step for step in report.plan.steps if step.name == "limit-switches"]
    by_hand, _, jogged = step.do.partition("Then")
    assert by_hand.startswith("Keep the drive disabled (its safe torque off active)")
    assert "by hand" in by_hand
    assert jogged.index("go out of the reach of the axis") < jogged.index("Enable")
    assert "by hand" not in jogged
    assert "Nobody is at a switch" in step.caution
    remedy = shipped().rules["limit-inputs-stop-the-right-way"].remedy
    said = "".join(part for part in remedy if isinstance(part, str))
    assert said.index("lock it out") < said.index("by hand") < said.index("Keep away")
