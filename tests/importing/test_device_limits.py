"""Limits and factors of a device file: the lowest limit applies, and a factor keeps its unit."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from axisproof.importing.user_units import parse_user_unit

from tests.importing.device_exports import MM, export_of, facts_of
from tests.importing.device_samples import UNSIGNED16, Value

LIMITS = [
    ("the profile is lower", {0x6083: 700, 0x60C5: 900}, "controller.max_acceleration", "700"),
    ("the limit is lower", {0x6083: 900, 0x60C5: 700}, "controller.max_acceleration", "700"),
    ("a limit alone", {0x60C5: 700}, "controller.max_acceleration", "700"),
    ("a profile alone", {0x6083: 700}, "controller.max_acceleration", "700"),
    ("a stop", {0x605A: 2, 0x6085: 9000, 0x60C6: 8000}, "drive.stop_reaction.deceleration", "8000"),
    ("a ramp", {0x605A: 1, 0x6084: 700, 0x60C6: 8000}, "drive.stop_reaction.deceleration", "700"),
]


@pytest.mark.parametrize(
    ("objects", "fact", "value"), [each[1:] for each in LIMITS], ids=[each[0] for each in LIMITS]
)
def test_the_lowest_limit_applies(
    objects: dict[int, int], fact: str, value: str, tmp_path: Path
) -> None:
    """CiA 402 (from memory): 0x60C5 and 0x60C6 limit every acceleration and deceleration."""
    described: dict[int, Any] = {index: Value(number) for index, number in objects.items()}
    assert facts_of(tmp_path, {**MM, **described})[fact] == f"{value} mm/s^2"


@pytest.mark.parametrize(
    ("most", "positive", "negative", "limit"),
    [
        (Value(3000), Value(2000), Value(2000), "4.8 N·m"),
        (Value(1000), Value(2000), Value(3000), "2.4 N·m"),
        (None, Value(2000), Value(2000), "4.8 N·m"),
        (Value(3000), None, None, "7.2 N·m"),
        (Value(3000), Value(2000), Value(1000), "2.4 N·m"),
        (Value(3000), Value(2000), None, "4.8 N·m"),
        (None, Value(2000), None, None),
        (Value(3000), Value(default=2000), Value(1000), None),
        (Value(default=3000), Value(2000), Value(2000), None),
    ],
)
def test_a_torque_limit_is_that_of_the_weaker_direction(
    most: Value | None,
    positive: Value | None,
    negative: Value | None,
    limit: str | None,
    tmp_path: Path,
) -> None:
    """CiA 402 (from memory): 0x60E0 and 0x60E1 limit torque by direction, in per mille of rated."""
    given = {0x6072: most, 0x6076: Value(2400), 0x60E0: positive, 0x60E1: negative}
    export = export_of(tmp_path, {index: each for index, each in given.items() if each})
    stated = export.statements.get(("axes", "x", "drive", "torque_limit"))
    assert (stated and stated.value) == limit
    said = "\n".join(map(str, export.remarks))
    assert ("may be lower" in said or "no limit" in said) == (limit is None)


@pytest.mark.parametrize(
    ("most", "limits"), [(3000, ("4.8 N·m", "2.4 N·m")), (1500, ("3.6 N·m", "2.4 N·m")), (900, ())]
)
def test_limits_of_the_two_directions_are_stated_where_they_differ(
    most: int, limits: tuple[str, ...], tmp_path: Path
) -> None:
    objects = {0x6072: most, 0x6076: 2400, 0x60E0: 2000, 0x60E1: 1000}
    facts = facts_of(tmp_path, {index: Value(number) for index, number in objects.items()})
    named = [f"drive.torque_limit_{way}" for way in ("positive", "negative")]
    assert tuple(facts[name] for name in named if name in facts) == limits


def test_a_factor_whose_unit_nobody_states_is_stated_without_it(tmp_path: Path) -> None:
    """Another measure of speed inside the drive is the maker's own, and is never guessed."""
    two = {1: Value(24576), 2: Value(5)}
    assert facts_of(tmp_path, {0x6096: two}) == {
        "drive.velocity_factor.numerator": 24576,
        "drive.velocity_factor.divisor": 5,
    }
    unit = {"velocity": parse_user_unit("0.1 mm/s", "velocity", "test")}
    facts = facts_of(tmp_path, {0x6094: two, 0x6090: {1: Value(7), 2: Value(2)}}, units=unit)
    assert facts["drive.velocity_encoder_factor.command"] == "0.1 mm/s"
    assert "drive.velocity_encoder_factor.counts_per_revolution" not in facts
    assert facts_of(tmp_path, {0x6095: {1: Value(0), 2: Value(default=1)}}) == {}


def test_a_drive_of_a_linear_motor_states_force_and_velocity(tmp_path: Path) -> None:
    given = {**MM, 0x6072: Value(3000, kind=UNSIGNED16), 0x6076: Value(180000), 0x6080: Value(2500)}
    assert facts_of(tmp_path, given, linear_motor=True) == {
        "drive.force_limit": "540 N",
        "motor.rated_force": "180 N",
        "drive.max_velocity": "2500 mm/s",
    }
    unlike = given | {0x60E0: Value(2000), 0x60E1: Value(1000)}
    facts = facts_of(tmp_path, unlike, linear_motor=True)
    assert facts["drive.force_limit"] == "180 N", "the weaker direction counts"
    assert not any("torque" in fact for fact in facts)
