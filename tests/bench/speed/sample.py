"""Runs and times one task in a process of its own.

Run as ``python -m tests.bench.speed.sample TASK PATH [gc-off]``.

It prints the processor time without the start of Python and imports, and the result, as JSON.
"""

from __future__ import annotations

import datetime
import gc
import json
import sys
from collections.abc import Callable
from pathlib import Path
from time import process_time
from typing import Any

from .machines import DAY, clean

Told = dict[str, Any]
Work = Callable[[], Callable[[], Told]]
"""Does the work; what it gives tells of the result, which is not timed."""


def load_yaml(path: Path) -> Work:
    """yaml.load of libyaml's safe loader on text in memory, and nothing else."""
    import yaml

    text = path.read_text("utf-8")

    def work() -> Callable[[], Told]:
        plain = yaml.load(text, yaml.CSafeLoader)
        return lambda: {"axes": len(plain["axes"])}

    return work


def check(path: Path) -> Work:
    """A whole check: it loads rules, reads files, and makes and renders the report."""
    from axisproof.api import CheckOptions
    from axisproof.api import check as check_paths

    day = datetime.date.fromisoformat(DAY)

    def work() -> Callable[[], Told]:
        report = check_paths([path], CheckOptions(on=day))
        return lambda: {
            "axes": report.axes,
            "rules": report.rules,
            "findings": len(report.findings),
            "undecided": len(report.undecided),
            "subjects": len({finding.subject for finding in report.findings}),
        }

    return work


def shared(path: Path) -> Work:
    """A whole check by several processes; gives their processor time too.

    ``path`` is that of the folder and the number of processes: FOLDER/2.
    """
    import resource

    from axisproof.api import CheckOptions
    from axisproof.api import check as check_paths

    day = datetime.date.fromisoformat(DAY)

    def work() -> Callable[[], Told]:
        report = check_paths([path.parent], CheckOptions(on=day, jobs=int(path.name)))
        spent = resource.getrusage(resource.RUSAGE_CHILDREN)
        return lambda: {
            "findings": len(report.findings),
            "undecided": len(report.undecided),
            "workers": spent.ru_utime + spent.ru_stime,
        }

    return work


def memory(path: Path) -> Work:
    """The memory of a machine by tracemalloc, without and with all places."""
    import tracemalloc

    import yaml
    from axisproof.machine.reader import read_machine
    from axisproof.machine.schema import machine_type
    from axisproof.source.merge import load_tree

    from .machines import count_facts

    with path.open(encoding="utf-8") as stream:
        count = count_facts(yaml.load(stream, yaml.CSafeLoader))
    machine_type()

    def work() -> Callable[[], Told]:
        gc.collect()
        tracemalloc.start()
        before = tracemalloc.get_traced_memory()[0]
        tree = load_tree(path)
        machine = read_machine(tree)
        read = tracemalloc.get_traced_memory()[0] - before
        machine.places(f"axes.{machine.axes[0]['name']}.drive.node")
        gc.collect()
        now, peak = tracemalloc.get_traced_memory()
        tracemalloc.stop()
        return lambda: {
            "facts": count,
            "read": read,
            "with_places": now - before,
            "peak": peak - before,
        }

    return work


def read(path: Path) -> Work:
    """axisproof's reader on plain values, compiled before: it checks them and makes facts.

    The garbage collector is held back, as in every run.
    """
    from axisproof.base.garbage_collection import held_back
    from axisproof.machine.reader import read_machine, read_plain
    from axisproof.source.merge import load_tree

    tree = load_tree(path)
    read_plain(clean(1), headless=False)

    def work() -> Callable[[], Told]:
        with held_back():
            machine = read_machine(tree)
        return lambda: {"valid": True, "axes": len(machine.axes)}

    return work


def jsonschema(path: Path) -> Work:
    """The jsonschema package with the published schema, references resolved before."""
    import jsonschema as package

    return _validated(path, package.Draft202012Validator(_schema()).is_valid)


def jsonschema_rs(path: Path) -> Work:
    """A validator in Rust, schema compiled before."""
    import jsonschema_rs as package

    return _validated(path, package.validator_for(_schema()).is_valid)


def _schema() -> dict[str, Any]:
    from axisproof.machine.schema import load_schema

    schema: dict[str, Any] = load_schema()
    return schema


def _validated(path: Path, is_valid: Callable[[Any], bool]) -> Work:
    plain = json.loads(path.read_text("utf-8"))
    is_valid(clean(1))

    def work() -> Callable[[], Told]:
        valid = is_valid(plain)
        return lambda: {"valid": valid, "axes": len(plain["axes"])}

    return work


def joins(path: Path) -> Work:
    """The rules about several axes, on a machine in memory with copies of a file's axes.

    ``path`` is the file and the number of copies: FOLDER/m0.json/50.
    """
    from dataclasses import replace

    from axisproof.catalogue.catalogue import shipped
    from axisproof.engine.engine import Options, check_machine

    from .machines import across_axes, repeated

    whole = shipped()
    names = across_axes(whole)
    some = replace(whole, entries=tuple(e for e in whole.entries if e.name in names))
    machine = repeated(path.parent, int(path.name))

    def work() -> Callable[[], Told]:
        results = check_machine(machine, "machine", some, Options())
        return lambda: {
            "axes": results.axes,
            "rules": len(some.entries),
            "findings": len(results.findings),
            "undecided": len(results.undecided),
        }

    return work


def peer_task(name: str) -> Callable[[Path], Work]:
    """Twenty rules by axisproof (``ours``) or by a peer, rules and schema ready beforehand."""

    def task(path: Path) -> Work:
        from .peers import task_of

        run = task_of(name)(path)

        def work() -> Callable[[], Told]:
            told = run()
            return lambda: told

        return work

    return task


TASKS: dict[str, Callable[[Path], Work]] = {
    "yaml": load_yaml,
    "check": check,
    "shared": shared,
    "memory": memory,
    "read": read,
    "jsonschema": jsonschema,
    "jsonschema_rs": jsonschema_rs,
    "joins": joins,
    **{name: peer_task(name) for name in ("ours", "by_hand", "by_cel")},
}


def main(arguments: list[str]) -> None:
    """Time one task."""
    task, path, *options = arguments
    work = TASKS[task](Path(path))
    gc.collect()
    if "gc-off" in options:
        gc.disable()
    start = process_time()
    result = work()
    seconds = process_time() - start
    print(json.dumps({"seconds": seconds, **result()}))


if __name__ == "__main__":
    main(sys.argv[1:])
