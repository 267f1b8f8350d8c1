"""Report formats, one module each, all with ``render(report, options) -> str``.

What every format shares is here: the options, the order of findings and the caution.
"""

from __future__ import annotations

from typing import Final

from ..base.lazy import dataclass
from ..findings.finding import LEVELS, Finding, Level, Report, Tally

CAUTION: Final = (
    "Before anyone works on a machine because of this report: isolate it and lock it out, let "
    "stored energy drain and prove it gone, support suspended loads mechanically, and keep people "
    "clear of the axis whenever it may move. Local codes, the machine's manual and qualified "
    "staff decide. axisproof compares settings; it never says that a machine is safe."
)
"""Shown once by every report that has findings."""


@dataclass(frozen=True, slots=True)
class RenderOptions:
    """How a report is to look; a format ignores what it has no use for.

    ``width`` is in terminal columns. ``workings`` asks for the derivation of the figures.
    ``fail_at`` is the least grave level of which a finding is a failure, None if none is.
    """

    width: int = 80
    colour: bool = False
    workings: bool = False
    fail_at: Level | None = "warning"

    def fails(self, finding: Finding) -> bool:
        """Tell whether a finding is grave enough to be a failure and is not waived."""
        grave = [] if self.fail_at is None else LEVELS[: LEVELS.index(self.fail_at) + 1]
        return finding.level in grave and finding.waived is None


def ordered_findings(report: Report) -> list[Finding]:
    """Return the findings by machine, axis (both as the report lists them), level, rule, place."""
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
