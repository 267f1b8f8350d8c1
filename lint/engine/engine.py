"""Rules times subjects: which hold, which are broken, undecided, or do not apply.

Verdicts come from generated functions; only what is to be told is traced (see telling.py).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from functools import cached_property
from typing import TYPE_CHECKING, Any, Final, TypeAlias

from ..base.absence import NONE, none_above
from ..base.errors import RuleError
from ..base.garbage_collection import held_back
from ..base.lazy import dataclass
from ..catalogue.catalogue import Catalogue, RunnableRule, rule_file
from ..findings.builtin import DISPUTE, MISFIT
from ..findings.finding import Finding, Outcome, Tally, Undecided
from ..language.budget import LEFT, MAX_STEPS, PAIR_STEPS, TooManySteps, charged, limited, metered
from ..machine.reader import Facts, Machine

if TYPE_CHECKING:
    from .finding_builder import FindingBuilder

BROKEN, HOLDS, NOT_APPLICABLE = 0, 1, 2


@dataclass(frozen=True, slots=True)
class Case:
    """One rule on one subject: the records by variable, or why no records could be paired.

    ``missing`` (a join key that is not known) makes it undecided, ``absent`` (no partner) not
    applicable.
    """

    subject: str
    env: dict[str, Any]
    missing: tuple[str, ...] = ()
    absent: str = ""


class Results:
    """What checking one machine brought."""

    def __init__(self, machine: str, axes: int = 0) -> None:
        self.machine = machine
        self.axes = axes
        self.findings: list[Finding] = []
        self.undecided: list[Undecided] = []
        self.outcomes: list[Outcome] = []
        self.tallies: list[Tally] = []


@dataclass(frozen=True, slots=True)
class Options:
    """What to tell beside findings and undecided checks."""

    workings: bool = False
    every_outcome: bool = False


@held_back()
def check_machine(machine: Machine, label: str, catalogue: Catalogue, options: Options) -> Results:
    """Run every rule over one machine, which is shown as ``label``."""
    run = _Run(machine, label, catalogue, options, len(machine.axes))
    for axis in machine.axes:
        run.counts[axis["name"]] = Counter()
    for rule, items in ((DISPUTE, machine.disputes), (MISFIT, machine.misfits)):
        for item in items:
            finding = run.teller.built_in(rule, item)
            run.results.findings.append(finding)
            run.counts.setdefault(finding.subject, Counter())[BROKEN] += 1
    paired: Paired = {}
    try:
        columns = iter(verdicts_on_axes(catalogue.entries, machine))
    except TooManySteps as fault:
        raise run.too_many(fault.rule, fault) from None
    for entry in catalogue.entries:
        with run.limited(entry):
            if looks_at_one_axis(entry):
                run.judge_axes(entry, machine, next(columns))
                continue
            for case in cases(entry, machine, paired):
                run.judge(entry, case)
    return run.done()


AT_ONCE: Final = 32
"""Axes that all rules are run over before the next ones: few enough to stay in a core's cache."""


def looks_at_one_axis(entry: RunnableRule) -> bool:
    """Whether a rule looks at each axis alone (and the machine it belongs to)."""
    return entry.subject == "axis" and entry.join is None


def verdicts_on_axes(entries: Sequence[RunnableRule], machine: Machine) -> list[list[int | None]]:
    """For each rule that looks at one axis, its verdicts on the axes of a machine, in order.

    Raises TooManySteps, naming the rule, for one whose loops take more than all its axes may.
    """
    axes, facts = machine.axes, machine.facts
    judging = [entry for entry in entries if looks_at_one_axis(entry)]
    columns: list[list[int | None]] = [[] for _ in judging]
    left = [float(MAX_STEPS)] * len(judging)
    with limited():
        for start in range(0, len(axes), AT_ONCE):
            few = axes[start : start + AT_ONCE]
            for number, entry in enumerate(judging):
                function = entry.function
                LEFT.steps = left[number]
                try:
                    columns[number] += [function(axis, facts) for axis in few]
                except TooManySteps as fault:
                    fault.rule = entry.name
                    raise
                left[number] = LEFT.steps
    return columns


def check_given(
    subject: str,
    given: Sequence[Case],
    machine: Machine,
    label: str,
    catalogue: Catalogue,
    options: Options,
    aside: Machine,
    wanted: Callable[[RunnableRule, Case], bool] = lambda entry, case: True,
) -> Results:
    """Run the rules about ``subject`` (change or spare) over the cases that are given.

    ``machine`` is what is to be: after the change, with the spare in place. ``aside`` is what was,
    named by ``machine.set_aside``; see ``change_case`` and ``spare_case``. A case that is not
    ``wanted`` for a rule is passed over.
    """
    run = _Run(machine, label, catalogue, options, len(given), aside)
    for entry in catalogue.entries:
        if entry.subject == subject:
            with run.limited(entry):
                for case in given:
                    if wanted(entry, case):
                        run.judge(entry, case)
    return run.done()


def change_case(before: Facts, after: Facts) -> Case:
    """The case of one axis before and after a change; ``before`` belongs to a machine set aside."""
    env = {"before": before, "after": after, "machine": after["@machine"]}
    return Case(after["name"], env)


def spare_case(axis: Facts, fitted: Facts) -> Case:
    """The case of one axis with a spare in place; ``fitted`` (as it was) is of a machine aside."""
    return Case(axis["name"], {"axis": axis, "fitted": fitted, "machine": axis["@machine"]})


class _Run:
    """The rules on one machine, as they come out one by one."""

    def __init__(
        self,
        machine: Machine,
        label: str,
        catalogue: Catalogue,
        options: Options,
        axes: int,
        aside: Machine | None = None,
    ) -> None:
        self.results = Results(label, axes)
        self.counts: dict[str, Counter[int | None]] = {}
        self.axes: Sequence[Facts] = ()
        self.columns: list[
            Sequence[int | None]
        ] = []  # per rule: the verdicts on these axes, in order
        self.brought: set[tuple[object, ...]] = set()
        self.options = options
        self.told_by = machine, label, catalogue, options.workings, aside

    @cached_property
    def teller(self) -> FindingBuilder:
        """Made only when there is something to tell."""
        from .finding_builder import FindingBuilder

        return FindingBuilder(*self.told_by)

    @contextmanager
    def limited(self, entry: RunnableRule) -> Iterator[None]:
        """Let the loops of a rule take so many steps. Raises RuleError, with its place, beyond."""
        try:
            with limited():
                yield
        except TooManySteps as fault:
            raise self.too_many(entry.name, fault) from None

    def too_many(self, name: str, fault: TooManySteps) -> RuleError:
        """The error of a rule whose loops take too many steps, to be raised by the caller."""
        machine, label, catalogue, *_ = self.told_by
        rule = catalogue.rules[name]
        what = f"rule {name} takes more than {MAX_STEPS:,} steps on {label}"
        what += f", which has {len(machine.axes)} axes"
        return rule_file(catalogue, rule.file).error(rule.at, what, fault.expected)

    def judge(self, entry: RunnableRule, case: Case) -> None:
        """Run one rule on one case and keep what is to be told."""
        verdict: int | None
        if case.missing:
            verdict = None
        elif case.absent:
            verdict = NOT_APPLICABLE
        else:
            verdict = entry.function(*(case.env[name] for name in entry.arguments))
        owner = _owner(case)
        count = self.counts.get(owner)
        if count is None:
            count = self.counts[owner] = Counter()
        count[verdict] += 1
        if verdict in (BROKEN, None) or self.options.every_outcome:
            self.tell(entry, case, verdict)

    def judge_axes(
        self, entry: RunnableRule, machine: Machine, verdicts: Sequence[int | None]
    ) -> None:
        """Keep what is to be told of the verdicts of a rule that looks at one axis alone."""
        facts = machine.facts
        assert entry.arguments == ("axis", "machine")
        self.axes = machine.axes
        self.columns.append(verdicts)
        every = self.options.every_outcome
        if not every and BROKEN not in verdicts and None not in verdicts:
            return
        quickly = None if every or None not in verdicts else self.teller.undecided_axis(entry)
        for axis, verdict in zip(self.axes, verdicts, strict=True):
            if verdict and not every:  # it holds, or does not apply
                continue
            told = quickly(axis, facts) if verdict is None and quickly else None
            if told is not None:
                self.results.undecided.append(told)
            else:
                self.tell(entry, Case(axis["name"], {"axis": axis, "machine": facts}), verdict)

    def tell(self, entry: RunnableRule, case: Case, verdict: int | None) -> None:
        """Keep what is to be told about a verdict."""
        finding = told = None
        if verdict == BROKEN:
            finding = self.teller.finding(entry, case)
            self.results.findings.append(finding)
        elif verdict is None:
            told, extra = self.teller.undecided(entry, case)
            self.results.undecided.append(told)
            self.keep_once(extra, _owner(case))
        if self.options.every_outcome:
            outcome = self.teller.outcome(entry, case, verdict, finding, told)
            self.results.outcomes.append(outcome)

    def keep_once(self, findings: Iterable[Finding], owner: str) -> None:
        """Keep findings that several undecided checks may bring."""
        for finding in findings:
            key = finding.rule, finding.subject, finding.message, finding.marks
            if key not in self.brought:
                self.brought.add(key)
                self.results.findings.append(finding)
                self.counts.setdefault(owner, Counter())[BROKEN] += 1

    def done(self) -> Results:
        """What came out, with the tallies of all subjects."""
        for axis, verdicts in zip(self.axes, zip(*self.columns, strict=True), strict=False):
            count = self.counts.setdefault(axis["name"], Counter())
            for verdict in (HOLDS, BROKEN, None, NOT_APPLICABLE):
                count[verdict] += verdicts.count(verdict)
        for subject, count in self.counts.items():
            decided = count[HOLDS], count[BROKEN], count[None], count[NOT_APPLICABLE]
            self.results.tallies.append(Tally(self.results.machine, subject, *decided))
        return self.results


def _owner(case: Case) -> str:
    """The subject whose tally a case counts for."""
    return str(case.env["axis"]["name"]) if "axis" in case.env else case.subject


Join: TypeAlias = tuple[str, str, str]
Paired: TypeAlias = dict[Join, list[Case]]
"""The cases of rules that pair axes, by how they do: the same for all that do it alike."""


def cases(entry: RunnableRule, machine: Machine, paired: Paired) -> Iterator[Case]:
    """The subjects a rule ranges over in a machine; ``paired`` keeps what other rules share."""
    facts = machine.facts
    if entry.subject == "machine":
        yield Case("", {"machine": facts})
        return
    if entry.subject != "axis":
        return  # changes and spares are given (see check_given)
    if entry.join is None:
        for axis in machine.axes:
            yield Case(axis["name"], {"axis": axis, "machine": facts})
        return
    found = paired.get(entry.join)
    if found is None:
        found = paired[entry.join] = list(_pairs(entry.join, machine))
    else:  # each rule is charged, though they are paired but once
        charged([case for case in found if not case.missing and not case.absent], PAIR_STEPS)
    yield from found


def _pairs(join: Join, machine: Machine) -> Iterator[Case]:
    variable, first_key, second_key = join
    axes = machine.axes
    index: dict[Any, list[tuple[int, Facts]]] = {}
    for number, axis in enumerate(axes):
        index.setdefault(axis.get(second_key), []).append((number, axis))
    unknown = {
        number: _to_state(axis, second_key)
        for number, axis in index.get(None, ())
        if not none_above(axis, second_key)
    }
    all_unknown = tuple(unknown.values())
    symmetric = first_key == second_key
    for number, axis in enumerate(axes):
        name = axis["name"]
        env = {"axis": axis, "machine": machine.facts}
        key = axis.get(first_key)
        if key is None or key is NONE:
            above = none_above(axis, first_key)
            if key is NONE or above:
                yield Case(name, env, absent=f"{above or first_key} is none")
            else:
                yield Case(name, env, missing=(_to_state(axis, first_key),))
            continue
        partners = [each for each in index.get(key, ()) if each[0] != number]
        if partners:
            for other_number, other in metered(partners, PAIR_STEPS):
                if not symmetric or other_number > number:
                    yield Case(name, {**env, variable: other})
            continue
        missing = all_unknown
        if number in unknown:
            missing = tuple(path for other, path in unknown.items() if other != number)
        if missing:
            yield Case(name, env, missing=missing)
        else:
            yield Case(name, env, absent=f"no other axis has {second_key} {key}")


def _to_state(axis: Facts, path: str) -> str:
    from ..language.missing_paths import to_state

    return f"{axis['@path']}.{to_state(axis, path)}"
