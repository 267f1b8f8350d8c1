"""The report for programs: JSON as published in schemas/findings.schema.json.

It holds the whole report with exact figures. Keys and findings have a fixed order and every
character outside printable ASCII is escaped, so equal reports give equal bytes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import asdict
from typing import Any, Final, TypeVar

from ..base.errors import Place
from ..base.version import tool_version
from ..findings.finding import (
    AxisSketch,
    Finding,
    Fix,
    Mark,
    Picture,
    Report,
    Tally,
    UndecidedConcern,
)
from ..findings.rows import each_of
from ..findings.unusable import FurtherFault, Unusable
from ..numbers.exact import Number
from ..numbers.formats import exact_json
from .json_pieces import json_pieces
from .rendering import CAUTION, RenderOptions, ordered_findings

_Part = TypeVar("_Part")
_Shown = TypeVar("_Shown")

FORMAT: Final = 2
"""Version of the format; raise it if a reader of the old one cannot read the new one."""

LINE_LIMIT: Final = 2000
"""Most code points of a source line; a longer one is left out, as it may be a whole file."""


def render(report: Report, options: RenderOptions) -> str:
    """Return the report as JSON text that ends in a newline; ``options`` change nothing."""
    return "".join(pieces(report, options))


def pieces(report: Report, options: RenderOptions) -> Iterator[str]:
    """The same text in pieces, each made when it is asked for."""
    return json_pieces(document(report))


def document(report: Report) -> dict[str, Any]:
    """Return the report as plain dicts, lists, text and numbers, or rows of these (rows.py)."""
    return {
        "format": FORMAT,
        "tool": {"name": "axisproof", "version": tool_version()},
        "unusable": [_unusable_document(each) for each in report.unusable],
        "files": each_of(report.files, str),
        "machines": each_of(report.machines, str),
        "day": report.day,
        "axes": report.axes,
        "rules": report.rules,
        "levels": dict(sorted(report.levels.items())),
        "findings": each_of(ordered_findings(report), finding_document),
        "undecided": each_of(report.undecided, plain_document),
        "undecided_concerns": each_of(report.undecided_concerns, _concern_document),
        "wanted": [plain_document(each) for each in report.deciding_facts],
        "tallies": each_of(report.tallies, _tally_document),
        "outcomes": each_of(report.outcomes, plain_document),
        "settings": each_of(report.settings, setting_document),
        "skipped": list(report.skipped),
        "ignored": list(report.ignored),
        "left_out": each_of(report.left_out, plain_document),
        "level_changes": [plain_document(each) for each in report.level_changes],
        "site_rules": plain_document(report.site_rules),
        "site_file": optional_document(report.site_file, plain_document),
        "concerns": dict(sorted(report.concerns.items())),
        "sketches": each_of(report.sketches, _sketch_document),
        "accepted_gone": [plain_document(each) for each in report.accepted_gone],
        "narrowed": optional_document(report.narrowed, plain_document),
        "caution": CAUTION if report.sends_to_machine else None,
    }


def plain_document(part: Any) -> dict[str, Any]:
    """Return a dataclass without figures or marks as a plain dict."""
    return asdict(part)


def optional_document(part: _Part | None, document: Callable[[_Part], _Shown]) -> _Shown | None:
    """Return the document of a part that may be absent; None for one that is."""
    return None if part is None else document(part)


def _tally_document(tally: Tally) -> dict[str, Any]:
    """Return the counts of a subject, without its place: outcomes and findings have theirs."""
    return {key: value for key, value in plain_document(tally).items() if key != "place"}


def setting_document(setting: tuple[str, str, str, str, str]) -> dict[str, str]:
    """Return a setting that differs from its default as a plain dict."""
    return dict(zip(("machine", "subject", "name", "value", "reason"), setting, strict=True))


def finding_document(finding: Finding) -> dict[str, Any]:
    """Return a finding as plain dicts, lists, text and numbers."""
    return {
        "rule": finding.rule,
        "concern": finding.concern,
        "level": finding.level,
        "stage": finding.stage,
        "follows": list(finding.follows),
        "machine": finding.machine,
        "subject": finding.subject,
        "title": finding.title,
        "headline": finding.headline,
        "message": finding.message,
        "why": finding.why,
        "cautions": [plain_document(each) for each in finding.cautions],
        "remedy": finding.remedy,
        "basis": finding.basis,
        "marks": [mark_document(mark) for mark in finding.marks],
        "figures": [
            {"name": figure.name, "text": figure.text, "exact": dict(sorted(figure.exact.items()))}
            for figure in finding.figures
        ],
        "workings": [plain_document(step) for step in finding.workings],
        "fix": optional_document(finding.fix, _fix_document),
        "waived": optional_document(finding.waived, plain_document),
    }


def _concern_document(each: UndecidedConcern) -> dict[str, Any]:
    return {**plain_document(each), "mark": optional_document(each.mark, mark_document)}


def _unusable_document(each: Unusable) -> dict[str, Any]:
    further = [_fault_document(fault) for fault in each.further]
    return {"file": each.file, **_fault_document(each), "further": further}


def _fault_document(fault: Unusable | FurtherFault) -> dict[str, Any]:
    line = fault.source_line
    return {
        "what": fault.what,
        "expected": fault.expected,
        "place": optional_document(fault.place, _place_document),
        "line_text": line if line is not None and len(line) <= LINE_LIMIT else None,
    }


def mark_document(mark: Mark) -> dict[str, Any]:
    """Return a mark as plain dicts, text and numbers; a line that is too long is left out."""
    return {
        "place": _place_document(mark.place),
        "line_text": mark.line_text if len(mark.line_text) <= LINE_LIMIT else None,
        "fact": mark.fact,
        "label": mark.label,
    }


def _fix_document(fix: Fix) -> dict[str, Any]:
    place = optional_document(fix.place, _place_document)
    return {"fact": fix.fact, "value": fix.value, "safe": fix.safe, "place": place}


def _sketch_document(sketch: AxisSketch) -> dict[str, Any]:
    return {
        "machine": sketch.machine,
        "subject": sketch.subject,
        "description": sketch.description,
        "pictures": [_picture_document(picture) for picture in sketch.pictures],
        "absent": list(sketch.absent),
        "gaps": [plain_document(gap) for gap in sketch.gaps],
    }


def _picture_document(picture: Picture) -> dict[str, Any]:
    def exact(value: Number) -> dict[str, Any]:
        fields = exact_json(value, picture.unit)
        text = fields.pop("text")
        return {"text": text} if fields.get("value", 0) is None else fields

    return {
        "shape": picture.shape,
        "title": picture.title,
        "summary": picture.summary,
        "unit": picture.unit,
        "low": exact(picture.low),
        "high": exact(picture.high),
        "features": [
            {
                "kind": feature.kind,
                "name": feature.name,
                "text": feature.text,
                "start": exact(feature.start),
                "end": None if feature.end is None else exact(feature.end),
            }
            for feature in picture.features
        ],
    }


def _place_document(place: Place) -> dict[str, Any]:
    return asdict(place)
