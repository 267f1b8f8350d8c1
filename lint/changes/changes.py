"""Two versions of machines held against each other: what changed, and what the change brings."""

from __future__ import annotations

import datetime
from collections import defaultdict
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
from ..machine.reader import Facts, Machine, set_aside
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

    Raises UsageError for what leads nowhere, InputError for a machine that cannot be used.
    """
    with TemporaryDirectory(prefix="axisproof-") as top:
        outs = [
            check_out(text, _made(Path(top, side))) for text, side in ((old, "old"), (new, "new"))
        ]
        ready = [_read(out, rules, on) for out in outs]
        report = _compare(ready[0], ready[1], rules, Options(workings))
        for out in outs:
            report = out.named(report)
    return replace(report, old=old, new=new)


def _made(folder: Path) -> Path:
    folder.mkdir()
    return folder


def _read(out: Checkout, rules: Rules, on: datetime.date | None) -> PreparedMachines:
    try:
        return read_machines([out.path], rules, on)
    except AxisproofError as error:
        raise out.renamed_error(error) from None


def _compare(
    old: PreparedMachines, new: PreparedMachines, rules: Rules, options: Options
) -> ChangeReport:
    found = _Found()
    for before, after in _paired(old.machines, new.machines):
        if after is None:
            assert before is not None
            found.machine_gone(*before, rules, options)
        elif before is None:
            found.machine_new(*after, rules, options)
        else:
            found.machine_changed(before, after, rules, options)
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
        tuple(found.still),
        tuple(found.gone),
        tuple(found.undecided),
        tuple(found.newly_undecided),
    )


def _paired(
    old: Sequence[Labelled], new: Sequence[Labelled]
) -> list[tuple[Labelled | None, Labelled | None]]:
    """Machines of one name, in the order of the new version; two lone ones whatever their name."""
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
class _Found:
    """What the machines compared so far brought."""

    axes: int = 0
    facts: list[FactChange] = field(default_factory=list)
    axis_changes: list[AxisChange] = field(default_factory=list)
    brought: list[Finding] = field(default_factory=list)
    new: list[Finding] = field(default_factory=list)
    still: list[PersistingFinding] = field(default_factory=list)
    gone: list[Finding] = field(default_factory=list)
    undecided: list[Undecided] = field(default_factory=list)
    newly_undecided: list[Undecided] = field(default_factory=list)

    def machine_gone(self, old: Machine, label: str, rules: Rules, options: Options) -> None:
        """A machine that only the old version has."""
        self.axis_changes.append(AxisChange(label, "", "removed"))
        self.gone += check_machine(old, label, rules.catalogue, options).findings

    def machine_new(self, new: Machine, label: str, rules: Rules, options: Options) -> None:
        """A machine that only the new version has."""
        self.axis_changes.append(AxisChange(label, "", "added"))
        results = check_machine(new, label, rules.catalogue, options)
        self.new += results.findings

    def machine_changed(
        self, before: Labelled, after: Labelled, rules: Rules, options: Options
    ) -> None:
        """A machine that both versions have."""
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
        self.brought += _of_axes(old, new, label, pairs)
        results = _of_the_change(old, new, label, changed, rules, options)
        self.brought += results.findings
        self.undecided += results.undecided
        self.held_against(
            check_machine(old, label, rules.catalogue, options),
            check_machine(new, label, rules.catalogue, options),
            pairs.renamed,
            {axis["name"] for axis in pairs.added},
        )

    def held_against(
        self, old: Results, new: Results, renamed: dict[str, str], added: set[str]
    ) -> None:
        """Part the findings of ordinary rules into new, still there and gone.

        That an axis which is new lacks facts is nothing the change took away.
        """
        before: dict[Key, list[Finding]] = defaultdict(list)
        for finding in old.findings:
            before[_key(finding, renamed)].append(finding)
        for finding in new.findings:
            same = before[_key(finding, {})]
            if same:
                self.still.append(PersistingFinding(finding, same.pop(0).message))
            else:
                self.new.append(finding)
        self.gone += [finding for left in before.values() for finding in left]
        known = {(each.rule, renamed.get(each.subject, each.subject)) for each in old.undecided}
        self.newly_undecided += [
            each
            for each in new.undecided
            if (each.rule, each.subject) not in known and each.subject not in added
        ]


def _key(finding: Finding, renamed: dict[str, str]) -> Key:
    """What makes a finding the same in both versions: rule, subject and facts, not the line."""

    def now(fact: str) -> str:
        parts = fact.split(".", 2)
        if parts[0] == "axes" and len(parts) > 1:
            parts[1] = renamed.get(parts[1], parts[1])
        return ".".join(parts)

    facts = tuple(sorted(map(now, finding.facts)))
    return finding.rule, renamed.get(finding.subject, finding.subject), facts


def _of_the_change(
    old: Machine,
    new: Machine,
    label: str,
    changed: Iterable[tuple[Facts, Facts, list[FactChange]]],
    rules: Rules,
    options: Options,
) -> Results:
    """Ask the rules about changes of each axis, those that look at a fact that changed."""
    was = set_aside(old, BEFORE)
    aside = {axis["name"]: axis for axis in was.axes}
    cases = [change_case(aside[one["name"]], two) for one, two, _ in changed]
    facts = {two["name"]: {_stem(each.fact) for each in found} for _, two, found in changed}

    catalogue = rules.catalogue
    read = lru_cache(None)(lambda name: facts_read(catalogue, catalogue.rules[name]))

    def wanted(entry: RunnableRule, case: Case) -> bool:
        seen = read(entry.name)
        return any(_touches(one, two) for one in facts[case.subject] for two in seen)

    return check_cases("change", cases, new, label, catalogue, options, was, wanted)


def _stem(fact: str) -> str:
    """A fact of the axis itself: the list for anything within one of its items."""
    return fact.partition("[")[0]


def _touches(one: str, two: str) -> bool:
    """Whether a fact is another one, or one of the two is a part that holds the other."""
    return one == two or one.startswith(two + ".") or two.startswith(one + ".")


def _of_axes(old: Machine, new: Machine, label: str, pairs: AxisPairs) -> Iterable[Finding]:
    for axis in pairs.removed:
        named = sorted(_naming(new, axis["name"]))
        message = f"the axis {axis['name']} is gone"
        if named:
            message += f", and {' and '.join(named)} still name{'s' if len(named) == 1 else ''} it"
        yield AXIS_REMOVED.finding(label, axis["name"], message, _marks(old, axis, BEFORE))
    for one, two in pairs.both:
        if one["name"] != two["name"]:
            message = f"the axis {one['name']} is now called {two['name']}"
            marks = (*_marks(new, two, ""), *_marks(old, one, BEFORE))
            yield AXIS_RENAMED.finding(label, two["name"], message, marks)


def _naming(machine: Machine, name: str) -> Iterable[str]:
    """The facts of a machine that name an axis."""
    for pair in machine.facts.get("collision_pairs", ()):
        if name in (pair.get("first"), pair.get("second")):
            yield pair["@path"]
    for axis in machine.axes:
        if axis.get("gantry.partner") == name:
            yield f"{axis['@path']}.gantry.partner"
        after: Any = axis.get("controller.homing.after", ())
        if name in after:
            yield f"{axis['@path']}.controller.homing.after"


def _marks(machine: Machine, axis: Facts, role: str) -> tuple[Mark, ...]:
    path = axis["@path"]
    place = machine.nearest(path)
    if place is None:
        return ()
    label = f"{role}: {axis['name']}" if role else axis["name"]
    fact = f"{role}:{path}" if role else path
    return (Mark(place, machine.line_text(place), fact, label),)
