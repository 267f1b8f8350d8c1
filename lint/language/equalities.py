"""The equalities in a loop's filter by which its items can be looked up (see matching.py)."""

from __future__ import annotations

from collections.abc import Iterator

from .operators import OPERATORS
from .syntax import Expr


def filter_equality(loop: Expr) -> tuple[Expr, str, Expr] | None:
    """The equality by which the items that a loop's filter lets through can be looked up.

    Given as the comparison, the key of the item it reads and its other side, which is a fact of
    something else. None if the filter has no such part; also for a list of an axis, which is short.
    """
    return next(equalities(loop, loop.kids[1]), None)


def second_equality(loop: Expr, first_key: str) -> tuple[str, Expr] | None:
    """Another equality, as key and other side, without which no item of a loop can decide."""
    deciding = loop.op in OPERATORS and OPERATORS[loop.op].deciding is True
    for condition in loop.kids[1:3] if deciding else loop.kids[1:2]:
        for _, key, other in equalities(loop, condition):
            if key != first_key:
                return key, other
    return None


def equalities(loop: Expr, condition: Expr) -> Iterator[tuple[Expr, str, Expr]]:
    """The equalities, as ``filter_equality`` gives them, that must hold where a condition does."""
    (variable,) = loop.data
    if loop.kids[0].data[0] != "machine":
        return
    for part in conjuncts(condition):
        if is_equality(part) and all(kid.op == "fact" for kid in part.kids):
            own = [kid for kid in part.kids if kid.data[0] == variable]
            others = [kid for kid in part.kids if kid.data[0] != variable]
            if own and others:
                yield part, own[0].data[1], others[0]


def conjuncts(condition: Expr) -> Iterator[Expr]:
    """The parts that must all hold, in order."""
    if condition.op == "and":
        for kid in condition.kids:
            yield from conjuncts(kid)
    else:
        yield condition


def is_equality(node: Expr) -> bool:
    """Whether a node holds only where its two operands are equal."""
    operator = OPERATORS.get(node.op)
    return operator is not None and operator.equates
