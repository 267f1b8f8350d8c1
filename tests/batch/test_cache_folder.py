"""The folder of a cache: damaged entries, writers at once or killed, old entries, other things."""

from __future__ import annotations

import errno
import json
import os
import shutil
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest
from axisproof.base import safe_write
from axisproof.base.errors import UsageError
from axisproof.batch import cache
from axisproof.cli import main as cli
from axisproof.report.formats import renderer
from axisproof.report.rendering import RenderOptions
from axisproof.source.reader import digest_of
from hypothesis import given
from hypothesis import strategies as st

from tests.batch.batch_helpers import archive
from tests.batch.cache_helpers import checked
from tests.captured import Captured


def entries(folder: Path) -> list[Path]:
    return sorted(folder.rglob("*" + cache.ENDING))


def sealed(body: bytes) -> bytes:
    return digest_of(body).encode() + b"\n" + body


def spoiled(data: bytes) -> dict[str, bytes]:
    """What an entry may turn into by accident, by another program or by ill will."""
    body = data.partition(b"\n")[2]
    plain = json.loads(body)

    def altered(**changes: Any) -> bytes:
        return sealed(json.dumps({**plain, **changes}).encode())

    def recorded(**changes: Any) -> bytes:
        return altered(record={**plain["record"], **changes})

    name = plain["record"]["file"]
    return {
        "nothing": b"",
        "cut off": data[: len(data) // 2],
        "one byte": data[:-9] + bytes([data[-9] ^ 1]) + data[-8:],
        "no JSON": sealed(b"{"),
        "deep": sealed(b"[" * 100_000),
        "a list": sealed(b"[]"),
        "a number of many digits": sealed(b"9" * 5000),
        "not UTF-8": sealed(b"\xff\xfe"),
        "no record": altered(record=None),
        "another key": altered(key="0" * 40),
        "no files": altered(files={}),
        "files that are none": altered(files=[1, 2]),
        "another file's record": recorded(file=name + "x"),
        "not judged": recorded(judged=False),
        "findings that are none": recorded(findings=[{"rule": "x"}]),
        "a text for a number": recorded(axes="1"),
        "a flag for a number": recorded(axes=True),
        "one field more": recorded(more=1),
        "a file outside": altered(files={**plain["files"], "/etc/passwd": "x" * 40}),
        "a file above": altered(files={**plain["files"], str(Path(name).parent) + "/../x": "x"}),
        "a name with a NUL": altered(files={**plain["files"], str(Path(name).parent) + "/\0": "x"}),
        "a link that is none": altered(links=[["x", 1, 2]]),
        "a link of two parts": altered(links=[["x", "y"]]),
    }


@pytest.mark.exhaustive
def test_an_entry_that_is_not_whole_or_not_ours_counts_as_none(
    plant: Path, judged: list[str]
) -> None:
    shutil.rmtree(plant / "machines")
    archive(plant / "machines", 1)
    shutil.rmtree(plant / "machines" / "cell")
    for each in (plant / "machines").iterdir():
        if each.name != "m000.yaml":
            each.unlink()
    right = checked(plant)
    (entry,) = entries(plant / "kept")
    whole = entry.read_bytes()
    for what, data in spoiled(whole).items():
        entry.write_bytes(data)
        judged.clear()
        assert checked(plant) == right, what
        assert judged == ["m000.yaml"], what
        assert entry.read_bytes() == whole, what
    entry.unlink()
    os.mkfifo(entry)
    judged.clear()
    assert checked(plant) == right
    assert entry.read_bytes() == whole  # a pipe would have made it wait for ever
    judged.clear()
    checked(plant)
    assert judged == []


@given(st.binary(max_size=300), st.booleans())
def test_no_bytes_upset_the_reader(tmp_path_factory: Any, data: bytes, seal: bool) -> None:
    path = tmp_path_factory.getbasetemp() / "any.entry"
    path.write_bytes(sealed(data) if seal else data)
    cache._read_entry(path)


def test_a_folder_with_other_things_is_left_alone(plant: Path) -> None:
    before = sorted(plant.rglob("*"))
    with pytest.raises(UsageError, match="holds other things than results of axisproof"):
        checked(plant, cache=plant / "machines")
    assert sorted(plant.rglob("*")) == before


@pytest.mark.exhaustive
@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EROFS, errno.EACCES])
@pytest.mark.parametrize("jobs", [1, 2])
def test_a_folder_that_takes_nothing_is_told_once_and_changes_nothing(
    plant: Path, monkeypatch: pytest.MonkeyPatch, code: int, jobs: int
) -> None:
    checked(plant)
    right = checked(plant, cache=None)
    shutil.rmtree(plant / "kept")
    (plant / "kept").mkdir()
    safe_write.put_file(plant / "kept" / cache.TAG, cache.TAG_TEXT.encode())
    if jobs > 1:  # another process: nothing that is changed here reaches it
        for first in range(256):
            (plant / "kept" / f"{first:02x}").write_text("in the way", "utf-8")
    else:

        def refuse(path: Path, data: bytes) -> None:
            raise OSError(code, os.strerror(code), str(path))

        monkeypatch.setattr(cache, "put_file", refuse)
    notes: list[str] = []
    assert checked(plant, noted=notes.append, jobs=jobs) == right
    assert len(notes) == 1
    assert "The report is complete without it" in notes[0]
    assert entries(plant / "kept") == []


def test_a_file_in_place_of_the_folder_is_told_on_standard_error(
    plant: Path, capsys: Captured
) -> None:
    (plant / "kept").write_text("a file", "utf-8")
    arguments = ["check", str(plant / "machines"), "--on", "2026-06-01"]
    status = cli.run(arguments)
    right = capsys.readouterr()
    assert cli.run([*arguments, "--cache", str(plant / "kept" / "below")]) == status
    told = capsys.readouterr()
    assert told.out == right.out
    assert " ".join(told.err.split()).startswith("Note: nothing is kept in ")
    assert (plant / "kept").read_text("utf-8") == "a file"


KILLED = """
import os, sys
from axisproof import api
from axisproof.base import safe_write
real = os.replace
count = 0
def replace(old, new):
    global count
    count += 1
    if count == 4:
        os.kill(os.getpid(), 9)
    real(old, new)
safe_write.os.replace = replace
on = __import__("datetime").date(2026, 6, 1)
api.check([sys.argv[1]], api.CheckOptions(cache=sys.argv[2], on=on))
"""


@pytest.mark.exhaustive
def test_a_writer_that_is_killed_leaves_a_cache_that_can_be_used(
    plant: Path, judged: list[str]
) -> None:
    arguments = [sys.executable, "-c", KILLED, str(plant / "machines"), str(plant / "kept")]
    assert subprocess.run(arguments, capture_output=True, timeout=300).returncode == -9
    (part,) = (plant / "kept").rglob("*.part")
    options = {"rules": [], "settings": None}
    assert checked(plant, **options) == checked(plant, cache=None, **options)
    judged.clear()
    checked(plant, **options)
    assert judged == []
    assert part.exists()
    os.utime(part, (time.time() - 7200,) * 2)
    cache.prune(plant / "kept")
    assert not part.exists()
    assert entries(plant / "kept")


@pytest.mark.exhaustive
def test_two_runs_at_once_share_a_cache(plant: Path) -> None:
    code = (
        "import sys, datetime; from axisproof import api\n"
        "options = api.CheckOptions(cache=sys.argv[2], on=datetime.date(2026, 6, 1))\n"
        "r = api.check([sys.argv[1]], options)\n"
        "from axisproof.report.rendering import RenderOptions\n"
        "from axisproof.report.json import render\n"
        "sys.stdout.write(render(r, RenderOptions()))\n"
    )
    arguments = [sys.executable, "-c", code, str(plant / "machines"), str(plant / "kept")]
    running = [subprocess.Popen(arguments, stdout=subprocess.PIPE) for _ in range(3)]
    reports = {each.communicate(timeout=300)[0] for each in running}
    assert [each.returncode for each in running] == [0, 0, 0]
    right = checked(plant, cache=None, rules=[], settings=None)
    assert reports == {renderer("json")(right, RenderOptions()).encode()}
    assert list((plant / "kept").rglob("*.part")) == []


def test_old_entries_are_dropped_and_those_in_use_are_not(
    plant: Path, judged: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    checked(plant)
    every = entries(plant / "kept")
    for each in every:
        os.utime(each, (time.time() - 2 * 86400,) * 2)
    checked(plant)  # in use: their day is noted
    assert all(time.time() - each.stat().st_mtime < 3600 for each in every)
    os.utime(every[0], (time.time() - cache.MAX_AGE - 9,) * 2)
    cache.prune(plant / "kept")
    assert entries(plant / "kept") == every[1:]
    latest = sorted(every[1:], key=lambda each: each.stat().st_size)
    for age, each in enumerate(latest, 1):
        os.utime(each, (time.time() - age,) * 2)
    monkeypatch.setattr(cache, "MAX_ENTRIES", 4)
    cache.prune(plant / "kept")
    assert entries(plant / "kept") == sorted(latest[:3])  # the latest, and some room
    monkeypatch.setattr(cache, "MAX_SIZE", latest[0].stat().st_size * 10 // 9 + 1)
    cache.prune(plant / "kept")
    assert entries(plant / "kept") == [latest[0]]


def test_a_run_that_keeps_something_drops_what_is_too_much(
    plant: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(cache, "MAX_ENTRIES", 2)
    checked(plant)
    assert len(entries(plant / "kept")) == 1


def test_nothing_is_kept_unless_it_is_asked_for(
    plant: Path, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(plant / "home"))
    monkeypatch.delenv("AXISPROOF_CACHE", raising=False)
    arguments = ["check", str(plant / "machines"), "--on", "2026-06-01"]
    cli.run(arguments)
    assert not (plant / "home").exists()
    out = capsys.readouterr().out
    cli.run([*arguments, "--cache"])
    if sys.platform == "linux":
        assert len(entries(plant / "home" / "axisproof")) > 3
    assert capsys.readouterr().out == out
    cli.run([*arguments, "--cache", str(plant / "kept")])
    assert len(entries(plant / "kept")) > 3
    shutil.rmtree(plant / "kept")
    monkeypatch.setenv("AXISPROOF_CACHE", str(plant / "kept"))
    cli.run([*arguments, "--no-cache"])
    assert not (plant / "kept").exists()
    cli.run(arguments)
    assert len(entries(plant / "kept")) > 3


def test_a_cache_among_machine_files_is_not_taken_for_machines(plant: Path) -> None:
    one = checked(plant, cache=plant / "machines" / "kept")
    assert checked(plant, cache=plant / "machines" / "kept") == one
