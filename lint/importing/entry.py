"""Every machine in a set of paths, whether a machine file or a project file describes it.

Nothing that only projects need is imported for machine files.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path
from typing import Final, Literal

from ..errors import InputError
from ..source.files import find_sources, resolved, unsaved_bytes
from ..source.merge import Tree, load_tree

Kind = Literal["project", "mapping", "part", "waivers", "accepted"]

_TOP_KEY: Final = re.compile(
    rb'^(?:\xef\xbb\xbf)?[ \t{]*"?(project|mapping|part|waivers|accepted)"?[ \t]*:', re.MULTILINE
)

_NO_MACHINE: Final[dict[Kind | None, tuple[str, str]]] = {
    "mapping": ("a mapping file", "a project file that names it and the list it explains"),
    "part": ("a part file", "a machine file; `axisproof spare` puts a part into one"),
    "waivers": ("a waiver file", "a machine file, and this one after --waivers"),
    "accepted": ("an accepted set", "a machine file, and this one after --accepted"),
}
"""What stands beside machines in a folder and is none: what it is, and what was due."""


def load_trees(paths: Sequence[Path]) -> list[Tree]:
    """Every machine in ``paths`` (files and folders), with the files each is made from.

    A project file stands for the machine its sources describe. Of a folder, mapping and part
    files, waivers, accepted sets, and files that a project or another machine takes in are no
    machines of their own; a file given by name is. Raises UsageError and InputError as
    source.merge.load_trees and project.load_project do.
    """
    given = {resolved(path) for path in paths if not path.is_dir()}
    trees: list[tuple[Path, Tree]] = []
    taken: set[Path] = set()
    files = [(path, kind_of(path)) for path in find_sources(paths)]
    for path, kind in files:
        if kind == "project":
            from .project import project_files

            taken |= project_files(path)
    for path, kind in files:
        if path.resolve() not in given and (kind in _NO_MACHINE or path.resolve() in taken):
            continue
        if kind == "project":
            from .project import load_project

            trees.append((path, load_project(path).tree))
        elif kind in _NO_MACHINE:
            what, expected = _NO_MACHINE[kind]
            words = f"{path.as_posix()} is {what}, which describes no machine by itself"
            raise InputError(words, expected=expected)
        else:
            trees.append((path, load_tree(path)))
    included = {source.path.resolve() for _, tree in trees for source in tree.sources[1:]}
    return [
        tree for path, tree in trees if (real := path.resolve()) in given or real not in included
    ]


def kind_of(path: Path) -> Kind | None:
    """Whether a file is of one of these kinds; None for any other file."""
    head = unsaved_bytes(path)
    try:
        if head is None and path.is_file():
            with path.open("rb") as stream:
                head = stream.read(1 << 16)
    except OSError:
        return None
    if head is None or not _TOP_KEY.search(head[: 1 << 16]):
        return None
    from ..source.files import parse, read_source

    try:
        plain = parse(read_source(path))
    except InputError:
        return None
    if isinstance(plain, dict) and "part" in plain and "axes" not in plain:
        return "part"
    if not isinstance(plain, dict) or "format" in plain:
        return None
    kinds: tuple[Kind, ...] = ("project", "mapping", "waivers", "accepted")
    return next((kind for kind in kinds if kind in plain), None)
