"""Runs one fuzzer under atheris for some CPU time: ``python -m tests.bench.fuzz NAME``.

A fault does not end a run: the folder of finds keeps the first input of each kind of fault, and the
summary counts them. The exit status is 1 if there is a fault.
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

KEPT_EVERY: Final = 10
"""One in this number of readable inputs becomes a base of further changes."""

NAMES: Final = (
    *("machine", "rules", "device", "lists", "project", "side_files", "spare", "editor"),
    *("records", "trees", "repositories", "quoted", "evidence"),
)


def main(arguments: list[str] | None = None) -> int:
    """Fuzz one target. Returns 2 if atheris is not installed; else the process ends in the run."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.fuzz", description=__doc__)
    parser.add_argument("name", choices=NAMES, help="what to fuzz")
    parser.add_argument("--seconds", type=float, default=60.0, help="CPU time (60)")
    parser.add_argument("--corpus", type=Path, help="folder to keep what reached new code in")
    parser.add_argument("--finds", type=Path, help="folder to keep inputs that found a fault in")
    parser.add_argument("--seed", type=int, default=1, help="seed of the random numbers (1)")
    parser.add_argument("--longest", type=int, default=16_000, help="bytes of an input (16000)")
    options = parser.parse_args(arguments)
    try:
        atheris = importlib.import_module("atheris")  # it has no types
    except ImportError:
        print("atheris is not installed: pip install '.[fuzz]'", file=sys.stderr)
        return 2
    with atheris.instrument_imports(include=["axisproof"], exclude=["axisproof.rules.compiled"]):
        _import_all()
    if options.finds is not None:
        options.finds.mkdir(parents=True, exist_ok=True)
    run = FuzzRun(options, atheris)
    folder = options.corpus or Path(f"/tmp/axisproof-fuzz-{options.name}-{os.getpid()}")
    folder.mkdir(parents=True, exist_ok=True)
    for data in run.seeds:
        (folder / hashlib.sha256(data).hexdigest()[:16]).write_bytes(data)
    flags = ["-rss_limit_mb=3000", "-timeout=600", f"-seed={options.seed}", "-print_final_stats=1"]
    flags += [
        f"-max_len={options.longest}",
        "-len_control=0",
        "-reload=0",
        "-mutate_depth=1",
        "-cross_over=0",
        f"-artifact_prefix={folder}/",
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


class FuzzRun:
    """The state of one run: the results of the inputs so far."""

    def __init__(self, options: argparse.Namespace, atheris: Any) -> None:
        from .mutate import mutator
        from .seeds import seeds
        from .targets import TARGETS

        self.options = options
        self.target = TARGETS[options.name]
        self.seeds = seeds(options.name)
        # The lambda looks Mutate up at each call: atheris sets it only when it runs.
        self.good = list(self.seeds)
        self.mutate = mutator(
            options.name, self.seeds, self.good, lambda data, most: atheris.Mutate(data, most)
        )
        self.counts: Counter[str] = Counter()
        self.faults: Counter[str] = Counter()
        self.slowest, self.slow = 0.0, b""
        self.started = time.process_time()
        self.reported = self.started

    def one(self, data: bytes) -> None:
        """Use one input; at the end of its time, the run ends here."""
        from .targets import use_input

        began = time.process_time()
        verdict = use_input(self.target, data)
        now = time.process_time()
        if now - began > self.slowest:
            self.slowest, self.slow = now - began, data
        self.counts[verdict.kind] += 1
        if verdict.kind == "read" and self.counts["read"] % KEPT_EVERY == 0:
            self.good.append(data)
        if verdict.kind == "fault":
            self.keep(verdict.key, verdict.words, data)
        if now - self.reported > 60:
            self.reported = now
            print(self.summary(), flush=True)
        if now - self.started > self.options.seconds:
            print(f"DONE {self.summary()}", flush=True)
            if self.options.finds is not None:
                (self.options.finds / f"{self.options.name}-slowest").write_bytes(self.slow)
            for key, count in self.faults.most_common():
                print(f"  FAULT {count} x {key}", flush=True)
            sys.stdout.flush()
            os._exit(1 if self.faults else 0)

    def keep(self, key: str, words: str, data: bytes) -> None:
        """Keep and print the first input of each kind of fault."""
        self.faults[key] += 1
        if self.faults[key] > 1:
            return
        print(f"FAULT {key}\n{words}", flush=True)
        if self.options.finds is not None:
            name = hashlib.sha256(data).hexdigest()[:12]
            (self.options.finds / f"{self.options.name}-{name}").write_bytes(data)

    def summary(self) -> str:
        """The progress of the run."""
        spent = time.process_time() - self.started
        counts = ", ".join(f"{self.counts[kind]} {kind}" for kind in ("read", "refused", "fault"))
        done = self.counts.total()
        return (
            f"{self.options.name}: {spent:.0f} s CPU, {done} executions ({counts}), "
            f"{done / max(spent, 1e-9):.0f}/s, slowest {self.slowest:.2f} s, "
            f"{len(self.faults)} kinds of fault"
        )
