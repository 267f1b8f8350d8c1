"""The report as one page for screen and print: findings, undecided checks, pictures of the axes.

The page is one file: it loads nothing, runs no script and says so in its content policy. Characters
of the input that do not print become escapes, and the template engine escapes markup.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from importlib.resources import files
from typing import Any, Final

from ..base.errors import Place
from ..base.lazy import replace
from ..base.version import tool_version
from ..findings.finding import LEVELS, AxisSketch, Finding, Mark, Report, Undecided
from ..findings.unusable import each_fault
from .drawn_faults import drawn_faults
from .folding import consequence_words, folded
from .html_overview import SIGNS, overview, undecided_words
from .in_force import LEFT_OUT_TITLE, LEVELS_TITLE, SETTINGS_TITLE, SKIPPED_TITLE
from .picture import NARROW, WIDE, draw
from .rendering import CAUTION, RenderOptions
from .summary_table import Row, rows_of, worst_first
from .template import template_of
from .unusable_files import UNUSABLE_TITLE, unusable_place, unusable_words
from .words import (
    acceptance_name,
    checked_words,
    concern_words,
    counted,
    fix_words,
    headline_words,
    level_words,
    missing_words,
    place_words,
    subject_name,
    sum_terms,
    summary_words,
    unchecked_files,
    waiver_words,
    wrong_words,
)

MOST_PICKED: Final = 60
"""Most axes that a page can be narrowed to; a browser tries the rule of each on every element."""

AROUND: Final = 90
"""Most characters shown of a source line before the value, of the value, and after it."""


@dataclass
class _SubjectSection:
    """The content under the heading of an axis, or of the whole machine."""

    heading: str
    id: str
    findings: list[dict[str, Any]] = field(default_factory=list)
    undecided: list[dict[str, str]] = field(default_factory=list)
    undecided_words: str = ""
    concerns: list[str] = field(default_factory=list)
    description: str = ""
    pictures: list[dict[str, Any]] = field(default_factory=list)
    absent: tuple[str, ...] = ()
    gaps: tuple[Any, ...] = ()

    @property
    def empty(self) -> bool:
        """Whether there is nothing to show."""
        told = self.findings or self.undecided or self.concerns
        return not (told or self.pictures or self.absent or self.gaps)


def render(report: Report, options: RenderOptions) -> str:
    """Return the report as an HTML page that ends in a newline; ``options`` change nothing."""
    from markupsafe import Markup

    style = files(__package__).joinpath("page.css").read_text("utf-8").strip()
    template = template_of("page.html.jinja")
    by_axis = rows_of(report)
    worst = replace(report, findings=tuple(worst_first(report, by_axis)))
    sections, finding_anchors = _sections(worst, by_axis, Markup)
    shown = {key: section for key, section in sections.items() if not section.empty}
    anchors = {key: section.id for key, section in shown.items()}
    groups, rows = overview(worst, by_axis, anchors, finding_anchors)
    return template.render(
        style=Markup(style),
        names=_names(report),
        headline=headline_words(report),
        verdict=summary_words(report),
        checked=checked_words(report),
        caution=CAUTION if report.sends_to_machine else "",
        groups=groups,
        rows=rows,
        several=len(report.machines) > 1,
        signs=SIGNS,
        looks={look for row in rows for cell in row.cells for look in cell.numbers},
        subjects=list(shown.values()),
        filters=_filters(report, shown.values()),
        deciding_facts=report.deciding_facts,
        gone=[(acceptance_name(each), each.message) for each in report.accepted_gone],
        left_out_title=LEFT_OUT_TITLE,
        left_out=[(place_words(each.place), each.text) for each in report.left_out],
        unusable_title=UNUSABLE_TITLE,
        unusable=[
            (unusable_place(each), unusable_words(each)) for each in each_fault(report.unusable)
        ],
        skipped_title=SKIPPED_TITLE,
        skipped=unchecked_files(report),
        levels_title=LEVELS_TITLE,
        levels=[(each, level_words(each)) for each in report.level_changes],
        settings_title=SETTINGS_TITLE,
        settings=[_setting_fields(each) for each in report.settings],
        files=report.files,
        version=tool_version(),
    )


def _names(report: Report) -> str:
    number = len(report.machines)
    return report.machines[0] if number == 1 else counted(number, "machine")


def _setting_fields(setting: tuple[str, str, str, str, str]) -> dict[str, str]:
    machine, subject, name, value, reason = setting
    where = " · ".join(filter(None, (machine or "every machine", subject)))
    return {"name": name, "value": value, "where": where, "reason": reason}


def _filters(report: Report, shown: Iterable[_SubjectSection]) -> dict[str, Any]:
    """The levels and axes that a reader can pick; a single one is no choice.

    Of very many axes none can be picked: the overview leads to each of them.
    """
    levels = [each for each in LEVELS if any(each == finding.level for finding in report.findings)]
    looks = [*levels, *(["undecided"] if report.undecided else [])]
    axes = list(shown)
    return {
        "looks": looks if len(looks) > 1 else [],
        "axes": axes if 1 < len(axes) <= MOST_PICKED else [],
    }


# Axes -------------------------------------------------------------------------------------------


def _sections(
    report: Report, rows: Iterable[Row], markup: Any
) -> tuple[dict[tuple[str, str], _SubjectSection], dict[int, str]]:
    """The section of each axis, the worst first, and the anchors of findings by ``id``."""
    sketches = {(each.machine, each.subject): each for each in report.sketches}
    findings: dict[tuple[str, str], list[Finding]] = {}
    for finding in report.findings:
        findings.setdefault((finding.machine, finding.subject), []).append(finding)
    undecided: dict[tuple[str, str], list[Undecided]] = {}
    for check in report.undecided:
        undecided.setdefault((check.machine, check.subject), []).append(check)
    concerns: dict[tuple[str, str], list[str]] = {}
    for concern in report.undecided_concerns:
        concerns.setdefault((concern.machine, concern.subject), []).append(concern_words(concern))
    order = [(each.machine, each.subject) for each in rows]
    keys = dict.fromkeys([*order, *findings, *undecided, *concerns, *sketches])
    sections: dict[tuple[str, str], _SubjectSection] = {}
    anchors: dict[int, str] = {}
    for number, key in enumerate(keys, 1):
        machine, subject = key
        one = len(report.machines) == 1 and subject
        heading = subject if one else subject_name(machine, subject)
        section = _SubjectSection(heading, f"axis-{number}")
        own = findings.get(key, [])
        anchors |= {id(each): f"{section.id}-{place}" for place, each in enumerate(own, 1)}
        section.findings = _told(own, anchors)
        _add_undecided(section, undecided.get(key, []))
        section.concerns = concerns.get(key, [])
        if key in sketches:
            _add_pictures(sketches[key], section, own, anchors, markup)
        sections[key] = section
    return sections, anchors


def _add_undecided(section: _SubjectSection, checks: Sequence[Undecided]) -> None:
    if checks:
        section.undecided_words = undecided_words(checks)
    section.undecided = [
        {"rule": each.rule, "title": each.title, "lacks": missing_words(each)} for each in checks
    ]


def _add_pictures(
    sketch: AxisSketch,
    section: _SubjectSection,
    findings: Sequence[Finding],
    anchors: Mapping[int, str],
    markup: Any,
) -> None:
    section.description = sketch.description
    section.absent, section.gaps = sketch.absent, sketch.gaps
    for number, picture in enumerate(sketch.pictures, 1):
        name = f"{section.id}-p{number}"
        faults = drawn_faults(picture, findings)
        # The drawing escapes what comes from the input.
        wide = markup(draw(picture, f"{name}-w", faults, width=WIDE))
        narrow = markup(draw(picture, f"{name}-n", faults, width=NARROW))
        drawn = [
            (anchors[id(each)], _first_sentence(wrong_words(each))) for each in faults.findings
        ]
        section.pictures.append(
            {"picture": picture, "wide": wide, "narrow": narrow, "drawn": drawn}
        )


# Findings ---------------------------------------------------------------------------------------


def _told(findings: Sequence[Finding], anchors: Mapping[int, str]) -> list[dict[str, Any]]:
    """The findings of an axis, each with those that follow from it."""
    told = []
    for finding, consequences in folded(findings):
        item = _finding_fields(finding, anchors[id(finding)])
        item["consequences"] = [_finding_fields(each, anchors[id(each)]) for each in consequences]
        words = consequence_words(finding, consequences)
        item["consequence_words"] = words or "What follows from it"
        told.append(item)
    return told


def _finding_fields(finding: Finding, name: str) -> dict[str, Any]:
    return {
        "finding": finding,
        "wrong": wrong_words(finding),
        "id": name,
        "marks": _marks(finding),
        "waiver": waiver_words(finding.waived) if finding.waived else None,
        "offer": fix_words(finding),
        "sums": [sum_terms(step) for step in finding.workings],
        "consequences": [],
    }


def _marks(finding: Finding) -> list[dict[str, Any]]:
    """The places of a finding; a file is named where it is not that of the place before."""
    files = ["", *(mark.place.file for mark in finding.marks)]
    return [
        _mark_fields(mark, "" if mark.place.file == before else f"{mark.place.file}, ")
        for before, mark in zip(files, finding.marks, strict=False)
    ]


def _first_sentence(text: str) -> str:
    return text.split(". ")[0].removesuffix(".") + "."


def _mark_fields(mark: Mark, file: str) -> dict[str, Any]:
    before, value, after = parts_of_line(mark.line_text, mark.place)
    return {
        "file": file,
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
