"""Which open checks leave open whether a spare fits, and which facts of it are as they were.

A check that reads only facts in which spare and fitted part are alike comes out as before the swap,
decided or not. Every other check that cannot be decided leaves the verdict open.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

from ..base.absence import NONE
from ..catalogue.catalogue import Catalogue
from ..engine.rule_reads import rule_reads
from ..findings.finding import Undecided
from ..language.reach import Reach
from ..machine.records import Facts
from .comparing import below_none, value_of
from .phrases import PhraseSubjects
from .placing import Swap
from .result import PartFactRow, SettlingFact
from .roles import PLACES, Role, Roles, facts_of_part

CanWrite = Callable[[str, str, Role], bool]


class PartComparison:
    """Tells fact by fact whether the spare is as the fitted part was."""

    def __init__(
        self,
        swap: Swap,
        roles: Roles,
        catalogue: Catalogue,
        subjects: PhraseSubjects,
        can_write: CanWrite,
    ) -> None:
        self.swap = swap
        self.roles = roles
        self.catalogue = catalogue
        self.subjects = subjects
        self.can_write = can_write
        self.changed: frozenset[str] = frozenset()
        """Settings that are adapted to the spare, by their path below the axis."""

    @property
    def fitted(self) -> Facts:
        """The axis as it was."""
        facts: Facts = self.subjects.env["fitted"]
        return facts

    @property
    def spare(self) -> Facts:
        """The axis with the spare as it comes."""
        facts: Facts = self.subjects.env["axis"]
        return facts

    @property
    def reads(self) -> Mapping[str, Reach]:
        """The facts that every rule may read, by its name."""
        return rule_reads(self.catalogue)

    def same_type(self, record: str) -> bool:
        """Whether both state one and the same type designation."""
        spot = self.swap.spots[record]
        was, now = (value_of(axis, record, spot, "model") for axis in (self.fitted, self.spare))
        return was is not None and was == now

    def applies(self, record: str, fact: str) -> bool:
        """Whether the axis has or may have a fact at all."""
        role = self.roles.role(record, fact)
        return self.subjects.truth(role.when).value is not False

    def known_otherwise(self, record: str, fact: str) -> bool:
        """Whether other facts say the same as this one, and say it of both alike."""
        known_by = self.roles.role(record, fact).known_by
        if known_by is None:
            return False
        now = self.subjects.value(known_by).value
        was = self.subjects.value(known_by, {**self.subjects.env, "axis": self.fitted}).value
        return now is not None and now == was

    def alike(self, record: str, fact: str) -> bool:
        """Whether the spare, with every setting written, is in this fact as the fitted part was."""
        spot = self.swap.spots[record]
        base = f"{PLACES[record]}." if record != "gearbox" else ""
        if f"{base}{fact}" in self.changed:
            return False
        role = self.roles.role(record, fact)
        if role.name in ("stays", "free", "record", "teach"):
            return True
        if self.can_write(record, fact, role):
            return True
        axes = (self.fitted, self.spare)
        was, now = (value_of(axis, record, spot, fact) for axis in axes)
        if was is None and below_none(self.fitted, record, spot, fact):
            was = NONE
        if now is None and below_none(self.spare, record, spot, fact):
            now = NONE
        if was is not None and now is not None:
            return bool(was == now)
        return (
            not self.applies(record, fact)
            or self.same_type(record)
            or self.known_otherwise(record, fact)
        )

    def part_facts(self, rule: str) -> Iterable[tuple[str, str]]:
        """The facts of the part that a rule may read, as (record, fact)."""
        return facts_of_part((path for _, path in self.reads.get(rule, ())), self.swap.spots)

    def read_by_rules(self) -> frozenset[tuple[str, str]]:
        """The facts of the part that a rule which is not switched off reads, as (record, fact)."""
        found: set[tuple[str, str]] = set()
        for entry in self.catalogue.entries:
            found.update(self.part_facts(entry.name))
        return frozenset(found)

    def leaves_open(self, check: Undecided) -> bool:
        """Whether a check that cannot be decided leaves open whether the spare fits."""
        rule = self.catalogue.rules.get(check.rule)
        if rule is None:
            return True
        if rule.subject == "axis" and rule.range is None and check.subject != self.swap.axis:
            return any(path.startswith("axes[]") for _, path in self.reads[check.rule])
        if not self.changed.isdisjoint(path for _, path in self.reads[check.rule]):
            return True
        return any(not self.alike(*fact) for fact in self.part_facts(check.rule) if fact[1])

    def decided_by_teaching(
        self, check: Undecided, taught: frozenset[str], planned: Mapping[str, Any]
    ) -> bool:
        """Whether only what is taught is missing for a check to be decided."""
        if not check.missing or not set(check.missing) <= taught:
            return False
        base = f"axes.{self.swap.axis}."
        own = {fact.removeprefix(base) for fact in taught}
        for _, path in self.reads.get(check.rule, ()):
            if path in own or "[]" in path or planned.get(path) is not None:
                continue
            if not self._stands_aside(path, planned):
                return False
        return True

    def _stands_aside(self, path: str, planned: Mapping[str, Any]) -> bool:
        """Whether a fact that is not stated says nothing: a group above it is absent, or other
        facts say the same.
        """
        parts = path.split(".")
        above = (".".join(parts[:depth]) for depth in range(1, len(parts)))
        if any(planned.get(group) is NONE for group in above):
            return True
        for record in self.swap.spots:
            if record != "gearbox" and path.startswith(f"{PLACES[record]}."):
                fact = path.removeprefix(f"{PLACES[record]}.")
                return not self.applies(record, fact) or self.known_otherwise(record, fact)
        return False

    # rows

    def split(self, path: str) -> tuple[str, str]:
        """The record and the fact that a row is about."""
        base = f"axes.{self.swap.axis}."
        inner = path.removeprefix(base)
        for record, spot in self.swap.spots.items():
            below = _dotted(spot[2:])
            if inner.startswith(f"{below}."):
                return record, inner.removeprefix(f"{below}.")
        raise KeyError(path)

    def open_row(self, row: PartFactRow) -> bool:
        """Whether a fact that must be alike is not known on one side or both."""
        if row.role not in ("equal", "identity") or row.state in ("same", "differs"):
            return False
        record, fact = self.split(row.fact)
        if not self.applies(record, fact) or self.known_otherwise(record, fact):
            return False
        return not self.same_type(record)

    def carried_row(self, row: PartFactRow) -> bool:
        """Whether a setting of the fitted part is not stated, so that its backup has to tell it."""
        if row.role not in ("match", "place") or row.state not in ("machine silent", "not stated"):
            return False
        record, fact = self.split(row.fact)
        return self.applies(record, fact) and not self.known_otherwise(record, fact)


def _dotted(spot: Sequence[str | int]) -> str:
    out = ""
    for part in spot:
        if part == "partial":
            continue
        out += f"[{part}]" if isinstance(part, int) else f".{part}" if out else part
    return out


def settling_facts(
    unstated: Iterable[PartFactRow], undecided: Iterable[Undecided]
) -> tuple[SettlingFact, ...]:
    """The facts whose statement settles every open question, those that settle the most first.

    For each question the smallest set of facts that decides it is taken.
    """
    counts: dict[str, int] = {}
    for fact in (
        *(row.fact for row in unstated),
        *(fact for each in undecided for fact in each.missing),
    ):
        counts[fact] = counts.get(fact, 0) + 1
    ranked = sorted(counts.items(), key=lambda item: (-item[1], item[0]))
    return tuple(SettlingFact(fact, count) for fact, count in ranked)
