"""What rules/swap.yaml says: roles of facts, what is taught again, figures, adaptations."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Final, Literal, cast

from ..catalogue.catalogue import Catalogue
from ..language.syntax import Expr, Hole
from ..machine.schema import Field, ListType, RecordType, axis_type, facts, lookup
from .phrases import DataFile

FILE: Final = "swap.yaml"

RoleName = Literal["free", "match", "place", "equal", "build", "stays", "record", "teach"]


@dataclass(frozen=True, slots=True)
class Role:
    """The role of a fact; ``writable`` is the condition under which a `match` can be written."""

    name: RoleName
    writable: Expr | None = None
    becomes: str = ""


@dataclass(frozen=True, slots=True)
class Teaching:
    """Something a swap obliges to teach again, if its condition holds.

    It is thought of if something in ``new`` is new, or a setting in ``written`` is adapted.
    """

    what: str
    words: str
    why: str
    new: frozenset[str]
    written: frozenset[str]
    when: Expr | None


@dataclass(frozen=True, slots=True)
class FigureLine:
    """A figure worked out for the axis with the spare and as it was."""

    name: str
    value: Hole
    new: frozenset[str]
    when: Expr | None


@dataclass(frozen=True, slots=True)
class Adaptation:
    """A setting that is changed when a rule is broken; without value, as that rule proposes."""

    rule: str
    fact: str
    value: Hole | None


@dataclass(frozen=True, slots=True)
class Roles:
    """All of the file. Roles are by record (motor, encoder, drive, gearbox, battery) and fact."""

    roles: Mapping[str, Mapping[str, Role]]
    records: Mapping[str, str]
    teachings: tuple[Teaching, ...]
    figures: tuple[FigureLine, ...]
    adaptations: tuple[Adaptation, ...]

    def role(self, record: str, fact: str) -> Role:
        """The role of a fact: its own, or that of the nearest group above it; `build` if none."""
        roles = self.roles[record]
        parts = fact.split(".")
        for depth in range(len(parts), 0, -1):
            found = roles.get(".".join(parts[:depth]))
            if found is not None:
                return found
        return Role("build")


PLACES: Final[Mapping[str, str]] = {
    "motor": "motor",
    "encoder": "encoder",
    "drive": "drive",
    "gearbox": "mechanics.stages",
    "battery": "encoder.turn_counter.battery",
}
"""Where in an axis a record stands."""


@lru_cache(maxsize=8)
def record_facts(record: str) -> Mapping[str, Field]:
    """The facts of a record by path from it, groups that may be `none` before what they hold."""
    if record == "gearbox":
        stages = lookup(axis_type(), "mechanics.stages").type
        assert isinstance(stages, ListType)
        assert isinstance(stages.item, RecordType)
        return facts(stages.item)
    group = lookup(axis_type(), PLACES[record]).type
    assert isinstance(group, RecordType)
    return facts(group)


@lru_cache(maxsize=4)
def read_roles(catalogue: Catalogue) -> Roles:
    """Read the shipped file. Raises RuleError if a phrase in it no longer checks."""
    file = DataFile(FILE, catalogue)
    plain = cast("dict[str, Any]", file.plain)
    roles: dict[str, dict[str, Role]] = {}
    for record, entries in plain["roles"].items():
        roles[record] = {}
        for fact, entry in entries.items():
            if isinstance(entry, str):
                roles[record][fact] = Role(cast(RoleName, entry))
                continue
            path = ("roles", record, fact, "writable")
            writable = file.condition(path, entry["writable"]) if "writable" in entry else None
            roles[record][fact] = Role(entry["role"], writable, entry.get("becomes", ""))
    return Roles(
        roles,
        plain["records"],
        tuple(_teaching(file, number, each) for number, each in enumerate(plain["teach"])),
        tuple(_figure(file, number, each) for number, each in enumerate(plain["figures"])),
        tuple(_adaptation(file, number, each) for number, each in enumerate(plain["adapt"])),
    )


def _when(file: DataFile, path: tuple[str | int, ...], entry: Mapping[str, Any]) -> Expr | None:
    return file.condition((*path, "when"), entry["when"]) if "when" in entry else None


def _teaching(file: DataFile, number: int, entry: Mapping[str, Any]) -> Teaching:
    when = _when(file, ("teach", number), entry)
    new, written = (frozenset(entry.get(key, ())) for key in ("new", "written"))
    return Teaching(entry["what"], entry["words"], entry["why"], new, written, when)


def _figure(file: DataFile, number: int, entry: Mapping[str, Any]) -> FigureLine:
    value = file.value(("figures", number, "value"), entry["value"])
    when = _when(file, ("figures", number), entry)
    return FigureLine(entry["name"], value, frozenset(entry["new"]), when)


def _adaptation(file: DataFile, number: int, entry: Mapping[str, Any]) -> Adaptation:
    value = file.value(("adapt", number, "to"), entry["to"]) if "to" in entry else None
    return Adaptation(entry["rule"], entry["fact"], value)


def met(new: Iterable[str], wanted: frozenset[str]) -> bool:
    """Tell whether any of the new things is among those wanted."""
    return not wanted.isdisjoint(new)
