"""The comparison of two versions for people: changed facts, new and gone findings."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Final, TypeVar

from ..findings.change_report import AxisChange, ChangeReport, EndedCheck, FactChange
from ..findings.finding import LEVELS, Finding, Undecided
from .blocks import entry, hanging, heading
from .finding_text import finding_lines
from .in_force import left_out_section, levels_section, settings_section
from .layout import prose, unbroken, visible, wrap
from .rendering import CAUTION, RenderOptions
from .words import (
    counted,
    files_sentences,
    levels_words,
    missing_words,
    rules_sentences,
    site_file_counts,
    subject_name,
)

AnyCheck = TypeVar("AnyCheck", Undecided, EndedCheck)

FACTS_SHOWN: Final = 100
"""Most changed facts shown for each axis; the json has all."""
FACTS_IN_SHORT: Final = 10
"""Most of them without --detail."""
CHECKS_SHOWN: Final = 20
"""Most undecided or ended checks shown."""
FACTS_NAMED: Final = 3
"""Most facts named for each ended check."""


def render(report: ChangeReport, options: RenderOptions) -> str:
    """Return the report as text that ends in a newline.

    Lines are at most ``options.width`` columns wide (50 or more). Nothing from an input is
    printed unescaped.
    """
    sections = [
        _verdict(report, options),
        _caution(report, options),
        *_new(report, options),
        _facts(report, options),
        _persisting(report, options),
        _gone(report, options),
        _undecided("Checks of the change that lack data", report.undecided, options),
        _undecided("Decided before, and now data is missing", report.lost_checks, options),
        _undecided("Did not apply before, and now data is missing", _not_lost(report), options),
        _ended("Passed before, and a fact was left out", report, options, failure=True),
        _ended("Passed before, and does not apply now", report, options, failure=False),
        _no_longer_checked(report, options),
        _loosened(report, options),
        left_out_section(report.left_out, options),
        levels_section(report.level_changes, options),
        settings_section(report.settings, options),
        _closing(report, options),
    ]
    return "\n\n".join("\n".join(section) for section in sections if section) + "\n"


def _new(report: ChangeReport, options: RenderOptions) -> list[list[str]]:
    """What the change brings and new findings; first the part that holds the gravest of them."""
    parts = [("What the change brings", report.brought), ("New findings", report.new_findings)]
    parts.sort(key=lambda part: min((LEVELS.index(each.level) for each in part[1]), default=0))
    return [section for title, found in parts for section in _findings(title, found, options)]


def _verdict(report: ChangeReport, options: RenderOptions) -> list[str]:
    first, *rest = changes_sentences(report)
    lines = heading(first, options)
    if report.brought or report.new_findings:
        lines += _changed(report, options)
    return [*lines, *wrap(prose(" ".join(rest)), options.width)]


def _changed(report: ChangeReport, options: RenderOptions) -> list[str]:
    """The first facts that changed: what somebody did, above what it brings."""
    lines: list[str] = []
    for change in report.facts[:FACTS_NAMED]:
        name = ".".join(filter(None, (change.subject, change.fact)))
        values = (change.old or "not stated", change.new or "not stated")
        lines += hanging("Changed  ", prose(f"{name}: {' → '.join(values)}"), options.width)
    more = len(report.facts) - FACTS_NAMED
    return [*lines, f"and {counted(more, 'further fact')}, see below"] if more > 0 else lines


def _caution(report: ChangeReport, options: RenderOptions) -> list[str]:
    told = report.brought or report.new_findings or report.persisting
    return wrap(CAUTION, options.width) if told else []


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
        most = FACTS_SHOWN if options.whole else FACTS_IN_SHORT
        for change in changes[:most]:
            lines += _fact_lines(change, options)
        if len(changes) > most:
            lines.append(f"  and {counted(len(changes) - most, 'further fact')}")
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
    return _checks(title, checks, missing_words, options)


def _ended(title: str, report: ChangeReport, options: RenderOptions, *, failure: bool) -> list[str]:
    checks = [each for each in report.ended_checks if each.failure == failure]
    return _checks(title, checks, _changed_words, options)


def _checks(
    title: str, checks: Sequence[AnyCheck], words: Callable[[AnyCheck], str], options: RenderOptions
) -> list[str]:
    """A heading, and each check with its words; nothing if there is none."""
    if not checks:
        return []
    lines = heading(title, options)
    for check in checks[:CHECKS_SHOWN]:
        name = f"{check.rule}, {subject_name(check.machine, check.subject)}"
        lines += entry(visible(name), words(check), options)
    if len(checks) > CHECKS_SHOWN:
        lines.append(f"  and {counted(len(checks) - CHECKS_SHOWN, 'further check')}")
    return lines


def _changed_words(check: EndedCheck) -> str:
    named = ", ".join(check.facts[:FACTS_NAMED])
    more = len(check.facts) - FACTS_NAMED
    if more > 0:
        named += f" and {counted(more, 'further fact')}"
    return f"changed: {named}" if named else "none of its own facts changed"


def _no_longer_checked(report: ChangeReport, options: RenderOptions) -> list[str]:
    if not report.no_longer_checked:
        return []
    lines = heading("Checked before, and skipped now", options)
    for name in report.no_longer_checked:
        lines += entry(visible(name), _why_unchecked(report, name), options)
    return lines


def _why_unchecked(report: ChangeReport, name: str) -> str:
    if report.site_file is not None and name in report.site_file.excluded:
        return "The site file excludes it."
    if name in report.ignored:
        return "A .gitignore file names it, and git does not track it."
    return "No key in it is one of axisproof's files."


def _loosened(report: ChangeReport, options: RenderOptions) -> list[str]:
    if not report.loosened:
        return []
    lines = heading("Loosened by the site file", options)
    for text in report.loosened:
        lines += hanging("  ", prose(text), options.width)
    return lines


def _closing(report: ChangeReport, options: RenderOptions) -> list[str]:
    what = (
        f"Compared {counted(report.axes, 'axis', 'axes')} of {report.old} and {report.new} with "
        f"{counted(report.rules, 'rule')}, for the day {report.day}. "
        f"{counted(len(report.facts), 'fact')} changed."
    )
    return wrap(prose(what), options.width)


def changes_sentences(report: ChangeReport) -> list[str]:
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
        sentences.append(
            f"{counted(undecided, 'check')} cannot be decided because data is missing."
        )
    if loosened := site_file_counts(report.site_file):
        sentences[0] = f"{sentences[0][:-1]}, {loosened} (site file)."
    if report.loosened:
        sentences.append("The site file loosens more than before. This is a failure.")
    lost = len(report.lost_checks)
    unread = len(report.no_longer_checked)
    if unread:
        now = f"{counted(unread, 'file')} {'was' if unread == 1 else 'were'} checked before"
        sentences.append(
            f"{now}, and the check skips {'it' if unread == 1 else 'them'} now. This is a failure."
        )
    if lost:
        verb = "was" if lost == 1 else "were"
        sentences.append(
            f"{counted(lost, 'check')} {verb} decided before and cannot be decided now. "
            "This is a failure: a fact was taken away, and nothing shows that the fault is gone."
        )
    sentences += _ended_sentences(report)
    sentences += report.uncompared
    sentences += files_sentences(report.skipped, report.ignored)
    rules = rules_sentences(report.site_file, report.site_rules, report.level_changes)
    return [*sentences, *rules]


def _ended_sentences(report: ChangeReport) -> list[str]:
    """How many checks passed before and do not apply now, and how many of them are a failure."""
    count = sum(each.count for each in report.ended_checks)
    silent = sum(each.count for each in report.ended_checks if each.failure)
    sentences = []
    if count:
        now = "does not apply now" if count == 1 else "do not apply now"
        sentences.append(f"{counted(count, 'check')} passed before and {now}.")
    if silent:
        which = "It" if silent == count == 1 else f"{silent} of them"
        sentences.append(f"{which} ended because a fact is not stated any more. This is a failure.")
    return sentences
