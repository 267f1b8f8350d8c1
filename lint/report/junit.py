"""The report for test dashboards: JUnit XML, one suite per machine, one case per rule and axis.

- A broken rule is a ``failure`` if its level fails the command (``options.fail_at``). A finding of
  a lower level, and a waived or accepted one, is a passed case with the finding as its output.
- An undecided check is ``skipped`` with its reason.
- An axis on which nothing about a concern could be decided is a ``failure``.
- A check that does not apply is no case; a property of the suite counts them. They are many and
  would hide the skipped cases, which lack a fact.
- A rule that the settings switch off is ``skipped`` with the reason, once, in a suite of its own.
  A rule with another level is a passed case there.
- A file that cannot be used is an ``error``, in a suite of its own at the beginning.
- A check that holds is a passed case, if the report has every outcome.

A case names the file and line of its finding, or else those of its axis. There are no times, so
equal reports give equal bytes.
"""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from ..base.errors import Place
from ..base.version import tool_version
from ..findings.finding import (
    Finding,
    LevelChange,
    Report,
    Tally,
    Undecided,
    UndecidedConcern,
)
from ..findings.unusable import Unusable, each_fault
from .in_force import LEFT_OUT_TITLE, LEVELS_TITLE
from .layout import visible
from .rendering import CAUTION, RenderOptions, ordered_findings
from .unusable_files import (
    UNUSABLE_RULE,
    UNUSABLE_TITLE,
    unusable_mark,
    unusable_place,
    unusable_words,
)
from .words import (
    CONCERN_RULE,
    concern_words,
    fix_words,
    ignored_sentences,
    level_words,
    missing_words,
    narrowed_sentences,
    place_words,
    site_file_sentences,
    site_sentences,
    skipped_sentences,
    unchecked_files,
    waiver_words,
)


@dataclass(frozen=True, slots=True)
class _TestCase:
    """One check of a subject; ``result`` is None if it holds."""

    subject: str
    rule: str
    result: Finding | Undecided | UndecidedConcern | None = None


def render(report: Report, options: RenderOptions) -> str:
    """Return the report as JUnit XML that ends in a newline."""
    machines: dict[str, list[_TestCase]] = {name: [] for name in report.machines}
    for finding in ordered_findings(report):
        machines.setdefault(finding.machine, []).append(
            _TestCase(finding.subject, finding.rule, finding)
        )
    for check in report.undecided:
        machines.setdefault(check.machine, []).append(_TestCase(check.subject, check.rule, check))
    for each in report.undecided_concerns:
        name = f"{CONCERN_RULE}: {each.concern}"
        machines.setdefault(each.machine, []).append(_TestCase(each.subject, name, each))
    absent: Counter[str] = Counter()
    for outcome in report.outcomes:
        if outcome.verdict == "holds":
            machines.setdefault(outcome.machine, []).append(
                _TestCase(outcome.subject, outcome.rule)
            )
        elif outcome.verdict == "not applicable":
            absent[outcome.machine] += 1
    tallies: dict[str, list[Tally]] = {}
    for tally in report.tallies:
        tallies.setdefault(tally.machine, []).append(tally)
    root = ET.Element("testsuites", {"name": "axisproof"})
    suites = [
        _suite(machine, cases, tallies.get(machine, []), absent[machine], report, options)
        for machine, cases in machines.items()
    ]
    if report.unusable:
        suites.insert(0, _unusable_suite(each_fault(report.unusable)))
    if report.level_changes:
        suites.append(_levels_suite(report.level_changes))
    for key in ("tests", "failures", "errors", "skipped"):
        root.set(key, str(sum(int(suite.get(key, "0")) for suite in suites)))
    root.extend(suites)
    ET.indent(root)
    text = ET.tostring(root, encoding="unicode")
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{text}\n'


def _suite(
    machine: str,
    cases: list[_TestCase],
    tallies: list[Tally],
    absent: int,
    report: Report,
    options: RenderOptions,
) -> ET.Element:
    suite = ET.Element("testsuite", {"name": _attribute_text(machine)})
    properties = ET.SubElement(suite, "properties")
    facts = {"axisproof version": tool_version(), "checks that do not apply": str(absent)}
    if report.day:
        facts["checked for the day"] = report.day
    if report.site_rules.count:
        facts["rules of the site"] = " ".join(site_sentences(report.site_rules))
    if report.site_file:
        facts["site file"] = " ".join(site_file_sentences(report.site_file))
    if report.ignored:
        facts["ignored files"] = " ".join(ignored_sentences(report.ignored))
    if report.skipped:
        facts["skipped files"] = " ".join(skipped_sentences(report.skipped))
    for number, (word, name) in enumerate(unchecked_files(report) if options.verbose else (), 1):
        facts[f"{word.lower()} file ({number})"] = name
    if report.narrowed:
        facts["part of the report"] = " ".join(narrowed_sentences(report.narrowed))
    for machine_, subject, name, value, reason in report.settings:
        if machine_ in ("", machine):
            where = f" of {subject}" if subject else ""
            facts[f"setting {name}{where}"] = f"{value} ({reason})"
    for number, left in enumerate(report.left_out, 1):
        if left.machine == machine:
            facts[f"{LEFT_OUT_TITLE} ({number})"] = f"{place_words(left.place)}: {left.text}"
    for gone in report.accepted_gone:
        if gone.machine == machine:
            facts[f"accepted and no longer found: {gone.rule}, {gone.subject}"] = gone.message
    for name, value in facts.items():
        ET.SubElement(
            properties, "property", {"name": _attribute_text(name), "value": _attribute_text(value)}
        )
    places = {each.subject: each.place for each in tallies}
    counts: Counter[str] = Counter()
    names: Counter[tuple[str, str]] = Counter()
    for each in sorted(cases, key=_subject_order(tallies)):
        names[each.subject, each.rule] += 1
        number = names[each.subject, each.rule]
        # Pairs of axes and lists give one rule several checks on an axis.
        name = each.rule if number == 1 else f"{each.rule} ({number})"
        classname = ".".join(filter(None, (machine.replace(".", " "), each.subject)))
        case = ET.SubElement(
            suite,
            "testcase",
            {"name": _attribute_text(name), "classname": _attribute_text(classname)},
        )
        _name_place(case, each.result, places.get(each.subject))
        counts["tests"] += 1
        counts[_write_result(case, each.result, options)] += 1
    for key in ("tests", "failures", "skipped"):
        suite.set(key, str(counts[key]))
    suite.set("errors", "0")
    return suite


def _name_place(
    case: ET.Element,
    result: Finding | Undecided | UndecidedConcern | None,
    place: Place | None,
) -> None:
    """Name file and line of what a case is about, or else of the axis, which is at ``place``."""
    if isinstance(result, Finding) and result.marks:
        place = result.marks[0].place
    elif isinstance(result, UndecidedConcern) and result.mark:
        place = result.mark.place
    if place is not None:
        case.set("file", _attribute_text(place.file))
        case.set("line", str(place.line))


def _unusable_suite(unusable: Sequence[Unusable]) -> ET.Element:
    """One case for each file that cannot be used, which is an ``error``."""
    suite = ET.Element("testsuite", {"name": UNUSABLE_TITLE})
    for each in unusable:
        attributes = {"name": UNUSABLE_RULE, "classname": _attribute_text(each.file)}
        case = ET.SubElement(suite, "testcase", attributes)
        mark = unusable_mark(each)
        if mark is not None:
            case.set("file", _attribute_text(mark.place.file))
            case.set("line", str(mark.place.line))
        text = _attribute_text(f"{unusable_place(each)}: {unusable_words(each)}")
        ET.SubElement(case, "error", {"message": text, "type": "unusable"}).text = text
    counts = {"tests": len(unusable), "failures": 0, "skipped": 0, "errors": len(unusable)}
    for key, number in counts.items():
        suite.set(key, str(number))
    return suite


def _levels_suite(changes: Sequence[LevelChange]) -> ET.Element:
    suite = ET.Element("testsuite", {"name": LEVELS_TITLE})
    for each in changes:
        name = {"name": _attribute_text(each.rule), "classname": "settings"}
        case = ET.SubElement(suite, "testcase", name)
        text = visible(f"{level_words(each)}: {each.reason}")
        if each.becomes == "off":
            ET.SubElement(case, "skipped", {"message": _attribute_text(text)})
        else:
            ET.SubElement(case, "system-out").text = text
    off = sum(each.becomes == "off" for each in changes)
    counts = {"tests": len(changes), "failures": 0, "skipped": off, "errors": 0}
    for key, number in counts.items():
        suite.set(key, str(number))
    return suite


def _subject_order(tallies: Sequence[Tally]) -> _SubjectOrder:
    return _SubjectOrder({each.subject: number for number, each in enumerate(tallies)})


@dataclass(frozen=True, slots=True)
class _SubjectOrder:
    """Sort key of cases: by axis as in the report; cases of an axis keep their order."""

    numbers: dict[str, int]

    def __call__(self, case: _TestCase) -> int:
        return self.numbers.get(case.subject, len(self.numbers))


def _write_result(
    case: ET.Element,
    result: Finding | Undecided | UndecidedConcern | None,
    options: RenderOptions,
) -> str:
    """Write the result of a check into its case; return the counter that it adds to."""
    if isinstance(result, Undecided):
        ET.SubElement(
            case, "skipped", {"message": _attribute_text(f"undecided: {missing_words(result)}")}
        )
        return "skipped"
    if result is None:
        return "passed"
    if isinstance(result, UndecidedConcern):
        text = _attribute_text(concern_words(result))
        if options.fail_at is None:
            ET.SubElement(case, "system-out").text = text
            return "passed"
        told = f"{text}\nCaution: {CAUTION}"
        ET.SubElement(case, "failure", {"message": text, "type": "undecided"}).text = told
        return "failures"
    if options.fails(result):
        words = result.headline or result.message
        attributes = {"message": _attribute_text(words), "type": result.level}
        ET.SubElement(case, "failure", attributes).text = _finding_text(result)
        return "failures"
    ET.SubElement(case, "system-out").text = f"{result.level}: {_finding_text(result)}"
    return "passed"


def _finding_text(finding: Finding) -> str:
    words = (finding.headline, finding.message, f"Required: {finding.title}")
    parts = [*dict.fromkeys(filter(None, words))]
    if finding.waived:
        parts.insert(0, ": ".join(waiver_words(finding.waived)))
    for mark in finding.marks:
        place = f"{mark.place.file}, line {mark.place.line}, {mark.label}"
        parts.append(f"{place}: {mark.line_text.strip()[:200]}")
    parts += [
        f"Why: {finding.why}",
        *(f"Caution: {each}" for each in (*finding.special_cautions, CAUTION)),
        f"Remedy: {finding.remedy}",
    ]
    if finding.fix:
        parts.append(f"Offered: {fix_words(finding)}")
    parts.append(f"Basis: {finding.basis}")
    return "\n".join(visible(part) for part in parts)


def _attribute_text(text: str) -> str:
    """Return text for an attribute, without characters that XML 1.0 does not allow."""
    return visible(" ".join(text.split()))
