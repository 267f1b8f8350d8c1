"""From a place in a machine file, which may be incomplete, to the context of the cursor."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from ..source.places import KeyPath

_KEY: Final = re.compile(
    r"""("(?:[^"\\]|\\.)*"|'[^']*'|[^\s#'"{}\[\],](?:[^#{}\[\],:]*[^\s#{}\[\],:])?)\s*:(?=\s|$)"""
)


@dataclass(frozen=True, slots=True)
class CursorContext:
    """What the user types: a key of the record at ``path``, or the value at ``path``.

    ``word`` is its text so far without an opening quote; ``quoted`` says whether it has one.
    """

    path: KeyPath
    is_key: bool
    word: str
    quoted: bool = False


def context_at(text: str, offset: int, form: str) -> CursorContext:
    """The context at an offset (in code points) of a YAML or JSON text."""
    if form == "json":
        return _flow_context(text[:offset], ())
    lines = re.split(r"\r\n?|\n", text[:offset])
    opened = _opened_above(lines)
    if opened is not None:
        lines[opened:] = ["\n".join(lines[opened:])]
    line = lines.pop()
    entries, rest_at = _entries(line)
    rest = line[rest_at:]
    here = entries[-1] if entries else None
    if here is not None and here[2] is not None:  # after `key:`
        above = _path_above(lines, entries[:-1], here[0])
        return _value_context((*above, here[2]), rest)
    column = rest_at + len(rest) - len(rest.lstrip())
    above = _path_above(lines, entries, column)
    return (
        _flow_context(rest, above) if rest.lstrip()[:1] in ("{", "[") else _key_context(above, rest)
    )


def _opened_above(lines: list[str]) -> int | None:
    """The number of the line above the last one that opens its braces or brackets; else None.

    A line that is indented no deeper than the opening line closes them.
    """
    opened, indent, depth, quote = None, 0, 0, ""
    for number, line in enumerate(lines):
        column = len(line) - len(line.lstrip(" "))
        if opened is not None and line.strip() and column <= indent:
            opened, depth, quote = None, 0, ""
        rest = line
        if opened is None:
            rest = line[_entries(line)[1] :].lstrip()
            if rest[:1] not in ("{", "["):
                continue
            opened, indent, depth, quote = number, column, 0, ""
        at = 0
        while at < len(rest):
            char = rest[at]
            at += 1
            if quote:
                at += char == "\\" and quote == '"'
                quote = "" if char == quote else quote
            elif char in "\"'" and rest[: at - 1].rstrip()[-1:] in ("", *"{[,:"):
                quote = char
            elif char == "#" and rest[at - 2 : at - 1] in ("", " "):
                break
            else:
                depth += (char in "{[") - (char in "}]")
        if depth <= 0:
            opened = None
    return opened if opened != len(lines) - 1 else None


def _value_context(path: KeyPath, rest: str) -> CursorContext:
    text = rest.lstrip()
    if text[:1] in ("{", "["):
        return _flow_context(text, path)
    return CursorContext(path, False, text.lstrip("\"'"), text[:1] in ('"', "'"))


def _key_context(path: KeyPath, rest: str) -> CursorContext:
    text = rest.lstrip()
    is_item = bool(path) and isinstance(path[-1], int)
    return CursorContext(path, True, text.lstrip("\"'"), text[:1] in ('"', "'") and not is_item)


def _entries(line: str) -> tuple[list[tuple[int, bool, str | None]], int]:
    """Dashes and the key at the start of a line, as (column, is a dash, key), and their end."""
    found: list[tuple[int, bool, str | None]] = []
    at = len(line) - len(line.lstrip(" "))
    while line[at : at + 1] == "-" and line[at + 1 : at + 2] in ("", " "):
        found.append((at, True, None))
        at += 1
        at += len(line[at:]) - len(line[at:].lstrip(" "))
    match = _KEY.match(line, at)
    if match:
        found.append((at, False, match[1].strip("\"'")))
        at = match.end()
    return found, at


def _path_above(
    lines: list[str], same_line: list[tuple[int, bool, str | None]], column: int
) -> KeyPath:
    """The path of the place at ``column``, below ``lines`` and after the entries of its line."""
    parts: list[str | int] = []
    dash = False
    index = 0

    def take(entry: tuple[int, bool, str | None]) -> None:
        nonlocal column, dash, index
        at, is_dash, key = entry
        if is_dash and dash and at == column:
            index += 1
        elif at < column or (dash and not is_dash and at == column):
            if dash:
                parts.append(index)
                index = 0
            column, dash = at, is_dash
            if key is not None:
                parts.append(key)

    for entry in reversed(same_line):
        take(entry)
    for line in reversed(lines):
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        for entry in reversed(_entries(line)[0]):
            take(entry)
        if column == 0 and not dash:
            break
    if dash:
        parts.append(index)
    return tuple(reversed(parts))


def _flow_context(text: str, base: KeyPath) -> CursorContext:
    """The context at the end of ``text`` in braces and brackets (JSON, YAML flow style)."""
    stack: list[str | int | None] = []  # per level: the key being given, None before it; an index
    maps: list[bool] = []
    word, quote = "", ""
    at = 0
    while at < len(text):
        char = text[at]
        at += 1
        if quote:
            if char == "\\" and quote == '"':
                word += text[at : at + 1]
                at += 1
            elif char == quote:
                quote = ""
                if at == len(text):
                    break
            else:
                word += char
        elif char in "\"'" and not word.strip():
            quote, word = char, ""
        elif char in "{[":
            maps.append(char == "{")
            stack.append(None if char == "{" else 0)
            word = ""
        elif char in "}]" and stack:
            maps.pop()
            stack.pop()
            word = ""
        elif char == "," and stack:
            top = stack[-1]
            stack[-1] = top + 1 if isinstance(top, int) else None
            word = ""
        elif char == ":" and stack and maps[-1] and stack[-1] is None:
            stack[-1] = word.strip()
            word = ""
        elif char == "#" and text[at - 2 : at - 1] in ("", " ", "\n"):
            line_end = text.find("\n", at)
            at = len(text) if line_end < 0 else line_end
        else:
            word += char
    path: list[str | int] = [*base]
    is_key = bool(maps) and maps[-1] and stack[-1] is None
    path.extend(part for part in stack if part is not None)
    return CursorContext(tuple(path), is_key, word.lstrip(), bool(quote))
