"""The reader takes every fact of the schema, and agrees with jsonschema."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from axisproof.base.errors import InputError
from axisproof.machine.derived_facts import FOLLOWS_FROM
from axisproof.machine.reader import read_plain
from axisproof.machine.records import NOTES
from axisproof.machine.schema import (
    Leaf,
    axis_type,
    facts,
    load_schema,
    machine_type,
)
from hypothesis import HealthCheck, given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from tests.examples import examples
from tests.machine.plain_machines import claims, full, full_once

Path_ = tuple[str | int, ...]


def exact(node: Any) -> Any:
    """A JSON tree as the sources give it, with Decimal for float."""
    if isinstance(node, dict):
        return {key: exact(value) for key, value in node.items()}
    if isinstance(node, list):
        return [exact(value) for value in node]
    return Decimal(repr(node)) if isinstance(node, float) else node


def test_every_fact_of_the_schema_can_be_stated() -> None:
    found = read_plain(exact(full()), headless=False)
    assert found.disputes == ()
    misfits = {
        misfit.path.removeprefix("axes.a.")
        for misfit in found.misfits
        if misfit.path.startswith("axes.a.")
    }
    derived = set(FOLLOWS_FROM)
    stated = {key for key in found.axes[0] if key != NOTES} - derived | misfits
    assert stated == set(facts(axis_type()))
    assert {key for key in found.facts if key != NOTES} - {"axes"} == set(facts(machine_type()))


VALIDATOR = Draft202012Validator(load_schema())


def accepts(plain: Any) -> bool:
    try:
        read_plain(exact(plain), headless=False)
    except InputError:
        return False
    return True


def paths(node: Any, at: Path_ = ()) -> list[Path_]:
    """Every path in a plain tree."""
    found: list[Path_] = [at] if at else []
    if isinstance(node, dict):
        for key, value in node.items():
            found += paths(value, (*at, key))
    elif isinstance(node, list):
        for index, value in enumerate(node):
            found += paths(value, (*at, index))
    return found


PATHS = [path for path in paths(full_once()) if path[:2] != ("axes", "b")]

SCALARS: list[Any] = [
    "none", "None", "", "x", "true", True, False, 0, 1, -1, 37, 38, -128, -129, 64, 65, 65535,
    65536, 10**20, 1.0, 0.5, -0.5, 0.0, 1e-9, "5", "-5", "0", "5 mm", "-5 mm", "+5 mm", "-0 mm",
    "0 mm", "0.00 mm", "0.0e5 mm", "00.1 mm", "1e-9 mm", "1/3 mm", "1/0 mm", "0/3 mm", "5mm",
    "5  mm", " 5 mm", "5 mm\n", "5 mm ", "٣ mm", "5 MM", "5 deg", "-90 deg", "5°", "5 rev", "5 s",
    "5 ms", "0 s", "-1 s", "5 mm/s", "5 rpm", "0 rpm", "5 1/min", "51/min", "5 1/s", "5 Hz",
    "5 mm/s^2", "5 mm/s²", "5 deg/s^3", "5 kg", "5 N", "5 N·m", "5 Nm", "-5 N m", "5 kg m^2",
    "5 count/mm", "5 counts/deg", "5 count/s", "5 V", "80 %", "-3 %", "0 %", "10/3", "5 ppm",
    "2026-02-28", "2026-02-28\n", "2026-13-01", "2026-1-1", "26-01-01", "linear", "rotary",
    "incremental", "limit_switch_negative", "homing", "a b", "9a", "a" * 64, "a" * 65, "a\n",
    "x" * 200, "x" * 201, "x" * 2001,
]  # fmt: skip


def mutate(draw: st.DrawFn, plain: dict[str, Any]) -> None:
    """Change, remove, wrap or add one thing somewhere in the tree, which may have changed."""
    path = draw(st.sampled_from(PATHS))
    node: Any = plain
    for part in path[:-1]:
        try:
            node = node[part]
        except (KeyError, IndexError, TypeError):
            return
    last = path[-1]
    if isinstance(node, dict) and isinstance(last, int):
        return
    if not isinstance(node, dict | list) or (isinstance(node, list) and isinstance(last, str)):
        return
    if isinstance(node, list) and isinstance(last, int) and last >= len(node):
        return
    if isinstance(node, dict) and last not in node:
        return
    there: Any = node[last]  # type: ignore[index]
    kinds = ["scalar", "none", "list", "partial", "claims", "bad claims", "remove", "add", "empty"]
    match draw(st.sampled_from(kinds)):
        case "scalar":
            new = draw(st.sampled_from(SCALARS))
        case "none":
            new = "none"
        case "list":
            new = [there]
        case "partial":
            new = {"partial": there}
        case "claims":
            other = draw(st.sampled_from([there, "none", *SCALARS[:12]]))
            new = claims(there, other)
        case "bad claims":
            entry = draw(
                st.sampled_from(
                    [
                        there,
                        {"value": there},
                        {"value": there, "source": ""},
                        {"value": there, "source": 1},
                        {"value": there, "source": "a", "on": "b"},
                    ]
                )
            )
            new = draw(
                st.sampled_from(
                    [
                        {"claims": []},
                        {"claims": [entry]},
                        {"claims": [entry] * 21},
                        {"claims": entry},
                        {"claims": [{"value": there, "source": "a"}], "x": 1},
                        {"claim": []},
                    ]
                )
            )
        case "remove":
            del node[last]  # type: ignore[arg-type]
            return
        case "add":
            if isinstance(node, dict):
                key = draw(st.sampled_from(["x", "serial", "name", "B 1", "partial", "value", ""]))
                node[key] = draw(st.sampled_from(["x", 1, {}, {"motion": "linear"}]))
            else:
                node.append(draw(st.sampled_from(["x", 1, {}, there])))
            return
        case _:
            new = draw(st.sampled_from([{}, [], "", {"partial": []}]))
    node[last] = new  # type: ignore[index]


@st.composite
def mutated(draw: st.DrawFn) -> dict[str, Any]:
    plain = full()
    for _ in range(draw(st.integers(1, 3))):
        mutate(draw, plain)
    return plain


@examples(1.5, suppress_health_check=list(HealthCheck))
@given(mutated())
def test_the_reader_and_jsonschema_accept_and_refuse_alike(plain: dict[str, Any]) -> None:
    assert accepts(plain) == VALIDATOR.is_valid(plain)


LEAF_FIELDS = {
    field.type.definition: path
    for path, field in facts(axis_type()).items()
    if isinstance(field.type, Leaf) and not field.implied
}


@pytest.mark.parametrize("definition", LEAF_FIELDS)
def test_the_reader_and_jsonschema_agree_on_every_kind_of_leaf(definition: str) -> None:
    path = LEAF_FIELDS[definition]
    outcomes = set()
    for value in [*SCALARS, [], {}, ["5 mm"], {"claims": [{"value": "x", "source": "y"}]}]:
        plain: Any = value
        for name in reversed(path.split(".")):
            plain = {name: plain}
        tree = {"format": 1, "machine": "m", "axes": {"a": {"motion": "linear"} | plain}}
        valid = VALIDATOR.is_valid(tree)
        assert accepts(tree) == valid, (path, value)
        outcomes.add(valid)
    assert False in outcomes


STRICTER: dict[str, dict[str, Any]] = {
    "a day that no calendar has": {"motor": {"commutation": {"on": "2026-02-30"}}},
    "the year zero": {"motor": {"commutation": {"on": "0000-01-01"}}},
    "a power of ten beyond the cap": {"controller": {"cycle": "1e31 mm"}},
    "a power of ten below the cap": {"controller": {"cycle": "1e-31 mm"}},
    "more digits than the cap": {"controller": {"cycle": f"{'1' * 41} mm"}},
    "more digits than the cap, after the point": {"controller": {"cycle": f"0.{'1' * 40} mm"}},
}
"""What jsonschema accepts and the reader refuses: the whole list."""


@pytest.mark.parametrize("name", STRICTER)
def test_the_reader_is_stricter_than_jsonschema_only_in_named_cases(name: str) -> None:
    tree = {"format": 1, "machine": "m", "axes": {"a": {"motion": "linear", **STRICTER[name]}}}
    assert VALIDATOR.is_valid(tree)
    assert not accepts(tree)


def test_unlike_claims_and_misfits_are_no_fault_of_shape() -> None:
    controller = {"cycle": claims("10 mm", "360 deg"), "max_jerk": "5 deg/s^3"}
    axes = {"a": {"motion": "linear", "controller": controller}}
    tree = {"format": 1, "machine": "m", "axes": axes}
    assert VALIDATOR.is_valid(tree)
    assert accepts(tree)


json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(max_size=8) | st.sampled_from(SCALARS),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from(["format", "machine", "axes", "a", "motion", "drive", "claims", "x"]),
            inner,
            max_size=4,
        )
    ),
    max_leaves=12,
)


@given(json_values)
def test_no_plain_tree_raises_anything_but_our_own_error(plain: Any) -> None:
    assert accepts(plain) == VALIDATOR.is_valid(plain)
