"""The numbers that follow from an axis's facts, as a table for people."""

from __future__ import annotations

from collections.abc import Sequence
from types import MappingProxyType
from typing import Final

from ..engine.derived import DerivedAxis, DerivedNumber
from .blocks import heading
from .layout import columns, pad, prose, visible, wrap
from .paint import paint
from .rendering import RenderOptions
from .words import subject_name

MAIN: Final = (
    "gear_ratio",
    "feed_constant",
    "units_per_motor_rev",
    "units_per_encoder_rev",
    "encoder_form",
    "encoder_counts_per_revolution",
    "counts_per_unit",
    "second_counts_per_unit",
    "second_counts_per_unit_set",
    "controller_counts_per_unit",
    "absolute_range",
    "lower_wrap",
    "upper_wrap",
    "turns_that_close_the_cycle",
    "cycle_counts",
    "travel_span",
    "controller_stopping_distance",
    "drive_stopping_distance",
    "load_brake_torque",
    "driving_shaft_gravity_torque",
    "drop_on_load_brake",
    "force_against_clamp",
    "largest_unbalanced_torque",
    "tilted_share",
    "sections_as_weight",
    "sections_as_inertia",
    "torque_against_clamp",
    "top_motor_speed",
    "top_encoder_speed",
    "top_count_rate",
    "second_encoder_top_speed",
    "second_encoder_top_count_rate",
)
"""The numbers that the table shows without ``everything``."""

OF_A_LINEAR_MOTOR: Final = (
    *("moved_mass", "gravity_force", "friction_by_coefficient", "acceleration_force"),
    *("available_force", "force_duty_load", "force_of_rated_current"),
)
"""The numbers that it shows of a linear motor besides."""

OF_INDEX_MARKS: Final = MappingProxyType(
    {
        "spaced": ("mark_spacing",),
        "distance_coded": ("mark_spacing", "code_pairs", "code_range", "code_search"),
        "single": ("lowest_mark",),
        "selected": ("lowest_mark", "highest_mark"),
    }
)
"""The numbers that it shows of index marks besides, by their kind."""

_WORDS: Final = {"absolute_range": "rollover distance"}
_INDENT: Final = 2
_NARROWEST: Final = 30
"""Least columns for a value next to its name; with fewer the value goes below."""


def render_derived(
    axes: Sequence[DerivedAxis], options: RenderOptions, *, everything: bool = False
) -> str:
    """Return one table per axis; without ``everything`` only the known main numbers."""
    lines: list[str] = []
    for axis in axes:
        lines += [""] if lines else []
        lines += heading(subject_name(axis.machine, axis.axis), options)
        numbers = list(axis.numbers)
        of_motor = OF_A_LINEAR_MOTOR if axis.linear_motor else ()
        main = (*MAIN, *of_motor, *OF_INDEX_MARKS.get(axis.index_marks, ()))
        if not everything:
            order = {name: index for index, name in enumerate(main)}
            numbers = sorted(
                (n for n in numbers if n.name in order and n.text), key=lambda n: order[n.name]
            )
        speeds = [s for s in axis.speeds if everything or s.text]
        if not everything:
            numbers = [n for n in numbers if n.applies]
        room = max((columns(_shown_name(n)) for n in (*numbers, *speeds)), default=0) + 2
        if options.width - _INDENT - room < _NARROWEST:
            room = 0
        for number in numbers:
            lines += _row(number, room, options)
        if speeds:
            lines += ["", "Top speed through each limit"]
            for speed in speeds:
                lines += _row(speed, room, options)
        missing = sorted({fact for n in (*axis.numbers, *axis.speeds) for fact in n.missing})
        hidden = [n for n in axis.numbers if not n.text and n.applies and n.name in main]
        if hidden and not everything:
            names = ", ".join(_shown_name(n) for n in hidden)
            words = f"Data is missing for: {names}. --all says which data."
            lines += ["", *wrap(prose(words), options.width)]
        elif everything and missing:
            lines += [
                "",
                *wrap(prose(f"Data that would give more: {', '.join(missing)}."), options.width),
            ]
    return "\n".join(lines) + "\n"


def _shown_name(number: DerivedNumber) -> str:
    name = number.name.removeprefix("speed_by_")
    return _WORDS.get(number.name, name.replace("_", " "))


def _row(number: DerivedNumber, room: int, options: RenderOptions) -> list[str]:
    """The name and the value, and below the value its meaning or what it lacks."""
    name = visible(_shown_name(number))
    if number.text:
        value = visible(number.text) + (" (the lowest)" if number.lowest else "")
    else:
        value = "not known" if number.applies else "does not apply"
    width = options.width - _INDENT - (room or _INDENT)
    meaning = number.meaning
    if not number.text:
        needs = [f"needs {', '.join(number.missing)}"] if number.missing else []
        meaning += ": " + ", and ".join([*needs, *([number.reason] if number.reason else [])])
    rows = [*wrap(value, width), *wrap(prose(meaning), width)]
    margin = " " * _INDENT
    if not room:
        below = [f"{margin}{margin}{row}" for row in rows]
        return [margin + paint(name, "word", options), *below]
    first = margin + paint(pad(name, room), "word", options) + rows[0]
    return [first, *(f"{margin}{' ' * room}{row}" for row in rows[1:])]
