"""Faults of nodes, serials, firmware, records and partners."""

from __future__ import annotations

import copy
from fractions import Fraction

from .fault_list import fault
from .plain_axis import PlainAxis

HOMING = "controller.homing"


def _node(a: PlainAxis) -> dict[str, object] | None:
    for node in a.machine["network"]["nodes"]:
        if node["address"] == a.get("drive.node"):
            found: dict[str, object] = node
            return found
    return None


@fault("node-taken-twice", "gives two drives one node address")
def _(a: PlainAxis) -> bool:
    return bool(a.others) and a.put("drive.node", a.of(a.others[0]).get("drive.node"))


@fault("node-not-on-network", "types a node address that no drive has")
def _(a: PlainAxis) -> bool:
    return a.put("drive.node", 99)


@fault("node-of-another-device", "types the node address of an input station")
def _(a: PlainAxis) -> bool:
    for node in a.machine["network"]["nodes"]:
        if node["drive"] is False:
            return a.put("drive.node", node["address"])
    return False


@fault("nodes-exchanged", "exchanges the node addresses of two axes")
def _(a: PlainAxis) -> bool:
    if not a.others:
        return False
    other = a.of(a.others[0])
    mine, theirs = a.get("drive.node"), other.get("drive.node")
    other.put("drive.node", mine)
    return a.put("drive.node", theirs)


@fault("drive-left-without-axis", "leaves a drive on the network that no axis uses")
def _(a: PlainAxis) -> bool:
    node = {"address": 77, "serial": "D-7777", "firmware": "2.10.4", "drive": True}
    a.machine["network"]["nodes"].append(node)
    return True


@fault("drive-gone-from-network", "lists an axis whose drive was taken out")
def _(a: PlainAxis) -> bool:
    node = _node(a)
    if node is None:
        return False
    a.machine["network"]["nodes"].remove(node)
    return True


@fault("drive-serial-not-updated", "swaps a drive and leaves the old serial in the list")
def _(a: PlainAxis) -> bool:
    node = _node(a)
    if node is None:
        return False
    node["serial"] = "D-NEW"
    return True


@fault("encoder-changed-under-preset", "changes the encoder of an axis that is preset, never homed")
def _(a: PlainAxis) -> bool:
    if a.get("encoder.kind") == "incremental" or a.method != 37 or a.partners:
        return False
    a.put("controller.homing", "none")
    if a.get("motor.commutation"):
        a.put("motor.commutation.encoder_serial", "E-NEW")
    return a.put("encoder.serial", "E-NEW")


@fault("axis-copied-with-serials", "copies an axis and leaves the motor's serial as it was")
def _(a: PlainAxis) -> bool:
    if not a.others:
        return False
    other = a.of(a.others[0])
    for path in ("controller.homing.taught.motor_serial", "motor.commutation.motor_serial"):
        if a.get(path) is not None:
            a.put(path, other.get("motor.serial"))
    return a.put("motor.serial", other.get("motor.serial"))


@fault("firmware-too-old", "fits a spare drive with an old firmware")
def _(a: PlainAxis) -> bool:
    node = _node(a)
    if node is None or not a.get("drive.firmware_minimum"):
        return False
    node["firmware"] = "2.2.9"
    return a.put("drive.firmware", "2.2.9")


@fault("firmware-noted-wrong", "updates a drive's firmware and leaves the list")
def _(a: PlainAxis) -> bool:
    node = _node(a)
    if node is None:
        return False
    node["firmware"] = "2.11.0"
    return True


@fault("commutation-of-old-motor", "fits a motor and does not teach commutation")
def _(a: PlainAxis) -> bool:
    path = "motor.commutation.motor_serial"
    return a.get(path) is not None and a.put(path, "M-OLD")


@fault("commutation-of-old-encoder", "fits an encoder and does not teach commutation")
def _(a: PlainAxis) -> bool:
    path = "motor.commutation.encoder_serial"
    return a.get(path) is not None and a.put(path, "E-OLD")


@fault("commutation-taught-tomorrow", "types a day to come as that of teaching commutation")
def _(a: PlainAxis) -> bool:
    return a.get("motor.commutation") is not None and a.put("motor.commutation.on", "2099-01-01")


@fault("gantry-two-leaders", "sets both sides of a gantry to leader")
def _(a: PlainAxis) -> bool:
    return a.get("gantry.role") == "follower" and a.put("gantry.role", "leader")


@fault("gantry-partner-unknown", "keeps the old name of the other side of a gantry")
def _(a: PlainAxis) -> bool:
    return a.get("gantry") is not None and a.put(_name_of_another(a), "gantry_old")


@fault("gantry-partner-of-another", "names an axis as partner that is none")
def _(a: PlainAxis) -> bool:
    if not a.get("gantry"):
        return False
    for name in a.others:
        if a.of(name).get("gantry") is None:
            return a.put(_name_of_another(a), name)
    return False


def _name_of_another(a: PlainAxis) -> str:
    """Where one member of a gantry names another one."""
    return "gantry.followers.0" if a.get("gantry.followers") else "gantry.partner"


@fault(
    "gantry-offset-of-one-side", "shifts the reference of one side of a gantry and not the other's"
)
def _(a: PlainAxis) -> bool:
    if not a.get("gantry") or a.method == 37 or a.get("gantry.torque") == "shared":
        return False
    shift = 4 * a.need("gantry.racking_tolerance")
    return a.write(f"{HOMING}.reference_position", a.need(f"{HOMING}.reference_position") + shift)


@fault("gantry-limits-of-one-side", "changes the software limit of one side of a gantry")
def _(a: PlainAxis) -> bool:
    if not a.get("gantry") or a.get("gantry.torque") == "shared":
        return False
    path = "controller.software_limits.max"
    return a.write(path, a.need(path) - a.span / 20)


@fault("gantry-speed-of-one-side", "halves the speed of one side of a gantry")
def _(a: PlainAxis) -> bool:
    return a.get("gantry") is not None and a.scale("controller.max_velocity", Fraction(1, 2))


@fault("gantry-acceleration-of-one-side", "halves the acceleration of one side of a gantry")
def _(a: PlainAxis) -> bool:
    return a.get("gantry") is not None and a.scale("controller.max_acceleration", Fraction(1, 2))


@fault("gantry-stop-of-one-side", "makes one side of a gantry stop harder than the other")
def _(a: PlainAxis) -> bool:
    path, tolerance = "drive.stop_reaction.deceleration", a.base("gantry.racking_tolerance")
    speed = a.need("controller.max_velocity")
    if tolerance is None or speed**2 / (2 * a.need(path)) / 3 < 2 * tolerance:
        return False
    return a.scale(path, Fraction(3, 2))


@fault("gantry-gain-of-one-side", "tunes the position gain of one side of a gantry only")
def _(a: PlainAxis) -> bool:
    tolerance, speed = a.base("gantry.racking_tolerance"), a.need("controller.max_velocity")
    lag = speed * (1 - a.need("controller.velocity_feedforward"))
    if a.get("gantry.torque") == "shared":
        return False
    if tolerance is None or lag / a.need("controller.position_loop_gain") <= 2 * tolerance:
        return False
    return a.scale("controller.position_loop_gain", Fraction(2, 3))


@fault("gantry-method-of-one-side", "homes the two sides of a gantry to opposite ends")
def _(a: PlainAxis) -> bool:
    if not a.get("gantry") or a.method != 17 or a.get("gantry.torque") == "shared":
        return False
    a.put(f"{HOMING}.method", 18)
    return a.put(f"{HOMING}.reference_position", a.get("mechanics.limit_switches.positive"))


@fault("collision-pair-unknown", "keeps the old name of an axis in a pair that can collide")
def _(a: PlainAxis) -> bool:
    for pair in a.machine.get("collision_pairs", []):
        if a.name == pair["first"]:
            pair["second"] = "old_lift"
            return True
    return False


@fault("collision-pair-with-itself", "enters one axis twice in a pair that can collide")
def _(a: PlainAxis) -> bool:
    for pair in a.machine.get("collision_pairs", []):
        if a.name == pair["first"]:
            pair["second"] = a.name
            return True
    return False


@fault("axis-copied-whole", "copies an axis for a new one and changes nothing but the name")
def _(a: PlainAxis) -> bool:
    if a.get("gantry"):
        return False
    a.machine["axes"][f"{a.name}_copy"] = copy.deepcopy(a.facts)
    return True
