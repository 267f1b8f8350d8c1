"""What a fault is, and the list that the fault files fill."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

from .plain import Axis

Change: TypeAlias = Callable[[Axis], bool]


@dataclass(frozen=True)
class Fault:
    """One kind of fault: ``what`` people do, and ``change``, which does it to an axis.

    ``change`` returns False, whatever it wrote by then, where the fault does not apply.
    """

    name: str
    concern: str
    what: str
    change: Change

    def on(self, axis: Axis) -> Axis | None:
        """A machine with this fault on that axis, the given one untouched; None if it cannot be."""
        faulty = axis.changed()
        return faulty if self.change(faulty) else None


FAULTS: list[Fault] = []


def fault(name: str, what: str) -> Callable[[Change], Change]:
    """Put a function on the list; its file is its concern."""

    def register(change: Change) -> Change:
        concern = change.__module__.rpartition(".")[2]
        assert name not in {known.name for known in FAULTS}, name
        FAULTS.append(Fault(name, concern, what, change))
        return change

    return register
