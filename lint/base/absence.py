"""`none`: a thing known to be absent, unlike one that was never stated (Python's None)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, Final


class Absent:
    """The only value of this type is NONE."""

    __slots__ = ()

    def __repr__(self) -> str:
        return "none"


NONE: Final = Absent()
"""Known to be absent. Compare with ``is``."""


class Presence:
    """The only value of this type is PRESENT."""

    __slots__ = ()

    def __repr__(self) -> str:
        return "present"


PRESENT: Final = Presence()
"""A part that could have been `none` and is described instead. Compare with ``is``."""


def parts_above(path: str) -> Iterator[str]:
    """The paths of the parts that a fact stands in, outermost first."""
    for at, letter in enumerate(path):
        if letter == ".":
            yield path[:at]


def none_above(record: Mapping[str, Any], path: str) -> str:
    """The outermost part that a fact would stand in and that is none; empty if there is no such."""
    return next((part for part in parts_above(path) if record.get(part) is NONE), "")
