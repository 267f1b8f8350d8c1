"""Which axes must be homed before an axis: directly stated, and by way of others."""

from __future__ import annotations

from collections.abc import Sequence

from ..base.absence import NONE
from .records import notes_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any


STATED_AS = "controller.homing.after"
HOMES_AFTER = "homes_after"
"""The fact of an axis that is derived here: the names of all axes that must be homed before it."""

WAITS_FOR_STRANGER = "homes_after_stranger"
"""Derived too: whether one of the names that the axis itself states is no axis of the machine."""


def add_homing_order(axes: Sequence[dict[str, Any]]) -> None:
    """Give each axis the list ``homes_after``, following ``controller.homing.after`` from axis to
    axis (transitive closure of a graph, depth first), in order of discovery.

    An axis that waits for itself finds its own name in its list. The list is missing where the
    axis does not state what it waits for, and partial where one on the way does not. An axis that
    never homes waits for none; a name that is no axis leads nowhere, and ``homes_after_stranger``
    tells whether the axis states one (missing where the statement is, or is partial without one).
    """
    by_name = {axis["name"]: axis for axis in axes}
    for axis in axes:
        stated = _waits_for(axis)
        if stated is None:
            continue
        strange = any(name not in by_name for name in stated)
        if strange or STATED_AS not in notes_of(axis).partial:
            axis[WAITS_FOR_STRANGER] = strange
        found: dict[str, None] = {}
        partial = STATED_AS in notes_of(axis).partial
        open_names = list(reversed(stated))
        while open_names:
            name = open_names.pop()
            if name in found:
                continue
            found[name] = None
            if name not in by_name:
                continue
            further = _waits_for(by_name[name])
            partial = partial or further is None or STATED_AS in notes_of(by_name[name]).partial
            open_names.extend(reversed(further or ()))
        axis[HOMES_AFTER] = list(found)
        if partial:
            notes_of(axis).partial |= {HOMES_AFTER}


def _waits_for(axis: dict[str, Any]) -> list[str] | None:
    """The names as stated; None where nothing is stated."""
    if axis.get("controller.homing") is NONE:
        return []
    stated: list[str] | None = axis.get(STATED_AS)
    return stated
