"""What a loop reads beside its items: for equal values of that it gives equal results."""

from __future__ import annotations

from collections.abc import Iterator

from .operators import LOOPS
from .syntax import Expr


def free_variables(expr: Expr) -> frozenset[str]:
    """The variables (and `let` names) that an expression reads and does not bind by a loop."""
    if expr.op in ("fact", "derived"):
        return frozenset((expr.data[0],))
    if expr.op == "setting":
        return frozenset((expr.data[1],))
    if expr.op == "local":
        return frozenset((f"let {expr.data[0]}",))
    found = frozenset[str]().union(*map(free_variables, expr.kids))
    if expr.op in LOOPS:
        return free_variables(expr.kids[0]) | (found - {expr.data[0]})
    return found


def free_parts(loop: Expr) -> tuple[Expr, ...]:
    """The largest parts of a loop that read nothing of its items, each once.

    On one machine the loop gives the same for the same values of these. What reads the machine
    alone is left out, as it is always the same.
    """
    return tuple(dict.fromkeys(_free_parts(loop, frozenset())))


def _free_parts(expr: Expr, bound: frozenset[str]) -> Iterator[Expr]:
    free = free_variables(expr)
    if bound and not free & bound:
        if free - {"machine"}:
            yield expr
        return
    if expr.op in LOOPS:
        bound |= {expr.data[0]}
    for kid in expr.kids:
        yield from _free_parts(kid, bound)
