"""A missing fact as a question in the words of the trade, and an answer as a plain value."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal, InvalidOperation
from typing import Any, Final

from ..machine.schema import (
    Field,
    Leaf,
    ListType,
    MapType,
    RecordType,
    Type,
    axis_type,
    machine_type,
)
from ..machine.value_reader import Refusal, converter, expectation
from ..source.files import Plain
from ..source.places import KeyPath, path_parts
from .starter_examples import ROTARY
from .where_found import ABSENT, NO_ITEMS, where_found

PARTS: Final[Mapping[str, str]] = {
    "motor": "motor",
    "encoder": "encoder",
    "drive": "drive",
    "controller": "controller",
    "mechanics": "mechanics",
    "interlocks": "interlock",
    "gantry": "gantry",
    "differential": "coupled axis",
    "storage": "memory",
    "network": "network",
    "conditions": "alarm code",
    "collision_pairs": "collision",
}
"""The first name of a path in the words of people."""

YES: Final = frozenset({"yes", "y", "true"})
NO: Final = frozenset({"no", "n", "false"})


MOST_TYPES: Final = 12
"""Most types of a shelf that a question names."""


@dataclass(frozen=True, slots=True)
class Question:
    """A question about one fact.

    ``takes`` says what can be typed, with an example. ``absent`` is what `none` says, and
    ``absent_path`` where the file states it; both are empty where there must be something.
    ``words`` are the words that the fact takes, if it takes no others.
    """

    path: KeyPath
    subject: str
    what: str
    takes: str
    where: str
    absent: str
    absent_path: KeyPath
    words: tuple[str, ...]
    kind: Type
    examples: tuple[object, ...]
    motion: str


@dataclass(frozen=True, slots=True)
class Reply:
    """A plain value for the fact at ``path``."""

    path: KeyPath
    value: Plain


def question(fact: str, motions: Mapping[str, str]) -> Question:
    """The question about a fact at an absolute path; ``motions`` are those of the axes by name."""
    path = tuple(path_parts(fact))
    fields = _fields(path)
    general = _general(path)
    field = fields[-1]
    assert field is not None
    axis = str(path[1]) if path[0] == "axes" else ""
    motion = motions.get(axis, "")
    absent, at = _absence(path, fields)
    part = PARTS.get(general.partition(".")[0], "")
    item = next((int(key) + 1 for key in path if isinstance(key, int)), 0)
    part = f"{part} {item}" if item else part
    return Question(
        path,
        f"{axis}, {part}".strip(", ") if axis else part or "machine",
        _what(field),
        _takes(field, general, motion),
        where_found(general),
        absent,
        at,
        _words(field.type),
        field.type,
        field.examples,
        motion,
    )


def with_types(asked: Question, types: tuple[str, ...]) -> Question:
    """The question about the type of a part, with the types of which the shelf has plates."""
    shown = ", ".join(types[:MOST_TYPES]) + (", …" if len(types) > MOST_TYPES else "")
    takes = f"what the plate says. The shelf has plates of: {shown}"
    return replace(asked, takes=takes, words=types)


def _what(field: Field) -> str:
    """What the fact is, without what only a file needs to know."""
    text = re.sub(r"\s*(Write|State) `none`[^.]*\.", "", field.description).strip()
    return re.sub(r"^True if", "Yes if", text).rstrip(".")


def _fields(path: KeyPath) -> list[Field | None]:
    """The field at each key of a path; None for names of axes and numbers of items."""
    found: list[Field | None] = []
    kind: Type = machine_type()
    for key in path:
        if isinstance(kind, MapType):
            kind = axis_type()
            found.append(None)
        elif isinstance(kind, ListType):
            kind = kind.item
            found.append(None)
        else:
            assert isinstance(kind, RecordType)
            field = kind.fields[str(key)]
            found.append(field)
            kind = field.type
    return found


def _absence(path: KeyPath, fields: list[Field | None]) -> tuple[str, KeyPath]:
    """What `none` says of the fact itself, or else of the nearest part around it."""
    for end in range(len(path), 0, -1):
        field = fields[end - 1]
        if field is not None and field.nullable:
            words = str(path[end - 1]).replace("_", " ")
            return ABSENT.get(_general(path[:end]), f"There is no {words} here."), path[:end]
    return "", ()


def _general(path: KeyPath) -> str:
    """The path within the axis or the machine, without the numbers of list items."""
    inner = path[2:] if path[0] == "axes" else path
    return ".".join(key for key in inner if isinstance(key, str))


def _words(kind: Type) -> tuple[str, ...]:
    leaf = kind.item if isinstance(kind, ListType) else kind
    if not isinstance(leaf, Leaf):
        return () if isinstance(kind, ListType) else ("yes",)
    if leaf.kind == "flag":
        return ("yes", "no")
    return leaf.names if leaf.kind == "name" else ()


def _takes(field: Field, general: str, motion: str) -> str:
    kind = field.type
    if isinstance(kind, RecordType):
        return "yes or none"
    if isinstance(kind, ListType):
        if isinstance(kind.item, RecordType):
            return "how many there are, such as 1 (none if there are none)"
        assert isinstance(kind.item, Leaf)
        if kind.item.definition == "axis_name":
            return "the names of axes with commas between (none if there are no such axes)"
        inner = expectation(kind.item).removeprefix("one of ")
        return f"one or more with commas between: {inner} (none if there are no such)"
    assert isinstance(kind, Leaf)
    if kind.kind == "flag":
        return "yes or no"
    examples = field.examples
    if motion == "rotary" and general in ROTARY:
        examples = (ROTARY[general],)
    elif motion == "rotary" and kind.in_user_units:
        examples = ()
    text = expectation(kind, examples)
    if examples and "such as" not in text and kind.kind != "name":
        text += f", such as {examples[0]}"
    return text.replace("text (in quotes if it looks like a number)", "text").replace('"', "")


def read_answer(asked: Question, typed: str) -> Reply:
    """The value that somebody typed. Raises Refusal, which says what is expected instead."""
    text = typed.strip()
    kind = asked.kind
    if isinstance(kind, RecordType):
        if text.lower() in YES:
            return Reply(asked.path, {})
        raise Refusal(f"is {text!r}", _or_none(asked))
    if isinstance(kind, ListType):
        return Reply(asked.path, _listed(asked, kind, text))
    assert isinstance(kind, Leaf)
    value = _plain(kind, text)
    _, _, motion = converter(kind, asked.examples)(value)
    if motion is not None and asked.motion and motion != asked.motion:
        fits = "a length" if asked.motion == "linear" else "an angle"
        raise Refusal(f"is {text!r}", f"{fits}, because the axis is {asked.motion}")
    return Reply(asked.path, value)


def absence(asked: Question) -> Reply:
    """The answer `none`. Raises Refusal where there must be something."""
    if isinstance(asked.kind, ListType):
        return Reply(asked.path, [])
    if not asked.absent:
        raise Refusal("is 'none'", asked.takes)
    return Reply(asked.absent_path, "none")


def absence_sentence(asked: Question) -> str:
    """What `none` says, to be confirmed; empty where there must be something."""
    if isinstance(asked.kind, ListType):
        return NO_ITEMS.get(_general(asked.path), "The list is complete and empty.")
    return asked.absent


def _or_none(asked: Question) -> str:
    return f"{asked.takes}, or none" if asked.absent else asked.takes


def _listed(asked: Question, kind: ListType, text: str) -> Plain:
    if isinstance(kind.item, RecordType):
        if not text.isdecimal() or not 0 < int(text) <= min(kind.max_items, 100):
            raise Refusal(
                f"is {text!r}", f"a whole number from 1 to {min(kind.max_items, 100)}, or none"
            )
        return [{} for _ in range(int(text))]
    assert isinstance(kind.item, Leaf)
    read = converter(kind.item)
    values = [_plain(kind.item, each.strip()) for each in text.split(",") if each.strip()]
    for each in values:
        read(each)
    if not values:
        raise Refusal("is empty", asked.takes)
    return list(values)


def _plain(leaf: Leaf, text: str) -> Any:
    """What a file would state: a number where one is wanted, else the text."""
    if leaf.kind == "flag":
        if text.lower() in YES | NO:
            return text.lower() in YES
        raise Refusal(f"is {text!r}", "yes or no")
    if leaf.kind in ("whole", "method") and re.fullmatch(r"[+-]?\d{1,40}", text):
        return int(text)
    if leaf.kind == "quantity" and re.fullmatch(r"[+-]?\d{1,20}(\.\d{1,20})?", text):
        try:
            return int(text) if text.lstrip("+-").isdigit() else Decimal(text)
        except InvalidOperation:
            return text
    if leaf.kind == "name":
        return text.lower().replace(" ", "_").replace("-", "_")
    return text


def required_of(asked: Question) -> tuple[str, ...]:
    """The facts that each item of a list must state at once."""
    kind = asked.kind
    if isinstance(kind, ListType) and isinstance(kind.item, RecordType):
        return kind.item.required
    return kind.required if isinstance(kind, RecordType) else ()
