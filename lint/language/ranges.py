"""What a rule ranges over as plain data, for the engine, which runs without the language."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from .compiler import definition_function_name
from .plain_ranges import PlainKey, PlainRange
from .reach import reach
from .syntax import Definition, Expr, Key, Range

Definitions = Mapping[tuple[str, str], Definition]


def plain_range(found: Range | None, definitions: Definitions) -> PlainRange | None:
    """The range of a rule as tuples of words."""
    if found is None:
        return None

    def plain(key: Key) -> PlainKey:
        if not key.record:
            return key.variable, key.path, "", ()
        definition = definitions[key.record, key.path]
        reads = (
            path
            for root, path in reach(definition.expr, definitions)
            if root == definition.owner and "[]" not in path
        )
        function = definition_function_name(key.record, key.path)
        return key.variable, key.path, function, tuple(dict.fromkeys(reads))

    joins = tuple(
        (join.variable, join.list_path, tuple((plain(own), plain(its)) for own, its in join.keys))
        for join in found.joins
    )
    keys = tuple(map(plain, found.keys))
    return found.item, found.list_path, keys, joins, found.unordered, bool(found.without)


def keys_of(found: Range) -> Iterator[Key]:
    """All keys of a range."""
    yield from found.keys
    for join in found.joins:
        for both in join.keys:
            yield from both


def key_expressions(found: Range) -> Iterator[Expr]:
    """All keys of a range as the facts and definitions they are."""
    return (key.expr() for key in keys_of(found))
