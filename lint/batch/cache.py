"""Records of files that have not changed since they were checked, kept in a folder.

An entry is a text file: a seal (the digest of the rest) and JSON. It is found by the digest of all
that its record depends on and is known beforehand: the conditions of the run (see fingerprint.py),
the name of the file and its content. What the file takes in is known only from the entry, which
lists it; it must be there, lead to the same place and have the same content. An entry that is not
whole, or is not of the form its record has, counts as none. Only what was checked without an
error is kept.

The seal finds accidents. It is no signature: whoever may write to the folder may write what
reports say.
"""

from __future__ import annotations

import json
import os
import stat
import time
from contextlib import suppress
from pathlib import Path, PurePath
from typing import Any, Final

from ..base.errors import UsageError
from ..base.safe_write import PART, put_file
from ..checking.record import Record
from ..importing.entry import Candidate
from ..source.files import Reading, digest_of, digest_on_disk
from .codec import Unfit, decoder, encoder

FORM: Final = 1
"""Raised when the form of entries changes otherwise than with axisproof's code."""

ENDING: Final = ".entry"
"""Unlike that of any machine file, should the folder lie among them."""

TAG: Final = "CACHEDIR.TAG"
TAG_TEXT: Final = (
    "Signature: 8a477f597d28d172789f06886806bc55\n"
    "# Results of axisproof, which makes them again when they are gone. The line above lets\n"
    "# programs that make copies pass over this folder (bford.info/cachedir).\n"
)

MAX_ENTRY: Final = 1 << 24
"""Size of an entry in bytes; a longer one is neither written nor read."""

MAX_AGE: Final = 30 * 86400
"""Seconds after which an entry is dropped that nobody used."""

MAX_ENTRIES: Final = 100_000
MAX_SIZE: Final = 1 << 30
"""Number and size in bytes of all entries; beyond it the ones used longest ago are dropped."""

ROOM: Final = 0.9
"""What is left of the greatest number and size when entries are dropped."""


def users_folder() -> Path:
    """The folder for this program's results that the system keeps for the user."""
    from platformdirs import user_cache_path

    return user_cache_path("axisproof", appauthor=False)


def prepare(folder: Path) -> None:
    """Make the folder if it is not there.

    Raises UsageError for one that holds anything else than a cache, and OSError if it cannot be
    made or read.
    """
    folder.mkdir(parents=True, exist_ok=True)
    tag = folder / TAG
    try:
        ours = tag.read_text("utf-8", "replace") == TAG_TEXT
    except FileNotFoundError:
        ours = not any(not name.endswith(PART) for name in os.listdir(folder))
        if ours:
            put_file(tag, TAG_TEXT.encode())
    if not ours:
        raise UsageError(
            f"the folder {folder} holds other things than results of axisproof",
            expected="a new or empty folder after --cache",
        )


class Cache:
    """The entries of a folder that fit a run. ``trouble`` says why nothing is kept any more."""

    def __init__(self, folder: Path, run: str) -> None:
        self.folder = folder
        self.run = run
        self.trouble = ""
        self.kept = 0

    def find(self, candidate: Candidate) -> Record | None:
        """The record of a file, if it and all it takes in are as they were."""
        name = candidate.path.as_posix()
        content = digest_on_disk(candidate.path)
        if not content:
            return None
        key = self._key(candidate, content)
        path = self._path(key)
        plain = _read(path)
        try:
            if plain is None or plain["key"] != key or not _unchanged(plain, name, content):
                return None
            record: Record = decoder(Record)(plain["record"])
        except (Unfit, LookupError, TypeError, ValueError, RecursionError):
            return None
        if record.file != name or not record.judged:
            return None
        _touch(path)
        return record

    def keep(self, candidate: Candidate, record: Record, reading: Reading) -> None:
        """Keep the record of a file with the account of what was read for it."""
        name = candidate.path.as_posix()
        if self.trouble or any(
            digest_on_disk(Path(each)) != reading.digests[each] for each in reading.streamed
        ):
            return
        key = self._key(candidate, reading.digests[name])
        plain = {
            "key": key,
            "files": reading.digests,
            "links": [[*link, inside] for link, inside in reading.links.items()],
            "record": encoder(Record)(record),
        }
        try:
            body = json.dumps(plain, allow_nan=False, separators=(",", ":")).encode("ascii")
        except ValueError:
            return
        if len(body) > MAX_ENTRY - 100:
            return
        path = self._path(key)
        try:
            path.parent.mkdir(exist_ok=True)
            put_file(path, digest_of(body).encode("ascii") + b"\n" + body)
            self.kept += 1
        except OSError as fault:
            self.trouble = fault.strerror or type(fault).__name__

    def _key(self, candidate: Candidate, content: str) -> str:
        parts = (FORM, self.run, candidate.kind, candidate.path.as_posix(), content)
        return digest_of(json.dumps(parts).encode("ascii"))

    def _path(self, key: str) -> Path:
        return self.folder / key[:2] / (key[2:] + ENDING)


def _read(path: Path) -> Any:
    """What an entry holds, if it is whole; else None."""
    try:
        if not stat.S_ISREG(path.stat().st_mode):
            return None
        with path.open("rb") as stream:
            data = stream.read(MAX_ENTRY + 1)
    except OSError:
        return None
    seal, _, body = data.partition(b"\n")
    if len(data) > MAX_ENTRY or seal != digest_of(body).encode("ascii"):
        return None
    try:
        return json.loads(body)
    except (ValueError, RecursionError):
        return None


def _unchanged(plain: Any, name: str, content: str) -> bool:
    """Whether all files that were read are as an entry says. Entries may be anyone's."""
    folder = PurePath(name).parent
    files = dict(plain["files"])
    if files.pop(name) != content:
        return False
    if not all(_leads(*each) for each in plain["links"]):
        return False
    for each, digest in files.items():
        path = Path(each)
        inside = path.parts[len(folder.parts) :]
        if path.parts[: len(folder.parts)] != folder.parts or ".." in inside:
            return False
        if not digest or digest_on_disk(path) != digest:
            return False
    return True


def _leads(folder: str, named: str, inside: str) -> bool:
    """Whether a path still leads to where it led, seen from the folder."""
    try:
        return Path(os.path.relpath(Path(named).resolve(), Path(folder).resolve())) == Path(inside)
    except (OSError, RuntimeError, ValueError):
        return False


def _touch(path: Path) -> None:
    """Note that an entry is of use, once a day."""
    with suppress(OSError):
        if time.time() - path.stat().st_mtime > 86400:
            os.utime(path)


def prune(folder: Path) -> None:
    """Drop entries that nobody used for long, and the oldest if there are too many."""
    now = time.time()
    entries: list[tuple[float, int, str]] = []
    with suppress(OSError):
        for group in [each for each in os.scandir(folder) if len(each.name) == 2]:
            for each in os.scandir(group) if group.is_dir(follow_symlinks=False) else ():
                with suppress(OSError):
                    status = each.stat(follow_symlinks=False)
                    if each.name.endswith(PART):
                        if now - status.st_mtime > 3600:  # whoever wrote it is gone
                            os.unlink(each.path)
                    elif each.name.endswith(ENDING):
                        entries.append((status.st_mtime, status.st_size, each.path))
    entries.sort(reverse=True)  # the latest first
    size = 0
    full = len(entries) > MAX_ENTRIES or sum(each[1] for each in entries) > MAX_SIZE
    share = ROOM if full else 1.0
    for number, (used, length, path) in enumerate(entries, 1):
        size += length
        if now - used > MAX_AGE or number > share * MAX_ENTRIES or size > share * MAX_SIZE:
            with suppress(OSError):
                os.unlink(path)
