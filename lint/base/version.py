"""Which axisproof this is."""

from __future__ import annotations


def tool_version() -> str:
    """Return the version of the installed package, ``unknown`` if it is not installed."""
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version("axisproof")
    except PackageNotFoundError:
        return "unknown"
