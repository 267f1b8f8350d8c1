"""The same input gives the same bytes, whatever else is different about the machine it runs on."""

from __future__ import annotations

import functools
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.trust.every_output import LINES

pytestmark = pytest.mark.exhaustive

FIXTURES = Path(__file__).parent.parent.parent / "fixtures"
SCRIPT = Path(__file__).with_name("every_output.py")
ASCII = {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}
ELSEWHERE: dict[str, dict[str, str]] = {
    "another folder and seed, folders listed backwards, the far side of the date line": {
        **{"PYTHONHASHSEED": "1", "LISTED": "reversed", "TZ": "Pacific/Kiritimati"},
        **{"LANG": "C.UTF-8", "PYTHONUTF8": "0", "HERE": "other"},
    },
    "a folder reached by a link, in no order, another language, a wide colourful terminal": {
        **{"PYTHONHASHSEED": "4711", "LISTED": "shuffled", "TZ": "Etc/GMT+12"},
        **{"LANG": "de_DE.UTF-8", "LC_ALL": "tr_TR.UTF-8", "LANGUAGE": "de:fr", "HERE": "link"},
        **{"COLUMNS": "300", "FORCE_COLOR": "1", "TERM": "xterm-256color"},
    },
    "no UTF-8 about, a narrow terminal": {**ASCII, "COLUMNS": "40", "TERM": "dumb"},
}


def lay_out(folder: Path) -> None:
    for name in ("demo", "sound", "imports/cell"):
        shutil.copytree(FIXTURES / name, folder / Path(name).name)
    (folder / "faults").mkdir()
    for path in sorted((FIXTURES / "faults").glob("*.yaml"))[::12]:
        shutil.copy(path, folder / "faults")
    shutil.copy(FIXTURES / "faults" / "ratio-as-exact-as-on-record.yaml", folder / "faults")
    shutil.copytree(folder / "sound", folder / "old")
    shutil.copytree(folder / "sound", folder / "new")
    shutil.copy(FIXTURES / "changes" / "lift" / "before.yaml", folder / "old" / "lift.yaml")
    shutil.copy(
        FIXTURES / "changes" / "lift" / "speed-raised-past-room.yaml",
        folder / "new" / "lift.yaml",
    )
    shutil.copy(FIXTURES / "spares" / "motor_weak_brake.yaml", folder / "motor.yaml")
    (folder / "broken").mkdir()
    for name in "cab":
        (folder / "broken" / f"{name}.yaml").write_text(f"format: 1\nmachine: {name}\nq: ä\n")
    (folder / "rules").mkdir()
    for name in "zyx":
        (folder / "rules" / f"{name}.rules").write_text(RULE.replace("NAME", f"own-{name}"))
    (folder / "settings.yaml").write_text(SETTINGS)


RULE = """language 2

rule NAME
  level    warning
  title    "The axis has a drive of NAME"
  each     axis
  require  axis.drive.model is "none such"
  say      "The drive is {axis.drive.model}."
  why      "A test."
  remedy   "None."
  basis    "common practice, no source"
  passes   "x"
    axis.drive.model = "none such"
  fails    "y"
    axis.drive.model = "other"
"""
SETTINGS = "settings: {brake_voltage_tolerance: {value: 5 %, reason: ours}}\n"


def outputs(folder: Path, out: Path, changed: dict[str, str]) -> dict[str, bytes]:
    """Every report by name, made under the usual environment with some of it changed."""
    out.mkdir()
    environment = {
        name: value
        for name, value in os.environ.items()
        if not re.match(r"PYTHON|LC_|LANG|TZ|COLUMNS|TERM|COV_", name)
    }
    done = subprocess.run(
        [sys.executable, SCRIPT, out, changed.get("LISTED", "sorted")],
        cwd=folder,
        env={**environment, "PYTHONHASHSEED": "0", "PYTHONUTF8": "1", **changed},
        capture_output=True,
        timeout=300,
    )
    assert done.returncode == 0, done.stderr.decode()
    return {
        str(path.relative_to(out)): path.read_bytes() for path in out.rglob("*") if path.is_file()
    }


@pytest.fixture(scope="module")
def here(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("here") / "machines"
    folder.mkdir()
    lay_out(folder)
    return folder


@functools.cache
def usual(here: Path) -> dict[str, bytes]:
    return outputs(here, here.parent / "usual", {})


def test_what_is_compared_is_what_was_meant(here: Path) -> None:
    found = usual(here)
    status = {name: data for name, data in found.items() if name.endswith(".status")}
    assert len(status) == len(LINES)
    refused = [LINES[int(name[:2])] for name, data in status.items() if data == b"2"]
    assert sorted(line[1] for line in refused) == ["broken", "nowhere.yaml"]
    assert b"broken/a.yaml" in b"".join(data for name, data in found.items() if ".out" in name)
    empty = [name for name, data in found.items() if name.endswith(".out") and not data]
    assert [LINES[int(name[:2])][1] for name in empty] == ["nowhere.yaml"]
    assert b"nowhere.yaml" in b"".join(data for name, data in found.items() if ".err" in name)
    assert {"accepted", "report.txt", "report.html", "cell.yaml", "starter.yaml"} <= found.keys()
    assert sum(name.startswith("pages/") for name in found) > 10


@pytest.mark.parametrize("place", ELSEWHERE)
def test_every_report_is_the_same_to_the_byte(place: str, here: Path, tmp_path: Path) -> None:
    changed = ELSEWHERE[place]
    folder = here
    if "HERE" in changed:
        folder = tmp_path / "elsewhere"
        if changed["HERE"] == "link":
            folder.symlink_to(here)
        else:
            shutil.copytree(here, folder)
    known, found = usual(here), outputs(folder, tmp_path / "out", changed)
    assert found.keys() == known.keys()
    different = {name for name in known if known[name] != found[name]}
    if changed.get("LC_ALL") == "C":  # text for people is put into what their terminal shows
        different = {name for name in different if for_programs(name)}
    assert sorted(different) == []


def for_programs(name: str) -> bool:
    number, suffix = name[:2], name.rpartition(".")[2]
    if not number.isdigit() or suffix == "status":
        return True
    line = LINES[int(number)]
    forms = {"json", "sarif", "junit", "markdown", "html"}
    return suffix == "out" and (not forms.isdisjoint(line) or line[0] in ("import", "init"))
