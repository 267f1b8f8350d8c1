"""The reference after a swap: the position to assign to it, and what the shift looks like.

Homing to a mark (a switch, an index pulse, a stop) finds the same place wherever it starts, so the
place keeps its error until its position is corrected: p_new = p + (x_true − x_indicated). So does
an offset that is added to every reading. Homing where the axis stands (CiA 402 methods 35 and 37,
from memory) and a preset of the encoder assign a position to the place itself: p_new = x_true, and
only there. The shift is compared with the steps that point to a fault
rather than to a new motor's angle: whole encoder revolutions, the turn counter's whole range, an
offset taken with the wrong sign, a tooth. Whatever is exact stays exact. All positions are in base
units of the axis (mm or turns).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, Literal

from ..numbers.exact import Number, absolute, div, simplest
from ..numbers.rational import Fraction
from ..numbers.whole import nearest_remainder, nearest_whole, remainder

Kind = Literal["revolution", "range", "sign", "tooth", "mark"]
ShiftVerdict = Literal["far", "close", "weak", "unmoved", "no power", "invisible", "open"]
ReferenceKind = Literal["mark", "stand", "offset", "preset", "never homed", "not known"]
"""What makes the reference: homing to a mark or where the axis stands; without homing an offset in
drive or controller, a preset of the encoder, or one of these; or it is not known."""

WEAK: Final = Fraction(1, 4)
"""A shift close to a multiple says little if more than this share of all shifts would be as close;
common practice, no source."""


@dataclass(frozen=True, slots=True)
class ShiftStep:
    """A length that a shift may be a multiple of; ``single`` if only ±1 of it makes sense."""

    kind: Kind
    name: str
    size: Number
    single: bool = False


@dataclass(frozen=True, slots=True)
class StepComparison:
    """A shift beside the multiples of a step.

    ``multiple`` is the number of steps that comes nearest (the smallest such number on a modulo
    axis), ``distance`` what is left, ``spacing`` how far apart the places lie that multiples lead
    to (the step itself, or C/q on a modulo axis with step/C = p/q), ``chance`` the share of all
    shifts that would come so close. ``finding``:

    - ``close`` within the tolerance of a multiple other than 0, ``unmoved`` within that of 0
    - ``weak`` close as well, where many a shift would be
    - ``far`` from all multiples
    - ``no power`` where the tolerance reaches half the spacing
    - ``invisible`` where every multiple is a whole cycle
    - ``open`` where the numbers are not exact enough to say
    """

    step: ShiftStep
    finding: ShiftVerdict
    multiple: int = 0
    distance: Number | None = None
    spacing: Number | None = None
    chance: Number | None = None


@dataclass(frozen=True, slots=True)
class Recalibration:
    """A new reference. ``interval`` is the cycle's own, (low, high), high excluded; None if linear.

    ``shift`` is true minus indicated, on a modulo axis the nearest signed one; ``reference`` the
    position assigned before, ``moved`` the same moved by the shift (None if it is not known), and
    ``here`` the true position; on a modulo axis both lie in the cycle's own interval.
    """

    true: Number
    indicated: Number
    shift: Number
    tolerance: Number
    here: Number
    reference: Number | None = None
    moved: Number | None = None
    way: ReferenceKind = "mark"
    interval: tuple[Number, Number] | None = None
    comparisons: tuple[StepComparison, ...] = ()

    @property
    def new(self) -> Number | None:
        """The position to assign; None if that is not known, or not how."""
        if self.way in ("mark", "offset"):
            return self.moved
        return self.here if self.way in ("stand", "preset") else None

    @property
    def suspicions(self) -> tuple[StepComparison, ...]:
        """What points to a fault."""
        return tuple(each for each in self.comparisons if each.finding == "close")


def recalibrated(
    reference: Number | None,
    true: Number,
    indicated: Number,
    cycle: Number | None = None,
    *,
    way: ReferenceKind = "mark",
    tolerance: Number = 0,
    steps: Iterable[ShiftStep] = (),
) -> Recalibration:
    """Work out the new reference and compare the shift with ``steps``.

    ``cycle`` is the modulo length of an endless axis. The interval of the cycle is [0, C), or
    [−C/2, C/2) if the present reference is below zero. Raises ValueError for a cycle or step that
    is not above zero and for a tolerance below zero.
    """
    if cycle is not None and not cycle > 0:
        raise ValueError("the cycle is not above zero")
    if not tolerance >= 0:
        raise ValueError("the tolerance is below zero")
    shift = simplest(true - indicated)
    interval: tuple[Number, Number] | None = None
    moved = None if reference is None else simplest(reference + shift)
    here = simplest(true)
    if cycle is not None:
        nearest = nearest_remainder(shift, cycle)
        shift = shift if nearest is None else nearest
        low = simplest(cycle * Fraction(-1, 2)) if reference is not None and reference < 0 else 0
        interval = (low, simplest(low + cycle))
        here = _reduced(here, low, cycle)
        moved = None if moved is None else _reduced(moved, low, cycle)
    comparisons = tuple(compare(shift, step, tolerance, cycle) for step in steps)
    return Recalibration(
        true, indicated, shift, tolerance, here, reference, moved, way, interval, comparisons
    )


def _reduced(position: Number, low: Number, cycle: Number) -> Number:
    """A position on a cycle, within its interval from ``low``."""
    above = remainder(position - low, cycle)
    return position if above is None else simplest(low + above)


def compare(
    shift: Number, step: ShiftStep, tolerance: Number, cycle: Number | None
) -> StepComparison:
    """Compare a shift (of a modulo axis: any of its equals) with the multiples of a step."""
    if not step.size > 0:
        raise ValueError(f"{step.name} is not above zero")
    if step.single:
        return _compare_single(shift, step, tolerance, cycle)
    spacing = step.size
    ratio: int | Fraction | None = None
    if cycle is not None:
        share = div(step.size, cycle)
        if not isinstance(share, int | Fraction):
            # Multiples of a step that has no common measure with the cycle come close to anything.
            return StepComparison(step, "no power")
        ratio = share
        if ratio.denominator == 1:
            return StepComparison(step, "invisible", spacing=cycle)
        found = div(cycle, ratio.denominator)
        assert found is not None
        spacing = simplest(found)
    count = _nearest(shift, spacing)
    if count is None:
        return StepComparison(step, "open", spacing=spacing)
    distance = simplest(shift - spacing * count)
    multiple = count if ratio is None else _steps_to(count, ratio.numerator, ratio.denominator)
    chance = div(2 * tolerance, spacing)
    finding: ShiftVerdict
    within = absolute(distance) <= tolerance
    if not 2 * tolerance < spacing:
        finding = "no power"
    elif within is None:
        finding = "open"
    elif not within:
        finding = "far"
    else:
        telling = chance is not None and chance <= WEAK
        finding = "unmoved" if multiple == 0 else "close" if telling else "weak"
    return StepComparison(step, finding, multiple, distance, spacing, chance)


def _nearest(shift: Number, spacing: Number) -> int | None:
    quotient = div(shift, spacing)
    return None if quotient is None else nearest_whole(quotient)


def _steps_to(count: int, p: int, q: int) -> int:
    """The least number of steps, p/q of a cycle each, that leads ``count`` q-ths of it onwards."""
    steps = count * pow(p, -1, q) % q
    return steps - q if 2 * steps > q else steps


def _compare_single(
    shift: Number, step: ShiftStep, tolerance: Number, cycle: Number | None
) -> StepComparison:
    """Compare with one step forward or back only."""
    size = step.size
    if cycle is not None:
        if remainder(size, cycle) == 0:
            return StepComparison(step, "invisible", spacing=cycle)
        nearest = nearest_remainder(size, cycle)
        size = size if nearest is None else nearest
    best: StepComparison | None = None
    for multiple in (1, -1):
        away = shift - size * multiple
        if cycle is not None:
            nearest = nearest_remainder(away, cycle)
            away = away if nearest is None else nearest
        away = simplest(away)
        within = absolute(away) <= tolerance
        finding: ShiftVerdict = "open" if within is None else "close" if within else "far"
        if absolute(size) <= 2 * tolerance:
            finding = "no power"
        if best is None or absolute(away) < absolute(best.distance or 0):
            best = StepComparison(step, finding, multiple, away, absolute(size))
    assert best is not None
    return best
