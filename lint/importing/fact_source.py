"""What a mapping says of one fact, and the paths by which facts in lists of records are named."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from typing import Final

from ..machine.schema import Field, Leaf, ListType
from ..numbers.rational import Fraction
from ..source.places import KeyPath
from .values import MACHINE

EACH_ROW: Final = -1
"""Stands for the number of a record of which each row of a list makes another."""

_IN_RECORD: Final = re.compile(r"([^\[\]]+)\[([0-9]{0,4})\]\.([^\[\]]+)")


@dataclass(frozen=True, slots=True)
class FactPath:
    """A fact at ``path``, or at ``inner`` in a record of the list at ``path``.

    ``number`` counts the records from 0; EACH_ROW: each row of the export makes another; None: the
    fact belongs to no list of records.
    """

    path: tuple[str, ...]
    number: int | None = None
    inner: tuple[str, ...] = ()
    of_machine: bool = False

    def at(self, axis: str) -> KeyPath:
        """Where the fact, or the list that holds it, stands in the machine file."""
        return self.path if self.of_machine else ("axes", axis, *self.path)


@cache
def fact_path(text: str) -> FactPath:
    """Take a path apart: drive.max_speed, mechanics.stages[0].kind or mechanics.stages[].kind."""
    of_machine = text.startswith(MACHINE)
    text = text.removeprefix(MACHINE)
    found = _IN_RECORD.fullmatch(text)
    if found is None:
        return FactPath(tuple(text.split(".")), of_machine=of_machine)
    number = int(found[2]) if found[2] else EACH_ROW
    return FactPath(tuple(found[1].split(".")), number, tuple(found[3].split(".")), of_machine)


@dataclass(frozen=True, slots=True)
class FactSource:
    """One fact that a parameter (or some of its bits, or several parameters) states.

    ``to`` is the path of the fact and ``field`` its kind; ``unit`` is empty for bare numbers;
    ``path`` leads to the entry in the mapping file.
    """

    to: str
    field: Field
    path: KeyPath
    bits: tuple[int, int] | None = None
    unit: str = ""
    scale: Fraction = Fraction(1)
    offset: Fraction = Fraction(0)
    names: dict[str, str | int | bool] | None = None
    none: tuple[str, ...] = ()
    minus: bool = False
    separator: str = ""
    partial: bool = False
    date: str = "yyyy-mm-dd"
    required: bool = False
    width: int | None = None
    signed: bool = False

    @property
    def target(self) -> FactPath:
        """The fact, taken apart if it belongs to a record of a list."""
        return fact_path(self.to)

    @property
    def leaf(self) -> Leaf | None:
        """The kind of value, or of a list's entries; None for a record that may be none."""
        kind = self.field.type
        if isinstance(kind, ListType):
            kind = kind.item
        return kind if isinstance(kind, Leaf) else None


@dataclass(frozen=True, slots=True)
class PackedNumber:
    """A number from several parameters, most significant first."""

    words: tuple[str, ...]
    word_bits: int
    fact_source: FactSource
