"""What a rule ranges over, as the engine reads it: tuples of words, which cost nothing to load."""

from __future__ import annotations

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from typing import Any, TypeAlias


PlainKey: TypeAlias = "tuple[str, str, str, tuple[str, ...]]"
"""What is matched on: the variable and the fact; of a definition instead its name, the function
that gives it and the facts of the record that it reads."""

PlainJoin: TypeAlias = "tuple[str, str, tuple[tuple[PlainKey, PlainKey], ...]]"
"""The variable, the list of the machine, and the keys: of what is known, and of the item."""

PlainRange: TypeAlias = (
    "tuple[str, str, tuple[PlainKey, ...], tuple[PlainJoin, ...], tuple[str, ...], bool]"
)
"""The item and its list, the keys of a group, the joins, the two axes of an unordered pair, and
whether the rule is broken where nothing matches."""


def key_functions(
    ranged: PlainRange | None, namespace: Mapping[str, Any]
) -> dict[str, Callable[[Any], Any]]:
    """The functions of the definitions that a range matches on, out of generated code."""
    if ranged is None:
        return {}
    _, _, keys, joins, *_ = ranged
    sides = [side for _, _, pairs in joins for both in pairs for side in both]
    return {key[2]: namespace[key[2]] for key in (*keys, *sides) if key[2]}
