"""The picture of an endless axis: one cycle as a dial, with labels on both sides."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from ..findings.finding import Feature, Picture
from ..numbers.exact import to_float
from .drawing import css_class, glyph, number, stroke, tick
from .drawn_faults import DrawnFaults
from .labels import PictureLabel, beside, drawn_label, label

MOST_STROKES: Final = 400
GAP: Final = 22
"""From the dial to the labels, in px."""

LEAST_FOR_NUMBERS: Final = 70
"""Radius of a dial that has room for numbers inside, in px."""

_At = Callable[[float, float], tuple[float, float]]


@dataclass(frozen=True, slots=True)
class _Pointed:
    """A label, the place on the dial that it belongs to, and the side on which it stands."""

    text: PictureLabel
    x: float
    y: float
    right: bool


def dial_drawing(
    picture: Picture, cycle: float, name: str, faults: DrawnFaults, width: int
) -> tuple[str, float]:
    """Return the body of the picture and its height; the cycle starts at the top, clockwise."""
    radius = min(118.0, width * 0.145)
    column = width / 2 - radius - GAP
    centre = width / 2

    def place(value: float, away: float) -> tuple[float, float]:
        angle = math.tau * math.fmod(value, cycle) / cycle
        return centre + away * math.sin(angle), -away * math.cos(angle)

    pointed = _labels(
        picture.features, faults, cycle, column, lambda value: place(value, radius), centre
    )
    tops = _tops(pointed)
    highest = min([-radius - 16, *tops])
    lowest = max(
        [radius + 16, *(top + each.text.height for top, each in zip(tops, pointed, strict=True))]
    )
    middle = 4 - highest

    def at(value: float, away: float) -> tuple[float, float]:
        x, y = place(value, away)
        return x, y + middle

    parts = _face(cycle, picture.unit, radius, at, (centre, middle))
    drifts = 0
    for number_of, feature in enumerate(picture.features):
        drifts += feature.kind == "drift"
        fault = number_of in faults.features
        parts.append(_thing(feature, fault, (cycle, radius, drifts), at, name))
    for top, each in zip(tops, pointed, strict=True):
        parts.append(_leader(each, top, middle, width, column))
        left = width - column if each.right else column
        anchor = "start" if each.right else "end"
        parts.append(drawn_label(each.text, left, top + middle, anchor))
    return "".join(parts), middle + lowest + 4


def _labels(
    features: Sequence[Feature],
    faults: DrawnFaults,
    cycle: float,
    column: float,
    place: Callable[[float], tuple[float, float]],
    centre: float,
) -> list[_Pointed]:
    found = []
    for number_of, feature in enumerate(features):
        start = to_float(feature.start)
        end = None if feature.end is None else to_float(feature.end)
        if feature.kind == "encoder turn" or end is None:
            value = start
        else:
            value = end
        x, y = place(value)
        text = label(feature.name, feature.text, column, number_of in faults.features)
        found.append(_Pointed(text, x, y, x >= centre - 1e-6))
    return found


def _tops(pointed: Sequence[_Pointed]) -> list[float]:
    """The top of each label, relative to the middle of the dial."""
    tops = [0.0] * len(pointed)
    for side in (False, True):
        here = [place for place, each in enumerate(pointed) if each.right == side]
        found = beside([pointed[each].y for each in here], [pointed[each].text for each in here])
        for each, top in zip(here, found, strict=True):
            tops[each] = top
    return tops


def _leader(each: _Pointed, top: float, middle: float, width: float, column: float) -> str:
    y = top + middle + 8
    near = width - column - 3 if each.right else column + 3
    return stroke((each.x, each.y + middle), (near, y), "faint")


def _face(
    cycle: float, unit: str, radius: float, at: _At, middle: tuple[float, float]
) -> list[str]:
    x, y = middle
    parts = [
        f'<circle class="ink thick" cx="{number(x)}" cy="{number(y)}" r="{number(radius)}" '
        'fill="none"/>'
    ]
    for twelfth in range(12):
        value = cycle * twelfth / 12
        long = twelfth % 3 == 0
        parts.append(stroke(at(value, radius), at(value, radius + (9 if long else 5)), "faint"))
        if long and radius >= LEAST_FOR_NUMBERS:
            x, y = at(value, radius - 22)
            parts.append(tick(value, x, y + 4, f" {unit}" if twelfth == 0 else ""))
    return parts


def _thing(
    feature: Feature, fault: bool, sizes: tuple[float, float, int], at: _At, name: str
) -> str:
    cycle, radius, drifts = sizes
    start = to_float(feature.start)
    end = None if feature.end is None else to_float(feature.end)
    if feature.kind == "encoder turn":
        strokes = (
            stroke(at(count * start, radius), at(count * start, radius - 12), "ink thick")
            for count in range(min(round(cycle / start), MOST_STROKES))
        )
        body = "".join(strokes)
    elif feature.kind == "drift" and end is not None:
        away = radius * (0.68 - 0.08 * drifts)
        body = _arc(start, end, cycle, away, at, f"{name}-{'fault' if fault else 'arrow'}")
        body += stroke(at(end, radius - 6), at(end, radius + 12), "ink heavy")
    else:
        x, y = at(start, radius)
        return glyph(feature, x, y, name, 1, fault)
    return f'<g class="{css_class(feature, fault)}">{body}</g>'


def _arc(start: float, end: float, cycle: float, radius: float, at: _At, arrow: str) -> str:
    (x0, y0), (x1, y1) = at(start, radius), at(end, radius)
    sweep, large = int(end > start), int(abs(end - start) > cycle / 2)
    return (
        f'<path class="ink thick" fill="none" marker-end="url(#{arrow})" '
        f'd="M{number(x0)} {number(y0)}A{number(radius)} {number(radius)} 0 {large} {sweep} '
        f'{number(x1)} {number(y1)}"/>'
    )
