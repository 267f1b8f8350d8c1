"""The mutants are of what is run, the same for a seed, and of modules and tests that are there."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.bench.mutants.run import copy_tree
from tests.bench.mutants.sampling import sample_mutants, silent_lines
from tests.bench.mutants.targets import TARGETS

ROOT = Path(__file__).resolve().parents[2]
TEXT = """\
TYPE_CHECKING = False
if TYPE_CHECKING:
    ONE: int | str = 1

LIMIT: int | None = 3


def over(size: int | float, *more: int | None) -> bool | None:
    return size + 1 > LIMIT
"""


def test_modules_and_their_tests_are_there() -> None:
    for module, tests in TARGETS.items():
        assert (ROOT / module).is_file()
        assert all((ROOT / each).exists() for each in tests)


def test_what_is_never_run_is_not_mutated() -> None:
    lines = TEXT.splitlines()
    silent = [
        lines[start[0] - 1][start[1] : end[1]]
        for start, end in silent_lines(TEXT)
        if start[0] == end[0]
    ]
    assert sorted(silent) == sorted(
        [
            "ONE: int | str = 1",
            "int | None",
            "int | str",
            "int | float",
            "int | None",
            "bool | None",
        ]
    )


def test_a_seed_draws_the_same_mutants_and_only_of_what_is_run(tmp_path: Path) -> None:
    pytest.importorskip("cosmic_ray", reason="only needed for the bench")
    path = tmp_path / "over.py"
    path.write_text(TEXT, "utf-8")
    mutants, every = sample_mutants(path, 5, 1)
    assert mutants == sample_mutants(path, 5, 1)[0]
    assert len(mutants) == 5 < every
    assert mutants != sample_mutants(path, 5, 2)[0]
    assert {each.start_pos[0] for each in sample_mutants(path, every, 1)[0]} == {1, 2, 5, 9}


def test_the_copy_is_imported_under_the_name_of_the_package(tmp_path: Path) -> None:
    copy_tree(tmp_path)
    package = tmp_path / "packages" / "axisproof"
    units = Path("numbers", "units.py")
    assert os.path.samefile(package / units, tmp_path / "lint" / units)
    assert os.path.samefile(package / "rules" / "chain.rules", tmp_path / "rules" / "chain.rules")
    assert (tmp_path / "tests" / "numbers" / "test_units.py").is_file()
