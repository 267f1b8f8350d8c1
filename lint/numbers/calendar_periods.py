"""Days of the calendar, months apart.

A month after the 31st of January comes the last day of February: months land on the same day of the
month or, where there is none, on its last (ISO 8601 counts calendar months; that a missing day
becomes the last of its month is common practice, no source).
"""

from __future__ import annotations

import datetime

from ..base.lazy import pattern
from .exact import Number
from .rational import Fraction

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final

_DAY: Final = 86400
_EPOCH: Final = datetime.date(1970, 1, 1).toordinal()
_MONTHS: Final = {"month": 1, "months": 1, "year": 12, "years": 12}
_PERIOD: Final = pattern(r"([0-9]{1,4}) ?([a-z]+)")


def months_of(text: str, units: tuple[str, ...] = ("month", "months")) -> int | None:
    """The months of a period such as "18 months"; None for any other text."""
    found = _PERIOD.fullmatch(text)
    if found is None or found[2] not in units:
        return None
    return int(found[1]) * _MONTHS[found[2]]


def day_of(text: str) -> int | None:
    """A day such as 2026-03-14 as seconds since 1970; None if the calendar has no such day."""
    try:
        return (datetime.date.fromisoformat(text).toordinal() - _EPOCH) * _DAY
    except ValueError:
        return None


def later(moment: Number, months: int) -> Number | None:
    """The moment so many months later; None if it is not exact or outside the calendar."""
    if not isinstance(moment, int | Fraction):
        return None
    days, rest = divmod(moment, _DAY)
    try:
        day = datetime.date.fromordinal(int(days) + _EPOCH)
        years, month = divmod(day.month - 1 + months, 12)
        last = _last_day(day.year + years, month + 1)
        landed = datetime.date(day.year + years, month + 1, min(day.day, last))
    except (ValueError, OverflowError):
        return None
    return (landed.toordinal() - _EPOCH) * _DAY + rest


def earlier(moment: Number, months: int) -> Number | None:
    """The moment so many months earlier; None if it is not exact or outside the calendar."""
    return later(moment, -months)


def _last_day(year: int, month: int) -> int:
    following = datetime.date(year + month // 12, month % 12 + 1, 1)
    return (following - datetime.timedelta(days=1)).day
