"""From a machine to sketches: what the pictures of each axis show, in exact numbers.

Derived numbers come from the definitions in ``rules/``, so a picture agrees with the findings. A
sketch leaves out what is not known and lists the missing facts.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Final, NamedTuple

from ..base.absence import NONE
from ..catalogue.catalogue import Catalogue
from ..findings.finding import SIDES, AxisSketch, Feature, FeatureKind, Gap, Picture, Side
from ..language.printing import formula, position_unit
from ..language.traced import absolute_path, told
from ..language.tracer import Tracer
from ..machine.homing_methods import method_words, traits, uses_home_switch, uses_index
from ..machine.machine import Machine
from ..machine.records import Facts
from ..numbers.exact import Number, div, eq, maximum, minimum, to_float
from ..numbers.formats import say_plainly
from ..numbers.rational import Fraction
from ..numbers.units import UNITS, in_unit
from ..numbers.whole import nearest_remainder, remainder

ROLLOVERS_SHOWN: Final = 6
"""Number of rollovers whose total shift a dial shows."""

TURNS_SHOWN: Final = 60
"""Most encoder revolutions in a cycle that the dial marks one by one."""

BAND: Final = (Fraction(1, 4), Fraction(3, 4))
"""Part of a revolution that keeps the pulse off the switch edge; common practice, no source."""

REFERENCE: Final = "controller.homing.reference_position"
INDEX: Final = "controller.homing.index_after_switch"
MARKS: Final = "encoder.index_marks"
_SWITCHES: Final = ("negative", "positive")


class _NeededNumber(NamedTuple):
    """A number that a picture needs: the path of a fact, or the name of a definition."""

    name: str
    derived: bool = False


@dataclass
class _AxisDrawing:
    """One axis and what its pictures show so far; positions are in ``unit``."""

    facts: Facts
    tracer: Tracer
    unit: str
    features: list[Feature] = field(default_factory=list)
    absent: list[str] = field(default_factory=list)
    gaps: list[Gap] = field(default_factory=list)

    def get(self, path: str) -> Any:
        """A fact; None if it is missing or none."""
        value = self.facts.get(path)
        return None if value is NONE else value

    def is_none(self, path: str) -> bool:
        """Whether a part is none."""
        return self.facts.get(path) is NONE

    def derived(self, name: str) -> Any:
        """The value of a definition; None if it is unknown."""
        return self.tracer.definition(self.facts, "axis", name).value

    def numbers(self, what: str, *needs: _NeededNumber | str) -> list[Any] | None:
        """The needed values in base units; None, and a gap for ``what``, if one is unknown."""
        values: list[Any] = []
        missing: dict[str, None] = {}
        reasons: dict[str, None] = {}
        for need in needs:
            name, derived = need if isinstance(need, _NeededNumber) else (need, False)
            if derived:
                traced = self.tracer.definition(self.facts, "axis", name)
                values.append(traced.value)
                if traced.value is None:
                    missing.update(dict.fromkeys(traced.missing))
                    reasons.update(dict.fromkeys(traced.reasons))
                continue
            value = self.facts.get(name)
            values.append(value)
            path = absolute_path(self.facts, name)
            if value is NONE:
                reasons[f"{path} is none"] = None
            elif value is None:
                missing[path] = None
        if not missing and not reasons and None not in values:
            return values
        self.gaps.append(Gap(what, tuple(missing), told(reasons)))
        return None

    def shown(self, value: Number) -> Number:
        """A position in base units, converted to the unit of the pictures."""
        return in_unit(value, self.unit)

    def say(self, value: Number) -> str:
        """A position in base units, as text with its unit."""
        return say_plainly(self.shown(value), self.unit)

    def point(
        self,
        kind: FeatureKind,
        name: str,
        at: Number,
        note: str = "",
        fact: str = "",
        side: Side = "",
    ) -> Feature:
        """A feature at one position in base units, which the file states as ``fact``."""
        text = f"{self.say(at)}{f' ({note})' if note else ''}"
        return Feature(kind, name, text, self.shown(at), fact=fact, side=side)

    def stretch(self, kind: FeatureKind, name: str, start: Number, end: Number) -> Feature:
        """A feature from one position to another, in base units."""
        text = f"{self.say(start)} to {self.say(end)}"
        return Feature(kind, name, text, self.shown(start), self.shown(end))


def sketches_of(machine: Machine, label: str, catalogue: Catalogue) -> tuple[AxisSketch, ...]:
    """The pictures of every axis of a machine called ``label``, in file order."""
    tracer = Tracer(catalogue.definitions, catalogue.defaults, formula)
    return tuple(_axis_sketch(facts, label, tracer) for facts in machine.axes)


def _axis_sketch(facts: Facts, label: str, tracer: Tracer) -> AxisSketch:
    name = str(facts["name"])
    description = facts.get("description")
    words = description if isinstance(description, str) else ""
    motion = facts.get("motion")
    if not isinstance(motion, str):
        gap = Gap("every picture", (absolute_path(facts, "motion"),))
        return AxisSketch(label, name, words, gaps=(gap,))
    unit = position_unit(facts)
    if unit not in UNITS:
        unit = "mm" if motion == "linear" else "deg"
    axis = _AxisDrawing(facts, tracer, unit)
    kind = axis.get("controller.type")
    if kind is None:
        axis.gaps.append(Gap("the shape of the axis", (absolute_path(facts, "controller.type"),)))
    pictures: list[Picture] = []
    if kind != "modulo":
        pictures += _travel_strip(axis)
        pictures += _turn_counter_range(axis)
    pictures += _revolution_strip(axis)
    if kind == "modulo":
        pictures += _dial_picture(axis)
    return AxisSketch(label, name, words, tuple(pictures), tuple(axis.absent), tuple(axis.gaps))


# The travel -------------------------------------------------------------------------------------


def _travel_strip(axis: _AxisDrawing) -> list[Picture]:
    """Stops, switches, software limits, stopping distances and reference, on one strip."""
    features: list[Feature] = []
    parts: tuple[tuple[FeatureKind, str, tuple[str, str]], ...] = (
        ("hard stop", "mechanics.travel", ("min", "max")),
        ("limit switch", "mechanics.limit_switches", _SWITCHES),
        ("software limit", "controller.software_limits", ("min", "max")),
    )
    for kind, part, ends in parts:
        if axis.is_none(part):
            plural = "limit switches" if kind == "limit switch" else f"{kind}s"
            axis.absent.append(f"It has no {plural}.")
            continue
        for side, end in zip(SIDES, ends, strict=True):
            found = axis.numbers(f"{side} {kind}", f"{part}.{end}")
            if found:
                fact = f"{part}.{end}"
                point = axis.point(kind, f"{side} {kind}", found[0], fact=fact, side=side)
                features.append(point)
    features += _stops(axis)
    reference = _reference(axis)
    features += reference
    path, method = "controller.homing.switch.position", axis.get("controller.homing.method")
    if axis.get(path) is not None or (method is not None and uses_home_switch(method)):
        edge = axis.numbers("home switch edge", path)
        if edge is not None:
            features.append(axis.point("home switch", "home switch edge", edge[0], fact=path))
    features += _marks(axis)
    if not features:
        return []
    low, high = _extent(features)
    if low is None or high is None or eq(low, high) is not False:
        return []
    features += [wrap for wrap in _wraps(axis, note=False) if _within(wrap.start, low, high)]
    ordered = _ordered(features)
    summary = "To scale, from low to high positions."
    if any(each.kind == "stopping distance" for each in ordered):
        summary += " Bars show how far the axis runs on when it is stopped at its highest speed."
    margin = _fraction_of(high - low, 25)
    low, high = low - margin, high + margin
    return [Picture("strip", "Travel", summary, axis.unit, low, high, ordered)]


def _stops(axis: _AxisDrawing) -> list[Feature]:
    """The stopping distance past each software limit and each limit switch at top speed."""
    plans = (
        (
            "software limit",
            "controller.software_limits",
            "controller_stopping_distance",
            "min",
            "max",
        ),
        ("limit switch", "mechanics.limit_switches", "drive_stopping_distance", *_SWITCHES),
    )
    features: list[Feature] = []
    for limit, part, distance, *ends in plans:
        what = f"stopping distance past the {limit}"
        if axis.is_none(part):
            continue
        at_once = axis.get("drive.stop_reaction.option") == "disable_at_once"
        if limit == "limit switch" and at_once:
            reason = "the drive switches the motor off and does not decelerate it"
            axis.gaps.append(Gap(what, (), reason))
            continue
        found = axis.numbers(what, _NeededNumber(distance, True))
        if found is None:
            continue
        for side, end, sign in zip(SIDES, ends, (-1, 1), strict=True):
            start = axis.get(f"{part}.{end}")
            if start is None:
                continue
            stop = start + sign * found[0]
            text = f"{axis.say(found[0])}, from {axis.say(start)} to {axis.say(stop)}"
            name = f"run past the {side} {limit} at top speed"
            places = axis.shown(start), axis.shown(stop)
            fact = f"{part}.{end}"
            features.append(Feature("stopping distance", name, text, *places, fact, side))
    return features


def _reference(axis: _AxisDrawing) -> list[Feature]:
    if axis.is_none("controller.homing"):
        axis.absent.append("It never homes.")
        return []
    found = axis.numbers("reference", REFERENCE)
    return [axis.point("reference", "reference", found[0], fact=REFERENCE)] if found else []


def _marks(axis: _AxisDrawing) -> list[Feature]:
    """The index marks that are on record by their places."""
    marks = axis.get(f"{MARKS}.marks") or ()
    places = [mark.get("position") for mark in marks]
    return [
        axis.point("index pulse", "index mark", place, fact=f"{MARKS}.marks")
        for place in places
        if place is not None
    ]


# The turn counter -------------------------------------------------------------------------------


def _wraps(axis: _AxisDrawing, *, note: bool) -> list[Feature]:
    """The positions where the turn counter rolls over, as the controller unfolds its reading."""
    relies, retained = axis.derived("relies_on_turn_counter"), axis.derived("wraps_are_retained")
    if relies is False:
        if note:
            axis.absent.append("It does not rely on a turn counter, so nothing wraps.")
        return []
    if retained is True:
        if note:
            axis.absent.append(
                "The controller keeps the number of wraps, so where the counter wraps is no limit."
            )
        return []
    names = ("lower_wrap", "upper_wrap")
    if not note:
        values = [axis.derived(name) for name in names]
    else:
        needs = [
            _NeededNumber("relies_on_turn_counter", True),
            *(_NeededNumber(name, True) for name in names),
        ]
        found = axis.numbers("wrap points of the turn counter", *needs)
        values = [None, None] if found is None else [found[1], found[2]]
    # As the rules, the picture takes the nearer end of what whole turns leave open.
    zero = str(axis.get("controller.unfolding")).startswith("encoder_zero")
    words = "to the whole turn, on the near side" if zero else ""
    return [
        axis.point("wrap", f"{side} wrap of the turn counter", at, words, side=side)
        for side, at in zip(SIDES, values, strict=True)
        if at is not None
    ]


def _turn_counter_range(axis: _AxisDrawing) -> list[Picture]:
    """The turn counter's whole range with the travel in it."""
    wraps = _wraps(axis, note=True)
    if len(wraps) < 2:
        return []
    features = list(wraps)
    low, high = axis.get("mechanics.travel.min"), axis.get("mechanics.travel.max")
    if low is not None and high is not None:
        features.append(axis.stretch("travel", "travel, hard stop to hard stop", low, high))
    at = axis.get(REFERENCE)
    if at is not None:
        features.append(axis.point("reference", "reference", at, fact=REFERENCE))
    start, end = _extent(features)
    if start is None or end is None or eq(start, end) is not False:
        return []
    margin = _fraction_of(end - start, 25)
    length = axis.derived("absolute_range")
    summary = (
        f"The reading of the turn counter means one position between {wraps[0].text} and "
        f"{wraps[1].text}"
    )
    summary += f", a range of {axis.say(length)}." if length is not None else "."
    if low is not None and high is not None:
        summary += f" The axis travels from {axis.say(low)} to {axis.say(high)}."
    start, end, title = start - margin, end + margin, "Range of the turn counter"
    return [Picture("strip", title, summary, axis.unit, start, end, _ordered(features))]


# Home switch and index pulse --------------------------------------------------------------------


def _revolution_strip(axis: _AxisDrawing) -> list[Picture]:
    """The encoder revolution after the switch edge, with the band for the index pulse."""
    if axis.is_none("controller.homing"):
        return []
    if axis.get("encoder.form") == "linear" or axis.get(f"{MARKS}.kind") not in (None, "single"):
        return []  # marks along a scale, or several in a turn
    what = "index pulse after the switch edge"
    stated = axis.numbers(what, "controller.homing.method")
    if stated is None or uses_index(stated[0]) is False:
        return []
    how = traits(stated[0])
    if how is None or how.approach is None:
        reason = f"whether and how {method_words(stated[0])} uses an index pulse is open"
        axis.gaps.append(Gap(what, (), reason))
        return []
    if how.home_switch:
        edge_path, name = "controller.homing.switch.position", "home switch edge"
    elif how.limit_switch is not None:
        edge_path = f"mechanics.limit_switches.{how.limit_switch}"
        name = f"{how.limit_switch} limit switch"
    else:
        return []
    needs = (edge_path, _NeededNumber("units_per_encoder_rev", True))
    found = axis.numbers(what, *needs)
    if found is None:
        return []
    edge, per_turn = found
    sign = 1 if how.approach == "positive" else -1
    turn = sign * per_turn
    features = [
        axis.point("home switch", name, edge, fact=edge_path),
        axis.stretch(
            "index band",
            "band for the index pulse, 1/4 to 3/4 rev after the edge",
            edge + BAND[0] * turn,
            edge + BAND[1] * turn,
        ),
    ]
    summary = (
        f"One encoder revolution is {axis.say(per_turn)}, searched in the {how.approach} direction "
        f"from the {name} at {axis.say(edge)}. The band from 1/4 to 3/4 revolution keeps the "
        "pulse away from the scatter of the edge (common practice, no source)."
    )
    pulse = axis.numbers("index pulse", INDEX)
    if pulse is not None:
        at = edge + pulse[0] * turn
        revs = say_plainly(pulse[0], "rev")
        note = f"{revs} after the edge"
        features.append(axis.point("index pulse", "index pulse", at, note, INDEX))
        summary += f" The pulse comes {revs} after the edge, at {axis.say(at)}."
    reference = axis.get(REFERENCE)
    ends = sorted((-Fraction(1, 4), Fraction(5, 4)), key=lambda part: part * sign)
    low, high = (axis.shown(edge + part * turn) for part in ends)
    if reference is not None and _within(axis.shown(reference), low, high):
        features.append(axis.point("reference", "reference", reference, fact=REFERENCE))
    title = "Switch edge and index pulse"
    return [Picture("strip", title, summary, axis.unit, low, high, _ordered(features))]


# Endless axes -----------------------------------------------------------------------------------


def _dial_picture(axis: _AxisDrawing) -> list[Picture]:
    """One cycle as a circle: reference, encoder revolutions and the effect of a rollover."""
    found = axis.numbers("dial of the cycle", "controller.cycle")
    if found is None:
        return []
    cycle: Number = found[0]
    features: list[Feature] = []
    summary = f"One cycle of {axis.say(cycle)}, positive direction clockwise from the top."
    features += _reference(axis)
    features += _encoder_turns(axis, cycle)
    drift, words = _drift(axis, cycle)
    return [
        Picture(
            "dial",
            "Cycle and rollover",
            f"{summary} {words}".strip(),
            axis.unit,
            0,
            axis.shown(cycle),
            (*features, *drift),
        )
    ]


def _encoder_turns(axis: _AxisDrawing, cycle: Number) -> list[Feature]:
    per_turn = axis.derived("units_per_encoder_rev")
    ratio = None if per_turn is None else div(cycle, per_turn)
    if not isinstance(ratio, int | Fraction) or ratio.numerator > TURNS_SHOWN:
        return []
    if ratio.numerator < 2:
        return []
    # In lowest terms p/q turns to a cycle, whole turns end on p places, cycle/p apart.
    apart = cycle / ratio.numerator if isinstance(cycle, Fraction) else div(cycle, ratio.numerator)
    assert apart is not None
    return [
        Feature(
            "encoder turn",
            "whole encoder revolutions end",
            f"every {axis.say(apart)}, {ratio.numerator} in all",
            axis.shown(apart),
            axis.shown(cycle),
        )
    ]


def _drift(axis: _AxisDrawing, cycle: Number) -> tuple[list[Feature], str]:
    """The shift of the indicated position by rollovers of the turn counter, with its words."""
    if axis.derived("relies_on_turn_counter") is False:
        return [], "The axis does not rely on a turn counter."
    if axis.get("controller.wraps_retained") is True:
        return [], "The controller keeps the number of wraps, so a rollover shifts nothing."
    what = "drift per rollover of the turn counter"
    retained = "controller.wraps_retained"
    relies, reaches = (
        _NeededNumber("relies_on_turn_counter", True),
        _NeededNumber("absolute_range", True),
    )
    found = axis.numbers(what, relies, reaches, retained)
    if found is None:
        return [], "What a rollover of the turn counter does to it is not known."
    reach: Number = found[1]
    shift = nearest_remainder(-reach, cycle)
    if shift is None:
        reason = "whether a rollover falls on a whole cycle lies within the error of computing"
        axis.gaps.append(Gap(what, (), reason))
        return [], "What a rollover of the turn counter does to it cannot be computed."
    after = f"after {axis.say(reach)} of travel in one direction"
    if eq(shift, 0):
        return [], f"The turn counter rolls over {after}, on a whole cycle: nothing shifts."
    base: Number = axis.get(REFERENCE) or 0
    features = []
    for count in range(1, ROLLOVERS_SHOWN + 1):
        total = remainder(count * shift, cycle)
        if total is None or eq(total, 0) is not False:
            break
        start, end = base + (count - 1) * shift, base + count * shift
        times = "one rollover" if count == 1 else f"{count} rollovers"
        off = nearest_remainder(count * shift, cycle)
        text = f"{axis.say(off if off is not None else total)} off"
        features.append(
            Feature("drift", f"after {times}", text, axis.shown(start), axis.shown(end))
        )
    words = (
        f"The turn counter rolls over {after}. This is no whole number of cycles. Each rollover in "
        f"the positive direction moves the indicated position by {axis.say(shift)} against the "
        "true position. At a commanded position, the machine is then off by as much, the other way."
    )
    return features, words


# Numbers ----------------------------------------------------------------------------------------


def _ordered(features: list[Feature]) -> tuple[Feature, ...]:
    """The points from low to high, then the stretches."""
    return tuple(sorted(features, key=lambda each: (each.end is not None, to_float(each.start))))


def _extent(features: list[Feature]) -> tuple[Number | None, Number | None]:
    ends = [each.start for each in features]
    ends += [each.end for each in features if each.end is not None]
    return minimum(ends), maximum(ends)


def _within(value: Number, low: Number, high: Number) -> bool:
    return (low <= value) is True and (value <= high) is True


def _fraction_of(length: Number, parts: int) -> Number:
    result = div(length, parts)
    assert result is not None
    return result
