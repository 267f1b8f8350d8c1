"""What values and operators that compute with them ask of their operands."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Final

from ..numbers.calendar_periods import months_of
from ..numbers.compound_units import parse_literal
from ..numbers.dimensions import Dimension, dim, dim_div, dim_mul, dim_pow
from ..numbers.exact import Approx, Number, QuantityError
from .expression_checker import CheckOperands, ExpressionChecker
from .library import FUNCTIONS, Shape
from .operators import OPERATORS
from .scope import Scope
from .syntax import DATE, FLAG, METHOD, NUMBER, PERIOD, TEXT, Expr, Type
from .wording import dimension_phrase, kind_phrase, nearest_name

TIME: Final = dim(time=1)

_MEANT: Final[Mapping[str, str]] = {
    "abs": "absolute(a)",
    "sqrt": "square_root(a)",
    "sin": "sine(a)",
    "mod": "remainder(a, b)",
    "pow": "a^2",
    "ceil": "ceiling(a)",
    "round": "floor(a), ceiling(a), or a within t of b",
    "len": "count of x in LIST",
    "length": "count of x in LIST",
    "size": "count of x in LIST",
    "avg": "sum of x.FACT for x in LIST / count of x in LIST",
    "mean": "sum of x.FACT for x in LIST / count of x in LIST",
}
"""What stands for functions that other languages have."""


def check_number_literal(
    checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None
) -> Expr:
    """A number without unit."""
    return replace(raw, type=NUMBER)


def check_flag_literal(
    checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None
) -> Expr:
    """True or false."""
    return replace(raw, type=FLAG)


def check_text_literal(
    checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None
) -> Expr:
    """A text."""
    return replace(raw, type=TEXT)


def check_quantity_literal(
    checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None
) -> Expr:
    """A number with its unit."""
    text = raw.data[0]
    months = months_of(text)
    if months is not None:
        return replace(raw, op="period", data=(months, text), type=PERIOD)
    try:
        quantity = parse_literal(text)
    except QuantityError as fault:
        if text.endswith(("pi", "π")):
            written = text.removesuffix("pi").removesuffix("π")
            raise scope.file.error(raw.at, "a sign is missing", f"{written} * pi") from None
        raise scope.file.error(raw.at, fault.what, fault.expected) from None
    type_ = Type("number", quantity.dimension)
    return replace(raw, op="num", data=(quantity.value, text), type=type_)


def check_date_literal(
    checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None
) -> Expr:
    """A day of the calendar."""
    return replace(raw, type=DATE)


def check_path(checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None) -> Expr:
    """A name or a path."""
    return checker.names.resolve(raw, scope)


def check_negative(checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None) -> Expr:
    """A number."""
    kid = checker.number(raw.kids[0], scope, want)
    return replace(raw, kids=(kid,), type=kid.type)


def check_power(checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None) -> Expr:
    """A number, with its dimension as often."""
    kid = checker.number(raw.kids[0], scope)
    type_ = replace(kid.type, dim=dim_pow(kid.type.dim, raw.data[0]), nullable=False)
    return replace(raw, kids=(kid,), type=type_)


def check_terms(checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None) -> Expr:
    """Numbers of one dimension; dates have a difference, and a time can be added to one."""
    a, b = (checker.expr(kid, scope, want) for kid in raw.kids)
    kinds = (a.type.kind, b.type.kind)
    if kinds == ("date", "date") and raw.op == "sub":
        return replace(raw, kids=(a, b), type=Type("number", TIME))
    period = _period(b)
    if kinds[0] == "date" and period is not None:
        op = "later" if raw.op == "add" else "earlier"
        return replace(raw, op=op, kids=(a, period), type=DATE)
    if kinds == ("date", "number") and scope.plain(b.type.dim) == TIME:
        return replace(raw, kids=(a, b), type=DATE)
    for kid in (a, b):
        if kid.type.kind != "number":
            raise scope.file.error(
                kid.at, f"{kind_phrase(kid.type)} is not something to compute with", "a number"
            )
    da, db = scope.plain(a.type.dim), scope.plain(b.type.dim)
    if da != db:
        verb = "added to" if raw.op == "add" else "subtracted from"
        raise scope.file.error(
            raw.at,
            f"{dimension_phrase(db)} cannot be {verb} {dimension_phrase(da)}",
            checker.dimension_hint(da, db) or "two values of one dimension",
        )
    approx = a.type.approx or b.type.approx
    # A sum of different powers of pi is never exact; of literals that is known beforehand.
    approx = approx or isinstance(_literal_value(replace(raw, kids=(a, b))), Approx)
    dimension = a.type.dim if a.type.dim == b.type.dim else da
    return replace(raw, kids=(a, b), type=Type("number", dimension, approx=approx))


def _period(expr: Expr) -> Expr | None:
    """A calendar period, such as 18months, or 1year where it stands beside a date."""
    if expr.type.kind == "period":
        return expr
    months = months_of(str(expr.data[1]), ("year", "years")) if expr.op == "num" else None
    if months is None:
        return None
    return replace(expr, op="period", data=(months, expr.data[1]), type=PERIOD)


def _literal_value(expr: Expr) -> Number | None:
    """The value of an expression of literals alone; None for any other."""
    if expr.op == "num":
        value: Number = expr.data[0]
        return value
    operator = OPERATORS.get(expr.op)
    kids = [_literal_value(kid) for kid in expr.kids]
    known = [kid for kid in kids if kid is not None]
    if operator is None or not kids or len(known) < len(kids):
        return None
    call = operator.call if operator.operands in ("terms", "factors", "negative") else None
    if operator.operands == "arguments" and FUNCTIONS[expr.data[0]].result.kind == "number":
        call = FUNCTIONS[expr.data[0]].call
    result: Number | None = None if call is None else call(*known)
    return result


def check_factors(checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None) -> Expr:
    """Numbers of any dimension."""
    a, b = (checker.number(kid, scope) for kid in raw.kids)
    combine = dim_mul if raw.op == "mul" else dim_div
    # Position stays position even where a condition says what it is: see check_chosen.
    dimension = combine(a.type.dim, b.type.dim)
    type_ = Type("number", dimension, approx=a.type.approx or b.type.approx)
    return replace(raw, kids=(a, b), type=type_)


def check_decimals(checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None) -> Expr:
    """A stated fact that is a number."""
    kid = checker.number(raw.kids[0], scope)
    if kid.op != "fact":
        raise scope.file.error(kid.at, "only a stated fact has written decimals", "a fact")
    return replace(raw, kids=(kid,), type=NUMBER)


def check_arguments(checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None) -> Expr:
    """What the signature of a function says."""
    (name,) = raw.data
    function = FUNCTIONS.get(name)
    if function is None:
        hint = _MEANT.get(name) or nearest_name(name, FUNCTIONS)
        hint = hint or f"one of {', '.join(FUNCTIONS)}"
        raise scope.file.error(raw.at, f"{name} is not a function", hint)
    if len(raw.kids) != len(function.parameters):
        wanted = ", ".join(parameter for parameter, _ in function.parameters)
        raise scope.file.error(
            raw.at, f"{name} is given {len(raw.kids)} values", f"{name}({wanted})"
        )
    free: Dimension | None = None
    kids = []
    approx = function.approx
    for kid, (parameter, shape) in zip(raw.kids, function.parameters, strict=True):
        expr = checker.expr(kid, scope)
        free = _check_argument(checker, expr, parameter, shape, free, scope)
        approx = approx or expr.type.approx
        kids.append(expr)
    if function.result.kind != "number":
        type_ = {"flag": FLAG, "method": METHOD, "text": TEXT}[function.result.kind]
    else:
        dimension = function.result.dim
        if function.result.free:
            assert free is not None
            dimension = dim_mul(free, dimension)
        type_ = Type("number", dimension, approx=approx)
    return replace(raw, kids=tuple(kids), type=type_)


def _check_argument(
    checker: ExpressionChecker,
    expr: Expr,
    parameter: str,
    shape: Shape,
    free: Dimension | None,
    scope: Scope,
) -> Dimension | None:
    """One argument; gives what the dimension P of the signature stands for so far."""
    if expr.type.kind != shape.kind:
        wanted = kind_phrase(Type(shape.kind))
        raise scope.file.error(
            expr.at, f"this is {kind_phrase(expr.type)}", f"{wanted} as {parameter}"
        )
    if shape.kind != "number":
        return free
    have = scope.plain(expr.type.dim)
    if not shape.free:
        if have != shape.dim:
            raise scope.file.error(
                expr.at,
                f"this is {dimension_phrase(have)}",
                f"{dimension_phrase(shape.dim)} as {parameter}",
            )
        return free
    bound = dim_div(have, shape.dim)
    if free is not None and free != bound:
        wanted_dim = dim_mul(free, shape.dim)
        raise scope.file.error(
            expr.at,
            f"this is {dimension_phrase(have)}",
            checker.dimension_hint(have, wanted_dim)
            or f"{dimension_phrase(wanted_dim)} as {parameter}",
        )
    return bound


def check_alternatives(
    checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None
) -> Expr:
    """Two ways to state one thing."""
    left = checker.expr(raw.kids[0], scope, want)
    right = checker.expr(raw.kids[1], scope, want)
    checker.single(scope, left)
    checker.same(scope, right, left.type, "the other way to state it is")
    type_ = replace(left.type, approx=left.type.approx or right.type.approx, nullable=False)
    return replace(raw, kids=(left, right), type=type_)


def check_chosen(checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None) -> Expr:
    """A condition and two values of one kind, each under what the condition says."""
    condition = checker.condition(raw.kids[0], scope)
    yes_scope, no_scope = scope.narrowed(condition), scope.narrowed(condition, False)
    yes = checker.expr(raw.kids[1], yes_scope, want)
    no = checker.expr(raw.kids[2], no_scope, want)
    checker.single(scope, yes)
    approx = yes.type.approx or no.type.approx
    if want is not None and want.kind == "number":
        checker.same(yes_scope, yes, want, "the whole is")
        checker.same(no_scope, no, want, "the whole is")
        type_ = replace(want, approx=approx, nullable=False)
    else:
        type_ = replace(yes.type, approx=approx, nullable=False)
        common = _common_dimension(yes, yes_scope, no, no_scope)
        if common is None or no.type.kind != yes.type.kind:
            checker.same(no_scope, no, yes.type, "the other value is")
        else:
            type_ = replace(type_, dim=common)
    return replace(raw, kids=(condition, yes, no), type=type_)


def _common_dimension(yes: Expr, yes_scope: Scope, no: Expr, no_scope: Scope) -> Dimension | None:
    """The dimension that two alternatives share, each under its own condition."""
    for dimension in (yes.type.dim, no.type.dim, yes_scope.plain(yes.type.dim)):
        if yes_scope.plain(dimension) == yes_scope.plain(yes.type.dim) and (
            no_scope.plain(dimension) == no_scope.plain(no.type.dim)
        ):
            return dimension
    return None


NUMBER_CHECKS: Final[Mapping[str, CheckOperands]] = MappingProxyType(
    {
        "num": check_number_literal,
        "flag": check_flag_literal,
        "text": check_text_literal,
        "date": check_date_literal,
        "quantity": check_quantity_literal,
        "path": check_path,
        "negative": check_negative,
        "power": check_power,
        "terms": check_terms,
        "factors": check_factors,
        "decimals": check_decimals,
        "arguments": check_arguments,
        "alternatives": check_alternatives,
        "chosen": check_chosen,
    }
)
"""The check of each leaf and of each kind of operands to compute with."""
