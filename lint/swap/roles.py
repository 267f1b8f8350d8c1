"""What rules/swap.yaml says: roles of facts, what is taught again, figures, adaptations."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Final, cast

from ..catalogue.catalogue import Catalogue
from ..language.syntax import Expr, Hole
from ..machine.schema import Field, ListType, RecordType, axis_type, facts, lookup
from .memory import Memory, read_memories
from .phrases import DataFile
from .result import RoleName

FILE: Final = "swap.yaml"


@dataclass(frozen=True, slots=True)
class Role:
    """The role of a fact.

    ``writable`` is the condition under which a `match` can be written, ``when`` the condition
    under which the axis has the fact at all, and ``known_by`` an expression that says the same.
    ``unread`` says what to do about a difference, for a fact that no rule reads.
    """

    name: RoleName
    writable: Expr | None = None
    becomes: str = ""
    when: Expr | None = None
    known_by: Hole | None = None
    unread: str = ""


@dataclass(frozen=True, slots=True)
class FigureLine:
    """A figure worked out for the axis with the spare and as it was."""

    name: str
    value: Hole
    new: frozenset[str]
    when: Expr | None


@dataclass(frozen=True, slots=True)
class Adaptation:
    """A setting that is changed when a rule is broken; without value, as that rule proposes.

    ``within`` is the share by which a value may be rounded that no number equals.
    """

    rule: str
    fact: str
    value: Hole | None
    within: Hole | None = None


@dataclass(frozen=True, slots=True)
class OutdatedFact:
    """A fact of the axis that holds for the fitted part alone, if a condition is not false."""

    fact: str
    part: str
    when: Expr | None
    why: str


@dataclass(frozen=True, slots=True)
class Roles:
    """All of the file. Roles are by record (motor, encoder, drive, …) and fact.

    ``asked_of`` names rules that are asked only where a record is replaced, with that record.
    """

    roles: Mapping[str, Mapping[str, Role]]
    records: Mapping[str, str]
    memories: tuple[Memory, ...]
    teach: Mapping[str, str]
    figures: tuple[FigureLine, ...]
    adaptations: tuple[Adaptation, ...]
    asked_of: Mapping[str, str]
    outdated: tuple[OutdatedFact, ...] = ()

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
    "second_encoder": "second_encoder",
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


def facts_of_part(paths: Iterable[str], records: Iterable[str]) -> Iterator[tuple[str, str]]:
    """The facts of these records among facts of an axis, as (record, fact); ``""`` is the whole."""
    places = [(each, PLACES[each] + ("[]" if each == "gearbox" else "")) for each in records]
    for path in paths:
        for record, base in places:
            if path == base or path == "mechanics.stages" == base.removesuffix("[]"):
                yield record, ""
            elif path.startswith(f"{base}."):
                yield record, path.removeprefix(f"{base}.")


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
            roles[record][fact] = _role(file, ("roles", record, fact), entry)
    return Roles(
        roles,
        plain["records"],
        read_memories(file, plain["memories"]),
        plain["teach"],
        tuple(_figure(file, number, each) for number, each in enumerate(plain["figures"])),
        tuple(
            adaptation
            for number, each in enumerate(plain["adapt"])
            for adaptation in _adaptations(file, number, each)
        ),
        plain["asked_of"],
        tuple(_outdated(file, number, each) for number, each in enumerate(plain["outdated"])),
    )


def _when(file: DataFile, path: tuple[str | int, ...], entry: Mapping[str, Any]) -> Expr | None:
    return file.condition((*path, "when"), entry["when"]) if "when" in entry else None


def _role(file: DataFile, path: tuple[str | int, ...], entry: Mapping[str, Any]) -> Role:
    def condition(key: str) -> Expr | None:
        return file.condition((*path, key), entry[key]) if key in entry else None

    known_by = None
    if "known_by" in entry:
        known_by = file.value((*path, "known_by"), entry["known_by"])
    return Role(
        entry["role"],
        condition("writable"),
        entry.get("becomes", ""),
        condition("when"),
        known_by,
        entry.get("unread", ""),
    )


def _figure(file: DataFile, number: int, entry: Mapping[str, Any]) -> FigureLine:
    value = file.value(("figures", number, "value"), entry["value"])
    when = _when(file, ("figures", number), entry)
    return FigureLine(entry["name"], value, frozenset(entry["new"]), when)


def _adaptations(file: DataFile, number: int, entry: Mapping[str, Any]) -> list[Adaptation]:
    """An adaptation for each rule that an entry names."""

    def hole(key: str) -> Hole | None:
        return file.value(("adapt", number, key), entry[key]) if key in entry else None

    value, within = hole("to"), hole("within")
    rules = [entry["rule"]] if isinstance(entry["rule"], str) else entry["rule"]
    return [Adaptation(rule, entry["fact"], value, within) for rule in rules]


def _outdated(file: DataFile, number: int, entry: Mapping[str, Any]) -> OutdatedFact:
    when = _when(file, ("outdated", number), entry)
    return OutdatedFact(entry["fact"], entry["part"], when, " ".join(entry["why"].split()))


def any_of(new: Iterable[str], named: frozenset[str]) -> bool:
    """Tell whether any of the new things is among those named."""
    return not named.isdisjoint(new)
