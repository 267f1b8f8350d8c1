"""What rules ask of texts and of lists of words, with three values throughout: None is unknown.

A partial list can prove presence, never absence. So what says that something is absent from a list
(`none of`, `is empty`, `all of` that list) is never true of a partial one, and `all of … in` it is
never false. A text that is `none` begins with nothing.
"""

from __future__ import annotations

from collections.abc import Sequence

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, TypeAlias

    Words: TypeAlias = Sequence[Any] | None

_FEW = 8
"""Words that are compared one by one; more are looked up in a set."""


def begins_with(text: Any, start: Any) -> bool:
    """Whether a text begins with another."""
    return isinstance(text, str) and isinstance(start, str) and text.startswith(start)


def ends_with(text: Any, end: Any) -> bool:
    """Whether a text ends with another."""
    return isinstance(text, str) and isinstance(end, str) and text.endswith(end)


def contains(text: Any, part: Any) -> bool:
    """Whether another text stands anywhere in a text."""
    return isinstance(text, str) and isinstance(part, str) and part in text


def any_of(words: Words, partial: bool, others: Words, others_partial: bool) -> bool | None:
    """Whether the two lists have a word in common."""
    if words is not None and others is not None:
        known = others if len(others) <= _FEW else frozenset(others)
        if any(word in known for word in words):
            return True
    if is_empty(words, partial) and not others_partial:
        return False
    if is_empty(others, others_partial) and not partial:
        return False
    known_whole = words is not None and others is not None and not partial and not others_partial
    return False if known_whole else None


def none_of(words: Words, partial: bool, others: Words, others_partial: bool) -> bool | None:
    """Whether the two lists have no word in common."""
    found = any_of(words, partial, others, others_partial)
    return None if found is None else not found


def all_of(words: Words, partial: bool, others: Words, others_partial: bool) -> bool | None:
    """Whether all words of the first list are in the second."""
    if words is None:
        return None
    if not words:
        return None if partial else True
    if others is None:
        return None
    known = others if len(others) <= _FEW else frozenset(others)
    if all(word in known for word in words):
        return None if partial else True
    return None if others_partial else False


def is_empty(items: Words, partial: bool) -> bool | None:
    """Whether a list is complete and has no item."""
    if items is None:
        return None
    if items:
        return False
    return None if partial else True
