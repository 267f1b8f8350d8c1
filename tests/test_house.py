"""What holds the code together: layers, folders, names and sizes."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from collections import defaultdict
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import NamedTuple

import pytest

ROOT = Path(__file__).resolve().parent.parent
LINT = ROOT / "lint"
LOOSE = {"__init__.py", "__main__.py", "api.py"}
MOST_FOLDERS = 20
MOST_LINES = 500
MOST_LINES_OF_A_FUNCTION = 60
FASTER_WHOLE = {
    "source/yaml.py": "build",
}
"""Functions that every value of a file passes through, and that took longer when they were divided.

That was tried once, on a machine of a thousand axes; no test measures it."""


class Definition(NamedTuple):
    """A class or function of a module."""

    path: str
    name: str
    is_class: bool
    lines: int


@cache
def definitions(folder: Path) -> tuple[Definition, ...]:
    """The classes and functions of the modules of a folder."""
    kinds = ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef
    return tuple(
        Definition(
            path,
            node.name,
            isinstance(node, ast.ClassDef),
            (node.end_lineno or 0) - node.lineno + 1,
        )
        for path, text in modules(folder)
        for node in ast.walk(ast.parse(text))
        if isinstance(node, kinds)
    )


def modules(*folders: Path) -> Iterator[tuple[str, str]]:
    """Each module of the folders: its path from ``lint`` or from the root, and its text."""
    for folder in folders:
        for path in sorted(folder.rglob("*.py")):
            if path.name != "compiled.py":
                base = LINT if folder == LINT else ROOT
                yield path.relative_to(base).as_posix(), path.read_text("utf-8")


def test_no_import_runs_upwards() -> None:
    command = Path(sys.executable).with_name("lint-imports")
    done = subprocess.run(
        [command, "--no-cache"], cwd=ROOT, capture_output=True, text=True, timeout=120
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert re.search(r"[1-9] kept, 0 broken", done.stdout)


def test_the_package_holds_folders_and_no_loose_modules() -> None:
    assert {path.name for path in LINT.glob("*.py")} == LOOSE
    folders = {path.parent for path in LINT.glob("*/*.py")}
    assert 1 < len(folders) <= MOST_FOLDERS
    assert not list(LINT.glob("*/*/*.py")), "folders are flat"


@pytest.mark.parametrize("folder", sorted({path.parent.name for path in LINT.glob("*/*.py")}))
def test_each_folder_says_what_it_is_for(folder: str) -> None:
    words = ast.get_docstring(ast.parse((LINT / folder / "__init__.py").read_text("utf-8")))
    assert words
    assert len(words) > 20


def test_no_class_name_has_two_meanings() -> None:
    found: dict[str, list[str]] = defaultdict(list)
    for each in (*definitions(LINT), *definitions(ROOT / "tests" / "bench")):
        if each.is_class:
            found[each.name].append(each.path)
    assert len(found) > 100
    assert {name: paths for name, paths in found.items() if len(paths) > 1} == {}


def test_modules_are_small() -> None:
    sizes = {path: len(text.splitlines()) for path, text in modules(LINT, ROOT / "tests")}
    assert len(sizes) > 300
    assert {path: size for path, size in sizes.items() if size > MOST_LINES} == {}


def long_functions() -> dict[tuple[str, str], int]:
    return {
        (each.path, each.name): each.lines
        for each in definitions(LINT)
        if not each.is_class and each.lines > MOST_LINES_OF_A_FUNCTION
    }


def test_functions_are_short() -> None:
    assert set(long_functions()) - set(FASTER_WHOLE.items()) == set()


def test_each_function_that_may_be_long_is_long() -> None:
    assert set(FASTER_WHOLE.items()) <= set(long_functions())


def test_examples_of_hypothesis_have_no_deadline_and_their_number_follows_the_profile() -> None:
    """A deadline fails on a busy machine, and a number of its own is tried in every run."""
    own = re.compile(r"\b(deadline|max_examples)" + "=")
    found = {path for path, text in modules(ROOT / "tests") if own.search(text)}
    assert found == {"tests/conftest.py", "tests/examples.py"}
