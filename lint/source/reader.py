"""Which files to read, and how: one Reader is passed to whoever reads a file for a run."""

from __future__ import annotations

import errno
import os
import stat
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from ..base.errors import InputError, UsageError
from ..base.lazy import dataclass, field, replace
from .files import Form, Source, check_text
from .limits import MAX_BYTES

TYPE_CHECKING = False
if TYPE_CHECKING:
    from hashlib import blake2b
    from typing import Final

SUFFIXES: Final = (".yaml", ".yml", ".json")
SCHEMA_NAME: Final = "machine.schema.json"
"""The schema that editors look for beside a starter file; in a folder it is no machine file."""


class FilesRead:
    """An account of the files that a reader read, whether they could be used or not.

    ``digests`` are of the bytes of each file, by path. ``links`` are paths as files name them with
    where each led, seen from the real place of its folder. ``streamed`` are files that were read
    bit by bit, whose digests were taken before.
    """

    def __init__(self) -> None:
        self.digests: dict[str, str] = {}
        self.links: dict[tuple[str, str], str] = {}
        self.streamed: set[str] = set()


@dataclass(frozen=True, slots=True)
class Reader:
    """How files are read: from the disk, but for those whose text is given.

    ``texts`` has such texts by resolved path, whatever the disk holds (if anything): unsaved text
    in an editor, and changes that are tried before they are written. They stand for machine,
    project, mapping, settings and waiver files and accepted sets, with all they include; not for
    exports. What is read goes into ``account``, if there is one. Files of a git revision are laid
    out in a folder first (see revisions.py) and read from there.
    """

    texts: Mapping[Path, str] = field(default_factory=dict)
    account: FilesRead | None = None

    @classmethod
    def of(cls, texts: Mapping[Path, str]) -> Reader:
        """A reader with texts by any path."""
        return cls({path.resolve(): text for path, text in texts.items()})

    def with_account(self, account: FilesRead) -> Reader:
        """The same reader, which accounts for what it reads from now on."""
        return replace(self, account=account)

    def given(self, path: Path) -> bytes | None:
        """What ``path`` holds according to ``texts``; None if they say nothing of it."""
        text = self.texts.get(path.resolve()) if self.texts else None
        return None if text is None else text.encode("utf-8", "surrogatepass")

    def note_read(self, path: Path, data: bytes) -> None:
        """Account for a file that was read."""
        if self.account is not None:
            self.account.digests[path.as_posix()] = digest_of(data)

    def note_streamed(self, path: Path) -> None:
        """Account for a file that is about to be read bit by bit."""
        if self.account is not None:
            self.account.digests[path.as_posix()] = digest_on_disk(path)
            self.account.streamed.add(path.as_posix())

    def note_link(self, folder: Path, named: Path, inside: str) -> None:
        """Account for where a path that a file names led: to ``inside``, seen from ``folder``."""
        if self.account is not None:
            self.account.links[folder.as_posix(), named.as_posix()] = inside


DISK: Final = Reader()
"""Reads what the disk holds and keeps no account."""


def digest_of(data: bytes) -> str:
    """A fingerprint of the content of a file."""
    return _hasher(data).hexdigest()


def _hasher(data: bytes = b"") -> blake2b:
    try:
        from _blake2 import blake2b  # hashlib's, without OpenSSL, which takes a while to load
    except ImportError:
        from hashlib import blake2b
    return blake2b(data, digest_size=20)


def digest_on_disk(path: Path) -> str:
    """The fingerprint of a file on the disk; empty if it cannot be read or is no file."""
    try:
        if not stat.S_ISREG(path.stat().st_mode):
            return ""
        hasher = _hasher()
        with path.open("rb") as stream:
            while data := stream.read(1 << 20):
                hasher.update(data)
    except OSError:
        return ""
    return hasher.hexdigest()


def resolved(path: Path) -> Path:
    """Where a path leads through links.

    Raises UsageError for links that lead in a circle and for what no path can hold, such as a NUL.
    """
    try:
        path.stat()
    except ValueError:
        raise UsageError(f"there is no file or folder {path}") from None
    except OSError as fault:  # what Path.resolve does about a circle depends on Python's version
        if fault.errno == errno.ELOOP:
            raise UsageError(
                f"{path} leads in a circle of links", expected="a file or folder"
            ) from None
    return path.resolve()


def find_sources(paths: Sequence[Path], reader: Reader = DISK) -> list[Path]:
    """The files to read: files as given, folders searched for machine files in sorted order.

    Dot-folders and dot-files inside a given folder are passed over, links to folders are not
    followed, and a file met twice is listed once. Raises UsageError for a path that does not exist,
    for a folder without machine files, and for a link in it that leads out of it.
    """
    found: dict[Path, Path] = {}
    for path in paths:
        if path.is_dir():
            inside = _search(path)
            if not inside:
                raise UsageError(
                    f"the folder {path} holds no machine file",
                    expected="at least one *.yaml, *.yml or *.json file in it",
                )
        elif resolved(path).exists() or reader.given(path) is not None:
            inside = [path]
        else:
            raise UsageError(f"there is no file or folder {path}")
        for each in inside:
            found.setdefault(resolved(each), each)
    return list(found.values())


def refuse_links_out(folder: Path, files: Iterable[Path]) -> None:
    """Raise UsageError if one of the files found in a folder is a link that leads out of it.

    Nobody named that file, and a message about it would show what it holds.
    """
    for file in files:
        if file.is_symlink() and not resolved(file).is_relative_to(resolved(folder)):
            raise UsageError(
                f"{file} is a link that leads out of the folder {folder}",
                expected="files in the folder, or the file by its name",
            )


def _search(folder: Path) -> list[Path]:
    hits = []
    for top, folders, files in os.walk(folder):
        folders[:] = [name for name in folders if not name.startswith(".")]
        hits += [
            Path(top, name)
            for name in files
            if name.lower().endswith(SUFFIXES) and not name.startswith(".") and name != SCHEMA_NAME
        ]
    refuse_links_out(folder, hits)
    return sorted(hits, key=lambda path: path.parts)


def read_source(path: Path, reader: Reader = DISK) -> Source:
    """Read one file as UTF-8 text.

    A name ending in .json is JSON, any other is YAML. Raises InputError for a file that cannot be
    read, is too large or empty, is not UTF-8, or holds characters that check_text refuses.
    """
    name = path.as_posix()
    data = _bytes(path, name, reader)
    bom = data.startswith(b"\xef\xbb\xbf")
    if bom:
        data = data[3:]
    form: Form = "json" if path.name.lower().endswith(".json") else "yaml"
    try:
        source = Source(path, name, data.decode("utf-8"), form, bom)
    except UnicodeDecodeError as fault:
        raise _undecodable(path, name, data, fault.start, form) from None
    if not data.strip():
        raise source.error("the file is empty", 0, 0, "a machine description")
    check_text(source)
    return source


def _bytes(path: Path, name: str, reader: Reader) -> bytes:
    try:
        data = reader.given(path)
        if data is None:
            status = path.stat()
            if stat.S_ISDIR(status.st_mode):
                raise InputError(f"{name} is a folder", expected="a file")
            if not stat.S_ISREG(status.st_mode):
                raise InputError(f"{name} is not a regular file", expected="a regular file")
            with path.open("rb") as stream:
                data = stream.read(min(status.st_size, MAX_BYTES) + 1)
                while len(data) <= MAX_BYTES and (more := stream.read(1 << 20)):
                    data += more  # it grows, or did not say how large it is
    except (OSError, ValueError) as fault:  # ValueError: a NUL in the name
        reason = getattr(fault, "strerror", None) or str(fault)
        raise InputError(f"{name} cannot be read: {reason.lower()}") from None
    if len(data) > MAX_BYTES:
        raise InputError(
            f"{name} is larger than {MAX_BYTES // 2**20} MiB", expected="a smaller file"
        )
    reader.note_read(path, data)
    return data


def _undecodable(path: Path, name: str, data: bytes, at: int, form: Form) -> InputError:
    seen = data[:at].decode("utf-8")
    source = Source(path, name, seen + data[at:].decode("utf-8", "replace"), form)
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        what = "the file is UTF-16"
    else:
        what = f"the byte 0x{data[at]:02X} is not UTF-8"
    return source.error(what, len(seen), len(seen) + 1, "a file saved as UTF-8")
