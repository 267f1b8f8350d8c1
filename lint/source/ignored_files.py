"""Files of a folder that .gitignore files ignore, less those that git tracks."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from pathlib import Path

from ..base.errors import UsageError
from .patterns import IGNORE_NAME, Ignored
from .reader import Reader
from .site_search import repository_top


def ignored_files(paths: Sequence[Path], files: Sequence[Path], reader: Reader) -> list[Path]:
    """Those of ``files``, found in the folders among ``paths``, that are ignored and not tracked.

    Only .gitignore files inside the tree count: from the top of a file's own repository on, or else
    from the folder that is searched. A file that git tracks is never ignored, and those of a
    revision all are tracked.
    """
    paths = [path for path in paths if reader.store_of(path) is None]
    files = [path for path in files if reader.store_of(path) is None]
    folders = {parent: parent.resolve() for parent in {file.parent for file in files}}
    real = {file: folders[file.parent] / file.name for file in files}
    repositories = {folder: repository_top(folder) for folder in folders.values()}
    trees: dict[tuple[Path | None, Path], set[Path]] = {}
    for searched in {path.resolve() for path in paths if path.is_dir()}:
        for folder, repository in repositories.items():
            if folder.is_relative_to(searched):
                trees.setdefault((repository, repository or searched), set()).add(folder)
    ignored: set[Path] = set()
    for (repository, top), below in trees.items():
        if _has_ignore_file(top, below):
            inside = {file: place for file, place in real.items() if place.parent in below}
            ignored.update(_ignored(repository, top, inside))
    return [file for file in files if file in ignored]


def _has_ignore_file(top: Path, folders: set[Path]) -> bool:
    seen: set[Path] = set()
    for folder in folders:
        while folder not in seen:
            seen.add(folder)
            if os.path.lexists(folder / IGNORE_NAME):
                return True
            if folder == top:
                break
            folder = folder.parent
    return False


def _ignored(repository: Path | None, top: Path, files: Mapping[Path, Path]) -> list[Path]:
    patterns = Ignored(top)
    ignored = [file for file, place in files.items() if patterns.takes(place)]
    if not ignored or repository is None:
        return ignored
    from .git_objects import opened

    try:
        with opened(repository) as objects:
            names = {file: files[file].relative_to(repository).as_posix() for file in ignored}
            return [file for file in ignored if not objects.may_track(names[file])]
    except UsageError:  # without git nobody knows what is tracked, so nothing is left out
        return []
