"""Files that a .gitignore file names: left out and counted, but never one that git tracks."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path

import pytest
from axisproof import api
from axisproof.base.errors import UsageError
from axisproof.cli import main as cli
from axisproof.importing.entry import search
from axisproof.report.formats import FORMS

from tests.captured import Captured
from tests.repositories import git

MACHINE = "format: 1\nmachine: m\naxes: {a: {motion: linear}}\n"


@pytest.fixture
def tree(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A repository whose file b.yaml is ignored and tracked, and c.yaml is ignored alone."""
    monkeypatch.chdir(tmp_path)
    git(Path(), "init", "-q")
    Path("machines").mkdir()
    for name in "abc":
        Path("machines", f"{name}.yaml").write_text(MACHINE.replace("m\n", f"{name}\n"), "utf-8")
    Path(".gitignore").write_text("b.yaml\nc.yaml\n", "utf-8")
    git(Path(), "add", "-f", "machines/b.yaml", "machines/a.yaml")
    return tmp_path


def ignored(*paths: str) -> list[str]:
    return [path.as_posix() for path in search([Path(path) for path in paths]).ignored]


def test_an_ignored_file_is_left_out_and_a_tracked_one_never(tree: Path) -> None:
    assert ignored("machines") == ["machines/c.yaml"]
    assert ignored(".") == ["machines/c.yaml"]
    git(Path(), "commit", "-q", "-m", "m")
    assert ignored("machines") == ["machines/c.yaml"]
    git(Path(), "rm", "-q", "--cached", "machines/b.yaml")
    assert ignored("machines") == ["machines/b.yaml", "machines/c.yaml"]


@pytest.mark.parametrize(
    ("above", "own"),
    [
        ("*.yaml", b"\xef\xbb\xbf!c.yaml\n"),
        ("*.yaml", b"# \xe9\n!c.yaml\n"),
        ("*.yaml", b"!\n!c.yaml\r\n"),
        ("*.yaml", b"*.md\n" * 300_000),
        ("", "# a note\u2028*.yaml\f*.yaml".encode()),
    ],
    ids=["byte order mark", "no UTF-8", "a line of no pattern", "too large", "breaks of text"],
)
def test_what_git_keeps_in_is_kept_in(tree: Path, above: str, own: bytes) -> None:
    Path(".gitignore").write_text(above, "utf-8")
    Path("machines/.gitignore").write_bytes(own)
    assert "machines/c.yaml" not in ignored("machines")


def test_a_file_that_a_repository_within_tracks_is_never_ignored(tree: Path) -> None:
    Path("machines/own").mkdir()
    git(Path(), "init", "-q", "machines/own")
    for name in ("c.yaml", "d.yaml"):
        Path("machines/own", name).write_text(MACHINE.replace("m\n", f"{name[0]}2\n"), "utf-8")
    git(Path(), "-C", "machines/own", "add", "c.yaml")
    assert ignored(".") == ["machines/c.yaml"]
    Path("machines/own/.gitignore").write_text("*.yaml\n", "utf-8")
    assert ignored(".", "machines") == ["machines/c.yaml", "machines/own/d.yaml"]


def test_a_file_that_is_named_is_checked(tree: Path) -> None:
    assert api.check(["machines/c.yaml"]).machines == ("c",)
    assert set(api.check(["machines", "machines/c.yaml"]).machines) == {"a", "b", "c"}


def test_the_nearest_file_decides(tree: Path) -> None:
    Path("machines/.gitignore").write_text("!c.yaml\n/a.yaml\n", "utf-8")
    git(Path(), "rm", "-q", "--cached", "machines/a.yaml")
    assert ignored("machines") == ["machines/a.yaml"]


def test_only_files_inside_of_the_tree_count(tree: Path) -> None:
    Path(".gitignore").unlink()
    Path(".git/info/exclude").write_text("c.yaml\n", "utf-8")
    Path("global").write_text("c.yaml\n", "utf-8")
    git(Path(), "config", "core.excludesFile", str(tree / "global"))
    assert ignored("machines") == []
    inner = tree / "machines" / "inner"
    inner.mkdir()
    subprocess.run(["git", "init", "-q", str(inner)], check=True)
    Path(".gitignore").write_text("c.yaml\n", "utf-8")
    (inner / "c.yaml").write_text(MACHINE, "utf-8")
    assert ignored("machines/inner") == []


def test_without_a_repository_the_checked_folder_is_the_tree(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("machines").mkdir()
    Path("machines/c.yaml").write_text(MACHINE, "utf-8")
    Path(".gitignore").write_text("c.yaml\n", "utf-8")
    assert ignored("machines") == []
    assert ignored(".") == ["machines/c.yaml"]


def test_if_nobody_knows_what_is_tracked_nothing_is_left_out(tree: Path) -> None:
    Path(".git/objects/info").mkdir(exist_ok=True)
    Path(".git/objects/info/alternates").write_text("/nowhere\n", "utf-8")
    assert ignored("machines") == []
    Path(".git/objects/info/alternates").unlink()
    Path(".git/HEAD").unlink()
    assert ignored("machines") == []


@pytest.mark.parametrize("form", list(FORMS))
def test_every_form_counts_them(tree: Path, capsys: Captured, form: str) -> None:
    cli.run(["check", "machines", "--format", form, "--fail-at", "never"])
    text = capsys.readouterr().out
    if form == "json":
        assert json.loads(text)["ignored"] == ["machines/c.yaml"]
    else:
        said = " ".join(text.replace("\\", "").split())
        assert "left out 1 file that a .gitignore file names" in said.replace("&#x2E;", ".")


def test_if_all_are_ignored_nothing_was_checked(tree: Path) -> None:
    Path("machines/a.yaml").unlink()
    Path("machines/b.yaml").unlink()
    with pytest.raises(UsageError, match=r"a \.gitignore file ignores 1 file"):
        api.check(["machines"])


def test_a_change_that_lets_a_checked_file_be_ignored_fails(tree: Path) -> None:
    git(Path(), "commit", "-q", "-m", "m")
    git(Path(), "rm", "-q", "--cached", "machines/b.yaml")
    report = api.changes("HEAD:machines", "machines", site_files=True)
    assert report.no_longer_checked == ("machines/b.yaml",)
    assert report.ignored == ("machines/b.yaml", "machines/c.yaml")
