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
    Outline,
)

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, Final


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


def span_of(source: Source, event: Any) -> tuple[int, int]:
    """Offsets of an event's own text, without anchor and tag, and without what follows."""
    start, end = event.start_mark.index, event.end_mark.index
    kind = event.__class__
    if kind is ScalarEvent:
        if event.anchor is not None or event.tag is not None:
            properties = _PROPERTIES.match(source.text, start, end)
            if properties and (event.value or event.style):
                start = properties.end()
        if event.style in ("|", ">"):
            end = start + len(source.text[start:end].rstrip())
    return start, end


def error_at_event(
    source: Source, event: Any, what: str, expected: str = "", *, whole: bool = False
) -> InputError:
    """An error about an event's text; ``whole``: from its anchor or tag on."""
    start, end = span_of(source, event)
    if whole:
        start = event.start_mark.index
    return source.error(what, start, end, expected)


def scan_yaml(source: Source) -> Outline:
    """Where the values of ``source`` stand; where the text is unusable, of the part before that.

    The first of duplicate keys counts. An alias has its own place and the parts of its anchor.
    """
    outline = Outline()
    outline.scanning = _scan_usable(source, outline)
    return outline


def _scan_usable(source: Source, outline: Outline) -> Iterator[None]:
    with suppress(yaml.YAMLError, ValueError, OverflowError):
        yield from _scan(source, outline)


_KINDS: Final = {"'": SINGLE, '"': DOUBLE, "|": LITERAL, ">": FOLDED}


def _scan(source: Source, outline: Outline) -> Iterator[None]:
    next_event = events_of(source.text)
    # Per open collection: its number, whether it is a mapping, whether it stands in brackets, and
    # the end of the last thing inside it.
    stack: list[tuple[int, bool, bool, int]] = []
    number, mapping, flow, furthest = -1, False, False, 0
    pending: tuple[str, int, int] | None = None
    anchors: dict[str, int] = {}
    for _ in range(2):
        next_event()
    while True:
        event = next_event()
        kind = event.__class__
        if kind is MappingEndEvent or kind is SequenceEndEvent:
            if flow:
                furthest = event.end_mark.index
            # a block collection's end mark is where the next thing begins
            outline.close(number, furthest)
            last = furthest
            number, mapping, flow, furthest = stack.pop()
            furthest = max(furthest, last)
            pending = None
            continue
        if kind not in (ScalarEvent, AliasEvent, MappingStartEvent, SequenceStartEvent):
            return
        start, end = span_of(source, event)
        if mapping and pending is None:
            if kind is not ScalarEvent:
                return
            pending = (intern(event.value), start, end)
            continue
        if kind is ScalarEvent:
            added = outline.add(start, end, _KINDS.get(event.style, PLAIN), pending)
        elif kind is AliasEvent:
            added = outline.add(start, end, ALIAS, pending, anchors.get(event.anchor, -1))
        else:
            form = MAPPING if kind is MappingStartEvent else LIST
            added = outline.add(start, end, form, pending)
            stack.append((number, mapping, flow, furthest))
            number, mapping, flow, furthest = added, form == MAPPING, event.flow_style, 0
        pending = None
        if kind is ScalarEvent or kind is AliasEvent:
            furthest = max(furthest, end)
        if kind is not AliasEvent and event.anchor is not None:
            anchors.setdefault(event.anchor, added)
        if added % CHUNK == CHUNK - 1:
            yield
