"""A new check whenever a file is saved: compares modification times a few times a second."""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import Final, NoReturn, TypeAlias

from ..source.reader import SUFFIXES

INTERVAL: Final = 0.3
"""Seconds between two comparisons."""

_WATCHED: Final = (*SUFFIXES, ".rules")

Stamps: TypeAlias = "dict[Path, tuple[int, int] | None]"
"""Modification time (ns) and size of each file; None for a missing file."""


def stamps(given: Iterable[Path], others: Iterable[Path] = ()) -> Stamps:
    """The stamps of the files and folders ``given``, which change when a file is saved.

    ``others`` are further files that were read, such as included ones.
    """
    found: Stamps = {}
    for path in given:
        if path.is_dir():
            for top, folders, files in os.walk(path):
                folders[:] = [name for name in folders if not name.startswith(".")]
                inside = [Path(top, name) for name in files if name.lower().endswith(_WATCHED)]
                found |= {each: _stamp(each) for each in inside}
        else:
            found[path] = _stamp(path)
    return found | {path: _stamp(path) for path in others if path not in found}


def _stamp(path: Path) -> tuple[int, int] | None:
    try:
        status = path.stat()
    except OSError:
        return None
    return status.st_mtime_ns, status.st_size


def watch(
    given: Sequence[Path],
    check: Callable[[], Iterable[Path]],
    changed: Callable[[Sequence[Path]], None],
    wait: Callable[[float], None] = time.sleep,
) -> NoReturn:
    """Call ``check``, which returns the files it read, now and after every change.

    ``changed`` gets the files that are new, missing or saved. Only an exception ends this, such as
    Ctrl-C.
    """
    others: set[Path] = set()
    while True:
        seen = stamps(given, others)
        others |= set(check())
        seen = stamps((), others) | seen
        while (now := stamps(given, others)) == seen:
            wait(INTERVAL)
        changed([path for path in sorted({*now, *seen}) if now.get(path) != seen.get(path)])
