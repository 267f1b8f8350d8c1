"""Writes a folder of many small machine files, to measure how a check scales.

    python -m tests.bench.archive FOLDER [NUMBER [KIND]]

Of ten machines seven are sound (that of fixtures/sound/table.json, alternately as JSON and YAML).
Two lack facts of friction and motor, so they have undecided checks, and one has a fault of
fixtures/faults. So it is of the kind ``mixed``; of any other kind, all machines are alike in this.
Every machine has its own name, and each folder holds a hundred files.
"""

from __future__ import annotations

import json
import re
import sys
from pathlib import Path
from typing import Any

import yaml

FIXTURES = Path(__file__).resolve().parents[2] / "fixtures"

KINDS = ("mixed", "sound", "undecided", "faulty")

LEFT_OUT = ("friction_torque", "serial", "max_torque")


def write_archive(folder: Path, number: int, kind: str = "mixed") -> None:
    """Write ``number`` machine files below ``folder``, which must not exist yet."""
    mixed = {3: "undecided", 6: "undecided", 9: "faulty"}
    sound = json.loads((FIXTURES / "sound" / "table.json").read_text("utf-8"))
    partial = _without(sound)
    faults = sorted((FIXTURES / "faults").glob("*.yaml"))
    folder.mkdir(parents=True)
    for count in range(number):
        name = f"Station {count:05d}"
        place = folder / f"line_{count // 100:03d}"
        place.mkdir(exist_ok=True)
        path = place / f"station_{count:05d}"
        own = mixed.get(count % 10, "sound") if kind == "mixed" else kind
        if own == "faulty":
            text = faults[count // 10 % len(faults)].read_text("utf-8")
            text = re.sub(r"^machine:.*$", f"machine: {name}", text, count=1, flags=re.M)
            path.with_suffix(".yaml").write_text(text, "utf-8")
            continue
        plain = {**(partial if own == "undecided" else sound), "machine": name}
        if count % 2:
            path.with_suffix(".json").write_text(json.dumps(plain, indent=1), "utf-8")
        else:
            text = yaml.safe_dump(plain, sort_keys=False, allow_unicode=True)
            path.with_suffix(".yaml").write_text(text, "utf-8")


def _without(plain: Any) -> Any:
    if isinstance(plain, list):
        return [_without(item) for item in plain]
    if not isinstance(plain, dict):
        return plain
    return {key: _without(value) for key, value in plain.items() if key not in LEFT_OUT}


if __name__ == "__main__":
    write_archive(Path(sys.argv[1]), int((sys.argv[2:] or ["10_000"])[0]), *sys.argv[3:4])
