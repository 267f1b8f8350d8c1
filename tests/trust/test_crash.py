"""Ended by force at any moment of a write, a command leaves old files and new ones, no halves."""

from __future__ import annotations

import json
import os
import re
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.trust.writing_commands import COMMANDS, KEEPING, Command, lay_out

ROOT = Path(__file__).parent.parent.parent
LITTER = re.compile(r"\.axisproof-[0-9a-f]{16}\.part")
WRITERS = {"safe_write.py", "git_objects.py"}
"""Modules that may write; those of git only into a temporary folder of their own."""


def whole(files: dict[str, str]) -> dict[str, str]:
    return {name: data for name, data in files.items() if not LITTER.fullmatch(Path(name).name)}


@pytest.mark.exhaustive
@pytest.mark.skipif(not hasattr(os, "fork"), reason="no fork here")
@pytest.mark.parametrize("command", [*COMMANDS, KEEPING], ids=lambda command: command.name)
def test_a_command_ended_at_any_moment_leaves_each_file_old_or_new(
    command: Command, tmp_path: Path
) -> None:
    lay_out(tmp_path, command)
    done = subprocess.run(
        [sys.executable, Path(__file__).with_name("ended_at.py"), *command.arguments],
        cwd=tmp_path,
        capture_output=True,
        timeout=300,
    )
    assert done.stderr == b""
    told: dict[str, Any] = json.loads(done.stdout)
    assert told["status"] in (0, 1)
    before, after = told["before"], told["after"]
    writes = {name for name in after if after[name] != before.get(name)}
    assert writes == set(command.writes) or (command is KEEPING and len(writes) == 2)

    states = [whole(files) for _, files in told["ends"]]
    for state in states:
        assert state.keys() <= after.keys()
        assert all(state.get(name) in (before.get(name), after[name]) for name in after)
    for name in writes:
        assert {state.get(name) for state in states} == {before.get(name), after[name]}

    by_signal = [status for status, _ in told["ends"]]
    assert by_signal.count(-signal.SIGKILL) > 20, "the moments were not met"
    assert by_signal.count(-signal.SIGXFSZ) >= 3, "no write was cut short"
    assert 99 not in by_signal
    assert any(whole(files) != files for _, files in told["ends"]), "no end was inside a write"

    for state, status, then in told["again"]:
        if command.overwrites or "out" not in state:
            assert status == told["status"]
            assert whole(then) == after
        else:
            assert status == 2
            assert then == state


def test_what_an_ended_process_leaves_is_read_by_no_command(tmp_path: Path) -> None:
    from axisproof import api

    lay_out(tmp_path, COMMANDS[0])
    folder = tmp_path / "machines"
    folder.mkdir()
    (tmp_path / "one.yaml").rename(folder / "one.yaml")
    clean = api.check([folder])
    for name in (".axisproof-0123456789abcdef.part", ".axisproof-fedcba9876543210.part"):
        (folder / name).write_text("half a mach", "utf-8")
    assert api.check([folder]) == clean


def test_every_file_is_written_in_the_one_safe_way() -> None:
    writing = re.compile(
        r"\.write_(text|bytes)\(|\bopen\([^)]*[\"'][wax]b?[\"']|os\.(replace|rename|truncate)\b"
        r"|\.rename\(|\.touch\(|shutil\.(copy|move)"
    )
    found = {
        path.name
        for path in (ROOT / "lint").rglob("*.py")
        for line in path.read_text("utf-8").splitlines()
        if writing.search(line) and "os.devnull" not in line
    }
    assert found == WRITERS


@pytest.mark.exhaustive
def test_the_compiled_rules_are_of_use_when_only_one_of_the_two_files_is_new(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    from axisproof.catalogue import catalogue

    current, examples = catalogue.shipped().trees, catalogue.shipped().examples
    asked: list[str] = []
    real = catalogue.read_text

    def older(package: str, name: str) -> str:
        asked.append(name)
        text = real(package, name)
        return '{"digest": "of other rules"}' if name.endswith(".json") else text

    monkeypatch.setattr(catalogue, "read_text", older)
    assert catalogue._stored_trees() == current
    assert catalogue._stored_examples() == examples
    assert {"compiled.json", "compiled_examples.json"} <= set(asked)
