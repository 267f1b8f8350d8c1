"""What every form of a report shares: the options, the order of findings and the caution."""

from __future__ import annotations

from ..base.lazy import dataclass
from ..findings.finding import LEVELS, Finding, Level, Report, Tally

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final


CAUTION: Final = (
    "Before work on a machine, isolate the power circuit and lock it out. Wait for stored energy "
    "and prove the circuit dead. Support each load that gravity moves. Keep people away from each "
    "axis that can move. Local rules, the machine's manual and qualified staff decide. axisproof "
    "compares settings. It never says that a machine is safe."
)
"""Every report that sends somebody to the machine shows this once."""


@dataclass(frozen=True, slots=True)
class RenderOptions:
    """The look of a report; a form ignores options that it does not use.

    ``width`` is in terminal columns. ``detail`` shows all that is known of a finding and every
    undecided check, ``workings`` adds the derivation of the figures. ``quiet`` leaves out what is
    no failure, ``statistics`` counts findings by rule in place of telling them. ``fail_at`` is the
    lowest level at which a finding is a failure; None means that none is. ``verbose`` names each
    file that was skipped.
    """

    width: int = 80
    colour: bool = False
    workings: bool = False
    fail_at: Level | None = "warning"
    detail: bool = False
    quiet: bool = False
    statistics: bool = False
    verbose: bool = False

    @property
    def whole(self) -> bool:
        """Whether a finding is shown with all that is known of it."""
        return self.detail or self.workings

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
