"""The report as one page for screen and print: findings, undecided checks, pictures of the axes.

Everything is in the one file: it loads nothing, runs no script and says so in its content policy.
Whatever comes from an input is escaped by the template engine, after unprintable characters were
written out.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from importlib.resources import files
from typing import Any, Final

from ..base.errors import Place
from ..base.version import tool_version
from ..findings.finding import AxisSketch, Finding, Mark, Report, Tally
from . import CAUTION, RenderOptions, ordered_findings
from .picture import draw, shape_words
from .template import template_of
from .words import accepted_gone, counted, found, lacks, offer, sum_terms, verdict, waiver

AROUND: Final = 90
"""Characters shown of a source line on either side of the value, and of the value itself."""

WHOLE: Final = "whole machine"


@dataclass
class _Counts:
    """How some checks came out; a verdict is counted under its name."""

    broken: int = 0
    undecided: int = 0
    holds: int = 0
    not_applicable: int = 0

    def add(self, name: str, number: int = 1) -> None:
        key = name.replace(" ", "_")
        setattr(self, key, getattr(self, key) + number)


@dataclass
class _Subject:
    """All that is shown under the heading of an axis, or of the machine as a whole."""

    name: str
    id: str
    findings: list[dict[str, Any]] = field(default_factory=list)
    undecided: list[dict[str, str]] = field(default_factory=list)
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
        _machine(name, f"m{number}", report, Markup)
        for number, name in enumerate(_names(report), 1)
    ]
    return template.render(
        style=Markup(style),
        headline=_headline(report),
        verdict=verdict(report),
        checked=_checked(report),
        caution=CAUTION if report.findings else "",
        machines=machines,
        deciding_facts=report.deciding_facts,
        gone=[(accepted_gone(each), each.message) for each in report.accepted_gone],
        settings=[_setting(each) for each in report.settings],
        files=report.files,
        version=tool_version(),
    )


def _names(report: Report) -> Iterable[str]:
    named = [*report.machines, *(finding.machine for finding in report.findings)]
    return dict.fromkeys([*named, *(check.machine for check in report.undecided)])


def _headline(report: Report) -> str:
    parts = list(filter(None, [found(report.findings)]))
    if report.undecided:
        parts.append(f"{len(report.undecided)} undecided")
    return ", ".join(parts) or "no findings"


def _checked(report: Report) -> str:
    return (
        f"Checked {counted(report.axes, 'axis', 'axes')} of "
        f"{counted(len(report.machines), 'machine')} in {counted(len(report.files), 'file')} with "
        f"{counted(report.rules, 'rule')}."
    )


def _setting(setting: tuple[str, str, str, str, str]) -> dict[str, str]:
    machine, subject, name, value, reason = setting
    where = " · ".join(filter(None, (machine or "every machine", subject)))
    return {"name": name, "value": value, "where": where, "reason": reason}


# Machines ---------------------------------------------------------------------------------------


def _machine(name: str, mark: str, report: Report, markup: Any) -> dict[str, Any]:
    tallies = [tally for tally in report.tallies if tally.machine == name]
    findings = [finding for finding in ordered_findings(report) if finding.machine == name]
    undecided = [check for check in report.undecided if check.machine == name]
    sketches = {sketch.subject: sketch for sketch in report.sketches if sketch.machine == name}
    order = [tally.subject for tally in tallies]
    order += [*sketches, *(finding.subject for finding in findings)]
    order += [check.subject for check in undecided]
    subjects: dict[str, _Subject] = {}
    for number, subject in enumerate(dict.fromkeys(order), 1):
        subjects[subject] = _Subject(subject or WHOLE, f"{mark}-{number}")
    for finding in findings:
        home = subjects[finding.subject]
        home.findings.append(_finding(finding, f"{home.id}-{len(home.findings) + 1}"))
    for check in undecided:
        told = {"rule": check.rule, "title": check.title, "lacks": lacks(check)}
        subjects[check.subject].undecided.append(told)
    for subject, sketch in sketches.items():
        _draw(sketch, subjects[subject], markup)
    concerns, rows = _overview(name, tallies, report, subjects)
    shown = [subject for subject in subjects.values() if not subject.empty]
    return {"name": name, "id": mark, "concerns": concerns, "rows": rows, "subjects": shown}


def _overview(
    machine: str, tallies: list[Tally], report: Report, subjects: dict[str, _Subject]
) -> tuple[list[str], list[dict[str, Any]]]:
    """Count outcomes by axis and concern; without outcomes there are only the totals."""
    cells: dict[str, dict[str, _Counts]] = {}
    for outcome in report.outcomes:
        if outcome.machine == machine:
            concern = report.concerns.get(outcome.rule, "other")
            row = cells.setdefault(outcome.subject, {})
            row.setdefault(concern, _Counts()).add(outcome.verdict)
    told = {outcome.rule for outcome in report.outcomes}
    for finding in report.findings:
        # What the reader itself finds is no rule and has no outcome.
        if report.outcomes and finding.machine == machine and finding.rule not in told:
            concern = report.concerns.get(finding.rule, "other")
            cells.setdefault(finding.subject, {}).setdefault(concern, _Counts()).add("broken")
    concerns = sorted({concern for row in cells.values() for concern in row})
    rows = []
    for tally in tallies:
        home = subjects[tally.subject]
        counts = _Counts(tally.broken, tally.undecided, tally.holds, tally.not_applicable)
        row = cells.get(tally.subject, {})
        rows.append(
            {
                "name": home.name,
                "id": "" if home.empty else home.id,
                "cells": [row.get(concern, _Counts()) for concern in concerns],
                "all": counts,
            }
        )
    return concerns, rows


def _draw(sketch: AxisSketch, subject: _Subject, markup: Any) -> None:
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


def _finding(finding: Finding, name: str) -> dict[str, Any]:
    return {
        "finding": finding,
        "id": name,
        "marks": [_mark(mark) for mark in finding.marks],
        "waiver": waiver(finding.waived) if finding.waived else None,
        "offer": offer(finding),
        "sums": [sum_terms(step) for step in finding.workings],
    }


def _mark(mark: Mark) -> dict[str, Any]:
    before, value, after = parts_of_line(mark.line_text, mark.place)
    return {
        "place": mark.place,
        "label": mark.label,
        "before": before,
        "value": value,
        "after": after,
    }


def parts_of_line(line_text: str, place: Place) -> tuple[str, str, str]:
    """Return what stands before, in and after a place on its line, without indentation.

    What is long is cut and ends in an ellipsis: a file may be one line of a megabyte. A place that
    runs over several lines is taken up to the end of its first.
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
