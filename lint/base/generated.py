"""Seals of generated files: what a file was made from and, in a checkout, by which code.

A file whose seal does not fit what stands beside it is not used.
"""

from __future__ import annotations

import sys
from functools import lru_cache

from .package_data import fingerprint, names, read_text

_GENERATED = ("axisproof.rules.", "axisproof.schemas.")


def code_in_use() -> tuple[str, ...]:
    """Give the modules and grammars of axisproof that this process has loaded.

    Each stands as ``axisproof.PACKAGE/FILE``. Asked after files were made, they are what made them.
    """
    found: set[tuple[str, str]] = set()
    for name, module in sys.modules.copy().items():
        file = getattr(module, "__file__", None) or ""
        if not f"{name}.".startswith("axisproof.") or name.startswith(_GENERATED):
            continue
        if hasattr(module, "__path__"):
            found.update((name, each) for each in names(name) if each.endswith(".lark"))
        elif file.endswith(".py"):
            found.add((name.rpartition(".")[0], f"{name.rpartition('.')[2]}.py"))
    return tuple(sorted("/".join(each) for each in found))


def seal_of(source: str, makers: tuple[str, ...] = ()) -> str:
    """Give the seal of a file made from texts with the fingerprint ``source``.

    ``makers`` is the code that makes the file, if somebody may edit it where the file lies.
    """
    return f"{source} by {_code(makers)}: {' '.join(makers)}" if makers else source


def belongs(seal: str, source: str) -> bool:
    """Tell whether a file with ``seal`` was made from what stands beside it."""
    if seal == source:
        return True
    made_from, _, code = seal.partition(" by ")
    made_by, _, makers = code.partition(": ")
    return made_from == source and bool(makers) and made_by == _code(tuple(makers.split(" ")))


@lru_cache(maxsize=8)
def _code(makers: tuple[str, ...]) -> str:
    """The fingerprint of code; of less than all where a part is gone."""
    try:
        return fingerprint(read_text(*maker.split("/")) for maker in makers)
    except FileNotFoundError:
        return "incomplete"
