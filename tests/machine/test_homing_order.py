"""Which axes are homed before an axis, followed from axis to axis."""

from __future__ import annotations

from typing import Any

from axisproof.machine.homing_order import HOMES_AFTER, WAITS_FOR_STRANGER
from axisproof.machine.reader import read_plain
from axisproof.machine.records import notes_of
from hypothesis import given
from hypothesis import strategies as st


def order(after: dict[str, Any]) -> dict[str, tuple[list[str] | None, bool]]:
    """Per axis the derived list, sorted (None where there is none), and whether it is partial."""
    axes: dict[str, Any] = {}
    for name, names in after.items():
        homing = names if names == "none" else {} if names is None else {"after": names}
        axes[name] = {"motion": "linear", "controller": {"homing": homing}}
    found = {}
    for axis in read_plain({"axes": axes}).axes:
        names = axis.get(HOMES_AFTER)
        partial = HOMES_AFTER in notes_of(axis).partial
        found[axis["name"]] = (None if names is None else sorted(names), partial)
    return found


def test_an_axis_waits_for_what_those_it_waits_for_wait_for() -> None:
    found = order({"a": ["b"], "b": ["c", "d"], "c": [], "d": ["c"]})
    assert found["a"] == (["b", "c", "d"], False)
    assert found["d"] == (["c"], False)
    assert found["c"] == ([], False)


def test_an_axis_in_a_circle_waits_for_itself_and_one_before_the_circle_does_not() -> None:
    found = order({"a": ["b"], "b": ["c"], "c": ["b"]})
    assert found["a"] == (["b", "c"], False)
    assert found["b"] == found["c"] == (["b", "c"], False)


def test_an_axis_that_does_not_say_leaves_the_lists_before_it_open() -> None:
    found = order({"a": ["b"], "b": ["c"], "c": None})
    assert found == {"a": (["b", "c"], True), "b": (["c"], True), "c": (None, False)}


def test_a_partial_list_stays_partial_on_the_way() -> None:
    found = order({"a": ["b"], "b": {"partial": ["c"]}, "c": []})
    assert found["a"] == (["b", "c"], True)
    assert found["c"] == ([], False)


def test_an_axis_that_never_homes_waits_for_none() -> None:
    assert order({"a": ["b"], "b": "none"}) == {"a": (["b"], False), "b": ([], False)}


def test_a_name_that_is_no_axis_leads_nowhere() -> None:
    assert order({"a": ["z"]}) == {"a": (["z"], False)}


def test_only_the_axis_that_states_a_name_that_is_no_axis_waits_for_a_stranger() -> None:
    homing: dict[str, Any] = {
        "a": {"after": ["b"]},
        "b": {"after": ["a", "z"]},
        "c": {"after": []},
        "d": "none",
        "e": {"after": {"partial": ["z"]}},
        "f": {"after": {"partial": ["a"]}},
        "g": {"method": 17},
    }
    axes = {
        name: {"motion": "linear", "controller": {"homing": each}} for name, each in homing.items()
    }
    found = {axis["name"]: axis.get(WAITS_FOR_STRANGER) for axis in read_plain({"axes": axes}).axes}
    assert [name for name, strange in found.items() if strange] == ["b", "e"]
    assert [name for name, strange in found.items() if strange is None] == ["f", "g"]


@given(st.lists(st.lists(st.integers(0, 5), max_size=4), min_size=6, max_size=6))
def test_the_order_is_the_transitive_closure_by_warshalls_algorithm(edges: list[list[int]]) -> None:
    """Warshall 1962, as in any algorithms handbook (from memory)."""
    reach = [[j in edges[i] for j in range(6)] for i in range(6)]
    for k in range(6):
        for i in range(6):
            for j in range(6):
                reach[i][j] = reach[i][j] or (reach[i][k] and reach[k][j])
    found = order({f"a{i}": [f"a{j}" for j in edges[i]] for i in range(6)})
    for i in range(6):
        assert found[f"a{i}"] == ([f"a{j}" for j in range(6) if reach[i][j]], False)
