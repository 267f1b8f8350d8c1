"""From findings and errors to diagnostics: what an editor shows at a stretch of text."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal

from ..base.errors import AxisproofError, Place
from ..checking.fixing import Edit, edit_for
from ..findings.finding import Finding, Mark
from ..report.words import waiver_words

Severity = Literal["error", "warning", "note", "hint"]


@dataclass(frozen=True, slots=True)
class Diagnostic:
    """One diagnostic: its place, severity and text, and the rule it belongs to (or none).

    ``line_text`` is the line on which ``place`` begins. ``others`` are the other places of a
    finding, ``why`` is the explanation, and ``edit`` is a fix that needs no person at the machine.
    ``waived`` says why a finding does not count. ``finding`` is what it was made of, if anything.
    """

    place: Place
    line_text: str
    severity: Severity
    text: str
    rule: str = ""
    others: tuple[Mark, ...] = ()
    why: str = ""
    edit: Edit | None = None
    waived: str = ""
    finding: Finding | None = field(default=None, compare=False, repr=False)

    def marks(self) -> tuple[tuple[Place, str], ...]:
        """Every place of the diagnostic, with the line on which it begins."""
        return (
            (self.place, self.line_text),
            *((mark.place, mark.line_text) for mark in self.others),
        )


def of_finding(finding: Finding) -> Diagnostic | None:
    """The diagnostic of a finding; None if it has no place."""
    if not finding.marks:
        return None
    first, *others = finding.marks
    edit = edit_for(finding.fix) if finding.fix and finding.fix.safe else None
    why = f"{finding.why}\n\n{finding.remedy_alone}\n\nBasis: {finding.basis}"
    if finding.headline not in ("", finding.message):
        why = f"{finding.message}\n\n{why}"
    return Diagnostic(
        first.place,
        first.line_text,
        finding.level,
        finding.headline or finding.message,
        finding.rule,
        tuple(others),
        why,
        edit if edit and edit.new != edit.old else None,
        ": ".join(waiver_words(finding.waived)) if finding.waived else "",
        finding,
    )


def of_error(error: AxisproofError, file: Path) -> Diagnostic:
    """The diagnostic of an error, at the top of ``file`` if it has no place of its own."""
    text = f"{error.what}. Expected: {error.expected}" if error.expected else error.what
    place = error.place or Place(file.as_posix(), 1, 1, 1, 2)
    return Diagnostic(place, error.source_line or "", "error", text)
