"""The plates of a shelf, by kind and type."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from .files import Plain, Source


@dataclass(frozen=True, slots=True, eq=False)
class Plate:
    """A part of one type as its file states it: the records by name (a motor can have two)."""

    kind: str
    type: str
    source: Source
    records: Mapping[str, Plain]


@dataclass(frozen=True, slots=True, eq=False)
class Shelf:
    """The plates of a folder by kind and type; ``content`` is a fingerprint of all its files."""

    folder: Path
    plates: Mapping[tuple[str, str], Plate] = field(default_factory=dict)
    content: str = ""
