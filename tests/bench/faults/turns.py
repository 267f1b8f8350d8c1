"""Faults of the turn counter, its battery and its wraps."""

from __future__ import annotations

from fractions import Fraction

from .fault_list import fault
from .plain_axis import PlainAxis

READING = "encoder.turn_counter.reading_at_reference"
BATTERY = "encoder.turn_counter.battery"
TURNS = ("encoder.distinguishable_revolutions", "drive.distinguishable_revolutions")


def both(a: PlainAxis, turns: int) -> bool:
    a.put(TURNS[0], turns)
    return a.put(TURNS[1], turns)


def closing(a: PlainAxis) -> int:
    """Encoder revolutions that make whole cycles."""
    return (a.per_encoder_turn / a.need("controller.cycle")).denominator


@fault("highest-turn-for-states-in-drive", "enters the highest turn, 65535, as number of turns")
def _(a: PlainAxis) -> bool:
    return a.multiturn and a.put(TURNS[1], a.turns - 1)


@fault("highest-turn-for-states-in-encoder", "sets the encoder to the highest turn, 65535")
def _(a: PlainAxis) -> bool:
    return a.multiturn and a.put(TURNS[0], a.turns - 1)


@fault("states-one-too-many-in-drive", "adds the turn 0 once more: 65537 turns")
def _(a: PlainAxis) -> bool:
    return a.multiturn and a.put(TURNS[1], a.turns + 1)


@fault(
    "turns-of-old-encoder-in-drive", "fits an encoder of fewer turns; the drive keeps its number"
)
def _(a: PlainAxis) -> bool:
    if not a.multiturn:
        return False
    return a.put(TURNS[0], a.turns // 4) and a.put(
        "encoder.capability.distinguishable_revolutions", a.turns // 4
    )


@fault("turns-beyond-encoder", "sets more turns than the encoder can count")
def _(a: PlainAxis) -> bool:
    able = a.base("encoder.capability.distinguishable_revolutions")
    return a.multiturn and able is not None and both(a, 2 * int(able))


@fault("turns-left-at-default-on-table", "leaves 65536 turns on a table that needs a multiple of 7")
def _(a: PlainAxis) -> bool:
    if not (a.multiturn and a.endless) or a.has_pi or a.get("controller.wraps_retained"):
        return False
    able = int(a.need("encoder.capability.distinguishable_revolutions"))
    return able % closing(a) != 0 and both(a, able)


@fault("highest-turn-in-both-on-table", "enters the right number as highest turn on both sides")
def _(a: PlainAxis) -> bool:
    if not (a.multiturn and a.endless) or a.has_pi or a.get("controller.wraps_retained"):
        return False
    return closing(a) > 1 and a.turns > 1 and both(a, a.turns - 1)


@fault("range-shorter-than-travel", "sets so few turns that the travel does not fit")
def _(a: PlainAxis) -> bool:
    if not a.multiturn or a.endless or a.get("controller.unfolding") == "tracked":
        return False
    fit = int(a.span / a.per_encoder_turn)
    return fit >= 2 and both(a, fit // 2)


@fault(
    "wrap-inside-travel", "teaches a new encoder at whatever turn it came with, close to its wrap"
)
def _(a: PlainAxis) -> bool:
    unfolding = str(a.get("controller.unfolding"))
    if not a.multiturn or a.endless or not unfolding.startswith("encoder_zero"):
        return False
    # One turn short of the wrap, on the side to which the longer part of the travel lies.
    ref = a.need("controller.homing.reference_position")
    up = a.need("mechanics.travel.max") - ref
    down = ref - a.need("mechanics.travel.min")
    if max(up, down) < 3 * a.per_encoder_turn:
        return False
    wrap = 0 if unfolding == "encoder_zero_unsigned" else a.turns // 2
    ahead = (up > down) == rising(a)
    return a.put(READING, (wrap - 2 if ahead else wrap + 1) % a.turns)


def rising(a: PlainAxis) -> bool:
    """The raw reading rises with the position."""
    signs = (
        a.get("encoder.count_direction") == "same",
        a.get("drive.polarity") == "normal",
        a.get("controller.polarity") == "normal",
    )
    return signs.count(False) % 2 == 0


@fault("unfolds-from-reference-amid-travel", "lets 0 turns be at a reference amid the travel")
def _(a: PlainAxis) -> bool:
    if not a.multiturn or a.endless:
        return False
    below = a.need("controller.homing.reference_position") - a.need("mechanics.travel.min")
    return below > 0 and a.put("controller.unfolding", "from_reference")


@fault("unsigned-taken-for-signed", "takes a turn reading about half way for a signed number")
def _(a: PlainAxis) -> bool:
    if a.linear_scale:
        return False
    if a.get("controller.unfolding") != "encoder_zero_unsigned" or a.endless:
        return False
    # As a signed number it wraps where half the turns are reached.
    away = (Fraction(a.turns, 2) - a.need(READING)) * a.per_encoder_turn * (1 if rising(a) else -1)
    wrap, clear = a.need("controller.homing.reference_position") + away, 2 * a.per_encoder_turn
    if not a.need("mechanics.travel.min") + clear < wrap < a.need("mechanics.travel.max") - clear:
        return False
    return a.put("controller.unfolding", "encoder_zero_signed")


@fault("total-range-one-short", "states the highest count as total measuring range")
def _(a: PlainAxis) -> bool:
    if a.linear_scale:
        return False
    total = a.get("encoder.total_range")
    return total is not None and a.put("encoder.total_range", int(total) - 1)


@fault("drive-register-too-narrow", "takes over a program with 16 bit positions")
def _(a: PlainAxis) -> bool:
    return not a.endless and a.multiturn and a.put("drive.position_register.bits", 16)


@fault("controller-register-too-narrow", "keeps a fine position in 16 bits")
def _(a: PlainAxis) -> bool:
    if a.endless or a.span * a.scaling < 2**17:
        return False
    return a.put("controller.position_register.bits", 16)


@fault("encoder-used-as-incremental", "leaves the drive's encoder setting at incremental")
def _(a: PlainAxis) -> bool:
    return a.multiturn and a.put("drive.encoder_use", "incremental")


@fault("incremental-used-as-absolute", "sets the drive to absolute with an incremental encoder")
def _(a: PlainAxis) -> bool:
    return a.get("encoder.kind") == "incremental" and a.put("drive.encoder_use", "absolute")


@fault("singleturn-spare", "fits a single-turn encoder to an axis of many turns")
def _(a: PlainAxis) -> bool:
    if not a.multiturn or a.endless or a.span <= 2 * a.per_encoder_turn:
        return False
    for part in ("distinguishable_revolutions", "turn_counter", "total_range"):
        a.facts["encoder"].pop(part, None)
    a.facts["encoder"].get("capability", {}).pop("distinguishable_revolutions", None)
    return a.put("encoder.kind", "absolute_singleturn")


@fault("battery-in-two-places", "fits a new battery in the drive and leaves the one in the cable")
def _(a: PlainAxis) -> bool:
    return a.battery and a.put(f"{BATTERY}.places", ["cable", "drive"])


@fault("battery-missing", "fits a battery-backed encoder without its battery")
def _(a: PlainAxis) -> bool:
    return a.battery and a.put(BATTERY, "none")


@fault("battery-place-empty", "takes the old battery out and fits no new one")
def _(a: PlainAxis) -> bool:
    return a.battery and a.put(f"{BATTERY}.places", [])


@fault("battery-where-no-holder-is", "notes a battery at a place that offers none")
def _(a: PlainAxis) -> bool:
    return a.battery and a.put(f"{BATTERY}.places", ["encoder"])


@fault(
    "battery-with-batteryless-encoder", "swaps to a batteryless encoder and keeps the old battery"
)
def _(a: PlainAxis) -> bool:
    if a.get("encoder.turn_counter.backup") != "batteryless":
        return False
    battery = {"places": ["cable"], "offered_places": ["cable"], "fitted_on": "2026-01-10"}
    return a.put(BATTERY, {**battery, "life": "3 years", "low_warning": "warns"})


@fault("battery-too-old", "forgets to change the battery for ten years")
def _(a: PlainAxis) -> bool:
    return a.battery and a.put(f"{BATTERY}.fitted_on", "2016-03-01")


@fault("battery-date-mistyped", "types the year of the battery as 2062")
def _(a: PlainAxis) -> bool:
    return a.battery and a.put(f"{BATTERY}.fitted_on", "2062-02-03")


@fault("battery-warning-ignored", "switches the low battery warning off to have peace")
def _(a: PlainAxis) -> bool:
    return a.battery and a.put(f"{BATTERY}.low_warning", "ignored")


@fault("counting-limit-too-slow", "fits an encoder that counts 50 rpm on battery to a geared axis")
def _(a: PlainAxis) -> bool:
    # An encoder on the load may be slow enough even for this.
    if a.need("controller.max_velocity") / a.per_encoder_turn * 60 <= 50:
        return False
    return a.battery and a.put("encoder.turn_counter.power_off_speed_limit", "50 rpm")


@fault("pushed-beyond-half-range", "lets an endless axis be pushed half its range while off")
def _(a: PlainAxis) -> bool:
    if a.get("controller.unfolding") != "tracked" or not a.get("controller.power_off_motion"):
        return False
    half = int(a.turns * a.per_encoder_turn * 6 / 10)
    return a.write("controller.power_off_motion", half)


@fault("reading-of-longer-counter", "notes the turn reading as the encoder of before showed it")
def _(a: PlainAxis) -> bool:
    return a.multiturn and a.write(READING, a.need(READING) + a.turns)


@fault("angle-with-whole-turns", "notes the whole reading at the reference as an angle")
def _(a: PlainAxis) -> bool:
    return a.multiturn and a.put("encoder.angle_at_reference", "900 deg")


@fault("scale-shorter-than-travel", "cuts the scale of an absolute linear encoder too short")
def _(a: PlainAxis) -> bool:
    return a.scale("encoder.total_range", Fraction(1, 2)) if a.linear_scale and _whole(a) else False


def _whole(a: PlainAxis) -> bool:
    """Make the total range even, so that half of it is a whole count."""
    total = a.get("encoder.total_range")
    return total is not None and (total % 2 == 0 or a.put("encoder.total_range", total + 1))


@fault("wraps-not-retained", "moves an endless axis to a controller that forgets the wraps")
def _(a: PlainAxis) -> bool:
    if not a.get("controller.wraps_retained") or a.turns % closing(a) == 0:
        return False
    a.put("controller.unfolding", "encoder_zero_unsigned")
    return a.put("controller.wraps_retained", False)


@fault("remainder-dropped", "drops the fraction of a count left at each cycle")
def _(a: PlainAxis) -> bool:
    if not a.get("controller.remainder_carried") or not a.endless:
        return False
    return a.put("controller.remainder_carried", False)


@fault(
    "turns-kept-in-no-battery-drive", "notes nothing of how the turns survive: backup battery, none"
)
def _(a: PlainAxis) -> bool:
    if a.get("encoder.turn_counter.backup") != "batteryless":
        return False
    return a.put("encoder.turn_counter.backup", "battery")
