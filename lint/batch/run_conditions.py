"""From a check request to the conditions of its results, as JSON and as one digest.

These are all that a result depends on except the files themselves.
"""

from __future__ import annotations

import json
from functools import lru_cache
from pathlib import Path
from typing import Any, Final

from ..catalogue.catalogue import digest
from ..checking.record import CheckRequest
from ..source.reader import digest_of

PACKAGES: Final = ("axisproof", "axisproof.rules", "axisproof.schemas")
"""Packages that decide the results; their folders may lie apart."""


def conditions(request: CheckRequest) -> dict[str, Any]:
    """What two checks must share if their records are to go together.

    JSON-ready: version and code of axisproof, digests of rules, of a site's settings and of the
    shelf, the day, and the requested details.
    """
    from ..base.version import tool_version

    site = request.rules.site
    settings = [(name, setting[1:]) for name, setting in site.settings.items()]
    return {
        "version": tool_version(),
        "code": code_digest(),
        "rules": digest(request.rules.every.texts),
        "settings": digest_of(json.dumps([settings, list(site.levels.items())]).encode()),
        "shelf": request.reader.shelf.content if request.reader.shelf else "",
        "day": request.on.isoformat(),
        "workings": request.options.workings,
        "every_outcome": request.options.every_outcome,
        "pictures": request.sketches,
    }


def run_digest(request: CheckRequest) -> str:
    """One digest of the conditions, the interpreter, the machine and the libraries in use."""
    import platform
    import sys
    from importlib.metadata import requires

    names = sorted(each for each in requires("axisproof") or () if ";" not in each)
    environment = [sys.version, sys.platform, platform.machine(), *map(_version, names)]
    return digest_of(json.dumps([conditions(request), environment]).encode())


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
    """A digest of all files of axisproof: code, rules, schemas and others."""
    from importlib import import_module

    parts = []
    for package in PACKAGES:
        folder = Path(import_module(package).__path__[0])
        for path in sorted(folder.rglob("*")):
            inside = path.relative_to(folder)
            if "__pycache__" not in inside.parts and path.is_file():
                parts.append(f"{package} {inside.as_posix()} {digest_of(path.read_bytes())}")
    return digest_of("\n".join(parts).encode())
