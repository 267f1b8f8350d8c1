"""What the evaluators of missing facts share, and the leaves of their trees (see missing_facts.py).

A tree becomes nested functions. Each gives its value or, if that is unknown, a tuple: the absolute
paths of the facts that would decide it, in the order and number in which the tracing evaluator
names them. An empty tuple means that something else than a missing fact is in play.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence, Set
from typing import Any, ClassVar, Final

from ..base.absence import NONE, parts_above
from ..machine.derived_facts import stated_path
from ..machine.records import NOTES, Facts
from .fact_to_state import parts_that_may_be_none
from .syntax import Definition, Expr
from .traced import MAX_LISTED, absolute_path

Frame = list[Any]
"""The records a rule looks at, by number: its subjects, then the items of its loops and its
`let` values."""

Evaluate = Callable[[Frame], Any]
"""Evaluates a node: its value, or a tuple of missing facts."""

Missing = tuple[str, ...]

OTHER_CAUSE: Final[Missing] = ()
"""What makes the value unknown is not, or not only, a missing fact, such as a divisor of zero."""


class TraceNeeded(Exception):
    """Only the tracing evaluator can say what is missing, whatever the value."""


_UNSET: Final = object()


def both(first: Any, second: Any) -> Any:
    """What is missing of two operands, of which one at least is unknown."""
    if first.__class__ is not tuple:
        return second
    if second.__class__ is not tuple or first is second:
        return first
    return tuple(dict.fromkeys(first + second))[:MAX_LISTED] if first and second else OTHER_CAUSE


def all_missing(parts: Sequence[Any]) -> Missing | None:
    """What is missing of a node's operands; None if all are known."""
    unknown = [part for part in parts if part.__class__ is tuple]
    return _union(unknown) if unknown else None


def _union(groups: Iterable[Missing]) -> Missing:
    found: list[str] = []
    for group in groups:
        if not group:
            return OTHER_CAUSE
        found += group
    return tuple(dict.fromkeys(found))[:MAX_LISTED]


class FactScope:
    """Makes the functions of one rule or definition, over one frame.

    ``definition`` gives what evaluates a definition, from its record kind and name. With
    ``not_known``, facts are asked for one by one: a fact of a part that may be none is missing
    itself, and not that part. Of two ways to state a thing, one without these facts counts.
    """

    methods: ClassVar[Mapping[str, Callable[..., Any]]]
    """What makes the function of a node, by the node's name."""

    def __init__(
        self,
        definitions: Mapping[tuple[str, str], Definition],
        defaults: Mapping[str, Expr],
        definition: Callable[[str, str], Callable[[Facts], Any]],
        roots: Sequence[str],
        not_known: Set[str] | None = None,
    ) -> None:
        self.one_by_one = not_known is not None
        self.not_known: Set[str] = frozenset() if not_known is None else not_known
        self.missing_by = "missing " if not_known is None else "lacking "
        self.definitions = definitions
        self.defaults = defaults
        self.definition = definition
        self.slots: dict[str, int] = {name: number for number, name in enumerate(roots)}
        self.lets: dict[str, Evaluate] = {}
        self.trees: dict[str, Expr] = {}
        self.roots = len(roots)
        self.size = len(roots)

    def new(self, name: str) -> int:
        """A place in the frame for a let or the item of a loop."""
        self.slots[name] = self.size
        self.size += 1
        return self.size - 1

    def blank(self) -> list[Any]:
        """The rest of a frame, behind the subjects."""
        return [_UNSET] * (self.size - self.roots)

    def let(self, name: str, expr: Expr) -> None:
        """A `let`, evaluated when first used."""
        body = self.number(expr)
        slot = self.new("let " + name)

        def evaluate(frame: Frame) -> Any:
            value = frame[slot]
            if value is _UNSET:
                value = frame[slot] = body(frame)
            return value

        self.lets[name] = evaluate
        self.trees[name] = expr

    def value(self, expr: Expr) -> Evaluate:
        """The function of a node. Raises TraceNeeded if only the tracing evaluator knows it."""
        method = self.methods.get(expr.op)
        if method is None:
            raise TraceNeeded
        evaluate: Evaluate = method(self, expr)
        return evaluate

    def number(self, expr: Expr) -> Evaluate:
        """A value to compute with: a fact that is none is unknown, and not for want of a fact."""
        return self.value(expr) if expr.op != "fact" else self.fact(expr, expr.type.kind != "part")

    def numbers(self, expr: Expr) -> list[Evaluate]:
        """The operands of a node that computes with them."""
        return [self.number(kid) for kid in expr.kids]

    def on_num(self, expr: Expr) -> Evaluate:
        """A literal."""
        value = expr.data[0]
        return lambda frame: value

    on_flag = on_text = on_name = on_date = on_period = on_num

    def on_set(self, expr: Expr) -> Evaluate:
        """Words in brackets: a list, since a tuple is what is missing."""
        words = list(expr.data[0])
        return lambda frame: words

    def on_fact(self, expr: Expr) -> Evaluate:
        """A fact, of which none is a value."""
        return self.fact(expr, number=False)

    def fact(self, expr: Expr, number: bool) -> Evaluate:
        """A fact, or what is missing, which the record keeps. ``number``: unknown if it is none."""
        root, path = expr.data
        slot = self.slots[root]
        stated = stated_path(path)
        name = self.missing_by + path
        above = tuple(parts_above(path))
        first_to_state = () if self.one_by_one else tuple(parts_that_may_be_none(stated))

        def missing(record: Facts) -> Missing:
            found: Missing = OTHER_CAUSE
            if not any(record.get(part) is NONE for part in above):
                wanted = next((part for part in first_to_state if part not in record), stated)
                found = (absolute_path(record, wanted),)
            record[NOTES].memo[name] = found
            return found

        def evaluate(frame: Frame) -> Any:
            record = frame[slot]
            value = record.get(path)
            if value is not None:
                return value
            return record[NOTES].memo.get(name) or missing(record)

        def evaluate_number(frame: Frame) -> Any:
            value = evaluate(frame)
            return OTHER_CAUSE if value is NONE else value

        return evaluate_number if number and expr.type.nullable else evaluate

    def on_derived(self, expr: Expr) -> Evaluate:
        """A definition. The record keeps the value for generated code, here what is missing."""
        root, name, kind = expr.data
        slot, definition = self.slots[root], self.definition(kind, name)
        unknown = f"{self.missing_by}derived {name}"

        def evaluate(frame: Frame) -> Any:
            record = frame[slot]
            memo = record[NOTES].memo
            value = memo.get(name)
            if value is None:
                value = memo.get(unknown)
                if value is None:
                    value = memo[unknown] = definition(record)
            return value

        return evaluate

    def on_local(self, expr: Expr) -> Evaluate:
        """A `let`."""
        return self.lets[expr.data[0]]

    def on_setting(self, expr: Expr) -> Evaluate:
        """A setting of the site, or its default."""
        name, root = expr.data
        slot = self.slots[root]
        default = self.defaults[name].data[0]
        return lambda frame: frame[slot][NOTES].settings.get(name, default)
