"""What is written to: a link's target, never the link; a pipe, never in its place."""

from __future__ import annotations

import os
import threading
from pathlib import Path

from axisproof import cli
from axisproof.safe_write import write_file

TABLE = str(Path(__file__).parent.parent / "fixtures" / "sound" / "table.json")


def test_a_link_is_written_through_and_stays_a_link(tmp_path: Path) -> None:
    target, link = tmp_path / "kept" / "report.txt", tmp_path / "report.txt"
    target.parent.mkdir()
    target.write_text("old", "utf-8")
    link.symlink_to(target)
    write_file(link, "new", force=True)
    assert link.is_symlink()
    assert target.read_text("utf-8") == "new"


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
    rules.write_text("language 1\n", "utf-8")
    options = ["--rules", str(tmp_path), "--output", str(rules), "--force"]
    assert cli.run(["changes", TABLE, TABLE, *options]) == 2
    assert rules.read_text("utf-8") == "language 1\n"
