"""The tracing evaluator: the same verdicts as the generated code, with everything worth telling.

It walks the checked tree of one rule over one subject and returns, beside the value, the facts
that settled it, the facts that are missing, and why anything else could not be computed. It runs
only for findings, undecided rules, workings and tests.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from ..base.absence import NONE, none_above
from ..machine.homing_order import HOMES_AFTER, STATED_AS, WAITS_FOR_STRANGER
from ..numbers.quantity import Approx, Number, div, divides, eq, is_whole
from .budget import metered
from .helpers import between, capped, extreme, raised, within
from .library import FUNCTIONS
from .matching import filter_equality, in_order
from .missing_paths import to_state
from .reach import disputed, reach
from .syntax import Definition, Expr, Rule

Record = dict[str, Any]
MAX_LISTED = 50
"""Facts named per evaluation; a longer list tells the reader nothing more."""


@dataclass(frozen=True, slots=True)
class Traced:
    """A value (None: unknown) and what it rests on.

    ``uses`` are absolute paths of the facts that settled the value, ``through`` those that did so
    through a definition; ``missing`` the facts that would decide an unknown value; ``reasons``
    say in words what else made it unknown.
    """

    value: Any
    uses: tuple[str, ...] = ()
    through: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    reasons: tuple[str, ...] = ()
    zero_divisors: tuple[str, ...] = ()


def _union(groups: Iterable[tuple[str, ...]]) -> tuple[str, ...]:
    found: dict[str, None] = {}
    for group in groups:
        for item in group:
            found.setdefault(item)
            if len(found) >= MAX_LISTED:
                return tuple(found)
    return tuple(found)


def _join(value: Any, parts: Iterable[Traced]) -> Traced:
    """A value resting on parts: their facts if it is known, else what the unknown ones lack."""
    parts = tuple(parts)
    divisors = _union(part.zero_divisors for part in parts)
    if value is not None:
        return Traced(
            value,
            _union(part.uses for part in parts),
            _union(part.through for part in parts),
            zero_divisors=divisors,
        )
    return Traced(
        None,
        missing=_union(part.missing for part in parts if part.value is None),
        reasons=_union(part.reasons for part in parts if part.value is None),
        zero_divisors=divisors,
    )


def absolute_path(record: Record, path: str) -> str:
    """The path of a fact from the top of its machine file."""
    base: str = record.get("@path", "")
    return f"{base}.{path}" if base else path


@dataclass
class Tracer:
    """Evaluates rules of one catalogue; remembers definitions per record while it lives."""

    definitions: Mapping[tuple[str, str], Definition]
    defaults: Mapping[str, Expr]
    describe: Callable[[Expr], str] = lambda expr: expr.op
    _known: dict[tuple[int, str], Traced] = field(default_factory=dict)

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
        method: Callable[[Expr, Mapping[str, Any]], Traced] = getattr(self, "on_" + expr.op)
        return method(expr, env)

    def number_or_value(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        """A value to compute with: a fact that is none counts as unknown."""
        traced = self.value(expr, env)
        if traced.value is NONE and expr.type.kind != "part":
            return Traced(None, reasons=(f"{traced.uses[0]} is none",))
        return traced

    def definition(self, record: Record, kind: str, name: str) -> Traced:
        """The value of a definition for a record."""
        key = (id(record), name)
        if key not in self._known:
            definition = self.definitions[kind, name]
            env = self.environment(definition, record)
            self._known[key] = self.number_or_value(definition.expr, env)
        return self._known[key]

    @staticmethod
    def environment(definition: Definition, record: Record) -> dict[str, Any]:
        """The environment a definition is evaluated in."""
        env = {definition.owner: record}
        if definition.record == "axis":
            env["machine"] = record["@machine"]
        return env

    # leaves

    def on_num(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return Traced(expr.data[0])

    on_flag = on_text = on_name = on_num

    def on_fact(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        root, path = expr.data
        record: Record = env[root]
        order = path in (HOMES_AFTER, WAITS_FOR_STRANGER)
        stated = STATED_AS if order else path
        where = absolute_path(record, stated)
        value = record.get(path)
        if value is not None:
            return Traced(value, (where,))
        if above := none_above(record, path):
            reason = f"{absolute_path(record, above)} is none, so there is no {path}"
            return Traced(None, reasons=(reason,))
        return Traced(None, missing=(absolute_path(record, to_state(record, stated)),))

    def on_derived(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        root, name, kind = expr.data
        traced = self.definition(env[root], kind, name)
        if traced.value is None:
            return traced
        through = _union((traced.uses, traced.through))
        return Traced(traced.value, through=through, zero_divisors=traced.zero_divisors)

    def on_local(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        found: Traced = env["let " + expr.data[0]]
        return found

    def on_setting(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        name, root = expr.data
        return Traced(env[root].get("@s:" + name, self.defaults[name].data[0]))

    # arithmetic and comparison

    def strict(
        self, expr: Expr, env: Mapping[str, Any], formula: Callable[..., Any], words: str = ""
    ) -> Traced:
        """Unknown if any operand is; else the formula, whose None is explained by ``words``."""
        parts = [self.number_or_value(kid, env) for kid in expr.kids]
        if any(part.value is None for part in parts):
            return _join(None, parts)
        value = formula(*(part.value for part in parts))
        joined = _join(value, parts)
        if value is not None:
            return joined
        reason = words or "the numbers are too close together to be told apart"
        return Traced(
            None, reasons=(f"{self.describe(expr)}: {reason}",), zero_divisors=joined.zero_divisors
        )

    def on_add(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return self.strict(expr, env, lambda a, b: a + b)

    def on_sub(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return self.strict(expr, env, lambda a, b: a - b)

    def on_mul(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return self.strict(expr, env, lambda a, b: a * b)

    def on_neg(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return self.strict(expr, env, lambda a: -a)

    def dividing(
        self,
        expr: Expr,
        env: Mapping[str, Any],
        formula: Callable[..., Any],
        divisors: Iterable[int],
        words: str = "",
    ) -> Traced:
        """Like ``strict``; where a divisor is (or may be) zero, that is the reason."""
        traced = self.strict(expr, env, formula, words)
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
            named = _union((divisor.uses, divisor.through)) if zero else ()
            if zero and not named:
                named = (self.describe(kid),)
            return Traced(None, reasons=(reason,), zero_divisors=named)
        return traced

    def on_div(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return self.dividing(expr, env, div, (1,))

    def on_pow(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        words = "the number grows too large"
        return self.strict(expr, env, lambda a: raised(a, expr.data[0]), words)

    def on_lt(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return self.strict(expr, env, lambda a, b: a < b)

    def on_le(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return self.strict(expr, env, lambda a, b: a <= b)

    def on_gt(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return self.strict(expr, env, lambda a, b: a > b)

    def on_ge(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return self.strict(expr, env, lambda a, b: a >= b)

    def on_eq(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return self.strict(expr, env, eq)

    def on_divides(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return self.dividing(expr, env, divides, (0,))

    def on_is_whole(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return self.strict(expr, env, is_whole, "the number is not exact enough to say")

    def on_within(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return self.strict(expr, env, within)

    def on_between(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return self.strict(expr, env, between)

    def on_call(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        words = "it has no answer for these values"
        function = FUNCTIONS[expr.data[0]]
        return self.dividing(expr, env, function.call, function.divisors, words)

    def on_decimals(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        root, path = expr.kids[0].data
        traced = self.number_or_value(expr.kids[0], env)
        if traced.value is None:
            return traced
        return Traced(env[root].get(path + "#decimals", 0), traced.uses)

    # words

    def words(self, expr: Expr, env: Mapping[str, Any], formula: Callable[..., bool]) -> Traced:
        parts = [self.value(kid, env) for kid in expr.kids]
        if any(part.value is None for part in parts):
            return _join(None, parts)
        return _join(formula(*(part.value for part in parts)), parts)

    def on_is(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return self.words(expr, env, lambda a, b: bool(a == b))

    def on_one_of(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return self.words(expr, env, lambda a, *items: a in items)

    def on_is_none(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return self.words(expr, env, lambda a: a is NONE)

    def on_not(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return self.words(expr, env, lambda a: not a)

    def decided(self, expr: Expr, env: Mapping[str, Any], deciding: bool) -> Traced:
        left = self.value(expr.kids[0], env)
        if left.value is deciding:
            return left
        right = self.value(expr.kids[1], env)
        if right.value is deciding:
            return right
        if left.value is None or right.value is None:
            return _join(None, (left, right))
        return _join(not deciding, (left, right))

    def on_and(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return self.decided(expr, env, False)

    def on_or(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return self.decided(expr, env, True)

    def on_else(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
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
            zero_divisors=_union((first.zero_divisors, second.zero_divisors)),
        )

    def first_is_disputed(self, expr: Expr, env: Mapping[str, Any]) -> bool:
        """Whether the first way of an `else` is stated, but not usable as it stands."""
        facts = reach(expr.kids[0], self.definitions)
        return any(root in env and disputed(env[root], (path,)) for root, path in facts)

    def on_choose(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        condition = self.value(expr.kids[0], env)
        if condition.value is None:
            return condition
        chosen = self.number_or_value(expr.kids[1 if condition.value else 2], env)
        if chosen.value is None:
            return chosen
        return _join(chosen.value, (condition, chosen))

    # lists

    def listed(self, expr: Expr, env: Mapping[str, Any]) -> tuple[Traced, bool]:
        root, path = expr.data
        return self.value(expr, env), bool(env[root].get(path + "#partial"))

    def whole_list(self, listed: Traced) -> Traced:
        """What a partial list lacks."""
        return Traced(None, missing=(f"{listed.uses[0]} (the whole list)",))

    def on_includes(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        listed, partial = self.listed(expr.kids[0], env)
        wanted = self.value(expr.kids[1], env)
        if listed.value is None:
            return listed
        if wanted.value is not None and wanted.value in listed.value:
            return _join(True, (listed, wanted))
        if partial:
            return _join(None, (self.whole_list(listed), wanted))
        if wanted.value is None and listed.value:
            return wanted
        return _join(False, (listed, wanted))

    def items(
        self, expr: Expr, env: Mapping[str, Any], listed: Traced
    ) -> Iterable[tuple[Traced, Mapping[str, Any]]]:
        """The filter's value and the environment of each item that the filter does not drop."""
        for record in self.candidates(expr, env, listed):
            inner = {**env, expr.data[0]: record}
            where = self.value(expr.kids[1], inner)
            if where.value is not False:
                yield where, inner

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

    def quantified(self, expr: Expr, env: Mapping[str, Any], deciding: bool) -> Traced:
        listed, partial = self.listed(expr.kids[0], env)
        if listed.value is None:
            return listed
        deciders, others = [], []
        found = filter_equality(expr)
        settled = found is not None and self.value(found[2], env).value is None
        lacking: set[str] = set()
        for where, inner in self.items(expr, env, listed):
            if settled and len(lacking) >= MAX_LISTED:
                break  # what the filter looks for is unknown, so no item can decide any more
            body = self.value(expr.kids[2], inner)
            if body.value is deciding and where.value is True:
                deciders.append(_join(deciding, (where, body)))
            elif body.value is (not deciding):
                others.append(body if where.value is None else _join(not deciding, (where, body)))
            else:
                others.append(_asked_first(where, body))
                lacking.update(others[-1].missing)
        if deciders:
            return _join(deciding, deciders)
        if partial:
            others.append(self.whole_list(listed))
        if any(part.value is None for part in others):
            return _join(None, others)
        sought = self.sought(expr, env) if not others else ()
        return _join(not deciding, (*sought, listed, *others))

    def sought(self, expr: Expr, env: Mapping[str, Any]) -> list[Traced]:
        """The facts outside the list that its filter looks for, when it lets nothing through."""
        (variable,) = expr.data
        facts = [node for node in expr.kids[1].walk() if node.op == "fact"]
        known = [node for node in facts if node.data[0] != variable and node.data[0] in env]
        found = [self.value(node, env) for node in known]
        return [traced for traced in found if traced.value is not None]

    def on_every(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return self.quantified(expr, env, False)

    def on_some(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return self.quantified(expr, env, True)

    def gathered(
        self, expr: Expr, env: Mapping[str, Any], combine: Callable[[list[Any]], Any], words: str
    ) -> Traced:
        listed, partial = self.listed(expr.kids[0], env)
        if listed.value is None:
            return listed
        parts: list[Traced] = []
        values: list[Any] = []
        lacking: set[str] = set()
        for where, inner in self.items(expr, env, listed):
            if len(lacking) >= MAX_LISTED:
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
            lacking.update(*(part.missing for part in parts[-2:] if part.value is None))
        if partial:
            parts.append(self.whole_list(listed))
        if any(part.value is None for part in parts):
            return _join(None, parts)
        value = combine(values)
        if value is None:
            return Traced(None, reasons=(f"{self.describe(expr)}: {words}",))
        joined = _join(value, parts)
        if joined.uses or joined.through:
            return joined
        return _join(value, (*self.sought(expr, env), listed, *parts))

    def on_count(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return self.gathered(expr, env, sum, "")

    def on_sum(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return self.gathered(expr, env, _folded(lambda a, b: a + b, 0), "it grows too large")

    def on_product(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return self.gathered(expr, env, _folded(lambda a, b: a * b, 1), "it grows too large")

    def on_max(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return self.gathered(expr, env, lambda v: extreme(v, True), "there is nothing to compare")

    def on_min(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        return self.gathered(expr, env, lambda v: extreme(v, False), "there is nothing to compare")

    def on_all(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        """The values of the items that are known to pass the filter; for messages alone."""
        listed, _ = self.listed(expr.kids[0], env)
        if listed.value is None:
            return listed
        parts, values = [], []
        for where, inner in self.items(expr, env, listed):
            if where.value is True:
                body = self.value(expr.kids[2], inner)
                parts += [where, body]
                values.append(body.value)
        return _join(values or NONE, (listed, *parts))

    def on_unique(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        listed, partial = self.listed(expr.kids[0], env)
        if listed.value is None:
            return listed
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
            return _join(False, twice)
        if partial:
            unsure.append(self.whole_list(listed))
        if unsure:
            return _join(None, unsure)
        return _join(True, (listed, *first.values()))


def _asked_first(where: Traced, body: Traced) -> Traced:
    """What an item leaves undecided: its filter, and only if that is known to pass, its body."""
    return where if where.value is None else _join(None, (where, body))


def _folded(
    step: Callable[[Number, Number], Number], start: int
) -> Callable[[list[Any]], Number | None]:
    def fold(values: list[Any]) -> Number | None:
        total: Number | None = start
        for value in values:
            assert total is not None
            total = capped(step(total, value))
            if total is None:
                return None
        return total

    return fold
