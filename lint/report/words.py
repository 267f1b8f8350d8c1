"""Words and sentences that all reports for people share."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..base.errors import Place
from ..findings.finding import (
    LEVELS,
    DerivationStep,
    Finding,
    LevelChange,
    Report,
    SiteRules,
    StaleAcceptance,
    Undecided,
    UndecidedConcern,
    Verdict,
    WaivedBy,
)
from .layout import visible
from .rendering import total

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final


MAX_FILES: Final = 5
"""Rule files of a site that a summary names; it counts the others."""

VERDICT_WORDS: Final[dict[Verdict, str]] = {
    "holds": "held",
    "broken": "broken",
    "undecided": "undecided",
    "not applicable": "did not apply",
}


def subject_name(machine: str, subject: str) -> str:
    """Return machine and subject in words; an empty subject is the whole machine."""
    return f"{machine} · {subject}" if subject else f"{machine} (whole machine)"


def place_words(place: Place) -> str:
    """Return file and line in words."""
    return f"{place.file}, line {place.line}"


def counted(number: int, one: str, many: str = "") -> str:
    """Return ``1 check`` or ``2 checks``."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def missing_words(check: Undecided) -> str:
    """Return what a check lacks: its facts, and its reason where that says more."""
    facts = ", ".join(check.missing)
    if not facts:
        return check.reason or "no reason was given"
    if not check.reason or all(fact in check.reason for fact in check.missing):
        return check.reason or f"needs {facts}"
    return f"needs {facts} ({check.reason})"


CONCERN_RULE: Final = "concern-is-decided"
"""What forms that know only rules call a concern of which nothing could be decided."""


def concern_words(each: UndecidedConcern) -> str:
    """Return what could not be decided on an axis, and which facts to state first."""
    may = "1 check may apply" if each.checks == 1 else f"{each.checks} checks may apply"
    first = f" State first: {', '.join(each.missing)}." if each.missing else ""
    return (
        f"Nothing about the {each.concern} could be decided: {may}, and each lacks a fact.{first}"
    )


def sum_terms(step: DerivationStep) -> list[str]:
    """Return the formula of a step, the formula with its numbers and the result, each once."""
    terms = dict.fromkeys((step.formula, step.filled, step.result))
    return [term for term in terms if term and term != step.name]


def fix_words(finding: Finding) -> str:
    """Return the value that a rule computed, and who may set it; empty if there is none."""
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


def waiver_words(waived: WaivedBy) -> tuple[str, str]:
    """Return the word for why a finding is not a failure, and the reason."""
    if waived.accepted:
        return "Accepted", f"part of the accepted set, {waived.reason}"
    where = f" ({waived.place})" if waived.place else ""
    text = f"until {waived.expires}, approved by {waived.approved_by}: {waived.reason}{where}"
    return "Waived", text


def acceptance_name(gone: StaleAcceptance) -> str:
    """Return the name of an accepted finding that the check no longer finds."""
    return f"{gone.rule}, {subject_name(gone.machine, gone.subject)}"


def levels_words(findings: Iterable[Finding]) -> str:
    """Return the number of findings of each level, and how many of them do not count."""
    findings = tuple(findings)
    parts = []
    for level in LEVELS:
        number = sum(1 for finding in findings if finding.level == level)
        if number:
            parts.append(counted(number, level))
    return ", ".join(parts) + uncounted_words(findings)


def uncounted_words(findings: Iterable[Finding]) -> str:
    """Return how many findings do not count and why, in brackets; empty if all count."""
    uncounted = [finding.waived for finding in findings if finding.waived]
    accepted = sum(waived.accepted for waived in uncounted)
    words = ((len(uncounted) - accepted, "waived"), (accepted, "accepted"))
    text = ", ".join(f"{number} {word}" for number, word in words if number)
    return f" ({text})" if text else ""


NAMES_SHOWN: Final = 5
"""Most rules that a summary names; the list with the reasons has all."""


def kind_of(change: LevelChange) -> str:
    """Return what the settings do to a rule."""
    if change.becomes == "off":
        return "off"
    return "lowered" if LEVELS.index(change.becomes) > LEVELS.index(change.level) else "raised"


def level_words(change: LevelChange) -> str:
    """Return what a rule is now and what it is by default."""
    now = {"off": "switched off", "lowered": "lowered", "raised": "raised"}[kind_of(change)]
    if change.becomes == "off":
        return f"{now}, {change.level} by default"
    return f"{now} to {change.becomes}, {change.level} by default"


def level_counts(changes: Sequence[LevelChange]) -> str:
    """Return how many rules are switched off or lowered, in a few words; empty if none is."""
    kinds = [kind_of(each) for each in changes]
    words = (("off", "switched off"), ("lowered", "lowered"))
    parts = [
        f"{counted(kinds.count(kind), 'rule')} {word}" for kind, word in words if kind in kinds
    ]
    return ", ".join(parts)


def site_sentences(rules: SiteRules) -> list[str]:
    """Say which rules of the site ran beside the shipped ones; nothing where there are none."""
    if not rules.count:
        return []
    files = [visible(file) for file in rules.files[:MAX_FILES]]
    more = len(rules.files) - len(files)
    if more:
        files.append(counted(more, "other file"))
    was = "is" if rules.count == 1 else "are"
    return [f"Of the rules, {rules.count:,} {was} the site's own, from {', '.join(files)}."]


def level_sentences(changes: Sequence[LevelChange]) -> list[str]:
    """Return the sentences of a summary about rules that the settings change."""
    sentences = []
    for kind, words in (
        ("off", "switched off by the settings and {show} nothing"),
        ("lowered", "lowered by the settings"),
        ("raised", "raised by the settings"),
    ):
        names = [each.rule for each in changes if kind_of(each) == kind]
        if not names:
            continue
        one = len(names) == 1
        shown = ", ".join(names[:NAMES_SHOWN])
        if len(names) > NAMES_SHOWN:
            shown += f" and {len(names) - NAMES_SHOWN} more"
        said = words.format(show="shows" if one else "show")
        sentences.append(f"{counted(len(names), 'rule')} {'is' if one else 'are'} {said}: {shown}.")
    return sentences


def headline_words(report: Report) -> str:
    """Return the number of findings and undecided checks, and the rules that settings weaken."""
    parts = [levels_words(report.findings)]
    if report.undecided:
        parts.append(f"{len(report.undecided)} undecided")
    if not any(parts):
        parts.append("no findings")
    return ", ".join(filter(None, [*parts, level_counts(report.level_changes)]))


def summary_words(report: Report) -> str:
    """Return the result of the check in a few sentences, which claim only what was decided."""
    return " ".join(summary_sentences(report))


def summary_sentences(report: Report) -> list[str]:
    """Return the sentences of the summary."""
    sentences = []
    undecided = len(report.undecided)
    if report.findings:
        sentences.append(f"Found {levels_words(report.findings)}.")
    if undecided:
        verb = "was" if undecided == 1 else "were"
        held = total(report.tallies).holds
        only = "What could be decided holds, but " if held and not report.findings else ""
        sentences.append(
            f"{only}{counted(undecided, 'check')} {verb} left undecided for want of facts."
        )
        if not held and not report.findings:
            sentences.append(
                "No check could be decided, so nothing has been shown. "
                "State the facts of the machine, those named first at first, and check again."
            )
    if not sentences:
        if total(report.tallies).holds:
            sentences.append(
                "Every check that applied holds: the settings as stated agree with each other. "
                "Whether the machine is set like that, or is safe, is not shown by this."
            )
        else:
            sentences.append("No check applied, so nothing has been shown.")
    axes = len({(each.machine, each.subject) for each in report.undecided_concerns})
    if axes:
        concerns = dict.fromkeys(each.concern for each in report.undecided_concerns)
        sentences.append(
            f"On {counted(axes, 'axis', 'axes')} nothing about {' or '.join(concerns)} could be "
            "decided. This counts as a failure."
        )
    sentences += site_sentences(report.site_rules)
    sentences += level_sentences(report.level_changes)
    if report.share:
        sentences.append(f"This is share {report.share} of the files; the others are not in it.")
    return sentences
