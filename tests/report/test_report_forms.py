"""Every form, from a real faulty machine to bytes, in processes of their own."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from axisproof.report.formats import FORMS

SOUND = Path(__file__).parents[2] / "fixtures" / "sound"
CODE = """
import datetime, pathlib, sys
from axisproof.api import CheckOptions, check
from axisproof.report.rendering import RenderOptions
from axisproof.report.formats import FORMS, renderer
asked = CheckOptions(on=datetime.date(2026, 6, 1), workings=True, every_outcome=True, sketches=True)
report = check(["hall.yaml"], asked)
assert report.findings and report.undecided
for name in FORMS:
    text = renderer(name)(report, RenderOptions(workings=True))
    pathlib.Path(sys.argv[1], name).write_bytes(text.encode())
"""


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> list[dict[str, bytes]]:
    """What two runs wrote, whose sets and dicts of text are ordered differently."""
    folder = tmp_path_factory.mktemp("hall")
    shutil.copytree(SOUND, folder, dirs_exist_ok=True)
    text = (folder / "hall.yaml").read_text("utf-8")
    for fact, fault in {
        "distinguishable_revolutions: 65534": "distinguishable_revolutions: 65536",
        "max_velocity: 1500 mm/s": "max_velocity: 2000 mm/s",
        "index_after_switch: 0.5 rev": "index_after_switch: 0.1 rev",
        "deceleration: 4000 mm/s^2, jerk: 40000 mm/s^3,": "deceleration: 4000 mm/s^2,",
    }.items():
        assert fact in text
        text = text.replace(fact, fault)
    (folder / "hall.yaml").write_text(text, "utf-8")
    runs = []
    for seed in ("1", "2"):
        out = tmp_path_factory.mktemp("out")
        subprocess.run(
            [sys.executable, "-c", CODE, str(out)],
            check=True,
            timeout=300,
            cwd=folder,
            env={**os.environ, "PYTHONHASHSEED": seed},
        )
        runs.append({path.name: path.read_bytes() for path in sorted(out.iterdir())})
    return runs


def test_two_runs_write_the_same_bytes_in_every_form(written: list[dict[str, bytes]]) -> None:
    first, second = written
    assert list(first) == sorted(FORMS)
    assert first == second


@pytest.mark.parametrize("form", ["html", "json", "junit", "markdown", "sarif", "text"])
def test_every_form_tells_the_finding_and_the_undecided_check(
    written: list[dict[str, bytes]], form: str
) -> None:
    text = " ".join(written[0][form].decode().replace("\\u2026", "…").replace("\\", "").split())
    assert "rollover-divides-cycle" in text
    assert "102.9 deg" in text
    assert "software-limits-leave-room-to-stop" in text
    assert "controller.stop.jerk" in text
