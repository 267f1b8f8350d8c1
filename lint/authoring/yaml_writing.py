"""From a machine's values to a YAML file with the origin of every fact as a comment."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from decimal import Decimal
from typing import Any, Final

from ..importing.export import Export, ImportRemark
from ..machine.value_reader import as_written
from ..report.ci_commands import ANYWHERE
from ..report.layout import visible
from ..source.files import Plain
from ..source.merge import CLAIMS, Tree
from ..source.parsing import locate
from ..source.places import KeyPath

_WORD: Final = re.compile(r"[A-Za-z](?:[A-Za-z0-9_./+-]| (?=[A-Za-z0-9(]))*")
_QUANTITY: Final = re.compile(r"-?[0-9]+(?:\.[0-9]+|/[0-9]+)? [A-Za-z°%µ·][A-Za-z0-9°%µ·²³^/()]*")
_KEYWORDS: Final = frozenset({"true", "false", "null", "yes", "no", "on", "off", "y", "n"})

Origin = Callable[[KeyPath], str]
"""From a path to the comment of its value; empty for none."""


def machine_yaml(tree: Tree, remarks: Iterable[ImportRemark] = ()) -> str:
    """The whole machine as YAML that reads back as the same plain values.

    The comment of a value is its file and line. The list of what the import left out is at the end.
    """
    assert isinstance(tree.plain, dict)
    names = dict.fromkeys(source.name for source in tree.sources)
    lines = [
        "# Written by `axisproof import` from " + visible(", ".join(names)) + ".",
        "# A comment beside a fact names the file and line that state it.",
        "",
    ]
    first = ("format", "machine", "description")
    head: dict[str, Any] = {key: tree.plain[key] for key in first if key in tree.plain}
    lines += yaml_lines({**head, **tree.plain}, lambda path: origin(tree, path))
    left = list(remarks)
    if left:
        lines += ["", "# Left out:"]
        lines += [f"#   {visible(str(remark))}" for remark in left]
    return "\n".join(lines) + "\n"


def origin(tree: Tree, path: KeyPath) -> str:
    """The origin of the value at ``path``: file, line and statement."""
    if len(path) > 2 and path[-3] == CLAIMS and path[-1] != "value":
        return ""
    found = []
    for source, inside in tree.located(path):
        place = locate(source).value(inside)
        if place is None:
            continue
        statement = source.statements.get(inside) if isinstance(source, Export) else None
        words = f"{source.name}, line {place.line}"
        if statement is not None:
            words = f"{words}: {statement.note}" if place.line else statement.note
        found.append(words)
    return visible(", and ".join(found))


def yaml_lines(plain: dict[str, Any], comment: Origin = lambda path: "") -> list[str]:
    """A plain record as lines of YAML, with a comment after each scalar."""
    lines: list[str] = []
    _add_record(plain, (), "", comment, lines)
    return lines


def scalar(value: Plain) -> str:
    """A scalar as YAML that reads back as the same value and type."""
    if not isinstance(value, str):
        assert isinstance(value, bool | int | Decimal)
        return as_written(value)
    plain = _WORD.fullmatch(value) or _QUANTITY.fullmatch(value)
    if plain and value.lower() not in _KEYWORDS:
        return value
    return '"' + ANYWHERE.sub(r"\\x23", "".join(map(_yaml_escaped, value))) + '"'


def _yaml_escaped(character: str) -> str:
    if character in '"\\':
        return f"\\{character}"
    if character.isprintable():
        return character
    code = ord(character)
    return f"\\u{code:04X}" if code < 0x10000 else f"\\U{code:08X}"


def _add_record(
    plain: dict[str, Any], path: KeyPath, indent: str, comment: Origin, lines: list[str]
) -> None:
    for key, value in plain.items():
        name = key if _WORD.fullmatch(key) else scalar(key)
        _add_entry(f"{indent}{name}:", value, (*path, key), f"{indent}  ", comment, lines)


def _add_entry(
    start: str, value: Any, path: KeyPath, indent: str, comment: Origin, lines: list[str]
) -> None:
    """Add ``start`` (a key or a dash) and its value; further lines begin at ``indent``."""
    if isinstance(value, dict) and value:
        lines.append(start)
        _add_record(value, path, indent, comment, lines)
        return
    if isinstance(value, list) and any(isinstance(each, dict | list) for each in value):
        lines.append(start)
        for index, each in enumerate(value):
            before = len(lines)
            _add_entry(f"{indent}-", each, (*path, index), f"{indent}  ", comment, lines)
            if isinstance(each, dict) and each:  # the first key follows the dash on its line
                lines[before : before + 2] = [f"{indent}- {lines[before + 1].lstrip(' ')}"]
        return
    if isinstance(value, list):
        text = f"[{', '.join(map(scalar, value))}]"
    else:
        text = "{}" if isinstance(value, dict) else scalar(value)
    note = comment(path)
    lines.append(f"{start} {text}" + (f" # {note}" if note else ""))
