"""What is known of a recalibration, and the form of a question about it with its answer."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Literal

from ..language.traced import Traced
from ..numbers.exact import Number, simplest
from ..numbers.whole import nearest_remainder
from .recalibration import Recalibration
from .recalibration_evidence import NO, AxisEvidence, computed

Outcome = Literal["passed", "failed", "cannot be decided"]


@dataclass(frozen=True, slots=True)
class RecalibrationCheck:
    """A question and its answer.

    ``figures`` are positions in base units, ``angles`` in turns; ``missing`` names facts and
    options that would settle an open question.
    """

    name: str
    outcome: Outcome
    figures: Mapping[str, Number] = field(default_factory=dict)
    angles: Mapping[str, Number] = field(default_factory=dict)
    missing: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class IndexAngle:
    """The encoder angle from the switch edge to the index pulse, in turns.

    ``computed`` follows from the new reference, by the angle on record or (``by_drawing``) by the
    place of the switch; ``measured`` was read after the work.
    """

    before: Number | None = None
    computed: Number | None = None
    by_drawing: bool = False
    measured: Number | None = None


@dataclass(frozen=True, slots=True)
class Situation:
    """What is known of a recalibration. ``axis`` holds the reference that was in use.

    ``mark`` tells whether homing finds a mark (unknown if the method is), ``allowed`` how close to
    a pattern counts, ``recorded`` the position of the reference on record, ``reading`` the turns
    read at the reference after the work, ``index_angle`` the angle measured after it.
    ``work_known``: somebody said what was done; without a part in ``after``, that it was nothing.
    ``untouched``: the work leaves everything alone that the reference rests on.
    """

    axis: AxisEvidence
    result: Recalibration
    mark: Traced
    allowed: Traced
    recorded: Traced
    after: str = ""
    reading: Number | None = None
    index_angle: Number | None = None
    revolution: Traced = NO
    unknown_steps: tuple[tuple[str, tuple[str, ...]], ...] = ()
    work_known: bool = False
    untouched: bool = False

    @property
    def moved(self) -> Traced:
        """How far the reference moves from where it is on record."""
        new = self.result.moved
        if new is None:
            known = self.recorded.value is not None
            return self.recorded if known else Traced(self.result.shift)
        cycle = None
        if self.result.interval is not None:
            low, high = self.result.interval
            cycle = high - low

        def way(recorded: Number) -> Number:
            moved = simplest(new - recorded)
            near = None if cycle is None else nearest_remainder(moved, cycle)
            return moved if near is None else near

        return computed(way, self.recorded)


def judged(
    name: str,
    applies: Traced,
    holds: Traced,
    figures: Mapping[str, Number | None] | None = None,
    angles: Mapping[str, Number | None] | None = None,
) -> Iterator[RecalibrationCheck]:
    """The check, unless it does not apply. What holds anyway needs no fact that says it applies."""
    if applies.value is False:
        return
    known = {key: value for key, value in (figures or {}).items() if value is not None}
    turns = {key: value for key, value in (angles or {}).items() if value is not None}
    if holds.value is True:
        yield RecalibrationCheck(name, "passed", known, turns)
    elif holds.value is False and applies.value is True:
        yield RecalibrationCheck(name, "failed", known, turns)
    else:
        parts = [part for part in (applies, holds) if part.value is None]
        missing = tuple(dict.fromkeys(fact for part in parts for fact in part.missing))
        yield RecalibrationCheck(name, "cannot be decided", known, turns, missing)
