"""What a report of a change between two versions consists of."""

from __future__ import annotations

from ..base.lazy import dataclass, field
from .finding import (
    Finding,
    LeftOut,
    Level,
    LevelChange,
    Mark,
    SiteRules,
    Undecided,
    at_or_above,
)
from .site_file_use import SiteFileUse

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Literal, TypeAlias

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
class EndedCheck:
    """Checks of a rule that passed in the old version and do not apply to the new one.

    ``facts`` are the changed facts that the rule reads. ``failure``: one of them is not stated any
    more, nothing else that changed says why, and the checks are of those that must be shown.
    """

    rule: str
    level: Level
    machine: str
    subject: str
    title: str
    count: int
    facts: tuple[str, ...]
    failure: bool


@dataclass(frozen=True, slots=True)
class ChangeReport:
    """What changed between two versions of one or more machines, and its findings.

    ``brought`` are findings of rules about the change itself. Those of ordinary rules are in
    ``new_findings`` (only in the new version), ``persisting`` (in both) or ``gone`` (only in the
    old one). ``undecided`` are checks of the change, ``newly_undecided`` others that were decided
    or did not apply before, ``lost_checks`` those of them that were decided: they fail, because a
    deleted line would look like a repair. ``ended_checks`` passed before and do not apply now: some
    of them fail for the same reason. ``axes`` is the number of compared axes.
    ``settings``, ``level_changes``, ``site_file`` are those of a check of the new version; what it
    has ``loosened`` fails, ``uncompared`` says where that could not be compared. ``left_out`` is
    what the exports of either version state and their import does not take. ``skipped`` are files
    of the new version that are none of axisproof's; ``no_longer_checked`` those that were checked
    before: they fail. ``day``: of both checks.
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
    left_out: tuple[LeftOut, ...] = ()
    skipped: tuple[str, ...] = ()
    no_longer_checked: tuple[str, ...] = ()
    ignored: tuple[str, ...] = ()
    site_file: SiteFileUse | None = None
    loosened: tuple[str, ...] = ()
    uncompared: tuple[str, ...] = ()
    ended_checks: tuple[EndedCheck, ...] = ()
    day: str = ""

    @property
    def fails_by_silence(self) -> bool:
        """Whether something that was checked before is not checked now, with no reason stated."""
        silent = any(each.failure for each in self.ended_checks)
        return silent or bool(self.lost_checks or self.no_longer_checked or self.loosened)

    def at_or_above(self, level: Level, *, with_persisting: bool = False) -> int:
        """Number of findings at ``level`` or above that the change brings, or that are present."""
        present = (*self.brought, *self.new_findings)
        if with_persisting:
            present = (*present, *(each.finding for each in self.persisting))
        return at_or_above(present, level)
