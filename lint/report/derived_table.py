"""The numbers that follow from an axis's facts, as a table for people."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from ..engine.derived import DerivedAxis, DerivedNumber
from . import RenderOptions
from .blocks import heading
from .layout import columns, pad, prose, visible, wrap
from .paint import paint
from .words import subject_name

MAIN: Final = (
    "gear_ratio",
    "feed_constant",
    "units_per_motor_rev",
    "units_per_encoder_rev",
    "encoder_counts_per_revolution",
    "counts_per_unit",
    "controller_counts_per_unit",
    "absolute_range",
    "lower_wrap",
    "upper_wrap",
    "turns_that_close_the_cycle",
    "cycle_counts",
    "travel_span",
    "controller_stopping_distance",
    "drive_stopping_distance",
    "top_motor_speed",
    "top_encoder_speed",
    "top_count_rate",
)
"""What is shown without being asked for all of it."""

_WORDS: Final = {"absolute_range": "rollover distance"}
_INDENT: Final = 2
_NARROWEST: Final = 30
"""Columns a value needs beside its name; with fewer it stands below."""


def render_derived(
    axes: Sequence[DerivedAxis], options: RenderOptions, *, everything: bool = False
) -> str:
    """Return one table per axis; without ``everything`` the known ones of the main numbers."""
    lines: list[str] = []
    for axis in axes:
        lines += [""] if lines else []
        lines += heading(subject_name(axis.machine, axis.axis), options)
        numbers = list(axis.numbers)
        if not everything:
            order = {name: index for index, name in enumerate(MAIN)}
            numbers = sorted(
                (n for n in numbers if n.name in order and n.text), key=lambda n: order[n.name]
            )
        speeds = [s for s in axis.speeds if everything or s.text]
        room = max((columns(_name(n)) for n in (*numbers, *speeds)), default=0) + 2
        if options.width - _INDENT - room < _NARROWEST:
            room = 0
        for number in numbers:
            lines += _row(number, room, options)
        if speeds:
            lines += ["", "Top speed through each limit"]
            for speed in speeds:
                lines += _row(speed, room, options)
        lacking = sorted({fact for n in (*axis.numbers, *axis.speeds) for fact in n.missing})
        hidden = [n for n in axis.numbers if not n.text and n.name in MAIN]
        if hidden and not everything:
            words = f"Not known: {', '.join(_name(n) for n in hidden)}; --all says what each lacks."
            lines += ["", *wrap(prose(words), options.width)]
        elif everything and lacking:
            lines += [
                "",
                *wrap(prose(f"Facts that would give more: {', '.join(lacking)}."), options.width),
            ]
    return "\n".join(lines) + "\n"


def _name(number: DerivedNumber) -> str:
    name = number.name.removeprefix("speed_by_")
    return _WORDS.get(number.name, name.replace("_", " "))


def _row(number: DerivedNumber, room: int, options: RenderOptions) -> list[str]:
    """The name, the value beside it, and below the value what it means or lacks."""
    name = visible(_name(number))
    if number.text:
        value = visible(number.text) + (" (the lowest)" if number.lowest else "")
    else:
        value = "not known"
    width = options.width - _INDENT - (room or _INDENT)
    said = number.meaning
    if not number.text:
        needs = [f"needs {', '.join(number.missing)}"] if number.missing else []
        said += ": " + "; ".join([*needs, *([number.reason] if number.reason else [])])
    rows = [*wrap(value, width), *wrap(prose(said), width)]
    margin = " " * _INDENT
    if not room:
        below = [f"{margin}{margin}{row}" for row in rows]
        return [margin + paint(name, "word", options), *below]
    first = margin + paint(pad(name, room), "word", options) + rows[0]
    return [first, *(f"{margin}{' ' * room}{row}" for row in rows[1:])]
