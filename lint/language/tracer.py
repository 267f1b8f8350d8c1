"""The tracing evaluator: the verdicts of the generated code, with what they rest on.

It walks the checked tree of one rule over one subject and returns, beside the value, the facts
that settled it, the facts that are missing, and why anything else could not be computed. It runs
only for findings, undecided rules, workings and tests.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, Final

from ..base.absence import NONE, none_above
from ..machine.derived_facts import stated_path
from ..machine.records import Facts, notes_of
from ..numbers.exact import Approx, eq
from .budget import metered
from .equalities import filter_equality
from .fact_to_state import fact_to_state
from .fast_values import FastValues
from .helpers import disputed, known
from .library import FUNCTIONS
from .many_items import all_of_many, by_name, clash_of_many, many_items, of_many
from .matching import in_order
from .operators import OPERATORS, evaluation_methods
from .reach import reach
from .syntax import Definition, Expr, Rule
from .traced import MAX_LISTED, Traced, absolute_path, join, union

_ABSENCE: Final = " is none, so there is no "


def is_absence(reason: str) -> bool:
    """Whether a reason says that the part is not there which a fact would belong to."""
    return _ABSENCE in reason


@dataclass
class Tracer:
    """Evaluates rules of one catalogue; remembers definitions per record while it lives."""

    definitions: Mapping[tuple[str, str], Definition]
    defaults: Mapping[str, Expr]
    describe: Callable[[Expr], str] = lambda expr: expr.op
    lists: dict[Any, Traced] = field(default_factory=dict)
    _known: dict[tuple[int, str], Traced] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.fast = FastValues(self.definitions, self.defaults)

    def when(self, rule: Rule, env: dict[str, Any]) -> Traced:
        """The value of the rule's condition (True if it has none)."""
        return Traced(True) if rule.when is None else self.value(rule.when, env)

    def with_lets(self, rule: Rule, env: dict[str, Any]) -> dict[str, Any]:
        """The environment with the rule's `let` values added."""
        env = dict(env)
        for name, expr in rule.lets:
            env["let " + name] = self.number_or_value(expr, env)
        return env

    def value(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        """Evaluate a node; ``env`` maps variables to records and ``let NAME`` to traced values."""
        traced: Traced = _METHODS[expr.op](self, expr, env)
        return traced

    def number_or_value(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        """A value to compute with: a fact that is none counts as unknown."""
        traced = self.value(expr, env)
        if traced.value is NONE and expr.type.kind != "part":
            return Traced(None, reasons=(f"{traced.uses[0]} is none",))
        return traced

    def definition(self, record: Facts, kind: str, name: str) -> Traced:
        """The value of a definition for a record."""
        key = (id(record), name)
        if key not in self._known:
            definition = self.definitions[kind, name]
            env = self.environment(definition, record)
            self._known[key] = self.number_or_value(definition.expr, env)
        return self._known[key]

    @staticmethod
    def environment(definition: Definition, record: Facts) -> dict[str, Any]:
        """The environment a definition is evaluated in."""
        env: dict[str, Any] = {definition.owner: record}
        if definition.record == "axis":
            env["machine"] = notes_of(record).machine
        return env

    # leaves

    def on_num(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return Traced(expr.data[0])

    on_flag = on_text = on_name = on_set = on_date = on_period = on_num

    def on_fact(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        root, path = expr.data
        record: Facts = env[root]
        stated = stated_path(path)
        where = absolute_path(record, stated)
        value = record.get(path)
        if value is not None:
            return Traced(value, (where,))
        if above := none_above(record, path):
            reason = f"{absolute_path(record, above)}{_ABSENCE}{path}"
            return Traced(None, reasons=(reason,))
        return Traced(None, missing=(absolute_path(record, fact_to_state(record, stated)),))

    def on_derived(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        root, name, kind = expr.data
        traced = self.definition(env[root], kind, name)
        if traced.value is None:
            return traced
        through = union((traced.uses, traced.through))
        return Traced(traced.value, through=through, zero_divisors=traced.zero_divisors)

    def on_local(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        found: Traced = env["let " + expr.data[0]]
        return found

    def on_setting(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        name, root = expr.data
        return Traced(notes_of(env[root]).settings.get(name, self.defaults[name].data[0]))

    # arithmetic and comparison

    def strict(self, expr: Expr, env: Mapping[str, Any], formula: Callable[..., Any]) -> Traced:
        """Unknown if any operand is; else the formula, whose None the operator explains."""
        parts = [self.number_or_value(kid, env) for kid in expr.kids]
        if any(part.value is None for part in parts):
            return join(None, parts)
        value = formula(*(part.value for part in parts))
        joined = join(value, parts)
        if value is not None:
            return joined
        own = FUNCTIONS[expr.data[0]].reason if expr.op == "call" else ""
        reason = own or f"{self.describe(expr)}: {OPERATORS[expr.op].reason}"
        return Traced(None, reasons=(reason,), zero_divisors=joined.zero_divisors)

    def on_formula(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        operator = OPERATORS[expr.op]
        call = operator.call
        assert call is not None
        formula = (lambda *values: call(*values, *expr.data)) if expr.data else call
        return self.dividing(expr, env, formula, operator.divisors)

    def dividing(
        self,
        expr: Expr,
        env: Mapping[str, Any],
        formula: Callable[..., Any],
        divisors: Iterable[int],
    ) -> Traced:
        """Like ``strict``; where a divisor is (or may be) zero, that is the reason."""
        traced = self.strict(expr, env, formula)
        if traced.value is not None or traced.missing or not traced.reasons:
            return traced
        for number in divisors:
            kid = expr.kids[number]
            divisor = self.number_or_value(kid, env)
            zero = None if divisor.value is None else eq(divisor.value, 0)
            if divisor.value is None or zero is False:
                continue
            verb = "is" if zero else "may be"
            reason = f"{self.describe(kid)} {verb} zero, and nothing can be divided by it"
            named = union((divisor.uses, divisor.through)) if zero else ()
            if zero and not named:
                named = (self.describe(kid),)
            return Traced(None, reasons=(reason,), zero_divisors=named)
        return traced

    def on_call(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        function = FUNCTIONS[expr.data[0]]
        return self.dividing(expr, env, function.call, function.divisors)

    def on_decimals(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        root, path = expr.kids[0].data
        traced = self.number_or_value(expr.kids[0], env)
        if traced.value is None:
            return traced
        return Traced(notes_of(env[root]).decimals.get(path, 0), traced.uses)

    # words

    def on_words(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        parts = [self.value(kid, env) for kid in expr.kids]
        if any(part.value is None for part in parts):
            return join(None, parts)
        formula = OPERATORS[expr.op].call
        assert formula is not None
        return join(formula(*(part.value for part in parts)), parts)

    def on_deciding(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        deciding = OPERATORS[expr.op].deciding
        left = self.value(expr.kids[0], env)
        if left.value is deciding:
            return left
        right = self.value(expr.kids[1], env)
        if right.value is deciding:
            return right
        if left.value is None or right.value is None:
            return join(None, (left, right))
        return join(not deciding, (left, right))

    def on_default(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        first = self.number_or_value(expr.kids[0], env)
        if first.value is not None or self.first_is_disputed(expr, env):
            return first
        second = self.number_or_value(expr.kids[1], env)
        if second.value is not None:
            return second
        cheaper = min((first, second), key=lambda t: len(t.missing) or MAX_LISTED)
        return Traced(
            None,
            missing=cheaper.missing,
            reasons=cheaper.reasons,
            zero_divisors=union((first.zero_divisors, second.zero_divisors)),
        )

    def first_is_disputed(self, expr: Expr, env: Mapping[str, Any]) -> bool:
        """Whether the first way of a `default` is stated, but not usable as it stands."""
        facts = reach(expr.kids[0], self.definitions)
        return any(root in env and disputed(env[root], (path,)) for root, path in facts)

    def on_choose(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        condition = self.value(expr.kids[0], env)
        if condition.value is None:
            return condition
        chosen = self.number_or_value(expr.kids[1 if condition.value else 2], env)
        if chosen.value is None:
            return chosen
        return join(chosen.value, (condition, chosen))

    # lists

    def listed(self, expr: Expr, env: Mapping[str, Any]) -> tuple[Traced, bool]:
        root, path = expr.data
        return self.value(expr, env), path in notes_of(env[root]).partial

    def whole_list(self, listed: Traced) -> Traced:
        """What is missing of a partial list."""
        return Traced(None, missing=(f"{listed.uses[0]} (the whole list)",))

    def on_includes(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        listed, partial = self.listed(expr.kids[0], env)
        wanted = self.value(expr.kids[1], env)
        if listed.value is None:
            return listed
        if wanted.value is not None and wanted.value in listed.value:
            return join(True, (listed, wanted))
        if partial:
            return join(None, (self.whole_list(listed), wanted))
        if wanted.value is None and listed.value:
            return wanted
        return join(False, (listed, wanted))

    def on_sets(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        """What asks of whole lists if they have words in common."""
        call = OPERATORS[expr.op].call
        assert call is not None
        parts: list[Traced] = []
        partials: list[bool] = []
        for kid in expr.kids:
            listed, partial = (
                self.listed(kid, env) if kid.op == "fact" else (self.value(kid, env), False)
            )
            parts.append(listed)
            partials.append(partial)
        pairs = list(zip(parts, partials, strict=True))
        value = call(*(each for part, partial in pairs for each in (part.value, partial)))
        if value is not None:
            return join(value, parts)
        return join(
            None,
            [self.whole_list(p) if partial and p.value is not None else p for p, partial in pairs],
        )

    def on_known(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        """Whether a fact is stated; if it is not, nothing else can be pointed at."""
        (kid,) = expr.kids
        root, path = kid.data
        value = known(env[root], path)
        traced = self.value(kid, env)
        if value is None and traced.value is not None:
            return self.whole_list(traced)
        return traced if value is None else Traced(value, traced.uses)

    def items(
        self, expr: Expr, env: Mapping[str, Any], listed: Traced
    ) -> Iterable[tuple[Traced, Mapping[str, Any]]]:
        """The filter's value and the environment of each item that the filter does not drop."""
        return self.passing(expr, env, self.candidates(expr, env, listed))

    def candidates(
        self, expr: Expr, env: Mapping[str, Any], listed: Traced
    ) -> Iterable[dict[str, Any]]:
        """The items, but for those that an equality in the filter is known to drop."""
        steps = sum(1 for kid in expr.kids[1:] for _ in kid.walk())
        found = filter_equality(expr)
        if found is None:
            items: list[dict[str, Any]] = listed.value
            return metered(items, steps)
        _, key, other = found
        root, path = expr.kids[0].data
        return metered([*in_order(env[root], path, key, self.value(other, env).value)], steps)

    def passing(
        self, expr: Expr, env: Mapping[str, Any], items: Iterable[Facts]
    ) -> Iterator[tuple[Traced, Mapping[str, Any]]]:
        """The filter's value and the environment of each of these items that it does not drop."""
        for record in items:
            inner = {**env, expr.data[0]: record}
            where = self.value(expr.kids[1], inner)
            if where.value is not False:
                yield where, inner

    def on_quantifier(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        deciding = OPERATORS[expr.op].deciding
        listed, partial = self.listed(expr.kids[0], env)
        if listed.value is None:
            return listed
        many = many_items(self, expr, env)
        if many and (short := of_many(self, expr, env, many)) is not None:
            return short
        deciders, others = [], []
        found = filter_equality(expr)
        settled = found is not None and self.value(found[2], env).value is None
        missing: set[str] = set()
        for where, inner in self.items(expr, env, listed):
            if settled and len(missing) >= MAX_LISTED:
                break  # what the filter looks for is unknown, so no item can decide any more
            body = self.value(expr.kids[2], inner)
            if body.value is deciding and where.value is True:
                deciders.append(join(deciding, (where, body)))
            elif body.value is (not deciding):
                others.append(body if where.value is None else join(not deciding, (where, body)))
            else:
                others.append(_asked_first(where, body))
                missing.update(others[-1].missing)
        if deciders:
            return join(deciding, deciders)
        if partial:
            others.append(self.whole_list(listed))
        if any(part.value is None for part in others):
            return join(None, others)
        outer = self.outer_facts(expr, env) if not others else ()
        return join(not deciding, (*outer, listed, *others))

    def outer_facts(self, expr: Expr, env: Mapping[str, Any]) -> list[Traced]:
        """The facts outside the list that its filter looks for, when it lets nothing through."""
        (variable,) = expr.data
        facts = [node for node in expr.kids[1].walk() if node.op == "fact"]
        known = [node for node in facts if node.data[0] != variable and node.data[0] in env]
        found = [self.value(node, env) for node in known]
        return [traced for traced in found if traced.value is not None]

    def on_aggregate(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        operator = OPERATORS[expr.op]
        assert operator.aggregate is not None
        listed, partial = self.listed(expr.kids[0], env)
        if listed.value is None:
            return listed
        many = many_items(self, expr, env)
        if many and (short := of_many(self, expr, env, many)) is not None:
            return short
        parts: list[Traced] = []
        values: list[Any] = []
        missing: set[str] = set()
        for where, inner in self.items(expr, env, listed):
            if len(missing) >= MAX_LISTED:
                break  # one unknown item makes it unknown, and more facts are not listed
            parts.append(where)
            if where.value is None:
                values.append(None)
            elif len(expr.kids) == 3:
                body = self.number_or_value(expr.kids[2], inner)
                parts.append(body)
                values.append(body.value)
            else:
                values.append(1)
            missing.update(*(part.missing for part in parts[-2:] if part.value is None))
        if partial:
            parts.append(self.whole_list(listed))
        if any(part.value is None for part in parts):
            return join(None, parts)
        value = operator.aggregate.total(values)
        if value is None:
            return Traced(None, reasons=(f"{self.describe(expr)}: {operator.reason}",))
        joined = join(value, parts)
        if joined.uses or joined.through:
            return joined
        return join(value, (*self.outer_facts(expr, env), listed, *parts))

    def on_all(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        """The values of the items that are known to pass the filter; for messages alone."""
        listed, _ = self.listed(expr.kids[0], env)
        if listed.value is None:
            return listed
        many = many_items(self, expr, env)
        if many:
            return all_of_many(self, expr, env, listed, many)
        parts, values = [], []
        items = by_name(expr, self.candidates(expr, env, listed))
        for where, inner in self.passing(expr, env, items):
            if where.value is True:
                body = self.value(expr.kids[2], inner)
                parts += [where, body]
                values.append(body.value)
        return join(values or NONE, (listed, *parts))

    def on_unique(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        listed, partial = self.listed(expr.kids[0], env)
        if listed.value is None:
            return listed
        many = many_items(self, expr, env)
        if many and (short := clash_of_many(self, expr, env, many)) is not None:
            return short
        first: dict[Any, Traced] = {}
        twice: list[Traced] = []
        unsure: list[Traced] = []
        for where, inner in self.items(expr, env, listed):
            body = self.number_or_value(expr.kids[2], inner)
            if isinstance(body.value, Approx):
                body = Traced(None, reasons=(f"{self.describe(expr.kids[2])} is not exact",))
            if body.value is None or where.value is None:
                unsure.append(_asked_first(where, body))
            elif body.value in first:
                twice += [first[body.value], body]
            else:
                first[body.value] = body
        if twice:
            return join(False, twice)
        if partial:
            unsure.append(self.whole_list(listed))
        if unsure:
            return join(None, unsure)
        return join(True, (listed, *first.values()))


def _asked_first(where: Traced, body: Traced) -> Traced:
    """What an item leaves undecided: its filter, and only if that is known to pass, its body."""
    return where if where.value is None else join(None, (where, body))


_METHODS: Final = evaluation_methods(Tracer)
