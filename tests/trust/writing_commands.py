"""Every command that writes a file, and a folder in which it can be run."""

from __future__ import annotations

import shutil
from dataclasses import dataclass
from pathlib import Path

FIXTURES = Path(__file__).parent.parent.parent / "fixtures"
DAY = ("--on", "2026-06-01")


@dataclass(frozen=True)
class Command:
    """``arguments`` are given in the folder that ``lay_out`` makes; ``writes`` come of them.

    Empty ``writes`` stand for files whose names are not known beforehand.
    """

    name: str
    arguments: tuple[str, ...]
    writes: tuple[str, ...] = ("out",)

    @property
    def overwrites(self) -> bool:
        return "--force" in self.arguments or "fix" in self.arguments


CHECK = ("check", "table.json", *DAY, "--format", "sarif", "--output", "out")
SPARE = ("spare", "hall.yaml", "--axis", "lift", "--part", "motor", "spare.yaml", *DAY)
COMMANDS = (
    Command("check", CHECK),
    Command("check --force", (*CHECK, "--force")),
    Command("accept", ("accept", "table.json", *DAY, "-o", "out")),
    Command("import", ("import", "cell/project.yaml", "-o", "out", "--force")),
    Command("init", ("init", "--machine", "Cell", "--axis", "lift:linear", "out")),
    Command("spare", (*SPARE, "--format", "html", "--output", "out", "--force")),
    Command("changes", ("changes", "before.yaml", "after.yaml", *DAY, "--output", "out")),
    Command("fix", ("fix", "one.yaml", "--yes", *DAY), ("one.yaml",)),
    Command(
        "fix two files", ("fix", "one.yaml", "two.yaml", "--yes", *DAY), ("one.yaml", "two.yaml")
    ),
    Command(
        "check --fix",
        ("check", "one.yaml", "--fix", "--yes", *DAY, "--output", "out", "--force"),
        ("one.yaml", "out"),
    ),
)
KEEPING = Command("check --cache", ("check", "one.yaml", *DAY, "--cache", "kept"), ())
"""What cannot be kept is no failure, so this is apart."""

OLD = "old\n"


def lay_out(folder: Path, command: Command) -> None:
    """Put what the commands read into ``folder``, and an old file where one is overwritten."""
    for name in ("hall.yaml", "mechanics.yaml", "table.json"):
        shutil.copy(FIXTURES / "sound" / name, folder)
    shutil.copy(FIXTURES / "spares" / "motor_weak_brake.yaml", folder / "spare.yaml")
    shutil.copytree(FIXTURES / "imports" / "cell", folder / "cell")
    lift = FIXTURES / "changes" / "lift"
    shutil.copy(lift / "before.yaml", folder)
    shutil.copy(lift / "speed-raised-past-room.yaml", folder / "after.yaml")
    text = (FIXTURES / "faults" / "ratio-as-exact-as-on-record.yaml").read_text("utf-8")
    for name in ("one", "two"):
        named = text.replace("\nmachine: ", f"\nmachine: {name} ", 1)
        assert named != text
        (folder / f"{name}.yaml").write_text(named, "utf-8")
    if "out" in command.writes and command.overwrites:
        (folder / "out").write_text(OLD, "utf-8")
