"""Undecided checks in text: the facts that decide most of them, then every check."""

from __future__ import annotations

from collections.abc import Iterable

from ..findings.finding import Report, Undecided
from .blocks import entry, heading
from .layout import prose, visible, wrap
from .rendering import RenderOptions
from .words import counted, missing_words, subject_name

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final


LISTED_ONE_BY_ONE: Final = 12
"""Most undecided checks that are listed one by one; more are grouped by what they lack."""
GROUPS_SHOWN: Final = 12
"""Number of groups shown, those with most checks, if there are more than twice as many."""
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
            f"bears on {counted(each.checks, 'check')}{alone}; {_subjects_words(each.subjects)}",
            options,
        )
    if len(report.deciding_facts) > FACTS_SHOWN:
        lines.append(f"  and {counted(len(report.deciding_facts) - FACTS_SHOWN, 'further fact')}")
    return lines


def _subjects_words(subjects: Iterable[str]) -> str:
    names = [visible(name) or "the machine" for name in subjects]
    more = len(names) - NAMES_SHOWN
    text = ", ".join(names[:NAMES_SHOWN])
    return f"on {text} and {more} more" if more > 0 else f"on {text}"


def _singly(checks: tuple[Undecided, ...], options: RenderOptions) -> list[str]:
    lines = ["The checks:"]
    for check in checks:
        name = f"{check.rule}, {subject_name(check.machine, check.subject)}"
        lines += entry(visible(name), missing_words(check), options)
    return lines


def _grouped(checks: tuple[Undecided, ...], options: RenderOptions) -> list[str]:
    """List many checks by what they lack, then by rule, with the names of the axes.

    Without workings only the largest of very many groups are shown, as the best facts to state
    next.
    """
    several = len({check.machine for check in checks}) > 1
    groups: dict[str, dict[str, list[str]]] = {}
    for check in checks:
        missing = missing_words(check).replace(f"axes.{check.subject}.", "axis.")
        name = subject_name(check.machine, check.subject) if several else check.subject
        groups.setdefault(missing, {}).setdefault(check.rule, []).append(name)
    sizes = {missing: sum(map(len, rules.values())) for missing, rules in groups.items()}
    rest = 0
    if len(groups) > 2 * GROUPS_SHOWN and not options.workings:
        most = sorted(groups, key=lambda missing: -sizes[missing])[:GROUPS_SHOWN]
        rest = len(checks) - sum(sizes[missing] for missing in most)
        groups = {missing: rules for missing, rules in groups.items() if missing in most}
    lines = ["The checks, by what they lack:"]
    for missing, rules in groups.items():
        lines += ["  " + line for line in wrap(prose(missing), options.width - 2)]
        for rule, subjects in rules.items():
            text = prose(f"{rule} {_subjects_words(subjects)}")
            lines += ["      " + line for line in wrap(text, options.width - 6)]
    if rest:
        text = f"and {counted(rest, 'check')} that lack something else; --workings lists every one"
        lines += ["  " + line for line in wrap(text, options.width - 2)]
    return lines
