"""The records about rules: for `explain`, `rules list`, `rules test` and the rule pages."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ..base.errors import Place
from .finding import Finding, Level

SubjectKind = Literal["axis", "machine", "pair", "change", "spare"]
ExampleKind = Literal["passes", "fails", "undecided"]


@dataclass(frozen=True, slots=True)
class SettingInfo:
    """A setting that a site may change: name, default as written, meaning and basis."""

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
    ``requirement`` the text of `require`. ``file`` and ``line`` are its place.
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
    """A fault of a rule or one of its examples, with its place and what is expected."""

    rule: str
    what: str
    place: Place | None = None
    source_line: str | None = None
    expected: str = ""


@dataclass(frozen=True, slots=True)
class RuleTestReport:
    """The result of running the examples of rules.

    ``mutants`` is the number of deliberately altered rules. ``killed`` is the number of those that
    an example distinguishes from the original rule.
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
    """A rule and what its page shows of it.

    ``definitions`` are those that its outcome, message or proposed value rests on. ``example`` is
    an example that breaks the rule: the first whose message lacks no value, if there is one.
    ``finding`` is its finding. Both are None for a built-in check and for a rule without such an
    example.
    """

    info: RuleInfo
    definitions: tuple[DefinitionInfo, ...] = ()
    example: ExampleInfo | None = None
    finding: Finding | None = None


@dataclass(frozen=True, slots=True)
class Concern:
    """The rules of one file; ``about`` holds the paragraphs of the comment at its top."""

    name: str
    about: tuple[str, ...]
    rules: tuple[ConcernRule, ...]
