"""The files next to the machines in an editor: rules, settings, waivers and the accepted set.

Every check reads them again, so each file counts as it is now: as the editor holds it, or else as
it is on the disk.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TypeAlias

from ..base.errors import AxisproofError
from ..catalogue.catalogue import read_rule_files
from ..checking.accepted import AcceptedSet, apply_accepted, read_accepted
from ..checking.reading import Rules
from ..checking.waivers import Waivers, apply_waivers, read_waivers
from ..findings.builtin import WAIVER_UNUSED
from ..findings.finding import Finding
from ..importing.entry import kind_of
from ..importing.shelf import read_shelf
from ..importing.site_file import find_site_file
from ..machine.machine import Machine
from ..source.reader import DISK, Reader, read_source
from ..source.shelf import Shelf

RuleTexts: TypeAlias = tuple[Mapping[str, str], Path | None, str]
"""The texts of a site's rule files, by their names, and its settings file with its text."""


@dataclass(frozen=True, slots=True)
class SideFileOptions:
    """The files that a server got as options, the same as those of `check`."""

    rules: tuple[Path, ...] = ()
    settings: Path | None = None
    waivers: Path | None = None
    accepted: Path | None = None
    shelf: Path | None = None
    site_folder: Path | None = None
    """The folder whose site file stands in for options that are not given."""

    def files(self) -> frozenset[Path]:
        """Those with the suffix of a machine file, which are not machine files."""
        named = (self.settings, self.waivers, self.accepted)
        return frozenset(path.resolve() for path in named if path is not None)


def _with_site_file(options: SideFileOptions, reader: Reader) -> SideFileOptions:
    """The options with what the site file stands in for. Raises InputError and UsageError."""
    if options.site_folder is None:
        return options
    site = find_site_file([options.site_folder], reader)
    if site is None:
        return options
    return SideFileOptions(
        options.rules or site.rules,
        options.settings or site.settings,
        options.waivers or site.waivers,
        options.accepted or site.accepted,
        options.shelf or site.shelf,
    )


@dataclass(frozen=True, slots=True)
class SideFiles:
    """The content of the files, for every machine. ``errors`` are those of unusable files.

    ``apart`` are the files that are no machine files because an option or the site file names them.
    Without ``rules``, or with a shelf that cannot be used, no machine can be checked. An
    unusable waiver file or accepted set covers nothing, so every finding stays visible.
    """

    rules: Rules | None = None
    waivers: Waivers | None = None
    accepted: AcceptedSet | None = None
    shelf: Shelf | None = None
    errors: tuple[AxisproofError, ...] = ()
    apart: frozenset[Path] = frozenset()
    shelf_folder: Path | None = None
    rule_texts: RuleTexts | None = None
    """What ``rules`` were made of."""

    def is_plate(self, path: Path, reader: Reader) -> bool:
        """Whether a file is a part file on the shelf."""
        folder = self.shelf_folder
        if folder is None or not path.resolve().is_relative_to(folder.resolve()):
            return False
        return kind_of(path, reader) == "part"

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
            marked = tuple(apply_accepted(marked, self.accepted)[0])
        return marked


def _rules(options: SideFileOptions, reader: Reader, last: SideFiles) -> tuple[Rules, RuleTexts]:
    """The rules, the same ones while their texts are the same. Raises as ``Rules.of`` does."""
    own = read_rule_files(options.rules, reader) if options.rules else {}
    settings = "" if options.settings is None else read_source(options.settings, reader).text
    texts = (own, options.settings, settings)
    if last.rules is not None and last.rule_texts == texts:
        return last.rules, texts
    return Rules.of(options.rules, options.settings, reader), texts


def read_side_files(
    options: SideFileOptions, reader: Reader = DISK, last: SideFiles | None = None
) -> SideFiles:
    """Read the files; never raises for input. ``last`` is what was read before."""
    try:
        options = _with_site_file(options, reader)
        rules, texts = _rules(options, reader, last or SideFiles())
    except AxisproofError as error:
        return SideFiles(errors=(error,), apart=options.files())
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
    shelf = None
    if options.shelf is not None:
        try:
            shelf = read_shelf(options.shelf, reader)
        except AxisproofError as error:
            found = (*errors, error)
            return SideFiles(errors=found, apart=options.files(), shelf_folder=options.shelf)
    apart = options.files()
    return SideFiles(rules, waivers, accepted, shelf, tuple(errors), apart, options.shelf, texts)
