"""Faults of homing and of its reference."""

from __future__ import annotations

from fractions import Fraction

from .fault_list import fault
from .marks import has_marks
from .plain_axis import PlainAxis

HOMING = "controller.homing"
REFERENCE = f"{HOMING}.reference_position"
LIMIT_METHODS = (1, 2, 17, 18)
SWITCH_METHODS = (*range(3, 15), *range(19, 31))
INDEX_METHODS = (*range(1, 15), 33, 34)


def opposite(direction: object) -> str:
    return "positive" if direction == "negative" else "negative"


@fault("index-missing", "fits an encoder without index pulse to an axis that homes to one")
def _(a: PlainAxis) -> bool:
    return a.method in INDEX_METHODS and a.put("encoder.index_pulse", False)


@fault("method-not-supported", "copies a homing method from a drive that had more of them")
def _(a: PlainAxis) -> bool:
    methods = a.get("drive.supported_homing_methods")
    if not methods or a.method not in methods or not isinstance(a.method, int):
        return False
    left = [method for method in methods if method != a.method]
    return a.put("drive.supported_homing_methods", left)


@fault("method-reserved", "types a homing method that the standard keeps reserved")
def _(a: PlainAxis) -> bool:
    return a.get(HOMING) is not None and a.put(f"{HOMING}.method", 16)


@fault("method-withdrawn", "keeps method 35 from an old program")
def _(a: PlainAxis) -> bool:
    return a.method == 37 and a.put(f"{HOMING}.method", 35)


@fault("method-none", "leaves the homing method at 0, no homing")
def _(a: PlainAxis) -> bool:
    return a.get("encoder.kind") == "incremental" and a.put(f"{HOMING}.method", 0)


def _side(a: PlainAxis) -> str:
    """The drive input to which the limit switch that homing uses is wired."""
    end = "negative" if a.method in (1, 17) else "positive"
    guards = a.get("drive.limit_inputs.negative_guards")
    return "negative" if guards == end else "positive"


@fault("homing-limit-switch-unwired", "homes to a limit switch whose wire was never connected")
def _(a: PlainAxis) -> bool:
    if a.method not in LIMIT_METHODS:
        return False
    return a.put(f"drive.limit_inputs.{_side(a)}", "unwired")


@fault("homing-limit-switch-inhibited", "inhibits a limit input to get going; homing needs it")
def _(a: PlainAxis) -> bool:
    if a.method not in LIMIT_METHODS:
        return False
    return a.put(f"drive.limit_inputs.{_side(a)}", "inhibited")


@fault("home-switch-unwired", "assigns the home switch to another input")
def _(a: PlainAxis) -> bool:
    return a.method in SWITCH_METHODS and a.put("drive.home_input", "unwired")


@fault("home-switch-inhibited", "leaves the home input inhibited after a test")
def _(a: PlainAxis) -> bool:
    return a.method in SWITCH_METHODS and a.put("drive.home_input", "inhibited")


@fault("home-switch-absent", "uses a home switch method on an axis without home switch")
def _(a: PlainAxis) -> bool:
    return a.method in SWITCH_METHODS and a.put(f"{HOMING}.switch", "none")


@fault("home-cam-too-short", "uses a short cam where the switch must stay actuated to the end")
def _(a: PlainAxis) -> bool:
    if a.method not in (*range(3, 7), *range(19, 23)):
        return False
    return a.put(f"{HOMING}.switch.held_to_travel_end", False)


@fault("home-direction-flipped", "sets the search the wrong way after swapping motor wires")
def _(a: PlainAxis) -> bool:
    direction = a.get(f"{HOMING}.direction")
    return direction is not None and a.put(f"{HOMING}.direction", opposite(direction))


@fault("method-of-other-end", "types the method of the other limit switch")
def _(a: PlainAxis) -> bool:
    other = {1: 2, 2: 1, 17: 18, 18: 17}.get(a.method if isinstance(a.method, int) else 0)
    return other is not None and a.put(f"{HOMING}.method", other)


@fault("reference-sign-flipped", "enters the home offset with the other sign")
def _(a: PlainAxis) -> bool:
    if a.endless or a.method == 37 or a.get(REFERENCE) is None or has_marks(a, "distance_coded"):
        return False
    return a.need(REFERENCE) != 0 and a.write(REFERENCE, -a.need(REFERENCE))


@fault("endless-reference-sign-flipped", "enters the home offset of a table with the other sign")
def _(a: PlainAxis) -> bool:
    if not a.endless or a.method == 37 or a.get(REFERENCE) is None:
        return False
    # Half a cycle either way is one place, and so is zero.
    twice = 2 * a.need(REFERENCE) % a.need("controller.cycle")
    return twice != 0 and a.write(REFERENCE, -a.need(REFERENCE))


@fault("endless-switch-moved", "moves the home switch of a table by a station, not its reference")
def _(a: PlainAxis) -> bool:
    at = f"{HOMING}.switch.position"
    if not a.endless or a.method == 37 or a.get(REFERENCE) is None or a.get(at) is None:
        return False
    return a.write(at, a.need(at) + a.need("controller.cycle") / 6)


@fault("reference-of-old-switch-place", "moves the limit switch inwards, not the reference")
def _(a: PlainAxis) -> bool:
    if a.method not in (17, 18):
        return False
    end = "negative" if a.method == 17 else "positive"
    at = a.need(f"mechanics.limit_switches.{end}")
    return a.write(f"mechanics.limit_switches.{end}", at + a.span / (40 if a.method == 17 else -40))


@fault("reference-beyond-travel", "leaves a reference from a longer machine")
def _(a: PlainAxis) -> bool:
    if a.endless or a.get(REFERENCE) is None:
        return False
    return a.write(REFERENCE, a.need("mechanics.travel.max") + a.span / 10)


@fault("reference-one-decimal-off", "slips a decimal in the position of the reference")
def _(a: PlainAxis) -> bool:
    if a.method == 37 or a.endless or has_marks(a, "distance_coded"):
        return False
    return a.need(REFERENCE) != 0 and a.write(REFERENCE, a.need(REFERENCE) / 10)


@fault("pin-outside-software-limits", "calibrates at a pin and types its place with a wrong sign")
def _(a: PlainAxis) -> bool:
    if a.method != 37 or a.endless:
        return False
    reference = a.need(REFERENCE)
    return -reference < a.need("mechanics.travel.min") and a.write(REFERENCE, -reference)


@fault("reference-beyond-cycle", "gives an endless axis a reference beyond its cycle")
def _(a: PlainAxis) -> bool:
    return a.endless and a.write(REFERENCE, a.need("controller.cycle") * 3 / 2)


@fault("search-per-minute", "types a search speed per minute into a field per second")
def _(a: PlainAxis) -> bool:
    return "hard_stop" not in str(a.method) and a.scale(f"{HOMING}.search_speed", 60)


@fault("creep-and-search-swapped", "enters creep speed and search speed the wrong way round")
def _(a: PlainAxis) -> bool:
    return a.swap(f"{HOMING}.search_speed", f"{HOMING}.creep_speed")


@fault("creep-too-fast", "creeps nine times as fast on an axis that homes each morning")
def _(a: PlainAxis) -> bool:
    wanted = a.base(f"{HOMING}.repeatability")
    if wanted is None or a.get("encoder.kind") != "incremental":
        return False
    blind = a.need("drive.input_scan") + a.need(f"{HOMING}.latch_jitter")
    if 9 * a.need(f"{HOMING}.creep_speed") * blind <= wanted:
        return False
    return a.scale(f"{HOMING}.creep_speed", 9)


@fault("homing-ramp-too-soft", "enters a hundredth of the homing deceleration")
def _(a: PlainAxis) -> bool:
    ramp = a.base(f"{HOMING}.acceleration")
    if a.method not in LIMIT_METHODS or ramp is None:
        return False
    side, stop = ("negative", "min") if a.method in (1, 17) else ("positive", "max")
    edge, end = a.need(f"mechanics.limit_switches.{side}"), a.need(f"mechanics.travel.{stop}")
    braking = a.need(f"{HOMING}.search_speed") ** 2 / (2 * ramp / 100)
    # Where there is room to stop with a hundredth of the deceleration, it does no harm.
    return braking > abs(end - edge) and a.scale(f"{HOMING}.acceleration", Fraction(1, 100))


@fault("index-at-switch-edge", "fits a motor whose index pulse lies at the edge of the switch")
def _(a: PlainAxis) -> bool:
    path = f"{HOMING}.index_after_switch"
    turns = a.base(path)
    if turns is None:
        return False
    # The reference was taught anew where the index now is.
    step = (Fraction(2, 100) - turns) * a.per_encoder_turn
    up = a.method in (1, 4, 5, 8, 11)
    a.write(REFERENCE, a.need(REFERENCE) + (step if up else -step))
    return a.put(path, "0.02 rev")


@fault("index-of-next-revolution-edge", "fits a motor whose index comes just before the edge")
def _(a: PlainAxis) -> bool:
    path = f"{HOMING}.index_after_switch"
    turns = a.base(path)
    if turns is None:
        return False
    step = (Fraction(97, 100) - turns) * a.per_encoder_turn
    up = a.method in (1, 4, 5, 8, 11)
    a.write(REFERENCE, a.need(REFERENCE) + (step if up else -step))
    return a.put(path, "0.97 rev")


@fault("home-cam-too-narrow", "fits a cam narrower than the axis moves in one scan of the input")
def _(a: PlainAxis) -> bool:
    if a.method not in SWITCH_METHODS or a.get("drive.input_scan") is None:
        return False
    speed = a.need(f"{HOMING}.search_speed")
    passed = speed * (a.need("drive.input_scan") + a.need("drive.input_filter"))
    return a.write(f"{HOMING}.switch.width", passed / 2)


@fault("hard-stop-homing-at-full-torque", "drives against the hard stop with full torque")
def _(a: PlainAxis) -> bool:
    path = f"{HOMING}.torque_limit"
    return a.get(path) is not None and a.put(path, a.get("motor.peak_torque"))


@fault("hard-stop-homing-watched", "leaves the following error reaction on against the hard stop")
def _(a: PlainAxis) -> bool:
    path = f"{HOMING}.following_error_reaction"
    return a.get(path) is not None and a.put(path, "normal")


@fault("home-each-other-first", "lets two axes wait for each other to be homed")
def _(a: PlainAxis) -> bool:
    for name in a.others:
        other = a.of(name)
        if other.get(HOMING) and a.get(HOMING) and a.name not in other.get(f"{HOMING}.after"):
            other.put(f"{HOMING}.after", [*other.get(f"{HOMING}.after"), a.name])
            return a.put(f"{HOMING}.after", [name])
    return False


@fault("homes-after-itself", "copies a homing order and forgets to change the name")
def _(a: PlainAxis) -> bool:
    return a.get(HOMING) is not None and a.put(f"{HOMING}.after", [a.name])


@fault("homing-order-of-collision-forgotten", "lets two axes that can collide home as they like")
def _(a: PlainAxis) -> bool:
    for pair in a.machine.get("collision_pairs", []):
        names = (pair["first"], pair["second"])
        if a.name in names:
            one, two = (a.of(name) for name in names)
            if 37 in (one.method, two.method):
                return False  # one of them does not move for it
            changed = False
            for axis, other in ((one, two), (two, one)):
                after = axis.get(f"{HOMING}.after")
                if other.name in after:
                    left = [name for name in after if name != other.name]
                    changed = axis.put(f"{HOMING}.after", left)
            return changed
    return False


@fault("homes-after-a-stranger", "keeps the old name of a renamed axis in the homing order")
def _(a: PlainAxis) -> bool:
    return a.get(HOMING) is not None and a.put(f"{HOMING}.after", ["old_lift"])


@fault("never-taught", "starts an axis set once at a pin without ever having set it")
def _(a: PlainAxis) -> bool:
    return a.method == 37 and a.put(f"{HOMING}.taught", "none")


@fault("taught-with-old-motor", "swaps a motor with its encoder and teaches nothing")
def _(a: PlainAxis) -> bool:
    if not a.multiturn or a.get("encoder.mounted_on") != "motor":
        return False
    a.put("encoder.serial", "E-NEW")
    return a.put("motor.serial", "M-NEW")


@fault("taught-with-old-encoder", "swaps an encoder and teaches nothing")
def _(a: PlainAxis) -> bool:
    return a.multiturn and a.put("encoder.serial", "E-NEW")


@fault("taught-with-old-drive", "swaps a drive that held the reference and teaches nothing")
def _(a: PlainAxis) -> bool:
    if a.get("storage.offset") != "drive":
        return False
    for node in a.machine["network"]["nodes"]:
        if node["address"] == a.get("drive.node"):
            node["serial"] = "D-NEW"
    return a.put("drive.serial", "D-NEW")


@fault("index-homing-with-new-motor", "swaps the motor of an axis that homes to the index pulse")
def _(a: PlainAxis) -> bool:
    if a.get("encoder.kind") != "incremental" or a.method not in INDEX_METHODS:
        return False
    if a.get("encoder.mounted_on") != "motor":
        return False
    a.put("encoder.serial", "E-NEW")
    return a.put("motor.serial", "M-NEW")


@fault("calibration-record-stale", "teaches a new encoder and leaves the old serial in the record")
def _(a: PlainAxis) -> bool:
    path = "encoder.serial_at_calibration"
    return a.get(path) is not None and a.put(path, "E-OLD")


@fault("taught-tomorrow", "types the day of teaching into the next century")
def _(a: PlainAxis) -> bool:
    path = f"{HOMING}.taught.on"
    return a.get(path) is not None and a.put(path, "2126-03-14")


@fault("not-homed-at-all", "sets no homing on an axis that forgets its position")
def _(a: PlainAxis) -> bool:
    return a.get("encoder.kind") == "incremental" and a.put(HOMING, "none")


@fault(
    "homed-flag-kept-without-memory", "keeps the homed flag of an incremental axis over power-off"
)
def _(a: PlainAxis) -> bool:
    return a.get("encoder.kind") == "incremental" and a.put("controller.homed_flag_retained", True)


@fault("limits-trusted-before-homing", "obeys software limits of an axis that was not homed yet")
def _(a: PlainAxis) -> bool:
    if a.get("encoder.kind") != "incremental":
        return False
    return a.put("controller.software_limits.active", "always")


@fault("limit-cam-ends-early", "fits a limit cam that ends before the hard stop")
def _(a: PlainAxis) -> bool:
    path = "mechanics.limit_switches.held_to_hard_stop"
    return a.get(path) is not None and a.put(path, False)
