"""What a rule ranges over: its subject, items of lists, groups, and what it joins to them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from .expression_checker import ExpressionChecker
from .groups import GROUP
from .rule_file import RawEach, RawJoin, RuleFile, Word
from .scope import Scope
from .syntax import (
    FLAG,
    NOWHERE,
    SUBJECTS,
    Expr,
    Hole,
    Join,
    Key,
    Range,
    Template,
    Type,
)

_ORDER = "unordered, directed by AXIS.FACT is WORD, or directed by a fact that names the other"
_WITHOUT = 'without skips, without skips RULE-THAT-TELLS-IT or without fails "…"'


_READING = ("fact", "derived", "setting", "variable")
"""Nodes that read something of a variable."""


@dataclass(frozen=True, slots=True)
class Subject:
    """What a rule looks at, and the names this gives.

    ``told_by`` is the rule that tells where nothing matches.
    """

    name: str
    range: Range | None
    scope: Scope
    told_by: Word | None = None

    @property
    def direction(self) -> Expr | None:
        """What is true of one way of a directed pair alone."""
        directed = self.range.directed if self.range else None
        return directed if directed is not None and directed.op == "is" else None

    def condition(self, when: Expr | None) -> Expr | None:
        """The condition of the rule, with that of its direction before it."""
        if when is None or self.direction is None:
            return when or self.direction
        return Expr("and", (self.direction, when), (), when.at, FLAG)


class SubjectChecker:
    """Checks what stands behind `each`."""

    def __init__(self, expressions: ExpressionChecker) -> None:
        self.expressions = expressions

    def subject(self, file: RuleFile, raw: RawEach) -> Subject:
        """What a rule ranges over. Raises RuleError for what it cannot."""
        name, at = raw.subject
        plain = raw.item is None and raw.listed is None
        if raw.item is not None and name != GROUP:
            raise file.error(at, f"{name} of", f"each {GROUP} of NAME in LIST by FACT, FACT")
        if plain and name not in SUBJECTS:
            what = f"{name} is not a subject"
            raise file.error(at, what, f"one of {', '.join(SUBJECTS)}, or NAME in machine.LIST")
        base = name if plain else "machine"
        variables = {
            variable: Type("record", record=record, owner=variable)
            for variable, record in SUBJECTS[base].items()
        }
        scope = Scope(file, variables)
        item, listed, scope = ("", "", scope) if plain else self.item(raw, scope)
        keys = self.group_keys(raw, item, scope)
        joins = []
        for each in raw.joins:
            if base not in ("axis", "machine") or (plain and base == "machine") or keys:
                raise file.error(
                    at, f"a pair of {name} and {each.name[0]}", "each axis with NAME …"
                )
            join, scope = self.join(each, scope)
            joins.append(join)
        if plain and not joins:
            if raw.order or raw.without or keys:
                raise file.error(at, f"{name} alone has no partner", "each axis with NAME where …")
            return Subject(name, None, scope)
        unordered, directed = self.order(raw, joins, scope)
        wanted = bool(joins) and not (unordered and base == "axis")
        text = self.without(raw, wanted, joins, scope)
        if keys:
            members = Type("list", item=replace(scope.variables[item], owner=""))
            scope = replace(scope, variables={**scope.variables, GROUP: members})
        at = raw.without[0][1] if raw.without else NOWHERE
        found = Range(item, listed, keys, tuple(joins), unordered, directed, text, at)
        return Subject(base, found, scope, raw.without[1] if raw.without else None)

    def item(self, raw: RawEach, scope: Scope) -> tuple[str, str, Scope]:
        """The name of an item and the list it stands in."""
        name, at = raw.item or raw.subject
        listed = raw.listed or ("machine.axes", at)
        scope, path = self.with_item((name, at), listed, scope)
        return name, path, scope

    def with_item(self, name: Word, listed: Word, scope: Scope) -> tuple[Scope, str]:
        """The scope with an item of a list of the machine, and the path of the list."""
        word, at = name
        found = self.expressions.expr(Expr("path", (), (listed[0],), listed[1]), scope)
        item = found.type.item
        if (
            found.op != "fact"
            or found.data[0] != "machine"
            or item is None
            or item.kind != "record"
        ):
            raise scope.file.error(listed[1], f"{listed[0]} has no items", "a list of the machine")
        self.expressions.names.new_name(scope.file, word, at)
        if word in scope.variables or word == GROUP:
            raise scope.file.error(at, f"{word} means something already", "another name")
        type_ = replace(item, owner=word)
        return replace(scope, variables={**scope.variables, word: type_}), found.data[1]

    def group_keys(self, raw: RawEach, item: str, scope: Scope) -> tuple[Key, ...]:
        """The facts that the members of a group share."""
        if (raw.item is None) != (not raw.keys):
            at = raw.keys[0][1] if raw.keys else raw.subject[1]
            raise scope.file.error(
                at, "a group and its keys go together", "each group of NAME by FACT"
            )
        return tuple(self.key(word, item, scope)[0] for word in raw.keys)

    def join(self, raw: RawJoin, scope: Scope) -> tuple[Join, Scope]:
        """The items that a `with` finds."""
        name, listed = raw.name[0], raw.listed or ("machine.axes", raw.name[1])
        inner, path = self.with_item(raw.name, listed, scope)
        keys = []
        for sides in raw.keys:
            first, second = sides[::-1] if sides[0][0].startswith(name + ".") else sides
            known = first[0].partition(".")[0]
            if known not in scope.variables or known == "machine":
                known = next(iter(scope.variables))
            other, other_type = self.key(first, known, inner)
            own, own_type = self.key(second, name, inner)
            if own_type.kind != other_type.kind or own_type.dim != other_type.dim:
                what = f"{first[0]} and {second[0]} are of different kinds"
                raise scope.file.error(second[1], what)
            keys.append((other, own))
        return Join(name, path, tuple(keys)), inner

    def key(self, word: Word, variable: str, scope: Scope) -> tuple[Key, Type]:
        """One side of an equality: a fact or a definition of a variable."""
        path, at = word
        expr = self.expressions.expr(Expr("path", (), (path,), at), scope)
        if expr.op not in ("fact", "derived") or expr.data[0] != variable:
            expected = f"a fact of {variable} to match on"
            raise scope.file.error(at, f"{path} is no fact of {variable}", expected)
        if expr.type.kind not in ("text", "name", "number") or expr.type.approx:
            raise scope.file.error(at, f"{path} cannot be matched on", "a word, text or number")
        path, record = (*expr.data[1:], "")[:2]
        return Key(variable, path, record, at), expr.type

    def order(
        self, raw: RawEach, joins: list[Join], scope: Scope
    ) -> tuple[tuple[str, ...], Expr | None]:
        """The two axes of an unordered pair, or what is true of one way of a directed one."""
        axes = tuple(name for name, each in scope.variables.items() if each.record == "axis")
        at = raw.order[0] if raw.order else raw.subject[1]
        if not joins or len(axes) != 2:
            if raw.order or (joins and len(axes) > 2):
                raise scope.file.error(at, f"this has {len(axes)} axes to put in order", "two")
            return (), None
        if raw.order is None:
            raise scope.file.error(at, "a pair does not say whether it has an order", _ORDER)
        _, words = raw.order
        if not words:
            return axes, None
        (path, path_at), *word = words
        if not word:
            named = {
                f"{key.variable}.{key.path}"
                for join in joins
                for both in join.keys
                for key in both
                if both[0].path != both[1].path
            }
            if path not in named or path.endswith(".name"):
                raise scope.file.error(path_at, f"{path} names no axis of the pair", _ORDER)
            variable, _, fact = path.partition(".")
            return (), Key(variable, fact, "", path_at).expr()
        asked_of, value = (Expr("path", (), (each,), place) for each, place in words)
        checked = self.expressions.condition(
            Expr("is", (asked_of, value), (), path_at.to(value.at)), scope
        )
        if checked.kids[0].op != "fact" or checked.kids[0].data[0] not in axes:
            raise scope.file.error(path_at, f"{path} is no fact of {' or '.join(axes)}", _ORDER)
        return (), checked

    def without(self, raw: RawEach, wanted: bool, joins: list[Join], scope: Scope) -> Template:
        """What is said where nothing matches."""
        if raw.without is None:
            if wanted:
                what = "what becomes of one that nothing matches is not said"
                raise scope.file.error(raw.joins[0].name[1], what, _WITHOUT)
            return ()
        (outcome, at), _, text = raw.without
        if not wanted:
            raise scope.file.error(at, "nothing has to match here", "no without")
        if (outcome, text is None) not in (("skips", True), ("fails", False)):
            raise scope.file.error(at, f"without {outcome}", _WITHOUT)
        names = {join.variable for join in joins}
        outer = {name: each for name, each in scope.variables.items() if name not in names}
        return self.expressions.template(text or (), replace(scope, variables=outer))


def refuse_absent(
    file: RuleFile, texts: Iterable[Template], when: Expr | None, found: Range
) -> None:
    """Refuse what is not known of one that nothing matches. Raises RuleError at its place.

    Its finding shows nothing of what would match, and its rule applies whatever that were.
    """
    absent = {join.variable for join in found.joins}
    holes = [part.expr for text in texts for part in text if isinstance(part, Hole)]
    for expr in (*holes, *([] if when is None else [when])):
        for node in expr.walk():
            read = node.data[1] if node.op == "setting" else next(iter(node.data), None)
            if node.op == "local" or (node.op in _READING and read in absent):
                what = "this is not known where nothing matches"
                raise file.error(node.at, what, "it in require or say alone, or without skips")


def refuse_unshared(file: RuleFile, exprs: Iterable[Expr], found: Range) -> None:
    """Refuse a fact of a group's items that they may differ in. Raises RuleError at its place."""
    shared = {key.path for key in found.keys}
    for expr in exprs:
        for node in expr.walk():
            if node.op not in ("fact", "derived") or node.data[0] != found.item:
                continue
            if node.data[1] not in shared:
                what = f"{found.item}.{node.data[1]} may differ within a group"
                raise file.error(node.at, what, f"all of x.{node.data[1]} for x in {GROUP}")
