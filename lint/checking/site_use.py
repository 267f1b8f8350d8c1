"""What a site file does to a check: which options it stands in for, and what it loosens."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path

from ..base.lazy import replace
from ..findings.finding import LEVELS, Finding, LevelChange, Report
from ..findings.site_file_use import SiteFileUse
from ..importing.entry import Found
from ..importing.site_file import SiteFile
from ..source.reader import DISK, Reader
from .options import CheckOptions

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final

USUAL_FAIL_AT: Final = "warning"
"""The failing level where nothing else is said."""

FILLED: Final = ("rules", "settings", "waivers", "accepted", "shelf")
"""Options of a check that a site file can stand in for."""


def with_site(options: CheckOptions) -> CheckOptions:
    """The options with what the site file stands in for, and the site file without the rest.

    One shard cannot judge waivers and accepted sets: ``merge`` does.
    """
    site = options.site
    if site is None:
        return options
    given = {key: getattr(options, key) for key in FILLED}
    decided = [key for key, value in given.items() if value]
    site = site.without([*decided, *(("waivers", "accepted") if options.shard else ())])
    filled = {key: value or getattr(site, key) for key, value in given.items()}
    return replace(options, site=site, **filled)


def is_lower(change: LevelChange) -> bool:
    """Whether a rule is on, at a lower level than its own."""
    return change.becomes != "off" and LEVELS.index(change.becomes) > LEVELS.index(change.level)


def use_of(
    site: SiteFile,
    level_changes: Sequence[LevelChange] = (),
    excluded: Iterable[str] = (),
    sites: Iterable[Path] = (),
    reader: Reader = DISK,
) -> SiteFileUse:
    """What a site file does, once options have taken out what they decide.

    ``excluded`` are names of files, and ``sites`` the site files that a search of folders met.
    """
    own = level_changes if site.settings is not None else ()
    here = reader.real(site.path)
    return SiteFileUse(
        site.name,
        tuple(each.rule for each in own if each.becomes == "off"),
        tuple(each.rule for each in own if is_lower(each)),
        excluded=tuple(excluded),
        patterns=site.patterns,
        fail_at=site.fail_at or "",
        unused=tuple(reader.name(path) for path in sites if reader.real(path) != here),
    )


def with_covered(use: SiteFileUse, site: SiteFile, findings: Iterable[Finding]) -> SiteFileUse:
    """What a site file does, with the findings counted that its waivers and accepted set cover."""
    covered = [finding.waived for finding in findings if finding.waived is not None]
    accepted = sum(waived.accepted for waived in covered)
    return replace(
        use,
        waived=len(covered) - accepted if site.waivers is not None else 0,
        accepted=accepted if site.accepted is not None else 0,
    )


def use_in(options: CheckOptions, report: Report, found: Found) -> SiteFileUse | None:
    """What the site file of a check did to its report; None without one."""
    site = options.site
    if site is None:
        return None
    excluded = (path.as_posix() for path in found.excluded)
    use = use_of(site, report.level_changes, excluded, found.sites)
    return with_covered(use, site, report.findings)


def use_of_joined(
    options: CheckOptions, report: Report, recorded: SiteFileUse | None
) -> SiteFileUse | None:
    """What site files did to a report of several shards: as recorded, and to waive findings."""
    site = options.site
    if site is None:
        return recorded
    now = use_of(site.without(("settings", "patterns")))
    return with_covered(replace(recorded or now, fail_at=now.fail_at), site, report.findings)
