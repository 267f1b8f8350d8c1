"""Data files of this package read with their places, and phrases in them evaluated on a swap.

A phrase is an expression, a condition or a text with holes in the rule language, over the subjects
of a rule about a spare: ``axis`` has it in place, ``fitted`` is the axis as it was.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from importlib import resources
from pathlib import Path
from typing import Any, Final

from ..catalogue.catalogue import Catalogue
from ..language.phrases import Phrases
from ..language.printing import exact, formula
from ..language.rule_file import RuleFile
from ..language.syntax import SUBJECTS, Expr, Hole, Span, Template
from ..language.telling import MessageWriter, Written
from ..language.tracer import Tracer
from ..machine.schema import ROLE_END
from ..source.files import Plain, Source
from ..source.parsing import locate, parse
from ..source.places import KeyPath

NO_DATA: Final = "no data"
"""What stands for a value that nobody stated."""


class DataFile:
    """A YAML file beside the shipped rules, with the phrases in it."""

    def __init__(self, name: str, catalogue: Catalogue) -> None:
        text = resources.files("axisproof.rules").joinpath(name).read_text("utf-8")
        self.source = Source(Path(name), name, text, "yaml")
        self.plain: Any = parse(self.source)
        self.phrases = Phrases(RuleFile(name, text), catalogue.trees, SUBJECTS["spare"])

    def span(self, path: KeyPath) -> Span:
        """Where a value stands."""
        place = locate(self.source).value(path)
        if place is None:
            return Span(1, 1, 1, 2)
        # A block of text begins on the line after its mark.
        return Span(place.line, place.column, place.end_line, place.end_column)

    def condition(self, path: KeyPath, text: Plain) -> Expr:
        """The condition at a path; raises RuleError."""
        return self.phrases.condition(str(text), self.span(path))

    def value(self, path: KeyPath, text: Plain) -> Hole:
        """The expression (with its unit) at a path; raises RuleError."""
        return self.phrases.value(str(text), self.span(path))

    def message(self, path: KeyPath, text: Plain, given: Expr | None = None) -> Template:
        """The text with holes at a path, folded into one line; raises RuleError."""
        return self.phrases.message(" ".join(str(text).split()), self.span(path), given)


@dataclass(frozen=True, slots=True)
class PhraseResult:
    """What a phrase came to: its text, its value (None: unknown), and the facts it lacks.

    ``data`` is the value as JSON fields (see finding.Figure).
    """

    text: str
    value: Any
    missing: tuple[str, ...] = ()
    data: Mapping[str, Any] | None = None


class PhraseSubjects:
    """The axis with the spare in place and as it was, on which phrases are evaluated."""

    def __init__(
        self, catalogue: Catalogue, env: Mapping[str, Any], written: Written | None = None
    ) -> None:
        self.tracer = Tracer(catalogue.definitions, catalogue.defaults, formula)
        self.env = env
        self.written = written

    def truth(self, condition: Expr | None) -> PhraseResult:
        """Whether a condition holds (no condition always does); ``text`` says it in words."""
        if condition is None:
            return PhraseResult("", True)
        traced = self.tracer.value(condition, self.env)
        return PhraseResult(formula(condition), traced.value, _plain_paths(traced.missing))

    def value(self, hole: Hole, env: Mapping[str, Any] | None = None) -> PhraseResult:
        """The value of an expression, shown in its unit."""
        env = self.env if env is None else env
        traced = self.tracer.number_or_value(hole.expr, env)
        text = MessageWriter(self.tracer, env, self.written).hole(hole, entered=True) or NO_DATA
        data = exact(traced.value, hole.expr.type, env, hole.unit)
        return PhraseResult(text, traced.value, _plain_paths(traced.missing), data)

    def fill(self, template: Template) -> PhraseResult:
        """A message with its values; its value is None if one of them is not known."""
        parts: list[str] = []
        missing: list[str] = []
        value = True
        for part in template:
            if isinstance(part, str):
                parts.append(part)
                continue
            known = self.value(part)
            parts.append(known.text)
            missing += known.missing
            value = value and known.value is not None
        return PhraseResult("".join(parts), value or None, tuple(dict.fromkeys(missing)))


def _plain_paths(paths: tuple[str, ...]) -> tuple[str, ...]:
    """Paths without the mark of the machine as it was: a fact is missing from one machine file."""
    return tuple(dict.fromkeys(path.removeprefix(f"fitted{ROLE_END}") for path in paths))
