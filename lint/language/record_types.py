"""The facts of the machine schema as the rule language types them."""

from __future__ import annotations

from dataclasses import replace

from ..machine.derived_facts import FOLLOWS_FROM
from ..machine.homing_order import WAITS_FOR_STRANGER
from ..machine.schema import Field, Leaf, ListType, RecordType, axis_type, machine_type
from ..machine.schema import facts as record_facts
from ..numbers.dimensions import DIMENSIONLESS, Dimension, dim_mul
from .syntax import DATE, FLAG, METHOD, POSITION, TEXT, Type


def owned_position(dimension: Dimension, owner: str) -> Dimension:
    """A dimension of the schema with the user unit of one subject in it."""
    result: Dimension = DIMENSIONLESS
    for base, power in dimension:
        name = POSITION + owner if base == "position" else base
        result = dim_mul(result, ((name, power),))
    return result


def seen_from(type_: Type, owner: str) -> Type:
    """The type of a definition as seen from a variable other than its own."""
    renamed: Dimension = DIMENSIONLESS
    for base, power in type_.dim:
        name = POSITION + owner if base.startswith(POSITION) else base
        renamed = dim_mul(renamed, ((name, power),))
    return replace(type_, dim=renamed)


class RecordTypes:
    """The record types of the machine schema, under the ids that rules know them by."""

    def __init__(self) -> None:
        self.records: dict[str, dict[str, Field]] = {}
        self._add("axis", axis_type())
        self._add("machine", machine_type())

    def _add(self, name: str, record: RecordType) -> None:
        found = record_facts(record)
        self.records[name] = found
        for path, item in found.items():
            if isinstance(item.type, ListType) and isinstance(item.type.item, RecordType):
                self._add(f"{name}.{path}", item.type.item)

    def type_of(self, record: str, path: str, owner: str) -> Type | None:
        """The type of a fact, or None if the record has no such fact."""
        if record == "machine" and path == "axes":
            return Type("list", item=Type("record", record="axis"))
        if record == "machine" and path == "check_date":
            return DATE
        if record == "axis" and path in FOLLOWS_FROM:
            return FLAG if path == WAITS_FOR_STRANGER else Type("list", item=TEXT)
        found = self.records[record].get(path)
        return None if found is None else self._type(found, record, path, owner)

    def _type(self, item: Field, record: str, path: str, owner: str) -> Type:
        if isinstance(item.type, RecordType):
            return Type("part", record=f"{record}.{path}", nullable=True)
        if isinstance(item.type, ListType):
            if isinstance(item.type.item, RecordType):
                return Type("list", item=Type("record", record=f"{record}.{path}", owner=owner))
            assert isinstance(item.type.item, Leaf)
            return Type("list", item=self._leaf(item.type.item, owner))
        assert isinstance(item.type, Leaf)
        leaf = self._leaf(item.type, owner)
        return replace(leaf, nullable=True) if item.nullable else leaf

    def _leaf(self, leaf: Leaf, owner: str) -> Type:
        if leaf.kind in ("quantity", "whole"):
            assert leaf.dimension is not None, leaf
            return Type("number", owned_position(leaf.dimension, owner))
        if leaf.kind == "name":
            return Type("name", names=leaf.names)
        return {"flag": FLAG, "text": TEXT, "date": DATE, "method": METHOD}[leaf.kind]

    def names(self, record: str) -> list[str]:
        """Every path of a record, for did-you-mean."""
        extra = {"machine": ("axes", "check_date"), "axis": tuple(FOLLOWS_FROM)}
        return [*self.records[record], *extra.get(record, ())]
