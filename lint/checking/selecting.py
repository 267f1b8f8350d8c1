"""A part of a report: some rules, some axes. What it leaves out is counted.

The whole report decides whether a check fails. A part of it is for reading alone.
"""

from __future__ import annotations

import difflib
from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence

from ..base.errors import UsageError
from ..base.lazy import replace
from ..findings.finding import VERDICTS, Finding, Narrowed, Outcome, Report, Tally
from .assembling import wanted


def narrowed(
    report: Report,
    select: Sequence[str],
    axes: Sequence[str],
    concerns: Mapping[str, str],
    *,
    outcomes: bool,
) -> Report:
    """Return the part of a report that is about rules or concerns ``select``, and about ``axes``.

    Nothing given leaves nothing out. ``concerns`` names the concern of each rule. ``outcomes`` says
    whether to keep the outcomes, from which the checks of selected rules are counted. An axis on
    which nothing of a concern could be decided stays whatever is selected. Raises UsageError for a
    name that nothing has.
    """
    rules = _rules(select, concerns)
    known = {tally.subject for tally in report.tallies if tally.subject}
    for axis in axes:
        _require_known(axis, known, "axis", "an axis of the machine files")

    def is_shown(rule: str, subject: str, facts: Iterable[str]) -> bool:
        return (not select or rule in rules) and _touches(axes, subject, facts)

    findings = [each for each in report.findings if is_shown(each.rule, each.subject, each.facts)]
    undecided = [
        each for each in report.undecided if is_shown(each.rule, each.subject, each.missing)
    ]
    open_concerns = [
        each for each in report.undecided_concerns if _touches(axes, each.subject, each.missing)
    ]
    told = [each for each in report.outcomes if is_shown(each.rule, each.subject, ())]
    tallies = [each for each in report.tallies if _touches(axes, each.subject, ())]
    return replace(
        report,
        findings=tuple(findings),
        undecided=tuple(undecided),
        undecided_concerns=tuple(open_concerns),
        outcomes=tuple(told) if outcomes else (),
        tallies=tuple(_counted(tallies, told) if select else tallies),
        deciding_facts=wanted(undecided),
        sketches=tuple(each for each in report.sketches if _touches(axes, each.subject, ())),
        levels=dict(sorted(Counter(each.level for each in findings).items())),
        narrowed=Narrowed(
            tuple(select),
            tuple(axes),
            _left_out(report.findings, findings),
            len(report.undecided) - len(undecided),
            len(report.undecided_concerns) - len(open_concerns),
        ),
    )


def _counted(tallies: Iterable[Tally], outcomes: Iterable[Outcome]) -> Iterable[Tally]:
    """The tallies of the same subjects, counted from some outcomes."""
    counts = Counter((each.machine, each.subject, each.verdict) for each in outcomes)
    for tally in tallies:
        at = tally.machine, tally.subject
        holds, broken, undecided, absent = (counts[*at, verdict] for verdict in VERDICTS)
        yield Tally(*at, holds, broken, undecided, absent, tally.place)


def _left_out(all_: Iterable[Finding], shown: Iterable[Finding]) -> dict[str, int]:
    """How many findings of each level count and are not shown."""
    numbers = Counter(each.level for each in all_ if each.waived is None)
    numbers.subtract(each.level for each in shown if each.waived is None)
    return {level: number for level, number in sorted(numbers.items()) if number}


def _rules(select: Sequence[str], concerns: Mapping[str, str]) -> frozenset[str]:
    """The rules that names of rules and concerns stand for."""
    groups = set(concerns.values())
    found: set[str] = set()
    for name in select:
        _require_known(name, {*concerns, *groups}, "rule or concern", "what `rules list` shows")
        found.update(rule for rule, concern in concerns.items() if name in (rule, concern))
    return frozenset(found)


def _require_known(name: str, known: Collection[str], what: str, where: str) -> None:
    if name in known:
        return
    close = difflib.get_close_matches(name, sorted(known), 1, 0.5)
    hint = f"did you mean {close[0]}?" if close else where
    raise UsageError(f"there is no {what} {name}", expected=hint)


def _touches(axes: Sequence[str], subject: str, facts: Iterable[str]) -> bool:
    """Whether something is about one of the axes, or rests on a fact of one."""
    if not axes or subject in axes:
        return True
    starts = tuple(f"axes.{axis}." for axis in axes)
    return any(fact.startswith(starts) for fact in facts)
