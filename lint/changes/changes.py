"""From two versions of machines to a report: what changed, and which findings the change brings."""

from __future__ import annotations

import datetime
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from ..base.errors import AxisproofError
from ..catalogue.catalogue import RunnableRule
from ..catalogue.describing import facts_read
from ..checking.reading import PreparedMachines, Rules, read_machines
from ..engine.cases import Case, change_case
from ..engine.engine import Options, Results, check_cases, check_machine
from ..findings.builtin import AXIS_REMOVED, AXIS_RENAMED
from ..findings.finding import (
    AxisChange,
    ChangeReport,
    FactChange,
    Finding,
    Mark,
    PersistingFinding,
    Undecided,
)
from ..machine.machine import Machine, with_role
from ..machine.records import Facts, notes_of
from ..source.revisions import Checkout, check_out
from .comparing import AxisPairs, MachineComparison, axis_changes, pair_axes

BEFORE = "before"

Labelled = tuple[Machine, str]


def changes(
    old: str,
    new: str,
    rules: Rules,
    on: datetime.date | None = None,
    workings: bool = False,
) -> ChangeReport:
    """Compare two versions: each a file, a folder, or REVISION:PATH of a git repository.

    Raises UsageError for a version that does not exist, InputError for an unusable machine.
    """
    with TemporaryDirectory(prefix="axisproof-") as top:
        checkouts = [
            check_out(text, _new_folder(Path(top, side)))
            for text, side in ((old, "old"), (new, "new"))
        ]
        prepared = [_read_version(each, rules, on) for each in checkouts]
        report = _compare_versions(prepared[0], prepared[1], rules, Options(workings))
        for each in checkouts:
            report = each.named(report)
    return replace(report, old=old, new=new)


def _new_folder(folder: Path) -> Path:
    folder.mkdir()
    return folder


def _read_version(checkout: Checkout, rules: Rules, on: datetime.date | None) -> PreparedMachines:
    try:
        return read_machines([checkout.path], rules, on)
    except AxisproofError as error:
        raise checkout.renamed_error(error) from None


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
    )


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
        self.facts += comparison.machine()
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
        self.compare_findings(
            check_machine(old, label, rules.catalogue, replace(options, decided=True)),
            check_machine(new, label, rules.catalogue, replace(options, decided=True)),
            pairs.renamed,
            {axis["name"] for axis in pairs.added},
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
    facts = {two["name"]: {_without_item(each.fact) for each in found} for _, two, found in changed}

    catalogue = rules.catalogue
    read = lru_cache(None)(lambda name: facts_read(catalogue, catalogue.rules[name]))

    def reads_a_change(entry: RunnableRule, case: Case) -> bool:
        facts_of_rule = read(entry.name)
        return any(_touches(one, two) for one in facts[case.subject] for two in facts_of_rule)

    return check_cases("change", cases, new, label, catalogue, options, before, reads_a_change)


def _without_item(fact: str) -> str:
    """A fact of the axis itself: for a fact of a list item, the list."""
    return fact.partition("[")[0]


def _touches(one: str, two: str) -> bool:
    """Whether two facts are the same, or one is a part that contains the other."""
    return one == two or one.startswith(two + ".") or two.startswith(one + ".")


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
