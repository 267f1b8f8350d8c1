"""A run that is terminated, or that gets no more memory, ends as it says and leaves nothing."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

MACHINE = "format: 1\nmachine: M\naxes: {x: {motion: linear}}\n"


def command(*arguments: str) -> list[str]:
    program = "from axisproof.cli.start import main; main()"
    return [sys.executable, "-c", program, *arguments]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes with names here")
def test_a_comparison_that_is_terminated_leaves_no_folder(tmp_path: Path) -> None:
    folder, own = tmp_path / "plant", tmp_path / "temporary"
    own.mkdir()
    folder.mkdir()
    (folder / "m.yaml").write_text(MACHINE)
    for arguments in (["init", "-q"], ["add", "."]):
        subprocess.run(["git", *arguments], cwd=folder, check=True)
    os.mkfifo(folder / ".git/refs/heads/stuck")  # git waits for what never comes
    process = subprocess.Popen(
        command("changes", "stuck:m.yaml", "m.yaml"),
        cwd=folder,
        env={**os.environ, "TMPDIR": str(own)},
    )
    end = time.monotonic() + 30
    while not list(own.iterdir()) and time.monotonic() < end:
        time.sleep(0.02)
    time.sleep(0.5)
    assert list(own.iterdir())
    process.send_signal(signal.SIGTERM)
    assert process.wait(30) == 128 + signal.SIGTERM
    assert list(own.iterdir()) == []


def test_a_lack_of_memory_is_told_and_ends_with_2(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from axisproof import api
    from axisproof.cli.main import run

    def greedy(*_: object, **__: object) -> None:
        raise MemoryError

    (tmp_path / "m.yaml").write_text(MACHINE)
    monkeypatch.setattr(api, "check", greedy)
    assert run(["check", str(tmp_path / "m.yaml")]) == 2
    assert "MemoryError" in capsys.readouterr().err
