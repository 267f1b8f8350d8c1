"""Sketches: exact positions from facts and definitions, and what is missing for a picture."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from axisproof.api import CheckOptions, check
from axisproof.catalogue.catalogue import catalogue
from axisproof.engine.sketch import sketches_of
from axisproof.findings.finding import AxisSketch, Feature, Picture
from axisproof.machine.reader import read_plain
from axisproof.numbers.rational import Fraction
from axisproof.report.picture import draw

SOUND = Path(__file__).parents[2] / "fixtures" / "sound"


def sketch_of(axis: dict[str, Any]) -> AxisSketch:
    machine = read_plain({"axes": {"a": axis}})
    (sketch,) = sketches_of(machine, "m", catalogue())
    return sketch


def picture(sketch: AxisSketch, title: str) -> Picture:
    return next(each for each in sketch.pictures if each.title == title)


def feature(sketch: AxisSketch, title: str, name: str) -> Feature:
    return next(each for each in picture(sketch, title).features if each.name == name)


SLIDE: dict[str, Any] = {
    "motion": "linear",
    "encoder": {
        "kind": "absolute_multiturn",
        "mounted_on": "motor",
        "count_direction": "same",
        "distinguishable_revolutions": 4096,
        "turn_counter": {"reading_at_reference": 1000},
    },
    "drive": {
        "encoder_use": "absolute",
        "polarity": "normal",
        "input_filter": "0 s",
        "input_scan": "0 s",
        "stop_reaction": {"deceleration": "2000 mm/s^2", "jerk": "none", "delay": "0 s"},
    },
    "controller": {
        "type": "linear",
        "units": "mm",
        "polarity": "normal",
        "unfolding": "symmetric",
        "homing": {"method": 17, "reference_position": "-5 mm"},
        "software_limits": {"min": "0 mm", "max": "500 mm", "planned": False},
        "stop": {"deceleration": "2000 mm/s^2", "jerk": "20000 mm/s^3", "delay": "0 s"},
        "max_velocity": "500 mm/s",
    },
    "mechanics": {
        "stages": [],
        "final": {"kind": "screw", "lead": "10 mm"},
        "travel": {"min": "-100 mm", "max": "700 mm"},
        "limit_switches": {"negative": "-50 mm", "positive": "600 mm"},
    },
}


def changed(axis: dict[str, Any], path: str, value: Any) -> dict[str, Any]:
    """The axis with one fact changed; a value of None takes the fact away."""
    first, _, rest = path.partition(".")
    result = dict(axis)
    if rest:
        result[first] = changed(axis.get(first, {}), rest, value)
    elif value is None:
        result.pop(first, None)
    else:
        result[first] = value
    return result


# Stopping distances: the worked example of jerk-limited stopping, 500 mm/s, 2000 mm/s², 20000 mm/s³
# and no delay: 62.5 mm of braking and 25 mm more for the ramp of the deceleration.


def test_a_soft_limit_shows_how_far_the_controller_runs_past_it() -> None:
    found = feature(sketch_of(SLIDE), "Travel", "run past the upper software limit at top speed")
    assert (found.start, found.end) == (500, Fraction(1175, 2))
    assert found.text == "87.5 mm, from 500 mm to 587.5 mm"


def test_the_lower_limit_switch_is_overrun_in_the_negative_direction() -> None:
    found = feature(sketch_of(SLIDE), "Travel", "run past the lower limit switch at top speed")
    assert (found.start, found.end) == (-50, Fraction(-225, 2))


def test_a_drive_that_switches_off_at_once_gets_no_braking_distance() -> None:
    axis = changed(SLIDE, "drive.stop_reaction.option", "disable_at_once")
    sketch = sketch_of(axis)
    assert not [f for f in picture(sketch, "Travel").features if "limit switch at top" in f.name]
    gap = next(g for g in sketch.gaps if g.name == "stopping distance past the limit switch")
    assert "does not decelerate" in gap.reason


def test_a_missing_jerk_leaves_the_distance_out_and_names_the_fact() -> None:
    sketch = sketch_of(changed(SLIDE, "controller.stop.jerk", None))
    assert not [f for f in picture(sketch, "Travel").features if "software limit at top" in f.name]
    gap = next(g for g in sketch.gaps if g.name == "stopping distance past the software limit")
    assert gap.missing == ("axes.a.controller.stop.jerk",)


# Wraps: 4096 turns of 10 mm are 40960 mm, half of it either way of the reference at -5 mm.


def test_the_range_of_a_symmetric_counter_lies_about_the_reference() -> None:
    found = picture(sketch_of(SLIDE), "Range of the turn counter")
    wraps = [each.start for each in found.features if each.kind == "wrap"]
    assert wraps == [-20485, 20475]
    assert found.low < -20485
    assert found.high > 20475


def test_a_wrap_within_the_travel_is_drawn_in_it() -> None:
    sketch = sketch_of(changed(SLIDE, "controller.unfolding", "from_reference"))
    assert feature(sketch, "Travel", "lower wrap of the turn counter").start == -5


def test_a_wrap_known_to_whole_turns_says_so() -> None:
    sketch = sketch_of(changed(SLIDE, "controller.unfolding", "encoder_zero_unsigned"))
    title = "Range of the turn counter"
    assert "to the whole turn" in feature(sketch, title, "lower wrap of the turn counter").text


def test_an_unknown_unfolding_is_a_gap_and_no_wrap_is_drawn() -> None:
    sketch = sketch_of(changed(SLIDE, "controller.unfolding", None))
    assert [each.title for each in sketch.pictures] == ["Travel"]
    gap = next(g for g in sketch.gaps if g.name == "wrap points of the turn counter")
    assert gap.missing == ("axes.a.controller.unfolding",)


def test_retained_wraps_are_said_to_be_no_limit() -> None:
    sketch = sketch_of(changed(SLIDE, "controller.unfolding", "tracked"))
    assert [each.title for each in sketch.pictures] == ["Travel"]
    assert any("keeps the number of wraps" in each for each in sketch.absent)


def test_what_is_known_to_be_absent_is_said_and_is_no_gap() -> None:
    axis = changed(SLIDE, "mechanics.limit_switches", "none")
    sketch = sketch_of(axis)
    assert "It has no limit switches." in sketch.absent
    assert not [gap for gap in sketch.gaps if "limit switch" in gap.name]


def test_a_single_known_position_makes_no_strip() -> None:
    sketch = sketch_of({"motion": "linear", "mechanics": {"travel": {"min": "0 mm"}}})
    assert sketch.pictures == ()
    assert "axes.a.mechanics.travel.max" in {m for gap in sketch.gaps for m in gap.missing}


# Index pulse: 5 mm screw on the motor, edge at -10 mm, positive approach (method 5).

INDEXED = changed(
    changed(
        changed(SLIDE, "mechanics.final.lead", "5 mm"),
        "controller.homing",
        {
            "method": 5,
            "reference_position": "-7.5 mm",
            "switch": {"position": "-10 mm"},
            "index_after_switch": "0.5 rev",
        },
    ),
    "drive.encoder_use",
    "incremental",
)


def test_the_index_band_lies_a_quarter_to_three_quarters_of_a_turn_past_the_edge() -> None:
    title = "Switch edge and index pulse"
    sketch = sketch_of(INDEXED)
    band = next(f for f in picture(sketch, title).features if f.kind == "index band")
    assert (band.start, band.end) == (Fraction(-35, 4), Fraction(-25, 4))
    assert feature(sketch, title, "index pulse").start == Fraction(-15, 2)


def test_an_index_sought_in_the_negative_direction_lies_below_the_edge() -> None:
    sketch = sketch_of(changed(INDEXED, "controller.homing.method", 3))
    found = picture(sketch, "Switch edge and index pulse")
    pulse = next(f for f in found.features if f.kind == "index pulse")
    assert pulse.start == Fraction(-25, 2)
    assert (found.low, found.high) == (Fraction(-65, 4), Fraction(-35, 4))


def test_an_index_after_a_limit_switch_starts_at_that_switch() -> None:
    sketch = sketch_of(changed(INDEXED, "controller.homing.method", 1))
    title = "Switch edge and index pulse"
    assert feature(sketch, title, "negative limit switch").start == -50


@pytest.mark.parametrize(
    ("method", "words"),
    [(-3, "is open"), (32, "is open"), (None, "axes.a.controller.homing.method")],
)
def test_a_method_that_leaves_the_index_open_is_a_gap(method: int | None, words: str) -> None:
    sketch = sketch_of(changed(INDEXED, "controller.homing.method", method))
    assert [each.title for each in sketch.pictures] == ["Travel"]
    gap = next(g for g in sketch.gaps if g.name == "index pulse after the switch edge")
    assert words in " ".join((gap.reason, *gap.missing))


def test_a_home_switch_that_is_needed_and_nowhere_stated_is_a_gap() -> None:
    sketch = sketch_of(changed(INDEXED, "controller.homing.switch", None))
    gap = next(g for g in sketch.gaps if g.name == "home switch edge")
    assert gap.missing == ("axes.a.controller.homing.switch.position",)


# Rollover: 7:1 table, 65536 mod 7 = 2, so each forward wrap shifts the indication by -720/7 deg.

TABLE: dict[str, Any] = {
    "motion": "rotary",
    "encoder": {
        "kind": "absolute_multiturn",
        "mounted_on": "motor",
        "distinguishable_revolutions": 65536,
    },
    "drive": {"encoder_use": "absolute"},
    "controller": {
        "type": "modulo",
        "units": "deg",
        "cycle": "360 deg",
        "wraps_retained": False,
        "homing": {"method": 37, "reference_position": "30 deg"},
    },
    "mechanics": {
        "stages": [{"kind": "gearbox", "motor_turns_per_load_turn": 7}],
        "final": {"kind": "rotary_table"},
    },
}


def drifts(sketch: AxisSketch) -> list[Feature]:
    return [f for f in picture(sketch, "Cycle and rollover").features if f.kind == "drift"]


def test_a_dial_shows_each_rollovers_shift_until_they_agree_again() -> None:
    found = drifts(sketch_of(TABLE))
    assert len(found) == 6
    assert (found[0].start, found[0].end) == (30, 30 - Fraction(720, 7))
    assert found[0].text == "-102.9 deg off"


def test_the_seven_places_of_whole_encoder_turns_are_marked() -> None:
    (turns,) = [
        f
        for f in picture(sketch_of(TABLE), "Cycle and rollover").features
        if f.kind == "encoder turn"
    ]
    assert (turns.start, turns.end) == (Fraction(360, 7), 360)


@pytest.mark.parametrize(
    ("path", "value", "words"),
    [
        ("encoder.distinguishable_revolutions", 65534, "on a whole cycle: nothing shifts"),
        ("controller.wraps_retained", True, "keeps the number of wraps"),
        ("drive.encoder_use", "incremental", "does not rely on a turn counter"),
        ("controller.wraps_retained", None, "is not known"),
    ],
)
def test_a_dial_without_drift_says_why(path: str, value: Any, words: str) -> None:
    sketch = sketch_of(changed(TABLE, path, value))
    assert drifts(sketch) == []
    assert words in picture(sketch, "Cycle and rollover").summary


def test_an_unknown_cycle_is_a_gap() -> None:
    sketch = sketch_of(changed(TABLE, "controller.cycle", None))
    assert sketch.pictures == ()
    assert sketch.gaps[0].missing == ("axes.a.controller.cycle",)


def test_disputed_motion_draws_nothing_and_says_so() -> None:
    claims = [{"value": "linear", "source": "x"}, {"value": "rotary", "source": "y"}]
    sketch = sketch_of({"motion": {"claims": claims}})
    assert sketch.pictures == ()
    assert sketch.gaps[0].missing == ("axes.a.motion",)


def test_a_check_makes_sketches_only_when_asked() -> None:
    assert check([SOUND]).sketches == ()
    report = check([SOUND], CheckOptions(sketches=True))
    assert len(report.sketches) == report.axes
    gaps = [(sketch.subject, gap.reason) for sketch in report.sketches for gap in sketch.gaps]
    changes = "the travel per revolution is not the same along the travel"
    assert set(gaps) <= {("box_pusher", changes), ("reel_hoist", changes)}


def test_concerns_are_the_names_of_the_rule_files() -> None:
    concerns = check([SOUND], CheckOptions(every_outcome=True)).concerns
    assert concerns["rollover-divides-cycle"] == "turn counter"
    assert concerns["sources-agree"] == "statements"


# Any lack of facts


def paths_of(plain: Any, prefix: str = "") -> list[str]:
    """Dotted paths of all records and values below a plain record."""
    found = []
    for name, value in plain.items():
        found.append(prefix + name)
        if isinstance(value, dict):
            found += paths_of(value, f"{prefix}{name}.")
    return found


@pytest.mark.parametrize("axis", [SLIDE, TABLE, INDEXED], ids=["slide", "table", "indexed"])
@pytest.mark.parametrize("units", [None, "in", "rev", "rad"])
def test_whatever_fact_is_missing_the_rest_is_drawn_or_a_gap(
    axis: dict[str, Any], units: str | None
) -> None:
    if units is not None:
        axis = changed(axis, "controller.units", units)
    whole = sketch_of(axis)
    for path in paths_of(axis):
        if path == "motion":  # required
            continue
        less = sketch_of(changed(axis, path, None))
        for each in less.pictures:
            assert draw(each, "p").startswith("<svg")
        names = {each.name for picture in less.pictures for each in picture.features}
        lost = {each.name for picture in whole.pictures for each in picture.features} - names
        optional = ("controller.homing.switch", "controller.homing.method")
        if (
            lost
            and not path.startswith(optional)
            and path not in ("controller", "controller.homing")
        ):
            assert less.gaps, (path, lost)
