"""What the swap commands find out, for reports: in words, numbers and places."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Final, Literal

from ..catalogue.settings import Overrides
from ..findings.finding import Finding, LeftOut, LevelChange, SiteRules, Undecided
from ..findings.site_file_use import SiteFileUse

RoleName = Literal[
    "free", "match", "place", "equal", "identity", "build", "stays", "record", "teach"
]

Verdict = Literal[
    "fits as it is",
    "fits after settings",
    "fits with warnings",
    "does not fit",
    "cannot be said yet",
    "nothing to compare",
]
VERDICTS: Final[tuple[Verdict, ...]] = (
    "fits as it is",
    "fits after settings",
    "fits with warnings",
    "does not fit",
    "cannot be said yet",
    "nothing to compare",
)

RowState = Literal["same", "differs", "spare silent", "machine silent", "not stated"]

ROLE_WORDS: Final[Mapping[RoleName, str]] = {
    "match": "must match",
    "equal": "must match",
    "identity": "must match",
    "place": "must be set for this place",
    "teach": "must be taught again",
    "record": "must be taught again",
    "build": "may differ within what the rules allow",
    "free": "may differ",
    "stays": "stays with the place",
}
"""The roles as reports name them."""


@dataclass(frozen=True, slots=True)
class PartFactRow:
    """One fact of the part, as fitted and of the spare; an empty text is not stated.

    ``writable``: a difference can be written away.
    """

    fact: str
    role: RoleName
    fitted: str
    spare: str
    state: RowState
    writable: bool = False

    @property
    def built(self) -> bool:
        """Tell whether it is how the part is built: what cannot be written counts as that too."""
        fixed = self.role == "match" and not self.writable
        return self.role == "build" or (fixed and self.state in ("differs", "spare silent"))

    @property
    def role_words(self) -> str:
        """Its role as reports name it."""
        return ROLE_WORDS["build" if self.built else self.role]


@dataclass(frozen=True, slots=True)
class UnjudgedFact:
    """A fact stated of the spare that is not compared, or that no rule reads, with the reason."""

    fact: str
    value: str
    reason: str


@dataclass(frozen=True, slots=True)
class SettingToWrite:
    """A setting to be written: where it lives (drive, encoder, controller, …), old and new text.

    ``rule`` is the rule that calls for it; empty if it is to be as it was.
    """

    fact: str
    keeper: str
    old: str
    new: str
    role: RoleName
    rule: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True)
class FigureRow:
    """A figure worked through the gearing, as fitted and with the spare (as planned)."""

    name: str
    fitted: str
    spare: str
    fitted_data: Mapping[str, Any]
    spare_data: Mapping[str, Any]

    @property
    def changed(self) -> bool:
        """Tell whether the swap changes it."""
        return self.fitted != self.spare


@dataclass(frozen=True, slots=True)
class ReteachTask:
    """Something to teach again and why. ``missing``: facts for want of which it is not certain."""

    what: str
    words: str
    why: tuple[str, ...]
    missing: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Answer:
    """Why something happens to a memory; no ``why``: nothing happens.

    ``missing``: facts for want of which it is not certain. Then it counts as happening.
    """

    why: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()

    @property
    def certain(self) -> bool:
        """Whether it happens for certain."""
        return bool(self.why) and not self.missing


@dataclass(frozen=True, slots=True)
class MemoryFate:
    """What becomes of a memory of the axis: it is lost, it stays and is wrong, or it is at risk.

    ``teach`` names what has to be taught or put right if it is lost or wrong.
    """

    memory: str
    words: str
    teach: str
    lost: Answer
    wrong: Answer
    at_risk: Answer


@dataclass(frozen=True, slots=True)
class PlanRow:
    """A line below a step: what it is about, and one or two values.

    ``aside`` explains it, and is not needed to do the work.
    """

    name: str
    value: str
    note: str = ""
    aside: str = ""


@dataclass(frozen=True, slots=True)
class PlanReading:
    """Something to read and write down during a step, and its unit."""

    label: str
    unit: str


@dataclass(frozen=True, slots=True)
class PlanStep:
    """A step of the work: the caution before it, what to do, why, and what reading to expect.

    ``missing``: facts for want of which it is not certain that the step applies; then it is done.
    ``supplies``: which supplies are on in its phase, as far as that is known. ``readings`` are
    written down while it is done.
    """

    name: str
    phase: str
    caution: str
    do: str
    why: str
    expect: str
    rows: tuple[PlanRow, ...] = ()
    missing: tuple[str, ...] = ()
    supplies: str = ""
    readings: tuple[PlanReading, ...] = ()


@dataclass(frozen=True, slots=True)
class SettlingFact:
    """A fact that is not stated and would settle ``checks`` open questions of whether it fits."""

    fact: str
    checks: int


@dataclass(frozen=True, slots=True)
class Plan:
    """The ordered work of a swap on one axis."""

    machine: str
    axis: str
    part: str
    steps: tuple[PlanStep, ...]


@dataclass(frozen=True, slots=True)
class SpareReport:
    """Whether a spare fits, what is to be written and taught, and the plan of the work.

    ``broken`` are errors that remain with every setting written, ``unequal`` facts that cannot be
    written and differ; both keep the spare from fitting. ``warnings`` remain too, but leave it to
    people whether and with what work it is taken. ``undecided`` are checks (and
    ``unstated`` facts that must match) that leave open whether it fits, ``after_teaching`` checks
    that only the teaching decides. ``as_it_comes`` are findings if it were used without writing
    or teaching, ``before`` those that the machine had already, ``undecided_before`` checks it left
    open. ``carried`` are settings that the machine file does not state: they are taken over from a
    backup of the fitted part. ``memories`` tells what is lost and what stays and is wrong,
    ``settle`` the facts that would settle whether it fits, the most telling first. ``not_judged``
    are facts stated of the spare that are not judged. ``settings`` and ``level_changes`` are what
    the site and the machine file change of the rules, with the reasons. ``left_out`` is what the
    exports of machine and spare state and their import does not take, and types without a plate.
    ``day`` is the day of the swap, for which all is checked.
    """

    machine: str
    axis: str
    part: str
    spare: str
    files: tuple[str, ...]
    verdict: Verdict
    rows: tuple[PartFactRow, ...] = ()
    writes: tuple[SettingToWrite, ...] = ()
    lessons: tuple[ReteachTask, ...] = ()
    figures: tuple[FigureRow, ...] = ()
    broken: tuple[Finding, ...] = ()
    unequal: tuple[PartFactRow, ...] = ()
    undecided: tuple[Undecided, ...] = ()
    unstated: tuple[PartFactRow, ...] = ()
    after_teaching: tuple[Undecided, ...] = ()
    as_it_comes: tuple[Finding, ...] = ()
    before: tuple[Finding, ...] = ()
    undecided_before: tuple[Undecided, ...] = ()
    remarks: tuple[Finding, ...] = ()
    notes: tuple[str, ...] = ()
    carried: tuple[str, ...] = ()
    plan: Plan | None = None
    warnings: tuple[Finding, ...] = ()
    memories: tuple[MemoryFate, ...] = ()
    settle: tuple[SettlingFact, ...] = ()
    not_judged: tuple[UnjudgedFact, ...] = ()
    settings: Overrides = ()
    level_changes: tuple[LevelChange, ...] = ()
    site_rules: SiteRules = field(default_factory=SiteRules)
    site_file: SiteFileUse | None = None
    left_out: tuple[LeftOut, ...] = ()
    day: str = ""

    def against(self, fact: str) -> tuple[str, ...]:
        """The rules that stand against the spare because of the fact at a path, by name."""
        return tuple(each.rule for each in self.broken if fact in each.facts)

    def warned(self, fact: str) -> tuple[str, ...]:
        """The rules that warn of the spare because of the fact at a path, by name."""
        return tuple(each.rule for each in self.warnings if fact in each.facts)

    @property
    def open_checks(self) -> tuple[Undecided, ...]:
        """The undecided checks that leave open whether it fits: a failed note does not matter."""
        return tuple(each for each in self.undecided if each.level != "note")

    @property
    def fits_as_it_is(self) -> bool:
        """Tell whether nothing has to be written or settled.

        Teaching is another matter (see lessons).
        """
        return self.verdict == "fits as it is"
