"""Waivers and the accepted set: shown always, counted only while they are what was approved."""

from __future__ import annotations

import datetime
import json
import os
import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from axisproof import api
from axisproof.base.errors import InputError
from axisproof.cli.main import run
from axisproof.findings.finding import Finding, Report
from axisproof.report import html, junit, markdown, sarif
from axisproof.report import text as text_report
from axisproof.report.json import document
from axisproof.report.rendering import RenderOptions
from jsonschema import Draft202012Validator

from tests.captured import Captured

LIFT = Path(__file__).parents[2] / "fixtures/changes/lift"
FAST = LIFT / "speed-raised-past-room.yaml"
RULE = "software-limits-leave-room-to-stop"
DAY = datetime.date(2026, 11, 25)


def flat(text: str) -> str:
    """The text with its line breaks and indentation folded."""
    return re.sub(r"\s+", " ", text)


WAIVER: dict[str, Any] = {
    "rule": RULE,
    "machine": "Bottling hall",
    "axis": "lift",
    "reason": "The upper end is guarded until the stop is exchanged.",
    "approved_by": "maintenance lead",
    "expires": "2026-12-31",
    "values": {"controller.max_velocity": "450 mm/s"},
}


def waiver_file(folder: Path, *entries: dict[str, Any]) -> Path:
    path = folder / "waivers.json"
    path.write_text(json.dumps({"waivers": 1, "entries": list(entries)}, indent=1), "utf-8")
    return path


def checked(folder: Path, *entries: dict[str, Any], **options: Any) -> Report:
    options = {"on": DAY} | options
    waivers = waiver_file(folder, *entries)
    return api.check([FAST], api.CheckOptions(waivers=waivers, **options))


def only(report: Report, rule: str) -> Finding:
    (finding,) = [each for each in report.findings if each.rule == rule]
    return finding


def test_a_waived_finding_stays_in_the_report_and_does_not_fail(tmp_path: Path) -> None:
    report = checked(tmp_path, WAIVER)
    waived = only(report, RULE).waived
    assert waived is not None
    assert (waived.approved_by, waived.expires) == ("maintenance lead", "2026-12-31")
    assert waived.place is not None
    assert waived.place.line == 4
    assert len(report.findings) == 1
    assert report.at_or_above("note") == 0
    assert report.levels == {"error": 1}


def test_it_holds_on_its_last_day_and_lapses_on_the_next(tmp_path: Path) -> None:
    last = checked(tmp_path, WAIVER, on=datetime.date(2026, 12, 31))
    assert last.at_or_above("note") == 0
    after = checked(tmp_path, WAIVER, on=datetime.date(2027, 1, 1))
    assert only(after, RULE).waived is None
    lapsed = only(after, "waiver-lapsed")
    assert lapsed.message == f"the waiver of {RULE} on lift expired on 2026-12-31"
    (mark,) = lapsed.marks
    assert "2026-12-31" in mark.line_text


@pytest.mark.parametrize(
    ("values", "message"),
    [
        (
            {"controller.max_velocity": "400 mm/s"},
            "controller.max_velocity = 400 mm/s, which is now 450 mm/s",
        ),
        ({"drive.node": 4}, "drive.node = 4, which is not stated"),
        ({"drive.max_speed": "unstated"}, "drive.max_speed = unstated, which is now 4000 rpm"),
        ({"motor.brake": "none"}, "motor.brake = none, which is now described"),
        ({"drive.gear": "described"}, "drive.gear = described, which is now none"),
        (
            {"mechanics.stages[0].motor_turns_per_load_turn": "5/2"},
            "mechanics.stages[0].motor_turns_per_load_turn = 5/2, which is now 2",
        ),
        (
            {"interlocks[0].released_by": ["homing"]},
            "interlocks[0].released_by = [homing], which is now [homing_and_calibration]",
        ),
    ],
)
def test_it_lapses_when_a_value_it_was_granted_for_changes(
    tmp_path: Path, values: dict[str, Any], message: str
) -> None:
    report = checked(tmp_path, {**WAIVER, "values": values})
    assert only(report, RULE).waived is None
    finding = only(report, "waiver-lapsed")
    assert finding.message == f"the waiver of {RULE} on lift was granted for {message}"
    assert finding.marks[0].place.file.endswith("waivers.json")
    if "not stated" not in message and "described" not in message:
        assert any(mark.place.file == FAST.as_posix() for mark in finding.marks)


@pytest.mark.parametrize(
    "values",
    [
        {"controller.max_velocity": "0.45 m/s"},
        {"axes.lift.controller.max_velocity": "45 cm/s"},
        {"controller.homing.taught.on": "2026-02-03"},
        {"motor.brake": "described", "drive.gear": "none", "drive.node": "unstated"},
        {"mechanics.stages[0].motor_turns_per_load_turn": 2},
        {"interlocks[0].latched": True, "encoder.counts_per_revolution": 131072},
        {"interlocks[0].released_by": ["homing_and_calibration"]},
        {"network.cycle_time": "unstated"},
    ],
)
def test_the_same_value_in_other_words_is_the_same(tmp_path: Path, values: dict[str, Any]) -> None:
    assert checked(tmp_path, {**WAIVER, "values": values}).at_or_above("note") == 0


@pytest.mark.parametrize(
    ("changed", "level", "why"),
    [
        ({"rule": "turn-counts-match"}, "warning", "there is no such finding"),
        ({"axis": "hoist"}, "warning", "Bottling hall has no axis hoist"),
        ({"machine": "Hall 2"}, "note", "no machine named Hall 2 was checked"),
    ],
)
def test_a_waiver_that_covers_nothing_is_a_finding(
    tmp_path: Path, changed: dict[str, Any], level: str, why: str
) -> None:
    unstated = {"values": {"drive.node": "unstated"}}
    report = checked(tmp_path, WAIVER, {**WAIVER, **unstated, **changed})
    finding = only(report, "waiver-unused")
    assert finding.level == level
    assert finding.message.endswith(f"covers nothing: {why}")
    assert only(report, RULE).waived is not None


def test_a_second_waiver_for_the_same_is_unused(tmp_path: Path) -> None:
    report = checked(tmp_path, WAIVER, WAIVER)
    assert [finding.rule for finding in report.findings] == [RULE, "waiver-unused"]


def test_a_finding_about_the_whole_machine_is_waived_without_an_axis(tmp_path: Path) -> None:
    machine = tmp_path / "machine.yaml"
    machine.write_text(
        "format: 1\nmachine: Cell\naxes:\n  a: {motion: linear, drive: {node: 3}}\n"
        "  b: {motion: linear, drive: {node: 3}}\n",
        "utf-8",
    )
    waiver = {key: value for key, value in WAIVER.items() if key != "axis"}
    waiver |= {
        "rule": "unique-node-addresses",
        "machine": "Cell",
        "values": {"axes.b.drive.node": 3},
    }
    report = api.check([machine], api.CheckOptions(waivers=waiver_file(tmp_path, waiver), on=DAY))
    assert only(report, "unique-node-addresses").waived is not None
    assert report.at_or_above("note") == 0


@pytest.mark.parametrize(
    ("changed", "what", "expected"),
    [
        ({"rule": "turn-count-match"}, "turn-count-match is not a rule", "turn-counts-match"),
        ({"rule": "waiver-lapsed"}, "waiver-lapsed cannot be waived", "another rule"),
        ({"expires": "2026-02-30"}, "2026-02-30 is no day of the calendar", "YYYY-MM-DD"),
        ({"expires": "soon"}, "expires is 'soon'", "Last day"),
        ({"approved_by": ""}, "approved_by is ''", "something"),
        ({"reason": ""}, "reason is ''", "something"),
        ({"values": {}}, "values is an empty record", "something"),
        ({"values": {"drive.nodes": 3}}, "drive.nodes is not a fact", "drive.node"),
        ({"values": {"interlocks[0].latch": True}}, "interlocks[0].latch is not a fact", "latched"),
        ({"values": {"interlocks[a].latched": True}}, "interlocks[a].latched is not a fact", ""),
        ({"values": {"drive.node[0]": 3}}, "drive.node[0] is not a fact", ""),
        ({"values": {"axes..drive.node": 3}}, "axes..drive.node is not a path", "axes.infeed"),
        ({"values": {"axes.a b.drive.node": 3}}, "axes.a b.drive.node is not a path", "axes."),
        ({"values": {"network.nodes[0].adress": 3}}, "is not a fact", "address"),
        ({"approver": "x"}, "approver is not known here", "approved_by"),
    ],
)
def test_a_waiver_that_cannot_be_used_is_one_error_at_its_place(
    tmp_path: Path, changed: dict[str, Any], what: str, expected: str
) -> None:
    with pytest.raises(InputError) as caught:
        checked(tmp_path, {**WAIVER, **changed})
    assert what in caught.value.what
    assert expected in caught.value.expected
    assert caught.value.place is not None
    assert caught.value.place.line > 1


def test_a_waiver_lacking_its_day_says_so(tmp_path: Path) -> None:
    entry = {key: value for key, value in WAIVER.items() if key != "expires"}
    with pytest.raises(InputError, match="lacks 'expires'"):
        checked(tmp_path, entry)


def test_each_of_many_findings_is_looked_at_once_however_many_waivers_there_are(
    tmp_path: Path,
) -> None:
    from axisproof.catalogue.catalogue import shipped
    from axisproof.checking.waivers import apply_waivers, read_waivers

    asked = []

    class CountedFinding:
        machine, subject, waived = "Bottling hall", "lift", None

        @property
        def rule(self) -> str:
            asked.append(1)
            return "another rule"

    entries = [{**WAIVER, "reason": f"reason {number}"} for number in range(50)]
    waivers = read_waivers(waiver_file(tmp_path, *entries), shipped())
    findings: list[Any] = [CountedFinding() for _ in range(50)]
    told = apply_waivers(findings, waivers, [], DAY)
    assert len(told) == 100
    assert len(asked) == 50


def test_no_file_asks_for_a_person() -> None:
    for name in ("waivers", "accepted"):
        text = files("axisproof.schemas").joinpath(f"{name}.schema.json").read_text("utf-8")
        Draft202012Validator.check_schema(json.loads(text))
        assert "email" not in text
    assert "Name roles, not persons" in files("axisproof.schemas").joinpath(
        "waivers.schema.json"
    ).read_text("utf-8")


def test_text_and_json_show_the_waiver(tmp_path: Path) -> None:
    report = checked(tmp_path, WAIVER)
    shown = flat(text_report.render(report, RenderOptions(width=200)))
    assert "Waived until 2026-12-31, approved by maintenance lead: The upper end" in shown
    assert "Found 1 error (1 waived)." in shown
    (finding,) = document(report)["findings"]
    assert finding["waived"]["approved_by"] == "maintenance lead"
    assert finding["waived"]["accepted"] is False


EVERYWHERE = ("text", "json", "sarif", "junit", "markdown", "html")
SCRIPT = "<script>alert(1)</script> ]] | `x` @team \x1b[31m"


@pytest.mark.parametrize("form", EVERYWHERE)
def test_every_form_shows_who_approved_and_why_and_the_finding(tmp_path: Path, form: str) -> None:
    out = tmp_path / "report"
    given = ["check", str(FAST), "--waivers", str(waiver_file(tmp_path, WAIVER))]
    assert run([*given, "--on", "2026-11-25", "--format", form, "--output", str(out)]) == 0
    shown = flat(out.read_text("utf-8")).replace("\\", "")
    for text in ("maintenance lead", "The upper end is guarded", "2026-12-31", RULE):
        assert text in shown, text


@pytest.mark.parametrize("form", EVERYWHERE)
def test_every_form_shows_what_is_accepted_and_what_of_it_is_gone(
    tmp_path: Path, accepted: Path, form: str
) -> None:
    out = tmp_path / "report"
    for machine, words in (
        (FAST, "2026-02-03"),
        (LIFT / "before.yaml", "The axis moves at up to 450 mm/s"),
    ):
        given = ["check", str(machine), "--accepted", str(accepted), "--format", form, "--force"]
        assert run([*given, "--output", str(out)]) == 0
        shown = flat(out.read_text("utf-8")).replace("\\", "")
        assert words in shown
        assert RULE in shown


def test_in_sarif_it_is_a_result_with_a_suppression(tmp_path: Path) -> None:
    log = sarif.document(checked(tmp_path, WAIVER))
    (result,) = [each for each in log["runs"][0]["results"] if each["ruleId"] == RULE]
    (suppression,) = result["suppressions"]
    assert (suppression["kind"], suppression["status"]) == ("external", "accepted")
    assert "maintenance lead" in suppression["justification"]
    place = suppression["location"]["physicalLocation"]
    assert place["artifactLocation"]["uri"].endswith("waivers.json")
    assert place["region"]["startLine"] == 4


def test_in_junit_it_is_a_case_that_passes_and_says_why(tmp_path: Path) -> None:
    report = checked(tmp_path, WAIVER)
    suite = ET.fromstring(junit.render(report, RenderOptions()))[0]
    assert suite.get("failures") == "0"
    (case,) = [each for each in suite.iter("testcase") if each.get("name") == RULE]
    told = case.findtext("system-out")
    assert told is not None
    assert told.startswith("error: Waived: until 2026-12-31, approved by maintenance lead")


def test_in_a_merge_request_what_counts_comes_first(tmp_path: Path) -> None:
    lapsed = {**WAIVER, "rule": "turn-counts-match", "expires": "2026-01-01"}
    shown = markdown.render(checked(tmp_path, WAIVER, lapsed), RenderOptions())
    assert shown.startswith("## axisproof: 1 error, 1 warning (1 waived), ")
    assert shown.index("### Warning: waiver") < shown.index("### Error: software")


def test_nothing_in_a_waiver_acts_as_markup(tmp_path: Path) -> None:
    report = checked(tmp_path, {**WAIVER, "reason": SCRIPT.replace("\x1b", "")})
    (finding,) = report.findings
    assert finding.waived is not None
    hostile = replace(finding, waived=replace(finding.waived, reason=SCRIPT))
    report = replace(report, findings=(hostile,))
    assert "<script>" not in html.render(report, RenderOptions())
    shown = markdown.render(report, RenderOptions())
    assert "<script>" not in shown
    assert "@team" not in shown
    for render in (text_report.render, junit.render, markdown.render, html.render):
        assert "\x1b" not in render(report, RenderOptions())


# The accepted set --------------------------------------------------------------------------------


@pytest.fixture
def accepted(tmp_path: Path, capsys: Captured) -> Path:
    path = tmp_path / "accepted.json"
    assert run(["accept", str(FAST), "-o", str(path), "--on", "2026-02-03"]) == 0
    assert capsys.readouterr().out == f"Recorded 1 finding in {path}.\n"
    return path


def test_accepted_findings_do_not_fail_and_new_ones_do(
    tmp_path: Path, accepted: Path, capsys: Captured
) -> None:
    assert run(["check", str(FAST)]) == 1
    assert run(["check", str(FAST), "--accepted", str(accepted)]) == 0
    assert "Accepted part of the accepted set, recorded on 2026-02-03" in flat(
        capsys.readouterr().out
    )
    worse = tmp_path / "worse.yaml"
    text = FAST.read_text("utf-8")
    worse.write_text(text.replace("max_speed: 4000 rpm", "max_speed: 1000 rpm"), "utf-8")
    assert run(["check", str(worse), "--accepted", str(accepted)]) == 1


def test_an_accepted_finding_with_other_values_says_what_it_was(
    tmp_path: Path, accepted: Path
) -> None:
    worse = tmp_path / "worse.yaml"
    worse.write_text(FAST.read_text("utf-8").replace("450 mm/s", "460 mm/s"), "utf-8")
    report = api.check([worse], api.CheckOptions(accepted=accepted))
    waived = only(report, RULE).waived
    assert waived is not None
    assert waived.reason.startswith(
        "recorded on 2026-02-03, when it said: The axis moves at up to 450"
    )


def test_accepted_findings_that_are_gone_are_told(accepted: Path, capsys: Captured) -> None:
    report = api.check([LIFT / "before.yaml"], api.CheckOptions(accepted=accepted))
    assert [(each.rule, each.subject) for each in report.accepted_gone] == [(RULE, "lift")]
    assert run(["check", str(LIFT / "before.yaml"), "--accepted", str(accepted)]) == 0
    assert "Accepted, and no longer found" in capsys.readouterr().out


def test_a_waived_finding_that_is_also_accepted_is_not_gone(tmp_path: Path, accepted: Path) -> None:
    report = checked(tmp_path, WAIVER, accepted=accepted)
    waived = only(report, RULE).waived
    assert waived is not None
    assert not waived.accepted
    assert report.accepted_gone == ()


def test_the_set_is_as_its_schema_says_and_the_same_each_time(accepted: Path) -> None:
    plain = json.loads(accepted.read_text("utf-8"))
    schema = files("axisproof.schemas").joinpath("accepted.schema.json").read_text("utf-8")
    Draft202012Validator(json.loads(schema)).validate(plain)
    report = api.check([FAST])
    day = datetime.date(2026, 2, 3)
    assert api.accepted_text(report, day) == accepted.read_text("utf-8")


def test_nothing_is_overwritten_without_force(accepted: Path, capsys: Captured) -> None:
    before = accepted.read_text("utf-8")
    assert run(["accept", str(LIFT / "before.yaml"), "-o", str(accepted)]) == 2
    assert accepted.read_text("utf-8") == before
    assert run(["accept", str(LIFT / "before.yaml"), "-o", str(accepted), "--force"]) == 0
    assert json.loads(accepted.read_text("utf-8"))["findings"] == []
    machine = accepted.parent / "machine.yaml"
    machine.write_text(FAST.read_text("utf-8"), "utf-8")
    assert run(["accept", str(machine), "-o", str(machine), "--force"]) == 2
    assert machine.read_text("utf-8") == FAST.read_text("utf-8")
    assert not [path for path in accepted.parent.iterdir() if path.name.endswith(".part")]


def test_a_report_never_replaces_waivers_or_accepted_set(
    tmp_path: Path, accepted: Path, capsys: Captured
) -> None:
    waivers = waiver_file(tmp_path, WAIVER)
    for option, path in (("--waivers", waivers), ("--accepted", accepted)):
        before = path.read_text("utf-8")
        given = ["check", str(FAST), option, str(path), "--output", str(path), "--force"]
        assert run(given) == 2
        assert path.read_text("utf-8") == before


@pytest.mark.parametrize("text", ["accepted: 2\n", "accepted: 1\nfindings: []\n", "[]", "", "a: ["])
def test_a_file_that_is_no_accepted_set_is_one_clear_error(
    tmp_path: Path, capsys: Captured, text: str
) -> None:
    path = tmp_path / "accepted.yaml"
    path.write_text(text, "utf-8")
    for option in ("--accepted", "--waivers"):
        assert run(["check", str(FAST), option, str(path)]) == 2
        told = capsys.readouterr()
        assert told.err.startswith("Unusable input: ")
        assert "accepted.yaml:1:" in flat(told.err)
        assert told.out == ""


def test_beside_machines_in_a_folder_they_are_no_machines(
    tmp_path: Path, accepted: Path, capsys: Captured
) -> None:
    waiver_file(tmp_path, WAIVER)
    (tmp_path / "machine.yaml").write_text(FAST.read_text("utf-8"), "utf-8")
    assert api.check([tmp_path]).machines == ("Bottling hall",)
    assert run(["check", str(accepted)]) == 2
    assert "is an accepted set, which describes no machine" in flat(capsys.readouterr().err)


def test_machines_told_apart_by_names_that_are_no_utf8_can_be_accepted(tmp_path: Path) -> None:
    from axisproof.base.safe_write import write_file

    text = (LIFT.parent.parent / "faults" / "ratio-as-exact-as-on-record.yaml").read_text("utf-8")
    folder = tmp_path / "machines"
    folder.mkdir()
    for name in (b"\xff.yaml", b"\xfe.yaml"):
        Path(os.fsdecode(os.path.join(os.fsencode(folder), name))).write_text(text, "utf-8")
    report = api.check([folder], api.CheckOptions(on=DAY))
    assert len(report.findings) == 2
    write_file(tmp_path / "accepted.json", api.accepted_text(report, DAY))
    again = api.check([folder], api.CheckOptions(on=DAY, accepted=tmp_path / "accepted.json"))
    assert again.at_or_above("note") == 0
    assert again.accepted_gone == ()
