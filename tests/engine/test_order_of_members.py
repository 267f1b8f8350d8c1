"""Gantries of several members and coupled axes: what is told does not depend on the axes' order."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest
from axisproof.source.merge import load_tree

from tests.bench.faults.fault_list import FaultKind
from tests.bench.faults.measure import FAULTS, check_plain
from tests.bench.faults.plain_axis import Plain, PlainAxis

STORE = Path(__file__).parents[2] / "fixtures/sound/store.yaml"
KINDS = [
    fault
    for fault in FAULTS
    if fault.concern in ("gantries", "coupled") or fault.name.startswith("gantry-")
]


def told(plain: Plain) -> list[tuple[str, ...]]:
    """All that a check tells, without places."""
    found = check_plain(plain)
    return sorted(
        [
            *((each.rule, each.subject, each.message) for each in found.findings),
            *((each.rule, each.subject, *sorted(each.missing)) for each in found.undecided),
            *((each.concern, each.subject, *each.missing) for each in found.undecided_concerns),
        ]
    )


def in_another_order(plain: Plain, rng: Random) -> Plain:
    """The same machine with its axes in another order."""
    names = [*plain["axes"]]
    rng.shuffle(names)
    return {**plain, "axes": {name: plain["axes"][name] for name in names}}


def faulty(fault: FaultKind, plain: Plain) -> Plain | None:
    """The machine with this fault on the first axis that it applies to."""
    for name in plain["axes"]:
        changed = fault.on(PlainAxis(plain, name))
        if changed is not None:
            return changed.machine
    return None


def test_what_is_told_of_members_does_not_depend_on_their_order() -> None:
    rng = Random("order of members")
    plain = load_tree(STORE, None).plain
    compared = 0
    for fault in KINDS:
        changed = faulty(fault, plain)
        if changed is None:
            continue
        compared += 1
        whole = told(changed)
        assert whole, fault.name
        assert told(in_another_order(changed, rng)) == whole, fault.name
    assert compared > 15


@pytest.mark.parametrize("silent", ["gantry_x1", "gantry_x3", "door_left", "picker_along"])
def test_what_is_told_of_a_silent_member_does_not_depend_on_their_order(silent: str) -> None:
    rng = Random(silent)
    plain = load_tree(STORE, None).plain
    axes = plain["axes"]
    thin = {**plain, "axes": {**axes, silent: {"motion": axes[silent]["motion"]}}}
    assert told(in_another_order(thin, rng)) == told(thin)
