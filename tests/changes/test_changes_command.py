"""The command `changes`: exit status, texts, JSON and files."""

from __future__ import annotations

import json
from datetime import date
from importlib.resources import files
from pathlib import Path

from axisproof import api
from axisproof.cli.main import run
from jsonschema import Draft202012Validator

from tests.captured import Captured
from tests.changes.two_versions import PAIRS, SCHEMA, Version

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
