"""Two versions of a machine: what changed, what the change brings, and what was there anyway."""

from __future__ import annotations

import json
import shutil
import subprocess
from collections.abc import Callable
from datetime import date
from importlib.resources import files
from pathlib import Path

import pytest
from axisproof import api
from axisproof.base.errors import InputError, UsageError
from axisproof.catalogue.catalogue import shipped
from axisproof.cli.main import run
from axisproof.findings.change_report import ChangeReport, FactChange
from axisproof.report import changes_text
from axisproof.report.changes_json import document
from axisproof.report.rendering import RenderOptions
from jsonschema import Draft202012Validator

ROOT = Path(__file__).parents[2]
PAIRS = ROOT / "fixtures/changes"
SCHEMA = json.loads(files("axisproof.schemas").joinpath("changes.schema.json").read_text("utf-8"))

Captured = pytest.CaptureFixture[str]

# Number of changed facts, rules about the change that are broken, ordinary findings that are new.
EXPECTED: dict[tuple[str, str], tuple[int, list[str], list[str]]] = {
    ("lift", "axis-renamed"): (0, ["axis-renamed"], []),
    ("lift", "brake-weakened"): (6, ["brake-is-as-strong-as-before"], []),
    ("lift", "commutation-not-taught"): (4, ["replaced-parts-have-commutation-taught"], []),
    ("lift", "direction-turned-without-teaching"): (1, ["turned-direction-is-taught-again"], []),
    ("lift", "drive-replaced-without-teaching"): (2, ["replaced-drive-is-taught-again"], []),
    ("lift", "encoder-replaced-and-taught"): (5, [], []),
    ("lift", "encoder-replaced-record-copied"): (
        3,
        ["replaced-encoder-is-taught-again", "replaced-parts-have-commutation-taught"],
        [],
    ),
    ("lift", "encoder-replaced-record-old"): (
        1,
        ["replaced-encoder-is-taught-again", "replaced-parts-have-commutation-taught"],
        ["commutation-taught-with-fitted-pair", "reference-taught-with-fitted-encoder"],
    ),
    ("lift", "following-error-window-widened"): (1, ["following-error-is-watched-as-closely"], []),
    ("lift", "gearing-corrected-and-taught"): (4, [], []),
    ("lift", "gearing-corrected-without-teaching"): (2, ["changed-scaling-is-taught-again"], []),
    ("lift", "homing-method-changed"): (
        1,
        ["changed-homing-is-taught-again"],
        ["reference-at-its-own-end"],
    ),
    ("lift", "incremental-scale-changed-limits-kept"): (
        6,
        ["changed-scaling-moves-limits"],
        ["software-limits-await-homing"],
    ),
    ("lift", "interlock-released-by-reset"): (
        2,
        ["interlocks-are-as-strict-as-before"],
        ["rehome-interlock-released-by-homing"],
    ),
    ("lift", "interlock-shared-out"): (3, [], []),
    ("lift", "interlock-trigger-removed"): (
        1,
        ["interlock-triggers-are-kept"],
        ["rehome-interlock-on-replaced-parts"],
    ),
    ("lift", "motor-replaced-without-teaching"): (
        3,
        ["replaced-motor-is-taught-again", "replaced-parts-have-commutation-taught"],
        [],
    ),
    ("lift", "nothing"): (0, [], []),
    ("lift", "reference-moved-without-record"): (1, ["moved-reference-has-a-record"], []),
    ("lift", "software-limit-widened"): (1, ["software-limits-are-not-widened"], []),
    ("lift", "software-limits-after-homing-only"): (1, ["software-limits-stay-in-force"], []),
    ("lift", "speed-raised-past-room"): (
        1,
        ["raised-speed-still-stops-in-time"],
        ["software-limits-leave-room-to-stop"],
    ),
    ("lift", "speed-raised-within-room"): (1, [], []),
    ("lift", "stop-reactions-softened"): (
        3,
        ["controller-stops-as-hard-as-before", "drive-stops-as-hard-as-before"],
        [],
    ),
    ("lift", "turn-count-changed-in-the-drive"): (
        1,
        ["turn-count-changed-on-both-sides"],
        ["turn-counts-match"],
    ),
    ("lift", "turn-count-changed-without-teaching"): (
        2,
        ["changed-turn-count-is-taught-again"],
        [],
    ),
    ("lift", "unit-changed-values-converted"): (1, [], []),
    ("lift", "unit-changed-values-kept"): (
        4,
        [
            "changed-unit-leaves-lengths-alone",
            "raised-speed-still-stops-in-time",
            "software-limits-are-not-widened",
        ],
        [
            "controller-scaling-without-slip",
            "software-limits-within-travel",
            "top-speed-in-its-unit",
        ],
    ),
    ("table", "axis-removed"): (0, ["axis-removed"], []),
    ("table", "incremental-scale-changed-cycle-kept"): (5, ["changed-scaling-moves-cycle"], []),
    ("table", "turn-count-of-the-new-encoder"): (
        3,
        ["changed-turn-count-is-taught-again", "wraps-are-still-retained"],
        ["rollover-divides-cycle"],
    ),
    ("table", "wraps-no-longer-retained"): (1, ["wraps-are-still-retained"], []),
}


def compare(folder: str, name: str) -> ChangeReport:
    return api.changes(PAIRS / folder / "before.yaml", PAIRS / folder / f"{name}.yaml")


@pytest.mark.parametrize(("folder", "name"), EXPECTED, ids=map("/".join, EXPECTED))
def test_a_pair_brings_what_is_expected(folder: str, name: str) -> None:
    report = compare(folder, name)
    facts, brought, new = EXPECTED[folder, name]
    assert len(report.facts) == facts
    assert sorted(finding.rule for finding in report.brought) == brought
    assert sorted(finding.rule for finding in report.new_findings) == new
    assert (report.persisting, report.gone, report.undecided) == ((), (), ())
    Draft202012Validator(SCHEMA).validate(json.loads(json.dumps(document(report))))
    lines = changes_text.render(report, RenderOptions()).splitlines()
    assert all(line.isprintable() for line in lines)
    # A path is whole, beside its margin of ten columns.
    assert all(len(line) <= 80 or " " not in line[10:].strip() for line in lines)


def test_every_pair_is_in_the_table() -> None:
    pairs = {
        (file.parent.name, file.stem) for file in PAIRS.glob("*/*.yaml") if file.stem != "before"
    }
    assert pairs == set(EXPECTED)
    assert len(pairs) >= 20


def test_every_rule_about_a_change_is_broken_by_a_pair() -> None:
    rules = {entry.name for entry in shipped().entries if entry.subject == "change"}
    broken = {rule for _, brought, _ in EXPECTED.values() for rule in brought}
    assert rules == broken - {"axis-removed", "axis-renamed"}


def test_a_pair_turned_round_has_its_findings_gone() -> None:
    folder = PAIRS / "table"
    report = api.changes(folder / "turn-count-of-the-new-encoder.yaml", folder / "before.yaml")
    assert [finding.rule for finding in report.gone] == ["rollover-divides-cycle"]
    assert report.new_findings == ()


@pytest.mark.parametrize(("folder", "name"), EXPECTED, ids=map("/".join, EXPECTED))
def test_the_facts_of_a_pair_turned_round_are_the_same_turned_round(folder: str, name: str) -> None:
    files = PAIRS / folder / "before.yaml", PAIRS / folder / f"{name}.yaml"
    there, back = api.changes(*files), api.changes(*reversed(files))
    assert sorted(told(there)) == sorted((fact, old, new) for fact, new, old in told(back))
    mirrored = {"added": "removed", "removed": "added", "changed": "changed"}
    kinds = sorted((change.fact, mirrored[change.kind]) for change in back.facts)
    assert sorted((change.fact, change.kind) for change in there.facts) == kinds
    assert len(back.gone) == len(there.new_findings)


@pytest.mark.parametrize("folder", ["lift", "table"])
def test_a_version_held_against_itself_changed_nothing(folder: str) -> None:
    for file in sorted((PAIRS / folder).glob("*.yaml")):
        report = api.changes(file, file)
        assert report.facts == report.axis_changes == report.brought == ()
        assert report.new_findings == report.gone == report.newly_undecided == ()


@pytest.fixture
def version(tmp_path: Path) -> Callable[..., Path]:
    """Writes a version of the lift with some texts replaced."""

    def write(name: str, *replaced: tuple[str, str]) -> Path:
        text = (PAIRS / "lift/before.yaml").read_text("utf-8")
        for old, new in replaced:
            assert old in text, old
            text = text.replace(old, new)
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, "utf-8")
        return path

    return write


Version = Callable[..., Path]


def told(report: ChangeReport) -> list[tuple[str, str | None, str | None]]:
    return [(change.fact, change.old, change.new) for change in report.facts]


def one(report: ChangeReport) -> FactChange:
    (change,) = report.facts
    return change


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


# Git ---------------------------------------------------------------------------------------------


def git(folder: Path, *arguments: str) -> None:
    who = ["-c", "user.name=a role", "-c", "user.email=role@example.invalid"]
    subprocess.run(["git", *who, *arguments], cwd=folder, check=True, capture_output=True)


@pytest.fixture
def repository(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A repository with the sound hall (which includes a file) and a change in its folder."""
    folder = tmp_path / "plant"
    (folder / "machines").mkdir(parents=True)
    for name in ("hall.yaml", "mechanics.yaml"):
        shutil.copy(ROOT / "fixtures/sound" / name, folder / "machines" / name)
    git(folder, "init", "-q")
    git(folder, "add", ".")
    git(folder, "commit", "-qm", "as it was")
    hall = folder / "machines/hall.yaml"
    hall.write_text(hall.read_text("utf-8").replace("node: 5\n", "node: 6\n"), "utf-8")
    monkeypatch.chdir(folder)
    return folder


@pytest.mark.parametrize(
    ("old", "new", "where"),
    [
        ("HEAD:machines", "machines", ""),
        ("HEAD:machines/hall.yaml", "machines/hall.yaml", ""),
        ("HEAD:", "machines", ""),
        ("HEAD:./hall.yaml", "hall.yaml", "machines"),
        ("HEAD:./", ".", "machines"),
        (":machines/hall.yaml", "machines/hall.yaml", ""),
    ],
)
def test_a_revision_is_read_with_what_it_includes(
    repository: Path, monkeypatch: pytest.MonkeyPatch, old: str, new: str, where: str
) -> None:
    monkeypatch.chdir(repository / where)
    report = api.changes(old, new)
    change = one(report)
    assert (change.fact, change.old, change.new) == ("drive.node", "5", "6")
    assert change.old_mark is not None
    name = old if old.endswith(".yaml") else old.rstrip("/") + "/hall.yaml"
    name = {"HEAD:": "HEAD:machines/hall.yaml", "HEAD:./": "HEAD:./hall.yaml"}.get(old, name)
    assert change.old_mark.place.file == name
    assert report.axes == 9


def test_two_revisions_are_compared(repository: Path) -> None:
    git(repository, "commit", "-qam", "another node")
    assert one(api.changes("HEAD~1:machines", "HEAD:machines")).fact == "drive.node"


@pytest.mark.parametrize(
    "text",
    ["nope:machines", "HEAD:nope.yaml", "HEAD:../plant", "HEAD:/etc", "-x:machines", "nowhere"],
)
def test_a_revision_or_path_that_is_not_there_is_one_clear_error(
    repository: Path, capsys: Captured, text: str
) -> None:
    with pytest.raises(UsageError):
        api.changes(text, "machines")
    assert run(["changes", "--", text, "machines"]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.startswith("Cannot do this: ")
    assert "Traceback" not in told.err
    assert str(text.partition(":")[0]) in told.err


def test_outside_a_repository_git_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, version: Version
) -> None:
    version("new.yaml")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(tmp_path.parent))
    with pytest.raises(UsageError, match="not a git repository"):
        api.changes("HEAD:new.yaml", "new.yaml")


def test_a_fault_in_a_revision_is_named_by_the_revision(repository: Path) -> None:
    hall = repository / "machines/hall.yaml"
    hall.write_text("format: 1\nmachine: x\naxes: {a: {motion: up}}\n", "utf-8")
    git(repository, "commit", "-qam", "a fault")
    with pytest.raises(InputError) as caught:
        api.changes("HEAD:machines/hall.yaml", "machines/mechanics.yaml")
    place = caught.value.place
    assert place is not None
    assert (place.file, place.line, place.column) == ("HEAD:machines/hall.yaml", 3, 20)


def test_a_file_that_is_there_goes_before_a_revision(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, version: Version
) -> None:
    version("HEAD:x.yaml")
    monkeypatch.chdir(tmp_path)
    assert api.changes("HEAD:x.yaml", "HEAD:x.yaml").facts == ()


def test_an_include_that_the_revision_lacks_is_told_at_its_place(repository: Path) -> None:
    git(repository, "rm", "-q", "--cached", "machines/mechanics.yaml")
    git(repository, "commit", "-qm", "without mechanics")
    with pytest.raises(InputError, match=r"HEAD:machines/mechanics\.yaml"):
        api.changes("HEAD:machines/hall.yaml", "machines")


# The command -------------------------------------------------------------------------------------

LIFT = str(PAIRS / "lift/before.yaml")


def changed(name: str) -> str:
    return str(PAIRS / f"lift/{name}.yaml")


def test_the_exit_status_tells_whether_the_change_brings_a_finding(capsys: Captured) -> None:
    widened = changed("software-limit-widened")
    assert run(["changes", LIFT, changed("nothing")]) == 0
    assert run(["changes", LIFT, widened]) == 1
    assert run(["changes", LIFT, widened, "--fail-at", "error"]) == 0
    assert run(["changes", LIFT, widened, "--fail-at", "never"]) == 0
    assert run(["changes", LIFT, changed("axis-renamed")]) == 0
    assert run(["changes", LIFT, changed("axis-renamed"), "--fail-at", "note"]) == 1


def test_what_is_still_there_fails_only_if_asked(version: Version, capsys: Captured) -> None:
    slow = ("max_speed: 4000 rpm", "max_speed: 1000 rpm")
    old, new = str(version("old.yaml", slow)), str(version("new.yaml", slow))
    assert run(["changes", old, new]) == 0
    assert run(["changes", old, new, "--all", "--width", "300"]) == 1
    assert "Still there: 1 error." in capsys.readouterr().out


def test_the_text_shows_facts_places_and_findings(capsys: Captured) -> None:
    run(["changes", LIFT, changed("interlock-trigger-removed"), "--width", "100"])
    out = capsys.readouterr().out
    assert "What the change brings" in out
    assert "New findings" in out
    assert "interlock-triggers-are-kept" in out
    assert "before: interlocks[0].triggers" in out
    assert "Compared 1 axis of" in out
    assert "never says that a" in out
    for line in out.splitlines():
        assert len(line) <= 100 or max(map(len, line.split())) > 70  # a path is whole


def test_text_and_json_name_the_one_day_that_both_versions_are_checked_for(
    capsys: Captured,
) -> None:
    lift = ["changes", LIFT, changed("axis-renamed")]
    run([*lift, "--on", "2026-03-01", "--width", "300"])
    assert capsys.readouterr().out.count("for the day 2026-03-01") == 1
    run([*lift, "--on", "2026-03-01", "--format", "json"])
    assert json.loads(capsys.readouterr().out)["day"] == "2026-03-01"
    before = date.today().isoformat()
    assert before <= api.changes(*lift[1:]).day <= date.today().isoformat()


def test_the_json_is_what_the_schema_describes(capsys: Captured) -> None:
    run(["changes", LIFT, changed("unit-changed-values-kept"), "--format", "json"])
    report = json.loads(capsys.readouterr().out)
    Draft202012Validator(SCHEMA).validate(report)
    (limits,) = [f for f in report["brought"] if f["rule"] == "software-limits-are-not-widened"]
    assert any(mark["fact"].startswith("before:axes.lift.") for mark in limits["marks"])


def test_the_schema_shares_its_parts_with_that_of_findings() -> None:
    Draft202012Validator.check_schema(SCHEMA)
    findings = json.loads(
        files("axisproof.schemas").joinpath("findings.schema.json").read_text("utf-8")
    )
    own = {"still", "fact_change", "axis_change", "ended_check"}
    shared = {name: part for name, part in SCHEMA["$defs"].items() if name not in own}
    assert shared == {name: findings["$defs"][name] for name in shared}


def test_a_report_goes_to_a_new_file_and_never_over_an_input(
    version: Version, tmp_path: Path, capsys: Captured
) -> None:
    old, new = str(version("old.yaml")), str(version("new.yaml"))
    report = tmp_path / "report.json"
    assert run(["changes", old, new, "--format", "json", "--output", str(report)]) == 0
    assert json.loads(report.read_text("utf-8"))["facts"] == []
    assert run(["changes", old, new, "--output", str(report)]) == 2
    assert run(["changes", old, new, "--output", new, "--force"]) == 2
    assert run(["changes", old, new, "--output", str(report), "--force"]) == 0
    assert report.read_text("utf-8").startswith("Nothing that these files state changed.")


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
