"""The command in a process of its own: a light start, closed pipes and full disks."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

# In a process of its own

PROLOGUE = """
import sys, types
from axisproof.findings.finding import *
api = types.ModuleType("axisproof.api")
report = Report(("hall.yaml",), ("hall",), 1, 15, tallies=(Tally("hall", "infeed", 9, 0, 0, 3),))
api.check = lambda paths, options, **told: report
api.CheckOptions = lambda **options: options
import axisproof
axisproof.api = sys.modules["axisproof.api"] = api
from axisproof.cli.main import run
"""


def python(code: str, **options: Any) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        [sys.executable, "-c", PROLOGUE + code], capture_output=True, timeout=300, **options
    )


def test_the_command_itself_adds_no_heavy_import_to_a_clean_check() -> None:
    done = python(
        "status = run(['check', 'hall.yaml'])\n"
        "heavy = {'lark', 'jsonschema', 'rich', 'yaml', 'asyncio', 'jinja2'} & set(sys.modules)\n"
        "sys.exit(f'status {status}, imported {heavy}' if status or heavy else 0)"
    )
    assert done.returncode == 0, done.stderr


def test_the_version_needs_no_api() -> None:
    code = "import sys; from axisproof.cli.main import run; run(['--version'])\n"
    code += "sys.exit('axisproof.api' in sys.modules or 'lark' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, timeout=300)
    assert done.returncode == 0
    assert done.stdout.startswith(b"axisproof ")


@pytest.mark.parametrize("broken", [True, False])
def test_a_reader_that_goes_away_changes_neither_status_nor_peace(broken: bool) -> None:
    finding = "Finding('r', 'error', 'hall', 'infeed', 't', 'm' * 10, 'w', 'x', 'b')"
    code = f"import dataclasses\nreport = dataclasses.replace(report, findings=({finding},) * 2000)"
    code += "\nsys.exit(run(['check', 'hall.yaml']))"
    with subprocess.Popen(
        [sys.executable, "-c", PROLOGUE + code], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        if broken:
            process.stdout.close()
        else:
            assert process.stdout.read().count(b"ERROR") == 2000
        assert process.stderr.read() == b""
        assert process.wait(60) == 1


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no /dev/full here")
def test_a_full_disk_is_said_and_is_no_success() -> None:
    with open("/dev/full", "wb") as full:
        done = subprocess.run(
            [sys.executable, "-c", PROLOGUE + "sys.exit(run(['check', 'hall.yaml']))"],
            stdout=full,
            stderr=subprocess.PIPE,
            timeout=300,
        )
    assert done.returncode == 2
    assert done.stderr.startswith(b"Cannot do this: standard output cannot be written: ")
    assert b"Traceback" not in done.stderr
    assert b"Exception" not in done.stderr


def test_a_terminal_without_unicode_gets_plain_characters() -> None:
    code = (
        "import dataclasses\nfrom axisproof.base.errors import Place\n"
        "mark = Mark(Place('f', 1, 4, 1, 6), 'a: 12', 'a', 'π ≈ 送')\n"
        "finding = Finding('r', 'error', 'hall', 'x', 't', 'm', 'w', 'x', 'b', (mark,))\n"
        "report = dataclasses.replace(report, findings=(finding,))\n"
        "sys.exit(run(['check', 'hall.yaml']))"
    )
    done = python(code, env={**os.environ, "PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"})
    assert done.returncode == 1
    assert b"<> pi ~ \\u9001" in done.stdout
    assert done.stderr == b""


def test_the_module_can_be_run() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "axisproof", "check", "--help"], capture_output=True, timeout=300
    )
    assert done.returncode == 0
    assert b"--undecided-fails" in done.stdout
