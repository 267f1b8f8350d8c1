"""A check that cannot be decided yet, and what would decide it."""

from __future__ import annotations

from ..base.lazy import dataclass


@dataclass(frozen=True, slots=True)
class OpenCheck:
    """An undecided check, and the fewest facts by which it may fail, as absolute paths.

    ``whole``: they are parts or lists of which more than one value is wanted. ``far``: which of
    them would make the check fail cannot be told.
    """

    rule: str
    level: str
    subject: str
    facts: tuple[str, ...]
    whole: bool = False
    far: bool = False
