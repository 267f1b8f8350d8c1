"""Makes the mutants one by one in a copy of the tree, and prints those that no test notices."""

from __future__ import annotations

import argparse
import json
import os
import shlex
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from .sampling import sample_mutants
from .targets import TARGETS

ROOT = Path(__file__).resolve().parents[3]
PYTEST = (
    "-m pytest -n 0 -m '' -x -p no:cacheprovider --hypothesis-profile=thorough --hypothesis-seed=0"
)


def main(argv: Sequence[str]) -> int:
    """Run the bench and print score and survivors as JSON; 1 if tests fail without a mutant."""
    options = _options(argv)
    with tempfile.TemporaryDirectory() as folder:
        copy_tree(Path(folder))
        os.chdir(folder)
        os.environ["PYTHONPATH"] = str(Path(folder, "packages"))
        os.environ["PYTHONPYCACHEPREFIX"] = str(Path(folder, "bytecode"))
        told = []
        for module in options.modules or TARGETS:
            told.append(mutate_module(module, options))
            print(json.dumps(told[-1]), flush=True)
    killed, made = (sum(each[name] for each in told) for name in ("killed", "made"))
    print(f"{killed} of {made} mutants noticed", flush=True)
    return 0


def _options(argv: Sequence[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.bench.mutants", description=__doc__)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--per-module", type=int, default=12)
    parser.add_argument("modules", nargs="*", help=f"of {', '.join(TARGETS)}")
    return parser.parse_args(argv)


def copy_tree(folder: Path) -> None:
    """Copy the tree with its build, so that the package has its name as folder."""
    left_out = shutil.ignore_patterns(".*", "__pycache__", "*.egg-info", "build", "dist")
    shutil.copytree(ROOT, folder, ignore=left_out, dirs_exist_ok=True)
    (folder / "packages").mkdir()
    (folder / "packages" / "axisproof").symlink_to(folder / "lint")
    for data in ("rules", "schemas"):
        (folder / "lint" / data).symlink_to(folder / data)


def mutate_module(module: str, options: argparse.Namespace) -> dict[str, Any]:
    """Make mutants of a module and run its tests on each; raises if they fail without a change."""
    from cosmic_ray.mutating import mutate_and_test
    from cosmic_ray.work_item import TestOutcome

    command = f"{shlex.quote(sys.executable)} {PYTEST} {' '.join(TARGETS[module])}"
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    begun = time.monotonic()
    as_is = subprocess.run(shlex.split(command), capture_output=True, text=True)
    if as_is.returncode:
        raise SystemExit(f"without a change the tests of {module} fail\n{as_is.stdout[-4000:]}")
    limit = 60 + 10 * (time.monotonic() - begun)
    # Two mutants of one size within a second would be taken for each other.
    os.environ["PYTHONDONTWRITEBYTECODE"] = "1"
    mutants, every = sample_mutants(Path(module), options.per_module, options.seed)
    survivors = []
    for mutant in mutants:
        result = mutate_and_test([mutant], command, limit)
        if result.test_outcome == TestOutcome.SURVIVED:
            survivors.append({"line": mutant.start_pos[0], "diff": _changed(result.diff or "")})
            print(f"  {module}: {survivors[-1]}", file=sys.stderr, flush=True)
    return {
        "module": module,
        "mutants": every,
        "made": len(mutants),
        "killed": len(mutants) - len(survivors),
        "survivors": survivors,
    }


def _changed(diff: str) -> list[str]:
    return [
        line
        for line in diff.splitlines()
        if line[:1] in ("+", "-") and line[:3] not in ("+++", "---")
    ]
