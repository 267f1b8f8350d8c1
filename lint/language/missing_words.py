"""The facts that operators miss which ask of lists as a whole (see missing_facts.py)."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from ..machine.derived_facts import stated_path
from ..machine.records import NOTES
from .helpers import known
from .missing_operators import OperatorScope
from .missing_scope import (
    Evaluate,
    Frame,
    Missing,
    TraceNeeded,
    all_missing,
    both,
)
from .operators import LITERALS, OPERATORS
from .syntax import Expr


class WordScope(OperatorScope):
    """Makes the functions of operators that ask of lists as a whole."""

    def on_includes(self, expr: Expr) -> Evaluate:
        """Whether a list holds a value."""
        listed, wanted = self.listed(expr.kids[0]), self.value(expr.kids[1])
        plain = expr.kids[1].op in LITERALS or expr.kids[1].op == "fact"

        def evaluate(frame: Frame) -> Any:
            items, rest_of_list = listed(frame)
            if items.__class__ is tuple:
                return items
            item = wanted(frame)
            unknown = item.__class__ is tuple
            if unknown and not plain:
                raise TraceNeeded  # a divisor of zero in it is named even where the answer is no
            if not unknown and item in items:
                return True
            if rest_of_list:
                return both(rest_of_list, item)
            return item if unknown and items else False

        return evaluate

    def on_sets(self, expr: Expr) -> Evaluate:
        """What asks of whole lists if they have words in common."""
        call = OPERATORS[expr.op].call
        assert call is not None
        sides = [self.listed(kid) if kid.op == "fact" else self.words(kid) for kid in expr.kids]

        def evaluate(frame: Frame) -> Any:
            arguments: list[Any] = []
            lacking: list[Missing] = []
            for side in sides:
                items, rest_of_list = side(frame)
                unknown = items.__class__ is tuple
                arguments += [None if unknown else items, bool(rest_of_list)]
                if unknown or rest_of_list:
                    lacking.append(items if unknown else rest_of_list)
            value = call(*arguments)
            return all_missing(lacking) if value is None else value

        return evaluate

    def words(self, expr: Expr) -> Callable[[Frame], tuple[Any, Missing]]:
        """Words in brackets, which are a whole list."""
        words = self.value(expr)
        return lambda frame: (words(frame), ())

    def on_known(self, expr: Expr) -> Evaluate:
        """Whether a fact is stated."""
        (kid,) = expr.kids
        root, path = kid.data
        slot = self.slots[root]
        fact = self.listed(kid) if kid.type.kind == "list" else self.words(kid)

        def evaluate(frame: Frame) -> Any:
            value = known(frame[slot], path)
            if value is not None:
                return value
            found, rest_of_list = fact(frame)
            return rest_of_list or found

        return evaluate

    def listed(self, expr: Expr) -> Callable[[Frame], tuple[Any, Missing]]:
        """A list, and the list itself as missing if it is partial."""
        root, path = expr.data
        slot = self.slots[root]
        stated = stated_path(path)
        items = self.value(expr)

        def evaluate(frame: Frame) -> tuple[Any, Missing]:
            notes = frame[slot][NOTES]
            if path not in notes.partial:
                return items(frame), ()
            return items(frame), (f"{notes.path}.{stated} (the whole list)".removeprefix("."),)

        return evaluate
