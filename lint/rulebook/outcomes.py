"""What a rule gives in an example: its outcome, the values it pins and the words of a finding."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

from ..catalogue.catalogue import Catalogue, rule_file
from ..engine.cases import Case, of_members
from ..engine.verdicts import BROKEN, HOLDS, NOT_APPLICABLE, settled
from ..findings.rule_info import RuleFault
from ..language.helpers import within
from ..language.printing import value_text
from ..language.stages import EARLY, at_stage
from ..language.syntax import Definition, Example, Rule, Span, subjects_of
from ..language.telling import MessageWriter, Written
from ..language.traced import Traced
from ..language.tracer import Tracer
from ..machine.schema import ROLE_END
from ..numbers.exact import Approx, absolute, eq
from ..numbers.rational import Fraction
from .example_machines import TWO_MACHINES

WARNS: Final = 3
"""Stands for a rule that is broken at its early stage, which is a verdict of examples alone."""

WANTED_OUTCOMES: Final = {
    "passes": HOLDS,
    "fails": BROKEN,
    "warns": WARNS,
    "undecided": None,
    "skips": NOT_APPLICABLE,
}
"""The outcome that each kind of example asks for."""

OUTCOME_WORDS: Final = {
    HOLDS: "the rule holds",
    BROKEN: "the rule fails",
    WARNS: "the rule warns",
    None: "the rule cannot be decided",
    NOT_APPLICABLE: "the rule does not apply",
}


@dataclass(frozen=True, slots=True)
class PreparedExample:
    """An example with the cases the rule has in it."""

    example: Example
    cases: tuple[Case, ...]
    written: Written


def fault_at(
    found: Catalogue, rule: Rule | Definition, at: Span, what: str, expected: str = ""
) -> RuleFault:
    """A fault of a rule or definition, with its place in the rule file."""
    file = rule_file(found, rule.file)
    return RuleFault(rule.name, what, file.place(at), file.line(at.line), expected)


def example_words(example: Example) -> str:
    """How an example is spoken of."""
    return f'{example.kind} "{example.title}"'


def _traced_verdict(
    tracer: Tracer, rule: Rule, case: Case
) -> tuple[int | None, Traced, dict[str, Any]]:
    """The tracing evaluator's verdict with what it rests on."""
    if case.missing:
        return None, Traced(None, missing=case.missing), case.env
    if case.absent and not case.fails:
        return NOT_APPLICABLE, Traced(False), case.env
    condition = tracer.when(rule, case.env)
    if condition.value is not True:
        condition = replace(condition, missing=of_members(condition.missing, case))
        verdict = NOT_APPLICABLE if condition.value is False else None
        return settled(case, verdict), condition, case.env
    if case.absent:
        return BROKEN, Traced(False), case.env
    env = tracer.with_lets(rule, case.env)
    required = tracer.value(rule.require, env)
    required = replace(required, missing=of_members(required.missing, case))
    verdict = {True: HOLDS, False: BROKEN, None: None}[required.value]
    if verdict == BROKEN and at_stage(rule, tracer, env)[1] == EARLY:
        verdict = WARNS
    return settled(case, verdict), required, env


def overall(verdicts: Sequence[int | None]) -> int | None:
    """The outcome over all cases of an example: the worst that is not `does not apply`."""
    for wanted in (BROKEN, None, WARNS, HOLDS):
        if wanted in verdicts:
            return wanted
    return NOT_APPLICABLE


DecisiveCase = tuple[Traced, dict[str, Any]] | None
"""What the case that gave an example its outcome rests on, and its environment."""


def ways(cases: Sequence[Case]) -> list[Case]:
    """The cases, and those of unordered pairs the other way round, too."""
    found = []
    for case in cases:
        found.append(case)
        if case.swapped is not None:
            found.append(replace(case, env=case.swapped, swapped=case.env))
    return found


def one_sided(
    found: Catalogue,
    rule: Rule,
    each: PreparedExample,
    tracer: Tracer,
    verdicts: Sequence[int | None],
) -> Iterator[RuleFault]:
    """Faults where the sides of an unordered pair give unlike outcomes or pinned values."""
    if rule.range is None or not rule.range.unordered:
        return
    one, other = rule.range.unordered
    expected = f"what asks the same of {one} and {other}, or directed by a fact"
    at, words = each.example.at, example_words(each.example)
    place = 0
    for case in each.cases:
        if case.swapped is None:
            place += 1
            continue
        first, second = verdicts[place : place + 2]
        place += 2
        if first != second:
            what = f"{words}: {OUTCOME_WORDS[first]}, with {one} and {other} swapped "
            yield fault_at(found, rule, at, f"{what}{OUTCOME_WORDS[second]}", expected)
        elif first in (BROKEN, HOLDS):
            envs = [tracer.with_lets(rule, env) for env in (case.env, case.swapped)]
            for name, target, _, place_of_pin in each.example.expected:
                values = [tracer.number_or_value(target, env).value for env in envs]
                if target.op == "local" and values[0] != values[1]:
                    what = f"{name} changes when {one} and {other} are swapped"
                    yield fault_at(found, rule, place_of_pin, what, expected)


def decisive_case(
    tracer: Tracer, rule: Rule, each: PreparedExample
) -> tuple[list[int | None], DecisiveCase]:
    """The verdict of every case, and the first case with the outcome the example wants."""
    verdicts: list[int | None] = []
    decisive: DecisiveCase = None
    for case in ways(each.cases):
        verdict, traced, env = _traced_verdict(tracer, rule, case)
        if decisive is None or verdict == WANTED_OUTCOMES[each.example.kind] != overall(verdicts):
            decisive = traced, env
        verdicts.append(verdict)
    return verdicts, decisive


def finding_words(tracer: Tracer, rule: Rule, env: Mapping[str, Any], written: Written) -> str:
    """All that a finding tells in words: message, reason and remedy, and the value it proposes."""
    whole = all(name in env for name in subjects_of(rule))
    rule, _ = at_stage(rule, tracer, env) if whole else (rule, "")
    say = rule.say if whole or rule.range is None else rule.range.without
    teller = MessageWriter(tracer, env, written, rule if whole else None)
    texts = [teller.message(text) for text in (rule.headline, say, rule.why)]
    if whole:
        texts += [teller.message(text) for text in rule.caution_texts]
    texts.append(teller.message(rule.remedy, entered=True))
    fix = rule.fix
    if whole and fix is not None and fix.over is None:
        value = tracer.number_or_value(fix.value, env).value
        root, path = fix.target.data
        texts.append(f"set {root}.{path} to {value_text(value, fix.target.type, env)}")
    return "\n".join(filter(None, texts))


def pinned_values(
    tracer: Tracer, rule: Rule, each: PreparedExample, decisive: DecisiveCase
) -> Iterator[Any]:
    """The values of pinned names, for telling a mutant by them."""
    if decisive is None:
        return
    _, env = decisive
    example = each.example
    for _, target, _, _ in example.expected:
        known = target.op != "local" or "let " + target.data[0] in env
        yield tracer.number_or_value(target, env).value if known else None
    if example.says:
        lets = all("let " + name in env for name, _ in rule.lets)
        applies = lets or any(name not in env for name in subjects_of(rule))
        text = finding_words(tracer, rule, env, each.written) if applies else ""
        yield from (words in text for words, _ in example.says)


def wrong_pins(
    found: Catalogue,
    rule: Rule,
    each: PreparedExample,
    tracer: Tracer,
    traced: Traced,
    env: dict[str, Any],
) -> Iterator[RuleFault]:
    """Faults where values, words or missing facts are not those that the example states."""
    example = each.example
    for name, target, want, at in example.expected:
        if target.op == "local" and "let " + name not in env:
            yield fault_at(found, rule, at, f"{name} has no value in this example")
            continue
        got = tracer.number_or_value(target, env).value
        wanted = tracer.value(want, {}).value
        equal = got == wanted if want.type.kind != "number" else _same_number(got, wanted)
        if not equal:
            shown = value_text(got, target.type, env)
            yield fault_at(
                found, rule, at, f"{name} is {shown}", value_text(wanted, want.type, env)
            )
    text = finding_words(tracer, rule, env, each.written) if example.says else ""
    for words, at in example.says:
        if words not in text:
            yield fault_at(found, rule, at, f"{example_words(example)} does not say this", text)
    for path, at in example.needs:
        head, _, rest = path.partition(".")
        full = rest if head == "machine" else f"axes.{path}"
        if rule.subject in TWO_MACHINES and head != "machine":
            old, *_ = TWO_MACHINES[rule.subject]
            full = f"{old + ROLE_END if head == old else ''}axes.axis.{rest}"
        lacking = (each.removesuffix(" (the whole list)") for each in traced.missing)
        if not any(full == each or full.startswith(f"{each}.") for each in lacking):
            lacks = ", ".join(example_path(rule, each) for each in traced.missing) or "nothing"
            yield fault_at(found, rule, at, f"{path} is not what is missing", lacks)


def example_path(rule: Rule, path: str) -> str:
    """An absolute path as an example states it, such as ``axis.motion`` or ``before.motion``."""
    old, new = TWO_MACHINES[rule.subject][:2] if rule.subject in TWO_MACHINES else ("", "")
    for start, variable in ((f"{old}{ROLE_END}axes.axis.", old), ("axes.axis.", new)):
        if variable and path.startswith(start):
            return f"{variable}.{path.removeprefix(start)}"
    return path.removeprefix("axes.") if path.startswith("axes.") else f"machine.{path}"


def _same_number(got: Any, wanted: Any) -> bool:
    if got is None or wanted is None:
        return False
    if isinstance(got, Approx):
        # an example states an approximate value to six digits or so
        return bool(within(got, absolute(wanted) * Fraction(1, 10**5), wanted))
    return eq(got, wanted) is True
