"""What an axis states for a recalibration: conditions and numbers of rules/recalibration.yaml.

Every answer is known or not, and an unknown one names the facts that would settle it.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import Any, Final

from ..catalogue.catalogue import Catalogue
from ..language.printing import formula
from ..language.syntax import Expr
from ..language.traced import Traced, join
from ..language.tracer import Tracer
from ..machine.records import NOTES, Facts, notes_of
from ..numbers.exact import Number, absolute
from .memory import memory_fates
from .phrases import DataFile, PhraseSubjects
from .roles import read_roles

FILE: Final = "recalibration.yaml"
RESTS_ON: Final = ("turns", "wraps", "zero", "reference")
"""The memories of rules/swap.yaml that make the position of an axis."""
YES: Final = Traced(True)
NO: Final = Traced(False)


class RecalibrationFile:
    """The phrases of the file. Raises RuleError if one no longer checks."""

    def __init__(self, catalogue: Catalogue) -> None:
        file = DataFile(FILE, catalogue)
        self.conditions: dict[str, Expr] = {
            name: file.condition(("conditions", name), text)
            for name, text in file.plain["conditions"].items()
        }
        self.values: dict[str, Expr] = {
            name: file.value(("values", name), text).expr
            for name, text in file.plain["values"].items()
        }


@lru_cache(maxsize=4)
def recalibration_file(catalogue: Catalogue) -> RecalibrationFile:
    """The shipped file, read once per catalogue."""
    return RecalibrationFile(catalogue)


class AxisEvidence:
    """The facts of an axis, some of them replaced, and what the phrases come to on them."""

    def __init__(self, facts: Facts, catalogue: Catalogue) -> None:
        self.facts = facts
        self.catalogue = catalogue
        self.file = recalibration_file(catalogue)
        self.tracer = Tracer(catalogue.definitions, catalogue.defaults, formula)

    def truth(self, name: str) -> Traced:
        """Whether a condition holds."""
        return self.tracer.value(self.file.conditions[name], {"axis": self.facts})

    def number(self, name: str) -> Traced:
        """A number in base units."""
        return self.tracer.number_or_value(self.file.values[name], {"axis": self.facts})

    def definition(self, name: str) -> Traced:
        """A definition of the axis."""
        return self.tracer.definition(self.facts, "axis", name)

    def ratio(self, stage: Facts) -> Number | None:
        """The ratio of a transmission stage."""
        found: Number | None = self.tracer.definition(stage, "axis.mechanics.stages", "ratio").value
        return found

    def replaced(self, changes: dict[str, Any]) -> AxisEvidence:
        """The same axis with other facts; one that is None is left out."""
        notes = notes_of(self.facts)
        copy = {**self.facts, **changes, NOTES: notes.beside(notes.path, notes.machine)}
        left = {path: value for path, value in copy.items() if value is not None}
        return AxisEvidence(left, self.catalogue)

    def keeps_reference(self, work: str, machine: Facts) -> bool:
        """Whether some work (empty: none) surely leaves alone what the reference rests on."""
        done = {work} - {""}
        if work == "motor" and self.facts.get("encoder.mounted_on") != "load":
            done.add("encoder")
        env = {"axis": self.facts, "fitted": self.facts, "machine": machine}
        subjects = PhraseSubjects(self.catalogue, env)
        memories = read_roles(self.catalogue).memories
        fates = memory_fates(memories, subjects, frozenset(done), frozenset())
        rests_on = [each for each in fates if each.memory in RESTS_ON]
        return not any(a.why for each in rests_on for a in (each.lost, each.wrong, each.at_risk))

    def missing(self, path: str) -> Traced:
        """An unknown value that one fact would settle."""
        return Traced(None, missing=(f"{notes_of(self.facts).path}.{path}",))


def every(*parts: Traced) -> Traced:
    """Whether all hold: one that does not settles it."""
    for part in parts:
        if part.value is False:
            return part
    return join(True if all(part.value for part in parts) else None, parts)


def negated(part: Traced) -> Traced:
    """Whether it does not hold."""
    return part if part.value is None else join(not part.value, (part,))


def computed(formula: Callable[..., Any], *parts: Traced) -> Traced:
    """A value computed from others; unknown if one of them is."""
    if any(part.value is None for part in parts):
        return join(None, parts)
    return join(formula(*(part.value for part in parts)), parts)


def at_most(low: Traced, high: Traced) -> Traced:
    """Whether the first number is at most the second."""
    return computed(lambda a, b: a <= b, low, high)


def below(low: Traced, high: Traced) -> Traced:
    """Whether the first number is below the second."""
    return computed(lambda a, b: a < b, low, high)


def size_of(value: Traced) -> Traced:
    """The amount of a number, without its sign."""
    return computed(absolute, value)
