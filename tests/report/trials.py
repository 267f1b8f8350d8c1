"""Machines that nobody has read before, to try the screens on: drawn by the benches with a seed.

``python -m tests.report.trials SEED FOLDER`` writes five machines with a planted fault each, before
and after it, and three swaps into ``FOLDER``. It prints what somebody sees of each command
without moving. tests/report/trials.md tells what was misread, and what was changed for that.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from random import Random
from typing import Any, Final

import yaml

from tests.bench.faults.fault_list import FAULTS
from tests.bench.faults.measure import check_plain
from tests.bench.faults.plain_axis import PlainAxis
from tests.bench.faults.sound_machine import machine
from tests.bench.faults.swap_measure import draw, stated, swap_kinds

from .screens import printed

FIRST: Final = 25
"""Lines that a reader sees without moving."""

DAY: Final = "--on 2026-06-01"
PARTS: Final = ("motor", "drive", "encoder")


def write(path: Path, plain: Any) -> None:
    """Write a machine or a part as somebody would."""
    path.write_text(yaml.safe_dump(plain, sort_keys=False, allow_unicode=True), "utf-8")


def faulty(seed: str, folder: Path, number: int) -> Iterator[str]:
    """Write machines with a fault each, and as they were without it; return their commands."""
    rng = Random(seed)
    kinds = list(FAULTS)
    rng.shuffle(kinds)
    done = 0
    for kind in kinds:
        sound = machine(rng.randrange(10**6), 3)
        name = rng.choice(list(sound["axes"]))
        changed = kind.on(PlainAxis(sound, name))
        if changed is None or not check_plain(changed.machine).findings:
            continue
        before, after = folder / f"{kind.name}_before.yaml", folder / f"{kind.name}.yaml"
        write(before, sound)
        write(after, changed.machine)
        yield f"check {after} {DAY}"
        yield f"changes {before} {after} {DAY}"
        done += 1
        if done == number:
            return


def swaps(seed: str, folder: Path) -> Iterator[str]:
    """Write a swap of each part; return the commands that judge it, and those that recalibrate."""
    rng = Random(seed)
    for part in PARTS:
        kinds = [kind for kind in swap_kinds(seed, 0) if kind.part == part]
        rng.shuffle(kinds)
        made = next(filter(None, (draw(kind, seed, 0) for kind in kinds)))[0]
        whole, spare = stated(made)
        place, given = folder / f"{part}_machine.yaml", folder / f"{part}.yaml"
        write(place, whole)
        head = {"format": 1, "part": part}
        if made.used_elsewhere:
            head["motion"] = made.used_elsewhere
        write(given, head | spare)
        name = made.axis.name
        command = f"spare {place} --axis {name} --part {part} {given} {DAY}"
        yield command
        yield f"{command} --plan"
        unit = made.axis.unit
        yield (
            f"recalibrate {place} --axis {name} --true 10{unit} --indicated 9{unit} --after {part}"
        )


def main(seed: str, folder: Path) -> None:
    """Write the cases and print the first lines of each screen."""
    folder.mkdir(parents=True, exist_ok=True)
    for command in (*faulty(seed, folder, 5), *swaps(seed, folder)):
        lines = printed(command).splitlines()
        print(f"\n$ axisproof {command}    ({len(lines)} lines)")
        print("\n".join(lines[:FIRST]))


if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]))
