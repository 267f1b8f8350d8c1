"""``python -m tests.bench.fuzz NAME``: one fuzzer under atheris, for so many seconds of CPU time.

A fault does not end a run: the first input of each kind of fault is kept in the folder of finds,
and counted in the summary. Exit status 1 if there was any.
"""

from __future__ import annotations

import argparse
import hashlib
import importlib
import os
import pkgutil
import sys
import time
from collections import Counter
from pathlib import Path
from typing import Any, Final

KEPT: Final = 10
"""One input in so many that could be read is changed further."""

NAMES: Final = ("machine", "rules", "device", "lists", "project", "beside", "spare", "editor")


def main(arguments: list[str] | None = None) -> int:
    """Fuzz one target. Returns 2 if atheris is not installed; else the process ends in the run."""
    wants = argparse.ArgumentParser(prog="python -m tests.bench.fuzz", description=__doc__)
    wants.add_argument("name", choices=NAMES, help="what to fuzz")
    wants.add_argument("--seconds", type=float, default=60.0, help="CPU time (60)")
    wants.add_argument("--corpus", type=Path, help="folder to keep what reached new code in")
    wants.add_argument("--finds", type=Path, help="folder to keep inputs that found a fault in")
    wants.add_argument("--seed", type=int, default=1, help="another run of dice (1)")
    wants.add_argument("--longest", type=int, default=16_000, help="bytes of an input (16000)")
    wanted = wants.parse_args(arguments)
    try:
        atheris = importlib.import_module("atheris")  # which has no types
    except ImportError:
        print("atheris is not installed: pip install '.[fuzz]'", file=sys.stderr)
        return 2
    with atheris.instrument_imports(include=["axisproof"], exclude=["axisproof.rules.compiled"]):
        _import_all()
    if wanted.finds is not None:
        wanted.finds.mkdir(parents=True, exist_ok=True)
    run = _Run(wanted, atheris)
    folder = wanted.corpus or Path(f"/tmp/axisproof-fuzz-{wanted.name}-{os.getpid()}")
    folder.mkdir(parents=True, exist_ok=True)
    for data in run.seeds:
        (folder / hashlib.sha256(data).hexdigest()[:16]).write_bytes(data)
    flags = ["-rss_limit_mb=3000", "-timeout=600", f"-seed={wanted.seed}", "-print_final_stats=1"]
    flags += [
        f"-max_len={wanted.longest}",
        "-len_control=0",
        "-reload=0",
        "-mutate_depth=1",
        "-cross_over=0",
        str(folder),
    ]
    atheris.Setup(["bench.fuzz", *flags], run.one, custom_mutator=run.mutate)
    atheris.Fuzz()
    return 0


def _import_all() -> None:
    """Import every module of the package while imports are instrumented."""
    import axisproof

    for found in pkgutil.walk_packages(axisproof.__path__, "axisproof."):
        if found.name not in ("axisproof.__main__", "axisproof.rules.compiled"):
            importlib.import_module(found.name)
    importlib.import_module("axisproof.rules")


class _Run:
    """The state of one run: what came of the inputs so far."""

    def __init__(self, wanted: argparse.Namespace, atheris: Any) -> None:
        from .mutate import mutator
        from .seeds import seeds
        from .targets import TARGETS

        self.wanted = wanted
        self.target = TARGETS[wanted.name]
        self.seeds = seeds(wanted.name)
        # Looked up when called: atheris puts the true one in its place only when it runs.
        self.good = list(self.seeds)
        self.mutate = mutator(
            wanted.name, self.seeds, self.good, lambda data, most: atheris.Mutate(data, most)
        )
        self.counts: Counter[str] = Counter()
        self.faults: Counter[str] = Counter()
        self.slowest, self.slow = 0.0, b""
        self.begun = time.process_time()
        self.told = self.begun

    def one(self, data: bytes) -> None:
        """Use one input; the run ends here when its time is up."""
        from .targets import judge

        began = time.process_time()
        verdict = judge(self.target, data)
        now = time.process_time()
        if now - began > self.slowest:
            self.slowest, self.slow = now - began, data
        self.counts[verdict.kind] += 1
        if verdict.kind == "read" and self.counts["read"] % KEPT == 0:
            self.good.append(data)
        if verdict.kind == "fault":
            self.keep(verdict.key, verdict.words, data)
        if now - self.told > 60:
            self.told = now
            print(self.summary(), flush=True)
        if now - self.begun > self.wanted.seconds:
            print(f"DONE {self.summary()}", flush=True)
            if self.wanted.finds is not None:
                (self.wanted.finds / f"{self.wanted.name}-slowest").write_bytes(self.slow)
            for key, count in self.faults.most_common():
                print(f"  FAULT {count} x {key}", flush=True)
            sys.stdout.flush()
            os._exit(1 if self.faults else 0)

    def keep(self, key: str, words: str, data: bytes) -> None:
        """Keep the first input of each kind of fault, and say what it was."""
        self.faults[key] += 1
        if self.faults[key] > 1:
            return
        print(f"FAULT {key}\n{words}", flush=True)
        if self.wanted.finds is not None:
            name = hashlib.sha256(data).hexdigest()[:12]
            (self.wanted.finds / f"{self.wanted.name}-{name}").write_bytes(data)

    def summary(self) -> str:
        """How far the run is."""
        spent = time.process_time() - self.begun
        counted = ", ".join(f"{self.counts[kind]} {kind}" for kind in ("read", "refused", "fault"))
        done = self.counts.total()
        return (
            f"{self.wanted.name}: {spent:.0f} s CPU, {done} executions ({counted}), "
            f"{done / max(spent, 1e-9):.0f}/s, slowest {self.slowest:.2f} s, "
            f"{len(self.faults)} kinds of fault"
        )
