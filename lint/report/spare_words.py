"""Sentences about a spare and its plan, which all forms of report share."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Final

from ..findings.finding import Finding
from ..swap.result import MemoryFate, PartFactRow, SettingToWrite, SpareReport, Verdict
from .words import counted, site_file_counts, wrong_words

_VERDICTS: Final[dict[Verdict, str]] = {
    "fits as it is": "Fits. No setting has to be written.",
    "fits after settings": "Fits after settings are written",
    "fits with warnings": "Fits",
    "does not fit": "Does not fit.",
    "cannot be said yet": "Cannot be said yet if it fits: data is missing.",
    "nothing to compare": "No spare is compared.",
}

REASONS: Final = 3
"""Most reasons that a verdict names; the findings below it have all."""


def headline(report: SpareReport) -> str:
    """The machine, axis and spare (or the work) in one line, with what a site file loosens."""
    part = report.part.replace("_", " ")
    what = f"spare {part} ({report.spare})"
    if report.verdict == "nothing to compare":
        what = WORK_WORDS[report.part]
    loosened = site_file_counts(report.site_file)
    ending = f", {loosened} (site file)" if loosened else ""
    return f"{report.machine} · {report.axis}: {what}{ending}"


NOT_JUDGED_TITLE: Final = "Stated of the spare, and not judged"


WORK_WORDS: Final[Mapping[str, str]] = {
    "coupling": "the coupling between motor and load is replaced or loosened",
    "belt": "a belt is replaced or taken off",
    "chain": "a chain is replaced or taken off",
    "feedback_cable": "the feedback cable is replaced or unplugged",
    "home_switch": "the home switch is replaced or moved",
    "controller": "the controller is replaced",
    "motor_refitted": "the same motor is fitted again",
    "backup": "an older backup is restored",
}
"""What is done where no spare is compared."""


def fate_words(fate: MemoryFate) -> str:
    """What becomes of a memory, with the reason and what is not known."""
    parts = []
    for name, answer in (
        ("lost", fate.lost),
        ("stays and is wrong", fate.wrong),
        ("at risk", fate.at_risk),
    ):
        if not answer.why:
            continue
        words = f"{name}: {' '.join(answer.why)}"
        if answer.missing:
            words = f"must be taken as {words} Not stated: {', '.join(answer.missing)}."
        parts.append(words)
    return " ".join(each[:1].upper() + each[1:] for each in parts) if parts else "Stays as it was."


def carried_words(report: SpareReport) -> str:
    """The settings that only the backup of the fitted part tells; empty if there are none."""
    if not report.carried:
        return ""
    base = f"axes.{report.axis}."
    facts = ", ".join(fact.removeprefix(base) for fact in report.carried)
    return (
        "The machine file does not state these settings. Take them over from a backup of the "
        f"fitted part: {facts}."
    )


def against_words(report: SpareReport) -> list[str]:
    """What stands against the spare, or is to be settled: what is wrong, and by how much."""
    rows = [
        f"{_short(report, row.fact)} must match and cannot be written: {row_words(row)}."
        for row in report.unequal
    ]
    return [*rows, *dict.fromkeys(map(wrong_words, _against(report)))]


def _against(report: SpareReport) -> tuple[Finding, ...]:
    return report.broken if report.verdict == "does not fit" else report.warnings


def short_reasons(report: SpareReport) -> list[str]:
    """What stands against the spare, each in as few words as tell it."""
    rows = [f"{_short(report, row.fact)} must match: {row_words(row)}." for row in report.unequal]
    told = list(dict.fromkeys([*rows, *map(_with_excess, _against(report))]))
    more = len(told) - REASONS
    if more > 0:
        told[REASONS:] = [f"{counted(more, 'more reason')} {_stand(more)} below."]
    return told


def _stand(number: int) -> str:
    return "stands" if number == 1 else "stand"


_TOO: Final = re.compile(r"too (?:weak|slow|fast|short|long|small|large|late|early|high|low)\b")


_MEASURE: Final = re.compile(r"[\d.]+ \D")


def _with_excess(finding: Finding) -> str:
    """What is too small or too large and by how much, or else the whole headline."""
    words = wrong_words(finding)
    first, dot, _ = words.partition(". ")
    excess = [each.text for each in finding.figures if each.name.startswith("too ")]
    if dot and len(excess) == 1 and _MEASURE.match(excess[0]) and _TOO.search(first):
        return f"{first} (by {excess[0]})."
    return words


def _short(report: SpareReport, fact: str) -> str:
    return fact.removeprefix(f"axes.{report.axis}.")


def verdict_words(report: SpareReport) -> str:
    """The verdict with what stands against it, which claims only what was decided."""
    return " ".join((fit_words(report), *short_reasons(report)))


def hold_words(report: SpareReport) -> str:
    """What not to do with a part that does not fit or may not fit; empty for one that fits."""
    if not is_open(report):
        return ""
    done = "solved" if report.verdict == "does not fit" else "known"
    return f"Do not fit it until this is {done}."


def fit_words(report: SpareReport) -> str:
    """The verdict in a sentence, without what stands against it."""
    words = _VERDICTS[report.verdict]
    if report.writes and report.verdict.startswith("fits"):
        words = f"Fits after {counted(len(report.writes), 'setting')} below "
        words += f"{'is' if len(report.writes) == 1 else 'are'} written"
        words += "." if report.verdict == "fits after settings" else ""
    elif report.verdict == "fits after settings":
        words += " that only a backup of the fitted part tells."
    if report.verdict == "fits with warnings":
        words += f", with {counted(len(report.warnings), 'warning')} to be settled."
    if report.verdict == "cannot be said yet":
        facts = [_short(report, each.fact) for each in report.settle]
        shown = ", ".join(facts[:8]) + (f" and {len(facts) - 8} more" if len(facts) > 8 else "")
        words += f" State {shown}." if facts else ""
    if report.verdict == "nothing to compare":
        words += " This report says what the work does to the data that the axis keeps."
    if report.verdict in ("fits as it is", "fits with warnings") and report.undecided_before:
        number = counted(len(report.undecided_before), "check")
        words += f" {number} of this machine cannot be decided, with the spare or without it."
    return words


def is_open(report: SpareReport) -> bool:
    """Tell whether something must be solved or known before anybody works with the part."""
    return report.verdict in ("does not fit", "cannot be said yet")


def teaching_words(report: SpareReport) -> str:
    """What to teach again; of a part that does not fit, what would have to be taught."""
    if not report.lessons:
        if report.part == "battery":
            return "Nothing to teach again if the control supply stays on during the change."
        return "Nothing to teach again by what is stated. Prove it at two points all the same."
    lessons = ", ".join(lesson.words for lesson in report.lessons)
    if is_open(report):
        return f"If you solve this first: teach again after the work: {lessons}."
    return f"Teach again after the work: {lessons}."


def after_words(report: SpareReport) -> str:
    """Where the work stands with a part that does not fit yet; empty if there is none."""
    if not is_open(report) or not (report.writes or report.lessons or report.carried):
        return ""
    return "--detail tells what to write and teach then."


UNFIT_PLAN: Final = (
    "The spare does not fit as stated: do not start. What follows is the work for a part that "
    "does fit."
)


OPEN_PLAN: Final = (
    "Whether the spare fits cannot be said yet: do not start. What follows is the work for a part "
    "that does fit."
)


def plan_warning(report: SpareReport) -> str:
    """What stands above the plan of a spare that does not fit or may not fit; may be empty."""
    if report.verdict == "does not fit":
        return UNFIT_PLAN
    return OPEN_PLAN if report.verdict == "cannot be said yet" else ""


def to_solve_first(report: SpareReport) -> list[str]:
    """What must be solved before work begins, if the spare does not fit or may not fit."""
    if report.verdict == "cannot be said yet":
        return [_short(report, each.fact) for each in report.settle]
    return against_words(report) if report.verdict == "does not fit" else []


def becomes_words(report: SpareReport, row: PartFactRow) -> str:
    """The consequence of a fact that differs, to follow its words; may be empty."""
    if names := report.against(row.fact):
        return f". NOT allowed: {', '.join(names)}"
    if names := report.warned(row.fact):
        return f". To be settled: {', '.join(names)}"
    return ", to be written" if _is_written(report, row) else ""


def tally_words(report: SpareReport, rows: Sequence[PartFactRow]) -> str:
    """How many facts of a role match, and the consequences of the others."""
    if rows[0].role in ("record", "teach"):
        return counted(len(rows), "fact")
    kinds = Counter(_kind_of(report, row) for row in rows)
    return ", ".join(f"{kinds[kind]} {kind}" for kind in _KINDS if kinds[kind])


_KINDS: Final = ("equal", "to be written", "different", "not known")


def _kind_of(report: SpareReport, row: PartFactRow) -> str:
    if row.state == "same":
        return "equal"
    if _is_written(report, row):
        return "to be written"
    return "different" if row.state == "differs" else "not known"


def _is_written(report: SpareReport, row: PartFactRow) -> bool:
    return row.fact in {write.fact for write in report.writes}


def write_words(write: SettingToWrite) -> str:
    """Old and new value of a setting and the reason to write it."""
    text = f"{write.old or 'not stated'} → {write.new}"
    if write.role == "place":
        text += " (set for this place)"
    elif write.reason:
        text += f" (required: {write.reason})"
    else:
        text += " (as it was)"
    return text


def row_words(row: PartFactRow) -> str:
    """A fact as fitted and of the spare."""
    fitted, spare = (_YES_OR_NO.get(value, value) for value in (row.fitted, row.spare))
    if row.state == "same":
        return fitted
    if row.role == "teach":
        return f"{fitted} belongs to the fitted part"
    if row.role == "record":
        return f"{fitted} was noted with the fitted part"
    return f"fitted {fitted or 'not stated'}, spare {spare or 'not stated'}"


_YES_OR_NO: Final[Mapping[str, str]] = {"true": "yes", "false": "no"}
