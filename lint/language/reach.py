"""Which facts an expression may read: for telling a missing fact from one that sources dispute."""

from __future__ import annotations

from collections.abc import Mapping

from .operators import LOOPS
from .syntax import Definition, Expr

Reach = tuple[tuple[str, str], ...]
"""(variable, path) of every fact that may be read, loops dissolved into ``list[].path``."""


Reaches = dict[tuple[str, str], Reach]
"""What definitions read, by record and name: kept where many expressions use the same ones."""


def reach(
    expr: Expr,
    definitions: Mapping[tuple[str, str], Definition],
    known: Reaches | None = None,
) -> Reach:
    """The facts an expression may read, through definitions, by the variable they belong to.

    ``known`` keeps what definitions read, for calls with the same definitions.
    """
    return tuple(dict.fromkeys(_reach(expr, definitions, {} if known is None else known)))


def _reach(
    expr: Expr, definitions: Mapping[tuple[str, str], Definition], known: Reaches
) -> list[tuple[str, str]]:
    if expr.op == "fact":
        return [(expr.data[0], expr.data[1])]
    if expr.op == "derived":
        root, name, kind = expr.data
        found = definitions[kind, name]
        if (kind, name) not in known:
            known[kind, name] = tuple(dict.fromkeys(_reach(found.expr, definitions, known)))
        inner = known[kind, name]
        return [(root if owner == found.owner else owner, path) for owner, path in inner]
    facts = [fact for kid in expr.kids for fact in _reach(kid, definitions, known)]
    if expr.op in LOOPS:
        (variable,) = expr.data
        (listed, *_) = _reach(expr.kids[0], definitions, known)
        root, path = listed
        return [
            (root, f"{path}[].{inner}") if owner == variable else (owner, inner)
            for owner, inner in facts
        ]
    return facts
