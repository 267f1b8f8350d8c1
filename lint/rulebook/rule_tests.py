"""Runs the examples of rules, and checks that they tell each rule from its mutants.

An example is a small machine. ``passes`` wants the rule to hold and nothing broken or undecided,
``fails`` wants it broken, ``undecided`` undecided, ``skips`` not applicable. Both evaluators must
agree. If no example notices a mutant, the examples do not say what the rule says.
"""

from __future__ import annotations

import copy
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final, TypeVar

from ..base.errors import AxisproofError
from ..catalogue.catalogue import Catalogue, RunnableRule, catalogue, rule_file, shipped
from ..catalogue.describing import definitions_used
from ..engine.cases import cases
from ..engine.finding_builder import FindingBuilder
from ..engine.verdicts import BROKEN, verdict_of
from ..findings.rule_info import Alteration, RuleFault, RuleTestReport, Unnoticed
from ..language.budget import TooManySteps, limited
from ..language.printing import formula
from ..language.syntax import Definition, Expr, Hole, Rule
from ..language.tracer import Tracer
from ..machine.reader import read_plain
from ..source.places import path_parts
from .alterations import alteration
from .example_machines import TWO_MACHINES, build_example, example_machine, set_circumstances
from .mutants import Change, changed_expressions, mutants_of
from .outcomes import (
    OUTCOME_WORDS,
    WANTED_OUTCOMES,
    WARNS,
    DecisiveCase,
    PreparedExample,
    decisive_case,
    example_path,
    example_words,
    fault_at,
    one_sided,
    overall,
    pinned_values,
    ways,
    wrong_pins,
)
from .proposals import Proposer, Variant
from .range_mutants import range_mutants, ranged_anew


def run_rule_tests(paths: Sequence[Path] = ()) -> RuleTestReport:
    """Test the rules in ``paths`` (the shipped ones if empty); never raises for a bad example."""
    found = catalogue(paths)
    shipped_files = set(shipped().texts) if paths else set()
    entries = {entry.name: entry for entry in found.entries}
    faults: list[RuleFault] = []
    ready: list[_TestableRule] = []
    rules = [rule for rule in found.trees.rules if rule.file not in shipped_files]
    for rule in rules:
        prepared, wrong = _prepare(found, rule, entries[rule.name])
        try:
            with limited():
                outcomes = [
                    _run_example(found, rule, entries[rule.name], each) for each in prepared
                ]
        except TooManySteps as fault:
            faults.append(fault_at(found, rule, rule.at, fault.what, fault.expected))
            continue
        wrong += [fault for faults_of, _ in outcomes for fault in faults_of]
        faults += wrong
        if not wrong:
            expected = [outcome for _, outcome in outcomes]
            order = [*range(len(prepared))]
            ready.append(_TestableRule(rule, entries[rule.name], prepared, expected, order))
    mutants = 0
    unnoticed: list[_Mutant] = []
    for mutant in _all_mutants(found, ready, shipped_files):
        mutants += 1
        if not _is_noticed(found, mutant):
            unnoticed.append(mutant)
    examples = sum(len(found.examples[rule.name]) for rule in rules)
    told = tuple(_told(found, entries, unnoticed))
    return RuleTestReport(
        len(rules), examples, mutants, mutants - len(unnoticed), tuple(faults), told
    )


@dataclass(frozen=True, slots=True)
class _TestableRule:
    """A rule whose examples are all as they should be, with what each of them gives."""

    rule: Rule
    entry: RunnableRule
    prepared: list[PreparedExample]
    expected: list[tuple[Any, ...]]
    order: list[int]
    """The numbers of the examples, those first that noticed a mutant last."""


@dataclass(frozen=True, slots=True)
class _Mutant:
    """A change to a rule or a definition, and the rules whose examples may notice it.

    ``rule`` is the changed rule (None if a definition is changed), ``definitions`` those in force.
    """

    change: Change
    owner: Rule | Definition
    rule: Rule | None
    definitions: Mapping[tuple[str, str], Definition]
    defaults: Mapping[str, Expr]
    noticing: list[_TestableRule]
    order: list[_TestableRule]
    """The same rules, those first whose examples noticed a mutant last."""


def _all_mutants(
    found: Catalogue, ready: list[_TestableRule], shipped_files: set[str]
) -> Iterator[_Mutant]:
    for each in ready:
        for change, rule in (*mutants_of(each.rule), *range_mutants(each.rule)):
            yield _Mutant(
                change, each.rule, rule, found.definitions, found.defaults, [each], [each]
            )
    users: dict[tuple[str, str], list[_TestableRule]] = {}
    for each in ready:
        for key in definitions_used(found, each.rule):
            users.setdefault(key, []).append(each)
    for key, definition in found.definitions.items():
        if definition.file in shipped_files:
            continue
        noticing = users.get(key, [])
        order = [*noticing]
        for change, expr in changed_expressions(definition.expr):
            definitions = {**found.definitions, key: replace(definition, expr=expr)}
            yield _Mutant(
                change,
                definition,
                None,
                definitions,
                found.defaults,
                noticing,
                order,
            )


def _told(
    found: Catalogue, entries: Mapping[str, RunnableRule], unnoticed: Sequence[_Mutant]
) -> Iterator[Unnoticed]:
    """The alterations that no example notices, by the examples that would notice them."""
    by_rule: dict[str, list[_Mutant]] = {}
    for mutant in unnoticed:
        name = mutant.noticing[0].rule.name if mutant.noticing else ""
        by_rule.setdefault(name, []).append(mutant)
    for name, mutants in by_rule.items():
        told = [_altered(found, mutant) for mutant in mutants]
        left = dict.fromkeys(range(len(mutants)))
        if name:
            ready = mutants[0].noticing[0]
            variants = [Variant(each.rule or ready.rule, each.definitions) for each in mutants]
            proposer = Proposer(found, ready.rule, entries[name], ready.prepared, variants)
            for each in proposer.proposals():
                alterations = tuple(told[number] for number in each.notices)
                yield Unnoticed(name, alterations, each.lines, each.adds_to)
                left = {number: None for number in left if number not in each.notices}
        if left:
            alterations = tuple(told[number] for number in left)
            yield Unnoticed(name, alterations)


def _altered(found: Catalogue, mutant: _Mutant) -> Alteration:
    file = rule_file(found, _file_of(found, mutant))
    return alteration(mutant.change, file, mutant.owner.name)


def _file_of(found: Catalogue, mutant: _Mutant) -> str:
    """The file of what a mutant changes: a caution may stand in another one than its rule."""
    at, owner = mutant.change.before.at, mutant.owner
    if isinstance(owner, Rule) and not owner.at.line <= at.line <= owner.end_line:
        for text in found.trees.texts:
            holes = (part.expr for part in text.text if isinstance(part, Hole))
            if any(node.at == at for hole in holes for node in hole.walk()):
                return text.file
    return owner.file


def _prepare(
    found: Catalogue, rule: Rule, entry: RunnableRule
) -> tuple[list[PreparedExample], list[RuleFault]]:
    prepared: list[PreparedExample] = []
    faults: list[RuleFault] = []
    for example in found.examples[rule.name]:
        try:
            ready = build_example(found, rule, entry, example)
        except AxisproofError as fault:
            faults.append(
                RuleFault(rule.name, fault.what, fault.place, fault.source_line, fault.expected)
            )
            continue
        prepared.append(PreparedExample(example, ready.cases, ready.written))
    return prepared, faults


_MOST_DECIDING: Final = 4
"""Facts that are told of those which decided an example."""


def _deciding(
    rule: Rule, each: PreparedExample, outcome: int | None, decisive: DecisiveCase
) -> str:
    """The facts that decided an example, with their values, or those that it lacks."""
    if decisive is None:
        return ""
    if outcome is None:
        missing = (example_path(rule, path) for path in decisive[0].missing)
        needs = ", ".join([*missing, *decisive[0].reasons])
        return f" (lacks {needs})" if needs else ""
    paths = (*decisive[0].uses, *decisive[0].through)
    facts = [
        f"{example_path(rule, path)} = {each.written(path)}" for path in paths if each.written(path)
    ]
    more = f" and {len(facts) - _MOST_DECIDING} more" if len(facts) > _MOST_DECIDING else ""
    return f", by {', '.join(facts[:_MOST_DECIDING])}{more}" if facts else ""


def _run_example(
    found: Catalogue, rule: Rule, entry: RunnableRule, each: PreparedExample
) -> tuple[list[RuleFault], tuple[Any, ...]]:
    """Faults of an example, and what a mutant must change to be noticed."""
    tracer = Tracer(found.definitions, found.defaults, formula)
    faults: list[RuleFault] = []
    example = each.example
    verdicts, decisive = decisive_case(tracer, rule, each)
    for case, verdict in zip(ways(each.cases), verdicts, strict=True):
        if not case.missing:
            fast = verdict_of(entry, case)
            if fast != (BROKEN if verdict == WARNS else verdict):
                what = f"the two evaluators differ: {OUTCOME_WORDS[fast]}, {OUTCOME_WORDS[verdict]}"
                faults.append(fault_at(found, rule, example.at, what))
    outcome = overall(verdicts)
    if outcome != WANTED_OUTCOMES[example.kind]:
        detail = _deciding(rule, each, outcome, decisive)
        what = f"{example_words(example)}: {OUTCOME_WORDS[outcome]}{detail}"
        faults.append(
            fault_at(found, rule, example.at, what, OUTCOME_WORDS[WANTED_OUTCOMES[example.kind]])
        )
        return faults, ()
    faults += one_sided(found, rule, each, tracer, verdicts)
    if decisive is not None:
        faults += wrong_pins(found, rule, each, tracer, *decisive)
        if outcome == BROKEN and rule.fix is not None and rule.subject not in TWO_MACHINES:
            faults += _useless_fix(found, rule, entry, each, decisive[1])
    return faults, (outcome, *pinned_values(tracer, rule, each, decisive))


def _useless_fix(
    found: Catalogue, rule: Rule, entry: RunnableRule, each: PreparedExample, env: dict[str, Any]
) -> Iterator[RuleFault]:
    """A fault if the value the rule proposes for a failing example leaves the rule broken."""
    assert rule.fix is not None
    as_stated = example_machine(found, rule, each.example)
    fix = FindingBuilder(as_stated, "example", found).fix(rule, env)
    if fix is None:
        return
    plain = copy.deepcopy(as_stated.plain)
    here: Any = plain
    *above, last = path_parts(fix.fact)
    for part in above:
        here = here.setdefault(part, {}) if isinstance(here, dict) else here[part]
        if not isinstance(here, dict | list):
            return  # a part that is none has no fact to set
    here[last] = _plain_value(fix.value)
    at, proposal = rule.fix.target.at, f"{example_words(each.example)}: {fix.fact} = {fix.value}"
    try:
        machine = read_plain(plain)
    except AxisproofError as fault:
        yield fault_at(found, rule, at, f"{proposal} is refused: {fault.what}", fault.expected)
        return
    set_circumstances(found, rule, each.example, machine)
    corrected = PreparedExample(each.example, tuple(cases(entry, machine, {})), machine.written)
    tracer = Tracer(found.definitions, found.defaults, formula)
    if overall(decisive_case(tracer, rule, corrected)[0]) == BROKEN:
        yield fault_at(
            found, rule, at, f"{proposal} does not make the rule hold", "a value that does"
        )


def _plain_value(text: str) -> Any:
    """A proposed value as the machine file would hold it."""
    if text in ("true", "false"):
        return text == "true"
    return int(text) if re.fullmatch(r"-?[0-9]{1,40}", text) else text


def _is_noticed(found: Catalogue, mutant: _Mutant) -> bool:
    """Whether an example notices a mutant: what noticed the last one often notices the next."""
    return _found_and_put_first(mutant.order, lambda each: _notices(found, mutant, each))


def _notices(found: Catalogue, mutant: _Mutant, ready: _TestableRule) -> bool:
    rule = mutant.rule or ready.rule
    return _found_and_put_first(
        ready.order, lambda number: _differs(found, mutant, rule, ready, number)
    )


_Item = TypeVar("_Item")


def _found_and_put_first(order: list[_Item], wanted: Callable[[_Item], bool]) -> bool:
    """Whether one of the items is wanted; the first such one moves to the front."""
    for place, each in enumerate(order):
        if wanted(each):
            order.insert(0, order.pop(place))
            return True
    return False


def _differs(
    found: Catalogue, mutant: _Mutant, rule: Rule, ready: _TestableRule, number: int
) -> bool:
    """Whether an example gives something else with the mutant."""
    each = ready.prepared[number]
    tracer = Tracer(mutant.definitions, mutant.defaults, formula)
    try:
        with limited():
            each = ranged_anew(found, rule, ready.rule, ready.entry, each)
            verdicts, decisive = decisive_case(tracer, rule, each)
        pins = tuple(pinned_values(tracer, rule, each, decisive))
    except (TypeError, AttributeError, AssertionError, TooManySteps):
        return True  # the mutation made nonsense, which any example notices
    return (overall(verdicts), *pins) != ready.expected[number]
