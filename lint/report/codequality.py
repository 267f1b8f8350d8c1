"""Findings for the list of code quality of a merge request: JSON, one entry for each finding.

An entry has a description, the name of a check, a fingerprint that stays when lines move, a
severity and a place (from memory). What could not be decided is an entry of severity ``info`` at
the first line of the first file, since each entry needs a place.
"""

from __future__ import annotations

import hashlib
import json
from collections import Counter
from typing import Any, Final

from ..findings.finding import Finding, Mark, Report
from ..findings.unusable import each_fault
from .layout import visible
from .lines import remarks
from .rendering import RenderOptions
from .sarif import finding_fingerprint
from .summary_table import worst_first
from .unusable_files import UNUSABLE_RULE, unusable_mark, unusable_words
from .words import (
    CONCERN_RULE,
    concern_words,
    subject_name,
    unusable_sentences,
    waiver_words,
    wrong_words,
)

_SEVERITIES: Final = {"error": "critical", "warning": "major", "note": "minor"}


def render(report: Report, options: RenderOptions) -> str:
    """Return the entries, the worst axis first, as JSON text that ends in a newline."""
    first = report.files[0] if report.files else "."
    entries = []
    seen: Counter[str] = Counter()

    def add(rule: str, severity: str, text: str, mark: Mark | None, identity: str) -> None:
        seen[identity] += 1
        place = (mark.place.file, mark.place.line) if mark else (first, 1)
        entries.append(_entry(rule, severity, text, place, f"{identity}:{seen[identity]}"))

    for text in unusable_sentences(report.unusable):
        add("axisproof", "blocker", text, None, text)
    for broken in each_fault(report.unusable):
        text = f"{broken.file}: {unusable_words(broken)}"
        place = unusable_mark(broken)
        add(UNUSABLE_RULE, "blocker", text, place, f"{UNUSABLE_RULE} {broken.file}")
    for finding in worst_first(report):
        severity = "info" if finding.waived else _SEVERITIES[finding.level]
        mark = next(iter(finding.marks), None)
        add(finding.rule, severity, _description(finding), mark, finding_fingerprint(finding))
    for each in report.undecided_concerns:
        where = subject_name(each.machine, each.subject)
        text = f"{where}: {concern_words(each)}"
        add(CONCERN_RULE, "critical", text, each.mark, f"{CONCERN_RULE} {each.concern} {where}")
    for text in remarks(report):
        add("axisproof", "info", text, None, text)
    return json.dumps(entries, indent=2, ensure_ascii=True, allow_nan=False) + "\n"


def _description(finding: Finding) -> str:
    texts = [f"{subject_name(finding.machine, finding.subject)}: {wrong_words(finding)}"]
    if finding.waived:
        texts.append(": ".join(waiver_words(finding.waived)))
    return " ".join([*texts, finding.remedy_alone])


def _entry(
    rule: str, severity: str, text: str, place: tuple[str, int], identity: str
) -> dict[str, Any]:
    file, line = place
    return {
        "description": visible(" ".join(text.split())),
        "check_name": visible(rule),
        "fingerprint": hashlib.sha256(identity.encode("utf-8", "surrogatepass")).hexdigest(),
        "severity": severity,
        "location": {"path": visible(file), "lines": {"begin": line}},
    }
