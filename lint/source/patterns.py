"""Patterns of file names, written as in a .gitignore file; pathspec reads them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final

    from pathspec import GitIgnoreSpec

IGNORE_NAME: Final = ".gitignore"

MAX_IGNORE_BYTES: Final = 1 << 20
"""Largest .gitignore file that is read; below a larger one nothing is ignored."""

_ALL_IN: Final = "!*"
"""The pattern that keeps every file in."""


class Patterns:
    """Patterns that count from a folder, named by its real path.

    Raises ValueError for one that cannot be read.
    """

    def __init__(self, folder: Path, patterns: Iterable[str]) -> None:
        from pathspec import GitIgnoreSpec

        self.folder = folder
        self.spec: GitIgnoreSpec = GitIgnoreSpec.from_lines(patterns)

    def verdict(self, real: Path) -> bool | None:
        """Whether the patterns take a file (a resolved path); None if they do not say."""
        if not real.is_relative_to(self.folder):
            return None
        return self.spec.check_file(real.relative_to(self.folder).as_posix()).include


class Ignored:
    """What the .gitignore files of a tree ignore; ``top`` is the highest folder that counts.

    The nearest file that says something of a name decides.
    """

    def __init__(self, top: Path) -> None:
        self.top = top.resolve()
        self.known: dict[Path, Sequence[Patterns]] = {}

    def takes(self, real: Path) -> bool:
        """Whether a file (by its resolved path) is ignored, tracked by git or not."""
        for patterns in self._of(real.parent):
            verdict = patterns.verdict(real)
            if verdict is not None:
                return verdict
        return False

    def _of(self, folder: Path) -> Sequence[Patterns]:
        """The patterns of a folder and of those above, the nearest first."""
        known = self.known.get(folder)
        if known is None:
            own = _read(folder)
            above = self._of(folder.parent) if folder != self.top and folder.name else ()
            known = self.known[folder] = above if own is None else (own, *above)
        return known


def _read(folder: Path) -> Patterns | None:
    """The patterns of a folder's own .gitignore file; None if there is none.

    Of one that cannot be read nobody knows what it keeps in, so it keeps in everything.
    """
    file = folder / IGNORE_NAME
    if not file.is_file() or file.is_symlink():  # git follows no link here either
        return None
    try:
        with file.open("rb") as stream:
            data = stream.read(MAX_IGNORE_BYTES + 1)
    except OSError:
        return Patterns(folder, [_ALL_IN])
    if len(data) > MAX_IGNORE_BYTES:
        return Patterns(folder, [_ALL_IN])
    text = data.decode("utf-8-sig", "surrogateescape")
    lines = [line.removesuffix("\r") for line in text.split("\n")]  # the only breaks git knows
    try:
        return Patterns(folder, lines)
    except ValueError:  # git takes no notice of a line that it cannot read
        return Patterns(folder, [line for line in lines if _can_be_read([line])])


def first_unreadable(patterns: Sequence[str]) -> int | None:
    """The number of the first pattern that cannot be read; None if all can."""
    if _can_be_read(patterns):
        return None
    return next(number for number, each in enumerate(patterns) if not _can_be_read([each]))


def _can_be_read(patterns: Sequence[str]) -> bool:
    try:
        Patterns(Path(), patterns)
    except ValueError:
        return False
    return True
