"""Exports in a zip file, named like files in a folder: ``backup.zip/axis_list.csv``.

Nothing is unpacked to the disk, and no more is unpacked than a file may be large.
"""

from __future__ import annotations

import io
import zipfile
import zlib
from pathlib import Path
from typing import BinaryIO, Final

from ..base.errors import InputError
from ..source.limits import MAX_BYTES, shortened
from ..source.reader import DISK, Reader

ENDING: Final = ".zip"

MAX_MEMBERS: Final = 10_000
"""Most files in an archive."""


def is_inside(path: Path, reader: Reader = DISK) -> bool:
    """Whether a path leads into a zip file."""
    return archive_of(path, reader) is not None


def archive_of(path: Path, reader: Reader = DISK) -> tuple[Path, str] | None:
    """The zip file into which a path leads, and the name of the file in it."""
    if ENDING not in path.as_posix().lower():
        return None
    for folder in path.parents:
        if folder.suffix.lower() == ENDING and reader.kind(folder) == "file":
            return folder, path.relative_to(folder).as_posix()
    return None


def exists(path: Path, reader: Reader = DISK) -> bool:
    """Whether there is such a file, by itself or in a zip file."""
    inside = archive_of(path, reader)
    if inside is None:
        return reader.kind(path) == "file"
    try:
        with reader.open(inside[0]) as stream, zipfile.ZipFile(stream) as archive:
            return inside[1] in archive.NameToInfo
    except (OSError, zipfile.BadZipFile, ValueError, NotImplementedError):
        return True  # reading it says what is wrong


def open_binary(path: Path, reader: Reader = DISK) -> BinaryIO:
    """A file to read, by itself or in a zip file. Raises OSError and, of archives, InputError."""
    inside = archive_of(path, reader)
    return reader.open(path) if inside is None else io.BytesIO(member_bytes(*inside, reader))


def member_bytes(path: Path, member: str, reader: Reader = DISK) -> bytes:
    """A file of an archive. Raises InputError for one that is missing, locked, broken or too large.

    What an archive says of the size of its files is not believed.
    """
    name = reader.name(path)
    expected = "a zip file with exports, without password"
    try:
        with reader.open(path) as file, zipfile.ZipFile(file) as archive:
            if len(archive.filelist) > MAX_MEMBERS:
                raise InputError(f"{name} holds more than {MAX_MEMBERS} files", expected=expected)
            info = archive.NameToInfo.get(member)
            if info is None or info.is_dir():
                known = [each.filename for each in archive.filelist if not each.is_dir()]
                raise InputError(
                    f"{name} holds no file {shortened(member)}",
                    expected=f"one of {', '.join(map(shortened, known[:12]))}"
                    if known
                    else "files",
                )
            if info.flag_bits & 1:
                raise InputError(f"{name}/{member} is locked by a password", expected=expected)
            with archive.open(info) as stream:
                data = stream.read(MAX_BYTES + 1)
    except (zipfile.BadZipFile, zlib.error, NotImplementedError, ValueError, EOFError) as fault:
        raise InputError(
            f"{name} cannot be read as a zip file: {shortened(str(fault)) or 'it is cut off'}",
            expected=expected,
        ) from None
    except OSError as fault:
        reason = (fault.strerror or str(fault)).lower()
        raise InputError(f"{name} cannot be read: {reason}", expected=expected) from None
    if len(data) > MAX_BYTES:
        raise InputError(
            f"{name}/{member} is larger than {MAX_BYTES // 2**20} MiB", expected="a smaller file"
        )
    return data
