"""What is told about rules themselves: for `explain`, `rules list` and `rules test`."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from .errors import Place
from .finding import Level

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
