"""Which memory leaves with which part, and what stays and is wrong: a table written by hand.

It was written from the trade's own account of which memory leaves with which part: a counter on a
battery forgets when the encoder is off its battery, a replaced encoder has its zero and turns
elsewhere, a shaft that turns uncoupled shifts the axis, a restored backup brings back old values
(common practice, no source). Homing methods are those of CiA 402 (from memory).

The axis of the table is linear, its encoder sits on the motor and is absolute over many turns, and
it homes to a home switch and the index pulse after it. The columns are the kinds of work, the rows
the memories with the place where they live. A cell says
    .   nothing happens to the memory
    L   it is lost
    W   it stays and is wrong
    r   it stays only while a step of the work is kept (the control supply on, the cable plugged)
Every cell stands for itself; what follows from another memory is in with_consequences.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

WORKS: Final = (
    "motor", "motor_bare", "encoder", "drive", "gearbox", "battery", "coupling", "belt",
    "feedback_cable", "home_switch", "controller", "motor_refitted", "backup",
)  # fmt: skip
"""What is replaced or touched. A bare motor brings no encoder: the fitted one is put on it."""

TABLE: Final = """
                        mot bar enc drv gbx bat cpl blt cbl sw  ctl ref bak
turns battery encoder    L   W   L   .   W   r   W   W   .   .   .   W   .
turns battery cable      L   L   L   .   W   r   W   W   L   .   .   L   .
turns battery drive      L   L   L   L   W   r   W   W   L   .   .   L   .
turns battery cabinet    L   L   L   L   W   r   W   W   L   .   .   L   .
turns batteryless -      L   W   L   .   W   .   W   W   .   .   .   W   .
wraps drive              W   .   W   L   .   .   .   .   .   .   .   .   W
wraps controller         W   .   W   .   .   .   .   .   .   .   L   .   W
zero encoder             L   W   L   .   W   .   W   W   .   .   .   W   .
reference encoder        L   W   L   .   W   .   W   W   .   W   .   W   .
reference drive          W   W   W   L   W   .   W   W   .   W   .   W   W
reference controller     W   W   W   .   W   .   W   W   .   W   L   W   W
homed_flag drive         W   W   W   L   W   .   W   W   .   W   .   W   W
homed_flag controller    W   W   W   .   W   .   W   W   .   W   L   W   W
commutation drive        W   W   W   L   .   .   .   .   .   .   .   .   W
commutation encoder      L   W   L   .   .   .   .   .   .   .   .   .   .
motor_data drive         W   W   .   L   .   .   .   .   .   .   .   .   W
motor_data encoder       L   W   L   .   .   .   .   .   .   .   .   .   .
"""
"""Motor data: for a motor of another type than the fitted one."""

LOAD: Final = """
                        mot bar enc drv gbx bat cpl blt cbl sw  ctl ref bak
turns battery cable      .   .   L   .   .   r   W   W   L   .   .   .   .
turns batteryless -      .   .   L   .   .   .   W   W   .   .   .   .   .
wraps controller         .   .   W   .   .   .   .   .   .   .   L   .   W
zero encoder             .   .   L   .   .   .   W   W   .   .   .   .   .
reference drive          .   .   W   L   .   .   W   W   .   W   .   .   W
homed_flag controller    .   .   W   .   .   .   W   W   .   W   L   .   W
"""
"""The same with the encoder on the driving shaft, ahead of a belt that moves the load."""

SWITCH: Final = """
                        mot bar enc drv gbx bat cpl blt cbl sw  ctl ref bak
reference drive          .   .   .   L   .   .   .   .   .   W   .   .   W
reference controller     .   .   .   .   .   .   .   .   .   W   L   .   W
homed_flag controller    .   .   .   .   .   .   .   .   .   W   L   .   W
"""
"""An incremental encoder on the motor, homed to the home switch without an index pulse: nothing
but the switch makes the reference."""

TAUGHT: Final[Mapping[str, str]] = {
    "turns": "turns", "wraps": "wraps", "zero": "reference", "reference": "reference",
    "homed_flag": "homed_flag", "commutation": "commutation", "motor_data": "motor_data",
}  # fmt: skip
"""What has to be taught or put right where a memory is lost or wrong."""


@dataclass(frozen=True)
class Cell:
    """One cell: a memory (with its place) and a kind of work, and what happens to it."""

    memory: str
    place: tuple[str, ...]
    work: str
    mark: str


def cells(table: str) -> Iterator[Cell]:
    """The cells of a table."""
    for line in table.strip("\n").splitlines()[1:]:
        head, marks = line[:24].split(), line[24:].split()
        assert len(marks) == len(WORKS), line
        for work, mark in zip(WORKS, marks, strict=True):
            yield Cell(head[0], tuple(head[1:]), work, mark)


def mark_of(table: str, memory: str, place: tuple[str, ...], work: str) -> str:
    """One cell by name."""
    found = [c.mark for c in cells(table) if (c.memory, c.place, c.work) == (memory, place, work)]
    assert len(found) == 1, (memory, place, work)
    return found[0]


def with_consequences(marks: Mapping[str, str]) -> dict[str, str]:
    """What becomes of all memories of an axis together.

    Wraps were counted from turns that are gone. The reference of an absolute encoder is a reading
    of its turns, wraps and zero. A homed flag says that the reference is right.
    """
    out = dict(marks)

    def gone(memory: str) -> bool:
        return out.get(memory, ".") in "LW"

    if out.get("wraps") == "." and out.get("turns") == "L":
        out["wraps"] = "W"
    if out.get("reference") == "." and (gone("turns") or gone("wraps") or gone("zero")):
        out["reference"] = "W"
    if out.get("homed_flag") == "." and gone("reference"):
        out["homed_flag"] = "W"
    return out
