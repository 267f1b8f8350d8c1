"""A git revision as a place to read files from; git_objects.py brings them, and none is written.

Its files have paths below ``ROOT``, which stands for the top of the repository. A user knows them
by other names, as in ``main~1:machines/hall.yaml``.
"""

from __future__ import annotations

import errno
import os
import posixpath
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Final

from ..base.errors import UsageError
from .files import Kind
from .git_objects import Entry, Objects
from .limits import LONGEST_PATH, MAX_BYTES, shortened

MAX_FILES: Final = 1000
"""Most files read from one revision."""

MAX_TOTAL: Final = 4 * MAX_BYTES
"""Most bytes read from one revision."""

MAX_PLACES: Final = 100_000
"""Most files and folders of a revision that are looked at."""

MAX_FOLDERS: Final = 64
"""Deepest nesting of folders in a revision."""

ROOT: Final = Path("/dev/null/revision")
"""The top of a revision. A file has no folders in it, so the disk never has such a path."""

_OUTSIDE: Final = ROOT.parent / "outside"
"""Where a path leads that leaves the revision: nowhere."""


class Revision:
    """The files of one revision, each read once and when it is first asked for.

    ``here`` is the folder from which the user counts, seen from the top; None if from the top.
    """

    root: Final = ROOT

    def __init__(self, tree: _Tree, revision: str, here: str | None) -> None:
        self.tree = tree
        self.revision = revision
        self.here = here
        self.known: dict[str, bytes] = {}
        self.size = 0

    def holds(self, path: Path) -> bool:
        """Whether a path belongs to the revision."""
        return path.is_relative_to(ROOT)

    def name(self, path: Path) -> str:
        """A path as the user knows it; the top of the repository has no name."""
        inside = posixpath.normpath(path.relative_to(ROOT).as_posix())
        shown = "" if inside == "." else inside
        if self.here is not None:
            seen = posixpath.relpath(f"/{inside}", f"/{self.here}")
            if not seen.startswith(".."):
                shown = f"./{'' if seen == '.' else seen}"
        return f"{self.revision}:{shown}"

    def path(self, name: str) -> Path:
        """The path of a name that ``name`` made; any other is one of the disk."""
        if not name.startswith(f"{self.revision}:"):
            return Path(name)
        inside = name[len(self.revision) + 1 :]
        return ROOT / (self.here or "" if inside.startswith("./") else "") / inside

    def real(self, path: Path) -> Path:
        """The same path without steps back; one out of the revision leads nowhere.

        Raises UsageError for a step back out of a link.
        """
        place = self._place(path)
        return _OUTSIDE if place is None else ROOT / place

    def kind(self, path: Path) -> Kind | None:
        """What stands at a path; None for nothing."""
        place = self._place(path)
        if place == "":
            return "folder"
        entry = None if place is None else self.tree.entry(place)
        return None if entry is None else _KINDS.get(entry.kind)

    def status(self, path: Path) -> tuple[Kind, int]:
        """What stands at a path, and the size of a file. Raises OSError for nothing."""
        kind = self.kind(path)
        return ("folder", 0) if kind == "folder" else ("file", len(self.read(path)))

    def read(self, path: Path) -> bytes:
        """What a file holds.

        Raises OSError if there is none. Raises UsageError for a link, a file whose merge is not
        settled, and for too much.
        """
        place = self._place(path)
        entry = None if place is None else self.tree.entry(place)
        if place is None or entry is None or entry.kind == "commit":
            raise FileNotFoundError(errno.ENOENT, os.strerror(errno.ENOENT))
        if entry.kind == "tree":
            raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR))
        if entry.kind == "link":
            raise self._link(place)
        if place not in self.known:
            self.known[place] = self._counted(place, entry)
        return self.known[place]

    def _counted(self, place: str, entry: Entry) -> bytes:
        told = self.name(ROOT / place)
        if entry.kind == "unmerged":
            raise UsageError(
                f"git cannot show {shortened(told, LONGEST_PATH)}: its merge is not settled",
                expected="a file that is staged once",
            )
        data = self.tree.objects.file(entry, told)
        self.size += len(data)
        if len(self.known) >= MAX_FILES or self.size > MAX_TOTAL:
            bound = f"{MAX_FILES} files" if self.size <= MAX_TOTAL else f"{MAX_TOTAL >> 20} MiB"
            what = f"{shortened(told, LONGEST_PATH)} is one of more than {bound}"
            raise UsageError(what, expected="fewer files")
        return data

    def files_below(self, folder: Path, wanted: Callable[[str], bool], hidden: bool) -> list[Path]:
        """The files of a folder and of those in it whose names are wanted, sorted.

        Raises UsageError for a link among them.
        """
        place = self._place(folder)
        assert place is not None
        found = []
        for inside, kind in self.tree.files_below(place, self.name(folder), wanted, hidden):
            if kind == "link":
                raise self._link(posixpath.join(place, inside))
            found.append(folder / inside)
        return sorted(found, key=lambda path: path.parts)

    def _place(self, path: Path) -> str | None:
        """A path as seen from the top, without steps back; None for one that leads out."""
        names: list[str] = []
        for name in path.relative_to(ROOT).parts:
            if name != "..":
                names.append(name)
                continue
            if not names:
                return None
            place = "/".join(names)
            entry = self.tree.entry(place)
            if entry is not None and entry.kind == "link":
                raise self._link(place)
            names.pop()
        return "/".join(names)

    def _link(self, place: str) -> UsageError:
        return UsageError(
            f"{shortened(self.name(ROOT / place), LONGEST_PATH)} is a link",
            expected="a file: links of a revision are not followed",
        )


_KINDS: Final[dict[str, Kind]] = {
    "tree": "folder",
    "blob": "file",
    "unmerged": "file",
    "link": "link",
}


def tree_of(objects: Objects, revision: str) -> _Tree:
    """The folders of a revision, or of the index for the empty name."""
    if revision:
        return _Tree(objects, revision, objects.tree(revision))
    folders = _folders(objects.staged())
    return _Tree(objects, revision, folders[""].values(), folders)


def _folders(files: Iterable[Entry]) -> dict[str, dict[str, Entry]]:
    """Files named from the top, by their folder; that is a folder's id, too."""
    folders: dict[str, dict[str, Entry]] = {"": {}}
    for file in files:
        here, above = folders[""], ""
        *names, last = file.name.split("/")
        for name in names[: MAX_FOLDERS + 2]:
            above = f"{above}/{name}" if above else name
            if above not in folders:
                folders[above] = {}
                _put(here, Entry(name, "tree", above))
            here = folders[above]
        _put(here, Entry(last, file.kind, file.id))
    return folders


def _put(folder: dict[str, Entry], entry: Entry) -> None:
    """Put an entry into a folder; what stands there twice is not merged."""
    twice = entry.name in folder
    folder[entry.name] = Entry(entry.name, "unmerged", entry.id) if twice else entry


class _Tree:
    """The folders of one revision, each read once and when it is first asked for.

    Few objects can make folders without end: a folder that holds itself-like folders twenty times,
    twelve deep, has more places than anything could visit. So it is places that are counted.
    ``known`` are folders by the id of their object.
    """

    def __init__(
        self,
        objects: Objects,
        revision: str,
        top: Iterable[Entry],
        known: dict[str, dict[str, Entry]] | None = None,
    ) -> None:
        self.objects = objects
        self.revision = revision
        self.known = known or {}
        self.top = {entry.name: entry for entry in top}
        self.places = 0

    def entry(self, path: str) -> Entry | None:
        """What stands at a path; None for nothing and for the top."""
        names = path.split("/")
        if len(names) > MAX_FOLDERS:
            return None
        here = self.top
        for name in names[:-1]:
            entry = here.get(name)
            if entry is None or entry.kind != "tree":
                return None
            here = self.held(entry, path)
        return here.get(names[-1])

    def held(self, folder: Entry, told: str) -> dict[str, Entry]:
        """The entries of a folder by name."""
        known = self.known.get(folder.id)
        if known is None:
            entries = self.objects.folder(folder, f"{self.revision}:{told}")
            self.count(len(entries), told)
            known = self.known[folder.id] = {entry.name: entry for entry in entries}
        return known

    def count(self, places: int, told: str) -> None:
        """Account for places that are looked at. Raises UsageError if they are too many."""
        self.places += places
        if self.places > MAX_PLACES:
            raise UsageError(
                f"{shortened(f'{self.revision}:{told}', LONGEST_PATH)} is one of more than"
                f" {MAX_PLACES:,} files and folders",
                expected="a folder that holds fewer",
            )

    def files_below(
        self, path: str, told: str, wanted: Callable[[str], bool], hidden: bool
    ) -> Iterator[tuple[str, str]]:
        """The wanted files of a folder and of those in it: paths seen from there, and kinds."""
        entry = self.entry(path)
        held = self.held(entry, path) if entry else self.top
        waiting = [("", held)]
        while waiting:
            before, entries = waiting.pop()
            self.count(len(entries) + 1, posixpath.join(path, before))
            if before.count("/") > MAX_FOLDERS:
                raise UsageError(
                    f"{shortened(told, LONGEST_PATH)} holds folders more than {MAX_FOLDERS} deep",
                    expected="folders that are less deep",
                )
            for each in entries.values():
                if not _is_name(each.name) or (each.name.startswith(".") and not hidden):
                    continue
                if each.kind == "tree":
                    waiting.append((f"{before}{each.name}/", self.held(each, before + each.name)))
                elif each.kind != "commit" and wanted(each.name):
                    yield before + each.name, each.kind


def _is_name(name: str) -> bool:
    """Whether a name can be one of a path, wherever it is read."""
    return name not in ("", ".", "..") and "/" not in name and "\\" not in name
