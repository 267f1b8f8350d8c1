"""What an undecided rule lacks, quickly: the tracing walk's answer where only facts are missing.

A machine file that is being written leaves thousands of checks undecided, nearly all of them for
want of a fact that nobody has stated yet. Here the trees become nested functions, made once per
rule. Each gives its value or, if that is unknown, a tuple: the absolute paths of the facts that
would decide it, in the order and number in which the tracing evaluator (tracer.py) names them. An
empty tuple means that something else than a missing fact is in play, such as a divisor of zero;
then the tracing evaluator must tell. A test holds the two equal.
"""

from __future__ import annotations

import itertools
import operator
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import Any, Final, NamedTuple

from ..base.absence import NONE, none_above
from ..machine.homing_order import HOMES_AFTER, STATED_AS, WAITS_FOR_STRANGER
from ..numbers.quantity import Approx, Pi, div, divides, eq, is_whole
from .budget import metered_as_read
from .helpers import between, capped, extreme, raised, within
from .library import FUNCTIONS
from .matching import conjuncts, equal, equalities, in_order
from .missing_paths import to_state
from .reach import disputed, reach
from .syntax import Definition, Expr, Rule, subjects_of
from .tracer import MAX_LISTED, absolute_path

Record = dict[str, Any]
Frame = list[Any]
"""The records a rule looks at, by number: its subjects, then the items of its loops and its
`let` values."""

Quick = Callable[[Frame], Any]
"""Evaluates a node: its value, or a tuple of missing facts."""

Missing = tuple[str, ...]

UNTOLD: Final[Missing] = ()
"""What makes the value unknown is not, or not only, a missing fact."""


class _Untold(Exception):
    """The tracing evaluator must tell, whatever the value."""


_UNSET: Final = object()
_LOOPS: Final = itertools.count()
"""Gives every loop a number, under which a list's items are kept as it needs them."""
_LITERALS: Final = frozenset({"num", "flag", "text", "name"})
_SIMPLE: Final = _LITERALS | frozenset(
    "fact setting local derived eq lt le gt ge is one_of is_none not and or else".split()
)
"""Of exact and known operands, these know their value."""


class MissingFacts:
    """The rules of one catalogue, each made ready when first asked for."""

    def __init__(
        self, definitions: Mapping[tuple[str, str], Definition], defaults: Mapping[str, Expr]
    ) -> None:
        self.definitions = definitions
        self.defaults = defaults
        self.rules: dict[str, Callable[[Sequence[Record]], Missing]] = {}
        self.derived: dict[tuple[str, str], Callable[[Record], Any]] = {}

    def of(self, rule: Rule) -> Callable[[Sequence[Record]], Missing]:
        """What gives the missing facts of an undecided case from its subjects.

        They come in the order of ``subjects_of``.
        """
        found = self.rules.get(rule.name)
        if found is None:
            found = self.rules[rule.name] = self._rule(rule)
        return found

    def _rule(self, rule: Rule) -> Callable[[Sequence[Record]], Missing]:
        scope = _FactScope(self, subjects_of(rule))
        try:
            when = scope.value(rule.when) if rule.when is not None else None
            for name, expr in rule.lets:
                scope.let(name, expr)
            require = scope.value(rule.require)
        except _Untold:
            return lambda subjects: UNTOLD
        blank = scope.blank()

        def lacks(subjects: Sequence[Record]) -> Missing:
            frame = [*subjects, *blank]
            try:
                lacking = when(frame) if when is not None else True
                if lacking is True:
                    lacking = require(frame)
            except _Untold:
                return UNTOLD
            return lacking if lacking.__class__ is tuple else UNTOLD

        return lacks

    def definition(self, record: str, name: str) -> Callable[[Record], Any]:
        """What evaluates a definition for a record."""
        key = (record, name)
        if key not in self.derived:
            self.derived[key] = self._definition(self.definitions[key])
        return self.derived[key]

    def _definition(self, found: Definition) -> Callable[[Record], Any]:
        on_axis = found.record == "axis"
        scope = _FactScope(self, (found.owner, "machine") if on_axis else (found.owner,))
        body = scope.number(found.expr)
        blank = scope.blank()

        def value(record: Record) -> Any:
            return body([record, record["@machine"], *blank] if on_axis else [record, *blank])

        return value


def _both(first: Any, second: Any) -> Any:
    """What two operands lack, of which one at least is unknown."""
    if first.__class__ is not tuple:
        return second
    if second.__class__ is not tuple or first is second:
        return first
    return tuple(dict.fromkeys(first + second))[:MAX_LISTED] if first and second else UNTOLD


def _union(groups: Iterable[Missing]) -> Missing:
    found: list[str] = []
    for group in groups:
        if not group:
            return UNTOLD
        found += group
    return tuple(dict.fromkeys(found))[:MAX_LISTED]


def _of_parts(parts: Sequence[Any]) -> Missing | None:
    """What a node lacks by its operands; None if all are known."""
    unknown = [part for part in parts if part.__class__ is tuple]
    return _union(unknown) if unknown else None


def _infix(first: Quick, second: Quick, formula: Callable[[Any, Any], Any]) -> Quick:
    def evaluate(frame: Frame) -> Any:
        a, b = first(frame), second(frame)
        if a.__class__ is tuple:
            return _both(a, b) if b.__class__ is tuple else a
        if b.__class__ is tuple:
            return b
        value = formula(a, b)
        return UNTOLD if value is None else value

    return evaluate


def _strict(kids: Sequence[Quick], formula: Callable[..., Any]) -> Quick:
    def evaluate(frame: Frame) -> Any:
        parts = [kid(frame) for kid in kids]
        lacks = _of_parts(parts)
        if lacks is not None:
            return lacks
        value = formula(*parts)
        return UNTOLD if value is None else value

    return evaluate


def _unary(kid: Quick, formula: Callable[[Any], Any]) -> Quick:
    def evaluate(frame: Frame) -> Any:
        value = kid(frame)
        if value.__class__ is tuple:
            return value
        value = formula(value)
        return UNTOLD if value is None else value

    return evaluate


def _decided(kids: Sequence[Quick], deciding: bool) -> Quick:
    """`and` (deciding False) and `or` (deciding True)."""
    other = not deciding

    def evaluate(frame: Frame) -> Any:
        result: Any = other
        for kid in kids:
            value = kid(frame)
            if value is deciding:
                return value
            if value is not other:
                result = value if result is other else _both(result, value)
        return result

    return evaluate


class _FactScope:
    """Makes the functions of one rule or definition, over one frame."""

    def __init__(self, home: MissingFacts, roots: Sequence[str]) -> None:
        self.home = home
        self.slots: dict[str, int] = {name: number for number, name in enumerate(roots)}
        self.lets: dict[str, Quick] = {}
        self.roots = len(roots)
        self.size = len(roots)

    def new(self, name: str) -> int:
        self.slots[name] = self.size
        self.size += 1
        return self.size - 1

    def blank(self) -> list[Any]:
        """The rest of a frame, behind the subjects."""
        return [_UNSET] * (self.size - self.roots)

    def let(self, name: str, expr: Expr) -> None:
        """A `let`, evaluated when first used."""
        body = self.number(expr)
        slot = self.new("let " + name)

        def evaluate(frame: Frame) -> Any:
            value = frame[slot]
            if value is _UNSET:
                value = frame[slot] = body(frame)
            return value

        self.lets[name] = evaluate

    def value(self, expr: Expr) -> Quick:
        method: Callable[[Expr], Quick] | None = getattr(self, "on_" + expr.op, None)
        if method is None:
            raise _Untold
        return method(expr)

    def number(self, expr: Expr) -> Quick:
        """A value to compute with: a fact that is none is unknown, and not for want of a fact."""
        return self.value(expr) if expr.op != "fact" else self.fact(expr, expr.type.kind != "part")

    # leaves

    def on_num(self, expr: Expr) -> Quick:
        value = expr.data[0]
        return lambda frame: value

    on_flag = on_text = on_name = on_num

    def on_fact(self, expr: Expr) -> Quick:
        return self.fact(expr, number=False)

    def fact(self, expr: Expr, number: bool) -> Quick:
        """A fact; what it lacks is kept in the record. ``number``: unknown if it is none."""
        root, path = expr.data
        slot = self.slots[root]
        where = STATED_AS if path in (HOMES_AFTER, WAITS_FOR_STRANGER) else path
        memo = "=lacks " + path

        def lacks(record: Record) -> Missing:
            found: Missing = (absolute_path(record, to_state(record, where)),)
            if none_above(record, path):
                found = UNTOLD
            record[memo] = found
            return found

        def evaluate(frame: Frame) -> Any:
            record = frame[slot]
            value = record.get(path)
            if value is not None:
                return value
            return record.get(memo) or lacks(record)

        def evaluate_number(frame: Frame) -> Any:
            value = evaluate(frame)
            return UNTOLD if value is NONE else value

        return evaluate_number if number and expr.type.nullable else evaluate

    def on_derived(self, expr: Expr) -> Quick:
        """A definition. The generated code keeps its value in the record, this what it lacks."""
        root, name, kind = expr.data
        slot, definition = self.slots[root], self.home.definition(kind, name)
        known, unknown = "=" + name, "=lacks derived " + name

        def evaluate(frame: Frame) -> Any:
            record = frame[slot]
            value = record.get(known)
            if value is None:
                value = record.get(unknown)
                if value is None:
                    value = record[unknown] = definition(record)
            return value

        return evaluate

    def on_local(self, expr: Expr) -> Quick:
        return self.lets[expr.data[0]]

    def on_setting(self, expr: Expr) -> Quick:
        name, root = expr.data
        slot, key = self.slots[root], "@s:" + name
        default = self.home.defaults[name].data[0]
        return lambda frame: frame[slot].get(key, default)

    # arithmetic and comparison

    def numbers(self, expr: Expr) -> list[Quick]:
        return [self.number(kid) for kid in expr.kids]

    def infix(self, expr: Expr, formula: Callable[[Any, Any], Any]) -> Quick:
        return self.of_two(expr, self.numbers(expr), formula)

    def of_two(
        self, expr: Expr, kids: Sequence[Quick], formula: Callable[[Any, Any], Any]
    ) -> Quick:
        """A formula of two operands; a literal need not be evaluated."""
        if expr.kids[1].op in _LITERALS:
            value = expr.kids[1].data[0]
            return _unary(kids[0], lambda first: formula(first, value))
        return _infix(kids[0], kids[1], formula)

    def on_add(self, expr: Expr) -> Quick:
        return self.infix(expr, operator.add)

    def on_sub(self, expr: Expr) -> Quick:
        return self.infix(expr, operator.sub)

    def on_mul(self, expr: Expr) -> Quick:
        return self.infix(expr, operator.mul)

    def on_div(self, expr: Expr) -> Quick:
        return self.infix(expr, div)

    def on_lt(self, expr: Expr) -> Quick:
        return self.infix(expr, operator.lt)

    def on_le(self, expr: Expr) -> Quick:
        return self.infix(expr, operator.le)

    def on_gt(self, expr: Expr) -> Quick:
        return self.infix(expr, operator.gt)

    def on_ge(self, expr: Expr) -> Quick:
        return self.infix(expr, operator.ge)

    def on_eq(self, expr: Expr) -> Quick:
        return self.infix(expr, eq)

    def on_divides(self, expr: Expr) -> Quick:
        return self.infix(expr, divides)

    def on_neg(self, expr: Expr) -> Quick:
        return _unary(self.number(expr.kids[0]), operator.neg)

    def on_pow(self, expr: Expr) -> Quick:
        exponent = expr.data[0]
        return _unary(self.number(expr.kids[0]), lambda value: raised(value, exponent))

    def on_is_whole(self, expr: Expr) -> Quick:
        return _unary(self.number(expr.kids[0]), is_whole)

    def on_within(self, expr: Expr) -> Quick:
        return _strict(self.numbers(expr), within)

    def on_between(self, expr: Expr) -> Quick:
        return _strict(self.numbers(expr), between)

    def on_call(self, expr: Expr) -> Quick:
        return _strict(self.numbers(expr), FUNCTIONS[expr.data[0]].call)

    def on_decimals(self, expr: Expr) -> Quick:
        root, path = expr.kids[0].data
        slot, key = self.slots[root], path + "#decimals"
        number = self.number(expr.kids[0])

        def evaluate(frame: Frame) -> Any:
            value = number(frame)
            return value if value.__class__ is tuple else frame[slot].get(key, 0)

        return evaluate

    # words

    def on_is(self, expr: Expr) -> Quick:
        if expr.kids[1].op in _LITERALS:
            return self.is_word(expr.kids[0], expr.kids[1].data[0])
        return _infix(self.value(expr.kids[0]), self.value(expr.kids[1]), operator.eq)

    def is_word(self, expr: Expr, word: Any) -> Quick:
        """Whether something is a word: the commonest question of all."""
        kid = self.value(expr)

        def evaluate(frame: Frame) -> Any:
            value = kid(frame)
            return value if value.__class__ is tuple else value == word

        return evaluate

    def on_one_of(self, expr: Expr) -> Quick:
        words = [kid.data[0] for kid in expr.kids[1:]]
        return _unary(self.value(expr.kids[0]), lambda value: value in words)

    def on_is_none(self, expr: Expr) -> Quick:
        return _unary(self.value(expr.kids[0]), lambda value: value is NONE)

    def on_not(self, expr: Expr) -> Quick:
        return _unary(self.value(expr.kids[0]), operator.not_)

    def operands(self, expr: Expr, op: str) -> Iterator[Quick]:
        """The operands of a chain of one operator."""
        for kid in expr.kids:
            if kid.op == op:
                yield from self.operands(kid, op)
            else:
                yield self.value(kid)

    def on_and(self, expr: Expr) -> Quick:
        return _decided([*self.operands(expr, "and")], False)

    def on_or(self, expr: Expr) -> Quick:
        return _decided([*self.operands(expr, "or")], True)

    def on_else(self, expr: Expr) -> Quick:
        first, second = self.numbers(expr)
        paths: dict[int, list[str]] = {}
        for root, path in reach(expr.kids[0], self.home.definitions):
            if root in self.slots:
                paths.setdefault(self.slots[root], []).append(path)
        read = [(slot, tuple(found)) for slot, found in paths.items()]

        def evaluate(frame: Frame) -> Any:
            a = first(frame)
            if a.__class__ is not tuple:
                return a
            for slot, found in read:
                if disputed(frame[slot], found):
                    return a
            b = second(frame)
            if b.__class__ is not tuple:
                return b
            if not a or not b:
                return UNTOLD
            return b if len(b) < len(a) else a

        return evaluate

    def on_choose(self, expr: Expr) -> Quick:
        condition = self.value(expr.kids[0])
        yes, no = self.number(expr.kids[1]), self.number(expr.kids[2])

        def evaluate(frame: Frame) -> Any:
            applies = condition(frame)
            if applies.__class__ is tuple:
                return applies
            return yes(frame) if applies else no(frame)

        return evaluate

    # lists

    def on_includes(self, expr: Expr) -> Quick:
        listed, wanted = self.listed(expr.kids[0]), self.value(expr.kids[1])
        plain = expr.kids[1].op in _LITERALS or expr.kids[1].op == "fact"

        def evaluate(frame: Frame) -> Any:
            items, whole = listed(frame)
            if items.__class__ is tuple:
                return items
            item = wanted(frame)
            unknown = item.__class__ is tuple
            if unknown and not plain:
                raise _Untold  # a divisor of zero in it is told even where the answer is no
            if not unknown and item in items:
                return True
            if whole:
                return _both(whole, item)
            return item if unknown and items else False

        return evaluate

    def listed(self, expr: Expr) -> Callable[[Frame], tuple[Any, Missing]]:
        """A list, with what it lacks itself if it is partial."""
        root, path = expr.data
        slot, key = self.slots[root], path + "#partial"
        where = STATED_AS if path in (HOMES_AFTER, WAITS_FOR_STRANGER) else path
        items = self.value(expr)

        def evaluate(frame: Frame) -> tuple[Any, Missing]:
            record = frame[slot]
            if not record.get(key):
                return items(frame), ()
            base = record.get("@path", "")
            return items(frame), (f"{base}.{where} (the whole list)".removeprefix("."),)

        return evaluate

    def loop(self, expr: Expr) -> _Loop:
        """The parts of a loop."""
        (variable,) = expr.data
        root, path = expr.kids[0].data
        listed, owner = self.listed(expr.kids[0]), self.slots[root]
        looked_up = [
            (condition is expr.kids[1], key, self.value(other))
            for condition in (expr.kids[1:] if expr.op == "some" else expr.kids[1:2])
            for _, key, other in equalities(expr, condition)
        ]
        filters = any(of_filter for of_filter, _, _ in looked_up)
        settles = first = self.settling(expr, expr.kids[1:]) if looked_up else lambda frame: None
        if filters:
            first = self.settling(expr, expr.kids[1:2])
        slot = self.new(variable)
        where, *bodies = [self.value(expr.kids[1]), *map(self.number, expr.kids[2:])]
        kept = asked_first = self.keeping(expr, expr.kids[1:], slot)
        if filters:
            asked_first = self.keeping(expr, expr.kids[1:2], slot)
        del self.slots[variable]

        def candidates(
            frame: Frame, items: list[Record], lacking: dict[str, None]
        ) -> tuple[Iterable[Record], Iterable[Record]]:
            if not looked_up:
                return (), items

            def odd() -> Iterable[Record] | None:
                return kept(frame, owner).odd if settles(frame) is not None else None

            record = frame[owner]
            passes = True
            for of_filter, key, other in looked_up:
                sought = other(frame)
                if sought.__class__ is tuple or not _is_plain(sought):
                    passes = passes and not of_filter
                    continue
                likely = equal(record, path, key, sought)
                rest = in_order(record, path, key, sought)
                if not passes:
                    most = first(frame)
                    if most:
                        rest = _settled(rest, asked_first(frame, owner), most, lacking)
                    return likely, rest
                return likely, rest if expr.op == "unique" else _few(rest, lacking, odd)
            most = first(frame)
            found = asked_first(frame, owner)
            return (), _until(found, most, lacking) if most else found.items

        steps = sum(1 for kid in expr.kids[1:] for _ in kid.walk())

        def metered(
            frame: Frame, items: list[Record], lacking: dict[str, None]
        ) -> tuple[Iterable[Record], Iterable[Record]]:
            likely, every = candidates(frame, items, lacking)
            return likely, metered_as_read(every, steps)

        ready = metered if root == "machine" else candidates
        return _Loop(listed, ready, slot, where, bodies[0] if bodies else None)

    def keeping(
        self, expr: Expr, parts: Sequence[Expr], slot: int
    ) -> Callable[[Frame, int], _Kept]:
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
        facts = [node for part in parts for node in _asked(part) if node.op == "fact"]
        keys = tuple(dict.fromkeys(n.data[1] for n in facts if n.data[0] == variable))
        memo = f"=items of {path} in loop {next(_LOOPS)}"

        def kept(frame: Frame, owner: int) -> _Kept:
            record = frame[owner]
            found: _Kept | None = record.get(memo)
            if found is None:
                items = []
                for frame[slot] in record[path]:
                    if all(passes(frame) is not False for passes in own):
                        items.append(frame[slot])
                unsure = [
                    (number, item)
                    for number, item in enumerate(items)
                    if "#disputed" in item or not all(_is_plain(item.get(key)) for key in keys)
                ]
                odd = [item for _, item in unsure if any(_is_odd(item, key) for key in keys)]
                found = record[memo] = _Kept(items, unsure, odd)
            return found

        return kept

    def settling(
        self, expr: Expr, parts: Sequence[Expr]
    ) -> Callable[[Frame], frozenset[str] | None]:
        """What all that parts of a loop read outside its list lacks; None where more is in play.

        Of items about which everything is known, none can lack anything else.
        """
        (variable,) = expr.data
        nodes = [node for part in parts for node in _asked(part)]
        outer = []
        for node in nodes:
            if _has_default(node):
                if node.kids[0].data[0] != variable:
                    outer.append(self.value(node))
                continue
            if node.op not in _SIMPLE:
                return lambda frame: None
            if node.op in ("fact", "derived") and node.data[0] == variable:
                if node.op == "derived":
                    return lambda frame: None
            elif node.op in ("fact", "derived", "local", "setting"):
                outer.append(self.value(node))
            elif node.op == "num" and not _is_plain(node.data[0]):
                return lambda frame: None

        def lacks(frame: Frame) -> frozenset[str] | None:
            found: set[str] = set()
            for each in outer:
                value = each(frame)
                if value.__class__ is tuple and value:
                    found.update(value)
                elif value.__class__ is tuple or not _is_plain(value):
                    return None
            return frozenset(found)

        return lacks

    def quantified(self, expr: Expr, deciding: bool) -> Quick:
        """`every` (deciding False) and `some` (deciding True)."""
        loop = self.loop(expr)
        where, body, slot = loop.where, loop.body, loop.slot
        assert body is not None

        def evaluate(frame: Frame) -> Any:
            items, whole = loop.listed(frame)
            if items.__class__ is tuple:
                return items
            lacking: dict[str, None] = {}
            told = True
            likely, all_ = loop.candidates(frame, items, lacking)
            for frame[slot] in likely:
                if where(frame) is True and body(frame) is deciding:
                    return deciding
            for frame[slot] in all_:
                passes = where(frame)
                if passes is False:
                    continue
                value = body(frame)
                if value is deciding and passes is True:
                    return deciding
                if value is not (not deciding):
                    lacks = value if passes is True else passes
                    if not lacks:
                        told = False
                    for each in lacks:
                        lacking[each] = None
            return _summed_up(lacking, whole, told, not deciding)

        return evaluate

    def on_every(self, expr: Expr) -> Quick:
        return self.quantified(expr, False)

    def on_some(self, expr: Expr) -> Quick:
        return self.quantified(expr, True)

    def gathered(self, expr: Expr, combine: Callable[[list[Any]], Any]) -> Quick:
        loop = self.loop(expr)
        where, body, slot = loop.where, loop.body, loop.slot

        def evaluate(frame: Frame) -> Any:
            items, whole = loop.listed(frame)
            if items.__class__ is tuple:
                return items
            lacking: dict[str, None] = {}
            values = []
            _, all_ = loop.candidates(frame, items, lacking)
            for frame[slot] in all_:
                passes = where(frame)
                if passes is False:
                    continue
                value = passes if passes is not True else 1 if body is None else body(frame)
                if value.__class__ is tuple:
                    if not value:
                        return UNTOLD
                    lacking.update(dict.fromkeys(value))
                values.append(value)
            if lacking or whole:
                return _summed_up(lacking, whole, True, None)
            total = combine(values)
            return UNTOLD if total is None else total

        return evaluate

    def on_count(self, expr: Expr) -> Quick:
        return self.gathered(expr, sum)

    def on_sum(self, expr: Expr) -> Quick:
        return self.gathered(expr, lambda values: _folded(operator.add, 0, values))

    def on_product(self, expr: Expr) -> Quick:
        return self.gathered(expr, lambda values: _folded(operator.mul, 1, values))

    def on_max(self, expr: Expr) -> Quick:
        return self.gathered(expr, lambda values: extreme(values, True))

    def on_min(self, expr: Expr) -> Quick:
        return self.gathered(expr, lambda values: extreme(values, False))

    def on_unique(self, expr: Expr) -> Quick:
        loop = self.loop(expr)
        where, body, slot = loop.where, loop.body, loop.slot
        assert body is not None

        def evaluate(frame: Frame) -> Any:
            items, whole = loop.listed(frame)
            if items.__class__ is tuple:
                return items
            lacking: dict[str, None] = {}
            seen = set()
            told = True
            _, all_ = loop.candidates(frame, items, lacking)
            for frame[slot] in all_:
                passes = where(frame)
                if passes is False:
                    continue
                value = body(frame)
                if value.__class__ is Approx:
                    value = UNTOLD
                if value.__class__ is tuple or passes.__class__ is tuple:
                    lacks = value if passes is True else passes
                    if not lacks:
                        told = False
                    for each in lacks:
                        lacking[each] = None
                elif value in seen:
                    return False
                else:
                    seen.add(value)
            return _summed_up(lacking, whole, told, True)

        return evaluate


class _Loop(NamedTuple):
    """The parts of a loop.

    ``listed`` gives its list. ``candidates`` gives those items of it that are likely to decide, and
    all that may matter, in order; its dict is filled, while these are walked, with what they lack.
    Each is put into the frame at ``slot`` and asked for its filter and its body (None to count).
    """

    listed: Callable[[Frame], tuple[Any, Missing]]
    candidates: Callable[
        [Frame, list[Record], dict[str, None]], tuple[Iterable[Record], Iterable[Record]]
    ]
    slot: int
    where: Quick
    body: Quick | None


def _summed_up(lacking: dict[str, None], whole: Missing, told: bool, known: Any) -> Any:
    """What a loop lacks: what its items do, then the rest of a partial list; else its value."""
    if not told:
        return UNTOLD
    if whole:
        lacking.update(dict.fromkeys(whole))
    return tuple(lacking)[:MAX_LISTED] if lacking else known


class _Kept(NamedTuple):
    """The items of a list that pass what a filter asks of them alone, or may do so.

    ``unsure`` are those, with their number, of which one fact is not known or not exact; ``odd``
    those that can be undecided for another reason than a missing fact.
    """

    items: list[Record]
    unsure: list[tuple[int, Record]]
    odd: list[Record]


def _until(kept: _Kept, most: frozenset[str], lacking: dict[str, None]) -> Iterator[Record]:
    """The items until they lack ``most``; after that only those about which not all is known.

    Once they lack more than is listed, only those that may do otherwise.
    """
    last = -1
    for last, item in enumerate(kept.items):  # noqa: B007
        yield item
        if most <= lacking.keys() or len(lacking) >= MAX_LISTED:
            break
    for number, item in kept.unsure:
        if len(lacking) >= MAX_LISTED:
            yield from kept.odd
            return
        if number > last:
            yield item


def _settled(
    items: Iterator[Record], kept: _Kept, most: frozenset[str], lacking: dict[str, None]
) -> Iterator[Record]:
    """The items until they lack ``most``; after that those left only if one can lack more."""
    for item in items:
        yield item
        if most <= lacking.keys():
            break
    if kept.unsure:
        yield from items


def _few(
    items: Iterator[Record],
    lacking: dict[str, None],
    odd: Callable[[], Iterable[Record] | None],
) -> Iterator[Record]:
    """The items until they lack more than is listed; after that only those that may do otherwise.

    ``odd`` gives these, or None if that cannot be told.
    """
    for item in items:
        yield item
        if len(lacking) >= MAX_LISTED:
            found = odd()
            yield from items if found is None else found
            return


def _has_default(expr: Expr) -> bool:
    """Whether it is `fact else literal`, which is known unless sources dispute the fact."""
    return expr.op == "else" and expr.kids[0].op == "fact" and expr.kids[1].op in _LITERALS


def _asked(expr: Expr) -> Iterator[Expr]:
    """The nodes of a tree, without what stands in `fact else literal`."""
    yield expr
    if not _has_default(expr):
        for kid in expr.kids:
            yield from _asked(kid)


def _reads_only(node: Expr, variable: str) -> bool:
    """Whether a node, apart from its operands, reads nothing but facts of one record."""
    if node.op == "fact":
        return bool(node.data[0] == variable)
    return node.op in _SIMPLE and node.op not in ("derived", "local", "setting")


def _is_odd(record: Record, key: str) -> bool:
    """Whether a fact can leave a comparison undecided for another reason than being missing."""
    value = record.get(key)
    if value is None:
        return bool(none_above(record, key))
    return not _is_plain(value)


def _is_plain(value: Any) -> bool:
    """Whether a value is known, and every comparison with another such value decided."""
    return value is not None and value is not NONE and not isinstance(value, Approx | Pi)


def _folded(step: Callable[[Any, Any], Any], total: Any, values: list[Any]) -> Any:
    for value in values:
        total = capped(step(total, value))
        if total is None:
            return None
    return total
