"""The pre-commit hook: pre-commit accepts its definition, and its command works as defined."""

from __future__ import annotations

import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
import yaml
from axisproof.cli import main as cli

ROOT = Path(__file__).parent.parent
DEFINITION = ROOT / ".pre-commit-hooks.yaml"
(HOOK,) = yaml.safe_load(DEFINITION.read_text("utf-8"))


def test_pre_commit_accepts_the_definition() -> None:
    command = [sys.executable, "-m", "pre_commit", "validate-manifest", str(DEFINITION)]
    done = subprocess.run(command, capture_output=True, timeout=300, text=True)
    assert done.returncode == 0, done.stdout + done.stderr


def hook() -> int:
    """Run the hook's command as pre-commit does, at the top of a repository."""
    program, *rest = shlex.split(HOOK["entry"])
    assert program == "axisproof"
    assert HOOK["pass_filenames"] is False
    return cli.run([*rest, *HOOK["args"]])


def test_the_hook_lets_sound_machines_pass_and_stops_a_fault(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    shutil.copytree(ROOT / "fixtures" / "sound", tmp_path / "machines")
    monkeypatch.chdir(tmp_path)
    assert hook() == 0
    hall = tmp_path / "machines" / "hall.yaml"
    text = hall.read_text("utf-8")
    faulty = text.replace(
        "distinguishable_revolutions: 65534", "distinguishable_revolutions: 65536"
    )
    hall.write_text(faulty, "utf-8")
    assert hook() == 1
    assert "rollover-divides-cycle" in capsys.readouterr().out
    hall.write_text(text, "utf-8")
    assert hook() == 0
