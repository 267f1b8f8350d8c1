"""Which clauses a rule, definition or setting must have, and which only once."""

from __future__ import annotations

from collections.abc import Sequence

from .rule_file import Clause, RawItem, RuleFile


def clauses_by_word(
    file: RuleFile, item: RawItem, needed: Sequence[str], once: Sequence[str]
) -> dict[str, Clause]:
    """The first clause of each word. Raises RuleError if one is missing or stated twice."""
    found: dict[str, Clause] = {}
    for clause in item.clauses:
        if clause.word in once and clause.word in found:
            raise file.error(clause.at, f"{item.word} {item.name} states {clause.word} twice")
        found.setdefault(clause.word, clause)
    for word in needed:
        if word not in found:
            either = "headline or say" if word == "say" else word
            raise file.error(
                item.name_at,
                f"{item.word} {item.name} has no {either}",
                f"a line that begins with {either}",
            )
    return found
