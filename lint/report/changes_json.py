"""The comparison of two versions for programs: JSON as published in schemas/changes.schema.json."""

from __future__ import annotations

import json
from typing import Any, Final

from ..base.version import tool_version
from ..findings.change_report import ChangeReport, FactChange
from .json import (
    finding_document,
    mark_document,
    optional_document,
    plain_document,
    setting_document,
)
from .rendering import CAUTION, RenderOptions

FORMAT: Final = 2
"""Version of the format; raise it if a reader of the old one cannot read the new one."""


def render(report: ChangeReport, options: RenderOptions) -> str:
    """Return the report as JSON text that ends in a newline; ``options`` change nothing."""
    return json.dumps(document(report), indent=2, ensure_ascii=True, allow_nan=False) + "\n"


def document(report: ChangeReport) -> dict[str, Any]:
    """Return the report as plain dicts, lists, text and numbers."""
    return {
        "format": FORMAT,
        "tool": {"name": "axisproof", "version": tool_version()},
        "old": report.old,
        "new": report.new,
        "files": list(report.files),
        "machines": list(report.machines),
        "day": report.day,
        "axes": report.axes,
        "rules": report.rules,
        "facts": [_fact_document(change) for change in report.facts],
        "axis_changes": [plain_document(change) for change in report.axis_changes],
        "brought": [finding_document(finding) for finding in report.brought],
        "new_findings": [finding_document(finding) for finding in report.new_findings],
        "still": [
            {
                "finding": finding_document(each.finding),
                "message_before": each.message_before,
            }
            for each in report.persisting
        ],
        "gone": [finding_document(finding) for finding in report.gone],
        "undecided": [plain_document(check) for check in report.undecided],
        "newly_undecided": [plain_document(check) for check in report.newly_undecided],
        "lost_checks": [plain_document(check) for check in report.lost_checks],
        "ended_checks": [plain_document(check) for check in report.ended_checks],
        "left_out": [plain_document(each) for each in report.left_out],
        "skipped": list(report.skipped),
        "ignored": list(report.ignored),
        "no_longer_checked": list(report.no_longer_checked),
        "loosened": list(report.loosened),
        "uncompared": list(report.uncompared),
        "settings": [setting_document(each) for each in report.settings],
        "level_changes": [plain_document(each) for each in report.level_changes],
        "site_rules": plain_document(report.site_rules),
        "site_file": optional_document(report.site_file, plain_document),
        "caution": CAUTION if report.brought or report.new_findings or report.persisting else None,
    }


def _fact_document(change: FactChange) -> dict[str, Any]:
    return {
        "machine": change.machine,
        "subject": change.subject,
        "fact": change.fact,
        "kind": change.kind,
        "old": change.old,
        "new": change.new,
        "old_mark": optional_document(change.old_mark, mark_document),
        "new_mark": optional_document(change.new_mark, mark_document),
    }
