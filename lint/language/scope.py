"""What names mean at a point of a rule, and what the conditions before it say about motion."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from ..numbers.dimensions import DIMENSIONLESS, Dimension, dim_mul
from .rule_file import RuleFile
from .syntax import POSITION, Expr, Type

Narrowing = Mapping[str, str]
"""What conditions make of a user unit: a length, an angle, or the user unit of another subject."""


@dataclass(frozen=True, slots=True)
class Scope:
    """What names mean at a point of a rule.

    ``asks``: a whole requirement stands here, of a rule that asks for documentation. ``looped``
    are the variables of loops.
    """

    file: RuleFile
    variables: Mapping[str, Type]
    lets: Mapping[str, Type] = field(default_factory=dict)
    narrowing: Narrowing = field(default_factory=dict)
    constant: bool = False
    message: bool = False
    asks: bool = False
    looped: frozenset[str] = frozenset()

    def plain(self, dimension: Dimension) -> Dimension:
        """The dimension with position replaced by what the conditions so far make of it."""
        for _ in range(len(self.narrowing) + 1):
            if not any(base in self.narrowing for base, _ in dimension):
                return dimension
            result: Dimension = DIMENSIONLESS
            for base, power in dimension:
                target = self.narrowing.get(base, base)
                result = dim_mul(result, ((target, power),))
            dimension = result
        return dimension

    def narrowed(self, condition: Expr, holds: bool = True) -> Scope:
        """The scope where ``condition`` is known to hold (or not to hold)."""
        found = dict(self.narrowing)
        _narrow(condition, holds, found)
        return replace(self, narrowing=found) if found != dict(self.narrowing) else self


def _narrow(condition: Expr, holds: bool, found: dict[str, str]) -> None:
    if condition.op == "not":
        _narrow(condition.kids[0], not holds, found)
    elif condition.op == ("and" if holds else "or"):
        for kid in condition.kids:
            _narrow(kid, holds, found)
    elif condition.op == "is":
        left, right = condition.kids
        if left.op != "fact" or left.data[1] != "motion":
            return
        base = POSITION + left.data[0]
        if right.op == "name":
            linear = (right.data[0] == "linear") == holds
            found.setdefault(base, "length" if linear else "angle")
        elif right.op == "fact" and right.data[1] == "motion" and holds:
            other = POSITION + right.data[0]
            if base != other and other not in found:
                found.setdefault(base, other)
