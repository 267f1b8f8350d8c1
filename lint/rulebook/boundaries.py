"""The values of a fact at which a comparison of a rule turns.

A comparison is watched through the difference of its sides. Where that difference is linear in the
fact, or in its reciprocal, two values of the fact give the one at which it is zero.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import Any, Final

from ..base.errors import AxisproofError
from ..engine.cases import Case
from ..engine.finding_builder import exact_text
from ..language.budget import TooManySteps
from ..language.operators import LOOPS
from ..language.syntax import Expr, Hole, Rule
from ..language.tracer import Tracer
from ..machine.schema import Leaf
from ..numbers.calendar_periods import day_of
from ..numbers.exact import Approx, Pi, QuantityError, to_float
from ..numbers.rational import Fraction
from ..numbers.units import parse_quantity
from ..numbers.written import parse_number

Gaps = Sequence[Fraction | None]
"""The differences of all comparisons of a rule in an example, in the order of its text."""

_SIDES: Final[Mapping[str, Callable[..., tuple[Any, ...]]]] = {
    "lt": lambda a, b: (a - b,),
    "le": lambda a, b: (a - b,),
    "gt": lambda a, b: (a - b,),
    "ge": lambda a, b: (a - b,),
    "eq": lambda a, b: (a - b,),
    "between": lambda a, low, high: (a - low, a - high),
    "within": lambda a, most, b: (a - b - most, a - b + most),
}
"""The differences at whose zero a comparison turns, of its operands."""

_MAX_DIGITS: Final = 6
"""A fraction with more digits than this is no value that somebody would type."""

_DAY: Final = 86400


def gaps(rule: Rule, cases: Iterable[Case], tracer: Tracer) -> Gaps:
    """The differences of the sides of all comparisons that a rule makes."""
    found: list[Fraction | None] = []
    for case in cases:
        if case.missing or case.absent:
            continue
        env = tracer.with_lets(rule, case.env)
        for expr in _expressions(rule):
            found += _gaps_of(expr, env, tracer, 0)
    return found


def _expressions(rule: Rule) -> Iterator[Expr]:
    if rule.when is not None:
        yield rule.when
    yield from (value for _, value in rule.lets)
    yield rule.require
    for template in rule.messages:
        yield from (part.expr for part in template if isinstance(part, Hole))


def _gaps_of(
    expr: Expr, env: Mapping[str, Any], tracer: Tracer, depth: int
) -> Iterator[Fraction | None]:
    if expr.op in LOOPS:
        listed, _ = tracer.listed(expr.kids[0], env)
        for record in listed.value or ():
            inner = {**env, expr.data[0]: record}
            for kid in expr.kids[1:]:
                yield from _gaps_of(kid, inner, tracer, depth)
        return
    if expr.op == "derived" and depth < _MAX_DIGITS:
        root, name, kind = expr.data
        definition = tracer.definitions[kind, name]
        inner = tracer.environment(definition, env[root])
        yield from _gaps_of(definition.expr, inner, tracer, depth + 1)
        return
    sides = _SIDES.get(expr.op)
    if sides is not None and all(kid.type.kind in ("number", "date") for kid in expr.kids):
        values = [tracer.number_or_value(kid, env).value for kid in expr.kids]
        known = all(value is not None for value in values)
        yield from map(_fraction, sides(*values)) if known else [None] * (1 + (len(values) > 2))
    for kid in expr.kids:
        yield from _gaps_of(kid, env, tracer, depth)


def _fraction(value: Any) -> Fraction | None:
    if isinstance(value, Pi | Approx):
        return Fraction(to_float(value)).limit_denominator(10**9)
    return None if value is None else Fraction(value)


class PlainNumber:
    """A number as an example states it, and how to state another one in its place."""

    def __init__(self, leaf: Leaf, written: Any) -> None:
        self.leaf = leaf
        self.unit = ""
        self.number: Fraction | None = None
        text = str(written)
        try:
            if leaf.kind == "date":
                day = day_of(text)
                self.number = None if day is None else Fraction(day // _DAY)
            elif leaf.kind == "whole":
                self.number = Fraction(parse_number(text)[0])
            elif leaf.kind == "quantity":
                quantity = parse_quantity(text)
                self.unit, self.number = quantity.unit, Fraction(quantity.written)
        except (QuantityError, ValueError):
            self.number = None

    def plain(self, number: Fraction) -> Any:
        """A number as a plain value; None for one that nobody would write."""
        if self.leaf.kind == "date":
            return _day_text(int(number))
        if self.leaf.kind == "whole":
            return int(number) if number.denominator == 1 else None
        if (
            len(str(number.denominator)) > _MAX_DIGITS
            or len(str(number.numerator)) > 2 * _MAX_DIGITS
        ):
            return None
        text = exact_text(number, self.unit)
        if text is None:
            return None
        return int(text) if text.lstrip("-").isdigit() else text


def _day_text(days: int) -> str | None:
    from datetime import date

    epoch = date(1970, 1, 1).toordinal()
    try:
        return date.fromordinal(epoch + days).isoformat()
    except (ValueError, OverflowError):
        return None


def turning_values(number: PlainNumber, watched: Callable[[Any], Gaps]) -> list[Any]:
    """Values of a fact at which some comparison turns, with values on both sides of each.

    ``watched`` gives the differences of all comparisons for a plain value of the fact.
    """
    if number.number is None:
        return []
    first = number.number
    second = first * 2 if first else Fraction(1)
    if number.leaf.kind == "date":
        second = first + 400
    roots = dict.fromkeys(_roots(first, second, number, watched))
    found: list[Any] = []
    for root in roots:
        step = _step(root, number)
        found += [number.plain(each) for each in (root, root + step, root - step)]
    found += [
        number.plain(each) for each in (first * 2, first / 2, first + 1, first - 1, Fraction(0))
    ]
    return list(dict.fromkeys(each for each in found if each is not None))


def _step(root: Fraction, number: PlainNumber) -> Fraction:
    """A little, as one would say it of such a number."""
    if number.leaf.kind != "quantity" or not root:
        return Fraction(1)
    size, step = abs(root), Fraction(1)
    while size >= 100:
        size, step = size / 10, step * 10
    while size < 10:
        size, step = size * 10, step / 10
    return step


def _roots(
    first: Fraction, second: Fraction, number: PlainNumber, watched: Callable[[Any], Gaps]
) -> Iterator[Fraction]:
    at_first, at_second = (_try(watched, number.plain(each)) for each in (first, second))
    if len(at_first) != len(at_second):
        return
    pairs = {pair: index for index, pair in enumerate(zip(at_first, at_second, strict=True))}
    for (one, other), index in pairs.items():
        if one is None or other is None or one == other:
            continue
        root = _rounded(first - one * (second - first) / (other - one), number)
        yield root
        there = _try(watched, number.plain(root))
        gap = there[index] if index < len(there) else None
        if gap and gap != one:  # it is not linear: once more from there, and in the reciprocal
            yield _rounded(first - one * (root - first) / (gap - one), number)
            if first and second and number.leaf.kind == "quantity":
                reciprocal = 1 / first - one * (1 / second - 1 / first) / (other - one)
                if reciprocal:
                    yield _rounded(1 / reciprocal, number)


def _rounded(root: Fraction, number: PlainNumber) -> Fraction:
    if number.leaf.kind == "quantity":
        return (
            root if len(str(root.denominator)) <= _MAX_DIGITS else Fraction(round(root * 100), 100)
        )
    return Fraction(round(root))


def _try(watched: Callable[[Any], Gaps], value: Any) -> Gaps:
    try:
        return () if value is None else watched(value)
    except (AxisproofError, TypeError, AttributeError, AssertionError, TooManySteps):
        return ()
