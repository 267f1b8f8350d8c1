"""Examples that would notice what no example of a rule notices, each tried before it is offered.

They are sought among the examples of the rule with one or two facts changed. Where the outcome
stays and a value or a message changes, the example pins that.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Any, Final

from ..base.errors import AxisproofError
from ..catalogue.catalogue import Catalogue, RunnableRule
from ..catalogue.describing import facts_named
from ..engine.verdicts import BROKEN, HOLDS
from ..language.budget import TooManySteps, limited
from ..language.parser import parse_rules
from ..language.printing import formula
from ..language.rule_file import RuleFile
from ..language.syntax import Definition, Example, Expr, Rule
from ..language.tracer import Tracer
from ..machine.schema import Leaf
from .boundaries import Gaps, PlainNumber, gaps, turning_values
from .example_machines import build_example, is_given
from .outcomes import WANTED_OUTCOMES, WARNS, PreparedExample, decisive_case, finding_words, overall
from .pins import pinned_line, said_words
from .plain_text import plain_text, quoted
from .range_mutants import ranged_anew
from .variations import ABSENT, Asked, Spot, other_values, spots_of, stated_value, with_value

MAX_TRIED: Final = 2000
"""Most machines that are made to find examples for one rule."""

_MOST_BASES: Final = 8
"""Examples of a rule that are varied."""

_BUT: Final = ", but "
"""What stands in the title of an example between that of another one and what is unlike it."""

_KINDS: Final = {outcome: kind for kind, outcome in WANTED_OUTCOMES.items()}

Definitions = Mapping[tuple[str, str], Definition]


@dataclass(frozen=True, slots=True)
class Variant:
    """A rule and definitions, altered or not."""

    rule: Rule
    definitions: Definitions


@dataclass(frozen=True, slots=True)
class Proposal:
    """Lines for an example, and the numbers of the alterations that it notices.

    ``adds_to`` names the example that the lines are added to; empty for a new one.
    """

    notices: tuple[int, ...]
    adds_to: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Run:
    """What a rule gives in an example."""

    outcome: int | None
    env: Mapping[str, Any]
    values: Mapping[str, Any]
    words: str


class Proposer:
    """Seeks examples for one rule."""

    def __init__(
        self,
        found: Catalogue,
        rule: Rule,
        entry: RunnableRule,
        prepared: Sequence[PreparedExample],
        altered: Sequence[Variant],
    ) -> None:
        self.found = found
        self.entry = entry
        self.own = Variant(rule, found.definitions)
        self.prepared = prepared
        self.altered = altered
        self.left = dict.fromkeys(range(len(altered)))
        self.tried = 0
        self.bases: list[Example] = []

    def proposals(self) -> Iterator[Proposal]:
        """Examples that together notice as many alterations as can be noticed with them."""
        yield from self._by_pins([number for number in self.left if self._is_silent(number)])
        bases = [each.example for each in self.prepared[:_MOST_BASES]]
        singles: list[tuple[Example, Spot, Any]] = []
        self.bases = list(bases)  # grows by each example that is found
        for base in self.bases:
            if self.left:
                mine = [(base, spot, value) for spot, value in self._changes(base)]
                singles += mine if base in bases else []
                for _, spot, value in mine:
                    yield from self._try(base, [(spot, value)])
        yield from self._by_pins(list(self.left))
        grown = [each for each in singles if _grows(each[1], each[2])]
        for base, spot, value in grown:
            if self.left:
                example = with_value(base, spot.parts, value)
                for second, another in self._changes(example):
                    if _within(second, spot) or second.parts[0] == value:
                        yield from self._try(base, [(spot, value), (second, another)])
        for base in bases:
            most = self.tried + MAX_TRIED // len(bases)
            for (spot, value), (second, another) in combinations(_of(base, singles), 2):
                if self.tried < most and not _overlap(spot, second):
                    yield from self._try(base, [(spot, value), (second, another)])
        for base, spot, value in singles:
            yield from self._try(base, [(spot, value)], undecided=True)

    def _is_silent(self, number: int) -> bool:
        """Whether an alteration leaves the condition and the requirement as they are."""
        rule = self.altered[number].rule
        own = self.own.rule
        asked = rule.range, rule.when, rule.require
        return asked == (own.range, own.when, own.require)

    def _by_pins(self, numbers: Sequence[int]) -> Iterator[Proposal]:
        for each in self.prepared:
            if not any(number in self.left for number in numbers):
                return
            own = self._run(self.own, each)
            lines: dict[str, list[int]] = {}
            for number in numbers:
                if number in self.left and own is not None:
                    line = self._pin(own, self._run(self.altered[number], each))
                    if line:
                        lines.setdefault(line, []).append(number)
            for line, noticed in lines.items():
                if _readable(each.example, [line]):
                    self._done(noticed)
                    name = f"{each.example.kind} {quoted(each.example.title)}"
                    yield Proposal(tuple(noticed), name, (line,))

    def _try(
        self, base: Example, changes: Sequence[tuple[Spot, Any]], undecided: bool = False
    ) -> Iterator[Proposal]:
        if not self.left or self.tried >= MAX_TRIED * 2:
            return
        example = replace(base, expected=(), needs=(), says=())
        for spot, value in changes:
            example = with_value(example, spot.parts, value)
        prepared = self._prepared(example)
        own = None if prepared is None else self._run(self.own, prepared)
        if prepared is None or own is None or (own.outcome is None) is not undecided:
            return
        noticed: list[int] = []
        pins: list[str] = []
        for number in list(self.left):
            run = self._run(self.altered[number], prepared)
            if run is not None and run.outcome != own.outcome:
                noticed.append(number)
            elif line := self._pin(own, run):
                noticed.append(number)
                pins.append(line)
        if not noticed:
            return
        outer = [spot for spot, _ in changes if not any(_within(spot, each) for each, _ in changes)]
        names = {spot.parts: value for spot, value in changes if len(spot.parts) == 1}
        told = ", ".join(
            f"{names[spot.parts]} beside {spot.text}"
            if spot.parts in names
            else f"{spot.text} = {plain_text(stated_value(example, spot.parts))}"
            for spot in outer
        )
        root = base.title.partition(_BUT)[0]
        title = f"{root}{_BUT}{told}" if len(told) < 60 else f"{root}{_BUT}with other facts"
        example = replace(example, title=title)
        facts = [
            f"  {fact.path} = {plain_text(fact.value)}"
            for fact in example.facts
            if not is_given(base, fact)
        ]
        lines = [*facts, *(f"  {line}" for line in dict.fromkeys(pins))]
        example = replace(example, kind=_KINDS[own.outcome])
        if _readable(example, lines):
            self._done(noticed)
            if len(self.bases) < 2 * _MOST_BASES:
                self.bases.append(example)
            yield Proposal(tuple(noticed), "", (f"{example.kind} {quoted(title)}", *lines))

    def _done(self, noticed: Iterable[int]) -> None:
        for number in noticed:
            del self.left[number]

    # running

    def _prepared(self, example: Example) -> PreparedExample | None:
        """An example with its cases; None if no machine file could state it."""
        self.tried += 1
        try:
            built = build_example(self.found, self.own.rule, self.entry, example)
        except AxisproofError:
            return None
        return PreparedExample(example, built.cases, built.written)

    def _run(self, variant: Variant, each: PreparedExample) -> _Run | None:
        """What a rule gives in an example; None if it is nonsense there."""
        tracer = Tracer(variant.definitions, self.found.defaults, formula)
        rule = variant.rule
        try:
            with limited():
                each = ranged_anew(self.found, rule, self.own.rule, self.entry, each)
                verdicts, decisive = decisive_case(tracer, rule, each)
                outcome = overall(verdicts)
                env = decisive[1] if decisive else {}
                values: dict[str, Any] = {}
                words = ""
                if outcome in (HOLDS, BROKEN, WARNS):
                    values = {name: env["let " + name].value for name, _ in rule.lets}
                    values |= self._defined(tracer, env)
                if outcome in (BROKEN, WARNS):
                    words = finding_words(tracer, rule, env, each.written)
        except (TypeError, AttributeError, AssertionError, KeyError, TooManySteps):
            return None
        return _Run(outcome, env, values, words)

    def _defined(self, tracer: Tracer, env: Mapping[str, Any]) -> dict[str, Any]:
        """The definitions that some alteration changes, by the path that pins them."""
        return {
            f"{key[0]}.{key[1]}": tracer.definition(env[key[0]], *key).value
            for key in self._altered_definitions()
            if key[0] in env
        }

    def _altered_definitions(self) -> set[tuple[str, str]]:
        own = self.own.definitions
        return {
            key
            for each in self.altered
            if each.definitions is not own
            for key, definition in each.definitions.items()
            if definition is not own[key]
        }

    def _pin(self, own: _Run, run: _Run | None) -> str:
        """The line that tells two runs of one outcome apart; empty if there is none."""
        if run is None or run.outcome != own.outcome:
            return ""
        types = {name: expr.type for name, expr in self.own.rule.lets}
        for key in self._altered_definitions():
            types[f"{key[0]}.{key[1]}"] = self.own.definitions[key].type
        for name, value in own.values.items():
            if run.values.get(name) != value:
                line = pinned_line(name, value, types[name], own.env)
                if line:
                    return line
        words = said_words(own.words, run.words)
        return f"says {quoted(words)}" if words else ""

    # what may be changed

    def _changes(self, base: Example) -> Iterator[tuple[Spot, Any]]:
        """What may be written in place of each fact of an example."""
        rule = self.own.rule
        read = facts_named(self.found, rule)
        asked = Asked(_literals(rule, "text"), _literals(rule, "name"), [path for _, path in read])
        for spot in spots_of(base, read):
            if self.tried >= MAX_TRIED:
                return
            for value in other_values(spot, asked):
                yield spot, value
            yield from ((spot, value) for value in self._numbers(base, spot))
            if spot.value != ABSENT and len(spot.parts) > 1 and not _in_list(spot):
                yield spot, ABSENT

    def _numbers(self, base: Example, spot: Spot) -> Iterable[Any]:
        """Numbers for a fact at which a comparison of the rule, altered or not, turns."""
        leaf = spot.field.type
        if not isinstance(leaf, Leaf) or leaf.kind not in ("quantity", "whole", "date"):
            return ()
        value = spot.value
        if value == ABSENT:
            value = next(iter(other_values(spot, Asked())), None)
        variants = [self.own, *(self.altered[number] for number in self.left)]

        def watched(plain: Any) -> Gaps:
            prepared = self._prepared(with_value(base, spot.parts, plain))
            found: list[Any] = []
            if prepared is None:
                return found
            for variant in variants:
                tracer = Tracer(variant.definitions, self.found.defaults, formula)
                with limited():
                    found += gaps(variant.rule, prepared.cases, tracer)
            return found

        return turning_values(PlainNumber(leaf, value), watched)


def _overlap(one: Spot, other: Spot) -> bool:
    length = min(len(one.parts), len(other.parts))
    return one.parts[:length] == other.parts[:length]


def _grows(spot: Spot, value: Any) -> bool:
    """Whether a change brings facts that can be changed in their turn."""
    return len(spot.parts) == 1 or (isinstance(value, list | dict) and bool(value))


def _in_list(spot: Spot) -> bool:
    return any(isinstance(part, int) for part in spot.parts)


def _within(inner: Spot, outer: Spot) -> bool:
    return len(inner.parts) > len(outer.parts) and _overlap(inner, outer)


def _of(base: Example, changes: Iterable[tuple[Example, Spot, Any]]) -> list[tuple[Spot, Any]]:
    """The changes of one example that leave nothing out."""
    return [(spot, value) for of, spot, value in changes if of is base and value != ABSENT]


def _literals(rule: Rule, op: str) -> list[str]:
    """The texts or words that a rule asks for."""
    conditions = [rule.require, *filter(None, [rule.when]), *(value for _, value in rule.lets)]
    nodes: Iterator[Expr] = (node for expr in conditions for node in expr.walk())
    return list(dict.fromkeys(node.data[0] for node in nodes if node.op == op))


def _readable(example: Example, lines: Iterable[str]) -> bool:
    """Whether a rule file that holds these lines is read as it is meant."""
    text = f"language 2\nrule a-rule\n{example.kind} {quoted(example.title)}\n" + "\n".join(lines)
    try:
        (item,) = parse_rules(RuleFile("", text)).items
    except AxisproofError:
        return False
    stated = {fact.path: fact.value for fact in item.clauses[0].payload[0].facts}
    own = {fact.path: fact.value for fact in example.facts}
    return all(own.get(path) == value for path, value in stated.items())
