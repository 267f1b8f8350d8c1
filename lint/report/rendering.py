"""What every form of a report shares: the options, the order of findings and the caution."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import groupby
from operator import attrgetter

from ..base.lazy import dataclass
from ..findings.finding import LEVELS, Finding, Level, Report, Tally
from ..findings.rows import like

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


def ordered_findings(report: Report) -> Sequence[Finding]:
    """Return the findings in order of machine, axis (both as in the report), level, rule, place."""
    return like(report.findings, lambda: _ordered(report), len(report.findings))


def _ordered(report: Report) -> Iterator[Finding]:
    """Sort the findings, of which those of one machine at a time need to be in memory.

    They come in the order of the machines, but for late ones: waivers add those at the end.
    """
    machines = {name: index for index, name in enumerate(report.machines)}

    def place(finding: Finding) -> tuple[int, str]:
        return machines.get(finding.machine, len(machines)), finding.machine

    late: dict[tuple[int, str], list[Finding]] = {}
    for finding, is_late in _with_lateness(report.findings, place):
        if is_late:
            late.setdefault(place(finding), []).append(finding)
    in_turn = (each for each, is_late in _with_lateness(report.findings, place) if not is_late)
    subjects = _subjects_with_findings(report)
    waiting = sorted(late, reverse=True)
    for at, group in groupby(in_turn, place):
        while waiting and waiting[-1] < at:
            yield from _of_one_machine(late.pop(waiting.pop()), subjects)
        if waiting and waiting[-1] == at:
            waiting.pop()
        yield from _of_one_machine([*group, *late.pop(at, ())], subjects)
    for at in reversed(waiting):
        yield from _of_one_machine(late[at], subjects)


def _with_lateness(
    findings: Iterable[Finding], place: Callable[[Finding], tuple[int, str]]
) -> Iterator[tuple[Finding, bool]]:
    """The findings, each with whether one of a later machine came before it."""
    highest = (-1, "")
    for finding in findings:
        at = place(finding)
        yield finding, at < highest
        highest = max(at, highest)


def _subjects_with_findings(report: Report) -> dict[str, tuple[str, ...]]:
    """The subjects of each machine with findings; machines with the same ones share them."""
    machines = {finding.machine for finding in report.findings}
    found: dict[str, tuple[str, ...]] = {}
    shared: dict[tuple[str, ...], tuple[str, ...]] = {}
    for machine, tallies in groupby(report.tallies, attrgetter("machine")):
        if machine in machines:
            all_ = (*found.get(machine, ()), *(each.subject for each in tallies))
            found[machine] = shared.setdefault(all_, all_)
    return found


def _of_one_machine(
    findings: list[Finding], subjects: Mapping[str, tuple[str, ...]]
) -> list[Finding]:
    order: dict[str, int] = {}
    for subject in subjects.get(findings[0].machine, ()):
        order.setdefault(subject, len(order))

    def rank(finding: Finding) -> tuple[object, ...]:
        return (
            order.get(finding.subject, len(order)),
            finding.subject,
            LEVELS.index(finding.level),
            finding.rule,
            [mark.place for mark in finding.marks],
            finding.message,
        )

    return sorted(findings, key=rank)


def total(tallies: Iterable[Tally]) -> Tally:
    """Return the sum of ``tallies`` (machine and subject empty)."""
    holds = broken = undecided = not_applicable = 0
    for tally in tallies:
        holds += tally.holds
        broken += tally.broken
        undecided += tally.undecided
        not_applicable += tally.not_applicable
    return Tally("", "", holds, broken, undecided, not_applicable)
