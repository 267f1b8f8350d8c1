"""The outline of a machine file, and the places that belong to the fact at a place."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

from ..machine.field_paths import field_at
from ..machine.schema import Leaf
from ..source.files import Source
from ..source.outline import Node
from ..source.parsing import locate
from ..source.places import KeyPath

AXIS_NAME: Final = "axis_name"
"""The definition of the schema that a text naming an axis has."""


@dataclass(frozen=True, slots=True)
class OutlineEntry:
    """One entry of the outline: its stretch of text, that of its name, and what is inside."""

    name: str
    detail: str
    kind: Literal["machine", "axis", "part"]
    start: int
    end: int
    name_start: int
    name_end: int
    inside: tuple[OutlineEntry, ...] = ()


def outline(source: Source) -> tuple[OutlineEntry, ...]:
    """The machine of a file with its axes, their parts, and the parts of the machine.

    Empty for a file without axes.
    """
    root = locate(source).root
    if root is None or not root.is_mapping:
        return ()
    top = dict(root.parts())
    axes = top.get("axes")
    if axes is None or not axes.is_mapping:
        return ()
    inside = [_entry(name, axis, "axis", _parts(axis)) for name, axis in axes.parts()]
    others = (each for each in _parts(root) if each.name != "axes")
    name = top.get("machine")
    shown = name if name is not None and name.quoting != "collection" else axes
    words = source.text[shown.start : shown.end] if shown is name else "machine"
    entry = OutlineEntry(
        words.strip("\"'") or "machine",
        f"{len(inside)} axes" if len(inside) != 1 else "1 axis",
        "machine",
        min(root.start, shown.start),
        max(root.end, shown.end),
        shown.start,
        shown.end if shown is name else shown.start,
        (*inside, *others),
    )
    return (entry,)


def _parts(record: Node) -> tuple[OutlineEntry, ...]:
    """The records and lists directly inside a record."""
    return tuple(
        _entry(name, part, "part")
        for name, part in (record.parts() if record.is_mapping else ())
        if part.quoting == "collection" and isinstance(name, str)
    )


def _entry(
    name: str | int,
    node: Node,
    kind: Literal["axis", "part"],
    inside: tuple[OutlineEntry, ...] = (),
) -> OutlineEntry:
    start, end = node.key_start, max(node.end, node.key_end)
    return OutlineEntry(str(name), "", kind, start, end, start, node.key_end, inside)


# The places of a fact -----------------------------------------------------------------------------


def names_axis(path: KeyPath, source: Source, *, is_key: bool) -> str:
    """The axis that a key or value names; empty if it names none."""
    if is_key:
        return str(path[1]) if len(path) == 2 and path[0] == "axes" else ""
    field = field_at(path)
    scalar = locate(source).scalar(path)
    if field is None or scalar is None or not isinstance(field.type, Leaf):
        return ""
    return scalar.raw.strip("\"'") if field.type.definition == AXIS_NAME else ""


def of_axis(name: str, source: Source) -> Iterator[tuple[int, int]]:
    """Where a file names an axis: its key, and each value that names it."""
    located = locate(source)
    axis = located.node(("axes", name))
    if axis is not None:
        yield axis.key_start, axis.key_end
    if located.root is None:
        return
    for path, node in _scalars(located.root, ()):
        words = source.text[node.start : node.end].strip("\"'")
        field = field_at(path) if words == name else None
        if field is None or not isinstance(field.type, Leaf):
            continue
        if field.type.definition == AXIS_NAME:
            yield node.start, node.end


def of_fact(path: KeyPath, source: Source) -> Iterator[tuple[int, int]]:
    """Where a file states a fact of an axis: the same fact, on every axis."""
    located = locate(source)
    axes = located.node(("axes",))
    names = [name for name, _ in axes.parts()] if axes is not None else []
    paths = [("axes", name, *path[2:]) for name in names] if path[:1] == ("axes",) else [path]
    for each in paths:
        node = located.node(each)
        if node is not None and node.key_start >= 0:
            yield node.key_start, node.key_end


def in_rules(path: KeyPath, text: str) -> Iterator[tuple[int, int]]:
    """Where a text of rules names a fact of an axis or of the machine."""
    parts = path[2:] if path[:1] == ("axes",) else path
    fact = ".".join(part for part in parts if isinstance(part, str))
    root = r"\w+" if path[:1] == ("axes",) else "machine"
    if fact:
        for found in re.finditer(rf"\b{root}\.{re.escape(fact)}(?![\w.])", text):
            yield found.span()


def _scalars(node: Node, path: KeyPath) -> Iterator[tuple[KeyPath, Node]]:
    for part, child in node.parts():
        here = (*path, part)
        if child.quoting == "collection":
            yield from _scalars(child, here)
        else:
            yield here, child
