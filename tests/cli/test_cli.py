"""The command line: options reach the API, exit status, output, and every failure in words."""

from __future__ import annotations

import datetime
import json
import os
import re
import shlex
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import asdict, replace
from pathlib import Path
from types import ModuleType
from typing import Any

import axisproof
import click
import pytest
from axisproof.api import CheckOptions
from axisproof.base.errors import InputError, Place, UsageError
from axisproof.checking.fixing import Repair
from axisproof.cli import console
from axisproof.cli import main as cli
from axisproof.cli import options as cli_options
from axisproof.findings.finding import Finding, Narrowed, Report, Tally, Undecided
from axisproof.findings.rule_info import (
    Concern,
    ConcernRule,
    FactInfo,
    NameInfo,
    RuleInfo,
    RuleTestReport,
    SettingInfo,
)

CLEAN = Report(("hall.yaml",), ("hall",), 1, 15, tallies=(Tally("hall", "infeed", 12, 0, 0, 3),))
WARNING = Finding("a-rule", "warning", "hall", "infeed", "t", "message", "why", "remedy", "basis")
UNDECIDED = Undecided("b-rule", "error", "hall", "infeed", "t", ("axes.infeed.motor.serial",), "")
RULE = RuleInfo(
    "a-rule", "A title", "note", "axis", "computed", "rule a-rule", "why", "remedy", "", "x is 1",
    (), (), "a.rules", 1, (), "a concern",
)  # fmt: skip


class FakeApi(ModuleType):
    """Stands in for axisproof.api: returns ``report`` or raises ``failure``, keeps the calls."""

    def __init__(self) -> None:
        super().__init__("axisproof.api")
        self.report: Report = CLEAN
        self.tested = RuleTestReport(1, 2, 3, 3)
        self.failure: BaseException | None = None
        self.calls: list[tuple[Any, dict[str, Any]]] = []
        self.narrowings: list[Any] = []

    CheckOptions = staticmethod(CheckOptions)

    def check(self, paths: Any, options: CheckOptions, **told: Any) -> Report:
        self.calls.append((paths, asdict(options) | told))
        if self.failure:
            raise self.failure
        if told.get("recorded"):
            told["recorded"]("{}")
        return self.report

    def narrowed(self, report: Report, *given: Any, **named: Any) -> Report:
        self.narrowings.append((given, named))
        return replace(report, narrowed=Narrowed(*given[:2], {}))

    def list_rules(self, rules: Any = ()) -> tuple[RuleInfo, ...]:
        self.calls.append((rules, {}))
        return (RULE,)

    def fixes(self, paths: Any, options: CheckOptions) -> Repair:
        return Repair((), (), self.check(paths, options))

    def concerns(self, rules: Any = ()) -> tuple[Concern, ...]:
        return (Concern("a concern", ("About it.",), (ConcernRule(RULE),)),)

    def list_settings(self, rules: Any = ()) -> tuple[SettingInfo, ...]:
        return (SettingInfo("range_margin", "10 %", "spare range", "common practice, no source"),)

    def explain(self, name: str, rules: Any = ()) -> RuleInfo | tuple[FactInfo, ...]:
        if name in ("wraps retained", "controller.unfolding"):
            return (FactInfo("controller.wraps_retained", "true or false", "It counts.", ()),)
        if name != RULE.name:
            raise UsageError(f"there is no rule {name}", expected="perhaps a-rule")
        return RULE

    def list_names(self, words: Any = (), rules: Any = ()) -> tuple[NameInfo, ...]:
        self.calls.append((words, {"rules": rules}))
        return (NameInfo("axis.hangs", "definition", "true or false", "gravity moves it"),)

    def test_rules(self, paths: Any) -> RuleTestReport:
        self.calls.append((paths, {}))
        return self.tested


@pytest.fixture
def api(monkeypatch: pytest.MonkeyPatch) -> FakeApi:
    fake = FakeApi()
    monkeypatch.setitem(sys.modules, "axisproof.api", fake)
    monkeypatch.setattr(axisproof, "api", fake, raising=False)
    monkeypatch.delenv("AXISPROOF_DEBUG", raising=False)
    return fake


Captured = pytest.CaptureFixture[str]


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


def test_piped_text_is_plain_and_100_columns(
    api: FakeApi, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "200")
    api.report = replace(CLEAN, findings=(replace(WARNING, remedy="word " * 60),))
    cli.run(["check", "a.yaml"])
    out = capsys.readouterr().out
    assert "\x1b" not in out
    assert 90 < max(map(len, out.splitlines())) <= 100
    cli.run(["check", "a.yaml", "--width", "120"])
    assert 100 < max(map(len, capsys.readouterr().out.splitlines())) <= 120


@pytest.mark.parametrize(
    ("variables", "coloured"),
    [
        ({"TERM": "xterm"}, True),
        ({"TERM": "xterm", "NO_COLOR": "1"}, False),
        # An empty NO_COLOR does not count (no-color.org).
        ({"TERM": "xterm", "NO_COLOR": ""}, True),
        ({"TERM": "dumb"}, False),
    ],
)
def test_a_terminal_gets_colour_unless_it_is_declined(
    api: FakeApi,
    capsys: Captured,
    monkeypatch: pytest.MonkeyPatch,
    variables: dict[str, str],
    coloured: bool,
) -> None:
    monkeypatch.delenv("NO_COLOR", raising=False)
    for name, value in variables.items():
        monkeypatch.setenv(name, value)
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    api.report = replace(CLEAN, findings=(WARNING,))
    cli.run(["check", "a.yaml"])
    assert ("\x1b[" in capsys.readouterr().out) is coloured


def test_output_goes_to_a_new_file_without_colour(
    api: FakeApi, capsys: Captured, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    target = tmp_path / "report.txt"
    api.report = replace(CLEAN, findings=(replace(WARNING, message="≈ 5 mm"),))
    assert cli.run(["check", "a.yaml", "--output", str(target)]) == 1
    text = target.read_text("utf-8")
    assert "≈ 5 mm" in text
    assert "\x1b" not in text
    assert capsys.readouterr().out == ""


def test_an_existing_file_is_overwritten_only_by_force(
    api: FakeApi, capsys: Captured, tmp_path: Path
) -> None:
    target = tmp_path / "report.txt"
    target.write_text("precious")
    assert cli.run(["check", "a.yaml", "--output", str(target)]) == 2
    assert target.read_text() == "precious"
    assert api.calls == []
    assert "exists and would be overwritten" in " ".join(capsys.readouterr().err.split())
    assert cli.run(["check", "a.yaml", "--output", str(target), "--force"]) == 0
    assert target.read_text().startswith("hall: no findings")


def test_a_checked_file_is_never_overwritten_by_its_report(api: FakeApi, tmp_path: Path) -> None:
    machine = tmp_path / "hall.yaml"
    machine.write_text("machine: hall")
    api.report = replace(CLEAN, files=(str(machine),))
    assert cli.run(["check", str(machine), "--output", str(machine), "--force"]) == 2
    assert machine.read_text() == "machine: hall"


def test_an_input_error_is_one_message_with_place_and_marker(
    api: FakeApi, capsys: Captured
) -> None:
    api.failure = InputError(
        'lead is "12 mn", and mn is no unit',
        expected="a length such as 12 mm",
        place=Place("hall.yaml", 4, 13, 4, 18),
        source_line="      lead: 12 mn",
    )
    assert cli.run(["check", "hall.yaml"]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err.splitlines() == [
        'Unusable input: lead is "12 mn", and mn is no unit',
        "  in hall.yaml:4:13",
        "      │ lead: 12 mn",
        "              ├───┤",
        "  expected: a length such as 12 mm",
    ]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ("check", "Missing argument"),
        ("chekc a.yaml", "chekc"),
        ("check a.yaml --no-such-thing", "--no-such-thing"),
        ("check a.yaml --on 2026-02-30", "2026-02-30"),
        ("check a.yaml --on tomorrow", "tomorrow"),
        ("check a.yaml --width 3", "3"),
        ("check a.yaml --width wide", "wide"),
        ("check a.yaml --quiet --format json", "--quiet and --statistics belong to"),
        ("check a.yaml --shard 1/2 --axis x", "--select and --axis narrow a whole report"),
        ("check a.yaml --format pdf", "pdf"),
        ("check a.yaml --fail-at worst", "worst"),
        ("check a.yaml --output no/such/folder/report.txt", "no/such/folder"),
        ("explain b-rule", "perhaps a-rule"),
        ("schema fixture", "fixture"),
    ],
)
def test_wrong_usage_is_one_message_and_status_2(
    api: FakeApi, capsys: Captured, arguments: str, words: str
) -> None:
    assert cli.run(arguments.split()) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert words in captured.err
    assert "Traceback" not in captured.err
    assert captured.err.count("\n") <= 4


@pytest.mark.parametrize("arguments", [[], ["rules"]])
def test_a_command_left_out_shows_the_help_and_is_no_success(
    arguments: list[str], capsys: Captured
) -> None:
    assert cli.run(arguments) == 2
    assert "Usage: axisproof" in capsys.readouterr().err


def test_an_unreadable_file_is_named(api: FakeApi, capsys: Captured) -> None:
    api.failure = PermissionError(13, "Permission denied", "hall.yaml")
    assert cli.run(["check", "hall.yaml"]) == 2
    assert capsys.readouterr().err == "Unusable input: hall.yaml: Permission denied\n"


@pytest.mark.parametrize("failure", [ZeroDivisionError("x"), RecursionError("deep"), MemoryError()])
def test_an_unforeseen_failure_asks_to_be_reported_and_is_no_success(
    api: FakeApi, capsys: Captured, failure: Exception
) -> None:
    api.failure = failure
    assert cli.run(["check", "hall.yaml"]) == 2
    error = capsys.readouterr().err
    assert type(failure).__name__ in error
    assert "Please report it" in " ".join(error.split())
    assert "Traceback" not in error


def test_debugging_shows_where_an_unforeseen_failure_happened(
    api: FakeApi, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    api.failure = ZeroDivisionError("x")
    monkeypatch.setenv("AXISPROOF_DEBUG", "1")
    assert cli.run(["check", "hall.yaml"]) == 2
    assert "Traceback" in capsys.readouterr().err


def test_an_interrupt_ends_quietly_with_130(api: FakeApi, capsys: Captured) -> None:
    api.failure = KeyboardInterrupt()
    assert cli.run(["check", "hall.yaml"]) == 130
    captured = capsys.readouterr()
    assert (captured.out, captured.err.strip()) == ("", "")


def test_rules_are_listed_and_explained(api: FakeApi, capsys: Captured) -> None:
    assert cli.run(["rules", "list", "--rules", "site"]) == 0
    assert api.calls == [((Path("site"),), {})]
    assert "1 rule of 1 concern." in capsys.readouterr().out
    assert cli.run(["rules", "list", "--all"]) == 0
    assert "a-rule" in capsys.readouterr().out
    assert cli.run(["rules", "list", "--settings"]) == 0
    assert "range_margin, default 10 %" in capsys.readouterr().out
    assert cli.run(["rules", "list", "a concern"]) == 0
    assert "a concern (1 rule)" in capsys.readouterr().out
    assert cli.run(["rules", "list", "another"]) == 2
    assert "expected: a concern" in capsys.readouterr().err
    assert cli.run(["explain", "a-rule"]) == 0
    assert "Requires  A title" in capsys.readouterr().out
    assert cli.run(["explain", "wraps retained"]) == 0
    assert "controller.wraps_retained" in capsys.readouterr().out


def test_names_of_the_rule_language_are_found_by_words(api: FakeApi, capsys: Captured) -> None:
    assert cli.run(["rules", "facts", "brake", "time", "--rules", "own"]) == 0
    assert api.calls == [(("brake", "time"), {"rules": (Path("own"),)})]
    assert capsys.readouterr().out.splitlines() == [
        "axis.hangs",
        "    definition: true or false",
        "    gravity moves it",
        "",
        "1 name",
    ]


def test_the_page_of_the_rule_language_is_printed(capsys: Captured) -> None:
    assert cli.run(["rules", "guide"]) == 0
    assert capsys.readouterr().out.startswith("# The rule language")


def test_a_rule_test_with_faults_fails(api: FakeApi, capsys: Captured) -> None:
    assert cli.run(["rules", "test", "site.rules"]) == 0
    assert api.calls == [((Path("site.rules"),), {})]
    from axisproof.base.errors import Place
    from axisproof.findings.rule_info import Alteration, RuleFault, Unnoticed

    api.tested = RuleTestReport(1, 2, 3, 2, (RuleFault("a-rule", "a fault"),))
    assert cli.run(["rules", "test"]) == 1
    assert "a fault" in capsys.readouterr().out
    altered = Alteration("a-rule", "leave out `x`", Place("a.rules", 1, 1, 1, 2), "x")
    api.tested = RuleTestReport(1, 2, 3, 2, (), (Unnoticed("a-rule", (altered,)),))
    assert cli.run(["rules", "test"]) == 1
    assert "Leave out `x` here. No example notices." in capsys.readouterr().out


@pytest.mark.parametrize("name", ["machine", "findings"])
def test_the_published_schemas_are_printed(name: str, capsys: Captured) -> None:
    assert cli.run(["schema", name]) == 0
    published = json.loads(capsys.readouterr().out)
    assert published["$id"].endswith(f"{name}.schema.json")


def test_every_option_and_command_has_help() -> None:
    def commands(group: click.Group) -> Iterator[click.Command]:
        for command in group.commands.values():
            yield command
            if isinstance(command, click.Group):
                yield from commands(command)

    found = list(commands(cli.cli))
    assert len(found) >= 7
    for command in found:
        assert command.help
        for parameter in command.params:
            assert not isinstance(parameter, click.Option) or parameter.help


@pytest.mark.parametrize(
    "command", ["", "check", "explain", "rules", "rules list", "schema", "completion"]
)
def test_the_examples_of_a_help_page_can_be_run_as_they_stand(
    api: FakeApi,
    capsys: Captured,
    command: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(tmp_path)
    rule = replace(RULE, name="rollover-divides-cycle", concern="gearing")
    monkeypatch.setitem(globals(), "RULE", rule)
    cli.run([*command.split(), "--help"])
    lines = [line.strip() for line in capsys.readouterr().out.splitlines()]
    examples = [line for line in lines if line.startswith("axisproof ")]
    assert examples or command == "rules list"
    for example in examples:
        status = cli.run(shlex.split(example)[1:])
        assert status == 0, (example, capsys.readouterr().err)
        capsys.readouterr()


def test_the_help_of_check_lists_forms_and_exit_status_as_written(capsys: Captured) -> None:
    cli.run(["check", "--help"])
    out = capsys.readouterr().out
    assert (
        "  1    there is one. Or a check cannot be decided (with --undecided-fails). Or\n"
        "         checks of turn counter, gearing, homing or interlock of an axis lack one\n"
        "         line for an error, or none of them can be decided\n"
    ) in out
    for form in cli_options.FORMS:
        assert re.search(rf"^ +{form} +\w", out, re.MULTILINE)


@pytest.mark.parametrize("shell", cli.SHELLS)
def test_each_shell_gets_a_completion_script(shell: str, capsys: Captured) -> None:
    assert cli.run(["completion", shell]) == 0
    script = capsys.readouterr().out
    assert f"_AXISPROOF_COMPLETE={shell}_complete" in script


def completed(words: str) -> list[str]:
    """What bash is offered for a command line that ends in the word being typed."""
    code = "from axisproof.cli.main import main; import sys; sys.argv = ['axisproof']; main()"
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        timeout=300,
        env={
            **os.environ,
            "_AXISPROOF_COMPLETE": "bash_complete",
            "COMP_WORDS": words,
            "COMP_CWORD": str(len(words.split(" ")) - 1),
        },
    )
    assert done.stderr == b""
    return [line.partition(",")[2] for line in done.stdout.decode().splitlines() if line]


def test_commands_forms_and_rule_names_are_completed() -> None:
    assert "check" in completed("axisproof ")
    assert completed("axisproof check --format s") == ["sarif"]
    assert completed("axisproof explain rollover-d") == ["rollover-divides-cycle"]
    assert completed("axisproof explain --rules no-such-folder x") == []


# In a process of its own

PROLOGUE = """
import sys, types
from axisproof.findings.finding import *
api = types.ModuleType("axisproof.api")
report = Report(("hall.yaml",), ("hall",), 1, 15, tallies=(Tally("hall", "infeed", 9, 0, 0, 3),))
api.check = lambda paths, options, **told: report
api.CheckOptions = lambda **options: options
import axisproof
axisproof.api = sys.modules["axisproof.api"] = api
from axisproof.cli.main import run
"""


def python(code: str, **options: Any) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        [sys.executable, "-c", PROLOGUE + code], capture_output=True, timeout=300, **options
    )


def test_the_command_itself_adds_no_heavy_import_to_a_clean_check() -> None:
    done = python(
        "status = run(['check', 'hall.yaml'])\n"
        "heavy = {'lark', 'jsonschema', 'rich', 'yaml', 'asyncio', 'jinja2'} & set(sys.modules)\n"
        "sys.exit(f'status {status}, imported {heavy}' if status or heavy else 0)"
    )
    assert done.returncode == 0, done.stderr


def test_the_version_needs_no_api() -> None:
    code = "import sys; from axisproof.cli.main import run; run(['--version'])\n"
    code += "sys.exit('axisproof.api' in sys.modules or 'lark' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, timeout=300)
    assert done.returncode == 0
    assert done.stdout.startswith(b"axisproof ")


@pytest.mark.parametrize("broken", [True, False])
def test_a_reader_that_goes_away_changes_neither_status_nor_peace(broken: bool) -> None:
    finding = "Finding('r', 'error', 'hall', 'infeed', 't', 'm' * 10, 'w', 'x', 'b')"
    code = f"import dataclasses\nreport = dataclasses.replace(report, findings=({finding},) * 2000)"
    code += "\nsys.exit(run(['check', 'hall.yaml']))"
    with subprocess.Popen(
        [sys.executable, "-c", PROLOGUE + code], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        if broken:
            process.stdout.close()
        else:
            assert process.stdout.read().count(b"ERROR") == 2000
        assert process.stderr.read() == b""
        assert process.wait(60) == 1


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no /dev/full here")
def test_a_full_disk_is_said_and_is_no_success() -> None:
    with open("/dev/full", "wb") as full:
        done = subprocess.run(
            [sys.executable, "-c", PROLOGUE + "sys.exit(run(['check', 'hall.yaml']))"],
            stdout=full,
            stderr=subprocess.PIPE,
            timeout=300,
        )
    assert done.returncode == 2
    assert done.stderr.startswith(b"Cannot do this: standard output cannot be written: ")
    assert b"Traceback" not in done.stderr
    assert b"Exception" not in done.stderr


def test_a_terminal_without_unicode_gets_plain_characters() -> None:
    code = (
        "import dataclasses\nfrom axisproof.base.errors import Place\n"
        "mark = Mark(Place('f', 1, 4, 1, 6), 'a: 12', 'a', 'π ≈ 送')\n"
        "finding = Finding('r', 'error', 'hall', 'x', 't', 'm', 'w', 'x', 'b', (mark,))\n"
        "report = dataclasses.replace(report, findings=(finding,))\n"
        "sys.exit(run(['check', 'hall.yaml']))"
    )
    done = python(code, env={**os.environ, "PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"})
    assert done.returncode == 1
    assert b"<> pi ~ \\u9001" in done.stdout
    assert done.stderr == b""


def test_the_module_can_be_run() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "axisproof", "check", "--help"], capture_output=True, timeout=300
    )
    assert done.returncode == 0
    assert b"--undecided-fails" in done.stdout


def test_links_that_lead_in_a_circle_are_one_message(tmp_path, capsys) -> None:
    from axisproof.cli.main import run

    (tmp_path / "a").symlink_to(tmp_path / "b")
    (tmp_path / "b").symlink_to(tmp_path / "a")
    assert run(["check", str(tmp_path / "a")]) == 2
    assert "circle of links" in " ".join(capsys.readouterr().err.split())


def test_an_empty_path_is_not_taken_for_the_present_folder(capsys) -> None:
    from axisproof.cli.main import run

    assert run(["check", ""]) == 2
    assert "an empty path" in capsys.readouterr().err


def test_a_report_does_not_overwrite_the_rules_it_was_made_with(tmp_path, capsys) -> None:
    from axisproof.cli.main import run

    rules = tmp_path / "own.rules"
    rules.write_text("language 2\n", "utf-8")
    sound = str(Path(__file__).parents[2] / "fixtures" / "sound" / "table.json")
    options = ["--rules", str(tmp_path), "--output", str(rules), "--force"]
    assert run(["check", sound, *options]) == 2
    assert rules.read_text("utf-8") == "language 2\n"
