"""A folder that keeps the records of checked files, so that unchanged files need no new check.

An entry is a text file: a checksum (the digest of the rest) and JSON. Its name is the digest of
all that is known before the check: the conditions of the run (see run_conditions.py), the name of
the file and its content. The entry lists the files that this file includes. Each of them must
exist, lead to the same place and have the same content. An entry that is damaged, or that does
not have the form of a record, counts as none. The cache keeps only records of checks without
errors.

The checksum finds accidents. It is no signature: whoever can write to the folder can change what
reports say. So a folder that came with a repository is none (``prepare``).
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
from ..base.safe_write import PART, put_file, refuse_links
from ..checking.record import Record
from ..importing.entry import Candidate
from ..source.reader import FilesRead, digest_of, digest_on_disk
from .codec import DecodeError, decoder, encoder

FORM: Final = 2
"""Version of the form of entries; raise it if the form changes and axisproof's code does not."""

ENDING: Final = ".entry"
"""No machine file has this ending, so the folder may lie among machine files."""

TAG: Final = "CACHEDIR.TAG"
TAG_TEXT: Final = (
    "Signature: 8a477f597d28d172789f06886806bc55\n"
    "# Results of axisproof, which makes them again when they are gone. The line above lets\n"
    "# programs that make copies pass over this folder (bford.info/cachedir).\n"
)

MAX_ENTRY: Final = 1 << 24
"""Size of an entry in bytes; the cache neither writes nor reads a longer one."""

MAX_AGE: Final = 30 * 86400
"""Seconds after which the cache deletes an unused entry."""

MAX_ENTRIES: Final = 100_000
MAX_SIZE: Final = 1 << 30
"""Greatest number and size in bytes of all entries; beyond it the oldest ones are deleted."""

KEPT_SHARE: Final = 0.9
"""Share of the greatest number and size that remains after entries are deleted."""


def users_folder() -> Path:
    """The folder in which the system keeps this program's results for the user."""
    from platformdirs import user_cache_path

    return user_cache_path("axisproof", appauthor=False)


def prepare(folder: Path) -> None:
    """Create the folder if it does not exist.

    Raises UsageError for a folder that holds anything but a cache or that is committed, and OSError
    for a folder that cannot be created or read.
    """
    refuse_links(folder)
    if folder.is_dir() and _is_committed(folder.resolve()):
        raise UsageError(
            f"the folder {folder} is committed to the repository it lies in, and so is what its"
            " results say",
            expected="a folder after --cache that no commit holds",
        )
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


def _is_committed(folder: Path) -> bool:
    """Whether the present commit of the repository that a folder lies in holds that folder."""
    if not any(os.path.lexists(top / ".git") for top in folder.parents):
        return False
    from ..source.git_objects import opened

    try:
        with opened(folder) as objects:
            return bool(objects.inside) and objects.has_folder("HEAD", objects.inside)
    except UsageError:  # no git, or no repository of it
        return False


class Cache:
    """The entries of a folder that fit a run. ``write_error`` says why it keeps no more records."""

    def __init__(self, folder: Path, run: str) -> None:
        self.folder = folder
        self.run = run
        self.write_error = ""
        self.kept_count = 0

    def find(self, candidate: Candidate) -> Record | None:
        """The record of a file, if neither the file nor any included file changed."""
        name = candidate.path.as_posix()
        content = digest_on_disk(candidate.path)
        if not content:
            return None
        key = self._key(candidate, content)
        path = self._path(key)
        plain = _read_entry(path)
        try:
            if plain is None or plain["key"] != key or not _files_unchanged(plain, name, content):
                return None
            record: Record = decoder(Record)(plain["record"])
        except (DecodeError, LookupError, TypeError, ValueError, RecursionError):
            return None
        if record.file != name or not record.judged:
            return None
        _touch(path)
        return record

    def keep(self, candidate: Candidate, record: Record, account: FilesRead) -> None:
        """Keep the record of a file with the list of all files read for it."""
        name = candidate.path.as_posix()
        if self.write_error or any(
            digest_on_disk(Path(each)) != account.digests[each] for each in account.streamed
        ):
            return
        key = self._key(candidate, account.digests[name])
        plain = {
            "key": key,
            "files": account.digests,
            "links": [[*link, inside] for link, inside in account.links.items()],
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
            self.kept_count += 1
        except OSError as fault:
            self.write_error = fault.strerror or type(fault).__name__

    def _key(self, candidate: Candidate, content: str) -> str:
        parts = (FORM, self.run, candidate.kind, candidate.path.as_posix(), content)
        return digest_of(json.dumps(parts).encode("ascii"))

    def _path(self, key: str) -> Path:
        return self.folder / key[:2] / (key[2:] + ENDING)


def _read_entry(path: Path) -> Any:
    """The content of an entry; None if the entry is damaged."""
    try:
        if not stat.S_ISREG(path.stat().st_mode):
            return None
        with path.open("rb") as stream:
            data = stream.read(MAX_ENTRY + 1)
    except OSError:
        return None
    checksum, _, body = data.partition(b"\n")
    if len(data) > MAX_ENTRY or checksum != digest_of(body).encode("ascii"):
        return None
    try:
        return json.loads(body)
    except (ValueError, RecursionError):
        return None


def _files_unchanged(plain: Any, name: str, content: str) -> bool:
    """Whether all files read are as an entry says. The entry itself is untrusted input."""
    folder = PurePath(name).parent
    files = dict(plain["files"])
    if files.pop(name) != content:
        return False
    if not all(_leads_there(*each) for each in plain["links"]):
        return False
    for each, digest in files.items():
        path = Path(each)
        inside = path.parts[len(folder.parts) :]
        if path.parts[: len(folder.parts)] != folder.parts or ".." in inside:
            return False
        if not digest or digest_on_disk(path) != digest:
            return False
    return True


def _leads_there(folder: str, named: str, inside: str) -> bool:
    """Whether a path, seen from the folder, leads to the same place as before."""
    try:
        return Path(os.path.relpath(Path(named).resolve(), Path(folder).resolve())) == Path(inside)
    except (OSError, RuntimeError, ValueError):
        return False


def _touch(path: Path) -> None:
    """Update the time of a used entry, once a day."""
    with suppress(OSError):
        if time.time() - path.stat().st_mtime > 86400:
            os.utime(path, follow_symlinks=False)


def prune(folder: Path) -> None:
    """Delete entries unused for long, and the oldest ones if there are too many."""
    now = time.time()
    entries: list[tuple[float, int, str]] = []
    with suppress(OSError):
        for group in [each for each in os.scandir(folder) if len(each.name) == 2]:
            for each in os.scandir(group) if group.is_dir(follow_symlinks=False) else ():
                with suppress(OSError):
                    status = each.stat(follow_symlinks=False)
                    if each.name.endswith(PART):
                        if now - status.st_mtime > 3600:  # its writer has ended
                            os.unlink(each.path)
                    elif each.name.endswith(ENDING):
                        entries.append((status.st_mtime, status.st_size, each.path))
    entries.sort(reverse=True)  # the latest first
    size = 0
    full = len(entries) > MAX_ENTRIES or sum(each[1] for each in entries) > MAX_SIZE
    share = KEPT_SHARE if full else 1.0
    for number, (used, length, path) in enumerate(entries, 1):
        size += length
        if now - used > MAX_AGE or number > share * MAX_ENTRIES or size > share * MAX_SIZE:
            with suppress(OSError):
                os.unlink(path)
