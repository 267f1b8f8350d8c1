"""The entry point. A plain ``check FILE...`` works without the command-line library, for speed.

``plain_check`` accepts only command lines that it fully understands. All others, all help and all
usage errors go through main.py. A test compares the outcomes of both.
"""

from __future__ import annotations

import gc
import os
import sys
from contextlib import suppress

from ..base.garbage_collection import held_back
from ..base.lazy import pattern

TYPE_CHECKING = False
if TYPE_CHECKING:
    import datetime
    from collections.abc import Sequence
    from pathlib import Path
    from typing import NoReturn


SELDOM = 50_000, 20, 50
"""When the collector of cyclic garbage looks. Rules and libraries stay, so it finds little."""


def main() -> None:
    """Entry point of the ``axisproof`` command."""
    try:
        status = _status()
    except (MemoryError, ImportError, SystemError):  # so Python tells a module that finds no room
        end_without_memory()
    sys.exit(status)


def _status() -> int:
    replace_closed_streams()
    plain = plain_check(sys.argv[1:])
    if plain is None or os.environ.get("AXISPROOF_CACHE"):
        from ..base.termination import clear_up_when_terminated

        clear_up_when_terminated()  # without a cache, a plain check writes no file
    if plain is None:
        gc.set_threshold(*SELDOM)
        from .main import run

        return run()
    with held_back():
        status = run_plain(*plain)
        gc.freeze()  # the process ends, so no object needs another look for garbage
    return status


NO_MEMORY = b"""Unforeseen failure: MemoryError: there is not enough memory to tell more, or a part
of axisproof or Python cannot be loaded.
  expected: more memory, or smaller or fewer files
"""


def end_without_memory() -> NoReturn:
    """End at once with 2 and a message that needs no memory: there is none to word another."""
    with suppress(OSError):
        os.write(2, NO_MEMORY)
    os._exit(2)


def replace_closed_streams() -> None:
    """Replace closed standard streams, so that no file opened later gets their number."""
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            setattr(sys, name, open(os.devnull, mode, encoding="utf-8"))  # noqa: SIM115


def plain_check(
    arguments: Sequence[str],
) -> tuple[list[Path], datetime.date | None] | None:
    """The paths and the day of a check with no other option; None for any other command line."""
    if arguments[:1] != ["check"] or os.name == "nt" or "_AXISPROOF_COMPLETE" in os.environ:
        return None  # on Windows, the library expands patterns in paths
    from datetime import date
    from pathlib import Path

    paths: list[Path] = []
    day = None
    words = iter(arguments[1:])
    for word in words:
        if word == "--on":
            found = _DAY.fullmatch(next(words, ""))
            try:
                day = date(*map(int, found.groups())) if found else None
            except ValueError:  # no such day
                return None
            if day is None:
                return None
        elif not word or word.startswith("-"):
            return None
        else:
            paths.append(Path(word))
    return (paths, day) if paths else None


_DAY = pattern("([0-9]{4})-([0-9]{2})-([0-9]{2})")


def run_plain(paths: list[Path], on: datetime.date | None) -> int:
    """Check and return the exit status; never raises, like ``main.run``."""
    try:
        from .check import CheckCommand, check_and_show

        return check_and_show(paths, CheckCommand(on=on))
    except KeyboardInterrupt:
        return 130
    except Exception as error:
        from .console import explain_failure

        return explain_failure(error)
