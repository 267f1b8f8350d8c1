"""Machines ready to be checked: read, dated, with the settings in force put into them."""

from __future__ import annotations

import datetime
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

from ..base.lazy import dataclass
from ..catalogue.catalogue import Catalogue
from ..catalogue.catalogue import catalogue as rules_in_force
from ..catalogue.settings import (
    NO_SITE,
    Overrides,
    Site,
    apply_settings,
    level_changes,
    read_site,
    with_levels,
)
from ..findings.finding import LeftOut, LevelChange, SiteRules
from ..importing.entry import Excludes, load_candidates, nothing_found, search
from ..machine.machine import Machine
from ..machine.reader import read_machine
from ..machine.records import set_check_date
from ..source.merge import Tree
from ..source.reader import DISK, Reader


@dataclass(frozen=True, slots=True)
class Rules:
    """The rules of a run: ``every`` one, and those a site leaves on, at its levels."""

    every: Catalogue
    catalogue: Catalogue
    site: Site

    @classmethod
    def of(
        cls, rules: Sequence[Path | str], settings: Path | str | None, reader: Reader = DISK
    ) -> Rules:
        """The shipped rules and those in ``rules``, with a site's settings file.

        Raises RuleError for a rule file and InputError for a settings file that cannot be used.
        """
        every = rules_in_force([Path(path) for path in rules], reader)
        site = NO_SITE if settings is None else read_site(Path(settings), every, reader)
        return cls.with_site(every, site)

    @classmethod
    def with_site(cls, every: Catalogue, site: Site) -> Rules:
        """The rules of a catalogue as a site has them."""
        return cls(every, with_levels(every, site), site)

    def count(self, *subjects: str) -> int:
        """How many rules look at one of these subjects."""
        return sum(entry.subject in subjects for entry in self.catalogue.entries)

    def site_rules(self, *subjects: str) -> SiteRules:
        """How many of the rules that look at one of these subjects are the site's, and where."""
        files = [
            self.every.rules[entry.name].file
            for entry in (self.catalogue.entries if self.every.own_files else ())
            if entry.subject in subjects
        ]
        own = [file for file in files if file in self.every.own_files]
        return SiteRules(len(own), tuple(dict.fromkeys(own)))

    def level_changes(self, *subjects: str) -> tuple[LevelChange, ...]:
        """The rules about these subjects that the site switches off or gives another level."""
        return level_changes(self.every, self.site, *subjects)


@dataclass(frozen=True, slots=True)
class PreparedMachines:
    """Machines with the label each is shown under, the files read, and changed settings.

    ``skipped`` are files of folders that are none of axisproof's. ``excluded`` are those that a
    site file leaves out, ``ignored`` those of a .gitignore file, and ``sites`` site files.
    """

    machines: tuple[tuple[Machine, str], ...]
    files: tuple[str, ...]
    overrides: Overrides
    skipped: tuple[str, ...] = ()
    excluded: tuple[str, ...] = ()
    ignored: tuple[str, ...] = ()
    sites: tuple[Path, ...] = ()


def read_machines(
    paths: Sequence[Path],
    rules: Rules,
    on: datetime.date | None,
    reader: Reader = DISK,
    excludes: Excludes | None = None,
) -> PreparedMachines:
    """Read machine files (and folders of them) to be checked as of a day (today if None).

    Raises InputError for a file that cannot be used, UsageError for paths that lead nowhere.
    """
    found = search(paths, reader, excludes)
    if found.first_error is not None:
        raise found.first_error
    trees = load_candidates(found.candidates, reader)
    if not trees:
        raise nothing_found(found)
    machines = [(tree, read_machine(tree)) for tree in trees]
    names = Counter(machine.name for _, machine in machines)
    ready = []
    overrides: list[tuple[str, str, str, str, str]] = []
    for tree, machine in machines:
        several = names[machine.name] > 1
        label = f"{machine.name} ({tree.sources[0].name})" if several else machine.name
        set_check_date(machine.facts, on or datetime.date.today())
        overrides.extend(apply_settings(machine, label, rules.every, rules.site))
        ready.append((machine, label))
    files = [source.name for tree in trees for source in tree.sources]
    skipped, excluded, ignored = (
        tuple(map(reader.name, paths)) for paths in (found.skipped, found.excluded, found.ignored)
    )
    read = tuple(dict.fromkeys(files))
    return PreparedMachines(
        tuple(ready), read, tuple(overrides), skipped, excluded, ignored, found.sites
    )


def left_out_of(tree: Tree | None, machine: str) -> tuple[LeftOut, ...]:
    """What the exports among the sources state and their import does not take."""
    sources = () if tree is None else tree.sources
    remarks = (each for source in sources for each in getattr(source, "remarks", ()))
    return tuple(LeftOut(machine, each.place, each.text) for each in remarks)
