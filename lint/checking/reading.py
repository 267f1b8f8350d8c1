"""Machines ready to be checked: read, dated, with the settings in force put into them."""

from __future__ import annotations

import datetime
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

from ..base.errors import UsageError
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
from ..findings.finding import LevelChange, SiteRules
from ..importing.entry import load_trees
from ..machine.machine import Machine
from ..machine.reader import read_machine
from ..machine.records import set_check_date
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
        every = rules_in_force([Path(path) for path in rules])
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
    """Machines with the label each is shown under, the files read, and changed settings."""

    machines: tuple[tuple[Machine, str], ...]
    files: tuple[str, ...]
    overrides: Overrides


def read_machines(
    paths: Sequence[Path], rules: Rules, on: datetime.date | None, reader: Reader = DISK
) -> PreparedMachines:
    """Read machine files (and folders of them) to be checked as of a day (today if None).

    Raises InputError for a file that cannot be used, UsageError for paths that lead nowhere.
    """
    trees = load_trees(paths, reader)
    if not trees:
        raise UsageError("there is no machine file to check", expected="at least one")
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
    return PreparedMachines(tuple(ready), tuple(dict.fromkeys(files)), tuple(overrides))
