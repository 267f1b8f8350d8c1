"""Questions about one machine file, nearest to a verdict first; each answer is written at once."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ..base.errors import InputError, UsageError
from ..catalogue.settings import apply_settings
from ..checking.fixing import FileChange, write
from ..checking.reading import Rules
from ..engine.asking import Asking
from ..engine.engine import Options, check_machine
from ..engine.open_check import OpenCheck
from ..findings.finding import LEVELS, Finding
from ..importing.given_export import given_export
from ..importing.shelf import type_to_name, with_plates, with_shelf
from ..language.fact_to_state import fact_to_state
from ..machine.machine import Machine
from ..machine.reader import read_machine
from ..machine.records import set_check_date
from ..machine.schema import ListType
from ..source.files import Source
from ..source.merge import load_tree
from ..source.places import KeyPath, path_parts, path_text
from ..source.reader import DISK, read_source, resolved
from .insertion import with_fact
from .not_known import not_known_in, with_note, without_note
from .questions import Question, Reply, question, required_of, with_types


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a fact is asked for: the nearest check that wants it, and how many facts this lacks."""

    title: str
    level: str
    lacks: int


class Conversation:
    """What is asked about a machine file. Raises as ``api.check`` does for what cannot be read."""

    def __init__(
        self,
        path: Path,
        rules: Sequence[Path] = (),
        settings: Path | None = None,
        on: datetime.date | None = None,
        shelf: Path | None = None,
    ) -> None:
        if not resolved(path).is_file():
            raise UsageError(
                f"{path} does not exist" if not path.exists() else f"{path} is no file",
                expected="a machine file. `axisproof init` writes one",
            )
        self.path = path
        self.on = on or datetime.date.today()
        self.rules = Rules.of(rules, settings)
        self.reader = with_shelf(DISK, shelf)
        self.asking = Asking(self.rules.catalogue)
        try:
            self.later = set(not_known_in(read_source(path)))
            self.asking.smallest.not_known |= self.later
            self.machine, self.findings = self._read()
        except InputError as error:
            raise given_export(path, DISK) or error from None
        self.types_left_open: set[str] = set()
        self.stated = ""
        self.answered = self.open = 0
        self.unwritten = False
        self.reason: Reason | None = None

    def _read(self) -> tuple[Machine, tuple[Finding, ...]]:
        machine = read_machine(with_plates(load_tree(self.path), self.reader))
        set_check_date(machine.facts, self.on)
        apply_settings(machine, machine.name, self.rules.every, self.rules.site)
        found = check_machine(machine, machine.name, self.rules.catalogue, Options()).findings
        return machine, tuple(found)

    def next_question(self) -> Question | None:
        """The question whose answer leads soonest to a verdict; None if none is left.

        What an earlier conversation left open comes last. The type of a part of which the shelf has
        plates comes first: one answer states many facts.
        """
        checks = self.asking.open_checks(self.machine, self.stated)
        fact = self._fact_of_a_plate(checks) or self.asking.next_fact(checks, self.machine)
        if not fact and self.later:
            self.asking.smallest.not_known -= self.later
            self.later.clear()
            self.asking.before.clear()
            self.machine, self.findings = self._read()
            checks = self.asking.open_checks(self.machine)
            fact = self.asking.next_fact(checks, self.machine)
        if not fact:
            return None
        self.stated = ""
        wanting = (check for check in checks if fact in check.facts)
        nearest = min(wanting, key=lambda c: (c.far, len(c.facts), LEVELS.index(c.level)))
        title = self.rules.catalogue.rules[nearest.rule].title
        self.reason = Reason(title, nearest.level, len(nearest.facts))
        motions = {str(axis["name"]): str(axis.get("motion")) for axis in self.machine.axes}
        asked = question(self._part_before_its_list(fact, motions), motions)
        named = type_to_name(self.machine.plain, asked.path, self.reader, self.types_left_open)
        return asked if named is None else with_types(question(named.fact, motions), named.types)

    def _part_before_its_list(self, fact: str, motions: Mapping[str, str]) -> str:
        """The fact; of a list in a part of which nobody said that it is there, that part.

        The answer "none" to the list would state the part, with an empty list.
        """
        path = path_parts(fact)
        if path[0] != "axes" or not isinstance(question(fact, motions).kind, ListType):
            return fact
        root, name, *inner = path
        axis = next(each for each in self.machine.axes if each["name"] == name)
        whole = ".".join(map(str, inner))
        first = fact_to_state(axis, whole)
        part = path_text((root, name, *first.split(".")))
        if first in (whole, "controller.homing") or part in self.asking.smallest.not_known:
            return fact  # nearly every axis homes
        return part

    def _fact_of_a_plate(self, checks: Sequence[OpenCheck]) -> str:
        """A fact that a plate of the shelf may state, and that a check wants that finds errors."""
        if self.reader.shelf is None:
            return ""
        grave = [check for check in checks if check.level == LEVELS[0] and not check.far]
        seen: set[KeyPath] = set()
        for check in sorted(grave, key=lambda each: len(each.facts)):
            for fact in check.facts:
                path = path_parts(fact)
                part = path[:5] if "stages" in path else path[:3]
                if part in seen:
                    continue
                seen.add(part)
                if type_to_name(self.machine.plain, path, self.reader, self.types_left_open):
                    return fact
        return ""

    def details(self, asked: Question, count: int) -> list[Question]:
        """The questions that each item of a list must answer before the file can state it."""
        motions = {str(axis["name"]): str(axis.get("motion")) for axis in self.machine.axes}
        start = path_text(asked.path)
        items = [f"{start}[{n}]" for n in range(count)] if count else [start]
        return [
            question(f"{item}.{name}", motions) for item in items for name in required_of(asked)
        ]

    def not_known(self, asked: Question, *, keep: bool = False) -> None:
        """Leave a fact open for this conversation; with ``keep``, note that in the file.

        Raises UsageError if the file cannot be written.
        """
        fact = path_text(asked.path)
        if keep:
            source = read_source(self.path)
            text = with_note(source, fact)
            if text != source.text:
                _rewrite(source, source.text, text)
        self.types_left_open.add(fact)
        self.asking.not_known(fact)
        self.machine, self.findings = self._read()  # its records remember what they lacked before
        self.open += 1

    def take(self, answers: Sequence[Reply]) -> list[Finding]:
        """Write an answer, and what its list items must state; return the findings it brings.

        Raises UsageError if the file cannot take it; nothing is written then.
        """
        self.unwritten = True
        source = read_source(self.path)
        first, *inner = answers
        value = first.value
        for each in inner:
            _put(value, each.path[len(first.path) :], each.value)
        text = with_fact(source, first.path, value)
        text = without_note(source, text, path_text(first.path))
        _rewrite(source, source.text, text)
        try:
            self.machine, found = self._read()
        except InputError:
            self.unwritten = False
            _rewrite(source, text, source.text)
            raise
        known = {(each.rule, each.subject, each.message) for each in self.findings}
        self.findings = found
        self.stated = path_text(first.path)
        self.answered += len(answers)
        self.unwritten = False
        return [each for each in found if (each.rule, each.subject, each.message) not in known]


def _rewrite(source: Source, before: str, after: str) -> None:
    """Write a new text of a file that still holds the text before it. Raises UsageError."""
    write([FileChange(source.path, source.name, before, after, source.bom, ())])


def _put(value: Any, path: Sequence[str | int], inner: Any) -> None:
    for key in path[:-1]:
        value = value[key]
    value[path[-1]] = inner
