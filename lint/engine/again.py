"""A machine is judged again after an edit: only what may have changed since the time before.

Most rules read facts of one axis and nothing else. What they find on an axis that states the same
is kept. So is what those find that read facts of the machine as well, while it states the same
beside its axes. All other rules run on the whole machine each time: pairs, groups, and whatever
reads facts of several axes. The findings are those of ``check_machine``. Only from which others
each finding follows is not worked out.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Any, Final, TypeAlias

from ..base.errors import AxisproofError, Place
from ..base.garbage_collection import held_back
from ..catalogue.catalogue import Catalogue, RunnableRule
from ..findings.builtin import ZERO_DIVISOR
from ..findings.finding import Finding, Undecided
from ..language.budget import MAX_RUN_STEPS, MAX_STEPS
from ..language.reach import Reaches, reach
from ..language.syntax import Expr, Hole, Rule
from ..machine.gantries import COUPLING, FOLLOWERS_ELSEWHERE
from ..machine.homing_order import HOMES_AFTER, STATED_AS, WAITS_FOR_STRANGER
from ..machine.machine import Machine
from ..machine.records import CHECK_DATE, NOTES, Facts, notes_of
from .cases import looks_at_one_axis
from .engine import MAX_TOLD, MachineRun, Options, check_machine
from .finding_builder import FindingBuilder

Moved: TypeAlias = "Callable[[str], int | None]"
"""By how many lines an axis stands further down, if its lines are as they were; else None."""


class Stale(Exception):
    """Nobody waits for the result any more."""


@dataclass(frozen=True, slots=True)
class AxisJudgement:
    """What some rules found on one axis.

    ``statement`` is what the axis states, ``state`` what else these rules may look at. ``steps``
    are those that the loops of each rule took, and ``told`` counts as it does in a whole check.
    """

    statement: Any
    state: tuple[Any, ...]
    findings: tuple[Finding, ...]
    undecided: tuple[Undecided, ...]
    steps: Mapping[str, float]
    told: int


@dataclass(frozen=True)
class Judgement:
    """The findings and undecided checks of a machine, with what is kept for the next time.

    ``alone`` is what the rules found that read one axis alone, ``beside`` what those found that
    read the machine as well, by the name of the axis. ``judged_again`` are the axes on which rules
    of the first kind ran.
    """

    catalogue: Catalogue
    findings: tuple[Finding, ...]
    undecided: tuple[Undecided, ...]
    alone: Mapping[str, AxisJudgement] = field(default_factory=dict)
    beside: Mapping[str, AxisJudgement] = field(default_factory=dict)
    judged_again: tuple[str, ...] = ()


_NOTHING: Final = Options()


@held_back()
def judge_again(
    machine: Machine,
    label: str,
    catalogue: Catalogue,
    before: Judgement | None = None,
    moved: Moved = lambda name: None,
    is_stale: Callable[[], bool] = lambda: False,
) -> Judgement:
    """Judge a machine, with what is kept of ``before``, a judgement of any machine.

    Raises Stale once ``is_stale`` says so, and otherwise as ``check_machine`` does.
    """
    rules = rules_by_reach(catalogue)
    run = MachineRun(machine, label, catalogue, _NOTHING, len(machine.axes))
    run.limit_own_rules()
    if before is None or before.catalogue is not catalogue:
        before = Judgement(catalogue, (), ())
    judging = _AxisRun(machine, FindingBuilder(machine, label, catalogue), is_stale)
    around = _stated_beside_axes(machine)
    try:
        alone, again = judging.all(rules.alone, before.alone, (), moved)
        beside, _ = judging.all(rules.beside, before.beside, around, _unknown)
        run.find_in_statements(machine)
        run.judge_all(rules.across, machine, machine.axes)
    except AxisproofError:  # a bound: only a whole check can tell which
        return _as_a_whole(machine, label, catalogue)
    kept = [*alone.values(), *beside.values()]
    if _takes_too_much(run, kept):
        return _as_a_whole(machine, label, catalogue)
    findings = _together(run.results.findings, kept)
    undecided = [one for each in kept for one in each.undecided] + run.results.undecided
    return Judgement(catalogue, findings, tuple(undecided), alone, beside, tuple(again))


def _together(findings: Iterable[Finding], axes: Iterable[AxisJudgement]) -> tuple[Finding, ...]:
    """All findings; that a divisor is zero once, though several rules may meet it."""
    found: dict[Any, Finding] = {}
    for finding in (*findings, *(one for kept in axes for one in kept.findings)):
        key = (finding.subject, finding.message, finding.marks)
        found.setdefault(key if finding.rule == ZERO_DIVISOR.name else len(found), finding)
    return tuple(found.values())


def _as_a_whole(machine: Machine, label: str, catalogue: Catalogue) -> Judgement:
    """The judgement of a whole check, which raises where a machine is too much for it."""
    results = check_machine(machine, label, catalogue, _NOTHING)
    names = tuple(axis["name"] for axis in machine.axes)
    findings = tuple(replace(each, follows=()) for each in results.findings)
    return Judgement(catalogue, findings, tuple(results.undecided), judged_again=names)


def _takes_too_much(run: MachineRun, kept: Iterable[AxisJudgement]) -> bool:
    """Whether a whole check could come to its bounds."""
    steps = dict(run.budget.taken)
    told = run.told
    for judgement in kept:
        told += judgement.told
        for name, taken in judgement.steps.items():
            steps[name] = steps.get(name, 0) + taken
    return (
        told > MAX_TOLD
        or sum(steps.values()) > MAX_RUN_STEPS
        or max(steps.values(), default=0) > MAX_STEPS
    )


class _AxisRun:
    """Judges the axes of a machine one by one."""

    def __init__(
        self, machine: Machine, builder: FindingBuilder, is_stale: Callable[[], bool]
    ) -> None:
        self.machine = machine
        self.builder = builder
        self.is_stale = is_stale
        self.state_of = _states(machine)

    def all(
        self,
        rules: tuple[RunnableRule, ...],
        before: Mapping[str, AxisJudgement],
        beside: tuple[Any, ...],
        moved: Moved,
    ) -> tuple[dict[str, AxisJudgement], list[str]]:
        """The judgements of all axes by these rules, and the axes that were judged again.

        ``beside`` is what the rules may look at beside the axis. Raises Stale.
        """
        found: dict[str, AxisJudgement] = {}
        again = []
        for axis in self.machine.axes:
            if self.is_stale():
                raise Stale
            name = axis["name"]
            statement = self.machine.plain["axes"][name]
            state = (*self.state_of(axis), *beside)
            last, kept = before.get(name), None
            if last is not None and last.state == state and _alike(last.statement, statement):
                kept = _placed_again(last, self.builder.label, moved)
            if kept is None:
                kept = self.judged(axis, rules, statement, state)
                again.append(name)
            found[name] = kept
        return found, again

    def judged(
        self,
        axis: Facts,
        rules: tuple[RunnableRule, ...],
        statement: Any,
        state: tuple[Any, ...],
    ) -> AxisJudgement:
        """What rules that read no other axis find on an axis."""
        machine, builder = self.machine, self.builder
        run = MachineRun(machine, builder.label, builder.catalogue, _NOTHING, 1, builder=builder)
        run.judge_all(rules, machine, [axis])
        steps = {name: taken for name, taken in run.budget.taken.items() if taken}
        findings, undecided = tuple(run.results.findings), tuple(run.results.undecided)
        return AxisJudgement(statement, state, findings, undecided, steps, run.told)


def _unknown(name: str) -> None:
    """Nothing is known of where the findings of an axis stand."""
    return


# What rules may look at ---------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class RulesByReach:
    """The rules on machines and axes by what they read.

    One axis ``alone``, one axis and facts of the machine ``beside`` it, or ``across`` axes.
    """

    alone: tuple[RunnableRule, ...]
    beside: tuple[RunnableRule, ...]
    across: tuple[RunnableRule, ...]


@lru_cache(maxsize=2)
def rules_by_reach(catalogue: Catalogue) -> RulesByReach:
    """The rules by all that they may read, for their verdict or for their texts."""
    known: Reaches = {}
    alone: list[RunnableRule] = []
    beside: list[RunnableRule] = []
    across: list[RunnableRule] = []
    for entry in catalogue.entries:
        if entry.subject not in ("axis", "machine"):
            continue
        if not looks_at_one_axis(entry):
            across.append(entry)
            continue
        reads = {
            fact
            for expr in _expressions(catalogue.rules[entry.name])
            for fact in reach(expr, catalogue.definitions, known)
        }
        if all(root == "axis" for root, _ in reads):
            alone.append(entry)
        elif all(root == "axis" or (root == "machine" and not _of_axes(p)) for root, p in reads):
            beside.append(entry)
        else:
            across.append(entry)
    return RulesByReach(tuple(alone), tuple(beside), tuple(across))


def _of_axes(path: str) -> bool:
    return path == "axes" or path.startswith(("axes.", "axes["))


def _stated_beside_axes(machine: Machine) -> tuple[Any, ...]:
    """All that the machine says beside its axes, and the day as of which it is checked."""
    stated = {key: value for key, value in machine.plain.items() if key != "axes"}
    return repr(stated), machine.facts.get(CHECK_DATE)


def _expressions(rule: Rule) -> Iterable[Expr]:
    """All that a rule evaluates, for its verdict or for its texts."""
    yield from (each for each in (rule.when, rule.require, rule.due) if each is not None)
    yield from (value for _, value in rule.lets)
    if rule.fix is not None:
        yield from (rule.fix.target, rule.fix.value)
        yield from () if rule.fix.over is None else (rule.fix.over,)
    for message in rule.messages:
        yield from (part.expr for part in message if isinstance(part, Hole))


def _states(machine: Machine) -> Callable[[Facts], tuple[Any, ...]]:
    """What gives all that a rule on one axis may look at beside what the axis states.

    That is the homing order and who belongs together, which follow from all axes, and the
    settings in force.
    """
    order = tuple((axis["name"], tuple(axis.get(STATED_AS) or ())) for axis in machine.axes)
    of_machine = _settings(machine.facts)

    def state(axis: Facts) -> tuple[Any, ...]:
        after = axis.get(HOMES_AFTER)
        partial = HOMES_AFTER in notes_of(axis).partial
        homing = None if after is None else (partial, order if len(after) else ())
        elsewhere = axis.get(FOLLOWERS_ELSEWHERE)
        gantry = elsewhere, FOLLOWERS_ELSEWHERE in notes_of(axis).partial, axis.get(COUPLING)
        return homing, axis.get(WAITS_FOR_STRANGER), gantry, _settings(axis), of_machine

    return state


def _settings(record: Facts) -> tuple[tuple[str, str], ...]:
    found = record[NOTES].settings
    return tuple((name, repr(found[name])) for name in sorted(found))


def _alike(one: Any, other: Any) -> bool:
    """Whether two statements are the same to the letter: 1 and 1.0 differ, and so does order."""
    return one is other or repr(one) == repr(other)


# Places -------------------------------------------------------------------------------------------


def _placed_again(kept: AxisJudgement, label: str, moved: Moved) -> AxisJudgement | None:
    """The same with the places that the facts have now; None if that is not certain."""
    findings: list[Finding] = []
    for finding in kept.findings:
        lines = moved(finding.subject)
        if lines is None:
            return None
        findings.append(_moved(finding, label, lines))
    undecided = kept.undecided
    if undecided and undecided[0].machine != label:
        undecided = tuple(replace(each, machine=label) for each in undecided)
    return replace(kept, findings=tuple(findings), undecided=undecided)


def _moved(finding: Finding, label: str, lines: int) -> Finding:
    """A finding whose places are so many lines further down; all are in the lines of its axis."""
    if not lines:
        return finding if finding.machine == label else replace(finding, machine=label)
    marks = tuple(replace(mark, place=_further(mark.place, lines)) for mark in finding.marks)
    fix = finding.fix
    if fix is not None and fix.place is not None:
        fix = replace(fix, place=_further(fix.place, lines))
    return replace(finding, machine=label, marks=marks, fix=fix)


def _further(place: Place, lines: int) -> Place:
    return replace(place, line=place.line + lines, end_line=place.end_line + lines)
