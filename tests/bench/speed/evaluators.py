"""General-purpose expression evaluators on the same rules and facts, each as fast as it can be.

The timed part includes neither parsing or compiling expressions nor preparing facts. Each judge
gives the verdicts of all rules on one axis.
"""

from __future__ import annotations

import logging
import statistics
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from axisproof.catalogue.catalogue import shipped
from axisproof.engine.verdicts import BROKEN, HOLDS, NOT_APPLICABLE
from axisproof.machine.machine import Machine
from axisproof.machine.reader import read_plain

from .scale import SpeedBench
from .table import MeasuredRow
from .timing import BenchError, in_turn, ratios, timed
from .translation import (
    CEL,
    PYTHON,
    PYTHON_SETS,
    SAME,
    Dialect,
    TranslatedRule,
    facts_used,
    name_of,
    record,
    translatable,
    translated,
)

Facts = dict[str, Any]
Verdict = int | None
"""HOLDS, BROKEN, NOT_APPLICABLE, or None for undecided."""
Judge = Callable[[Any], list[Verdict]]
Evaluate = Callable[[Any, Any], bool | None]
"""An expression, as parsed, and a record to what it says, None for unknown."""


@dataclass(frozen=True)
class Evaluator:
    """An evaluator: its dialect, its value for `none`, and its set-up.

    ``make`` gives a judge of rules; ``prepare`` turns a record into the judge's input.
    ``unknown`` says whether it distinguishes false from unknown as the rules do; ``pure`` says that
    it is written in Python.
    """

    name: str
    dialect: Dialect
    none: object
    make: Callable[[Sequence[TranslatedRule]], Judge]
    prepare: Callable[[Facts, Sequence[str]], Any]
    unknown: bool
    pure: bool
    note: str


def _judge(
    rules: Sequence[tuple[Any, Any]], evaluate: Evaluate, enter: Callable[[Any], object] | None
) -> Judge:
    """The judge of parsed rules; ``when`` is None for a rule without a condition."""

    def judge(facts: Any) -> list[Verdict]:
        if enter is not None:
            enter(facts)
        verdicts: list[Verdict] = []
        for when, require in rules:
            if when is not None:
                applies = evaluate(when, facts)
                if not applies:
                    verdicts.append(None if applies is None else NOT_APPLICABLE)
                    continue
            kept = evaluate(require, facts)
            verdicts.append(None if kept is None else HOLDS if kept else BROKEN)
        return verdicts

    return judge


def _parsed(rules: Sequence[TranslatedRule], parse: Callable[[str], Any]) -> list[tuple[Any, Any]]:
    return [(parse(rule.when) if rule.when else None, parse(rule.require)) for rule in rules]


def _cel_python(rules: Sequence[TranslatedRule]) -> Judge:
    import celpy
    from celpy.evaluation import CELEvalError

    logging.getLogger("celpy").setLevel(logging.CRITICAL)  # it tells of every unknown fact
    environment = celpy.Environment(runner_class=celpy.CompiledRunner)
    programs = _parsed(rules, lambda text: environment.program(environment.compile(text)))

    def evaluate(program: Any, facts: Any) -> bool | None:
        try:
            return bool(program.evaluate(facts))
        except CELEvalError:
            return None

    return _judge(programs, evaluate, None)


def _cel_values(facts: Facts, names: Sequence[str]) -> Any:
    from celpy.adapter import json_to_cel

    return {name: json_to_cel(value) for name, value in facts.items()}


def _cel_native(rules: Sequence[TranslatedRule]) -> Judge:
    import cel

    def evaluate(program: Any, facts: Any) -> bool | None:
        try:
            return bool(program.execute(facts))
        except (RuntimeError, TypeError, ValueError):
            return None

    return _judge(_parsed(rules, cel.compile), evaluate, None)


def _cel_context(facts: Facts, names: Sequence[str]) -> Any:
    import cel

    return cel.Context(facts)


def _simpleeval(rules: Sequence[TranslatedRule]) -> Judge:
    import simpleeval

    evaluator = simpleeval.SimpleEval()
    return _of_simpleeval(evaluator, _parsed(rules, evaluator.parse))


def _simpleeval_same(rules: Sequence[TranslatedRule]) -> Judge:
    import ast

    import simpleeval
    from axisproof.numbers import exact

    known = dict(simpleeval.DEFAULT_OPERATORS)
    for node in (ast.Add, ast.Sub, ast.Mult, ast.Lt, ast.LtE, ast.Gt, ast.GtE):
        known[node] = _on_numbers(simpleeval.DEFAULT_OPERATORS[node])
    known[ast.Div] = _on_numbers(exact.div)
    known[ast.Eq] = lambda a, b: None if a is None or b is None else a == b
    known[ast.Not] = lambda a: None if a is None else not a
    known[ast.BitAnd] = _both
    known[ast.BitOr] = _either
    evaluator = simpleeval.SimpleEval(operators=known)
    return _of_simpleeval(evaluator, _parsed(rules, evaluator.parse))


def _of_simpleeval(evaluator: Any, trees: Sequence[tuple[Any, Any]]) -> Judge:
    import simpleeval

    def evaluate(tree: Any, facts: Any) -> bool | None:
        try:
            value: bool | None = evaluator.eval("", previously_parsed=tree)
        except (simpleeval.NameNotDefined, TypeError):
            return None
        return value

    def enter(facts: Any) -> None:
        evaluator.names = facts

    return _judge(trees, evaluate, enter)


def _simpleeval_text(rules: Sequence[TranslatedRule]) -> Judge:
    import simpleeval

    def evaluate(text: Any, facts: Any) -> bool | None:
        try:
            value: bool | None = simpleeval.simple_eval(text, names=facts)
        except (simpleeval.NameNotDefined, TypeError):
            return None
        return value

    return _judge(_parsed(rules, str), evaluate, None)


def _on_numbers(apply: Callable[[Any, Any], Any]) -> Callable[[Any, Any], Any]:
    def known(a: Any, b: Any) -> Any:
        return None if a is None or b is None or a == "none" or b == "none" else apply(a, b)

    return known


def _both(a: bool | None, b: bool | None) -> bool | None:
    if a is False or b is False:
        return False
    return None if a is None or b is None else True


def _either(a: bool | None, b: bool | None) -> bool | None:
    if a is True or b is True:
        return True
    return None if a is None or b is None else False


def _asteval(rules: Sequence[TranslatedRule]) -> Judge:
    import asteval

    interpreter = asteval.Interpreter(minimal=True, use_numpy=False)

    def parse(text: str) -> Any:
        return interpreter.parse(text).body[0].value

    def evaluate(tree: Any, facts: Any) -> bool | None:
        try:
            value: bool | None = interpreter.run(tree)
        except (NameError, TypeError):
            interpreter.error, interpreter.error_msg = [], None
            return None
        return value

    def enter(facts: Any) -> None:
        interpreter.symtable = facts

    return _judge(_parsed(rules, parse), evaluate, enter)


def _as_is(facts: Facts, names: Sequence[str]) -> Facts:
    return facts


def _with_unknown(facts: Facts, names: Sequence[str]) -> Facts:
    return {name: facts.get(name) for name in names}


EVALUATORS = (
    Evaluator(
        "cel-python",
        CEL,
        None,
        _cel_python,
        _cel_values,
        unknown=True,
        pure=True,
        note="CEL in Python, its compiling runner",
    ),
    Evaluator(
        "simpleeval, the same work",
        SAME,
        "none",
        _simpleeval_same,
        _with_unknown,
        unknown=True,
        pure=True,
        note="trees parsed beforehand, exact numbers, operators that know the unknown",
    ),
    Evaluator(
        "simpleeval, floats",
        PYTHON,
        "none",
        _simpleeval,
        _as_is,
        unknown=False,
        pure=True,
        note="trees parsed beforehand; gives up on a rule at the first fact that is unknown",
    ),
    Evaluator(
        "simpleeval, floats, from text",
        PYTHON,
        "none",
        _simpleeval_text,
        _as_is,
        unknown=False,
        pure=True,
        note="simple_eval(text) as its documentation begins, parsed each time",
    ),
    Evaluator(
        "asteval, floats",
        PYTHON_SETS,
        "none",
        _asteval,
        _as_is,
        unknown=False,
        pure=True,
        note="trees parsed beforehand; gives up on a rule at the first fact that is unknown",
    ),
    Evaluator(
        "common-expression-language",
        CEL,
        None,
        _cel_native,
        _cel_context,
        unknown=True,
        pure=False,
        note="CEL in Rust",
    ),
)

ROUNDS = 20
"""How often all are judged in one measurement, which would else be short for the fast."""


@dataclass(frozen=True)
class RuleSubset:
    """The rules that every evaluator supports, and machines to judge."""

    paths: list[str]
    functions: list[Callable[..., int | None]]
    said: dict[Dialect, list[TranslatedRule]]

    @classmethod
    def of_shipped(cls) -> RuleSubset:
        """The shipped rules that have a translation."""
        catalogue = shipped()
        rules = translatable(catalogue)
        entries = {entry.name: entry for entry in catalogue.entries}
        dialects = {each.dialect: None for each in EVALUATORS}
        return cls(
            facts_used(rules),
            [entries[rule.name].function for rule in rules],
            {d: [translated(rule, catalogue, d) for rule in rules] for d in dialects},
        )

    def own(self, machine: Machine) -> list[list[Verdict]]:
        """The verdicts of axisproof, axis by axis."""
        facts, functions = machine.facts, self.functions
        return [[function(axis, facts) for function in functions] for axis in machine.axes]

    def other(self, evaluator: Evaluator, machine: Machine) -> Callable[[], list[list[Verdict]]]:
        """A function that gives the verdicts of an evaluator."""
        names = [*map(name_of, self.paths)]
        judge = evaluator.make(self.said[evaluator.dialect])
        records = [
            evaluator.prepare(
                record(axis, self.paths, evaluator.none, evaluator.dialect.exact), names
            )
            for axis in machine.axes
        ]
        return lambda: [judge(facts) for facts in records]


def agree(subset: RuleSubset, evaluator: Evaluator, machine: Machine) -> None:
    """Raises BenchError unless an evaluator and axisproof agree on every axis."""
    theirs = subset.other(evaluator, machine)()
    for axis, own, other in zip(machine.axes, subset.own(machine), theirs, strict=True):
        rules = subset.said[evaluator.dialect]
        for rule, ours, their in zip(rules, own, other, strict=True):
            if ours != their:
                raise BenchError(
                    f"{evaluator.name} says {their} of {rule.name} on {axis['name']}, "
                    f"axisproof {ours}: {rule.when} => {rule.require}"
                )


def evaluator_rows(bench: SpeedBench) -> Iterator[MeasuredRow]:
    """Rows: rules in evaluators against the generated code."""
    subset = RuleSubset.of_shipped()
    machines = [read_plain(some, headless=False) for some in bench.judged()]
    for evaluator in EVALUATORS:
        for machine in machines if evaluator.unknown else machines[:2]:
            agree(subset, evaluator, machine)
    clean = machines[0]
    work = {"own": timed(lambda: subset.own(clean), ROUNDS)}
    for evaluator in EVALUATORS:
        work[evaluator.name] = timed(subset.other(evaluator, clean), ROUNDS)
    found = in_turn(bench.scale.repeats, work)
    count = len(subset.functions)
    own = statistics.median(found["own"]) / count / len(clean.axes) * 1e6
    for evaluator in EVALUATORS:
        yield MeasuredRow(
            "rules",
            f"{evaluator.name} / axisproof, time for a rule",
            ratios(found[evaluator.name], found["own"]),
            least=10 if evaluator.pure else None,
            note=f"{evaluator.note}; {count} shipped rules, equal verdicts, {own:.2f} µs for ours",
        )
