"""Files of a git revision, laid out in a folder to be read; git_objects.py brings them.

What is read afterwards names its files by their place in that folder. ``Checkout.named`` gives them
the names that the user knows, as in ``main~1:machines/hall.yaml``.
"""

from __future__ import annotations

import os
import posixpath
import re
from collections.abc import Iterable
from dataclasses import dataclass, fields, is_dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Final, TypeVar

from ..base.errors import AxisproofError, InputError, UsageError
from .git_objects import Entry, Objects, opened
from .limits import LONGEST_PATH, MAX_BYTES, shortened
from .merge import INCLUDE
from .parsing import parse
from .reader import SUFFIXES, read_source

MAX_FILES: Final = 1000
"""Most files taken from one revision."""

MAX_TOTAL: Final = 4 * MAX_BYTES
"""Most bytes taken from one revision."""

MAX_PLACES: Final = 100_000
"""Most files and folders of a revision that are looked at."""

MAX_FOLDERS: Final = 64
"""Deepest nesting of folders in a revision."""

_REVISION: Final = re.compile(r"(?P<revision>[^:]*):(?P<path>.*)", re.DOTALL)
_EXPECTED: Final = "a file or folder, or REVISION:PATH of the git repository one is in"

Anything = TypeVar("Anything")


@dataclass(frozen=True, slots=True)
class Checkout:
    """A file or folder to read, and how its place is to be named.

    ``root`` is empty for what lies on the disk as it is; else whatever begins with it was taken
    from ``revision`` (with its colon).
    """

    path: Path
    root: str = ""
    revision: str = ""

    def named(self, value: Anything) -> Anything:
        """A text, or all texts within dataclasses, tuples, lists and dicts, with files renamed."""
        return _renamed(value, self.root, self.revision) if self.root else value

    def renamed_error(self, error: AxisproofError) -> AxisproofError:
        """The same error about the file as the user knows it."""
        return type(error)(
            self.named(error.what),
            expected=self.named(error.expected),
            place=self.named(error.place),
            source_line=error.source_line,
        )


def _renamed(value: Any, root: str, revision: str) -> Any:
    if isinstance(value, str):
        return value.replace(root, revision) if root in value else value
    if isinstance(value, tuple):
        return tuple(_renamed(item, root, revision) for item in value)
    if isinstance(value, list):
        return [_renamed(item, root, revision) for item in value]
    if isinstance(value, dict):
        return {key: _renamed(item, root, revision) for key, item in value.items()}
    if is_dataclass(value) and not isinstance(value, type):
        changed = {}
        for each in fields(value):
            old = getattr(value, each.name)
            new = _renamed(old, root, revision)
            if new is not old and new != old:
                changed[each.name] = new
        return replace(value, **changed) if changed else value
    return value


def is_revision(text: str) -> bool:
    """Whether a text means a revision: it has a colon, is no drive letter, and no such file exists.

    A file on the disk goes first.
    """
    return ":" in text and not os.path.lexists(text) and not re.match(r"[A-Za-z]:[\\/]", text)


def check_out(text: str, folder: Path) -> Checkout:
    """What ``text`` (a path, or REVISION:PATH) means; files of a revision are put into ``folder``.

    Of a file, all it includes or names as sources comes along, if the revision has it; of a
    folder, all machine files. Raises UsageError for what git cannot show or is nowhere.
    """
    if not is_revision(text):
        if not os.path.lexists(text):
            raise UsageError(
                f"there is no file or folder {shortened(text, LONGEST_PATH)}", expected=_EXPECTED
            )
        return Checkout(Path(text))
    found = _REVISION.fullmatch(text)
    assert found
    revision, path = found["revision"], found["path"]
    if revision.startswith("-") or "\n" in text:
        raise UsageError(f"{shortened(revision or text)} is no revision", expected=_EXPECTED)
    kept = posixpath.normpath(path) if path else "."
    outside = kept.startswith(("../", "/")) or kept == ".." or "\\" in kept or "\0" in text
    if outside:
        raise UsageError(
            f"{shortened(text, LONGEST_PATH)} leads out of the repository's folder",
            expected="a path below the top of the repository, or below this folder after ./",
        )
    # A path that begins with ./ counts from the present folder, any other from the top.
    prefix = "./" if path.startswith("./") or path == "." else ""
    with TemporaryDirectory(prefix="axisproof-") as scratch, opened(Path(scratch)) as objects:
        _RevisionCheckout(objects, revision, prefix, folder).take(kept)
    return Checkout(folder / kept, f"{folder.as_posix()}/", f"{revision}:{prefix}")


class _RevisionCheckout:
    """Files of one revision on their way to a folder."""

    def __init__(self, objects: Objects, revision: str, prefix: str, folder: Path) -> None:
        self.objects = objects
        self.revision = revision
        self.prefix = prefix
        self.folder = folder
        self.top = posixpath.join(objects.inside if prefix else "", "")
        self.tree = _Tree(objects, revision) if revision else None
        self.taken: set[str] = set()
        self.size = 0

    def told(self, path: str) -> str:
        """A path as the user knows it; the top of the repository has no name."""
        return f"{self.revision}:{self.prefix}{'' if path == '.' else path}"

    def take(self, first: str) -> None:
        """Take the file or folder that was asked for, with all that its files refer to.

        Raises UsageError if git has none, or if it is too much.
        """
        if self.one(first):
            waiting = [first]
        else:
            waiting = self.files_below(first)
            (self.folder / first).mkdir(parents=True, exist_ok=True)
        seen: set[str] = set()
        while waiting:
            path = waiting.pop()
            if path in seen or not self.one(path):
                continue  # what git lacks is left to the reader to miss
            seen.add(path)
            for reference in _references(self.folder / path):
                inside = posixpath.normpath(posixpath.join(posixpath.dirname(path), reference))
                if not inside.startswith(("../", "/")):
                    waiting.append(inside)

    def one(self, path: str) -> bool:
        """Write one file, unless git has none of that name."""
        if path in self.taken:
            return True
        data = self.data(path)
        if data is None:
            return False
        self.size += len(data)
        if len(self.taken) >= MAX_FILES or self.size > MAX_TOTAL:
            bound = f"{MAX_FILES} files" if self.size <= MAX_TOTAL else f"{MAX_TOTAL >> 20} MiB"
            what = f"{shortened(self.told(path), LONGEST_PATH)} is one of more than {bound}"
            raise UsageError(what, expected="fewer files")
        self.taken.add(path)
        target = self.folder / path
        try:
            target.parent.mkdir(parents=True, exist_ok=True)
            with target.open("xb") as stream:
                stream.write(data)
        except OSError as error:
            raise UsageError(
                f"{shortened(self.told(path), LONGEST_PATH)} cannot be laid out to be read:"
                f" {(error.strerror or 'it cannot be written').lower()}",
                expected="names that the system can keep beside each other",
            ) from None
        return True

    def data(self, path: str) -> bytes | None:
        """What a file holds; None if there is no file of that name."""
        place = posixpath.normpath(self.top + path)
        if self.tree is None:
            return self.objects.staged(place)
        entry = self.tree.entry(place)
        if entry is None or entry.kind in ("tree", "commit"):
            return None
        if entry.kind == "link":
            raise UsageError(
                f"{shortened(self.told(path), LONGEST_PATH)} is a link",
                expected="a file: links of a revision are not followed",
            )
        return self.objects.file(entry, self.told(path))

    def files_below(self, path: str) -> list[str]:
        """The machine files of a folder and of those in it. Raises UsageError if there is none."""
        place = posixpath.normpath(self.top + path)
        if self.tree is None or not self.tree.is_folder(place):
            raise UsageError(
                f"git cannot show {shortened(self.told(path), LONGEST_PATH)}:"
                " there is no file or folder of that name",
                expected=_EXPECTED,
            )
        names = self.tree.files_below(place, self.told(path))
        return [posixpath.normpath(posixpath.join(path, name)) for name in reversed(names)]


class _Tree:
    """The folders of one revision, each read once and when it is first asked for.

    Few objects can make folders without end: a folder that holds itself-like folders twenty times,
    twelve deep, has more places than anything could visit. So it is places that are counted.
    """

    def __init__(self, objects: Objects, revision: str) -> None:
        self.objects = objects
        self.revision = revision
        self.known: dict[str, dict[str, Entry]] = {}
        self.top = {entry.name: entry for entry in objects.tree(revision)}
        self.places = len(self.top)

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

    def is_folder(self, path: str) -> bool:
        """Whether a folder stands at a path."""
        entry = self.entry(path)
        return path == "." or (entry is not None and entry.kind == "tree")

    def files_below(self, path: str, told: str) -> list[str]:
        """The machine files of a folder and of the folders in it, as paths seen from there."""
        entry = self.entry(path)
        held = self.held(entry, path) if entry else self.top
        waiting = [("", held)]
        found = []
        while waiting:
            before, entries = waiting.pop()
            self.count(len(entries) + 1, f"{path}/{before}")
            if before.count("/") > MAX_FOLDERS:
                raise UsageError(
                    f"{shortened(told, LONGEST_PATH)} holds folders more than {MAX_FOLDERS} deep",
                    expected="folders that are less deep",
                )
            for each in entries.values():
                if each.kind == "tree" and _is_visible(each.name):
                    waiting.append((f"{before}{each.name}/", self.held(each, before + each.name)))
                elif each.kind in ("blob", "link") and _is_machine_file(each.name):
                    found.append(before + each.name)
        return sorted(found)


def _is_visible(name: str) -> bool:
    return bool(name) and not name.startswith(".") and "/" not in name and "\\" not in name


def _is_machine_file(name: str) -> bool:
    return _is_visible(name) and name.lower().endswith(SUFFIXES)


_NAMING: Final = ("facts", "device", "table", "mapping")
"""Keys by which a project names the files of a source."""


def _references(file: Path) -> Iterable[str]:
    """The files that a machine or project file names; nothing for a file that is not one."""
    if not file.name.lower().endswith(SUFFIXES):
        return []
    try:
        plain = parse(read_source(file))
    except InputError:
        return []  # the reader will say so, with its place
    if not isinstance(plain, dict):
        return []
    found: list[Any] = []
    included = plain.get(INCLUDE)
    found += included if isinstance(included, list) else []
    sources = plain.get("sources")
    for source in sources if isinstance(sources, list) else []:
        named = source if isinstance(source, dict) else {}
        found += [named.get(key) for key in _NAMING]
    return [each for each in found if isinstance(each, str) and each and "\0" not in each]
