"""What the site file of the new version loosens that the one of the old version does not.

A change must not pass by excusing itself. So whatever cannot be compared counts as loosened.
"""

from __future__ import annotations

import datetime
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from ..catalogue.catalogue import own_texts
from ..checking.accepted import AcceptedSet, apply_accepted, read_accepted
from ..checking.options import CheckOptions
from ..checking.reading import PreparedMachines, Rules
from ..checking.site_use import USUAL_FAIL_AT, use_of, with_covered, with_site
from ..checking.waivers import Waiver, Waivers, apply_waivers, read_waivers
from ..findings.change_report import ChangeReport, PersistingFinding
from ..findings.finding import LEVELS, Finding
from ..importing.shelf import named_types, with_shelf
from ..importing.site_file import SiteFile, read_site_file
from ..source.reader import STDIN, Reader
from ..source.site_search import repository_top, site_file_above
from ..source.versions import Version


@dataclass(frozen=True, slots=True)
class Side:
    """One version: its site file, the rules in force, its waivers and its accepted set.

    ``base`` is the folder from which its site file names files, and ``reader`` reads them, with its
    shelf. ``alone`` says why nobody can know its site file: it is a single file outside of any
    repository, such as a backup, or standard input. It is empty for any other.
    """

    site: SiteFile | None
    rules: Rules
    waivers: Waivers | None
    accepted: AcceptedSet | None
    base: Path
    reader: Reader
    alone: str

    def seen(self, path: Path) -> str:
        """The name of a file as seen from the folder of the site file."""
        real = self.reader.real(path)
        return (
            real.relative_to(self.base).as_posix() if real.is_relative_to(self.base) else real.name
        )


def side_of(version: Version, asked: CheckOptions, site_files: bool) -> Side:
    """Read the site file of a version and what it names.

    Raises InputError, RuleError and UsageError for what cannot be used.
    """
    path, reader = version.path, version.reader
    site = None
    if site_files:
        found = site_file_above(path, reader)
        site = None if found is None else read_site_file(found, reader)
    filled = with_site(replace(asked, site=site))
    site = filled.site
    rules = Rules.of(filled.rules, filled.settings, reader)
    waivers = read_waivers(Path(filled.waivers), rules.every, reader) if filled.waivers else None
    accepted = read_accepted(Path(filled.accepted), reader) if filled.accepted else None
    top = repository_top(path.parent, reader)
    bare = not reader.is_folder(path) and top is None
    store = reader.store_of(path)
    base = reader.real(site.path.parent if site else store.root if store else path)
    reader = with_shelf(reader, Path(filled.shelf) if filled.shelf else None)
    alone = "is a file outside of a repository, and no site file is above it"
    if path == STDIN:
        alone = "comes from standard input"
    elif not bare or site is not None:
        alone = ""
    return Side(site, rules, waivers, accepted, base, reader, alone)


def with_site_of(
    report: ChangeReport, side: Side, prepared: PreparedMachines, day: datetime.date
) -> ChangeReport:
    """The report with findings marked that the new version's waivers and accepted set cover."""
    marked = [_marked(side, prepared, day, part) for part in (report.brought, report.new_findings)]
    kept = _marked(side, prepared, day, [each.finding for each in report.persisting])
    persisting = tuple(
        PersistingFinding(finding, each.message_before)
        for finding, each in zip(kept, report.persisting, strict=True)
    )
    report = replace(report, brought=marked[0], new_findings=marked[1], persisting=persisting)
    if side.site is None:
        return report
    use = use_of(side.site, report.level_changes, prepared.excluded, prepared.sites, side.reader)
    covered = with_covered(use, side.site, [*marked[0], *marked[1], *kept])
    return replace(report, site_file=covered)


def _marked(
    side: Side,
    prepared: PreparedMachines,
    day: datetime.date,
    findings: Sequence[Finding],
) -> tuple[Finding, ...]:
    marked: Sequence[Finding] = findings
    if side.waivers is not None:
        told = apply_waivers(marked, side.waivers, prepared.machines, day)
        marked = told[: len(marked)]  # what is wrong with a waiver is for a check to say
    if side.accepted is not None:
        marked, _ = apply_accepted(marked, side.accepted)
    return tuple(marked)


def loosened_sentences(
    old: Side, old_machines: PreparedMachines, new: Side, new_machines: PreparedMachines
) -> tuple[str, ...]:
    """What the new version loosens more than the old one, each in a sentence."""
    if (old.site is None and new.site is None) or old.alone:
        return ()
    excluded = _new(
        (old.seen(old.reader.path(name)) for name in old_machines.excluded),
        (new.seen(new.reader.path(name)) for name in new_machines.excluded),
    )
    return (
        *_levels(old.rules, new.rules),
        *_own_rules(old.rules, new.rules),
        *_settings(old.rules, new.rules),
        *_waivers(old.waivers, new.waivers),
        *_accepted(old.accepted, new.accepted),
        *_patterns(old.site, new.site),
        *(f"{name} is excluded now." for name in excluded),
        *_checked(old, new),
        *_failing_level(old.site, new.site),
        *_shelf(old, new, new_machines),
    )


def uncompared_sentences(old: Side, new: Side) -> tuple[str, ...]:
    """What of the site files nobody could compare, each in a sentence."""
    if not old.alone or new.site is None:
        return ()
    return (
        f"The old version {old.alone}. So nobody compared what the site file of the new version "
        "loosens.",
    )


def _new(old: Iterable[str], new: Iterable[str]) -> list[str]:
    """What is in ``new`` more often than in ``old``, sorted."""
    return sorted((Counter(new) - Counter(old)).elements())


def _levels(old: Rules, new: Rules) -> Iterator[str]:
    now = {entry.name: entry.level for entry in new.catalogue.entries}
    known = {entry.name for entry in new.every.entries}
    for entry in old.catalogue.entries:
        level = now.get(entry.name)
        if entry.name not in known:
            yield f"The rule {entry.name} of the site is gone."
        elif level is None:
            yield f"{entry.name} is switched off now."
        elif LEVELS.index(level) > LEVELS.index(entry.level):
            yield f"{entry.name} has the level {level} now. Before, it had {entry.level}."


_BLOCK: Final = re.compile(r"^(?=[^\s#])", re.MULTILINE)
"""Where a rule, definition or setting of a rule file begins."""


def _own_rules(old: Rules, new: Rules) -> Iterator[str]:
    """Rules, definitions and settings of the site that are not as they were."""
    before, after = (
        [block for text in own_texts(each.every).values() for block in _blocks(text)]
        for each in (old, new)
    )
    gone = {entry.name for entry in old.every.entries} - {e.name for e in new.every.entries}
    for block in _new(after, before):
        head = " ".join(block.split("\n", 1)[0].split())[:80]
        if head.removeprefix("rule ") not in gone:
            yield f"The rules of the site changed at: {head}."


def _blocks(text: str) -> Iterator[str]:
    for block in _BLOCK.split(text):
        lines = [line.rstrip() for line in block.splitlines()]
        kept = "\n".join(line for line in lines if line and not line.lstrip().startswith("#"))
        if kept:
            yield kept


def _settings(old: Rules, new: Rules) -> Iterator[str]:
    """Settings with another value: nobody can know which of two values is the stricter one."""
    before, after = ({name: each[1] for name, each in s.site.settings.items()} for s in (old, new))
    for name in sorted(before.keys() | after.keys()):
        if before.get(name) != after.get(name):
            was, now = (values.get(name, "its default") for values in (before, after))
            yield f"The setting {name} is {now} now. Before, it was {was}."


def _waivers(old: Waivers | None, new: Waivers | None) -> Iterator[str]:
    before, after = (
        [_waiver_text(each) for each in (waivers.entries if waivers else ())]
        for waivers in (old, new)
    )
    for text in _new(before, after):
        yield f"A waiver is new: {text.partition(chr(0))[0]}."


def _waiver_text(each: Waiver) -> str:
    """What a waiver covers, for which values and how long; the values are behind a NUL."""
    where = f"{each.machine} · {each.axis}" if each.axis else each.machine
    until = each.expires.isoformat()
    return f"{each.rule} on {where} ({each.stage}), until {until}\0{each.values}"


def _accepted(old: AcceptedSet | None, new: AcceptedSet | None) -> Iterator[str]:
    before, after = (
        [
            f"{each.rule} on {each.machine} · {each.subject}\0{each.facts} {each.stage}"
            for each in (known.findings if known else ())
        ]
        for known in (old, new)
    )
    for text in _new(before, after):
        yield f"A finding is accepted now: {text.partition(chr(0))[0]}."


def _patterns(old: SiteFile | None, new: SiteFile | None) -> Iterator[str]:
    before, after = (site.patterns if site else () for site in (old, new))
    for pattern in _new(before, after):
        if not pattern.startswith("!"):
            yield f"The site file excludes {pattern} now."
    for pattern in _new(after, before):
        if pattern.startswith("!"):
            yield f"The site file no longer keeps {pattern} in."
    turned = Counter(before) == Counter(after) and before != after
    if turned and any(pattern.startswith("!") for pattern in after):
        yield "The patterns of excluded files have another order now."


def _checked(old: Side, new: Side) -> Iterator[str]:
    """Files and folders that a check without PATH no longer takes."""
    if old.site is None or not old.site.check:
        return
    before, after = (
        [side.seen(each) for each in (side.site.check if side.site else ())] for side in (old, new)
    )
    for name in _new(after, before):
        yield f"The site file no longer asks to check {name}."


def _failing_level(old: SiteFile | None, new: SiteFile | None) -> Iterator[str]:
    was, now = ((site.fail_at if site else None) or USUAL_FAIL_AT for site in (old, new))
    if LEVELS.index(now) < LEVELS.index(was):
        yield f"The failing level is {now} now. Before, it was {was}."


def _shelf(old: Side, new: Side, machines: PreparedMachines) -> Iterator[str]:
    """Plates that are gone although machines name their types: nothing is compared with them."""
    before, after = (side.reader.shelf.plates if side.reader.shelf else {} for side in (old, new))
    trees = [machine.tree for machine, _ in machines.machines if machine.tree is not None]
    named = {each for tree in trees for each in named_types(tree)}
    for kind, model in sorted((before.keys() - after.keys()) & named):
        yield f"The shelf no longer has the plate of the {kind} {model}."
