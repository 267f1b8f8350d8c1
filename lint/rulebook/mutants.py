"""Mutants of rules: one operator, word, number or part changed.

A mutant changes what a rule asks, what it computes for its messages or the value that it proposes.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Final

from ..language.operator_entry import NO_MUTATIONS
from ..language.operators import OPERATORS
from ..language.printing import value_text
from ..language.syntax import Expr, Hole, Rule, Template

_PAIRS: Final = (
    ("numerator", "denominator"),
    ("floor", "ceiling"),
    ("min", "max"),
    ("largest_multiple", "smallest_multiple"),
)
_CONFUSABLE: Final = {a: b for pair in _PAIRS for a, b in (pair, pair[::-1])}
"""Functions of one signature that are easily taken for each other."""

_NUMBER: Final = re.compile(r"([0-9]+(?:\.[0-9]+)?)(/[0-9]+)?(.*)", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Change:
    """A node of a rule or definition, and what a mutant has in its place."""

    before: Expr
    after: Expr


def mutants_of(rule: Rule) -> Iterator[tuple[Change, Rule]]:
    """Rules with one change in condition, values, requirement, messages or proposed value."""
    if rule.when is not None:
        for change, expr in changed_expressions(rule.when):
            yield change, replace(rule, when=expr)
    for number, (name, value) in enumerate(rule.lets):
        for change, expr in changed_expressions(value):
            lets = (*rule.lets[:number], (name, expr), *rule.lets[number + 1 :])
            yield change, replace(rule, lets=lets)
    for change, expr in changed_expressions(rule.require):
        yield change, replace(rule, require=expr, due=rule.due and expr.kids[0])
    for change, template in _changed_templates(rule.early):
        yield change, replace(rule, early=template)
    for change, template in _changed_templates(rule.say):
        yield change, replace(rule, say=template)
    for change, template in _changed_templates(rule.why):
        yield change, replace(rule, why=template)
    for change, template in _changed_templates(rule.remedy):
        yield change, replace(rule, remedy=template)
    for change, template in _changed_templates(rule.headline):
        yield change, replace(rule, headline=template)
    texts = rule.caution_texts
    for number, text in enumerate(texts):
        for change, template in _changed_templates(text):
            told = (*texts[:number], template, *texts[number + 1 :])
            yield change, replace(rule, caution_texts=told)
    if rule.fix is not None and rule.fix.over is None:
        for change, expr in changed_expressions(rule.fix.value):
            yield change, replace(rule, fix=replace(rule.fix, value=expr))


def _changed_templates(template: Template) -> Iterator[tuple[Change, Template]]:
    """Messages with one change in what they compute."""
    for number, part in enumerate(template):
        if isinstance(part, Hole):
            for change, expr in changed_expressions(part.expr):
                changed = replace(part, expr=expr)
                yield change, (*template[:number], changed, *template[number + 1 :])


def changed_expressions(expr: Expr) -> Iterator[tuple[Change, Expr]]:
    """Expressions with one change anywhere in them."""
    for changed in _changes_of_node(expr):
        yield Change(expr, changed), changed
    for number, kid in enumerate(expr.kids):
        for change, changed in changed_expressions(kid):
            kids = (*expr.kids[:number], changed, *expr.kids[number + 1 :])
            yield change, expr.with_kids(kids)


def _changes_of_node(expr: Expr) -> Iterator[Expr]:
    by_one = expr.op in ("mul", "div") and expr.kids[1].op == "num" and expr.kids[1].data[0] == 1
    mutations = OPERATORS[expr.op].mutations if expr.op in OPERATORS else NO_MUTATIONS
    for op in () if by_one else mutations.becomes:
        yield replace(expr, op=op)
    if mutations.one_side:
        yield from expr.kids
    if expr.op == "not":
        yield expr.kids[0]
    if mutations.opposite:
        yield Expr("not", (expr,), (), expr.at, expr.type)
    if expr.op == "call" and expr.data[0] in _CONFUSABLE:
        yield replace(expr, data=(_CONFUSABLE[expr.data[0]], *expr.data[1:]))
    if expr.op == "call" and expr.data[0] == "absolute":
        yield expr.kids[0]
    yield from _changes_of_literal(expr)
    if expr.op == "one_of" and len(expr.kids) > 2:
        for number in range(1, len(expr.kids)):
            yield expr.with_kids(expr.kids[:number] + expr.kids[number + 1 :])
    if mutations.unfiltered and expr.kids[1].op != "flag":
        flag = Expr("flag", (), (True,), expr.at)
        yield expr.with_kids((expr.kids[0], flag, *expr.kids[2:]))


def _changes_of_literal(expr: Expr) -> Iterator[Expr]:
    if expr.op == "num":
        value, written = expr.data
        changed = (value * 2, _doubled(written)) if value else (1, "1" + written.lstrip("0."))
        yield replace(expr, data=changed)
    elif expr.op == "date":
        day = expr.data[0] + 86400
        yield replace(expr, data=(day, value_text(day, expr.type, {})))
    elif expr.op == "period":
        yield replace(expr, data=(expr.data[0] * 2, _doubled(expr.data[1])))
    elif expr.op == "set" and len(expr.data[0]) > 1:
        for word in expr.data[0]:
            yield replace(expr, data=(tuple(each for each in expr.data[0] if each != word),))
    elif expr.op == "name":
        other = next((word for word in expr.type.names if word != expr.data[0]), None)
        if other is not None:
            yield replace(expr, data=(other,))


def _doubled(written: str) -> str:
    """The text of a number of twice the size, in the same unit."""
    found = _NUMBER.match(written)
    if found is None:
        return f"2 * {written}"
    number, below, unit = found.groups()
    return f"{Decimal(number) * 2:f}{below or ''}{unit}"
