"""What the table of operators says of each (see operators.py)."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, Final

from ..base.lazy import dataclass
from ..numbers.exact import Number
from .syntax import Expr

OPERATION, CHOICE, EITHER, BOTH, NEGATION, COMPARISON, FALLBACK = -1, 0, 1, 2, 3, 4, 5
SUM, PRODUCT, NEGATIVE, VALUE, POWER, ATOM = 6, 7, 8, 9, 10, 11
"""How tightly a printed text holds together; a weaker one is put in parentheses.

VALUE is a number with its unit, OPERATION something over a list.
"""

TOO_CLOSE: Final = "the numbers are too close together to be told apart"

Growth = Callable[[Sequence[int], Expr], int]
"""The degree of a node (see bounds.py) from those of its operands and the node itself."""


@dataclass(frozen=True, slots=True)
class Mutations:
    """How a rule test alters an operator to see whether an example notices.

    It becomes each of ``becomes``; its ``opposite``; ``one_side`` of its two alone; it loses the
    filter of its list (``unfiltered``).
    """

    becomes: tuple[str, ...] = ()
    opposite: bool = False
    one_side: bool = False
    unfiltered: bool = False


NO_MUTATIONS: Final = Mutations()


@dataclass(frozen=True, slots=True)
class Aggregate:
    """How a value is made of those of all items of a list.

    ``total`` makes it at once. Generated code begins with ``start``, takes ``step`` for each item
    ({total} and {value}) and ends with ``end``; if ``may_stop``, a step may find that the result is
    unknown. ``listed`` is how numbers in its place are printed: the sign between them, how tightly
    that holds, and what stands for none of them; or None for a function of them.
    """

    total: Callable[[list[Any]], Number | None]
    start: str
    step: str
    end: str = "{total}"
    may_stop: bool = False
    listed: tuple[str, int, str] | None = None


@dataclass(frozen=True, slots=True)
class Operator:
    """One operator.

    ``name``: what a tree calls it. ``written``: its sign in a rule file, where a sign stands for
    it. ``text``: how it is printed, with {0}, {1} … for its operands, {items} for those after the
    first, {arguments} for all, {over} for a list with its filter, and ``data``; ``denial`` its
    negation. ``strength``: how tightly the text holds together; ``least``: how tightly each operand
    must hold to stand without parentheses, the last one for all that follow.

    ``code``: the generated Python, with {0}, {1} … , {items} and ``data``. ``call``: what it makes
    of known operands; None is unknown. ``reason``: why that can be unknown, and ``divisors`` the
    operands that it divides by. ``deciding``: the value of one operand or item that settles it.
    ``certain``: known and exact operands always settle it. ``equates``: items of a list can be
    looked up by it. ``excess``: how far a failed comparison misses, in words, and the sign that
    makes the difference of the sides a positive number.
    """

    name: str
    evaluation: str
    operands: str
    text: str
    strength: int
    least: tuple[int, ...]
    growth: Growth
    written: str = ""
    denial: str = ""
    code: str = ""
    call: Callable[..., Any] | None = None
    reason: str = TOO_CLOSE
    divisors: tuple[int, ...] = ()
    deciding: bool | None = None
    certain: bool = False
    equates: bool = False
    excess: tuple[str, int] | None = None
    aggregate: Aggregate | None = None
    mutations: Mutations = NO_MUTATIONS
