"""Refuses rules and definitions whose evaluation could cost too much (see bounds.py)."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from .bounds import MAX_COST, MAX_NODES, Bounds, ExpressionSize, TooLarge
from .operators import LOOPS
from .rule_file import RuleFile
from .syntax import Definition, Expr, Span


class SizeChecker:
    """Measures expressions over all definitions known, which must be free of cycles."""

    def __init__(self, known: Mapping[tuple[str, str], Definition]) -> None:
        self.bounds = Bounds(known)
        self.steps: dict[str, int] = {}
        """What one evaluation of each rule or definition costs, by what it is called."""

    def measure(
        self, file: RuleFile, expr: Expr, lets: Mapping[str, ExpressionSize]
    ) -> ExpressionSize:
        """Refuse an expression whose numbers grow, or that nests, beyond all bounds."""
        try:
            return self.bounds.size(expr, lets)
        except TooLarge as fault:
            raise file.error(fault.node.at, fault.what, fault.expected) from None

    def weigh(
        self,
        file: RuleFile,
        what: str,
        at: Span,
        exprs: Sequence[Expr],
        lets: Mapping[str, ExpressionSize],
    ) -> None:
        """Refuse a rule or definition whose evaluation costs too much, whatever it loops over."""
        nodes = sum(1 for expr in exprs for _ in expr.walk())
        if nodes > MAX_NODES:
            expected = f"at most {MAX_NODES}"
            raise file.error(at, f"{what} has {nodes} words, numbers and operators", expected)
        cost = sum(self.bounds.steps(node, lets) for node in _evaluated_at_once(exprs))
        if cost > MAX_COST:
            raise file.error(
                at,
                f"{what} takes {cost} steps, for the size its numbers can grow to",
                f"at most {MAX_COST}, or formulas of fewer products",
            )
        self.steps[what] = cost


def _evaluated_at_once(exprs: Iterable[Expr]) -> Iterator[Expr]:
    """Expressions and, each on its own, what the loops in them evaluate for an item."""
    for expr in exprs:
        yield expr
        for node in expr.walk():
            if node.op in LOOPS:
                yield from node.kids[1:]
