"""Facts left out of plain machines: singly, or in random subsets.

An axis is never left out, nor what the schema requires of a record. A source's claim is a statement
by itself and stays. An entry of a list is left out only with the list marked partial, as a list is
complete otherwise.
"""

from __future__ import annotations

import copy
from collections.abc import Iterator
from random import Random
from typing import Any, Final, TypeAlias

from tests.bench.faults.measure import required

Plain: TypeAlias = dict[str, Any]
Path: TypeAlias = tuple[str | int, ...]

KEPT: Final = frozenset({"motion", "axes", "claims", "name", "machine", "format", "partial"})
"""Names that are never left out."""


def facts_of(plain: Plain) -> list[Path]:
    """Every fact, record and entry of a list that can be left out of a machine."""
    return list(_walk(plain, ()))


def _walk(at: Any, path: Path) -> Iterator[Path]:
    if isinstance(at, dict):
        for key, value in at.items():
            if key == "claims":
                continue
            here = (*path, key)
            an_axis = path == ("axes",)
            if not an_axis and key not in KEPT and key not in required():
                yield here
            yield from _walk(value, here)
    elif isinstance(at, list):
        for number, value in enumerate(at):
            here = (*path, number)
            yield here
            yield from _walk(value, here)


def without(plain: Plain, paths: list[Path]) -> Plain:
    """A copy of a machine without these facts."""
    left: Plain = copy.deepcopy(plain)
    for path in sorted(paths, key=_from_behind, reverse=True):
        _leave_out(left, path)
    return left


def _from_behind(path: Path) -> tuple[tuple[int, int, str], ...]:
    return tuple((1, part, "") if isinstance(part, int) else (0, 0, part) for part in path)


def _leave_out(left: Plain, path: Path) -> None:
    holder: Any = None
    last: str | int = ""
    at: Any = left
    for part in path[:-1]:
        if isinstance(at, dict) and set(at) == {"partial"} and isinstance(part, int):
            at = at["partial"]
        holder, last = at, part
        try:
            at = at[part]
        except (KeyError, IndexError, TypeError):
            return  # what it lies in was left out before it
    end = path[-1]
    if isinstance(end, int):
        items = at["partial"] if isinstance(at, dict) and "partial" in at else at
        if isinstance(items, list) and end < len(items):
            holder[last] = {"partial": items[:end] + items[end + 1 :]}
    elif isinstance(at, dict):
        at.pop(end, None)


def subsets(plain: Plain, rng: Random, count: int) -> Iterator[list[Path]]:
    """So many random sets of facts, small ones and large ones."""
    facts = facts_of(plain)
    for _ in range(count):
        share = rng.choice((0.01, 0.03, 0.1, 0.3))
        yield [path for path in facts if rng.random() < share]
