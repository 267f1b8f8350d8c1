"""`none`: a thing known to be absent, unlike one that was never stated (Python's None)."""

from __future__ import annotations

from typing import Final


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
