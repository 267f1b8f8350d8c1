"""What the rules and the site file of a site do to a check, for every form of a report."""

from __future__ import annotations

from ..base.lazy import dataclass


@dataclass(frozen=True, slots=True)
class SiteRules:
    """How many rules of the site's own a check ran beside the shipped ones, and their files."""

    count: int = 0
    files: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SiteFileUse:
    """The site file in force, and what it loosens.

    ``switched_off`` and ``lowered`` are rules, by name. ``waived`` and ``accepted`` count findings
    that do not fail because of it. ``excluded`` are files of folders that it leaves out, and
    ``patterns`` its exclusions. ``fail_at`` is the failing level that it states.
    ``unused`` are site files in folders below, which do not count. What an option of the command
    line decides is not in it.
    """

    file: str
    switched_off: tuple[str, ...] = ()
    lowered: tuple[str, ...] = ()
    waived: int = 0
    accepted: int = 0
    excluded: tuple[str, ...] = ()
    patterns: tuple[str, ...] = ()
    fail_at: str = ""
    unused: tuple[str, ...] = ()

    @property
    def loosens(self) -> bool:
        """Whether it makes any check less strict."""
        counts = (self.waived, self.accepted)
        named = (self.switched_off, self.lowered, self.excluded)
        return any(counts) or any(named) or self.fails_late

    @property
    def fails_late(self) -> bool:
        """Whether warnings do not fail because of it."""
        return self.fail_at == "error"


@dataclass(frozen=True, slots=True)
class InForce:
    """A key of the site file: what counts, where that is written, and what it does.

    ``where`` is empty for a default. ``details`` are sentences, each on a line of its own.
    """

    key: str
    value: str
    where: str = ""
    details: tuple[str, ...] = ()
