"""A disk that is full, a folder that takes nothing, a reader that has gone: one message, status 2.

Where the system lets us (root, or user namespaces), the disk is a real one of a few pages, which is
gone with the process that mounted it. A limit on the size of files works everywhere.
"""

from __future__ import annotations

import json
import os
import shutil
import stat
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from axisproof.base import safe_write
from axisproof.base.errors import UsageError
from axisproof.base.safe_write import write_files, write_folder

from tests.trust.writing_commands import COMMANDS, DAY, Command, lay_out

pytestmark = pytest.mark.exhaustive

HELPER = Path(__file__).with_name("on_small_disk.py")
DEMO = str(Path(__file__).parent.parent.parent / "fixtures" / "demo")
PYTHON = (sys.executable, "-m", "axisproof")


def namespace() -> list[str]:
    """The command that gives a process mounts of its own; empty where that is not allowed."""
    for words in (["unshare", "-m"], ["unshare", "-rm"]):
        if (
            shutil.which("unshare")
            and not subprocess.run(
                [*words, "mount", "-t", "tmpfs", "tmpfs", "/tmp"], capture_output=True
            ).returncode
        ):
            return words
    return []


@pytest.fixture(scope="module")
def mounting() -> list[str]:
    words = namespace()
    if not words:
        pytest.skip("no disk can be mounted here")
    return words


def on_disk(mounting: list[str], tmp_path: Path, command: Command, kind: str) -> dict[str, Any]:
    source = tmp_path / "source"
    source.mkdir()
    lay_out(source, command)
    (tmp_path / "disk").mkdir()
    done = subprocess.run(
        [*mounting, sys.executable, HELPER, kind, source, tmp_path / "disk", *command.arguments],
        capture_output=True,
        timeout=300,
    )
    assert done.returncode == 0, done.stderr
    told: dict[str, Any] = json.loads(done.stdout)
    return told


KINDS = {
    "no room": "no space left on device",
    "one page": "no space left on device",
    "no more files": "no space left on device",
    "read only": "read-only file system",
    "limit": "file too large",
}
LONG = ("import", "init", "spare", "fix", "fix two files")
"""What they write is longer than a page, so that it is cut short."""


@pytest.mark.parametrize(
    ("kind", "command"),
    [
        (kind, each)
        for kind in KINDS
        for each in COMMANDS
        if kind != "one page" or each.name in LONG
    ],
    ids=lambda each: each if isinstance(each, str) else each.name,
)
def test_a_command_that_cannot_write_says_which_file_and_why_and_changes_nothing(
    kind: str, command: Command, tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    mounting = [] if kind == "limit" else request.getfixturevalue("mounting")
    told = on_disk(mounting, tmp_path, command, kind)
    assert told["status"] == 2
    assert told["after"] == told["before"]
    message = " ".join(told["stderr"].split())
    name = command.writes[0]
    assert f"Cannot do this: {name} cannot be written: {KINDS[kind]}" in message
    assert message.count("Cannot do this") == 1
    assert "Traceback" not in message


def test_when_one_of_two_files_cannot_take_its_name_the_one_written_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    one, two = tmp_path / "one", tmp_path / "two"
    replace = os.replace

    def once(part: Path, name: Path) -> None:
        if name == two:
            raise OSError(5, "Input/output error")
        replace(part, name)

    monkeypatch.setattr(safe_write.os, "replace", once)
    one.write_text("old")
    two.write_text("old")
    with pytest.raises(UsageError) as caught:
        write_files({one: "new", two: "new"}, force=True)
    assert caught.value.what == (
        f"{two} cannot be written: input/output error. Written before that: {one}"
    )
    assert (one.read_text(), two.read_text()) == ("new", "old")
    assert sorted(os.listdir(tmp_path)) == ["one", "two"]


def test_a_folder_that_cannot_be_made_is_named(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("mine")
    with pytest.raises(UsageError, match="pages cannot be written: not a directory"):
        write_folder(tmp_path / "file" / "pages", {"index.html": "x"})


def test_a_write_protected_file_is_not_replaced(folder: Path) -> None:
    words = ["setpriv", "--bounding-set=-dac_override"] if os.geteuid() == 0 else []
    if words and not shutil.which("setpriv"):
        pytest.skip("nothing is protected from root here")
    (folder / "one.yaml").chmod(0o444)
    before = (folder / "one.yaml").read_bytes()
    fix = [*words, *PYTHON, "fix", "one.yaml", *DAY, "--yes"]
    done = subprocess.run(fix, cwd=folder, capture_output=True, text=True, timeout=300)
    assert done.returncode == 2
    assert "one.yaml cannot be written: permission denied" in " ".join(done.stderr.split())
    assert (folder / "one.yaml").read_bytes() == before


# Standard streams --------------------------------------------------------------------------------

PRINTING = (
    ("--help",),
    ("--version",),
    ("check", DEMO, *DAY, "--workings"),
    ("check", DEMO, *DAY, "--format", "json"),
    ("spare", "hall.yaml", "--axis", "lift", "--part", "motor", "spare.yaml", *DAY, "--plan"),
    ("import", "cell/project.yaml"),
    ("init", "--machine", "Cell", "--axis", "lift:linear", "new.yaml"),
    ("show", "hall.yaml"),
    ("rules", "pages", "pages"),
    ("accept", "table.json", *DAY, "-o", "new.yaml"),
    ("fix", "one.yaml", *DAY),
    ("fix", "one.yaml", *DAY, "--yes"),
)


def piped(folder: Path, arguments: tuple[str, ...], redirection: str) -> tuple[int, str]:
    """Exit status and standard error of a command with a shell's redirection."""
    words = ["sh", "-c", f'exec "$@" {redirection}', "sh", *PYTHON, *arguments]
    done = subprocess.run(words, cwd=folder, stderr=subprocess.PIPE, text=True, timeout=300)
    return done.returncode, done.stderr


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    lay_out(tmp_path, COMMANDS[0])
    return tmp_path


@pytest.mark.parametrize("arguments", PRINTING, ids=" ".join)
def test_what_standard_output_does_not_take_is_one_message(
    arguments: tuple[str, ...], folder: Path
) -> None:
    status, said = piped(folder, arguments, ">/dev/full")
    assert status == 2
    assert said.count("standard output cannot be written: no space left on device") == 1
    assert "Traceback" not in said
    assert "Exception ignored" not in said


@pytest.mark.parametrize("arguments", PRINTING, ids=" ".join)
def test_nobody_who_reads_is_no_failure(arguments: tuple[str, ...], folder: Path) -> None:
    usual, said = piped(folder, arguments, ">/dev/null")
    assert usual in (0, 1)
    for made in ("new.yaml", "pages"):
        path = folder / made
        shutil.rmtree(path) if path.is_dir() else path.unlink(missing_ok=True)
    shutil.copy(folder / "two.yaml", folder / "one.yaml")
    reading, writing = os.pipe()
    os.close(reading)
    done = subprocess.run(
        [*PYTHON, *arguments], cwd=folder, stdout=writing, stderr=subprocess.PIPE, timeout=300
    )
    os.close(writing)
    assert (done.returncode, done.stderr.decode()) == (usual, said)


@pytest.mark.parametrize("redirection", [">&-", ">&- 2>&-", "<&- >&- 2>&-", "<&-"])
def test_closed_streams_change_no_status(redirection: str, folder: Path) -> None:
    assert piped(folder, ("check", "table.json", *DAY), redirection) == (0, "")
    assert piped(folder, ("fix", "one.yaml", *DAY), redirection)[0] == 1
    assert piped(folder, ("check", DEMO, *DAY), redirection)[0] == 1
    assert piped(folder, ("check", "nowhere.yaml"), redirection)[0] == 2


@pytest.mark.parametrize("redirection", ["2>&-", "2>/dev/full"])
@pytest.mark.parametrize("arguments", [("check", "nowhere.yaml"), (), ("check", "--nonsense")])
def test_a_message_that_nobody_takes_leaves_status_2(
    redirection: str, arguments: tuple[str, ...], folder: Path
) -> None:
    assert piped(folder, arguments, redirection)[0] == 2


@pytest.mark.parametrize("redirection", ["2>&-", "2>/dev/full"])
def test_remarks_that_nobody_takes_do_not_fail_an_import(redirection: str, folder: Path) -> None:
    arguments = ("import", "cell/project.yaml", "-o", "new.yaml")
    assert piped(folder, arguments, redirection)[0] == 0
    assert (folder / "new.yaml").stat().st_size > 1000


def test_a_closed_stream_does_not_get_into_a_file_that_is_written(folder: Path) -> None:
    for redirection, name in ((">&-", "a"), (">&- 2>&-", "b"), ("<&- >&- 2>&-", "c")):
        assert piped(folder, ("accept", "one.yaml", *DAY, "-o", name), redirection)[0] == 0
    texts = {(folder / name).read_text("utf-8") for name in "abc"}
    assert len(texts) == 1
    assert "recorded_on" in json.loads(texts.pop())


def test_a_device_that_is_full_is_named(folder: Path) -> None:
    status, said = piped(
        folder, ("check", "table.json", *DAY, "--output", "/dev/full", "--force"), ">/dev/null"
    )
    assert status == 2
    assert "/dev/full cannot be written: no space left on device" in said
    assert stat.S_ISCHR(os.stat("/dev/full").st_mode)


def test_an_interrupted_command_writes_nothing(folder: Path) -> None:
    def interrupted() -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        write_files({folder / "out": "new"}, last_look=interrupted)
    assert not [name for name in os.listdir(folder) if name.startswith((".", "out"))]
