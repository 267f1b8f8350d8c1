"""Sentences about a spare and its plan, which all forms of report share."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Final

from ..swap.result import MemoryFate, PartFactRow, SettingToWrite, SpareReport, Verdict
from .words import counted

_VERDICTS: Final[dict[Verdict, str]] = {
    "fits as it is": "Fits as it is: nothing has to be written.",
    "fits after settings": "Fits after settings are written",
    "fits with warnings": "Fits",
    "does not fit": "Does not fit",
    "cannot be said yet": "Cannot be said yet: facts are missing.",
    "nothing to compare": "No spare is compared.",
}


def headline(report: SpareReport) -> str:
    """The machine, axis and spare (or the work) in one line."""
    part = report.part.replace("_", " ")
    if report.verdict == "nothing to compare":
        return f"{report.machine} · {report.axis}: {WORK_WORDS[report.part]}"
    return f"{report.machine} · {report.axis}: spare {part} ({report.spare})"


SET_ASIDE_TITLE: Final = "Stated of the spare, and not judged"


WORK_WORDS: Final[Mapping[str, str]] = {
    "coupling": "the coupling between motor and load is replaced or loosened",
    "belt": "a belt is replaced or taken off",
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
        words = f"{name}: {'; '.join(answer.why)}"
        if answer.missing:
            words = f"must be taken as {words} (not stated: {', '.join(answer.missing)})"
        parts.append(words)
    return ". ".join(parts) if parts else "stays as it was"


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


def verdict_words(report: SpareReport) -> str:
    """The verdict in a sentence, which claims only what was decided."""
    words = _VERDICTS[report.verdict]
    if report.writes and report.verdict.startswith("fits"):
        words = f"Fits after {counted(len(report.writes), 'setting')} below "
        words += f"{'is' if len(report.writes) == 1 else 'are'} written"
        words += "." if report.verdict == "fits after settings" else ""
    elif report.verdict == "fits after settings":
        words += " that only a backup of the fitted part tells."
    elif report.verdict == "does not fit":
        names = [each.rule for each in report.broken] + [row.fact for row in report.unequal]
        words = f"Does not fit: {', '.join(dict.fromkeys(names))}."
    if report.verdict == "fits with warnings":
        names = list(dict.fromkeys(each.rule for each in report.warnings))
        number = counted(len(report.warnings), "warning")
        words += f", with {number} to be settled: {', '.join(names)}."
    if report.verdict == "cannot be said yet":
        facts = [each.fact for each in report.settle]
        shown = ", ".join(facts[:8]) + (f" and {len(facts) - 8} more" if len(facts) > 8 else "")
        words += f" State {shown}." if facts else ""
    if report.verdict == "nothing to compare":
        words += " What the work does to the memories of the axis is said below."
    if report.verdict in ("fits as it is", "fits with warnings") and report.undecided_before:
        number = counted(len(report.undecided_before), "check")
        words += f" {number} of this machine could not be decided before and still cannot."
    return words


def teaching_words(report: SpareReport) -> str:
    """What to teach again, which does not depend on whether the spare fits."""
    if not report.lessons:
        if report.part == "battery":
            return "Nothing to teach again, if the control supply stays on during the change."
        return "Nothing to teach again by what is stated; prove it at two points all the same."
    return "To be taught again: " + "; ".join(lesson.words for lesson in report.lessons) + "."


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


def becomes_words(report: SpareReport, row: PartFactRow) -> str:
    """The consequence of a fact that differs, to follow its words; may be empty."""
    if names := report.against(row.fact):
        return f"; NOT allowed: {', '.join(names)}"
    if names := report.warned(row.fact):
        return f"; to be settled: {', '.join(names)}"
    return "; to be written" if _is_written(report, row) else ""


def tally_words(report: SpareReport, rows: Sequence[PartFactRow]) -> str:
    """How many facts of a role match, and the consequences of the others."""
    if rows[0].role in ("record", "teach"):
        return counted(len(rows), "fact")
    kinds = Counter(_kind_of(report, row) for row in rows)
    return ", ".join(f"{kinds[kind]} {kind}" for kind in _KINDS if kinds[kind])


_KINDS: Final = ("alike", "to be written", "not alike", "not known")


def _kind_of(report: SpareReport, row: PartFactRow) -> str:
    if row.state == "same":
        return "alike"
    if _is_written(report, row):
        return "to be written"
    return "not alike" if row.state == "differs" else "not known"


def _is_written(report: SpareReport, row: PartFactRow) -> bool:
    return row.fact in {write.fact for write in report.writes}


def write_words(write: SettingToWrite) -> str:
    """Old and new value of a setting and the reason to write it."""
    text = f"{write.old or 'not stated'} → {write.new}"
    if write.role == "place":
        text += " (set for this place)"
    elif write.reason:
        text += f" (so that {write.reason})"
    else:
        text += " (as it was)"
    return text


def row_words(row: PartFactRow) -> str:
    """A fact as fitted and of the spare."""
    if row.state == "same":
        return row.fitted
    if row.role == "teach":
        return f"{row.fitted} belongs to the fitted part"
    if row.role == "record":
        return f"{row.fitted} was noted with the fitted part"
    return f"fitted {row.fitted or 'not stated'}, spare {row.spare or 'not stated'}"
