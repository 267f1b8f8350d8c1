"""What is built: a source archive of all that git tracks, and the same wheel from either."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
import tarfile
import tomllib
from dataclasses import dataclass
from pathlib import Path
from zipfile import ZipFile

import pytest
from axisproof.catalogue.build import render

ROOT = Path(__file__).parent.parent
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
WRITTEN_BY_SETUPTOOLS = {"PKG-INFO", "setup.cfg"}


@dataclass(frozen=True)
class Built:
    """What comes of building: the files of the source archive and of both wheels."""

    archived: dict[str, bytes]
    wheel: dict[str, bytes]
    wheel_of_archive: dict[str, bytes]


def hook(tree: Path, name: str, target: Path) -> Path:
    """Run a hook of the build backend in a tree, as an installer does; what it made."""
    code = (
        "import json, sys; sys.path.insert(0, '.build'); import backend;"
        "print(json.dumps(getattr(backend, sys.argv[1])(sys.argv[2])))"
    )
    target.mkdir()
    done = subprocess.run(
        [sys.executable, "-c", code, name, str(target)], cwd=tree, capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr
    return target / str(json.loads(done.stdout.splitlines()[-1]))


def members(wheel: Path) -> dict[str, bytes]:
    with ZipFile(wheel) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Built:
    folder = tmp_path_factory.mktemp("built")
    tree = folder / "checkout"
    names = "*.egg-info", "build", "dist", "__pycache__", ".git", ".venv", ".*_cache", ".hypothesis"
    shutil.copytree(ROOT, tree, ignore=shutil.ignore_patterns(*names))
    (tree / "build" / "lib" / "axisproof").mkdir(parents=True)
    (tree / "build" / "lib" / "axisproof" / "former_build_marker.py").touch()  # of a former build
    (tree / "rules" / "compiled.json").write_text("of a former build", "utf-8")
    sdist = hook(tree, "build_sdist", folder / "sdist")
    with tarfile.open(sdist) as archive:
        archive.extractall(folder / "unpacked", filter="data")
    (unpacked,) = (folder / "unpacked").iterdir()
    return Built(
        {
            path.relative_to(unpacked).as_posix(): path.read_bytes()
            for path in unpacked.rglob("*")
            if path.is_file()
        },
        members(hook(tree, "build_wheel", folder / "wheel")),
        members(hook(unpacked, "build_wheel", folder / "wheel_of_archive")),
    )


@pytest.mark.exhaustive
def test_the_wheel_of_the_archive_is_that_of_the_checkout(built: Built) -> None:
    assert sorted(built.wheel) == sorted(built.wheel_of_archive)
    assert built.wheel == built.wheel_of_archive
    assert not [name for name in built.wheel if "former_build_marker" in name]


@pytest.mark.exhaustive
def test_the_wheel_holds_what_rules_and_schema_give(built: Built) -> None:
    for name, text in render().items():
        assert built.wheel[f"axisproof/{name}"].decode() == text, name


@pytest.mark.exhaustive
def test_the_wheel_holds_all_files_of_the_package(built: Built) -> None:
    for name, folder in (("", "lint"), ("rules/", "rules"), ("schemas/", "schemas")):
        for path in (ROOT / folder).rglob("*"):
            if path.is_file() and path.suffix != ".pyc" and not path.name.startswith("."):
                inside = f"axisproof/{name}{path.relative_to(ROOT / folder).as_posix()}"
                assert inside in built.wheel


@pytest.mark.exhaustive
def test_the_archive_holds_what_git_tracks_and_nothing_generated(built: Built) -> None:
    if not (ROOT / ".git").exists():
        pytest.skip("this tree is no git checkout")
    listed = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    ).stdout
    tracked = {name for name in listed.split("\0") if name and (ROOT / name).exists()}
    archived = {name for name in built.archived if not name.startswith("axisproof.egg-info/")}
    assert archived - WRITTEN_BY_SETUPTOOLS == tracked
    assert not {name for name in tracked if Path(name).name.startswith("compiled")}


def test_what_the_build_needs_is_what_axisproof_asks_for() -> None:
    needed = PROJECT["build-system"]["requires"]
    assert [name for name in needed if not name.startswith("setuptools")] == [
        name
        for name in PROJECT["project"]["dependencies"]
        if name.startswith(("lark", "quicktions"))
    ]
    assert (
        next(name for name in needed if name.startswith("setuptools"))
        in (PROJECT["project"]["optional-dependencies"]["dev"])
    )
