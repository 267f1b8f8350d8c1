"""What must be settled before a new reference is written.

Each check says whether two positions, taken at one place of the axis, can be what they are taken
for. A check that applies and lacks a fact is open: it never counts as passed. Leaving a fact out
can open a check, but never pass one that failed.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

from ..language.traced import Traced
from ..numbers.exact import Number, div, simplest
from ..numbers.whole import floor, nearest_remainder, remainder
from .recalibration import StepComparison
from .recalibration_evidence import (
    NO,
    YES,
    AxisEvidence,
    at_most,
    below,
    computed,
    every,
    negated,
    size_of,
)
from .recalibration_situation import IndexAngle, RecalibrationCheck, Situation, judged
from .recalibration_stays import mark_stays, position_stays, pulse_stays

READING_STAYS: Final = ("", "controller", "backup")
"""Work that leaves the encoder its turns."""


def all_checks(case: Situation) -> Iterator[RecalibrationCheck]:
    """All questions that arise, those on the positions first."""
    yield from _work(case)
    yield from _reference(case)
    yield from _within_stops(case)
    yield from _within_range(case)
    yield from _within_cycle(case)
    yield from mark_stays(case)
    yield from position_stays(case)
    yield from _below_revolution(case)
    yield from pulse_stays(case)
    yield from _comparisons(case)
    yield from _index(case)
    yield from _wrap(case)
    yield from _survives(case)


def _work(case: Situation) -> Iterator[RecalibrationCheck]:
    """What moved the reference decides what the shift means, so somebody has to say it."""
    if not case.work_known:
        yield RecalibrationCheck("work-known", "cannot be decided", missing=("--after",))


def _reference(case: Situation) -> Iterator[RecalibrationCheck]:
    way = case.result.way
    if way == "not known":
        yield RecalibrationCheck("way-known", "cannot be decided", missing=case.mark.missing)
    if way == "never homed":
        path = case.axis.missing("storage.offset").missing
        yield RecalibrationCheck("keeper-known", "cannot be decided", missing=path)
    if way in ("mark", "offset") and case.result.reference is None:
        missing = case.recorded.missing if way == "mark" else ()
        yield RecalibrationCheck(
            "reference-known", "cannot be decided", missing=(*missing, "--reference")
        )


def _within_stops(case: Situation) -> Iterator[RecalibrationCheck]:
    axis, result = case.axis, case.result
    has_stops = axis.truth("has_stops")
    if has_stops.value is False:
        return
    low, high = axis.number("lowest_stop"), axis.number("highest_stop")
    slack = axis.number("calibration")
    figures = {"low": low.value, "high": high.value}

    def between(value: Number, more: Traced) -> Traced:
        """Whether a position lies between the stops, or no more than that beyond them."""
        lowest = computed(lambda end, room, add: end - room - add, low, slack, more)
        highest = computed(lambda end, room, add: end + room + add, high, slack, more)
        return every(at_most(lowest, Traced(value)), at_most(Traced(value), highest))

    yield from judged(
        "true-within-stops",
        has_stops,
        between(result.true, Traced(0)),
        {**figures, "position": result.true},
    )
    # Homed to its mark, the axis is wrong by less than a revolution: the index pulse is elsewhere.
    honest: Traced = computed(lambda index: 0, axis.truth("index_ends_homing"))
    if axis.truth("index_ends_homing").value is not False:
        honest = case.revolution
    applies = every(
        case.mark, has_stops, axis.truth("taught_before"), negated(axis.truth("index_of_scale"))
    )
    yield from judged(
        "indicated-within-stops",
        applies,
        between(result.indicated, honest),
        {**figures, "position": result.indicated},
    )


def _within_range(case: Situation) -> Iterator[RecalibrationCheck]:
    """Whether the controller, unfolding the reading as it does, can show the indicated position."""
    homes = _homes(case)
    applies = every(homes, case.axis.truth("reading_wraps"))
    if applies.value is False:
        return
    axis = case.axis.replaced(_stale_reading(case))
    low, high = axis.number("lowest_indicated"), axis.number("highest_indicated")
    indicated = Traced(case.result.indicated)
    holds = every(at_most(low, indicated), at_most(indicated, high))
    figures = {"low": low.value, "high": high.value, "position": case.result.indicated}
    yield from judged("indicated-within-range", applies, holds, figures)


def _homes(case: Situation) -> Traced:
    if case.mark.value is None:
        return case.mark
    return YES if case.result.way in ("mark", "stand") else NO


def _within_cycle(case: Situation) -> Iterator[RecalibrationCheck]:
    if case.result.interval is None:
        return
    low, high = case.result.interval
    cycle = simplest(high - low)
    holds = at_most(size_of(Traced(case.result.indicated)), Traced(cycle))
    figures = {"cycle": cycle, "position": case.result.indicated}
    yield from judged("indicated-within-cycle", YES, holds, figures)


def _below_revolution(case: Situation) -> Iterator[RecalibrationCheck]:
    """An unmoved switch leads to the pulse next to it, so the pulse moves less than a turn."""
    if case.after == "home_switch":
        return
    applies = every(
        case.mark, case.axis.truth("switch_chooses_pulse"), case.axis.truth("taught_before")
    )
    holds = below(size_of(case.moved), case.revolution)
    figures = {"shift": case.moved.value, "revolution": case.revolution.value}
    yield from judged("shift-below-revolution", applies, holds, figures)


def _comparisons(case: Situation) -> Iterator[RecalibrationCheck]:
    for each in case.result.comparisons:
        yield from _compared(each, case)
    for name, missing in case.unknown_steps:
        yield RecalibrationCheck(name, "cannot be decided", missing=missing)


def _compared(each: StepComparison, case: Situation) -> Iterator[RecalibrationCheck]:
    figures = {"size": each.step.size, "distance": each.distance}
    holds: Traced
    if each.finding in ("far", "unmoved"):
        holds = computed(lambda allowed: True, case.allowed)
    elif each.finding in ("close", "open"):
        holds = Traced(False if each.finding == "close" else None)
    else:
        return  # it tells nothing, or too little, whatever the shift is
    yield from judged(each.step.kind, YES, holds, figures)


def _index(case: Situation) -> Iterator[RecalibrationCheck]:
    """The angle from the switch edge to the index pulse, which the shift changes."""
    applies = every(case.mark, case.axis.truth("switch_chooses_pulse"))
    if applies.value is False:
        return
    before = _recorded_angle(case)
    moved = below(case.allowed, size_of(case.moved))
    angle, by_drawing = _new_angle(case, before)
    measured = case.index_angle
    angles = {"before": before.value, "computed": angle.value, "measured": measured}
    if case.after != "home_switch":
        # The controller takes the same pulse after the edge as before, as a rule the first.
        holds = computed(lambda old, new: floor(old) == floor(new), before, angle)
        if by_drawing and angle.value is not None and floor(angle.value) == 0:
            holds = YES  # a drawing may be off by a turn, so beyond that it does not tell
        yield from judged(
            "index-angle", every(applies, case.axis.truth("taught_before")), holds, None, angles
        )
    within = computed(lambda allowed, turn: div(allowed, turn), case.allowed, case.revolution)
    if measured is None:
        agrees = (
            negated(moved) if moved.value is False else Traced(None, missing=("--index-angle",))
        )
    else:
        gap = computed(lambda new: nearest_remainder(new - measured, 1), angle)
        agrees = at_most(size_of(gap), within)
    yield from judged("index-angle-measured", applies, agrees, None, angles)
    used = angle if measured is None else Traced(measured)
    clearance = case.axis.number("index_clearance")
    in_turn = computed(lambda value: remainder(value, 1), used)
    clear = every(
        at_most(clearance, in_turn),
        at_most(in_turn, computed(lambda room: 1 - room, clearance)),
    )
    yield from judged(
        "index-clear-of-edge", applies, clear, None, {**angles, "clearance": clearance.value}
    )


def _recorded_angle(case: Situation) -> Traced:
    path = "controller.homing.index_after_switch"
    stated = case.axis.facts.get(path)
    return case.axis.missing(path) if stated is None else Traced(stated)


def _new_angle(case: Situation, before: Traced) -> tuple[Traced, bool]:
    """The new angle by the one on record, or (True) by the place of the switch on the drawing."""
    negative = case.axis.truth("met_in_negative_direction")
    way = computed(lambda down: -1 if down else 1, negative)
    if before.value is None:
        mark = case.axis.number("drawn_mark")
        new = case.result.moved
        if mark.value is not None and new is not None:
            from_edge = computed(lambda edge: new - edge, mark)
            return computed(_turns, way, from_edge, case.revolution), True
    shift = computed(_turns, way, case.moved, case.revolution)
    return computed(lambda old, more: simplest(old + more), before, shift), False


def _turns(way: int, distance: Number, revolution: Number) -> Number | None:
    return div(distance * way, revolution)


def index_angle(case: Situation) -> IndexAngle | None:
    """The angle of the index pulse before and after; None if no switch chooses a pulse."""
    applies = every(case.mark, case.axis.truth("switch_chooses_pulse"))
    if applies.value is not True:
        return None
    before = _recorded_angle(case)
    angle, by_drawing = _new_angle(case, before)
    value = angle.value
    if by_drawing and value is not None:
        value = remainder(value, 1)
    return IndexAngle(before.value, value, by_drawing, case.index_angle)


def recalibrated_axis(case: Situation) -> AxisEvidence | None:
    """The axis with its new reference; None if it is not known what that is.

    Where the controller goes by the encoder's own zero, the wrap lies where the raw reading puts
    it: a reading on record from before tells of the old reference, which lies at ``moved``.
    """
    result = case.result
    changes = _stale_reading(case)
    if result.way == "offset":
        # The offset is the position at the encoder's own zero.
        changes |= _at_zero()
        place = result.moved
    elif result.way == "preset":
        changes |= _at_zero()
        place = _encoder_zero(case)
    elif result.way == "stand":
        by_zero = case.axis.truth("unfolds_at_encoder_zero").value
        old = by_zero is True and case.reading is None
        place = result.moved if old else result.here
    elif result.way == "mark":
        place = result.new
    else:
        return None
    changes["controller.homing.reference_position"] = place
    return case.axis.replaced(changes)


def _at_zero() -> dict[str, Any]:
    return {"encoder.turn_counter.reading_at_reference": 0, "encoder.angle_at_reference": 0}


def _encoder_zero(case: Situation) -> Number | None:
    """Where the encoder reads zero after a preset, by the reading where the axis stands.

    The controller has no other reference then. None if the reading is not known, or which way.
    """
    rises = case.axis.definition("counts_rise_with_position").value
    if case.reading is None or rises is None or case.revolution.value is None:
        return None
    away = simplest(case.reading * case.revolution.value)
    return simplest(case.result.here - away if rises else case.result.here + away)


def _no_reading() -> dict[str, Any]:
    return {"encoder.turn_counter.reading_at_reference": None, "encoder.angle_at_reference": None}


def _stale_reading(case: Situation) -> dict[str, Any]:
    """The reading at the reference as it is now: as given, else as on record if it still holds."""
    if case.reading is not None:
        whole = floor(case.reading)
        rest = None if whole is None else simplest(case.reading - whole)
        return {
            "encoder.turn_counter.reading_at_reference": whole,
            # A reading in whole turns leaves open where within the turn the axis stands.
            "encoder.angle_at_reference": rest or None,
        }
    return {} if case.after in READING_STAYS else _no_reading()


def _wrap(case: Situation) -> Iterator[RecalibrationCheck]:
    applies = every(case.axis.truth("reading_wraps"), case.axis.truth("has_ends"))
    if applies.value is False:
        return
    axis = recalibrated_axis(case)
    if axis is None:
        yield from judged("wrap-outside-travel", applies, Traced(None, missing=case.mark.missing))
        return
    holds = axis.truth("wrap_is_outside")
    missing = [
        "--reading" if fact.endswith(("reading_at_reference", "angle_at_reference")) else fact
        for fact in holds.missing
    ]
    if case.result.way == "preset":
        missing = ["--reading"] if case.reading is None else _for_encoder_zero(case, missing)
    if case.result.way == "offset" and case.result.reference is None:
        missing = ["--reference"]
    figures = {
        name: axis.number(name).value
        for name in ("lower_wrap", "upper_wrap", "lowest_end", "highest_end")
    }
    open_or_not = Traced(holds.value, missing=tuple(dict.fromkeys(missing)))
    yield from judged("wrap-outside-travel", applies, open_or_not, figures)


def _for_encoder_zero(case: Situation, missing: list[str]) -> list[str]:
    """What is missing after a preset: the reference is no fact to state, what makes it is."""
    rises = case.axis.definition("counts_rise_with_position").missing
    rest = [fact for fact in missing if not fact.endswith("homing.reference_position")]
    return [*rises, *case.revolution.missing, *rest]


def _survives(case: Situation) -> Iterator[RecalibrationCheck]:
    """An offset or preset of an encoder that forgets is gone with the power."""
    if case.result.way in ("offset", "preset", "never homed"):
        yield from judged("position-survives", YES, negated(case.axis.truth("forgets_position")))
