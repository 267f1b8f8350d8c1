"""Which files to read, and how: one Reader is passed to whoever reads a file for a run."""

from __future__ import annotations

import errno
import os
import stat
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path

from ..base.errors import InputError, UsageError
from ..base.lazy import dataclass, field, pattern, replace
from .files import Form, Kind, Source, check_text
from .limits import MAX_BYTES

TYPE_CHECKING = False
if TYPE_CHECKING:
    from hashlib import blake2b
    from typing import BinaryIO, Final

    from .shelf import Shelf
    from .store import Store

SUFFIXES: Final = (".yaml", ".yml", ".json")
SCHEMA_NAME: Final = "machine.schema.json"
"""The schema that editors look for beside a starter file; in a folder it is no machine file."""


class FilesRead:
    """An account of the files that a reader read, whether they could be used or not.

    ``digests`` are of the bytes of each file, by path. ``links`` are paths as files name them with
    where each led, seen from the real place of its folder. ``streamed`` are files that were read
    bit by bit, whose digests were taken before. ``plates`` are digests of the plates of a shelf
    that were used.
    """

    def __init__(self) -> None:
        self.digests: dict[str, str] = {}
        self.links: dict[tuple[str, str], str] = {}
        self.streamed: set[str] = set()
        self.plates: dict[str, str] = {}

    @property
    def content(self) -> str:
        """One fingerprint of all that was read."""
        files = sorted({**self.digests, **self.plates}.items())
        lines = "\n".join(f"{digest} {name}" for name, digest in files)
        return digest_of(lines.encode("utf-8", "surrogatepass"))


@dataclass(frozen=True, slots=True)
class Reader:
    """How files are read: from the disk, from a store such as a git revision, or as texts given.

    ``texts`` has such texts by resolved path, whatever the disk holds (if anything): unsaved text
    in an editor, and changes that are tried before they are written. They stand for machine,
    project, mapping, settings and waiver files and accepted sets, with all they include; not for
    exports, whose encoding a text does not have, nor for rules. Paths that ``store`` holds are
    those of its files (see revisions.py and carried.py). What is read goes into ``account``, if
    there is one. ``shelf`` has the plates that machines name by type. ``keep`` gives a source that
    stands for one that was read, such as one that is parsed already.
    """

    texts: Mapping[Path, str] = field(default_factory=dict)
    account: FilesRead | None = None
    shelf: Shelf | None = None
    store: Store | None = None
    keep: Callable[[Source], Source] | None = None

    @classmethod
    def of(cls, texts: Mapping[Path, str]) -> Reader:
        """A reader with texts by any path."""
        return cls({path.resolve(): text for path, text in texts.items()})

    def keeping(self, keep: Callable[[Source], Source]) -> Reader:
        """The same reader, whose sources are those that a function gives for them."""
        return replace(self, keep=keep)

    def with_account(self, account: FilesRead) -> Reader:
        """The same reader, which accounts for what it reads from now on."""
        return replace(self, account=account)

    def with_shelf(self, shelf: Shelf | None) -> Reader:
        """The same reader, with the plates of a shelf."""
        return replace(self, shelf=shelf)

    def given(self, path: Path) -> bytes | None:
        """What ``path`` holds according to ``texts``; None if they say nothing of it."""
        text = self.texts.get(path.resolve()) if self.texts else None
        return None if text is None else text.encode("utf-8", "surrogatepass")

    def store_of(self, path: Path) -> Store | None:
        """The store that a path belongs to; None for a path of the disk."""
        store = self.store
        return store if store is not None and store.holds(path) else None

    def name(self, path: Path) -> str:
        """A path as the user knows it."""
        store = self.store_of(path)
        return path.as_posix() if store is None else store.name(path)

    def path(self, name: str) -> Path:
        """The path of a name that ``name`` made."""
        return Path(name) if self.store is None else self.store.path(name)

    def real(self, path: Path) -> Path:
        """Where a path leads through links.

        Raises UsageError for links that lead in a circle, for a link of a revision on the way, and
        for what no path can hold, such as a NUL.
        """
        store = self.store_of(path)
        return resolved(path) if store is None else store.real(path)

    def exists(self, path: Path) -> bool:
        """Whether anything stands at a path, be it a link that leads nowhere."""
        store = self.store_of(path)
        if store is not None:
            return store.kind(path) is not None
        return os.path.lexists(path) or self.given(path) is not None

    def kind(self, path: Path) -> Kind | None:
        """What stands at a path; None for nothing."""
        store = self.store_of(path)
        if store is not None:
            return store.kind(path)
        if self.given(path) is not None:
            return "file"
        try:
            return _kind(path.stat())
        except ValueError:  # a NUL in the name
            return None
        except OSError as fault:
            if fault.errno in (errno.ENOENT, errno.ENOTDIR, errno.EBADF, errno.ELOOP):
                return None
            raise

    def is_folder(self, path: Path) -> bool:
        """Whether a path leads to a folder."""
        return self.kind(path) == "folder"

    def status(self, path: Path) -> tuple[Kind, int]:
        """What is kept at a path, whatever texts are given, and the size of a file in bytes.

        Raises OSError if nothing is, and ValueError for what no path can hold.
        """
        store = self.store_of(path)
        if store is not None:
            return store.status(path)
        status = path.stat()
        return _kind(status), status.st_size

    def open(self, path: Path) -> BinaryIO:
        """The bytes that are kept at a path, whatever texts are given. Raises OSError."""
        store = self.store_of(path)
        if store is None:
            return path.open("rb")
        from io import BytesIO

        return BytesIO(store.read(path))

    def files_below(
        self, folder: Path, wanted: Callable[[str], bool], hidden: bool = False
    ) -> list[Path]:
        """The files of a folder and of those in it whose names are wanted, sorted.

        Folders whose names begin with a dot are passed over, unless ``hidden``; links to folders
        are not followed. Raises UsageError for a file that is a link out of the folder: nobody
        named it, and a message about it would show what it holds.
        """
        store = self.store_of(folder)
        if store is not None:
            return store.files_below(folder, wanted, hidden)
        found = []
        for top, folders, files in os.walk(folder):
            if not hidden:
                folders[:] = [name for name in folders if not name.startswith(".")]
            found += [Path(top, name) for name in files if wanted(name)]
        for file in found:
            if file.is_symlink() and not resolved(file).is_relative_to(resolved(folder)):
                raise UsageError(
                    f"{file} is a link that leads out of the folder {folder}",
                    expected="files in the folder, or the file by its name",
                )
        return sorted(found, key=lambda path: path.parts)

    def note_read(self, path: Path, data: bytes) -> None:
        """Account for a file that was read."""
        if self.account is not None:
            self.account.digests[path.as_posix()] = digest_of(data)

    def note_plate(self, path: Path, text: str) -> None:
        """Account for a plate that was read before, and that a machine uses."""
        if self.account is not None:
            self.account.plates[path.as_posix()] = digest_of(text.encode("utf-8", "surrogatepass"))

    def note_streamed(self, path: Path) -> None:
        """Account for a file that is about to be read bit by bit."""
        if self.account is not None:
            store = self.store_of(path)
            digest = digest_on_disk(path) if store is None else digest_of(store.read(path))
            self.account.digests[path.as_posix()] = digest
            self.account.streamed.add(path.as_posix())

    def note_link(self, folder: Path, named: Path, inside: str) -> None:
        """Account for where a path that a file names led: to ``inside``, seen from ``folder``."""
        if self.account is not None:
            self.account.links[folder.as_posix(), named.as_posix()] = inside


DISK: Final = Reader()
"""Reads what the disk holds and keeps no account."""


def _kind(status: os.stat_result) -> Kind:
    if stat.S_ISDIR(status.st_mode):
        return "folder"
    return "file" if stat.S_ISREG(status.st_mode) else "other"


def digest_of(data: bytes | memoryview) -> str:
    """A fingerprint of the content of a file."""
    return _hasher(data).hexdigest()


def digest_of_pieces(pieces: Iterable[bytes]) -> str:
    """The fingerprint of the content that these pieces are together."""
    hasher = _hasher()
    for piece in pieces:
        hasher.update(piece)
    return hasher.hexdigest()


def _hasher(data: bytes | memoryview = b"") -> blake2b:
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
    """Where a path of the disk leads through links.

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


STDIN: Final = Path("-")
"""Stands for standard input, where ``texts`` of a reader hold it."""

_JSON: Final = pattern(rb'\s*\{\s*"')
"""Begins a text of standard input that is JSON and not YAML."""


def find_sources(paths: Sequence[Path], reader: Reader = DISK) -> list[Path]:
    """The files to read: files as given, folders searched for machine files in sorted order.

    Dot-folders and dot-files inside a given folder are passed over, links to folders are not
    followed, and a file met twice is listed once. Raises UsageError for a path that does not exist,
    for a folder without machine files, and for a link in it that leads out of it.
    """
    found: dict[Path, Path] = {}
    for path in paths:
        if reader.is_folder(path):
            inside = reader.files_below(path, _may_be_machine)
            if not inside:
                raise UsageError(
                    f"the folder {reader.name(path)} holds no machine file",
                    expected="at least one *.yaml, *.yml or *.json file in it",
                )
        elif reader.kind(reader.real(path)) is not None:
            inside = [path]
        else:
            raise UsageError(f"there is no file or folder {reader.name(path)}")
        for each in inside:
            found.setdefault(reader.real(each), each)
    return list(found.values())


def _may_be_machine(name: str) -> bool:
    return name.lower().endswith(SUFFIXES) and not name.startswith(".") and name != SCHEMA_NAME


POINTER: Final = b"version https://git-lfs"


def read_source(path: Path, reader: Reader = DISK) -> Source:
    """Read one file as UTF-8 text.

    A name ending in .json is JSON, any other is YAML. Raises InputError for a file that cannot be
    read, is too large or empty, is not UTF-8, or holds characters that check_text refuses.
    """
    name = reader.name(path)
    data = _bytes(path, name, reader)
    bom = data.startswith(b"\xef\xbb\xbf")
    if bom:
        data = data[3:]
    is_json = path.name.lower().endswith(".json") or (path == STDIN and _JSON.match(data))
    form: Form = "json" if is_json else "yaml"
    try:
        source = Source(path, name, data.decode("utf-8"), form, bom)
    except UnicodeDecodeError as fault:
        raise undecodable(path, name, data, fault.start, form) from None
    if not data.strip():
        raise source.error("the file is empty", 0, 0, "a machine description")
    if data.startswith(POINTER):
        what = "the file is a pointer of git's large file storage, and not the file itself"
        raise source.error(what, 0, 0, "the file that it stands for, fetched from that storage")
    check_text(source)
    return source if reader.keep is None else reader.keep(source)


def _bytes(path: Path, name: str, reader: Reader) -> bytes:
    try:
        data = reader.given(path)
        if data is None:
            kind, size = reader.status(path)
            if kind == "folder":
                raise InputError(f"{name} is a folder", expected="a file")
            if kind != "file":
                raise InputError(f"{name} is not a regular file", expected="a regular file")
            with reader.open(path) as stream:
                data = stream.read(min(size, MAX_BYTES) + 1)
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


def undecodable(path: Path, name: str, data: bytes, at: int, form: Form) -> InputError:
    """The error, to be raised by the caller, that the byte at an offset is not UTF-8."""
    seen = data[:at].decode("utf-8")
    source = Source(path, name, seen + data[at:].decode("utf-8", "replace"), form)
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        what = "the file is UTF-16"
    else:
        what = f"the byte 0x{data[at]:02X} is not UTF-8"
    return source.error(what, len(seen), len(seen) + 1, "a file saved as UTF-8")
