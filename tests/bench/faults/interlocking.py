"""Faults of the reaction to a doubtful position, and of its codes."""

from __future__ import annotations

from fractions import Fraction

from .fault_list import fault
from .plain_axis import PlainAxis

FIRST = "interlocks.0"

INDEXED = (*range(1, 15), 33, 34)
"""Homing methods that end at an index pulse (CiA 402, from memory)."""


def without(a: PlainAxis, trigger: str) -> bool:
    triggers = a.get(f"{FIRST}.triggers")
    if not triggers or trigger not in triggers:
        return False
    return a.put(f"{FIRST}.triggers", [each for each in triggers if each != trigger])


@fault("no-interlock", "leaves the interlock out of a new program")
def _(a: PlainAxis) -> bool:
    return bool(a.get("interlocks")) and a.put("interlocks", [])


@fault("lost-position-not-a-trigger", "lets automatic motion start with a lost position")
def _(a: PlainAxis) -> bool:
    return without(a, "position_lost")


@fault("turn-disagreement-not-a-trigger", "ignores that drive and encoder disagree about turns")
def _(a: PlainAxis) -> bool:
    return a.multiturn and without(a, "turn_count_disagreement")


@fault("dead-battery-not-a-trigger", "ignores a battery found dead at power-up")
def _(a: PlainAxis) -> bool:
    return a.battery and without(a, "battery_dead_at_power_up")


def _encoder_is_missed(a: PlainAxis) -> bool:
    """Whether another encoder shifts the reference and its serial number shows the change."""
    if a.get("encoder.kind") != "incremental":
        return True
    # A switch without index does not move with it, and one without motor data tells no number.
    has_index = a.get("controller.homing.index_after_switch") is not None
    return has_index and a.get("storage.motor_data") == "encoder"


@fault("new-encoder-not-a-trigger", "does not compare the encoder's serial with the record")
def _(a: PlainAxis) -> bool:
    if not _encoder_is_missed(a):
        return False
    return without(a, "encoder_replaced")


@fault("new-motor-not-a-trigger", "does not compare the motor's serial with the record")
def _(a: PlainAxis) -> bool:
    if not _encoder_is_missed(a):
        return False
    return a.get("encoder.mounted_on") == "motor" and without(a, "motor_replaced")


@fault("new-drive-not-a-trigger", "does not notice that the drive that held the offset is new")
def _(a: PlainAxis) -> bool:
    return a.get("storage.offset") == "drive" and without(a, "drive_replaced")


@fault("interlock-inhibits-nothing", "shows the doubt on the screen and inhibits nothing")
def _(a: PlainAxis) -> bool:
    return bool(a.get(FIRST)) and a.put(f"{FIRST}.inhibits", [])


@fault("released-by-alarm-reset", "lets the alarm reset end the doubt about position")
def _(a: PlainAxis) -> bool:
    if not a.get(FIRST):
        return False
    return a.put(f"{FIRST}.released_by", [*a.get(f"{FIRST}.released_by"), "alarm_reset"])


@fault("released-by-acknowledgement", "lets the operator acknowledge the doubt away")
def _(a: PlainAxis) -> bool:
    return bool(a.get(FIRST)) and a.put(f"{FIRST}.released_by", ["acknowledgement"])


@fault("released-by-power-cycle", "lets a power cycle end the doubt")
def _(a: PlainAxis) -> bool:
    return bool(a.get(FIRST)) and a.put(f"{FIRST}.released_by", ["power_cycle"])


@fault("replaced-encoder-released-by-homing", "lets homing alone end the doubt after a new encoder")
def _(a: PlainAxis) -> bool:
    if not a.get(FIRST) or "encoder_replaced" not in a.get(f"{FIRST}.triggers"):
        return False
    if a.get("encoder.kind") == "incremental" and a.get("controller.homing.method") not in INDEXED:
        return False  # a switch alone does not move with the encoder
    return a.put(f"{FIRST}.released_by", ["homing"])


@fault("no-motion-left-for-homing", "inhibits all motion, that of homing too")
def _(a: PlainAxis) -> bool:
    if not a.get(FIRST) or a.get("controller.homing.method") in (None, 37):
        return False
    return a.put(f"{FIRST}.inhibits", ["all_motion"]) | a.put(f"{FIRST}.max_speed", "none")


@fault("doubt-forgotten-at-power-off", "does not keep the interlock over power-off")
def _(a: PlainAxis) -> bool:
    if a.get("encoder.kind") == "incremental":
        return False  # each power-on begins with a lost position and sets it again
    return bool(a.get(FIRST)) and a.put(f"{FIRST}.latched", False)


@fault("homed-flag-survives-doubt", "keeps the homed flag while position is in doubt")
def _(a: PlainAxis) -> bool:
    return bool(a.get(FIRST)) and a.put(f"{FIRST}.clears_homed_flag", False)


@fault("gantry-partner-free", "stops one side of a gantry and leaves the other free")
def _(a: PlainAxis) -> bool:
    return a.get("gantry") is not None and a.put(f"{FIRST}.inhibits_partners", False)


@fault("collision-partner-free", "stops one axis of a colliding pair and leaves the other free")
def _(a: PlainAxis) -> bool:
    if not a.partners or a.get("gantry") or a.get("differential"):
        return False
    return a.put(f"{FIRST}.inhibits_partners", False)


@fault("full-speed-in-doubt", "allows full speed by hand while position is in doubt")
def _(a: PlainAxis) -> bool:
    if not a.get(f"{FIRST}.max_speed"):
        return False
    speed = a.need("controller.max_velocity")
    # 250 mm/s (ISO 10218-1, for robots, from memory); on a table, a quarter turn a second.
    slow = Fraction(1, 4) if a.get("motion") == "rotary" else 250
    return speed > slow and a.write(f"{FIRST}.max_speed", speed)


@fault("operator-told-nothing", "shows the operator a bare number when position is in doubt")
def _(a: PlainAxis) -> bool:
    return bool(a.get(FIRST)) and a.put(f"{FIRST}.guidance", "none")


def _condition(a: PlainAxis, name: str) -> dict[str, object] | None:
    for condition in a.machine.get("conditions", []):
        if condition["condition"] == name:
            found: dict[str, object] = condition
            return found
    return None


@fault("code-noted-twice", "notes one code with two meanings")
def _(a: PlainAxis) -> bool:
    conditions = a.machine.get("conditions", [])
    if len(conditions) < 2:
        return False
    conditions[1]["code"] = conditions[0]["code"]
    return True


@fault("code-without-guidance", "gives a code no word of what to do")
def _(a: PlainAxis) -> bool:
    condition = _condition(a, "position_lost")
    if condition is None:
        return False
    condition["guidance"] = "none"
    return True


@fault("lost-position-cleared-by-reset", "notes that an alarm reset clears a lost position")
def _(a: PlainAxis) -> bool:
    condition = _condition(a, "position_lost")
    if condition is None:
        return False
    condition["cleared_by"] = ["alarm_reset"]
    return True


@fault("lost-position-has-no-code", "leaves the code for a lost position out of the list")
def _(a: PlainAxis) -> bool:
    condition = _condition(a, "position_lost")
    if condition is None or not a.multiturn:
        return False
    a.machine["conditions"] = [c for c in a.machine["conditions"] if c is not condition]
    return True
