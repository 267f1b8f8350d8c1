"""The undecided checks of a machine, and for each the fewest facts by which it may fail.

next_fact.py chooses between these facts.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from ..base.garbage_collection import held_back
from ..catalogue.catalogue import Catalogue, RunnableRule
from ..language.missing_facts import MissingFacts
from ..language.near_failure import Smallest
from ..machine.derived_facts import stated_path
from ..machine.machine import Machine
from ..source.places import path_parts
from .cases import Case, Shared, cases, looks_at_one_axis, of_members
from .joins import WHOLE_LIST
from .next_fact import Chances, next_fact
from .open_check import OpenCheck
from .rule_reads import rule_reads
from .verdicts import NOT_APPLICABLE, verdict_of


class Asking:
    """The undecided checks of a machine that grows, without what somebody does not know."""

    def __init__(self, catalogue: Catalogue) -> None:
        self.catalogue = catalogue
        self.smallest = Smallest()
        self.before: dict[tuple[str, str], OpenCheck | None] = {}
        self.reading: dict[str, tuple[bool, frozenset[str]]] = {}
        self.touching: dict[str, frozenset[str]] = {}
        self.missing = MissingFacts(catalogue.definitions, catalogue.defaults, self.smallest)

    def not_known(self, fact: str) -> None:
        """Take a fact as not known, so that nothing asks for it. The machine must be read anew."""
        self.before.clear()  # a check that asked for it can ask for something else now
        self.smallest.not_known.add(fact)

    @held_back()
    def open_checks(self, machine: Machine, stated: str = "") -> list[OpenCheck]:
        """The undecided checks that may still fail, in the order of the rules.

        ``stated`` is the only fact that was stated since the last call: checks of one axis that do
        not read it are as they were.
        """
        shared: Shared = {}
        found: list[OpenCheck | None] = []
        of_axis = path_parts(stated)[1] if stated.startswith("axes.") else ""
        touched = self.touched(general_path(stated.removeprefix(f"axes.{of_axis}.")))
        for entry in self.catalogue.entries:
            if not looks_at_one_axis(entry):
                found += [self.open_check(entry, case) for case in cases(entry, machine, shared)]
                continue
            alone, _ = self.reads(entry)
            again = not of_axis or entry.name in touched
            for axis in machine.axes:
                name = axis["name"]
                key = entry.name, name
                if key not in self.before or (again and (not alone or of_axis in ("", name))):
                    case = Case(name, {"axis": axis, "machine": machine.facts})
                    self.before[key] = self.open_check(entry, case)
                found.append(self.before[key])
        return [check for check in found if check is not None]

    def next_fact(self, checks: Iterable[OpenCheck], machine: Machine) -> str:
        """The fact to ask for next, given what this machine states and what nobody knows of it."""
        return next_fact(checks, Chances(machine.plain["axes"], self.smallest.not_known))

    def touched(self, fact: str) -> frozenset[str]:
        """The rules that read a fact of an axis."""
        if fact not in self.touching:
            self.touching[fact] = frozenset(
                entry.name
                for entry in self.catalogue.entries
                if any(related(fact, path) for path in self.reads(entry)[1])
            )
        return self.touching[fact]

    def reads(self, entry: RunnableRule) -> tuple[bool, frozenset[str]]:
        """Whether a rule reads facts of one axis alone, and the facts that it reads of any axis."""
        if entry.name not in self.reading:
            read = rule_reads(self.catalogue)[entry.name]
            alone = looks_at_one_axis(entry) and all(root != "machine" for root, _ in read)
            paths = (stated_path(path.removeprefix("axes[].")) for _, path in read)
            self.reading[entry.name] = alone, frozenset(paths)
        return self.reading[entry.name]

    def open_check(self, entry: RunnableRule, case: Case) -> OpenCheck | None:
        """The check of a case; None if it is decided, or nothing known can make it fail.

        A rule that does not apply until somebody states a fact asks for that fact too.
        """
        verdict = verdict_of(entry, case)
        if verdict not in (None, NOT_APPLICABLE) or case.absent:
            return None
        facts, far = case.missing or case.lacks, False
        whole = bool(case.missing or case.rest)
        if not whole:
            rule = self.catalogue.rules[entry.name]
            subjects = [case.env[name] for name in entry.arguments]
            facts = self.missing.near_failures.of(rule)(subjects)
            if not facts and verdict is None:
                facts, far = of_members(self.missing.of(rule)(subjects), case), True
        facts = tuple(fact.removesuffix(WHOLE_LIST) for fact in facts)
        if not facts or not self.smallest.not_known.isdisjoint(facts):
            return None
        return OpenCheck(entry.name, entry.level, case.subject, without_parts(facts), whole, far)


def general_path(path: str) -> str:
    """The path of a fact of any item: ``stages[0].kind`` is ``stages[].kind``."""
    return re.sub(r"\[[0-9]+\]", "[]", path)


def related(fact: str, other: str) -> bool:
    """Whether one of two facts is the other, or a part of it."""
    short, long = sorted((fact, other), key=len)
    return long == short or long.startswith((f"{short}.", f"{short}[]"))


def without_parts(facts: Iterable[str]) -> tuple[str, ...]:
    """The facts without the parts of which another fact is asked, which answers for the part."""
    every = tuple(facts)
    return tuple(
        fact
        for fact in every
        if not any(each.startswith((f"{fact}.", f"{fact}[")) for each in every)
    )
