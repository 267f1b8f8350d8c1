"""The report for people: findings with their source lines, undecided checks, a summary."""

from __future__ import annotations

from collections.abc import Iterable

from ..findings.finding import VERDICTS, DerivationStep, Finding, Mark, Outcome, Report, Tally
from .blocks import MARGIN, entry, hanging, heading, paragraph, part
from .in_force import left_out_section, levels_section, settings_section
from .layout import columns, marked_source, pad, prose, unbroken, visible, wrap
from .paint import paint
from .rendering import CAUTION, RenderOptions, ordered_findings, total
from .undecided import undecided_section
from .words import (
    VERDICT_WORDS,
    acceptance_name,
    concern_words,
    counted,
    fix_words,
    subject_name,
    summary_words,
    waiver_words,
)

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final


ROWS_SHOWN: Final = 40
"""Most rows of the summary; further axes without broken or undecided checks share one row."""


def render(report: Report, options: RenderOptions) -> str:
    """Return the report as text that ends in a newline.

    Lines are at most ``options.width`` columns wide (50 or more). Nothing from an input is
    printed unescaped.
    """
    sections = [
        *_findings(report, options),
        _accepted_gone(report, options),
        undecided_section(report, options),
        _undecided_concerns(report, options),
        left_out_section(report.left_out, options),
        levels_section(report.level_changes, options),
        settings_section(report.settings, options),
        _outcomes(report, options),
        _summary(report, options),
        _closing(report, options),
    ]
    return "\n\n".join("\n".join(section) for section in sections if section) + "\n"


# Findings


def _findings(report: Report, options: RenderOptions) -> list[list[str]]:
    sections: list[list[str]] = []
    shown: tuple[str, str] | None = None
    for finding in ordered_findings(report):
        lines: list[str] = []
        if (finding.machine, finding.subject) != shown:
            shown = finding.machine, finding.subject
            lines += [*heading(subject_name(*shown), options), ""]
        sections.append(lines + finding_lines(finding, options))
    return sections


def finding_lines(finding: Finding, options: RenderOptions) -> list[str]:
    """Return one finding: level and rule, message and places, figures, why and remedy."""
    room = options.width - MARGIN
    level = paint(pad(finding.level.upper(), MARGIN), finding.level, options)
    names = [paint(line, "heading", options) for line in wrap(prose(finding.rule), room)]
    lines = [level + names[0], *(" " * MARGIN + name for name in names[1:])]
    lines += paragraph("", finding.headline or finding.title, options)
    if finding.waived:
        lines += ["", *paragraph(*waiver_words(finding.waived), options)]
    lines += ["", *paragraph("", finding.message, options)]
    for index, mark in enumerate(finding.marks):
        lines += [
            "",
            *part("and at" if index else "at", _mark_lines(mark, finding, options), options),
        ]
    rest = [
        part("Figures", _figures(finding, room), options) if finding.figures else [],
        part("Workings", _workings(finding.workings, room), options)
        if options.workings and finding.workings
        else [],
        [
            *(paragraph("Must hold", finding.title, options) if finding.headline else ()),
            *paragraph("Why", finding.why, options),
            *paragraph("Remedy", finding.remedy, options),
            *paragraph("Offered", fix_words(finding), options),
            *paragraph("Basis", finding.basis, options),
        ],
    ]
    for block in rest:
        if block:
            lines += ["", *block]
    return lines


def _mark_lines(mark: Mark, finding: Finding, options: RenderOptions) -> list[str]:
    room = options.width - MARGIN
    where = unbroken(f"{mark.place.file}:{mark.place.line}:{mark.place.column}")
    lines = [paint(line, "place", options) for line in wrap(where, room)]
    source, *marker = marked_source(mark.line_text, mark.place, mark.label, room - 2)
    lines.append("  " + source)
    lines += ["  " + paint(line, finding.level, options) for line in marker]
    return lines


def _figures(finding: Finding, room: int) -> list[str]:
    names = [visible(figure.name) for figure in finding.figures]
    across = _name_width(names, 30)
    lines: list[str] = []
    for name, figure in zip(names, finding.figures, strict=True):
        above, left = _name_cell(name, across, room)
        lines += [*above, *hanging(left + "  ", prose(figure.text), room)]
    return lines


def _name_width(names: Iterable[str], most: int) -> int:
    """The width of the column of names; names longer than ``most`` get a line of their own."""
    return max((each for each in map(columns, names) if each <= most), default=2)


def _name_cell(name: str, across: int, room: int) -> tuple[list[str], str]:
    """The lines above and the cell of a name: a long name goes above, and its cell is empty."""
    if columns(name) <= across:
        return [], pad(name, across)
    return wrap(name, room), " " * across


def _workings(steps: tuple[DerivationStep, ...], room: int) -> list[str]:
    """Write each step: its meaning, then formula, numbers and result below each other."""
    names = [visible(step.name) for step in steps]
    across = _name_width(names, 24)
    lines: list[str] = []
    for name, step in zip(names, steps, strict=True):
        if step.meaning:
            lines += [*([""] if lines else []), *wrap(prose(step.meaning) + ":", room)]
        above, left = _name_cell(name, across, room - 2)
        lines += [f"  {line}" for line in above]
        previous = ""
        for text in (prose(step.formula), prose(step.filled), prose(step.result)):
            if text and text != previous:
                lines += hanging(f"  {left} = ", text, room)
                left, previous = " " * across, text
    return lines


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
    lines = heading("Nothing could be decided", options)
    for each in report.undecided_concerns:
        name = f"{each.concern}, {subject_name(each.machine, each.subject)}"
        lines += entry(visible(name), concern_words(each), options)
    return lines


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
            word = pad(VERDICT_WORDS[outcome.verdict], 15)
            reason = f": {outcome.reason}" if outcome.reason else ""
            lines += hanging("  " + word, prose(outcome.rule + reason), options.width)
    return lines


_COLUMNS: Final = (("held", 6), ("broken", 8), ("undecided", 11), ("did not apply", 15))


def _summary(report: Report, options: RenderOptions) -> list[str]:
    if not report.tallies:
        return []
    name_room = max(options.width - sum(across for _, across in _COLUMNS), 10)
    longest = max((columns(visible(tally.subject)) + 4 for tally in report.tallies), default=0)
    name_room = min(name_room, max(longest, 20))
    heads = "".join(f"{word:>{across}}" for word, across in _COLUMNS)
    lines = [paint((pad("Checks", name_room) + heads).rstrip(), "heading", options)]
    machines: dict[str, list[Tally]] = {}
    for tally in report.tallies:
        machines.setdefault(tally.machine, []).append(tally)
    left = ROWS_SHOWN
    for machine, tallies in machines.items():
        lines += wrap(prose(machine), options.width)
        folded = []
        for tally in tallies:
            if left <= 0 and not tally.broken and not tally.undecided:
                folded.append(tally)
                continue
            left -= 1
            name = visible(tally.subject) or "(whole machine)"
            lines += _row("  " + name, tally, name_room, options)
        if folded:
            lines += _row(f"  {len(folded)} others", total(folded), name_room, options)
    if len(report.tallies) > 1:
        lines += _row("all", total(report.tallies), name_room, options)
    return lines


def _row(name: str, tally: Tally, name_room: int, options: RenderOptions) -> list[str]:
    numbers = (tally.holds, tally.broken, tally.undecided, tally.not_applicable)
    roles = ("", "error", "undecided", "")
    cells = ""
    for number, (_, across), role in zip(numbers, _COLUMNS, roles, strict=True):
        cell = f"{number:>{across}}"
        cells += paint(cell, role, options) if number and role else cell
    if columns(name) < name_room:
        return [pad(name, name_room) + cells]
    indent = len(name) - len(name.lstrip(" "))
    own = [" " * indent + line for line in wrap(name.strip(" "), options.width - indent)]
    return [*own, " " * name_room + cells]


def _closing(report: Report, options: RenderOptions) -> list[str]:
    what = (
        f"Checked {counted(report.axes, 'axis', 'axes')} of "
        f"{counted(len(report.machines), 'machine')} in {counted(len(report.files), 'file')} "
        f"with {counted(report.rules, 'rule')}."
    )
    lines = wrap(prose(f"{what} {summary_words(report)}"), options.width)
    if report.findings:
        lines += ["", *paragraph("Caution", CAUTION, options)]
    return lines
