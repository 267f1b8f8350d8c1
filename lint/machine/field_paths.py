"""From a path in a machine file, into lists and named records, to the field of the schema."""

from __future__ import annotations

from ..source.places import KeyPath
from .schema import Field, Leaf, ListType, MapType, RecordType, Type, machine_type
from .value_reader import expectation


def field_words(field: Field) -> str:
    """What a field accepts, in words."""
    if isinstance(field.type, Leaf):
        words = expectation(field.type, field.examples)
    elif isinstance(field.type, ListType):
        inner = field.type.item
        words = "a list of records"
        if isinstance(inner, Leaf):
            words = f"a list. Each item: {expectation(inner)}"
    else:
        words = "a group of facts"
    return f"{words}, or none" if field.nullable else words


def field_at(path: KeyPath) -> Field | None:
    """The field of a machine file at a path; None for a path that is not in the schema.

    An item of a list or of named records is a field without description.
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
