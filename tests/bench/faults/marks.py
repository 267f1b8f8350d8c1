"""Index marks for sound axes with an incremental linear encoder: their kind, place and homing.

Dice of their own keep the machines as they were without them. Every such axis states its marks, and
two thirds of them home to one.
"""

from __future__ import annotations

from fractions import Fraction
from random import Random

from .plain_axis import Plain, PlainAxis, in_unit, rounded

HOMING = "controller.homing"
MARKS = "encoder.index_marks"

SPACINGS = (5, 10, 20, 50)
DIFFERENCES = (Fraction(2, 100), Fraction(4, 100))
"""In mm, as scales have them."""

UPWARD = (1, 4, 5, 8, 11, 34)
"""Methods (CiA 402) that meet their reference in the positive direction."""


def mark(seed: int, built: Plain) -> None:
    """State the index marks of the linear encoders of a machine, in place."""
    rng = Random(f"index marks {seed}")
    for name in built["axes"]:
        axis = PlainAxis(built, name)
        if axis.linear_scale and axis.get("encoder.kind") == "incremental":
            _mark(rng, axis)


def has_marks(a: PlainAxis, *kinds: str) -> bool:
    """Whether the axis homes to index marks of one of the kinds."""
    return a.get(f"{MARKS}.kind") in kinds and a.method in (*range(1, 15), 33, 34)


def edge(a: PlainAxis) -> Fraction | None:
    """The switch edge after which homing looks for its mark; None without a switch."""
    if a.method in (1, 2):
        side = "negative" if a.method == 1 else "positive"
        return a.need(f"mechanics.limit_switches.{side}")
    return a.base(f"{HOMING}.switch.position") if a.method in range(3, 15) else None


def within(a: PlainAxis) -> tuple[Fraction, Fraction]:
    """The ends between which a mark can be met: the limit switches."""
    switches = "mechanics.limit_switches"
    return a.need(f"{switches}.negative"), a.need(f"{switches}.positive")


def at(a: PlainAxis, *places: Fraction) -> list[Plain]:
    """Marks at some places, in the unit of the axis."""
    return [{"position": in_unit(place, a.unit)} for place in places]


def pairs(spacing: Fraction, difference: Fraction, read: int) -> int:
    """How many pairs of marks a code can have, counted out one by one.

    The mark between two fixed ones lies off their middle, further from pair to pair. Who reads two
    marks sees one distance, who reads three sees two, and each must occur once.
    """
    middle, found = spacing / 2, 0
    while middle + (found + 1) * difference < spacing:
        found += 1
    return found if read == 2 else 2 * found + 1


def path(spacing: Fraction, difference: Fraction, read: int) -> Fraction:
    """The longest way until a number of marks are passed."""
    return spacing + difference if read == 2 else 2 * spacing


def _mark(rng: Random, a: PlainAxis) -> None:
    kinds = ["single", "selected", "spaced", "distance_coded"]
    kind = rng.choice(kinds)
    marks: Plain = {"kind": kind}
    a.facts["encoder"]["index_marks"] = marks
    switched = a.method in (17, 18, 19, 21, 24, 27)
    homes = switched and a.get("mechanics.limit_switches") is not None and rng.random() < 0.7
    if kind == "distance_coded":
        if not _code(rng, a, marks):
            a.facts["encoder"]["index_marks"] = {"kind": "single", "marks": _middle(a)}
        elif homes:
            _home_by_code(rng, a)
    elif kind == "spaced":
        low, high = _ends(a)
        spacing = rng.choice([s for s in SPACINGS if s <= (high - low) / 4] or [1])
        marks["spacing"] = f"{spacing} mm"
        if homes and spacing > 1:
            _home_to_spaced(rng, a, Fraction(spacing))
    else:
        marks["marks"] = _middle(a)
        if homes:
            _home_to_chosen(rng, a, marks)


def _ends(a: PlainAxis) -> tuple[Fraction, Fraction]:
    if a.get("mechanics.limit_switches") is not None:
        return within(a)
    return a.need("mechanics.travel.min"), a.need("mechanics.travel.max")


def _middle(a: PlainAxis) -> list[Plain]:
    low, high = _ends(a)
    return at(a, rounded((low + high) / 2, 4))


def _code(rng: Random, a: PlainAxis, marks: Plain) -> bool:
    """A code that is unique over the travel, on a travel that holds enough marks to read it."""
    low, high = _ends(a)
    fitting = [
        (spacing, difference, read)
        for spacing in map(Fraction, SPACINGS)
        for difference in DIFFERENCES
        for read in (2, 3)
        if pairs(spacing, difference, read) * spacing >= a.span
        and path(spacing, difference, read) <= high - low
    ]
    if not fitting:
        return False
    spacing, difference, read = rng.choice(fitting)
    longest = pairs(spacing, difference, read) * spacing
    marks |= {"spacing": in_unit(spacing, "mm"), "difference": in_unit(difference, "mm")}
    marks["unique_range"] = in_unit(min(longest, a.span * 2), a.unit)
    a.facts["controller"]["homing"]["marks_read"] = read
    a.facts["drive"]["reads_coded_marks"] = True
    return True


def _to(a: PlainAxis, method: int) -> None:
    """Home by another method, which the drive supports."""
    a.put(f"{HOMING}.method", method)
    a.facts["controller"]["homing"].pop("repeatability", None)
    known = a.get("drive.supported_homing_methods")
    a.put("drive.supported_homing_methods", [*known, method] if method not in known else known)


def _alone(a: PlainAxis) -> None:
    _to(a, 33 if a.method == 17 else 34)


def _home_by_code(rng: Random, a: PlainAxis) -> None:
    if a.method in (17, 18) and rng.random() < 0.6:
        _alone(a)
    else:
        _to(a, int(a.method) - 16)


def _ahead(a: PlainAxis) -> tuple[Fraction, int]:
    """How much room is behind the switch edge, and in which direction (1 or -1)."""
    low, high = within(a)
    start = edge(a)
    assert start is not None
    return (high - start, 1) if a.method in UPWARD else (start - low, -1)


def _home_to_spaced(rng: Random, a: PlainAxis, spacing: Fraction) -> None:
    before = int(a.method)
    _to(a, before - 16)
    room, way = _ahead(a)
    after = spacing * Fraction(rng.randint(30, 70), 100)
    if after >= room:
        _to(a, before)
        return
    a.facts["controller"]["homing"]["mark_after_switch"] = in_unit(after, "mm")
    a.write(f"{HOMING}.reference_position", _edge(a) + way * after)


def _edge(a: PlainAxis) -> Fraction:
    found = edge(a)
    assert found is not None
    return found


def _home_to_chosen(rng: Random, a: PlainAxis, marks: Plain) -> None:
    low, high = within(a)
    if a.method in (17, 18) and rng.random() < 0.5:
        _alone(a)
        soft = "controller.software_limits"
        if a.method == 33:
            place = (low + a.need(f"{soft}.min")) / 2
        else:
            place = (high + a.need(f"{soft}.max")) / 2
        marks["marks"] = at(a, place)
        a.write(f"{HOMING}.reference_position", place)
        return
    _to(a, int(a.method) - 16)
    room, way = _ahead(a)
    place = _edge(a) + way * rounded(room * Fraction(rng.randint(10, 40), 100), 4)
    places = [place]
    if marks["kind"] == "selected" and rng.random() < 0.5:
        places.append(place + way * rounded(room / 4, 4))
    marks["marks"] = at(a, *places)
    a.write(f"{HOMING}.reference_position", place)
