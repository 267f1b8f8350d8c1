"""A plate laid over the record of each axis that names its type.

Neither statement overrules the other: what a file of the machine states otherwise than the plate
becomes claims of both, as if the machine included the plate.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import ClassVar

from .files import Plain, Source
from .merge import Merging, Tree
from .outline import Node
from .parsing import locate
from .places import KeyPath, LocatedSource, Locations, Scalar
from .shelf import Plate


@dataclass(frozen=True, eq=False)
class LaidPlate(LocatedSource):
    """A plate's file as a source of a machine.

    ``spots`` are paths of the machine at which a record of the plate lies, with its path in the
    file.
    """

    original: Source | None = None
    spots: Mapping[KeyPath, KeyPath] = field(default_factory=dict)

    verbatim: ClassVar[bool] = False

    @classmethod
    def of(cls, source: Source, spots: Mapping[KeyPath, KeyPath]) -> LaidPlate:
        """The file ``source`` with its records at ``spots``."""
        return cls(source.path, source.name, source.text, source.form, source.bom, source, spots)

    @cached_property
    def locations(self) -> Locations:
        """Where the values stand in the plate's file, by their path in the machine."""
        assert self.original is not None
        inner = locate(self.original)
        return _LaidLocations(inner.source, inner.outline, self.spots)


@dataclass(frozen=True)
class _LaidLocations(Locations):
    """Places of values by their path in the machine."""

    spots: Mapping[KeyPath, KeyPath] = field(default_factory=dict)

    def node(self, path: KeyPath) -> Node | None:
        """The node at a path of the machine, if the plate lies there or above."""
        inside = self._inside(path)
        return None if inside is None else Locations.node(self, inside)

    def scalar(self, path: KeyPath) -> Scalar | None:
        """None: no text of the machine file stands here."""
        return None

    def _inside(self, path: KeyPath) -> KeyPath | None:
        for cut in range(len(path), 0, -1):
            spot = self.spots.get(path[:cut])
            if spot is not None:
                return spot + path[cut:]
        return None


def lay_plate(tree: Tree, plate: Plate, at: KeyPath, inside: KeyPath) -> Tree:
    """A machine with the record ``inside`` the plate laid over what it states at ``at``.

    What both state differently becomes claims of both. Raises InputError, with both places, where
    the two are of different shape or are two lists.
    """
    others = [source for source in tree.sources if not _is_of(source, plate)]
    before = next((source for source in tree.sources if _is_of(source, plate)), None)
    spots = {**(before.spots if isinstance(before, LaidPlate) else {}), at: inside}
    laid = LaidPlate.of(plate.source, spots)
    files: list[tuple[Source, Plain]] = [(source, {}) for source in (*others, laid)]
    merging = Merging(files, tree.origins)

    def put(here: Plain | None, depth: int) -> Plain:
        if depth == len(at):
            record = plate.records[str(inside[0])]
            return record if here is None else merging.merge(here, record, at, len(others))
        key = at[depth]
        if isinstance(here, list) and isinstance(key, int):
            return [*here[:key], put(here[key], depth + 1), *here[key + 1 :]]
        inner = here if isinstance(here, dict) else {}
        return {**inner, str(key): put(inner.get(str(key)), depth + 1)}

    plain = put(tree.plain, 0)
    return replace(tree, plain=plain, sources=(*others, laid), origins=merging.origins)


def _is_of(source: Source, plate: Plate) -> bool:
    return isinstance(source, LaidPlate) and source.original is plate.source
