"""What stands beside the machines in an editor: rules, settings, waivers and the accepted set.

All of it is read anew at every check, so that a file counts as it is now: as its editor holds it,
or else as it is on the disk.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from ..base.errors import AxisproofError
from ..checking.accepted import AcceptedSet, apply_accepted, read_accepted
from ..checking.reading import Rules
from ..checking.waivers import Waivers, apply_waivers, read_waivers
from ..findings.builtin import WAIVER_UNUSED
from ..findings.finding import Finding
from ..machine.reader import Machine


@dataclass(frozen=True, slots=True)
class SideFileOptions:
    """What a server was started with, as `check` takes it."""

    rules: tuple[Path, ...] = ()
    settings: Path | None = None
    waivers: Path | None = None
    accepted: Path | None = None

    def files(self) -> frozenset[Path]:
        """The files among it that end as machine files do and are none."""
        named = (self.settings, self.waivers, self.accepted)
        return frozenset(path.resolve() for path in named if path is not None)


@dataclass(frozen=True, slots=True)
class SideFiles:
    """What applies to every machine. ``errors`` tell what of it cannot be used.

    Without ``rules`` no machine can be checked. A waiver file or accepted set that cannot be used
    covers nothing, so that no finding is lost from sight.
    """

    rules: Rules | None = None
    waivers: Waivers | None = None
    accepted: AcceptedSet | None = None
    errors: tuple[AxisproofError, ...] = ()

    def cover(
        self,
        findings: Iterable[Finding],
        machines: Sequence[tuple[Machine, str]],
        on: datetime.date | None,
    ) -> tuple[Finding, ...]:
        """The findings as `check` marks them, with those about waivers.

        Machines are checked one by one here, so a waiver for another one is not called unused. What
        of the accepted set is gone has no place in a text and is left to reports.
        """
        marked = tuple(findings)
        if self.waivers is not None:
            labels = {label for _, label in machines}
            day = on or datetime.date.today()
            marked = tuple(
                finding
                for finding in apply_waivers(marked, self.waivers, machines, day)
                if finding.rule != WAIVER_UNUSED.name or finding.machine in labels
            )
        if self.accepted is not None:
            marked, _ = apply_accepted(marked, self.accepted)
        return marked


def read_beside(given: SideFileOptions) -> SideFiles:
    """Read what was given; never raises for input."""
    try:
        rules = Rules.of(given.rules, given.settings)
    except AxisproofError as error:
        return SideFiles(errors=(error,))
    waivers = accepted = None
    errors: list[AxisproofError] = []
    if given.waivers is not None:
        try:
            waivers = read_waivers(given.waivers, rules.every)
        except AxisproofError as error:
            errors.append(error)
    if given.accepted is not None:
        try:
            accepted = read_accepted(given.accepted)
        except AxisproofError as error:
            errors.append(error)
    return SideFiles(rules, waivers, accepted, tuple(errors))
