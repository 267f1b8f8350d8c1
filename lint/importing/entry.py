"""Every machine in a set of paths, whether a machine file or a project file describes it.

Nothing that only projects need is imported for machine files.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

from ..base.errors import InputError, UsageError
from ..base.lazy import dataclass, pattern
from ..source.ignored_files import ignored_files
from ..source.merge import Tree, load_tree
from ..source.reader import DISK, Reader, find_sources, read_source
from ..source.site_search import SITE_NAME

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final, Literal, TypeAlias

    from ..source.files import Plain


Kind: TypeAlias = 'Literal["project", "mapping", "part", "settings", "waivers", "accepted", "site"]'

_TOP_KEY: Final = pattern(
    rb'^(?:\xef\xbb\xbf)?[ \t{]*"?(project|mapping|part|waivers|accepted|axisproof)"?[ \t]*:',
    re.MULTILINE,
)

_MACHINE: Final = pattern(
    rb'\A(?:\xef\xbb\xbf)?\s*\{\s*"format"\s*:|^(?:\xef\xbb\xbf)?format[ \t]*:', re.MULTILINE
)
"""Begins a file that states its format at the top, so that it has no kind and is not foreign."""

_NO_MACHINE: Final[dict[Kind | None, tuple[str, str]]] = {
    "mapping": ("a mapping file", "a project file that names it and the list it explains"),
    "part": ("a part file", "a machine file. `axisproof spare` puts a part into one"),
    "settings": ("a settings file", "a machine file, and this one after --settings"),
    "waivers": ("a waiver file", "a machine file, and this one after --waivers"),
    "accepted": ("an accepted set", "a machine file, and this one after --accepted"),
    "site": ("a site file", "a machine file, which this one then counts for"),
}
"""What stands beside machines in a folder and is none: what it is, and what was due."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """A file that may describe a machine; ``given`` if it was named, not found in a folder.

    ``may_include`` is whether it could take in other files; it is False only for one that does not.
    The path is kept as text, which takes a fifth of the memory: a folder can hold many files.
    """

    name: str
    kind: Kind | None
    given: bool
    may_include: bool

    @property
    def path(self) -> Path:
        """The path of the file."""
        return Path(self.name)


@dataclass(frozen=True, slots=True)
class Found:
    """The files that may describe machines, and those of folders that are not checked.

    ``skipped`` are none of axisproof's. ``excluded`` are those that the site file leaves out,
    ``ignored`` those that git does not track and a .gitignore file names. ``sites`` are site files.
    ``first_error`` says what is wrong with the first project file that cannot be used.
    """

    candidates: list[Candidate]
    skipped: tuple[Path, ...]
    first_error: InputError | None = None
    excluded: tuple[Path, ...] = ()
    ignored: tuple[Path, ...] = ()
    sites: tuple[Path, ...] = ()


def nothing_found(found: Found) -> UsageError:
    """The error, to be raised by the caller, that there is no machine file."""
    what = "there is no machine file to check"
    skipped = len(found.skipped)
    parts = []
    if skipped:
        files = "the only file is not a file" if skipped == 1 else f"{skipped} files are not files"
        parts.append(f"{files} of axisproof")
    if found.excluded:
        parts.append(f"the site file excludes {_files(found.excluded)}")
    if found.ignored:
        parts.append(f"a .gitignore file ignores {_files(found.ignored)}")
    return UsageError(": ".join(filter(None, (what, ", ".join(parts)))), expected="at least one")


def _files(paths: Sequence[Path]) -> str:
    return "1 file" if len(paths) == 1 else f"{len(paths)} files"


def load_trees(paths: Sequence[Path], reader: Reader = DISK) -> list[Tree]:
    """Every machine in ``paths`` (files and folders), with the files each is made from.

    A project file stands for the machine its sources describe. Of a folder, mapping and part
    files, settings, waivers, accepted sets, and files that a project or another machine takes in
    are no machines of their own; a file given by name is. Raises UsageError and InputError as
    source.merge.load_trees and project.load_project do.
    """
    return load_candidates(find_candidates(paths, reader), reader)


def load_candidates(candidates: Sequence[Candidate], reader: Reader) -> list[Tree]:
    """The machines among ``candidates``; raises as ``load_trees`` does."""
    trees = [load_candidate(candidate, reader) for candidate in candidates]
    taken = taken_in((source.path for tree in trees for source in tree.sources[1:]), reader)
    return [
        tree
        for candidate, tree in zip(candidates, trees, strict=True)
        if candidate.given or not taken or reader.real(candidate.path) not in taken
    ]


def find_candidates(paths: Sequence[Path], reader: Reader = DISK) -> list[Candidate]:
    """The files in ``paths`` that may describe a machine; see ``search``.

    Raises also InputError for a project file that cannot be used.
    """
    found = search(paths, reader)
    if found.first_error is not None:
        raise found.first_error
    return found.candidates


def search(paths: Sequence[Path], reader: Reader = DISK, excludes: Excludes | None = None) -> Found:
    """The files in ``paths`` that may describe a machine, in the order they are checked.

    Whether another machine includes one of them is seen only when all are loaded. A file of a
    folder that is none of axisproof's is skipped, and so is one that a site file ``excludes`` or a
    .gitignore file ignores. Raises UsageError for paths that lead nowhere.
    """
    given = {reader.real(path) for path in paths if not reader.is_folder(path)}
    sources = find_sources(paths, reader)
    excluded, ignored = _left_out(paths, sources, given, excludes, reader)
    left_out = {*excluded, *ignored}
    files = []
    for path in sources:
        if path in left_out:
            continue
        head = _head(path, reader)  # not kept: the heads of many files fill the memory
        kind, foreign = _sorted(path, head, reader)
        may_include = kind == "project" or len(head) >= _HEAD or _may_include(head)
        files.append((path, may_include, kind, foreign))
    taken: set[Path] = set()
    first_error = None
    for path, _, kind, _ in files:
        if kind == "project":
            from .project import project_files

            try:
                taken |= project_files(path, reader)
            except InputError as error:
                first_error = first_error or error
    candidates = []
    skipped = []
    for path, may_include, kind, foreign in files:
        named = bool(given) and reader.real(path) in given
        if not named and (kind in _NO_MACHINE or (taken and reader.real(path) in taken)):
            continue
        if foreign and not named:
            skipped.append(path)
        else:
            candidates.append(Candidate(str(path), kind, named, may_include))
    sites = tuple(path for path, _, kind, _ in files if kind == "site")
    return Found(candidates, tuple(skipped), first_error, excluded, ignored, sites)


Excludes: TypeAlias = "Callable[[Path], bool]"
"""Tells whether a site file excludes a file found in a folder."""


def _left_out(
    paths: Sequence[Path],
    sources: Sequence[Path],
    given: set[Path],
    excludes: Excludes | None,
    reader: Reader,
) -> tuple[tuple[Path, ...], tuple[Path, ...]]:
    """The files found in folders that a site file excludes, and those that are ignored."""
    if len(given) == len(paths):
        return (), ()
    inside = [path for path in sources if reader.real(path) not in given] if given else sources
    excluded = tuple(path for path in inside if excludes(path)) if excludes else ()
    left = set(excluded)
    rest = [path for path in inside if path not in left]
    return excluded, tuple(ignored_files(paths, rest, reader))


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

        return _with_plates(load_project(path, reader=reader).tree, reader)
    if kind in _NO_MACHINE:
        what, expected = _NO_MACHINE[kind]
        words = f"{reader.name(path)} is {what}, which describes no machine by itself"
        raise InputError(words, expected=expected)
    try:
        tree = load_tree(path, reader=reader)
    except InputError as error:
        from .all_errors import with_fact_errors

        export = _as_export(candidate, reader)
        raise export or with_fact_errors(error, path, reader) from None
    if export := _as_export(candidate, reader, tree.plain):
        raise export
    return _with_plates(tree, reader)


def _as_export(
    candidate: Candidate, reader: Reader, plain: Plain | None = None
) -> InputError | None:
    """The error about an export that was named as a machine file; None for any other file."""
    if not candidate.given or (isinstance(plain, dict) and "format" in plain):
        return None
    from .given_export import given_export

    return given_export(candidate.path, reader, plain)


def _with_plates(tree: Tree, reader: Reader) -> Tree:
    if reader.shelf is None:
        return tree
    from .shelf import with_plates

    return with_plates(tree, reader)


def taken_in(paths: Iterable[Path], reader: Reader = DISK) -> set[Path]:
    """Where files lead that machines take in; a file among them is no machine of its own."""
    return {reader.real(path) for path in paths}


def kind_of(path: Path, reader: Reader = DISK) -> Kind | None:
    """Whether a file is of one of these kinds; None for any other file."""
    return _sorted(path, _head(path, reader), reader)[0]


_HEAD: Final = 1 << 16


def _head(path: Path, reader: Reader) -> bytes:
    """The beginning of a file; nothing of one that cannot be read."""
    head = reader.given(path)
    try:
        if head is None and reader.kind(path) == "file":
            with reader.open(path) as stream:
                head = stream.read(_HEAD)
    except OSError:
        return b""
    return b"" if head is None else head[:_HEAD]


def _sorted(path: Path, head: bytes, reader: Reader) -> tuple[Kind | None, bool]:
    """The kind of a file, and whether it is foreign."""
    kind = _kind(path, head, reader)
    if kind is not None or _MACHINE.search(head):
        return kind, False
    from .foreign import are_foreign, are_of_settings, top_keys

    keys = top_keys(path, reader)
    return ("settings" if are_of_settings(keys) else None), are_foreign(keys)


def _kind(path: Path, head: bytes, reader: Reader) -> Kind | None:
    if not _TOP_KEY.search(head):
        return None
    from ..source.parsing import parse
    from .site_file import parsed_once

    try:
        source = read_source(path, reader)
        plain = parsed_once(source) if path.name == SITE_NAME else parse(source)
    except InputError:
        return None
    if isinstance(plain, dict) and "part" in plain and "axes" not in plain:
        return "part"
    if not isinstance(plain, dict) or "format" in plain:
        return None
    if "axisproof" in plain:
        return "site"
    kinds: tuple[Kind, ...] = ("project", "mapping", "waivers", "accepted")
    return next((kind for kind in kinds if kind in plain), None)
