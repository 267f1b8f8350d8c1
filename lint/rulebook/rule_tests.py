"""Runs the examples of rules, and checks that they tell each rule from its mutants.

An example is a small machine. ``passes`` wants the rule to hold and nothing broken or undecided,
``fails`` wants it broken, ``undecided`` undecided, ``skips`` not applicable. Both evaluators must
agree. A mutant is the rule with one operator, word, number or part changed, in what it asks, in
what it computes for its messages or in the value it proposes; if no example notices, the examples
do not say what the rule says.
"""

from __future__ import annotations

import copy
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

from ..base.errors import AxisproofError, Place
from ..catalogue.catalogue import Catalogue, RunnableRule, catalogue, rule_file, shipped
from ..catalogue.describing import definitions_used
from ..engine.cases import Case, cases, change_case, spare_case
from ..engine.finding_builder import FindingBuilder
from ..engine.verdicts import BROKEN, HOLDS, NOT_APPLICABLE
from ..findings.rule_info import RuleFault, RuleTestReport
from ..language.budget import TooManySteps, limited
from ..language.helpers import within
from ..language.operators import NO_MUTATIONS, OPERATORS
from ..language.printing import formula, show
from ..language.syntax import SUBJECTS, Definition, Example, Expr, Hole, Rule, Span, Template
from ..language.traced import Traced
from ..language.tracer import Tracer
from ..machine.reader import Fault, Machine, read_plain, set_aside
from ..machine.schema import ROLE_END
from ..numbers.exact import Approx, absolute, eq
from ..numbers.rational import Fraction
from ..source.places import path_parts

WANTED: Final = {
    "passes": HOLDS,
    "fails": BROKEN,
    "undecided": None,
    "skips": NOT_APPLICABLE,
}
_WORDS: Final = {
    HOLDS: "the rule holds",
    BROKEN: "the rule is broken",
    None: "the rule is undecided",
    NOT_APPLICABLE: "the rule does not apply",
}


@dataclass(frozen=True, slots=True)
class _PreparedExample:
    """An example with the cases the rule has in it."""

    example: Example
    cases: tuple[Case, ...]


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
                outcomes = [_run(found, rule, entries[rule.name], each) for each in prepared]
        except TooManySteps as fault:
            faults.append(_fault(found, rule, rule.at, fault.what, fault.expected))
            continue
        wrong += [fault for faults_of, _ in outcomes for fault in faults_of]
        faults += wrong
        if not wrong:
            ready.append(_TestableRule(rule, prepared, [outcome for _, outcome in outcomes]))
    mutants = killed = 0
    for mutant in _mutants(found, ready, shipped_files):
        mutants += 1
        if any(_notices(mutant, each) for each in mutant.noticing):
            killed += 1
        else:
            what = f"no example notices when {mutant.words}"
            expected = "an example whose outcome or pinned value changes"
            faults.append(_fault(found, mutant.owner, mutant.at, what, expected))
    examples = sum(len(found.examples[rule.name]) for rule in rules)
    return RuleTestReport(len(rules), examples, mutants, killed, tuple(faults))


@dataclass(frozen=True, slots=True)
class _TestableRule:
    """A rule whose examples are all as they should be, with what each of them gives."""

    rule: Rule
    prepared: list[_PreparedExample]
    expected: list[tuple[Any, ...]]


@dataclass(frozen=True, slots=True)
class _Mutant:
    """A change to a rule or a definition, and the rules whose examples may notice it.

    ``rule`` is the changed rule (None if a definition is changed), ``definitions`` those in force.
    """

    words: str
    at: Span
    owner: Rule | Definition
    rule: Rule | None
    definitions: Mapping[tuple[str, str], Definition]
    defaults: Mapping[str, Expr]
    noticing: list[_TestableRule]


def _mutants(
    found: Catalogue, ready: list[_TestableRule], shipped_files: set[str]
) -> Iterator[_Mutant]:
    for each in ready:
        for words, at, rule in mutants_of(each.rule):
            yield _Mutant(words, at, each.rule, rule, found.definitions, found.defaults, [each])
    users: dict[tuple[str, str], list[_TestableRule]] = {}
    for each in ready:
        for key in definitions_used(found, each.rule):
            users.setdefault(key, []).append(each)
    for key, definition in found.definitions.items():
        if definition.file in shipped_files:
            continue
        for words, at, expr in _changed(definition.expr):
            definitions = {**found.definitions, key: replace(definition, expr=expr)}
            yield _Mutant(
                f"in {definition.name} {words}",
                at,
                definition,
                None,
                definitions,
                found.defaults,
                users.get(key, []),
            )


def _fault(
    found: Catalogue, rule: Rule | Definition, at: Span, what: str, expected: str = ""
) -> RuleFault:
    file = rule_file(found, rule.file)
    place = Place(rule.file, at.line, at.column, at.end_line, at.end_column)
    return RuleFault(rule.name, what, place, file.line(at.line), expected)


def _prepare(
    found: Catalogue, rule: Rule, entry: RunnableRule
) -> tuple[list[_PreparedExample], list[RuleFault]]:
    prepared: list[_PreparedExample] = []
    faults: list[RuleFault] = []
    for example in found.examples[rule.name]:
        try:
            ready = example_cases(found, rule, entry, example)
        except AxisproofError as fault:
            faults.append(
                RuleFault(rule.name, fault.what, fault.place, fault.source_line, fault.expected)
            )
            continue
        prepared.append(_PreparedExample(example, ready))
    return prepared, faults


_TWO_MACHINES: Final[Mapping[str, tuple[str, str, Callable[..., Case]]]] = {
    "change": ("before", "after", change_case),
    "spare": ("fitted", "axis", spare_case),
}
"""Subjects that look at one axis of two machines: as it was, as it is to be, and the case."""


@dataclass(frozen=True, slots=True)
class ExampleMachine:
    """What an example states: its cases, the machine, and what it was before (or None)."""

    cases: tuple[Case, ...]
    machine: Machine
    aside: Machine | None = None


def stated(found: Catalogue, rule: Rule, entry: RunnableRule, example: Example) -> ExampleMachine:
    """Build the machines an example states. Raises RuleError as example_machine does."""
    if rule.subject not in _TWO_MACHINES:
        machine = example_machine(found, rule, example)
        return ExampleMachine(tuple(cases(entry, machine, {})), machine)
    old, new, make_case = _TWO_MACHINES[rule.subject]
    was = set_aside(example_machine(found, rule, example, old), old)
    machine = example_machine(found, rule, example, new)
    return ExampleMachine((make_case(**{old: was.axes[0], new: machine.axes[0]}),), machine, was)


def example_cases(
    found: Catalogue, rule: Rule, entry: RunnableRule, example: Example
) -> tuple[Case, ...]:
    """Build the cases an example states. Raises RuleError as example_machine does."""
    return stated(found, rule, entry, example).cases


def example_machine(found: Catalogue, rule: Rule, example: Example, variable: str = "") -> Machine:
    """Build the machine an example states.

    Each fact's path begins with the name of an axis, or with ``machine``; where the rule looks at
    two machines, with one of its variables, and only the facts of ``variable`` are put into the
    machine, which has one axis. An axis whose motion is not stated is linear; ``missing`` as a
    value takes a fact that `given` stated away. Raises RuleError at the fact that the machine
    schema refuses.
    """
    variables = SUBJECTS[rule.subject]
    file = rule_file(found, rule.file)
    plain: dict[str, Any] = {"axes": {}}
    spots: dict[tuple[str, ...], tuple[Span, Span]] = {}
    for fact in example.facts:
        if fact.value == "missing":
            continue
        head, *rest = fact.path.split(".")
        parts = tuple(rest) if head == "machine" else ("axes", head, *rest)
        if not rest:
            raise file.error(fact.at, f"{fact.path} is no fact", "axis.PATH or machine.PATH")
        if variable and head not in variables:
            wanted = " or ".join(variables)
            raise file.error(fact.at, f"{head} is not what the rule looks at", wanted)
        if variable and head != "machine":
            if head != variable:
                continue
            parts = ("axes", "axis", *rest)
        here = plain
        for part in parts[:-1]:
            here = here.setdefault(part, {})
            if not isinstance(here, dict):
                raise file.error(fact.at, f"{fact.path} lies within a single value")
        if parts[-1] in here:
            raise file.error(fact.at, f"{fact.path} is stated twice")
        here[parts[-1]] = fact.value
        spots[parts] = (fact.at, fact.value_at)
    if not plain["axes"]:
        plain["axes"]["axis"] = {}
    for axis in plain["axes"].values():
        axis.setdefault("motion", "linear")

    def where(fault: Fault) -> AxisproofError:
        parts = tuple(str(part) for part in fault.path)
        for length in range(len(parts), 0, -1):
            at = spots.get(parts[:length])
            if at is not None:
                return file.error(at[0] if fault.key else at[1], fault.what, fault.expected)
        for spot, at in spots.items():
            if spot[: len(parts)] == parts:
                return file.error(at[0], fault.what, fault.expected)
        return file.error(example.at, fault.what, fault.expected)

    machine = read_plain(plain, where)
    machine.facts.setdefault("check_date", 0)
    return machine


def _verdict(tracer: Tracer, rule: Rule, case: Case) -> tuple[int | None, Traced, dict[str, Any]]:
    """The tracing evaluator's verdict with what it rests on."""
    if case.missing:
        return None, Traced(None, missing=case.missing), case.env
    if case.absent:
        return NOT_APPLICABLE, Traced(False), case.env
    condition = tracer.when(rule, case.env)
    if condition.value is not True:
        return (NOT_APPLICABLE if condition.value is False else None), condition, case.env
    env = tracer.with_lets(rule, case.env)
    required = tracer.value(rule.require, env)
    verdict = {True: HOLDS, False: BROKEN, None: None}[required.value]
    return verdict, required, env


def _overall(verdicts: Sequence[int | None]) -> int | None:
    """The outcome over all cases of an example: the worst that is not `does not apply`."""
    for wanted in (BROKEN, None, HOLDS):
        if wanted in verdicts:
            return wanted
    return NOT_APPLICABLE


Settled = tuple[Traced, dict[str, Any]] | None
"""What the case that gave an example its outcome rests on, and its environment."""


def _settled(
    tracer: Tracer, rule: Rule, each: _PreparedExample
) -> tuple[list[int | None], Settled]:
    """The verdict of every case, and the first case with the outcome the example wants."""
    verdicts: list[int | None] = []
    settled: Settled = None
    for case in each.cases:
        verdict, traced, env = _verdict(tracer, rule, case)
        if settled is None or verdict == WANTED[each.example.kind] != _overall(verdicts):
            settled = traced, env
        verdicts.append(verdict)
    return verdicts, settled


def _run(
    found: Catalogue, rule: Rule, entry: RunnableRule, each: _PreparedExample
) -> tuple[list[RuleFault], tuple[Any, ...]]:
    """Faults of an example, and what a mutant must change to be noticed."""
    tracer = Tracer(found.definitions, found.defaults, formula)
    faults: list[RuleFault] = []
    example = each.example
    verdicts, settled = _settled(tracer, rule, each)
    for case, verdict in zip(each.cases, verdicts, strict=True):
        if not case.missing and not case.absent:
            fast = entry.function(*(case.env[name] for name in entry.arguments))
            if fast != verdict:
                what = f"the two evaluators differ: {_WORDS[fast]}, {_WORDS[verdict]}"
                faults.append(_fault(found, rule, example.at, what))
    outcome = _overall(verdicts)
    if outcome != WANTED[example.kind]:
        needs = settled[0].missing + settled[0].reasons if settled and outcome is None else ()
        detail = f" (lacks {', '.join(needs)})" if needs else ""
        what = f"{example_words(example)}: {_WORDS[outcome]}{detail}"
        faults.append(_fault(found, rule, example.at, what, _WORDS[WANTED[example.kind]]))
        return faults, ()
    if settled is not None:
        faults += _pinned(found, rule, example, tracer, *settled)
        if outcome == BROKEN and rule.fix is not None and rule.subject not in _TWO_MACHINES:
            faults += _not_mended(found, rule, entry, each, settled[1])
    return faults, (outcome, *_pins(tracer, rule, example, settled))


def told(tracer: Tracer, rule: Rule, env: Mapping[str, Any]) -> str:
    """All that a finding tells in words: message, reason and remedy, and the value it proposes."""
    texts = []
    for template in (rule.say, rule.why, rule.remedy):
        parts = []
        for part in template:
            if isinstance(part, Hole):
                value = tracer.value(part.expr, env).value
                parts.append(show(value, part.expr.type, env, part.unit))
            else:
                parts.append(part)
        texts.append("".join(parts))
    fix = rule.fix
    if fix is not None and fix.over is None:
        value = tracer.number_or_value(fix.value, env).value
        root, path = fix.target.data
        texts.append(f"set {root}.{path} to {show(value, fix.target.type, env)}")
    return "\n".join(texts)


def _not_mended(
    found: Catalogue, rule: Rule, entry: RunnableRule, each: _PreparedExample, env: dict[str, Any]
) -> Iterator[RuleFault]:
    """A fault if the value the rule proposes for a failing example leaves the rule broken."""
    assert rule.fix is not None
    unmended = example_machine(found, rule, each.example)
    fix = FindingBuilder(unmended, "example", found).fix(rule, env)
    if fix is None:
        return
    plain = copy.deepcopy(unmended.plain)
    here: Any = plain
    *above, last = path_parts(fix.fact)
    for part in above:
        here = here.setdefault(part, {}) if isinstance(here, dict) else here[part]
        if not isinstance(here, dict | list):
            return  # a part that is none has no fact to set
    here[last] = _plain_value(fix.value)
    at, told = rule.fix.target.at, f"{example_words(each.example)}: {fix.fact} = {fix.value}"
    try:
        machine = read_plain(plain)
    except AxisproofError as fault:
        yield _fault(found, rule, at, f"{told} is refused: {fault.what}", fault.expected)
        return
    machine.facts.setdefault("check_date", 0)
    mended = _PreparedExample(each.example, tuple(cases(entry, machine, {})))
    tracer = Tracer(found.definitions, found.defaults, formula)
    if _overall(_settled(tracer, rule, mended)[0]) == BROKEN:
        yield _fault(found, rule, at, f"{told} leaves the rule broken", "a value that mends it")


def example_words(example: Example) -> str:
    """How an example is spoken of."""
    return f'{example.kind} "{example.title}"'


def _plain_value(text: str) -> Any:
    """A proposed value as the machine file would hold it."""
    if text in ("true", "false"):
        return text == "true"
    return int(text) if re.fullmatch(r"-?[0-9]{1,40}", text) else text


def _pins(tracer: Tracer, rule: Rule, example: Example, settled: Settled) -> Iterator[Any]:
    """The values of pinned names, for telling a mutant by them."""
    if settled is None:
        return
    _, env = settled
    for _, target, _, _ in example.expected:
        known = target.op != "local" or "let " + target.data[0] in env
        yield tracer.number_or_value(target, env).value if known else None
    if example.says:
        applies = all("let " + name in env for name, _ in rule.lets)
        text = told(tracer, rule, env) if applies else ""
        yield from (words in text for words, _ in example.says)


def _pinned(
    found: Catalogue,
    rule: Rule,
    example: Example,
    tracer: Tracer,
    traced: Traced,
    env: dict[str, Any],
) -> Iterator[RuleFault]:
    for name, target, want, at in example.expected:
        if target.op == "local" and "let " + name not in env:
            yield _fault(found, rule, at, f"{name} has no value in this example")
            continue
        got = tracer.number_or_value(target, env).value
        wanted = tracer.value(want, {}).value
        equal = got == wanted if want.type.kind != "number" else _same(got, wanted)
        if not equal:
            shown = show(got, target.type, env)
            yield _fault(found, rule, at, f"{name} is {shown}", show(wanted, want.type, env))
    text = told(tracer, rule, env) if example.says else ""
    for words, at in example.says:
        if words not in text:
            yield _fault(found, rule, at, f"{example_words(example)} does not say this", text)
    for path, at in example.needs:
        head, _, rest = path.partition(".")
        full = rest if head == "machine" else f"axes.{path}"
        if rule.subject in _TWO_MACHINES and head != "machine":
            old, *_ = _TWO_MACHINES[rule.subject]
            full = f"{old + ROLE_END if head == old else ''}axes.axis.{rest}"
        if not any(m.removesuffix(" (the whole list)") == full for m in traced.missing):
            lacks = ", ".join(traced.missing) or "nothing"
            yield _fault(found, rule, at, f"{path} is not what is missing", lacks)


def _same(got: Any, wanted: Any) -> bool:
    if got is None or wanted is None:
        return False
    if isinstance(got, Approx):
        # an example states an approximate value to six digits or so
        return bool(within(got, absolute(wanted) * Fraction(1, 10**5), wanted))
    return eq(got, wanted) is True


def _notices(mutant: _Mutant, ready: _TestableRule) -> bool:
    rule = mutant.rule or ready.rule
    for each, before in zip(ready.prepared, ready.expected, strict=True):
        tracer = Tracer(mutant.definitions, mutant.defaults, formula)
        try:
            with limited():
                verdicts, settled = _settled(tracer, rule, each)
            pins = tuple(_pins(tracer, rule, each.example, settled))
        except (TypeError, AttributeError, AssertionError, TooManySteps):
            return True  # the mutation made nonsense, which any example notices
        if (_overall(verdicts), *pins) != before:
            return True
    return False


# Mutants ----------------------------------------------------------------------------------------

_PAIRS: Final = (
    ("numerator", "denominator"),
    ("floor", "ceiling"),
    ("smaller", "larger"),
    ("largest_multiple", "smallest_multiple"),
)
_TWINS: Final = {a: b for pair in _PAIRS for a, b in (pair, pair[::-1])}
"""Functions of one signature that are easily taken for each other."""


def mutants_of(rule: Rule) -> Iterator[tuple[str, Span, Rule]]:
    """Rules with one change in condition, values or requirement: (words, place, mutant)."""
    if rule.when is not None:
        for words, at, expr in _changed(rule.when):
            yield words, at, replace(rule, when=expr)
    for number, (name, value) in enumerate(rule.lets):
        for words, at, expr in _changed(value):
            lets = (*rule.lets[:number], (name, expr), *rule.lets[number + 1 :])
            yield words, at, replace(rule, lets=lets)
    for words, at, expr in _changed(rule.require):
        yield words, at, replace(rule, require=expr)
    yield from _retold(rule, "say", rule.say)
    yield from _retold(rule, "why", rule.why)
    yield from _retold(rule, "remedy", rule.remedy)
    if rule.fix is not None and rule.fix.over is None:
        for words, at, expr in _changed(rule.fix.value):
            yield f"in set {words}", at, replace(rule, fix=replace(rule.fix, value=expr))


def _retold(rule: Rule, clause: str, template: Template) -> Iterator[tuple[str, Span, Rule]]:
    """Mutants of what a message computes."""
    for number, part in enumerate(template):
        if not isinstance(part, Hole):
            continue
        for words, at, expr in _changed(part.expr):
            changed = (*template[:number], replace(part, expr=expr), *template[number + 1 :])
            if clause == "say":
                mutant = replace(rule, say=changed)
            elif clause == "why":
                mutant = replace(rule, why=changed)
            else:
                mutant = replace(rule, remedy=changed)
            yield f"in {clause} {words}", at, mutant


def _changed(expr: Expr) -> Iterator[tuple[str, Span, Expr]]:
    for words, changed in _here(expr):
        yield words, expr.at, changed
    for number, kid in enumerate(expr.kids):
        for words, at, changed in _changed(kid):
            kids = (*expr.kids[:number], changed, *expr.kids[number + 1 :])
            yield words, at, expr.with_kids(kids)


def _here(expr: Expr) -> Iterator[tuple[str, Expr]]:
    text = formula(expr)
    by_one = expr.op in ("mul", "div") and expr.kids[1].op == "num" and expr.kids[1].data[0] == 1
    mutations = OPERATORS[expr.op].mutations if expr.op in OPERATORS else NO_MUTATIONS
    for op in () if by_one else mutations.becomes:
        other = replace(expr, op=op)
        yield f"{text} becomes {formula(other)}", other
    if mutations.one_side:
        for kid in expr.kids:
            yield f"only {formula(kid)} is left of {text}", kid
    if expr.op == "not":
        yield f"{text} becomes {formula(expr.kids[0])}", expr.kids[0]
    if mutations.opposite:
        yield f"{text} becomes its opposite", Expr("not", (expr,), (), expr.at, expr.type)
    if expr.op == "call" and expr.data[0] in _TWINS:
        other = replace(expr, data=(_TWINS[expr.data[0]], *expr.data[1:]))
        yield f"{text} becomes {formula(other)}", other
    if expr.op == "call" and expr.data[0] == "absolute":
        yield f"{text} becomes {formula(expr.kids[0])}", expr.kids[0]
    if expr.op == "num":
        changed = expr.data[0] * 2 if expr.data[0] else 1
        words = "is doubled" if expr.data[0] else "becomes 1"
        yield f"{text} {words}", replace(expr, data=(changed, f"2·{text}"))
    if expr.op == "one_of" and len(expr.kids) > 2:
        for number in range(1, len(expr.kids)):
            kids = expr.kids[:number] + expr.kids[number + 1 :]
            yield f"{formula(expr.kids[number])} is dropped from {text}", expr.with_kids(kids)
    if mutations.unfiltered and expr.kids[1].op != "flag":
        flag = Expr("flag", (), (True,), expr.at)
        kids = (expr.kids[0], flag, *expr.kids[2:])
        yield f"where is dropped from {text}", expr.with_kids(kids)
    if expr.op == "name":
        for word in expr.type.names:
            if word != expr.data[0]:
                yield f"{text} becomes {word}", replace(expr, data=(word,))
                break
