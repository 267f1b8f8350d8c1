"""What reports see: findings, undecided checks and tallies, in words, numbers and places.

Nothing here evaluates anything; the engine fills these in and every report reads only these.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, Literal

from ..base.errors import Place
from ..base.lazy import dataclass, field
from ..numbers.quantity import Number

Level = Literal["error", "warning", "note"]
LEVELS: tuple[Level, ...] = ("error", "warning", "note")

Verdict = Literal["holds", "broken", "undecided", "not applicable"]
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
    """Why a finding does not count as a failure: a waiver, or the accepted set (``accepted``).

    ``approved_by`` is a role and ``expires`` a date (ISO 8601); both are empty for the accepted
    set. ``place`` is where the waiver is written.
    """

    reason: str
    approved_by: str = ""
    expires: str = ""
    place: Place | None = None
    accepted: bool = False


@dataclass(frozen=True, slots=True)
class Finding:
    """A broken rule on one subject (an axis, a pair of axes, or the whole machine)."""

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

    @property
    def facts(self) -> tuple[str, ...]:
        """The paths of the facts it rests on, in order of their names."""
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
        """Fill the slots without a detour: a machine that is being written has thousands."""
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
class Outcome:
    """The verdict of one rule on one subject, with the reason where it is not ``holds``."""

    rule: str
    machine: str
    subject: str
    verdict: Verdict
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Tally:
    """How the checks of one subject came out."""

    machine: str
    subject: str
    holds: int = 0
    broken: int = 0
    undecided: int = 0
    not_applicable: int = 0


@dataclass(frozen=True, slots=True)
class DecidingFact:
    """A fact that would decide ``checks`` checks on ``subjects``, ``alone`` of them by itself."""

    fact: str
    checks: int
    alone: int
    subjects: tuple[str, ...]


FeatureKind = Literal[
    "hard stop",
    "limit switch",
    "soft limit",
    "stopping distance",
    "home switch",
    "index pulse",
    "index band",
    "reference",
    "wrap",
    "travel",
    "encoder turn",
    "drift",
]


@dataclass(frozen=True, slots=True)
class Feature:
    """Something on an axis: a point at ``start``, or a stretch from ``start`` to ``end``.

    Positions are in the picture's unit; a stretch that is left in the negative direction ends
    below its start. ``text`` says the position or length with its unit.
    """

    kind: FeatureKind
    name: str
    text: str
    start: Number
    end: Number | None = None


@dataclass(frozen=True, slots=True)
class Picture:
    """What is to be drawn to scale: a strip from ``low`` to ``high``, or a dial of one cycle.

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
    """Something that could not be drawn, with the facts it lacks and what else stood against it."""

    name: str
    missing: tuple[str, ...]
    reason: str = ""


@dataclass(frozen=True, slots=True)
class AxisSketch:
    """The pictures of an axis, in exact numbers.

    ``absent`` says in words what the axis is known not to have; ``gaps`` is what is not known.
    """

    machine: str
    subject: str
    description: str
    pictures: tuple[Picture, ...] = ()
    absent: tuple[str, ...] = ()
    gaps: tuple[Gap, ...] = ()


@dataclass(frozen=True, slots=True)
class Report:
    """The result of a check over one or more machine files.

    ``outcomes`` and ``concerns`` (the concern of each rule by its name: the rule file it stands
    in) are filled only when every outcome was asked for, ``sketches`` only when those were.
    ``settings`` lists settings that differ from their default as (machine, subject, name, value,
    reason). ``accepted_gone`` is what the accepted set holds and the check no longer finds.
    ``share`` says which share of the files was checked (``2/5``); empty if all were. Forms for
    programs leave it out: shares are joined from records.
    """

    files: tuple[str, ...]
    machines: tuple[str, ...]
    axes: int
    rules: int
    findings: tuple[Finding, ...] = ()
    undecided: tuple[Undecided, ...] = ()
    tallies: tuple[Tally, ...] = ()
    wanted: tuple[DecidingFact, ...] = ()
    outcomes: tuple[Outcome, ...] = ()
    settings: tuple[tuple[str, str, str, str, str], ...] = ()
    levels: dict[str, int] = field(default_factory=dict)
    concerns: dict[str, str] = field(default_factory=dict)
    sketches: tuple[AxisSketch, ...] = ()
    accepted_gone: tuple[StaleAcceptance, ...] = ()
    share: str = ""

    def at_or_above(self, level: Level) -> int:
        """Number of findings at ``level`` or a graver one that are not waived."""
        return at_or_above(self.findings, level)


def at_or_above(findings: Iterable[Finding], level: Level) -> int:
    """Number of findings at ``level`` or a graver one that are not waived."""
    grave = LEVELS[: LEVELS.index(level) + 1]
    return sum(1 for each in findings if each.level in grave and each.waived is None)


@dataclass(frozen=True, slots=True)
class StaleAcceptance:
    """A finding of the accepted set that is there no more."""

    rule: str
    machine: str
    subject: str
    facts: tuple[str, ...]
    message: str


ChangeKind = Literal["changed", "added", "removed"]


@dataclass(frozen=True, slots=True)
class FactChange:
    """A fact that two versions of a machine state differently, or only one of them states.

    ``fact`` is its path within axis or machine, such as ``encoder.serial``; ``old`` and ``new``
    are its values as written (None where it is not stated), the marks where they stand.
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

    ``kind`` is added, removed, or renamed: then ``old_name`` is what it was called.
    """

    machine: str
    subject: str
    kind: Literal["added", "removed", "renamed"]
    old_name: str = ""


@dataclass(frozen=True, slots=True)
class PersistingFinding:
    """A finding that both versions have, as the new one has it, and what the old one said."""

    finding: Finding
    message_before: str


@dataclass(frozen=True, slots=True)
class ChangeReport:
    """What changed between two versions of one or more machines, and what that means.

    ``brought`` are findings of rules about the change itself. Those of ordinary rules are in
    ``new_findings`` (only in the new version), ``still`` (in both) or ``gone``
    (only in the old one). ``undecided`` are checks of the change, and ``newly_undecided`` ordinary
    ones that were decided or did not apply before. ``axes`` counts the axes that were compared.
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
    still: tuple[PersistingFinding, ...] = ()
    gone: tuple[Finding, ...] = ()
    undecided: tuple[Undecided, ...] = ()
    newly_undecided: tuple[Undecided, ...] = ()

    def at_or_above(self, level: Level, *, also_still: bool = False) -> int:
        """Number of findings the change brings at ``level`` or above; or of all that are there."""
        there = (*self.brought, *self.new_findings)
        if also_still:
            there = (*there, *(each.finding for each in self.still))
        return at_or_above(there, level)
