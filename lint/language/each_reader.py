"""What stands behind `each`: lark trees to raw words with their places."""

from __future__ import annotations

from typing import Any

import lark

from .expression_reader import ExpressionReader
from .rule_file import RawEach, RawJoin, Word


def read_each(reader: ExpressionReader, kids: list[Any]) -> RawEach:
    """What a rule ranges over. Raises RuleError for a part that stands there twice."""
    parts: dict[str, Any] = {}
    joins = []
    for part in kids[1:]:
        name = str(part.data).removeprefix("each_")
        if name == "with":
            joins.append(_join(reader, part.children))
            continue
        kind = "order" if name in ("unordered", "directed") else name
        if kind in parts:
            raise reader.file.error(reader.span(part), f"a second {name} behind each", "one")
        parts[kind] = part

    def words(kind: str) -> tuple[Word, ...]:
        return tuple(_word(reader, each) for each in parts[kind].children) if kind in parts else ()

    return RawEach(
        _word(reader, kids[0]),
        next(iter(words("of")), None),
        next(iter(words("in")), None),
        words("by"),
        tuple(joins),
        (reader.span(parts["order"]), words("order")) if "order" in parts else None,
        _without(reader, parts["without"].children) if "without" in parts else None,
    )


def _word(reader: ExpressionReader, token: Any) -> Word:
    return str(token), reader.span(token)


def _join(reader: ExpressionReader, kids: list[Any]) -> RawJoin:
    names = [_word(reader, kid) for kid in kids if isinstance(kid, lark.Token)]
    keys = (kid for kid in kids if not isinstance(kid, lark.Token))
    sides = tuple(
        (_word(reader, each[0]), _word(reader, each[1])) for each in (k.children for k in keys)
    )
    return RawJoin(names[0], names[1] if len(names) > 1 else None, sides)


def _without(reader: ExpressionReader, kids: list[Any]) -> tuple[Word, Word | None, Any]:
    """The outcome, the rule that tells it and the text that does."""
    outcome, *rest = kids
    told = rest[0] if rest else None
    rule = _word(reader, told) if isinstance(told, lark.Token) else None
    text = reader.template(told) if isinstance(told, lark.Tree) else None
    return _word(reader, outcome), rule, text
