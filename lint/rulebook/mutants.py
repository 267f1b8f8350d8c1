"""Mutants of rules: one operator, word, number or part changed.

A mutant changes what a rule asks, what it computes for its messages or the value that it proposes.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from ..language.operator_entry import NO_MUTATIONS
from ..language.operators import OPERATORS
from ..language.printing import formula
from ..language.syntax import Expr, Hole, Rule, Span, Template

_PAIRS: Final = (
    ("numerator", "denominator"),
    ("floor", "ceiling"),
    ("min", "max"),
    ("largest_multiple", "smallest_multiple"),
)
_CONFUSABLE: Final = {a: b for pair in _PAIRS for a, b in (pair, pair[::-1])}
"""Functions of one signature that are easily taken for each other."""


def mutants_of(rule: Rule) -> Iterator[tuple[str, Span, Rule]]:
    """Rules with one change in condition, values or requirement: (words, place, mutant)."""
    if rule.when is not None:
        for words, at, expr in changed_expressions(rule.when):
            yield words, at, replace(rule, when=expr)
    for number, (name, value) in enumerate(rule.lets):
        for words, at, expr in changed_expressions(value):
            lets = (*rule.lets[:number], (name, expr), *rule.lets[number + 1 :])
            yield words, at, replace(rule, lets=lets)
    for words, at, expr in changed_expressions(rule.require):
        yield words, at, replace(rule, require=expr)
    yield from _message_mutants(rule, "say", rule.say)
    yield from _message_mutants(rule, "why", rule.why)
    yield from _message_mutants(rule, "remedy", rule.remedy)
    yield from _message_mutants(rule, "headline", rule.headline)
    if rule.fix is not None and rule.fix.over is None:
        for words, at, expr in changed_expressions(rule.fix.value):
            yield f"in set {words}", at, replace(rule, fix=replace(rule.fix, value=expr))


def _message_mutants(
    rule: Rule, clause: str, template: Template
) -> Iterator[tuple[str, Span, Rule]]:
    """Mutants of what a message computes."""
    for number, part in enumerate(template):
        if not isinstance(part, Hole):
            continue
        for words, at, expr in changed_expressions(part.expr):
            changed = (*template[:number], replace(part, expr=expr), *template[number + 1 :])
            if clause == "say":
                mutant = replace(rule, say=changed)
            elif clause == "why":
                mutant = replace(rule, why=changed)
            elif clause == "headline":
                mutant = replace(rule, headline=changed)
            else:
                mutant = replace(rule, remedy=changed)
            yield f"in {clause} {words}", at, mutant


def changed_expressions(expr: Expr) -> Iterator[tuple[str, Span, Expr]]:
    """Expressions with one change anywhere in them: (words, place, expression)."""
    for words, changed in _changes_of_node(expr):
        yield words, expr.at, changed
    for number, kid in enumerate(expr.kids):
        for words, at, changed in changed_expressions(kid):
            kids = (*expr.kids[:number], changed, *expr.kids[number + 1 :])
            yield words, at, expr.with_kids(kids)


def _changes_of_node(expr: Expr) -> Iterator[tuple[str, Expr]]:
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
    if expr.op == "call" and expr.data[0] in _CONFUSABLE:
        other = replace(expr, data=(_CONFUSABLE[expr.data[0]], *expr.data[1:]))
        yield f"{text} becomes {formula(other)}", other
    if expr.op == "call" and expr.data[0] == "absolute":
        yield f"{text} becomes {formula(expr.kids[0])}", expr.kids[0]
    if expr.op == "num":
        changed = expr.data[0] * 2 if expr.data[0] else 1
        words = "is doubled" if expr.data[0] else "becomes 1"
        yield f"{text} {words}", replace(expr, data=(changed, f"2·{text}"))
    if expr.op == "date":
        yield f"{text} becomes the day after", replace(expr, data=(expr.data[0] + 86400, "later"))
    if expr.op == "period":
        yield f"{text} is doubled", replace(expr, data=(expr.data[0] * 2, f"2·{text}"))
    if expr.op == "one_of" and len(expr.kids) > 2:
        for number in range(1, len(expr.kids)):
            kids = expr.kids[:number] + expr.kids[number + 1 :]
            yield f"{formula(expr.kids[number])} is dropped from {text}", expr.with_kids(kids)
    if expr.op == "set" and len(expr.data[0]) > 1:
        for word in expr.data[0]:
            left = tuple(each for each in expr.data[0] if each != word)
            yield f"{word} is dropped from {text}", replace(expr, data=(left,))
    if mutations.unfiltered and expr.kids[1].op != "flag":
        flag = Expr("flag", (), (True,), expr.at)
        kids = (expr.kids[0], flag, *expr.kids[2:])
        yield f"where is dropped from {text}", expr.with_kids(kids)
    if expr.op == "name":
        for word in expr.type.names:
            if word != expr.data[0]:
                yield f"{text} becomes {word}", replace(expr, data=(word,))
                break
