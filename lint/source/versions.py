"""What a text means that names a version of machines: a path, or REVISION:PATH."""

from __future__ import annotations

import os
import posixpath
import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from ..base.errors import UsageError
from .git_objects import opened
from .limits import LONGEST_PATH, shortened
from .reader import DISK, STDIN, Reader
from .revisions import ROOT, Revision, tree_of

_REVISION: Final = re.compile(r"(?P<revision>[^:]*):(?P<path>.*)", re.DOTALL)
_EXPECTED: Final = "a file or folder, or REVISION:PATH of the git repository one is in"


@dataclass(frozen=True, slots=True)
class Version:
    """A file or folder, and what reads it."""

    path: Path
    reader: Reader


def is_revision(text: str) -> bool:
    """Whether a text means a revision: it has a colon, is no drive letter, and no such file exists.

    A file on the disk goes first.
    """
    return ":" in text and not os.path.lexists(text) and not re.match(r"[A-Za-z]:[\\/]", text)


@contextmanager
def opened_version(text: str, texts: Mapping[Path, str] | None = None) -> Iterator[Version]:
    """What ``text`` (a path, or REVISION:PATH) means, as long as it can be read.

    ``texts`` hold standard input, if a version is ``-``. Raises UsageError for what git cannot show
    or is nowhere.
    """
    if texts and Path(text) == STDIN:
        yield Version(STDIN, Reader.of({STDIN: texts[STDIN]}))
        return
    if not is_revision(text):
        if not os.path.lexists(text):
            raise UsageError(
                f"there is no file or folder {shortened(text, LONGEST_PATH)}", expected=_EXPECTED
            )
        yield Version(Path(text), DISK)
        return
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
    with opened() as objects:
        # A path that begins with ./ counts from the present folder, any other from the top.
        here = objects.inside if path.startswith("./") or path == "." else None
        files = Revision(tree_of(objects, revision), revision, here)
        top = ROOT / (here or "") / kept
        if files.kind(top) is None:
            raise UsageError(
                f"git cannot show {shortened(files.name(top), LONGEST_PATH)}:"
                " there is no file or folder of that name",
                expected=_EXPECTED,
            )
        yield Version(top, Reader(store=files))
