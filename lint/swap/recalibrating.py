"""Recalibration of an axis of a machine: what the file states, then the arithmetic."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Final, Literal

from ..base.absence import NONE
from ..base.errors import UsageError
from ..catalogue.catalogue import Catalogue
from ..language.printing import position_unit
from ..language.traced import Traced
from ..machine.homing_methods import method_words, sets_current_position
from ..machine.machine import Machine
from ..numbers.dimensions import dim_words
from ..numbers.exact import Number, QuantityError, div, simplest
from ..numbers.formats import exact_json, say_to_enter
from ..numbers.rational import Fraction
from ..numbers.units import UNITS, in_unit, parse_quantity
from .part import KINDS, TOUCHED
from .placing import axis_of
from .recalibration import Recalibration, ReferenceKind, ShiftStep, recalibrated
from .recalibration_checks import all_checks, index_angle
from .recalibration_evidence import AxisEvidence
from .recalibration_proof import proof_points
from .recalibration_situation import IndexAngle, RecalibrationCheck, Situation

NOTHING: Final = "nothing"
"""Stated as the work that went before: no part was replaced, touched or restored."""
AFTER: Final = (*KINDS, *TOUCHED, NOTHING)
Demand = Literal[
    "find out how it homes",
    "find out where the offset lives",
    "home first",
    "home from one side",
    "assign here",
    "home here after power-on",
]
"""What the work has to keep to. What is not known takes none of these away."""

TOOTHED_WORK: Final = ("gearbox", "belt", "chain")
CLOSED_STAGES: Final = ("gearbox", "bevel", "worm")
"""Stages that are not opened when they are replaced, so no tooth is skipped in them."""
NO_HOMING: Final = 0
"""The number that CiA 402 gives to having no homing method (from memory)."""

DEFAULT_TOLERANCE: Final = Fraction(1, 50)
"""Share of an encoder revolution that counts as close; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Readings:
    """What was read and done, as text (see swap.api.recalibrate)."""

    true: str
    indicated: str
    reference: str | None = None
    tolerance: str | None = None
    after: str | None = None
    reading: str | None = None
    index_angle: str | None = None


@dataclass(frozen=True, slots=True)
class Recalibrated:
    """The result for one axis: numbers in base units, shown in ``unit``.

    ``missing`` names facts for want of which something was left out, ``tolerance_from`` where the
    tolerance comes from. ``method`` is the homing method in words (empty if there is none),
    ``keeper`` where the reference lives; ``index`` tells whether homing ends at an index pulse and
    ``turns`` whether the axis relies on a turn counter, None where that is not known. So do
    ``gravity`` (it moves the axis), ``forgets`` (the position is gone with the power),
    ``index_alone`` (no switch chooses the pulse) and ``approach_negative``. ``accuracy`` is to be
    reached at both ``points``.
    """

    machine: str
    axis: str
    unit: str
    result: Recalibration
    after: str = ""
    tolerance_from: str = ""
    missing: tuple[str, ...] = ()
    files: tuple[str, ...] = ()
    method: str = ""
    keeper: str = ""
    index: bool | None = None
    turns: bool | None = None
    checks: tuple[RecalibrationCheck, ...] = ()
    angle: IndexAngle | None = None
    accuracy: Number | None = None
    points: tuple[Number, Number] | None = None
    gravity: bool | None = None
    forgets: bool | None = None
    index_alone: bool | None = None
    approach_negative: bool | None = None

    def say(self, value: Number) -> str:
        """A position or distance in the unit of the axis."""
        return say_to_enter(in_unit(value, self.unit), self.unit)

    def data(self, value: Number) -> Mapping[str, Any]:
        """The same as JSON fields."""
        fields = exact_json(in_unit(value, self.unit), self.unit)
        fields.pop("text", None)
        return fields

    @property
    def to_solve(self) -> tuple[RecalibrationCheck, ...]:
        """What has to be solved before anything is written: what failed, then what is open."""
        failed = [each for each in self.checks if each.outcome == "failed"]
        return (*failed, *(each for each in self.checks if each.outcome == "cannot be decided"))

    @property
    def demands(self) -> tuple[Demand, ...]:
        """What has to be kept to; where the way is not known, what any way asks for."""
        way = self.result.way
        open_way = way == "not known"
        found: dict[Demand, bool] = {
            "find out how it homes": open_way,
            "find out where the offset lives": way == "never homed",
            "home first": open_way or way == "mark",
            "home from one side": open_way or (way == "mark" and self.index_alone is not False),
            "assign here": open_way or way in ("stand", "preset", "never homed"),
            "home here after power-on": (open_way or way == "stand") and self.forgets is not False,
        }
        return tuple(demand for demand, holds in found.items() if holds)


def recalibrate_axis(
    machine: Machine, axis: str, readings: Readings, catalogue: Catalogue
) -> Recalibrated:
    """Work out the new reference position of an axis.

    Raises UsageError for a text that is no position of the axis, or if the axis does not state
    what the arithmetic needs: its motion and, on a modulo axis, its cycle.
    """
    facts = axis_of(machine, axis)
    motion = facts.get("motion")
    if motion is None:
        raise UsageError(f"the motion of axis {axis} is not known", expected="linear or rotary")
    asked = _Asked(readings, axis, motion)
    own = _HomedAxis(AxisEvidence(facts, catalogue), axis)
    old = own.stated_reference if asked.reference is None else asked.reference
    way = own.way()
    revolution = own.revolution()
    allowed, source = own.allowed(asked.tolerance, revolution)
    if own.cycle() is None:
        _refuse_blind(readings, asked.tolerance, revolution.value)
    steps, unknown = own.steps(revolution, old, asked.after)
    result = recalibrated(
        old,
        asked.true,
        asked.indicated,
        own.cycle(),
        way=way,
        tolerance=0 if allowed.value is None else allowed.value,
        steps=steps,
    )
    after = "" if asked.after == NOTHING else asked.after
    case = Situation(
        own.evidence.replaced({"controller.homing.reference_position": old}),
        result,
        own.mark(way),
        allowed,
        own.recorded(),
        after,
        asked.reading,
        asked.index_angle,
        revolution,
        tuple(unknown),
        work_known=bool(asked.after),
        untouched=bool(asked.after) and own.evidence.keeps_reference(after, machine.facts),
    )
    answer = _answer(machine, axis, case, own, source)
    return replace(answer, after=asked.after)


def _refuse_blind(given: Readings, tolerance: Number | None, revolution: Number | None) -> None:
    """Refuse a tolerance with which a turn that was lost could not be told."""
    if tolerance is not None and revolution is not None and not 2 * tolerance < revolution:
        raise UsageError(
            f"--tolerance {given.tolerance} reaches half an encoder revolution, so a lost turn "
            "would not be found",
            expected="less than half an encoder revolution",
        )


def _answer(
    machine: Machine, axis: str, case: Situation, own: _HomedAxis, tolerance_from: str
) -> Recalibrated:
    facts, evidence = own.evidence.facts, own.evidence
    method = facts.get("controller.homing.method")
    unit = position_unit(facts)
    tree = machine.tree
    way = case.result.way
    return Recalibrated(
        machine.name,
        axis,
        unit,
        case.result,
        case.after,
        tolerance_from,
        own.wanted(way, case.result.reference) + case.revolution.missing,
        tuple(each.name for each in tree.sources) if tree else (),
        "" if method in (None, NONE) else method_words(method),
        facts.get("storage.offset") or "",
        own.ends_at_index(),
        evidence.truth("relies_on_turn_counter").value,
        tuple(all_checks(case)),
        index_angle(case),
        evidence.number("accuracy").value,
        proof_points(evidence, case.result, _size_of(unit)),
        evidence.truth("moved_by_gravity").value,
        evidence.truth("forgets_position").value,
        None if way == "not known" else evidence.truth("index_alone").value,
        evidence.truth("met_in_negative_direction").value if way == "mark" else None,
    )


def _size_of(unit: str) -> Fraction:
    """What a unit is in base units; 1 if pi is in it, where no place is a round number anyway."""
    factor = UNITS[unit].factor
    return Fraction(factor) if isinstance(factor, int | Fraction) else Fraction(1)


class _Asked:
    """What was read, as numbers in base units. Raises UsageError."""

    def __init__(self, given: Readings, axis: str, motion: str) -> None:
        def position(text: str, option: str) -> Number:
            return _position(text, option, axis, motion)

        self.true = position(given.true, "--true")
        self.indicated = position(given.indicated, "--indicated")
        self.reference = self.tolerance = self.reading = self.index_angle = None
        if given.reference is not None:
            self.reference = position(given.reference, "--reference")
        if given.tolerance is not None:
            self.tolerance = position(given.tolerance, "--tolerance")
            if not self.tolerance >= 0:
                raise UsageError(
                    f"--tolerance {given.tolerance} is below zero", expected="zero or more"
                )
        if given.reading is not None:
            self.reading = _turns(given.reading, "--reading")
        if given.index_angle is not None:
            self.index_angle = _turns(given.index_angle, "--index-angle")
        self.after = (given.after or "").replace("-", "_")
        if self.after and self.after not in AFTER:
            raise UsageError(f"--after {given.after} is no work", expected=", ".join(AFTER))


def _position(text: str, option: str, axis: str, motion: str) -> Number:
    """A length or angle, as the axis has it; raises UsageError."""
    wanted = "a length such as 12.5mm" if motion == "linear" else "an angle such as 30deg"
    try:
        quantity = parse_quantity(text.strip())
    except QuantityError as fault:
        raise UsageError(f"{option}: {fault.what}", expected=fault.expected or wanted) from None
    base = "length" if motion == "linear" else "angle"
    if quantity.dimension != ((base, 1),):
        raise UsageError(
            f"{option} {text.strip()} is {dim_words(quantity.dimension)}, and axis {axis} is "
            f"{motion}",
            expected=wanted,
        )
    return quantity.value


def _turns(text: str, option: str) -> Number:
    """Turns of an encoder, zero or more, as a number or an angle; raises UsageError."""
    wanted = "turns such as 0.4rev"
    try:
        quantity = parse_quantity(text.strip())
    except QuantityError as fault:
        raise UsageError(f"{option}: {fault.what}", expected=fault.expected or wanted) from None
    if quantity.dimension not in ((), (("angle", 1),)) or not quantity.value >= 0:
        raise UsageError(f"{option} {text.strip()} is no number of turns", expected=wanted)
    return quantity.value


class _HomedAxis:
    """Facts and definitions of an axis, for what its reference is made of."""

    def __init__(self, evidence: AxisEvidence, axis: str) -> None:
        self.evidence = evidence
        self.facts = evidence.facts
        self.axis = axis
        stated = self.facts.get("controller.homing.reference_position")
        self.stated_reference: Number | None = None if stated is NONE else stated

    def way(self) -> ReferenceKind:
        """What makes the reference."""
        method = self.facts.get("controller.homing.method")
        if self.facts.get("controller.homing") is NONE or method == NO_HOMING:
            keeper = self.facts.get("storage.offset")
            if keeper is None:
                return "never homed"
            return "preset" if keeper == "encoder" else "offset"
        stands = None if method is None else sets_current_position(method)
        if stands is None:
            return "not known"
        return "stand" if stands else "mark"

    def mark(self, way: ReferenceKind) -> Traced:
        """Whether homing finds a mark."""
        if way == "not known":
            known = self.facts.get("controller.homing.method") is not None
            return Traced(None) if known else self.evidence.missing("controller.homing.method")
        return Traced(way == "mark")

    def recorded(self) -> Traced:
        """The position of the reference on record."""
        if self.stated_reference is None:
            return self.evidence.missing("controller.homing.reference_position")
        return Traced(self.stated_reference)

    def wanted(self, way: ReferenceKind, old: Number | None) -> tuple[str, ...]:
        """The fact for want of which no position, or none for certain, can be given."""
        facts = {
            "not known": "controller.homing.method",
            "never homed": "storage.offset",
            "mark": "controller.homing.reference_position",
        }
        path = facts.get(way)
        if path is None or self.facts.get(path) is not None or (way == "mark" and old is not None):
            return ()
        return self.evidence.missing(path).missing

    def ends_at_index(self) -> bool | None:
        """Whether homing ends at an index pulse; None if not known."""
        if self.facts.get("controller.homing") is NONE:
            return False
        if self.facts.get("controller.homing.method") is None:
            return None
        found: bool | None = self.evidence.truth("index_ends_homing").value
        return found

    def revolution(self) -> Traced:
        """The travel of an encoder revolution; unknown without a fact to state if it has none."""
        turns = self.evidence.truth("encoder_turns")
        return Traced(None) if turns.value is False else self.evidence.number("revolution")

    def allowed(self, given: Number | None, revolution: Traced) -> tuple[Traced, str]:
        """How close to a pattern counts, and where that comes from."""
        if given is not None:
            return Traced(given), "as given"
        if revolution.value is not None:
            share = simplest(revolution.value * DEFAULT_TOLERANCE)
            return Traced(share), "a fiftieth of an encoder revolution"
        if self.evidence.truth("encoder_turns").value is False:
            source = "the accuracy to reach, because the encoder has no revolutions"
            accuracy = self.evidence.number("accuracy")
            if accuracy.value is not None:
                return accuracy, source
            return accuracy, "nothing, because the accuracy to reach is not known"
        return revolution, "nothing, because the travel of an encoder revolution is not known"

    def cycle(self) -> Number | None:
        """The cycle of a modulo axis, None for a linear one; raises UsageError if not known."""
        kind = self.facts.get("controller.type")
        if kind is None:
            raise UsageError(
                f"whether axis {self.axis} is linear or modulo is not stated",
                expected=f"axes.{self.axis}.controller.type",
            )
        if kind == "linear":
            return None
        cycle: Number | None = self.facts.get("controller.cycle")
        if cycle is None:
            raise UsageError(
                f"the cycle of axis {self.axis} is not stated",
                expected=f"axes.{self.axis}.controller.cycle",
            )
        return cycle

    def steps(
        self, revolution: Traced, reference: Number | None, after: str
    ) -> tuple[list[ShiftStep], list[tuple[str, tuple[str, ...]]]]:
        """What a shift is compared with, and what it cannot be compared with for want of facts."""
        steps: list[ShiftStep] = []
        unknown: list[tuple[str, tuple[str, ...]]] = []
        if reference is None:
            if self.facts.get("controller.homing") is not NONE:
                unknown.append(("sign", (*self.recorded().missing, "--reference")))
        elif reference != 0:
            size = reference if reference > 0 else -reference
            name = "twice the reference position (an offset taken with the wrong sign)"
            steps.append(ShiftStep("sign", name, simplest(2 * size), single=True))
        if self.evidence.truth("encoder_turns").value is not False:
            self._turn_steps(revolution, steps, unknown)
        self._mark_steps(steps, unknown)
        if after in TOOTHED_WORK:
            self._teeth(steps, unknown)
        return steps, unknown

    def _mark_steps(
        self, steps: list[ShiftStep], unknown: list[tuple[str, tuple[str, ...]]]
    ) -> None:
        """The spacing of evenly spaced index marks, if homing ends at one of them."""
        spaced = self.evidence.truth("homes_to_spaced_mark")
        if self.ends_at_index() is False or spaced.value is False:
            return
        size = self.evidence.number("mark_spacing") if spaced.value else spaced
        if size.value is None or spaced.value is None:
            unknown.append(("mark", size.missing))
        else:
            steps.append(ShiftStep("mark", "spacings of the index marks", size.value))

    def _turn_steps(
        self,
        revolution: Traced,
        steps: list[ShiftStep],
        unknown: list[tuple[str, tuple[str, ...]]],
    ) -> None:
        counted = self.evidence.truth("relies_on_turn_counter").value
        if counted is not False:
            whole = self.evidence.number("range")
            if whole.value is None:
                unknown.append(("range", whole.missing))
            else:
                name = "the whole range of the turn counter (a wrap, or different turn counts)"
                steps.append(ShiftStep("range", name, whole.value, single=True))
        if self.ends_at_index() is False and counted is False:
            return
        if revolution.value is None:
            unknown.append(("revolution", revolution.missing))
        else:
            steps.append(ShiftStep("revolution", "encoder revolutions", revolution.value))

    def _teeth(self, steps: list[ShiftStep], unknown: list[tuple[str, tuple[str, ...]]]) -> None:
        """The travel of one tooth, for every toothed wheel that may be put back a tooth aside."""
        feed = self.evidence.definition("feed_constant")
        kind, teeth = (
            self.facts.get("mechanics.final.kind"),
            self.facts.get("mechanics.final.teeth"),
        )
        if teeth and feed.value is not None:
            steps.append(ShiftStep("tooth", f"teeth of the {kind}", _over(feed.value, teeth)))
        elif kind in (None, "belt", "chain", "rack"):
            path = "mechanics.final.teeth" if kind else "mechanics.final.kind"
            unknown.append(("tooth", feed.missing or self.evidence.missing(path).missing))
        stages = self.facts.get("mechanics.stages")
        if stages is None:
            unknown.append(("tooth", self.evidence.missing("mechanics.stages").missing))
            return
        below: Number | None = 1
        for number, stage in reversed(list(enumerate(stages, 1))):
            load = stage.get("load_side_teeth")
            if stage.get("kind") not in CLOSED_STAGES:
                if load and feed.value is not None and below is not None:
                    size = _over(_over(feed.value, below), load)
                    name = f"teeth of transmission stage {number}"
                    steps.append(ShiftStep("tooth", name, size))
                else:
                    path = f"mechanics.stages[{number - 1}].load_side_teeth"
                    unknown.append(("tooth", feed.missing or self.evidence.missing(path).missing))
            ratio = self.evidence.ratio(stage)
            below = None if ratio is None or below is None else simplest(below * ratio)


def _over(value: Number, divisor: Number) -> Number:
    result = div(value, divisor)
    assert result is not None
    return simplest(result)
