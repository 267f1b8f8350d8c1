"""The facts by which an undecided case may fail: on one more line of a file, or as few as possible.

A failed case becomes undecided when a line is deleted. For each node of condition or requirement
a function gives the sets of facts that may settle it in the way asked for, as far as these are
kept: what one line can state, or the smallest sets. A conjunction is false as soon as one operand
is, and true if all are.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from typing import Final, TypeAlias

from ..base.absence import NONE
from ..machine.records import NOTES, Facts
from .missing_scope import OTHER_CAUSE, FactScope, Frame, TraceNeeded
from .operators import LITERALS, LOOPS, OPERATORS
from .syntax import Definition, Expr, Rule, subjects_of
from .traced import MAX_LISTED

Ways: TypeAlias = frozenset[frozenset[str]]
"""Sets of facts of which each may settle a node. An empty set of facts: it is settled already."""

Facing: TypeAlias = Callable[[Frame], Ways]

WantedTruth: TypeAlias = "bool | None"

Keeping: TypeAlias = Callable[[Ways], Ways]
"""Which sets of facts are looked at further."""

NearFailure: TypeAlias = Callable[[Sequence[Facts]], tuple[str, ...]]
"""The facts by which a case may fail: the smallest set that is kept; empty if none is."""

PART: Final = 3
"""Names in the path of a part of an axis, such as ``axes.lift.drive``: it takes many lines."""

QUANTIFIERS: Final = frozenset({"every", "some"})
MOST_WAYS: Final = 6
"""Sets of facts that are looked at further where only the smallest count."""

MOST_ITEMS: Final = 50
"""Items of a list that are looked at one by one."""

ALREADY: Final[Ways] = frozenset((frozenset(),))
NEVER: Final[Ways] = frozenset()


class NearFailures:
    """Makes what tells near failures of the rules of one catalogue.

    ``keep`` says which sets of facts count as near, and ``name`` tells its results from others.
    With ``by_condition``, where nothing shows how a rule may fail, the facts count by which it may
    apply.
    """

    def __init__(
        self,
        definitions: Mapping[tuple[str, str], Definition],
        scope_over: Callable[[Sequence[str]], FactScope],
        keep: Keeping,
        name: str,
        by_condition: bool = False,
    ) -> None:
        self.by_condition = by_condition
        self.definitions = definitions
        self.scope_over = scope_over
        self.keep = keep
        self.one_by_one = keep is on_one_line  # so sets that are kept are kept beside others
        self.name = name
        self.rules: dict[str, NearFailure] = {}
        self.derived: dict[tuple[str, str, WantedTruth], Callable[[Facts], Ways]] = {}

    def of(self, rule: Rule) -> NearFailure:
        """What gives the facts by which an undecided case of a rule may fail, from its subjects."""
        found = self.rules.get(rule.name)
        if found is None:
            found = self.rules[rule.name] = self._rule(rule)
        return found

    def _rule(self, rule: Rule) -> NearFailure:
        scope = self.scope_over(subjects_of(rule))
        applies = fails = self._all_of(())
        try:
            if rule.when is not None:
                applies = self._settling(rule.when, scope, True)
            for name, expr in rule.lets:
                scope.let(name, expr)
            fails = self._all_of([applies, self._settling(rule.require, scope, False)])
        except TraceNeeded:
            fails = self._all_of([lambda frame: NEVER])
        blank = scope.blank()

        def near(subjects: Sequence[Facts]) -> tuple[str, ...]:
            frame = [*subjects, *blank]
            try:
                ways = fails(frame) or (applies(frame) if self.by_condition else NEVER)
            except TraceNeeded:
                return ()
            if len(ways) == 1:
                (way,) = ways
                return tuple(sorted(way))
            return min((tuple(sorted(way)) for way in ways), key=_effort, default=())

        return near

    def _settling(self, expr: Expr, scope: FactScope, wanted: WantedTruth) -> Facing:
        """The function of a node that is to become ``wanted``; None: to be known."""
        if expr.op == "not":
            return self._settling(expr.kids[0], scope, None if wanted is None else not wanted)
        if expr.op in ("and", "or"):
            return self._connected(expr, scope, wanted)
        if expr.op == "default":
            return self._alternatives(expr, scope, wanted)
        if expr.op == "choose":
            return self._choice(expr, scope, wanted)
        if expr.op in QUANTIFIERS and wanted is not None:
            return self._quantified(expr, scope, wanted)
        if expr.op == "local":
            return self._settling(scope.trees[expr.data[0]], scope, wanted)
        if expr.op == "derived":
            return self._definition(expr, scope, wanted)
        return self._computed(expr, scope, wanted)

    def _connected(self, expr: Expr, scope: FactScope, wanted: WantedTruth) -> Facing:
        if wanted is None:
            return self._one_of([self._connected(expr, scope, says) for says in (True, False)])
        kids = [self._settling(kid, scope, wanted) for kid in expr.kids]
        return self._all_of(kids) if wanted == (expr.op == "and") else self._one_of(kids)

    def _choice(self, expr: Expr, scope: FactScope, wanted: WantedTruth) -> Facing:
        """One of two values: where the condition is known, the other one is not looked at."""
        condition = scope.value(expr.kids[0])
        ways = [self._settling(kid, scope, wanted) for kid in expr.kids[1:]]
        says = [self._settling(expr.kids[0], scope, truth) for truth in (True, False)]
        either = self._one_of([self._all_of(each) for each in zip(says, ways, strict=True)])
        if not self._stays_known(expr.kids[0], scope):
            return either

        def facing(frame: Frame) -> Ways:
            try:
                known = condition(frame)
            except TraceNeeded:  # only of the condition as a whole
                return either(frame)
            if known is True or known is False:
                return ways[0 if known else 1](frame)
            return either(frame)

        return facing

    def _alternatives(self, expr: Expr, scope: FactScope, wanted: WantedTruth) -> Facing:
        """The second counts only while the first is unknown."""
        first = scope.value(expr.kids[0])
        ways = [self._settling(kid, scope, wanted) for kid in expr.kids]
        either = self._one_of(ways)

        def facing(frame: Frame) -> Ways:
            return either(frame) if first(frame).__class__ is tuple else ways[0](frame)

        return facing

    def _quantified(self, expr: Expr, scope: FactScope, wanted: bool) -> Facing:
        """What is asked of the items of a list, one by one."""
        whole = self._computed(expr, scope, wanted)
        value = scope.value(expr)
        root, path = expr.kids[0].data
        owner, slot = scope.slots[root], scope.new(expr.data[0])
        by_one = wanted == (expr.op == "some")
        selected = self._settling(expr.kids[1], scope, by_one)
        asked = self._settling(expr.kids[2], scope, wanted)
        of_item = (self._all_of if by_one else self._one_of)([selected, asked])

        def of(item: Facts) -> Facing:
            def facing(frame: Frame) -> Ways:
                frame[slot] = item
                return of_item(frame)

            return facing

        def facing(frame: Frame) -> Ways:
            items = frame[owner].get(path)
            partial = path in frame[owner][NOTES].partial
            known = value(frame).__class__ is not tuple
            if known or partial or not isinstance(items, list) or len(items) > MOST_ITEMS:
                return whole(frame)
            together = self._one_of if by_one else self._all_of
            return together([of(item) for item in items])(frame)

        return facing

    def _computed(self, expr: Expr, scope: FactScope, wanted: WantedTruth) -> Facing:
        """A fact, or what is known if all its operands are. Lists are looked at as a whole."""
        value = scope.value(expr)
        kids = [] if expr.op in LOOPS else expr.kids
        known = self._all_of([self._settling(kid, scope, None) for kid in kids])
        needs_all = self._needs_all(expr, scope)

        def facing(frame: Frame) -> Ways:
            try:
                found = value(frame)
            except TraceNeeded:  # only this node, so that what is around it is still looked at
                ways = known(frame)
                return NEVER if ways is ALREADY else ways
            if found.__class__ is not tuple:
                return ALREADY if wanted is None or found is wanted else NEVER
            if found == OTHER_CAUSE:
                return NEVER
            if needs_all and len(found) < MAX_LISTED:
                return self.keep(frozenset((frozenset(found),)))
            ways = known(frame) if kids else ALREADY
            return self.keep(frozenset((frozenset(found),))) if ways is ALREADY else ways

        return facing

    def _stays_known(self, expr: Expr, scope: FactScope) -> bool:
        """Whether no further fact changes what is known: nothing of it has a default."""
        if expr.op == "local":
            return self._stays_known(scope.trees[expr.data[0]], scope)
        if expr.op == "derived":
            _, name, kind = expr.data
            definition = self.definitions[kind, name]
            return self._stays_known(definition.expr, self.scope_over((definition.owner,)))
        return expr.op != "default" and all(self._stays_known(kid, scope) for kid in expr.kids)

    def _needs_all(self, expr: Expr, scope: FactScope) -> bool:
        """Whether a node, where it is unknown, is known by all that it misses and by nothing less.

        So it is without a choice, alternatives and lists.
        """
        if expr.op == "local":
            return self._needs_all(scope.trees[expr.data[0]], scope)
        if expr.op == "derived":
            _, name, kind = expr.data
            definition = self.definitions[kind, name]
            return self._needs_all(definition.expr, self.scope_over((definition.owner,)))
        if expr.op in LITERALS or expr.op in ("fact", "setting"):
            return True
        computes = expr.op == "call" or OPERATORS[expr.op].evaluation in ("formula", "words")
        return computes and all(self._needs_all(kid, scope) for kid in expr.kids)

    def _definition(self, expr: Expr, scope: FactScope, wanted: WantedTruth) -> Facing:
        root, name, kind = expr.data
        slot, key = scope.slots[root], (kind, name, wanted)
        if key not in self.derived:
            self.derived[key] = self._settled(self.definitions[kind, name], wanted)
        settled = self.derived[key]
        if not self._stays_known(expr, scope):
            return lambda frame: settled(frame[slot])

        def facing(frame: Frame) -> Ways:
            record = frame[slot]
            known = record[NOTES].memo.get(name)
            if known is None or known is NONE:
                return settled(record)
            return ALREADY if wanted is None or known is wanted else NEVER

        return facing

    def _settled(self, definition: Definition, wanted: WantedTruth) -> Callable[[Facts], Ways]:
        on_axis = definition.record == "axis"
        roots = (definition.owner, "machine") if on_axis else (definition.owner,)
        scope = self.scope_over(roots)
        body = self._settling(definition.expr, scope, wanted)
        blank = scope.blank()
        memo_name = f"{self.name} {definition.name} {wanted}"

        def settled(record: Facts) -> Ways:
            notes = record[NOTES]
            found: Ways | None = notes.memo.get(memo_name)
            if found is None:
                above = (notes.machine,) if on_axis else ()
                found = notes.memo[memo_name] = body([record, *above, *blank])
            return found

        return settled

    def _all_of(self, kids: Sequence[Facing]) -> Facing:
        def facing(frame: Frame) -> Ways:
            ways = ALREADY
            for kid in kids:
                found = kid(frame)
                if found is ALREADY:
                    continue
                if ways is ALREADY:
                    ways = found  # of which only those are left that are kept
                elif found:
                    ways = self.keep(frozenset(one | other for one in ways for other in found))
                else:
                    ways = NEVER
                if not ways:
                    break
            return ways

        return facing

    def _one_of(self, kids: Sequence[Facing]) -> Facing:
        def facing(frame: Frame) -> Ways:
            found = NEVER
            for kid in kids:
                ways = kid(frame)
                if ways is ALREADY:
                    return ALREADY
                found = ways if not found else found | ways if ways else found
            return found if self.one_by_one or not found else self.keep(found)

        return facing


def on_one_line(ways: Ways) -> Ways:
    """The sets that one line can state: one fact, or facts of one small record."""
    if all(map(_is_one_line, ways)):
        return ways
    return frozenset(way for way in ways if _is_one_line(way))


def _is_one_line(facts: Collection[str]) -> bool:
    if len(facts) <= 1:
        return True
    records = {fact.rpartition(".")[0] for fact in facts}
    return len(records) == 1 and len(records.pop().split(".")) > PART


class Smallest:
    """Keeps the smallest sets, MOST_WAYS of them, without facts that somebody does not know."""

    def __init__(self) -> None:
        self.not_known: set[str] = set()

    def __call__(self, ways: Ways) -> Ways:
        """The sets that are kept."""
        if self.not_known:
            ways = frozenset(way for way in ways if way.isdisjoint(self.not_known))
        if len(ways) <= MOST_WAYS:
            return ways
        bound = sorted(map(len, ways))[MOST_WAYS - 1]
        some = [way for way in ways if len(way) <= bound]
        if len(some) > MOST_WAYS:
            some = sorted(some, key=_size_and_names)[:MOST_WAYS]
        return frozenset(some)


def _size_and_names(way: frozenset[str]) -> tuple[int, tuple[str, ...]]:
    return _effort(tuple(sorted(way)))


def _effort(facts: tuple[str, ...]) -> tuple[int, tuple[str, ...]]:
    """How much a set of facts asks for; sets of the same size are told apart by name."""
    return len(facts), facts
