"""What operators that are true or false ask of their operands."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Final

from .expression_checker import CheckOperands, ExpressionChecker
from .operators import OPERATORS
from .scope import Scope
from .syntax import FLAG, METHOD, Expr, Type
from .wording import dimension_phrase, kind_phrase


def check_conditions(
    checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None
) -> Expr:
    """The second is checked where the first is known to hold, for `or` not to hold."""
    left = checker.condition(raw.kids[0], scope)
    right = checker.condition(raw.kids[1], scope.narrowed(left, not OPERATORS[raw.op].deciding))
    return replace(raw, kids=(left, right), type=FLAG)


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


def check_alike(checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None) -> Expr:
    """Words, texts, flags or homing methods."""
    left = checker.expr(raw.kids[0], scope)
    if left.type.kind not in ("name", "text", "flag", "method"):
        raise scope.file.error(
            left.at,
            f"{kind_phrase(left.type)} before is",
            "a word, a text, a flag; = for numbers",
        )
    right = checker.operand_like(raw.kids[1], left, scope)
    if left.type.kind == "method" and right.type.kind == "number" and right.op == "num":
        right = replace(right, type=METHOD)
    checker.same(scope, right, left.type, "the left side is")
    if left.type.kind == "name" and not set(left.type.names) & set(right.type.names):
        raise scope.file.error(right.at, "the two sides have no word in common")
    return replace(raw, kids=(left, right), type=FLAG)


def check_one_of(checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None) -> Expr:
    """A word and a list of fixed words."""
    left = checker.expr(raw.kids[0], scope)
    if left.type.kind not in ("name", "method"):
        raise scope.file.error(left.at, f"{kind_phrase(left.type)} before is one of", "a word")
    items = []
    for kid in raw.kids[1:]:
        item = checker.operand_like(kid, left, scope)
        if left.type.kind == "method" and item.op == "num":
            item = replace(item, type=METHOD)
        if item.op not in ("name", "num"):
            raise scope.file.error(item.at, "this is not a fixed word", "words or numbers")
        checker.same(scope, item, left.type, "the left side is")
        items.append(item)
    return replace(raw, kids=(left, *items), type=FLAG)


def check_included(checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None) -> Expr:
    """A list of words or numbers, and one of these."""
    left = checker.expr(raw.kids[0], scope)
    item = left.type.item
    if left.op != "fact" or item is None or item.kind == "record":
        raise scope.file.error(
            left.at, f"{kind_phrase(left.type)} before includes", "a list of words or numbers"
        )
    right = checker.operand_like(raw.kids[1], Expr("item", type=item), scope)
    if item.kind == "method" and right.op == "num":
        right = replace(right, type=METHOD)
    checker.same(scope, right, item, "the list holds")
    return replace(raw, kids=(left, right), type=FLAG)


CONDITION_CHECKS: Final[Mapping[str, CheckOperands]] = MappingProxyType(
    {
        "conditions": check_conditions,
        "condition": check_condition,
        "ordered": check_ordered,
        "near": check_near,
        "divisible": check_divisible,
        "whole": check_whole,
        "absent": check_absent,
        "alike": check_alike,
        "one_of": check_one_of,
        "included": check_included,
    }
)
"""The check of each kind of operands of what is true or false."""
