"""An export as a source of facts: what it states, and on which line of it.

An Export stands in a Tree beside hand-written files; findings then point into the export itself.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from io import TextIOWrapper
from itertools import islice
from pathlib import Path
from typing import Any, ClassVar, Final, TextIO

from ..base.errors import InputError, Place
from ..source.files import Form, Plain, Source
from ..source.limits import MAX_BYTES
from ..source.outline import MAPPING, PLAIN, Node, Outline
from ..source.places import KeyPath, LocatedSource, Locations, Scalar, path_text
from ..source.reader import DISK, POINTER, Reader
from .archive import archive_of, member_bytes

MAX_LINE: Final = 100_000
"""Longest line of an export that is shown, in characters."""


@dataclass(frozen=True, slots=True)
class Statement:
    """One fact that an export states.

    ``path`` leads from the top of the machine file to the fact, ``value`` is written as there
    ("10 mm"), ``place`` is where the export says so, and ``note`` names what says it.
    """

    path: KeyPath
    value: Plain
    place: Place
    note: str


@dataclass(frozen=True, slots=True)
class ImportRemark:
    """Something an import leaves out, and why; ``place`` is where the export says it."""

    place: Place
    text: str

    def __str__(self) -> str:
        return f"{self.place}: {self.text}"


@dataclass(frozen=True, eq=False)
class Export(LocatedSource):
    """A file that states facts in a form of its own. ``text`` is empty if it is read in a stream.

    ``statements`` are by path. A streamed file is opened again by ``reader`` when a line of it is
    shown.
    """

    statements: Mapping[KeyPath, Statement] = field(default_factory=dict)
    remarks: tuple[ImportRemark, ...] = ()
    encoding: str = "utf-8"
    streamed: bool = False
    reader: Reader = DISK

    verbatim: ClassVar[bool] = False

    @cached_property
    def locations(self) -> Locations:
        """Where the facts stand, by their path in the machine file."""
        return ExportLocations(self, Outline(), _with_parents(self.statements.values()))

    def line_text(self, line: int) -> str:
        """The text of the 1-based ``line`` without its line break; empty beyond the last line."""
        if not self.streamed:
            return Source.line_text(self, line)
        return streamed_line(self.path, self.encoding, line, self.reader)

    def plain(self) -> dict[str, Plain]:
        """The facts as a plain tree."""
        tree: dict[str | int, Any] = {}
        for path, statement in self.statements.items():
            here = tree
            for part in path[:-1]:
                here = here.setdefault(part, {})
            here[path[-1]] = statement.value
        return {str(key): _with_lists(value) for key, value in tree.items()}


def _with_lists(value: Any) -> Plain:
    """A tree in which what is counted, from 0 on, is a list."""
    if not isinstance(value, dict):
        plain: Plain = value
        return plain
    if all(isinstance(key, int) for key in value):
        return [_with_lists(value[number]) for number in sorted(value)]
    return {str(key): _with_lists(inner) for key, inner in value.items()}


@dataclass(frozen=True)
class ExportLocations(Locations):
    """Places of the facts of an export; a record stands where the first of its facts does."""

    places: Mapping[KeyPath, tuple[Place, bool]] = field(default_factory=dict)

    def node(self, path: KeyPath) -> Node | None:
        """A node without offsets, if the export states something at or below ``path``."""
        found = self.places.get(path)
        if found is None:
            return None
        outline = Outline()
        return outline.node(outline.add(0, 0, PLAIN if found[1] else MAPPING, None))

    def value(self, path: KeyPath) -> Place | None:
        """Where the export states the value."""
        found = self.places.get(path)
        return None if found is None else found[0]

    def key(self, path: KeyPath) -> Place | None:
        """The same as ``value``: an export has no keys of the machine file."""
        return self.value(path)

    def scalar(self, path: KeyPath) -> Scalar | None:
        """None: an export holds no text of the machine file that could be replaced."""
        return None


def _with_parents(statements: Iterable[Statement]) -> dict[KeyPath, tuple[Place, bool]]:
    places: dict[KeyPath, tuple[Place, bool]] = {}
    for statement in statements:
        for cut in range(1, len(statement.path)):
            places.setdefault(statement.path[:cut], (statement.place, False))
        places[statement.path] = (statement.place, True)
        if isinstance(statement.value, list):
            for index in range(len(statement.value)):
                places[(*statement.path, index)] = (statement.place, True)
    return places


class Statements:
    """Statements gathered from one export; each fact may be stated once."""

    def __init__(self) -> None:
        self.by_path: dict[KeyPath, Statement] = {}

    def add(self, statement: Statement, line_text: Callable[[int], str]) -> None:
        """Take a statement. Raises InputError if the export has stated the fact before.

        ``line_text`` gives a line of the export, for the error.
        """
        before = self.by_path.setdefault(statement.path, statement)
        of_machine = statement.path[0] != "axes"  # every axis of a list may state it, alike
        if before is not statement and not (of_machine and before.value == statement.value):
            raise InputError(
                f"{path_text(statement.path)} is stated twice: {statement.note} here, "
                f"{before.note} on line {before.place.line}",
                expected="one statement of each fact in one export",
                place=statement.place,
                source_line=line_text(statement.place.line),
            )


def read_bytes(path: Path, what: str, reader: Reader) -> bytes:
    """The bytes of a file of bounded size. Raises InputError if it cannot be read or is empty."""
    inside = archive_of(path, reader)
    kept = path if inside is None else inside[0]
    check_size(kept, what, reader)
    try:
        with reader.open(kept) as stream:
            data = stream.read()
    except OSError as fault:
        raise InputError(f"{reader.name(kept)} cannot be read: {_reason(fault)}") from None
    reader.note_read(kept, data)
    if inside is not None:
        data = member_bytes(*inside, reader)
        check_filled(reader.name(path), len(data), what)
    refuse_stand_in(reader.name(path), data)
    return data


def refuse_stand_in(name: str, head: bytes) -> None:
    """Raise InputError for a file that holds the export, or stands for it."""
    if head.startswith(POINTER):
        what = "the file is a pointer of git's large file storage, and not the file itself"
        expected = "the file that it stands for, fetched from that storage"
    elif head.startswith(b"PK\x03\x04"):
        what = "the file is a zip file"
        expected = f"the name of the export in it, as in {name}/list.csv"
    else:
        return
    raise InputError(what, expected=expected, place=Place(name, 1, 1, 1, 2), source_line="")


def first_bytes(path: Path, reader: Reader) -> bytes:
    """The first bytes of a file; none if it cannot be read, which the reading of it then tells."""
    try:
        with reader.open(path) as stream:
            return stream.read(64)
    except OSError:
        return b""


def check_size(path: Path, what: str, reader: Reader) -> int:
    """The size of a file in bytes. Raises InputError if it is missing, empty or too large."""
    name = reader.name(path)
    try:
        kind, size = reader.status(path)
    except (OSError, ValueError) as fault:
        raise InputError(f"{name} cannot be read: {_reason(fault)}", expected=what) from None
    if kind != "file":
        raise InputError(f"{name} is not a regular file", expected=what)
    if size > MAX_BYTES:
        raise InputError(
            f"{name} is larger than {MAX_BYTES // 2**20} MiB", expected="a smaller file"
        )
    check_filled(name, size, what)
    return size


def check_filled(name: str, size: int, what: str) -> None:
    """Raise InputError for a file of no bytes."""
    if size == 0:
        raise InputError(
            f"{name} is empty", expected=what, place=Place(name, 1, 1, 1, 2), source_line=""
        )


def _reason(fault: Exception) -> str:
    return (getattr(fault, "strerror", None) or str(fault)).lower()


def decoded(
    path: Path,
    data: bytes,
    encodings: Iterable[str],
    form: Form = "yaml",
    reader: Reader = DISK,
) -> Source:
    """The bytes of a file as text in the first of ``encodings`` that fits.

    Raises InputError, with the line, for bytes that fit none and for NUL characters.
    """
    name = reader.name(path)
    tried = list(encodings)
    for encoding in tried:
        try:
            text = data.decode(encoding)
        except (UnicodeDecodeError, UnicodeError):
            continue
        source = Source(path, name, text.removeprefix("\ufeff"), form)
        nul = source.text.find("\0")
        if nul >= 0:
            raise source.error("the file holds a NUL character", nul, nul + 1, "text")
        return source
    text = data.decode(tried[0], "replace")
    source = Source(path, name, text, form)
    at = max(text.find("\ufffd"), 0)
    raise source.error(f"the text is not {tried[0]}", at, at + 1, f"a file saved as {tried[0]}")


def opened_text(
    path: Path, encoding: str, reader: Reader, errors: str | None = None, newline: str | None = ""
) -> TextIO:
    """An export to be read as text, line by line. Raises OSError."""
    return TextIOWrapper(reader.open(path), encoding, errors, newline)


def streamed_line(path: Path, encoding: str, line: int, reader: Reader) -> str:
    """Line ``line`` of a file that is not held in memory; empty if it is gone or shorter."""
    if line < 1:
        return ""
    try:
        with opened_text(path, encoding, reader, "replace") as stream:
            text = next(islice(stream, line - 1, None), "")
    except (OSError, UnicodeError):
        return ""
    return text.rstrip("\r\n")[:MAX_LINE]
