"""What is asked for next: what leads to most verdicts for what it costs, the gravest first."""

from __future__ import annotations

from typing import Any

import pytest
from axisproof.engine.next_fact import PART_UNKNOWN, USUAL_PARTS, Chances, next_fact
from axisproof.engine.open_check import OpenCheck
from axisproof.machine.schema import optional_parts


def check(*facts: str, level: str = "error", far: bool = False, whole: bool = False) -> OpenCheck:
    return OpenCheck("rule", level, "a", tuple(f"axes.a.{each}" for each in facts), whole, far)


@pytest.mark.parametrize(
    ("checks", "first"),
    [
        ([], ""),
        ([check("drive.node", "drive.serial"), check("encoder.kind")], "encoder.kind"),
        # Two facts that are enough for five checks are worth more than one that is for two.
        (
            [
                *[check("drive.node", "drive.serial")] * 4,
                check("drive.serial"),
                *[check("encoder.kind")] * 2,
            ],
            "drive.serial",
        ),
        ([check("drive.node", level="warning"), check("encoder.kind")], "encoder.kind"),
        ([check("drive.node", level="note"), check("x.y", level="warning")], "x.y"),
        # A note of one fact comes before an error that lacks three of its own.
        ([check("drive.node", level="note"), check("x.a", "x.b", "x.c")], "drive.node"),
        ([check("drive.node", far=True), check("x.a", "x.b", level="note")], "x.a"),
        ([check("drive.node", far=True)], "drive.node"),
        # A list takes several values.
        ([check("interlocks"), check("x.a", "x.b")], "x.a"),
        ([check("motor", whole=True), check("x.a", "x.b")], "x.a"),
    ],
)
def test_what_is_nearest_to_grave_verdicts_is_asked_first(
    checks: list[OpenCheck], first: str
) -> None:
    assert next_fact(checks).removeprefix("axes.a.") == first


def chance(fact: str, axes: dict[str, Any], *not_known: str) -> float:
    return Chances(axes, not_known)([fact])


STATES, LACKS = {"drive": {"node": 1}}, {"drive": {"serial": "D-1"}}


def test_what_nobody_knew_of_other_axes_is_unlikely_to_be_known() -> None:
    other = {"axes.b.drive.node", "axes.c.drive.node"}
    assert chance("axes.a.drive.node", {"a": LACKS}) == 1
    assert chance("axes.a.drive.node", {"a": LACKS}, *other) == 1 / 3
    assert chance("axes.a.drive.node", {"a": LACKS, "d": STATES}, *other) == 2 / 4
    assert chance("axes.a.drive.serial", {"a": LACKS}, *other) == 1


def test_items_of_a_list_count_as_one_fact() -> None:
    axes = {"a": {}, "b": {"mechanics": {"stages": [{}, {"kind": "belt"}]}}, "c": {"mechanics": []}}
    fact = "axes.a.mechanics.stages[0].kind"
    assert chance(fact, axes, "axes.d.mechanics.stages[3].kind") == 2 / 3


def test_a_fact_of_the_machine_says_nothing_of_axes() -> None:
    assert chance("axes.a.conditions", {"a": LACKS}, "conditions") == 1
    assert chance("network.cycle_time", {"a": LACKS}, "network.cycle_time") == 1


CLAMP, CLAMPS = "axes.a.mechanics.clamp", {"mechanics": {"clamp": {"opened_by": "drive"}}}


def test_a_part_that_nobody_knew_of_other_axes_is_unlikely_whatever_fact_was_asked() -> None:
    unknown = "axes.c.mechanics.clamp.opened_by"
    assert chance(CLAMP, {"a": {}}) == 1
    assert chance(CLAMP, {"a": {}}, unknown) == 1 / 2
    assert chance(f"{CLAMP}.closes_at_standstill", {"a": {}}, unknown, f"{unknown}s") == 1 / 2
    assert chance(CLAMP, {"a": {}, "b": CLAMPS}, unknown) == 2 / 3
    assert chance("axes.a.motor.brake", {"a": {}}, "axes.c.motor.brake.voltage") == 1
    assert optional_parts() >= USUAL_PARTS


def test_facts_of_one_part_hang_on_whether_there_is_one() -> None:
    facts = [f"{CLAMP}.opened_by", f"{CLAMP}.closes_at_standstill"]
    unknown = ["axes.c.mechanics.clamp"]
    assert Chances({"a": {}}, unknown)(facts) == 1 / 2
    assert Chances({"a": {}}, unknown)([*facts, "axes.b.mechanics.clamp"]) == 1 / 4
    assert Chances({"a": CLAMPS}, unknown)(facts) == 1


def test_a_fact_of_a_part_that_is_stated_counts_by_itself() -> None:
    fact, other = f"{CLAMP}.closes_at_standstill", "axes.b.mechanics.clamp.closes_at_standstill"
    assert chance(fact, {"a": CLAMPS, "b": CLAMPS}, other) == 1 / 2


@pytest.mark.parametrize("part", ["second_encoder", "motor.brake"])
def test_who_does_not_know_a_fact_of_a_part_hardly_knows_that_there_is_none(part: str) -> None:
    unknown = f"axes.a.{part}.kind"
    assert chance(f"axes.a.{part}", {"a": LACKS}, unknown) == PART_UNKNOWN
    assert chance(f"axes.b.{part}", {"a": LACKS}, unknown) > PART_UNKNOWN
    assert chance("axes.a", {"a": LACKS}, unknown) == 1


def test_what_is_likely_to_be_known_is_asked_first() -> None:
    checks = [check("drive.node"), check("drive.serial")]
    assert next_fact(checks) == "axes.a.drive.node"
    assert next_fact(checks, Chances({"a": {}}, ["axes.b.drive.node"])) == "axes.a.drive.serial"
