"""What somebody gave as a machine file, if it is an export: the error says what to do with it."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from ..base.errors import InputError, Place
from ..source.files import Plain
from ..source.reader import POINTER, Reader
from .device_reader import is_device_file
from .foreign import MACHINE_KEYS

_ZIP: Final = b"PK\x03\x04"
_LISTS: Final = frozenset({".csv", ".tsv", ".txt", ".ini", ".prm", ".par", ".xml"})
_HEAD: Final = 4096


def given_export(path: Path, reader: Reader, plain: Plain | None = None) -> InputError | None:
    """The error, to be raised by the caller, about an export; None for any other file.

    ``plain`` is the value of the file, if it could be parsed.
    """
    if isinstance(plain, dict) and not plain.keys().isdisjoint(MACHINE_KEYS):
        return None
    head = reader.given(path) or b""
    try:
        if not head and reader.kind(path) == "file":
            with reader.open(path) as stream:
                head = stream.read(_HEAD)
    except OSError:
        return None
    head = head[:_HEAD].removeprefix(b"\xef\xbb\xbf")
    expected = "a machine file. `axisproof import` writes one from exports"
    if head.startswith(POINTER):
        return None
    if head.startswith(_ZIP):
        what = "a zip file"
        expected += f". Name the export in it, as in {path.name}/list.csv"
    elif is_device_file(path, reader):
        what = "a device file"
    elif head.lstrip().startswith(b"<"):
        what = "XML"
    elif path.suffix.lower() in _LISTS and head.strip() and b"axes:" not in head:
        what = "a parameter list"
        expected += ", and `axisproof match` proposes the mapping"
    else:
        return None
    name = reader.name(path)
    line = head.split(b"\n", 1)[0].decode("utf-8", "replace").rstrip("\r")
    place = Place(name, 1, 1, 1, 2)
    return InputError(
        f"the file is {what}, and no machine file",
        expected=expected,
        place=place,
        source_line=line if line.isprintable() else "",
    )
