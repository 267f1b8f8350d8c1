"""Rules compiled from text and run through both evaluators on plain machines."""

from __future__ import annotations

import warnings
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, TypeVar

import pytest
from axisproof.base.errors import RuleError
from axisproof.catalogue.catalogue import Catalogue, RunnableRule, from_texts, parse_texts
from axisproof.engine.cases import Case, cases
from axisproof.language.printing import formula
from axisproof.language.syntax import RuleSet
from axisproof.language.traced import Traced
from axisproof.language.tracer import Tracer
from axisproof.machine.machine import Machine
from axisproof.machine.reader import read_plain
from hypothesis import reject

T = TypeVar("T")
HOLDS, BROKEN, NOT_APPLICABLE, UNDECIDED = "holds", "broken", "not applicable", "undecided"
WORDS = {1: HOLDS, 0: BROKEN, 2: NOT_APPLICABLE, None: UNDECIDED}

RULE = """language 2
{before}
rule the-rule
  level error
  title "a rule"
  each {each}
  {when}
  {lets}
  require {require}
  say "{say}"
  why "because"
  remedy "{remedy}"
  {extra}
  basis "computed"
  passes "one" {passes}
  fails "two" {fails}
"""


def rule_text(require: str, **parts: str) -> str:
    """A rule file with one rule, complete but for what is given."""
    fields = dict.fromkeys(("before", "when", "lets", "extra", "passes", "fails"), "")
    fields |= {"each": "axis", "say": "said", "remedy": "mend"} | parts
    if parts.get("when"):
        fields["when"] = f"when {parts['when']}"
    return RULE.format(require=require, **fields)


def catalogue_of(require: str, **parts: str) -> Catalogue:
    """The rule alone, compiled; a warning from Python about generated code is an error."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        return from_texts({"test.rules": rule_text(require, **parts)})


def checked(require: str, **parts: str) -> RuleSet:
    """The checked trees of one rule."""
    return parse_texts({"test.rules": rule_text(require, **parts)})


def assert_refused(make: Callable[[], object], what: str, expected: str) -> None:
    """Fail unless a rule error says both of these."""
    with pytest.raises(RuleError) as caught:
        make()
    assert what in caught.value.what
    assert expected in caught.value.expected


def unless_refused(make: Callable[[], T]) -> T:
    """What is made of a random rule; one that is rightly refused is not looked at.

    It can hold numbers that grow too large, or ask of a number that is never exact if it is whole.
    It can choose between a length on a linear axis and an angle on any other, which is no position
    once both are computed with.
    """
    try:
        return make()
    except RuleError as error:
        if "too large" in error.what or "never exact" in error.what:
            return reject()
        if error.what == "this is an angle" and "the other value is a length" in error.expected:
            return reject()
        raise


def machine_of(axis: dict[str, Any] | None = None, **more: Any) -> Machine:
    """A machine of an axis named ``axis`` (linear unless stated) and of what else is given."""
    axes = {"axis": {"motion": "linear"} | (axis or {})} | more.pop("axes", {})
    machine = read_plain({"axes": axes, **more})
    machine.facts.setdefault("check_date", 0)
    return machine


@dataclass(frozen=True)
class Verdict:
    """What both evaluators said of one case, and what the tracing one found on the way."""

    outcome: str
    traced: Traced
    env: dict[str, Any]

    def let(self, name: str) -> Any:
        """The value of a `let`."""
        return self.env["let " + name].value


def trace(found: Catalogue, name: str, case: Case) -> Verdict:
    """The tracing evaluator's verdict."""
    tracer = Tracer(found.definitions, found.defaults, formula)
    rule = found.rules[name]
    if case.missing:
        return Verdict(UNDECIDED, Traced(None, missing=case.missing), case.env)
    if case.absent:
        return Verdict(NOT_APPLICABLE, Traced(False), case.env)
    condition = tracer.when(rule, case.env)
    if condition.value is not True:
        words = NOT_APPLICABLE if condition.value is False else UNDECIDED
        return Verdict(words, condition, case.env)
    env = tracer.with_lets(rule, case.env)
    required = tracer.value(rule.require, env)
    return Verdict({True: HOLDS, False: BROKEN, None: UNDECIDED}[required.value], required, env)


def run_case(found: Catalogue, entry: RunnableRule, case: Case) -> Verdict:
    """Run one rule on one case, through both evaluators, which must agree.

    Where it is undecided, the quick way to what it lacks must agree too, if it has an answer.
    """
    traced = trace(found, entry.name, case)
    if not case.missing and not case.absent:
        subjects = [case.env[name] for name in entry.arguments]
        fast = entry.function(*subjects)
        assert WORDS[fast] == traced.outcome, (entry.name, fast, traced)
        lacking = found.missing_facts.of(found.rules[entry.name])(subjects)
        if traced.outcome == UNDECIDED and lacking:
            assert Traced(None, missing=lacking) == traced.traced, (entry.name, lacking, traced)
        if traced.outcome != UNDECIDED:
            assert lacking == (), (entry.name, lacking, traced)
    return traced


def run(found: Catalogue, machine: Machine) -> list[Verdict]:
    """Run every rule on every case of a machine."""
    return [
        run_case(found, entry, case)
        for entry in found.entries
        for case in cases(entry, machine, {})
    ]


def judge(require: str, axis: dict[str, Any] | None = None, **parts: Any) -> Verdict:
    """Run one rule on one machine; keys of ``parts`` as in RULE, or ``machine``."""
    machine = parts.pop("machine", None) or machine_of(axis)
    verdicts = run(catalogue_of(require, **parts), machine)
    return verdicts[0]


def outcome(require: str, axis: dict[str, Any] | None = None, **parts: Any) -> str:
    """The outcome of one rule on the first case."""
    return judge(require, axis, **parts).outcome
