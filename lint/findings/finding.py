"""The records that reports show: findings, undecided checks and tallies, with numbers and places.

No code here evaluates a rule: the engine makes these records, and reports read only them.
"""

from __future__ import annotations

from collections.abc import Iterable

from ..base.errors import Place
from ..base.lazy import dataclass, field
from ..numbers.exact import Number

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, Literal, TypeAlias


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
    """A computed number: its name in the rule, its text with unit, and its exact value.

    ``exact`` is JSON-ready: ``{"numerator", "denominator", "pi_power", "unit"}``, or ``{"value",
    "error", "unit"}`` for an approximate number, or ``{"text"}`` for what is not a number.
    """

    name: str
    text: str
    exact: dict[str, Any]


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
    """A value the rule computed for a fact. ``safe`` if no person at the machine is needed.

    ``line_text`` is the source line on which ``place`` begins.
    """

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
class Finding:
    """A broken rule on one subject (an axis, a pair of axes, or the whole machine).

    ``title`` says what is required; ``headline`` what is wrong, if the rule has one.
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

    ``missing`` are the facts that most of them lack, ``mark`` is the place of the axis. It fails a
    check, because nothing was shown of the concern.
    """

    machine: str
    subject: str
    concern: str
    checks: int
    missing: tuple[str, ...] = ()
    mark: Mark | None = None


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
    """Number of checks of one subject, by verdict."""

    machine: str
    subject: str
    holds: int = 0
    broken: int = 0
    undecided: int = 0
    not_applicable: int = 0


@dataclass(frozen=True, slots=True)
class DecidingFact:
    """A missing fact of ``checks`` undecided checks on ``subjects``; it alone decides ``alone``."""

    fact: str
    checks: int
    alone: int
    subjects: tuple[str, ...]


FeatureKind: TypeAlias = (
    'Literal["hard stop", "limit switch", "soft limit", "stopping distance", "home switch", '
    '"index pulse", "index band", "reference", "wrap", "travel", "encoder turn", "drift"]'
)


@dataclass(frozen=True, slots=True)
class Feature:
    """Something on an axis: a point at ``start``, or a stretch from ``start`` to ``end``.

    Positions are in the picture's unit. A stretch in the negative direction ends below its start.
    ``text`` is the position or length with its unit.
    """

    kind: FeatureKind
    name: str
    text: str
    start: Number
    end: Number | None = None


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
    """The pictures of an axis, in exact numbers.

    ``absent`` says in words which parts the axis does not have. ``gaps`` lists what is not known.
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
class SiteRules:
    """How many rules of the site's own a check ran beside the shipped ones, and their files."""

    count: int = 0
    files: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class LeftOut:
    """Something that an export states and its import does not take, with the reason."""

    machine: str
    place: Place
    text: str


@dataclass(frozen=True, slots=True)
class Report:
    """The result of a check over one or more machine files.

    ``outcomes`` and ``concerns`` (name of a rule to its concern: the name of its rule file) are
    empty unless the caller asks for every outcome, and so is ``sketches`` without pictures.
    ``settings`` lists settings that differ from their default as (machine, subject, name, value,
    reason), ``level_changes`` rules with another level, and ``site_rules`` the site's own.
    ``accepted_gone`` lists accepted findings that the check no longer finds, and ``left_out`` what
    imports do not take.
    ``share`` names the share of the files that the check covers (``2/5``); it is empty for all.
    Forms for programs leave it out, because they join shares from records.
    """

    files: tuple[str, ...]
    machines: tuple[str, ...]
    axes: int
    rules: int
    findings: tuple[Finding, ...] = ()
    undecided: tuple[Undecided, ...] = ()
    undecided_concerns: tuple[UndecidedConcern, ...] = ()
    tallies: tuple[Tally, ...] = ()
    deciding_facts: tuple[DecidingFact, ...] = ()
    outcomes: tuple[Outcome, ...] = ()
    settings: tuple[tuple[str, str, str, str, str], ...] = ()
    levels: dict[str, int] = field(default_factory=dict)
    concerns: dict[str, str] = field(default_factory=dict)
    sketches: tuple[AxisSketch, ...] = ()
    accepted_gone: tuple[StaleAcceptance, ...] = ()
    share: str = ""
    level_changes: tuple[LevelChange, ...] = ()
    site_rules: SiteRules = field(default_factory=SiteRules)
    left_out: tuple[LeftOut, ...] = ()

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


ChangeKind: TypeAlias = 'Literal["changed", "added", "removed"]'


@dataclass(frozen=True, slots=True)
class FactChange:
    """A fact that two versions of a machine state differently, or only one of them states.

    ``fact`` is its path within axis or machine, such as ``encoder.serial``; ``old`` and ``new``
    are its values as written (None where it is not stated), and the marks are their places.
    """

    machine: str
    subject: str
    fact: str
    kind: ChangeKind
    old: str | None
    new: str | None
    old_mark: Mark | None = None
    new_mark: Mark | None = None


@dataclass(frozen=True, slots=True)
class AxisChange:
    """An axis, or a whole machine (``subject`` empty), that only one version has.

    For the kind ``renamed``, ``old_name`` is the name in the old version.
    """

    machine: str
    subject: str
    kind: Literal["added", "removed", "renamed"]
    old_name: str = ""


@dataclass(frozen=True, slots=True)
class PersistingFinding:
    """A finding that both versions have: that of the new one, and the message of the old one."""

    finding: Finding
    message_before: str


@dataclass(frozen=True, slots=True)
class ChangeReport:
    """What changed between two versions of one or more machines, and its findings.

    ``brought`` are findings of rules about the change itself. Those of ordinary rules are in
    ``new_findings`` (only in the new version), ``persisting`` (in both) or ``gone`` (only in the
    old one). ``undecided`` are checks of the change. ``newly_undecided`` are ordinary checks that
    were decided or did not apply before. ``lost_checks`` are those of them that were decided: they
    fail, because a deleted line would look like a repair. ``axes`` is the number of compared axes.
    ``settings`` and ``level_changes`` are those of a check of the new version.
    """

    old: str
    new: str
    files: tuple[str, ...]
    machines: tuple[str, ...]
    axes: int
    rules: int
    facts: tuple[FactChange, ...] = ()
    axis_changes: tuple[AxisChange, ...] = ()
    brought: tuple[Finding, ...] = ()
    new_findings: tuple[Finding, ...] = ()
    persisting: tuple[PersistingFinding, ...] = ()
    gone: tuple[Finding, ...] = ()
    undecided: tuple[Undecided, ...] = ()
    newly_undecided: tuple[Undecided, ...] = ()
    lost_checks: tuple[Undecided, ...] = ()
    settings: tuple[tuple[str, str, str, str, str], ...] = ()
    level_changes: tuple[LevelChange, ...] = ()
    site_rules: SiteRules = field(default_factory=SiteRules)

    def at_or_above(self, level: Level, *, with_persisting: bool = False) -> int:
        """Number of findings at ``level`` or above that the change brings, or that are present."""
        present = (*self.brought, *self.new_findings)
        if with_persisting:
            present = (*present, *(each.finding for each in self.persisting))
        return at_or_above(present, level)
