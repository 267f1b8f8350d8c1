"""The accepted set: the findings a machine had when the tool was taken up for it."""

from __future__ import annotations

import datetime
import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from ..findings.finding import Finding, Report, StaleAcceptance, WaivedBy
from ..findings.rows import like
from ..importing.shape import check_shape
from ..source.parsing import parse
from ..source.reader import DISK, Reader, read_source

VERSION: Final = 1

Key = tuple[str, str, str, str, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class AcceptedSet:
    """What was recorded, and the day (ISO 8601)."""

    recorded_on: str
    findings: tuple[StaleAcceptance, ...]


def accepted_text(report: Report, day: datetime.date) -> str:
    """The findings of a report as an accepted set (schemas/accepted.schema.json).

    Findings that a waiver covers are left to the waiver.
    """
    findings = [
        {
            "rule": finding.rule,
            **({"stage": finding.stage} if finding.stage else {}),
            "machine": _writable(finding.machine),
            "subject": finding.subject,
            "facts": list(finding.facts),
            "message": _writable(finding.message),
        }
        for finding in report.findings
        if finding.waived is None
    ]
    findings.sort(key=lambda each: json.dumps(each, sort_keys=True))
    plain = {"accepted": VERSION, "recorded_on": day.isoformat(), "findings": findings}
    return json.dumps(plain, indent=1, ensure_ascii=False) + "\n"


def _writable(text: str) -> str:
    """Text that may hold the name of a file that is no UTF-8, as it can stand in one that is."""
    return text.encode("utf-8", "backslashreplace").decode()


def read_accepted(path: Path, reader: Reader = DISK) -> AcceptedSet:
    """Read an accepted set. Raises InputError, with a place, for a file that is none."""
    source = read_source(path, reader)
    plain = check_shape(source, parse(source), "accepted")
    return AcceptedSet(
        plain["recorded_on"],
        tuple(
            StaleAcceptance(
                each["rule"],
                each["machine"],
                each["subject"],
                tuple(each["facts"]),
                each["message"],
                each.get("stage", ""),
            )
            for each in plain["findings"]
        ),
    )


def apply_accepted(
    findings: Sequence[Finding], accepted: AcceptedSet
) -> tuple[Sequence[Finding], tuple[StaleAcceptance, ...]]:
    """The findings with those marked that are in the set, and what of the set is there no more.

    A finding is the same if rule, stage, machine, axis and facts are, whatever its line; if its
    values changed since, the mark says what was found then.
    """
    waiting: dict[Key, list[StaleAcceptance]] = {}
    for each in accepted.findings:
        facts = tuple(sorted(each.facts))
        key = each.rule, each.stage, each.machine, each.subject, facts
        waiting.setdefault(key, []).append(each)
    waived: dict[int, WaivedBy] = {}
    for number, finding in enumerate(findings):
        machine = _writable(finding.machine)
        key = finding.rule, finding.stage, machine, finding.subject, finding.facts
        same = waiting.get(key)
        then = same.pop(0) if same else None
        if then is None or finding.waived is not None:
            continue
        reason = f"recorded on {accepted.recorded_on}"
        if then.message != _writable(finding.message):
            reason += f", when it said: {then.message}"
        waived[number] = WaivedBy(reason, accepted=True)
    return marked(findings, waived), tuple(each for left in waiting.values() for each in left)


def marked(
    findings: Sequence[Finding], waived: Mapping[int, WaivedBy], told: Sequence[Finding] = ()
) -> Sequence[Finding]:
    """The findings, of which those of some numbers are waived, and further ones after them."""

    def read() -> Iterator[Finding]:
        for number, finding in enumerate(findings):
            by = waived.get(number)
            yield finding if by is None else replace(finding, waived=by)
        yield from told

    return like(findings, read, len(findings) + len(told))
