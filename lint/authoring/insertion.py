"""Puts a fact into the text of a machine file; all else stays as it is, comments included.

The new text must read as the old one does but for the fact, else nothing is written.
"""

from __future__ import annotations

from contextlib import suppress
from typing import Any

from ..base.errors import InputError, UsageError
from ..source.files import Plain, Source
from ..source.parsing import locate, parse
from ..source.places import KeyPath, path_text
from .yaml_writing import scalar, yaml_lines


def with_fact(source: Source, path: KeyPath, value: Plain) -> str:
    """The text of ``source`` with a value where none is.

    Raises UsageError for a file that is not YAML, and where more than the value would change.
    """
    from dataclasses import replace

    if not source.name.lower().endswith((".yaml", ".yml")):
        raise UsageError(f"{source.name} is not YAML", expected="a machine file that ends in .yaml")
    before = parse(source)
    text = _inserted(source, path, value)
    after: Any = None
    with suppress(InputError):
        after = parse(replace(source, text=text))
    if after != _stated(before, path, value):
        raise UsageError(
            f"{source.name}: {path_text(path)} cannot be written without changing more than this"
            " value",
            expected="the value written by hand",
        )
    return text


def _inserted(source: Source, path: KeyPath, value: Plain) -> str:
    """The new text: a line after the record's last, or an entry before a closing brace."""
    places, depth = locate(source), len(path) - 1
    while depth and places.node(path[:depth]) is None:
        depth -= 1
    record: Any = places.node(path[:depth])
    for key in reversed(path[depth + 1 :]):
        value = {str(key): value}
    entry = {str(path[depth]): value}
    text = source.text
    if text[record.start : record.start + 1] == "{":
        inside = text[record.start + 1 : record.end - 1].strip()
        at = record.end - 1
        return f"{text[:at]}{', ' if inside else ''}{_in_braces(entry)[1:-1]}{text[at:]}"
    first = next(node for _, node in record.parts())
    begin = text.rfind("\n", 0, first.key_start) + 1
    indent = " " * (first.key_start - begin)
    newline = "\r\n" if "\r\n" in text else "\n"
    end = text.find("\n", record.end)
    added = "".join(f"{indent}{line}{newline}" for line in yaml_lines(entry))
    if end < 0:
        return f"{text}{newline}{added}"
    return text[: end + 1] + added + text[end + 1 :]


def _in_braces(value: Any) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key}: {_in_braces(each)}" for key, each in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_in_braces, value)) + "]"
    return scalar(value)


def _stated(plain: Plain, path: KeyPath, value: Plain) -> Any:
    """A copy of a plain tree that states the value."""
    tree: Any = _unshared(plain)
    here: Any = tree
    for key in path[:-1]:
        here = here.setdefault(key, {}) if isinstance(here, dict) else here[key]
    here[path[-1]] = value
    return tree


def _unshared(plain: Plain) -> Any:
    """A copy in which what an alias stands for is a value of its own."""
    if isinstance(plain, dict):
        return {key: _unshared(each) for key, each in plain.items()}
    return [_unshared(each) for each in plain] if isinstance(plain, list) else plain
