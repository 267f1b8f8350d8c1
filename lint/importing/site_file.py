"""The site file ``axisproof.yaml``: what a repository asks to be checked, and by which rules.

Its text comes from a repository, so it is data: what it names lies in that repository, links
followed, and it names no file to be written, no cache and no address.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import lru_cache
from pathlib import Path

from ..base.errors import InputError, Place, UsageError
from ..base.lazy import dataclass, field, replace
from ..source.files import Plain, Source
from ..source.inside import real_inside
from ..source.limits import LONGEST_PATH, shortened
from ..source.parsing import locate, parse
from ..source.places import KeyPath
from ..source.reader import DISK, Reader, read_source
from ..source.site_search import bound_of, one_site_file, shown_path

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, Final

KEY: Final = "axisproof"
"""The key by which a site file is told from other files."""

VERSION: Final = 1


@dataclass(frozen=True, slots=True)
class SiteFile:
    """A site file as read: paths lead from the present folder, ``patterns`` are of exclusions.

    ``name`` is the file in messages and reports. ``places`` says where each key stands. What the
    file does not state is empty.
    """

    path: Path
    name: str
    check: tuple[Path, ...] = ()
    patterns: tuple[str, ...] = ()
    rules: tuple[Path, ...] = ()
    settings: Path | None = None
    waivers: Path | None = None
    accepted: Path | None = None
    shelf: Path | None = None
    fail_at: str | None = None
    forms: Mapping[str, str] = field(default_factory=dict)
    places: Mapping[str, Place] = field(default_factory=dict)

    @property
    def files(self) -> tuple[Path, ...]:
        """The site file, and the files and folders that it names beside those to check."""
        named = (self.settings, self.waivers, self.accepted, self.shelf)
        return (self.path, *self.rules, *(each for each in named if each is not None))

    def without(self, keys: Iterable[str]) -> SiteFile:
        """The same file with some keys as if it did not state them: options decide those."""
        plain = SiteFile(self.path, self.name)
        return replace(self, **{key: getattr(plain, key) for key in keys})

    def excludes(self, reader: Reader = DISK) -> Callable[[Path], bool]:
        """What tells whether a file found in a folder is excluded."""
        if not self.patterns:
            return lambda path: False
        from ..source.patterns import Patterns

        patterns = Patterns(reader.real(self.path.parent), self.patterns)
        return lambda path: patterns.verdict(reader.real(path.parent) / path.name) is True


def find_site_file(paths: Sequence[Path], reader: Reader = DISK) -> SiteFile | None:
    """The site file ``axisproof.yaml`` that counts for files and folders; None if there is none.

    It lies in their folder, or above that up to the top of the repository. Raises InputError for
    one that cannot be used, UsageError for paths that belong to different ones.
    """
    found = one_site_file(paths, reader)
    return None if found is None else read_site_file(found, reader)


def read_site_file(path: Path, reader: Reader = DISK) -> SiteFile:
    """Read a site file (schemas/site.schema.json).

    Raises InputError, with a place, for whatever does not fit, and for a path that leads nowhere or
    out of its repository. Raises UsageError for a site file that is a link out of it.
    """
    top = bound_of(path, reader)
    if not reader.real(path).is_relative_to(top):
        raise UsageError(
            f"{reader.name(path)} is a link that leads out of the repository",
            expected="a site file in the repository, or --no-site-file",
        )
    source = read_source(path, reader)
    plain, places = _stated(source)
    named: dict[str, Path] = {
        key: _named(source, (key,), plain[key], top, reader)
        for key in ("settings", "waivers", "accepted", "shelf")
        if key in plain
    }
    lists = {
        key: tuple(
            _named(source, (key, number), entry, top, reader)
            for number, entry in enumerate(plain.get(key, ()))
        )
        for key in ("check", "rules")
    }
    return SiteFile(
        path,
        source.name,
        lists["check"],
        tuple(plain.get("exclude", ())),
        lists["rules"],
        named.get("settings"),
        named.get("waivers"),
        named.get("accepted"),
        _folder(source, named.get("shelf"), reader),
        plain.get("fail_at"),
        dict(plain.get("forms", {})),
        places,
    )


@lru_cache(maxsize=2)
def parsed_once(source: Source) -> Plain:
    """The values of a site file, parsed once as long as its text is the same.

    A command asks for them more than once, and an editor with each key.
    """
    return parse(source)


@lru_cache(maxsize=2)
def _stated(source: Source) -> tuple[dict[str, Any], dict[str, Place]]:
    """What a site file states, and where each key stands; whether paths exist is not looked at."""
    plain: Any = parsed_once(source)
    if not fits(plain):  # the validator takes longer to load than a check takes
        from .shape import check_shape

        check_shape(source, plain, "site")
    assert isinstance(plain, dict)
    _check_patterns(source, plain.get("exclude", ()))
    here = locate(source)
    return plain, {key: place for key in plain if (place := here.key((key,))) is not None}


_TEXTS: Final = ("settings", "waivers", "accepted", "shelf")
_LISTS: Final = ("check", "exclude", "rules")


def fits(plain: Any) -> bool:
    """Whether a value surely has the shape of the published schema; the schema decides the rest."""
    if not isinstance(plain, dict) or plain.get(KEY) is not VERSION or "forms" in plain:
        return False
    if plain.keys() - {KEY, "fail_at", *_TEXTS, *_LISTS}:
        return False
    texts = [plain[key] for key in _TEXTS if key in plain]
    for key in _LISTS:
        entries = plain.get(key, [])
        if not isinstance(entries, list) or len(entries) > 1000 or (key in plain and not entries):
            return False
        texts += entries
    levels = ("error", "warning", "note")
    return plain.get("fail_at", "error") in levels and all(
        isinstance(text, str) and 1 <= len(text) <= 1000 for text in texts
    )


def _check_patterns(source: Source, patterns: Sequence[str]) -> None:
    for at, pattern in enumerate(patterns):
        if pattern.strip() != pattern or "\n" in pattern:
            what, expected = "the pattern has blanks at an end", "a pattern without them"
            raise _error(source, ("exclude", at), what, expected)
    if not patterns:
        return
    from ..source.patterns import first_unreadable

    number = first_unreadable(patterns)
    if number is not None:
        what = f"{shortened(patterns[number])} is not a pattern"
        expected = "a pattern as in a .gitignore file, such as archive/"
        raise _error(source, ("exclude", number), what, expected)


def _named(source: Source, at: KeyPath, entry: str, top: Path, reader: Reader) -> Path:
    """The file or folder that an entry names, which exists and lies in the repository."""
    shown = shortened(entry, LONGEST_PATH)
    expected = "a file or folder in the repository, named from the folder of the site file"
    folder = reader.real(source.path.parent)
    try:
        real = real_inside(entry, folder, top, "leads out of the repository", reader)
    except ValueError as fault:
        raise _error(source, at, f"{shown} {fault}", expected) from None
    if reader.kind(real) is None:
        raise _error(source, at, f"there is no file or folder {shown}", expected)
    named = Path(os.path.normpath(folder / entry))
    file = named if reader.real(named) == real else real
    return file if source.path.is_absolute() else shown_path(file, reader)


def _folder(source: Source, shelf: Path | None, reader: Reader) -> Path | None:
    """The shelf, if it is a folder. Raises InputError for a file."""
    if shelf is not None and not reader.is_folder(shelf):
        shown = shortened(shelf.as_posix(), LONGEST_PATH)
        raise _error(source, ("shelf",), f"{shown} is no folder", "a folder of part files")
    return shelf


def _error(source: Source, at: KeyPath, what: str, expected: str) -> InputError:
    from .shape import error_at

    return error_at(source, at, what, expected)
