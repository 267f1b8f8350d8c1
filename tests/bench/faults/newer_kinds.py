"""Which sound axes are of the newer kinds, whose parts came into the bench after its first runs.

An axis counts by a part that it has, not by its name: a lift with a brake on its load is one.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Final

from .plain_axis import Plain, PlainAxis

FINAL: Final = "mechanics.final"


def _in_wide_gantry(a: PlainAxis) -> bool:
    """Whether the gantry of an axis has more than two members, or motors that share torque."""
    leader = a if a.get("gantry.role") == "leader" else a.of(a.get("gantry.partner") or a.name)
    return bool(leader.get("gantry.followers")) or a.get("gantry.torque") == "shared"


NEWER: Final[dict[str, Callable[[PlainAxis], object]]] = {
    "linear motors": lambda a: a.get("motor.rated_force"),
    "a second encoder": lambda a: a.get("second_encoder"),
    "a brake on the load": lambda a: a.get("mechanics.load_brake"),
    "a clamp": lambda a: a.get("mechanics.clamp"),
    "index marks": lambda a: a.get("encoder.index_marks"),
    "an unbalance or a tilt": lambda a: (
        a.get("mechanics.unbalance") or a.get("mechanics.tilted_by")
    ),
    "a telescope": lambda a: a.get("mechanics.telescope"),
    "a reel or a drum of layers": lambda a: a.get("mechanics.winding"),
    "a crank": lambda a: a.get("mechanics.crank"),
    "gantries of several or of shared torque": _in_wide_gantry,
    "coupled axes": lambda a: a.get("differential"),
    "a helix of any angle": lambda a: a.get(f"{FINAL}.helix_angle"),
    "a rim": lambda a: a.get("mechanics.rim"),
    "a sprocket": lambda a: a.get(f"{FINAL}.kind") == "chain",
}
"""The newer kinds, and what tells that an axis is of one of them."""


def kinds_of(a: PlainAxis) -> tuple[str, ...]:
    """The newer kinds that an axis is of. Most axes are of one or two, and many of none."""
    return tuple(kind for kind, is_one in NEWER.items() if is_one(a))


@dataclass
class NewerAxes:
    """Sound axes of the newer kinds, and how their checks end."""

    axes: int = 0
    clean: int = 0
    """Axes of them without a finding and without an undecided check."""
    findings: int = 0
    undecided: int = 0
    by_kind: Counter[str] = field(default_factory=Counter)

    def add(self, plain: Plain, found: Sequence[str], undecided: Sequence[str]) -> None:
        """Count a machine by the axes of its findings and of its undecided checks."""
        for name in plain["axes"]:
            kinds = kinds_of(PlainAxis(plain, name))
            if not kinds:
                continue
            wrong, open_checks = found.count(name), undecided.count(name)
            self.axes += 1
            self.clean += not wrong + open_checks
            self.findings += wrong
            self.undecided += open_checks
            self.by_kind.update(kinds)

    def __add__(self, other: NewerAxes) -> NewerAxes:
        return NewerAxes(
            self.axes + other.axes,
            self.clean + other.clean,
            self.findings + other.findings,
            self.undecided + other.undecided,
            self.by_kind + other.by_kind,
        )

    def told(self, of: int) -> str:
        """What the bench prints of them, beside the number of all sound axes."""
        return (
            f"{self.axes} of these axes ({self.axes / max(1, of):.1%}) are of newer kinds, with "
            f"{self.findings} findings. {self.undecided} of their checks cannot be decided. On "
            f"{self.clean} of them ({self.clean / max(1, of):.1%} of all) every check passes."
        )

    def table(self) -> list[str]:
        """How many axes are of each newer kind; one axis can be of several."""
        rows = [f"| {kind} | {count} |" for kind, count in self.by_kind.most_common()]
        return ["| sound axes with | |", "|---|--:|", *rows]
