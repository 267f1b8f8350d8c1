"""The facts that operators miss whose operands are not lists (see missing_facts.py)."""

from __future__ import annotations

import operator
from collections.abc import Callable, Iterator, Sequence
from typing import Any

from ..machine.records import NOTES
from .helpers import disputed
from .library import FUNCTIONS
from .missing_scope import OTHER_CAUSE, Evaluate, FactScope, Frame, all_missing, both
from .operators import LITERALS, OPERATORS
from .reach import reach
from .syntax import Expr


class OperatorScope(FactScope):
    """Makes the functions of operators: one method for each evaluation."""

    def on_formula(self, expr: Expr) -> Evaluate:
        """What computes with numbers."""
        formula = OPERATORS[expr.op].call
        assert formula is not None
        kids = self.numbers(expr)
        if expr.data:
            (extra,) = expr.data
            return _of_one(kids[0], lambda value: formula(value, extra))
        if len(kids) == 1:
            return _of_one(kids[0], formula)
        if len(kids) == 2 and expr.kids[1].op in LITERALS:
            literal = expr.kids[1].data[0]
            return _of_one(kids[0], lambda first: formula(first, literal))
        return _of_two(kids[0], kids[1], formula) if len(kids) == 2 else _of_many(kids, formula)

    def on_words(self, expr: Expr) -> Evaluate:
        """What asks for words, of which none is one."""
        formula = OPERATORS[expr.op].call
        assert formula is not None
        first, *rest = expr.kids
        if not rest:
            return _of_one(self.value(first), formula)
        if all(kid.op in LITERALS for kid in rest):
            words = [kid.data[0] for kid in rest]
            if formula is operator.eq:
                return _is_word(self.value(first), words[0])
            return _of_one(self.value(first), lambda value: formula(value, *words))
        kids = [self.value(kid) for kid in expr.kids]
        return _of_two(kids[0], kids[1], formula) if len(kids) == 2 else _of_many(kids, formula)

    def on_call(self, expr: Expr) -> Evaluate:
        """A function of the library."""
        return _of_many(self.numbers(expr), FUNCTIONS[expr.data[0]].call)

    def on_decimals(self, expr: Expr) -> Evaluate:
        """How many decimals a fact was written with."""
        root, path = expr.kids[0].data
        slot = self.slots[root]
        number = self.number(expr.kids[0])

        def evaluate(frame: Frame) -> Any:
            value = number(frame)
            return value if value.__class__ is tuple else frame[slot][NOTES].decimals.get(path, 0)

        return evaluate

    def on_deciding(self, expr: Expr) -> Evaluate:
        """What one operand settles; a chain of it is one function."""
        deciding = OPERATORS[expr.op].deciding
        other = not deciding
        kids = [*self.chain(expr, expr.op)]

        def evaluate(frame: Frame) -> Any:
            result: Any = other
            for kid in kids:
                value = kid(frame)
                if value is deciding:
                    return value
                if value is not other:
                    result = value if result is other else both(result, value)
            return result

        return evaluate

    def chain(self, expr: Expr, op: str) -> Iterator[Evaluate]:
        """The operands of a chain of one operator."""
        for kid in expr.kids:
            if kid.op == op:
                yield from self.chain(kid, op)
            else:
                yield self.value(kid)

    def on_default(self, expr: Expr) -> Evaluate:
        """The first of two ways to state a thing that is known."""
        first, second = self.numbers(expr)
        paths: dict[int, list[str]] = {}
        for root, path in reach(expr.kids[0], self.definitions):
            if root in self.slots:
                paths.setdefault(self.slots[root], []).append(path)
        read = [(slot, tuple(found)) for slot, found in paths.items()]
        not_known = self.not_known

        def evaluate(frame: Frame) -> Any:
            a = first(frame)
            if a.__class__ is not tuple:
                return a
            for slot, found in read:
                if disputed(frame[slot], found):
                    return a
            b = second(frame)
            if b.__class__ is not tuple:
                return b
            if not a or not b:
                return OTHER_CAUSE
            if not_known and not_known.isdisjoint(a) != not_known.isdisjoint(b):
                return a if not_known.isdisjoint(a) else b
            return b if len(b) < len(a) else a

        return evaluate

    def on_choose(self, expr: Expr) -> Evaluate:
        """One of two values, as a condition says."""
        condition = self.value(expr.kids[0])
        yes, no = self.number(expr.kids[1]), self.number(expr.kids[2])

        def evaluate(frame: Frame) -> Any:
            applies = condition(frame)
            if applies.__class__ is tuple:
                return applies
            return yes(frame) if applies else no(frame)

        return evaluate


def _of_one(kid: Evaluate, formula: Callable[[Any], Any]) -> Evaluate:
    def evaluate(frame: Frame) -> Any:
        value = kid(frame)
        if value.__class__ is tuple:
            return value
        value = formula(value)
        return OTHER_CAUSE if value is None else value

    return evaluate


def _of_two(first: Evaluate, second: Evaluate, formula: Callable[[Any, Any], Any]) -> Evaluate:
    def evaluate(frame: Frame) -> Any:
        a, b = first(frame), second(frame)
        if a.__class__ is tuple:
            return both(a, b) if b.__class__ is tuple else a
        if b.__class__ is tuple:
            return b
        value = formula(a, b)
        return OTHER_CAUSE if value is None else value

    return evaluate


def _of_many(kids: Sequence[Evaluate], formula: Callable[..., Any]) -> Evaluate:
    def evaluate(frame: Frame) -> Any:
        parts = [kid(frame) for kid in kids]
        missing = all_missing(parts)
        if missing is not None:
            return missing
        value = formula(*parts)
        return OTHER_CAUSE if value is None else value

    return evaluate


def _is_word(kid: Evaluate, word: Any) -> Evaluate:
    """Whether something is a word: the commonest question of all."""

    def evaluate(frame: Frame) -> Any:
        value = kid(frame)
        return value if value.__class__ is tuple else value == word

    return evaluate
