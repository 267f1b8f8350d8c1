"""What an editor shows about a file: remarks on stretches of text, in places as everywhere else."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from ..base.errors import AxisproofError, Place
from ..checking.fixing import Edit, edit_for
from ..findings.finding import Finding, Mark
from ..report.words import waiver_words

Weight = Literal["error", "warning", "note", "hint"]


@dataclass(frozen=True, slots=True)
class Diagnostic:
    """One remark: where, how grave, what it says, and which rule says it (or none).

    ``line_text`` is the line on which ``place`` begins. ``others`` are the other sides of a
    disagreement; ``why`` is for a closer look; ``edit`` is a correction that is safe at a desk.
    ``waived`` says, of a finding that does not count, until when and by whom, or since when.
    """

    place: Place
    line_text: str
    weight: Weight
    text: str
    rule: str = ""
    others: tuple[Mark, ...] = ()
    why: str = ""
    edit: Edit | None = None
    waived: str = ""

    def marks(self) -> tuple[tuple[Place, str], ...]:
        """Every place it speaks of, with the line each begins on."""
        return (
            (self.place, self.line_text),
            *((mark.place, mark.line_text) for mark in self.others),
        )


def of_finding(finding: Finding) -> Diagnostic | None:
    """A finding as a remark; None if it points nowhere."""
    if not finding.marks:
        return None
    first, *others = finding.marks
    edit = edit_for(finding.fix) if finding.fix and finding.fix.safe else None
    why = f"{finding.why}\n\n{finding.remedy}\n\nBasis: {finding.basis}"
    return Diagnostic(
        first.place,
        first.line_text,
        finding.level,
        finding.message,
        finding.rule,
        tuple(others),
        why,
        edit if edit and edit.new != edit.old else None,
        ": ".join(waiver_words(finding.waived)) if finding.waived else "",
    )


def of_error(error: AxisproofError, file: Path) -> Diagnostic:
    """An error as a remark, at the top of ``file`` if it has no place of its own."""
    text = f"{error.what}; expected {error.expected}" if error.expected else error.what
    place = error.place or Place(file.as_posix(), 1, 1, 1, 2)
    return Diagnostic(place, error.source_line or "", "error", text)
