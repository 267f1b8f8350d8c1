"""Which facts an expression may read: for telling a missing fact from one that sources dispute.

``a else b`` means two ways to state one thing, so it may pass over an ``a`` that nobody stated. It
must not pass over an ``a`` that two sources state differently, or that is in a unit that does not
fit. The reader lists such facts under ``#disputed`` in the record they belong to, relative to it,
with ``[]`` for an index.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from .syntax import Definition, Expr

LOOPS = frozenset("every some unique count sum product max min all".split())
"""What goes through a list."""

Reach = tuple[tuple[str, str], ...]
"""(variable, path) of every fact that may be read, loops dissolved into ``list[].path``."""


def reach(expr: Expr, definitions: Mapping[tuple[str, str], Definition]) -> Reach:
    """The facts an expression may read, through definitions, by the variable they belong to."""
    return tuple(dict.fromkeys(_reach(expr, definitions)))


def _reach(expr: Expr, definitions: Mapping[tuple[str, str], Definition]) -> list[tuple[str, str]]:
    if expr.op == "fact":
        return [(expr.data[0], expr.data[1])]
    if expr.op == "derived":
        root, name, kind = expr.data
        found = definitions[kind, name]
        inner = _reach(found.expr, definitions)
        return [(root if owner == found.owner else owner, path) for owner, path in inner]
    facts = [fact for kid in expr.kids for fact in _reach(kid, definitions)]
    if expr.op in LOOPS:
        (variable,) = expr.data
        (listed, *_) = _reach(expr.kids[0], definitions)
        root, path = listed
        return [
            (root, f"{path}[].{inner}") if owner == variable else (owner, inner)
            for owner, inner in facts
        ]
    return facts


def disputed(record: Mapping[str, Any], paths: tuple[str, ...]) -> bool:
    """Whether any of these facts of a record is stated, but not usable as it stands."""
    known = record.get("#disputed")
    return known is not None and not known.isdisjoint(paths)
