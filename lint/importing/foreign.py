"""Tells files that are none of axisproof's from those that are, by their keys at the top.

Less evidence never acquits: only a file that can be parsed, and that has no key by which one of the
kinds is known, nor one much like it, is foreign. All others are read, and refused if need be.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from ..base.errors import InputError
from ..source.reader import Reader, read_source

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final

    from ..source.files import Source


MACHINE_KEYS: Final = ("format", "machine", "axes")
"""What every machine file states; a file with one of them is to be one, or a part."""

OWN_KEYS: Final = (*MACHINE_KEYS, "project", "mapping", "part", "waivers", "accepted", "axisproof")
"""The keys by which the kinds of files are known, as their schemas require them."""

KINDS: Final = {
    "format": "a machine file",
    "project": "a project file",
    "mapping": "a mapping file",
    "part": "a part file",
    "waivers": "a waiver file",
    "accepted": "an accepted set",
    "axisproof": "a site file",
    "settings": "a settings file",
    "levels": "a settings file",
}
"""The kinds of files in words, by a key at the top."""

SETTINGS_KEYS: Final = frozenset({"settings", "levels"})
"""All keys of a settings file: other programs use these words too, but beside others."""

_LIKE: Final = 0.75
"""How much a key is like another one, from 0 to 1, to be taken for a slip of the pen.

`fromat`, `axs`, `axis` and `machin` are; `main`, `name` and `image` are not.
"""


def are_foreign(keys: frozenset[str]) -> bool:
    """Whether a file with these keys at the top is none of axisproof's; without any, it may be."""
    if not keys or not keys.isdisjoint(OWN_KEYS) or are_of_settings(keys):
        return False
    from ..machine.schema import HEADER, machine_type

    return not (keys <= HEADER | set(machine_type().fields) or any(map(_is_a_slip, keys)))


def are_of_settings(keys: frozenset[str]) -> bool:
    """Whether a settings file has these keys at the top, and no other."""
    return bool(keys) and keys <= SETTINGS_KEYS


def _is_a_slip(key: str) -> bool:
    """Whether somebody may have meant a key of a machine file."""
    from difflib import get_close_matches

    return bool(get_close_matches(key[:40].lower(), MACHINE_KEYS, 1, _LIKE))


def top_keys(path: Path, reader: Reader) -> frozenset[str]:
    """The keys at the top of a file, of all its documents; none if it cannot be parsed.

    It is read as its form permits, and not as strictly as a machine file. A list has the key
    ``-``. Of a file that is known by a key, no more than that key may be given.
    """
    try:
        source = read_source(path, reader)
    except InputError:
        return frozenset()
    if source.form == "json":
        return _of_json(source.text)
    return _of_yaml(source)


_LIST: Final = "-"
"""Stands for the keys of a list."""


def _of_json(text: str) -> frozenset[str]:
    import json

    try:
        top = json.loads(text, object_pairs_hook=tuple)
    except (ValueError, RecursionError):
        return frozenset()
    if isinstance(top, list):
        return frozenset({_LIST})
    return frozenset(key for key, _ in top) if isinstance(top, tuple) else frozenset()


def _of_yaml(source: Source) -> frozenset[str]:
    import yaml

    found: set[str] = set()
    try:
        for key in _yaml_keys(source):
            if key is None:
                return frozenset()
            found.add(key)
            if key in OWN_KEYS:
                break
    except (yaml.YAMLError, ValueError, OverflowError):
        return frozenset()
    return frozenset(found)


def _yaml_keys(source: Source) -> Iterator[str | None]:
    """The keys at the top of a text; None for what names no key, such as a text or an alias."""
    from yaml.events import (
        AliasEvent,
        MappingEndEvent,
        MappingStartEvent,
        ScalarEvent,
        SequenceEndEvent,
        SequenceStartEvent,
        StreamEndEvent,
    )

    from ..source.yaml_places import events_of

    next_event = events_of(source.text)
    depth = 0
    in_mapping = at_key = False
    while (event := next_event()).__class__ is not StreamEndEvent:
        kind = event.__class__
        if kind is MappingEndEvent or kind is SequenceEndEvent:
            depth -= 1
            continue
        opens = kind is MappingStartEvent or kind is SequenceStartEvent
        if depth == 0:
            if kind is SequenceStartEvent:
                yield _LIST
            elif kind is AliasEvent or (kind is ScalarEvent and event.value):
                yield None
            at_key = True
            in_mapping = kind is MappingStartEvent
        elif depth == 1 and in_mapping and (opens or kind is ScalarEvent or kind is AliasEvent):
            if at_key:
                is_word = kind is ScalarEvent and event.value != "<<"
                yield event.value if is_word else None
            at_key = not at_key
        depth += opens
