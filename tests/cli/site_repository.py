"""A repository with a site file, as the tests of site files need it."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest
from axisproof.cli import main as cli

ROOT = Path(__file__).parents[2]
Captured = pytest.CaptureFixture[str]
WEAK = ROOT / "fixtures" / "faults" / "brake-holds-load.yaml"
RULE = "brake-holds-load"
DAY = ["--on", "2026-03-02"]


def git(folder: Path, *arguments: str) -> None:
    names = ("-c", "user.name=n", "-c", "user.email=e@example.invalid")
    subprocess.run(["git", *names, *arguments], cwd=folder, check=True, capture_output=True)


def commit(folder: Path) -> None:
    git(folder, "add", "-A")
    git(folder, "commit", "-q", "--allow-empty", "-m", "m")


def write_site(folder: Path, text: str) -> Path:
    path = folder / "axisproof.yaml"
    path.write_text(f"axisproof: 1\n{text}", "utf-8")
    return path


def settings(folder: Path, level: str, rule: str = RULE) -> None:
    text = f"levels: {{{rule}: {{level: '{level}', reason: tried by hand}}}}\n"
    (folder / "settings.yaml").write_text(text, "utf-8")


def out(capsys: Captured, *arguments: str) -> tuple[int, str]:
    status = cli.run([*arguments])
    told = capsys.readouterr()
    assert "Unforeseen" not in told.err
    return status, " ".join((told.out + told.err).split())
