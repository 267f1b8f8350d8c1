"""A report beside waivers and the accepted set: which of its findings do not count."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

from ..base.lazy import replace
from ..findings.finding import Report
from ..source.reader import Reader
from .reading import Rules
from .record_store import StoredRecords

TYPE_CHECKING = False
if TYPE_CHECKING:
    import datetime


def with_waivers(
    report: Report,
    waivers: Path | str | None,
    accepted: Path | str | None,
    rules: Rules | None,
    records: StoredRecords,
    day: datetime.date,
    reader: Reader,
) -> Report:
    """The report with findings marked that a waiver or the accepted set covers.

    With a file that cannot be used, an accepted finding is gone only of a machine that was checked.
    """
    findings, gone = report.findings, report.accepted_gone
    if waivers is not None:
        from .assembling import machines_again
        from .waivers import apply_waivers, read_waivers

        assert rules is not None
        given = read_waivers(Path(waivers), rules.every, reader)
        machines = machines_again(records, {waiver.machine for waiver in given.entries}, reader)
        findings = apply_waivers(findings, given, machines, day)
    if accepted is not None:
        from .accepted import apply_accepted, read_accepted

        findings, gone = apply_accepted(findings, read_accepted(Path(accepted), reader))
        if report.unusable:
            gone = tuple(each for each in gone if each.machine in report.machines)
    levels = Counter(finding.level for finding in findings)
    return replace(
        report, findings=findings, accepted_gone=gone, levels=dict(sorted(levels.items()))
    )
