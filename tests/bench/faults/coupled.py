"""Faults of two axes that share their motors."""

from __future__ import annotations

from fractions import Fraction

from .fault_list import fault
from .plain_axis import PlainAxis

OWN = "differential.own_ratio"
ITS = "differential.partner_ratio"
HOMING = "controller.homing"


def partner(a: PlainAxis) -> PlainAxis | None:
    """The axis that shares its motors with this one; None if there is none."""
    name = a.get("differential.partner")
    return None if name is None else a.of(name)


@fault("coupled-partner-renamed", "renames one coupled axis and not its name at the other one")
def _(a: PlainAxis) -> bool:
    return partner(a) is not None and a.put("differential.partner", "belt_old")


@fault("coupled-partner-said-to-be-alone", "notes one coupled axis as moved by its own motor")
def _(a: PlainAxis) -> bool:
    other = partner(a)
    return other is not None and other.put("differential", "none")


@fault("coupled-sign-slip", "loses the sign of one ratio of coupled axes")
def _(a: PlainAxis) -> bool:
    other = partner(a)
    if other is None:
        return False
    for each in (a, other):
        for path in (OWN, ITS):
            each.put(path, str(each.get(path)).lstrip("-"))
    return True


@fault("coupled-ratios-copied", "copies the ratios of one coupled axis to the other way round")
def _(a: PlainAxis) -> bool:
    other = partner(a)
    if other is None:
        return False
    other.put(OWN, a.get(ITS))
    other.put(ITS, a.get(OWN))
    return True


def _for_one_motion(a: PlainAxis, path: str) -> bool:
    """Choose a part for the larger of the two motions alone, with a little reserve."""
    if partner(a) is None:
        return False
    share = max(abs(a.need(OWN)), abs(a.need(ITS)))
    speed = a.need("controller.max_velocity") * share / a.per_motor_turn
    if path.startswith("encoder"):
        speed = speed * a.encoder_ratio / a.ratio
    return a.write(path, speed * Fraction(11, 10))


@fault("coupled-motor-for-one-motion", "chooses the motor for one of two coupled motions alone")
def _(a: PlainAxis) -> bool:
    return _for_one_motion(a, "motor.max_speed")


@fault("coupled-drive-for-one-motion", "limits the drive to the speed of one coupled motion")
def _(a: PlainAxis) -> bool:
    return _for_one_motion(a, "drive.max_speed")


@fault("coupled-encoder-for-one-motion", "chooses the encoder for one of two coupled motions")
def _(a: PlainAxis) -> bool:
    return _for_one_motion(a, "encoder.max_speed")


@fault("coupled-partner-free", "stops one coupled axis and leaves the other one free")
def _(a: PlainAxis) -> bool:
    return partner(a) is not None and a.put("interlocks.0.inhibits_partners", False)


@fault("coupled-homed-at-once", "lets two coupled axes home at the same time")
def _(a: PlainAxis) -> bool:
    other = partner(a)
    if other is None or not a.get(HOMING) or not other.get(HOMING):
        return False
    return a.put(f"{HOMING}.after", []) | other.put(f"{HOMING}.after", [])


@fault("coupled-one-taught-again", "teaches one coupled axis after a swap and not the other one")
def _(a: PlainAxis) -> bool:
    return partner(a) is not None and a.put(f"{HOMING}.taught.on", "2026-05-31")
