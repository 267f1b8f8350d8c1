"""The plan of the work for every part, encoder kind, brake and orientation, with cautions."""

from __future__ import annotations

import copy
import itertools
import json
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest
from axisproof.base.errors import InputError
from axisproof.catalogue.catalogue import shipped
from axisproof.report import sheet, spare_json, spare_text
from axisproof.report.rendering import CAUTION, RenderOptions
from axisproof.swap.api import spare
from axisproof.swap.part import KINDS, Kind
from axisproof.swap.planning import EVERYTHING, plan_file, step_names
from axisproof.swap.result import SpareReport
from axisproof.swap.roles import read_roles

from tests.swap.planned_work import DAY, HALL, axis_with, before, hall_axes, part_of

ENCODERS = ("incremental", "absolute_singleturn", "battery", "batteryless")


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
    """Whether the axis has such a part; two encoders have a test of their own."""
    return part != "second_encoder" and (part != "battery" or encoder == "battery")


CASES = [
    case
    for case in itertools.product(KINDS, ENCODERS, (True, False), (True, False))
    if has_place(case[0], case[1])
]


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
