"""Which parts of a picture are at fault: the switch that is too near, the limit that lies beyond.

A finding is drawn where its rule names a kind of thing in the picture. Of two sides, the one at
fault is that whose position the finding names alone. If it names both, it is the one on which the
order from the hard stop inwards is wrong.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from types import MappingProxyType
from typing import Final

from ..findings.finding import SIDES, Feature, FeatureKind, Finding, Picture, Side
from ..numbers.exact import Number, maximum, minimum
from ..numbers.formats import say_rounded

DRAWN: Final = MappingProxyType(
    {
        "endless-reference-where-switch-stands": ("reference",),
        "gantry-partners-limits-alike": ("software limit",),
        "gantry-partners-set-at-one-position": ("reference",),
        "gantry-references-square": ("reference",),
        "hard-stop-is-not-the-only-limit": ("hard stop",),
        "hard-stops-in-order": ("hard stop",),
        "home-switch-between-limit-switches": ("home switch",),
        "home-switch-covers-travel-end": ("home switch",),
        "home-switch-input-in-use": ("home switch",),
        "index-beyond-switch-scatter": ("index pulse",),
        "index-clear-of-switch-edge": ("index pulse",),
        "index-mark-ahead-of-axis": ("index pulse",),
        "index-mark-ahead-of-switch": ("index pulse",),
        "index-mark-beyond-switch-scatter": ("index pulse",),
        "index-mark-clear-of-switch-edge": ("index pulse", "home switch"),
        "index-mark-within-reach": ("index pulse",),
        "limit-cam-reaches-hard-stop": ("limit switch",),
        "limit-inputs-stop-the-right-way": ("limit switch",),
        "limit-switch-inputs-in-use": ("limit switch",),
        "limit-switch-stops-before-hard-stop": ("limit switch", "stopping distance"),
        "limit-switches-in-order": ("limit switch",),
        "load-brake-stops-before-hard-stop": ("limit switch",),
        "power-cut-stops-before-hard-stop": ("limit switch",),
        "one-chosen-mark-is-homed-alone": ("index pulse",),
        "reference-at-its-own-end": ("reference",),
        "reference-has-been-taught": ("reference",),
        "reference-not-of-another-mark": ("reference",),
        "reference-taught-with-fitted-drive": ("reference",),
        "reference-taught-with-fitted-encoder": ("reference",),
        "reference-taught-with-fitted-motor": ("reference",),
        "reference-where-mark-lies": ("reference", "index pulse"),
        "reference-where-switch-stands": ("reference",),
        "reference-within-cycle": ("reference",),
        "reference-within-travel": ("reference",),
        "rollover-divides-cycle": ("drift",),
        "search-ends-before-limit-switch": ("home switch",),
        "software-limits-await-homing": ("software limit",),
        "software-limits-in-order": ("software limit",),
        "software-limits-leave-room-to-stop": ("software limit", "stopping distance"),
        "turn-range-covers-travel": ("wrap",),
        "wrap-outside-travel": ("wrap",),
    }
)
"""Rules whose findings a picture shows, each with the kinds of things that are then at fault."""

_INWARDS: Final[tuple[FeatureKind, ...]] = ("hard stop", "limit switch", "software limit")
"""What a side has, from outside to inside."""


@dataclass(frozen=True, slots=True)
class Beyond:
    """A stretch beyond a hard stop or limit switch: from there to where the axis would be."""

    start: Number
    end: Number
    words: str


@dataclass(frozen=True, slots=True)
class DrawnFaults:
    """The features at fault by their place in the picture, what lies beyond, and the findings."""

    features: frozenset[int] = frozenset()
    beyond: Mapping[int, Beyond] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()

    def text(self, place: int, feature: Feature) -> str:
        """Return the text of a feature, and how far it lies beyond."""
        beyond = self.beyond.get(place)
        return f"{feature.text} ({beyond.words})" if beyond else feature.text


NO_FAULTS: Final = DrawnFaults()


def drawn_faults(picture: Picture, findings: Iterable[Finding]) -> DrawnFaults:
    """Return what a picture shows of the findings on its axis; waived ones are drawn too."""
    at_fault: set[int] = set()
    shown: list[Finding] = []
    for finding in findings:
        places = _places(picture, finding)
        if places:
            shown.append(finding)
            at_fault |= places
    beyond = {
        place: each
        for place in sorted(at_fault)
        if (each := _beyond(picture, picture.features[place])) is not None
    }
    return DrawnFaults(frozenset(at_fault), beyond, tuple(shown))


def _places(picture: Picture, finding: Finding) -> set[int]:
    kinds = DRAWN.get(finding.rule, ())
    found = {
        number
        for number, feature in enumerate(picture.features)
        if feature.kind in kinds and _is_of_the_rule(feature, kinds)
    }
    inside = {number for number in found if _wraps_within_travel(picture, number)}
    if inside:
        return inside
    sides = {picture.features[number].side for number in found}
    if sides != {"lower", "upper"}:
        return found
    side = _side_at_fault(picture, finding, [picture.features[number] for number in found])
    return {number for number in found if side in ("", picture.features[number].side)}


def _is_of_the_rule(feature: Feature, kinds: Sequence[str]) -> bool:
    """Whether a stopping distance starts at a thing of the rule: each limit has one of its own."""
    if feature.kind != "stopping distance":
        return True
    part = "limit switch" if "limit_switches" in feature.fact else "software limit"
    return part in kinds


def _side_at_fault(picture: Picture, finding: Finding, found: Sequence[Feature]) -> Side:
    """The side that the finding is about; empty if one cannot tell."""
    base = f"axes.{finding.subject}."
    named = {mark.fact.removeprefix(base) for mark in finding.marks}
    sides = {feature.side for feature in found if feature.fact in named}
    if len(sides) == 1:
        return sides.pop()
    wrong = [side for side in SIDES if _order_is_wrong(picture, side)]
    return wrong[0] if len(wrong) == 1 else ""


def _order_is_wrong(picture: Picture, side: Side) -> bool:
    """Whether something on a side lies further out than it may, runs past a limit included."""
    there = [feature for feature in picture.features if feature.side == side]
    places: list[Number] = []
    for kind in _INWARDS:
        places += [each.start for each in there if each.kind == kind and each.end is None]
    for outer, inner in pairwise(places):
        if _further_out(inner, outer, side):
            return True
    return any(_beyond(picture, feature) is not None for feature in there)


def _further_out(value: Number, bound: Number, side: Side) -> bool:
    return (value > bound if side == "upper" else value < bound) is True


def _wraps_within_travel(picture: Picture, number: int) -> bool:
    """Whether a feature is a wrap that lies where the axis travels."""
    wrap = picture.features[number]
    ends = _travel(picture)
    if wrap.kind != "wrap" or ends is None:
        return False
    return (ends[0] <= wrap.start) is True and (wrap.start <= ends[1]) is True


def _travel(picture: Picture) -> tuple[Number, Number] | None:
    """The lower and upper hard stop, if the picture shows both."""
    for each in picture.features:
        if each.kind == "travel" and each.end is not None:
            return each.start, each.end
    stops = [each.start for each in picture.features if each.kind == "hard stop"]
    low, high = minimum(stops), maximum(stops)
    return None if len(stops) != 2 or low is None or high is None else (low, high)


def _beyond(picture: Picture, feature: Feature) -> Beyond | None:
    """How far a point, or the end of a run, lies beyond the hard stop or limit switch."""
    if feature.kind in ("hard stop", "wrap", "drift", "travel", "index band"):
        return None
    at = feature.start if feature.end is None else feature.end
    for side in SIDES:
        bound = _bound(picture, feature, side)
        if bound is not None and _further_out(at, bound.start, side):
            length = at - bound.start if side == "upper" else bound.start - at
            words = f"{say_rounded(length, picture.unit, way=1)} beyond the {bound.kind}"
            return Beyond(bound.start, at, words)
    return None


def _bound(picture: Picture, feature: Feature, side: Side) -> Feature | None:
    """What a feature may not pass on a side: a run past a software limit ends before the switch."""
    ends = {
        each.kind: each
        for each in picture.features
        if each.end is None and each.side == side and each.kind in ("hard stop", "limit switch")
    }
    of_soft_limit = "software_limits" in feature.fact
    return (ends.get("limit switch") if of_soft_limit else None) or ends.get("hard stop")
