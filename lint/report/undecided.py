"""What stayed undecided, in text: the facts that would decide most, then every check."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from ..findings.finding import Report, Undecided
from . import RenderOptions
from .blocks import entry, heading
from .layout import prose, visible, wrap
from .words import counted, lacks, subject_name

LISTED_ONE_BY_ONE: Final = 12
"""Up to this many undecided checks are listed singly, more are grouped by what they lack."""
GROUPS_SHOWN: Final = 12
"""Of more than twice as many groups, so many are shown: those with most checks."""
FACTS_SHOWN: Final = 10
NAMES_SHOWN: Final = 8


def undecided_section(report: Report, options: RenderOptions) -> list[str]:
    """Return the section on undecided checks, empty if there are none."""
    if not report.undecided:
        return []
    many = len(report.undecided) > LISTED_ONE_BY_ONE
    lines = heading(f"Undecided: {counted(len(report.undecided), 'check')}", options)
    lines += wrap(
        "Each of these lacks something. Nothing is known about what it would have said.",
        options.width,
    )
    if report.deciding_facts:
        lines += ["", *_deciding_facts(report, options)]
    return [*lines, "", *(_grouped if many else _singly)(report.undecided, options)]


def _deciding_facts(report: Report, options: RenderOptions) -> list[str]:
    lines = ["Facts that would decide most:"]
    for each in report.deciding_facts[:FACTS_SHOWN]:
        alone = (
            "" if each.alone == each.checks else f", {each.alone} of them without any other fact"
        )
        lines += entry(
            visible(each.fact),
            f"bears on {counted(each.checks, 'check')}{alone}; {_named(each.subjects)}",
            options,
        )
    if len(report.deciding_facts) > FACTS_SHOWN:
        lines.append(f"  and {counted(len(report.deciding_facts) - FACTS_SHOWN, 'further fact')}")
    return lines


def _named(subjects: Iterable[str]) -> str:
    names = [visible(name) or "the machine" for name in subjects]
    more = len(names) - NAMES_SHOWN
    text = ", ".join(names[:NAMES_SHOWN])
    return f"on {text} and {more} more" if more > 0 else f"on {text}"


def _singly(checks: tuple[Undecided, ...], options: RenderOptions) -> list[str]:
    lines = ["The checks:"]
    for check in checks:
        name = f"{check.rule}, {subject_name(check.machine, check.subject)}"
        lines += entry(visible(name), lacks(check), options)
    return lines


def _grouped(checks: tuple[Undecided, ...], options: RenderOptions) -> list[str]:
    """List many checks by what they lack, then by rule, naming the axes.

    Of very many groups only the largest, unless workings are asked for: whoever begins a file is to
    see where to go on.
    """
    several = len({check.machine for check in checks}) > 1
    groups: dict[str, dict[str, list[str]]] = {}
    for check in checks:
        lacking = lacks(check).replace(f"axes.{check.subject}.", "axis.")
        name = subject_name(check.machine, check.subject) if several else check.subject
        groups.setdefault(lacking, {}).setdefault(check.rule, []).append(name)
    sizes = {lacking: sum(map(len, rules.values())) for lacking, rules in groups.items()}
    rest = 0
    if len(groups) > 2 * GROUPS_SHOWN and not options.workings:
        most = sorted(groups, key=lambda lacking: -sizes[lacking])[:GROUPS_SHOWN]
        rest = len(checks) - sum(sizes[lacking] for lacking in most)
        groups = {lacking: rules for lacking, rules in groups.items() if lacking in most}
    lines = ["The checks, by what they lack:"]
    for lacking, rules in groups.items():
        lines += ["  " + line for line in wrap(prose(lacking), options.width - 2)]
        for rule, subjects in rules.items():
            text = prose(f"{rule} {_named(subjects)}")
            lines += ["      " + line for line in wrap(text, options.width - 6)]
    if rest:
        said = f"and {counted(rest, 'check')} that lack something else; --workings lists every one"
        lines += ["  " + line for line in wrap(said, options.width - 2)]
    return lines
