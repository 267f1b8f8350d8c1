"""The screens that a reader meets first, each with the command that prints it.

``python -m tests.report.screens`` writes them into ``fixtures/screens/`` as they are now, and those
that README.md shows.
"""

from __future__ import annotations

import contextlib
import io
import os
import sys
from pathlib import Path
from typing import Final

from axisproof.cli.main import run

from .readme_pictures import README, take_picture, with_screen

ROOT: Final = Path(__file__).parents[2]
FOLDER: Final = ROOT / "fixtures" / "screens"
DAY: Final = "--on 2026-06-01"

FAULTS: Final = (
    "brake-holds-load",
    "drive-gear-exact",
    "rehome-interlock-released-by-homing",
    "rollover-divides-cycle",
    "software-limits-leave-room-to-stop",
)
SPARES: Final = {
    "too_slow": "--axis infeed_pusher --part motor fixtures/spares/motor_too_slow.yaml",
    "weak_brake": "--axis lift --part motor fixtures/spares/motor_weak_brake.yaml",
    "like_fitted": "--axis infeed_pusher --part motor fixtures/spares/motor_like_fitted.yaml",
}
PAIR: Final = "fixtures/changes/lift/before.yaml fixtures/changes/lift/speed-raised-past-room.yaml"

COMMANDS: Final = {
    "check_demo": f"check fixtures/demo {DAY}",
    "check_sound": f"check fixtures/sound {DAY}",
    "lines_demo": f"check fixtures/demo {DAY} --format lines",
    "statistics_demo": f"check fixtures/demo {DAY} --statistics",
    "axis_demo": f"check fixtures/demo {DAY} --axis lift",
    **{f"check_{name}": f"check fixtures/faults/{name}.yaml {DAY}" for name in FAULTS},
    **{
        f"spare_{name}": f"spare fixtures/sound/hall.yaml {words} --on 2026-03-01"
        for name, words in SPARES.items()
    },
    "plan_like_fitted": f"spare fixtures/sound/hall.yaml {SPARES['like_fitted']} --plan "
    "--on 2026-03-01",
    "changes_speed": f"changes {PAIR} {DAY}",
    "recalibrate": "recalibrate fixtures/sound/hall.yaml --axis infeed_pusher --true 100mm "
    "--indicated 98.75mm --after home-switch",
    "rules_list": "rules list",
    "rules_gearing": "rules list gearing",
    "explain_word": "explain unfolding",
}
"""The command of each screen, to be run in the folder of the project."""


PAGE: Final = f"check fixtures/demo {DAY} --format html"
"""The command of the page of which the README shows a picture."""


def screen(name: str) -> str:
    """What the command of a screen prints, in a process that has no terminal."""
    return printed(COMMANDS[name])


def printed(command: str) -> str:
    """What a command prints, in a process that has no terminal."""
    before = Path.cwd()
    os.chdir(ROOT)
    stream = io.TextIOWrapper(io.BytesIO(), "utf-8", write_through=True)
    try:
        with contextlib.redirect_stdout(stream):
            run(command.split())
    finally:
        os.chdir(before)
    assert isinstance(stream.buffer, io.BytesIO)
    return stream.buffer.getvalue().decode("utf-8")


def file_of(name: str) -> Path:
    """The file that keeps a screen."""
    return FOLDER / f"{name}.txt"


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for each in COMMANDS:
        file_of(each).write_text(screen(each), "utf-8")
    README.write_text(with_screen(README.read_text("utf-8"), screen("check_demo")), "utf-8")
    if not take_picture(printed(PAGE)):
        sys.exit("There is no Chromium, so the picture of the page is not made again.")
