"""The report as one page for screen and print: findings, undecided checks, pictures of the axes.

The page is one file: it loads nothing, runs no script and says so in its content policy. Characters
of the input that do not print become escapes, and the template engine escapes markup.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from importlib.resources import files
from typing import Any, Final

from ..base.errors import Place
from ..base.version import tool_version
from ..findings.finding import AxisSketch, Finding, Mark, Report, Tally
from .in_force import LEFT_OUT_TITLE, LEVELS_TITLE, SETTINGS_TITLE
from .picture import draw, shape_words
from .rendering import CAUTION, RenderOptions, ordered_findings
from .template import template_of
from .words import (
    acceptance_name,
    concern_words,
    counted,
    fix_words,
    headline_words,
    level_words,
    missing_words,
    place_words,
    sum_terms,
    summary_words,
    waiver_words,
)

AROUND: Final = 90
"""Most characters shown of a source line before the value, of the value, and after it."""

WHOLE_MACHINE: Final = "whole machine"


@dataclass
class _VerdictCounts:
    """Number of checks by verdict; the name of a field is the verdict."""

    broken: int = 0
    undecided: int = 0
    holds: int = 0
    not_applicable: int = 0

    def add(self, name: str, number: int = 1) -> None:
        key = name.replace(" ", "_")
        setattr(self, key, getattr(self, key) + number)


@dataclass
class _SubjectSection:
    """The content under the heading of an axis, or of the whole machine."""

    name: str
    id: str
    findings: list[dict[str, Any]] = field(default_factory=list)
    undecided: list[dict[str, str]] = field(default_factory=list)
    concerns: list[str] = field(default_factory=list)
    description: str = ""
    pictures: list[dict[str, Any]] = field(default_factory=list)
    absent: tuple[str, ...] = ()
    gaps: tuple[Any, ...] = ()

    @property
    def undecided_words(self) -> str:
        return counted(len(self.undecided), "check")

    @property
    def empty(self) -> bool:
        return not (self.findings or self.undecided or self.pictures or self.absent or self.gaps)


def render(report: Report, options: RenderOptions) -> str:
    """Return the report as an HTML page that ends in a newline; ``options`` change nothing."""
    from markupsafe import Markup

    folder = files(__package__)
    template = template_of("page.html.jinja")
    style = folder.joinpath("page.css").read_text("utf-8").strip()
    machines = [
        _machine_section(name, f"m{number}", report, Markup)
        for number, name in enumerate(_machine_names(report), 1)
    ]
    return template.render(
        style=Markup(style),
        headline=headline_words(report),
        verdict=summary_words(report),
        checked=_checked(report),
        caution=CAUTION if report.findings else "",
        machines=machines,
        deciding_facts=report.deciding_facts,
        gone=[(acceptance_name(each), each.message) for each in report.accepted_gone],
        left_out_title=LEFT_OUT_TITLE,
        left_out=[(place_words(each.place), each.text) for each in report.left_out],
        levels_title=LEVELS_TITLE,
        levels=[(each, level_words(each)) for each in report.level_changes],
        settings_title=SETTINGS_TITLE,
        settings=[_setting_fields(each) for each in report.settings],
        files=report.files,
        version=tool_version(),
    )


def _machine_names(report: Report) -> Iterable[str]:
    named = [*report.machines, *(finding.machine for finding in report.findings)]
    return dict.fromkeys([*named, *(check.machine for check in report.undecided)])


def _checked(report: Report) -> str:
    return (
        f"Checked {counted(report.axes, 'axis', 'axes')} of "
        f"{counted(len(report.machines), 'machine')} in {counted(len(report.files), 'file')} with "
        f"{counted(report.rules, 'rule')}."
    )


def _setting_fields(setting: tuple[str, str, str, str, str]) -> dict[str, str]:
    machine, subject, name, value, reason = setting
    where = " · ".join(filter(None, (machine or "every machine", subject)))
    return {"name": name, "value": value, "where": where, "reason": reason}


# Machines ---------------------------------------------------------------------------------------


def _machine_section(name: str, mark: str, report: Report, markup: Any) -> dict[str, Any]:
    tallies = [tally for tally in report.tallies if tally.machine == name]
    findings = [finding for finding in ordered_findings(report) if finding.machine == name]
    undecided = [check for check in report.undecided if check.machine == name]
    sketches = {sketch.subject: sketch for sketch in report.sketches if sketch.machine == name}
    order = [tally.subject for tally in tallies]
    order += [*sketches, *(finding.subject for finding in findings)]
    order += [check.subject for check in undecided]
    subjects: dict[str, _SubjectSection] = {}
    for number, subject in enumerate(dict.fromkeys(order), 1):
        subjects[subject] = _SubjectSection(subject or WHOLE_MACHINE, f"{mark}-{number}")
    for finding in findings:
        home = subjects[finding.subject]
        home.findings.append(_finding_fields(finding, f"{home.id}-{len(home.findings) + 1}"))
    for check in undecided:
        fields = {"rule": check.rule, "title": check.title, "lacks": missing_words(check)}
        subjects[check.subject].undecided.append(fields)
    for each in report.undecided_concerns:
        if each.machine == name:
            subjects[each.subject].concerns.append(concern_words(each))
    for subject, sketch in sketches.items():
        _add_pictures(sketch, subjects[subject], markup)
    concerns, rows = _overview(name, tallies, report, subjects)
    shown = [subject for subject in subjects.values() if not subject.empty]
    return {"name": name, "id": mark, "concerns": concerns, "rows": rows, "subjects": shown}


def _overview(
    machine: str, tallies: list[Tally], report: Report, subjects: dict[str, _SubjectSection]
) -> tuple[list[str], list[dict[str, Any]]]:
    """Count outcomes by axis and concern; without outcomes there are only the totals."""
    cells: dict[str, dict[str, _VerdictCounts]] = {}
    for outcome in report.outcomes:
        if outcome.machine == machine:
            concern = report.concerns.get(outcome.rule, "other")
            row = cells.setdefault(outcome.subject, {})
            row.setdefault(concern, _VerdictCounts()).add(outcome.verdict)
    rules_with_outcome = {outcome.rule for outcome in report.outcomes}
    for finding in report.findings:
        # A built-in finding belongs to no rule and has no outcome.
        if (
            report.outcomes
            and finding.machine == machine
            and finding.rule not in rules_with_outcome
        ):
            concern = report.concerns.get(finding.rule, "other")
            cells.setdefault(finding.subject, {}).setdefault(concern, _VerdictCounts()).add(
                "broken"
            )
    concerns = sorted({concern for row in cells.values() for concern in row})
    rows = []
    for tally in tallies:
        home = subjects[tally.subject]
        counts = _VerdictCounts(tally.broken, tally.undecided, tally.holds, tally.not_applicable)
        row = cells.get(tally.subject, {})
        rows.append(
            {
                "name": home.name,
                "id": "" if home.empty else home.id,
                "cells": [row.get(concern, _VerdictCounts()) for concern in concerns],
                "all": counts,
            }
        )
    return concerns, rows


def _add_pictures(sketch: AxisSketch, subject: _SubjectSection, markup: Any) -> None:
    subject.description = sketch.description
    subject.absent, subject.gaps = sketch.absent, sketch.gaps
    for number, picture in enumerate(sketch.pictures, 1):
        subject.pictures.append(
            {
                "picture": picture,
                "axis": subject.name,
                # The drawing escapes what comes from the input.
                "svg": markup(draw(picture, f"{subject.id}-p{number}")),
                "shapes": [shape_words(feature) for feature in picture.features],
            }
        )


# Findings ---------------------------------------------------------------------------------------


def _finding_fields(finding: Finding, name: str) -> dict[str, Any]:
    return {
        "finding": finding,
        "id": name,
        "marks": [_mark_fields(mark) for mark in finding.marks],
        "waiver": waiver_words(finding.waived) if finding.waived else None,
        "offer": fix_words(finding),
        "sums": [sum_terms(step) for step in finding.workings],
    }


def _mark_fields(mark: Mark) -> dict[str, Any]:
    before, value, after = parts_of_line(mark.line_text, mark.place)
    return {
        "place": mark.place,
        "label": mark.label,
        "before": before,
        "value": value,
        "after": after,
    }


def parts_of_line(line_text: str, place: Place) -> tuple[str, str, str]:
    """Return the text before, in and after a place on its line, without indentation.

    Long text is cut at an ellipsis, as a file may be one line of a megabyte. A place over several
    lines ends here with its first line.
    """
    first = min(place.column - 1, len(line_text))
    last = place.end_column - 1 if place.end_line == place.line else len(line_text)
    last = min(max(last, first), len(line_text))
    before = line_text[:first].lstrip(" \t") if first <= 10 * AROUND else line_text[:first]
    value, after = line_text[first:last], line_text[last:].rstrip("\r\n")
    if len(before) > AROUND:
        before = "…" + before[-AROUND:]
    if len(value) > AROUND:
        value = value[:AROUND] + "…"
    if len(after) > AROUND:
        after = after[:AROUND] + "…"
    before, value, after = (part.replace("\t", "    ") for part in (before, value, after))
    return before, value, after
