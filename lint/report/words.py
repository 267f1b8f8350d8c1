"""Sentences that every report for people says alike."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from ..findings.finding import (
    LEVELS,
    DerivationStep,
    Finding,
    Report,
    StaleAcceptance,
    Undecided,
    Verdict,
    WaivedBy,
)
from . import total

VERDICT_WORDS: Final[dict[Verdict, str]] = {
    "holds": "held",
    "broken": "broken",
    "undecided": "undecided",
    "not applicable": "did not apply",
}


def subject_name(machine: str, subject: str) -> str:
    """Return machine and subject in words; an empty subject is the whole machine."""
    return f"{machine} · {subject}" if subject else f"{machine} (whole machine)"


def counted(number: int, one: str, many: str = "") -> str:
    """Return ``1 check`` or ``2 checks``."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def lacks(check: Undecided) -> str:
    """Return what a check lacks: its facts, and its reason where that says more than they do."""
    facts = ", ".join(check.missing)
    if not facts:
        return check.reason or "no reason was given"
    if not check.reason or all(fact in check.reason for fact in check.missing):
        return check.reason or f"needs {facts}"
    return f"needs {facts} ({check.reason})"


def sum_terms(step: DerivationStep) -> list[str]:
    """What a step's name equals, in turn: formula, filled in, result; nothing is said twice."""
    terms = dict.fromkeys((step.formula, step.filled, step.result))
    return [term for term in terms if term and term != step.name]


def offer(finding: Finding) -> str:
    """Return the value a rule computed, and who may apply it; empty if there is none."""
    fix = finding.fix
    if fix is None:
        return ""
    where = f" (line {fix.place.line} of {fix.place.file})" if fix.place else ""
    who = (
        "the file alone can be corrected, nobody has to go to the machine"
        if fix.safe
        else "not to be applied without the work the remedy describes"
    )
    return f"{fix.fact} = {fix.value}{where}; {who}"


def waiver(waived: WaivedBy) -> tuple[str, str]:
    """Return the word for how a finding came not to count as a failure, and why."""
    if waived.accepted:
        return "Accepted", f"part of the accepted set, {waived.reason}"
    where = f" ({waived.place})" if waived.place else ""
    text = f"until {waived.expires}, approved by {waived.approved_by}: {waived.reason}{where}"
    return "Waived", text


def accepted_gone(gone: StaleAcceptance) -> str:
    """Return what the accepted set holds and the check no longer finds."""
    return f"{gone.rule}, {subject_name(gone.machine, gone.subject)}"


def found(findings: Iterable[Finding]) -> str:
    """Return the number of findings of each level, and how many of them do not count and why."""
    findings = tuple(findings)
    parts = []
    for level in LEVELS:
        number = sum(1 for finding in findings if finding.level == level)
        if number:
            parts.append(counted(number, level))
    return ", ".join(parts) + set_aside(findings)


def set_aside(findings: Iterable[Finding]) -> str:
    """Return how many findings do not count and why, in brackets; nothing if all count."""
    aside = [finding.waived for finding in findings if finding.waived]
    accepted = sum(waived.accepted for waived in aside)
    words = ((len(aside) - accepted, "waived"), (accepted, "accepted"))
    text = ", ".join(f"{number} {word}" for number, word in words if number)
    return f" ({text})" if text else ""


def verdict(report: Report) -> str:
    """Return how the check came out, in a few sentences that never claim more than was decided."""
    sentences = []
    undecided = len(report.undecided)
    if report.findings:
        sentences.append(f"Found {found(report.findings)}.")
    if undecided:
        verb = "was" if undecided == 1 else "were"
        held = total(report.tallies).holds
        only = "What could be decided holds, but " if held and not report.findings else ""
        sentences.append(
            f"{only}{counted(undecided, 'check')} {verb} left undecided for want of facts."
        )
        if not held and not report.findings:
            sentences.append("No check could be decided, so nothing has been shown.")
    if not sentences:
        if total(report.tallies).holds:
            sentences.append(
                "Every check that applied holds: the settings as stated agree with each other. "
                "Whether the machine is set like that, or is safe, is not shown by this."
            )
        else:
            sentences.append("No check applied, so nothing has been shown.")
    if report.share:
        sentences.append(f"This is share {report.share} of the files; the others are not in it.")
    return " ".join(sentences)
