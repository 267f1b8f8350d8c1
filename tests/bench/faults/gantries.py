"""Faults of the members of a gantry: of their names, their reactions and shared torque."""

from __future__ import annotations

import copy
import math
from fractions import Fraction

from .fault_list import fault
from .plain_axis import PlainAxis

GANTRY = "gantry"
TOLERANCE = "gantry.racking_tolerance"


def several(a: PlainAxis) -> bool:
    """Whether an axis leads more than one follower."""
    return bool(a.get("gantry.followers"))


@fault("gantry-follower-left-out", "leaves one follower out of the list of the leader")
def _(a: PlainAxis) -> bool:
    return several(a) and a.put("gantry.followers", a.get("gantry.followers")[1:])


@fault("gantry-follower-renamed", "renames a follower and not its name in the list of the leader")
def _(a: PlainAxis) -> bool:
    return several(a) and a.put("gantry.followers.1", "rack_old")


@fault("gantry-follower-said-to-be-alone", "notes that a follower belongs to no gantry")
def _(a: PlainAxis) -> bool:
    if not several(a):
        return False
    return a.of(a.get("gantry.followers")[0]).put("gantry", "none")


@fault("gantry-follower-of-a-follower", "couples one follower to another one")
def _(a: PlainAxis) -> bool:
    if not several(a):
        return False
    first, second = a.get("gantry.followers")[:2]
    return a.of(first).put("gantry.partner", second)


@fault("gantry-follower-made-leader", "sets one of several followers to leader")
def _(a: PlainAxis) -> bool:
    return several(a) and a.of(a.get("gantry.followers")[1]).put("gantry.role", "leader")


@fault("gantry-leader-made-follower", "sets the leader of several to follower")
def _(a: PlainAxis) -> bool:
    return several(a) and a.put("gantry.role", "follower")


@fault("racking-tolerance-in-metres", "types millimetres of the racking tolerance as metres")
def _(a: PlainAxis) -> bool:
    return a.scale(TOLERANCE, 1000)


@fault("gantry-mass-one-decimal-off", "types a naught too few to the whole mass of a gantry")
def _(a: PlainAxis) -> bool:
    return a.scale("gantry.moved_mass", Fraction(1, 10))


# --- reactions to a fault ---------------------------------------------------------------------


@fault("gantry-fault-ramp-of-one-side", "halves the ramp after a fault of one gantry member")
def _(a: PlainAxis) -> bool:
    path, tolerance = "drive.fault_deceleration", a.base("gantry.racking_tolerance")
    if tolerance is None or a.get("drive.fault_reaction_option") == "disable_at_once":
        return False
    if a.need("controller.max_velocity") ** 2 / (2 * a.need(path)) < 2 * tolerance:
        return False
    return a.scale(path, Fraction(1, 2))


@fault("gantry-fault-cuts-torque-of-one-side", "lets a fault switch off torque of one member alone")
def _(a: PlainAxis) -> bool:
    force, mass = a.base("mechanics.friction_force"), a.base("mechanics.load_mass")
    if not a.get(GANTRY) or a.get("motor.brake") or force is None or mass is None:
        return False
    # The member runs on until friction has stopped its load, and at most all that turns with it.
    turning = a.need("motor.inertia") + a.need("mechanics.transmission_inertia")
    metres = a.per_motor_turn / 1000 / Fraction(math.tau)
    with_drive = _run(a, a.need("drive.fault_deceleration"))
    alone = [_run(a, 1000 * force / moved) for moved in (mass, mass + turning / metres**2)]
    # The gantry stands a little: it is out of square only if the members stop further apart.
    stands = a.need(TOLERANCE) * Fraction(11, 10)
    if not (min(alone) - with_drive > stands or with_drive - max(alone) > stands):
        return False
    return a.put("drive.fault_reaction_option", "disable_at_once")


def _run(a: PlainAxis, slow: Fraction) -> Fraction:
    """How far an axis runs from its top speed with this deceleration."""
    return a.need("controller.max_velocity") ** 2 / (2 * slow)


# --- one load, several motors -----------------------------------------------------------------


def torque_follower(a: PlainAxis) -> PlainAxis | None:
    """A follower that takes its torque from this leader; None if there is none."""
    if a.get("gantry.torque") != "shared" or a.get("gantry.role") != "leader":
        return None
    return a.of((a.get("gantry.followers") or [a.get("gantry.partner")])[0])


@fault("gantry-loop-of-its-own-in-one-member", "leaves the position loop of one member closed")
def _(a: PlainAxis) -> bool:
    follower = torque_follower(a)
    return follower is not None and follower.put("gantry.torque", "separate")


@fault("torque-follower-homes", "lets a follower that takes its torque from the leader home")
def _(a: PlainAxis) -> bool:
    follower = torque_follower(a)
    homing = copy.deepcopy(a.get("controller.homing"))
    return follower is not None and follower.put("controller.homing", homing)


@fault("torque-follower-with-limits", "leaves the software limits of a torque follower on")
def _(a: PlainAxis) -> bool:
    follower = torque_follower(a)
    limits = copy.deepcopy(a.get("controller.software_limits"))
    return follower is not None and follower.put("controller.software_limits", limits)


@fault("leader-said-to-follow-nothing", "notes of a torque leader that its position matters not")
def _(a: PlainAxis) -> bool:
    if torque_follower(a) is None:
        return False
    a.facts["controller"] |= {"position_matters": False, "homing": "none"}
    return a.put("controller.software_limits", "none")


@fault("gantry-mass-divided", "divides the part of one member by the number of motors once more")
def _(a: PlainAxis) -> bool:
    return bool(a.get(GANTRY)) and a.scale("mechanics.load_mass", Fraction(1, 2))
