"""What operators ask of texts, words and lists of words."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType
from typing import Final

from ..machine.schema import Leaf, ListType
from .expression_checker import CheckOperands, ExpressionChecker
from .scope import Scope
from .syntax import FLAG, METHOD, Expr, Type
from .wording import PART_ASKED, kind_phrase

_PATTERN_TESTS: Final[Mapping[str, Sequence[str]]] = {
    "is": ("{}",),
    "begins_with": ("{}", "{}a"),
    "ends_with": ("{}", "a{}"),
    "contains": ("{}", "a{}", "{}a", "a{}a"),
}
"""Texts of which one must be permitted, if a text with a part in that place is ever permitted."""


_NOT_STATED: Final = frozenset(
    (
        "absent",
        "given",
        "missing",
        "nil",
        "null",
        "present",
        "set",
        "stated",
        "undefined",
        "unknown",
    )
)
"""Words by which people ask whether a fact is there."""

_IF_NOT_STATED: Final = (
    "is none where it is known to be absent. If nobody stated it, the check cannot be decided"
)


def check_alike(checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None) -> Expr:
    """Words, texts, flags or homing methods."""
    left = checker.expr(raw.kids[0], scope)
    if left.type.kind not in ("name", "text", "flag", "method"):
        asked = raw.kids[1]
        word = asked.data[0] if asked.op == "path" else ""
        if word in _NOT_STATED and left.type.kind != "part":
            raise scope.file.error(asked.at, f"{word} is not asked of a fact", _IF_NOT_STATED)
        expected = "a word, a text or a flag. = for numbers and dates"
        raise scope.file.error(
            left.at,
            f"{kind_phrase(left.type)} before is",
            PART_ASKED if left.type.kind == "part" else expected,
        )
    if raw.kids[1].op == "or":
        either = [scope.file.written(each.at) for each in (left, *raw.kids[1].kids)]
        raise scope.file.error(
            raw.kids[1].at,
            "or stands between whole conditions",
            f"{either[0]} is one of [{', '.join(either[1:])}]",
        )
    right = checker.operand_like(raw.kids[1], left, scope)
    if left.type.kind == "method" and right.type.kind == "number" and right.op == "num":
        right = replace(right, type=METHOD)
    checker.same(scope, right, left.type, "the left side is")
    if left.type.kind == "name" and not set(left.type.names) & set(right.type.names):
        raise scope.file.error(right.at, "the two sides have no word in common")
    for text, other in ((right, left), (left, right)):
        _refuse_pattern(checker, text, other, "is", scope)
    return replace(raw, kids=(left, right), type=FLAG)


def check_texts(checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None) -> Expr:
    """A text, and the part of it that is looked for."""
    words = raw.op.replace("_", " ")
    left = checker.expr(raw.kids[0], scope)
    if left.type.kind != "text":
        hint = "a text"
        if left.type.kind == "name":
            hint = "is one of [" + ", ".join(left.type.names[:2]) + "]: it is a word of the schema"
        if left.type.kind == "list":
            hint = "LIST includes WORD, or any of LIST in [a, b]"
        raise scope.file.error(left.at, f"{kind_phrase(left.type)} before {words}", hint)
    right = checker.expr(raw.kids[1], scope)
    checker.same(scope, right, left.type, "the left side is")
    if right.op == "text" and not right.data[0]:
        raise scope.file.error(right.at, "every text holds the empty text", "one letter at least")
    if left.op == "text" and right.op == "text":
        raise scope.file.error(raw.at, "this is the same on every machine", "a fact that is a text")
    _refuse_pattern(checker, right, left, raw.op, scope)
    return replace(raw, kids=(left, right), type=FLAG)


def _refuse_pattern(
    checker: ExpressionChecker, text: Expr, of: Expr, op: str, scope: Scope
) -> None:
    """Refuse a text that no value of the other side can match as ``op`` asks."""
    if text.op != "text":
        return
    written: str = text.data[0]
    if "*" in written and not (op == "contains" and written == "*"):
        what = f'"{written}" is compared letter by letter, so its * matches nothing but a *'
        raise scope.file.error(text.at, what, _with_words(written))
    if of.op != "fact" or of.data[0] not in scope.variables:
        return
    pattern = _permitted(checker, scope.variables[of.data[0]].record, of.data[1])
    if pattern and not any(re.search(pattern, test.format(written)) for test in _PATTERN_TESTS[op]):
        where = {"is": "is ever", "begins_with": "ever begins with", "ends_with": "ever ends with"}
        verb = where.get(op, "ever contains")
        what = f'no {of.data[1].rpartition(".")[2]} {verb} "{written}"'
        raise scope.file.error(text.at, what, "a text that the schema permits")


def _permitted(checker: ExpressionChecker, record: str, path: str) -> str:
    """The pattern of the texts that a fact or the items of a list may hold; empty for any text."""
    records = checker.names.record_types.records
    if (record, path) == ("axis", "name"):  # a key of the file; who names an axis has its pattern
        path = "gantry.partner"
    type_ = records[record][path].type if path in records[record] else None
    leaf = type_.item if isinstance(type_, ListType) else type_
    return leaf.pattern if isinstance(leaf, Leaf) else ""


def _with_words(written: str) -> str:
    """What to write instead of a text with * for any letters."""
    start, *_, end = written.split("*")
    parts = [part for part in written.split("*") if part]
    if len(parts) == 1 and start:
        return f'begins with "{start}"'
    if len(parts) == 1 and end:
        return f'ends with "{end}"'
    if len(parts) == 2 and start and end:
        return f'begins with "{start}", and ends with "{end}"'
    return f'contains "{max(parts, key=len)}"' if parts else "no condition: every text matches"


def check_one_of(checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None) -> Expr:
    """A word or text, and a list of fixed ones."""
    left = checker.expr(raw.kids[0], scope)
    if left.type.kind not in ("name", "text", "method"):
        raise scope.file.error(
            left.at,
            f"{kind_phrase(left.type)} before is one of",
            "a = b or a = c, or a between b and c"
            if left.type.kind == "number"
            else "a word or a text",
        )
    items = _fixed_words(checker, raw.kids[1:], left, "the left side is", scope)
    return replace(raw, kids=(left, *items), type=FLAG)


def _fixed_words(
    checker: ExpressionChecker, raw: Sequence[Expr], like: Expr, words: str, scope: Scope
) -> tuple[Expr, ...]:
    """Words in brackets, each of the kind of ``like``."""
    items: list[Expr] = []
    for kid in raw:
        item = checker.operand_like(kid, like, scope)
        if like.type.kind == "method" and item.op == "num":
            item = replace(item, type=METHOD)
        if item.op not in ("name", "num", "text"):
            raise scope.file.error(item.at, "this is not a fixed word", "words, texts or numbers")
        checker.same(scope, item, like.type, words)
        _refuse_pattern(checker, item, like, "is", scope)
        if any(item.data[0] == known.data[0] for known in items):
            raise scope.file.error(item.at, f"{item.data[0]} stands here twice", "once")
        items.append(item)
    return tuple(items)


def check_included(checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None) -> Expr:
    """A list of words or numbers, and one of these."""
    left = _word_list(checker, raw.kids[0], "before includes", scope)
    item = left.type.item
    assert item is not None
    right = checker.operand_like(raw.kids[1], Expr("item", type=item), scope)
    if item.kind == "method" and right.op == "num":
        right = replace(right, type=METHOD)
    checker.same(scope, right, item, "the list holds")
    _refuse_pattern(checker, right, left, "is", scope)
    return replace(raw, kids=(left, right), type=FLAG)


def _word_list(checker: ExpressionChecker, raw: Expr, where: str, scope: Scope) -> Expr:
    expr = checker.expr(raw, scope)
    item = expr.type.item
    if expr.op != "fact" or item is None or item.kind == "record":
        raise scope.file.error(
            expr.at, f"{kind_phrase(expr.type)} {where}", "a list of words or numbers"
        )
    return expr


def check_sets(checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None) -> Expr:
    """Two lists of words, of which one may stand in brackets."""
    words = raw.op.replace("_", " ")
    listed = {
        number: _word_list(checker, kid, f"after {'in' if number else words}", scope)
        for number, kid in enumerate(raw.kids)
        if kid.op != "set"
    }
    if not listed:
        raise scope.file.error(raw.at, "this is the same on every machine", "a list of the machine")
    first, *others = listed.values()
    item = first.type.item
    assert item is not None
    for other in others:
        other_item = other.type.item
        assert other_item is not None
        if item.kind != other_item.kind or (
            item.kind == "name" and not set(item.names) & set(other_item.names)
        ):
            raise scope.file.error(other.at, "the two lists have no word in common")
    kids = (
        listed[number] if number in listed else _set(checker, kid, item, scope)
        for number, kid in enumerate(raw.kids)
    )
    return replace(raw, kids=tuple(kids), type=FLAG)


def _set(checker: ExpressionChecker, raw: Expr, item: Type, scope: Scope) -> Expr:
    """Words in brackets as one value."""
    items = _fixed_words(checker, raw.kids, Expr("item", type=item), "the list holds", scope)
    data = (tuple(each.data[0] for each in items),)
    return replace(raw, kids=(), data=data, type=Type("list", item=item))


def check_emptied(checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None) -> Expr:
    """A list."""
    kid = checker.expr(raw.kids[0], scope)
    if kid.op != "fact" or kid.type.kind != "list":
        expected = PART_ASKED if kid.type.kind == "part" else "a list"
        raise scope.file.error(kid.at, f"{kind_phrase(kid.type)} before is empty", expected)
    return replace(raw, kids=(kid,), type=FLAG)


def check_stated(checker: ExpressionChecker, raw: Expr, scope: Scope, want: Type | None) -> Expr:
    """A fact, as a whole requirement of a rule that asks for documentation."""
    if not scope.asks:
        raise scope.file.error(
            raw.at,
            "is known would let a missing fact decide here",
            "a whole requirement of a rule with the line: asks for documentation",
        )
    kid = checker.expr(raw.kids[0], scope)
    if kid.op != "fact":
        raise scope.file.error(kid.at, "only a fact can be stated or not", "the path of a fact")
    return replace(raw, kids=(kid,), type=FLAG)


WORD_CHECKS: Final[Mapping[str, CheckOperands]] = MappingProxyType(
    {
        "alike": check_alike,
        "texts": check_texts,
        "one_of": check_one_of,
        "included": check_included,
        "sets": check_sets,
        "emptied": check_emptied,
        "stated": check_stated,
    }
)
"""The check of each kind of operands that are texts, words or lists of them."""
