"""Files to text: which files to read, and text that is known to be clean UTF-8."""

from __future__ import annotations

import errno
import os
import stat
from bisect import bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from decimal import Decimal
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar, Final, Literal, TypeAlias

from ..base.errors import InputError, Place, UsageError
from ..base.lazy import dataclass, pattern
from .limits import MAX_BYTES

if TYPE_CHECKING:
    from hashlib import blake2b

    from .places import Locations

Plain: TypeAlias = "dict[str, Plain] | list[Plain] | str | int | Decimal | bool"
"""A value without places. Never null, never float. Aliased parts of a YAML file are one shared
object, so a plain tree is to be read, not changed."""

Form = Literal["yaml", "json"]

SUFFIXES: Final = (".yaml", ".yml", ".json")
SCHEMA_NAME: Final = "machine.schema.json"
"""The schema that editors look for beside a starter file; in a folder it is no machine file."""

_LINE_BREAK = pattern(r"\r\n?|\n")
# What YAML 1.2 calls printable, less the line breaks that only some readers honour (U+0085, U+2028,
# U+2029: libyaml would split a line there and an editor would not) and the byte order mark.
FOREIGN = pattern(
    "[^\t\n\r\x20-\x7e\xa0-\u2027\u202a-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]"
)


@dataclass(frozen=True)
class Source:
    """One file as text. ``name`` is how the user knows it; a byte order mark is not in ``text``.

    Offsets into ``text`` count code points. Lines end at CR LF, LF or CR.
    """

    path: Path
    name: str
    text: str
    form: Form
    bom: bool = False

    verbatim: ClassVar[bool] = True
    """Whether its values stand as the machine file writes them, so that one could be replaced."""

    @cached_property
    def line_starts(self) -> Sequence[int]:
        """The offset at which each line starts; never empty."""
        from array import array

        starts = array("i", [0])
        starts.extend(match.end() for match in _LINE_BREAK.finditer(self.text))
        return starts

    @cached_property
    def locations(self) -> Locations:
        """Where every value of the file stands (see places.py); scanned when first asked for."""
        from .places import scan

        return scan(self)

    def line_text(self, line: int) -> str:
        """The text of the 1-based ``line`` without its line break; empty beyond the last line."""
        starts = self.line_starts
        if not 1 <= line <= len(starts):
            return ""
        end = starts[line] if line < len(starts) else len(self.text)
        return self.text[starts[line - 1] : end].rstrip("\r\n")

    def position(self, offset: int) -> tuple[int, int]:
        """1-based line and column of ``offset``."""
        line = bisect_right(self.line_starts, offset)
        return line, offset - self.line_starts[line - 1] + 1

    def place(self, start: int, end: int) -> Place:
        """The place of ``text[start:end]``; an empty stretch is shown one column wide."""
        line, column = self.position(start)
        end_line, end_column = self.position(end) if end > start else (line, column + 1)
        return Place(self.name, line, column, end_line, end_column)

    def error(self, what: str, start: int, end: int, expected: str = "") -> InputError:
        """An error about ``text[start:end]``, to be raised by the caller."""
        return self.error_at(what, self.place(start, end), expected)

    def error_at(self, what: str, place: Place, expected: str = "") -> InputError:
        """An error about ``place`` in this file, to be raised by the caller."""
        return InputError(
            what, expected=expected, place=place, source_line=self.line_text(place.line)
        )


_UNSAVED: ContextVar[Mapping[Path, str] | None] = ContextVar("unsaved", default=None)


@contextmanager
def unsaved(texts: Mapping[Path, str]) -> Iterator[None]:
    """Let files be read as ``texts`` has them, by path, whatever the disk holds (if anything).

    It is for text in an editor and for changes that are tried before they are written. It holds
    for the calls made inside it, in this thread, and covers machine, project, mapping, settings
    and waiver files and accepted sets, with all they include; not exports.
    """
    token = _UNSAVED.set({path.resolve(): text for path, text in texts.items()})
    try:
        yield
    finally:
        _UNSAVED.reset(token)


def unsaved_bytes(path: Path) -> bytes | None:
    """What ``path`` holds according to ``unsaved``; None if it says nothing of it."""
    texts = _UNSAVED.get()
    text = texts.get(path.resolve()) if texts else None
    return None if text is None else text.encode("utf-8", "surrogatepass")


class Reading:
    """What was read while it was kept (see ``keep_reading``).

    ``digests`` are of the bytes of each file, by path. ``links`` are paths as files name them with
    where each led, seen from the real place of its folder. ``streamed`` are files that were read
    bit by bit, whose digests were taken before.
    """

    def __init__(self) -> None:
        self.digests: dict[str, str] = {}
        self.links: dict[tuple[str, str], str] = {}
        self.streamed: set[str] = set()


_READING: ContextVar[Reading | None] = ContextVar("reading", default=None)


@contextmanager
def keep_reading() -> Iterator[Reading]:
    """Give an account of all files that the calls made inside read, whether they succeed or not."""
    reading = Reading()
    token = _READING.set(reading)
    try:
        yield reading
    finally:
        _READING.reset(token)


def digest_of(data: bytes) -> str:
    """A fingerprint of the content of a file."""
    return _hasher(data).hexdigest()


def _hasher(data: bytes = b"") -> blake2b:
    try:
        from _blake2 import blake2b  # hashlib's, without OpenSSL, which takes a while to load
    except ImportError:
        from hashlib import blake2b
    return blake2b(data, digest_size=20)


def note_read(path: Path, data: bytes) -> None:
    """Account for a file that was read, if an account is kept."""
    reading = _READING.get()
    if reading is not None:
        reading.digests[path.as_posix()] = digest_of(data)


def note_streamed(path: Path) -> None:
    """Account for a file that is about to be read bit by bit, if an account is kept."""
    reading = _READING.get()
    if reading is not None:
        reading.digests[path.as_posix()] = digest_on_disk(path)
        reading.streamed.add(path.as_posix())


def note_link(folder: Path, named: Path, inside: str) -> None:
    """Account for where a path that a file names led: to ``inside``, seen from ``folder``."""
    reading = _READING.get()
    if reading is not None:
        reading.links[folder.as_posix(), named.as_posix()] = inside


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
    """Where a path leads through links. Raises UsageError for links that lead in a circle."""
    try:
        path.stat()
    except OSError as fault:  # what Path.resolve does about a circle depends on Python's version
        if fault.errno == errno.ELOOP:
            raise UsageError(
                f"{path} leads in a circle of links", expected="a file or folder"
            ) from None
    return path.resolve()


def find_sources(paths: Sequence[Path]) -> list[Path]:
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
        elif resolved(path).exists() or unsaved_bytes(path) is not None:
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


def read_source(path: Path) -> Source:
    """Read one file as UTF-8 text.

    A name ending in .json is JSON, any other is YAML. Raises InputError for a file that cannot be
    read, is too large or empty, is not UTF-8, or holds characters no reader should meet.
    """
    name = path.as_posix()
    data = _bytes(path, name)
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


def _bytes(path: Path, name: str) -> bytes:
    try:
        data = unsaved_bytes(path)
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
    note_read(path, data)
    return data


def _undecodable(path: Path, name: str, data: bytes, at: int, form: Form) -> InputError:
    seen = data[:at].decode("utf-8")
    source = Source(path, name, seen + data[at:].decode("utf-8", "replace"), form)
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        what = "the file is UTF-16"
    else:
        what = f"the byte 0x{data[at]:02X} is not UTF-8"
    return source.error(what, len(seen), len(seen) + 1, "a file saved as UTF-8")


def check_text(source: Source) -> None:
    """Raise InputError at the first character that has no business in a machine file."""
    text = source.text
    if text.replace("\n", "").replace("\r", "").replace("\t", "").isprintable():
        return  # what Unicode calls printable is never foreign, and quickly told
    foreign = FOREIGN.search(text)
    if foreign is None:
        return
    code = ord(foreign[0])
    if code in (0x85, 0x2028, 0x2029):
        what, expected = (
            f"the line break U+{code:04X} is not seen as one by every program",
            "an ordinary line break, or an escape",
        )
    elif code == 0xFEFF:
        what, expected = (
            "a byte order mark (U+FEFF) stands inside the text",
            "none, or one at the start",
        )
    elif code == 0 and text.count("\0") > len(text) // 4:
        what, expected = "the file holds NUL bytes and looks like UTF-16", "a file saved as UTF-8"
    elif 0xD800 <= code <= 0xDFFF:
        what, expected = f"U+{code:04X} is half a surrogate pair", "whole characters"
    else:
        what, expected = f"the file holds the control character U+{code:04X}", "printable text"
    raise source.error(what, foreign.start(), foreign.end(), expected)


def unprintable(text: str) -> str:
    """The first character in a scalar's value that must not reach a report, as U+XXXX, or ''.

    Escapes can smuggle in what check_text refuses in the open: terminal control sequences, NUL and
    halves of surrogate pairs. Line breaks written as escapes are fine.
    """
    if text.isprintable():
        return ""
    for character in text:
        code = ord(character)
        if (code < 0x20 and code not in (9, 10, 13)) or (0x7F <= code < 0xA0 and code != 0x85):
            return f"U+{code:04X}"
        if 0xD800 <= code <= 0xDFFF or code in (0xFFFE, 0xFFFF):
            return f"U+{code:04X}"
    return ""


def parse(source: Source) -> Plain:
    """The plain value of ``source``. Raises InputError, with a place, for anything unusable."""
    if source.form == "json":
        from .json import parse_json

        return parse_json(source)
    from .yaml import parse_yaml

    return parse_yaml(source)
