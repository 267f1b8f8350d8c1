"""Mutants of what a rule ranges over: a key left out, the sides of a pair swapped."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from ..catalogue.catalogue import Catalogue, RunnableRule
from ..language.ranges import plain_range
from ..language.syntax import FLAG, Expr, Join, Key, Range, Rule
from .example_machines import build_example
from .mutants import Change
from .outcomes import PreparedExample


def ranged_anew(
    found: Catalogue, rule: Rule, own: Rule, entry: RunnableRule, each: PreparedExample
) -> PreparedExample:
    """An example of a rule with the cases of its mutant, which may range over something else."""
    if rule.range == own.range:
        return each
    entry = replace(entry, range=plain_range(rule.range, found.definitions))
    built = build_example(found, rule, entry, each.example)
    return PreparedExample(each.example, built.cases, built.written)


def range_mutants(rule: Rule) -> Iterator[tuple[Change, Rule]]:
    """Rules that differ in one spot of what stands behind `each`."""
    found = rule.range
    if found is None:
        return
    for change, ranged in (*_fewer_keys(found), *_other_outcome(found)):
        yield change, replace(rule, range=ranged)
    if found.directed is not None:
        yield _swapped(rule, found, found.directed)


def _fewer_keys(found: Range) -> Iterator[tuple[Change, Range]]:
    for number in range(len(found.keys) if len(found.keys) > 1 else 0):
        keys = (*found.keys[:number], *found.keys[number + 1 :])
        change = _left_out([key.expr() for key in found.keys], number)
        yield change, replace(found, keys=keys)
    for place, join in enumerate(found.joins):
        for number in range(len(join.keys) if len(join.keys) > 1 else 0):
            fewer = replace(join, keys=(*join.keys[:number], *join.keys[number + 1 :]))
            joins = (*found.joins[:place], fewer, *found.joins[place + 1 :])
            change = _left_out([_equality(*both) for both in join.keys], number)
            yield change, replace(found, joins=joins)


def _left_out(parts: Sequence[Expr], number: int) -> Change:
    """The change that leaves out one of several parts; the text of its neighbour stays."""
    first, second = next(both for both in pairwise(parts) if parts[number] in both)
    both = Expr("and", (first, second), (), first.at.to(second.at), FLAG)
    return Change(both, second if parts[number] is first else first)


def _equality(own: Key, its: Key) -> Expr:
    first, second = sorted((own.expr(), its.expr()), key=lambda side: side.at)
    return Expr("is", (first, second), (), first.at.to(second.at), FLAG)


def _other_outcome(found: Range) -> Iterator[tuple[Change, Range]]:
    if found.without:
        before, after = (Expr("name", (), (word,), found.without_at) for word in ("fails", "skips"))
        yield Change(before, after), replace(found, without=())


def _swapped(rule: Rule, found: Range, directed: Expr) -> tuple[Change, Rule]:
    """The rule with the direction of its pair reversed."""
    joined = [join for join in found.joins if join.list_path == "axes"]
    sides = {"axis", joined[0].variable} if rule.subject == "axis" else {j.variable for j in joined}

    def turned(expr: Expr) -> Expr:
        (other,) = sides - {expr.data[0]}
        return replace(expr, data=(other, *expr.data[1:]))

    if directed.op == "is":
        fact, word = directed.kids
        after = directed.with_kids((turned(fact), word))
        when = rule.when
        assert when is not None
        when = after if when is directed else when.with_kids((after, when.kids[1]))
        ranged = replace(found, directed=after)
        return Change(directed, after), replace(rule, when=when, range=ranged)
    if rule.subject == "axis":
        (join,) = joined
        keys = tuple(
            (replace(its, variable=own.variable), replace(own, variable=its.variable))
            for own, its in join.keys
        )
        ranged = replace(found, joins=(replace(join, keys=keys),))
        return Change(directed, turned(directed)), replace(rule, range=ranged)
    first, second = joined
    joins = (replace(first, keys=_onto(second, first)), replace(second, keys=_onto(first, second)))
    after = next(
        own.expr() for own, _ in (*first.keys, *second.keys) if own.expr().data != directed.data
    )
    return Change(directed, after), replace(rule, range=replace(found, joins=joins))


def _onto(keys_of: Join, join: Join) -> tuple[tuple[Key, Key], ...]:
    """The keys of one join for the variable of another."""
    return tuple((own, replace(its, variable=join.variable)) for own, its in keys_of.keys)
