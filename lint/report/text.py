"""The report for people: a summary table, findings with their places, and what was not decided."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from ..findings.finding import LEVELS, VERDICTS, Outcome, Report
from .blocks import entry, hanging, heading, ruled
from .finding_text import finding_lines
from .folding import folded
from .in_force import left_out_section, levels_section, settings_section, skipped_section
from .layout import pad, prose, visible, wrap
from .paint import paint
from .rendering import CAUTION, RenderOptions
from .summary_table import Row, rows_of, table, worst_first
from .undecided import undecided_section
from .unusable_files import unusable_section
from .words import (
    NO_FINDINGS,
    VERDICT_WORDS,
    acceptance_name,
    checked_words,
    concern_words,
    counted,
    headline_words,
    subject_name,
    summary_words,
)


def render(report: Report, options: RenderOptions) -> str:
    """Return the report as text that ends in a newline.

    Lines are at most ``options.width`` columns wide (50 or more). Nothing from an input is
    printed unescaped.
    """
    if options.quiet:
        sections = _quiet(report, options)
        return "".join("\n".join(section) + "\n\n" for section in sections)[:-1]
    rows = rows_of(report)
    sections = [
        *_opening(report, rows, options),
        *_told(report, rows, options),
        _accepted_gone(report, options),
        _undecided_concerns(report, options),
        undecided_section(report, options),
        left_out_section(report.left_out, options),
        skipped_section(report, options),
        levels_section(report.level_changes, options),
        settings_section(report.settings, options),
        _outcomes(report, options),
        _closing(report, options),
    ]
    return "\n\n".join("\n".join(section) for section in sections if section) + "\n"


def _told(report: Report, rows: Sequence[Row], options: RenderOptions) -> list[list[str]]:
    """The findings, or how many each rule has."""
    if options.statistics:
        return [_statistics(report, options)]
    return _findings(report, rows, options)


def _opening(report: Report, rows: Sequence[Row], options: RenderOptions) -> list[list[str]]:
    """The verdict in a line, the caution, and the table."""
    names = report.machines[0] if len(report.machines) == 1 else f"{len(report.machines)} machines"
    sections = [
        heading(f"{names}: {headline_words(report)}", options),
        unusable_section(report.unusable, options),
    ]
    if report.sends_to_machine:
        sections.append(wrap(CAUTION, options.width))
    return [*sections, table(rows, options)]


def _quiet(report: Report, options: RenderOptions) -> list[list[str]]:
    """The findings, and all that is not shown or not compared in one paragraph; else nothing."""
    told = _told(report, rows_of(report), options)
    if not told and headline_words(report) == NO_FINDINGS and not report.left_out:
        return []
    unusable = unusable_section(report.unusable, options)
    caution = [wrap(CAUTION, options.width)] if report.sends_to_machine else []
    failures = _undecided_concerns(report, options)
    names = skipped_section(report, options)
    levels = levels_section(report.level_changes, options)
    closing = _closing(report, options)
    if report.left_out:
        number = counted(len(report.left_out), "value")
        text = f"Not taken from exports: {number}. Without --quiet each is listed."
        closing += wrap(text, options.width)
    return [*caution, *filter(None, (unusable, *told, failures, names, levels)), closing]


# Findings


def _statistics(report: Report, options: RenderOptions) -> list[str]:
    """How many findings and undecided checks each rule has; most findings first."""
    failed = Counter(finding.rule for finding in report.findings)
    undecided = Counter(check.rule for check in report.undecided)
    levels = {check.rule: check.level for check in report.undecided}
    levels |= {finding.rule: finding.level for finding in report.findings}
    rules = sorted(
        levels, key=lambda rule: (-failed[rule], LEVELS.index(levels[rule]), -undecided[rule], rule)
    )
    if not rules:
        return []
    head = f"{'failed':>8}{'cannot be decided':>19}  level    rule"
    lines = [paint(head, "heading", options)]
    for rule in rules:
        cells = f"{failed[rule] or '-':>8}{undecided[rule] or '-':>19}  {pad(levels[rule], 9)}"
        lines += hanging(cells, prose(rule), options.width)
    return lines


def _findings(report: Report, rows: Sequence[Row], options: RenderOptions) -> list[list[str]]:
    sections: list[list[str]] = []
    shown: tuple[str, str] | None = None
    findings = worst_first(report, rows)
    told = [(each, ()) for each in findings] if options.whole else folded(findings)
    for finding, consequences in told:
        lines: list[str] = []
        if (finding.machine, finding.subject) != shown:
            shown = finding.machine, finding.subject
            one = len(report.machines) == 1 and finding.subject
            lines += ruled(finding.subject if one else subject_name(*shown), options)
        sections.append(lines + finding_lines(finding, options, consequences))
    return sections


# Settings, outcomes, summary


def _accepted_gone(report: Report, options: RenderOptions) -> list[str]:
    if not report.accepted_gone:
        return []
    lines = heading("Accepted, and no longer found", options)
    for each in report.accepted_gone:
        lines += entry(visible(acceptance_name(each)), each.message, options)
    return lines


def _undecided_concerns(report: Report, options: RenderOptions) -> list[str]:
    if not report.undecided_concerns:
        return []
    lines = heading("Missing data that counts as a failure", options)
    for each in report.undecided_concerns:
        name = f"{each.concern}, {subject_name(each.machine, each.subject)}"
        lines += entry(visible(name), concern_words(each), options)
    ask = "`axisproof ask FILE` asks for this data, fact by fact, and says where to find each."
    return lines + wrap(ask, options.width)


def _outcomes(report: Report, options: RenderOptions) -> list[str]:
    if not report.outcomes:
        return []
    lines = heading("Every outcome", options)
    subjects: dict[tuple[str, str], list[Outcome]] = {}
    for outcome in report.outcomes:
        subjects.setdefault((outcome.machine, outcome.subject), []).append(outcome)
    for subject, outcomes in subjects.items():
        lines += wrap(prose(subject_name(*subject)), options.width)
        for outcome in sorted(outcomes, key=lambda each: VERDICTS.index(each.verdict)):
            word = pad(VERDICT_WORDS[outcome.verdict], 19)
            reason = f": {outcome.reason}" if outcome.reason else ""
            lines += hanging("  " + word, prose(outcome.rule + reason), options.width)
    return lines


def _closing(report: Report, options: RenderOptions) -> list[str]:
    return wrap(prose(f"{checked_words(report)} {summary_words(report)}"), options.width)
