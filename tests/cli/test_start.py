"""The short way of a plain check: the same outcome as the whole way, with little imported."""

import datetime
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from axisproof.cli import main as cli
from axisproof.cli import start
from hypothesis import given
from hypothesis import strategies as st

FIXTURES = Path(__file__).parents[2] / "fixtures"
DAY = ["--on", "2026-06-01"]


@pytest.fixture(autouse=True)
def no_completion(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("_AXISPROOF_COMPLETE", raising=False)


@pytest.mark.parametrize(
    "words",
    [
        [str(FIXTURES / "sound" / "table.json"), *DAY],
        [str(FIXTURES / "demo"), *DAY],
        [*DAY, str(FIXTURES / "faults" / "rollover-divides-cycle.yaml")],
        [str(FIXTURES / "sound"), str(FIXTURES / "sound" / "hall.yaml"), *DAY],
        ["no-such-file.yaml"],
        [str(FIXTURES / "sound" / "hall.yaml") + "/below", *DAY],
    ],
)
def test_a_plain_check_prints_and_returns_what_the_whole_way_does(words, capsys) -> None:
    plain = start.plain_check(["check", *words])
    assert plain is not None
    short = start.run_plain(*plain), capsys.readouterr()
    assert short == (cli.run(["check", *words]), capsys.readouterr())


WORDS = st.sampled_from(
    (
        "a.yaml|b c|ü|.||-|--|-h|--on|--on=2026-01-02|2026-01-02|2026-1-2|2026-02-30|0000-01-01|"
        "٢٠٢٦-01-01|--workings|--width|check"
    ).split("|")
)


@given(st.lists(WORDS, max_size=5))
def test_whatever_the_short_way_takes_the_whole_way_reads_alike(words: list[str]) -> None:
    plain = start.plain_check(["check", *words])
    if plain is None:
        return
    context = cli.check.make_context("check", list(words))
    stated = {
        parameter.name: context.params[parameter.name]
        for parameter in cli.check.params
        if context.get_parameter_source(parameter.name).name != "DEFAULT"
    }
    paths, day = plain
    assert stated.pop("paths") == tuple(paths)
    stated_day = stated.pop("on", None)
    assert (stated_day and stated_day.date()) == day
    assert not stated


def test_the_defaults_of_the_command_line_are_those_of_the_short_way(monkeypatch) -> None:
    import inspect

    from axisproof.cli import check as checking

    calls: list[Any] = []

    def stub(*given: Any, **named: Any) -> int:
        bound = inspect.signature(real).bind(*given, **named)
        bound.apply_defaults()
        calls.append({**bound.arguments, "paths": tuple(bound.arguments["paths"])})
        return 0

    real = checking.check_and_show
    monkeypatch.setattr(checking, "check_and_show", stub)
    assert cli.run(["check", "a.yaml", "--on", "2026-01-02"]) == 0
    assert start.run_plain([Path("a.yaml")], datetime.date(2026, 1, 2)) == 0
    assert calls[0] == calls[1]


@pytest.mark.parametrize(
    "words", [[], ["show", "a.yaml"], ["--help"], ["check"], ["check", "--help"], ["check", ""]]
)
def test_everything_else_goes_the_whole_way(words: list[str]) -> None:
    assert start.plain_check(words) is None


def test_a_shell_that_asks_for_completion_goes_the_whole_way(monkeypatch) -> None:
    monkeypatch.setenv("_AXISPROOF_COMPLETE", "bash_complete")
    assert start.plain_check(["check", "a.yaml"]) is None


def test_a_check_that_is_interrupted_says_so_by_its_status(monkeypatch) -> None:
    from axisproof.cli import check as checking

    def interrupted(*given: Any, **named: Any) -> int:
        raise KeyboardInterrupt

    monkeypatch.setattr(checking, "check_and_show", interrupted)
    assert start.run_plain([Path("a.yaml")], None) == 130


LATE = (
    "click dataclasses inspect lark jsonschema hashlib json importlib.resources rich asyncio jinja2"
    " typing signal"
)
"""What a check that finds nothing does without."""


@pytest.mark.parametrize("how", ["-m", "script"])
def test_a_clean_check_imports_no_more_than_it_needs(how: str) -> None:
    file = FIXTURES / "sound" / "hall.yaml"
    code = (
        "import sys, runpy\n"
        f"sys.argv = ['axisproof', 'check', {str(file)!r}, '--on', '2026-06-01']\n"
        "before = set(sys.modules)\n"
        "try:\n"
        + (
            "    runpy.run_module('axisproof', run_name='__main__')\n"
            if how == "-m"
            else "    from axisproof.cli.start import main; main()\n"
        )
        + "except SystemExit as end:\n"
        f"    late = set({LATE!r}.split()) & (set(sys.modules) - before)\n"
        "    sys.exit(end.code or (f'imported {late}' if late else 0))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        timeout=300,
        env={k: v for k, v in os.environ.items() if not k.startswith("COV")},
    )
    assert done.returncode == 0, done.stderr
    assert b"Every check that applied" in b" ".join(done.stdout.split())


def test_findings_that_no_terminal_shows_need_no_library_for_terminals() -> None:
    code = (
        "import sys\n"
        f"sys.argv = ['axisproof', 'check', {str(FIXTURES / 'demo')!r}, '--on', '2026-06-01']\n"
        "from axisproof.cli.start import main\n"
        "try:\n"
        "    main()\n"
        "except SystemExit as end:\n"
        "    sys.exit(2 if 'rich' in sys.modules or 'click' in sys.modules else end.code)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, timeout=300)
    assert done.returncode == 1, done.stderr
    assert b"vertical-axis-has-brake" in done.stdout
