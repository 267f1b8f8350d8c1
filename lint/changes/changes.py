"""From two versions of machines to a report: what changed, and which findings the change brings."""

from __future__ import annotations

import datetime
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, field, replace
from functools import lru_cache
from pathlib import Path
from typing import Any, Final

from ..catalogue.catalogue import RunnableRule
from ..catalogue.describing import facts_read
from ..checking.options import CheckOptions
from ..checking.reading import PreparedMachines, Rules, left_out_of, read_machines
from ..engine.cases import Case, change_case
from ..engine.engine import Options, Results, check_cases, check_machine
from ..findings.builtin import AXIS_REMOVED, AXIS_RENAMED
from ..findings.change_report import (
    AxisChange,
    ChangeReport,
    EndedCheck,
    FactChange,
    PersistingFinding,
)
from ..findings.finding import Finding, LeftOut, Mark, Undecided
from ..machine.machine import Machine, with_role
from ..machine.records import Facts, notes_of
from ..source.versions import Version, opened_version
from .comparing import AxisPairs, MachineComparison, axis_changes, pair_axes
from .ended import end_of, ended_checks, no_longer_compared, touches, without_item
from .loosening import Side, loosened_sentences, side_of, uncompared_sentences, with_site_of

BEFORE = "before"
NOTHING_ASKED: Final = CheckOptions()

Labelled = tuple[Machine, str]


def changes(
    old: str,
    new: str,
    asked: CheckOptions = NOTHING_ASKED,
    *,
    site_files: bool = False,
) -> ChangeReport:
    """Compare two versions: each a file, a folder, or REVISION:PATH of a git repository.

    Rules, settings, day and workings are those of ``asked``, and so is the text of ``-``, which one
    version may be. With ``site_files``, the site file of each version counts for it: the new one
    judges, and what it loosens more than the old one is told. Raises UsageError for a version that
    does not exist, InputError for an unusable machine.
    """
    day = asked.on or datetime.date.today()
    with ExitStack() as stack:
        texts = {Path(path): text for path, text in (asked.texts or {}).items()}
        versions = [stack.enter_context(opened_version(each, texts)) for each in (old, new)]
        before, after = (side_of(each, asked, site_files) for each in versions)
        rules = after.rules
        # What the old version states in settings of its own rules is read by those rules.
        before_rules = replace(rules, every=before.rules.every)
        prepared = [
            _read_version(versions[0], before_rules, day, before),
            _read_version(versions[1], rules, day, after),
        ]
        report = _compare_versions(prepared[0], prepared[1], rules, Options(asked.workings))
        report = with_site_of(report, after, prepared[1], day)
        lost = _no_longer_checked(versions[0], prepared[0], versions[1], prepared[1])
        loosened = loosened_sentences(before, prepared[0], after, prepared[1])
        open_ = uncompared_sentences(before, after)
    return replace(
        report,
        old=old,
        new=new,
        day=day.isoformat(),
        no_longer_checked=lost,
        loosened=loosened,
        uncompared=open_,
    )


def _read_version(
    version: Version, rules: Rules, on: datetime.date, side: Side
) -> PreparedMachines:
    excludes = side.site.excludes(version.reader) if side.site else None
    return read_machines([version.path], rules, on, side.reader, excludes)


def _compare_versions(
    old: PreparedMachines, new: PreparedMachines, rules: Rules, options: Options
) -> ChangeReport:
    found = _ChangeCollector()
    for before, after in _paired(old.machines, new.machines):
        if after is None:
            assert before is not None
            found.add_removed_machine(*before, rules, options)
        elif before is None:
            found.add_new_machine(*after, rules, options)
        else:
            found.compare_machines(before, after, rules, options)
    return ChangeReport(
        "",
        "",
        tuple(dict.fromkeys((*old.files, *new.files))),
        tuple(label for _, label in new.machines),
        found.axes,
        rules.count("axis", "machine", "change"),
        tuple(found.facts),
        tuple(found.axis_changes),
        tuple(found.brought),
        tuple(found.new),
        tuple(found.persisting),
        tuple(found.gone),
        tuple(found.undecided),
        tuple(found.newly_undecided),
        tuple(found.lost_checks),
        new.overrides,
        rules.level_changes("axis", "machine", "change"),
        rules.site_rules("axis", "machine", "change"),
        _left_out(old, new),
        new.skipped,
        ignored=new.ignored,
        ended_checks=tuple(found.ended_checks),
    )


def _no_longer_checked(
    before: Version, old: PreparedMachines, after: Version, new: PreparedMachines
) -> tuple[str, ...]:
    """The files that the new version does not check, and of which the old version has facts."""
    checked = {_seen_from(before, file) for file in old.files}
    left_out = (*new.skipped, *new.excluded, *new.ignored)
    return tuple(file for file in left_out if _seen_from(after, file) in checked)


def _seen_from(version: Version, file: str) -> str:
    """The name of a file, as seen from the folder that is compared, or the bare name of a file."""
    top, path = version.path, version.reader.path(file)
    return path.relative_to(top).as_posix() if top in path.parents else path.name


def _left_out(old: PreparedMachines, new: PreparedMachines) -> tuple[LeftOut, ...]:
    """What the exports of the new version state and no fact takes, then what only the old ones do.

    Places and lines are not compared: most of it stands in both.
    """
    after, before = (
        [each for machine, label in side.machines for each in left_out_of(machine.tree, label)]
        for side in (new, old)
    )
    said = {(each.machine, each.text) for each in after}
    return (*after, *(each for each in before if (each.machine, each.text) not in said))


def _paired(
    old: Sequence[Labelled], new: Sequence[Labelled]
) -> list[tuple[Labelled | None, Labelled | None]]:
    """Pairs of machines by name, in the order of the new version; one and one are always a pair."""
    if len(old) == len(new) == 1:
        return [(old[0], new[0])]
    waiting: dict[str, list[Labelled]] = defaultdict(list)
    for each in old:
        waiting[each[0].name].append(each)
    pairs: list[tuple[Labelled | None, Labelled | None]] = []
    for each in new:
        same = waiting[each[0].name]
        pairs.append((same.pop(0) if same else None, each))
    return [*pairs, *((each, None) for left in waiting.values() for each in left)]


Key = tuple[str, str, tuple[str, ...]]


@dataclass
class _ChangeCollector:
    """The changes and findings of the machines compared so far."""

    axes: int = 0
    facts: list[FactChange] = field(default_factory=list)
    axis_changes: list[AxisChange] = field(default_factory=list)
    brought: list[Finding] = field(default_factory=list)
    new: list[Finding] = field(default_factory=list)
    persisting: list[PersistingFinding] = field(default_factory=list)
    gone: list[Finding] = field(default_factory=list)
    undecided: list[Undecided] = field(default_factory=list)
    newly_undecided: list[Undecided] = field(default_factory=list)
    lost_checks: list[Undecided] = field(default_factory=list)
    ended_checks: list[EndedCheck] = field(default_factory=list)

    def add_removed_machine(self, old: Machine, label: str, rules: Rules, options: Options) -> None:
        """Add a machine that only the old version has."""
        self.axis_changes.append(AxisChange(label, "", "removed"))
        self.brought += [
            AXIS_REMOVED.finding(
                label,
                axis["name"],
                f"the axis {axis['name']} is gone with its machine",
                _marks(old, axis, BEFORE),
            )
            for axis in old.axes
        ]
        self.gone += check_machine(old, label, rules.catalogue, options).findings

    def add_new_machine(self, new: Machine, label: str, rules: Rules, options: Options) -> None:
        """Add a machine that only the new version has."""
        self.axis_changes.append(AxisChange(label, "", "added"))
        results = check_machine(new, label, rules.catalogue, options)
        self.new += results.findings

    def compare_machines(
        self, before: Labelled, after: Labelled, rules: Rules, options: Options
    ) -> None:
        """Add the changes of a machine that both versions have."""
        old, new, label = before[0], after[0], after[1]
        pairs = pair_axes(old, new)
        self.axes += len(pairs.both)
        self.axis_changes += axis_changes(label, pairs)
        comparison = MachineComparison(old, new, label)
        whole = comparison.machine()
        self.facts += whole
        changed: list[tuple[Facts, Facts, list[FactChange]]] = []
        for one, two in pairs.both:
            facts = comparison.axis(one, two)
            self.facts += facts
            if facts:
                changed.append((one, two, facts))
        self.brought += _axis_findings(old, new, label, pairs)
        results = _change_findings(old, new, label, changed, rules, options)
        self.brought += results.findings
        self.undecided += results.undecided
        results_before, results_after = (
            check_machine(each, label, rules.catalogue, replace(options, decided=True))
            for each in (old, new)
        )
        gone = len(self.gone)
        added = {axis["name"] for axis in pairs.added}
        self.compare_findings(results_before, results_after, pairs.renamed, added)
        by_axis = {
            one["name"]: (two["name"], {without_item(each.fact): end_of(each) for each in facts})
            for one, two, facts in changed
        }
        self.lost_checks += no_longer_compared(
            self.gone[gone:], by_axis, results_after, rules.catalogue
        )
        kept = {one["name"]: two["name"] for one, two in pairs.both} | {"": ""}
        about_machine = {without_item(each.fact): end_of(each) for each in whole}
        self.ended_checks += ended_checks(
            results_before,
            results_after,
            kept,
            by_axis | {"": ("", about_machine)},
            {one["name"]: (one, two) for one, two in pairs.both},
            rules.catalogue,
        )

    def compare_findings(
        self, old: Results, new: Results, renamed: dict[str, str], added: set[str]
    ) -> None:
        """Divide the findings of ordinary rules into new, persisting and gone ones.

        Undecided checks of an added axis are not newly undecided.
        """
        before: dict[Key, list[Finding]] = defaultdict(list)
        for finding in old.findings:
            before[_finding_key(finding, renamed)].append(finding)
        for finding in new.findings:
            same = before[_finding_key(finding, {})]
            if same:
                self.persisting.append(PersistingFinding(finding, same.pop(0).message))
            else:
                self.new.append(finding)
        self.gone += [finding for left in before.values() for finding in left]
        known = Counter(
            (each.rule, renamed.get(each.subject, each.subject)) for each in old.undecided
        )
        decided = Counter[tuple[str, str]]()
        for (rule, subject), count in old.decided.items():
            decided[rule, renamed.get(subject, subject)] += count
        undecided = Counter((each.rule, each.subject) for each in new.undecided)
        for each in new.undecided:
            key = each.rule, each.subject
            if each.subject in added or undecided[key] <= known[key]:
                continue
            self.newly_undecided.append(each)
            if new.decided[key] < decided[key]:
                self.lost_checks.append(each)


def _finding_key(finding: Finding, renamed: dict[str, str]) -> Key:
    """What identifies a finding in both versions: rule, subject and facts, not the line."""

    def with_new_name(fact: str) -> str:
        parts = fact.split(".", 2)
        if parts[0] == "axes" and len(parts) > 1:
            parts[1] = renamed.get(parts[1], parts[1])
        return ".".join(parts)

    facts = tuple(sorted(map(with_new_name, finding.facts)))
    return finding.rule, renamed.get(finding.subject, finding.subject), facts


def _change_findings(
    old: Machine,
    new: Machine,
    label: str,
    changed: Iterable[tuple[Facts, Facts, list[FactChange]]],
    rules: Rules,
    options: Options,
) -> Results:
    """Run the rules about changes on each changed axis, if a rule reads a fact that changed."""
    before = with_role(old, BEFORE)
    axes_before = {axis["name"]: axis for axis in before.axes}
    cases = [change_case(axes_before[one["name"]], two) for one, two, _ in changed]
    facts = {two["name"]: {without_item(each.fact) for each in found} for _, two, found in changed}

    catalogue = rules.catalogue
    read = lru_cache(None)(lambda name: facts_read(catalogue, catalogue.rules[name]))

    def reads_a_change(entry: RunnableRule, case: Case) -> bool:
        facts_of_rule = read(entry.name)
        return any(touches(one, two) for one in facts[case.subject] for two in facts_of_rule)

    return check_cases("change", cases, new, label, catalogue, options, before, reads_a_change)


def _axis_findings(old: Machine, new: Machine, label: str, pairs: AxisPairs) -> Iterable[Finding]:
    for axis in pairs.removed:
        named = sorted(_facts_naming(new, axis["name"]))
        message = f"the axis {axis['name']} is gone"
        if named:
            message += f", and {' and '.join(named)} still name{'s' if len(named) == 1 else ''} it"
        yield AXIS_REMOVED.finding(label, axis["name"], message, _marks(old, axis, BEFORE))
    for one, two in pairs.both:
        if one["name"] != two["name"]:
            message = f"the axis {one['name']} is now called {two['name']}"
            marks = (*_marks(new, two, ""), *_marks(old, one, BEFORE))
            yield AXIS_RENAMED.finding(label, two["name"], message, marks)


def _facts_naming(machine: Machine, name: str) -> Iterable[str]:
    """The facts of a machine that name an axis."""
    for pair in machine.facts.get("collision_pairs", ()):
        if name in (pair.get("first"), pair.get("second")):
            yield notes_of(pair).path
    for axis in machine.axes:
        if axis.get("gantry.partner") == name:
            yield f"{notes_of(axis).path}.gantry.partner"
        if axis.get("differential.partner") == name:
            yield f"{notes_of(axis).path}.differential.partner"
        if name in axis.get("gantry.followers", ()):
            yield f"{notes_of(axis).path}.gantry.followers"
        after: Any = axis.get("controller.homing.after", ())
        if name in after:
            yield f"{notes_of(axis).path}.controller.homing.after"


def _marks(machine: Machine, axis: Facts, role: str) -> tuple[Mark, ...]:
    path = notes_of(axis).path
    place = machine.nearest(path)
    if place is None:
        return ()
    label = f"{role}: {axis['name']}" if role else axis["name"]
    fact = f"{role}:{path}" if role else path
    return (Mark(place, machine.line_text(place), fact, label),)
