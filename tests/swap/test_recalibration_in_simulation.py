"""What `recalibrate` computes, carried out on a simulated axis, and with facts left out.

The simulation knows nothing of the checks. The positions are read as they are after homing, or any
number stands in their place, as it may before homing: a clear answer is right all the same.
"""

from __future__ import annotations

import copy
import json
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Final, cast

import pytest
from axisproof.base.errors import InputError, UsageError
from axisproof.importing.entry import load_trees
from axisproof.numbers.rational import Fraction, read_fraction
from axisproof.swap.api import recalibrate
from axisproof.swap.recalibrating import Recalibrated
from hypothesis import given
from hypothesis import strategies as st

from tests.examples import examples
from tests.numbers.random_fractions import random_fractions
from tests.swap.simulated_axis import Axis, Encoder, ReferenceKind
from tests.swap.test_less_evidence import facts as facts_of
from tests.swap.test_less_evidence import leave_out

FIXTURES: Final = Path(__file__).parents[2] / "fixtures"
METHODS: Final[dict[ReferenceKind, Any]] = {"switch": 17, "index": 1, "stand": 37}


def written(value: Fraction) -> str:
    return f"{value} mm"


def machine_of(axis: Axis, low: int, high: int, angle: Fraction) -> dict[str, Any]:
    """The axis as a machine file states it: its mechanics truly, its settings as they are."""
    encoder, size = axis.encoder, axis.per_count
    same = "same" if axis.sign > 0 else "reversed"
    homing: Any = "none"
    if axis.way in METHODS:
        homing = {
            "method": METHODS[axis.way],
            "reference_position": written(axis.reference),
            "taught": {"on": "2026-01-01"},
            "index_after_switch": f"{angle} rev",
        }
    controller: dict[str, Any] = {
        "type": "linear" if axis.cycle is None else "modulo",
        "units": "mm",
        "polarity": "normal",
        "unfolding": "symmetric",
        "wraps_retained": False,
        "homing": homing,
        "software_limits": "none",
    }
    travel: Any = {"min": written(low * size), "max": written(high * size)}
    if axis.cycle is not None:
        controller["cycle"] = written(axis.cycle)
        travel = "none"
    return {
        "motion": "linear",
        "encoder": {
            "kind": "absolute_multiturn" if encoder.absolute else "incremental",
            "form": "rotary",
            "mounted_on": "motor",
            "counts_per_revolution": encoder.counts,
            "distinguishable_revolutions": encoder.turns,
            "count_direction": same,
        },
        "drive": {
            "encoder_use": "absolute" if encoder.absolute else "incremental",
            "polarity": "normal",
            "distinguishable_revolutions": axis.drive_turns,
        },
        "controller": controller,
        "mechanics": {
            "stages": [],
            "final": {"kind": "screw", "lead": written(encoder.counts * size)},
            "travel": travel,
            "limit_switches": "none"
            if axis.cycle is not None
            else {"negative": written(axis.switch * size), "positive": written(high * size)},
            "moved_by_gravity": False,
            "required_accuracy": "0.1 mm",
        },
        "storage": {"offset": "encoder" if axis.way == "preset" else "controller"},
    }


def asked(machine: dict[str, Any], true: str, indicated: str, **more: str) -> Recalibrated:
    with TemporaryDirectory() as folder:
        file = Path(folder, "machine.json")
        file.write_text(json.dumps({"format": 1, "machine": "m", "axes": {"a": machine}}))
        return recalibrate(file, "a", true, indicated, **{"after": "nothing", **more})


def pulse_after_switch(axis: Axis) -> Fraction:
    """The angle from the switch to the index pulse, in turns, by looking for it."""
    at = axis.switch
    while not axis.encoder.has_index(at, axis.sign):
        at += 1
    return Fraction(at - axis.switch, axis.encoder.counts)


@st.composite
def swapped(
    draw: st.DrawFn, way: ReferenceKind, endless: bool
) -> tuple[Axis, dict[str, Any], list[int]]:
    """An axis that read true, with a new motor and encoder on it, and its places to try."""
    counts = draw(st.sampled_from([16, 50, 128]))
    low, high = draw(st.integers(-300, -2)), draw(st.integers(2, 300))
    inside = st.integers(low, high)
    size = draw(random_fractions(Fraction(1, 12), 3, max_denominator=12))
    cycle = None
    turns = (2 * (high - low) + counts) // counts * 2 + draw(st.integers(-8, 4))
    if endless:
        p, q = draw(st.integers(1, 5)), draw(st.integers(1, 5))
        cycle = size * counts * q / p
        turns = Fraction(p, q).denominator * Fraction(q, p).numerator * draw(st.integers(1, 9))
    absolute = way != "index" or draw(st.booleans())
    axis = Axis(
        Encoder(counts, max(1, turns), draw(st.integers(0, 10**5)), absolute), size,
        draw(st.sampled_from([1, -1])), cycle, way, switch=low if way == "index" else draw(inside),
        gauge=draw(inside), drive_turns=max(1, turns),
        reference=draw(random_fractions(0, 20, max_denominator=9)) % (cycle or 10**6),
    )  # fmt: skip
    axis.teach()
    machine = machine_of(axis, low, high, pulse_after_switch(axis))
    axis.at = draw(inside)
    axis.swap_encoder(Encoder(counts, axis.drive_turns, draw(st.integers(0, 10**5)), absolute))
    return axis, machine, [low, high, *draw(st.lists(inside, max_size=4))]


def carried_out(axis: Axis, result: Recalibrated) -> None:
    """What the steps say, done on the axis."""
    new = read_fraction(str(result.result.new))
    if "assign here" in result.demands:
        axis.at = axis.gauge
    if result.result.way == "preset":
        axis.preset(new)
        axis.home()
        return
    axis.reference = new
    axis.home()


def off_by(axis: Axis, places: list[int]) -> Fraction:
    """The largest difference of true and indicated position."""
    worst = Fraction(0)
    for place in places:
        axis.at = place
        away = abs(axis.indicated() - axis.true())
        worst = max(worst, away if axis.cycle is None else min(away, axis.cycle - away))
    return worst


HONEST: Final = {
    "true-within-stops", "indicated-within-stops", "indicated-within-range", "mark-stays",
    "indicated-within-cycle", "shift-below-revolution", "index-angle", "index-angle-measured",
}  # fmt: skip
"""Checks that positions read after homing never fail."""


@pytest.mark.parametrize(
    ("way", "endless"),
    [("switch", False), ("index", False), ("stand", False), ("offset", False), ("preset", False),
     ("switch", True), ("stand", True)],
)  # fmt: skip
@examples(0.1)
@given(st.data())
def test_a_clear_answer_puts_the_indicated_position_on_the_true_one(
    way: ReferenceKind, endless: bool, data: st.DataObject
) -> None:
    axis, machine, places = data.draw(swapped(way, endless))
    axis.home()
    axis.at = axis.gauge
    honest = way in ("offset", "preset") or data.draw(st.booleans())
    indicated = axis.indicated()
    if not honest:
        turn = axis.per_count * axis.encoder.counts
        near = random_fractions(-2, 2, max_denominator=20).map(lambda turns: turns * turn)
        far = random_fractions(-3000, 3000, max_denominator=20)
        indicated += data.draw(near | far)
    more = {"after": "motor", "index_angle": f"{pulse_after_switch(axis)} rev"}
    if way == "offset":
        more["reference"] = written(axis.reference)
    if way == "preset":
        states = axis.encoder.counts * axis.encoder.turns
        more["reading"] = f"{Fraction(axis.sign * axis.gauge % states, axis.encoder.counts)} rev"
    result = asked(machine, written(axis.true()), written(indicated), **more)
    failed = {each.name for each in result.checks if each.outcome == "failed"}
    if honest and axis.encoder.turns * axis.encoder.counts >= 2 * (places[1] - places[0]):
        assert not failed & HONEST
    if result.to_solve:
        return
    carried_out(axis, result)
    marked = way in ("switch", "index")
    assert off_by(axis, places) <= (result.result.tolerance if marked else 0)


def test_the_simulation_is_clear_often_enough_to_prove_something() -> None:
    clear = 0
    for way in ("switch", "index", "stand", "offset"):
        axis = Axis(
            Encoder(16, 200, 5), Fraction(1, 4), 1, None, cast("ReferenceKind", way), switch=-100,
            gauge=40, drive_turns=200, reference=Fraction(3),
        )  # fmt: skip
        axis.teach()
        machine = machine_of(axis, -100, 120, pulse_after_switch(axis))
        axis.at = 7
        axis.swap_encoder(Encoder(16, 200, 107 if way == "offset" else 78))
        axis.home()
        axis.at = 40
        more = {"after": "motor", "index_angle": f"{pulse_after_switch(axis)} rev"}
        if way == "offset":
            more["reference"] = written(axis.reference)
        result = asked(machine, written(axis.true()), written(axis.indicated()), **more)
        assert not result.to_solve, (way, list(result.to_solve))
        carried_out(axis, result)
        assert off_by(axis, [-100, 0, 120]) == 0
        clear += 1
    assert clear == 4


# Facts left out -----------------------------------------------------------------------------------

CASES: Final = (
    ("hall.yaml", "infeed_pusher", "100 mm", "99.9 mm", {}),
    ("hall.yaml", "infeed_pusher", "100 mm", "-2000 mm", {"after": "motor"}),
    ("hall.yaml", "infeed_pusher", "100 mm", "99 mm", {"after": "drive"}),
    ("hall.yaml", "label_slide", "100 mm", "98.75 mm", {"index_angle": "0.75 rev"}),
    ("hall.yaml", "label_slide", "100 mm", "98.75 mm", {"after": "motor"}),
    ("hall.yaml", "label_slide", "100 mm", "90 mm", {"after": "motor", "index_angle": "0.2 rev"}),
    ("hall.yaml", "index_table", "10 deg", "215.704 deg", {"after": "motor"}),
    ("hall.yaml", "crate_shift", "100 mm", "95 mm", {"after": "belt", "tolerance": "0.2 mm"}),
    ("hall.yaml", "lift", "100 mm", "99.5833 mm", {"after": "belt", "tolerance": "0.01 mm"}),
    ("hall.yaml", "gantry_x1", "100 mm", "80 mm", {"after": "encoder"}),
    ("hall.yaml", "outfeed_belt", "1 mm", "7 mm", {}),
    ("shuttle.yaml", "tray_shuttle", "100 mm", "98 mm", {"after": "encoder"}),
    ("shuttle.yaml", "tray_shuttle", "100 mm", "99.99 mm", {}),
)


def plain(file: str, axis: str) -> dict[str, Any]:
    tree = load_trees([FIXTURES / "sound" / file])[0].plain
    one = cast("dict[str, Any]", tree)["axes"][axis]
    return cast("dict[str, Any]", json.loads(json.dumps(one, default=str)))


def better(full: Recalibrated, thin: Recalibrated) -> str:
    """What got better by leaving facts out; empty if nothing did."""
    if gone := set(full.demands) - set(thin.demands):
        return f"no longer demanded: {sorted(gone)}"
    if full.to_solve and not thin.to_solve:
        return f"clear, and before it was {[each.name for each in full.to_solve]}"
    for outcomes in (("failed",), ("failed", "cannot be decided")):
        now = {each.name for each in thin.to_solve}
        for each in full.to_solve:
            if each.outcome in outcomes and each.name not in now and not _way_is_open(thin):
                return f"{each.name} was {each.outcome} and is gone"
    if not thin.to_solve and thin.result.new != full.result.new:
        return f"{full.result.new} became {thin.result.new}"
    return ""


def _way_is_open(result: Recalibrated) -> bool:
    return result.result.way in ("not known", "never homed")


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case[1]} {case[3]}")
@examples(0.1)
@given(st.data())
def test_facts_left_out_never_clear_a_doubt_nor_a_demand(
    case: tuple[str, str, str, str, dict[str, str]], data: st.DataObject
) -> None:
    file, axis, true, indicated, more = case
    whole = plain(file, axis)
    full = asked(whole, true, indicated, **more)
    thin = copy.deepcopy(whole)
    paths = [*facts_of(whole), *((group,) for group in whole if group != "motion")]
    for path in data.draw(st.lists(st.sampled_from(paths), min_size=1, max_size=10, unique=True)):
        leave_out(thin, path)
    try:
        assert better(full, asked(thin, true, indicated, **more)) == ""
    except (InputError, UsageError):
        return  # the motion or the cycle is no longer stated: refused, which clears nothing


@pytest.mark.exhaustive
@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case[1]} {case[3]}")
def test_no_single_fact_left_out_clears_a_doubt(
    case: tuple[str, str, str, str, dict[str, str]],
) -> None:
    file, axis, true, indicated, more = case
    whole = plain(file, axis)
    full = asked(whole, true, indicated, **more)
    for path in facts_of(whole):
        thin = copy.deepcopy(whole)
        leave_out(thin, path)
        try:
            answer = asked(thin, true, indicated, **more)
        except (InputError, UsageError):
            continue
        assert better(full, answer) == "", path
