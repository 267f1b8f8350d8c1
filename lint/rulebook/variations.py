"""Examples that differ from an example in one fact.

What can be written in place of a fact is read off the schema; for numbers see boundaries.py.
"""

from __future__ import annotations

import copy
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

from ..language.syntax import NOWHERE, Assignment, Example
from ..machine.field_paths import field_at
from ..machine.records import CHECK_DATE
from ..machine.schema import Field, Leaf, ListType, MapType, RecordType
from ..source.places import KeyPath
from .example_machines import is_complete, is_given, whole_axis

ABSENT: Final = "missing"
"""Stands for a fact that is not stated, as in a rule file."""

_METHODS: Final = (1, 2, 17, 18, 33, 34, 35, 37, -1)
"""Homing methods of each kind: switches with and without index, index alone, here, maker's own."""


_NAME: Final = Field(Leaf("text"))
"""What the name of an axis is, which a spot of one part stands for."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What a rule asks for: texts, words of lists of words, and paths of facts."""

    texts: Sequence[str] = ()
    words: Sequence[str] = ()
    paths: Sequence[str] = ()


@dataclass(frozen=True, slots=True)
class Spot:
    """A fact of an example, or one that it could state (then ``value`` is ABSENT)."""

    parts: KeyPath
    value: Any
    field: Field

    @property
    def text(self) -> str:
        """The path as it stands in an example, an item of a list by its number."""
        first, *rest = self.parts
        return str(first) + "".join(f"[{p}]" if isinstance(p, int) else f".{p}" for p in rest)


def spots_of(example: Example, read: Iterable[tuple[str, str]]) -> list[Spot]:
    """The facts that an example states or could state.

    ``read`` holds variable and path of each fact that its rule reads. A record stands before what
    it holds.
    """
    whole = _stated(example)
    complete = {fact.path: whole_axis(fact) for fact in example.facts if is_complete(fact)}
    found = {spot.parts: spot for spot in _within((), whole)}
    heads = [head for head in whole if head != "machine"] or ["axis"]
    if any(path == "name" and variable != "machine" for variable, path in read):
        found |= {(head,): Spot((head,), head, _NAME) for head in heads if head in whole}
    items = [parts for parts in found if isinstance(parts[-1], int)]
    for variable, path in read:
        names = path.split(".")
        places: list[KeyPath] = [("machine", *names)] if variable == "machine" else []
        if variable != "machine":
            places = [(head, *names) for head in heads] + [(*item, *names) for item in items]
        for parts in places:
            field = _field(parts)
            if field is not None and parts not in found:
                found[parts] = Spot(parts, _value_at(complete, parts), field)
    return list(found.values())


def _field(parts: KeyPath) -> Field | None:
    if parts[0] != "machine":
        return field_at(("axes", *parts))
    if parts[1:] == (CHECK_DATE,):
        return Field(Leaf("date"))
    return None if parts[1:2] == ("settings",) else field_at(parts[1:])


def _stated(example: Example) -> dict[str, Any]:
    """The facts of an example as nested records."""
    whole: dict[str, Any] = {}
    for fact in example.facts:
        if is_complete(fact):
            whole.setdefault(fact.path, {})
            continue
        here: Any = whole
        *above, last = fact.path.split(".")
        for part in above:
            here = here.setdefault(part, {}) if isinstance(here, dict) else {}
        if isinstance(here, dict):
            here[last] = copy.deepcopy(fact.value)
    return whole


def stated_value(example: Example, parts: KeyPath) -> Any:
    """What an example states at a path; ABSENT if nothing."""
    return _value_at(_stated(example), parts)


def _value_at(whole: Any, parts: KeyPath) -> Any:
    """The plain value at a path; ABSENT if there is none."""
    here = whole
    for part in parts:
        if not isinstance(here, dict | list) or (isinstance(here, dict) and part not in here):
            return ABSENT
        here = here[part]  # type: ignore[index]
    return here


def _within(parts: KeyPath, value: Any) -> Iterator[Spot]:
    """The facts below a path, records and lists among them."""
    pairs: Iterable[tuple[str | int, Any]] = ()
    if isinstance(value, dict):
        pairs = value.items()
    elif isinstance(value, list):
        pairs = enumerate(value)
    for part, inner in pairs:
        here = (*parts, part)
        field = _field(here)
        if field is not None and parts:
            yield Spot(here, inner, field)
        if inner != ABSENT:
            yield from _within(here, inner)


def with_value(example: Example, parts: KeyPath, value: Any) -> Example:
    """The example with one fact changed, stated or (for ABSENT) left out.

    A path of one part is an axis, which gets a companion of that name.
    """
    facts = list(example.facts)
    if len(parts) == 1:
        return replace(example, facts=tuple(_with_companion(example, str(parts[0]), value)))
    for number in reversed(range(len(facts))):
        fact = facts[number]
        path = tuple(fact.path.split("."))
        if fact.value == ABSENT or is_complete(fact) or parts[: len(path)] != path:
            continue
        rest = parts[len(path) :]
        if not is_given(example, fact):
            facts[number] = _assignment(path, _changed(fact.value, rest, value))
        else:
            until = next((n for n, part in enumerate(rest) if isinstance(part, int)), len(rest))
            inner = fact.value
            for part in rest[:until]:
                inner = inner.get(part) if isinstance(inner, dict) else None
            changed = _changed(inner, rest[until:], value)
            facts.append(_assignment((*path, *rest[:until]), changed))
        break
    else:
        facts.append(_assignment(parts, value))
    own = ".".join(map(str, parts))
    kept = [
        fact
        for fact in facts
        if fact.at is NOWHERE or not (fact.path == own or fact.path.startswith(own + "."))
    ]
    return replace(example, facts=tuple(_once(kept)))


def _with_companion(example: Example, head: str, name: str) -> Iterator[Assignment]:
    """The facts, and those of an axis for another axis too."""
    yield from example.facts
    for fact in example.facts:
        if fact.path.startswith(f"{head}."):
            path = f"{name}.{fact.path.removeprefix(head + '.')}"
            yield Assignment(path, fact.value, NOWHERE, NOWHERE)


def _once(facts: list[Assignment]) -> Iterable[Assignment]:
    """The last statement of each fact, given facts first as an example has them."""
    return {fact.path: fact for fact in facts}.values()


def _assignment(parts: KeyPath, value: Any) -> Assignment:
    return Assignment(".".join(map(str, parts)), value, NOWHERE, NOWHERE)


def _changed(whole: Any, rest: KeyPath, value: Any) -> Any:
    """A copy of a plain value with another value at a path within it."""
    if not rest:
        return value
    result = copy.deepcopy(whole) if isinstance(whole, dict | list) else {}
    here: Any = result
    for part in rest[:-1]:
        if not isinstance(part, int) and not isinstance(here.get(part), dict | list):
            here[part] = {}  # it is not stated, or stated to be none
        here = here[part]
    if value == ABSENT:
        del here[rest[-1]]
    else:
        here[rest[-1]] = value
    return result


def other_values(spot: Spot, asked: Asked) -> Iterator[Any]:
    """What could stand in place of a fact."""
    type_, value = spot.field.type, spot.value
    if isinstance(type_, Leaf):
        found = _leaf_values(type_, spot, asked)
    elif isinstance(type_, ListType):
        found = _list_values(type_, value, asked)
    else:
        nullable = value == ABSENT and spot.field.nullable
        found = iter([_sample(spot.field, asked)] if nullable else [])
    yield from (each for each in found if each != value)
    if spot.field.nullable and value != "none":
        yield "none"


def _leaf_values(leaf: Leaf, spot: Spot, asked: Asked) -> Iterator[Any]:
    if leaf.kind == "flag":
        yield from (True, False)
    elif leaf.kind == "method":
        yield from _METHODS
    elif leaf.kind == "name":
        yield from leaf.names
    elif leaf.kind == "text":
        stated = [] if spot.value == ABSENT else [str(spot.value)]
        for word in (*asked.texts, *stated, "a1"):
            yield from (word, f"{word}_1", f"x_{word}", f"x_{word}_1")
    elif spot.value == ABSENT:
        yield _sample(spot.field, asked)


def _list_values(type_: ListType, value: Any, asked: Asked) -> Iterator[Any]:
    listed = value if isinstance(value, list) else []
    yield []
    for number in range(len(listed)):
        yield [*listed[:number], *listed[number + 1 :]]
    if isinstance(type_.item, Leaf) and type_.item.kind == "name":
        yield from ([*listed, name] for name in type_.item.names if name not in listed)
    else:
        yield [*listed, _sample(Field(type_.item), asked)]
        yield from ([*listed, copy.deepcopy(each)] for each in listed)
    if type_.partial and isinstance(value, list):
        yield {"partial": listed}


def _sample(field: Field, asked: Asked) -> Any:
    """A value that the schema permits, of a record with all facts that the rule asks for."""
    type_ = field.type
    if isinstance(type_, RecordType):
        wanted = {path.partition(".")[0] for path in asked.paths} | set(type_.required)
        return {name: _sample(each, asked) for name, each in type_.fields.items() if name in wanted}
    if isinstance(type_, ListType | MapType):
        return []
    if type_.names:
        return next((word for word in asked.words if word in type_.names), type_.names[0])
    if field.examples:
        return field.examples[0]
    samples = {"whole": max(1, type_.minimum or 1), "date": "2026-01-01", "flag": True}
    return samples.get(type_.kind, "a1")
