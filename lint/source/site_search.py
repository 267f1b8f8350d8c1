"""Where the site file of a path is: in its folder, or above that up to the repository's top."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path

from ..base.errors import UsageError
from .reader import DISK, Reader

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final

SITE_NAME: Final = "axisproof.yaml"


def repository_top(folder: Path, reader: Reader = DISK) -> Path | None:
    """The folder that holds ``.git``: ``folder`` or the nearest one above; None for neither.

    Of a store such as a revision, it is the store's own top.
    """
    store = reader.store_of(folder)
    if store is not None:
        return store.root
    real = folder.resolve()
    return next((each for each in (real, *real.parents) if os.path.lexists(each / ".git")), None)


def bound_of(file: Path, reader: Reader) -> Path:
    """The folder that files named by a site file lie in: the repository, or else its own folder."""
    folder = reader.real(file.parent)
    return repository_top(folder, reader) or folder


def site_file_above(path: Path, reader: Reader = DISK) -> Path | None:
    """The site file of a file or folder: the nearest one; None if there is none.

    It is searched up to the top of the repository. Outside of one, only the folder itself is
    searched.
    """
    folder = reader.real(path if reader.is_folder(path) else path.parent)
    last = repository_top(folder, reader) or folder
    while True:
        file = folder / SITE_NAME
        if reader.exists(file) and not reader.is_folder(file):
            return shown_path(file, reader)
        if folder in (last, folder.parent):
            return None
        folder = folder.parent


def shown_path(file: Path, reader: Reader) -> Path:
    """A path from the present folder, if both lie in one repository; else the absolute one."""
    if reader.store_of(file) is not None:
        return file
    here = Path.cwd()
    near = repository_top(here) or here
    return Path(os.path.relpath(file, here)) if file.is_relative_to(near) else file


def one_site_file(paths: Iterable[Path], reader: Reader = DISK) -> Path | None:
    """The site file of all paths. Raises UsageError if they do not share one."""
    found = {site_file_above(path, reader): path for path in paths}
    if len(found) < 2:
        return next(iter(found), None)
    named = sorted(f"{path} by {file or 'none'}" for file, path in found.items())
    raise UsageError(
        f"the paths belong to different site files: {', '.join(named[:5])}",
        expected="a run for each site file, or --no-site-file",
    )
