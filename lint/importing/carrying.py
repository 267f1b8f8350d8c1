"""What travels with a machine to where its files do not lie: all that its reading will ask.

Nothing is parsed here but project files, since reading is a good part of the work that others are
to do. Included files are found by their names in the text. Whatever that misses is missing there,
and the machine is read here (see source/carried.py).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Final

from ..base.errors import AxisproofError
from ..source.carried import Carried, NotCarried, Noting
from ..source.inside import real_inside
from ..source.limits import MAX_INCLUDED_FILES
from ..source.reader import Reader
from .entry import Candidate

_NAMED: Final = re.compile(rb"""[^\s"'\[\]{},]+\.(?:yaml|yml|json)(?![^\s"'\[\]{},])""", re.I)
"""A name that a file could include, in JSON and any style of YAML; one with blanks is not found."""


def carried(candidate: Candidate, reader: Reader) -> Carried:
    """The answers that reading a machine needs, as far as they are known without reading it."""
    noting = Noting(reader)
    asking = Reader(store=noting)
    with suppress(AxisproofError, NotCarried, OSError, ValueError):
        if candidate.kind == "project":
            _ask_project(candidate.path, asking)
        else:
            _ask_facts(candidate.path, candidate.path.parent, asking, candidate.may_include)
    return noting.carried()


def _ask_facts(path: Path, root: Path, asking: Reader, may_include: bool) -> None:
    """Ask for a file and for all that it may include, of which all lies below ``root``."""
    waiting = [path]
    seen = {asking.real(path)}
    while waiting and len(seen) <= MAX_INCLUDED_FILES:
        file = waiting.pop()
        with asking.open(file) as stream:
            text = stream.read()
        for inside, real in _included(text, file.parent, root, asking) if may_include else ():
            if real not in seen:
                seen.add(asking.real(inside))
                waiting.append(inside)


def _included(text: bytes, folder: Path, root: Path, asking: Reader) -> Iterator[tuple[Path, Path]]:
    """The files below ``root`` that a text names, each with where it leads."""
    bound = asking.real(root)
    for name in dict.fromkeys(_NAMED.findall(text)):
        with suppress(AxisproofError, NotCarried, OSError, ValueError):
            real = real_inside(name.decode("utf-8"), folder, bound, "", asking)
            if asking.kind(real) == "file":
                yield root / real.relative_to(bound), real


def _ask_project(path: Path, asking: Reader) -> None:
    """Ask for a project file and for all that it names."""
    from .archive import archive_of
    from .assembly import FactsFile, TableFile
    from .project import project_sources

    asking.real(path)
    for source in project_sources(path, asking):
        if isinstance(source, FactsFile):
            _ask_facts(source.path, path.parent, asking, True)
            continue
        files = [source.path, *([source.mapping] if isinstance(source, TableFile) else ())]
        for file in files:
            inside = archive_of(file, asking)
            asking.status(file if inside is None else inside[0])
