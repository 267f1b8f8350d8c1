"""Sentences about the checks of a recalibration: what failed, what is open, what to do."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from ..numbers.formats import say_to_enter
from ..numbers.units import in_unit
from ..swap.recalibrating import Recalibrated
from ..swap.recalibration_situation import RecalibrationCheck
from .recalibration_words import comparison_words, work_words

PASSED: Final[Mapping[str, str]] = {
    "true-within-stops": "the true position lies between the stops",
    "indicated-within-stops": "the indicated position lies between the stops",
    "indicated-within-range": "the controller can show the indicated position",
    "indicated-within-cycle": "the indicated position lies within the cycle",
    "mark-stays": "the mark is where it was",
    "position-stays": "the position is as it was",
    "shift-below-revolution": "the shift is less than an encoder revolution",
    "pulse-stays": "the index pulse is where it was, or whole revolutions away",
    "sign": "no wrong sign",
    "range": "no whole range of the turn counter",
    "revolution": "no whole encoder revolutions",
    "tooth": "no whole teeth",
    "mark": "no whole spacings of index marks",
    "index-angle": "the index pulse is the one next to the switch edge",
    "index-angle-measured": "the index angle is as measured",
    "index-clear-of-edge": "the index pulse is clear of the switch edge",
    "wrap-outside-travel": "the wrap lies outside the travel",
    "position-survives": "the position survives power-off",
}
"""What a check says when it has passed."""

_OPEN: Final[Mapping[str, str]] = {
    "work-known": "Which part was replaced, touched or restored is not known",
    "way-known": "How the axis homes is not known",
    "keeper-known": "Where the offset lives is not known",
    "reference-known": "The position assigned at the reference is not known",
    "true-within-stops": "Whether the true position lies between the stops is not known",
    "indicated-within-stops": "Whether the indicated position lies between the stops is not known",
    "indicated-within-range": "Whether the controller can show the indicated position is not known",
    "mark-stays": "Whether the mark is where it was is not known",
    "position-stays": "Whether the position is as it was is not known",
    "shift-below-revolution": "Whether the shift is less than an encoder revolution is not known",
    "pulse-stays": "Whether the shift is a number of whole encoder revolutions is not known",
    "sign": "Whether the offset has the wrong sign is not known",
    "range": "Whether the shift is the whole range of the turn counter is not known",
    "revolution": "Whether the shift is a number of whole encoder revolutions is not known",
    "tooth": "Whether the shift is a number of whole teeth is not known",
    "mark": "Whether the shift is a number of whole spacings of index marks is not known",
    "index-angle": "Whether homing ends at the pulse next to the switch edge is not known",
    "index-angle-measured": "Whether the index pulse lies where the shift puts it is not known",
    "index-clear-of-edge": "Whether the index pulse is clear of the switch edge is not known",
    "wrap-outside-travel": "Whether the reading wraps within the travel is not known",
    "position-survives": "Whether the position survives power-off is not known",
}

_GIVE: Final[Mapping[str, str]] = {
    "--after": "Give it with --after. If nothing was done, give --after nothing.",
    "--reading": "Read the turns of the encoder at the reference. Give them with --reading.",
    "--index-angle": (
        "Measure the encoder angle from the switch edge to the index pulse. "
        "Give it with --index-angle."
    ),
    "--reference": "Give the position assigned at the reference now with --reference.",
}

HOME_AND_READ: Final = "Home the axis. Read both positions again."
SAY_CAUSE: Final = "When you know the cause, give it with --after."


def check_words(result: Recalibrated, check: RecalibrationCheck) -> str:
    """What failed or is open, and what to do about it; a passed check in a few words."""
    if check.outcome == "passed":
        return PASSED[check.name]
    if check.outcome == "failed":
        return _failed_words(result, check)
    facts = [fact for fact in check.missing if not fact.startswith("--")]
    words = f"{_OPEN[check.name]}."
    if check.name == "index-angle-measured" and (angle := _angle(check, "computed")):
        words = f"By the shift, the index pulse lies {angle} after the switch edge."
    if check.name == "way-known":
        words += " Find it out before you write anything."
    if facts:
        words += f" State {_listed(facts)}."
    options = [_GIVE[option] for option in check.missing if option in _GIVE]
    return " ".join((words, *(options[:1] if facts else options)))


def _listed(facts: list[str]) -> str:
    shown = facts[:4]
    more = f" and {len(facts) - 4} more" if len(facts) > 4 else ""
    return ", ".join(shown) + more


def _angle(check: RecalibrationCheck, name: str) -> str:
    value = check.angles.get(name)
    return "" if value is None else say_to_enter(in_unit(value, "rev"), "rev")


def _failed_words(result: Recalibrated, check: RecalibrationCheck) -> str:
    if check.name in ("sign", "range", "revolution", "tooth", "mark"):
        size = check.figures["size"]
        for each in result.result.comparisons:
            if each.step.kind == check.name and each.step.size == size and each.finding == "close":
                return comparison_words(result, each)
    figures = {name: result.say(value) for name, value in check.figures.items()}
    angles = {f"{name}_angle": _angle(check, name) for name in check.angles}
    if check.name == "index-clear-of-edge":
        angles["used_angle"] = _angle(check, "measured") or _angle(check, "computed")
    text = _FAILED[check.name].format(**figures, **angles, cause=_cause_words(result, check))
    if check.name == "mark-stays" and result.after in ("drive", "controller", "backup", "battery"):
        text += " If another offset is in use now, give it with --reference."
    return text


def _cause_words(result: Recalibrated, check: RecalibrationCheck) -> str:
    """Why the position must be as it was: the beginning of a sentence."""
    if result.after == "nothing":
        return "Nothing was replaced"
    what = "the mark" if check.name == "mark-stays" else "what this reference rests on"
    return f"{work_words(result.after)} does not move {what}"


_FAILED: Final[Mapping[str, str]] = {
    "true-within-stops": (
        "The true position {position} lies beyond the stops, {low} to {high}. "
        "Check the gauge and the unit. If they are correct, correct the stops on record."
    ),
    "indicated-within-stops": (
        "The indicated position {position} lies beyond the stops, {low} to {high}. "
        "It looks like a reading from before homing. " + HOME_AND_READ
    ),
    "indicated-within-range": (
        "The controller cannot show {position}. From its reference it shows {low} to {high}. "
        "It looks like a reading from before homing. " + HOME_AND_READ
    ),
    "indicated-within-cycle": (
        "The indicated position {position} is more than a cycle of {cycle}. "
        "Check the axis and the unit. " + HOME_AND_READ
    ),
    "mark-stays": (
        "{cause}, but the reference moves by {shift}. "
        "It can be a reading from before homing. " + HOME_AND_READ + " If the shift stays, find "
        "what moved: a switch, cam or stop, the creep speed or the input filter. " + SAY_CAUSE
    ),
    "position-stays": (
        "{cause}, but the position is wrong by {shift}. Only {allowed} is permitted. Read both "
        "positions again. If the shift stays, find what moved: a coupling or belt that slipped, "
        "a lost turn, the gauge. " + SAY_CAUSE
    ),
    "shift-below-revolution": (
        "The reference moves by {shift}. That is one encoder revolution ({revolution}) or more. "
        "With an unmoved switch it moves less. It looks like a reading from before homing. "
        + HOME_AND_READ
    ),
    "pulse-stays": (
        "Homing ends at an index pulse. A new switch does not move the pulse, but the reference "
        "moves by {shift}, and that is not a number of whole revolutions of {revolution}. "
        + HOME_AND_READ
        + " If the shift stays, find what else moved. "
        + SAY_CAUSE
    ),
    "index-angle": (
        "By the shift, the index pulse lies {computed_angle} after the switch edge, and it was at "
        "{before_angle}. The pulse next to the edge cannot move that far. " + HOME_AND_READ
    ),
    "index-angle-measured": (
        "By the shift, the index pulse lies {computed_angle} after the switch edge. Measured is "
        "{measured_angle}. A position or the angle is wrong, or the switch moved. "
        "Measure all three again."
    ),
    "index-clear-of-edge": (
        "The index pulse lies {used_angle} after the switch edge. It must be {clearance_angle} or "
        "more away from an edge. Move the switch or the encoder by half a revolution. "
        + HOME_AND_READ
    ),
    "wrap-outside-travel": (
        "With this reference, the reading of the encoder wraps within the travel. "
        "It is good from {lower_wrap} to {upper_wrap}, and the axis travels from {lowest_end} to "
        "{highest_end}. Preset or reset the encoder so that the wrap lies outside. " + HOME_AND_READ
    ),
    "position-survives": (
        "The axis never homes, and its encoder forgets the position at power-off. "
        "An offset or a preset does not last. Use an absolute encoder, or home the axis."
    ),
}
