"""A hostile repository: links and paths lead nowhere outside."""

from __future__ import annotations

import io
import json
import re
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from axisproof import api
from axisproof.base.errors import AxisproofError, InputError, UsageError

from tests.captured import Captured
from tests.trust.hostile_texts import shown

SECRET = "top-secret: [x\n"


@pytest.fixture
def outside(tmp_path: Path) -> Path:
    """A folder `repository` with a machine, and beside it a file that is none of its business."""
    (tmp_path / "secret.yaml").write_text(SECRET)
    (tmp_path / "secret.rules").write_text(SECRET)
    folder = tmp_path / "repository"
    folder.mkdir()
    (folder / "m.yaml").write_text("format: 1\nmachine: M\naxes: {x: {motion: linear}}\n")
    return folder


def link(folder: Path, name: str, target: str) -> None:
    (folder / name).symlink_to(folder / target)


def refused(use: Callable[[], object], words: str) -> None:
    with pytest.raises(AxisproofError) as caught:
        use()
    error = caught.value
    told = f"{error.what} {error.expected} {error.source_line}"
    assert words in error.what, error.what
    assert "top-secret" not in told


INCLUDES: dict[str, str] = {
    "above": "../secret.yaml",
    "absolute": "/etc/passwd.yaml",
    "around": "sub/../../secret.yaml",
    "by a link": "link.yaml",
    "by a link to a folder": "up/secret.yaml",
    "on another drive": "C:\\\\secret.yaml",
    "on a server": "\\\\\\\\server\\\\secret.yaml",
}


@pytest.mark.parametrize("entry", INCLUDES.values(), ids=INCLUDES.keys())
def test_an_include_stays_in_the_folder_of_its_machine(entry: str, outside: Path) -> None:
    (outside / "sub").mkdir()
    link(outside, "link.yaml", "../secret.yaml")
    link(outside, "up", "..")
    path = outside / "m.yaml"
    path.write_text(f'include: ["{entry}"]\n' + path.read_text())
    with pytest.raises(InputError) as caught:
        api.check([path])
    assert re.search("leaves the folder|absolute path", caught.value.what)
    assert "top-secret" not in str(caught.value)


@pytest.mark.parametrize("entry", INCLUDES.values(), ids=INCLUDES.keys())
@pytest.mark.parametrize("key", ["facts", "device", "table", "mapping"])
def test_a_source_of_a_project_stays_in_its_folder(key: str, entry: str, outside: Path) -> None:
    (outside / "sub").mkdir()
    link(outside, "link.yaml", "../secret.yaml")
    link(outside, "up", "..")
    (outside / "l.csv").write_text("A,B\n")
    stated = {"table": "l.csv", "mapping": "m.yaml"} if key in ("table", "mapping") else {}
    source = json.dumps({**stated, key: entry.replace("\\\\", "\\")})
    path = outside / "project.yaml"
    path.write_text(f"project: 1\nmachine: M\nsources:\n  - {source}\n")
    with pytest.raises(InputError) as caught:
        api.check([path])
    assert re.search("leaves the project's folder|absolute path", caught.value.what)
    assert "top-secret" not in str(caught.value)


def test_a_link_out_of_a_searched_folder_is_refused_unread(outside: Path) -> None:
    link(outside, "n.yaml", "../secret.yaml")
    refused(lambda: api.check([outside]), "n.yaml is a link that leads out of the folder")
    (outside / "n.yaml").unlink()
    (outside / "s.rules").symlink_to(outside.parent / "secret.rules")
    refused(lambda: api.test_rules([outside]), "s.rules is a link that leads out of the folder")


def test_a_link_inside_a_searched_folder_and_one_that_is_named_are_followed(outside: Path) -> None:
    link(outside, "n.yaml", "m.yaml")
    assert api.check([outside]).axes == 1  # the same machine, once
    (outside.parent / "named.yaml").symlink_to(outside / "m.yaml")
    assert api.check([outside.parent / "named.yaml"]).axes == 1


def test_links_to_folders_are_not_followed(outside: Path) -> None:
    (outside / "root").symlink_to("/")
    (outside / "self").symlink_to(outside)
    assert api.check([outside]).axes == 1


def test_what_is_no_file_is_not_opened(outside: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    import os

    os.mkfifo(outside / "pipe.yaml")
    refused(lambda: api.check([outside]), "is not a regular file")
    monkeypatch.setattr(sys, "stdin", io.StringIO())
    refused(lambda: api.check(["/dev/stdin"]), "is not a regular file")


def test_a_report_replaces_nothing_unless_it_is_forced_to(outside: Path, capsys: Captured) -> None:
    kept = outside.parent / "kept.txt"
    kept.write_text("mine")
    (outside / "report.html").symlink_to(kept)
    arguments = ["check", outside / "m.yaml", "--format", "html", "--output"]
    told = " ".join(shown(capsys, *arguments, outside / "report.html").split())
    assert "exists and would be overwritten" in told
    assert kept.read_text() == "mine"
    told = shown(capsys, *arguments, outside / "m.yaml", "--force")
    assert "not overwritten" in told


def test_a_revision_is_asked_for_below_the_repository_only(outside: Path) -> None:
    for path in ("HEAD:../secret.yaml", "HEAD:/etc/passwd", "--output=x:m.yaml", "HEAD:a\\..\\b"):
        with pytest.raises(UsageError):
            api.changes(path, outside / "m.yaml")
    assert not Path("x").exists()
