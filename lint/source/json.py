"""JSON to plain values: the standard library's reader, and a scanner that knows places.

The fast reader decides only that a file is sound. What it refuses, the scanner finds again and
gives its place. Tests hold the two to agree.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from contextlib import suppress
from decimal import Decimal
from typing import Any, Final, NoReturn, cast

from ..base.errors import InputError
from ..base.lazy import pattern
from .files import Plain, Source, check_text, unprintable
from .limits import MAX_DEPTH, MAX_NODES, MAX_TEXT, NUMBER_BOUNDS, number_fault, shortened
from .outline import CHUNK, DOUBLE, LIST, MAPPING, PLAIN, Outline

ABSENT_HINT: Final = '"none" where it is known to be absent, or the key left out'


class _NotFastJson(ValueError):
    """The fast reader met something only the scanner can word."""


def parse_json(source: Source) -> Plain:
    """The value in ``source`` as a plain value.

    Whole numbers are int, others Decimal with their digits kept. Raises InputError with a place for
    text that is not JSON (RFC 8259), null, NaN and Infinity, absurdly long numbers, duplicate or
    empty keys, absurd nesting and control characters behind escapes.
    """
    check_text(source)
    text = source.text
    try:
        if "null" in text or _RISKY_ESCAPE.search(text):
            _check(source)
        value = json.loads(
            text,
            parse_int=finite_int,
            parse_float=finite_decimal,
            parse_constant=_refuse,
            object_pairs_hook=_mapping,
        )
        _bound(value)
    except (ValueError, RecursionError) as fault:
        _check(source)
        at = getattr(fault, "pos", 0)
        raise source.error("not readable as JSON", at, at + 1, "JSON (RFC 8259)") from None
    return cast(Plain, value)


def finite_int(text: str) -> int:
    """A whole number of a JSON text."""
    if number_fault(text):
        raise _NotFastJson
    return int(text)


def finite_decimal(text: str) -> Decimal:
    """Any other number of a JSON text, with its digits."""
    if number_fault(text):
        raise _NotFastJson
    return Decimal(text)


def _refuse(_: str) -> NoReturn:
    raise _NotFastJson


def _mapping(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    mapping = dict(pairs)
    if len(mapping) != len(pairs) or "" in mapping:
        raise _NotFastJson
    return mapping


def _bound(value: Any) -> None:
    """Raise _NotFastJson if the tree or a text in it is larger than the limits."""
    level, depth, nodes = [value], 0, 1
    while level:
        below = []
        for each in level:
            kind = each.__class__
            if kind is dict:
                below += each.values()
                if any(len(key) > MAX_TEXT for key in each):
                    raise _NotFastJson
            elif kind is list:
                below += each
            elif kind is str and len(each) > MAX_TEXT:
                raise _NotFastJson
        level = below
        depth += 1
        nodes += len(level)
        if nodes > MAX_NODES:
            raise _NotFastJson
        if depth == MAX_DEPTH and any(each.__class__ in (dict, list) for each in level):
            raise _NotFastJson


# Escapes for control characters, halves of surrogate pairs and non-characters.
_RISKY_ESCAPE = pattern(r"\\(?:[bf]|u(?:00(?:[0189]|7[fF])|[dD][89a-fA-F]|[fF]{3}))")
_SPACE = pattern(r"[ \t\r\n]*")
_TEXT = pattern(r'"([^"\\\x00-\x1f]*(?:\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})[^"\\\x00-\x1f]*)*)')
_NUMBER = pattern(r"-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?(?:[eE][-+]?[0-9]+)?")
_WORD = pattern(r"[^\s,:\[\]{}\"]+")
_GOOD_WORDS: Final = frozenset(("true", "false"))
# A member of a mapping as nearly all are: short, without escapes, its value no collection.
_SHORT = pattern(
    r'"([^"\\\x00-\x1f]{1,100}+)"[ \t\r\n]*+:[ \t\r\n]*+'
    r'((")[^"\\\x00-\x1f]{0,200}+"|-?(?:0|[1-9][0-9]{0,14}+)(?:\.[0-9]{1,15}+)?|true|false)'
    r'[ \t\r\n]*+(?:(,)[ \t\r\n]*+(?=")|(?=}))'
)
_RUN: Final = 100
"""So many short members are read at a time."""


def skip_space(text: str, at: int) -> int:
    """The offset of what comes after blanks and line breaks."""
    return _SPACE.match(text, at).end()  # type: ignore[union-attr]


def scan_json(source: Source) -> Outline:
    """Where the values of ``source`` stand; where the text is unusable, of the part before that."""
    outline = Outline()
    outline.scanning = _scan_usable(source, outline)
    return outline


def _scan_usable(source: Source, outline: Outline) -> Iterator[None]:
    with suppress(InputError):
        yield from JsonScan(source, outline).whole()


def _check(source: Source) -> None:
    """Raise InputError, with its place, for the first thing in ``source`` that cannot be used."""
    for _ in JsonScan(source, Outline()).whole():
        pass


class JsonScan:
    """One pass over a text: ``step`` is what has to stand next, and takes the offset of its start.

    A step returns the offset behind what it read.
    """

    def __init__(self, source: Source, outline: Outline) -> None:
        self.source = source
        self.text = source.text
        self.outline = outline
        # Per open collection: its number and, if it is a mapping, where its keys begin.
        self.stack: list[tuple[int, dict[str, int] | None]] = []
        self.here = -1
        self.keys: dict[str, int] | None = None
        self.key: tuple[str, int, int] | None = None
        self.nodes = 0
        self.step: Callable[[JsonScan, int], int] = JsonScan.value

    def whole(self) -> Iterator[None]:
        """Scan the text to its end, with pauses."""
        text, size = self.text, len(self.text)
        space = _SPACE.match
        at, pause = 0, CHUNK
        while (at := space(text, at).end()) < size:  # type: ignore[union-attr]
            at = self.step(self, at)
            if self.nodes >= pause:
                pause += CHUNK
                yield
        self.ended()

    def ended(self) -> None:
        """Raise InputError unless the whole value was read."""
        source, text = self.source, self.text
        if self.stack:
            begin = self.outline.starts[self.here]
            opened = text[begin]
            kind, closing = ("object", "}") if opened == "{" else ("list", "]")
            raise source.error(
                f"the {kind} opened with {opened} is not closed",
                begin,
                begin + 1,
                f"'{closing}'",
            )
        if self.step != JsonScan.after_value:
            raise source.error("the file holds no values", 0, 0, "a machine description")

    def after_value(self, at: int) -> int:
        """A comma or the end of the open collection."""
        source, text, sign = self.source, self.text, self.text[at]
        if not self.stack:
            raise source.error(
                "text after the end of the value", at, at + 1, "nothing after the one value"
            )
        closing = "]" if self.keys is None else "}"
        if sign == closing:
            return self.close(at)
        if sign != ",":
            raise _unexpected(source, at, f"',' or '{closing}'")
        after = _SPACE.match(text, at + 1).end()  # type: ignore[union-attr]
        if text[after : after + 1] == closing:
            raise source.error(
                f"a comma before the closing {closing}", at, at + 1, "no comma there"
            )
        self.step = JsonScan.value if self.keys is None else JsonScan.named
        return at + 1

    def close(self, at: int) -> int:
        """End the open collection at its bracket."""
        self.outline.close(self.here, at + 1)
        self.here, self.keys = self.stack.pop()
        self.step = JsonScan.after_value
        return at + 1

    def first_value(self, at: int) -> int:
        """The first value of a list, or the end of the list."""
        return self.close(at) if self.text[at] == "]" else self.value(at)

    def first_named(self, at: int) -> int:
        """The first key of a mapping, or the end of the mapping."""
        return self.close(at) if self.text[at] == "}" else self.named(at)

    def named(self, at: int) -> int:
        """Short members, or a key and the colon after it."""
        at = self.short(at)
        source, text, keys = self.source, self.text, self.keys
        if self.step == JsonScan.after_value:
            return at
        if text[at] != '"':
            raise _unexpected(source, at, "a key in double quotes")
        end, name = _string(source, at)
        if not name:
            raise source.error("the key is empty", at, end, "a word")
        assert keys is not None
        first = keys.setdefault(name, at)
        if first != at:
            line, column = source.position(first)
            raise source.error(
                f"the key {shortened(name)!r} stands twice in one object"
                f" (first on line {line}, column {column})",
                at,
                end,
                "every key once",
            )
        self.key = (name, at, end)
        self.step = JsonScan.value
        at = _SPACE.match(text, end).end()  # type: ignore[union-attr]
        if at < len(text) and text[at] != ":":
            raise _unexpected(source, at, "':' after the key")
        return at + 1

    def short(self, at: int) -> int:
        """Short members, if any: the offset behind them. An error in one is left to other steps."""
        text, keys, add, match = self.text, self.keys, self.outline.add, _SHORT.match
        assert keys is not None
        for _ in range(min(_RUN, MAX_NODES - self.nodes)):
            member = match(text, at)
            if member is None or (name := member[1]) in keys:
                break
            keys[name] = at
            start, end = member.span(2)
            add(start, end, DOUBLE if member[3] else PLAIN, (name, at, member.end(1) + 1))
            self.nodes += 1
            at = member.end()
            if not member[4]:
                self.step = JsonScan.after_value
                break
        return at

    def value(self, at: int) -> int:
        """A scalar, or the bracket that opens a collection."""
        source, sign = self.source, self.text[at]
        self.nodes += 1
        if self.nodes > MAX_NODES:
            raise source.error(
                f"the file holds more than {MAX_NODES} values", at, at + 1, "a smaller file"
            )
        key = None if self.keys is None else self.key
        if sign in "{[":
            return self.open(at, sign, key)
        if sign == '"':
            end, _ = _string(source, at)
            self.outline.add(at, end, DOUBLE, key)
        else:
            end = _bare(source, at)
            self.outline.add(at, end, PLAIN, key)
        self.step = JsonScan.after_value
        return end

    def open(self, at: int, sign: str, key: tuple[str, int, int] | None) -> int:
        """Begin a collection at its bracket."""
        if len(self.stack) == MAX_DEPTH:
            raise self.source.error(
                f"nested deeper than {MAX_DEPTH} levels", at, at + 1, "flatter values"
            )
        added = self.outline.add(at, at + 1, MAPPING if sign == "{" else LIST, key)
        self.stack.append((self.here, self.keys))
        self.here, self.keys = added, {} if sign == "{" else None
        self.step = JsonScan.first_named if sign == "{" else JsonScan.first_value
        return at + 1


def _bare(source: Source, at: int) -> int:
    """The end offset of the number, true or false that begins at ``at``."""
    text = source.text
    number = _NUMBER.match(text, at)
    word = _WORD.match(text, at)
    end = word.end() if word else at
    raw = text[at:end]
    if number and number.end() == end:
        fault = number_fault(raw)
        if fault:
            raise source.error(f"the number {shortened(raw)} {fault}", at, end, NUMBER_BOUNDS)
    elif raw not in _GOOD_WORDS:
        raise _bad_word(source, at, end, raw)
    return end


def _string(source: Source, start: int) -> tuple[int, str]:
    """The end offset and value of the string that opens at ``start``."""
    text = source.text
    match = _TEXT.match(text, start)
    assert match is not None
    at = match.end()
    sign = text[at : at + 1]
    if sign == "\\":
        raise source.error(
            f"an unknown escape {text[at : at + 2].rstrip()} in quoted text",
            at,
            min(at + 2, len(text)),
            'one of \\" \\\\ \\/ \\b \\f \\n \\r \\t \\uXXXX',
        )
    if sign == "\t":
        raise source.error("a tab in quoted text", at, at + 1, "the escape \\t")
    if sign != '"':
        raise source.error("the quoted text is never closed", start, start + 1, "a closing quote")
    raw = match[1]
    if len(raw) > MAX_TEXT:
        raise source.error(
            f"the text has {len(raw)} characters", start, at + 1, f"at most {MAX_TEXT}"
        )
    if "\\" in raw:
        raw = cast(str, json.loads(text[start : at + 1]))
        hidden = unprintable(raw)
        if hidden:
            raise source.error(
                f"the text holds the control character {hidden}", start, at + 1, "printable text"
            )
    return at + 1, raw


def _bad_word(source: Source, at: int, end: int, raw: str) -> InputError:
    if raw == "null":
        return source.error("null says neither present nor absent", at, end, ABSENT_HINT)
    if raw in ("NaN", "Infinity", "-Infinity"):
        return source.error(f"{raw} is not a finite number", at, end, "a finite number")
    digits = raw.removeprefix("-")
    if digits.isdecimal() and digits[0] == "0":
        return source.error(
            f"{shortened(raw)} has a leading zero",
            at,
            end,
            f"{shortened(digits.lstrip('0') or '0')}, or quotes around it if it is text",
        )
    return _unexpected(source, at, "a value: text in double quotes, a number, true, false, { or [")


def _unexpected(source: Source, at: int, expected: str) -> InputError:
    word = _WORD.match(source.text, at)
    end = word.end() if word else at + 1
    return source.error(
        f"{shortened(source.text[at:end], 30)} cannot stand here", at, end, expected
    )
