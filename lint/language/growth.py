"""How large the result of an operator can grow: its degree, from those of its operands.

The degree of an expression is the number of facts whose bits its result can hold (see bounds.py).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from .library import FUNCTIONS
from .syntax import Expr

AGGREGATE_DEGREE: Final = 16
"""What an aggregate can hold: MAX_BITS in facts' worth of bits."""


def of_sum(degrees: Sequence[int], node: Expr) -> int:
    """The bits of all operands together."""
    return sum(degrees)


def of_largest(degrees: Sequence[int], node: Expr) -> int:
    """Those of the largest operand."""
    return max(degrees, default=1)


def of_last(degrees: Sequence[int], node: Expr) -> int:
    """Those of the body of a loop."""
    return degrees[-1]


def of_values(degrees: Sequence[int], node: Expr) -> int:
    """Those of the larger of two values under a condition."""
    return max(degrees[1:])


def of_power(degrees: Sequence[int], node: Expr) -> int:
    """Those of the operand as often as the exponent says."""
    return degrees[0] * int(node.data[0])


def of_function(degrees: Sequence[int], node: Expr) -> int:
    """Those of all arguments, as often as the function says."""
    return sum(degrees) * FUNCTIONS[node.data[0]].growth


def of_aggregate(degrees: Sequence[int], node: Expr) -> int:
    """Those that an aggregate is capped at."""
    return AGGREGATE_DEGREE


def no_number(degrees: Sequence[int], node: Expr) -> int:
    """The result is no number that grows."""
    return 1
