"""Loops over more items than the tracer can go through one by one.

Generated code gives their value, and the first items tell what it rests on. A finding about each of
N axes that share something costs the same as one about an axis that shares nothing.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from itertools import islice
from typing import Any, Final, Protocol

from ..base.absence import NONE
from ..machine.records import Facts
from ..numbers.exact import Approx
from ..numbers.rational import Fraction
from .budget import metered_as_read
from .equalities import filter_equality, second_equality
from .fast_values import FastValues
from .freedom import free_parts
from .matching import matching, matching_both
from .operators import OPERATORS
from .syntax import Expr
from .traced import MAX_LISTED, Traced, join

MAX_TRACED: Final = MAX_LISTED
"""Items of a machine's list that are traced one by one; of more, generated code gives the value."""

TOLD_OF_MANY: Final = 8
"""Items of a longer list that are traced, for what its value rests on: a finding shows less."""


_ALIKE: Final = (str, int, Fraction, type(None))
"""Values of which equal ones are the same."""


class ItemTracer(Protocol):
    """What these functions ask of the tracing evaluator."""

    fast: FastValues
    lists: dict[Any, Traced]

    def value(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        """Evaluate a node."""

    def number_or_value(self, expr: Expr, env: Mapping[str, Any]) -> Traced:
        """A value to compute with."""

    def passing(
        self, expr: Expr, env: Mapping[str, Any], items: Iterable[Facts]
    ) -> Iterator[tuple[Traced, Mapping[str, Any]]]:
        """The filter's value and the environment of each of these items that it does not drop."""

    def outer_facts(self, expr: Expr, env: Mapping[str, Any]) -> list[Traced]:
        """The facts outside the list that its filter looks for, when it lets nothing through."""


def many_items(
    tracer: ItemTracer, expr: Expr, env: Mapping[str, Any], decided: bool = False
) -> Collection[Facts]:
    """The items of a loop, if too many can pass its filter to be traced; else none.

    ``decided``: those that can also meet an equality that a deciding item meets.
    """
    root, path = expr.kids[0].data
    items: Collection[Facts] = env[root][path]
    if root != "machine" or len(items) <= MAX_TRACED:
        return ()
    found = filter_equality(expr)
    if found is not None:
        _, key, other = found
        value = tracer.value(other, env).value
        second = second_equality(expr, key) if decided else None
        if second is None:
            items = matching(env[root], path, key, value)
        else:
            keys, wanted = (key, second[0]), tracer.value(second[1], env).value
            items = matching_both(env[root], path, keys, value, wanted)
    return items if decided or len(items) > MAX_TRACED else ()


def of_many(
    tracer: ItemTracer, expr: Expr, env: Mapping[str, Any], items: Iterable[Facts]
) -> Traced | None:
    """What `every`, `some` or an aggregate gives for many items; None if it is not known."""
    value = tracer.fast.of(expr)(env)
    if value is None:
        return None
    if value is OPERATORS[expr.op].deciding:
        items = _deciders(tracer, expr, env, value)
    parts: list[Traced] = []
    for where, inner in tracer.passing(expr, env, islice(items, TOLD_OF_MANY)):
        parts.append(where)
        if len(expr.kids) > 2:
            parts.append(tracer.number_or_value(expr.kids[2], inner))
    if parts:
        return join(value, parts)
    return join(value, (*tracer.outer_facts(expr, env), tracer.value(expr.kids[0], env)))


def _deciders(
    tracer: ItemTracer, expr: Expr, env: Mapping[str, Any], value: bool | None
) -> Iterator[Facts]:
    """The items that settle it, as they are asked for."""
    items = many_items(tracer, expr, env, decided=True)
    for where, body, inner in _fast_items(tracer, expr, env, items):
        if where is True and body is value:
            yield inner[expr.data[0]]


def by_name(expr: Expr, items: Iterable[Facts]) -> Iterable[Facts]:
    """The items as a message lists them: axes by their names, whatever their order in the file."""
    of_machine = expr.kids[0].data == ("machine", "axes")
    return sorted(items, key=lambda axis: str(axis["name"])) if of_machine else items


def all_of_many(
    tracer: ItemTracer, expr: Expr, env: Mapping[str, Any], listed: Traced, items: Iterable[Facts]
) -> Traced:
    """What `all of` gives for many items: for equal values of what it looks for it is the same."""
    wanted = tuple(tracer.value(part, env).value for part in free_parts(expr))
    if not all(value is NONE or isinstance(value, _ALIKE) for value in wanted):
        return _all_known(tracer, expr, env, listed, items)
    key = id(env[expr.kids[0].data[0]]), expr, wanted
    known = tracer.lists.get(key)
    if known is None:
        known = tracer.lists[key] = _all_known(tracer, expr, env, listed, items)
    return known


def _all_known(
    tracer: ItemTracer, expr: Expr, env: Mapping[str, Any], listed: Traced, items: Iterable[Facts]
) -> Traced:
    values = [*_fast_items(tracer, expr, env, by_name(expr, items))]
    known = [(inner, value) for where, value, inner in values if where is True]
    parts = [tracer.value(kid, inner) for inner, _ in known[:TOLD_OF_MANY] for kid in expr.kids[1:]]
    return join([value for _, value in known] or NONE, (listed, *parts))


def clash_of_many(
    tracer: ItemTracer, expr: Expr, env: Mapping[str, Any], items: Iterable[Facts]
) -> Traced | None:
    """What `unique` gives for many items if two are known to be equal, else None."""
    first: dict[Any, Mapping[str, Any]] = {}
    twice: list[Traced] = []
    for where, value, inner in _fast_items(tracer, expr, env, items):
        if where is not True or value is None or value is NONE or isinstance(value, Approx):
            continue
        before = first.setdefault(value, inner)
        if before is not inner:
            twice += (tracer.number_or_value(expr.kids[2], each) for each in (before, inner))
            if len(twice) >= TOLD_OF_MANY:
                break
    return join(False, twice) if twice else None


def _fast_items(
    tracer: ItemTracer, expr: Expr, env: Mapping[str, Any], items: Iterable[Facts]
) -> Iterator[tuple[Any, Any, Mapping[str, Any]]]:
    """The values of filter and body, by generated code, and the environment of each item."""
    where, body = (tracer.fast.of(kid) for kid in expr.kids[1:])
    for record in metered_as_read(items, 1):
        inner = {**env, expr.data[0]: record}
        yield where(inner), body(inner), inner
