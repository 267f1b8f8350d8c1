"""What every form of a report shares: the options, the order of findings and the caution."""

from __future__ import annotations

from ..base.lazy import dataclass
from ..findings.finding import LEVELS, Finding, Level, Report, Tally

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final


CAUTION: Final = (
    "Before anyone works on a machine because of this report: isolate it and lock it out, let "
    "stored energy drain and prove it gone, support suspended loads mechanically, and keep people "
    "clear of the axis whenever it may move. Local codes, the machine's manual and qualified "
    "staff decide. axisproof compares settings; it never says that a machine is safe."
)
"""Every report with findings shows this once."""


@dataclass(frozen=True, slots=True)
class RenderOptions:
    """The look of a report; a form ignores options that it does not use.

    ``width`` is in terminal columns. ``workings`` adds the derivation of the figures.
    ``fail_at`` is the lowest level at which a finding is a failure; None means that none is.
    """

    width: int = 80
    colour: bool = False
    workings: bool = False
    fail_at: Level | None = "warning"

    def fails(self, finding: Finding) -> bool:
        """Return whether a finding is a failure: severe enough and not waived."""
        severe = [] if self.fail_at is None else LEVELS[: LEVELS.index(self.fail_at) + 1]
        return finding.level in severe and finding.waived is None


def ordered_findings(report: Report) -> list[Finding]:
    """Return the findings in order of machine, axis (both as in the report), level, rule, place."""
    machines = {name: index for index, name in enumerate(report.machines)}
    subjects: dict[tuple[str, str], int] = {}
    for tally in report.tallies:
        subjects.setdefault((tally.machine, tally.subject), len(subjects))

    def rank(finding: Finding) -> tuple[object, ...]:
        return (
            machines.get(finding.machine, len(machines)),
            finding.machine,
            subjects.get((finding.machine, finding.subject), len(subjects)),
            finding.subject,
            LEVELS.index(finding.level),
            finding.rule,
            [mark.place for mark in finding.marks],
            finding.message,
        )

    return sorted(report.findings, key=rank)


def total(tallies: tuple[Tally, ...] | list[Tally]) -> Tally:
    """Return the sum of ``tallies`` (machine and subject empty)."""
    return Tally(
        machine="",
        subject="",
        holds=sum(tally.holds for tally in tallies),
        broken=sum(tally.broken for tally in tallies),
        undecided=sum(tally.undecided for tally in tallies),
        not_applicable=sum(tally.not_applicable for tally in tallies),
    )
