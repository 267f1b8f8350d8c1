"""One line for each finding, for search and for the problem lists of editors.

``path:line:column: level: headline [rule]``. A line without a place tells what a finding does not:
what could not be decided, and what the report leaves out.
"""

from __future__ import annotations

from collections.abc import Iterable

from ..findings.finding import Finding, Mark, Report, UndecidedConcern
from ..findings.unusable import Unusable, each_fault
from .layout import visible
from .rendering import RenderOptions
from .summary_table import worst_first
from .unusable_files import UNUSABLE_RULE, unusable_place, unusable_words
from .words import (
    CONCERN_RULE,
    acceptance_name,
    concern_words,
    counted,
    files_sentences,
    level_words,
    narrowed_sentences,
    place_words,
    site_file_sentences,
    site_sentences,
    subject_name,
    unchecked_files,
    unusable_sentences,
    waiver_words,
    wrong_words,
)


def render(report: Report, options: RenderOptions) -> str:
    """Return the findings, the worst axis first, and what could not be decided."""
    lines = [f"axisproof: error: {text}" for text in unusable_sentences(report.unusable)]
    lines += [_unusable_line(each) for each in each_fault(report.unusable)]
    lines += [_finding_line(finding) for finding in worst_first(report)]
    lines += [_concern_line(each) for each in report.undecided_concerns]
    lines += [f"axisproof: note: {_one_line(text)}" for text in remarks(report, options.verbose)]
    return "".join(f"{line}\n" for line in lines)


def _unusable_line(each: Unusable) -> str:
    text = _one_line(unusable_words(each))
    return f"{_one_line(unusable_place(each))}: error: {text} [{UNUSABLE_RULE}]"


def _finding_line(finding: Finding) -> str:
    level: str = finding.level
    text = wrong_words(finding)
    if finding.waived:
        level, text = "note", f"{text} ({': '.join(waiver_words(finding.waived))})"
    where = _where(finding.marks[:1], finding.machine, finding.subject)
    return f"{where}: {level}: {_one_line(text)} [{_one_line(finding.rule)}]"


def _concern_line(each: UndecidedConcern) -> str:
    where = _where(() if each.mark is None else (each.mark,), each.machine, each.subject)
    return f"{where}: error: {_one_line(concern_words(each))} [{CONCERN_RULE}]"


def _where(marks: Iterable[Mark], machine: str, subject: str) -> str:
    """The first place; machine and axis where nothing is written."""
    for mark in marks:
        return f"{_one_line(mark.place.file)}:{mark.place.line}:{mark.place.column}"
    return _one_line(subject_name(machine, subject))


def remarks(report: Report, verbose: bool = False) -> Iterable[str]:
    """What no finding tells: what could not be decided, was left out, or is set by the site."""
    if report.undecided:
        rules = counted(len({check.rule for check in report.undecided}), "rule")
        number = counted(len(report.undecided), "check")
        yield f"{number} of {rules} cannot be decided because data is missing."
    for gone in report.accepted_gone:
        yield f"Accepted, and no longer found: {acceptance_name(gone)}: {gone.message}"
    for left in report.left_out:
        yield f"{place_words(left.place)}: {left.text}"
    yield from files_sentences(report.skipped, report.ignored)
    yield from site_file_sentences(report.site_file)
    if verbose:
        yield from (f"{title}: {name}" for title, name in unchecked_files(report))
    yield from narrowed_sentences(report.narrowed)
    yield from site_sentences(report.site_rules)
    for each in report.level_changes:
        yield f"{each.rule} is {level_words(each)}. {each.title}. {each.reason}"
    for machine, subject, name, value, reason in report.settings:
        where = subject_name(machine, subject) if machine else "every machine"
        yield f"Setting {name} = {value}, {where}: {reason}"


def _one_line(text: str) -> str:
    return visible(" ".join(text.split()))
