"""Help pages and completion."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import click
import pytest
from axisproof.cli import main as cli
from axisproof.cli import options as cli_options

from tests.captured import Captured
from tests.cli.fake_api import RULE, FakeApi


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
    api.rule = replace(RULE, name="rollover-divides-cycle", concern="gearing")
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
        "         checks of turn counter, gearing, homing, interlock, brake or gantry of an\n"
        "         axis lack one line for an error, or none of them can be decided\n"
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
