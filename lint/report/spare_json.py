"""A spare and a recalibration for programs: JSON as published in schemas/."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import Any, Final

from ..base.version import tool_version
from ..numbers.exact import Number
from ..swap.recalibrating import Recalibrated
from ..swap.result import Plan, SpareReport
from .json import finding_document, plain_document, setting_document
from .rendering import CAUTION, RenderOptions
from .spare_words import (
    comparison_words,
    instruction_words,
    plausibility_words,
    teaching_words,
    verdict_words,
)

FORMAT: Final = 1
"""Version of the format; raise it if a reader of the old one cannot read the new one."""


def render(report: SpareReport, options: RenderOptions) -> str:
    """Return the judgement as JSON text that ends in a newline; ``options`` change nothing."""
    return _json_text(document(report))


def _json_text(plain: dict[str, Any]) -> str:
    return json.dumps(plain, indent=2, ensure_ascii=True, allow_nan=False) + "\n"


def document(report: SpareReport) -> dict[str, Any]:
    """Return the judgement as plain dicts, lists, text and numbers."""
    return {
        **_header(),
        "machine": report.machine,
        "axis": report.axis,
        "part": report.part,
        "spare": report.spare,
        "files": list(report.files),
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
        "plan": None if report.plan is None else _plan_document(report.plan),
        "settings": [setting_document(each) for each in report.settings],
        "level_changes": [plain_document(each) for each in report.level_changes],
        "caution": CAUTION,
    }


def _header() -> dict[str, Any]:
    return {"format": FORMAT, "tool": {"name": "axisproof", "version": tool_version()}}


def _plan_document(plan: Plan) -> list[dict[str, Any]]:
    return [{"number": number, **asdict(step)} for number, step in enumerate(plan.steps, 1)]


def render_recalibration(result: Recalibrated, options: RenderOptions) -> str:
    """Return a recalibration as JSON text that ends in a newline."""
    done = result.result

    def number(value: Number | None) -> dict[str, Any] | None:
        if value is None:
            return None
        return {"text": result.say(value), "exact": dict(result.data(value))}

    return _json_text(
        {
            **_header(),
            "machine": result.machine,
            "axis": result.axis,
            "files": list(result.files),
            "unit": result.unit,
            "after": result.after or None,
            "true": number(done.true),
            "indicated": number(done.indicated),
            "shift": number(done.shift),
            "reference": number(done.reference),
            "reference_by": done.way,
            "new_reference": number(done.new),
            "instruction": instruction_words(result),
            "interval": None if done.interval is None else [number(end) for end in done.interval],
            "tolerance": number(done.tolerance),
            "tolerance_from": result.tolerance_from,
            "comparisons": [
                {
                    "step": each.step.kind,
                    "name": each.step.name,
                    "size": number(each.step.size),
                    "finding": each.finding,
                    "multiple": each.multiple,
                    "distance": number(each.distance),
                    "spacing": number(each.spacing),
                    "words": comparison_words(result, each),
                }
                for each in done.comparisons
            ],
            "suspicious": bool(done.suspicions),
            "plausibility": plausibility_words(result),
            "missing": list(result.missing),
            "caution": CAUTION,
        }
    )
