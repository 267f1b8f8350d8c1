"""One machine from several files: follow ``include`` and lay the files over one another.

If two files state different values for one fact, neither overrules the other. Both statements are
kept as claims, each with its source, and a rule reports that the fact is disputed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from pathlib import Path

from ..base.errors import InputError, Place
from ..base.lazy import dataclass, field
from .files import Plain, Source
from .inside import LeavesError, real_inside
from .limits import LONGEST_PATH, MAX_INCLUDED_FILES, shortened
from .parsing import locate, parse
from .places import KeyPath, Scalar, path_text
from .reader import DISK, SUFFIXES, Reader, find_sources, read_source

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final, NoReturn


INCLUDE: Final = "include"
EDITOR_SCHEMA: Final = "$schema"
"""Where editors find the schema of a file: no fact of the machine, and relative to each file."""

CLAIMS: Final = "claims"


@dataclass(frozen=True, slots=True)
class MissingPlate:
    """A type that a record names and of which the shelf has no plate; ``near`` are like it."""

    path: KeyPath
    kind: str
    type: str
    near: tuple[str, ...] = ()


@dataclass(frozen=True)
class Tree:
    """A machine's plain values and where they stand.

    ``origins`` maps the path of each claim that merging made or moved to its source and its path
    there. ``without_plate`` are the types that the shelf lacks, if there is one.
    """

    plain: Plain
    sources: tuple[Source, ...]
    origins: Mapping[KeyPath, tuple[Source, KeyPath]] = field(default_factory=dict)
    without_plate: tuple[MissingPlate, ...] = ()

    def located(self, path: KeyPath) -> list[tuple[Source, KeyPath]]:
        """Every source that states the value at ``path``, with the value's path in that source."""
        for cut in range(len(path), 1, -1):
            origin = self.origins.get(path[:cut])
            if origin:
                source, base = origin
                if locate(source).node(base + path[cut:]):
                    base += path[cut:]
                return [(source, base)]
        if path[-1:] == (CLAIMS,) and (*path, 0) in self.origins:
            path = path[:-1]
        return [(source, path) for source in self.sources if locate(source).node(path)]

    def places(self, path: KeyPath) -> tuple[Place, ...]:
        """Where the value at ``path`` stands, in every source that states it; empty if nowhere."""
        found = (locate(source).value(inside) for source, inside in self.located(path))
        return tuple(place for place in found if place)

    def key_places(self, path: KeyPath) -> tuple[Place, ...]:
        """Where the key of the value at ``path`` stands, in every source that states it."""
        found = (locate(source).key(inside) for source, inside in self.located(path))
        return tuple(place for place in found if place)

    def scalars(self, path: KeyPath) -> tuple[tuple[Source, Scalar], ...]:
        """The scalar at ``path`` as written, in every source that states it."""
        found = [(source, locate(source).scalar(inside)) for source, inside in self.located(path)]
        return tuple((source, scalar) for source, scalar in found if scalar)

    def nearest(self, path: KeyPath) -> Place:
        """The best place for a message about ``path``, present or not.

        A scalar that is present: its value. Otherwise the key (or, in a list, the value) of the
        longest part of the path that is present; failing all, the start of the first file.
        """
        for cut in range(len(path), 0, -1):
            found = self.located(path[:cut])
            if not found:
                continue
            source, inside = found[0]
            here = locate(source)
            scalar = cut == len(path) and here.scalar(inside) is not None
            place = None if scalar else here.key(inside)
            place = place or here.value(inside)
            if place:
                return place
        return self.sources[0].place(0, 0)

    def line_text(self, place: Place) -> str:
        """The text of the line on which ``place`` begins; empty for a place in no source."""
        for source in self.sources:
            if source.name == place.file:
                return source.line_text(place.line)
        return ""


def load_trees(paths: Sequence[Path], reader: Reader = DISK) -> list[Tree]:
    """Every machine in ``paths`` (files and folders), each with the files it includes.

    A file found by searching a folder is no machine of its own if another machine includes it; a
    file given by name always is. Raises UsageError and InputError as find_sources and load_tree do.
    """
    given = {reader.real(path) for path in paths if not reader.is_folder(path)}
    trees = [load_tree(path, reader=reader) for path in find_sources(paths, reader)]
    included = {reader.real(source.path) for tree in trees for source in tree.sources[1:]}
    return [
        tree
        for tree in trees
        if (top := reader.real(tree.sources[0].path)) in given or top not in included
    ]


def load_tree(path: Path, root: Path | None = None, reader: Reader = DISK) -> Tree:
    """The values of the file ``path`` and of all files it includes, merged.

    ``include`` at the top of a file lists paths relative to that file. They must stay inside
    ``root`` (default: the folder of ``path``), links followed. Mappings merge key by key; equal
    values are kept. Scalars that differ become
    ``{"claims": [{"value": …, "source": file name}, …]}``.
    Raises InputError, with a place, for includes that leave the root, form a circle or cannot be
    read, and for files that contradict each other in shape or in a list.
    """
    return merge_files(gather(path, root, reader))


def gather(path: Path, root: Path | None, reader: Reader) -> list[tuple[Source, Plain]]:
    """The file ``path`` and, depth first, all it includes, each with its own values.

    ``include`` is dropped from the values. Raises InputError as load_tree does.
    """
    files: list[tuple[Source, Plain]] = []
    start, real = read_source(path, reader), reader.real(path)
    _gather(start, root or path.parent, (real,), {real}, files, reader)
    return files


def merge_files(files: list[tuple[Source, Plain]]) -> Tree:
    """Lay files (at least one) over one another, as load_tree says."""
    merging = Merging(files)
    plain = files[0][1]
    for number in range(1, len(files)):
        plain = merging.merge(plain, files[number][1], (), number)
    return Tree(plain, tuple(source for source, _ in files), merging.origins)


def _gather(
    source: Source,
    root: Path,
    chain: tuple[Path, ...],
    seen: set[Path],
    files: list[tuple[Source, Plain]],
    reader: Reader,
) -> None:
    """Append ``source`` and, depth first, what it includes; ``chain`` is who included whom."""
    plain = parse(source)
    if not isinstance(plain, dict):
        if len(chain) > 1:
            raise _error(source, (), "an included file holds no mapping", "key: value")
        files.append((source, plain))
        return
    entries = plain.get(INCLUDE, [])
    dropped = {INCLUDE} if len(chain) == 1 else {INCLUDE, EDITOR_SCHEMA}
    plain = {key: value for key, value in plain.items() if key not in dropped}
    files.append((source, plain))
    if not isinstance(entries, list):
        raise _error(source, (INCLUDE,), "include is no list", "a list of relative file paths")
    for index, entry in enumerate(entries):
        at: KeyPath = (INCLUDE, index)
        file = _included(source, at, entry, root, reader)
        real = reader.real(file)
        if real in chain:
            names = " → ".join(each.name for each in (*chain[chain.index(real) :], real))
            raise _error(source, at, f"the files include each other: {names}", "no circle")
        if real in seen:
            continue
        if len(seen) > MAX_INCLUDED_FILES:
            what = f"more than {MAX_INCLUDED_FILES} files are included"
            raise _error(source, at, what, "fewer files")
        seen.add(real)
        try:
            inner = read_source(file, reader)
        except InputError as fault:
            if fault.place is not None:
                raise
            raise _error(source, at, fault.what, fault.expected or "a readable file") from None
        _gather(inner, root, (*chain, real), seen, files, reader)


def _included(source: Source, at: KeyPath, entry: Plain, root: Path, reader: Reader) -> Path:
    """The file that an include entry names, inside ``root``."""
    expected = "a relative path to a *.yaml, *.yml or *.json file"
    if not isinstance(entry, str) or not entry:
        raise _error(source, at, f"the include entry {_shown(entry)} is no path", expected)
    shown = shortened(entry, LONGEST_PATH)
    bound = reader.real(root)
    try:
        leaves = "leaves the folder of the machine"
        real = real_inside(entry, source.path.parent, bound, leaves, reader)
    except ValueError as fault:
        if isinstance(fault, LeavesError):
            expected = f"a file inside {reader.name(root)}"
        raise _error(source, at, f"the include entry {shown} {fault}", expected) from None
    if not real.name.lower().endswith(SUFFIXES):
        raise _error(source, at, f"the include entry {shown} is no machine file", expected)
    inside = real.relative_to(bound)
    reader.note_link(root, source.path.parent / entry, inside.as_posix())
    return root / inside


def _shown(value: Plain) -> str:
    if isinstance(value, dict | list):
        return "{…}" if isinstance(value, dict) else "[…]"
    return repr(value) if isinstance(value, str) else str(value).lower()


def _error(source: Source, path: KeyPath, what: str, expected: str) -> InputError:
    place = locate(source).value(path) or source.place(0, 0)
    return source.error_at(what, place, expected)


class Merging:
    """The state of one merge: the files and where the claims came from."""

    def __init__(
        self,
        files: list[tuple[Source, Plain]],
        origins: Mapping[KeyPath, tuple[Source, KeyPath]] | None = None,
    ) -> None:
        self.files = files
        self.origins: dict[KeyPath, tuple[Source, KeyPath]] = dict(origins or {})

    def merge(self, one: Plain, two: Plain, path: KeyPath, number: int) -> Plain:
        """``one`` (merged so far) with ``two`` from file ``number``; neither is changed."""
        if same(one, two):
            return one
        one_claims, two_claims = _claims(one), _claims(two)
        if one_claims is not None or two_claims is not None:
            if (one_claims is None and isinstance(one, dict | list)) or (
                two_claims is None and isinstance(two, dict | list)
            ):
                self.refuse(one, two, path, number)
            return self.dispute(one, two, path, number)
        if isinstance(one, dict) and isinstance(two, dict):
            merged = dict(one)
            for key, value in two.items():
                if key in merged:
                    value = self.merge(merged[key], value, (*path, key), number)
                merged[key] = value
            return merged
        if isinstance(one, dict | list) or isinstance(two, dict | list):
            self.refuse(one, two, path, number)
        return self.dispute(one, two, path, number)

    def dispute(self, one: Plain, two: Plain, path: KeyPath, number: int) -> Plain:
        """A claims mapping that holds what both sides say."""
        at = (*path, CLAIMS)
        merged: dict[str, Plain] = {}
        claims: list[Plain] = []
        for value, index in ((one, self.first(path)), (two, number)):
            source = self.files[index][0]
            stated = _claims(value)
            if stated is None:
                self.origins.setdefault((*at, len(claims)), (source, path))
                claims.append({"value": value, "source": source.name})
                continue
            for position, claim in enumerate(stated):
                # what is on record already, from an earlier file, stays
                self.origins.setdefault((*at, len(claims)), (source, (*at, position)))
                claims.append(claim)
            assert isinstance(value, dict)
            for key, beside in value.items():
                if key in merged and key != CLAIMS:
                    beside = self.merge(merged[key], beside, (*path, key), number)
                merged[key] = beside
        merged[CLAIMS] = claims
        return merged

    def first(self, path: KeyPath) -> int:
        """The first file that states something at ``path``."""
        for index, (source, _) in enumerate(self.files):
            if locate(source).node(path):
                return index
        return 0

    def refuse(self, one: Plain, two: Plain, path: KeyPath, number: int) -> NoReturn:
        """Raise that two files cannot be laid over one another at ``path``."""
        source = self.files[number][0]
        before = locate(self.files[self.first(path)][0]).value(path)
        shapes = f"{_shape(two)} here and {_shape(one)}"
        if isinstance(one, list) and isinstance(two, list):
            shapes = "one list here and another list"
        raise _error(
            source,
            path,
            f"{path_text(path) or 'the file'} is {shapes} in {before}",
            "the same in both files, or in one file only",
        )


def _claims(value: Plain) -> list[Plain] | None:
    claims = value.get(CLAIMS) if isinstance(value, dict) else None
    return claims if isinstance(claims, list) else None


def _shape(value: Plain) -> str:
    if _claims(value) is not None:
        return "a set of claims"
    if isinstance(value, dict):
        return "a mapping"
    return "a list" if isinstance(value, list) else "a single value"


def same(one: Plain, two: Plain) -> bool:
    """Whether two plain values state the same: 1 and 1.0 do, 1 and true do not."""
    if one is two:
        return True
    if isinstance(one, dict) and isinstance(two, dict):
        return one.keys() == two.keys() and all(same(one[key], two[key]) for key in one)
    if isinstance(one, list) and isinstance(two, list):
        return len(one) == len(two) and all(map(same, one, two))
    numbers = (int, Decimal)
    if isinstance(one, numbers) and isinstance(two, numbers):
        return isinstance(one, bool) == isinstance(two, bool) and one == two
    return type(one) is type(two) and one == two
