"""Several at once: runs that write one file, and a watch over files that change under it."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import threading
from pathlib import Path

import pytest
from axisproof import api
from axisproof.base.errors import AxisproofError
from axisproof.cli import watching

from tests.trust.writing_commands import COMMANDS, DAY, lay_out

PYTHON = (sys.executable, "-m", "axisproof")
PROCESSES = 4


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    lay_out(tmp_path, COMMANDS[0])
    return tmp_path


def together(folder: Path, *lines: tuple[str, ...]) -> list[tuple[int, str]]:
    """Exit status and standard error of commands that run at the same time."""
    running = [
        subprocess.Popen(
            [*PYTHON, *line],
            cwd=folder,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            text=True,
        )
        for line in lines
    ]
    return [(process.wait(), process.communicate()[1]) for process in running]


def test_of_several_that_write_a_new_file_one_succeeds_and_the_others_say_it_is_there(
    folder: Path,
) -> None:
    lines = [
        ("check", "hall.yaml", *DAY, "--output", "out", "--width", str(100 + each))
        for each in range(PROCESSES)
    ]
    results = together(folder, *lines)
    assert [status for status, _ in results].count(0) == 1
    for status, said in results:
        if status:
            assert status == 2
            assert "out exists and would be overwritten" in said
    first = [status for status, _ in results].index(0)
    assert together(folder, (*lines[first][:-3], "alone", *lines[first][-2:]))[0][0] == 0
    assert (folder / "out").read_bytes() == (folder / "alone").read_bytes()
    assert not list(folder.glob(".axisproof-*"))


@pytest.mark.exhaustive
@pytest.mark.parametrize("command", ["accept", "check"])
def test_of_several_that_overwrite_a_file_one_is_there_whole(command: str, folder: Path) -> None:
    (folder / "out").write_text("old")
    machines = ("hall.yaml", "table.json", "one.yaml", "before.yaml")
    lines = [(command, each, *DAY, "--output", "out", "--force") for each in machines]
    assert all(status in (0, 1) for status, _ in together(folder, *lines))
    alone = []
    for number, line in enumerate(lines):
        name = f"alone{number}"
        together(folder, (*line[:-2], name))
        alone.append((folder / name).read_bytes())
    assert len(set(alone)) > 1
    assert (folder / "out").read_bytes() in alone
    assert not list(folder.glob(".axisproof-*"))


@pytest.mark.exhaustive
def test_several_fixes_of_one_file_end_in_the_file_that_one_makes(folder: Path) -> None:
    (folder / "other").mkdir()
    shutil.copy(folder / "one.yaml", folder / "other")
    line = ("fix", "one.yaml", *DAY, "--yes")
    for status, said in together(folder, *[line] * PROCESSES):
        assert status == 0 or re.search(
            "has changed since it was checked|stands here no more", said
        )
    assert together(folder / "other", line)[0][0] == 0
    assert (folder / "one.yaml").read_bytes() == (folder / "other" / "one.yaml").read_bytes()
    assert not list(folder.glob(".axisproof-*"))


def test_what_somebody_saves_between_check_and_write_is_kept(folder: Path) -> None:
    found = api.fixes([folder / "one.yaml"])
    saved = (folder / "one.yaml").read_text("utf-8") + "# and this\n"
    (folder / "one.yaml").write_text(saved, "utf-8")
    with pytest.raises(Exception, match="has changed since it was checked") as caught:
        api.write_fixes(found.changes)
    assert "Nothing was written" in str(caught.value)
    assert (folder / "one.yaml").read_text("utf-8") == saved


def test_a_file_read_while_others_replace_it_is_one_of_them(folder: Path) -> None:
    from axisproof.base.safe_write import write_file

    texts = [letter * 200_000 for letter in "ab"]
    path = folder / "out"
    write_file(path, texts[0])
    ended = threading.Event()

    def keep_writing() -> None:
        for number in range(60):
            write_file(path, texts[number % 2], force=True)
        ended.set()

    writer = threading.Thread(target=keep_writing)
    writer.start()
    seen = set()
    while not ended.is_set():
        seen.add(path.read_text("utf-8"))
    writer.join()
    assert seen <= set(texts)


def test_watch_sees_files_that_come_go_and_change_and_stops_for_none_of_them(
    folder: Path,
) -> None:
    """Each look finds the folder in another state, some of them in the middle of being saved."""
    machines = folder / "machines"
    machines.mkdir()
    shutil.copy(folder / "one.yaml", machines)
    text = (machines / "one.yaml").read_text("utf-8")

    def half() -> None:
        (machines / "one.yaml").write_text(text[: len(text) // 2], "utf-8")

    def gone() -> None:
        (machines / "one.yaml").unlink()

    def whole() -> None:
        (machines / "one.yaml").write_text(text, "utf-8")

    def another() -> None:
        shutil.copy(folder / "table.json", machines)

    def folder_gone() -> None:
        shutil.rmtree(machines)

    def folder_back() -> None:
        machines.mkdir()
        whole()

    def swapped_for_a_folder() -> None:
        (machines / "one.yaml").unlink()
        (machines / "one.yaml").mkdir()

    def loop_of_links() -> None:
        os.symlink("loop.yaml", machines / "loop.yaml")

    steps = [half, gone, another, whole, folder_gone, folder_back, loop_of_links]
    steps.append(swapped_for_a_folder)
    told: list[str] = []
    seen: list[list[str]] = []

    def check() -> list[Path]:
        try:
            report = api.check([machines])
            told.append(f"{len(report.findings)} findings in {len(report.files)}")
            return [Path(file) for file in report.files]
        except AxisproofError as error:
            told.append(f"{type(error).__name__}: {error.what}")
            return []

    def wait(seconds: float) -> None:
        if not steps:
            raise KeyboardInterrupt
        steps.pop(0)()

    with pytest.raises(KeyboardInterrupt):
        watching.watch(
            [machines], check, lambda files: seen.append([each.name for each in files]), wait
        )
    assert not steps
    assert told[0] == "1 findings in 1"
    assert len(told) == 9
    assert seen[0] == ["one.yaml"]
    assert told[4].startswith("1 findings in 2")
    assert "there is no file or folder" in told[5]
    assert told[6] == told[0]


def test_a_watch_whose_reader_has_gone_ends(folder: Path) -> None:
    watch = subprocess.Popen(
        [*PYTHON, "check", "one.yaml", *DAY, "--watch"],
        cwd=folder,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        bufsize=0,
    )
    assert watch.stdout is not None
    assert watch.stderr is not None
    while b"Watching for changes" not in watch.stdout.read(65536):
        pass
    watch.stdout.close()
    with (folder / "one.yaml").open("a") as file:
        file.write("# saved\n")
    assert watch.wait(60) == 0
    assert watch.stderr.read() == b""


def test_json_reports_written_at_once_beside_each_other_are_all_there(folder: Path) -> None:
    lines = [
        ("check", "one.yaml", *DAY, "--format", "json", "--output", f"out{each}")
        for each in range(PROCESSES)
    ]
    assert [status for status, _ in together(folder, *lines)] == [1] * PROCESSES
    texts = {(folder / f"out{each}").read_text("utf-8") for each in range(PROCESSES)}
    assert len(texts) == 1
    assert json.loads(texts.pop())["findings"]
