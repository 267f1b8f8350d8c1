"""Memory that a check of many files takes, and what one more machine adds to it.

    python -m tests.bench.report_memory
    python -m tests.bench.report_memory --kind faulty --form json --files 1000 3000

The memory is the greatest resident size of the whole process, in which one process checks all
files. The figure of a machine is the difference of two folders, divided by that of their files.
The files are those of archive.py: of kind ``mixed``, two of ten machines have undecided checks and
one has a fault. ``--cached`` takes all records from a cache, as a CI that kept one does.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path

from .archive import KINDS, write_archive
from .speed.machines import DAY
from .speed.timing import BenchError, environment

MOST: dict[str, int] = {"sound": 1_000}
"""Most bytes for each machine of a kind."""


def peak(folder: Path, form: str, *options: str) -> tuple[int, int]:
    """The greatest resident size of a check and the length of its report, both in bytes.

    Raises BenchError for a check that ends with an error.
    """
    report = folder.with_name(f"{folder.name}.{form}")
    command = [sys.executable, "-m", "axisproof", "check", str(folder), "--on", DAY]
    command += ["--jobs", "1", "--format", form, "--output", str(report), "--force", *options]
    with subprocess.Popen(command, env=environment()) as child:
        _, status, used = os.wait4(child.pid, 0)
        child.returncode = os.waitstatus_to_exitcode(status)
    if child.returncode not in (0, 1):
        raise BenchError(f"{' '.join(command)} ended with {child.returncode}")
    unit = 1 if sys.platform == "darwin" else 1024
    return used.ru_maxrss * unit, report.stat().st_size


def rows(
    folder: Path, kinds: Sequence[str], forms: Sequence[str], sizes: Sequence[int], cached: bool
) -> Iterator[tuple[str, bool]]:
    """A line for each kind, form and number of files, and whether it is within its bound."""
    for kind in kinds:
        for size in sizes:
            write_archive(folder / f"{kind}{size}", size, kind)
        for form in forms:
            before: tuple[int, int] | None = None
            for size in sizes:
                archive = folder / f"{kind}{size}"
                options = ["--cache", str(folder / f"cache{size}")] if cached else ["--no-cache"]
                if cached:
                    peak(archive, form, *options)  # fills the cache
                resident, length = peak(archive, form, *options)
                line = f"{kind:8} {form:6} {size:7,} files {resident / 2**20:8.1f} MiB"
                line += f"   report {length / 2**20:7.1f} MiB"
                kept = True
                if before is not None:
                    each = (resident - before[1]) / (size - before[0])
                    kept = each <= MOST.get(kind, each)
                    line += f"   {each:6,.0f} bytes for each machine"
                before = size, resident
                yield line, kept


def main(arguments: list[str] | None = None) -> int:
    """Measure and print; return 1 if a machine takes more than its bound."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.report_memory")
    parser.add_argument("--kind", action="append", choices=KINDS)
    parser.add_argument("--form", action="append")
    parser.add_argument("--files", type=int, nargs="+", default=[1_000, 10_000])
    parser.add_argument("--cached", action="store_true")
    asked = parser.parse_args(arguments)
    missed = False
    with tempfile.TemporaryDirectory() as folder:
        kinds, forms = asked.kind or ["sound", "mixed"], asked.form or ["json", "sarif"]
        for line, kept in rows(Path(folder), kinds, forms, asked.files, asked.cached):
            print(line if kept else f"{line}   missed", flush=True)
            missed = missed or not kept
    return int(missed)


if __name__ == "__main__":
    sys.exit(main())
