"""What is told about rules themselves: for `explain`, `rules list` and `rules test`."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ..base.errors import Place
from .finding import Finding, Level

SubjectKind = Literal["axis", "machine", "pair", "change", "spare"]
ExampleKind = Literal["passes", "fails", "undecided"]


@dataclass(frozen=True, slots=True)
class SettingInfo:
    """A setting a site may change: its name, its default as written, what it means, its basis."""

    name: str
    default: str
    meaning: str
    basis: str


@dataclass(frozen=True, slots=True)
class ExampleInfo:
    """One example of a rule, as written in the rule file; ``title`` may be empty."""

    kind: ExampleKind
    title: str
    text: str


@dataclass(frozen=True, slots=True)
class RuleInfo:
    """A rule in words.

    ``text`` is its whole source, ``condition`` the text of `when` (empty: it always applies) and
    ``requirement`` the text of `require`. ``file`` and ``line`` say where it is written.
    """

    name: str
    title: str
    level: Level
    subject: SubjectKind
    basis: str
    text: str
    why: str
    remedy: str
    condition: str
    requirement: str
    settings: tuple[SettingInfo, ...]
    examples: tuple[ExampleInfo, ...]
    file: str
    line: int


@dataclass(frozen=True, slots=True)
class RuleFault:
    """What is wrong with a rule or one of its examples, where it is written and what was due."""

    rule: str
    what: str
    place: Place | None = None
    source_line: str | None = None
    expected: str = ""


@dataclass(frozen=True, slots=True)
class RuleTestReport:
    """The result of running the examples of rules.

    ``mutants`` counts the deliberately altered rules that were tried, ``killed`` those of them
    that some example told from the rule as written.
    """

    rules: int
    examples: int
    mutants: int
    killed: int
    faults: tuple[RuleFault, ...] = ()


@dataclass(frozen=True, slots=True)
class DefinitionInfo:
    """A number that rules derive: its name, formula, meaning, unit ("" if none) and basis."""

    name: str
    formula: str
    meaning: str
    unit: str
    basis: str


@dataclass(frozen=True, slots=True)
class ConcernRule:
    """A rule among others of its concern.

    ``definitions`` are those its outcome, message or proposed value rests on. ``finding`` is
    what it says of ``example``, an example that breaks it (the first whose message knows all its
    values, if there is one); both are None for a check that is built in, and for a rule that has
    no such example.
    """

    info: RuleInfo
    definitions: tuple[DefinitionInfo, ...] = ()
    example: ExampleInfo | None = None
    finding: Finding | None = None


@dataclass(frozen=True, slots=True)
class Concern:
    """The rules of one file; ``about`` is the comment at its head, in paragraphs."""

    name: str
    about: tuple[str, ...]
    rules: tuple[ConcernRule, ...]
