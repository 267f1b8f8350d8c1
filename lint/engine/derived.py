"""From a machine to the numbers that follow from an axis's facts: for `axisproof show`.

The definitions of the rule files give the numbers. No rule needs the speed that each limit allows,
so this module defines those speeds, in the rule language.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final

from ..catalogue.catalogue import Catalogue, from_texts
from ..catalogue.catalogue import catalogue as rules_in_force
from ..language.budget import limited
from ..language.printing import formula, in_unit_shown, unit_of, value_text
from ..language.syntax import Definition
from ..language.telling import counted
from ..language.traced import told
from ..language.tracer import Tracer, is_absence
from ..machine.machine import Machine
from ..machine.records import Facts, notes_of
from ..numbers.formats import say_plainly

SPEEDS: Final = """\
language 2

define axis.speed_by_controller
  kind    position_speed
  meaning "highest velocity the controller commands"
  basis   "as stated"
  as      axis.controller.max_velocity

define axis.speed_by_motor
  kind    position_speed
  meaning "speed of the axis at the motor's highest speed"
  basis   "motor speed x user units per motor revolution"
  as      axis.motor.max_speed * axis.units_per_motor_rev

define axis.speed_by_drive
  kind    position_speed
  meaning "speed of the axis at the drive's speed limit (CiA 402 0x6080)"
  basis   "motor speed x user units per motor revolution"
  as      axis.drive.max_speed * axis.units_per_motor_rev

define axis.speed_by_encoder
  kind    position_speed
  meaning "speed of the axis at the encoder's highest speed"
  basis   "encoder speed x user units per encoder revolution"
  as      axis.encoder.max_speed * axis.units_per_encoder_rev

define axis.speed_by_encoder_counts
  kind    position_speed
  meaning "speed of the axis at the highest rate of counts the encoder gives"
  basis   "count rate / counts per user unit"
  as      axis.encoder.max_frequency / axis.counts_per_unit

define axis.speed_by_feedback_input
  kind    position_speed
  meaning "speed of the axis at the highest rate of counts the drive takes"
  basis   "count rate / counts per user unit"
  as      axis.drive.feedback_frequency_limit / axis.counts_per_unit

define axis.speed_by_command_rate
  kind    position_speed
  meaning "speed of the axis at the highest command rate"
  basis   "increments per second x user units per increment"
  as      axis.drive.command_frequency_limit * axis.drive.gear.command_increment / 1count

define axis.speed_by_screw
  kind    position_speed
  meaning "speed of the axis at the screw's highest permitted speed"
  basis   "screw speed x lead"
  as      axis.mechanics.final.rated_speed * axis.screw_feed

define axis.speed_by_nut
  kind    position_speed
  meaning "speed of the axis at the highest permitted speed of a nut that turns"
  basis   "nut speed x lead"
  as      axis.mechanics.final.nut_rated_speed * axis.screw_feed

define axis.speed_by_linear_motor
  kind    position_speed
  meaning "highest velocity of the linear motor"
  basis   "as stated"
  as      axis.motor.max_velocity

define axis.speed_by_drive_of_linear_motor
  kind    position_speed
  meaning "velocity limit of the drive of a linear motor (CiA 402 0x6080)"
  basis   "as stated"
  as      axis.drive.max_velocity

define axis.speed_by_rim
  kind    position_speed
  meaning "speed of the axis at the highest speed that is permitted at its rim"
  basis   "speed at the rim / (pi x diameter)"
  as      axis.mechanics.rim.max_speed * 1rev / circumference(axis.mechanics.rim.diameter)
          if axis.motion is rotary else axis.mechanics.rim.max_speed
"""

_FILE: Final = "shown.rules"

_OF_SOME_AXES: Final = MappingProxyType(
    {
        "second_encoder.rules": "has_second_encoder",
        "load_brake.rules": "has_load_brake",
        "clamp.rules": "has_clamp",
        "unbalance.rules": "unbalance_is_stated",
        "tilt.rules": "is_tilted",
        "telescope.rules": "is_telescope",
        "changing_feed.rules": "changes_its_feed",
    }
)
"""Files whose numbers are those of some axes alone, each with the flag that such an axis has."""

_INDEX_MARKS: Final = "index_marks.rules"
"""The file whose numbers are those of axes whose index marks are on record alone."""

TOLD: Final = ("encoder_form",)
"""Definitions that are words and are shown too: what is inferred has to be seen."""


@dataclass(frozen=True, slots=True)
class DerivedNumber:
    """One derived number: its name, its text with unit (empty if unknown) and its meaning.

    ``missing`` are the facts it lacks and ``reason`` says what else prevents it. ``applies``: the
    axis has the parts that it rests on. ``lowest`` marks the lowest of the speed limits.
    """

    name: str
    text: str
    meaning: str
    missing: tuple[str, ...] = ()
    reason: str = ""
    lowest: bool = False
    applies: bool = True


@dataclass(frozen=True, slots=True)
class DerivedAxis:
    """The derived numbers of one axis, and the speed that each limit allows.

    ``linear_motor``: a linear motor is stated to move the load, so its forces are main numbers.
    ``index_marks`` is the kind of index marks that is stated, or empty.
    """

    machine: str
    axis: str
    numbers: tuple[DerivedNumber, ...]
    speeds: tuple[DerivedNumber, ...]
    linear_motor: bool = False
    index_marks: str = ""


def derive(
    machine: Machine, axes: Sequence[str] = (), rules: Sequence[Path] = ()
) -> tuple[DerivedAxis, ...]:
    """Calculate the numbers of all axes of a machine, or of those in ``axes``.

    Raises UsageError for an axis that the machine does not have, and RuleError for definitions of
    a site whose loops take too many steps.
    """
    from ..machine.schema import no_such_axis

    known = {axis["name"]: axis for axis in machine.axes}
    for name in axes:
        if name not in known:
            raise no_such_axis(machine.name, name, known, ", ".join(known))
    catalogue = from_texts({_FILE: SPEEDS}, rules_in_force(list(rules)))
    tracer = Tracer(catalogue.definitions, catalogue.defaults, formula)
    chosen = list(axes) or list(known)
    with limited():
        return tuple(_derived_axis(machine, known[name], catalogue, tracer) for name in chosen)


def _derived_axis(
    machine: Machine, axis: Facts, catalogue: Catalogue, tracer: Tracer
) -> DerivedAxis:
    numbers: list[DerivedNumber] = []
    speeds: list[tuple[Any, DerivedNumber]] = []
    without = [
        file
        for file, flag in _OF_SOME_AXES.items()
        if not tracer.definition(axis, "axis", flag).value
    ]
    marks = axis.get("encoder.index_marks.kind")
    if marks is None:
        without.append(_INDEX_MARKS)
    for definition in catalogue.trees.definitions:
        number_or_told = definition.type.kind == "number" or definition.name in TOLD
        if definition.record != "axis" or not number_or_told:
            continue
        if definition.file in without:
            continue
        value, number = _derived_number(definition, axis, tracer)
        if definition.file == _FILE:
            speeds.append((value, number))
        else:
            numbers.append(number)
    linear_motor = tracer.definition(axis, "axis", "is_linear_motor").value is True
    return DerivedAxis(
        machine.name,
        axis["name"],
        tuple(numbers),
        _with_lowest(speeds),
        linear_motor,
        marks if isinstance(marks, str) else "",
    )


def _derived_number(
    definition: Definition, axis: Facts, tracer: Tracer
) -> tuple[Any, DerivedNumber]:
    traced = tracer.definition(axis, "axis", definition.name)
    if traced.value is None:
        absent = bool(traced.reasons) and all(map(is_absence, traced.reasons))
        return None, DerivedNumber(
            definition.name,
            "",
            definition.meaning,
            traced.missing,
            told(traced.reasons),
            applies=bool(traced.missing) or not absent,
        )
    env = {"axis": axis, "machine": notes_of(axis).machine}
    text = _text(traced.value, definition, env)
    return traced.value, DerivedNumber(definition.name, text, definition.meaning)


def _text(value: Any, definition: Definition, env: Mapping[str, Any]) -> str:
    """A value as people read it, in the unit that suits the axis."""
    if definition.type.kind == "flag":
        return "yes" if value else "no"
    if definition.type.kind != "number":
        return value_text(value, definition.type, env)
    dimension = definition.type.dim
    unit = definition.unit or unit_of(value, dimension, env)
    return say_plainly(in_unit_shown(value, unit), unit, whole=counted(dimension))


def _with_lowest(speeds: list[tuple[Any, DerivedNumber]]) -> tuple[DerivedNumber, ...]:
    """Mark the lowest of the known speeds; none if their order is not certain."""
    from dataclasses import replace

    from ..numbers.exact import minimum

    known = [value for value, _ in speeds if value is not None]
    lowest = minimum(known) if len(known) > 1 else None
    return tuple(
        replace(
            number, lowest=lowest is not None and value is not None and (value <= lowest) is True
        )
        for value, number in speeds
    )
