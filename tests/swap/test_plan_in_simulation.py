"""The plan of a motor swap carried out on a simulated axis: afterwards the axis reads true.

The steps and their order are those that the tool gives for the axes of the sound fixture; the
numbers of the axis (counts, turns, gearing, travel, how the new encoder sits) are drawn.
"""

from __future__ import annotations

import datetime
import json
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, cast

import pytest
from axisproof.importing.entry import load_trees
from axisproof.numbers.rational import Fraction
from axisproof.swap.api import spare
from axisproof.swap.planning import step_names
from hypothesis import given
from hypothesis import strategies as st

from tests.examples import examples
from tests.numbers.random_fractions import random_fractions
from tests.swap.simulated_axis import Axis, Encoder, ReferenceKind

pytestmark = pytest.mark.exhaustive

FIXTURES = Path(__file__).parents[2] / "fixtures"
HALL = FIXTURES / "sound" / "hall.yaml"


@lru_cache(maxsize=8)
def steps_for(axis: str, spare_file: str) -> tuple[str, ...]:
    """The steps of the tool's plan for a new motor with its encoder."""
    file = FIXTURES / "spares" / f"{spare_file}.yaml"
    day = datetime.date(2026, 3, 1)
    return step_names(spare(HALL, axis, "motor", file, on=day, plan=True))


@lru_cache(maxsize=16)
def steps_homed(axis: str, spare_file: str, homing: str, keeper: str = "drive") -> tuple[str, ...]:
    """The same for an axis of the hall that homes in another way: a method, or none."""
    plain = cast("dict[str, Any]", load_trees([HALL])[0].plain)
    altered = json.loads(json.dumps(plain["axes"][axis], default=str))
    altered["storage"]["offset"] = keeper
    controller = altered["controller"]
    if homing == "none":
        controller["homing"] = homing
    else:
        controller["homing"] |= {"method": int(homing), "switch": "none"}
    with TemporaryDirectory() as folder:
        machine = Path(folder, "machine.json")
        machine.write_text(json.dumps({"format": 1, "machine": "m", "axes": {axis: altered}}))
        file = FIXTURES / "spares" / f"{spare_file}.yaml"
        day = datetime.date(2026, 3, 1)
        return step_names(spare(machine, axis, "motor", file, on=day, plan=True))


LINEAR = steps_for("infeed_pusher", "motor_like_fitted")
MODULO = steps_for("index_table", "motor_rollover")
INCREMENTAL = steps_for("label_slide", "motor_incremental")
LINEAR_STANDING = steps_homed("infeed_pusher", "motor_like_fitted", "37")
MODULO_SWITCH = steps_homed("index_table", "motor_rollover", "17")
OFFSET = steps_homed("infeed_pusher", "motor_like_fitted", "none")
PRESET = steps_homed("infeed_pusher", "motor_like_fitted", "none", "encoder")
MAKERS_OWN = steps_homed("infeed_pusher", "motor_like_fitted", "-3")


@st.composite
def linear_axes(
    draw: st.DrawFn, way: ReferenceKind, absolute: bool
) -> tuple[Axis, Encoder, list[int]]:
    counts = draw(st.integers(4, 64))
    low, high = draw(st.integers(-300, 0)), draw(st.integers(1, 300))
    # Symmetric about the reference: the far end is nearer than half of all readings.
    turns = 2 * (2 * (high - low) + counts) // counts + 2
    feed = draw(random_fractions(1, 400, max_denominator=30))
    ratio = draw(random_fractions(1, 50, max_denominator=20))
    sign = draw(st.sampled_from([1, -1]))
    old = Encoder(counts, turns, draw(st.integers(0, 10**6)), absolute)
    axis = Axis(
        old, feed / ratio / counts, sign, None, way,
        switch=draw(st.integers(low, high)), gauge=draw(st.integers(low, high)),
        drive_turns=turns, reference=draw(random_fractions(-100, 100, max_denominator=20)),
        at=draw(st.integers(low, high)),
    )  # fmt: skip
    stock = draw(st.integers(1, 2 * turns))
    new = Encoder(counts, stock, draw(st.integers(0, 10**6)), absolute)
    return axis, new, [low, high, *draw(st.lists(st.integers(low, high), max_size=6))]


@st.composite
def modulo_axes(draw: st.DrawFn, way: ReferenceKind) -> tuple[Axis, Encoder, list[int]]:
    counts = draw(st.integers(4, 64))
    cycle = draw(random_fractions(20, 400, max_denominator=12))
    p, q = draw(st.integers(1, 9)), draw(st.integers(1, 9))
    per_count = cycle * p / q / counts
    turns = Fraction(p, q).denominator * draw(st.integers(1, 12))
    sign = draw(st.sampled_from([1, -1]))
    places = st.integers(-4 * counts * turns, 4 * counts * turns)
    axis = Axis(
        Encoder(counts, turns, draw(st.integers(0, 10**6))), per_count, sign, cycle,
        way, switch=draw(places), gauge=draw(places),
        drive_turns=turns, reference=draw(random_fractions(0, 20, max_denominator=9)) % cycle,
        at=draw(places),
    )  # fmt: skip
    new = Encoder(counts, draw(st.integers(1, 2 * turns)), draw(st.integers(0, 10**6)))
    return axis, new, draw(st.lists(places, min_size=2, max_size=8))


RESETS = {"encoder-reset", "clear-turns"}


def after_swap(axis: Axis, new: Encoder, steps: tuple[str, ...]) -> Axis:
    """Set the axis up so that it reads true, swap its motor, and do the work."""
    axis, at = replace(axis, encoder=replace(axis.encoder), shifts=[]), axis.at
    axis.teach()
    axis.at = at
    # an encoder that the plan resets was off its battery on the shelf
    axis.swap_encoder(replace(new, lost=bool(RESETS & set(steps))))
    axis.carry_out(steps)
    return axis


@given(linear_axes("switch", True))
def test_a_linear_axis_reads_true_after_the_plan(drawn: tuple[Axis, Encoder, list[int]]) -> None:
    axis, new, places = drawn
    assert after_swap(axis, new, LINEAR).reads_true(places)


@given(linear_axes("index", False))
def test_an_incremental_axis_homed_to_its_index_reads_true_after_the_plan(
    drawn: tuple[Axis, Encoder, list[int]],
) -> None:
    axis, new, places = drawn
    done = after_swap(axis, new, INCREMENTAL)
    assert done.reads_true(places)
    # Another index pulse is at most one encoder revolution away.
    assert abs(done.shifts[-1]) < axis.per_count * axis.encoder.counts


@pytest.mark.parametrize(("way", "steps"), [("stand", MODULO), ("switch", MODULO_SWITCH)])
@given(st.data())
def test_a_modulo_axis_reads_true_after_the_plan(
    way: ReferenceKind, steps: tuple[str, ...], data: st.DataObject
) -> None:
    axis, new, places = data.draw(modulo_axes(way))
    done = after_swap(axis, new, steps)
    assert done.reads_true(places)
    assert done.cycle is not None
    assert 0 <= done.reference < done.cycle


@pytest.mark.parametrize(
    ("way", "steps"),
    [
        ("stand", LINEAR_STANDING),
        ("offset", OFFSET),
        ("preset", PRESET),
        ("switch", MAKERS_OWN),
        ("stand", MAKERS_OWN),
    ],
)
@given(st.data())
def test_a_linear_axis_reads_true_after_the_plan_whatever_makes_its_reference(
    way: ReferenceKind, steps: tuple[str, ...], data: st.DataObject
) -> None:
    axis, new, places = data.draw(linear_axes(way, True))
    assert after_swap(axis, new, steps).reads_true(places)


@pytest.mark.parametrize("way", ["index", "stand"])
@examples(0.5)
@given(st.data())
def test_an_order_for_methods_that_are_not_known_is_right_for_incremental_axes_too(
    way: ReferenceKind, data: st.DataObject
) -> None:
    axis, new, places = data.draw(linear_axes(way, False))
    names = ("home-from-gauge", "calibrate-from-gauge")
    assert set(names) < set(MAKERS_OWN)
    assert after_swap(axis, new, names).reads_true(places)


def test_homing_where_the_axis_stands_before_it_is_at_the_gauge_leaves_it_wrong() -> None:
    # homed at 10 counts, compared at 40, and homed again there: 30 counts of 1/4 mm wrong
    axis = Axis(Encoder(16, 64, 5), Fraction(1, 4), 1, None, "stand", -3, 40, 64, at=10)
    new = Encoder(16, 64, 77)
    assert after_swap(axis, new, LINEAR_STANDING).reads_true([0, 40, -40])
    old = tuple(
        name
        for step in LINEAR_STANDING
        for name in (("home", "calibrate") if step == "set-at-gauge" else (step,))
    )
    wrong = after_swap(axis, new, without(old, "release-interlock"))
    wrong.at = 40
    assert wrong.indicated() - wrong.true() == Fraction(-30, 4)


def without(steps: tuple[str, ...], *left_out: str) -> tuple[str, ...]:
    return tuple(step for step in steps if step not in left_out)


@pytest.mark.parametrize(
    ("steps", "left_out"),
    [
        (INCREMENTAL, ("calibrate",)),
        (LINEAR, ("home", "calibrate", "release-interlock")),
        (LINEAR, ("turn-count-setting",)),
        (MODULO, ("set-at-gauge", "release-interlock")),
        (MODULO, ("turn-count-setting",)),
    ],
)
def test_a_plan_with_a_step_left_out_leaves_the_axis_wrong(
    steps: tuple[str, ...], left_out: tuple[str, ...]
) -> None:
    absolute = steps != INCREMENTAL
    cycle = Fraction(360) if steps == MODULO else None
    way: ReferenceKind = "index" if not absolute else "stand" if steps == MODULO else "switch"
    axis = Axis(
        Encoder(16, 21, 5, absolute), Fraction(360, 7) / 16, 1, cycle,
        way, switch=-3, gauge=100, drive_turns=21, at=10,
    )  # fmt: skip
    new = Encoder(16, 32, 151, absolute)
    places = [0, 100, -100, 16 * 21 - 1] if steps != LINEAR else [0, 100, -100, 140]
    assert after_swap(axis, new, steps).reads_true(places)
    assert not after_swap(axis, new, without(steps, *left_out)).reads_true(places)


@pytest.mark.parametrize("left_out", ["encoder-reset", "power-cycle"])
def test_an_encoder_that_reports_lost_turns_cannot_be_homed_before_it_is_reset(
    left_out: str,
) -> None:
    axis = Axis(Encoder(16, 64, 5), Fraction(1, 4), 1, None, "switch", -3, 40, 64, at=10)
    assert set(LINEAR) >= RESETS
    assert after_swap(axis, Encoder(16, 64, 77), LINEAR).reads_true([0, 40, -40])
    with pytest.raises(AssertionError, match="reports an error"):
        after_swap(axis, Encoder(16, 64, 77), without(LINEAR, left_out))


def test_the_error_and_the_turns_are_cleared_each_for_itself() -> None:
    # the turns need not be cleared; the error alone leaves every old reference as it was
    axis = Axis(Encoder(16, 64, 5), Fraction(1, 4), 1, None, "switch", -3, 40, 64, at=10)
    done = after_swap(axis, Encoder(16, 64, 77), without(LINEAR, "clear-turns"))
    assert done.reads_true([0, 40, -40])
    same = Encoder(16, 64, 5, lost=True)
    axis.encoder = same
    before = same.reading(10, 1)
    axis.carry_out(["encoder-reset", "power-cycle"])
    assert (same.reading(10, 1), same.lost) == (before, False)
    axis.at = 100
    axis.carry_out(["clear-turns"])
    assert same.reading(100, 1) == (100 + 5) % 16  # the angle stays, the turns read zero


def test_a_controller_swap_that_loses_the_homed_flag_ends_homed_and_true() -> None:
    # the reading that homing latched is gone with the flag; offset and encoder stay
    plain = cast("dict[str, Any]", load_trees([HALL])[0].plain)
    altered = json.loads(json.dumps(plain["axes"]["infeed_pusher"], default=str))
    altered["storage"] |= {"offset": "drive", "homed_flag": "controller"}
    with TemporaryDirectory() as folder:
        machine = Path(folder, "machine.json")
        machine.write_text(json.dumps({"format": 1, "machine": "m", "axes": {"x": altered}}))
        day = datetime.date(2026, 3, 1)
        steps = step_names(spare(machine, "x", "controller", on=day, plan=True))
    axis = Axis(Encoder(16, 64, 5), Fraction(1, 4), 1, None, "switch", -3, 40, 64, at=10)
    axis.teach()
    axis.latched = None
    axis.carry_out(steps)
    assert axis.reads_true([0, 40, -40])


def test_calibrating_before_homing_leaves_the_axis_wrong() -> None:
    order = [step for step in INCREMENTAL if step in ("home", "calibrate")]
    assert order == ["home", "calibrate"]
    axis = Axis(Encoder(16, 1, 5, True), Fraction(1, 4), 1, None, "index", -3, 40, 1, at=10)
    axis.encoder.turns = axis.drive_turns = 64
    new = Encoder(16, 64, 77)
    exchanged = {"home": "calibrate", "calibrate": "home"}
    wrong = tuple(exchanged.get(step, step) for step in INCREMENTAL)
    assert after_swap(axis, new, INCREMENTAL).reads_true([0, 40, -40])
    assert not after_swap(axis, new, wrong).reads_true([0, 40, -40])
