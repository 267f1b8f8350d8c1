"""The two places at which a new reference is proved."""

from __future__ import annotations

from ..numbers.exact import Number, div, simplest
from ..numbers.rational import Fraction
from ..numbers.whole import ceil, floor, remainder
from .recalibration import Recalibration
from .recalibration_evidence import AxisEvidence

SHARE_FROM_END = Fraction(1, 10)
"""How far from the ends the places lie, as a share of the travel; common practice, no source."""


def proof_points(
    axis: AxisEvidence, result: Recalibration, unit_size: Fraction
) -> tuple[Number, Number] | None:
    """Two distant places, a tenth of the travel from its ends or half a cycle apart.

    ``unit_size`` is the unit of the axis in base units: the places are round numbers of it. None
    if the ends are not known.
    """
    if result.interval is not None:
        low, high = result.interval
        cycle = simplest(high - low)
        across = remainder(result.here + cycle * Fraction(1, 2) - low, cycle)
        return None if across is None else (result.here, simplest(low + across))
    lowest, highest = axis.number("lowest_point").value, axis.number("highest_point").value
    if lowest is None or highest is None or not lowest < highest:
        return None
    inset = (highest - lowest) * SHARE_FROM_END
    return _rounded(simplest(lowest + inset), simplest(highest - inset), inset, unit_size)


def _rounded(
    low: Number, high: Number, inset: Number, unit_size: Fraction
) -> tuple[Number, Number]:
    """The places moved inwards to round numbers, by less than half of what they are inset."""
    size = div(inset, unit_size)
    if not isinstance(size, int | Fraction):
        return low, high
    step = Fraction(1)
    while step * 2 > size:
        step /= 10
    while step * 20 <= size:
        step *= 10
    whole = step * unit_size
    lowest, highest = div(low, whole), div(high, whole)
    if lowest is None or highest is None:
        return low, high
    first, last = ceil(lowest), floor(highest)
    if first is None or last is None:
        return low, high
    return simplest(whole * first), simplest(whole * last)
