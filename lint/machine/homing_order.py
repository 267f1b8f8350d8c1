"""Which axes must be homed before an axis: directly stated, and by way of others."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..base.absence import NONE
from .records import notes_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, TypeAlias


STATED_AS = "controller.homing.after"
HOMES_AFTER = "homes_after"
"""The fact of an axis that is derived here: the names of all axes that must be homed before it."""

WAITS_FOR_STRANGER = "homes_after_stranger"
"""Derived too: whether one of the names that the axis itself states is no axis of the machine."""

Stated: TypeAlias = "dict[str, list[str]]"
"""By the name of an axis, the names that it states, if it states any."""


class HomesAfter(Sequence[str]):
    """The names of all axes that must be homed before one, in order of discovery (depth first).

    A list of them for each axis of a chain would grow with the square of the chain. So a set of
    bits, one for each name, says what is among them, and the order is found when it is asked for.
    """

    __slots__ = ("_bits", "_first", "_numbers", "_stated")

    def __init__(
        self, first: list[str], stated: Stated, numbers: dict[str, int], bits: int
    ) -> None:
        self._first = first
        self._stated = stated
        self._numbers = numbers
        self._bits = bits

    def __contains__(self, name: object) -> bool:
        number = self._numbers.get(name) if isinstance(name, str) else None
        return number is not None and bool(self._bits >> number & 1)

    def __len__(self) -> int:
        return self._bits.bit_count()

    def __iter__(self) -> Iterator[str]:
        found: set[str] = set()
        open_names = [*reversed(self._first)]
        while open_names:
            name = open_names.pop()
            if name not in found:
                found.add(name)
                yield name
                open_names.extend(reversed(self._stated.get(name, ())))

    def __getitem__(self, number: Any) -> Any:
        return [*self][number]

    def __eq__(self, other: object) -> bool:
        return isinstance(other, HomesAfter | list) and [*self] == [*other]

    __hash__ = None  # type: ignore[assignment]


def add_homing_order(axes: Sequence[dict[str, Any]]) -> None:
    """Give each axis ``homes_after``, following ``controller.homing.after`` from axis to axis.

    An axis that waits for itself finds its own name in its list. The list is missing where the
    axis does not state what it waits for, and partial where one on the way does not. An axis that
    never homes waits for none; a name that is no axis leads nowhere, and ``homes_after_stranger``
    tells whether the axis states one (missing where the statement is, or is partial without one).
    """
    by_name = {axis["name"]: axis for axis in axes}
    stated: Stated = {}
    for name, axis in by_name.items():
        names = _waits_for(axis)
        if names is not None:
            stated[name] = names
    every = dict.fromkeys(name for names in stated.values() for name in names)
    numbers = {name: number for number, name in enumerate(every)}
    reached, unsure = _reached(by_name, stated, numbers)
    for axis in axes:
        name, notes = axis["name"], notes_of(axis)
        names = stated.get(name)
        if names is None:
            continue
        strange = any(each not in by_name for each in names)
        if strange or STATED_AS not in notes.partial:
            axis[WAITS_FOR_STRANGER] = strange
        axis[HOMES_AFTER] = HomesAfter(names, stated, numbers, reached[name])
        if unsure[name]:
            notes.partial |= {HOMES_AFTER}


def _reached(
    by_name: dict[str, dict[str, Any]], stated: Stated, numbers: dict[str, int]
) -> tuple[dict[str, int], dict[str, bool]]:
    """By axis, the bits of the names that follow from its statement, and whether they may be more.

    Strongly connected components (Tarjan's algorithm), each after those that it leads to: whoever
    waits in a circle waits for all of the circle.
    """
    reached: dict[str, int] = {}
    unsure: dict[str, bool] = {}
    entered: dict[str, int] = {}
    lowest: dict[str, int] = {}
    waiting: list[str] = []

    def enter(name: str) -> tuple[str, Iterator[str]]:
        entered[name] = lowest[name] = len(entered)
        waiting.append(name)
        return name, iter(stated.get(name, ()))

    for root in by_name:
        path = [] if root in entered else [enter(root)]
        while path:
            name, further = path[-1]
            for each in further:
                if each in by_name and each not in entered:
                    path.append(enter(each))
                    break
                if each in by_name and each not in reached:
                    lowest[name] = min(lowest[name], entered[each])
            else:
                path.pop()
                if path:
                    above = path[-1][0]
                    lowest[above] = min(lowest[above], lowest[name])
                if lowest[name] == entered[name]:
                    circle: list[str] = []
                    while not circle or circle[-1] != name:
                        circle.append(waiting.pop())
                    _settle(circle, by_name, stated, numbers, reached, unsure)
    return reached, unsure


def _settle(
    circle: list[str],
    by_name: dict[str, dict[str, Any]],
    stated: Stated,
    numbers: dict[str, int],
    reached: dict[str, int],
    unsure: dict[str, bool],
) -> None:
    """Give the axes of a circle (or one axis) what they state, and what those wait for."""
    bits, open_end = 0, False
    for name in circle:
        open_end = open_end or STATED_AS in notes_of(by_name[name]).partial or name not in stated
        for each in dict.fromkeys(stated.get(name, ())):
            bits |= 1 << numbers[each] | reached.get(each, 0)
            open_end = open_end or unsure.get(each, False)
    for name in circle:
        reached[name], unsure[name] = bits, open_end


def _waits_for(axis: dict[str, Any]) -> list[str] | None:
    """The names as stated; None where nothing is stated."""
    if axis.get("controller.homing") is NONE:
        return []
    stated: list[str] | None = axis.get(STATED_AS)
    return stated
