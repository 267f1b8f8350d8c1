"""An input of a megabyte never takes more than 500 MiB; a lack of memory ends with 2."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

resource = pytest.importorskip("resource")

MOST = 500 << 20
MEGABYTE = 1 << 20
PROGRAM = "from axisproof.cli.start import main; main()"
HEAD = "format: 1\nmachine: M\naxes:\n"

ROW = "Axis;Parameter;Value;Unit\n"
MAPPING = """mapping: 1
form: csv
encoding: utf-8
decimal: comma
delimiter: semicolon
layout: row_per_parameter
subject: axis
columns: {subject: Axis, parameter: Parameter, value: Value, unit: Unit}
parameters:
  Ticks: {to: controller.counts_per_unit, unit: as_written}
"""
DEVICE = "[FileInfo]\nFileName=x\n[DeviceInfo]\nVendorName=x\nProductName=x\n"
OBJECT = "[{:X}]\nParameterName=p\nObjectType=0x7\nDataType=0x7\nAccessType=rw\nParameterValue=5\n"


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
    "named.csv": ROW + "".join(f"L{n};Ticks;1;count/mm\n" for n in range(35_000)),
    "unmapped.csv": ROW + "".join(f"LIFT;X{n};1;\n" for n in range(70_000)),
    "cells.csv": ROW + repeated('"a";'),
    "objects.dcf": DEVICE + "".join(OBJECT.format(0x2000 + n) for n in range(8_000)),
    "keys.dcf": DEVICE + "[2000]\n" + "".join(f"k{n}=1\n" for n in range(90_000)),
    "mapping.yaml": MAPPING + "".join(f"  P{n}: {{to: drive.node}}\n" for n in range(38_000)),
    "waivers.yaml": "waivers: 1\nentries:\n" + repeated("  - {}\n"),
    "accepted.json": '{"accepted":[' + repeated("{},", "1]}"),
    "settings.yaml": "settings:\n" + "".join(f"  s{n}: {{value: 1}}\n" for n in range(33_000)),
    "words.rules": "language 2\n" + "a " * 500_000,
    "brackets.rules": "language 2\n" + "(" * 1_000_000,
}
OPTIONS = {
    "waivers.yaml": "--waivers",
    "accepted.json": "--accepted",
    "settings.yaml": "--settings",
    "words.rules": "--rules",
    "brackets.rules": "--rules",
}
QUICK = ("nested.json", "conditions.yaml")


LAUNCHER = """
import os, subprocess, sys
process = subprocess.Popen(sys.argv[2:])
_, status, usage = os.wait4(process.pid, 0)
with open(sys.argv[1], "w") as peak:
    peak.write(str(usage.ru_maxrss))
os._exit(os.waitstatus_to_exitcode(status) & 255)
"""
"""A small process that starts the command: the peak of a process counts that of who started it."""


def ended(path: Path, *, most: int | None = None) -> tuple[int, str, int]:
    """How a check of a file ends in a process of its own: status, errors, peak memory."""
    machine, mapping = path.parent / "m.yaml", path.parent / "mapping.yaml"
    machine.write_text(HEAD + "  x: {motion: linear}\n")
    if path != mapping:
        mapping.write_text(MAPPING)
    imported = ["import", "--machine", "M", "--axis", "LIFT", "--motion", "linear"]
    command = [sys.executable, "-c", PROGRAM]
    if path.suffix == ".dcf":
        command += [*imported, str(path)]
    elif path.suffix == ".csv":
        command += [*imported, "--mapping", str(mapping), str(path)]
    elif path == mapping:
        (path.parent / "short.csv").write_text(ROW)
        command += [*imported, "--mapping", str(path), str(path.parent / "short.csv")]
    elif option := OPTIONS.get(path.name):
        command += ["check", str(machine), option, str(path)]
    else:
        command += ["check", str(path)]

    def limit() -> None:
        if most is not None:
            resource.setrlimit(resource.RLIMIT_AS, (most, most))

    peak = path.parent / "peak"
    launched = [sys.executable, "-c", LAUNCHER, str(peak), *command]
    with (path.parent / "errors").open("w+") as errors:
        status = subprocess.call(
            launched, stdout=subprocess.DEVNULL, stderr=errors, preexec_fn=limit
        )
        errors.seek(0)
        return status, errors.read(), int(peak.read_text()) * 1024


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
@pytest.mark.parametrize("name", [name for name in INPUTS if name not in QUICK])
def test_no_megabyte_takes_more_than_500(name: str, tmp_path: Path) -> None:
    takes_little(name, tmp_path)


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="the limit is Linux's")
def test_without_memory_a_check_ends_with_2_and_a_message(tmp_path: Path) -> None:
    path = tmp_path / "m.yaml"
    path.write_text(axes("{motion: linear}").partition("  a2000:")[0])
    found = {limit: ended(path, most=limit << 20) for limit in (24, 32, 36)}
    for status, errors, _ in found.values():
        assert status == 2, found
        assert "MemoryError" in errors
        assert "Traceback" not in errors
