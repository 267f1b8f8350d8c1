"""An input of a megabyte never takes more than 500 MiB; a lack of memory ends with 2."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

resource = pytest.importorskip("resource")

MOST = 500 << 20
MEGABYTE = 1 << 20
PROGRAM = "from axisproof.cli.start import main; main()"
HEAD = "format: 1\nmachine: M\naxes:\n"


def repeated(text: str, end: str = "") -> str:
    return text * ((MEGABYTE - len(end) - 100) // len(text)) + end


def axes(text: str, head: str = HEAD) -> str:
    return head + "".join(f"  a{number}: {text}\n" for number in range(10_000))


INPUTS = {
    "lists.yaml": "[" + repeated("[],", "1]"),
    "mappings.json": "[" + repeated("{},", "1]"),
    "numbers.yaml": "[" + repeated("1.5,", "1]"),
    "nested.json": "[" + repeated("[" * 60 + "1" + "]" * 60 + ",", "1]"),
    "nested.yaml": "[" + repeated("[" * 60 + "]" * 60 + ",", "1]"),
    "keys.json": "{" + ",".join(f'"k{number}":1' for number in range(80_000)) + "}",
    "axes.yaml": axes("{motion: linear}"),
    "aliases.yaml": axes("*x", HEAD + "  b: &x {motion: linear, drive: {node: 1, serial: S}}\n"),
    "chain.yaml": HEAD
    + "".join(
        f"  a{n}: {{motion: linear, controller: {{homing: {{after: [a{n + 1}]}}}}}}\n"
        for n in range(9_999)
    ),
    "interlocks.yaml": HEAD
    + "  a: {motion: linear, interlocks: &x ["
    + ",".join(["{triggers: [position_lost]}"] * 10_000)
    + "]}\n"
    + "".join(f"  b{n}: {{motion: linear, interlocks: *x}}\n" for n in range(150)),
    "conditions.yaml": "format: 1\nmachine: M\nconditions:\n"
    + "  - {code: A, condition: position_lost}\n" * 10_000
    + "axes: {x: {motion: linear}}\n",
    "nodes.yaml": axes(
        "{motion: linear, drive: {node: 5, serial: T}}",
        "format: 1\nmachine: M\nnetwork:\n  nodes:\n"
        + "".join(f"    - {{address: 5, serial: S{n}}}\n" for n in range(10_000))
        + "axes:\n",
    ),
    "words.rules": "language 1\n" + "a " * 500_000,
    "brackets.rules": "language 1\n" + "(" * 1_000_000,
}
QUICK = ("nested.json", "conditions.yaml")
UNMEASURED = ("nodes.yaml",)
"""Inputs that take minutes still: what they take in memory at the end is not known."""


def ended(path: Path, *, most: int | None = None) -> tuple[int, str, int]:
    """How a check of a file ends in a process of its own: status, errors, peak memory."""
    command = [sys.executable, "-c", PROGRAM, "check", str(path)]
    if path.suffix == ".rules":
        machine = path.parent / "m.yaml"
        machine.write_text(HEAD + "  x: {motion: linear}\n")
        command = [*command[:-1], str(machine), "--rules", str(path)]

    def limit() -> None:
        if most is not None:
            resource.setrlimit(resource.RLIMIT_AS, (most, most))

    with (path.parent / "errors").open("w+") as errors:
        process = subprocess.Popen(
            command, stdout=subprocess.DEVNULL, stderr=errors, preexec_fn=limit
        )
        _, status, usage = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
        errors.seek(0)
        return process.returncode, errors.read(), usage.ru_maxrss * 1024


def takes_little(name: str, folder: Path) -> None:
    path = folder / name
    path.write_text(INPUTS[name])
    assert path.stat().st_size <= 1.2 * MEGABYTE
    status, errors, peak = ended(path)
    assert status in (0, 1, 2), errors
    assert "Traceback" not in errors
    assert "Unforeseen" not in errors
    assert peak <= MOST


@pytest.mark.parametrize("name", QUICK)
def test_a_megabyte_takes_at_most_500(name: str, tmp_path: Path) -> None:
    takes_little(name, tmp_path)


@pytest.mark.exhaustive
@pytest.mark.parametrize("name", [name for name in INPUTS if name not in {*QUICK, *UNMEASURED}])
def test_no_megabyte_takes_more_than_500(name: str, tmp_path: Path) -> None:
    takes_little(name, tmp_path)


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="the limit is Linux's")
def test_without_memory_a_check_ends_with_2_and_a_message(tmp_path: Path) -> None:
    path = tmp_path / "m.yaml"
    path.write_text(axes("{motion: linear}").partition("  a2000:")[0])
    found = {limit: ended(path, most=limit << 20) for limit in (24, 32, 44)}
    for status, errors, _ in found.values():
        assert status == 2, found
        assert "MemoryError" in errors
        assert "Traceback" not in errors
