"""What a result depends on beside the files that were read: told in words, and as one digest."""

from __future__ import annotations

import json
from functools import lru_cache
from pathlib import Path
from typing import Any, Final

from ..catalogue.catalogue import digest
from ..checking.record import CheckRequest
from ..source.files import digest_of

PACKAGES: Final = ("axisproof", "axisproof.rules", "axisproof.schemas")
"""Where all is that decides what is found: folders, which may lie apart."""


def conditions(orders: CheckRequest) -> dict[str, Any]:
    """What two checks must have alike for their records to be of one kind.

    JSON-ready: version and code of axisproof, digests of rules and of a site's settings, the day,
    and what was to be told.
    """
    from ..base.version import tool_version

    site = orders.rules.site
    settings = [(name, told[1:]) for name, told in site.settings.items()]
    return {
        "version": tool_version(),
        "code": code_digest(),
        "rules": digest(orders.rules.every.texts),
        "settings": digest_of(json.dumps([settings, list(site.levels.items())]).encode()),
        "day": orders.on.isoformat(),
        "workings": orders.options.workings,
        "every_outcome": orders.options.every_outcome,
        "pictures": orders.sketches,
    }


def run_digest(orders: CheckRequest) -> str:
    """One digest of the conditions, the interpreter, the machine and the libraries in use."""
    import platform
    import sys
    from importlib.metadata import requires

    names = sorted(each for each in requires("axisproof") or () if ";" not in each)
    here = [sys.version, sys.platform, platform.machine(), *map(_version, names)]
    return digest_of(json.dumps([conditions(orders), here]).encode())


def _version(requirement: str) -> str:
    import re
    from importlib.metadata import PackageNotFoundError, version

    name = re.split(r"[^A-Za-z0-9_.-]", requirement, maxsplit=1)[0]
    try:
        return f"{name} {version(name)}"
    except PackageNotFoundError:
        return name


@lru_cache(maxsize=1)
def code_digest() -> str:
    """A digest of all files axisproof consists of: code, rules, schemas and the like."""
    from importlib import import_module

    parts = []
    for package in PACKAGES:
        folder = Path(import_module(package).__path__[0])
        for path in sorted(folder.rglob("*")):
            inside = path.relative_to(folder)
            if "__pycache__" not in inside.parts and path.is_file():
                parts.append(f"{package} {inside.as_posix()} {digest_of(path.read_bytes())}")
    return digest_of("\n".join(parts).encode())
