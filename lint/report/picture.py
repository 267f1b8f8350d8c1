"""Pictures of an axis as SVG, drawn to scale from a sketch's exact numbers.

Every feature has a number that a table next to the picture explains, and every kind has its own
shape, so the picture needs neither colours nor words. Its colours come from the page, by the
classes ``picture``, ``ink``, ``thick``, ``heavy``, ``dashed``, ``faint``, ``solid``,
``ground``, ``key``, ``tick``, and one per kind such as ``hard-stop``.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from html import escape
from typing import Final

from ..findings.finding import Feature, Picture
from ..numbers.exact import Approx, Number, to_float
from .layout import visible

WIDTH: Final = 960
EDGE: Final = 44
"""Space on the left and right of a strip, for the labels at its ends."""

KEY: Final = 10
"""Radius of the circle around a number."""

ROW: Final = 2 * KEY + 4
LANE: Final = 26
RADIUS: Final = 118
MOST_STROKES: Final = 400

_POINT_WORDS: Final = {
    "hard stop": "hatched block",
    "limit switch": "solid triangle",
    "soft limit": "dashed line",
    "home switch": "open square",
    "index pulse": "solid diamond",
    "reference": "circle with a cross",
    "wrap": "double line",
    "stopping distance": "hatched bar with an arrow",
    "travel": "open bar",
    "index band": "dotted bar",
    "encoder turn": "short strokes inside the circle",
    "drift": "arc with an arrow",
}


def shape_words(feature: Feature) -> str:
    """Return the name of a feature's symbol, for the table next to the picture."""
    return _POINT_WORDS[feature.kind]


def draw(picture: Picture, name: str) -> str:
    """Return the picture as an ``<svg>`` element; ``name`` makes its ids unique on the page.

    Features have numbers from 1 in their order. It is empty if a number is too large to draw.
    """
    low, high = _to_float(picture.low), _to_float(picture.high)
    places = [(_to_float(each.start), _end(each)) for each in picture.features]
    flat = [low, high, *(value for pair in places for value in pair if value is not None)]
    if not all(map(math.isfinite, flat)) or not high > low:
        return ""
    body, across, tall = (_strip_drawing if picture.shape == "strip" else _dial_drawing)(
        picture, low, high, name
    )
    return (
        f'<svg class="picture {picture.shape}" viewBox="0 0 {across} {_n(tall)}" width="{across}" '
        f'height="{_n(tall)}" role="img" aria-labelledby="{name}-title {name}-desc" '
        f'xmlns="http://www.w3.org/2000/svg">'
        f'<title id="{name}-title">{_svg_text(picture.title)}</title>'
        f'<desc id="{name}-desc">{_svg_text(picture.summary)}</desc>'
        f"<defs>{_patterns(name)}</defs>{body}</svg>"
    )


def _end(feature: Feature) -> float | None:
    return None if feature.end is None else _to_float(feature.end)


def _to_float(value: Number) -> float:
    """Return a float close to ``value``; NaN if its error is unbounded."""
    unbounded = isinstance(value, Approx) and math.isinf(value.error)
    return math.nan if unbounded else to_float(value)


# Strips -----------------------------------------------------------------------------------------


def _strip_drawing(picture: Picture, low: float, high: float, name: str) -> tuple[str, int, float]:
    scale = (WIDTH - 2 * EDGE) / (high - low)

    def across(value: Number | float) -> float:
        return EDGE + ((value if isinstance(value, float) else to_float(value)) - low) * scale

    numbered = list(enumerate(picture.features, 1))
    points = [(across(each.start), key, each) for key, each in numbered if each.end is None]
    bars = [
        (across(each.start), across(each.end), key, each)
        for key, each in numbered
        if each.end is not None
    ]
    rows = _stacked([(x - KEY - 2, x + KEY + 2) for x, _, _ in points])
    line = 12 + ROW * (max(rows, default=-1) + 1) + 26
    parts = [f'<line class="ink thick" x1="{EDGE}" y1="{line}" x2="{WIDTH - EDGE}" y2="{line}"/>']
    middle = WIDTH / 2
    heights = [line - 38 - ROW * row for row in rows]
    for (x, _, _), y in zip(points, heights, strict=True):
        parts.append(_stroke((x, y + KEY), (x, line), "faint"))
    for x, _, feature in points:
        parts.append(_glyph(feature, x, line, name, outward=-1 if x < middle else 1))
    for (x, key, _), y in zip(points, heights, strict=True):
        parts.append(_key_circle(x, y, key))
    lanes = _stacked([_bar_span(start, end) for start, end, _, _ in bars])
    for (start, end, key, feature), lane in zip(bars, lanes, strict=True):
        parts.append(_bar(feature, start, end, line + 32 + LANE * lane, key, name))
    ruler = line + 30 + LANE * (max(lanes, default=-1) + 1) + 4
    parts.append(_ruler(low, high, across, ruler, picture.unit))
    return "".join(parts), WIDTH, ruler + 34


def _stacked(spans: Sequence[tuple[float, float]]) -> list[int]:
    """Return for each span the lowest row in which it overlaps none placed before it."""
    rows: list[list[tuple[float, float]]] = []
    placed = []
    for low, high in spans:
        free = [
            number
            for number, row in enumerate(rows)
            if all(high <= left or right <= low for left, right in row)
        ]
        if not free:
            free = [len(rows)]
            rows.append([])
        rows[free[0]].append((low, high))
        placed.append(free[0])
    return placed


def _bar_span(start: float, end: float) -> tuple[float, float]:
    """Return the left and right end of a bar with its number."""
    low, high = min(start, end), max(start, end)
    key = _bar_key(start, end)
    return min(low, key - KEY) - 3, max(high, key + KEY) + 3


def _bar_key(start: float, end: float) -> float:
    """Return the place of a bar's number: inside if there is room, else before its start."""
    if abs(end - start) > 6 * KEY:
        return (start + end) / 2
    return start + (KEY + 4 if end < start else -KEY - 4)


def _bar(feature: Feature, start: float, end: float, y: float, key: int, name: str) -> str:
    low, wide = min(start, end), max(abs(end - start), 1.5)
    fills = {"stopping distance": "hatch", "index band": "dots"}
    fill = f"url(#{name}-{fills[feature.kind]})" if feature.kind in fills else "none"
    body = (
        f'<rect class="ink" x="{_n(low)}" y="{_n(y - 7)}" width="{_n(wide)}" height="14" '
        f'fill="{fill}"/>'
    )
    if feature.kind == "stopping distance":
        tip = 8 if end >= start else -8
        # The point of the arrow is the place where the axis stops.
        body += (
            f'<path class="solid" d="M{_n(end)} {_n(y)}l{-tip} -6v12z"/>'
            f'<line class="ink" x1="{_n(end)}" y1="{_n(y - 10)}" x2="{_n(end)}" y2="{_n(y + 10)}"/>'
        )
    return f'<g class="{_css_class(feature)}">{body}</g>' + _key_circle(
        _bar_key(start, end), y, key
    )


def _glyph(feature: Feature, x: float, y: float, name: str, outward: int) -> str:
    return f'<g class="{_css_class(feature)}">{_symbol(feature, x, y, name, outward)}</g>'


def _css_class(feature: Feature) -> str:
    return feature.kind.replace(" ", "-")


def _symbol(feature: Feature, x: float, y: float, name: str, outward: int) -> str:
    at = _n(x)
    match feature.kind:
        case "hard stop":
            left = x if outward > 0 else x - 12
            return (
                f'<rect class="ink thick" x="{_n(left)}" y="{y - 18}" width="12" height="36" '
                f'fill="url(#{name}-block)"/>'
                f'<line class="ink heavy" x1="{at}" y1="{y - 20}" x2="{at}" y2="{y + 20}"/>'
            )
        case "limit switch":
            return f'<path class="solid" d="M{at} {y}l-7 -13h14z"/>'
        case "soft limit":
            return f'<path class="ink thick dashed" d="M{at} {y - 20}V{y + 20}"/>'
        case "home switch":
            corner = _n(x - 6)
            return (
                f'<rect class="ground ink thick" x="{corner}" y="{y - 6}" width="12" height="12"/>'
            )
        case "index pulse":
            return f'<path class="solid" d="M{at} {y - 9}l6 9l-6 9l-6 -9z"/>'
        case "reference":
            return (
                f'<circle class="ground ink thick" cx="{at}" cy="{y}" r="8"/>'
                f'<path class="ink" d="M{_n(x - 11)} {y}h22M{at} {y - 11}v22"/>'
            )
        case _:
            return f'<path class="ink thick" d="M{_n(x - 2)} {y - 20}v40M{_n(x + 2)} {y - 20}v40"/>'


def _key_circle(x: float, y: float, key: int) -> str:
    return (
        f'<circle class="ground ink" cx="{_n(x)}" cy="{_n(y)}" r="{KEY}"/>'
        f'<text class="key" x="{_n(x)}" y="{_n(y + 4)}" text-anchor="middle">{key}</text>'
    )


def _ruler(low: float, high: float, across: Callable[[float], float], y: float, unit: str) -> str:
    step = _step((high - low) / 8)
    parts = [f'<line class="faint" x1="{EDGE}" y1="{_n(y)}" x2="{WIDTH - EDGE}" y2="{_n(y)}"/>']
    for count in range(math.ceil(low / step), math.floor(high / step) + 1):
        value = count * step
        x = _n(across(value))
        parts.append(f'<line class="faint" x1="{x}" y1="{_n(y)}" x2="{x}" y2="{_n(y + 6)}"/>')
        parts.append(_tick(value, across(value), y + 20))
    parts.append(
        f'<text class="tick" x="{WIDTH - EDGE + 6}" y="{_n(y + 4)}">{_svg_text(unit)}</text>'
    )
    return "".join(parts)


def _tick(value: float, x: float, y: float, unit: str = "") -> str:
    text = _tick_text(value) + _svg_text(unit)
    return f'<text class="tick" x="{_n(x)}" y="{_n(y)}" text-anchor="middle">{text}</text>'


def _step(least: float) -> float:
    """Return the round number (1, 2 or 5 times a power of ten) next above ``least``."""
    power = 10.0 ** math.floor(math.log10(least))
    return next(each * power for each in (1, 2, 5, 10, 20) if each * power >= least)


def _tick_text(value: float) -> str:
    text = f"{value:.9g}"
    return "0" if float(text) == 0 else text


# Dials ------------------------------------------------------------------------------------------


def _dial_drawing(picture: Picture, low: float, high: float, name: str) -> tuple[str, int, float]:
    cycle = high - low
    keys = _key_places(picture.features, cycle)
    centre = math.ceil(max([RADIUS + 24, *(radius for _, radius in keys)])) + KEY + 2

    def at(value: float, radius: float) -> tuple[float, float]:
        angle = math.tau * math.fmod(value, cycle) / cycle
        return centre + radius * math.sin(angle), centre - radius * math.cos(angle)

    parts = [f'<circle class="ink thick" cx="{centre}" cy="{centre}" r="{RADIUS}" fill="none"/>']
    for twelfth in range(12):
        value = cycle * twelfth / 12
        long = twelfth % 3 == 0
        parts.append(_stroke(at(value, RADIUS), at(value, RADIUS + (9 if long else 5)), "faint"))
        if long:
            x, y = at(value, RADIUS - 26)
            parts.append(_tick(value, x, y + 4, f" {picture.unit}" if twelfth == 0 else ""))
    drifts = 0
    for feature in picture.features:
        start, end = to_float(feature.start), _end(feature)
        if feature.kind == "encoder turn":
            for count in range(min(round(cycle / start), MOST_STROKES)):
                value = count * start
                parts.append(_stroke(at(value, RADIUS), at(value, RADIUS - 14), "ink thick"))
        elif feature.kind == "drift" and end is not None:
            drifts += 1
            parts.append(_arc(start, end, cycle, RADIUS - 44 - 9 * drifts, at, name))
            parts.append(_stroke(at(end, RADIUS - 6), at(end, RADIUS + 12), "ink thick"))
        else:
            x, y = at(start, RADIUS)
            parts.append(_glyph(feature, x, round(y, 2), name, outward=1))
    parts += [_key_circle(*at(value, radius), key) for key, (value, radius) in enumerate(keys, 1)]
    return "".join(parts), 2 * centre, 2 * centre


def _key_places(features: Sequence[Feature], cycle: float) -> list[tuple[float, float]]:
    """Return the place of each number: a position on the dial, and a radius.

    Numbers at nearly the same angle form a row outwards.
    """
    places: list[tuple[float, float]] = []
    for feature in features:
        start, end = to_float(feature.start), _end(feature)
        if feature.kind == "encoder turn":
            start, end = start / 2, None
        value = start if end is None else end
        turn = value / cycle
        apart = [min((each / cycle - turn) % 1, (turn - each / cycle) % 1) for each, _ in places]
        near = sum(each < 0.03 for each in apart)
        places.append((value, RADIUS + 24 + near * (2 * KEY + 2)))
    return places


def _arc(
    start: float,
    end: float,
    cycle: float,
    radius: float,
    at: Callable[[float, float], tuple[float, float]],
    name: str,
) -> str:
    (x0, y0), (x1, y1) = at(start, radius), at(end, radius)
    sweep, large = int(end > start), int(abs(end - start) > cycle / 2)
    return (
        f'<path class="ink thick" fill="none" marker-end="url(#{name}-arrow)" '
        f'd="M{_n(x0)} {_n(y0)}A{_n(radius)} {_n(radius)} 0 {large} {sweep} {_n(x1)} {_n(y1)}"/>'
    )


def _stroke(start: tuple[float, float], end: tuple[float, float], classes: str) -> str:
    (x1, y1), (x2, y2) = start, end
    return f'<line class="{classes}" x1="{_n(x1)}" y1="{_n(y1)}" x2="{_n(x2)}" y2="{_n(y2)}"/>'


# Parts ------------------------------------------------------------------------------------------


def _patterns(name: str) -> str:
    hatch = 'patternUnits="userSpaceOnUse" patternTransform="rotate(45)"'
    return (
        f'<pattern id="{name}-hatch" width="6" height="6" {hatch}>'
        '<path class="ink" d="M0 0V6"/></pattern>'
        f'<pattern id="{name}-block" width="3" height="3" {hatch}>'
        '<path class="ink" d="M0 0V3"/></pattern>'
        f'<pattern id="{name}-dots" width="5" height="5" patternUnits="userSpaceOnUse">'
        '<circle class="solid" cx="2" cy="2" r="1"/></pattern>'
        f'<marker id="{name}-arrow" viewBox="0 0 8 8" refX="7" refY="4" markerWidth="8" '
        'markerHeight="8" markerUnits="userSpaceOnUse" orient="auto">'
        '<path class="solid" d="M0 0L8 4L0 8z"/></marker>'
    )


def _n(value: float) -> str:
    """Return a coordinate, to a hundredth of a pixel."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _svg_text(text: str) -> str:
    return escape(visible(text))
