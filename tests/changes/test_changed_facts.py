"""What counts as a changed fact, and what of the findings is new, gone or there anyway."""

from __future__ import annotations

import json
from pathlib import Path

from axisproof import api
from axisproof.cli.main import run
from axisproof.report import changes_text
from axisproof.report.rendering import RenderOptions

from tests.captured import Captured
from tests.changes.two_versions import Version, one, told


def test_a_changed_fact_is_told_with_both_places(version: Version) -> None:
    new = version("new.yaml", ("max_speed: 4000 rpm", "max_speed: 4100 rpm"))
    old = version("old.yaml")
    change = one(api.changes(old, new))
    assert (change.subject, change.fact, change.kind) == ("lift", "drive.max_speed", "changed")
    assert (change.old, change.new) == ("4000 rpm", "4100 rpm")
    assert change.old_mark is not None
    assert change.new_mark is not None
    assert Path(change.old_mark.place.file) == old
    assert Path(change.new_mark.place.file) == new
    assert "4100 rpm" in change.new_mark.line_text


def test_a_fact_that_goes_or_comes_is_told(version: Version) -> None:
    without = version("without.yaml", ("      max_speed: 4000 rpm\n", ""))
    whole = version("whole.yaml")
    assert told(api.changes(whole, without)) == [("drive.max_speed", "4000 rpm", None)]
    assert told(api.changes(without, whole)) == [("drive.max_speed", None, "4000 rpm")]


def test_a_part_that_is_taken_away_is_one_change(version: Version) -> None:
    report = api.changes(
        version("old.yaml"), version("new.yaml", ("brake: {holding_torque: 4 N·m}", "brake: none"))
    )
    assert told(report) == [("motor.brake", "described", "none")]


def test_items_of_a_list_are_matched_by_name_wherever_they_stand(version: Version) -> None:
    first = "    interlocks:\n"
    extra = (
        "    interlocks:\n      - {name: door open, triggers: [], inhibits: [all_motion],"
        " latched: false}\n"
    )
    report = api.changes(version("old.yaml"), version("new.yaml", (first, extra)))
    assert told(report) == [("interlocks[door open]", None, "an entry of 4 facts")]


def test_a_list_that_may_be_incomplete_now_is_told(version: Version) -> None:
    report = api.changes(
        version("old.yaml"),
        version("new.yaml", ("[homing_and_calibration]", "{partial: [homing_and_calibration]}")),
    )
    assert told(report) == [
        (
            "interlocks[position doubtful].released_by",
            "[homing_and_calibration]",
            "{partial: [homing_and_calibration]}",
        )
    ]


def test_a_fact_that_became_disputed_is_told(version: Version) -> None:
    disputed = "{claims: [{value: 4000 rpm, source: a}, {value: 4100 rpm, source: b}]}"
    report = api.changes(
        version("old.yaml"), version("new.yaml", ("max_speed: 4000 rpm", f"max_speed: {disputed}"))
    )
    assert told(report) == [("drive.max_speed", "4000 rpm", "4000 rpm (a) or 4100 rpm (b)")]
    assert [finding.rule for finding in report.new_findings] == ["sources-agree"]


def test_a_changed_setting_is_told(version: Version) -> None:
    stated = (
        "axes:\n",
        "settings: {counterbalance_enough: {value: 90 %, reason: proved by test}}\naxes:\n",
    )
    report = api.changes(version("old.yaml"), version("new.yaml", stated))
    assert told(report) == [("settings.counterbalance_enough", None, "90 %")]


def test_a_finding_is_the_same_whatever_its_line_and_value(version: Version) -> None:
    slow = ("      max_speed: 4000 rpm\n", "      max_speed: 1000 rpm\n")
    old = version("old.yaml", slow)
    new = version("new.yaml", slow, ("axes:\n", "\n\naxes:\n"), ("300 mm/s\n", "310 mm/s\n"))
    report = api.changes(old, new)
    (still,) = report.persisting
    assert still.finding.rule == "top-speed-within-motor-and-drive"
    assert "needs 1860 rpm" in still.finding.message
    assert "needs 1800 rpm" in still.message_before
    assert report.new_findings == report.gone == ()
    assert "Before: Motor or drive is too slow" in changes_text.render(
        report, RenderOptions(width=400)
    )


def test_an_axis_under_another_name_keeps_its_findings(version: Version) -> None:
    slow = ("      max_speed: 4000 rpm\n", "      max_speed: 1000 rpm\n")
    old, new = version("old.yaml", slow), version("new.yaml", slow, ("  lift:", "  hoist:"))
    report = api.changes(old, new)
    assert [each.finding.subject for each in report.persisting] == ["hoist"]
    assert report.new_findings == report.gone == ()
    (change,) = report.axis_changes
    assert (change.kind, change.old_name, change.subject) == ("renamed", "lift", "hoist")


def test_an_axis_that_is_gone_and_still_named_says_who_names_it(version: Version) -> None:
    crossing = ("axes:\n", "collision_pairs: [{first: lift, second: lift}]\naxes:\n")
    old = version("old.yaml", crossing)
    new = version(
        "new.yaml", crossing, ("  lift:", "  pump:"), ("E-99871", "E-1"), ("M-20498", "M-1"),
        ("D-4105", "D-1"),
    )  # fmt: skip
    (finding,) = api.changes(old, new).brought
    assert finding.rule == "axis-removed"
    assert finding.message == "the axis lift is gone, and collision_pairs[0] still names it"
    assert Path(finding.marks[0].place.file) == old


def test_a_rule_is_not_asked_about_what_did_not_change(version: Version) -> None:
    unknown = ("      serial: E-99871\n", "")
    old = version("old.yaml", unknown)
    new = version("new.yaml", unknown, ("max_speed: 4000 rpm", "max_speed: 4100 rpm"))
    assert api.changes(old, new).undecided == ()


def test_a_check_that_lost_its_fact_is_undecided(version: Version) -> None:
    new = version("new.yaml", ("      serial: E-99871\n", ""))
    report = api.changes(version("old.yaml"), new)
    lacking = {check.rule: check.missing for check in report.undecided}
    assert lacking["replaced-encoder-is-taught-again"] == ("axes.lift.encoder.serial",)
    assert "reference-taught-with-fitted-encoder" in {c.rule for c in report.newly_undecided}


def test_folders_are_compared_machine_by_machine(tmp_path: Path, version: Version) -> None:
    version("old/lift.yaml")
    version("old/other.yaml", ("machine: Bottling hall", "machine: Cell"))
    version("new/lift.yaml", ("max_speed: 4000 rpm", "max_speed: 1000 rpm"))
    version("new/third.yaml", ("machine: Bottling hall", "machine: Hall 3"))
    report = api.changes(tmp_path / "old", tmp_path / "new")
    assert [(c.machine, c.kind) for c in report.axis_changes] == [
        ("Hall 3", "added"),
        ("Cell", "removed"),
    ]
    assert {finding.machine for finding in report.new_findings} == {"Bottling hall"}
    assert one(report).machine == "Bottling hall"


def test_what_follows_from_the_order_of_homing_is_no_changed_fact(
    tmp_path: Path, capsys: Captured
) -> None:
    before, after = tmp_path / "before.json", tmp_path / "after.json"
    for path, homing in ((before, {"method": 37}), (after, "none")):
        axis = {"motion": "linear", "controller": {"homing": homing}}
        path.write_text(json.dumps({"format": 1, "machine": "m", "axes": {"lift": axis}}))
    run(["changes", str(before), str(after)])
    told = capsys.readouterr().out
    assert "controller.homing: described" in told
    assert "homes_after" not in told


def test_a_failed_check_that_a_part_stated_as_absent_silences_is_named_and_fails(
    tmp_path: Path, capsys: Captured
) -> None:
    """Fifteen is a reserved number (CiA 402, from memory). An axis never homed has no number."""
    before, after = tmp_path / "before.json", tmp_path / "after.json"
    for path, homing in ((before, {"method": 15}), (after, "none")):
        axis = {"motion": "linear", "controller": {"homing": homing}}
        path.write_text(json.dumps({"format": 1, "machine": "m", "axes": {"lift": axis}}))
    assert run(["changes", str(before), str(after)]) == 1
    told = capsys.readouterr().out
    assert "homing-method-not-reserved" in told.partition("Decided before")[2]
