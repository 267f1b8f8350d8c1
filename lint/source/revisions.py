"""Files of a git revision, read through ``git show`` alone and laid out in a folder to be read.

What is read afterwards names its files by their place in that folder; ``Checkout.named`` says them
as the user knows them, as in ``main~1:machines/hall.yaml``.
"""

from __future__ import annotations

import os
import posixpath
import re
import subprocess
from collections.abc import Iterable
from dataclasses import dataclass, fields, is_dataclass, replace
from pathlib import Path
from typing import Any, Final, TypeVar

from ..base.errors import AxisproofError, InputError, UsageError
from .files import SUFFIXES, parse, read_source
from .limits import MAX_BYTES, shortened
from .merge import INCLUDE

MAX_FILES: Final = 1000
"""Most files taken from one revision."""

TIMEOUT: Final = 60.0
"""Seconds one ``git show`` may take."""

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
            raise UsageError(f"there is no file or folder {shortened(text)}", expected=_EXPECTED)
        return Checkout(Path(text))
    found = _REVISION.fullmatch(text)
    assert found
    revision, path = found["revision"], found["path"]
    if revision.startswith("-"):
        raise UsageError(f"{shortened(revision)} is no revision", expected=_EXPECTED)
    kept = posixpath.normpath(path) if path else "."
    outside = kept.startswith(("../", "/")) or kept == ".." or "\\" in kept or "\0" in text
    if outside:
        raise UsageError(
            f"{shortened(text)} leads out of the repository's folder",
            expected="a path below the top of the repository, or below this folder after ./",
        )
    # A path that begins with ./ counts from the present folder, any other from the top.
    prefix = "./" if path.startswith("./") or path == "." else ""
    taking = _RevisionCheckout(revision, prefix, folder)
    taking.first(kept)
    return Checkout(folder / kept, f"{folder.as_posix()}/", f"{revision}:{prefix}")


class _RevisionCheckout:
    """Files of one revision on their way to a folder."""

    def __init__(self, revision: str, prefix: str, folder: Path) -> None:
        self.revision = revision
        self.prefix = prefix
        self.folder = folder
        self.taken: set[str] = set()

    def spec(self, path: str) -> str:
        """A path as git is asked for it; the top of the repository has no name."""
        return f"{self.revision}:{self.prefix}{'' if path == '.' else path}"

    def first(self, path: str) -> None:
        """Take the file or folder that was asked for. Raises UsageError if git has none."""
        data = _git_show(self.spec(path))
        if isinstance(data, str):
            spec = shortened(self.spec(path), 200)
            raise UsageError(f"git cannot show {spec}: {data}", expected=_EXPECTED)
        self.take(path, data)

    def take(self, path: str, data: bytes) -> None:
        """Write a file and what it refers to, or all machine files of a folder."""
        entries = self.folder_entries(path, data)
        if entries is not None:
            (self.folder / path).mkdir(parents=True, exist_ok=True)
            for entry in entries:
                self.also(posixpath.normpath(posixpath.join(path, entry)))
            return
        if len(self.taken) >= MAX_FILES:
            what = f"{self.spec(path)} is one of more than {MAX_FILES} files"
            raise UsageError(what, expected="fewer files")
        self.taken.add(path)
        target = self.folder / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(data)
        for reference in _references(target):
            inside = posixpath.normpath(posixpath.join(posixpath.dirname(path), reference))
            if not inside.startswith(("../", "/")):
                self.also(inside)

    def also(self, path: str) -> None:
        """Take what something refers to; what git lacks is left to the reader to miss."""
        if path in self.taken:
            return
        data = _git_show(self.spec(path))
        if isinstance(data, bytes):
            self.take(path, data)

    def folder_entries(self, path: str, data: bytes) -> list[str] | None:
        """The machine files and folders that git lists for a folder; None for a file."""
        head = f"tree {self.spec(path)}\n\n".encode("utf-8", "surrogateescape")
        if not data.startswith(head):
            return None
        names = data.removeprefix(head).decode("utf-8", "surrogateescape").split("\n")
        return [name for name in names if _is_wanted(name)]


def _is_wanted(name: str) -> bool:
    bare = name.removesuffix("/")
    if not bare or bare.startswith(".") or "/" in bare or "\\" in bare:
        return False
    return name.endswith("/") or name.lower().endswith(SUFFIXES)


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


def _git_show(spec: str) -> bytes | str:
    command = ["git", "--no-pager", "show", "--no-textconv", "--no-color", "--end-of-options", spec]
    environment = {**os.environ, "LC_ALL": "C", "GIT_TERMINAL_PROMPT": "0"}
    try:
        with subprocess.Popen(
            command,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            env=environment,
        ) as process:
            return _output(process)
    except FileNotFoundError:
        return "git is not installed"
    except ValueError:
        return "the name holds a NUL"


def _output(process: subprocess.Popen[bytes]) -> bytes | str:
    try:
        data, complaint = process.communicate(timeout=TIMEOUT)
    except subprocess.TimeoutExpired:
        process.kill()
        return f"no answer within {TIMEOUT:.0f} s"
    if process.returncode != 0:
        first = complaint.decode("utf-8", "replace").strip().partition("\n")[0]
        return first.removeprefix("fatal: ").rstrip(".") or "it gives no reason"
    if len(data) > MAX_BYTES:
        return f"it is larger than {MAX_BYTES // 2**20} MiB"
    return data
