"""Where the values of a YAML text stand, from the events of libyaml."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import suppress
from sys import intern

import yaml
from yaml.events import (
    AliasEvent,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
)

from ..base.errors import InputError
from ..base.lazy import pattern
from .files import Source
from .outline import (
    ALIAS,
    CHUNK,
    DOUBLE,
    FOLDED,
    LIST,
    LITERAL,
    MAPPING,
    PLAIN,
    SINGLE,
    Node,
    Outline,
)
from .places import KeyPath, Locations

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, Final, TypeAlias


# What may stand between the start mark of a value and the value itself: anchor, tag, comments.
_PROPERTIES = pattern(r"(?:[&!]\S*(?:\s+(?:#[^\r\n]*\s+)*|\Z))+")


def events_of(text: str) -> Callable[[], Any]:
    """The function that gives the next event of ``text``, from libyaml where PyYAML has it."""
    try:
        from yaml.cyaml import CSafeLoader
    except ImportError:  # PyYAML without libyaml: the same events, slower
        return yaml.SafeLoader(text).get_event
    get_event: Callable[[], Any] = CSafeLoader(text).get_event
    return get_event


def span_of(text: str, event: Any) -> tuple[int, int]:
    """Offsets of an event's own text, without anchor and tag, and without what follows."""
    start, end = event.start_mark.index, event.end_mark.index
    kind = event.__class__
    if kind is ScalarEvent:
        if event.anchor is not None or event.tag is not None:
            properties = _PROPERTIES.match(text, start, end)
            if properties and (event.value or event.style):
                start = properties.end()
        if event.style in ("|", ">"):
            end = start + len(text[start:end].rstrip())
    return start, end


def error_at_event(
    source: Source, event: Any, what: str, expected: str = "", *, whole: bool = False
) -> InputError:
    """An error about an event's text; ``whole``: from its anchor or tag on."""
    start, end = span_of(source.text, event)
    if whole:
        start = event.start_mark.index
    return source.error(what, start, end, expected)


KeyStart: TypeAlias = "tuple[Any, ...]"
"""The offset of a key in a block mapping, and the path to its value: keys, None in a list."""

STARTS_DEPTH: Final = 3
"""How deep keys are noted while a text is read: down to the parts of an axis."""


def key_starts(source: Source) -> list[KeyStart]:
    """Where keys begin, in order: ``parse_yaml`` fills it for a text without anchors.

    The text from such a key to the next one is YAML by itself and can be scanned alone.
    """
    return []


def scan_yaml(source: Source) -> Outline:
    """Where the values of ``source`` stand; where the text is unusable, of the part before that.

    The first of duplicate keys counts. An alias has its own place and the parts of its anchor.
    """
    outline = Outline()
    outline.scanning = _scan_usable(source.text, 0, outline)
    return outline


class YamlParts:
    """Parts of a text that can be scanned alone: each is, when one of its values is asked for."""

    def __init__(self, source: Source) -> None:
        self.text = source.text
        self.names = Outline()  # with which the outlines of all parts share the names of keys
        self.spans = _spans(source)
        self.scanned: dict[KeyPath, Outline] = {}

    def above(self, path: KeyPath) -> int:
        """How much of a path leads to the part in which it lies; 0 if it lies in none."""
        depths = range(min(len(path), STARTS_DEPTH), 1, -1)
        return next((depth for depth in depths if path[:depth] in self.spans), 0)

    def part(self, path: KeyPath) -> Outline:
        """The outline of one part: a mapping with the last key of the path alone."""
        found = self.scanned.get(path)
        if found is None:
            start, end = self.spans[path]
            found = self.scanned[path] = Outline(self.names)
            found.scanning = _scan_usable(self.text[start:end], start, found)
        return found


class YamlLocations(Locations):
    """Places in a YAML text, of which no more is scanned than the parts that are asked for."""

    @property
    def alone(self) -> YamlParts:
        """The parts that can be scanned alone."""
        return self.source.once(YamlParts)

    def node(self, path: KeyPath) -> Node | None:
        """The node at ``path``, or None if the file has none."""
        depth = self.alone.above(path)
        if not depth:
            return Locations.node(self, path)
        outline = self.alone.part(path[:depth])
        number = outline.top()
        for key in path[depth - 1 :]:
            if number < 0:
                break
            number = outline.child(number, key)
        return None if number < 0 else outline.node(number)


def _spans(source: Source) -> dict[KeyPath, tuple[int, int]]:
    """The stretches of text that can be scanned alone, from the beginning of a line on.

    They are made of whole lines, the first of which begins with the key.
    """
    spans: dict[KeyPath, tuple[int, int]] = {}
    ends: list[int] = [len(source.text)] * (STARTS_DEPTH + 1)
    for offset, *path in reversed(source.once(key_starts)):
        depth = len(path)
        line = offset - source.position(offset)[1] + 1
        if None in path or source.text[line:offset].strip(" "):
            return {}
        spans[tuple(path)] = line, ends[depth]
        ends[depth:] = [line] * (STARTS_DEPTH + 1 - depth)
    return spans


FEW: Final = 8
"""After so many values of a part its scanner pauses."""


def _scan_usable(text: str, base: int, outline: Outline) -> Iterator[None]:
    with suppress(yaml.YAMLError, ValueError, OverflowError):
        yield from _scan(text, base, outline)


_KINDS: Final = {"'": SINGLE, '"': DOUBLE, "|": LITERAL, ">": FOLDED}


def _scan(text: str, base: int, outline: Outline) -> Iterator[None]:
    """Add the values of ``text``, which stands at the offset ``base`` of its file."""
    next_event = events_of(text)
    add = outline.add
    # Per open collection: its number, whether it is a mapping, whether it stands in brackets, and
    # the end of the last thing inside it.
    stack: list[tuple[int, bool, bool, int]] = []
    number, mapping, flow, furthest = -1, False, False, 0
    pending: tuple[str, int, int] | None = None
    anchors: dict[str, int] = {}
    pause = FEW if base else CHUNK  # of a part, often one key alone is asked for
    for _ in range(2):
        next_event()
    while True:
        event = next_event()
        kind = event.__class__
        if kind is ScalarEvent:
            style = event.style
            if event.anchor is None and event.tag is None and style != "|" and style != ">":
                start, end = event.start_mark.index + base, event.end_mark.index + base
            else:
                start, end = (offset + base for offset in span_of(text, event))
            if mapping and pending is None:
                pending = (intern(event.value), start, end)
                continue
            added = add(start, end, _KINDS[style] if style else PLAIN, pending)
            pending = None
            furthest = max(furthest, end)
        elif kind is MappingEndEvent or kind is SequenceEndEvent:
            if flow:
                furthest = event.end_mark.index + base
            # a block collection's end mark is where the next thing begins
            outline.close(number, furthest)
            last = furthest
            number, mapping, flow, furthest = stack.pop()
            furthest = max(furthest, last)
            pending = None
            continue
        elif kind not in (AliasEvent, MappingStartEvent, SequenceStartEvent) or (
            mapping and pending is None
        ):
            return
        else:
            start, end = event.start_mark.index + base, event.end_mark.index + base
            if kind is AliasEvent:
                added = add(start, end, ALIAS, pending, anchors.get(event.anchor, -1))
                furthest = max(furthest, end)
            else:
                form = MAPPING if kind is MappingStartEvent else LIST
                added = add(start, end, form, pending)
                stack.append((number, mapping, flow, furthest))
                number, mapping, flow, furthest = added, form == MAPPING, event.flow_style, 0
            pending = None
        if kind is not AliasEvent and event.anchor is not None:
            anchors.setdefault(event.anchor, added)
        if added % pause == pause - 1:
            yield
