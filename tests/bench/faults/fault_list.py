"""The kinds of fault, in a list that the files of faults fill."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

from .plain_axis import PlainAxis

Change: TypeAlias = Callable[[PlainAxis], bool]


@dataclass(frozen=True)
class FaultKind:
    """One kind of fault: ``what`` people do, and ``change``, which does this to an axis.

    ``change`` returns False if the fault does not apply, even if it has already written values.
    """

    name: str
    concern: str
    what: str
    change: Change

    def on(self, axis: PlainAxis) -> PlainAxis | None:
        """A copy of the machine with this fault on the axis; None if the fault does not apply.

        Where the position matters to nobody, most faults do no harm. Where the file names the
        homing by a word that means several numbers, it is open which edge is met. Where the feed
        changes along the travel, faults of one feed per revolution say nothing.
        """
        if axis.get("controller.position_matters") is False:
            return None
        if axis.feed_changes and self.concern not in ("windings", "cranks"):
            return None
        if self.concern == "homing" and str(axis.method).startswith("home_switch"):
            return None
        faulty = axis.changed()
        return faulty if self.change(faulty) else None


FAULTS: list[FaultKind] = []


def fault(name: str, what: str) -> Callable[[Change], Change]:
    """Add a function to the list; the name of its file is its concern."""

    def register(change: Change) -> Change:
        concern = change.__module__.rpartition(".")[2]
        assert name not in {known.name for known in FAULTS}, name
        FAULTS.append(FaultKind(name, concern, what, change))
        return change

    return register
