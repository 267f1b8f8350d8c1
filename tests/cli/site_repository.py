"""A repository with a site file, as the tests of site files need it."""

from __future__ import annotations

from pathlib import Path

from axisproof.cli import main as cli

from tests.captured import Captured

ROOT = Path(__file__).parents[2]
WEAK = ROOT / "fixtures" / "faults" / "brake-holds-load.yaml"
RULE = "brake-holds-load"
DAY = ["--on", "2026-03-02"]


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
