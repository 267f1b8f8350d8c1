"""Standard input as a machine file, which a command names ``-``."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from pathlib import Path

from ..base.errors import InputError, UsageError
from .limits import MAX_BYTES
from .reader import STDIN, undecodable


def standard_input(paths: Iterable[Path]) -> dict[Path, str] | None:
    """The text of standard input by its path ``-``, if that is one of ``paths``; else None.

    Raises InputError as ``read_standard_input`` does, UsageError if it is named twice.
    """
    number = sum(path == STDIN for path in paths)
    if number > 1:
        raise UsageError("standard input can be read only once", expected="a file for one of them")
    return read_standard_input() if number else None


def read_standard_input() -> dict[Path, str]:
    """The text of standard input, by the path that stands for it.

    Raises InputError if it is too large or no UTF-8.
    """
    data = sys.stdin.buffer.read(MAX_BYTES + 1)
    if len(data) > MAX_BYTES:
        raise InputError(
            f"standard input is larger than {MAX_BYTES // 2**20} MiB", expected="a smaller text"
        )
    try:
        return {STDIN: data.decode("utf-8")}
    except UnicodeDecodeError as fault:
        raise undecodable(STDIN, "-", data, fault.start, "yaml") from None
