"""Facts of the schema for an editor: what may be written at a path, and what is said about it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from ..catalogue.catalogue import Catalogue
from ..language.budget import TooManySteps, limited
from ..language.printing import formula, show
from ..language.tracer import Tracer
from ..machine.reader import Machine
from ..machine.schema import Field, Leaf, ListType, MapType, RecordType, Type, machine_type
from ..machine.value_reader import expectation
from ..source.outline import Node
from ..source.places import KeyPath, Locations
from .context import Context
from .diagnostics import Diagnostic

MAX_DERIVED = 8
"""Derived numbers shown for one fact; the axis itself shows them all."""


@dataclass(frozen=True, slots=True)
class Choice:
    """Something that can be written here: its text, what it is, and what it means."""

    text: str
    kind: Literal["field", "word", "value", "function", "setting", "keyword"]
    detail: str = ""
    meaning: str = ""


def field_at(path: KeyPath) -> Field | None:
    """The field of a machine file at a path; None for a path that the schema does not have.

    An item of a list or of named records is given as a field without description.
    """
    here = Field(machine_type())
    for part in path:
        type_: Type = here.type
        field: Field | None = None
        if isinstance(type_, RecordType) and isinstance(part, str):
            field = type_.fields.get(part)
            if field is not None and field.implied:
                field = None
        elif isinstance(type_, MapType) and isinstance(part, str):
            field = Field(type_.item)
        elif isinstance(type_, ListType):
            if isinstance(part, int):
                field = Field(type_.item)
            elif part == "partial" and type_.partial:
                field = Field(type_)
        if field is None:
            return None
        here = field
    return here


def kind_words(field: Field) -> str:
    """What a field takes, in words."""
    if isinstance(field.type, Leaf):
        words = expectation(field.type, field.examples)
    elif isinstance(field.type, ListType):
        inner = field.type.item
        words = "a list of records"
        if isinstance(inner, Leaf):
            words = f"a list; each item: {expectation(inner)}"
    else:
        words = "a group of facts"
    return f"{words}, or none" if field.nullable else words


def choices(context: Context, present: Iterable[str] = ()) -> tuple[Choice, ...]:
    """What can be typed in a context; ``present`` are keys that the record has already."""
    field = field_at(context.path)
    if field is None:
        return ()
    if context.is_key and isinstance(field.type, RecordType):
        taken = set(present)
        return tuple(
            Choice(name, "field", kind_words(each), each.description)
            for name, each in field.type.fields.items()
            if not each.implied and (name not in taken or name == context.word)
        )
    return _values(field)


def _values(field: Field) -> tuple[Choice, ...]:
    found: list[Choice] = []
    leaf = field.type
    if isinstance(leaf, ListType) and isinstance(leaf.item, Leaf):
        leaf = leaf.item
    if isinstance(leaf, Leaf):
        found += [Choice(name, "word", "", field.description) for name in leaf.names]
        if leaf.kind == "flag":
            found += [Choice(word, "word", "", field.description) for word in ("true", "false")]
        if not found:
            example = "for example"
            found += [
                Choice(str(text), "value", example, field.description) for text in field.examples
            ]
    if field.nullable:
        found.append(Choice("none", "word", "known to be absent", field.description))
    return tuple(found)


def path_at(located: Locations, offset: int) -> tuple[KeyPath, bool] | None:
    """The path of the key or scalar at an offset, and whether it is the key; None elsewhere."""

    def inside(start: int, end: int) -> bool:
        return 0 <= start <= offset <= end

    def search(node: Node, path: KeyPath) -> tuple[KeyPath, bool] | None:
        for part, child in node.parts():
            here = (*path, part)
            if child.key_start >= 0 and inside(child.key_start, child.key_end):
                return here, True
            if inside(child.start, child.end):
                found = search(child, here)
                if found is not None:
                    return found
                if child.quoting != "collection":
                    return here, False
        return None

    return None if located.root is None else search(located.root, ())


def hover(
    path: KeyPath,
    is_key: bool,
    machine: Machine | None,
    catalogue: Catalogue | None,
    remarks: Iterable[Diagnostic],
) -> str:
    """What is known about the fact at a path, as Markdown; empty if nothing is."""
    parts = []
    field = field_at(path)
    if field is not None and (field.description or isinstance(field.type, Leaf)):
        name = ".".join(str(part) for part in path)
        parts.append(f"**{_plain(name)}**")
        if field.description:
            parts.append(_plain(field.description))
        parts.append(f"Takes {_plain(kind_words(field))}.")
    for remark in remarks:
        heading = f"**{remark.weight}: {remark.rule}**" if remark.rule else f"**{remark.weight}**"
        parts.append(heading)
        parts += [_plain(text) for text in (remark.waived, remark.text) if text]
        parts += [_plain(text) for text in remark.why.split("\n\n") if text]
    if machine is not None and catalogue is not None and len(path) >= 2 and path[0] == "axes":
        fact = ".".join(str(part) for part in path[2:])
        try:
            with limited():
                derived = _derived(machine, catalogue, str(path[1]), fact)
        except TooManySteps:  # which the check of the machine says already
            derived = []
        if derived:
            what = "What follows from it" if fact else "What follows from its facts"
            parts.append(f"{what}:\n\n" + "\n".join(derived))
    return "\n\n".join(parts)


def _derived(machine: Machine, catalogue: Catalogue, name: str, fact: str) -> list[str]:
    """The numbers worked out for an axis, as list items; with a fact, those that rest on it."""
    axis = next((each for each in machine.axes if each["name"] == name), None)
    if axis is None:
        return []
    tracer = Tracer(catalogue.definitions, catalogue.defaults, formula)
    env = {"axis": axis, "machine": axis["@machine"]}
    full = f"axes.{name}.{fact}"
    lines = []
    for each in catalogue.trees.definitions:
        if each.record != "axis" or each.type.kind != "number":
            continue
        traced = tracer.definition(axis, "axis", each.name)
        if traced.value is None or (fact and full not in (*traced.uses, *traced.through)):
            continue
        text = show(traced.value, each.type, env)
        lines.append(f"- {_plain(each.name)} = {_plain(text)} ({_plain(each.meaning)})")
        if fact and len(lines) == MAX_DERIVED:
            break
    return lines


def _plain(text: str) -> str:
    """Text that Markdown shows as it is."""
    for char in "\\`*_{}[]<>#|":
        text = text.replace(char, f"\\{char}")
    return text
