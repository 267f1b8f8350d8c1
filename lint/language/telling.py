"""Messages as people read them: rounded numbers in the unit they use, and nothing unknown.

A typed value stands as it was typed. A computed one is rounded (``say_rounded``): a side of the
comparison that failed to the side that passes, so that the two numbers never look alike. A sentence
whose value is not known is left out. What is true or false is told as yes or no.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import lru_cache
from itertools import islice
from typing import Any, Final, NamedTuple

from ..base.absence import NONE, PRESENT
from ..numbers.exact import Approx, Number, QuantityError, absolute, div, eq
from ..numbers.formats import SHORT, ends_within, say_in_full, say_rounded
from ..numbers.rational import Fraction
from ..numbers.units import Quantity, parse_quantity
from .printing import MAX_SHOWN, in_unit_shown, owners, unit_of, value_text
from .syntax import Expr, Hole, Rule, Template, Type
from .traced import absolute_path
from .tracer import Tracer

Written = Callable[[str], str | None]
"""Gives the scalar at an absolute path as the user wrote it."""

_SIDES: Final[Mapping[str, tuple[int, ...]]] = {
    "lt": (1, -1),
    "le": (1, -1),
    "gt": (-1, 1),
    "ge": (-1, 1),
    "between": (0, 1, -1),
}
"""Which way each operand of a comparison is rounded: what is least up, what is greatest down."""

UNKNOWN: Final = "not known"
"""What stands for an unknown value where nothing else would be left of a message."""

_SENTENCE_END: Final = re.compile(r"(?<=[.?!])\s+")


_FACTOR_OF_ONE: Final[Mapping[str, tuple[int, ...]]] = {"": (1,), "%": (100,)}
"""What a ratio that is not one must not look like."""


class _Side(NamedTuple):
    """What a failed comparison compares: how to round it, and what it may be off by."""

    expr: Expr
    way: int
    tolerance: Number | None


class _Told(NamedTuple):
    """A number to tell: in full as typed, or as a value in its unit with how to round it."""

    typed: str
    value: Number
    unit: str
    way: int
    whole: bool
    tolerance: Number | None


def failed_comparisons(expr: Expr, env: Mapping[str, Any], tracer: Tracer) -> Iterator[Expr]:
    """The comparisons at the top of a requirement for which it does not hold."""
    if tracer.value(expr, env).value is not False:
        return
    if expr.op in ("and", "or"):
        for kid in expr.kids:
            yield from failed_comparisons(kid, env, tracer)
    else:
        yield expr


class MessageWriter:
    """Tells the messages of one finding; ``rule`` may be None for phrases outside rules."""

    def __init__(
        self,
        tracer: Tracer,
        env: Mapping[str, Any],
        written: Written | None = None,
        rule: Rule | None = None,
    ) -> None:
        self.tracer = tracer
        self.env = env
        self.written = written
        self.lets = dict(rule.lets) if rule else {}
        self.sides: list[_Side] = []
        self.units: dict[Any, str] = {}
        self.known: dict[str, list[Number]] = {}
        self.holes: list[Hole] = []
        self.looked_at: tuple[Hole, ...] = ()
        self.told_of: dict[int, _Told | None] = {}  # by the id of a hole that was looked at
        self.to_enter = self.plain(rule.fix.value) if rule and rule.fix else None
        if rule is not None:
            self._look_at(rule)

    def _look_at(self, rule: Rule) -> None:
        """Learn from a rule what it compares, in which units, and all numbers that it tells."""
        for node in failed_comparisons(rule.require, self.env, self.tracer):
            self._compared(node)
        traced = self.tracer.value(rule.require, self.env)
        for path in (*traced.uses, *traced.through):
            self._unit_typed(path)
        labels = {label.name: label for label in rule.labels}
        shown = [Hole(expr, labels[name].unit) for name, expr in rule.lets if name in labels]
        self.holes = [part for text in rule.messages for part in text if isinstance(part, Hole)]
        self.looked_at = (*self.holes, *shown)
        for hole in self.looked_at:
            told = self.told_of[id(hole)] = self._told(hole)
            if told is not None:
                self.known.setdefault(told.unit, []).append(told.value)

    def _compared(self, node: Expr) -> None:
        if node.op == "within":
            tolerance = self._number(node.kids[1])
            self.sides += [_Side(self.plain(node.kids[at]), 0, tolerance) for at in (0, 2)]
            return
        for kid, way in zip(node.kids, _SIDES.get(node.op, ()), strict=False):
            tolerance = None
            plain = self.plain(kid)
            if plain.op == "call" and plain.data[0] == "absolute" and len(node.kids) == 2:
                tolerance = self._number(node.kids[1 if kid is node.kids[0] else 0])
                self.sides.append(_Side(plain.kids[0], 0, tolerance))
            self.sides.append(_Side(plain, way, tolerance))

    def _number(self, expr: Expr) -> Number | None:
        value = self.tracer.number_or_value(expr, self.env).value
        return value if isinstance(value, int | Fraction) and value > 0 else None

    def _unit_typed(self, path: str) -> None:
        """Remember the unit that somebody typed, as the one for its dimension."""
        quantity = _quantity((self.written(path) if self.written else "") or "")
        if quantity is not None and quantity.unit:
            self.units.setdefault(quantity.dimension, quantity.unit)

    def plain(self, expr: Expr) -> Expr:
        """An expression with what each `let` stands for in its place."""
        if expr.op == "local" and expr.data[0] in self.lets:
            return self.plain(self.lets[expr.data[0]])
        return expr.with_kids(tuple(self.plain(kid) for kid in expr.kids)) if expr.kids else expr

    # messages

    def message(self, template: Template, *, entered: bool = False) -> str:
        """A message with its values; ``entered``: somebody may type what it tells."""
        texts: list[str | None] = []
        for part in template:
            texts.append(part if isinstance(part, str) else self.hole(part, entered=entered))
        told = " ".join(_known_sentences(texts))
        if told or not texts:
            return told
        # A message that is one sentence is not left out as a whole.
        return " ".join(_known_sentences(map(self._part_at_all, template, texts)))

    def _part_at_all(self, part: str | Hole, text: str | None) -> str:
        if text is not None or isinstance(part, str):
            return text or ""
        value = self.tracer.value(part.expr, self.env).value
        return repr(NONE) if value is NONE else UNKNOWN

    def hole(self, hole: Hole, *, entered: bool = False) -> str | None:
        """One value of a message; None if it is not known, or if a list holds an unknown item."""
        value = self.tracer.value(hole.expr, self.env).value
        kind, item = hole.expr.type.kind, hole.expr.type.item
        if value is None or value is NONE or value is PRESENT:
            return None
        if kind == "flag":
            return "yes" if value else "no"
        if kind == "list" and any(each is None for each in value):
            return None
        if kind == "list" and value and item is not None and item.kind == "number":
            return self._list_text(hole, item, value)
        if kind != "number":
            return value_text(value, hole.expr.type, self.env, hole.unit)
        told = self.told_of.get(id(hole)) or self._told(hole)
        assert told is not None
        if hole.to_enter:
            return told.typed or say_in_full(told.value, told.unit)
        return told.typed or self._rounded(told, self.plain(hole.expr), entered)

    def difference(self, node: Expr, value: Number) -> str:
        """By how much a comparison fails: the two numbers as told, or else rounded up."""
        left, right = (self._quantity_told(kid) for kid in node.kids[:2])
        if left and right and left.unit == right.unit and not eq(left.value, right.value):
            apart = in_unit_shown(absolute(left.value - right.value), left.unit)
            return say_in_full(apart, left.unit)
        dimension = node.kids[0].type.dim
        unit = self._unit(value, dimension)
        return say_rounded(in_unit_shown(value, unit), unit, way=1, whole=counted(dimension))

    def _quantity_told(self, expr: Expr) -> Quantity | None:
        """One side of a comparison as a message tells it, in the unit of that message."""
        plain = self.plain(expr)
        told = next((hole for hole in self.holes if self.plain(hole.expr) == plain), None)
        return _quantity(self.hole(told or Hole(expr, "")) or "")

    def _list_text(self, hole: Hole, item: Type, values: list[Any]) -> str:
        texts = []
        for value in islice(values, MAX_SHOWN):
            unit = hole.unit or self._unit(value, item.dim)
            texts.append(say_rounded(in_unit_shown(value, unit), unit, whole=counted(item.dim)))
        more = len(values) - len(texts)
        return ", ".join([*texts, f"and {more:,} more"] if more else texts)

    def _told(self, hole: Hole) -> _Told | None:
        """What a hole tells, if it tells a number."""
        if hole.expr.type.kind != "number":
            return None
        value = self.tracer.number_or_value(hole.expr, self.env).value
        if value is None:
            return None
        dimension = hole.expr.type.dim
        unit = hole.unit or self._unit(value, dimension)
        typed, unit = self._typed(hole.expr, self.env, value, hole.unit) or ("", unit)
        shown = in_unit_shown(value, unit)
        plain = self.plain(hole.expr)
        side = next((side for side in self.sides if side.expr == plain), None)
        tolerance = None
        if side is not None and side.tolerance is not None:
            tolerance = in_unit_shown(side.tolerance, unit)
        way = hole.way or (side.way if side else 0)
        return _Told(typed, shown, unit, way, counted(dimension), tolerance)

    def _rounded(self, told: _Told, plain: Expr, entered: bool) -> str:
        if (
            entered
            and plain == self.to_enter
            and not told.way
            and not isinstance(told.value, Approx)
        ):
            return say_in_full(told.value, told.unit)
        if entered and not told.way and ends_within(told.value, SHORT):
            return say_in_full(told.value, told.unit)
        others = (*self.known.get(told.unit, ()), *_FACTOR_OF_ONE.get(told.unit, ()))
        apart = [absolute(told.value - other) for other in others]
        limits = [*(each for each in apart if _above_zero(each)), told.tolerance]
        tenths = [div(each, 10) for each in limits if each is not None]
        finest: Number | None = None
        for tenth in tenths:
            if tenth is not None and (finest is None or (tenth < finest) is True):
                finest = tenth
        return say_rounded(told.value, told.unit, way=told.way, finest=finest, whole=told.whole)

    # units and typed values

    def _unit(self, value: Number, dimension: Any) -> str:
        """The unit typed for what the rule compares, else that of the axis or the usual one."""
        unit = unit_of(value, dimension, self.env)
        if owners(dimension):
            return unit
        typed = self.units.get(dimension)
        if typed is None or (typed == "s" and unit == "ms" and (absolute(value) < Fraction(1, 10))):
            return unit
        return unit if unit in ("d", "h", "min") else typed

    def _typed(
        self, expr: Expr, env: Mapping[str, Any], value: Number, unit: str
    ) -> tuple[str, str] | None:
        """The text of a value that somebody typed, and its unit; None if it was computed."""
        match expr.op:
            case "local" if expr.data[0] in self.lets:
                return self._typed(self.lets[expr.data[0]], env, value, unit)
            case "derived":
                root, name, kind = expr.data
                found = self.tracer.definitions[kind, name]
                inner = self.tracer.environment(found, env[root])
                return self._typed(found.expr, inner, value, unit)
            case "default":
                kids = [k for k in expr.kids if _value_of(self.tracer, k, env) is not None]
                return self._typed(kids[0], env, value, unit) if kids else None
            case "choose":
                condition = self.tracer.value(expr.kids[0], env).value
                return self._typed(expr.kids[1 if condition else 2], env, value, unit)
            case "setting" | "num":
                unit = unit or self._unit(value, expr.type.dim)
                return _in_full(value, unit, SHORT)
            case "fact":
                return self._typed_fact(expr, env, value, unit)
        return None

    def _typed_fact(
        self, expr: Expr, env: Mapping[str, Any], value: Number, unit: str
    ) -> tuple[str, str] | None:
        text = self.written(absolute_path(env[expr.data[0]], expr.data[1])) if self.written else ""
        unit = unit or self._unit(value, expr.type.dim)
        quantity = _quantity(text or "")
        if quantity is not None and quantity.unit and eq(quantity.value, value) is True:
            number = (text or "").removesuffix(quantity.unit).strip()
            return f"{number} {quantity.unit}", quantity.unit
        return _in_full(value, unit, 2 * SHORT)


@lru_cache(maxsize=256)
def _quantity(text: str) -> Quantity | None:
    """What a text says as a quantity; None if it is none. One finding asks for few, many times."""
    try:
        return parse_quantity(text)
    except QuantityError:
        return None


def _in_full(value: Number, unit: str, digits: int) -> tuple[str, str] | None:
    shown = in_unit_shown(value, unit)
    return (say_in_full(shown, unit), unit) if ends_within(shown, digits) else None


def tells_all(template: Template, message: str) -> bool:
    """Whether every value of a template was known, so that no sentence of it is left out."""
    ends = sum(len(_SENTENCE_END.findall(part)) for part in template if isinstance(part, str))
    return UNKNOWN not in message and len(_SENTENCE_END.findall(message)) >= ends


def _value_of(tracer: Tracer, expr: Expr, env: Mapping[str, Any]) -> Any:
    return tracer.number_or_value(expr, env).value


def _above_zero(value: Number) -> bool:
    return (value > 0) is True


def counted(dimension: Any) -> bool:
    """Whether a dimension counts, so that all digits before the point tell something."""
    bases = {base for base, _ in dimension}
    return not bases or "count" in bases or dimension == (("angle", 1),)


def _known_sentences(texts: Iterable[str | None]) -> Iterator[str]:
    """The sentences of a message in which every value is known."""
    sentence: list[str | None] = []
    for text in texts:
        if text is None:
            sentence.append(None)
            continue
        first, *others = _SENTENCE_END.split(text)
        sentence.append(first)
        for each in others:
            yield from _joined_if_known(sentence)
            sentence = [each]
    yield from _joined_if_known(sentence)


def _joined_if_known(sentence: list[str | None]) -> Iterator[str]:
    if None not in sentence:
        text = re.sub(r" {2,}", " ", "".join(part or "" for part in sentence)).strip()
        if text:
            yield text
