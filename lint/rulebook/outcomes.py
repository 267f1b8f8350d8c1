"""What a rule gives in an example: its outcome, the values it pins and the words of a finding."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from ..base.errors import Place
from ..catalogue.catalogue import Catalogue, rule_file
from ..engine.cases import Case
from ..engine.verdicts import BROKEN, HOLDS, NOT_APPLICABLE
from ..findings.rule_info import RuleFault
from ..language.helpers import within
from ..language.printing import value_text
from ..language.syntax import Definition, Example, Hole, Rule, Span
from ..language.traced import Traced
from ..language.tracer import Tracer
from ..machine.schema import ROLE_END
from ..numbers.exact import Approx, absolute, eq
from ..numbers.rational import Fraction
from .example_machines import TWO_MACHINES

WANTED_OUTCOMES: Final = {
    "passes": HOLDS,
    "fails": BROKEN,
    "undecided": None,
    "skips": NOT_APPLICABLE,
}
"""The outcome that each kind of example asks for."""

OUTCOME_WORDS: Final = {
    HOLDS: "the rule holds",
    BROKEN: "the rule is broken",
    None: "the rule is undecided",
    NOT_APPLICABLE: "the rule does not apply",
}


@dataclass(frozen=True, slots=True)
class PreparedExample:
    """An example with the cases the rule has in it."""

    example: Example
    cases: tuple[Case, ...]


def fault_at(
    found: Catalogue, rule: Rule | Definition, at: Span, what: str, expected: str = ""
) -> RuleFault:
    """A fault of a rule or definition, with its place in the rule file."""
    file = rule_file(found, rule.file)
    place = Place(rule.file, at.line, at.column, at.end_line, at.end_column)
    return RuleFault(rule.name, what, place, file.line(at.line), expected)


def example_words(example: Example) -> str:
    """How an example is spoken of."""
    return f'{example.kind} "{example.title}"'


def _traced_verdict(
    tracer: Tracer, rule: Rule, case: Case
) -> tuple[int | None, Traced, dict[str, Any]]:
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


def overall(verdicts: Sequence[int | None]) -> int | None:
    """The outcome over all cases of an example: the worst that is not `does not apply`."""
    for wanted in (BROKEN, None, HOLDS):
        if wanted in verdicts:
            return wanted
    return NOT_APPLICABLE


DecisiveCase = tuple[Traced, dict[str, Any]] | None
"""What the case that gave an example its outcome rests on, and its environment."""


def decisive_case(
    tracer: Tracer, rule: Rule, each: PreparedExample
) -> tuple[list[int | None], DecisiveCase]:
    """The verdict of every case, and the first case with the outcome the example wants."""
    verdicts: list[int | None] = []
    decisive: DecisiveCase = None
    for case in each.cases:
        verdict, traced, env = _traced_verdict(tracer, rule, case)
        if decisive is None or verdict == WANTED_OUTCOMES[each.example.kind] != overall(verdicts):
            decisive = traced, env
        verdicts.append(verdict)
    return verdicts, decisive


def finding_words(tracer: Tracer, rule: Rule, env: Mapping[str, Any]) -> str:
    """All that a finding tells in words: message, reason and remedy, and the value it proposes."""
    texts = []
    for template in filter(None, (rule.headline, rule.say, rule.why, rule.remedy)):
        parts = []
        for part in template:
            if isinstance(part, Hole):
                value = tracer.value(part.expr, env).value
                parts.append(value_text(value, part.expr.type, env, part.unit))
            else:
                parts.append(part)
        texts.append("".join(parts))
    fix = rule.fix
    if fix is not None and fix.over is None:
        value = tracer.number_or_value(fix.value, env).value
        root, path = fix.target.data
        texts.append(f"set {root}.{path} to {value_text(value, fix.target.type, env)}")
    return "\n".join(texts)


def pinned_values(
    tracer: Tracer, rule: Rule, example: Example, decisive: DecisiveCase
) -> Iterator[Any]:
    """The values of pinned names, for telling a mutant by them."""
    if decisive is None:
        return
    _, env = decisive
    for _, target, _, _ in example.expected:
        known = target.op != "local" or "let " + target.data[0] in env
        yield tracer.number_or_value(target, env).value if known else None
    if example.says:
        applies = all("let " + name in env for name, _ in rule.lets)
        text = finding_words(tracer, rule, env) if applies else ""
        yield from (words in text for words, _ in example.says)


def wrong_pins(
    found: Catalogue,
    rule: Rule,
    example: Example,
    tracer: Tracer,
    traced: Traced,
    env: dict[str, Any],
) -> Iterator[RuleFault]:
    """Faults where values, words or missing facts are not those that the example states."""
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
    text = finding_words(tracer, rule, env) if example.says else ""
    for words, at in example.says:
        if words not in text:
            yield fault_at(found, rule, at, f"{example_words(example)} does not say this", text)
    for path, at in example.needs:
        head, _, rest = path.partition(".")
        full = rest if head == "machine" else f"axes.{path}"
        if rule.subject in TWO_MACHINES and head != "machine":
            old, *_ = TWO_MACHINES[rule.subject]
            full = f"{old + ROLE_END if head == old else ''}axes.axis.{rest}"
        if not any(m.removesuffix(" (the whole list)") == full for m in traced.missing):
            lacks = ", ".join(traced.missing) or "nothing"
            yield fault_at(found, rule, at, f"{path} is not what is missing", lacks)


def _same_number(got: Any, wanted: Any) -> bool:
    if got is None or wanted is None:
        return False
    if isinstance(got, Approx):
        # an example states an approximate value to six digits or so
        return bool(within(got, absolute(wanted) * Fraction(1, 10**5), wanted))
    return eq(got, wanted) is True
