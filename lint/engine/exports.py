"""Finds exports that are older than what was taught on an axis.

No rule can say this: where no day of an export is stated, there is nothing to check and nothing
undecided.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..machine.machine import Machine
from ..machine.records import Facts
from ..numbers.rational import Fraction

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final

EXPORTS: Final = ("drive.exported_on", "encoder.exported_on")
"""The days on which settings were read from a device."""

TAUGHT: Final = {
    "controller.homing.taught.on": "the reference was taught",
    "motor.commutation.on": "the commutation angle was taught",
}
"""The days of a teaching, with what was done on them."""

_NUMBERS: Final = (int, Fraction)


def exports_before_teaching(machine: Machine) -> Iterator[tuple[Facts, str, str]]:
    """Each axis with an export that is older than a teaching: (axis, export, last teaching)."""
    for axis in machine.axes:
        for export in EXPORTS:
            day = axis.get(export)
            known = [each for each in TAUGHT if isinstance(axis.get(each), _NUMBERS)]
            last = max(known, key=lambda each: axis[each], default=None)
            if isinstance(day, _NUMBERS) and last is not None and axis[last] > day:
                yield axis, export, last
