"""The bench of swaps in small: its simulation by hand-made cases, and a few dozen swaps."""

from __future__ import annotations

from random import Random

import pytest

from tests.bench.faults.plain_axis import PlainAxis
from tests.bench.faults.swap_axis import (
    DrawnSwap,
    built_in,
    put_in_place,
    spare_like_fitted,
    swap_axis,
)
from tests.bench.faults.swap_list import KINDS, SwapKind
from tests.bench.faults.swap_loads import gravity_torque
from tests.bench.faults.swap_measure import (
    SwapCounts,
    SwapOutcome,
    compare,
    draw,
    last_commit_to_rules,
    pairs,
)
from tests.bench.faults.swap_memory import taught, to_teach, work_done
from tests.bench.faults.swap_motion import troubles
from tests.bench.faults.swap_run import swap_faults, swap_table
from tests.bench.faults.swap_truth import judged, truth

AXES = [axis for seed in range(120) if (axis := swap_axis(seed)) is not None]


def first(*, vertical: bool = False, kind: str = "absolute_multiturn") -> PlainAxis:
    for axis in AXES:
        suits = (
            axis.get("mechanics.moved_by_gravity") == vertical and axis.get("encoder.kind") == kind
        )
        if suits and built_in(axis) and not axis.endless:
            return axis.changed()
    raise AssertionError("no such axis")


def swapped(axis: PlainAxis, part: str, **values: object) -> DrawnSwap:
    """The same type, but for these values (dots of paths written as two underscores)."""
    spare = spare_like_fitted(axis, part, Random(1))
    assert spare is not None
    swap = DrawnSwap(Random(1), axis, part, spare)
    for path, value in values.items():
        swap.put(path.replace("__", "."), value)
    return swap


def verdict(swap: DrawnSwap) -> str:
    return judged(swap.axis, put_in_place(swap.axis, swap.part, swap.spare))[0]


def lessons(axis: PlainAxis, part: str) -> set[str]:
    before = taught(axis, Random(2))
    spare = spare_like_fitted(axis, part, Random(1)) or {}
    return to_teach(work_done(before, put_in_place(axis, part, spare), part), before)


def test_what_runs_in_the_simulation_is_every_sound_axis() -> None:
    assert len(AXES) > 80
    found = [troubles(axis, axis) for axis in AXES if troubles(axis, axis)]
    # The duty on record can be milder than the cycle that the simulation runs. Such an axis judges
    # no spare.
    assert [each for each in found if each != ["the motor gets too hot"]] == []
    assert len(found) <= len(AXES) / 50


def test_an_axis_that_was_only_switched_off_has_nothing_to_be_taught() -> None:
    for axis in AXES:
        before = taught(axis, Random(2))
        assert to_teach(before, before) == set()
        assert to_teach(work_done(before, axis, "battery"), before) == set()


def test_the_same_type_fits_and_a_weak_brake_does_not() -> None:
    lift = first(vertical=True)
    assert verdict(swapped(lift, "motor")) == "fits as it is"
    half = f"{gravity_torque(lift) / 2:.4f} N·m"
    assert verdict(swapped(lift, "motor", motor__brake__holding_torque=half)) == "does not fit"
    assert verdict(swapped(lift, "motor", motor__brake="none")) == "does not fit"


def test_settings_are_written_and_builds_are_not() -> None:
    axis = first()
    turns = axis.turns + 1
    assert verdict(swapped(axis, "drive", drive__polarity="?", drive__node=99)) == (
        "fits after settings"
    )
    assert verdict(swapped(axis, "drive", drive__distinguishable_revolutions=turns)) == (
        "fits after settings"
    )
    assert verdict(swapped(axis, "drive", drive__encoder_protocol="other")) == "does not fit"
    assert verdict(swapped(axis, "motor", motor__shaft="other")) == "does not fit"


def test_a_fact_that_nobody_states_leaves_open_what_it_decides() -> None:
    swap = swapped(first(), "motor")
    swap.hide("motor.shaft", "other")
    assert truth(swap, 1).verdict == "cannot be said yet"
    swap = swapped(first(), "drive")
    swap.hide("drive.firmware", "2.11.0")
    assert truth(swap, 1).verdict == "fits as it is"


@pytest.mark.parametrize(
    ("place", "part", "lost"),
    [
        ("drive", "drive", True), ("cabinet", "drive", True), ("cable", "drive", False),
        ("encoder", "drive", False), ("cable", "feedback_cable", True),
        ("drive", "feedback_cable", True), ("encoder", "feedback_cable", False),
        ("drive", "controller", False), ("cable", "battery", False),
    ],
)  # fmt: skip
def test_turns_go_with_the_battery(place: str, part: str, lost: bool) -> None:
    axis = next(axis for axis in AXES if axis.battery).changed()
    axis.put("encoder.turn_counter.battery.places", [place])
    assert ("turns" in lessons(axis, part)) is lost


def test_a_switch_moves_with_no_encoder_and_an_index_does() -> None:
    axis = next(a for a in AXES if a.get("encoder.kind") == "incremental" and built_in(a)).changed()
    axis.put("storage.offset", "controller")
    axis.put("controller.homing.method", 17)
    axis.facts["controller"]["homing"].pop("index_after_switch", None)
    assert "reference" not in lessons(axis, "encoder")
    assert "reference" in lessons(axis, "home_switch")
    axis.put("controller.homing.method", 1)
    axis.put("controller.homing.index_after_switch", "0.5 rev")
    assert "reference" in lessons(axis, "encoder")


def test_each_memory_leaves_with_its_keeper() -> None:
    axis = first()
    axis.put("encoder.turn_counter", {"backup": "batteryless", "battery": "none"})
    for keeper, other in (("drive", "controller"), ("controller", "drive")):
        for memory in ("offset", "homed_flag", "wraps"):
            axis.put(f"storage.{memory}", keeper)
        assert {"reference", "homed_flag"} <= lessons(axis, keeper)
        assert not {"reference", "homed_flag"} & lessons(axis, other)


def test_there_are_two_hundred_kinds_and_more_in_pairs() -> None:
    assert len(KINDS) >= 200
    assert len({kind.name for kind in (*KINDS, *pairs("x", 50))}) == len(KINDS) + 50


def test_the_dice_are_the_hash_of_a_commit() -> None:
    assert len(last_commit_to_rules()) == 40


def test_the_table_names_every_offender() -> None:
    outcome = SwapOutcome(
        "motor: a", "motor", 1, "does not fit", "fits as it is", "it falls", ("turns",)
    )
    fine = SwapOutcome("motor: b", "motor", 2, "fits as it is", "fits as it is")
    table = "\n".join(swap_table("x", SwapCounts([outcome, fine])))
    assert "motor: a [axis 1]: WRONG FIT (it falls), UNTAUGHT (turns)" in table
    assert "motor: b [" not in table
    assert swap_faults(SwapCounts([outcome])) == ["motor: a: wrong fit", "motor: a: untaught"]
    assert swap_faults(SwapCounts([fine])) == []


MENDED = (
    "motor: storage.offset not stated",
    "motor: stronger",
    "motor: of less peak torque, enough",
    "motor: with a brake of less torque, enough",
    "drive: of too little peak current",
    "drive: of an axis of another motion",
    "drive: whose negative limit input is off",
    "battery: with a cell made long ago",
    "motor: with more poles",
    "motor: with a brake where none was, and no output for it",
    "encoder: absolute, homes to a switch",
    "encoder: encoder on the load",
    "drive: scale on the load",
    "drive: that takes back less power, enough",
    "motor_refitted: encoder on the load",
    "coupling: scale on the load",
)
"""Kinds for which the tool was wrong when the bench was written."""

EVERY = 45
"""One kind in so many is tried in a quick run."""


def offences(kinds: list[SwapKind], dice: str) -> list[str]:
    """What the tool says of these swaps and the simulation does not."""
    found = []
    for kind in kinds:
        drawn = draw(kind, dice, 0)
        assert drawn is not None, kind.name
        outcome = compare(kind, *drawn)
        if outcome.wrong_fit or outcome.untaught or outcome.strict:
            found.append(f"{outcome}")
    return found


def test_a_few_dozen_swaps_are_judged_as_the_simulation_does() -> None:
    some = [kind for at, kind in enumerate(KINDS) if at % EVERY == 0 or kind.name in MENDED]
    assert len(some) > 20
    assert offences(some, "a quick run") == []


@pytest.mark.exhaustive
@pytest.mark.parametrize("share", range(4))
def test_swaps_of_every_other_kind_are_judged_as_the_simulation_does(share: int) -> None:
    assert offences(KINDS[share::8], f"a longer run {share}") == []


@pytest.mark.parametrize("helix", [False, True])
@pytest.mark.parametrize("counts", ["finer", "coarser"])
def test_a_scaling_that_no_number_equals_follows_the_counts(counts: str, helix: bool) -> None:
    """What pi (a roller) or a cosine (a rack of any helix) asks for is no fraction."""
    name = f"motor: whose encoder counts {counts} for good"
    kind = next(each for each in KINDS if each.name == name)

    def where(axis: PlainAxis) -> bool:
        angle = axis.get("mechanics.final.helix_angle")
        return kind.where(axis) and axis.has_pi and (angle is not None) is helix

    conveyor = SwapKind(kind.name, kind.part, kind.alter, where)
    assert offences([conveyor], "a roller or a rack") == []
