"""The plan of the work for every part, encoder kind, brake and orientation; its order and cautions.

The order is that of the trade (common practice, no source): see rules/swap_plan.yaml.
"""

from __future__ import annotations

import copy
import datetime
import itertools
import json
import re
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any, cast

import pytest
from axisproof.base.errors import InputError
from axisproof.catalogue.catalogue import shipped
from axisproof.importing.entry import load_trees
from axisproof.report import sheet, spare_json, spare_text
from axisproof.report.rendering import CAUTION, RenderOptions
from axisproof.swap.api import spare
from axisproof.swap.part import KINDS, Kind
from axisproof.swap.planning import EVERYTHING, plan_file, step_names
from axisproof.swap.result import PlanStep, SpareReport
from axisproof.swap.roles import read_roles

HALL = Path(__file__).parents[2] / "fixtures" / "sound" / "hall.yaml"
DAY = datetime.date(2026, 3, 1)
ENCODERS = ("incremental", "absolute_singleturn", "battery", "batteryless")


@lru_cache(maxsize=1)
def hall_axes() -> dict[str, Any]:
    plain = cast("dict[str, Any]", load_trees([HALL])[0].plain)
    axes = json.loads(json.dumps(plain["axes"], default=str))
    return cast("dict[str, Any]", axes)


def axis_with(encoder: str, brake: bool, vertical: bool) -> dict[str, Any]:
    """The lift of the hall, altered."""
    axis = copy.deepcopy(hall_axes()["lift"])
    axis["mechanics"]["moved_by_gravity"] = vertical
    axis["motor"]["commutation"] = {"motor_serial": "M-1", "encoder_serial": "E-1"}
    axis["drive"]["discharge_time"] = "7 min"
    axis["storage"] = {"turns": "encoder", "offset": "drive", "motor_data": "drive"} | {
        "commutation": "drive"
    }
    if not brake:
        axis["motor"]["brake"] = "none"
    if encoder in ("incremental", "absolute_singleturn"):
        axis["encoder"]["kind"] = encoder
        for name in ("distinguishable_revolutions", "capability", "turn_counter"):
            axis["encoder"].pop(name)
        axis["drive"].pop("distinguishable_revolutions")
    if encoder == "incremental":
        axis["encoder"]["index_pulse"] = True
        axis["drive"]["encoder_use"] = "incremental"
        axis["controller"]["homing"]["method"] = "limit_switch_negative_index"
    if encoder == "batteryless":
        axis["encoder"]["turn_counter"] |= {"backup": "batteryless", "battery": "none"}
    return axis


def part_of(part: str, axis: dict[str, Any]) -> dict[str, Any]:
    """A spare like what is fitted."""
    plain: dict[str, Any] = {"format": 1, "part": part}
    if part == "gearbox":
        return plain | {"gearbox": axis["mechanics"]["stages"][0]}
    if part == "battery":
        return plain | {"battery": {"places": ["cable"], "life": "3 years"}}
    plain[part] = copy.deepcopy(axis[part])
    plain[part]["serial"] = "NEW-1"
    if part == "motor":
        plain["encoder"] = copy.deepcopy(axis["encoder"]) | {"serial": "NEW-2"}
    return plain


@pytest.fixture(scope="module")
def plan_of(tmp_path_factory: pytest.TempPathFactory) -> Any:
    folder = tmp_path_factory.mktemp("plans")

    @lru_cache(maxsize=200)
    def report(part: Kind, encoder: str, brake: bool, vertical: bool) -> SpareReport:
        axis = axis_with(encoder, brake, vertical)
        machine, file = folder / "machine.json", folder / "spare.json"
        machine.write_text(json.dumps({"format": 1, "machine": "m", "axes": {"lift": axis}}))
        file.write_text(json.dumps(part_of(part, axis)))
        return spare(machine, "lift", part, file, on=DAY, plan=True)

    return report


def has_place(part: str, encoder: str) -> bool:
    return part != "battery" or encoder == "battery"


CASES = [
    case
    for case in itertools.product(KINDS, ENCODERS, (True, False), (True, False))
    if has_place(case[0], case[1])
]


def before(names: tuple[str, ...], first: str, second: str) -> bool:
    """Whether every step is there and in this order."""
    return names.index(first) < names.index(second)


@pytest.mark.parametrize(("part", "encoder", "brake", "vertical"), CASES)
def test_the_plan_is_right_for_part_encoder_brake_and_orientation(
    plan_of: Any, part: Kind, encoder: str, brake: bool, vertical: bool
) -> None:
    report = plan_of(part, encoder, brake, vertical)
    assert report.plan is not None
    names = step_names(report)
    steps = {step.name: step for step in report.plan.steps}
    multi = encoder in ("battery", "batteryless")
    new_encoder = part in ("motor", "encoder")

    # every step says what, why and what to expect; phases run in one direction
    assert len(set(names)) == len(names)
    for step in report.plan.steps:
        assert all((step.do, step.why, step.expect))
        assert "unknown" not in step.do + step.expect
    phases = list(dict.fromkeys(step.phase for step in report.plan.steps))
    ranks = [plan_file(shipped()).phases.index(phase) for phase in phases]
    assert ranks == sorted(set(ranks))

    # a suspended load is supported mechanically before anything is loosened, not by its brake
    assert ("support-load" in steps) == vertical
    if vertical:
        assert "mechanically" in steps["support-load"].do
        assert "brake is no support" in steps["support-load"].why
        assert before(names, "support-load", "take-support-away")
        loosened = "change-battery" if part == "battery" else "exchange"
        assert before(names, "support-load", loosened)
    # … and stays on its support until motor and brake have been seen to carry it
    if vertical:
        assert before(names, "enable-on-support", "jog-off-the-support")
        brake_step = "brake-test" if part in ("motor", "drive") else "brake-holds-load"
        assert (brake_step in steps) == brake
        if brake:
            assert before(names, "jog-off-the-support", brake_step)
            assert before(names, brake_step, "take-support-away")
        assert before(names, "jog-off-the-support", "take-support-away")
        moved = "two-points" if part == "battery" else "low-torque-jog"
        assert before(names, "take-support-away", moved)
        turned = "power-after-battery" if part == "battery" else "turn-by-hand"
        assert before(names, turned, "enable-on-support")
    else:
        assert not {"enable-on-support", "jog-off-the-support", "brake-holds-load"} & set(steps)
    assert ("brake-test" in steps) == (brake and part in ("motor", "drive"))

    # the battery branch keeps the control supply on; all others isolate first
    if part == "battery":
        assert not {"isolate", "exchange"} & set(steps)
        assert steps["control-supply-stays-on"].do.startswith("Leave the control supply on")
        assert before(names, "control-supply-stays-on", "change-battery")
        assert report.lessons == ()
        assert "battery-position-kept" in steps
    else:
        assert before(names, "isolate", "stored-energy")
        assert before(names, "stored-energy", "prove-dead")
        assert before(names, "prove-dead", "exchange")
    assert "7 min" in steps["stored-energy"].do

    # commutation before enabling
    taught = {lesson.what for lesson in report.lessons}
    assert ("commutation" in steps) == ("commutation" in taught)
    assert ("commutation" in taught) == (part in ("motor", "encoder", "drive"))
    if "commutation" in steps:
        assert before(names, "power-without-enable", "commutation")
        assert before(names, "commutation", "commutation-first-enable")
        assert before(names, "commutation", "low-torque-jog")
        assert steps["commutation"].phase == "power up without enabling"
        assert "run away" in steps["commutation"].why

    # turns: reset, made equal, wrap out of the travel, then taught
    wraps = [name for name in names if name.startswith("wrap-")]
    # the shaft of the encoder turns while a gearbox is out, so its turns are wrong too
    assert bool(wraps) == (multi and (new_encoder or part == "gearbox"))
    assert ("encoder-reset" in steps) == (encoder == "battery" and new_encoder)
    if wraps and encoder == "battery" and new_encoder:
        assert before(names, "encoder-reset", "turn-count-setting")
    if wraps and new_encoder:
        assert before(names, "turn-count-setting", "power-cycle")
    if wraps:
        assert before(names, wraps[0], "home")
        assert "65536 rev" in steps["turn-count-setting"].do

    # taught, then proved, then handed back
    # (the incremental axis homes to its index pulse, so its reference moves with it too)
    referenced = part != "battery"
    assert ("calibrate" in steps) == ("home" in steps) == ("reference" in taught) == referenced
    if referenced:
        assert before(names, "limit-switches", "home")
        assert before(names, "home", "calibrate")
        assert before(names, "calibrate", "two-points")
        assert before(names, "two-points", "full-power-cycle")
        assert ("index-distance" in steps) == (encoder == "incremental")
        forgets = encoder in ("incremental", "absolute_singleturn")
        assert ("home-again" in steps) == forgets
        assert ("read-again" in steps) == (not forgets)
        assert before(names, "full-power-cycle", "home-again" if forgets else "read-again")
    # the interlock is looked at when it must be set, and only else by taking the homed state away
    sets_it = part in ("motor", "encoder", "drive")
    assert ("interlock-at-power-up" in steps) == sets_it
    assert ("interlock-test" in steps) == ("home-and-release" in steps) == (not sets_it)
    if sets_it:
        assert before(names, "power-without-enable", "interlock-at-power-up")
        assert "encoder-reset" not in names or before(
            names, "interlock-at-power-up", "encoder-reset"
        )
        assert "no automatic run" in steps["interlock-at-power-up"].expect
        assert before(names, "interlock-at-power-up", "release-interlock")
    else:
        assert before(names, "interlock-test", "home-and-release")
    assert ("safety-functions" in steps) == (part != "battery")
    assert names[-1] == "check-and-compare"
    assert all(word in steps[names[-1]].do for word in ("Export", "check`", "changes`"))

    # what leaves with the part is known before it is taken out
    assert ("offset-leaves-with-drive" in steps) == (part == "drive")
    leaving = {row.name for row in steps["what-leaves"].rows if row.value == "is lost"}
    assert ("the turns that the encoder has counted" in leaving) == (multi and new_encoder)
    assert all(steps[name].phase == "before removal" for name in names if "leave" in name)


@pytest.mark.parametrize(("part", "encoder", "brake", "vertical"), CASES[::5])
def test_cautions_are_in_every_form_of_every_plan(
    plan_of: Any, part: Kind, encoder: str, brake: bool, vertical: bool
) -> None:
    report = plan_of(part, encoder, brake, vertical)
    options = RenderOptions(width=80)
    page = sheet.render(report, options)
    flat = " ".join(spare_text.render(report, options).split())
    plain = json.loads(spare_json.render(report, options))
    assert CAUTION in flat
    assert plain["caution"] == CAUTION
    assert page.count(CAUTION.replace("'", "&#39;")) == 1
    for step in report.plan.steps:
        if step.caution:
            assert f"Caution {step.caution}" in flat
    assert [each["caution"] for each in plain["plan"]] == [s.caution for s in report.plan.steps]
    assert "never says that a machine is safe" in flat


@pytest.mark.parametrize("encoder", ["incremental", "absolute_singleturn", "batteryless"])
def test_an_axis_without_battery_has_none_to_replace(tmp_path: Path, encoder: str) -> None:
    axis = axis_with(encoder, True, True)
    machine, file = tmp_path / "machine.json", tmp_path / "spare.json"
    machine.write_text(json.dumps({"format": 1, "machine": "m", "axes": {"lift": axis}}))
    file.write_text(json.dumps(part_of("battery", axis)))
    with pytest.raises(InputError, match=r"for a battery to keep|no battery to replace"):
        spare(machine, "lift", "battery", file, on=DAY)


def test_a_gantry_has_its_partner_inhibited_and_squareness_checked() -> None:
    fixtures = HALL.parent.parent / "spares"
    report = spare(
        HALL, "gantry_x1", "motor", fixtures / "motor_short_range.yaml", on=DAY, plan=True
    )
    names = step_names(report)
    assert before(names, "partner", "exchange")
    assert before(names, "calibrate", "gantry-square")
    assert report.plan is not None
    step = next(step for step in report.plan.steps if step.name == "partner")
    assert "gantry_x2" in step.do


def test_what_is_not_known_makes_a_step_stay_in_the_plan_and_say_so(tmp_path: Path) -> None:
    axis = axis_with("battery", True, True)
    axis["mechanics"].pop("moved_by_gravity")
    axis["storage"].pop("commutation")
    machine, file = tmp_path / "machine.json", tmp_path / "spare.json"
    machine.write_text(json.dumps({"format": 1, "machine": "m", "axes": {"lift": axis}}))
    file.write_text(json.dumps(part_of("drive", axis)))
    report = spare(machine, "lift", "drive", file, on=DAY, plan=True)
    assert report.plan is not None
    steps = {step.name: step for step in report.plan.steps}
    assert steps["support-load"].missing == ("axes.lift.mechanics.moved_by_gravity",)
    assert steps["commutation"].missing == ("axes.lift.storage.commutation",)
    text = " ".join(spare_text.render(report, RenderOptions(width=80)).split())
    assert (
        "Do it unless it is known not to apply. Not stated: axes.lift.mechanics.moved_by_gravity"
        in text
    )


@pytest.mark.parametrize(
    ("unfolding", "direction", "window"),
    [
        # 10 mm per turn, travel -80 to 980 mm, reference -60 mm: 2 turns down, 104 up, of 65536
        ("encoder_zero_unsigned", "same", ("from 2 to 65431 turns", "wrap-unsigned")),
        ("encoder_zero_unsigned", "reversed", ("from 104 to 65533 turns", "wrap-unsigned-falling")),
        ("encoder_zero_signed", "same", ("Half of 65536 rev", "wrap-signed")),
        ("symmetric", "same", ("symmetric", "wrap-follows-reference")),
    ],
)
def test_the_wrap_is_put_out_of_the_travel_where_the_unfolding_asks_for_it(
    tmp_path: Path, unfolding: str, direction: str, window: tuple[str, str]
) -> None:
    axis = copy.deepcopy(hall_axes()["infeed_pusher"])
    axis["controller"]["unfolding"] = unfolding
    axis["encoder"]["count_direction"] = axis["drive"]["encoder_direction"] = direction
    machine, file = tmp_path / "machine.json", tmp_path / "spare.json"
    machine.write_text(json.dumps({"format": 1, "machine": "m", "axes": {"pusher": axis}}))
    file.write_text(json.dumps(part_of("encoder", axis)))
    report = spare(machine, "pusher", "encoder", file, on=DAY, plan=True)
    assert report.plan is not None
    text, name = window
    (step,) = [step for step in report.plan.steps if step.name.startswith("wrap-")]
    assert step.name == name
    assert text in step.do


def test_expected_conditions_carry_the_codes_and_clearing_of_the_site() -> None:
    fixtures = HALL.parent.parent / "spares"
    report = spare(
        HALL, "infeed_pusher", "motor", fixtures / "motor_like_fitted.yaml", on=DAY, plan=True
    )
    assert report.plan is not None
    step = next(step for step in report.plan.steps if step.name == "expected-conditions")
    rows = {row.name: row for row in step.rows}
    assert rows["position lost"].value == "shown as place-lost"
    assert "encoder reset, then power cycle, then homing" in rows["position lost"].note
    assert rows["motor unlike record"].value == "code not stated"


def test_the_steps_of_the_file_are_sound() -> None:
    file = plan_file(shipped())
    names = [step.name for step in file.stated_steps]
    assert len(set(names)) == len(names)
    known = {"step", "phase", "new", "teaches", "when", "known", "not_known", "do", "why", "expect",
             "caution", "rows", "lost", "choice", "otherwise", "unless", "readings"}  # fmt: skip
    earlier: set[str] = set()
    memories = {memory.name for memory in read_roles(shipped()).memories}
    for entry, stated in zip(file.plain["steps"], file.stated_steps, strict=True):
        assert stated.unless <= earlier, entry["step"]
        earlier.add(stated.name)
        assert stated.lost <= memories
        assert set(entry) <= known, entry["step"]
        assert set(entry.get("new", ())) <= EVERYTHING
        assert stated.teaches <= set(read_roles(shipped()).teach)
        for each in entry.get("readings", ()):
            assert set(each) == {"label", "unit"}
            assert all(isinstance(text, str) and text for text in each.values())
        for key in ("do", "why", "expect", "caution"):
            texts = entry.get(key, "")
            for text in texts if isinstance(texts, list) else ():
                assert isinstance(text, str) or set(text) == {"when", "text"}
    ranks = [file.phases.index(step.phase) for step in file.stated_steps]
    assert ranks == sorted(ranks)
    assert file.conditions


@pytest.mark.parametrize(
    ("axis", "there"), [("lift", True), ("crate_shift", True), ("turret", False)]
)
def test_axes_that_can_collide_are_moved_out_of_the_way(axis: str, there: bool) -> None:
    file = HALL.parent.parent / "spares" / "motor_like_fitted.yaml"
    motion = "turret" if axis == "turret" else None
    spare_file, spare_axis = (HALL, motion) if motion else (file, None)
    report = spare(HALL, axis, "motor", spare_file, spare_axis=spare_axis, on=DAY, plan=True)
    names = step_names(report)
    assert ("collision-partners" in names) == there
    if there:
        assert before(names, "collision-partners", "low-torque-jog")


# What makes the reference -------------------------------------------------------------------------


def planned(
    folder: Path, axis: dict[str, Any], part: Kind = "encoder"
) -> tuple[SpareReport, dict[str, PlanStep]]:
    """The report for a part like what is fitted, and the steps of its plan by name, in order."""
    machine, file = folder / "machine.json", folder / "spare.json"
    machine.write_text(json.dumps({"format": 1, "machine": "m", "axes": {"x": axis}}))
    file.write_text(json.dumps(part_of(part, axis)))
    report = spare(machine, "x", part, file, on=DAY, plan=True)
    assert report.plan is not None
    return report, {step.name: step for step in report.plan.steps}


def touched(folder: Path, axis: dict[str, Any], work: Kind) -> dict[str, PlanStep]:
    """The steps of the plan of a work that needs no spare."""
    machine = folder / "machine.json"
    machine.write_text(json.dumps({"format": 1, "machine": "m", "axes": {"x": axis}}))
    report = spare(machine, "x", work, on=DAY, plan=True)
    assert report.plan is not None
    return {step.name: step for step in report.plan.steps}


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


# Which way the position goes ----------------------------------------------------------------------


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


# A hanging axis -----------------------------------------------------------------------------------


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


# Software limits, interlock, resets ---------------------------------------------------------------


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


def test_cautions_stand_before_the_step_they_belong_to(plan_of: Any) -> None:
    report = plan_of("motor", "battery", True, True)
    options = RenderOptions(width=100)
    text = " ".join(spare_text.render(report, options).split())
    page = " ".join(sheet.render(report, options).replace("&#39;", "'").split())
    for number, step in enumerate(report.plan.steps, 1):
        if step.caution:
            assert f"Caution {step.caution} [ ] {number} {step.do}" in text
            own = page[page.index(f'id="{step.name}"') :]
            assert own.index(step.caution) < own.index(f'id="do{number}"')
    keys = list(json.loads(spare_json.render(report, options))["plan"][0])
    assert keys.index("caution") < keys.index("do")
