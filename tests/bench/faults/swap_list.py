"""The kinds of swap, in a list that the files of kinds fill."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

from .plain_axis import PlainAxis
from .swap_axis import DrawnSwap

Alter: TypeAlias = Callable[[DrawnSwap], bool]
Where: TypeAlias = Callable[[PlainAxis], bool]


def anywhere(_: PlainAxis) -> bool:
    return True


@dataclass(frozen=True)
class SwapKind:
    """A part, the axes it is for, and what is unlike the fitted one.

    ``alter`` changes the true spare, or leaves a fact out of a file; False if it does not apply.
    """

    name: str
    part: str
    alter: Alter
    where: Where = anywhere
    pair: bool = False
    """Whether two kinds are put in at once, perhaps such as exclude each other."""


KINDS: list[SwapKind] = []


def add(part: str, name: str, alter: Alter, where: Where = anywhere) -> None:
    """Add a kind to the list."""
    full = f"{part}: {name}"
    assert full not in {kind.name for kind in KINDS}, full
    KINDS.append(SwapKind(full, part, alter, where))
