"""Sentences about a recalibration, which all forms of report share."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from ..numbers.exact import Number, to_float
from ..swap.recalibrating import Recalibrated
from ..swap.recalibration import StepComparison
from .words import counted


def answer_words(result: Recalibrated) -> list[str]:
    """The answer first: what must be solved, the position to assign, and the shift."""
    done = result.result
    lines = []
    if [each.name for each in result.to_solve] == ["work-known"]:
        lines.append(
            "Write nothing yet. State which part was replaced with --after, or --after nothing."
        )
    elif result.to_solve:
        count = counted(len(result.to_solve), "question")
        lines.append(f"Write nothing yet. Solve {count} first.")
    before = "the file has" if done.way == "stand" else "was"
    was = "" if done.reference is None else f" ({before} {result.say(done.reference)})"
    name = _POSITIONS.get(done.way, "")
    if done.new is None:
        lines.append("No position can be given yet.")
    elif result.to_solve:
        lower = name[:1].lower() + name[1:]
        lines.append(f"Only by these readings, {lower}: {result.say(done.new)}{was}.")
    else:
        lines.append(f"{name}: {result.say(done.new)}{was}.")
    kind = "the shift" if done.interval is None else "the nearest signed shift"
    lines.append(
        f"True {result.say(done.true)}, indicated {result.say(done.indicated)}: {kind} is "
        f"{result.say(done.shift)}."
    )
    return lines


_POSITIONS: Final[Mapping[str, str]] = {
    "mark": "New reference position",
    "stand": "Position to assign at this place",
    "offset": "New offset",
    "preset": "Preset of the place where the axis stands",
}

_WORK: Final[Mapping[str, str]] = {
    "feedback_cable": "A feedback cable",
    "home_switch": "A home switch",
    "motor_refitted": "The same motor, fitted again,",
    "backup": "A restored backup",
}


def work_words(after: str) -> str:
    """The part that was replaced, or the work that was done, at the start of a sentence."""
    return _WORK.get(after, f"A new {after.replace('_', ' ')}")


def caution_words(result: Recalibrated) -> list[str]:
    """What can hurt, to be read before the steps that move the axis."""
    lines = [
        "Until the axis is proved, software limits do not protect it.",
        "Move the axis at low speed. Keep people clear. Keep the emergency stop in hand.",
    ]
    if result.gravity is None:
        lines.append("If gravity moves the axis, nobody stands or reaches below the load.")
    elif result.gravity:
        lines.append("Gravity moves this axis. Nobody stands or reaches below the load.")
    return lines


def step_words(result: Recalibrated) -> list[str]:
    """The work in order, as instructions; which of them depends on what makes the reference.

    Where something must be solved first, nothing is to be written: then it is what to keep to.
    """
    if result.to_solve:
        keep = [DEMANDS[demand] for demand in result.demands]
        return [*keep, "Solve what failed or is open. Then run this command again."]
    return [*_teaching_steps(result), *_proof_steps(result)]


def _proof_steps(result: Recalibrated) -> list[str]:
    places, within = proof_words(result)
    return [
        f"Measure the true position at {places}. {_approach(result)}",
        f"Compare it with the indicated position. The difference must not exceed {within}.",
        f"Cycle power completely. {_after_power(result)}Measure both places again.",
    ]


def proof_words(result: Recalibrated) -> tuple[str, str]:
    """The two places of the proof, and the accuracy to reach there."""
    places, within = "two distant places", "the accuracy that the process needs"
    if result.points is not None:
        low, high = result.points
        places = f"{result.say(low)} and {result.say(high)}"
    return places, within if result.accuracy is None else result.say(result.accuracy)


def _teaching_steps(result: Recalibrated) -> list[str]:
    """The steps that write the reference. All that they need is known: nothing is to be solved."""
    done = result.result
    where = f" in the {result.keeper}" if result.keeper else " where the reference lives"
    sign = "Keep the sign that it has there."
    assert done.new is not None
    new = result.say(done.new)
    stand = "Let the axis stand where both positions were read. If it moved, bring it back there."
    if done.way == "offset":
        return [f"Set the offset{where} to {new}. {sign}"]
    if done.way == "preset":
        preset = f"Preset the encoder to indicate {new} there. Never preset it anywhere else."
        return [stand, preset]
    if done.way == "stand":
        return [
            stand,
            f"Set the position to {new}{where}. {sign}",
            "Home the axis there. Never home it anywhere else.",
        ]
    one_side = [DEMANDS["home from one side"]] if "home from one side" in result.demands else []
    return [
        *one_side,
        "Home first. Use only positions that were read after homing. "
        "If not sure, home and read both again.",
        f"Set the position at the reference to {new}{where}. {sign}",
        "Home the axis again.",
    ]


def _approach(result: Recalibrated) -> str:
    if result.approach_negative is None:
        mark = result.result.way == "mark"
        way = "direction of the homing" if mark else "same direction"
        return f"Approach both from the {way}."
    sense = "negative" if result.approach_negative else "positive"
    return f"Approach both in the {sense} direction, as homing does."


def _after_power(result: Recalibrated) -> str:
    if result.forgets is False or result.result.way in ("offset", "preset"):
        return ""
    place = " where both positions were read" if "assign here" in result.demands else ""
    if result.forgets:
        return f"Home the axis again{place}. "
    return f"If the axis forgets its position, home it again{place}. "


DEMANDS: Final[Mapping[str, str]] = {
    "find out how it homes": "Find out how the axis homes before you write anything.",
    "find out where the offset lives": "Find out where the offset lives before you write anything.",
    "home first": "Home first. Read both positions after homing.",
    "home from one side": (
        "Start each homing from one place, less than a revolution from the index pulse."
    ),
    "assign here": "Assign the position while the axis stands where it was read, and nowhere else.",
    "home here after power-on": "After each power-on, home the axis at this place again.",
}
"""What the work has to keep to, in words."""


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
            f"in drive or controller, {offset}. If it is a preset of the encoder, {preset}. Do not "
            "do both."
        )
    named = f" ({result.method})" if result.method else ""
    assign = f"assign {moved}" if moved else "add the shift to the position assigned"
    return (
        f"How the axis homes is not known{named}. Find out before anything is written. If homing "
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
    elif step.kind == "mark":
        text += (
            "Look for another index mark before this is written: a shift comes so close by chance "
            f"in {_percent(each.chance)} of all cases."
        )
    elif step.kind == "tooth":
        text += (
            "The belt, chain or gear was put back beside its tooth. Correct that, not the "
            "reference."
        )
    elif step.kind == "sign":
        text += "Look whether the offset was entered with the wrong sign."
    else:
        text += "Look for a wrap within the travel, or different turn counts of drive and encoder."
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
    if any(each.outcome == "failed" for each in result.checks):
        return "A number does not fit the axis, so the shift tells nothing yet."
    kinds = {each.finding for each in result.result.comparisons}
    if "unmoved" in kinds:
        return "The axis stands where it stood, within the tolerance."
    if result.after == "nothing" and "far" in kinds and not kinds & {"no power", "open", "weak"}:
        return "The shift has no pattern of a fault."
    if result.result.way == "mark" and result.index is False and not kinds & {"open", "weak"}:
        text = "The shift has no pattern of a fault."
        if not result.after:  # it may be the switch that is new
            return text
        if result.after == "home_switch":
            return f"{text} The new switch can act at another position."
        return f"{text} What this axis homes to does not move with a new part."
    if "far" in kinds and not kinds & {"no power", "open", "weak"}:
        return "The shift has no pattern of a fault. It may be the angle of the new part."
    return (
        "The checks cannot show in full if the shift is plausible. Read both positions a second "
        "time."
    )
