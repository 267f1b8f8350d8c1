"""What the tracing evaluator gives: a value with all that it rests on."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from ..machine.records import Facts, notes_of

MAX_LISTED = 50
"""Facts named per evaluation; a longer list tells the reader nothing more."""


@dataclass(frozen=True, slots=True)
class Traced:
    """A value (None: unknown) and what it rests on.

    ``uses`` are absolute paths of the facts that settled the value, ``through`` those that did so
    through a definition; ``missing`` the facts that would decide an unknown value; ``reasons``
    say in words what else made it unknown.
    """

    value: Any
    uses: tuple[str, ...] = ()
    through: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    reasons: tuple[str, ...] = ()
    zero_divisors: tuple[str, ...] = ()


def union(groups: Iterable[tuple[str, ...]]) -> tuple[str, ...]:
    """The items of all groups, each once, MAX_LISTED at most."""
    found: dict[str, None] = {}
    for group in groups:
        for item in group:
            found.setdefault(item)
            if len(found) >= MAX_LISTED:
                return tuple(found)
    return tuple(found)


def told(reasons: Iterable[str]) -> str:
    """Reasons as one text, each once; empty if there are none."""
    return ". ".join(dict.fromkeys(reasons))


def join(value: Any, parts: Iterable[Traced]) -> Traced:
    """A value that rests on parts, with their facts; if it is unknown, with what they miss."""
    parts = tuple(parts)
    divisors = union(part.zero_divisors for part in parts)
    if value is not None:
        return Traced(
            value,
            union(part.uses for part in parts),
            union(part.through for part in parts),
            zero_divisors=divisors,
        )
    return Traced(
        None,
        missing=union(part.missing for part in parts if part.value is None),
        reasons=union(part.reasons for part in parts if part.value is None),
        zero_divisors=divisors,
    )


def absolute_path(record: Facts, path: str) -> str:
    """The path of a fact from the top of its machine file."""
    base = notes_of(record).path
    return f"{base}.{path}" if base else path
