"""A machine as rules see it, and where each of its facts stands in the files it was read from."""

from __future__ import annotations

from ..base.errors import Place
from ..base.lazy import dataclass, replace
from ..source.merge import Tree
from ..source.places import KeyPath, path_parts
from .records import NOTES, Facts, notes_of
from .schema import ROLE_END
from .value_reader import as_written

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any


@dataclass(frozen=True, slots=True)
class Dispute:
    """A fact with claims that differ: its absolute path and each claim's text and source."""

    path: str
    claims: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Misfit:
    """A length on a rotary axis or an angle on a linear one; ``path`` leads to the value."""

    path: str
    written: str
    motion: str


@dataclass(frozen=True, slots=True, eq=False)
class Machine:
    """A machine as rules see it (``facts``) and what it was read from.

    A fact is absent from ``facts`` and listed here if its claims differ, or if it is of the wrong
    kind for the axis's motion. ``tree`` is None for a machine that was not read from a file.
    ``role`` is what the machine is called beside another one (see ``with_role``); absolute paths of
    its facts then begin with it, as in ``before:axes.infeed.drive.node``.
    """

    facts: Facts
    plain: dict[str, Any]
    tree: Tree | None = None
    disputes: tuple[Dispute, ...] = ()
    misfits: tuple[Misfit, ...] = ()
    role: str = ""

    @property
    def name(self) -> str:
        """The machine's name."""
        return str(self.facts["name"])

    @property
    def axes(self) -> list[Facts]:
        """The axes in file order."""
        axes: list[Facts] = self.facts["axes"]
        return axes

    def let_go(self) -> None:
        """Empty the records of a machine that nobody looks at any more.

        Machine and axes hold each other, so without this only the collector could free them, after
        a look at all of their facts.
        """
        for axis in self.axes:
            axis.clear()
        self.facts.clear()

    def places(self, path: str) -> tuple[Place, ...]:
        """Where the value at an absolute path stands: one place per statement of it, or none."""
        if self.tree is None:
            return ()
        parts, value = self._at(path)
        if value is None:
            return ()
        places: list[Place] = []
        for each in _claimed(parts, value):
            places.extend(self.tree.places(each))
        return tuple(dict.fromkeys(places))

    def nearest(self, path: str) -> Place | None:
        """The best place to speak of a path that may be missing; None if there is no file."""
        return None if self.tree is None else self.tree.nearest(self._at(path)[0])

    def replaceable(self, path: str) -> bool:
        """Whether a file states the value, once and as it is.

        An export has a form of its own for it, and a claim is what its source says.
        """
        parts, value = self._at(path)
        found = [] if self.tree is None else self.tree.located(parts)
        return len(found) == 1 and found[0][0].verbatim and not isinstance(value, dict)

    def line_text(self, place: Place) -> str:
        """The source line on which a place begins; empty if there is no file."""
        return "" if self.tree is None else self.tree.line_text(place)

    def written(self, path: str) -> str | None:
        """The scalar at an absolute path as the user wrote it (the first claim of several)."""
        value = self._at(path)[1]
        if isinstance(value, dict) and isinstance(value.get("claims"), list):
            value = value["claims"][0]["value"]
        return None if value is None or isinstance(value, dict | list) else as_written(value)

    def plain_at(self, path: str) -> Any:
        """The plain value at an absolute path; None if it is not stated."""
        return self._at(path)[1]

    def owns(self, path: str) -> bool:
        """Whether an absolute path is one of this machine's, and not of the one beside it."""
        return path.startswith(f"{self.role}:") if self.role else ROLE_END not in path

    def own_path(self, path: str) -> str:
        """An absolute path without the machine's role."""
        return path.removeprefix(f"{self.role}:") if self.role else path

    def _at(self, path: str) -> tuple[KeyPath, Any]:
        """The path in the file (through ``partial``) and the plain value, None if missing."""
        here: Any = self.plain
        parts: list[str | int] = []
        for part in path_parts(self.own_path(path)):
            if isinstance(part, int) and isinstance(here, dict) and "partial" in here:
                parts.append("partial")
                here = here["partial"]
            parts.append(part)
            if isinstance(part, int):
                here = here[part] if isinstance(here, list) and part < len(here) else None
            else:
                here = here.get(part) if isinstance(here, dict) else None
        return tuple(parts), here


def with_role(machine: Machine, role: str) -> Machine:
    """A copy of a machine to stand beside another one: its paths say its role, such as ``before``.

    Settings and whatever else was put into its facts go along; the machine itself is left alone.
    """

    def named(value: Any) -> Any:
        if isinstance(value, list):
            return [named(item) for item in value]
        if not isinstance(value, dict):
            return value
        record = {key: named(item) for key, item in value.items() if key != NOTES}
        notes = notes_of(value)
        of_axis = notes.machine is not None
        record[NOTES] = notes.beside(role + ROLE_END + notes.path, facts if of_axis else None)
        return record

    facts: Facts = {}
    facts |= named(machine.facts)
    paths = {role + ROLE_END + dispute.path: dispute.claims for dispute in machine.disputes}
    return replace(
        machine,
        facts=facts,
        disputes=tuple(Dispute(path, claims) for path, claims in paths.items()),
        misfits=tuple(
            replace(misfit, path=role + ROLE_END + misfit.path) for misfit in machine.misfits
        ),
        role=role,
    )


def _claimed(parts: KeyPath, value: Any) -> list[KeyPath]:
    if isinstance(value, dict) and isinstance(value.get("claims"), list):
        return [(*parts, "claims", index, "value") for index in range(len(value["claims"]))]
    return [parts]
