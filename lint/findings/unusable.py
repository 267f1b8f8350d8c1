"""A file that cannot be used, as the report on all others tells it."""

from __future__ import annotations

from collections.abc import Iterable

from ..base.errors import AxisproofError, Place
from ..base.lazy import dataclass


@dataclass(frozen=True, slots=True)
class FurtherFault:
    """What is wrong with a file beside its first fault, as in ``Unusable``."""

    what: str
    expected: str = ""
    place: Place | None = None
    source_line: str | None = None


@dataclass(frozen=True, slots=True)
class Unusable:
    """A file that was to be checked and could not be: what is wrong, and what was expected.

    ``place`` may be in another file, which this one takes in. It is None where the whole file
    cannot be read. ``source_line`` is the text at the place. ``further`` are the next faults.
    """

    file: str
    what: str
    expected: str = ""
    place: Place | None = None
    source_line: str | None = None
    further: tuple[FurtherFault, ...] = ()

    @classmethod
    def of(cls, file: str, error: AxisproofError) -> Unusable:
        """What an error says of a file."""
        further = (
            FurtherFault(each.what, each.expected, each.place, each.source_line)
            for each in error.others
        )
        return cls(file, error.what, error.expected, error.place, error.source_line, tuple(further))


def each_fault(files: Iterable[Unusable]) -> list[Unusable]:
    """The files with one fault each, so that a file with several faults comes several times."""
    alone: list[Unusable] = []
    for each in files:
        alone.append(Unusable(each.file, each.what, each.expected, each.place, each.source_line))
        alone += (
            Unusable(each.file, fault.what, fault.expected, fault.place, fault.source_line)
            for fault in each.further
        )
    return alone
