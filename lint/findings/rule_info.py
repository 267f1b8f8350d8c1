"""The records about rules: for `explain`, `rules list`, `rules test` and the rule pages."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ..base.errors import Place
from .finding import Finding, Level

SubjectKind = Literal["axis", "machine", "pair", "change", "spare"]
ExampleKind = Literal["passes", "fails", "warns", "undecided"]


@dataclass(frozen=True, slots=True)
class SettingInfo:
    """A setting that a site may change: name, default as written, meaning and basis."""

    name: str
    default: str
    meaning: str
    basis: str


@dataclass(frozen=True, slots=True)
class NameInfo:
    """Something that a rule can name.

    ``what`` is fact, definition, setting or function; ``kind`` says its kind and unit in words.
    ``of`` says which list it is of, for a fact of the items of one.
    """

    name: str
    what: str
    kind: str
    meaning: str
    of: str = ""


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
    ``requirement`` the text of `require`. ``file`` and ``line`` are its place. ``finding`` is what
    the rule says of one of its own examples, ``example`` the title of that.
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
    cautions: tuple[str, ...] = ()
    concern: str = ""
    example: str = ""
    finding: Finding | None = None


@dataclass(frozen=True, slots=True)
class FactInfo:
    """A fact in words: what it takes, what it means, and which rules look at it.

    ``word`` is the word among those that it takes, if that was asked for.
    """

    fact: str
    takes: str
    meaning: str
    rules: tuple[str, ...]
    word: str = ""


@dataclass(frozen=True, slots=True)
class RuleFault:
    """A fault of a rule or one of its examples, with its place and what is expected."""

    rule: str
    what: str
    place: Place | None = None
    source_line: str | None = None
    expected: str = ""


@dataclass(frozen=True, slots=True)
class Alteration:
    """A change to a rule or definition that no example notices: what to do at a place."""

    owner: str
    what: str
    place: Place
    source_line: str


@dataclass(frozen=True, slots=True)
class Unnoticed:
    """Alterations that one more example would notice, tried before it is offered.

    ``rule`` is the rule that the example belongs to; empty for definitions that no rule uses.
    ``example`` holds its lines; ``adds_to`` names
    the example that they are added to, if it is there already. Without lines no example was found.
    """

    rule: str
    alterations: tuple[Alteration, ...]
    example: tuple[str, ...] = ()
    adds_to: str = ""


@dataclass(frozen=True, slots=True)
class RuleTestReport:
    """The result of running the examples of rules.

    ``mutants`` is the number of deliberately altered rules. ``killed`` is the number of those that
    an example distinguishes from the original rule; ``unnoticed`` holds the others.
    """

    rules: int
    examples: int
    mutants: int
    killed: int
    faults: tuple[RuleFault, ...] = ()
    unnoticed: tuple[Unnoticed, ...] = ()

    @property
    def clean(self) -> bool:
        """Whether each example gives what it states and each alteration is noticed."""
        return not self.faults and not self.unnoticed


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
