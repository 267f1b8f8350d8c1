"""What operators over lists ask of the list, its filter and the body."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from itertools import permutations
from types import MappingProxyType
from typing import Final

from ..numbers.dimensions import DIMENSIONLESS
from .equalities import is_equality
from .expression_checker import CheckOperands, ExpressionChecker
from .groups import GROUP
from .rule_file import RuleFile
from .scope import Scope
from .syntax import FLAG, NUMBER, POSITION, Expr, Span, Type
from .wording import kind_phrase


def check_loop(checker: ExpressionChecker, raw: Expr, scope: Scope) -> tuple[Expr, Expr, Scope]:
    """The list, filter and inner scope of a quantifier or aggregate."""
    (variable,) = raw.data
    listed = checker.expr(raw.kids[0], scope)
    item = listed.type.item
    if listed.type.kind != "list" or item is None or item.kind != "record":
        raise scope.file.error(listed.at, f"{kind_phrase(listed.type)} has no records", "a list")
    if variable in scope.variables or variable in scope.lets:
        at = _named_at(scope.file, raw, variable)
        raise scope.file.error(at, f"{variable} means something already", "another name")
    checker.names.new_name(scope.file, variable, _named_at(scope.file, raw, variable))
    owner = item.owner or variable
    inner = replace(
        scope,
        variables={**scope.variables, variable: replace(item, owner=owner)},
        looped=scope.looped | {variable},
    )
    where = checker.condition(raw.kids[1], inner)
    met = {name for name in scope.variables if name not in ("machine", GROUP)}
    if listed.data[0] == GROUP:
        met = {name for name in met if name in scope.looped}
    if (
        listed.data[0] in ("machine", GROUP)
        and met
        and not _has_key(where, variable, {*scope.variables, *scope.lets} - {"machine"})
    ):
        raise scope.file.error(
            raw.at,
            f"this meets every one of {raw.kids[0].data[0]} with every one of the others",
            f"where {variable}.FACT is …, an equality that picks the ones meant",
        )
    return listed, where, inner.narrowed(where)


def _named_at(file: RuleFile, loop: Expr, variable: str) -> Span:
    """The place of the word that a loop gives its items."""
    lines = file.text.split("\n")
    for line in range(loop.at.line, loop.at.end_line + 1):
        start = loop.at.column - 1 if line == loop.at.line else 0
        found = re.compile(rf"\b{re.escape(variable)}\b").search(lines[line - 1], start)
        if found:
            return Span(line, found.start() + 1, line, found.end() + 1)
    return loop.at


def _has_key(where: Expr, variable: str, outer: set[str]) -> bool:
    """Tell whether a filter equates a fact of the variable with a fact of an outer subject."""
    if where.op == "and":
        return any(_has_key(kid, variable, outer) for kid in where.kids)
    if not is_equality(where):
        return False
    roots = [
        {node.data[0] for node in kid.walk() if node.op in ("fact", "derived", "local")}
        for kid in where.kids
    ]
    return any({variable} == one and other & outer for one, other in permutations(roots))


def check_quantified(
    checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None
) -> Expr:
    """A condition on each item."""
    listed, where, inner = check_loop(checker, raw, scope)
    body = checker.condition(raw.kids[2], inner)
    return replace(raw, kids=(listed, where, body), type=FLAG)


def check_distinct(checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None) -> Expr:
    """What is to differ from item to item."""
    listed, where, inner = check_loop(checker, raw, scope)
    body = checker.expr(raw.kids[2], inner)
    if body.type.kind not in ("number", "text", "name") or body.type.approx:
        raise scope.file.error(body.at, f"{kind_phrase(body.type)} cannot be told apart")
    return replace(raw, kids=(listed, where, body), type=FLAG)


def check_counted(checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None) -> Expr:
    """Nothing but the items."""
    listed, where, _ = check_loop(checker, raw, scope)
    return replace(raw, kids=(listed, where), type=NUMBER)


def check_aggregated(
    checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None
) -> Expr:
    """A number of each item."""
    listed, where, inner = check_loop(checker, raw, scope)
    body = checker.number(raw.kids[2], inner)
    if raw.op == "product" and inner.plain(body.type.dim) != DIMENSIONLESS:
        raise scope.file.error(body.at, "only ratios can be multiplied over a list", "a ratio")
    (variable,) = raw.data
    if any(base == POSITION + variable for base, _ in inner.plain(body.type.dim)):
        raise scope.file.error(
            body.at,
            "user units of different axes cannot be combined",
            f"a condition on {variable}.motion in where",
        )
    type_ = Type("number", inner.plain(body.type.dim), approx=body.type.approx)
    return replace(raw, kids=(listed, where, body), type=type_)


def check_shown(checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None) -> Expr:
    """What a message shows of each item."""
    if not scope.message:
        raise scope.file.error(raw.at, "all of is for messages", "a place within {} in say")
    listed, where, inner = check_loop(checker, raw, scope)
    body = checker.expr(raw.kids[2], inner)
    if body.type.kind not in ("number", "text", "name", "method") or any(
        base.startswith(POSITION) for base, _ in body.type.dim
    ):
        raise scope.file.error(
            body.at, f"{kind_phrase(body.type)} cannot be listed", "a name or a plain number"
        )
    return replace(raw, kids=(listed, where, body), type=Type("list", item=body.type))


LIST_CHECKS: Final[Mapping[str, CheckOperands]] = MappingProxyType(
    {
        "quantified": check_quantified,
        "distinct": check_distinct,
        "counted": check_counted,
        "aggregated": check_aggregated,
        "shown": check_shown,
    }
)
"""The check of each kind of loop."""
