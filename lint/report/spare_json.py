"""A spare for programs: JSON as published in schemas/."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import Any, Final

from ..base.version import tool_version
from ..swap.result import Plan, SpareReport
from .json import finding_document, optional_document, plain_document, setting_document
from .rendering import CAUTION, RenderOptions
from .spare_words import teaching_words, verdict_words

FORMAT: Final = 1
"""Version of the format; raise it if a reader of the old one cannot read the new one."""


def render(report: SpareReport, options: RenderOptions) -> str:
    """Return the judgement as JSON text that ends in a newline; ``options`` change nothing."""
    return json_text(document(report))


def json_text(plain: dict[str, Any]) -> str:
    """A document as JSON text that ends in a newline."""
    return json.dumps(plain, indent=2, ensure_ascii=True, allow_nan=False) + "\n"


def document(report: SpareReport) -> dict[str, Any]:
    """Return the judgement as plain dicts, lists, text and numbers."""
    return {
        **header(),
        "machine": report.machine,
        "axis": report.axis,
        "part": report.part,
        "spare": report.spare,
        "files": list(report.files),
        "day": report.day,
        "verdict": report.verdict,
        "verdict_words": verdict_words(report),
        "teaching_words": teaching_words(report),
        "writes": [asdict(write) for write in report.writes],
        "lessons": [
            {**asdict(lesson), "why": list(lesson.why), "missing": list(lesson.missing)}
            for lesson in report.lessons
        ],
        "memories": [asdict(fate) for fate in report.memories],
        "figures": [
            {
                "name": row.name,
                "fitted": {"text": row.fitted, "exact": dict(row.fitted_data)},
                "spare": {"text": row.spare, "exact": dict(row.spare_data)},
                "changed": row.changed,
            }
            for row in report.figures
        ],
        "rows": [{**asdict(row), "role_words": row.role_words} for row in report.rows],
        "broken": [finding_document(each) for each in report.broken],
        "warnings": [finding_document(each) for each in report.warnings],
        "unequal": [row.fact for row in report.unequal],
        "undecided": [plain_document(each) for each in report.undecided],
        "unstated": [row.fact for row in report.unstated],
        "after_teaching": [plain_document(each) for each in report.after_teaching],
        "as_it_comes": [finding_document(each) for each in report.as_it_comes],
        "before": [finding_document(each) for each in report.before],
        "undecided_before": [plain_document(each) for each in report.undecided_before],
        "remarks": [finding_document(each) for each in report.remarks],
        "carried": list(report.carried),
        "settle": [asdict(each) for each in report.settle],
        "notes": list(report.notes),
        "plan": optional_document(report.plan, _plan_document),
        "not_judged": [asdict(each) for each in report.not_judged],
        "left_out": [plain_document(each) for each in report.left_out],
        "settings": [setting_document(each) for each in report.settings],
        "level_changes": [plain_document(each) for each in report.level_changes],
        "site_rules": plain_document(report.site_rules),
        "site_file": optional_document(report.site_file, plain_document),
        "caution": CAUTION,
    }


def header() -> dict[str, Any]:
    """The version of the format, and what wrote the document."""
    return {"format": FORMAT, "tool": {"name": "axisproof", "version": tool_version()}}


def _plan_document(plan: Plan) -> list[dict[str, Any]]:
    return [{"number": number, **asdict(step)} for number, step in enumerate(plan.steps, 1)]
