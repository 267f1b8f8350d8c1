"""Parts of pictures as SVG: signs of things, ruler, strokes, patterns."""

from __future__ import annotations

import math
from collections.abc import Callable
from html import escape
from typing import Final

from ..findings.finding import Feature
from .layout import visible

FAULT_CLASS: Final = " fault"


def number(value: float) -> str:
    """Return a coordinate, to a hundredth of a pixel."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def svg_text(text: str) -> str:
    """Return text for an element: no markup, nothing that does not print."""
    return escape(visible(text))


def patterns(name: str) -> str:
    """Return the fills and the arrow of a picture; ``name`` makes their ids unique."""
    hatch = 'patternUnits="userSpaceOnUse" patternTransform="rotate(45)"'
    return (
        f'<pattern id="{name}-hatch" width="6" height="6" {hatch}>'
        '<path class="ink" d="M0 0V6"/></pattern>'
        f'<pattern id="{name}-block" width="3" height="3" {hatch}>'
        '<path class="ink" d="M0 0V3"/></pattern>'
        f'<pattern id="{name}-dots" width="5" height="5" patternUnits="userSpaceOnUse">'
        '<circle class="solid" cx="2" cy="2" r="1"/></pattern>'
        + _arrow(f"{name}-arrow", "solid")
        + _arrow(f"{name}-fault", "solid fault")
    )


def _arrow(name: str, classes: str) -> str:
    """Return the head of an arrow, which does not take the colour of its line."""
    return (
        f'<marker id="{name}" viewBox="0 0 8 8" refX="7" refY="4" markerWidth="8" '
        'markerHeight="8" markerUnits="userSpaceOnUse" orient="auto">'
        f'<path class="{classes}" d="M0 0L8 4L0 8z"/></marker>'
    )


def stroke(start: tuple[float, float], end: tuple[float, float], classes: str) -> str:
    """Return a straight line."""
    (x1, y1), (x2, y2) = start, end
    return (
        f'<line class="{classes}" x1="{number(x1)}" y1="{number(y1)}" x2="{number(x2)}" '
        f'y2="{number(y2)}"/>'
    )


def glyph(feature: Feature, x: float, y: float, name: str, outward: int, fault: bool) -> str:
    """Return the sign of a point, in a group of its kind; one at fault has a ring around it."""
    body = _symbol(feature, x, y, name, outward)
    if fault:
        body += f'<circle class="ink heavy ring" cx="{number(x)}" cy="{number(y)}" r="16"/>'
    return f'<g class="{css_class(feature, fault)}">{body}</g>'


def css_class(feature: Feature, fault: bool) -> str:
    """Return the classes of a feature."""
    return feature.kind.replace(" ", "-") + (FAULT_CLASS if fault else "")


def _symbol(feature: Feature, x: float, y: float, name: str, outward: int) -> str:
    at, high = number(x), number(y)
    match feature.kind:
        case "hard stop":
            left = x if outward > 0 else x - 12
            return (
                f'<rect class="ink thick" x="{number(left)}" y="{number(y - 18)}" width="12" '
                f'height="36" fill="url(#{name}-block)"/>'
                + stroke((x, y - 20), (x, y + 20), "ink heavy")
            )
        case "limit switch":
            return f'<path class="solid" d="M{at} {high}l-7 -13h14z"/>'
        case "software limit":
            return f'<path class="ink thick dashed" d="M{at} {number(y - 20)}v40"/>'
        case "home switch":
            return (
                f'<rect class="ground ink thick" x="{number(x - 6)}" y="{number(y - 6)}" '
                'width="12" height="12"/>'
            )
        case "index pulse":
            return f'<path class="solid" d="M{at} {number(y - 9)}l6 9l-6 9l-6 -9z"/>'
        case "reference":
            return (
                f'<circle class="ground ink thick" cx="{at}" cy="{high}" r="8"/>'
                f'<path class="ink" d="M{number(x - 11)} {high}h22M{at} {number(y - 11)}v22"/>'
            )
        case _:
            top = number(y - 20)
            return (
                f'<path class="ink thick" d="M{number(x - 2)} {top}v40M{number(x + 2)} {top}v40"/>'
            )


def ruler(
    low: float,
    high: float,
    across: Callable[[float], float],
    y: float,
    unit: str,
    parts: int,
) -> str:
    """Return a scale with about so many parts between round numbers, and its unit at the end."""
    step = _step((high - low) / parts)
    drawn = [stroke((across(low), y), (across(high), y), "faint")]
    values = [count * step for count in range(math.ceil(low / step), math.floor(high / step) + 1)]
    for value in values:
        x = across(value)
        drawn.append(stroke((x, y), (x, y + 6), "faint"))
        drawn.append(tick(value, x, y + 20))
    drawn.append(
        f'<text class="tick" x="{number(across(high))}" y="{number(y - 4)}" '
        f'text-anchor="end">{svg_text(unit)}</text>'
    )
    return "".join(drawn)


def tick(value: float, x: float, y: float, unit: str = "") -> str:
    """Return a number of a scale."""
    text = _tick_text(value) + svg_text(unit)
    return f'<text class="tick" x="{number(x)}" y="{number(y)}" text-anchor="middle">{text}</text>'


def _step(least: float) -> float:
    """Return the round number (1, 2 or 5 times a power of ten) next above ``least``."""
    power = 10.0 ** math.floor(math.log10(least))
    return next(each * power for each in (1, 2, 5, 10, 20) if each * power >= least)


def _tick_text(value: float) -> str:
    text = f"{value:.9g}"
    return "0" if float(text) == 0 else text
