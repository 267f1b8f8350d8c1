"""Versions of a machine that git holds."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from axisproof import api
from axisproof.base.errors import InputError, UsageError
from axisproof.cli.main import run

from tests.captured import Captured
from tests.changes.two_versions import Version, one
from tests.repositories import git

ROOT = Path(__file__).parents[2]


@pytest.fixture
def repository(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A repository with the sound hall (which includes a file) and a change in its folder."""
    folder = tmp_path / "plant"
    (folder / "machines").mkdir(parents=True)
    for name in ("hall.yaml", "mechanics.yaml"):
        shutil.copy(ROOT / "fixtures/sound" / name, folder / "machines" / name)
    git(folder, "init", "-q")
    git(folder, "add", ".")
    git(folder, "commit", "-qm", "as it was")
    hall = folder / "machines/hall.yaml"
    hall.write_text(hall.read_text("utf-8").replace("node: 5\n", "node: 6\n"), "utf-8")
    monkeypatch.chdir(folder)
    return folder


@pytest.mark.parametrize(
    ("old", "new", "where"),
    [
        ("HEAD:machines", "machines", ""),
        ("HEAD:machines/hall.yaml", "machines/hall.yaml", ""),
        ("HEAD:", "machines", ""),
        ("HEAD:./hall.yaml", "hall.yaml", "machines"),
        ("HEAD:./", ".", "machines"),
        (":machines/hall.yaml", "machines/hall.yaml", ""),
    ],
)
def test_a_revision_is_read_with_what_it_includes(
    repository: Path, monkeypatch: pytest.MonkeyPatch, old: str, new: str, where: str
) -> None:
    monkeypatch.chdir(repository / where)
    report = api.changes(old, new)
    change = one(report)
    assert (change.fact, change.old, change.new) == ("drive.node", "5", "6")
    assert change.old_mark is not None
    name = old if old.endswith(".yaml") else old.rstrip("/") + "/hall.yaml"
    name = {"HEAD:": "HEAD:machines/hall.yaml", "HEAD:./": "HEAD:./hall.yaml"}.get(old, name)
    assert change.old_mark.place.file == name
    assert report.axes == 9


def test_two_revisions_are_compared(repository: Path) -> None:
    git(repository, "commit", "-qam", "another node")
    assert one(api.changes("HEAD~1:machines", "HEAD:machines")).fact == "drive.node"


@pytest.mark.parametrize(
    "text",
    ["nope:machines", "HEAD:nope.yaml", "HEAD:../plant", "HEAD:/etc", "-x:machines", "nowhere"],
)
def test_a_revision_or_path_that_is_not_there_is_one_clear_error(
    repository: Path, capsys: Captured, text: str
) -> None:
    with pytest.raises(UsageError):
        api.changes(text, "machines")
    assert run(["changes", "--", text, "machines"]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.startswith("Cannot do this: ")
    assert "Traceback" not in told.err
    assert str(text.partition(":")[0]) in told.err


def test_outside_a_repository_git_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, version: Version
) -> None:
    version("new.yaml")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(tmp_path.parent))
    with pytest.raises(UsageError, match="not a git repository"):
        api.changes("HEAD:new.yaml", "new.yaml")


def test_a_fault_in_a_revision_is_named_by_the_revision(repository: Path) -> None:
    hall = repository / "machines/hall.yaml"
    hall.write_text("format: 1\nmachine: x\naxes: {a: {motion: up}}\n", "utf-8")
    git(repository, "commit", "-qam", "a fault")
    with pytest.raises(InputError) as caught:
        api.changes("HEAD:machines/hall.yaml", "machines/mechanics.yaml")
    place = caught.value.place
    assert place is not None
    assert (place.file, place.line, place.column) == ("HEAD:machines/hall.yaml", 3, 20)


def test_a_file_that_is_there_goes_before_a_revision(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, version: Version
) -> None:
    version("HEAD:x.yaml")
    monkeypatch.chdir(tmp_path)
    assert api.changes("HEAD:x.yaml", "HEAD:x.yaml").facts == ()


def test_an_include_that_the_revision_lacks_is_told_at_its_place(repository: Path) -> None:
    git(repository, "rm", "-q", "--cached", "machines/mechanics.yaml")
    git(repository, "commit", "-qm", "without mechanics")
    with pytest.raises(InputError, match=r"HEAD:machines/mechanics\.yaml"):
        api.changes("HEAD:machines/hall.yaml", "machines")
