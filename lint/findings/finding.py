"""The records that reports show; no code here evaluates a rule.

The engine makes these records, and reports read only them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..base.errors import Place
from ..base.lazy import dataclass, field
from ..numbers.exact import Number
from .site_file_use import SiteFileUse
from .site_file_use import SiteRules as SiteRules
from .unusable import Unusable

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, Final, Literal, TypeAlias


Level: TypeAlias = 'Literal["error", "warning", "note"]'
LEVELS: tuple[Level, ...] = ("error", "warning", "note")

Verdict: TypeAlias = 'Literal["holds", "broken", "undecided", "not applicable"]'
VERDICTS: tuple[Verdict, ...] = ("holds", "broken", "undecided", "not applicable")


@dataclass(frozen=True, slots=True)
class Mark:
    """A place in a source file with a short label; ``line_text`` is the whole source line.

    ``fact`` is the path of the fact that stands there, such as ``axes.infeed.drive.node``.
    """

    place: Place
    line_text: str
    fact: str
    label: str


@dataclass(frozen=True, slots=True)
class Figure:
    """A computed number: its label or name in the rule, its text with unit, and its exact value.

    ``labelled``: its name is the label that the rule gives it, so that people are shown it.
    ``exact`` is JSON-ready: ``{"numerator", "denominator", "pi_power", "unit"}``, or ``{"value",
    "error", "unit"}`` for an approximate number, or ``{"text"}`` for what is not a number.
    """

    name: str
    text: str
    exact: dict[str, Any]
    labelled: bool = False


@dataclass(frozen=True, slots=True)
class DerivationStep:
    """One line of a derivation: ``name = formula = filled = result``; ``meaning`` in words."""

    name: str
    formula: str
    filled: str
    result: str
    meaning: str = ""


@dataclass(frozen=True, slots=True)
class Fix:
    """A value the rule computed for a fact, ``safe`` if nobody is needed at the machine."""

    fact: str
    value: str
    safe: bool
    place: Place | None = None
    line_text: str = ""


@dataclass(frozen=True, slots=True)
class WaivedBy:
    """Why a finding is not a failure: a waiver covers it, or the accepted set (``accepted``) does.

    ``approved_by`` is a role and ``expires`` a date (ISO 8601); both are empty for the accepted
    set. ``place`` is the place of the waiver.
    """

    reason: str
    approved_by: str = ""
    expires: str = ""
    place: Place | None = None
    accepted: bool = False


@dataclass(frozen=True, slots=True)
class Caution:
    """A caution before work at the machine: its name in the rules, and its text."""

    name: str
    text: str

    @property
    def special(self) -> bool:
        """Whether the caution at the top of a report or plan does not cover it."""
        return self.name not in COVERED_CAUTIONS


COVERED_CAUTIONS: Final = frozenset(("lock-out", "lock-out-both-axes"))
"""Cautions that every report and plan tells once, at its top."""


@dataclass(frozen=True, slots=True)
class Finding:
    """A broken rule on one subject (an axis, a pair of axes, or the whole machine).

    ``title`` says what is required; ``headline`` what is wrong, if the rule has one. ``remedy``
    says what to do, and ``cautions`` stand before it. ``concern`` names the group of the rule.
    ``stage`` is `early`, `due` or empty. ``follows`` names the rules under whose value it holds.
    """

    rule: str
    level: Level
    machine: str
    subject: str
    title: str
    message: str
    why: str
    remedy: str
    basis: str
    marks: tuple[Mark, ...] = ()
    figures: tuple[Figure, ...] = ()
    workings: tuple[DerivationStep, ...] = ()
    fix: Fix | None = None
    waived: WaivedBy | None = None
    headline: str = ""
    cautions: tuple[Caution, ...] = ()
    concern: str = ""
    stage: str = ""
    follows: tuple[str, ...] = ()

    @property
    def special_cautions(self) -> tuple[str, ...]:
        """The cautions that the top of a report or plan does not cover."""
        return tuple(each.text for each in self.cautions if each.special)

    @property
    def remedy_alone(self) -> str:
        """The remedy after all its cautions, for a finding that is read without the report."""
        return " ".join((*(each.text for each in self.cautions), self.remedy))

    @property
    def facts(self) -> tuple[str, ...]:
        """The paths of the facts that the finding rests on, sorted by name."""
        return tuple(sorted({mark.fact for mark in self.marks}))


@dataclass(frozen=True, slots=True)
class Undecided:
    """A check that could not be decided, and the facts that would decide it."""

    rule: str
    level: Level
    machine: str
    subject: str
    title: str
    missing: tuple[str, ...]
    reason: str

    def __init__(
        self,
        rule: str,
        level: Level,
        machine: str,
        subject: str,
        title: str,
        missing: tuple[str, ...],
        reason: str,
    ) -> None:
        """Set the slots directly, for speed: an unfinished machine file has thousands of checks."""
        _put_rule(self, rule)
        _put_level(self, level)
        _put_machine(self, machine)
        _put_subject(self, subject)
        _put_title(self, title)
        _put_missing(self, missing)
        _put_reason(self, reason)


_put_rule, _put_level, _put_machine, _put_subject, _put_title, _put_missing, _put_reason = (
    getattr(Undecided, name).__set__
    for name in ("rule", "level", "machine", "subject", "title", "missing", "reason")
)


@dataclass(frozen=True, slots=True)
class UndecidedConcern:
    """An axis on which no check of a concern could be decided, though ``checks`` of them may apply.

    ``partly``: others are decided, but ``checks`` that may fail lack no more than one line of a
    file states. ``missing`` are the facts that most of them lack, ``mark`` is the place of the
    axis. It fails a check, because nothing was shown of the concern, or because a line that was
    left out hides a failure.
    """

    machine: str
    subject: str
    concern: str
    checks: int
    missing: tuple[str, ...] = ()
    mark: Mark | None = None
    partly: bool = False


@dataclass(frozen=True, slots=True)
class Outcome:
    """The verdict of one rule on one subject, with the reason where it is not ``holds``."""

    rule: str
    machine: str
    subject: str
    verdict: Verdict
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Tally:
    """Number of checks of one subject by verdict; ``place``, if every outcome is asked for."""

    machine: str
    subject: str
    holds: int = 0
    broken: int = 0
    undecided: int = 0
    not_applicable: int = 0
    place: Place | None = None


@dataclass(frozen=True, slots=True)
class DecidingFact:
    """A missing fact of ``checks`` undecided checks on ``subjects``; it alone decides ``alone``."""

    fact: str
    checks: int
    alone: int
    subjects: tuple[str, ...]


FeatureKind: TypeAlias = (
    'Literal["hard stop", "limit switch", "software limit", "stopping distance", '
    '"home switch", "index pulse", "index band", "reference", "wrap", "travel", "encoder turn", '
    '"drift"]'
)
Side: TypeAlias = 'Literal["", "lower", "upper"]'
"""An end of the travel, or none."""

SIDES: Final[tuple[Side, Side]] = ("lower", "upper")


@dataclass(frozen=True, slots=True)
class Feature:
    """Something on an axis: a point at ``start``, or a stretch from ``start`` to ``end``.

    Positions are in the picture's unit. A stretch in the negative direction ends below its start.
    ``text`` has the unit. ``fact`` is the path in the axis if the file states the position.
    ``side`` is the end of the travel that the feature belongs to, empty if it belongs to none.
    """

    kind: FeatureKind
    name: str
    text: str
    start: Number
    end: Number | None = None
    fact: str = ""
    side: Side = ""


@dataclass(frozen=True, slots=True)
class Picture:
    """The content of a drawing to scale: a strip from ``low`` to ``high``, or a dial of one cycle.

    ``summary`` says in words what the picture shows; all positions are in ``unit``.
    """

    shape: Literal["strip", "dial"]
    title: str
    summary: str
    unit: str
    low: Number
    high: Number
    features: tuple[Feature, ...]


@dataclass(frozen=True, slots=True)
class Gap:
    """A part that a picture leaves out, with the facts it lacks and any other reason."""

    name: str
    missing: tuple[str, ...]
    reason: str = ""


@dataclass(frozen=True, slots=True)
class AxisSketch:
    """The pictures of an axis, in exact numbers; ``gaps`` lists what is not known.

    ``absent`` says in words which parts the axis does not have.
    """

    machine: str
    subject: str
    description: str
    pictures: tuple[Picture, ...] = ()
    absent: tuple[str, ...] = ()
    gaps: tuple[Gap, ...] = ()


@dataclass(frozen=True, slots=True)
class LevelChange:
    """A rule whose level the settings of a site change from ``level``, with the reason."""

    rule: str
    title: str
    level: Level
    becomes: Literal["error", "warning", "note", "off"]
    reason: str


@dataclass(frozen=True, slots=True)
class LeftOut:
    """Something that an export states and its import does not take, with the reason."""

    machine: str
    place: Place
    text: str


@dataclass(frozen=True, slots=True)
class Narrowed:
    """What a part of a report leaves out: findings by level, undecided checks and concerns.

    ``selected`` are rules and concerns, and ``axes`` the axes, that it was narrowed to. Waived
    findings are not counted.
    """

    selected: tuple[str, ...]
    axes: tuple[str, ...]
    levels: dict[str, int]
    undecided: int = 0
    undecided_concerns: int = 0


@dataclass(frozen=True, slots=True)
class Report:
    """The result of a check over one or more machine files.

    ``outcomes`` and ``concerns`` (name of a rule to its concern: the name of its rule file) are
    empty unless the caller asks for every outcome, and so is ``sketches`` without pictures.
    ``settings`` lists settings that differ from their default as (machine, subject, name, value,
    reason), ``level_changes`` rules with another level, and ``site_rules`` the site's own.
    ``accepted_gone`` lists accepted findings that the check no longer finds, and ``left_out`` what
    imports do not take.
    ``share`` is the share of the files (``2/5``; empty for all), which programs learn from records.
    ``narrowed`` says what the report leaves out, if it is but a part of one. Of folders, nothing in
    files was checked that are none of axisproof's (``skipped``) or that a .gitignore file names
    (``ignored``). With an ``unusable`` file, the report is not whole. ``day`` is checked for.

    A sequence is a tuple, or, of many machines, rows that are read anew for each look (rows.py).
    """

    files: Sequence[str]
    machines: Sequence[str]
    axes: int
    rules: int
    findings: Sequence[Finding] = ()
    undecided: Sequence[Undecided] = ()
    undecided_concerns: Sequence[UndecidedConcern] = ()
    tallies: Sequence[Tally] = ()
    deciding_facts: tuple[DecidingFact, ...] = ()
    outcomes: Sequence[Outcome] = ()
    settings: Sequence[tuple[str, str, str, str, str]] = ()
    levels: dict[str, int] = field(default_factory=dict)
    concerns: dict[str, str] = field(default_factory=dict)
    sketches: Sequence[AxisSketch] = ()
    accepted_gone: tuple[StaleAcceptance, ...] = ()
    share: str = ""
    level_changes: tuple[LevelChange, ...] = ()
    site_rules: SiteRules = field(default_factory=SiteRules)
    left_out: Sequence[LeftOut] = ()
    narrowed: Narrowed | None = None
    skipped: tuple[str, ...] = ()
    unusable: tuple[Unusable, ...] = ()
    ignored: tuple[str, ...] = ()
    site_file: SiteFileUse | None = None
    day: str = ""

    @property
    def sends_to_machine(self) -> bool:
        """Whether somebody goes to the machine after reading: to correct, or to find data out."""
        return bool(self.findings or self.undecided_concerns)

    def at_or_above(self, level: Level) -> int:
        """Number of findings at ``level`` or a more severe one that are not waived."""
        return at_or_above(self.findings, level)


def at_or_above(findings: Iterable[Finding], level: Level) -> int:
    """Number of findings at ``level`` or a more severe one that are not waived."""
    severe = LEVELS[: LEVELS.index(level) + 1]
    return sum(1 for each in findings if each.level in severe and each.waived is None)


@dataclass(frozen=True, slots=True)
class StaleAcceptance:
    """A finding of the accepted set that the check no longer finds."""

    rule: str
    machine: str
    subject: str
    facts: tuple[str, ...]
    message: str
    stage: str = ""
