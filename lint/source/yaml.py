"""YAML to plain values by the 1.2 core schema, straight from libyaml's events.

No node tree is composed: on a large file that is most of what a YAML loader spends. Places are not
kept either; ``scan_yaml`` reads the file again when an error or a finding needs them.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from decimal import Decimal
from sys import intern
from typing import Any, Final, cast

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
from ..base.lazy import pattern
from .files import Plain, Source, check_text, unprintable
from .limits import MAX_DEPTH, MAX_NODES, MAX_TEXT, NUMBER_BOUNDS, number_fault, shortened
from .outline import ALIAS, DOUBLE, FOLDED, LIST, LITERAL, MAPPING, PLAIN, SINGLE, Outline
from .places import path_text

ABSENT_HINT: Final = "none where it is known to be absent, or the key left out"

_CORE: Final = "tag:yaml.org,2002:"
_WORDS: Final[dict[str, bool]] = {
    **dict.fromkeys(("true", "True", "TRUE"), True),
    **dict.fromkeys(("false", "False", "FALSE"), False),
}
_NULLS: Final = frozenset(("", "~", "null", "Null", "NULL"))
_INT = pattern(r"[-+]?[0-9]+")
_BASED = pattern(r"0x[0-9a-fA-F]+|0o[0-7]+")
_FLOAT = pattern(r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?")
_NOT_FINITE = pattern(r"[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN)")
_NUMBER_START: Final = frozenset("+-.0123456789")
# What may stand between the start mark of a value and the value itself: anchor, tag, comments.
_PROPERTIES = pattern(r"(?:[&!]\S*(?:\s+(?:#[^\r\n]*\s+)*|\Z))+")


class _RefusedScalar(Exception):
    """A scalar that cannot be used: (what, expected)."""


class _UnknownTag(_RefusedScalar):
    """A scalar with a tag outside the core schema."""


def events_of(text: str) -> Callable[[], Any]:
    """The function that gives the next event of ``text``, from libyaml where PyYAML has it."""
    try:
        from yaml.cyaml import CSafeLoader
    except ImportError:  # PyYAML without libyaml: the same events, slower
        return yaml.SafeLoader(text).get_event
    return cast(Callable[[], Any], CSafeLoader(text).get_event)


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
        return _build(source)
    except yaml.YAMLError as fault:
        raise _reworded(source, fault) from None
    except (ValueError, OverflowError):  # PyYAML's own reader, on an escape beyond U+10FFFF
        raise source.error("an escape that is no character", 0, 0, "Unicode characters") from None


def _build(source: Source) -> Plain:
    next_event = events_of(source.text)
    next_event()  # stream start
    event = next_event()
    if event.__class__ is StreamEndEvent:
        raise source.error("the file holds no values", 0, 0, "a machine description")
    if event.version is not None and event.version != (1, 2):
        version = ".".join(map(str, event.version))
        raise _at(
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
    anchors: dict[str, tuple[Plain, int, int] | None] = {}  # value, nodes, levels; None while open
    memo: dict[str, Plain] = dict(_WORDS)
    nodes = 0
    deepest = 0

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
                continue
            nodes += 1
            value: Any = None
            if event.tag is None and not event.style:
                value = memo.get(text)
            if value is None:
                try:
                    value = _scalar(event, text)
                except _RefusedScalar as refusal:
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
                raise _at(source, event, "a list or mapping stands where a key belongs", "a word")
            nodes += 1
            inner: Any = {} if kind is MappingStartEvent else []
            if event.tag is not None:
                core = "map" if kind is MappingStartEvent else "seq"
                if event.tag != _CORE + core:
                    raise _at(
                        source,
                        event,
                        f"the tag {_tag(event.tag)} is not understood here",
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
                    raise _at(
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
                raise _at(source, event, f"the alias *{shown} stands where a key belongs", "a word")
            if name not in anchors:
                raise _at(
                    source,
                    event,
                    f"the alias *{shown} names no anchor",
                    f"an anchor &{shown} before it",
                )
            target = anchors[name]
            if target is None:
                raise _at(
                    source,
                    event,
                    f"the alias *{shown} stands inside its own anchor",
                    "an alias after it",
                )
            value, size, levels = target
            nodes += size
            if nodes > MAX_NODES:
                raise _at(
                    source,
                    event,
                    f"the alias *{shown} makes the file grow beyond {MAX_NODES} values",
                    "fewer aliases of aliases",
                )
            if len(stack) + levels > deepest:
                deepest = len(stack) + levels
                if deepest > MAX_DEPTH:
                    raise _at(
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
            raise _at(
                source, event, f"the file holds more than {MAX_NODES} values", "a smaller file"
            )

    event = next_event()
    if event.__class__ is not StreamEndEvent:
        raise _at(source, event, "a second document begins here", "one document in a file")
    return top[0]


def _scalar(event: Any, text: str) -> Plain:
    """The value of a scalar event. Raises _Refused."""
    if len(text) > MAX_TEXT:
        raise _RefusedScalar(f"the text has {len(text)} characters", f"at most {MAX_TEXT}")
    tag, style = event.tag, event.style
    if style == '"':  # the one style with escapes
        hidden = unprintable(text)
        if hidden:
            raise _RefusedScalar(f"the text holds the control character {hidden}", "printable text")
    if tag is None:
        return text if style else _plain(text)
    if tag == _CORE + "str":
        return text
    wanted: Any = {"int": int, "float": Decimal, "bool": bool, "null": None}.get(
        tag.removeprefix(_CORE) if tag.startswith(_CORE) else "", ()
    )
    if wanted == ():
        raise _UnknownTag(
            f"the tag {_tag(tag)} is not understood",
            "no tag, or one of !!str, !!int, !!float, !!bool",
        )
    value = _plain(text) if wanted is not None else _plain("")
    if wanted is Decimal and type(value) is int:
        value = Decimal(value)
    if type(value) is not wanted:
        raise _RefusedScalar(
            f"{shortened(text)!r} is not what its tag {_tag(tag)} says", "them to agree"
        )
    return value


def _plain(text: str) -> Plain:
    """The value of a plain scalar by the core schema. Raises _Refused."""
    word = _WORDS.get(text)
    if word is not None:
        return word
    if text in _NULLS:
        raise _RefusedScalar(
            f"{text or 'an empty value'} says neither present nor absent", ABSENT_HINT
        )
    if text[0] not in _NUMBER_START:
        return text
    whole = _INT.fullmatch(text)
    if whole:
        digits = text.lstrip("+-")
        if digits[0] == "0" and len(digits) > 1:
            bare = digits.lstrip("0") or "0"
            octal = f" or 0o{bare}" if set(bare) <= set("01234567") else ""
            raise _RefusedScalar(
                f"{shortened(text)} has a leading zero, which some read as octal",
                f"{shortened(bare)}{octal}, or quotes around it if it is text",
            )
    elif not _BASED.fullmatch(text) and not _FLOAT.fullmatch(text):
        if _NOT_FINITE.fullmatch(text):
            raise _RefusedScalar(f"{text} is not a finite number", "a finite number")
        return text
    fault = number_fault(text)
    if fault:
        raise _RefusedScalar(f"the number {shortened(text)} {fault}", NUMBER_BOUNDS)
    if whole:
        return int(text)
    if text[:2] in ("0x", "0o"):
        return int(text, 0)
    return Decimal(text)


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
        raise _at(source, event, what, "one use of the name", whole=True)
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
    elif event.tag not in (None, _CORE + "str"):
        what = f"the tag {_tag(event.tag)} is not understood on a key"
    elif len(text) > MAX_TEXT:
        what = f"the key has {len(text)} characters"
        expected = f"at most {MAX_TEXT}"
    elif unprintable(text):
        what = f"the key holds the control character {unprintable(text)}"
    elif twice:
        first = source.locations.key(path)
        where = f" (first on line {first.line}, column {first.column})" if first else ""
        what = f"the key {shortened(text)!r} stands twice in one mapping{where}"
        expected = "every key once"
    else:
        return
    raise _at(source, event, what, expected, whole=True)


def _refused(
    source: Source, event: Any, refusal: _RefusedScalar, path: tuple[str | int, ...], flow: bool
) -> InputError:
    what, expected = refusal.args
    if event.value or event.style or event.tag is not None:
        return _at(source, event, what, expected, whole=isinstance(refusal, _UnknownTag))
    if not path:
        return source.error("the document is empty", 0, 0, "a machine description")
    key = path[-1]
    if isinstance(key, str):
        named = source.locations.key(path)
        what = f"the key {shortened(key)!r} has no value"
        if flow and ":" in key:
            expected = "a space after the colon"
        if named:
            return source.error_at(what, named, expected)
    else:
        what = f"the list entry {path_text(path)} is empty"
    return _at(source, event, what, expected)


def _tag(tag: str) -> str:
    return shortened("!!" + tag[len(_CORE) :] if tag.startswith(_CORE) else tag)


def _span(source: Source, event: Any) -> tuple[int, int]:
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


def _at(
    source: Source, event: Any, what: str, expected: str = "", *, whole: bool = False
) -> InputError:
    """An error about an event's text; ``whole``: from its anchor or tag on."""
    start, end = _span(source, event)
    if whole:
        start = event.start_mark.index
    return source.error(what, start, end, expected)


def scan_yaml(source: Source) -> Outline:
    """Where the values of ``source`` stand; where the text is unusable, of the part before that.

    The first of duplicate keys counts. An alias has its own place and the parts of its anchor.
    """
    outline = Outline()
    with suppress(yaml.YAMLError, ValueError, OverflowError):
        _scan(source, outline)
    return outline


_KINDS: Final = {"'": SINGLE, '"': DOUBLE, "|": LITERAL, ">": FOLDED}


def _scan(source: Source, outline: Outline) -> None:
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
        start, end = _span(source, event)
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


# libyaml's problem → what is wrong, what was expected, and whether to point at the construct that
# was begun (libyaml's context) instead of at the spot where reading stopped.
_PROBLEMS: Final[dict[str, tuple[str, str, bool]]] = {
    "found a tab character that violates indentation": (
        "a tab in the indentation",
        "spaces",
        False,
    ),
    "found a tab character where an indentation space is expected": (
        "a tab in the indentation",
        "spaces",
        False,
    ),
    "mapping values are not allowed in this context": (
        "this colon makes no key",
        "one 'key: value' on a line at matching indentation, or quotes around text with a colon",
        False,
    ),
    "mapping keys are not allowed in this context": (
        "a key cannot stand here",
        "one 'key: value' on a line",
        False,
    ),
    "block sequence entries are not allowed in this context": (
        "a list cannot begin here",
        "'- ' at the start of its own line, or [ ]",
        False,
    ),
    "could not find expected ':'": (
        "this line is no key and no value",
        "'key: value', with a space after the colon",
        True,
    ),
    "did not find expected key": (
        "this does not continue the mapping",
        "one 'key: value' on a line, keys at the same indentation",
        False,
    ),
    "did not find expected '-' indicator": (
        "this does not continue the list",
        "'- ' at the same indentation as the entries before",
        False,
    ),
    "did not find expected ',' or ']'": (
        "the list opened with [ is not closed",
        "',' or ']'",
        True,
    ),
    "did not find expected ',' or '}'": (
        "the mapping opened with { is not closed",
        "',' or '}'",
        True,
    ),
    "did not find expected node content": ("no value stands here", "a value", False),
    "found unexpected end of stream": ("the quoted text is never closed", "a closing quote", True),
    "found unexpected document indicator": (
        "the quoted text runs into a document marker",
        "a closing quote",
        True,
    ),
    "found unknown escape character": (
        "an unknown escape in quoted text",
        "a YAML escape such as \\n, or '…' quotes, which take \\ as it is",
        False,
    ),
    "found invalid Unicode character escape code": (
        "an escape that is no character",
        "a Unicode character",
        False,
    ),
    "did not find expected hexdecimal number": (
        "an escape that is no hexadecimal number",
        "hexadecimal digits",
        False,
    ),
    "found undefined tag handle": ("a tag with an unknown handle", "no tag", False),
    "did not find expected <document start>": (
        "text after the end of the document",
        "nothing after the one value of the file",
        False,
    ),
    "found incompatible YAML document": (
        "the file asks for an unknown YAML version",
        "YAML 1.2, or no %YAML line",
        False,
    ),
    "did not find expected alphabetic or numeric character": (
        "an anchor or alias without a name",
        "letters or digits after & or *, or quotes around the text",
        True,
    ),
    "did not find expected comment or line break": (
        "text after a block text's heading",
        "a line break after | or >",
        False,
    ),
}


def _reworded(source: Source, fault: yaml.YAMLError) -> InputError:
    """libyaml's (or PyYAML's) complaint in our words, with our place."""
    text = source.text
    problem = str(getattr(fault, "problem", None) or getattr(fault, "reason", None) or fault)
    mark: Any = getattr(fault, "problem_mark", None)
    context: Any = getattr(fault, "context_mark", None)
    what, expected, begun = _PROBLEMS.get(problem, ("", "", False))
    if mark is None or (begun and context is not None):
        mark = context
    at = mark.index if mark is not None else int(getattr(fault, "position", 0) or 0)
    at = min(at, len(text))
    if at == len(text):  # the end of the text: show the last thing that stands there
        at = max(len(text.rstrip()) - 1, 0)
    sign = text[at : at + 1]
    if problem.startswith("found character") and "start any token" in problem:
        if sign == "\t":
            what, expected = "a tab in the indentation", "spaces"
        else:
            what, expected = f"a value cannot begin with {sign}", "quotes around the text"
    elif not what:
        what, expected = f"not readable as YAML: {shortened(problem, 120)}", "YAML 1.2"
    return source.error(what, at, at + 1 if sign not in "\r\n" else at, expected)
