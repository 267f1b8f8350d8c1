"""Sentences about a spare, its plan and a recalibration, which all forms of report share."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Final

from ..numbers.exact import Number, to_float
from ..swap.recalibrating import Recalibrated
from ..swap.recalibration import StepComparison
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


def shift_words(result: Recalibrated) -> list[str]:
    """The shift and the instruction, in sentences."""
    done = result.result
    kind = "the shift" if done.interval is None else "the nearest signed shift"
    return [
        f"True {result.say(done.true)}, indicated {result.say(done.indicated)}: {kind} is "
        f"{result.say(done.shift)}.",
        instruction_words(result),
    ]


def instruction_words(result: Recalibrated) -> str:
    """The position to assign, and where the axis must stand for that."""
    done = result.result
    where = f"in the {result.keeper}" if result.keeper else "where the reference lives"
    here = result.say(done.here)
    known = "" if done.reference is None else f" (was {_was(result)})"
    moved = "" if done.moved is None else f"{result.say(done.moved)}{known}"
    if done.way == "mark":
        if not moved:
            return (
                "The position assigned at the reference is not known, so only the shift can be "
                "told: add it to that position, and home again."
            )
        return (
            f"Position to assign at the reference: {moved}. Write it {where}, with the sign that "
            "it has there, and home again."
        )
    if done.way == "stand":
        return (
            f"Homing by {result.method} takes the axis where it stands, so the position to assign "
            f"is the true one: {here}{known}. Write it {where} and home the axis while it stands "
            "where these positions were read. Homed anywhere else, the reference is wrong by the "
            "way in between."
        )
    offset = f"let the offset {where} grow by the shift, with the sign that it has there"
    if moved:
        offset += f", to {moved}"
    preset = (
        f"preset the encoder so that {here} is indicated while the axis stands where these "
        "positions were read, and nowhere else"
    )
    if done.way == "offset":
        return f"The axis never homes: {offset}."
    if done.way == "preset":
        return f"The axis never homes: {preset}."
    if done.way == "never homed":
        return (
            "The axis never homes, and where its reference lives is not stated. If it is an offset "
            f"in drive or controller, {offset}; if it is a preset of the encoder, {preset}. Do not "
            "do both."
        )
    named = f" ({result.method})" if result.method else ""
    assign = f"assign {moved}" if moved else "add the shift to the position assigned"
    return (
        f"How the axis homes is not known{named}; find out before anything is written. If homing "
        f"goes to a mark, {assign} and home again. If homing takes the axis where it stands, "
        f"assign {here} and home it while it stands where these positions were read, and nowhere "
        "else."
    )


def _was(result: Recalibrated) -> str:
    """The present position of the reference, and the interval of the cycle."""
    done = result.result
    assert done.reference is not None
    words = result.say(done.reference)
    if done.interval is not None:
        low, high = done.interval
        words += f", within the cycle from {result.say(low)} up to {result.say(high)}"
    return words


def comparison_words(result: Recalibrated, each: StepComparison) -> str:
    """The comparison of a shift with the multiples of a step, in a sentence."""
    step = each.step
    tolerance = result.say(result.result.tolerance)
    size = result.say(step.size)
    if each.finding == "no power":
        if each.spacing is None:
            return (
                f"Compared with {step.name} ({size}): no power, their multiples come close to "
                "every place of the cycle."
            )
        return (
            f"Compared with {step.name} ({size}): no power. Their multiples lead to places "
            f"{result.say(each.spacing)} apart, and the tolerance of {tolerance} reaches half of "
            "that, so every shift comes close to one."
        )
    if each.finding == "invisible":
        return f"Compared with {step.name} ({size}): each is a whole cycle and cannot be seen."
    if each.finding == "open":
        return f"Compared with {step.name} ({size}): not exact enough to say."
    assert each.distance is not None
    distance = result.say(each.distance)
    if each.finding == "unmoved":
        return f"Compared with {step.name} ({size}): no shift, within {tolerance}."
    number = f"{each.multiple:+d}"
    if each.finding == "far":
        return (
            f"Compared with {step.name} ({size}): the nearest multiple ({number}) is {distance} "
            f"away, beyond the tolerance of {tolerance}."
        )
    text = f"The shift is {number} × {step.name} ({size}), but for {distance}. "
    if each.finding == "weak":
        return text + (
            f"That says little: {_percent(each.chance)} of all shifts would come as close, with "
            f"the tolerance of {tolerance}."
        )
    if step.kind == "revolution":
        text += (
            f"Look for {_lost(result)} before this is written: a shift comes so close by chance "
            f"in {_percent(each.chance)} of all cases."
        )
    elif step.kind == "tooth":
        text += "The belt or gear was put back beside its tooth; correct that, not the reference."
    elif step.kind == "sign":
        text += "Look whether the offset was entered with the wrong sign."
    else:
        text += "Look for a wrap within the travel, or unlike turn counts of drive and encoder."
    return text


def _lost(result: Recalibrated) -> str:
    """The faults that shift an axis by whole encoder revolutions."""
    index, turn = "another index pulse", "a lost or wrongly set turn"
    if result.turns is False:
        return index
    return turn if result.index is False else f"{index} or {turn}"


def _percent(share: Number | None) -> str:
    """A share of all shifts, to the hundredth of a percent."""
    assert share is not None
    percent = to_float(share) * 100
    return f"{percent:.2f}".rstrip("0").rstrip(".") + " %"


def plausibility_words(result: Recalibrated) -> str:
    """The conclusion from all comparisons."""
    if result.result.suspicions:
        return "The shift looks like a fault, not like the angle of a new part."
    kinds = {each.finding for each in result.result.comparisons}
    if "unmoved" in kinds:
        return "The axis stands where it stood, within the tolerance."
    if result.result.way == "mark" and result.index is False and not kinds & {"open", "weak"}:
        return (
            "The shift has no pattern of a fault, but what this axis homes to does not move with a "
            "new part: find out what did (an offset or its sign, a switch, cam or stop, the creep "
            "speed or the input filter) before it is written."
        )
    if "far" in kinds and not kinds & {"no power", "open", "weak"}:
        return "The shift has no pattern of a fault; it may be the angle of the new part."
    return "Whether the shift is plausible cannot be told in full."
