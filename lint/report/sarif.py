"""The report for code-review platforms and editors: SARIF 2.1.0 (OASIS).

A finding is a result of kind ``fail``, and its text has its own remedy: the help of a rule is the
same for all axes. An undecided check has no place in a file, and platforms refuse a result without
a place. So each undecided check is a notification, and one more counts them. An axis on which
nothing about a concern could be decided is a result at the place of the axis. Checks that hold or
do not apply are results if the report has every outcome. Only fixes that need no person at the
machine are ``fixes``, because tools apply those at a click; the properties and the text of the
result hold the others. A waived or accepted finding is a result with a suppression, and its text
says so. A rule that the settings switch off or give another level is a configuration notification
with the reason, and an override of the configuration.
"""

from __future__ import annotations

import hashlib
import json
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import asdict
from itertools import groupby
from operator import attrgetter
from pathlib import PurePath
from typing import Any, Final
from urllib.parse import quote

from ..base.errors import Place
from ..base.version import tool_version
from ..checking.fixing import edit_for
from ..findings.finding import (
    Finding,
    Fix,
    LeftOut,
    Mark,
    Outcome,
    Report,
    Undecided,
    UndecidedConcern,
    WaivedBy,
)
from ..findings.rows import each_of, joined, like
from ..findings.unusable import Unusable, each_fault
from ..source.columns import utf16_column
from .in_force import LEFT_OUT_TITLE
from .json import setting_document
from .json_pieces import json_pieces
from .layout import visible
from .rendering import CAUTION, RenderOptions, ordered_findings
from .unusable_files import UNUSABLE_RULE, unusable_mark, unusable_words
from .words import (
    CONCERN_RULE,
    concern_words,
    counted,
    fix_words,
    ignored_sentences,
    level_words,
    missing_words,
    narrowed_sentences,
    site_file_sentences,
    skipped_sentences,
    subject_name,
    waiver_words,
)

SCHEMA: Final = (
    "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
)
REMEDY_HINT: Final = "The remedy of each result stands in its message, with its own numbers."
CONCERN_TITLE: Final = (
    "What can end in an error about turn counter, gearing, homing, interlock, brake and gantry is "
    "decided"
)
FINGERPRINT: Final = "axisproof/1"
"""Name and version of fingerprints; raise it if those of unchanged findings change."""

_KINDS: Final = {"holds": "pass", "not applicable": "notApplicable"}


def render(report: Report, options: RenderOptions) -> str:
    """Return the report as SARIF text that ends in a newline; ``options`` change nothing."""
    return "".join(pieces(report, options))


def pieces(report: Report, options: RenderOptions) -> Iterator[str]:
    """The same text in pieces, each made when it is asked for."""
    return json_pieces(document(report))


def document(report: Report) -> dict[str, Any]:
    """Return the report as a SARIF log in plain values, or rows of these (rows.py)."""
    findings = ordered_findings(report)
    rules = _rule_descriptors(report, findings)
    index = {rule["id"]: number for number, rule in enumerate(rules)}

    def results() -> Iterator[dict[str, Any]]:
        yield from _results(findings)
        yield from map(_concern_result, report.undecided_concerns)
        yield from (_quiet_result(each) for each in report.outcomes if each.verdict in _KINDS)

    def indexed() -> Iterator[dict[str, Any]]:
        for result in results():
            yield {**result, "ruleIndex": index[result["ruleId"]]}

    run = {
        "tool": {"driver": {"name": "axisproof", "version": tool_version(), "rules": rules}},
        "columnKind": "utf16CodeUnits",
        "artifacts": each_of(report.files, lambda file: {"location": {"uri": uri(file)}}),
        "invocations": [
            {
                "executionSuccessful": not report.unusable,
                **_level_overrides(report, index),
                **_notifications(report, index),
            }
        ],
        "results": joined(like(findings, indexed)),
        "properties": {
            "machines": each_of(report.machines, str),
            "day": report.day,
            "axes": report.axes,
            "rulesApplied": report.rules,
            "caution": CAUTION,
            "levelChanges": [asdict(each) for each in report.level_changes],
            "siteRules": asdict(report.site_rules),
            "settings": each_of(report.settings, setting_document),
            "acceptedGone": [asdict(each) for each in report.accepted_gone],
            "siteFile": None if report.site_file is None else asdict(report.site_file),
            "narrowed": None if report.narrowed is None else asdict(report.narrowed),
        },
    }
    return {"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}


def uri(file: str) -> str:
    """Return the name of a file as a URI: relative as it was named, absolute with ``file:``."""
    path = PurePath(file)
    if path.is_absolute():
        return path.as_uri()
    # Lone surrogates stand for bytes of a file name that are no UTF-8.
    return quote(path.as_posix(), errors="surrogateescape")


# Rules and notices ------------------------------------------------------------------------------


def _rule_descriptors(report: Report, findings: Iterable[Finding]) -> list[dict[str, Any]]:
    """Return the descriptor of every rule that the report names, sorted by name."""
    found: dict[str, dict[str, Any]] = {}
    reasons: dict[str, str | None] = {}
    for finding in findings:
        if reasons.setdefault(finding.rule, finding.why) != finding.why:
            reasons[finding.rule] = None
        found[finding.rule] = {
            "id": finding.rule,
            "shortDescription": _message(finding.title),
            # The reason may hold numbers of one axis, which are not those of another axis.
            "fullDescription": _message(
                finding.title if reasons[finding.rule] is None else finding.why
            ),
            "help": _message(f"{REMEDY_HINT}\n\nBasis: {finding.basis}\n\n{CAUTION}"),
            "defaultConfiguration": {"level": finding.level},
        }
    if report.undecided_concerns:
        found[CONCERN_RULE] = {
            "id": CONCERN_RULE,
            "shortDescription": _message(CONCERN_TITLE),
            "defaultConfiguration": {"level": "error"},
        }
    for check in report.undecided:
        rule = {
            "id": check.rule,
            "shortDescription": _message(check.title),
            "defaultConfiguration": {"level": check.level},
        }
        found.setdefault(check.rule, rule)
    for outcome in report.outcomes:
        if outcome.verdict in _KINDS:
            found.setdefault(outcome.rule, {"id": outcome.rule})
    for each in report.level_changes:
        rule = {"id": each.rule, "shortDescription": _message(each.title)}
        # The result of a rule says at which level it is: that of the settings.
        found.setdefault(each.rule, rule)["defaultConfiguration"] = {"level": each.level}
    for name, concern in report.concerns.items():
        if name in found:
            found[name]["properties"] = {"tags": [concern]}
    return [found[name] for name in sorted(found)]


def _level_overrides(report: Report, index: dict[str, int]) -> dict[str, Any]:
    """Return the rules with another level and the reasons (invocation object, section 3.20)."""
    if not report.level_changes:
        return {}
    overrides = []
    notifications = []
    for each in report.level_changes:
        descriptor = {"id": each.rule, "index": index[each.rule]}
        off = each.becomes == "off"
        configuration = {"enabled": False} if off else {"level": each.becomes}
        overrides.append({"descriptor": descriptor, "configuration": configuration})
        text = f"{each.rule} is {level_words(each)}: {each.reason}"
        notifications.append(
            {"associatedRule": descriptor, "level": "warning", "message": _message(text)}
        )
    return {
        "ruleConfigurationOverrides": overrides,
        "toolConfigurationNotifications": notifications,
    }


def _notifications(report: Report, index: dict[str, int]) -> dict[str, Any]:
    unusable = [_unusable_notification(each) for each in each_fault(report.unusable)]
    notes = _files_notifications(report.skipped, skipped_sentences(report.skipped))
    notes += _files_notifications(report.ignored, ignored_sentences(report.ignored))
    notes += _site_file_notifications(report)
    if narrowed := narrowed_sentences(report.narrowed):
        notes.append({"level": "warning", "message": _message(" ".join(narrowed))})
    left_out = each_of(report.left_out, _left_out_notification)
    if not report.undecided:
        told = joined(unusable, left_out, notes)
        return {"toolExecutionNotifications": told} if told else {}
    text = f"{counted(len(report.undecided), 'check')} cannot be decided because data is missing"
    facts = ", ".join(each.fact for each in report.deciding_facts[:5])
    if facts:
        text += f". This data decides most: {facts}"
    summary = {"level": "warning", "message": _message(text + ".")}
    undecided = each_of(
        report.undecided, lambda check: _undecided_notification(check, index[check.rule])
    )
    told = joined(unusable, [summary], undecided, left_out, notes)
    return {"toolExecutionNotifications": told}


# Results ----------------------------------------------------------------------------------------


def _results(findings: Iterable[Finding]) -> Iterator[dict[str, Any]]:
    """Return the results of findings, which come machine by machine."""
    for _, of_machine in groupby(findings, attrgetter("machine")):
        seen: Counter[str] = Counter()
        for finding in of_machine:
            mark = finding_fingerprint(finding)
            seen[mark] += 1
            yield _result(finding, f"{mark}:{seen[mark]}")


def finding_fingerprint(finding: Finding) -> str:
    """Return the identity of a finding, which ignores lines: rule, subject and facts."""
    facts = sorted({mark.fact for mark in finding.marks})
    parts = [finding.rule, finding.machine, finding.subject, *facts]
    return hashlib.sha256(json.dumps(parts).encode()).hexdigest()[:32]


def _result(finding: Finding, mark: str) -> dict[str, Any]:
    text = [
        f"{subject_name(finding.machine, finding.subject)}: "
        + " ".join(dict.fromkeys(filter(None, (finding.headline, finding.message)))),
        *(f"Caution: {each.text}" for each in finding.cautions),
        f"Remedy: {finding.remedy}",
    ]
    if finding.fix:
        text.append(f"Offered: {fix_words(finding)}.")
    if finding.waived:
        text.append(": ".join(waiver_words(finding.waived)))
    result: dict[str, Any] = {
        "ruleId": finding.rule,
        "kind": "fail",
        "level": finding.level,
        "message": _message("\n\n".join(text)),
        "locations": [_location(finding, finding.marks[:1])],
        "partialFingerprints": {FINGERPRINT: mark},
        "properties": {
            "machine": finding.machine,
            "subject": finding.subject,
            "why": finding.why,
            "cautions": [asdict(each) for each in finding.cautions],
            "remedy": finding.remedy,
            "basis": finding.basis,
            "figures": [
                {"name": each.name, "text": each.text, "exact": dict(sorted(each.exact.items()))}
                for each in finding.figures
            ],
        },
    }
    if len(finding.marks) > 1:
        result["relatedLocations"] = [
            {"id": number, **_physical(mark), "message": _message(mark.label)}
            for number, mark in enumerate(finding.marks[1:], 1)
        ]
    if finding.waived is not None:
        result["suppressions"] = [_suppression(finding.waived)]
    fix = finding.fix
    if fix is not None:
        offered = {"fact": fix.fact, "value": fix.value, "safe": fix.safe}
        result["properties"]["offered"] = offered
        change = _sarif_fix(fix)
        if fix.safe and change is not None:
            result["fixes"] = [change]
    return result


def _suppression(waived: WaivedBy) -> dict[str, Any]:
    """Return a waiver, or membership in the accepted set, as a suppression (section 3.35)."""
    found: dict[str, Any] = {
        "kind": "external",
        "status": "accepted",
        "justification": visible(waiver_words(waived)[1]),
    }
    place = waived.place
    if place is not None:
        found["location"] = {
            "physicalLocation": {
                "artifactLocation": {"uri": uri(place.file)},
                "region": {"startLine": place.line, "endLine": place.end_line},
            }
        }
    return found


def _location(finding: Finding, marks: tuple[Mark, ...]) -> dict[str, Any]:
    name = marks[0].fact if marks else finding.subject and f"axes.{finding.subject}"
    location: dict[str, Any] = {"logicalLocations": [_logical(finding.machine, name)]}
    if marks:
        location |= _physical(marks[0])
    return location


def _logical(machine: str, path: str) -> dict[str, Any]:
    return {"fullyQualifiedName": f"{machine}: {path}" if path else machine, "kind": "value"}


def _physical(mark: Mark) -> dict[str, Any]:
    where = {
        "artifactLocation": {"uri": uri(mark.place.file)},
        "region": region(mark.place, mark.line_text),
    }
    return {"physicalLocation": where}


def region(place: Place, line_text: str) -> dict[str, int]:
    """Return a place as a SARIF region, its columns in UTF-16 code units.

    ``line_text`` is the line on which the place begins. If it ends on another line, the region
    includes that whole line, whose text is not known here.
    """
    found = {"startLine": place.line, "startColumn": utf16_column(line_text, place.column)}
    if place.end_line == place.line:
        return {**found, "endColumn": utf16_column(line_text, place.end_column)}
    if place.end_column == 1:
        return {**found, "endLine": place.end_line, "endColumn": 1}
    return {**found, "endLine": place.end_line}


def _sarif_fix(fix: Fix) -> dict[str, Any] | None:
    edit = edit_for(fix)
    if edit is None:
        return None
    replacement = {
        "deletedRegion": region(edit.place, fix.line_text),
        "insertedContent": {"text": edit.new},
    }
    change = {
        "artifactLocation": {"uri": uri(edit.place.file)},
        "replacements": [replacement],
    }
    text = f"Set {fix.fact} to {fix.value}"
    return {"description": _message(text), "artifactChanges": [change]}


def _concern_result(each: UndecidedConcern) -> dict[str, Any]:
    path = f"axes.{each.subject}"
    location: dict[str, Any] = {"logicalLocations": [_logical(each.machine, path)]}
    if each.mark is not None:
        location |= _physical(each.mark)
    parts = json.dumps([CONCERN_RULE, each.machine, each.subject, each.concern])
    mark = hashlib.sha256(parts.encode()).hexdigest()[:32]
    text = f"{subject_name(each.machine, each.subject)}: {concern_words(each)}"
    return {
        "ruleId": CONCERN_RULE,
        "kind": "fail",
        "level": "error",
        "message": _message(text),
        "locations": [location],
        "partialFingerprints": {FINGERPRINT: f"{mark}:1"},
        "properties": {
            "machine": each.machine,
            "subject": each.subject,
            "concern": each.concern,
            "missing": list(each.missing),
            "partly": each.partly,
        },
    }


def _undecided_notification(check: Undecided, rule: int) -> dict[str, Any]:
    where = subject_name(check.machine, check.subject)
    paths = check.missing or ((f"axes.{check.subject}",) if check.subject else ("",))
    return {
        "associatedRule": {"id": check.rule, "index": rule},
        "level": "note",
        "message": _message(f"{where}: undecided. {missing_words(check)}"),
        "locations": [{"logicalLocations": [_logical(check.machine, path)]} for path in paths[:1]],
        "properties": {
            "machine": check.machine,
            "subject": check.subject,
            "missing": list(check.missing),
            "levelIfBroken": check.level,
        },
    }


def _left_out_notification(each: LeftOut) -> dict[str, Any]:
    location = {
        "physicalLocation": {
            "artifactLocation": {"uri": uri(each.place.file)},
            "region": {"startLine": max(each.place.line, 1)},
        }
    }
    return {
        "level": "note",
        "message": _message(f"{LEFT_OUT_TITLE}: {each.text}"),
        "locations": [location],
    }


def _unusable_notification(each: Unusable) -> dict[str, Any]:
    """Return a file that cannot be used, as an error of the run at its place."""
    mark = unusable_mark(each)
    where = {"physicalLocation": {"artifactLocation": {"uri": uri(each.file)}}}
    return {
        "level": "error",
        "descriptor": {"id": UNUSABLE_RULE},
        "message": _message(f"{each.file}: {unusable_words(each)}"),
        "locations": [where if mark is None else _physical(mark)],
    }


def _files_notifications(files: Sequence[str], said: Sequence[str]) -> list[dict[str, Any]]:
    """Return what is said of files that were not checked, with the place of each."""
    places = [{"physicalLocation": {"artifactLocation": {"uri": uri(file)}}} for file in files]
    text = " ".join(said)
    return [{"level": "note", "message": _message(text), "locations": places}] if places else []


def _site_file_notifications(report: Report) -> list[dict[str, Any]]:
    """Return what the site file does: a warning if it makes the check less strict."""
    use = report.site_file
    if use is None:
        return []
    files = [use.file, *use.excluded]
    notes = _files_notifications(files, site_file_sentences(use))
    return [{**each, "level": "warning" if use.loosens else "note"} for each in notes]


def _quiet_result(outcome: Outcome) -> dict[str, Any]:
    where = subject_name(outcome.machine, outcome.subject)
    words = "holds" if outcome.verdict == "holds" else "does not apply"
    text = f"{where}: {words}"
    return {
        "ruleId": outcome.rule,
        "kind": _KINDS[outcome.verdict],
        "level": "none",
        "message": _message(f"{text}, as {outcome.reason}" if outcome.reason else text),
        "properties": {"machine": outcome.machine, "subject": outcome.subject},
    }


def _message(text: str) -> dict[str, str]:
    """Return a plain text message without placeholders and links.

    Braces are doubled (section 3.11.5). A space keeps ``](`` from closing a link (3.11.6); a
    backslash does so too, but viewers without links show it.
    """
    safe = "\n\n".join(visible(part) for part in text.split("\n\n"))
    return {"text": safe.replace("{", "{{").replace("}", "}}").replace("](", "] (")}
