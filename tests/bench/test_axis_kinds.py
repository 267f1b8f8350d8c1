"""The rarer kinds of axis have as many checks decided, concern by concern, as an ordinary axis.

Each is compared with its ordinary twin: the same axis with the facts of its kind made ordinary. A
check counts as decided if it holds or fails, so that a twin need not be sound.
"""

from __future__ import annotations

import copy
from collections import Counter
from collections.abc import Callable
from random import Random
from typing import Any, Final

import pytest
from axisproof.catalogue.catalogue import shipped
from axisproof.catalogue.describing import concern_of

from tests.bench.faults.axis_design import axis
from tests.bench.faults.mechanics import Kind
from tests.bench.faults.plain_axis import Plain
from tests.bench.faults.sound_machine import CONDITIONS, _node
from tests.properties.acquittals import results

Twin = Callable[[dict[str, Any]], None]


def _belt(mechanics: dict[str, Any]) -> None:
    mechanics["final"]["kind"] = "belt"


def _turning_screw(mechanics: dict[str, Any]) -> None:
    del mechanics["final"]["turning_part"], mechanics["final"]["nut_rated_speed"]


def _usual_rack(mechanics: dict[str, Any]) -> None:
    del mechanics["final"]["helix_angle"]
    mechanics["final"]["helix"] = "straight"


def _stated_torque(mechanics: dict[str, Any]) -> None:
    del mechanics["unbalance"]
    mechanics["unbalanced_torque"] = "12 N·m"


def _no_telescope(mechanics: dict[str, Any]) -> None:
    del mechanics["telescope"]


TWINS: Final[dict[Kind, Twin]] = {
    "chain": _belt,
    "chain_hoist": _belt,
    "chain_conveyor": _belt,
    "nut": _turning_screw,
    "helical_rack": _usual_rack,
    "arm": _stated_torque,
    "telescope": _no_telescope,
}
AXES: Final = 12


def alone(facts: Plain) -> Plain:
    """A machine with this axis alone."""
    return {
        "format": 1,
        "machine": "One",
        "axes": {"a": facts},
        "network": {"cycle_time": "1 ms", "nodes": [_node(facts)]},
        "collision_pairs": [],
        "conditions": copy.deepcopy(CONDITIONS),
    }


def decided(machine: Plain) -> Counter[str]:
    """How many checks are decided, by concern."""
    found = results(machine)
    keys = {key for key, count in found.decided.items() if count}
    keys |= {(each.rule, each.subject) for each in found.findings}
    ships = {entry.name for entry in shipped().entries}
    return Counter(concern_of(shipped().rules[rule].file) for rule, _ in keys if rule in ships)


@pytest.mark.parametrize("kind", TWINS)
def test_a_kind_has_as_many_checks_decided_a_concern_as_its_ordinary_twin(kind: Kind) -> None:
    for number in range(AXES):
        facts = axis(Random(f"{kind} {number}"), kind, "a", 1)
        facts["controller"]["cycle_time"] = "1 ms"
        ordinary = copy.deepcopy(facts)
        TWINS[kind](ordinary["mechanics"])
        ours, theirs = decided(alone(facts)), decided(alone(ordinary))
        assert len(theirs) >= 12
        assert {
            name: (ours[name], count) for name, count in theirs.items() if ours[name] < count
        } == {}


@pytest.mark.parametrize("kind", TWINS)
def test_nothing_is_undecided_or_found_on_sound_axes_of_a_kind(kind: Kind) -> None:
    for number in range(AXES):
        facts = axis(Random(f"{kind} {number}"), kind, "a", 1)
        facts["controller"]["cycle_time"] = "1 ms"
        found = results(alone(facts))
        assert [(each.rule, each.message) for each in found.findings] == []
        assert [each.rule for each in found.undecided] == []
