"""A run that is terminated, or that gets no more memory, ends as it says and leaves nothing."""

from __future__ import annotations

import os
import shutil
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


WORKER = """
import datetime, os, sys, time
from multiprocessing import Pipe
from pathlib import Path
from axisproof.batch import workers
from axisproof.batch.cache import prepare
from axisproof.batch.portable import PortableRequest
from axisproof.checking.reading import Rules
from axisproof.checking.record import CheckRequest
from axisproof.importing.entry import find_candidates

def stuck(*_):
    print("stuck", flush=True)
    for _ in range(1200):  # a signal just before a sleep waits for its end, so sleeps are short
        time.sleep(0.05)

folder = Path("kept")
prepare(folder)
request = CheckRequest(Rules.of((), None), datetime.date(2026, 6, 1))
here, there = Pipe()
here.send(find_candidates([Path("m.yaml")]))
os.replace = stuck
workers._serve(there, PortableRequest.of(request), (folder, "run"))
"""


@pytest.mark.parametrize("number", [signal.SIGTERM, getattr(signal, "SIGHUP", signal.SIGTERM)])
def test_a_process_of_many_that_is_terminated_leaves_no_part_of_an_entry(
    number: signal.Signals, tmp_path: Path
) -> None:
    (tmp_path / "m.yaml").write_text(MACHINE)
    process = subprocess.Popen(
        [sys.executable, "-c", WORKER], cwd=tmp_path, stdout=subprocess.PIPE, text=True
    )
    assert process.stdout is not None
    assert process.stdout.readline() == "stuck\n"
    assert [each.name for each in tmp_path.rglob("*.part")] != []
    process.send_signal(number)
    assert process.wait(30) == 128 + number
    assert list(tmp_path.rglob("*.part")) == []
    process.stdout.close()


WRITING = {
    "import": ["import", "cell/project.yaml", "-o", "out.yaml"],
    "record": ["check", "m.yaml", "--record", "out.json"],
    "init": ["init", "--machine", "M", "--axis", "x:linear", "out.yaml"],
    "cache": ["check", "m.yaml", "--cache", "kept"],
}

STUCK = """
import os, sys, time
def stuck(*_):
    print("stuck", flush=True)
    for _ in range(1200):  # a signal just before a sleep waits for its end, so sleeps are short
        time.sleep(0.05)
os.replace = os.link = stuck
from axisproof.cli.start import main
main()
"""


@pytest.mark.exhaustive
@pytest.mark.parametrize("arguments", WRITING.values(), ids=WRITING.keys())
def test_a_command_that_is_terminated_while_it_writes_leaves_no_part(
    arguments: list[str], tmp_path: Path
) -> None:
    (tmp_path / "m.yaml").write_text(MACHINE)
    shutil.copytree(
        Path(__file__).parent.parent.parent / "fixtures/imports/cell", tmp_path / "cell"
    )
    before = {"m.yaml", "cell"}
    process = subprocess.Popen(
        [sys.executable, "-c", STUCK, *arguments],
        cwd=tmp_path,
        stdout=subprocess.PIPE,
        text=True,
    )
    assert process.stdout is not None
    assert process.stdout.readline() == "stuck\n"
    process.send_signal(signal.SIGTERM)
    assert process.wait(30) == 128 + signal.SIGTERM
    assert {each.name for each in tmp_path.iterdir()} - {"kept"} == before
    assert list(tmp_path.rglob("*.part")) == []
    process.stdout.close()


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
