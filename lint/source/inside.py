"""Where an entry of a file leads, which may name only what lies inside a folder."""

from __future__ import annotations

from pathlib import Path, PureWindowsPath

from ..base.errors import UsageError
from .reader import Reader


class LeavesError(ValueError):
    """An entry leads out of the folder that bounds it."""


def real_inside(entry: str, start: Path, bound: Path, leaves: str, reader: Reader) -> Path:
    """Where an entry leads, named from ``start``, through links: inside ``bound``, a real path.

    Raises ValueError with words to stand behind the entry. It is a LeavesError with the words
    ``leaves`` for what lies outside.
    """
    if entry.startswith("/") or PureWindowsPath(entry).anchor:
        raise ValueError("is an absolute path")
    try:
        real = reader.real(start / entry)
        is_link = reader.kind(real) == "link"
    except (UsageError, OSError, ValueError):  # a circle of links, a name too long, a NUL
        raise ValueError("leads nowhere") from None
    if not real.is_relative_to(bound):
        raise LeavesError(leaves)
    if is_link:
        raise ValueError("is a link, and links of a revision are not followed")
    return real
