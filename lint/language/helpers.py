"""What generated code calls, with three values throughout: None is unknown."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from ..base.absence import NONE, none_above, parts_above
from ..machine.records import Facts, notes_of
from ..numbers.calendar_periods import earlier, later
from ..numbers.exact import Approx, Number, Pi, QuantityError, div, eq
from ..numbers.powers import MAX_BITS, bits, power
from ..numbers.rational import Fraction
from ..numbers.whole import divides, is_whole
from .budget import charged, metered, searched
from .library import FUNCTIONS
from .matching import matching, matching_both, remembered
from .word_tests import all_of, any_of, begins_with, contains, ends_with, is_empty, none_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, Final


def capped(value: Number) -> Number | None:
    """The value, or None (unknown) if it has grown beyond MAX_BITS in an aggregate."""
    return value if bits(value) <= MAX_BITS else None


def raised(value: Number, exponent: int) -> Number | None:
    """value^exponent, or None (unknown) if that would grow beyond MAX_BITS."""
    try:
        return power(value, exponent)
    except QuantityError:
        return None


def within(value: Number, tolerance: Number, centre: Number) -> bool | None:
    """|value − centre| ≤ tolerance."""
    difference = value - centre
    below = difference <= tolerance
    if below is False:
        return False
    above = -difference <= tolerance
    if above is False:
        return False
    return None if below is None or above is None else True


def between(value: Number, low: Number, high: Number) -> bool | None:
    """low ≤ value ≤ high."""
    above = low <= value
    if above is False:
        return False
    below = value <= high
    if below is False:
        return False
    return None if below is None or above is None else True


def extreme(values: Iterable[Number], largest: bool) -> Number | None:
    """The largest or smallest value; None if there is none or their order is undecided."""
    best: Number | None = None
    for value in values:
        if best is None:
            best = value
            continue
        above = value > best if largest else value < best
        if above is None:
            return None
        if above:
            best = value
    return best


def distinct(value: Any) -> Any:
    """A value to tell apart from others; None (unknown) for a number that is not exact."""
    return None if isinstance(value, Approx) else value


def disputed(record: Facts, paths: tuple[str, ...]) -> bool:
    """Whether any of these facts of a record is stated, but not usable as it stands.

    ``a default b`` means two ways to state one thing, so it may pass over an ``a`` that nobody
    stated. It must not pass over an ``a`` that two sources state differently, or that is in a unit
    that does not fit. The reader lists such facts as ``disputed`` in the notes of the record they
    belong to, relative to it, with ``[]`` for an index.
    """
    return not notes_of(record).disputed.isdisjoint(paths)


def known(record: Facts, path: str) -> bool | None:
    """Whether a fact is stated, `none` included; None if that is in dispute or in part.

    A part that is none has no facts, which is all there is to say of them.
    """
    notes = notes_of(record)
    if path in notes.partial:
        return None
    if record.get(path) is not None or none_above(record, path):
        return True
    if notes.disputed and not notes.disputed.isdisjoint((path, *parts_above(path))):
        return None
    return False


HELPERS: Final[Mapping[str, Any]] = {
    "NONE": NONE,
    "Fraction": Fraction,
    "Pi": Pi,
    "all_of": all_of,
    "any_of": any_of,
    "begins_with": begins_with,
    "between": between,
    "capped": capped,
    "charged": charged,
    "contains": contains,
    "distinct": distinct,
    "disputed": disputed,
    "div": div,
    "divides": divides,
    "earlier": earlier,
    "ends_with": ends_with,
    "eq": eq,
    "extreme": extreme,
    "is_empty": is_empty,
    "is_whole": is_whole,
    "known": known,
    "later": later,
    "matching": matching,
    "matching_both": matching_both,
    "metered": metered,
    "none_of": none_of,
    "raised": raised,
    "remembered": remembered,
    "searched": searched,
    "within": within,
    **{f"f_{name}": function.call for name, function in FUNCTIONS.items()},
}
"""All that generated code can reach."""
