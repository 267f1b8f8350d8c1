"""Every machine in a set of paths, whether a machine file or a project file describes it.

Nothing that only projects need is imported for machine files.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from pathlib import Path

from ..base.errors import InputError
from ..base.lazy import dataclass, pattern
from ..source.merge import Tree, load_tree
from ..source.reader import DISK, Reader, find_sources, read_source, resolved

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final, Literal, TypeAlias


Kind: TypeAlias = 'Literal["project", "mapping", "part", "waivers", "accepted"]'

_TOP_KEY: Final = pattern(
    rb'^(?:\xef\xbb\xbf)?[ \t{]*"?(project|mapping|part|waivers|accepted)"?[ \t]*:', re.MULTILINE
)

_NO_MACHINE: Final[dict[Kind | None, tuple[str, str]]] = {
    "mapping": ("a mapping file", "a project file that names it and the list it explains"),
    "part": ("a part file", "a machine file; `axisproof spare` puts a part into one"),
    "waivers": ("a waiver file", "a machine file, and this one after --waivers"),
    "accepted": ("an accepted set", "a machine file, and this one after --accepted"),
}
"""What stands beside machines in a folder and is none: what it is, and what was due."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """A file that may describe a machine; ``given`` if it was named, not found in a folder.

    ``may_include`` is whether it could take in other files; it is False only for one that does not.
    """

    path: Path
    kind: Kind | None
    given: bool
    may_include: bool


def load_trees(paths: Sequence[Path], reader: Reader = DISK) -> list[Tree]:
    """Every machine in ``paths`` (files and folders), with the files each is made from.

    A project file stands for the machine its sources describe. Of a folder, mapping and part
    files, waivers, accepted sets, and files that a project or another machine takes in are no
    machines of their own; a file given by name is. Raises UsageError and InputError as
    source.merge.load_trees and project.load_project do.
    """
    candidates = find_candidates(paths, reader)
    trees = [load_candidate(candidate, reader) for candidate in candidates]
    taken = taken_in(source.path for tree in trees for source in tree.sources[1:])
    return [
        tree
        for candidate, tree in zip(candidates, trees, strict=True)
        if candidate.given or not taken or candidate.path.resolve() not in taken
    ]


def find_candidates(paths: Sequence[Path], reader: Reader = DISK) -> list[Candidate]:
    """The files in ``paths`` that may describe a machine, in the order they are checked.

    Whether another machine includes one of them is seen only when all are loaded. Raises UsageError
    for paths that lead nowhere and InputError for a project file that cannot be used.
    """
    given = {resolved(path) for path in paths if not path.is_dir()}
    files = []
    for path in find_sources(paths, reader):
        head = _head(path, reader)
        files.append((path, head, _kind(path, head, reader)))
    taken: set[Path] = set()
    for path, _, kind in files:
        if kind == "project":
            from .project import project_files

            taken |= project_files(path, reader)
    candidates = []
    for path, head, kind in files:
        named = bool(given) and path.resolve() in given
        if named or not (kind in _NO_MACHINE or (taken and path.resolve() in taken)):
            may_include = kind == "project" or len(head) >= _HEAD or _may_include(head)
            candidates.append(Candidate(path, kind, named, may_include))
    return candidates


_ESCAPED: Final = re.compile(rb"\\(?:u00[67]|x[67]|U000000[67]|[\r\n])")
"""Escapes in which a letter of `include` could hide, of JSON and YAML."""


def _may_include(text: bytes) -> bool:
    """Whether `include` could be a key: False only if it is none, in JSON and any style of YAML."""
    if b"include" not in text:
        return _ESCAPED.search(text) is not None
    if re.search(rb"""include["']?[ \t]*:""", text):
        return True
    return b"*" in text or b"?" in text  # an alias, or a key that stands on a line of its own


def load_candidate(candidate: Candidate, reader: Reader) -> Tree:
    """What a file and all it takes in state. Raises InputError for one that cannot be used."""
    path, kind = candidate.path, candidate.kind
    if kind == "project":
        from .project import load_project

        return load_project(path, reader=reader).tree
    if kind in _NO_MACHINE:
        what, expected = _NO_MACHINE[kind]
        words = f"{path.as_posix()} is {what}, which describes no machine by itself"
        raise InputError(words, expected=expected)
    return load_tree(path, reader=reader)


def taken_in(paths: Iterable[Path]) -> set[Path]:
    """Where files lead that machines take in; a file among them is no machine of its own."""
    return {path.resolve() for path in paths}


def kind_of(path: Path, reader: Reader = DISK) -> Kind | None:
    """Whether a file is of one of these kinds; None for any other file."""
    return _kind(path, _head(path, reader), reader)


_HEAD: Final = 1 << 16


def _head(path: Path, reader: Reader) -> bytes:
    """The beginning of a file; nothing of one that cannot be read."""
    head = reader.given(path)
    try:
        if head is None and path.is_file():
            with path.open("rb") as stream:
                head = stream.read(_HEAD)
    except OSError:
        return b""
    return b"" if head is None else head[:_HEAD]


def _kind(path: Path, head: bytes, reader: Reader) -> Kind | None:
    if not _TOP_KEY.search(head):
        return None
    from ..source.parsing import parse

    try:
        plain = parse(read_source(path, reader))
    except InputError:
        return None
    if isinstance(plain, dict) and "part" in plain and "axes" not in plain:
        return "part"
    if not isinstance(plain, dict) or "format" in plain:
        return None
    kinds: tuple[Kind, ...] = ("project", "mapping", "waivers", "accepted")
    return next((kind for kind in kinds if kind in plain), None)
