"""The comparison of two versions for people: changed facts, new and gone findings."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from ..findings.finding import LEVELS, AxisChange, ChangeReport, FactChange, Finding, Undecided
from .blocks import entry, hanging, heading, paragraph
from .in_force import levels_section, settings_section
from .layout import prose, unbroken, visible, wrap
from .rendering import CAUTION, RenderOptions
from .text import finding_lines
from .words import (
    counted,
    level_sentences,
    levels_words,
    missing_words,
    site_sentences,
    subject_name,
)

FACTS_SHOWN: Final = 100
"""Most changed facts shown for each axis; the json has all."""
CHECKS_SHOWN: Final = 20
"""Most undecided checks shown."""


def render(report: ChangeReport, options: RenderOptions) -> str:
    """Return the report as text that ends in a newline.

    Lines are at most ``options.width`` columns wide (50 or more). Nothing from an input is
    printed unescaped.
    """
    sections = [
        _facts(report, options),
        *_findings("What the change brings", report.brought, options),
        *_findings("New findings", report.new_findings, options),
        _persisting(report, options),
        _gone(report, options),
        _undecided("Checks of the change that lack a fact", report.undecided, options),
        _undecided("Decided before, undecided now", report.lost_checks, options),
        _undecided("Did not apply before, undecided now", _not_lost(report), options),
        levels_section(report.level_changes, options),
        settings_section(report.settings, options),
        _closing(report, options),
    ]
    return "\n\n".join("\n".join(section) for section in sections if section) + "\n"


def _facts(report: ChangeReport, options: RenderOptions) -> list[str]:
    if not report.facts and not report.axis_changes:
        return []
    lines = heading("Changed facts", options)
    groups: dict[tuple[str, str], list[FactChange]] = {}
    for axis in report.axis_changes:
        groups.setdefault((axis.machine, axis.subject), [])
    for change in report.facts:
        groups.setdefault((change.machine, change.subject), []).append(change)
    axis_changes = {(each.machine, each.subject): each for each in report.axis_changes}
    for subject, changes in groups.items():
        name = subject_name(*subject) + _axis_change_words(axis_changes.get(subject))
        lines += wrap(prose(name), options.width)
        for change in changes[:FACTS_SHOWN]:
            lines += _fact_lines(change, options)
        if len(changes) > FACTS_SHOWN:
            lines.append(f"  and {counted(len(changes) - FACTS_SHOWN, 'further fact')}")
    return lines


def _axis_change_words(change: AxisChange | None) -> str:
    if change is None:
        return ""
    return f", called {change.old_name} before" if change.kind == "renamed" else f", {change.kind}"


def _fact_lines(change: FactChange, options: RenderOptions) -> list[str]:
    old = "not stated" if change.old is None else change.old
    new = "not stated" if change.new is None else change.new
    lines = hanging("  ", prose(f"{change.fact}: {old} → {new}"), options.width)
    marks = [mark for mark in (change.old_mark, change.new_mark) if mark]
    places = [
        unbroken(f"{mark.place.file}:{mark.place.line}:{mark.place.column}") for mark in marks
    ]
    return [*lines, *hanging("      ", " → ".join(places), options.width)]


def _findings(
    title: str, findings: Sequence[Finding], options: RenderOptions
) -> Iterable[list[str]]:
    first = heading(title, options)
    shown: tuple[str, str] | None = None
    for finding in _by_axis_and_level(findings):
        lines = [*first, ""] if first else []
        first = []
        if (finding.machine, finding.subject) != shown:
            shown = finding.machine, finding.subject
            lines += [*wrap(prose(subject_name(*shown)), options.width), ""]
        yield lines + finding_lines(finding, options)


def _by_axis_and_level(findings: Sequence[Finding]) -> list[Finding]:
    """The findings by axis, in the given order of axes, and by level within each axis."""
    subjects: dict[tuple[str, str], int] = {}
    for finding in findings:
        subjects.setdefault((finding.machine, finding.subject), len(subjects))

    def rank(finding: Finding) -> tuple[int, int]:
        return subjects[finding.machine, finding.subject], LEVELS.index(finding.level)

    return sorted(findings, key=rank)


def _persisting(report: ChangeReport, options: RenderOptions) -> list[str]:
    if not report.persisting:
        return []
    lines = heading("Still there", options)
    for each in report.persisting:
        message = each.finding.message
        if message != each.message_before:
            message += f" Before: {each.message_before}"
        lines += entry(visible(_finding_name(each.finding)), message, options)
    return lines


def _gone(report: ChangeReport, options: RenderOptions) -> list[str]:
    if not report.gone:
        return []
    lines = heading("Gone", options)
    for finding in report.gone:
        lines += entry(visible(_finding_name(finding)), f"It said: {finding.message}", options)
    return lines


def _finding_name(finding: Finding) -> str:
    return f"{finding.level} {finding.rule}, {subject_name(finding.machine, finding.subject)}"


def _not_lost(report: ChangeReport) -> list[Undecided]:
    lost = {(check.rule, check.machine, check.subject) for check in report.lost_checks}
    return [
        check
        for check in report.newly_undecided
        if (check.rule, check.machine, check.subject) not in lost
    ]


def _undecided(title: str, checks: Sequence[Undecided], options: RenderOptions) -> list[str]:
    if not checks:
        return []
    lines = heading(title, options)
    for check in checks[:CHECKS_SHOWN]:
        name = f"{check.rule}, {subject_name(check.machine, check.subject)}"
        lines += entry(visible(name), missing_words(check), options)
    if len(checks) > CHECKS_SHOWN:
        lines.append(f"  and {counted(len(checks) - CHECKS_SHOWN, 'further check')}")
    return lines


def _closing(report: ChangeReport, options: RenderOptions) -> list[str]:
    what = (
        f"Compared {counted(report.axes, 'axis', 'axes')} of {report.old} and {report.new} with "
        f"{counted(report.rules, 'rule')}; {counted(len(report.facts), 'fact')} changed."
    )
    lines = wrap(prose(f"{what} {changes_summary(report)}"), options.width)
    if report.brought or report.new_findings or report.persisting:
        lines += ["", *paragraph("Caution", CAUTION, options)]
    return lines


def changes_summary(report: ChangeReport) -> str:
    """Return the result of the comparison, which claims only what was decided."""
    sentences = []
    new = (*report.brought, *report.new_findings)
    if new:
        sentences.append(f"The change brings {levels_words(new)}.")
    elif report.facts or report.axis_changes:
        sentences.append("The change brings no finding.")
    else:
        sentences.append("Nothing that these files state changed.")
    if report.persisting:
        sentences.append(
            f"Still there: {levels_words(each.finding for each in report.persisting)}."
        )
    if report.gone:
        sentences.append(f"Gone: {levels_words(report.gone)}.")
    undecided = len(report.undecided) + len(report.newly_undecided)
    if undecided:
        verb = "was" if undecided == 1 else "were"
        sentences.append(f"{counted(undecided, 'check')} {verb} undecided for want of facts.")
    lost = len(report.lost_checks)
    if lost:
        verb = "was" if lost == 1 else "were"
        sentences.append(
            f"{counted(lost, 'check')} {verb} decided before and cannot be decided now. "
            "This is a failure: a fact was taken away, and nothing shows that the fault is gone."
        )
    return " ".join(
        [*sentences, *site_sentences(report.site_rules), *level_sentences(report.level_changes)]
    )
