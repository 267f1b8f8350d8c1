"""The facts that operators over lists miss, without asking every item of a long list.

See missing_facts.py. A loop names MAX_LISTED missing facts at most, and most items of a machine's
list miss the same facts: those that the loop reads outside the list. So an equality looks items up
where there is one. Once all missing facts outside the list are named, only those items are still
asked about which not everything is known.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Final, NamedTuple

from ..base.absence import NONE, none_above
from ..machine.records import NOTES, Facts
from ..numbers.exact import Approx, Pi
from .budget import metered_as_read
from .equalities import conjuncts, equalities
from .matching import equal, in_order
from .missing_scope import OTHER_CAUSE, Evaluate, Frame, Missing
from .missing_words import WordScope
from .operators import LEAVES, LITERALS, LOOPS, OPERATORS
from .syntax import Expr
from .traced import MAX_LISTED

_LOOP_NUMBERS: Final = itertools.count()
"""Gives every loop a number, under which a list's items are kept as it needs them."""

FEW: Final = 50
"""Items of a list that are gone through each time, since keeping results costs more."""

Named = dict[str, None]
"""The missing facts that a loop has named so far, in order."""

ItemsOf = Callable[[Frame, int], "SortedItems"]
"""The sorted items of the list whose owner is at a place in the frame."""

MissingOutside = Callable[[Frame], frozenset[str] | None]
"""The facts missing of what a loop reads outside its list; None if another cause is in play."""


class SortedItems(NamedTuple):
    """The items of a list that pass what a filter asks of them alone, or may do so.

    ``unsure`` are those, with their number, of which one fact is not known or not exact;
    ``other_cause`` those that can be undecided for another reason than a missing fact.
    """

    items: list[Facts]
    unsure: list[tuple[int, Facts]]
    other_cause: list[Facts]


class Lookup(NamedTuple):
    """An equality by which items are looked up: in the filter or in the body, by key and value."""

    in_filter: bool
    key: str
    sought: Evaluate


@dataclass(frozen=True, slots=True)
class Candidates:
    """Gives the items of a loop that are likely to decide, and all that may matter, in order.

    ``filter_outside`` and ``filter_items`` look at the filter alone if an equality stands in it,
    ``all_outside`` and ``all_items`` at the filter and the body.
    """

    owner: int
    path: str
    lookups: Sequence[Lookup]
    tells_apart: bool
    filter_outside: MissingOutside
    all_outside: MissingOutside
    filter_items: ItemsOf
    all_items: ItemsOf

    def of(
        self, frame: Frame, items: list[Facts], named: Named
    ) -> tuple[Iterable[Facts], Iterable[Facts]]:
        """The items; whoever goes through them adds the facts they miss to ``named``."""
        if not self.lookups:
            return (), items
        filter_known = True
        for lookup in self.lookups:
            sought = lookup.sought(frame)
            if sought.__class__ is tuple or not _is_exact(sought):
                filter_known = filter_known and not lookup.in_filter
                continue
            return self.looked_up(frame, lookup, sought, filter_known, named)
        outside = self.filter_outside(frame)
        found = self.filter_items(frame, self.owner)
        return (), _until_named(found, outside, named) if outside else found.items

    def looked_up(
        self, frame: Frame, lookup: Lookup, sought: Any, filter_known: bool, named: Named
    ) -> tuple[Iterable[Facts], Iterable[Facts]]:
        """The items that one equality with a known value leaves."""
        record = frame[self.owner]
        rest = in_order(record, self.path, lookup.key, sought)
        if not filter_known:  # so no item is known to pass it, and none decides
            outside = self.filter_outside(frame)
            if outside:
                sorted_items = self.filter_items(frame, self.owner)
                rest = _until_named_or_unsure(rest, sorted_items, outside, named)
            return (), rest
        likely = equal(record, self.path, lookup.key, sought)
        return likely, rest if self.tells_apart else self.up_to_listed(rest, frame, named)

    def up_to_listed(self, items: Iterator[Facts], frame: Frame, named: Named) -> Iterator[Facts]:
        """The items until they miss more facts than are listed.

        After that only those that may be undecided for another cause; all if that cannot be told.
        """
        for item in items:
            yield item
            if len(named) >= MAX_LISTED:
                if self.all_outside(frame) is None:
                    yield from items
                else:
                    yield from self.all_items(frame, self.owner).other_cause
                return


def _until_named(found: SortedItems, outside: frozenset[str], named: Named) -> Iterator[Facts]:
    """The items until all of ``outside`` is named; after that only the unsure ones.

    Once more is named than is listed, only those that may be undecided for another cause.
    """
    last = -1
    for last, item in enumerate(found.items):  # noqa: B007
        yield item
        if outside <= named.keys() or len(named) >= MAX_LISTED:
            break
    for number, item in found.unsure:
        if len(named) >= MAX_LISTED:
            yield from found.other_cause
            return
        if number > last:
            yield item


def _until_named_or_unsure(
    items: Iterator[Facts], found: SortedItems, outside: frozenset[str], named: Named
) -> Iterator[Facts]:
    """The items until all of ``outside`` is named; after that the others only if one is unsure."""
    for item in items:
        yield item
        if outside <= named.keys():
            break
    if found.unsure:
        yield from items


class Loop(NamedTuple):
    """The parts of a loop.

    ``listed`` gives its list, and the list itself as missing if it is partial. ``candidates`` gives
    its items (see Candidates). Each is put into the frame at ``slot`` and asked for its filter and
    its body (None to count).
    """

    listed: Callable[[Frame], tuple[Any, Missing]]
    candidates: Callable[[Frame, list[Facts], Named], tuple[Iterable[Facts], Iterable[Facts]]]
    slot: int
    where: Evaluate
    body: Evaluate | None


class LoopScope(WordScope):
    """Makes the functions of operators over lists."""

    def loop(self, expr: Expr) -> Loop:
        """The parts of a loop."""
        (variable,) = expr.data
        root, path = expr.kids[0].data
        listed, owner = self.listed(expr.kids[0]), self.slots[root]
        parts = expr.kids[1:]
        sought_in = parts if OPERATORS[expr.op].deciding is True else parts[:1]
        lookups = [
            Lookup(condition is expr.kids[1], key, self.value(other))
            for condition in sought_in
            for _, key, other in equalities(expr, condition)
        ]
        in_filter = any(lookup.in_filter for lookup in lookups)
        all_outside = self.missing_outside(expr, parts) if lookups else _cannot_tell
        filter_outside = self.missing_outside(expr, parts[:1]) if in_filter else all_outside
        slot = self.new(variable)
        where, *bodies = [self.value(expr.kids[1]), *map(self.number, expr.kids[2:])]
        all_items = self.sorting(expr, parts, slot)
        candidates = Candidates(
            owner,
            path,
            lookups,
            OPERATORS[expr.op].evaluation == "unique",
            filter_outside,
            all_outside,
            self.sorting(expr, parts[:1], slot) if in_filter else all_items,
            all_items,
        )
        del self.slots[variable]
        steps = sum(1 for part in parts for _ in part.walk())

        def metered(
            frame: Frame, items: list[Facts], named: Named
        ) -> tuple[Iterable[Facts], Iterable[Facts]]:
            likely, every = candidates.of(frame, items, named)
            return likely, metered_as_read(every, steps)

        ready = metered if root == "machine" else candidates.of
        return Loop(listed, ready, slot, where, bodies[0] if bodies else None)

    def remembered(self, expr: Expr, evaluate: Evaluate) -> Evaluate:
        """The function of a loop over a list of the machine; its results are kept with the list.

        They depend on the list and on what is read outside it, so where ten thousand axes ask the
        same, the list is gone through once. What each of them misses itself is put into its result.
        """
        (variable,) = expr.data
        root, path = expr.kids[0].data
        nodes = [node for part in expr.kids[1:] for node in part.walk()]
        if root != "machine" or any(node.op in LOOPS or node.op == "variable" for node in nodes):
            return evaluate
        outside = [
            self.value(node)
            for node in nodes
            if node.op in LEAVES - LITERALS
            and not (node.op in ("fact", "derived") and node.data[0] == variable)
        ]
        owner, name = self.slots[root], f"results of {path} in loop {next(_LOOP_NUMBERS)}"

        def remember(frame: Frame) -> Any:
            items = frame[owner].get(path)
            if items.__class__ is not list or len(items) <= FEW:
                return evaluate(frame)
            values = [each(frame) for each in outside]
            unknown = [fact for value in values if value.__class__ is tuple for fact in value]
            if not all(map(_may_be_kept, values)) or (unknown and path == "axes"):
                return evaluate(frame)
            kept = frame[owner][NOTES].memo.setdefault(name, {})
            key = (*map(_known_or_length, values), *map(unknown.index, unknown))
            if key not in kept:
                kept[key] = (evaluate(frame), unknown)
            found, of_another = kept[key]
            if not unknown or found.__class__ is not tuple:
                return found
            here = dict(zip(of_another, unknown, strict=True))
            return tuple([here.get(fact, fact) for fact in found])

        return remember

    def sorting(self, expr: Expr, parts: Sequence[Expr], slot: int) -> ItemsOf:
        """What sorts the items of a list by what they say themselves; done once per list.

        ``parts`` of the loop are what is asked of them: the filter, and the body.
        """
        (variable,) = expr.data
        path = expr.kids[0].data[1]
        own = [
            self.value(part)
            for part in conjuncts(expr.kids[1])
            if all(_reads_only(node, variable) for node in part.walk())
        ]
        nodes = [node for part in parts for node in _without_defaults(part)]
        reads = [n for n in nodes if n.op in ("fact", "derived") and n.data[0] == variable]
        keys = tuple(dict.fromkeys(n.data[1] for n in reads if n.op == "fact"))
        derived = [self.value(node) for node in reads if node.op == "derived"]
        name = f"items of {path} in loop {next(_LOOP_NUMBERS)}"

        def sorted_items(frame: Frame, owner: int) -> SortedItems:
            record = frame[owner]
            memo = record[NOTES].memo
            found: SortedItems | None = memo.get(name)
            if found is None:
                items: list[Facts] = []
                unsure: list[tuple[int, Facts]] = []
                other_cause: list[Facts] = []
                for frame[slot] in record[path]:
                    if any(passes(frame) is False for passes in own):
                        continue
                    item, values = frame[slot], [each(frame) for each in derived]
                    if (
                        item[NOTES].disputed
                        or not all(_is_exact(item.get(key)) for key in keys)
                        or not all(map(_is_known_exactly, values))
                    ):
                        unsure.append((len(items), item))
                        if any(_has_other_cause(item, key) for key in keys) or any(
                            not value or value.__class__ is not tuple
                            for value in values
                            if not _is_known_exactly(value)
                        ):
                            other_cause.append(item)
                    items.append(item)
                found = memo[name] = SortedItems(items, unsure, other_cause)
            return found

        return sorted_items

    def missing_outside(self, expr: Expr, parts: Sequence[Expr]) -> MissingOutside:
        """What gives the facts that parts of a loop miss outside its list.

        Of items about which everything is known, none can miss any other fact.
        """
        (variable,) = expr.data
        outer = []
        for node in (node for part in parts for node in _without_defaults(part)):
            if _has_default(node):
                if node.kids[0].data[0] != variable:
                    outer.append(self.value(node))
            elif node.op in ("fact", "derived") and node.data[0] == variable:
                continue  # ``sorting`` knows the items of which it is not known
            elif node.op in ("fact", "derived", "local", "setting"):
                outer.append(self.value(node))
            elif not _is_certain(node) or (node.op == "num" and not _is_exact(node.data[0])):
                return _cannot_tell

        def missing(frame: Frame) -> frozenset[str] | None:
            found: set[str] = set()
            for each in outer:
                value = each(frame)
                if value.__class__ is tuple and value:
                    found.update(value)
                elif value.__class__ is tuple or not _is_exact(value):
                    return None
            return frozenset(found)

        return missing

    def on_quantifier(self, expr: Expr) -> Evaluate:
        """What one item settles."""
        deciding = OPERATORS[expr.op].deciding
        loop = self.loop(expr)
        where, body, slot = loop.where, loop.body, loop.slot
        assert body is not None

        def evaluate(frame: Frame) -> Any:
            items, rest_of_list = loop.listed(frame)
            if items.__class__ is tuple:
                return items
            named: Named = {}
            only_facts = True
            likely, every = loop.candidates(frame, items, named)
            for frame[slot] in likely:
                if where(frame) is True and body(frame) is deciding:
                    return deciding
            for frame[slot] in every:
                passes = where(frame)
                if passes is False:
                    continue
                value = body(frame)
                if value is deciding and passes is True:
                    return deciding
                if value is not (not deciding):
                    missing = value if passes is True else passes
                    if not missing:
                        only_facts = False
                    for each in missing:
                        named[each] = None
            return _of_loop(named, rest_of_list, only_facts, not deciding)

        return self.remembered(expr, evaluate)

    def on_aggregate(self, expr: Expr) -> Evaluate:
        """What needs the value of every item."""
        aggregate = OPERATORS[expr.op].aggregate
        assert aggregate is not None
        total = aggregate.total
        loop = self.loop(expr)
        where, body, slot = loop.where, loop.body, loop.slot

        def evaluate(frame: Frame) -> Any:
            items, rest_of_list = loop.listed(frame)
            if items.__class__ is tuple:
                return items
            named: Named = {}
            values = []
            _, every = loop.candidates(frame, items, named)
            for frame[slot] in every:
                passes = where(frame)
                if passes is False:
                    continue
                value = passes if passes is not True else 1 if body is None else body(frame)
                if value.__class__ is tuple:
                    if not value:
                        return OTHER_CAUSE
                    named.update(dict.fromkeys(value))
                values.append(value)
            if named or rest_of_list:
                return _of_loop(named, rest_of_list, True, None)
            result = total(values)
            return OTHER_CAUSE if result is None else result

        return self.remembered(expr, evaluate)

    def on_unique(self, expr: Expr) -> Evaluate:
        """Whether all values differ."""
        loop = self.loop(expr)
        where, body, slot = loop.where, loop.body, loop.slot
        assert body is not None

        def evaluate(frame: Frame) -> Any:
            items, rest_of_list = loop.listed(frame)
            if items.__class__ is tuple:
                return items
            named: Named = {}
            seen = set()
            only_facts = True
            _, every = loop.candidates(frame, items, named)
            for frame[slot] in every:
                passes = where(frame)
                if passes is False:
                    continue
                value = body(frame)
                if value.__class__ is Approx:
                    value = OTHER_CAUSE
                if value.__class__ is tuple or passes.__class__ is tuple:
                    missing = value if passes is True else passes
                    if not missing:
                        only_facts = False
                    for each in missing:
                        named[each] = None
                elif value in seen:
                    return False
                else:
                    seen.add(value)
            return _of_loop(named, rest_of_list, only_facts, True)

        return self.remembered(expr, evaluate)


def _cannot_tell(frame: Frame) -> frozenset[str] | None:
    return None


def _of_loop(named: Named, rest_of_list: Missing, only_facts: bool, known: Any) -> Any:
    """The missing facts: those of the items, then the rest of a partial list; else the value."""
    if not only_facts:
        return OTHER_CAUSE
    if rest_of_list:
        named.update(dict.fromkeys(rest_of_list))
    return tuple(named)[:MAX_LISTED] if named else known


def _has_default(expr: Expr) -> bool:
    """Whether it is `fact default literal`, which is known unless sources dispute the fact."""
    return expr.op == "default" and expr.kids[0].op == "fact" and expr.kids[1].op in LITERALS


def _without_defaults(expr: Expr) -> Iterator[Expr]:
    """The nodes of a tree, without what stands in `fact default literal`."""
    yield expr
    if not _has_default(expr):
        for kid in expr.kids:
            yield from _without_defaults(kid)


def _is_certain(node: Expr) -> bool:
    """Whether a node is known if its operands are known and exact."""
    return node.op in LITERALS or (node.op in OPERATORS and OPERATORS[node.op].certain)


def _reads_only(node: Expr, variable: str) -> bool:
    """Whether a node, apart from its operands, reads nothing but facts of one record."""
    return bool(node.data[0] == variable) if node.op == "fact" else _is_certain(node)


def _has_other_cause(record: Facts, key: str) -> bool:
    """Whether a fact can leave a comparison undecided for another reason than being missing."""
    value = record.get(key)
    if value is None:
        return bool(none_above(record, key))
    return not _is_exact(value)


def _is_known_exactly(value: Any) -> bool:
    """The same of what a function gives: a tuple is what is missing."""
    return value.__class__ is not tuple and _is_exact(value)


def _may_be_kept(value: Any) -> bool:
    """Whether a result can be kept by a value: it is missing, or known exactly and no list."""
    return value.__class__ is tuple or (value.__class__ is not list and _is_exact(value))


def _known_or_length(value: Any) -> Any:
    """A known value; of a missing one, how many facts it misses."""
    return (len(value),) if value.__class__ is tuple else value


def _is_exact(value: Any) -> bool:
    """Whether a value is known, and every comparison with another such value decided."""
    return value is not None and value is not NONE and not isinstance(value, Approx | Pi)
