"""Which findings a text folds under the finding that they follow from."""

from __future__ import annotations

from collections.abc import Sequence

from ..findings.finding import Finding
from .words import counted


def folded(findings: Sequence[Finding]) -> list[tuple[Finding, tuple[Finding, ...]]]:
    """Return the findings in their order, each with those that are folded under it.

    A finding is folded under the first rule that it follows from whose finding is told in full
    here: one that a waiver or the accepted set covers, or that is not shown, folds nothing.
    """
    told = {
        (each.machine, each.subject, each.rule)
        for each in findings
        if not each.follows and each.waived is None
    }
    under: dict[tuple[str, str, str], list[Finding]] = {}
    shown: list[Finding] = []
    for finding in findings:
        keys = ((finding.machine, finding.subject, rule) for rule in finding.follows)
        cause = next((key for key in keys if key in told), None)
        if cause is None or finding.waived is not None:
            shown.append(finding)
        else:
            under.setdefault(cause, []).append(finding)
    return [(each, tuple(under.get((each.machine, each.subject, each.rule), ()))) for each in shown]


def consequence_words(finding: Finding, consequences: Sequence[Finding]) -> str:
    """Return what is said of the findings that are folded under a finding; nothing without any."""
    if not consequences or finding.fix is None:
        return ""
    number = counted(len(consequences), "more failed check")
    verb = "passes" if len(consequences) == 1 else "pass"
    names = ", ".join(each.rule for each in consequences)
    return f"With {finding.fix.value} here, {number} {verb}: {names}."
