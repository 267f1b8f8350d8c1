"""Machines in plain values, and the axis that is read from them."""

from __future__ import annotations

import copy
from functools import cache
from typing import Any

from axisproof.machine.machine import Machine
from axisproof.machine.reader import read_plain
from axisproof.machine.records import Facts
from axisproof.machine.schema import (
    Leaf,
    ListType,
    MapType,
    RecordType,
    Type,
    axis_type,
    machine_type,
)
from axisproof.machine.value_reader import _KIND_WORDS


def axis(motion: Any = "linear", **parts: Any) -> Facts:
    """The facts of one axis, read from a plain tree."""
    return machine(motion, **parts).axes[0]


def machine(motion: Any = "linear", **parts: Any) -> Machine:
    return read_plain({"axes": {"a": {"motion": motion, **parts}}})


def claims(*values: Any) -> dict[str, Any]:
    return {"claims": [{"value": v, "source": f"s{i}"} for i, v in enumerate(values)]}


def sample(kind: Type, examples: tuple[Any, ...] = ()) -> Any:
    """A valid plain value of a type, by its first example where it has one."""
    if isinstance(kind, RecordType):
        return {
            name: sample(field.type, field.examples)
            for name, field in kind.fields.items()
            if not field.implied and not isinstance(field.type, MapType)
        }
    if isinstance(kind, ListType):
        return [sample(kind.item, examples)]
    assert isinstance(kind, Leaf)
    if examples:
        return examples[0]
    if kind.kind == "quantity":
        return 7 if kind.quantity == "ratio" else _KIND_WORDS[kind.quantity or ""][1]
    values = {"text": "X1", "flag": True, "date": "2026-01-02", "method": 33, "any": "5 mm"}
    return values.get(kind.kind) or (kind.names[0] if kind.names else kind.minimum or 1)


@cache
def full_once() -> dict[str, Any]:
    plain: dict[str, Any] = sample(machine_type())
    plain["include"] = []
    reason = {"margin": {"value": 0.25, "reason": "so"}}
    a, b = sample(axis_type()), sample(axis_type())
    plain["axes"] = {"a": {**a, "settings": reason}, "b": b}
    return plain


def full() -> dict[str, Any]:
    """A machine of two axes in which every fact of the schema is stated."""
    return copy.deepcopy(full_once())
