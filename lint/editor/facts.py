"""From a path in a machine file to completions and descriptions."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from ..catalogue.catalogue import Catalogue
from ..language.budget import TooManySteps, limited
from ..language.printing import formula, value_text
from ..language.tracer import Tracer
from ..machine.field_paths import field_at, field_words
from ..machine.machine import Machine
from ..machine.records import notes_of
from ..machine.schema import Field, Leaf, ListType, RecordType
from ..source.outline import Node
from ..source.places import KeyPath, Locations
from .context import CursorContext
from .diagnostics import Diagnostic

MAX_DERIVED = 8
"""Most derived numbers shown for one fact; the axis shows all."""


@dataclass(frozen=True, slots=True)
class CompletionChoice:
    """A text that completes a place: its kind, detail and meaning.

    ``sought`` is what the editor compares with what is typed, if that is not the text itself.
    """

    text: str
    kind: Literal["field", "word", "value", "function", "setting", "keyword"]
    detail: str = ""
    meaning: str = ""
    sought: str = ""


def fact_choices(
    context: CursorContext, present: Iterable[str] = ()
) -> tuple[CompletionChoice, ...]:
    """The completions in a context; ``present`` are keys that the record already has."""
    field = field_at(context.path)
    if field is None:
        return ()
    if context.is_key and isinstance(field.type, RecordType):
        taken = set(present)
        return tuple(
            CompletionChoice(name, "field", field_words(each), each.description)
            for name, each in field.type.fields.items()
            if not each.implied and (name not in taken or name == context.word)
        )
    return _value_choices(field)


def _value_choices(field: Field) -> tuple[CompletionChoice, ...]:
    found: list[CompletionChoice] = []
    leaf = field.type
    if isinstance(leaf, ListType) and isinstance(leaf.item, Leaf):
        leaf = leaf.item
    if isinstance(leaf, Leaf):
        found += [CompletionChoice(name, "word", "", field.description) for name in leaf.names]
        if leaf.kind == "flag":
            found += [
                CompletionChoice(word, "word", "", field.description) for word in ("true", "false")
            ]
        if not found:
            example = "for example"
            found += [
                CompletionChoice(str(text), "value", example, field.description)
                for text in field.examples
            ]
    if field.nullable:
        found.append(CompletionChoice("none", "word", "known to be absent", field.description))
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


def fact_hover(
    path: KeyPath,
    is_key: bool,
    machine: Machine | None,
    catalogue: Catalogue | None,
    diagnostics: Iterable[Diagnostic],
) -> str:
    """The description of the fact at a path, as Markdown; empty if there is none."""
    parts = []
    field = field_at(path)
    if field is not None and (field.description or isinstance(field.type, Leaf)):
        name = ".".join(str(part) for part in path)
        parts.append(f"**{_markdown_escaped(name)}**")
        if field.description:
            parts.append(_markdown_escaped(field.description))
        parts.append(f"Takes {_markdown_escaped(field_words(field))}.")
    for diagnostic in diagnostics:
        heading = (
            f"**{diagnostic.severity}: {diagnostic.rule}**"
            if diagnostic.rule
            else f"**{diagnostic.severity}**"
        )
        parts.append(heading)
        parts += [_markdown_escaped(text) for text in (diagnostic.waived, diagnostic.text) if text]
        parts += [_markdown_escaped(text) for text in diagnostic.why.split("\n\n") if text]
    if machine is not None and catalogue is not None and len(path) >= 2 and path[0] == "axes":
        fact = ".".join(str(part) for part in path[2:])
        try:
            with limited():
                derived = _derived_items(machine, catalogue, str(path[1]), fact)
        except TooManySteps:  # the check of the machine reports this
            derived = []
        if derived:
            what = "What follows from it" if fact else "What follows from its facts"
            parts.append(f"{what}:\n\n" + "\n".join(derived))
    return "\n\n".join(parts)


def _derived_items(machine: Machine, catalogue: Catalogue, name: str, fact: str) -> list[str]:
    """The derived numbers of an axis, as list items; with a fact, those that depend on it."""
    axis = next((each for each in machine.axes if each["name"] == name), None)
    if axis is None:
        return []
    tracer = Tracer(catalogue.definitions, catalogue.defaults, formula)
    env = {"axis": axis, "machine": notes_of(axis).machine}
    full = f"axes.{name}.{fact}"
    lines = []
    for each in catalogue.trees.definitions:
        if each.record != "axis" or each.type.kind != "number":
            continue
        traced = tracer.definition(axis, "axis", each.name)
        if traced.value is None or (fact and full not in (*traced.uses, *traced.through)):
            continue
        text = value_text(traced.value, each.type, env)
        name, value, meaning = map(_markdown_escaped, (each.name, text, each.meaning))
        lines.append(f"- {name} = {value} ({meaning})")
        if fact and len(lines) == MAX_DERIVED:
            break
    return lines


def _markdown_escaped(text: str) -> str:
    """Text without Markdown markup."""
    for char in "\\`*_{}[]<>#|":
        text = text.replace(char, f"\\{char}")
    return text
