"""How large the numbers of a rule can grow and how deep its evaluation can go, before it runs.

A fact is a number of some 250 bits at most. The degree of an expression is the number of facts
whose bits its result can hold: a product or a sum of fractions adds degrees, a power multiplies
them. Through `let` and definitions a few short lines could square a number a hundred times; such a
rule is refused when it is loaded. Aggregates are capped when they run (helpers.capped).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from .operators import LOOPS, OPERATORS
from .syntax import Definition, Expr

MAX_DEPTH: Final = 48
"""Deepest nesting of an expression; no rule an engineer reads aloud comes near it.

Generated code indents once per level, which Python bounds at 100.
"""

MAX_REQUIRES: Final = 32
"""Most `require` lines of a rule; they nest into one condition."""

MAX_DEGREE: Final = 512
"""Most facts' worth of bits a number may grow to."""

MAX_TOTAL_DEPTH: Final = 96
"""Deepest evaluation, through definitions; the tracing evaluator recurses this far."""

MAX_LOOPS: Final = 3
"""Deepest nesting of loops over lists."""

MAX_NODES: Final = 1000
"""Most words, numbers and operators in the expressions of one rule or definition."""

MAX_COST: Final = 20_000
"""Most steps one evaluation of a rule or definition may take, without loops and definitions.

An operation is a step and more with larger numbers: products of n digits take n² steps.
"""

MAX_EXAMPLES: Final = 200
"""Most examples of a rule; each is run for every mutant of it."""


@dataclass(frozen=True, slots=True)
class ExpressionSize:
    """The degree of an expression's value and the depth of its evaluation."""

    degree: int
    depth: int


class TooLarge(Exception):
    """An expression beyond the bounds: the node, what is wrong and what would do."""

    def __init__(self, node: Expr, what: str, expected: str) -> None:
        super().__init__(what)
        self.node = node
        self.what = what
        self.expected = expected


class Bounds:
    """Measures expressions over the definitions of ``known``, which must be free of cycles."""

    def __init__(self, known: Mapping[tuple[str, str], Definition]) -> None:
        self.known = known
        self.sizes: dict[tuple[str, str], ExpressionSize] = {}

    def size(
        self, expr: Expr, lets: Mapping[str, ExpressionSize], loops: int = 0
    ) -> ExpressionSize:
        """Measure an expression; raises TooLarge at the first node beyond the bounds."""
        if expr.op == "derived":
            size = self._definition(expr)
        elif expr.op == "local":
            size = ExpressionSize(lets[expr.data[0]].degree, 1)
        else:
            size = self._node(expr, lets, loops)
        if size.degree > MAX_DEGREE:
            raise TooLarge(
                expr,
                "this number could grow too large to compute with",
                f"a formula of fewer products (of {MAX_DEGREE} facts at most)",
            )
        if size.depth > MAX_TOTAL_DEPTH:
            raise TooLarge(
                expr,
                f"this is nested more than {MAX_TOTAL_DEPTH} deep, through definitions",
                "a shorter chain of definitions",
            )
        return size

    def steps(self, expr: Expr, lets: Mapping[str, ExpressionSize]) -> int:
        """What evaluating a measured expression costs, without the loops in it."""
        own = 1 + self.size(expr, lets).degree ** 2 // 64
        if expr.op in LOOPS:
            return own
        return own + sum(self.steps(kid, lets) for kid in expr.kids)

    def item_steps(self, loop: Expr, lets: Mapping[str, ExpressionSize]) -> int:
        """What one item of a loop costs: its filter and its body."""
        return sum(self.steps(kid, lets) for kid in loop.kids[1:])

    def _node(self, expr: Expr, lets: Mapping[str, ExpressionSize], loops: int) -> ExpressionSize:
        if expr.op in LOOPS:
            loops += 1
            if loops > MAX_LOOPS:
                raise TooLarge(expr, f"more than {MAX_LOOPS} loops within each other", "fewer")
        kids = [self.size(kid, lets, loops) for kid in expr.kids]
        depth = 1 + max((kid.depth for kid in kids), default=0)
        degrees = [kid.degree for kid in kids]
        operator = OPERATORS.get(expr.op)
        return ExpressionSize(1 if operator is None else operator.growth(degrees, expr), depth)

    def _definition(self, expr: Expr) -> ExpressionSize:
        key = (expr.data[2], expr.data[1])
        found = self.sizes.get(key)
        if found is None:
            inner = self.size(self.known[key].expr, {})
            found = self.sizes[key] = ExpressionSize(inner.degree, inner.depth + 1)
        return found
