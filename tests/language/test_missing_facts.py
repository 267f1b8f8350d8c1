"""The quick way to what an undecided check lacks names what the tracing walk names."""

from __future__ import annotations

import copy
import random
from collections.abc import Iterable
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest
from axisproof.base.absence import NONE
from axisproof.base.errors import AxisproofError
from axisproof.catalogue.catalogue import shipped
from axisproof.engine.cases import cases
from axisproof.engine.engine import Options, Results, check_machine
from axisproof.language.missing_facts import MissingFacts
from axisproof.language.traced import MAX_LISTED
from axisproof.machine.machine import Machine
from axisproof.machine.reader import read_plain
from axisproof.source.merge import load_tree

from tests.language.evaluating import UNDECIDED, catalogue_of, machine_of, run, run_case, trace

SOUND = Path(__file__).parents[2] / "fixtures" / "sound"
DAY = 20_605 * 86400


@lru_cache(maxsize=1)
def hall() -> dict[str, Any]:
    plain = load_tree(SOUND / "hall.yaml").plain
    assert isinstance(plain, dict)
    return plain


def stated(node: Any) -> Iterable[tuple[dict[str, Any], str]]:
    """The records and keys of all facts below a record; a list is one fact."""
    for key, value in list(node.items()):
        if isinstance(value, dict) and "claims" not in value and "partial" not in value:
            yield from stated(value)
        elif key != "motion":
            yield node, key


def thinned(share: float, seed: int, spoilt: float = 0) -> Machine:
    """The sound hall with a share of its facts taken away, and another made none, 0 or disputed."""
    dice = random.Random(seed)
    plain = copy.deepcopy(hall())
    known: dict[str, list[Any]] = {}
    for record, key in stated(hall()["axes"]):
        known.setdefault(key, []).append(record[key])
    for name, axis in plain["axes"].items():
        for record, key in stated(axis):
            before = copy.deepcopy(record)
            if dice.random() < share:
                del record[key]
            elif dice.random() < spoilt:
                other = dice.choice(known[key])
                claims = [{"value": record[key], "source": "a"}, {"value": other, "source": "b"}]
                record[key] = dice.choice(["none", 0, "0 mm", {"claims": claims}])
            try:
                read_plain({"axes": {name: axis}})
            except AxisproofError:
                record.clear()
                record.update(before)
    machine = read_plain(plain, headless=False)
    machine.facts["check_date"] = DAY
    return machine


def checked(machine: Machine) -> Results:
    return check_machine(machine, "hall", shipped(), Options())


@pytest.mark.parametrize(("share", "seed"), [(0.05, 1), (0.3, 4)])
@pytest.mark.parametrize("spoilt", [0, 0.2])
def test_the_undecided_checks_of_a_thinned_machine_are_those_of_the_full_trace(
    share: float, seed: int, spoilt: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    quick = checked(thinned(share, seed, spoilt))
    monkeypatch.setattr(MissingFacts, "of", lambda self, rule: lambda subjects: ())
    full = checked(thinned(share, seed, spoilt))
    assert quick.undecided == full.undecided
    assert quick.findings == full.findings
    assert quick.tallies == full.tallies
    assert len(quick.undecided) > 20
    reasons = [check.reason for check in quick.undecided if check.reason]
    assert not reasons if not spoilt else reasons


def test_where_only_facts_are_missing_nothing_is_left_to_the_full_trace() -> None:
    machine, found = thinned(0.3, seed=0), shipped()
    asked = 0
    for entry in found.entries:
        for case in cases(entry, machine, {}):
            if case.missing or case.absent:
                continue
            verdict = trace(found, entry.name, case)
            if verdict.outcome != UNDECIDED or verdict.traced.reasons:
                continue
            asked += 1
            subjects = [case.env[name] for name in entry.arguments]
            lacking = found.missing_facts.of(found.rules[entry.name])(subjects)
            assert lacking == verdict.traced.missing, (entry.name, case.subject)
    assert asked > 50


LOOPS = [
    "some n in machine.network.nodes where n.address = axis.drive.node has true",
    "some n in machine.network.nodes where n.address = axis.drive.node"
    " has n.serial is axis.drive.serial",
    "some n in machine.network.nodes where (n.serial is axis.drive.serial and n.drive)"
    " has n.address = axis.drive.node",
    "every n in machine.network.nodes where (n.address = axis.drive.node and n.drive)"
    " has n.serial is axis.drive.serial",
    "every n in machine.network.nodes where n.drive"
    " has (some a in machine.axes where a.drive.node = n.address has true)",
    "every n in machine.network.nodes"
    " has (some a in machine.axes where a.drive.node = n.address has a.drive.serial is n.serial)",
    "1 = count of other in machine.axes where (other.drive.node = axis.drive.node"
    " and other.drive.serial is axis.drive.serial)",
    "3 > max of n.address for n in machine.network.nodes where n.serial is axis.drive.serial",
    "unique n.address for n in machine.network.nodes where n.serial is axis.drive.serial",
    "every other in machine.axes where other.drive.brake_voltage = axis.drive.brake_voltage"
    " has other.drive.serial is axis.drive.serial",
    "some n in machine.network.nodes where (n.address = axis.drive.node and"
    " (n.network default 1) = (axis.drive.network default 1)) has n.serial is axis.drive.serial",
    "every n in machine.network.nodes where n.drive"
    " has (some a in machine.axes where (a.drive.node = n.address"
    " and (a.drive.network default 1) = (n.network default 1)) has true)",
    "every other in machine.axes where other.gantry.partner is axis.gantry.partner"
    " has other.drive.serial is axis.drive.serial",
]


@pytest.mark.parametrize("require", LOOPS)
@pytest.mark.parametrize("seed", range(3))
def test_loops_over_more_items_than_are_listed_name_the_same_facts(require: str, seed: int) -> None:
    dice = random.Random(seed)
    many = MAX_LISTED + 30

    def some(**values: Any) -> dict[str, Any]:
        return {key: value for key, value in values.items() if dice.random() < 0.5}

    axes: dict[str, Any] = {}
    for number in range(many):
        drive = some(node=number + 1, serial=f"s{number // 2}", brake_voltage="24 V", network=2)
        if dice.random() < 0.04:
            drive["brake_voltage"] = "none"
        gantry = dice.choice([None, None, "none", {"partner": "a1"}, {"role": "leader"}])
        axes[f"a{number}"] = {"motion": "linear", "drive": drive} | some(gantry=gantry)
        if axes[f"a{number}"].get("gantry", "") is None:
            del axes[f"a{number}"]["gantry"]
        if not drive:
            del axes[f"a{number}"]["drive"]
    nodes: Any = [
        {"address": n + 1} | some(serial=f"s{n // 2}", drive=True, network=2)
        for n in range(many)
        if n % 9
    ]
    if seed == 2:
        nodes = {"partial": nodes}
    machine = read_plain({"axes": axes, "network": {"nodes": nodes}})
    found = catalogue_of(require, each="axis" if "axis." in require else "machine")
    verdicts = [
        run_case(found, entry, case)
        for entry in found.entries
        for case in list(cases(entry, machine, {}))[::9]
    ]
    assert any(verdict.outcome == UNDECIDED for verdict in verdicts)


def test_what_an_item_is_known_not_to_have_is_told_after_any_number_of_missing_facts() -> None:
    """The voltage of the last axis is none: a reason, which the list of facts must not hide."""
    many = MAX_LISTED + 10
    axes: dict[str, Any] = {f"a{n}": {"motion": "linear"} for n in range(many)}
    axes[f"a{many}"] = {"motion": "linear", "drive": {"brake_voltage": "none"}}
    require = (
        "every other in machine.axes where other.drive.brake_voltage = axis.drive.brake_voltage"
        " has other.drive.node > 0"
    )
    machine = machine_of({"drive": {"brake_voltage": "24 V"}}, axes=axes)
    verdict = run(catalogue_of(require), machine)[0]
    assert len(verdict.traced.missing) == MAX_LISTED
    assert verdict.traced.reasons == (f"axes.a{many}.drive.brake_voltage is none",)


def test_a_zero_divisor_is_left_to_the_full_trace() -> None:
    machine = machine_of({"mechanics": {"counterbalance": 0}})
    found = catalogue_of("1 / axis.mechanics.counterbalance < 2")
    (verdict,) = run(found, machine)
    assert verdict.traced.zero_divisors
    lacking = found.missing_facts.of(found.rules["the-rule"])((machine.axes[0], machine.facts))
    assert lacking == ()


def test_what_is_known_to_be_absent_is_left_to_the_full_trace() -> None:
    machine = machine_of({"drive": {"brake_voltage": "none"}})
    assert machine.axes[0]["drive.brake_voltage"] is NONE
    found = catalogue_of("axis.drive.brake_voltage > 5V")
    run(found, machine)
    lacking = found.missing_facts.of(found.rules["the-rule"])((machine.axes[0], machine.facts))
    assert lacking == ()


def test_an_item_that_lacks_less_than_a_later_one_does_not_end_the_search() -> None:
    """The first node needs the address alone, the second the serial number too."""
    nodes = [
        {"address": 1, "drive": False, "serial": "a"},
        {"address": 2, "drive": True, "serial": "b"},
    ]
    require = (
        "every n in machine.network.nodes where (n.address = axis.drive.node"
        " and (not n.drive or n.serial is axis.drive.serial)) has n.address > 9"
    )
    machine = machine_of(network={"nodes": nodes})
    found = catalogue_of(require)
    run(found, machine)
    lacking = found.missing_facts.of(found.rules["the-rule"])((machine.axes[0], machine.facts))
    assert lacking == ("axes.axis.drive.node", "axes.axis.drive.serial")


@pytest.mark.parametrize(
    "require",
    [
        "some n in machine.network.nodes where n.address = axis.drive.node"
        " has n.serial is axis.drive.serial",
        "every n in machine.network.nodes where n.address = axis.drive.node"
        " has n.serial is axis.drive.serial",
        "3 > sum of n.address for n in machine.network.nodes where n.address = axis.drive.node",
        "unique n.serial for n in machine.network.nodes where n.address = axis.drive.node",
    ],
)
def test_what_items_are_asked_is_not_missed_before_it_is_known_which_ones(require: str) -> None:
    """Without the drive's address, no serial number of any node would help."""
    machine = machine_of(network={"nodes": [{"address": 1}, {"address": 2}]})
    (verdict,) = run(catalogue_of(require), machine)
    assert verdict.traced.missing == ("axes.axis.drive.node",)


@pytest.mark.parametrize(
    ("stated", "missing"),
    [
        ({}, "axes.axis.motor.brake"),
        ({"motor": {"brake": {"voltage": "24 V"}}}, "axes.axis.motor.brake.apply_time"),
    ],
)
def test_whether_there_is_a_part_is_asked_before_what_it_is_like(
    stated: dict[str, Any], missing: str
) -> None:
    """`brake: none` may be the whole answer."""
    machine = machine_of(stated)
    (verdict,) = run(catalogue_of("axis.motor.brake.apply_time < 1s"), machine)
    assert verdict.traced.missing == (missing,)
