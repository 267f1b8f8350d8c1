"""What operators that are true or false ask of their operands."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Final

from .expression_checker import CheckOperands, ExpressionChecker
from .operators import OPERATORS
from .scope import Scope
from .syntax import FLAG, Expr, Type
from .wording import dimension_phrase


def check_conditions(
    checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None
) -> Expr:
    """The second is checked where the first is known to hold, for `or` not to hold."""
    left = checker.condition(raw.kids[0], scope)
    _refuse_half_comparison(raw, left, scope)
    right = checker.condition(raw.kids[1], scope.narrowed(left, not OPERATORS[raw.op].deciding))
    return replace(raw, kids=(left, right), type=FLAG)


def _refuse_half_comparison(raw: Expr, left: Expr, scope: Scope) -> None:
    """Refuse ``a is b or c``, where c is another word that a may be."""
    right = raw.kids[1]
    denied = left.op == "not"
    asked = left.kids[0] if denied else left
    if asked.op == "eq" and right.op == "num":
        fact, number = (scope.file.written(kid.at) for kid in asked.kids)
        what = f"{right.data[1]} is not a condition"
        each = f"{fact} = {number} {raw.op} {fact} = {right.data[1]}"
        raise scope.file.error(right.at, what, f"a whole comparison on each side: {each}")
    if asked.op not in ("is", "one_of"):
        return
    first = asked.kids[0]
    word = right.data[0] if right.op in ("path", "text") else None
    known = word in scope.lets or word in scope.variables
    named = right.op == "path" and word in first.type.names and not known
    if named or (right.op == "text" and first.type.kind == "text"):
        items = [scope.file.written(kid.at) for kid in (*asked.kids[1:], right)]
        verb = "is not one of" if denied else "is one of"
        raise scope.file.error(
            right.at,
            f"{items[-1]} is not a condition",
            f"{scope.file.written(first.at)} {verb} [{', '.join(items)}]",
        )


def check_condition(checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None) -> Expr:
    """Something true or false."""
    return replace(raw, kids=(checker.condition(raw.kids[0], scope),), type=FLAG)


def check_ordered(checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None) -> Expr:
    """Numbers of one dimension, or dates."""
    first = checker.expr(raw.kids[0], scope)
    checker.comparable(raw, [first], scope)
    like = first.type if first.type.kind == "number" else None
    kids = (first, *(checker.expr(kid, scope, like) for kid in raw.kids[1:]))
    checker.comparable(raw, kids, scope)
    if OPERATORS[raw.op].equates:
        for kid in kids:
            if kid.type.approx:
                raise scope.file.error(
                    kid.at,
                    "this value is never exact, so it cannot equal another",
                    "a within b of c",
                )
    return replace(raw, kids=kids, type=FLAG)


def check_near(checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None) -> Expr:
    """Numbers of one dimension."""
    kids = tuple(checker.number(kid, scope) for kid in raw.kids)
    checker.comparable(raw, kids, scope)
    return replace(raw, kids=kids, type=FLAG)


def check_divisible(checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None) -> Expr:
    """Exact numbers of one dimension."""
    kids = tuple(checker.number(kid, scope) for kid in raw.kids)
    checker.comparable(raw, kids, scope)
    for kid in kids:
        if kid.type.approx:
            raise scope.file.error(kid.at, "this value is never exact, so it divides nothing")
    return replace(raw, kids=kids, type=FLAG)


def check_whole(checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None) -> Expr:
    """An exact number that is whole or not in whatever unit."""
    kid = checker.number(raw.kids[0], scope)
    if kid.type.approx:
        raise scope.file.error(kid.at, "this value is never exact, so it is never surely whole")
    dimension = scope.plain(kid.type.dim)
    if any(base not in ("count", "angle") for base, _ in dimension):
        raise scope.file.error(
            kid.at,
            f"whether {dimension_phrase(dimension)} is whole depends on the unit",
            "a ratio, counts or turns",
        )
    return replace(raw, kids=(kid,), type=FLAG)


def check_absent(checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None) -> Expr:
    """A fact that may be none."""
    kid = checker.expr(raw.kids[0], scope)
    if kid.op != "fact" or not kid.type.nullable:
        raise scope.file.error(kid.at, "this is never none", "a fact that may be none")
    return replace(raw, kids=(kid,), type=FLAG)


CONDITION_CHECKS: Final[Mapping[str, CheckOperands]] = MappingProxyType(
    {
        "conditions": check_conditions,
        "condition": check_condition,
        "ordered": check_ordered,
        "near": check_near,
        "divisible": check_divisible,
        "whole": check_whole,
        "absent": check_absent,
    }
)
"""The check of each kind of operands of what is true or false."""
