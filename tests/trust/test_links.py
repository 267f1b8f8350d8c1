"""Writing follows no link that a checked repository brought."""

from __future__ import annotations

import os
import subprocess
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from axisproof.cli.main import run

from tests.captured import Captured

MACHINE = "format: 1\nmachine: M\naxes: {x: {motion: linear}}\n"


@pytest.fixture
def repository(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "repository"
    folder.mkdir()
    (folder / "m.yaml").write_text(MACHINE)
    (tmp_path / "outside").mkdir()
    (tmp_path / "outside/kept.txt").write_text("mine")
    monkeypatch.chdir(folder)
    return folder


def outside(repository: Path) -> dict[str, str]:
    top = repository.parent / "outside"
    return {each.relative_to(top).as_posix(): each.read_text() for each in top.rglob("*.*")}


UNTOUCHED = {"kept.txt": "mine"}

WRITING = {
    "report": ["check", "m.yaml", "--format", "json", "--force", "--output"],
    "record": ["check", "m.yaml", "--force", "--record"],
    "shard": ["check", "m.yaml", "--shard", "1/1", "--force", "--record"],
    "accepted": ["accept", "m.yaml", "--force", "-o"],
    "changes": ["changes", "m.yaml", "m.yaml", "--force", "--output"],
    "starter": ["init", "--machine", "M", "--axis", "x:linear", "--force"],
}


@pytest.mark.parametrize("command", WRITING.values(), ids=WRITING.keys())
@pytest.mark.parametrize("target", ["../outside/kept.txt", "../outside/new.txt", "own.txt"])
def test_no_file_is_written_through_a_link(
    target: str, command: list[str], repository: Path, capsys: Captured
) -> None:
    (repository / "own.txt").write_text("own")
    (repository / "out").symlink_to(target)
    assert run([*command, "out"]) == 2
    assert "out is a link and is not followed" in " ".join(capsys.readouterr().err.split())
    assert outside(repository) == UNTOUCHED
    assert (repository / "own.txt").read_text() == "own"
    assert (repository / "out").is_symlink()


@pytest.mark.parametrize("command", WRITING.values(), ids=WRITING.keys())
def test_no_file_is_written_into_a_folder_behind_a_link(
    command: list[str], repository: Path, capsys: Captured
) -> None:
    (repository / "reports").symlink_to("../outside")
    for name in ("new.txt", "kept.txt"):
        assert run([*command, f"reports/{name}"]) == 2
        assert "by a link" in " ".join(capsys.readouterr().err.split())
    assert outside(repository) == UNTOUCHED


def test_a_repository_is_not_left_by_its_links_wherever_one_is(
    repository: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (repository / ".git").mkdir()
    (repository / "reports").symlink_to("../outside")
    monkeypatch.chdir(repository.parent.parent)
    machine, report = repository / "m.yaml", repository / "reports/new.txt"
    assert run(["check", str(machine), "--output", str(report)]) == 2
    assert outside(repository) == UNTOUCHED


@pytest.mark.exhaustive
def test_pages_are_not_written_behind_a_link(repository: Path) -> None:
    (repository / "pages").symlink_to("../outside")
    assert run(["rules", "pages", "pages", "--force"]) == 2
    (repository / "far").symlink_to("../outside")
    assert run(["rules", "pages", "far/pages"]) == 2
    assert outside(repository) == UNTOUCHED
    assert os.listdir(repository.parent / "outside") == ["kept.txt"]


def test_a_cache_that_is_a_link_is_none(repository: Path) -> None:
    (repository / "cache").symlink_to("../outside")
    (repository / "far").symlink_to("../outside")
    run(["check", "m.yaml", "--cache", "cache"])
    run(["check", "m.yaml", "--cache", "far/cache"])
    assert os.listdir(repository.parent / "outside") == ["kept.txt"]


def test_a_cache_whose_folders_are_links_is_not_written_to(
    repository: Path, capsys: Captured
) -> None:
    assert run(["check", "m.yaml", "--cache", "cache"]) == 1
    cache = repository / "cache"
    for folder in cache.iterdir():
        if folder.is_dir():
            for entry in folder.iterdir():
                entry.unlink()
            folder.rmdir()
    for number in range(256):
        (cache / f"{number:02x}").symlink_to("../../outside")
    assert run(["check", "m.yaml", "--cache", "cache"]) == 1
    assert outside(repository) == UNTOUCHED
    assert "Note" in capsys.readouterr().err


def test_a_cache_that_came_with_the_repository_acquits_nobody(
    repository: Path, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Who may commit a cache may forge its entries: their checksum is no signature."""
    monkeypatch.delenv("GIT_DIR", raising=False)

    def git(*arguments: str) -> None:
        who = ("-c", "user.name=a role", "-c", "user.email=role@example.invalid")
        subprocess.run(["git", *who, *arguments], check=True, capture_output=True)

    git("init", "-q")
    assert run(["check", "m.yaml", "--cache", "deep/kept"]) == 1
    assert run(["check", "m.yaml", "--cache", "deep/kept"]) == 1  # no commit yet
    git("add", "m.yaml")
    git("commit", "-qm", "a machine")
    assert run(["check", "m.yaml", "--cache", "deep/kept"]) == 1
    git("add", ".")
    git("commit", "-qm", "and results")
    capsys.readouterr()
    assert run(["check", "m.yaml", "--cache", "deep/kept"]) == 2
    captured = capsys.readouterr()
    assert "is committed to the repository it lies in" in " ".join(captured.err.split())
    assert captured.out == ""
    monkeypatch.chdir(repository.parent)
    assert run(["check", "repository/m.yaml", "--cache", "repository/deep/kept"]) == 2
    assert run(["check", "repository/m.yaml", "--cache", "repository/other"]) == 1


def test_an_entry_that_is_a_link_is_replaced_and_its_target_not_touched(
    repository: Path,
) -> None:
    assert run(["check", "m.yaml", "--cache", "cache"]) == 1
    (entry,) = repository.glob("cache/*/*.entry")
    kept = repository.parent / "outside/kept.txt"
    kept.write_bytes(entry.read_bytes())
    os.utime(kept, (1e9, 1e9))
    entry.unlink()
    entry.symlink_to(kept)
    assert run(["check", "m.yaml", "--cache", "cache"]) == 1
    assert kept.stat().st_mtime == 1e9


def test_a_link_inside_and_what_the_system_links_to_are_written(
    repository: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    (repository / "deep").mkdir()
    (repository / "near").symlink_to("deep")
    assert run(["check", "m.yaml", "--output", "near/report.txt"]) == 1
    assert "Checked" in (repository / "deep/report.txt").read_text()
    assert run(["check", "m.yaml", "--output", "/dev/stdout", "--force"]) == 1


@pytest.mark.skipif(not os.access("/dev/shm", os.W_OK), reason="no memory that is a folder")
def test_a_checkout_in_shared_memory_is_no_part_of_the_system(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    with TemporaryDirectory(dir="/dev/shm") as top:
        folder = Path(top, "repository")
        folder.mkdir()
        monkeypatch.chdir(folder)
        Path("m.yaml").write_text(MACHINE)
        Path("out").symlink_to("../new.txt")
        for command in WRITING.values():
            assert run([*command, "out"]) == 2
        assert os.listdir(top) == ["repository"]
        monkeypatch.chdir("/")


def test_a_correction_is_not_written_through_a_link_that_leads_out(repository: Path) -> None:
    from axisproof.base.errors import UsageError
    from axisproof.checking.fixing import FileChange, write

    kept = repository.parent / "outside/kept.yaml"
    kept.write_text(MACHINE)
    link = repository / "link.yaml"
    link.symlink_to(kept)
    change = FileChange(link, "link.yaml", MACHINE, MACHINE.replace("linear", "rotary"), False, ())
    with pytest.raises(UsageError, match="is a link and is not followed"):
        write([change])
    assert kept.read_text() == MACHINE
