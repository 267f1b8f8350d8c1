"""What is told of a clash among N things costs N, for every rule across axes.

Work is counted in calls of Python functions, which are the same on every computer.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import pytest
from axisproof import api
from axisproof.catalogue.catalogue import Catalogue, shipped
from axisproof.engine.engine import Options, Results, check_machine
from axisproof.language.syntax import Rule
from axisproof.machine.reader import read_plain
from axisproof.machine.records import EPOCH, set_check_date

from tests.bench.speed.clashes import alone, copies, failing, one_address
from tests.bench.speed.machines import across_axes, write_json

SHIPPED = shipped()
RULES = sorted(across_axes(SHIPPED))
QUICK = ("unique-node-addresses", "serial-numbers-unique")


def calls(plain: dict[str, Any], catalogue: Catalogue) -> tuple[int, Results]:
    """How many Python functions judging a machine calls, and what it finds."""
    machine = read_plain(plain)
    set_check_date(machine.facts, EPOCH)
    count = 0

    def counting(frame: Any, event: str, argument: Any) -> None:
        nonlocal count
        count += event == "call"

    sys.setprofile(counting)
    try:
        results = check_machine(machine, "machine", catalogue, Options())
    finally:
        sys.setprofile(None)
    return count, results


def leave_out(plain: Any, key: str) -> None:
    """Take a fact out of every record that states it."""
    for each in plain if isinstance(plain, list) else [*plain.values()]:
        if isinstance(each, dict | list):
            leave_out(each, key)
    if isinstance(plain, dict) and not isinstance(plain.get(key, {}), dict):
        del plain[key]


def grows(rule: Rule, sizes: tuple[int, int], missing: str = "") -> float:
    """By what factor the calls grow from one number of axes to the other, at the most.

    It is measured on the first and the last failing example.

    If a fact is said to be missing, each clash is undecided for want of it.
    """
    one, worst, broken = alone(SHIPPED, rule), 0.0, 0
    first, *_, last = [*failing(SHIPPED, rule)] * 2
    for plain in (first, last):
        found = []
        leave_out(plain, missing)
        for size in sizes:
            count, results = calls(copies(plain, size // len(plain["axes"]), alike=True), one)
            found.append(count)
            broken += len(results.undecided if missing else results.findings)
        worst = max(worst, found[1] / found[0])
    assert broken
    return worst


@pytest.mark.parametrize("name", QUICK)
def test_a_clash_costs_in_proportion_to_its_members(name: str) -> None:
    assert grows(SHIPPED.rules[name], (80, 240)) < 3.6


MANY_FOLLOWERS = "gantry-followers-stop-together"
"""Looks through the followers of a leader several times: more than a hundred are too many steps."""

OF_TILTED_AXES = frozenset(
    {
        "axis-that-gravity-moves-is-noted",
        "falls-where-weight-pulls",
        "guide-friction-includes-attraction",
        "hard-stop-homing-force-moves-axis",
        "inclination-fits-tilt",
        "load-brake-stops-before-hard-stop",
        "power-cut-stops-before-hard-stop",
        "tilting-axis-is-there",
        "unbalanced-torque-fits-weight",
    }
)
"""Each tilted axis looks through all axes for those that tilt it, by a name that is derived."""


@pytest.mark.exhaustive
@pytest.mark.parametrize("name", [name for name in RULES if name not in {*QUICK, MANY_FOLLOWERS}])
def test_every_clash_costs_in_proportion_to_its_members(name: str) -> None:
    most = 3.6 if name not in OF_TILTED_AXES else 6
    assert grows(SHIPPED.rules[name], (80, 240)) < most


@pytest.mark.parametrize(
    ("name", "missing"),
    [
        ("node-of-axis-is-a-drive", "drive"),
        ("drive-at-node-is-the-fitted-one", "serial"),
        ("drive-runs-firmware-on-record", "firmware"),
    ],
)
def test_an_undecided_clash_costs_in_proportion_to_its_members(name: str, missing: str) -> None:
    assert grows(SHIPPED.rules[name], (80, 240), missing) < 3.6


def test_a_message_names_the_first_members_and_counts_the_others(tmp_path: Path) -> None:
    _, clash = one_address(100)
    report = api.check([write_json(clash, tmp_path / "m.json")])
    (told,) = (each for each in report.findings if each.rule == "unique-node-addresses")
    axes = len(clash["axes"])
    assert told.message.count(f"and {axes - 20} more") == 1
    assert len(told.message) < 1500


@pytest.mark.parametrize("name", ["unique-node-addresses", "drive-at-node-is-the-fitted-one"])
def test_verdicts_among_many_are_those_among_few(name: str) -> None:
    """More items than are traced one by one, against copies that clash within themselves alone."""
    one = alone(SHIPPED, SHIPPED.rules[name])
    for plain in failing(SHIPPED, SHIPPED.rules[name]):
        few = calls(plain, one)[1]
        many = calls(copies(plain, 60, alike=False), one)[1]
        told = {finding.subject.rpartition("_")[0] for finding in many.findings}
        assert told == {finding.subject for finding in few.findings}
