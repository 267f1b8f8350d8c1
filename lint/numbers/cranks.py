"""A crank with its rod in line: how far its slide moves, and how far it moves for an angle.

Angles are turns from the dead point at which the slide is furthest from the shaft. ``ratio`` is
crank radius over rod length, and results are shares of the radius. Rod and crank make
x = cos θ + √(1/ratio² - sin² θ). The size of its derivative is the slope,
|sin θ·(1 + ratio·cos θ / √(1 - ratio²·sin² θ))|. It rises from a dead point to one peak, and falls
to the next dead point.
"""

from __future__ import annotations

import math

from .exact import Approx, Number, to_approx

_ROUNDING = 1e-12
"""More than the floats below lose, for ratios up to ``_MOST``."""
_MOST = 0.99
"""A rod that is hardly longer than its crank has a slope that no float can follow."""


def _slope(ratio: float, turns: float) -> float:
    angle = math.tau * turns
    sine = math.sin(angle)
    return abs(sine * (1 + ratio * math.cos(angle) / math.sqrt(1 - (ratio * sine) ** 2)))


def _position(ratio: float, turns: float) -> float:
    angle = math.tau * turns
    return math.cos(angle) + math.sqrt(1 - (ratio * math.sin(angle)) ** 2) / ratio


def _peak(ratio: float) -> float:
    """The turn between 0 and a quarter at which the slope is largest, by halving thirds."""
    low, high = 0.0, 0.25
    for _ in range(80):
        third = (high - low) / 3
        if _slope(ratio, low + third) < _slope(ratio, high - third):
            low += third
        else:
            high -= third
    return (low + high) / 2


def _ends(ratio: Number, low: Number, high: Number) -> tuple[float, float, float, float] | None:
    """Ratio, both ends, and how far the ends may be off; None outside what can be told."""
    share, first, last = to_approx(ratio), to_approx(low), to_approx(high)
    if not 0 < share.value <= _MOST or first.value > last.value:
        return None
    return share.value, first.value, last.value, first.error + last.error + share.error


def _holds(at: float, first: float, last: float, off: float) -> bool:
    """Whether ``at``, or it and whole turns, lies between both ends, or within their error."""
    return math.floor(last + off - at) >= math.ceil(first - off - at)


def largest_crank_slope(ratio: Number, low: Number, high: Number) -> Number | None:
    """The largest slope between two angles: that of a peak between them, else of an end."""
    known = _ends(ratio, low, high)
    if known is None:
        return None
    share, first, last, off = known
    peak = _peak(share)
    error = _ROUNDING + off * math.tau * 100
    if any(_holds(at, first, last, off) for at in (peak, -peak)):
        return Approx(_slope(share, peak), error)
    return Approx(max(_slope(share, first), _slope(share, last)), error)


def smallest_crank_slope(ratio: Number, low: Number, high: Number) -> Number | None:
    """The smallest slope between two angles: 0 where a dead point lies there, else of an end."""
    known = _ends(ratio, low, high)
    if known is None:
        return None
    share, first, last, off = known
    if any(_holds(at, first, last, off) for at in (0.0, 0.5)):
        return 0
    return Approx(min(_slope(share, first), _slope(share, last)), _ROUNDING + off * math.tau * 100)


def crank_travel(ratio: Number, low: Number, high: Number) -> Number | None:
    """How far the slide moves between two angles: 2 where both dead points lie there."""
    known = _ends(ratio, low, high)
    if known is None:
        return None
    share, first, last, off = known
    places = [_position(share, end) for end in (first, last)]
    dead = [at for at in (0.0, 0.5) if _holds(at, first, last, off)]
    if len(dead) == 2:
        return 2
    places += [_position(share, at) for at in dead]
    error = (_ROUNDING + off * math.tau * 100) / share
    return Approx(max(places) - min(places), error)
