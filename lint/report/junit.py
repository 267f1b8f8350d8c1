"""The report for test dashboards: JUnit XML, one suite per machine, one case per rule and axis.

- A broken rule is a ``failure`` if the command would fail for it (``options.fail_at``); a lesser
  finding, and one that is waived or accepted, is a case that passes with the finding as its output.
- An undecided check is ``skipped`` with its reason: it was not carried out.
- A check that does not apply is no case, only counted in the suite's properties. There are many,
  and among them the skipped cases, which want a fact, would be overlooked.
- A check that holds is a case that passes. These are there only if every outcome was asked for.

There are no times: a check takes none worth telling, and equal reports give equal bytes.
"""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections import Counter
from dataclasses import dataclass

from ..base.version import tool_version
from ..findings.finding import Finding, Report, Undecided
from . import CAUTION, RenderOptions, ordered_findings
from .layout import visible
from .words import lacks, offer, waiver


@dataclass(frozen=True, slots=True)
class _Case:
    """One check of a subject; ``result`` is None if it holds."""

    subject: str
    rule: str
    result: Finding | Undecided | None = None


def render(report: Report, options: RenderOptions) -> str:
    """Return the report as JUnit XML that ends in a newline."""
    machines: dict[str, list[_Case]] = {name: [] for name in report.machines}
    for finding in ordered_findings(report):
        machines.setdefault(finding.machine, []).append(
            _Case(finding.subject, finding.rule, finding)
        )
    for check in report.undecided:
        machines.setdefault(check.machine, []).append(_Case(check.subject, check.rule, check))
    absent: Counter[str] = Counter()
    for outcome in report.outcomes:
        if outcome.verdict == "holds":
            machines.setdefault(outcome.machine, []).append(_Case(outcome.subject, outcome.rule))
        elif outcome.verdict == "not applicable":
            absent[outcome.machine] += 1
    root = ET.Element("testsuites", {"name": "axisproof"})
    suites = [
        _suite(machine, cases, absent[machine], report, options)
        for machine, cases in machines.items()
    ]
    for key in ("tests", "failures", "errors", "skipped"):
        root.set(key, str(sum(int(suite.get(key, "0")) for suite in suites)))
    root.extend(suites)
    ET.indent(root)
    text = ET.tostring(root, encoding="unicode")
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{text}\n'


def _suite(
    machine: str, cases: list[_Case], absent: int, report: Report, options: RenderOptions
) -> ET.Element:
    suite = ET.Element("testsuite", {"name": _line(machine)})
    properties = ET.SubElement(suite, "properties")
    facts = {"axisproof version": tool_version(), "checks that do not apply": str(absent)}
    for machine_, subject, name, value, reason in report.settings:
        if machine_ in ("", machine):
            where = f" of {subject}" if subject else ""
            facts[f"setting {name}{where}"] = f"{value} ({reason})"
    for gone in report.accepted_gone:
        if gone.machine == machine:
            facts[f"accepted and no longer found: {gone.rule}, {gone.subject}"] = gone.message
    for name, value in facts.items():
        ET.SubElement(properties, "property", {"name": _line(name), "value": _line(value)})
    counts: Counter[str] = Counter()
    names: Counter[tuple[str, str]] = Counter()
    for each in sorted(cases, key=_subjects(machine, report)):
        names[each.subject, each.rule] += 1
        number = names[each.subject, each.rule]
        # Pairs of axes and lists give one rule several checks on an axis.
        name = each.rule if number == 1 else f"{each.rule} ({number})"
        classname = ".".join(filter(None, (machine.replace(".", " "), each.subject)))
        case = ET.SubElement(
            suite, "testcase", {"name": _line(name), "classname": _line(classname)}
        )
        counts["tests"] += 1
        counts[_fill(case, each.result, options)] += 1
    for key in ("tests", "failures", "skipped"):
        suite.set(key, str(counts[key]))
    suite.set("errors", "0")
    return suite


def _subjects(machine: str, report: Report) -> _Order:
    order = [tally.subject for tally in report.tallies if tally.machine == machine]
    return _Order({subject: number for number, subject in enumerate(order)})


@dataclass(frozen=True, slots=True)
class _Order:
    """Sort key of cases: by axis as the report lists them; within an axis as they came."""

    numbers: dict[str, int]

    def __call__(self, case: _Case) -> int:
        return self.numbers.get(case.subject, len(self.numbers))


def _fill(case: ET.Element, result: Finding | Undecided | None, options: RenderOptions) -> str:
    """Write the result of a check into its case; return what it counts as."""
    if isinstance(result, Undecided):
        ET.SubElement(case, "skipped", {"message": _line(f"undecided: {lacks(result)}")})
        return "skipped"
    if result is None:
        return "passed"
    if options.fails(result):
        attributes = {"message": _line(result.message), "type": result.level}
        ET.SubElement(case, "failure", attributes).text = _told(result)
        return "failures"
    ET.SubElement(case, "system-out").text = f"{result.level}: {_told(result)}"
    return "passed"


def _told(finding: Finding) -> str:
    parts = [finding.title, finding.message]
    if finding.waived:
        parts.insert(0, ": ".join(waiver(finding.waived)))
    for mark in finding.marks:
        place = mark.place
        parts.append(f"{place.file}, line {place.line}: {mark.line_text.strip()[:200]}")
    parts += [f"Why: {finding.why}", f"Remedy: {finding.remedy}"]
    if finding.fix:
        parts.append(f"Offered: {offer(finding)}")
    parts += [f"Basis: {finding.basis}", f"Caution: {CAUTION}"]
    return "\n".join(visible(part) for part in parts)


def _line(text: str) -> str:
    """Return text for an attribute, without what XML 1.0 cannot hold."""
    return visible(" ".join(text.split()))
