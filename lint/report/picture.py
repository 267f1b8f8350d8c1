"""Pictures of an axis as SVG, drawn to scale from a sketch's exact numbers.

Each thing has its label beside it, and each kind its own sign, so a picture needs no key and no
colour. What is at fault has a ring, a heavy line and a mark before its label. A picture is drawn in
two widths, since text that shrinks with a picture cannot be read on a small screen. Colours come
from the page, by the classes ``picture``, ``ink``, ``thick``, ``heavy``, ``dashed``, ``faint``,
``solid``, ``ground``, ``label``, ``tick``, ``fault``, and one per kind such as ``hard-stop``.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from ..findings.finding import Feature, Picture
from ..numbers.exact import Approx, Number, to_float
from .dial import dial_drawing
from .drawing import css_class, glyph, number, patterns, ruler, stroke, svg_text
from .drawn_faults import NO_FAULTS, Beyond, DrawnFaults
from .labels import LINE, PictureLabel, drawn_label, label, placed

WIDE: Final = 720
NARROW: Final = 318
"""Widths in px: of a page of A4 or a tablet, and of a small phone."""

EDGE: Final = 22
"""Space on the left and right of a strip."""

BAR: Final = 14
"""Height of a bar in px."""


@dataclass(frozen=True, slots=True)
class _Bar:
    """A stretch below the line: its ends in px, and its label."""

    feature: Feature
    start: float
    end: float
    text: PictureLabel
    fault: bool

    @property
    def left(self) -> float:
        return min(self.start, self.end)

    @property
    def right(self) -> float:
        return max(self.start, self.end)

    def text_left(self, room: float) -> float:
        """Where the label begins: at the bar, or further left if it would leave the picture."""
        return max(min(self.left, room - self.text.width), 0.0)

    def span(self, room: float) -> tuple[float, float]:
        """What the bar takes with its label."""
        left = self.text_left(room)
        return min(self.left - 10, left), max(self.right + 10, left + self.text.width)


def draw(picture: Picture, name: str, faults: DrawnFaults = NO_FAULTS, *, width: int = WIDE) -> str:
    """Return the picture as an ``<svg>`` element; ``name`` makes its ids unique on the page.

    ``width`` is in px. The picture is empty if a number is too large to draw.
    """
    low, high = _to_float(picture.low), _to_float(picture.high)
    places = [(_to_float(each.start), _end(each)) for each in picture.features]
    flat = [low, high, *(value for pair in places for value in pair if value is not None)]
    if not all(map(math.isfinite, flat)) or not high > low:
        return ""
    if picture.shape == "strip":
        body, tall = _strip_drawing(picture, (low, high), name, faults, width)
    else:
        body, tall = dial_drawing(picture, high - low, name, faults, width)
    return (
        f'<svg class="picture {picture.shape}" viewBox="0 0 {width} {number(tall)}" '
        f'width="{width}" height="{number(tall)}" role="img" '
        f'aria-labelledby="{name}-title {name}-desc" xmlns="http://www.w3.org/2000/svg">'
        f'<title id="{name}-title">{svg_text(picture.title)}</title>'
        f'<desc id="{name}-desc">{svg_text(described(picture, faults))}</desc>'
        f"<defs>{patterns(name)}</defs>{body}</svg>"
    )


def described(picture: Picture, faults: DrawnFaults = NO_FAULTS) -> str:
    """Return in words what the picture shows, for those who do not see it."""
    things = [
        f"{'At fault: ' if place in faults.features else ''}{each.name}: "
        f"{faults.text(place, each)}."
        for place, each in enumerate(picture.features)
    ]
    return " ".join([picture.summary, *things])


def _end(feature: Feature) -> float | None:
    return None if feature.end is None else _to_float(feature.end)


def _to_float(value: Number) -> float:
    """Return a float close to ``value``; NaN if its error is unbounded."""
    unbounded = isinstance(value, Approx) and math.isinf(value.error)
    return math.nan if unbounded else to_float(value)


# Strips -----------------------------------------------------------------------------------------


def _strip_drawing(
    picture: Picture, ends: tuple[float, float], name: str, faults: DrawnFaults, width: int
) -> tuple[str, float]:
    low, high = ends
    scale = (width - 2 * EDGE) / (high - low)

    def across(value: float) -> float:
        return EDGE + (value - low) * scale

    points, bars = [], []
    for place, feature in enumerate(picture.features):
        fault = place in faults.features
        start, end = across(to_float(feature.start)), _end(feature)
        text = label(feature.name, faults.text(place, feature), width, fault)
        if end is None:
            points.append((start, feature, text))
        else:
            bars.append(_Bar(feature, start, across(end), text, fault))
    labels = [text for _, _, text in points]
    spots = placed([x for x, _, _ in points], labels, width)
    deep = max(
        (row + len(text.lines) for (_, row), text in zip(spots, labels, strict=True)), default=0
    )
    line = 4 + LINE * deep + 30
    parts = [stroke((EDGE, line), (width - EDGE, line), "ink thick")]
    texts = []
    for (x, feature, text), (left, row) in zip(points, spots, strict=True):
        foot = line - 26 - LINE * row
        parts.append(stroke((x, foot - text.height), (x, line), "faint"))
        parts.append(glyph(feature, x, line, name, -1 if x < width / 2 else 1, text.fault))
        if abs(left + text.width - x) < 0.01:
            texts.append(drawn_label(text, x - 4, foot - text.height, "end"))
        else:
            shift = 4 if left == x else 0
            texts.append(drawn_label(text, left + shift, foot - text.height))
    parts += [
        _excess(each, across(to_float(each.start)), across(to_float(each.end)), line)
        for each in faults.beyond.values()
    ]
    below, bottom = _bars(bars, line + 26, name, width)
    parts += below
    parts.append(ruler(low, high, across, bottom + 16, picture.unit, 8 if width >= WIDE else 4))
    return "".join(parts + texts), bottom + 16 + 26


def _excess(each: Beyond, start: float, end: float, y: float) -> str:
    """Return the stretch beyond a hard stop, as a heavy bar on the line of the axis."""
    left, wide = min(start, end), max(abs(end - start), 3)
    return (
        f'<g class="fault"><rect class="solid" x="{number(left)}" y="{number(y - 4)}" '
        f'width="{number(wide)}" height="8"/></g>'
    )


def _bars(bars: Sequence[_Bar], top: float, name: str, width: int) -> tuple[list[str], float]:
    """Return the bars in lanes below each other, and the y below the last."""
    lanes = stacked([each.span(width) for each in bars])
    parts: list[str] = []
    for lane in range(max(lanes, default=-1) + 1):
        here = [each for each, at in zip(bars, lanes, strict=True) if at == lane]
        tall = max(each.text.height for each in here)
        middle = top + tall + 4 + BAR / 2
        for each in here:
            left = each.text_left(width)
            parts.append(drawn_label(each.text, left, top + tall - each.text.height))
            parts.append(_drawn_bar(each, middle, name))
        top = middle + BAR / 2 + 8
    return parts, top


def stacked(spans: Sequence[tuple[float, float]]) -> list[int]:
    """Return for each span the lowest row in which it overlaps none placed before it."""
    rows: list[list[tuple[float, float]]] = []
    found = []
    for low, high in spans:
        free = [
            place
            for place, row in enumerate(rows)
            if all(high <= left or right <= low for left, right in row)
        ]
        if not free:
            free = [len(rows)]
            rows.append([])
        rows[free[0]].append((low, high))
        found.append(free[0])
    return found


def _drawn_bar(bar: _Bar, y: float, name: str) -> str:
    feature, end = bar.feature, bar.end
    fills = {"stopping distance": "hatch", "index band": "dots"}
    fill = f"url(#{name}-{fills[feature.kind]})" if feature.kind in fills else "none"
    body = (
        f'<rect class="ink" x="{number(bar.left)}" y="{number(y - BAR / 2)}" '
        f'width="{number(max(bar.right - bar.left, 1.5))}" height="{BAR}" fill="{fill}"/>'
    )
    if feature.kind == "stopping distance":
        tip = 8 if end >= bar.start else -8
        # The point of the arrow is the place where the axis stops.
        body += f'<path class="solid" d="M{number(end)} {number(y)}l{-tip} -6v12z"/>'
        body += stroke((end, y - 10), (end, y + 10), "ink thick")
    return f'<g class="{css_class(feature, bar.fault)}">{body}</g>'
