"""What is in force where a site file counts, key by key: for the command ``site``."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from ..findings.finding import LevelChange
from ..findings.site_file_use import InForce
from ..importing.site_file import SiteFile
from .accepted import read_accepted
from .reading import Rules
from .site_use import USUAL_FAIL_AT
from .waivers import read_waivers

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final

SUBJECTS: Final = ("axis", "machine", "change", "spare")
NOTHING: Final = "none"
_NO_SITE: Final = SiteFile(Path("axisproof.yaml"), "axisproof.yaml")


def in_force(site: SiteFile | None) -> tuple[InForce, ...]:
    """Each key of the site file with what counts; the defaults if there is no such file.

    All files that it names are read. Raises InputError and RuleError for one that cannot be used.
    """
    site = site or _NO_SITE
    rules = Rules.of(site.rules, site.settings)
    return tuple(_rows(site, rules))


def _rows(site: SiteFile, rules: Rules) -> Iterator[InForce]:
    def row(key: str, value: str, details: Sequence[str] = ()) -> InForce:
        place = site.places.get(key)
        where = f"{place.file}:{place.line}" if place else ""
        return InForce(key, value, where, tuple(details))

    yield row("check", _names(site.check) or "the PATH of the command line")
    yield row("exclude", ", ".join(site.patterns) or NOTHING)
    own = rules.site_rules(*SUBJECTS)
    more = [f"{own.count} rules of the site beside the shipped ones."] if own.count else []
    yield row("rules", _names(site.rules) or "the shipped ones", more)
    yield row("settings", _name(site.settings), [*_settings(rules), *_levels(rules)])
    yield row("waivers", _name(site.waivers), [*_waivers(site, rules)])
    yield row("accepted", _name(site.accepted), [*_accepted(site)])
    yield row("shelf", _name(site.shelf))
    yield row("fail_at", site.fail_at or USUAL_FAIL_AT)
    forms = ", ".join(f"{command}: {form}" for command, form in sorted(site.forms.items()))
    yield row("forms", forms or "text")


def _waivers(site: SiteFile, rules: Rules) -> Iterator[str]:
    if site.waivers is not None:
        for each in read_waivers(site.waivers, rules.every).entries:
            where = f"{each.machine} · {each.axis}" if each.axis else each.machine
            yield f"{each.rule} on {where}, until {each.expires.isoformat()}: {each.reason}"


def _accepted(site: SiteFile) -> Iterator[str]:
    if site.accepted is not None:
        known = read_accepted(site.accepted)
        number = "1 finding" if len(known.findings) == 1 else f"{len(known.findings)} findings"
        yield f"{number}, recorded on {known.recorded_on}."


def _settings(rules: Rules) -> Iterator[str]:
    for name, (_, text, reason) in sorted(rules.site.settings.items()):
        yield f"{name} = {text}: {reason}"


def _levels(rules: Rules) -> Iterator[str]:
    for each in rules.level_changes(*SUBJECTS):
        yield f"{each.rule} is {_level(each)}: {each.reason}"


def _level(change: LevelChange) -> str:
    now = "switched off" if change.becomes == "off" else f"at {change.becomes}"
    return f"{now}, {change.level} by default"


def _name(path: Path | None) -> str:
    return NOTHING if path is None else path.as_posix()


def _names(paths: Sequence[Path]) -> str:
    return ", ".join(path.as_posix() for path in paths)
