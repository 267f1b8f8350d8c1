"""Recalibration of an axis of a machine: what the file states, then the arithmetic."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final

from ..base.absence import NONE
from ..base.errors import UsageError
from ..catalogue.catalogue import Catalogue
from ..language.printing import formula, unit_for
from ..language.traced import Traced
from ..language.tracer import Tracer
from ..machine.homing_methods import method_words, sets_current_position, uses_index
from ..machine.machine import Machine
from ..machine.records import Facts
from ..machine.schema import VARIABLE
from ..numbers.dimensions import dim_words
from ..numbers.exact import Number, QuantityError, div, simplest
from ..numbers.formats import exact_json, say_number
from ..numbers.rational import Fraction
from ..numbers.units import in_unit, parse_quantity
from .placing import axis_of
from .recalibration import Recalibration, ShiftStep, Way, recalibrated

AFTER: Final = ("motor", "encoder", "drive", "gearbox", "belt")
TOOTHED_WORK: Final = ("gearbox", "belt")
NO_HOMING: Final = 0
"""The number that CiA 402 gives to having no homing method (from memory)."""

DEFAULT_TOLERANCE: Final = Fraction(1, 50)
"""Share of an encoder revolution that counts as close; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Recalibrated:
    """The result for one axis: numbers in base units, shown in ``unit``.

    ``missing`` names facts for want of which something was left out, ``tolerance_from`` where the
    tolerance comes from. ``method`` is the homing method in words (empty if there is none),
    ``keeper`` where the reference lives; ``index`` tells whether homing ends at an index pulse and
    ``turns`` whether the axis relies on a turn counter, None where that is not known.
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

    def say(self, value: Number) -> str:
        """A position or distance in the unit of the axis."""
        return say_number(in_unit(value, self.unit), self.unit)

    def data(self, value: Number) -> Mapping[str, Any]:
        """The same as JSON fields."""
        fields = exact_json(in_unit(value, self.unit), self.unit)
        fields.pop("text", None)
        return fields


def recalibrate_axis(
    machine: Machine,
    axis: str,
    true: str,
    indicated: str,
    catalogue: Catalogue,
    reference: str | None = None,
    tolerance: str | None = None,
    after: str | None = None,
) -> Recalibrated:
    """Work out the new reference position of an axis (see swap.api.recalibrate).

    Raises UsageError for a text that is no position of the axis, or if the axis does not state
    what the arithmetic needs: its motion and, on a modulo axis, its cycle.
    """
    facts = axis_of(machine, axis)
    motion = facts.get("motion")
    if motion is None:
        raise UsageError(f"the motion of axis {axis} is not known", expected="linear or rotary")
    own = _HomedAxis(facts, machine, catalogue)
    x_true = _position(true, "--true", axis, motion)
    x_indicated = _position(indicated, "--indicated", axis, motion)
    stated = facts.get("controller.homing.reference_position")
    old: Number | None = None if stated is NONE else stated
    if reference is not None:
        old = _position(reference, "--reference", axis, motion)
    way = own.way()
    wanted = {
        "not known": "controller.homing.method",
        "never homed": "storage.offset",
        "mark": "controller.homing.reference_position",
    }
    missing: tuple[str, ...] = ()
    if way in wanted and (way != "mark" or old is None) and facts.get(wanted[way]) is None:
        missing = (f"axes.{axis}.{wanted[way]}",)
    cycle = own.cycle(axis)
    revolution = own.value("units_per_encoder_rev")
    missing += revolution.missing
    allowed, source = _tolerance(tolerance, axis, motion, revolution.value)
    index, turns = own.ends_at_index(), own.value("relies_on_turn_counter").value
    visible = revolution.value if index is not False or turns is not False else None
    steps = list(own.steps(visible, revolution.value, old, after))
    result = recalibrated(old, x_true, x_indicated, cycle, way=way, tolerance=allowed, steps=steps)
    method = facts.get("controller.homing.method")
    tree = machine.tree
    return Recalibrated(
        machine.name,
        axis,
        unit_for(VARIABLE_POSITION, {"axis": facts}),
        result,
        after or "",
        source,
        missing,
        tuple(each.name for each in tree.sources) if tree else (),
        "" if method in (None, NONE) else method_words(method),
        facts.get("storage.offset") or "",
        index,
        turns,
    )


VARIABLE_POSITION: Final = tuple((f"{base}:axis", power) for base, power in VARIABLE["position"])


def _tolerance(
    text: str | None, axis: str, motion: str, revolution: Number | None
) -> tuple[Number, str]:
    if text is not None:
        value = _position(text, "--tolerance", axis, motion)
        if not value >= 0:
            raise UsageError(f"--tolerance {text} is below zero", expected="zero or more")
        return value, "as given"
    if revolution is None:
        return 0, "none: the travel of an encoder revolution is not known"
    return simplest(revolution * DEFAULT_TOLERANCE), "a fiftieth of an encoder revolution"


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


class _HomedAxis:
    """Facts and definitions of an axis."""

    def __init__(self, facts: Facts, machine: Machine, catalogue: Catalogue) -> None:
        self.facts = facts
        self.tracer = Tracer(catalogue.definitions, catalogue.defaults, formula)

    def value(self, name: str) -> Traced:
        """A definition's value."""
        return self.tracer.definition(self.facts, "axis", name)

    def way(self) -> Way:
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

    def ends_at_index(self) -> bool | None:
        """Whether homing ends at an index pulse; None if not known."""
        if self.facts.get("controller.homing") is NONE:
            return False
        method = self.facts.get("controller.homing.method")
        return None if method is None else uses_index(method)

    def cycle(self, axis: str) -> Number | None:
        """The cycle of a modulo axis, None for a linear one; raises UsageError if not known."""
        kind = self.facts.get("controller.type")
        if kind is None:
            raise UsageError(
                f"whether axis {axis} is linear or modulo is not stated",
                expected=f"axes.{axis}.controller.type",
            )
        if kind == "linear":
            return None
        cycle: Number | None = self.facts.get("controller.cycle")
        if cycle is None:
            raise UsageError(
                f"the cycle of axis {axis} is not stated", expected=f"axes.{axis}.controller.cycle"
            )
        return cycle

    def steps(
        self,
        telling: Number | None,
        revolution: Number | None,
        reference: Number | None,
        after: str | None,
    ) -> Iterator[ShiftStep]:
        """What a shift is compared with. ``telling`` is the encoder revolution if it tells."""
        if reference is not None and reference != 0:
            size = reference if reference > 0 else -reference
            name = "twice the reference position (an offset taken with the wrong sign)"
            yield ShiftStep("sign", name, simplest(2 * size), single=True)
        if revolution is not None:
            turns = self.facts.get("encoder.distinguishable_revolutions")
            if turns is not None:
                name = "the whole range of the turn counter (a wrap, or unlike turn counts)"
                yield ShiftStep("range", name, simplest(revolution * turns), single=True)
        if telling is not None:
            yield ShiftStep("revolution", "encoder revolutions", telling)
        if after in TOOTHED_WORK:
            yield from self.teeth()

    def teeth(self) -> Iterator[ShiftStep]:
        """The travel of one tooth, for every toothed wheel whose teeth are stated."""
        feed = self.value("feed_constant").value
        if feed is None:
            return
        teeth = self.facts.get("mechanics.final.teeth")
        kind = self.facts.get("mechanics.final.kind")
        if teeth:
            yield ShiftStep("tooth", f"teeth of the {kind}", _over(feed, teeth))
        below: Number = 1
        stages = list(enumerate(self.facts.get("mechanics.stages") or (), 1))
        for number, stage in reversed(stages):
            load = stage.get("load_side_teeth")
            if load:
                size = _over(_over(feed, below), load)
                yield ShiftStep("tooth", f"teeth of transmission stage {number}", size)
            ratio = self.tracer.definition(stage, "axis.mechanics.stages", "ratio").value
            if ratio is None:
                return
            below = simplest(below * ratio)


def _over(value: Number, divisor: Number) -> Number:
    result = div(value, divisor)
    assert result is not None
    return simplest(result)
