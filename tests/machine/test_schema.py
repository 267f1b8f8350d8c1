"""The published schema, and the type tree built from it."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from types import ModuleType
from typing import Any

import pytest
from axisproof.base.absence import NONE
from axisproof.base.package_data import fingerprint, read_text
from axisproof.machine.schema import (
    Field,
    Leaf,
    ListType,
    MapType,
    RecordType,
    Type,
    UnknownField,
    axis_type,
    facts,
    load_schema,
    lookup,
    machine_type,
    near,
)
from axisproof.machine.value_reader import converter
from axisproof.numbers import units
from axisproof.numbers.dimensions import dim
from jsonschema import Draft202012Validator

SIGNS = {"any": "", "positive": r"(?!-)(?=\+?[0.]*[1-9])", "not_negative": "(?!-)"}


def nodes(node: Any) -> Iterator[dict[str, Any]]:
    """Every object of the JSON Schema."""
    if isinstance(node, dict):
        yield node
        for inner in node.values():
            yield from nodes(inner)
    elif isinstance(node, list):
        for inner in node:
            yield from nodes(inner)


def fields(kind: Type, path: str = "") -> Iterator[tuple[str, Field]]:
    """Every field of the type tree, through lists and maps."""
    if isinstance(kind, RecordType):
        for name, field in kind.fields.items():
            yield f"{path}.{name}", field
            yield from fields(field.type, f"{path}.{name}")
    elif isinstance(kind, ListType | MapType):
        yield from fields(kind.item, f"{path}[]")


ALL_FIELDS = dict(fields(machine_type()))
LEAVES = {n: d for n, d in load_schema()["$defs"].items() if n.endswith("_value")}
QUANTITIES = {n: d for n, d in LEAVES.items() if d["x-kind"] == "quantity"}


def test_the_schema_is_a_valid_json_schema() -> None:
    Draft202012Validator.check_schema(load_schema())


@pytest.mark.parametrize("name", QUANTITIES)
def test_the_pattern_of_a_quantity_is_that_of_the_unit_table(name: str) -> None:
    node = QUANTITIES[name]
    text = next(o for o in node.get("anyOf", [node]) if o.get("type") == "string")
    sign = SIGNS[node.get("x-sign", "any")]
    pattern = units.pattern_of(node["x-quantity"])
    assert text["pattern"] == "^" + sign + pattern.removeprefix("^")


def test_no_pattern_lets_a_final_line_break_through() -> None:
    patterns = {node["pattern"] for node in nodes(load_schema()) if "pattern" in node}
    assert len(patterns) > 20
    assert [p for p in patterns if not p.endswith(r"(?!\n)$")] == []


def test_every_object_of_the_schema_refuses_unknown_keys() -> None:
    objects = [n for n in nodes(load_schema()) if n.get("type") == "object"]
    assert len(objects) > 50
    assert all("additionalProperties" in node for node in objects)


def test_every_leaf_definition_may_be_claimed_and_is_used() -> None:
    definitions = load_schema()["$defs"]
    names = {name.removesuffix("_value") for name in LEAVES}
    used = {n["$ref"].removeprefix("#/$defs/") for n in nodes(load_schema()) if "$ref" in n}
    for name in names:
        assert definitions[name]["anyOf"] == [
            {"$ref": f"#/$defs/{name}_value"},
            {"$ref": f"#/$defs/{name}_claims"},
        ]
    in_tree = {f.type.definition for f in ALL_FIELDS.values() if isinstance(f.type, Leaf)}
    in_lists = {
        f.type.item.definition
        for f in ALL_FIELDS.values()
        if isinstance(f.type, ListType) and isinstance(f.type.item, Leaf)
    }
    assert names <= in_tree | in_lists
    assert set(definitions) - {"axis"} - used <= names


def test_every_field_is_described() -> None:
    undescribed = [p for p, f in ALL_FIELDS.items() if not f.description and not f.implied]
    assert undescribed == []
    assert len(ALL_FIELDS) > 200


EXAMPLES = [(path, f, e) for path, f in ALL_FIELDS.items() for e in f.examples]


def test_every_quantity_in_user_units_has_an_example() -> None:
    without = [
        path
        for path, field in ALL_FIELDS.items()
        if isinstance(field.type, Leaf) and field.type.in_user_units and not field.examples
    ]
    assert without == []


@pytest.mark.parametrize(("path", "field", "example"), EXAMPLES)
def test_every_example_is_accepted_by_the_reader_and_by_the_schema(
    path: str, field: Field, example: Any
) -> None:
    kind = field.type.item if isinstance(field.type, ListType) else field.type
    assert isinstance(kind, Leaf)
    from decimal import Decimal

    plain = Decimal(str(example)) if isinstance(example, float) else example
    assert converter(kind)(plain)[0] is not NONE
    schema = {"$ref": f"#/$defs/{kind.definition}_value", "$defs": load_schema()["$defs"]}
    assert Draft202012Validator(schema).is_valid(example)


def test_fields_that_may_be_none_say_so() -> None:
    nullable = {path for path, field in facts(axis_type()).items() if field.nullable}
    assert {"motor.brake", "drive.gear", "controller.homing", "mechanics.travel"} <= nullable
    assert {"drive.stop_reaction.jerk", "mechanics.counterbalance", "gantry"} <= nullable
    assert "drive.serial" not in nullable


def test_facts_dissolve_nested_records_into_dotted_paths() -> None:
    found = facts(axis_type())
    assert isinstance(found["drive.gear.numerator"].type, Leaf)
    assert isinstance(found["controller.homing.taught"].type, RecordType)
    assert isinstance(found["interlocks"].type, ListType)
    assert "drive" not in found
    assert "settings" not in found
    assert found["name"].implied


def test_facts_of_the_machine_leave_out_what_speaks_about_the_file() -> None:
    found = facts(machine_type())
    assert set(found) == {
        "name",
        "description",
        "network",
        "network.cycle_time",
        "network.nodes",
        "conditions",
        "collision_pairs",
    }


@pytest.mark.parametrize(
    ("path", "dimension"),
    [
        ("controller.cycle", dim(position=1)),
        ("controller.max_velocity", dim(position=1, time=-1)),
        ("controller.max_acceleration", dim(position=1, time=-2)),
        ("controller.max_jerk", dim(position=1, time=-3)),
        ("controller.counts_per_unit", dim(count=1, position=-1)),
        ("controller.position_loop_gain", dim(time=-1)),
        ("encoder.distinguishable_revolutions", dim(angle=1)),
        ("encoder.counts_per_revolution", dim(count=1, angle=-1)),
        ("encoder.total_range", dim(count=1)),
        ("encoder.measuring_step", dim(length=1)),
        ("controller.homing.index_after_switch", dim(angle=1)),
        ("motor.rated_torque", dim(mass=1, length=2, time=-2, angle=-1)),
        ("motor.inertia", dim(mass=1, length=2, angle=-2)),
        ("mechanics.stated_ratio", ()),
        ("drive.node", ()),
        ("controller.homing.taught.on", dim(time=1)),
        ("encoder.kind", None),
        ("controller.homing.method", None),
    ],
)
def test_a_leaf_has_the_dimension_of_its_bare_number(path: str, dimension: object) -> None:
    kind = lookup(axis_type(), path).type
    assert isinstance(kind, Leaf)
    assert kind.dimension == dimension


def test_only_quantities_in_user_units_depend_on_the_axis() -> None:
    def in_user_units(path: str) -> bool:
        kind = lookup(axis_type(), path).type
        assert isinstance(kind, Leaf)
        return kind.in_user_units

    assert in_user_units("controller.cycle")
    assert in_user_units("controller.counts_per_unit")
    assert not in_user_units("encoder.measuring_step")
    assert not in_user_units("motor.max_speed")


def test_a_leaf_tells_whether_it_is_a_number() -> None:
    kinds = {
        field.type.kind: field.type.is_number
        for field in ALL_FIELDS.values()
        if isinstance(field.type, Leaf)
    }
    numbers = {kind for kind, is_number in kinds.items() if is_number}
    assert numbers == {"quantity", "whole", "date"}
    assert set(kinds) - numbers == {"name", "flag", "text", "method", "any"}


def test_a_list_knows_its_items() -> None:
    kind = lookup(axis_type(), "interlocks").type
    assert isinstance(kind, ListType)
    assert kind.partial
    assert isinstance(kind.item, RecordType)
    assert kind.item.required == ("triggers",)
    include = lookup(machine_type(), "include").type
    assert isinstance(include, ListType)
    assert not include.partial


def test_axes_and_settings_are_maps() -> None:
    axes = lookup(machine_type(), "axes").type
    assert isinstance(axes, MapType)
    assert axes.min_items == 1
    assert axes.item is axis_type()
    assert isinstance(lookup(axis_type(), "settings").type, MapType)


@pytest.mark.parametrize(
    ("path", "name", "first", "parent"),
    [
        ("drive.nod", "nod", "node", "drive"),
        ("drives.node", "drives", "drive", ""),
        ("controller.homing.Search-Speed", "Search-Speed", "search_speed", "controller.homing"),
        (
            "controller.homing.taught.moter_serial",
            "moter_serial",
            "motor_serial",
            "controller.homing.taught",
        ),
    ],
)
def test_an_unknown_path_names_the_part_and_the_nearest_field(
    path: str, name: str, first: str, parent: str
) -> None:
    with pytest.raises(UnknownField) as caught:
        lookup(axis_type(), path)
    assert (caught.value.name, caught.value.parent) == (name, parent)
    assert caught.value.candidates[:1] == (first,)


@pytest.mark.parametrize("path", ["drive.node.value", "interlocks.triggers", "", "drive."])
def test_a_path_does_not_lead_through_a_value_or_a_list(path: str) -> None:
    with pytest.raises(UnknownField):
        lookup(axis_type(), path)


def test_near_names_are_few_and_near() -> None:
    assert near("serail", ["serial", "firmware", "node"]) == ("serial",)
    assert near("zzz", ["serial", "firmware"]) == ()
    assert near("x" * 10**6, ["serial"]) == ()


def test_names_are_words_of_small_letters() -> None:
    names = {
        name
        for leaf in LEAVES.values()
        for name in leaf.get("enum", ())
        if leaf["x-kind"] != "whole"
    }
    assert len(names) > 80
    assert [name for name in names if not re.fullmatch("[a-z]+(_[a-z]+)*", name)] == []
    assert "none" not in names


# The plan that ships ----------------------------------------------------------------------------


def test_the_types_are_those_of_the_published_schema(monkeypatch: pytest.MonkeyPatch) -> None:
    shipped = machine_type()
    monkeypatch.setitem(sys.modules, "axisproof.schemas.compiled", None)
    assert machine_type.__wrapped__() == shipped


def test_a_plan_of_another_schema_is_not_used(monkeypatch: pytest.MonkeyPatch) -> None:
    stale = ModuleType("axisproof.schemas.compiled")
    stale.SEAL, stale.MACHINE = "1-00000000", ("R", (), (), "")  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, "axisproof.schemas.compiled", stale)
    assert machine_type.__wrapped__() == machine_type()
    stale.SEAL = fingerprint([read_text("axisproof.schemas", "machine.schema.json")])  # type: ignore[attr-defined]
    assert machine_type.__wrapped__() == RecordType({})
