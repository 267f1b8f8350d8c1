"""Generated code and the tracing walk give one verdict, on shipped rules and on random ones."""

from __future__ import annotations

import copy
from collections.abc import Iterator
from functools import lru_cache
from typing import Any

import pytest
from axisproof.base.errors import AxisproofError
from axisproof.catalogue.catalogue import Catalogue, shipped
from axisproof.language import missing_loops
from axisproof.language.groups import GROUP
from axisproof.machine.machine import Machine
from axisproof.machine.reader import read_plain
from axisproof.machine.records import NOTES
from axisproof.rulebook.example_machines import build_example, example_machine
from hypothesis import event, given, settings
from hypothesis import strategies as st

from tests.language.evaluating import (
    UNDECIDED,
    catalogue_of,
    machine_of,
    run,
    run_case,
    unless_refused,
)
from tests.language.random_rules import BEFORE, flags, machines, numbers


@pytest.fixture(scope="module", autouse=True)
def results_of_short_lists_are_kept_too() -> Iterator[None]:
    """What loops over long lists keep is held to the tracer as well."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(missing_loops, "FEW", 0)
        yield


def compiled(require: str, **parts: str) -> Catalogue:
    return unless_refused(lambda: catalogue_of(require, before=BEFORE, **parts))


@settings(report_multiple_bugs=False)
@given(
    flags(3), flags(1), numbers("ratio", 2), st.lists(machines(), min_size=4, max_size=6)
)  # fmt: skip
def test_on_random_rules(require: str, when: str, let: str, plains: list[dict[str, Any]]) -> None:
    found = compiled(
        f"({require}) or x > 2", when=f"({when}) or axis.motion is linear", lets=f"let x = {let}"
    )
    for plain in plains:
        machine = read_plain(plain)
        machine.facts["check_date"] = 20_000 * 86400
        for verdict in run(found, machine):
            event(verdict.outcome)
            if verdict.outcome == UNDECIDED:
                assert verdict.traced.missing or verdict.traced.reasons


@settings(report_multiple_bugs=False)
@given(st.data())
def test_on_random_values(data: st.DataObject) -> None:
    kind = data.draw(st.sampled_from(["ratio", "time", "angle", "position", "jerk"]))
    first, second = data.draw(numbers(kind, 3)), data.draw(numbers(kind, 1))
    found = compiled(f"{first} <= {second}")
    for plain in data.draw(st.lists(machines(), min_size=3, max_size=4)):
        machine = read_plain(plain)
        machine.facts["check_date"] = 0
        run(found, machine)


@settings(report_multiple_bugs=False)
@given(
    st.lists(
        st.tuples(
            st.sampled_from(["a", "b", "c", None]),
            st.sampled_from([1, 2, None]),
            st.sampled_from(["linear", "rotary"]),
        ),
        min_size=1,
        max_size=4,
    ),
    st.sampled_from(
        [
            (
                "axis with other where axis.gantry.partner is other.name"
                " directed by axis.gantry.partner without skips"
            ),
            "axis with other where axis.drive.node is other.drive.node unordered",
            "machine",
        ]
    ),
)
def test_on_random_pairs_and_loops_over_axes(axes: list[Any], each: str) -> None:
    plain = {
        name: {"motion": motion}
        | ({"gantry": {"partner": partner}} if partner else {"gantry": "none"})
        | ({"drive": {"node": node}} if node else {})
        for name, (partner, node, motion) in zip("abcd", axes, strict=False)
    }
    require = (
        "unique a.drive.node for a in machine.axes where a.motion is linear"
        if each == "machine"
        else "axis.motion is other.motion or axis.drive.node < other.drive.node"
    )
    run(catalogue_of(require, each=each), read_plain({"axes": plain}))


LOOPS = [
    "some node in machine.network.nodes where node.address = axis.drive.node has node.drive",
    "every node in machine.network.nodes where (node.address = axis.drive.node and node.drive)"
    " has node.serial is axis.drive.serial",
    "some node in machine.network.nodes where (node.drive and axis.drive.node = node.address)"
    " has node.serial is axis.drive.serial",
    "every node in machine.network.nodes where axis.drive.serial is node.serial has node.drive",
    "every other in machine.axes where other.drive.serial is axis.drive.serial"
    " has other.name is axis.name",
    "every other in machine.axes where other.drive.node = axis.drive.node has"
    " (some node in machine.network.nodes where node.address = other.drive.node"
    " has node.serial is axis.drive.serial)",
    "1 = count of node in machine.network.nodes where (node.address = axis.drive.node)",
    "1 = count of other in machine.axes where (other.drive.node = axis.drive.node"
    " and other.drive.serial is axis.drive.serial)",
    "every other in machine.axes where other.gantry.partner is axis.gantry.partner"
    " has other.drive.serial is axis.drive.serial",
    "every other in machine.axes where other.drive.brake_voltage = axis.drive.brake_voltage"
    " has other.drive.node = axis.drive.node",
]


@settings(report_multiple_bugs=False)
@given(st.sampled_from(LOOPS), st.data())
def test_on_loops_that_look_items_up_by_a_key(require: str, data: st.DataObject) -> None:
    """Keys that are unknown, none, disputed or stated twice, in whole and in partial lists."""
    numbers_, serials = st.sampled_from([1, 1, 2, 3, None]), st.sampled_from(["a", "a", "b", None])
    drives = [{"node": numbers_, "serial": serials}] * 4
    nodes = st.fixed_dictionaries(
        {"address": st.sampled_from([1, 1, 2, 3]), "serial": serials},
        optional={"drive": st.booleans()},
    )
    axes: dict[str, Any] = {}
    for name, parts in zip("klmn", drives, strict=True):
        drive = data.draw(st.fixed_dictionaries(parts))
        partner = data.draw(st.sampled_from(["k", "l", "none", None]))
        volts = data.draw(st.sampled_from(["24 V", "24.0 V", "24.5 V", "none", None, "disputed"]))
        if volts == "disputed":
            drive["brake_voltage"] = {
                "claims": [{"value": "24 V", "source": "a"}, {"value": "90 V", "source": "b"}]
            }
        else:
            drive["brake_voltage"] = volts
        axes[name] = {"motion": "linear", "drive": without_unknown(drive)}
        if partner:
            axes[name]["gantry"] = partner if partner == "none" else {"partner": partner}
    plain: dict[str, Any] = {"axes": axes}
    found = [without_unknown(node) for node in data.draw(st.lists(nodes, max_size=4))]
    how = data.draw(st.sampled_from(["whole", "whole", "partial", "missing"]))
    if how != "missing":
        plain["network"] = {"nodes": found if how == "whole" else {"partial": found}}
    for verdict in run(catalogue_of(require), read_plain(plain)):
        event(verdict.outcome)
        if verdict.outcome == UNDECIDED:
            assert verdict.traced.missing or verdict.traced.reasons


def without_unknown(record: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in record.items() if value is not None}


# Shipped rules: machines made from their own examples, with facts taken away, disputed, swapped.


@lru_cache(maxsize=1)
def example_machines() -> tuple[list[dict[str, Any]], dict[str, list[Any]]]:
    """The plain machines of all examples, and for each path the values it has in any of them."""
    found = shipped()
    plains: list[dict[str, Any]] = []
    pool: dict[str, list[Any]] = {}
    for rule in found.trees.rules:
        for example in found.examples[rule.name]:
            plain = example_machine(found, rule, example).plain
            plains.append(plain)
            for axis in plain["axes"].values():
                for path, value in leaves(axis):
                    values = pool.setdefault(".".join(path), [])
                    if value not in values:
                        values.append(value)
    return plains, pool


def leaves(node: Any, path: tuple[str, ...] = ()) -> list[tuple[tuple[str, ...], Any]]:
    if isinstance(node, dict) and "claims" not in node and "partial" not in node:
        return [leaf for key, value in node.items() for leaf in leaves(value, (*path, key))]
    return [(path, node)]


def altered(
    axis: dict[str, Any], path: tuple[str, ...], how: str, others: list[Any], pick: int
) -> None:
    """Change one fact of a plain axis."""
    *above, last = path
    here = axis
    for part in above:
        here = here[part]
        if not isinstance(here, dict):
            return
    if last not in here:
        return
    value, other = here[last], others[pick % len(others)]
    match how:
        case "drop":
            del here[last]
        case "swap":
            here[last] = other
        case "none":
            here[last] = "none"
        case "dispute" if not isinstance(value, list | dict):
            claims = [{"value": value, "source": "a"}, {"value": other, "source": "b"}]
            here[last] = {"claims": claims}
        case "partial" if isinstance(value, list):
            here[last] = {"partial": value}
        case "zero" if isinstance(value, str) and " " in value:
            here[last] = f"0 {value.split(' ', 1)[1]}"
        case "absent" if len(above) > 1:
            parent = axis
            for part in above[:-1]:
                parent = parent[part]
            parent[above[-1]] = "none"


def readable(plain: dict[str, Any]) -> Machine | None:
    try:
        machine = read_plain(plain)
    except AxisproofError:
        return None
    machine.facts["check_date"] = 20_000 * 86400
    return machine


HOW = ["drop", "drop", "swap", "swap", "none", "dispute", "partial", "zero", "absent"]


@pytest.mark.exhaustive
@pytest.mark.skipif(not shipped().entries, reason="no rules are shipped yet")
@settings(report_multiple_bugs=False)
@given(st.data())
def test_on_every_shipped_rule(data: st.DataObject) -> None:
    plains, pool = example_machines()
    plain = copy.deepcopy(data.draw(st.sampled_from(plains)))
    for axis in plain["axes"].values():
        paths = [path for path, _ in leaves(axis) if path != ("motion",)]
        if not paths:
            continue
        changes = st.tuples(st.sampled_from(paths), st.sampled_from(HOW), st.integers(0, 9))
        for path, how, pick in data.draw(st.lists(changes, max_size=4)):
            before = copy.deepcopy(axis)
            altered(axis, path, how, pool.get(".".join(path), ["none"]), pick)
            if readable(plain) is None:
                axis.clear()
                axis.update(before)
    machine = readable(plain)
    assert machine is not None
    for verdict in run(shipped(), machine):
        if verdict.outcome == UNDECIDED:
            assert verdict.traced.missing or verdict.traced.reasons


@pytest.mark.exhaustive
@pytest.mark.parametrize("entry", shipped().entries, ids=lambda entry: entry.name)
def test_on_the_examples_of_each_shipped_rule_and_with_any_fact_taken_away(entry: Any) -> None:
    found = shipped()
    rule = found.rules[entry.name]
    for example in found.examples[rule.name]:
        for case in build_example(found, rule, entry, example).cases:
            run_case(found, entry, case)
            for name, key in [(n, k) for n, record in case.env.items() for k in record]:
                if key in (NOTES, "name", "motion") or name == GROUP:  # no file states a group
                    continue
                (again,) = [
                    each
                    for each in build_example(found, rule, entry, example).cases
                    if each.subject == case.subject and each.env.keys() == case.env.keys()
                ][:1]
                again.env[name].pop(key, None)
                again.env[name][NOTES].memo.clear()  # what its grouping worked out of it
                run_case(found, entry, again)


def test_on_a_machine_of_which_nothing_is_known() -> None:
    run(shipped(), machine_of())
