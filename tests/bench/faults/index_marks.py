"""Faults of homing to the index marks of a scale: their kind, number, place, spacing and code."""

from __future__ import annotations

from fractions import Fraction

from .fault_list import fault
from .marks import HOMING, MARKS, UPWARD, at, edge, has_marks, within
from .plain_axis import PlainAxis, in_unit, rounded

REFERENCE = f"{HOMING}.reference_position"
CHOSEN = ("single", "selected")


def _alone(a: PlainAxis) -> bool:
    return a.method in (33, 34)


def _place(a: PlainAxis, place: Fraction) -> bool:
    """Move the chosen mark and teach the reference anew where it now is."""
    a.put(f"{MARKS}.marks", at(a, place))
    return a.write(REFERENCE, place)


# --- which mark it is -----------------------------------------------------------------------------


@fault(
    "scale-of-many-marks-homed-alone", "fits a scale with a mark each 10 mm, homed without switch"
)
def _(a: PlainAxis) -> bool:
    if not has_marks(a, *CHOSEN) or not _alone(a):
        return False
    low, high = within(a)
    spacing = 10 if high - low > 20 else 1
    return high - low > 2 and a.put(MARKS, {"kind": "spaced", "spacing": f"{spacing} mm"})


@fault("second-mark-switched-on", "leaves the old mark on after a new one was switched on")
def _(a: PlainAxis) -> bool:
    if not has_marks(a, "selected") or not _alone(a):
        return False
    low, high = within(a)
    marks = a.get(f"{MARKS}.marks")
    return a.put(f"{MARKS}.marks", [*marks, *at(a, rounded((2 * low + high) / 3, 4))])


@fault("no-mark-switched-on", "fits a scale on which no mark is switched on")
def _(a: PlainAxis) -> bool:
    return has_marks(a, "selected") and a.put(f"{MARKS}.marks", [])


@fault(
    "two-places-of-a-single-mark", "notes the place of a single mark anew and leaves the old one"
)
def _(a: PlainAxis) -> bool:
    if not has_marks(a, "single"):
        return False
    low, high = within(a)
    marks = a.get(f"{MARKS}.marks")
    return a.put(f"{MARKS}.marks", [*marks, *at(a, rounded((low + 3 * high) / 4, 4))])


# --- where it is ----------------------------------------------------------------------------------


@fault(
    "mark-behind-the-limit-switch", "mounts a scale so that its mark lies beyond the limit switch"
)
def _(a: PlainAxis) -> bool:
    if not has_marks(a, *CHOSEN):
        return False
    low, high = within(a)
    room = high - low
    upward = a.method in UPWARD
    return _place(a, high + room / 100 if upward else low - room / 100)


@fault("mark-on-the-other-side-of-the-switch", "moves a home switch past the mark it leads to")
def _(a: PlainAxis) -> bool:
    start = edge(a)
    if not has_marks(a, *CHOSEN) or start is None or a.method in (1, 2):
        return False
    low, high = within(a)
    return _place(a, rounded((start + (low if a.method in UPWARD else high)) / 2, 5))


@fault("mark-in-the-middle-homed-alone", "homes by the next mark, with a mark in mid-travel")
def _(a: PlainAxis) -> bool:
    if not has_marks(a, *CHOSEN) or not _alone(a):
        return False
    low, high = within(a)
    return _place(a, rounded((low + high) / 2, 5))


@fault("mark-homed-alone-the-other-way", "sets the search of a single mark to the other direction")
def _(a: PlainAxis) -> bool:
    if not has_marks(a, *CHOSEN) or not _alone(a):
        return False
    other = 34 if a.method == 33 else 33
    a.put(f"{HOMING}.method", other)
    return a.put(f"{HOMING}.direction", "negative" if other == 33 else "positive")


@fault("chosen-mark-under-the-switch-edge", "switches on the mark under the edge of the switch")
def _(a: PlainAxis) -> bool:
    start = edge(a)
    if not has_marks(a, *CHOSEN) or start is None:
        return False
    name = "mechanics.limit_switches" if a.method in (1, 2) else f"{HOMING}.switch"
    scatter = a.base(f"{name}.scatter")
    if not scatter:
        return False
    return _place(a, start + (1 if a.method in UPWARD else -1) * scatter / 2)


@fault("reference-of-the-mark-before", "leaves the reference position of the mark used before")
def _(a: PlainAxis) -> bool:
    low, high = within(a) if has_marks(a, *CHOSEN) else (Fraction(0), Fraction(0))
    return high > low and a.write(REFERENCE, a.need(REFERENCE) + (high - low) / 15)


# --- spacing --------------------------------------------------------------------------------------


def _after(a: PlainAxis, after: Fraction) -> bool:
    """Put the mark at another distance from the edge, and teach the reference anew."""
    start = edge(a)
    if not has_marks(a, "spaced") or start is None:
        return False
    a.write(REFERENCE, start + (after if a.method in UPWARD else -after))
    return a.write(f"{HOMING}.mark_after_switch", after)


@fault(
    "mark-of-a-scale-at-the-switch-edge", "mounts a scale with a mark just after the switch edge"
)
def _(a: PlainAxis) -> bool:
    return has_marks(a, "spaced") and _after(a, a.need(f"{MARKS}.spacing") / 50)


@fault("mark-of-a-scale-before-the-edge", "mounts a scale with a mark just before the switch edge")
def _(a: PlainAxis) -> bool:
    return has_marks(a, "spaced") and _after(a, a.need(f"{MARKS}.spacing") * Fraction(97, 100))


@fault("scale-of-finer-spacing", "fits a scale with marks at half the distance from edge to mark")
def _(a: PlainAxis) -> bool:
    if not has_marks(a, "spaced"):
        return False
    return a.write(f"{MARKS}.spacing", a.need(f"{HOMING}.mark_after_switch") / 2)


@fault("reference-of-the-next-mark", "teaches the reference of the next mark of a scale")
def _(a: PlainAxis) -> bool:
    return has_marks(a, "spaced") and a.write(
        REFERENCE, a.need(REFERENCE) + a.need(f"{MARKS}.spacing")
    )


@fault("spacing-of-marks-in-inches", "types the millimetres of a spacing as inches")
def _(a: PlainAxis) -> bool:
    if has_marks(a, "distance_coded"):
        low, high = within(a)
        # A code of longer spacing is unique over more: it harms only where it is not read.
        if a.need(f"{MARKS}.spacing") * Fraction(254, 10) <= high - low:
            return False
    return has_marks(a, "spaced", "distance_coded") and a.retype(f"{MARKS}.spacing", "in")


@fault("spacing-of-marks-typed-short", "types the spacing of the marks in inches, with four digits")
def _(a: PlainAxis) -> bool:
    if not has_marks(a, "spaced", "distance_coded"):
        return False
    spacing = rounded(a.need(f"{MARKS}.spacing") / Fraction(254, 10), 4) * Fraction(254, 10)
    off = spacing / a.need("encoder.measuring_step")
    return off.denominator != 1 and a.put(f"{MARKS}.spacing", in_unit(spacing, "in"))


# --- code -----------------------------------------------------------------------------------------


@fault("coded-scale-on-a-drive-that-reads-none", "fits a coded scale to a drive that reads no code")
def _(a: PlainAxis) -> bool:
    return has_marks(a, "distance_coded") and a.put("drive.reads_coded_marks", False)


@fault("coded-scale-homed-to-its-first-mark", "homes a coded scale to the first mark that it meets")
def _(a: PlainAxis) -> bool:
    return has_marks(a, "distance_coded") and a.put(f"{HOMING}.marks_read", 1)


@fault("coded-scale-of-a-shorter-axis", "fits a coded scale whose code is unique over less")
def _(a: PlainAxis) -> bool:
    return has_marks(a, "distance_coded") and a.write(
        f"{MARKS}.unique_range", rounded(a.span * Fraction(4, 5), 3)
    )


@fault("code-repeats-within-the-travel", "fits a scale whose code repeats within half the travel")
def _(a: PlainAxis) -> bool:
    if not has_marks(a, "distance_coded"):
        return False
    # spacing² / difference bounds the range, however many marks are read.
    spacing = a.need(f"{MARKS}.spacing")
    difference = rounded(2 * spacing**2 / a.span, 2)
    return difference * 2 < spacing and a.write(f"{MARKS}.difference", difference)


@fault(
    "spacing-and-difference-swapped", "notes spacing and difference of a code the other way round"
)
def _(a: PlainAxis) -> bool:
    if not has_marks(a, "distance_coded"):
        return False
    return a.swap(f"{MARKS}.spacing", f"{MARKS}.difference")


@fault("difference-of-a-code-ten-times", "moves the decimal point of the difference of a code")
def _(a: PlainAxis) -> bool:
    if not has_marks(a, "distance_coded"):
        return False
    spacing, difference = (a.need(f"{MARKS}.{name}") for name in ("spacing", "difference"))
    # Where even the range of the wider difference spans the travel, it does no harm.
    return spacing**2 / (10 * difference) < a.span and a.scale(f"{MARKS}.difference", 10)


@fault(
    "coded-spacing-longer-than-the-travel", "fits a coded scale with too few marks in the travel"
)
def _(a: PlainAxis) -> bool:
    if not has_marks(a, "distance_coded"):
        return False
    low, high = within(a)
    spacing = a.need(f"{MARKS}.spacing")
    return a.scale(f"{MARKS}.spacing", Fraction(int((high - low) / spacing) + 1))
