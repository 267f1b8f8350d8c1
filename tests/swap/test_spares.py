"""Every spare in fixtures/spares gets the verdict that expected.yaml says, and for its reasons."""

from __future__ import annotations

import datetime
import json
import re
from collections.abc import Mapping
from decimal import Decimal
from functools import lru_cache
from pathlib import Path
from typing import Any, cast

import pytest
import yaml
from axisproof.base.errors import InputError
from axisproof.importing.entry import load_trees
from axisproof.report.spare_words import verdict_words
from axisproof.swap.api import spare
from axisproof.swap.part import Kind
from axisproof.swap.result import SpareReport

FOLDER = Path(__file__).parents[2] / "fixtures" / "spares"
HALL = FOLDER.parent / "sound" / "hall.yaml"
DAY = datetime.date(2026, 3, 1)
EXPECTED: Mapping[str, Mapping[str, Any]] = yaml.safe_load((FOLDER / "expected.yaml").read_text())


@lru_cache(maxsize=64)
def judged(name: str) -> SpareReport:
    part = cast("Kind", name.partition("_")[0])
    return spare(HALL, EXPECTED[name]["axis"], part, FOLDER / f"{name}.yaml", on=DAY, plan=True)


def below_axis(report: SpareReport, fact: str) -> str:
    return fact.removeprefix(f"axes.{report.axis}.")


def test_every_spare_has_an_expectation() -> None:
    files = {path.stem for path in FOLDER.glob("*.yaml")} - {"expected"}
    assert files == set(EXPECTED)
    assert len(files) >= 12


@pytest.mark.parametrize("name", sorted(EXPECTED))
def test_a_spare_gets_its_verdict_for_its_reasons(name: str) -> None:
    report, wanted = judged(name), EXPECTED[name]
    assert report.verdict == wanted["verdict"]
    writes = {below_axis(report, write.fact): write.new for write in report.writes}
    assert writes == {fact: str(new) for fact, new in wanted.get("writes", {}).items()}
    against = [each.rule for each in report.broken]
    against += [below_axis(report, row.fact) for row in report.unequal]
    assert sorted(against) == sorted(wanted.get("against", []))
    assert sorted(each.rule for each in report.warnings) == sorted(wanted.get("settle", []))
    assert [lesson.what for lesson in report.lessons] == wanted.get("teach", [])
    figures = [figure for each in report.broken for figure in each.figures]
    by = [figure.text for figure in figures if figure.name.startswith("too ")]
    for text in wanted.get("too", []):
        assert text in by
    assert report.before == ()


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("motor_weak_brake", "too weak for the load (by 0.505 N·m)."),
        ("motor_weak_brake", "too weak to replace the fitted brake. It holds 0.9 N·m. The fitted"),
        ("motor_too_weak", "too weak to replace the fitted motor. It gives 1.3 N·m rated and 2.2"),
        ("drive_too_weak", "too weak to replace the fitted drive. It gives 1.5 A rated and 2 A"),
        ("gearbox_reversing", "reversing must match: fitted no, spare yes."),
        ("motor_short_range", "too short for the travel (by 657 mm)."),
        # The cause stands before what follows from it.
        ("encoder_incremental", "Does not fit. encoder.kind must match: fitted absolute_multiturn"),
    ],
)
def test_a_verdict_says_against_what_a_part_is_too_weak(name: str, words: str) -> None:
    assert words in verdict_words(judged(name))


def test_a_shortfall_is_the_difference_of_the_two_numbers_told() -> None:
    told = 0
    for name in EXPECTED:
        verdict = verdict_words(judged(name))
        for finding in (*judged(name).broken, *judged(name).warnings):
            numbers = [Decimal(each) for each in re.findall(r"\d+(?:\.\d+)?", finding.headline)]
            apart = {abs(one - other) for one in numbers for other in numbers}
            for each in finding.figures:
                if each.name.startswith("too ") and f"(by {each.text})" in verdict:
                    told += 1
                    assert Decimal(each.text.partition(" ")[0]) in apart, finding.headline
    assert told >= 4


def test_fitting_as_it_is_never_means_that_nothing_is_to_be_taught() -> None:
    report = judged("motor_like_fitted")
    assert report.fits_as_it_is
    assert not report.writes
    assert [lesson.what for lesson in report.lessons] == [
        "reference", "turns", "motor_data", "homed_flag"
    ]  # fmt: skip


def test_what_would_go_wrong_without_writing_is_told_beside_the_verdict() -> None:
    report = judged("motor_fewer_turns")
    assert {"encoder-counts-match", "turn-counts-match"} <= {e.rule for e in report.as_it_comes}
    assert report.broken == ()


def test_a_node_address_is_a_setting_for_this_place() -> None:
    report = judged("drive_of_another_axis")
    write = next(each for each in report.writes if each.fact.endswith(".node"))
    assert (write.role, write.old, write.new) == ("place", "5", "1")
    assert "unique-node-addresses" in {each.rule for each in report.as_it_comes}


def test_figures_are_worked_through_the_gearing() -> None:
    figures = {row.name: row for row in judged("motor_rollover").figures}
    # 7:1, 360 deg: 65534 turns are 3370320 deg, 4095 turns are 4095 x 360/7 deg
    assert figures["absolute range"].fitted == "3370320 deg"
    assert figures["absolute range"].spare == "210600 deg"
    assert figures["encoder revolutions that close whole cycles"].spare == "7 rev"
    assert figures["shift of the true position at each rollover"].spare == "0 deg"
    finer = {row.name: row for row in judged("motor_finer_encoder").figures}
    assert finer["counts per user unit"].fitted == "13107.2 count/mm"
    assert finer["counts per user unit"].spare_data["numerator"] == 524288
    assert finer["counts per user unit"].changed


def test_places_of_findings_lead_into_the_spare_file() -> None:
    report = judged("motor_too_slow")
    marks = [mark for each in report.broken for mark in each.marks]
    of_spare = [mark for mark in marks if mark.place.file.endswith("motor_too_slow.yaml")]
    assert [mark.line_text.strip() for mark in of_spare] == ["max_speed: 2500 rpm"]
    weak = judged("motor_too_weak")
    (found,) = weak.broken
    both = [(mark.label, Path(mark.place.file).name) for mark in found.marks[:2]]
    assert both == [
        ("motor.peak_torque", "motor_too_weak.yaml"),
        ("fitted: motor.peak_torque", "hall.yaml"),
    ]


def test_a_row_tells_each_fact_with_its_role() -> None:
    rows = {below_axis(judged("motor_like_fitted"), row.fact): row
            for row in judged("motor_like_fitted").rows}  # fmt: skip
    assert (rows["motor.serial"].role, rows["motor.serial"].state) == ("free", "differs")
    assert rows["encoder.kind"].role == "equal"
    assert rows["encoder.turn_counter.reading_at_reference"].role == "teach"
    assert rows["encoder.serial_at_calibration"].role == "record"
    assert "encoder.mounted_on" not in rows


def test_an_axis_with_its_encoder_on_the_load_keeps_it_when_the_motor_is_swapped() -> None:
    report = spare(HALL, "turret", "motor", FOLDER / "motor_like_fitted.yaml", on=DAY)
    assert not any(lesson.what == "reference" for lesson in report.lessons)
    assert any("stays" in note for note in report.notes)


def test_a_spare_can_be_taken_from_an_axis_of_a_machine_file() -> None:
    report = spare(HALL, "index_table", "motor", HALL, spare_axis="turret", on=DAY)
    assert report.spare.endswith("axis turret")
    # The turret's encoder is on the load, so its motor brings none.
    # The fitted encoder moves to another motor, and the motor is of another type.
    assert {lesson.what for lesson in report.lessons} == {
        "reference", "turns", "motor_data", "homed_flag"
    }  # fmt: skip
    # Half as strong, and nothing says how hard the table is stopped.
    (check,) = [e for e in report.undecided if e.rule == "spare-torque-not-below-fitted"]
    assert check.missing == ("axes.index_table.drive.stop_reaction.option",)


def test_a_motor_may_come_from_another_type_of_axis() -> None:
    # the table is rotary, the crate shift linear; both have the same motor
    report = spare(HALL, "crate_shift", "motor", HALL, spare_axis="index_table", on=DAY)
    assert "spare-torque-not-below-fitted" not in {each.rule for each in report.broken}


def test_what_the_machine_does_not_state_is_not_taken_for_equal(tmp_path: Path) -> None:
    text = HALL.read_text("utf-8").replace("include: [mechanics.yaml]", "")
    start = text.index("  infeed_pusher:")
    own = text[start : text.index("  crate_shift:")]
    altered = own.replace("      kind: absolute_multiturn\n", "")
    altered = altered.replace("      encoder_direction: same\n", "")
    machine = tmp_path / "hall.yaml"
    machine.write_text(text.replace(own, altered), "utf-8")
    encoder = tmp_path / "encoder.yaml"
    plain = (FOLDER / "motor_like_fitted.yaml").read_text("utf-8")
    plain = plain.replace("part: motor", "part: encoder")
    encoder.write_text(plain[: plain.index("motor:")] + plain[plain.index("encoder:\n") :], "utf-8")
    report = spare(machine, "infeed_pusher", "encoder", encoder, on=DAY)
    assert report.verdict == "cannot be said yet"
    assert [row.fact for row in report.unstated] == ["axes.infeed_pusher.encoder.kind"]
    drive = spare(machine, "infeed_pusher", "drive", FOLDER / "drive_like_fitted.yaml", on=DAY)
    assert drive.carried == ("axes.infeed_pusher.drive.encoder_direction",)


# A drive that ran on an axis of the other kind of motion -----------------------------------------


def judged_drive(folder: Path, text: str) -> SpareReport:
    file = folder / "drive.yaml"
    file.write_text(f"format: 1\npart: drive\n{text}")
    return spare(HALL, "infeed_pusher", "drive", file, on=DAY, plan=True)


@pytest.mark.parametrize("header", ["motion: rotary\n", ""])
def test_a_drive_of_the_other_kind_of_motion_fits_after_its_settings_are_written(
    tmp_path: Path, header: str
) -> None:
    drive = (FOLDER / "drive_like_fitted.yaml").read_text().partition("part: drive\n")[2]
    for mine, its in (
        ("{feed: 10 mm,", "{feed: 360 deg,"),
        ("deceleration: 8000 mm/s^2", "deceleration: 7200 deg/s^2"),
        ("following_error_window: 2 mm", "following_error_window: 5 deg"),
    ):
        assert mine in drive
        drive = drive.replace(mine, its)
    report = judged_drive(tmp_path, header + drive)
    assert report.verdict == "fits after settings"
    writes = {below_axis(report, write.fact): (write.old, write.new) for write in report.writes}
    foreign = {
        "drive.feed_constant.feed": ("360 deg", "10 mm"),
        "drive.stop_reaction.deceleration": ("7200 deg/s^2", "8000 mm/s^2"),
        "drive.following_error_window": ("5 deg", "2 mm"),
    }
    assert {fact: writes[fact] for fact in foreign} == foreign
    # it goes back to the state of delivery, so every setting is written, also those that were alike
    factory = EXPECTED["drive_from_the_factory"]["writes"]
    assert {fact: new for fact, (_, new) in writes.items()} == {
        fact: str(new) for fact, new in factory.items()
    }
    assert any("set up for a rotary axis" in note for note in report.notes)
    assert report.plan is not None
    steps = [step.name for step in report.plan.steps]
    assert steps.index("state-of-delivery") < steps.index("write-settings")


@pytest.mark.parametrize(
    ("part", "axis"),
    [
        ("motor", "infeed_pusher"),
        ("encoder", "infeed_pusher"),
        ("gearbox", "index_table"),
        ("battery", "infeed_pusher"),
    ],
)
def test_a_part_without_user_units_from_another_kind_of_motion_has_a_verdict(
    tmp_path: Path, part: Kind, axis: str
) -> None:
    """What the header says is told; the verdict is that of the same part without it."""
    text = (FOLDER / f"{part}_like_fitted.yaml").read_text()
    other = "linear" if axis == "index_table" else "rotary"
    file = tmp_path / "spare.yaml"
    file.write_text(text.replace(f"part: {part}\n", f"part: {part}\nmotion: {other}\n"))
    plain = spare(HALL, axis, part, FOLDER / f"{part}_like_fitted.yaml", on=DAY)
    report = spare(HALL, axis, part, file, on=DAY)
    assert report.verdict == plain.verdict
    assert [each for each in report.notes if each not in plain.notes] == [
        f"The {part} comes from a {other} axis, and this axis is another kind. It holds no "
        "settings in user units. What it states is compared as for each spare."
    ]


def test_units_of_a_drive_mean_nothing_where_its_header_states_another_motion(
    tmp_path: Path,
) -> None:
    """Lengths under a header that says rotary: they are no settings of this axis either."""
    drive = (FOLDER / "drive_like_fitted.yaml").read_text().partition("part: drive\n")[2]
    report = judged_drive(tmp_path, f"motion: rotary\n{drive}")
    assert report.verdict == "fits after settings"
    factory = EXPECTED["drive_from_the_factory"]["writes"]
    assert {below_axis(report, write.fact): write.new for write in report.writes} == {
        fact: str(new) for fact, new in factory.items()
    }
    assert any("set up for a rotary axis" in note for note in report.notes)


def test_a_drive_can_be_taken_from_an_axis_of_the_other_kind_of_motion() -> None:
    report = spare(HALL, "infeed_pusher", "drive", HALL, spare_axis="turret", on=DAY, plan=True)
    assert [each.rule for each in report.broken] == ["position-register-holds-range"]
    assert all("deg" not in write.new for write in report.writes)
    assert {"drive.feed_constant.feed", "drive.following_error_window"} <= {
        below_axis(report, write.fact) for write in report.writes
    }


def test_a_drive_of_the_same_kind_of_motion_is_not_set_back() -> None:
    report = judged("drive_of_another_axis")
    assert report.plan is not None
    assert "state-of-delivery" not in {step.name for step in report.plan.steps}


# Weaker than the fitted part --------------------------------------------------------------------


@pytest.mark.parametrize(
    ("rated", "peak", "verdict"),
    [
        # the motor takes 1.92 and 6.48 A; the axis asks 0.206559 and 1.69868 A, times 1.2
        ("20 A", "60 A", "fits as it is"),
        ("1.92 A", "60 A", "fits with warnings"),
        ("20 A", "6.48 A", "fits with warnings"),
        ("0.25 A", "60 A", "fits with warnings"),
        ("20 A", "2.04 A", "fits with warnings"),
        ("0.24 A", "60 A", "does not fit"),
        ("20 A", "2.03 A", "does not fit"),
    ],
)
def test_a_weaker_drive_is_held_against_what_motor_and_axis_take(
    tmp_path: Path, rated: str, peak: str, verdict: str
) -> None:
    drive = (FOLDER / "drive_like_fitted.yaml").read_text().partition("part: drive\n")[2]
    drive = drive.replace("rated_current: 20 A", f"rated_current: {rated}")
    drive = drive.replace("peak_current: 60 A", f"peak_current: {peak}")
    report = judged_drive(tmp_path, drive)
    assert report.verdict == verdict


@pytest.mark.parametrize("fact", ["rated_current", "peak_current"])
def test_a_drive_that_does_not_state_its_current_cannot_be_judged(
    tmp_path: Path, fact: str
) -> None:
    drive = (FOLDER / "drive_like_fitted.yaml").read_text().partition("part: drive\n")[2]
    drive = re.sub(rf"  {fact}: .*\n", "", drive)
    report = judged_drive(tmp_path, drive)
    assert report.verdict == "cannot be said yet"
    assert [each.fact for each in report.settle] == [f"axes.infeed_pusher.drive.{fact}"]


# A gearbox of another ratio ---------------------------------------------------------------------


def gearbox(tmp_path: Path, *lines: str, axis: str = "outfeed_belt") -> SpareReport:
    """The judgement of a gearbox of 10:1 and of what its file states beside it."""
    path = tmp_path / "gearbox.yaml"
    head = ("format: 1", "part: gearbox")
    own = "gearbox: {kind: gearbox, motor_turns_per_load_turn: 10, reversing: false}"
    path.write_text("\n".join((*head, own, *lines)), "utf-8")
    return spare(HALL, axis, "gearbox", path, on=DAY)


DUTY = "duty: [{torque: 2.2 N·m, time: 400 ms}, {torque: 1.1 N·m, time: 20 s}]"


def test_the_duty_of_the_fitted_ratio_says_nothing_of_another(tmp_path: Path) -> None:
    silent = gearbox(tmp_path)
    assert silent.verdict == "cannot be said yet"
    assert [each.fact for each in silent.settle] == ["axes.outfeed_belt.controller.duty"]
    assert any("fitted gear ratio" in note for note in silent.notes)
    told = gearbox(tmp_path, DUTY)
    assert told.verdict == "fits after settings"
    assert not any("fitted gear ratio" in note for note in told.notes)
    heavy = gearbox(tmp_path, "duty: [{torque: 14 N·m, time: 1 s}]")
    assert "duty-within-rated-torque" in {each.rule for each in heavy.broken}


def test_a_pair_gets_whole_counts_by_a_multiple_of_its_distance(tmp_path: Path) -> None:
    """65536 x 10 counts for 406.4 mm are whole counts for 2032 mm."""
    report = gearbox(tmp_path, DUTY)
    writes = {below_axis(report, write.fact): write.new for write in report.writes}
    assert writes["controller.scaling.counts"] == str(65536 * 50)
    assert writes["controller.scaling.distance"] == "2032 mm"


def test_what_the_axis_states_of_its_transmission_is_taken_over_and_that_is_said(
    tmp_path: Path,
) -> None:
    assert any(
        "Not compared: efficiency, inertia and backlash" in note
        for note in gearbox(tmp_path, DUTY).notes
    )
    anew = ("efficiency: 90 %", "transmission_inertia: 1 kg cm^2", "backlash: 90 mm")
    report = gearbox(tmp_path, DUTY, *anew)
    assert not any("Not compared" in note for note in report.notes)
    assert "backlash-within-accuracy" in {each.rule for each in report.warnings}


def test_what_a_file_states_anew_is_read_as_the_machine_file_is(tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        gearbox(tmp_path, "duty: [{torque: 2.2 N·m, time: 400 mm}]")
    assert "duty[0].time" in caught.value.what
    assert caught.value.place is not None
    assert caught.value.place.line == 4
    with pytest.raises(InputError, match="backlash"):
        gearbox(tmp_path, "backlash: 3 deg")


# A linear motor ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("rated", "peak", "verdict"),
    [
        # 15 kg at the 40 m/s2 of the hardest stop and 20 N of friction: 620 N, and 1.2 times that
        # is 744 N (m·a + F, elementary mechanics)
        ("800 N", "1800 N", "fits as it is"),
        ("744 N", "1800 N", "fits with warnings"),
        ("743 N", "1800 N", "does not fit"),
        ("744 N", "744 N", "fits with warnings"),
        ("800 N", "743 N", "does not fit"),
        ("", "1800 N", "cannot be said yet"),
        ("800 N", "", "cannot be said yet"),
    ],
)
def test_a_linear_motor_is_held_against_the_force_of_the_fitted_one_and_of_the_moves(
    tmp_path: Path, rated: str, peak: str, verdict: str
) -> None:
    file = FOLDER.parent / "sound" / "shuttle.yaml"
    plain = cast("dict[str, Any]", load_trees([file])[0].plain)
    axis = json.loads(json.dumps(plain["axes"]["tray_shuttle"], default=str))
    axis["motor"] |= {
        "rated_force": "800 N", "peak_force": "1800 N", "pole_pairs": 1, "rated_voltage": "300 V",
        "force_constant": "155 N/A",
        "flange": "none", "shaft": "none", "rated_current": "5 A", "peak_current": "15 A",
    }  # fmt: skip
    axis["drive"]["force_limit"] = "700 N"
    machine, file = tmp_path / "machine.json", tmp_path / "spare.json"
    machine.write_text(json.dumps({"format": 1, "machine": "m", "axes": {"x": axis}}))
    motor = {**axis["motor"], "serial": "M-9", "rated_force": rated, "peak_force": peak}
    motor = {name: value for name, value in motor.items() if value}
    file.write_text(json.dumps({"format": 1, "part": "motor", "motor": motor}))
    report = spare(machine, "x", "motor", file, on=datetime.date(2026, 5, 1))
    assert report.verdict == verdict
