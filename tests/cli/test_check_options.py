"""The options of `check`: what reaches the API, what is shown, and the exit status."""

from __future__ import annotations

import datetime
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from axisproof.cli import console
from axisproof.cli import main as cli
from axisproof.cli import options as cli_options
from axisproof.findings.finding import Narrowed, Undecided

from tests.captured import Captured
from tests.cli.fake_api import CLEAN, WARNING, FakeApi

UNDECIDED = Undecided("b-rule", "error", "hall", "infeed", "t", ("axes.infeed.motor.serial",), "")


def test_check_passes_every_option_to_the_api(api: FakeApi) -> None:
    arguments = "check a.yaml b --rules r1 --rules r2 --settings s.yaml --on 2026-02-03"
    status = cli.run([*arguments.split(), "--workings", "--every-outcome"])
    assert status == 0
    assert api.calls == [
        (
            (Path("a.yaml"), Path("b")),
            {
                "rules": (Path("r1"), Path("r2")),
                "settings": Path("s.yaml"),
                "shelf": None,
                "on": datetime.date(2026, 2, 3),
                "texts": None,
                "site": None,
                "workings": True,
                "every_outcome": True,
                "sketches": False,
                "waivers": None,
                "accepted": None,
                "jobs": None,
                "cache": None,
                "executor": None,
                "noted": console.print_note,
                "shard": "",
                "partial": True,
                "recorded": None,
            },
        )
    ]


@pytest.mark.parametrize(
    ("arguments", "asked"),
    [
        ("--format text", ("partial",)),
        ("--format sarif", ("partial",)),
        ("--format markdown", ("partial",)),
        ("--format junit", ("every_outcome", "partial")),
        ("--format html", ("every_outcome", "partial", "sketches", "workings")),
        ("--format json --pictures", ("partial", "sketches")),
    ],
)
def test_a_form_asks_the_api_for_what_it_shows(
    api: FakeApi, arguments: str, asked: tuple[str, ...]
) -> None:
    assert cli.run(["check", "a.yaml", *arguments.split()]) == 0
    (_, options) = api.calls[0]
    assert tuple(sorted(name for name, value in options.items() if value is True)) == asked


def test_what_a_check_is_narrowed_to_reaches_the_api_and_not_the_status(
    api: FakeApi, capsys: Captured
) -> None:
    assert cli.run("check a.yaml --select gearing --axis lift --axis table --rules r".split()) == 0
    assert api.narrowings == [
        ((("gearing",), ("lift", "table"), (Path("r"),)), {"outcomes": False})
    ]
    assert api.calls[0][1]["every_outcome"] is True
    api.report = replace(CLEAN, findings=(WARNING,))
    shown = replace(CLEAN, narrowed=Narrowed(("gearing",), (), {"warning": 1}))
    api.narrowed = lambda report, *given, **named: shown  # type: ignore[method-assign]
    capsys.readouterr()
    assert cli.run("check a.yaml --select gearing".split()) == 1
    out = " ".join(capsys.readouterr().out.split())
    assert "hall: no findings, not shown: 1 warning" in out
    assert "Not shown: 1 warning. They count in the exit status." in out


def test_quiet_prints_findings_and_what_cannot_be_decided_and_nothing_if_all_passed(
    api: FakeApi, capsys: Captured
) -> None:
    assert cli.run(["check", "a.yaml", "--quiet"]) == 0
    assert capsys.readouterr().out == ""
    api.report = replace(CLEAN, undecided=(UNDECIDED,))
    assert cli.run(["check", "a.yaml", "--quiet"]) == 0
    assert "1 check cannot be decided" in " ".join(capsys.readouterr().out.split())
    api.report = replace(CLEAN, findings=(WARNING,))
    assert cli.run(["check", "a.yaml", "--quiet"]) == 1
    out = capsys.readouterr().out
    assert "WARNING   Message" in out
    assert "Axis" not in out


def test_statistics_count_by_rule_in_place_of_findings(api: FakeApi, capsys: Captured) -> None:
    findings = (WARNING, WARNING, replace(WARNING, rule="c-rule", level="error"))
    api.report = replace(CLEAN, findings=findings, undecided=(UNDECIDED,))
    assert cli.run(["check", "a.yaml", "--statistics"]) == 1
    rows = [line.split() for line in capsys.readouterr().out.splitlines()]
    at = rows.index("failed cannot be decided level rule".split())
    assert rows[at + 1 : at + 4] == [
        ["2", "-", "warning", "a-rule"],
        ["1", "-", "error", "c-rule"],
        ["-", "1", "error", "b-rule"],
    ]
    assert ["Remedy", "remedy"] not in rows


def test_check_leaves_the_day_to_the_api_unless_it_is_given(api: FakeApi) -> None:
    cli.run(["check", "a.yaml"])
    assert api.calls[0][1]["on"] is None


@pytest.mark.parametrize(
    ("arguments", "level", "status"),
    [
        ("", "error", 1),
        ("", "warning", 1),
        ("", "note", 0),
        ("--fail-at error", "warning", 0),
        ("--fail-at error", "error", 1),
        ("--fail-at note", "note", 1),
        ("--fail-at never", "error", 0),
    ],
)
def test_the_exit_status_follows_the_failing_level(
    api: FakeApi, arguments: str, level: Any, status: int
) -> None:
    api.report = replace(CLEAN, findings=(replace(WARNING, level=level),))
    assert cli.run(["check", "a.yaml", *arguments.split()]) == status


def test_undecided_checks_fail_only_when_asked_to(api: FakeApi) -> None:
    api.report = replace(CLEAN, undecided=(UNDECIDED,))
    assert cli.run(["check", "a.yaml"]) == 0
    assert cli.run(["check", "a.yaml", "--undecided-fails"]) == 1
    api.report = CLEAN
    assert cli.run(["check", "a.yaml", "--undecided-fails"]) == 0


@pytest.mark.parametrize(
    ("form", "start"),
    [
        ("text", "hall: 1 warning"),
        ("lines", "hall · infeed: warning: ≈ 5 mm [a-rule]"),
        ("annotations", "::warning title=a-rule::hall · infeed: ≈ 5 mm%0ARemedy: remedy\n"),
        ("codequality", '[\n  {\n    "description": "hall'),
        ("json", '{\n  "format": 2'),
        ("sarif", '{\n  "$schema"'),
        ("junit", "<?xml"),
        ("markdown", "## axisproof: 1 warning"),
        ("html", "<!DOCTYPE html>"),
    ],
)
def test_every_form_can_be_printed_and_fails_alike(
    api: FakeApi, capsys: Captured, form: str, start: str
) -> None:
    api.report = replace(CLEAN, findings=(replace(WARNING, message="≈ 5 mm"),))
    assert cli.run(["check", "a.yaml", "--format", form]) == 1
    out = capsys.readouterr().out
    assert start in out[:200]
    assert "≈ 5 mm" in out or "\\u2248 5 mm" in out


def test_the_forms_on_offer_are_those_that_exist() -> None:
    from axisproof.report.formats import FORMS, renderer

    assert tuple(FORMS) == cli_options.FORMS
    for name in FORMS:
        assert callable(renderer(name))


def test_junit_counts_as_failures_what_the_command_fails_for(
    api: FakeApi, capsys: Captured
) -> None:
    api.report = replace(CLEAN, findings=(WARNING,))
    assert cli.run(["check", "a.yaml", "--format", "junit", "--fail-at", "error"]) == 0
    assert 'failures="0"' in capsys.readouterr().out
    assert cli.run(["check", "a.yaml", "--format", "junit"]) == 1
    assert 'failures="1"' in capsys.readouterr().out
    assert cli.run(["check", "a.yaml", "--format", "junit", "--fail-at", "never"]) == 0
    assert 'failures="0"' in capsys.readouterr().out
