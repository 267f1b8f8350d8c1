"""Derivations: every named value of a finding as formula, formula with numbers, and result."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from itertools import islice
from typing import Any

from ..base.absence import NONE
from ..findings.finding import DerivationStep
from ..machine.records import Facts, notes_of
from ..machine.schema import ROLE_END
from ..numbers.exact import Pi
from ..numbers.units import UNITS
from .library import FUNCTIONS
from .many_items import TOLD_OF_MANY, many_items
from .operator_entry import ATOM
from .operators import LOOPS, OPERATORS
from .printing import (
    Text,
    enclosed,
    formula,
    in_formula,
    inline,
    text_of,
    unit_for,
    value_text,
)
from .syntax import Expr, Rule, Type
from .traced import absolute_path
from .tracer import Tracer

Written = Callable[[str], str | None]


def steps_of(
    rule: Rule,
    holes: Iterable[Expr],
    env: Mapping[str, Any],
    tracer: Tracer,
    written: Written,
) -> tuple[DerivationStep, ...]:
    """The steps behind a rule's verdict on one subject, each after those it builds on."""
    builder = _StepBuilder(tracer, written, "after" if "after" in env else "")
    lets = dict(rule.lets)
    for name, expr in rule.lets:
        builder.visit(expr, env, lets)
        builder.add(name, expr, env, "")
    for hole in holes:
        builder.visit(hole, env, lets)
    builder.visit(rule.require, env, lets)
    value = tracer.value(rule.require, env).value
    verdict = {True: "holds", False: "does not hold", None: "cannot be decided"}[value]
    builder.steps["must hold"] = DerivationStep(
        "must hold", formula(rule.require), builder.filled(rule.require, env), verdict
    )
    return tuple(builder.steps.values())


def _in_radians(type_: Type, env: Mapping[str, Any], unit: str = "") -> tuple[bool, ...]:
    """Whether the unit of a number with an angle in its dimension holds radians, as N·m does.

    What is multiplied in rev or deg and comes out in such a unit is off by 2π on a calculator.
    """
    if type_.kind != "number":
        return ()
    known = UNITS.get(unit if unit else unit_for(type_.dim, env))
    if known is None or all(base != "angle" for base, _ in known.dimension):
        return ()
    return (isinstance(known.factor, Pi),)


class _StepBuilder:
    def __init__(self, tracer: Tracer, written: Written, role: str) -> None:
        self.tracer = tracer
        self.written = written
        self.steps: dict[str, DerivationStep] = {}
        self.seen: set[tuple[int, str]] = set()
        self.role = role

    def visit(self, expr: Expr, env: Mapping[str, Any], lets: Mapping[str, Expr]) -> None:
        """Add the steps of the definitions an expression uses."""
        if expr.op == "derived":
            self.definition(expr, env)
        elif expr.op in ("choose", "default"):
            for kid in self.taken(expr, env):
                self.visit(kid, env, lets)
        elif expr.op in LOOPS:
            for inner in self.items(expr, env):
                for kid in expr.kids[1:]:
                    self.visit(kid, inner, lets)
        else:
            for kid in expr.kids:
                self.visit(kid, env, lets)

    def definition(self, expr: Expr, env: Mapping[str, Any]) -> None:
        root, name, kind = expr.data
        record = env[root]
        if (id(record), name) in self.seen:
            return
        self.seen.add((id(record), name))
        found = self.tracer.definitions[kind, name]
        inner = self.tracer.environment(found, record)
        self.visit(found.expr, inner, {})
        self.add(self.label(root, name, record), found.expr, inner, found.meaning, expr, env)

    def label(self, root: str, name: str, record: Facts) -> str:
        """The name of a step; where two records have the definition, it says which is meant."""
        path = notes_of(record).path
        role = path.partition(ROLE_END)[0] if ROLE_END in path else self.role
        words = [role] if role else []
        if root not in ("axis", "before", "after", "fitted"):
            words.append(record.get("name") or path.rsplit(".", 1)[-1])
        return ".".join([*words, name])

    def add(
        self,
        name: str,
        expr: Expr,
        env: Mapping[str, Any],
        meaning: str,
        result_of: Expr | None = None,
        result_env: Mapping[str, Any] | None = None,
    ) -> None:
        whole = result_of or expr
        where = result_env if result_env is not None else env
        value = self.tracer.number_or_value(whole, where).value
        result = value_text(value, whole.type, where)
        chosen = self.chosen(expr, env)
        written, filled = self.worked(chosen, env)
        filled = "" if filled in (result, written) else filled
        if filled and len({*self.radians(chosen, env), *_in_radians(whole.type, where)}) > 1:
            filled += ", with 1 rev = 2·π rad"
        self.steps[name] = DerivationStep(name, written, filled, result, meaning)

    def radians(self, expr: Expr, env: Mapping[str, Any]) -> Iterable[bool]:
        """Of each number with an angle in its dimension, whether its unit holds radians."""
        if expr.op == "fact" and expr.type.kind == "number":
            text = self.written(absolute_path(env[expr.data[0]], expr.data[1]))
            unit = (text or "").partition(" ")[2]
            yield from _in_radians(expr.type, env, unit)
        elif expr.op in LOOPS:
            for inner in self.items(expr, env):
                yield from self.radians(expr.kids[2], inner) if len(expr.kids) > 2 else ()
        elif expr.kids:
            for kid in expr.kids:
                yield from self.radians(kid, env)
        else:
            yield from _in_radians(expr.type, env)

    def worked(self, expr: Expr, env: Mapping[str, Any]) -> tuple[str, str]:
        """The formula in names and with numbers; a function's own formula if it has one."""
        if expr.op == "call":
            function = FUNCTIONS[expr.data[0]]
            values = [self.tracer.number_or_value(kid, env).value for kid in expr.kids]
            if function.worked is not None and None not in values:
                text = function.worked(*values)
                pairs = list(zip(function.symbols, expr.kids, strict=True))
                names = ", ".join(f"{symbol} = {formula(kid)}" for symbol, kid in pairs)
                numbers = {symbol: f"({self.filled(kid, env)})" for symbol, kid in pairs}
                pattern = "(?<![a-z])[" + "".join(numbers) + "](?![a-z])"
                return (
                    f"{text} with {names}",
                    re.sub(pattern, lambda found: numbers[found[0]], text),
                )
        return formula(expr), self.filled(expr, env)

    def chosen(self, expr: Expr, env: Mapping[str, Any]) -> Expr:
        """The expression with every alternative replaced by the one that was taken."""
        if expr.op in ("choose", "default"):
            taken = self.taken(expr, env)
            return self.chosen(taken[-1], env) if taken else expr
        if expr.op in LOOPS:
            return expr
        return expr.with_kids(tuple(self.chosen(kid, env) for kid in expr.kids))

    def taken(self, expr: Expr, env: Mapping[str, Any]) -> list[Expr]:
        if expr.op == "default":
            known = [k for k in expr.kids if self.tracer.number_or_value(k, env).value is not None]
            return known[:1]
        condition = self.tracer.value(expr.kids[0], env).value
        return [] if condition is None else [expr.kids[1 if condition else 2]]

    def items(self, expr: Expr, env: Mapping[str, Any]) -> list[dict[str, Any]]:
        """The environments of the items that the filter lets through; of many, the first ones."""
        listed = self.tracer.value(expr.kids[0], env).value
        if not isinstance(listed, list):
            return []
        many = many_items(self.tracer, expr, env)
        inner = ({**env, expr.data[0]: record} for record in (many or listed))
        passing = (e for e in inner if self.tracer.value(expr.kids[1], e).value is not False)
        return [*islice(passing, TOLD_OF_MANY if many else None)]

    def filled(self, expr: Expr, env: Mapping[str, Any]) -> str:
        """The expression with numbers in place of names."""
        return self.filled_text(expr, env)[0]

    def filled_text(self, expr: Expr, env: Mapping[str, Any]) -> Text:
        def leaf(node: Expr) -> Text | None:
            if node.op == "fact":
                record = env[node.data[0]]
                value = record.get(node.data[1])
                if node.type.kind == "number" and value is not None and value is not NONE:
                    text = self.written(absolute_path(record, node.data[1]))
                    if text is not None and " " in text:
                        return in_formula(text)
                return inline(value, node.type, env)
            if node.op in ("derived", "local", "setting"):
                value = self.tracer.number_or_value(node, env).value
                return inline(value, node.type, env)
            return self.operation_text(node, env) if node.op in OPERATORS else None

        return text_of(expr, leaf)

    def operation_text(self, node: Expr, env: Mapping[str, Any]) -> Text | None:
        """An operator's value, or its operands' as far as they count; None to print it in full."""
        match OPERATORS[node.op].evaluation:
            case "default" | "choose":
                taken = self.taken(node, env)
                return self.filled_text(taken[-1], env) if taken else None
            case "aggregate" if len(node.kids) == 3:
                return self.aggregate_text(node, env)
            case "aggregate" | "decimals":
                return inline(self.tracer.number_or_value(node, env).value, node.type, env)
            case "all":
                return value_text(self.tracer.value(node, env).value, node.type, env), ATOM
            case "quantifier" | "unique":
                value = self.tracer.value(node, env).value
                return {True: "true", False: "false", None: "unknown"}[value], ATOM
        return None

    def aggregate_text(self, node: Expr, env: Mapping[str, Any]) -> Text:
        """The values of the items, with the sign between them or as those of a function."""
        aggregate = OPERATORS[node.op].aggregate
        terms = [self.filled_text(node.kids[2], inner) for inner in self.items(node, env)]
        if len(terms) == TOLD_OF_MANY and many_items(self.tracer, node, env):
            terms.append(("…", ATOM))
        if aggregate is None or aggregate.listed is None:
            return f"{node.op}({', '.join(text for text, _ in terms)})", ATOM
        sign, strength, none = aggregate.listed
        if len(terms) == 1:
            return terms[0]
        texts = [enclosed(term, strength + 1) for term in terms]
        return (f" {sign} ".join(texts), strength) if texts else (none, ATOM)
