"""Words and sentences that all reports for people share."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..base.errors import Place
from ..findings.finding import (
    LEVELS,
    DerivationStep,
    Finding,
    LevelChange,
    Narrowed,
    Report,
    SiteRules,
    StaleAcceptance,
    Undecided,
    UndecidedConcern,
    Verdict,
    WaivedBy,
)
from ..findings.site_file_use import SiteFileUse
from ..findings.unusable import Unusable
from .layout import visible
from .rendering import total

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final


MAX_FILES: Final = 5
"""Rule files of a site that a summary names; it counts the others."""

VERDICT_WORDS: Final[dict[Verdict, str]] = {
    "holds": "passed",
    "broken": "failed",
    "undecided": "cannot be decided",
    "not applicable": "does not apply",
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


def wrong_words(finding: Finding) -> str:
    """Return in a line what is wrong: the headline, or the first sentence of the message."""
    if finding.headline:
        return finding.headline
    first, dot, _ = finding.message.partition(". ")
    return f"{first[:1].upper()}{first[1:]}{dot.strip()}"


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
    if each.partly:
        lack = "1 check lacks" if each.checks == 1 else f"{each.checks} checks lack"
        return (
            f"The {each.concern} is decided only in part: {lack} the last fact. "
            f"State first: {', '.join(each.missing)}."
        )
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
    return f"{fix.fact} = {fix.value}{where}, {who}"


def waiver_words(waived: WaivedBy) -> tuple[str, str]:
    """Return the word for why a finding is not a failure, and the reason."""
    if waived.accepted:
        return "Accepted", f"part of the accepted set, {waived.reason}"
    where = f" ({waived.place})" if waived.place else ""
    text = f"until {waived.expires}, approved by {waived.approved_by}: {waived.reason}{where}"
    return "Waived", text


def acceptance_name(gone: StaleAcceptance) -> str:
    """Return the name of an accepted finding that the check no longer finds."""
    stage = f" ({gone.stage})" if gone.stage else ""
    return f"{gone.rule}{stage}, {subject_name(gone.machine, gone.subject)}"


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


def site_file_counts(use: SiteFileUse | None) -> str:
    """Return what a site file loosens, in a few words; empty if it loosens nothing."""
    if use is None:
        return ""
    numbers = (
        (len(use.switched_off), "rule", "switched off"),
        (len(use.lowered), "rule", "lowered"),
        (use.waived, "finding", "waived"),
        (use.accepted, "finding", "accepted"),
        (len(use.excluded), "file", "excluded"),
    )
    parts = [f"{counted(number, one)} {word}" for number, one, word in numbers if number]
    if use.fails_late:
        parts.append("warnings do not fail")
    return ", ".join(parts)


def site_file_sentences(use: SiteFileUse | None) -> list[str]:
    """Say which site file is in force and what it loosens; nothing if there is none."""
    if use is None:
        return []
    loosened = site_file_counts(use)
    sentences = [f"The site file {visible(use.file)} is in force."]
    if loosened:
        sentences.append(f"It makes this check less strict: {loosened}.")
    if use.unused:
        names = ", ".join(visible(name) for name in use.unused[:MAX_FILES])
        more = len(use.unused) - MAX_FILES
        names += f" and {counted(more, 'other file')}" if more > 0 else ""
        sentences.append(f"Site files in folders below do not count: {names}.")
    return sentences


def unchecked_files(report: Report) -> list[tuple[str, str]]:
    """Return each file of a folder that was not checked, after the word for it."""
    excluded = report.site_file.excluded if report.site_file else ()
    return [
        *(("Skipped", name) for name in report.skipped),
        *(("Excluded", name) for name in excluded),
        *(("Ignored", name) for name in report.ignored),
    ]


def ignored_sentences(ignored: Sequence[str]) -> list[str]:
    """Say how many files a .gitignore file names; nothing where there are none."""
    if not ignored:
        return []
    return [f"The check left out {counted(len(ignored), 'file')} that a .gitignore file names."]


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


def skipped_sentences(skipped: Sequence[str]) -> list[str]:
    """Say how many files of folders were skipped; nothing where all were checked."""
    if not skipped:
        return []
    kind = "that is not a file" if len(skipped) == 1 else "that are not files"
    return [f"The check skipped {counted(len(skipped), 'file')} {kind} of axisproof."]


def files_sentences(skipped: Sequence[str], ignored: Sequence[str]) -> list[str]:
    """Say how many files of folders were not checked."""
    return [*skipped_sentences(skipped), *ignored_sentences(ignored)]


def rules_sentences(
    use: SiteFileUse | None, rules: SiteRules, changes: Sequence[LevelChange]
) -> list[str]:
    """Say what the site file, the rules of the site and the settings change of the check."""
    return [*site_file_sentences(use), *site_sentences(rules), *level_sentences(changes)]


def unusable_sentences(unusable: Sequence[Unusable]) -> list[str]:
    """Say that a report is not whole; nothing for a whole one."""
    if not unusable:
        return []
    files = counted(len(unusable), "file")
    return [f"This report is not whole: {files} cannot be used. Nothing in them was checked."]


NO_FINDINGS: Final = "no findings"
"""What a report says that has neither findings nor undecided checks."""


def headline_words(report: Report) -> str:
    """Return the number of findings and undecided checks, and the rules that settings weaken."""
    unusable = len(report.unusable)
    parts = [f"not whole, {counted(unusable, 'file')} cannot be used"] if unusable else []
    parts.append(levels_words(report.findings))
    if report.undecided_concerns:
        axes = len({(each.machine, each.subject) for each in report.undecided_concerns})
        parts.append(f"missing data fails {counted(axes, 'axis', 'axes')}")
    if report.undecided:
        parts.append(f"{counted(len(report.undecided), 'check')} cannot be decided")
    if not any(parts):
        parts.append(NO_FINDINGS)
    if report.narrowed and (left := _left_out_counts(report.narrowed)):
        parts.append(f"not shown: {left}")
    if report.skipped:
        parts.append(f"{counted(len(report.skipped), 'file')} skipped")
    if report.ignored:
        parts.append(f"{counted(len(report.ignored), 'file')} ignored")
    use = report.site_file
    of_site = {*use.switched_off, *use.lowered} if use else ()
    parts.append(level_counts([each for each in report.level_changes if each.rule not in of_site]))
    if loosened := site_file_counts(use):
        parts.append(f"{loosened} (site file)")
    return ", ".join(filter(None, parts))


def narrowed_sentences(narrowed: Narrowed | None) -> list[str]:
    """Return what a report was narrowed to, and what it leaves out; nothing for a whole one."""
    if narrowed is None:
        return []
    named = (", ".join(narrowed.selected), ", ".join(narrowed.axes))
    what = " on ".join(filter(None, named))
    left = _left_out_counts(narrowed)
    rest = (
        f"Not shown: {left}. They count in the exit status."
        if left
        else "Nothing else failed, and all else could be decided."
    )
    return [f"This part of the report is about {what}.", rest]


def _left_out_counts(narrowed: Narrowed) -> str:
    numbers = narrowed.levels
    parts = [counted(numbers[level], level) for level in LEVELS if level in numbers]
    if narrowed.undecided:
        parts.append(f"{counted(narrowed.undecided, 'check')} that cannot be decided")
    if narrowed.undecided_concerns:
        number = counted(narrowed.undecided_concerns, "concern")
        parts.append(f"{number} that cannot be decided in full")
    return ", ".join(parts)


def checked_words(report: Report) -> str:
    """Return what was checked, with how many rules, and for which day."""
    day = f", for the day {report.day}" if report.day else ""
    return (
        f"Checked {counted(report.axes, 'axis', 'axes')} of "
        f"{counted(len(report.machines), 'machine')} in {counted(len(report.files), 'file')} "
        f"with {counted(report.rules, 'rule')}{day}."
    )


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
        held = total(report.tallies).holds
        if held and not report.findings:
            sentences.append("Each check that could be decided passed.")
        number = counted(undecided, "check")
        sentences.append(f"{number} cannot be decided because data is missing.")
        if not held and not report.findings:
            sentences.append(
                "No check could be decided, so nothing is shown. "
                "State the data of the machine, first what is named first. Then check again."
            )
    if not sentences:
        if total(report.tallies).holds and report.unusable:
            sentences.append("Each check that applied to the other files passed.")
        elif total(report.tallies).holds:
            sentences.append(
                "Every check that applied passed: the settings as stated agree with each other. "
                "This does not show that the machine is set like that, or that it is safe."
            )
        else:
            sentences.append("No check applied, so nothing is shown.")
    sentences += _concern_sentences(report)
    sentences += narrowed_sentences(report.narrowed)
    sentences += files_sentences(report.skipped, report.ignored)
    sentences += rules_sentences(report.site_file, report.site_rules, report.level_changes)
    if report.share:
        sentences.append(f"This is share {report.share} of the files. The others are not in it.")
    return [*unusable_sentences(report.unusable), *sentences]


def _concern_sentences(report: Report) -> list[str]:
    """Return which concerns are undecided, as a whole and in part, and that this is a failure."""
    sentences = []
    for partly in (False, True):
        found = [each for each in report.undecided_concerns if each.partly == partly]
        if found:
            axes = counted(len({(each.machine, each.subject) for each in found}), "axis", "axes")
            concerns = " or ".join(dict.fromkeys(f"the {each.concern}" for each in found))
            sentences.append(
                f"On {axes} {concerns} can be decided only in part: the last fact is missing."
                if partly
                else f"On {axes} nothing about {concerns} can be decided."
            )
    if sentences:
        sentences.append("This counts as a failure.")
    return sentences
