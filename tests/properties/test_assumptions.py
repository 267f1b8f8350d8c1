"""No missing fact acquits: each assumption by which one could is listed with its reason.

`default` is the only word of the language by which a missing fact becomes a value. `F default true`
can only make a `when` true, and `F default false` under a `not` too. Every other default that a
`when` reaches, through definitions as well, could turn it false, so that a failed check becomes
"does not apply". In a `require` it is the other way round: a default that could turn it true would
let a failed check hold. Such a default stands in ``assumptions.txt``.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from axisproof.catalogue.catalogue import shipped
from axisproof.language.syntax import Expr, Rule

from tests.properties.acquittals import TWO_STATEMENTS, listed

UP, DOWN, EITHER = "up", "down", "either way"
"""What the truth of the whole does if this part of it becomes true."""

TURNED: Final = {UP: DOWN, DOWN: UP, EITHER: EITHER}
KEEPS: Final = {UP: True, DOWN: False}
"""The assumed flag that does no harm: for ``UP`` it only makes true, for ``DOWN`` only false."""
NO_LETS: Final[Mapping[str, Expr]] = {}


def assumptions(
    expr: Expr, way: str, where: str, lets: Mapping[str, Expr] = NO_LETS
) -> Iterator[str]:
    """The definitions, or the rule ``where`` itself, whose defaults can do harm.

    ``way`` is ``UP`` for what must not become false, as a `when`, and ``DOWN`` for what must not
    become true, as a `require`.
    """
    if expr.op == "derived":
        _, name, record = expr.data
        yield from assumptions(shipped().definitions[record, name].expr, way, name)
        return
    if expr.op == "local":
        if expr.data[0] in lets:
            yield from assumptions(lets[expr.data[0]], way, where, lets)
        return
    if expr.op == "default":
        assumed = expr.kids[1]
        if not (assumed.op == "flag" and KEEPS.get(way) == assumed.data[0]):
            yield where
    ways = [way if expr.op in ("and", "or", "default") else EITHER] * len(expr.kids)
    if expr.op == "not":
        ways = [TURNED[way]]
    elif expr.op in ("choose", "some"):
        ways = [EITHER, way, way]
    elif expr.op == "every":
        ways = [EITHER, TURNED[way], way]
    for kid, of_kid in zip(expr.kids, ways, strict=True):
        yield from assumptions(kid, of_kid, where, lets)


def found_in(rule: Rule) -> set[str]:
    """Where a rule assumes what it was not told, to its failed checks' good.

    Where two statements are compared, the rule may assume in its own `when`.
    """
    found = set() if rule.when is None else set(assumptions(rule.when, UP, rule.name))
    if rule.name in TWO_STATEMENTS:
        found -= {rule.name}
    return found | set(assumptions(rule.require, DOWN, rule.name, dict(rule.lets)))


def test_each_assumption_that_can_acquit_has_a_reason() -> None:
    reasons = listed("assumptions.txt")
    found = {(where, rule.name) for rule in shipped().trees.rules for where in found_in(rule)}
    unlisted = {
        f"{where} in {name}"
        for where, name in found
        if where not in reasons and f"{where} in {name}" not in reasons
    }
    assert unlisted == set()
    used = {where for where, _ in found} | {f"{where} in {name}" for where, name in found}
    assert set(reasons) <= used
    assert all(reasons.values())


def test_an_assumption_on_the_wrong_side_is_found() -> None:
    """The three ways in which a default can make a `when` false."""
    fact = Expr("fact", (), ("axis", "mechanics.moved_by_gravity"))
    true, false = (Expr("flag", (), (value,)) for value in (True, False))
    for kid, way in ((true, UP), (false, DOWN)):
        assumed = Expr("default", (fact, kid))
        assert list(assumptions(assumed, way, "here")) == []
        assert list(assumptions(assumed, TURNED[way], "here")) == ["here"]
        assert list(assumptions(Expr("not", (assumed,)), way, "here")) == ["here"]
        assert list(assumptions(Expr("is", (assumed, fact)), way, "here")) == ["here"]
        assert list(assumptions(Expr("some", (fact, true, assumed)), way, "here")) == []
        assert list(assumptions(Expr("every", (fact, assumed, true)), way, "here")) == ["here"]
        named = Expr("local", (), ("likely",))
        assert list(assumptions(named, TURNED[way], "here", {"likely": assumed})) == ["here"]
