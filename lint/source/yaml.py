"""YAML to plain values by the 1.2 core schema, straight from libyaml's events.

No node tree is composed, since composing takes most of the time of a YAML loader. Places are not
kept either; ``scan_yaml`` reads the text again when an error or a finding needs them.
"""

from __future__ import annotations

from sys import intern

import yaml
from yaml.events import (
    AliasEvent,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
    StreamEndEvent,
)

from ..base.errors import InputError
from .files import Plain, Source, check_text, unprintable
from .limits import MAX_ALIASED, MAX_DEPTH, MAX_NODES, MAX_TEXT, shortened
from .places import Locations, path_text
from .yaml_places import STARTS_DEPTH, KeyStart, error_at_event, events_of, key_starts, scan_yaml
from .yaml_problems import reworded
from .yaml_scalars import CORE, WORDS, RefusedScalar, UnknownTag, scalar_value, tag_text

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any


def parse_yaml(source: Source) -> Plain:
    """The one document in ``source`` as a plain value.

    Core schema of YAML 1.2: only true/false are bool, decimal, 0x and 0o whole numbers are int,
    other decimal numbers are Decimal with their digits kept, everything else is text. Raises
    InputError with a place for text that is not YAML, for null or missing values, for numbers with
    a leading zero, non-finite or absurdly long numbers, duplicate or empty keys, ``<<``, foreign
    tags, recursive or exploding aliases, absurd nesting, and for no or several documents.
    """
    check_text(source)
    try:
        return build(source, {})
    except yaml.YAMLError as fault:
        raise reworded(source, fault) from None
    except (ValueError, OverflowError):  # PyYAML's own reader, on an escape beyond U+10FFFF
        raise source.error("an escape that is no character", 0, 0, "Unicode characters") from None


def build(source: Source, anchors: dict[str, Any]) -> Plain:
    """The value that the events of ``source`` make; what it anchors is put into ``anchors``.

    Whole, since every value of a large file passes through it: divided into the methods of a class,
    it took longer to read a machine of a thousand axes.
    """
    next_event = events_of(source.text)
    next_event()  # stream start
    event = next_event()
    if event.__class__ is StreamEndEvent:
        raise source.error("the file holds no values", 0, 0, "a machine description")
    if event.version is not None and event.version != (1, 2):
        version = ".".join(map(str, event.version))
        raise error_at_event(
            source, event, f"the file says it is YAML {version}", "YAML 1.2, or no %YAML line"
        )

    top: list[Plain] = []
    items: list[Plain] = top  # the open list, where no mapping is open
    mapping: dict[str, Plain] | None = None  # the open mapping
    key: str | None = None  # its key that waits for a value
    flow = False
    # Per open collection: what was open around it, its anchor and, for anchored ones, the node
    # count when it began and the deepest nesting seen before it.
    stack: list[tuple[dict[str, Plain] | None, list[Plain], str | None, bool, Any, int, int]] = []
    memo: dict[str, Plain] = dict(WORDS)
    nodes = aliased = 0
    deepest = 0
    starts: list[KeyStart] = []

    while True:
        event = next_event()
        kind = event.__class__
        if kind is ScalarEvent:
            text = event.value
            if mapping is not None and key is None:
                if (
                    text in mapping
                    or not text
                    or text == "<<"
                    or event.anchor is not None
                    or event.tag is not None
                    or len(text) > MAX_TEXT
                    or (event.style and unprintable(text))
                ):
                    _refuse_key(source, event, _path(stack, mapping, items, text), text in mapping)
                key = intern(text)
                if len(stack) <= STARTS_DEPTH and not flow and (stack[-1][0] or len(stack) == 1):
                    starts.append((event.start_mark.index, *(each[2] for each in stack[1:]), key))
                continue
            nodes += 1
            value: Any = None
            if event.tag is None and not event.style:
                value = memo.get(text)
            if value is None:
                try:
                    value = scalar_value(event, text)
                except RefusedScalar as refusal:
                    where = _path(stack, mapping, items, key)
                    raise _refused(source, event, refusal, where, flow) from None
                if event.tag is None and not event.style:
                    memo[text] = value
            if event.anchor is not None:
                _name(source, event, anchors, (value, 1, 0))
            if mapping is None:
                items.append(value)
            else:
                mapping[key] = value  # type: ignore[index]
                key = None
        elif kind is MappingStartEvent or kind is SequenceStartEvent:
            if mapping is not None and key is None:
                raise error_at_event(
                    source, event, "a list or mapping stands where a key belongs", "a word"
                )
            nodes += 1
            inner: Any = {} if kind is MappingStartEvent else []
            if event.tag is not None:
                core = "map" if kind is MappingStartEvent else "seq"
                if event.tag != CORE + core:
                    raise error_at_event(
                        source,
                        event,
                        f"the tag {tag_text(event.tag)} is not understood here",
                        f"no tag, or !!{core}",
                        whole=True,
                    )
            if event.anchor is not None:
                _name(source, event, anchors, None)
            stack.append((mapping, items, key, flow, event.anchor, nodes, deepest))
            if event.anchor is not None:
                deepest = 0
            if len(stack) > deepest:
                deepest = len(stack)
                if deepest > MAX_DEPTH:
                    raise error_at_event(
                        source, event, f"nested deeper than {MAX_DEPTH} levels", "flatter values"
                    )
            if mapping is None:
                items.append(inner)
            else:
                mapping[key] = inner  # type: ignore[index]
            if kind is MappingStartEvent:
                mapping, key = inner, None
            else:
                mapping, items = None, inner
            flow = event.flow_style
        elif kind is MappingEndEvent or kind is SequenceEndEvent:
            level = len(stack)
            closed: Any = items if mapping is None else mapping
            mapping, items, key, flow, anchor, before, outside = stack.pop()
            if anchor is not None:
                anchors[anchor] = (closed, nodes - before + 1, deepest - level + 1)
                deepest = max(deepest, outside)
            key = None
        elif kind is AliasEvent:
            name, shown = event.anchor, shortened(event.anchor)
            if mapping is not None and key is None:
                raise error_at_event(
                    source, event, f"the alias *{shown} stands where a key belongs", "a word"
                )
            if name not in anchors:
                raise error_at_event(
                    source,
                    event,
                    f"the alias *{shown} names no anchor",
                    f"an anchor &{shown} before it",
                )
            target = anchors[name]
            if target is None:
                raise error_at_event(
                    source,
                    event,
                    f"the alias *{shown} stands inside its own anchor",
                    "an alias after it",
                )
            value, size, levels = target
            nodes += size
            aliased += size
            if aliased > MAX_ALIASED:
                raise error_at_event(
                    source,
                    event,
                    f"the aliases up to *{shown} stand for more than {MAX_ALIASED} values",
                    "fewer aliases, or aliases of smaller parts",
                )
            if nodes > MAX_NODES:
                raise error_at_event(
                    source,
                    event,
                    f"the alias *{shown} makes the file grow beyond {MAX_NODES} values",
                    "fewer aliases of aliases",
                )
            if len(stack) + levels > deepest:
                deepest = len(stack) + levels
                if deepest > MAX_DEPTH:
                    raise error_at_event(
                        source,
                        event,
                        f"the alias *{shown} nests the file deeper than {MAX_DEPTH} levels",
                        "flatter values",
                    )
            if mapping is None:
                items.append(value)
            else:
                mapping[key] = value  # type: ignore[index]
                key = None
        else:  # document end
            break
        if nodes > MAX_NODES:
            raise error_at_event(
                source, event, f"the file holds more than {MAX_NODES} values", "a smaller file"
            )

    event = next_event()
    if event.__class__ is not StreamEndEvent:
        raise error_at_event(
            source, event, "a second document begins here", "one document in a file"
        )
    if not anchors:
        source.once(key_starts).extend(starts)
    return top[0]


def _path(
    stack: list[Any], mapping: Any, items: list[Plain], key: str | None
) -> tuple[str | int, ...]:
    """The path of the value under work, from the open collections."""
    if not stack:
        return ()
    path = [len(around[1]) - 1 if around[0] is None else around[2] for around in stack[1:]]
    path.append(len(items) if mapping is None else key)
    return tuple(path)


def _name(source: Source, event: Any, anchors: dict[str, Any], value: Any) -> None:
    if event.anchor in anchors:
        what = f"the anchor &{shortened(event.anchor)} is set a second time"
        raise error_at_event(source, event, what, "one use of the name", whole=True)
    anchors[event.anchor] = value


def _refuse_key(source: Source, event: Any, path: tuple[str | int, ...], twice: bool) -> None:
    """Raise what is wrong with a key; a !!str tag is nothing wrong."""
    text = event.value
    expected = "a word"
    if text == "<<" and not event.style:
        what, expected = "the merge key << is not understood", "the keys written out"
    elif not text:
        what = "the key is empty"
    elif event.anchor is not None:
        what, expected = (
            f"the anchor &{shortened(event.anchor)} stands on a key",
            "anchors on values only",
        )
    elif event.tag not in (None, CORE + "str"):
        what = f"the tag {tag_text(event.tag)} is not understood on a key"
    elif len(text) > MAX_TEXT:
        what = f"the key has {len(text)} characters"
        expected = f"at most {MAX_TEXT}"
    elif unprintable(text):
        what = f"the key holds the control character {unprintable(text)}"
    elif twice:
        first = Locations(source, scan_yaml(source)).key(path)
        where = f" (first on line {first.line}, column {first.column})" if first else ""
        what = f"the key {shortened(text)!r} stands twice in one mapping{where}"
        expected = "every key once"
    else:
        return
    raise error_at_event(source, event, what, expected, whole=True)


def _refused(
    source: Source, event: Any, refusal: RefusedScalar, path: tuple[str | int, ...], flow: bool
) -> InputError:
    what, expected = refusal.args
    if event.value or event.style or event.tag is not None:
        return error_at_event(source, event, what, expected, whole=isinstance(refusal, UnknownTag))
    if not path:
        return source.error("the document is empty", 0, 0, "a machine description")
    key = path[-1]
    if isinstance(key, str):
        named = Locations(source, scan_yaml(source)).key(path)
        what = f"the key {shortened(key)!r} has no value"
        if flow and ":" in key:
            expected = "a space after the colon"
        elif flow and key[:1].isdigit():
            what = f"a comma ends the value, so that {shortened(key)!r} is a key without a value"
            expected = "a point in a number, such as 1.5"
        if named:
            return source.error_at(what, named, expected)
    else:
        what = f"the list entry {path_text(path)} is empty"
    return error_at_event(source, event, what, expected)
