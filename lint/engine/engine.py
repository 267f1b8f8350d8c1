"""From a machine and the rules to results: findings, undecided checks, outcomes and tallies.

Verdicts come from generated functions (see verdicts.py). Only a verdict that a report shows is
traced (see finding_builder.py).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from functools import cached_property

from ..base.errors import AxisproofError, Place
from ..base.garbage_collection import held_back
from ..base.lazy import dataclass, replace
from ..catalogue.catalogue import Catalogue, RunnableRule
from ..findings.builtin import DISPUTE, MISFIT
from ..findings.finding import Finding, Outcome, Tally, Undecided, UndecidedConcern
from ..language.budget import MAX_OWN_STEPS, MAX_RUN_STEPS, MAX_STEPS, RunBudget, TooManySteps
from ..machine.machine import Machine
from ..machine.records import Facts, notes_of
from .cases import Case, Shared, cases, looks_at_one_axis
from .exports import exports_before_teaching
from .verdicts import BROKEN, HOLDS, NOT_APPLICABLE, verdict_of, verdicts_on_axes, worse

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final

    from .finding_builder import FindingBuilder


MAX_TOLD: Final = 500_000
"""Most undecided checks of one machine that a report tells; they take some 400 bytes each."""

FINDING_TOLD: Final = 10
"""What a finding counts for beside an undecided check: it is as much larger."""


class Results:
    """The results of checking one machine.

    ``decided`` counts decided checks by rule and subject, if that was asked for.
    """

    def __init__(self, machine: str, axes: int = 0) -> None:
        self.machine = machine
        self.axes = axes
        self.findings: list[Finding] = []
        self.undecided: list[Undecided] = []
        self.undecided_concerns: list[UndecidedConcern] = []
        self.outcomes: list[Outcome] = []
        self.tallies: list[Tally] = []
        self.decided: Counter[tuple[str, str]] = Counter()


@dataclass(frozen=True, slots=True)
class Options:
    """What results hold in addition to findings and undecided checks."""

    workings: bool = False
    every_outcome: bool = False
    decided: bool = False


@held_back()
def check_machine(machine: Machine, label: str, catalogue: Catalogue, options: Options) -> Results:
    """Run every rule over one machine, which is shown as ``label``."""
    run = MachineRun(machine, label, catalogue, options, len(machine.axes))
    run.limit_own_rules()
    run.find_in_statements(machine)
    run.judge_all(catalogue.entries, machine, machine.axes)
    run.find_undecided_concerns(machine)
    run.find_causes()
    return run.done()


def check_cases(
    subject: str,
    given_cases: Sequence[Case],
    machine: Machine,
    label: str,
    catalogue: Catalogue,
    options: Options,
    before: Machine,
    selects: Callable[[RunnableRule, Case], bool] = lambda entry, case: True,
) -> Results:
    """Run the rules about ``subject`` (change or spare) over the given cases.

    ``machine`` is the machine after the change or with the spare in place, and ``before`` is the
    machine before that, with its role in its paths. A rule skips a case that ``selects`` refuses.
    See ``change_case`` and ``spare_case``.
    """
    run = MachineRun(machine, label, catalogue, options, len(given_cases), before)
    for entry in catalogue.entries:
        if entry.subject == subject:
            with run.limited(entry):
                for case in given_cases:
                    if selects(entry, case):
                        run.judge(entry, case)
    return run.done()


class MachineRun:
    """The rules on one machine: it collects the results, rule by rule."""

    def __init__(
        self,
        machine: Machine,
        label: str,
        catalogue: Catalogue,
        options: Options,
        axes: int,
        before: Machine | None = None,
        builder: FindingBuilder | None = None,
    ) -> None:
        self.results = Results(label, axes)
        self.counts: dict[str, Counter[int | None]] = {}
        self.axes: Sequence[Facts] = ()
        self.columns: dict[
            str, Sequence[int | None]
        ] = {}  # for each rule, its verdicts on ``axes``
        self.pairs: dict[str, dict[tuple[str, str], int | None]] = {}  # and on two axes
        self.kept: set[tuple[object, ...]] = set()
        self.options = options
        self.budget = RunBudget()
        self.told = 0
        self.builder_arguments = machine, label, catalogue, options.workings, before
        self.given_builder = builder

    @cached_property
    def builder(self) -> FindingBuilder:
        """What makes findings of verdicts; it is made for the first verdict that needs it."""
        if self.given_builder is not None:
            return self.given_builder
        from .finding_builder import FindingBuilder

        return FindingBuilder(*self.builder_arguments)

    @contextmanager
    def limited(self, entry: RunnableRule) -> Iterator[None]:
        """Limit the steps of a rule's loops. Raises the error of ``too_many`` for more of them."""
        try:
            with self.budget.rule(entry.name):
                yield
        except TooManySteps:
            raise self.too_many(entry.name) from None

    def too_many(self, name: str) -> AxisproofError:
        """The error of loops that take too many steps; the caller raises it.

        ``name`` is the rule that ran last. A site's rule is blamed itself, if no other has taken
        more; a shipped one is sound, so there the machine is too large or too uniform.
        """
        from .too_much import error_of_machine, error_of_rule

        machine, label, catalogue, *_ = self.builder_arguments
        together = self.budget.steps_left < 0
        most = MAX_RUN_STEPS if together else MAX_STEPS
        name = self.budget.largest() if together else name
        if catalogue.rules[name].file in catalogue.own_files:
            return error_of_rule(catalogue, catalogue.rules[name], label, machine, most, together)
        return error_of_machine(machine, f"the checks of {label} take more than {most:,} steps")

    def limit_own_rules(self) -> None:
        """Raise RuleError where a site's own rules would take too many steps on all axes."""
        machine, label, catalogue, *_ = self.builder_arguments
        if sum(catalogue.own_steps.values()) * len(machine.axes) > MAX_OWN_STEPS:
            from .too_much import error_of_own_rules

            raise error_of_own_rules(catalogue, label, len(machine.axes))

    def tell(self, checks: int) -> None:
        """Count what a report has to tell. Raises InputError if it is too much."""
        self.told += checks
        if self.told > MAX_TOLD:
            from .too_much import error_of_machine

            machine, label, *_ = self.builder_arguments
            what = f"more than {MAX_TOLD:,} things would have to be told of {label}"
            raise error_of_machine(machine, what)

    def find_in_statements(self, machine: Machine) -> None:
        """Keep the findings that no rule makes: what is stated cannot be used as it is."""
        for axis in machine.axes:
            self.counts[axis["name"]] = Counter()
        for rule, items in ((DISPUTE, machine.disputes), (MISFIT, machine.misfits)):
            for item in items:
                self.tell(FINDING_TOLD)
                finding = self.builder.built_in(rule, item)
                self.results.findings.append(finding)
                self.counts.setdefault(finding.subject, Counter())[BROKEN] += 1
        for axis, export, taught in exports_before_teaching(machine):
            self.results.findings.append(self.builder.old_export(axis, export, taught))
            self.counts[axis["name"]][BROKEN] += 1
        for missing in () if machine.tree is None else machine.tree.without_plate:
            self.results.findings.append(self.builder.no_plate(missing))
            self.counts[str(missing.path[1])][BROKEN] += 1

    def judge_all(
        self, entries: Sequence[RunnableRule], machine: Machine, axes: Sequence[Facts]
    ) -> None:
        """Run these rules over the machine; those that look at one axis, over these axes."""
        shared: Shared = {}
        self.axes = axes
        try:
            columns = iter(verdicts_on_axes(entries, axes, machine.facts, self.budget))
        except TooManySteps as fault:
            raise self.too_many(fault.rule) from None
        for entry in entries:
            if looks_at_one_axis(entry):
                self.judge_axes(entry, machine, next(columns))
                continue
            with self.limited(entry):
                for case in cases(entry, machine, shared):
                    self.judge(entry, case)

    def judge(self, entry: RunnableRule, case: Case) -> None:
        """Run one rule on one case and keep its results."""
        verdict = verdict_of(entry, case)
        if case.swapped is not None:
            case, verdict = self.both_ways(entry, case, verdict)
        if "axis" in case.env and "other" in case.env:
            self.note_pair(entry.name, case, verdict)
        count = self.counts.get(case.subject)
        if count is None:
            count = self.counts[case.subject] = Counter()
        count[verdict] += 1
        if self.options.decided and verdict in (HOLDS, BROKEN):
            self.results.decided[entry.name, case.subject] += 1
        if verdict in (BROKEN, None) or self.options.every_outcome:
            self.keep(entry, case, verdict)

    def note_pair(self, rule: str, case: Case, verdict: int | None) -> None:
        """Keep the verdict on two axes: of both ways, one that is decided, else one undecided."""
        first, second = sorted((case.env["axis"]["name"], case.env["other"]["name"]))
        known = self.pairs.setdefault(rule, {})
        before = known.get((first, second), NOT_APPLICABLE)
        if before == NOT_APPLICABLE or verdict in (HOLDS, BROKEN):
            known[first, second] = verdict

    def both_ways(
        self, entry: RunnableRule, case: Case, verdict: int | None
    ) -> tuple[Case, int | None]:
        """The verdict of both ways of a pair, and the case of the way that is told."""
        assert case.swapped is not None
        other = entry.function(*(case.swapped[name] for name in entry.arguments))
        worst = worse(verdict, other)
        if worst == verdict:
            return case, worst
        named = case.swapped.get("axis")
        subject = case.subject if named is None else named["name"]
        return replace(case, subject=subject, env=case.swapped), worst

    def judge_axes(
        self, entry: RunnableRule, machine: Machine, verdicts: Sequence[int | None]
    ) -> None:
        """Keep the results of a rule that looks at each axis alone."""
        facts = machine.facts
        assert entry.arguments == ("axis", "machine")
        self.columns[entry.name] = verdicts
        if self.options.decided:
            for axis, verdict in zip(self.axes, verdicts, strict=True):
                self.results.decided[entry.name, axis["name"]] += verdict in (HOLDS, BROKEN)
        if self.options.every_outcome or BROKEN in verdicts or None in verdicts:
            with self.limited(entry):
                self.keep_axes(entry, facts, verdicts)

    def keep_axes(self, entry: RunnableRule, facts: Facts, verdicts: Sequence[int | None]) -> None:
        """Keep the findings, undecided checks and outcomes of such a rule."""
        every = self.options.every_outcome
        quick = None if every or None not in verdicts else self.builder.undecided_axis(entry)
        for axis, verdict in zip(self.axes, verdicts, strict=True):
            if verdict and not every:  # it holds, or does not apply
                continue
            check = quick(axis, facts) if verdict is None and quick else None
            if check is not None:
                self.tell(1)
                self.results.undecided.append(check)
            else:
                self.keep(entry, Case(axis["name"], {"axis": axis, "machine": facts}), verdict)

    def keep(self, entry: RunnableRule, case: Case, verdict: int | None) -> None:
        """Keep the results of a verdict: a finding, an undecided check, an outcome."""
        finding = check = None
        self.tell(FINDING_TOLD if verdict == BROKEN else 1)
        if verdict == BROKEN:
            finding = self.builder.finding(entry, case)
            self.results.findings.append(finding)
        elif verdict is None:
            check, extra = self.builder.undecided(entry, case)
            self.results.undecided.append(check)
            self.keep_once(extra, case.subject)
        if self.options.every_outcome:
            outcome = self.builder.outcome(entry, case, verdict, finding, check)
            self.results.outcomes.append(outcome)

    def keep_once(self, findings: Iterable[Finding], owner: str) -> None:
        """Keep each finding once, as several undecided checks may lead to it."""
        for finding in findings:
            key = finding.rule, finding.subject, finding.message, finding.marks
            if key not in self.kept:
                self.kept.add(key)
                self.results.findings.append(finding)
                self.counts.setdefault(owner, Counter())[BROKEN] += 1

    def find_undecided_concerns(self, machine: Machine) -> None:
        """Keep the concerns of which nothing could be decided on an axis."""
        if self.results.undecided:
            from .concerns import undecided_concerns

            _, label, catalogue, *_ = self.builder_arguments
            found = undecided_concerns(
                machine, label, catalogue, self.columns, self.pairs, self.results.undecided
            )
            self.results.undecided_concerns += found

    def find_causes(self) -> None:
        """Say of each finding from which others it follows."""
        subjects = Counter(finding.subject for finding in self.results.findings)
        if any(number > 1 for number in subjects.values()):
            from .causes import with_causes

            self.results.findings = with_causes(self.results.findings, self.builder)

    def done(self) -> Results:
        """The results, with the tallies of all subjects."""
        for axis, verdicts in zip(
            self.axes, zip(*self.columns.values(), strict=True), strict=False
        ):
            count = self.counts.setdefault(axis["name"], Counter())
            for verdict in (HOLDS, BROKEN, None, NOT_APPLICABLE):
                count[verdict] += verdicts.count(verdict)
        for subject, count in self.counts.items():
            decided = count[HOLDS], count[BROKEN], count[None], count[NOT_APPLICABLE]
            place = self.places.get(subject)
            self.results.tallies.append(Tally(self.results.machine, subject, *decided, place))
        return self.results

    @cached_property
    def places(self) -> Mapping[str, Place | None]:
        """Where the machine and its axes stand in their files, for reports of every outcome."""
        machine = self.builder_arguments[0]
        if not self.options.every_outcome:
            return {}
        paths = {"": "axes", **{axis["name"]: notes_of(axis).path for axis in machine.axes}}
        return {subject: machine.nearest(path) for subject, path in paths.items()}
