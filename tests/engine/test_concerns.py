"""A deleted line never looks like a repair: what nothing was shown of fails, and is named."""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

import pytest
from axisproof import api
from axisproof.cli.main import run
from axisproof.engine.concerns import CONCERNS
from axisproof.findings.finding import Report
from axisproof.importing.entry import load_trees
from axisproof.report.formats import FORMS, renderer
from axisproof.report.rendering import CAUTION, RenderOptions

from tests.bench.faults.sound_machine import machine
from tests.captured import Captured

ROOT = Path(__file__).parents[2]
SOUND = ROOT / "fixtures" / "sound"

WITHOUT = {
    "turn counter": [
        "encoder.distinguishable_revolutions",
        "encoder.capability.distinguishable_revolutions",
        "drive.distinguishable_revolutions",
    ],
    "turn counter while power is off": ["encoder.turn_counter"],
    "gearing": ["drive", "controller.counts_per_unit", "controller.scaling", "mechanics.final"],
    "homing": ["controller.homing"],
    "interlock": ["interlocks"],
    "brake": ["mechanics.moved_by_gravity"],
}
"""Facts without which nothing of a concern can be decided."""


def absolute_axis() -> tuple[dict[str, Any], str]:
    """A sound machine of one axis with a multi-turn encoder that homes by a method."""
    for seed in range(200):
        plain = machine(seed, 1)
        if len(plain["axes"]) != 1:
            continue
        ((name, axis),) = plain["axes"].items()
        turns = axis["encoder"].get("kind") == "absolute_multiturn"
        if turns and axis["controller"]["homing"] != "none":
            return copy.deepcopy(plain), name
    raise AssertionError("no such machine")


def leave_out(axis: dict[str, Any], path: str) -> None:
    *above, last = path.split(".")
    at: Any = axis
    for key in above:
        at = at.get(key, {}) if isinstance(at, dict) else {}
    if isinstance(at, dict):
        at.pop(last, None)


def written(tmp_path: Path, plain: dict[str, Any], name: str = "machine.json") -> Path:
    path = tmp_path / name
    path.write_text(json.dumps(plain, indent=1), "utf-8")
    return path


def checked(path: Path) -> Report:
    return api.check([path], api.CheckOptions(every_outcome=True, jobs=1))


def test_a_sound_machine_has_every_concern_decided(tmp_path: Path) -> None:
    plain, _ = absolute_axis()
    assert checked(written(tmp_path, plain)).undecided_concerns == ()


@pytest.mark.parametrize("stated", [True, False, None])
def test_an_axis_that_may_hang_needs_a_brake_that_is_stated(
    stated: bool | None, tmp_path: Path
) -> None:
    """Without brake: a level axis needs none, a hanging one is a finding, silence is a failure."""
    plain, name = absolute_axis()
    axis = plain["axes"][name]
    axis["motor"]["brake"] = "none"
    axis["mechanics"] |= {"moved_by_gravity": stated, "counterbalance": "none"}
    if stated is None:
        del axis["mechanics"]["moved_by_gravity"]
    report = checked(written(tmp_path, plain))
    found = {finding.rule for finding in report.findings}
    assert ("vertical-axis-has-brake" in found) == (stated is True)
    assert {each.concern for each in report.undecided_concerns} == (
        {"brake"} if stated is None else set()
    )


@pytest.mark.parametrize("concern", WITHOUT)
def test_a_concern_without_its_facts_fails_and_every_form_names_the_axis(
    concern: str, tmp_path: Path, capsys: Captured
) -> None:
    plain, name = absolute_axis()
    for path in WITHOUT[concern]:
        leave_out(plain["axes"][name], path)
    file = written(tmp_path, plain)
    report = checked(file)
    assert concern in {each.concern for each in report.undecided_concerns}
    assert {each.subject for each in report.undecided_concerns} == {name}
    assert report.findings == ()
    for form in FORMS:
        text = renderer(form)(report, RenderOptions(width=200))
        flat = " ".join(text.replace("\\", "").split())
        assert name in flat, form
        if form in ("text", "markdown", "html", "json", "junit", "sarif"):
            assert CAUTION[:30] in flat, form
        if form == "json":
            assert {e["concern"] for e in json.loads(text)["undecided_concerns"]} >= {concern}
        else:
            assert f"Nothing about the {concern} could be decided" in flat, form
    assert run(["check", str(file)]) == 1
    assert run(["check", str(file), "--fail-at", "never"]) == 0
    capsys.readouterr()


@pytest.mark.parametrize(
    ("file", "last"),
    [
        ("README.md", " or "),
        ("lint/guide/reports.md", " or "),
        ("lint/guide/ci.md", " or "),
        ("lint/cli/main.py", " or "),
        ("lint/cli/merge.py", " or "),
        ("lint/report/sarif.py", " and "),
    ],
)
def test_texts_for_people_name_each_concern(file: str, last: str) -> None:
    *others, final = (concern for concern in CONCERNS if " while " not in concern)
    text = " ".join((ROOT / file).read_text("utf-8").split()).replace('" f"', "").replace('" "', "")
    assert f"{', '.join(others)}{last}{final}" in text


@pytest.mark.parametrize("silent", ["gantry_x1", "gantry_x2"])
def test_a_gantry_of_which_one_side_says_nothing_is_a_failure(silent: str, tmp_path: Path) -> None:
    plain = json.loads(json.dumps(load_trees([SOUND / "hall.yaml"])[0].plain, default=str))
    assert checked(written(tmp_path, plain)).undecided_concerns == ()
    axis = plain["axes"][silent]
    plain["axes"][silent] = {key: axis[key] for key in ("motion", "gantry")}
    found = checked(written(tmp_path, plain)).undecided_concerns
    assert {(e.concern, e.subject) for e in found if e.concern == "gantry"} == {("gantry", silent)}


@pytest.mark.parametrize("leader", ["gantry_x1", "gantry_x2"])
@pytest.mark.parametrize("deleted", ["gantry.racking_tolerance", "gantry"])
def test_a_line_of_a_gantry_that_is_deleted_hides_no_failure(
    deleted: str, leader: str, tmp_path: Path
) -> None:
    """One side stands a millimetre off the other one, and a fact that shows it is deleted."""
    plain = json.loads(json.dumps(load_trees([SOUND / "hall.yaml"])[0].plain, default=str))
    for name in ("gantry_x1", "gantry_x2"):
        plain["axes"][name]["gantry"]["role"] = "leader" if name == leader else "follower"
    plain["axes"]["gantry_x2"]["controller"]["homing"]["reference_position"] = "-249 mm"
    assert [f.rule for f in checked(written(tmp_path, plain)).findings] == [
        "gantry-references-square"
    ]
    for name in ("gantry_x1", "gantry_x2")[deleted == "gantry" :]:  # each side states a tolerance
        leave_out(plain["axes"][name], deleted)
    report = checked(written(tmp_path, plain))
    assert report.findings == ()
    ((concern, partly),) = {(e.concern, e.partly) for e in report.undecided_concerns}
    # Without a follower's gantry nothing at all compares it with its leader.
    assert (concern, partly) == ("gantry", (deleted, leader) != ("gantry", "gantry_x1"))


@pytest.mark.parametrize("fact", ["partner", "role"])
@pytest.mark.parametrize("silent", [{"gantry_x1"}, {"gantry_x2"}, {"gantry_x1", "gantry_x2"}])
def test_a_member_of_a_gantry_that_names_no_partner_or_no_role_is_a_failure(
    silent: set[str], fact: str, tmp_path: Path
) -> None:
    plain = json.loads(json.dumps(load_trees([SOUND / "hall.yaml"])[0].plain, default=str))
    for name in silent:
        del plain["axes"][name]["gantry"][fact]
    found = checked(written(tmp_path, plain)).undecided_concerns
    assert {(each.concern, each.subject) for each in found} == {("gantry", each) for each in silent}
    assert all(f"axes.{each.subject}.gantry.{fact}" in each.missing for each in found)


@pytest.mark.parametrize("kept", [("motion", "gantry"), ("motion",)])
@pytest.mark.parametrize("silent", ["gantry_x1", "gantry_x2", "gantry_x3"])
def test_a_silent_member_of_a_gantry_of_three_is_a_failure(
    silent: str, kept: tuple[str, ...], tmp_path: Path
) -> None:
    plain = json.loads(json.dumps(load_trees([SOUND / "store.yaml"])[0].plain, default=str))
    assert checked(written(tmp_path, plain)).undecided_concerns == ()
    axis = plain["axes"][silent]
    plain["axes"][silent] = {key: axis[key] for key in kept}
    found = checked(written(tmp_path, plain)).undecided_concerns
    assert {(e.concern, e.subject) for e in found if e.concern == "gantry"} == {("gantry", silent)}


def test_an_axis_whose_position_matters_to_nobody_is_no_failure(tmp_path: Path) -> None:
    plain, name = absolute_axis()
    plain["axes"][name]["controller"]["position_matters"] = False
    for path in WITHOUT["turn counter"]:
        leave_out(plain["axes"][name], path)
    assert checked(written(tmp_path, plain)).undecided_concerns == ()


def test_a_concern_that_does_not_apply_is_no_failure(tmp_path: Path) -> None:
    """An incremental axis has no turn counter to check."""
    for seed in range(200):
        plain = machine(seed, 1)
        ((name, axis),) = list(plain["axes"].items())[:1]
        if len(plain["axes"]) == 1 and axis["encoder"]["kind"] == "incremental":
            leave_out(plain["axes"][name], "motor.rated_speed")
            report = checked(written(tmp_path, plain))
            assert "turn counter" not in {e.concern for e in report.undecided_concerns}
            return
    raise AssertionError("no such machine")


@pytest.mark.parametrize(
    "path", ["drive.distinguishable_revolutions", "encoder.serial", "interlocks", "controller"]
)
def test_a_deleted_line_fails_the_comparison(path: str, tmp_path: Path, capsys: Captured) -> None:
    plain, name = absolute_axis()
    old = written(tmp_path, plain, "old.json")
    leave_out(plain["axes"][name], path)
    new = written(tmp_path, plain, "new.json")
    report = api.changes(old, new)
    assert report.lost_checks
    assert {each.subject for each in report.lost_checks} <= {name, ""}
    assert run(["changes", str(old), str(new)]) == 1
    out = " ".join(capsys.readouterr().out.split())
    assert "Decided before, and now data is missing" in out
    assert name in out
    assert run(["changes", str(old), str(new), "--format", "json"]) == 1
    assert json.loads(capsys.readouterr().out)["lost_checks"]
    assert run(["changes", str(old), str(old)]) == 0
    assert run(["changes", str(new), str(new)]) == 0


def test_a_broken_check_that_lost_its_fact_is_no_repair(tmp_path: Path, capsys: Captured) -> None:
    plain, name = absolute_axis()
    plain["axes"][name]["drive"]["distinguishable_revolutions"] -= 1
    old = written(tmp_path, plain, "old.json")
    leave_out(plain["axes"][name], "drive.distinguishable_revolutions")
    new = written(tmp_path, plain, "new.json")
    assert run(["check", str(old)]) == 1
    assert run(["changes", str(old), str(new)]) == 1
    assert "turn-counts-match" in {each.rule for each in api.changes(old, new).lost_checks}
    capsys.readouterr()


def test_a_contradiction_that_lost_one_of_its_statements_is_no_repair(
    tmp_path: Path, capsys: Captured
) -> None:
    """The check does not apply without it, so it is neither decided nor undecided."""
    plain, name = absolute_axis()
    encoder = plain["axes"][name]["encoder"]
    encoder["serial_at_calibration"] = "E-another"
    old = written(tmp_path, plain, "old.json")
    assert run(["check", str(old)]) == 1
    del encoder["serial_at_calibration"]
    new = written(tmp_path, plain, "new.json")
    assert run(["check", str(new)]) == 0
    capsys.readouterr()
    assert run(["changes", str(old), str(new)]) == 1
    out = " ".join(capsys.readouterr().out.split())
    assert "reference-calibrated-with-fitted-encoder" in out
    assert f"axes.{name}.encoder.serial_at_calibration" in out
    (lost,) = api.changes(old, new).lost_checks
    assert lost.subject == name


def test_a_check_that_another_part_does_not_need_is_not_lost(tmp_path: Path) -> None:
    """A changed fact says why the check does not apply, so that is no deleted line."""
    plain, name = absolute_axis()
    axis = plain["axes"][name]
    axis["encoder"]["serial_at_calibration"] = "E-another"
    old = written(tmp_path, plain, "old.json")
    axis["encoder"]["kind"] = "incremental"
    del axis["encoder"]["serial_at_calibration"]
    new = written(tmp_path, plain, "new.json")
    lost = {each.rule for each in api.changes(old, new).lost_checks}
    assert "reference-calibrated-with-fitted-encoder" not in lost


def test_a_passed_check_that_ends_with_a_deleted_line_fails_and_is_named(
    tmp_path: Path, capsys: Captured
) -> None:
    plain, name = absolute_axis()
    encoder = plain["axes"][name]["encoder"]
    encoder["serial_at_calibration"] = encoder["serial"]
    old = written(tmp_path, plain, "old.json")
    del encoder["serial_at_calibration"]
    new = written(tmp_path, plain, "new.json")
    assert run(["check", str(new)]) == 0
    capsys.readouterr()
    assert run(["changes", str(old), str(new)]) == 1
    out = " ".join(capsys.readouterr().out.split())
    assert "1 check passed before and does not apply now." in out
    assert "It ended because a fact is not stated any more. This is a failure." in out
    assert f"changed: axes.{name}.encoder.serial_at_calibration" in out
    run(["changes", str(old), str(new), "--format", "json"])
    (ended,) = json.loads(capsys.readouterr().out)["ended_checks"]
    assert ended["rule"] == "reference-calibrated-with-fitted-encoder"
    assert (ended["subject"], ended["count"], ended["failure"]) == (name, 1, True)
    assert ended["facts"] == [f"axes.{name}.encoder.serial_at_calibration"]


def test_a_passed_check_that_another_part_does_not_need_is_told_and_no_failure(
    tmp_path: Path,
) -> None:
    """The kind of the encoder changed, so somebody stated why nothing of it is checked."""
    plain, name = absolute_axis()
    axis = plain["axes"][name]
    axis["encoder"]["serial_at_calibration"] = axis["encoder"]["serial"]
    old = written(tmp_path, plain, "old.json")
    axis["encoder"]["kind"] = "incremental"
    del axis["encoder"]["serial_at_calibration"]
    new = written(tmp_path, plain, "new.json")
    report = api.changes(old, new)
    ended = {each.rule: each for each in report.ended_checks}
    assert "turn-counts-match" in ended
    assert not ended["turn-counts-match"].failure
    assert f"axes.{name}.encoder.kind" in ended["turn-counts-match"].facts


def test_a_passed_check_of_another_concern_that_ends_is_told_alone(tmp_path: Path) -> None:
    plain, name = absolute_axis()
    old = written(tmp_path, plain, "old.json")
    motor = plain["axes"][name]["motor"]
    del motor["inertia"]
    new = written(tmp_path, plain, "new.json")
    ended = {each.rule: each.failure for each in api.changes(old, new).ended_checks}
    assert ended.get("inertia-fits-motor-torque") is False


def test_a_machine_that_is_gone_fails_the_comparison(tmp_path: Path, capsys: Captured) -> None:
    plain, name = absolute_axis()
    other = {**copy.deepcopy(plain), "machine": "Other"}
    both, one = tmp_path / "both", tmp_path / "one"
    both.mkdir()
    one.mkdir()
    written(both, plain, "a.json")
    written(both, other, "b.json")
    written(one, plain, "a.json")
    assert run(["changes", str(both), str(one)]) == 1
    assert f"The axis {name} is gone with its machine" in " ".join(capsys.readouterr().out.split())
