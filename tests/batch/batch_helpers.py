"""Folders of small machine files for the tests of checks that cover many."""

from __future__ import annotations

import shutil
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
FAULTS = sorted((ROOT / "fixtures" / "faults").glob("*.yaml"))
SOUND = ROOT / "fixtures" / "sound"

RULES = """language 2
rule site-node
  level    warning
  title    "Nodes of the site"
  each     axis
  require  axis.drive.node > 3
  say      "{axis.drive.node}"
  why      "w"
  remedy   "r"
  basis    "common practice, no source"
  passes   "p" axis.drive.node = 4
  fails    "f" axis.drive.node = 3
"""
SITE = """settings: {battery_change_notice: {value: 100 d, reason: we are slow}}
levels: {brake-voltage-fits: {level: "off", reason: not ours}}
"""


def named(text: str, name: str) -> str:
    """A machine file's text with another machine name."""
    before, _, after = text.partition("\nmachine:")
    return f"{before}\nmachine: {name}\n{after.partition(chr(10))[2]}"


def archive(folder: Path, number: int) -> Path:
    """A folder of ``number`` machines: with a fault each, some that share a name, some partial.

    Beside them stand two sound machines, of which one includes a file of the same folder, and a
    project with its exports.
    """
    folder.mkdir()
    for count in range(number):
        text = FAULTS[count % len(FAULTS)].read_text("utf-8")
        if count % 3:
            text = named(text, f"Station {count % 7}")
        if count % 4 == 1:
            lines = text.splitlines(keepends=True)
            text = "".join(line for line in lines if "serial" not in line or "{" in line)
        (folder / f"m{count:03d}.yaml").write_text(text, "utf-8")
    for name in ("hall.yaml", "mechanics.yaml", "table.json"):
        shutil.copy(SOUND / name, folder)
    shutil.copytree(ROOT / "fixtures" / "imports" / "cell", folder / "cell")
    return folder
