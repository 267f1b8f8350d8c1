"""What is written to: no link and not its target; a pipe, never in its place."""

from __future__ import annotations

import os
import threading
from pathlib import Path

import pytest
from axisproof.base import safe_write
from axisproof.base.errors import UsageError
from axisproof.base.safe_write import write_file
from axisproof.cli import main as cli

TABLE = str(Path(__file__).parents[2] / "fixtures" / "sound" / "table.json")


def test_a_link_is_not_written_through_and_stays_a_link(tmp_path: Path) -> None:
    target, link = tmp_path / "kept" / "report.txt", tmp_path / "report.txt"
    target.parent.mkdir()
    target.write_text("old", "utf-8")
    link.symlink_to(target)
    with pytest.raises(UsageError, match="is a link and is not followed"):
        write_file(link, "new", force=True)
    assert link.is_symlink()
    assert target.read_text("utf-8") == "old"


def test_a_pipe_takes_the_text_and_is_not_replaced_by_a_file(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    got: list[str] = []
    reader = threading.Thread(target=lambda: got.append(pipe.read_text("utf-8")))
    reader.start()
    write_file(pipe, "new", force=True)
    reader.join(10)
    assert got == ["new"]
    assert pipe.is_fifo()


def test_changes_do_not_overwrite_the_rules_they_were_made_with(tmp_path: Path) -> None:
    rules = tmp_path / "own.rules"
    rules.write_text("language 2\n", "utf-8")
    options = ["--rules", str(tmp_path), "--output", str(rules), "--force"]
    assert cli.run(["changes", TABLE, TABLE, *options]) == 2
    assert rules.read_text("utf-8") == "language 2\n"


def test_text_is_on_the_disk_before_it_gets_the_name_and_the_folder_after(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    done: list[str] = []
    sync, replace = os.fsync, os.replace

    def syncing(handle: int) -> None:
        done.append(f"sync {os.path.basename(os.readlink(f'/proc/self/fd/{handle}'))}")
        sync(handle)

    def replacing(part: Path, path: Path) -> None:
        assert part.read_text("utf-8") == "new"
        assert part.parent == path.parent, "a name in another folder may be on another disk"
        done.append(f"{part.name} becomes {path.name}")
        replace(part, path)

    monkeypatch.setattr(safe_write.os, "fsync", syncing)
    monkeypatch.setattr(safe_write.os, "replace", replacing)
    write_file(tmp_path / "a", "new", force=True)
    part = done[0].removeprefix("sync ")
    assert part.startswith(".axisproof-")
    assert done == [f"sync {part}", f"{part} becomes a", f"sync {tmp_path.name}"]


def test_links_in_a_circle_and_links_to_nowhere_are_not_followed(tmp_path: Path) -> None:
    (tmp_path / "a").symlink_to(tmp_path / "b")
    (tmp_path / "b").symlink_to(tmp_path / "a")
    with pytest.raises(UsageError, match="a is a link and is not followed"):
        write_file(tmp_path / "a", "new", force=True)
    assert (tmp_path / "a").is_symlink()
    (tmp_path / "c").symlink_to(tmp_path / "d")
    with pytest.raises(UsageError, match="c is a link and is not followed"):
        write_file(tmp_path / "c", "new", force=True)
    assert not (tmp_path / "d").exists()
    assert (tmp_path / "c").is_symlink()


def test_a_name_as_long_as_the_system_allows_is_written(tmp_path: Path) -> None:
    path = tmp_path / ("n" * 255)
    write_file(path, "one")
    write_file(path, "two", force=True)
    assert path.read_text("utf-8") == "two"


@pytest.mark.skipif(os.geteuid() != 0, reason="only root may give files away")
def test_a_file_written_by_root_still_belongs_to_its_owner(tmp_path: Path) -> None:
    path = tmp_path / "theirs"
    path.write_text("old", "utf-8")
    path.chmod(0o640)
    os.chown(path, 1234, 4321)
    write_file(path, "new", force=True)
    status = path.stat()
    assert (status.st_uid, status.st_gid, status.st_mode & 0o777) == (1234, 4321, 0o640)


def test_what_nobody_else_may_read_is_at_no_time_readable(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "mine"
    path.write_text("old", "utf-8")
    path.chmod(0o600)
    modes: list[int] = []
    real = os.open

    def opening(name: Path, *rest: int) -> int:
        handle = real(name, *rest)
        modes.append(os.fstat(handle).st_mode & 0o077)
        return handle

    monkeypatch.setattr(safe_write, "_sync_folder", lambda folder: None)
    monkeypatch.setattr(safe_write.os, "open", opening)
    write_file(path, "new", force=True)
    assert modes == [0, 0]
