"""The files next to the machines in an editor: rules, settings, waivers and the accepted set.

Every check reads them again, so each file counts as it is now: as the editor holds it, or else as
it is on the disk.
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
from ..machine.machine import Machine
from ..source.reader import DISK, Reader


@dataclass(frozen=True, slots=True)
class SideFileOptions:
    """The files that a server got as options, the same as those of `check`."""

    rules: tuple[Path, ...] = ()
    settings: Path | None = None
    waivers: Path | None = None
    accepted: Path | None = None

    def files(self) -> frozenset[Path]:
        """Those with the suffix of a machine file, which are not machine files."""
        named = (self.settings, self.waivers, self.accepted)
        return frozenset(path.resolve() for path in named if path is not None)


@dataclass(frozen=True, slots=True)
class SideFiles:
    """The content of the files, for every machine. ``errors`` are those of unusable files.

    Without ``rules`` no machine can be checked. An unusable waiver file or accepted set covers
    nothing, so every finding stays visible.
    """

    rules: Rules | None = None
    waivers: Waivers | None = None
    accepted: AcceptedSet | None = None
    errors: tuple[AxisproofError, ...] = ()

    def mark_covered(
        self,
        findings: Iterable[Finding],
        machines: Sequence[tuple[Machine, str]],
        on: datetime.date | None,
    ) -> tuple[Finding, ...]:
        """The findings as `check` marks them, and those about waivers.

        The editor checks machines one by one, so a waiver for another machine is not unused. Gone
        findings of the accepted set have no place in a text, so only reports show them.
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


def read_side_files(options: SideFileOptions, reader: Reader = DISK) -> SideFiles:
    """Read the files; never raises for input."""
    try:
        rules = Rules.of(options.rules, options.settings, reader)
    except AxisproofError as error:
        return SideFiles(errors=(error,))
    waivers = accepted = None
    errors: list[AxisproofError] = []
    if options.waivers is not None:
        try:
            waivers = read_waivers(options.waivers, rules.every, reader)
        except AxisproofError as error:
            errors.append(error)
    if options.accepted is not None:
        try:
            accepted = read_accepted(options.accepted, reader)
        except AxisproofError as error:
            errors.append(error)
    return SideFiles(rules, waivers, accepted, tuple(errors))
