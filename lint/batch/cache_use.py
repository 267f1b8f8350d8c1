"""The cache of a run: opened and closed, whatever troubles the folder is told and stops nothing."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from ..checking.record import CheckRequest
from .cache import Cache, prepare, prune
from .run_conditions import run_digest


def opened_cache(
    folder: Path, request: CheckRequest, noted: Callable[[str], None] | None
) -> Cache | None:
    """The cache in a folder; None if the folder cannot be used."""
    try:
        prepare(folder)
    except OSError as fault:
        if noted:
            noted(_without_cache(folder, fault.strerror or type(fault).__name__))
        return None
    return Cache(folder, run_digest(request))


def close_cache(cache: Cache, noted: Callable[[str], None] | None) -> None:
    """Keep the cache within bounds, and tell what troubled it."""
    if cache.kept_count:
        prune(cache.folder)
    if cache.write_error and noted:
        noted(_without_cache(cache.folder, cache.write_error))


def _without_cache(folder: Path, why: str) -> str:
    return (
        f"nothing is kept in {folder.as_posix()} ({why[:1].lower()}{why[1:]}). "
        "The report is complete without it"
    )
