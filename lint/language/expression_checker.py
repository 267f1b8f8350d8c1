"""Checks expressions: dispatch to what each operator asks of its operands, and what these share.

The functions for each kind of operands (see operators.py) stand in check_numbers.py,
check_conditions.py and check_lists.py; expressions.py puts them together.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from ..numbers.calendar_periods import day_of
from ..numbers.compound_units import unit_named
from ..numbers.dimensions import Dimension, dim_words
from ..numbers.units import UNITS
from .check_names import Names
from .operators import OPERATORS
from .rule_file import RuleFile
from .scope import Scope
from .syntax import POSITION, Expr, Hole, Span, Template, Type
from .wording import PART_ASKED, date_meant, dimension_phrase, kind_phrase, nearest_name

CheckOperands = Callable[["ExpressionChecker", Expr, Scope, Type | None], Expr]
"""Checks a node in a scope; the type is the one wanted, where that is known."""


class ExpressionChecker:
    """Turns raw expressions into typed ones. Raises RuleError at the first fault."""

    def __init__(self, names: Names, checks: Mapping[str, CheckOperands]) -> None:
        self.names = names
        self.checks = checks

    def expr(self, raw: Expr, scope: Scope, want: Type | None = None) -> Expr:
        """Check an expression."""
        operator = OPERATORS.get(raw.op)
        check = self.checks[raw.op if operator is None else operator.operands]
        return check(self, raw, scope, want)

    def condition(self, raw: Expr, scope: Scope) -> Expr:
        """Check what must be true or false."""
        expr = self.expr(raw, scope)
        if expr.type.kind != "flag":
            raise scope.file.error(
                expr.at,
                f"{kind_phrase(expr.type)} is not a condition",
                PART_ASKED if expr.type.kind == "part" else "something true or false",
            )
        return expr

    def number(self, raw: Expr, scope: Scope, want: Type | None = None) -> Expr:
        """Check what must be a number."""
        expr = self.expr(raw, scope, want)
        if expr.type.kind != "number":
            raise scope.file.error(
                expr.at, f"{kind_phrase(expr.type)} is not something to compute with", "a number"
            )
        return expr

    def same(self, scope: Scope, expr: Expr, want: Type, words: str) -> None:
        """Refuse an expression that is not of the wanted type."""
        if expr.type.kind != want.kind:
            raise scope.file.error(
                expr.at,
                f"this is {kind_phrase(expr.type)}",
                f"{kind_phrase(want)} ({words} {kind_phrase(want)})",
            )
        have, wanted = scope.plain(expr.type.dim), scope.plain(want.dim)
        if want.kind == "number" and have != wanted:
            phrase = dimension_phrase(wanted)
            raise scope.file.error(
                expr.at, f"this is {dimension_phrase(have)}", f"{phrase} ({words} {phrase})"
            )

    def single(self, scope: Scope, expr: Expr) -> None:
        """Refuse what is not a single value."""
        if expr.type.kind in ("list", "part", "record"):
            raise scope.file.error(
                expr.at, f"{kind_phrase(expr.type)} cannot be chosen", "a single value"
            )

    def comparable(self, raw: Expr, kids: Sequence[Expr], scope: Scope) -> None:
        """Refuse operands that cannot be compared with each other."""
        first = kids[0]
        for kid in kids:
            if kid.type.kind not in ("number", "date"):
                hint = "is for words, texts and flags" if raw.op == "eq" else "a number or a date"
                if kid.type.kind == "part":
                    hint = PART_ASKED
                if kid.type.kind == "period":
                    hint = "a date plus the period, compared with the other date"
                if kid.op == "text" and day_of(kid.data[0]) is not None:
                    hint = f"the day without quotes: {kid.data[0]}"
                raise scope.file.error(
                    kid.at, f"{kind_phrase(kid.type)} has no order or size", hint
                )
            if kid.type.kind != first.type.kind:
                number = kid if kid.type.kind == "number" else first
                raise scope.file.error(
                    kid.at, "a number and a date cannot be compared", date_meant(number)
                )
        da = scope.plain(first.type.dim)
        for kid in kids[1:]:
            db = scope.plain(kid.type.dim)
            if da != db:
                raise scope.file.error(
                    raw.at,
                    f"{dimension_phrase(da)}{_whose(da)} cannot be compared with "
                    f"{dimension_phrase(db)}{_whose(db)}",
                    _unit_hint(raw, kids, scope)
                    or self.dimension_hint(da, db)
                    or "two values of one dimension",
                )

    def dimension_hint(self, a: Dimension, b: Dimension) -> str:
        """What to write first where a user unit meets a length, an angle or another user unit."""
        owners = sorted({base for d in (a, b) for base, _ in d if base.startswith(POSITION)})
        if len(owners) == 2:
            one, other = (owner.removeprefix(POSITION) for owner in owners)
            return (
                f"the condition {one}.motion is {other}.motion before a user unit of {one} meets "
                f"one of {other}"
            )
        for dimension in (a, b):
            for base, _ in dimension:
                if base.startswith(POSITION):
                    owner = base.removeprefix(POSITION)
                    hint = (
                        f"a condition on {owner}.motion (linear or rotary) before a user unit of "
                        f"{owner} meets a length or an angle"
                    )
                    if owner == "axis" and any("angle" in dict(each) for each in (a, b)):
                        hint += ". A position / axis.units_per_motor_rev is turns of the motor"
                    return hint
        return ""

    def operand_like(self, raw: Expr, left: Expr, scope: Scope) -> Expr:
        """Check the operand of a comparison by words: a bare word may be one of the names."""
        if raw.op == "path" and "." not in raw.data[0]:
            word = raw.data[0]
            if left.type.kind == "name" and word in left.type.names:
                return replace(raw, op="name", data=(word,), type=left.type)
            known = word in scope.lets or word in scope.variables
            if left.type.kind == "name" and not known:
                shown = ", ".join(left.type.names)
                hint = nearest_name(word, left.type.names) or f"one of {shown}"
                raise scope.file.error(raw.at, f"{word} is not one of its words", hint)
        return self.expr(raw, scope, left.type)

    def unit(self, file: RuleFile, unit: str, at: Span, dims: Sequence[Dimension]) -> None:
        """Refuse a unit that is not of one of the dimensions."""
        known = unit_named(unit)
        if known is None:
            raise file.error(at, f"{unit} is not a unit", nearest_name(unit, UNITS))
        if known.dimension not in dims:
            raise file.error(
                at,
                f"{unit} is a unit of {dim_words(known.dimension)}",
                f"a unit of {dim_words(dims[0])}",
            )

    def template(self, template: Template, scope: Scope) -> Template:
        """Check the computed values of a message."""
        parts: list[str | Hole] = []
        scope = replace(scope, message=True)
        for part in template:
            if isinstance(part, str):
                parts.append(part)
                continue
            expr = self.expr(part.expr, scope)
            if expr.type.kind in ("record", "part"):
                raise scope.file.error(expr.at, f"{kind_phrase(expr.type)} cannot be shown")
            if (part.way or part.to_enter) and expr.type.kind != "number":
                done = "rounded" if part.way else "entered"
                raise scope.file.error(expr.at, f"{kind_phrase(expr.type)} cannot be {done}")
            if part.unit:
                if expr.type.kind != "number":
                    raise scope.file.error(expr.at, f"{kind_phrase(expr.type)} has no unit")
                self.unit(scope.file, part.unit, expr.at, [scope.plain(expr.type.dim)])
            parts.append(replace(part, expr=expr))
        return tuple(parts)


def _whose(dimension: Dimension) -> str:
    """Of which axis a position is, where it is of another one than the axis of the rule."""
    owners = [base.removeprefix(POSITION) for base, _ in dimension if base.startswith(POSITION)]
    return f" of {owners[0]}" if owners else ""


def _unit_hint(raw: Expr, kids: Sequence[Expr], scope: Scope) -> str:
    """What to write for a number without a unit, or a share, beside a value that has one."""
    if raw.op == "within" and not scope.plain(kids[1].type.dim):
        share, near = (scope.file.written(kid.at) for kid in kids[1:])
        return f"an amount, such as {share} * {near}, in {dimension_phrase(kids[0].type.dim)}"
    if any(kid.op == "num" and re.search("[0-9]g$", str(kid.data[1])) for kid in kids):
        return "9.80665m/s^2 for the acceleration of free fall: g is the gram"
    if any(kid.op == "num" and kid.type.dim == () for kid in kids):
        return "a unit directly after the number, such as 3000rpm or 2.5mm"
    return ""
