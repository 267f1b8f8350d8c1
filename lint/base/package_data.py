"""Texts that ship inside the package, read as importlib.resources reads them.

That module, with what it needs for packages in archives, takes longer to import than a small
machine takes to check, so it is left to those: where a package is a folder, files are just read.
"""

from __future__ import annotations

import os
import sys
from binascii import crc32
from collections.abc import Iterable


def read_text(package: str, name: str) -> str:
    """The text (UTF-8) of a file of ``package``, a dotted name. Raises OSError if there is none."""
    folder = _folder(package)
    if folder:
        with open(os.path.join(folder, name), "rb", buffering=0) as stream:
            data = stream.read()
        if b"\r" in data:
            data = data.replace(b"\r\n", b"\n").replace(b"\r", b"\n")
        return data.decode()
    from importlib.resources import files

    return files(package).joinpath(name).read_text("utf-8")


def names(package: str) -> list[str]:
    """The names of the files of ``package``, sorted."""
    folder = _folder(package)
    if folder:
        return sorted(os.listdir(folder))
    from importlib.resources import files

    return sorted(item.name for item in files(package).iterdir())


def fingerprint(texts: Iterable[str]) -> str:
    """Size and check sum (CRC-32) of texts, under which what is made from them is filed.

    It tells an edited text, by mistake or on purpose; not a forged one.
    """
    size = seal = 0
    for text in texts:
        data = text.encode()
        size += len(data)
        seal = crc32(data, seal)
    return f"{size}-{seal:08x}"


def _folder(package: str) -> str:
    """The folder of a package; empty for one in an archive."""
    __import__(package)
    folder = next(iter(sys.modules[package].__path__), "")
    return folder if os.path.isdir(folder) else ""
