"""What exports call the axes: by name, by another name, or by the node of the drive."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from ..base.errors import InputError, Place
from ..machine.names import AXIS_NAME
from ..machine.schema import near
from ..source.limits import shortened

Fail = Callable[[str, Place, str], InputError]
"""Makes an error about a place of the export at hand."""


@dataclass(slots=True)
class AxisNames:
    """The axes of a machine. ``closed``: only those named may occur.

    ``called`` maps other names to names, ``nodes`` node ids to the axes whose drive has them.
    """

    closed: bool = False
    names: dict[str, None] = field(default_factory=dict)
    called: dict[str, str] = field(default_factory=dict)
    nodes: dict[int, list[str]] = field(default_factory=dict)

    def add_node(self, node: int, axis: str) -> None:
        """Take down that the drive of ``axis`` has a node id."""
        known = self.nodes.setdefault(node, [])
        if axis not in known:
            known.append(axis)

    def by_name(self, subject: str, place: Place, fail: Fail) -> str:
        """The axis that an export calls ``subject``; raises ``fail``'s error for none."""
        name = self.called.get(subject, subject)
        if name in self.names:
            return name
        if self.closed:
            known = [*self.names, *self.called]
            close = near(subject, known)
            raise fail(
                f"there is no axis {shortened(subject)}",
                place,
                f"perhaps {close[0]!r}" if close else f"one of {', '.join(known[:12])}",
            )
        if not AXIS_NAME.fullmatch(name):
            raise fail(
                f"{shortened(subject)} is not a name for an axis",
                place,
                "up to 64 letters, digits, - and _ that begin with a letter. A project file can "
                "give an axis another name in exports",
            )
        self.names[name] = None
        return name

    def by_node(self, subject: str, place: Place, fail: Fail) -> str:
        """The axis whose drive has the node id ``subject``; raises ``fail``'s error for none."""
        digits = subject.isascii() and subject.isdigit()
        found = self.nodes.get(int(subject), []) if digits and len(subject) < 10 else []
        if len(found) == 1:
            return found[0]
        if found:
            raise fail(
                f"node {subject} is that of {' and '.join(found)}", place, "one axis for each node"
            )
        known = ", ".join(f"{node} ({axes[0]})" for node, axes in sorted(self.nodes.items())[:12])
        raise fail(
            f"no axis has the node {shortened(subject)}",
            place,
            f"one of {known}" if known else "a node id that the project or another source gives",
        )
