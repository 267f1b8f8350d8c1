"""Whether what the work does not touch is where it was: a mark, a position, an index pulse."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from ..language.traced import Traced
from ..numbers.whole import nearest_remainder
from .recalibration_evidence import NO, YES, at_most, computed, every, negated, size_of
from .recalibration_situation import RecalibrationCheck, Situation, judged

MOTOR_SIDE: Final = ("motor", "encoder", "gearbox", "belt", "chain", "coupling", "motor_refitted")
"""Work that turns the encoder against the machine."""


def mark_stays(case: Situation) -> Iterator[RecalibrationCheck]:
    """A mark that the work does not touch is where it was, and so is its position."""
    if not case.work_known:
        return
    axis = case.axis
    moves = NO
    if case.after == "home_switch":
        moves = axis.truth("switch_finds_mark")
    elif case.after == "encoder":
        moves = axis.truth("index_ends_homing")
    elif case.after in MOTOR_SIDE:
        moves = axis.truth("mark_turns_with_motor")
    applies = every(case.mark, axis.truth("taught_before"), negated(moves))
    holds = _found_again(case, case.moved)
    figures = {
        "shift": case.moved.value,
        "recorded": case.recorded.value,
        "allowed": _closest(case).value,
    }
    yield from judged("mark-stays", applies, holds, figures)


def _found_again(case: Situation, distance: Traced) -> Traced:
    """Whether a mark is found again, as closely as two positions are read.

    A fiftieth of a revolution is far more than that on an encoder that turns with the load.
    """
    if distance.value == 0:
        return YES
    reading = computed(lambda each: 2 * each, case.axis.number("accuracy"))
    return every(at_most(size_of(distance), case.allowed), at_most(size_of(distance), reading))


def _closest(case: Situation) -> Traced:
    accuracy = case.axis.number("accuracy")
    if accuracy.value is None:
        return case.allowed
    return computed(lambda allowed, each: min(allowed, 2 * each), case.allowed, accuracy)


def position_stays(case: Situation) -> Iterator[RecalibrationCheck]:
    """Where no mark is searched, the position rests on the encoder and on what is stored.

    If the work touches neither, the axis indicates the true position as closely as it must.
    """
    if case.result.way != "stand" or not case.untouched:
        return
    axis = case.axis
    applies = every(axis.truth("taught_before"), negated(axis.truth("forgets_position")))
    accuracy, shift = axis.number("accuracy"), Traced(case.result.shift)
    holds = YES if shift.value == 0 else at_most(size_of(shift), accuracy)
    if accuracy.value is None and at_most(size_of(shift), case.allowed).value is False:
        holds = NO
    limit = case.allowed if accuracy.value is None else accuracy
    figures = {"shift": shift.value, "allowed": limit.value}
    yield from judged("position-stays", applies, holds, figures)


def pulse_stays(case: Situation) -> Iterator[RecalibrationCheck]:
    """A new switch moves no index pulse, so the reference moves by whole revolutions."""
    if case.after != "home_switch":
        return
    axis = case.axis
    applies = every(
        case.mark,
        axis.truth("switch_finds_mark"),
        axis.truth("switch_chooses_pulse"),
        axis.truth("taught_before"),
    )
    rest = computed(nearest_remainder, case.moved, case.revolution)
    holds = _found_again(case, rest)
    figures = {
        "shift": case.moved.value,
        "revolution": case.revolution.value,
        "rest": rest.value,
        "allowed": _closest(case).value,
    }
    yield from judged("pulse-stays", applies, holds, figures)
