"""Brakes on the load side and clamps for sound axes.

Dice of their own keep the machines as they were without them. A hanging axis may get a brake on the
load beside that of the motor or in its place, or a clamp that holds it alone. A level axis may get
either, too.
"""

from __future__ import annotations

import math
from fractions import Fraction
from random import Random

from . import swinging
from .mechanics import up
from .plain_axis import Plain, PlainAxis, parts, spelled

LOAD_BRAKE = "mechanics.load_brake"
CLAMP = "mechanics.clamp"
OUTPUT = "controller.load_brake_output"
MOTOR_BRAKE = "motor.brake"
G = Fraction("9.80665")
CUT = "disable_at_once"


def give_brakes(seed: int, built: Plain) -> None:
    """Give some axes of a machine a brake on the load, a clamp or both, in place."""
    rng = Random(f"load brake {seed}")
    for name in built["axes"]:
        drawn = rng.random()
        a = PlainAxis(built, name)
        if a.get("gantry") or _cuts_torque(a) or _held_otherwise(a):
            continue
        hangs = bool(a.get("mechanics.moved_by_gravity"))
        if hangs and drawn < 0.6:
            _hold(rng, a)
        elif not hangs and drawn < 0.12:
            _add_load_brake(rng, a)
        elif not hangs and drawn < 0.3:
            _add_clamp(rng, a)


def held_besides(a: PlainAxis) -> bool:
    """Whether a brake on the load or a clamp holds the load where the motor has no brake."""
    return bool(a.get(LOAD_BRAKE) or a.get("mechanics.load_lock"))


def has_a_brake(a: PlainAxis) -> bool:
    """Whether a brake of the motor or of the load stops the axis where torque is cut.

    Friction alone does not stop this axis then. What its brake does has kinds of its own.
    """
    return bool(a.get(MOTOR_BRAKE) or a.get(LOAD_BRAKE))


def friction_holds(a: PlainAxis) -> bool:
    """Whether friction holds all that gravity pulls with, so that the load rests without torque."""
    kind = "torque" if a.get("motion") == "rotary" else "force"
    return pull(a) <= (a.base(f"mechanics.friction_{kind}") or 0)


def pull(a: PlainAxis) -> Fraction:
    """What gravity pulls with along the travel, in N, or on a rotary axis in N·m about it."""
    if not a.get("mechanics.moved_by_gravity"):
        return Fraction(0)
    if a.get("motion") == "rotary":
        stated = a.base("mechanics.unbalanced_torque")
        return Fraction(swinging.pull(a)) if stated is None else stated
    mass = a.need("mechanics.load_mass") + (a.base("motor.moving_mass") or 0)
    balanced = a.base("mechanics.counterbalance") or Fraction(0)
    slope = a.base("mechanics.inclination")
    share = 1.0 if slope is None else abs(math.sin(math.tau * float(slope)))
    if a.get(swinging.TILTED):
        share = swinging.tilted_share(a)
    return mass * G * abs(1 - balanced) * Fraction(share)


def at_shaft(a: PlainAxis, force: Fraction) -> Fraction:
    """The torque on the driving shaft in N·m of a force along the travel."""
    if a.get("motion") == "rotary":
        return force
    return force * a.feed / 1000 / Fraction(math.tau)


def peak(a: PlainAxis) -> Fraction:
    """The highest torque of the motor on the driving shaft, or force of a linear motor."""
    if a.turns_shaft:
        return a.need("motor.peak_torque") * a.ratio
    return a.need("motor.peak_force")


def holds_by_torque(a: PlainAxis, part: str) -> bool:
    return bool(a.get(f"{part}.acts_on") == "driving_shaft")


def holding(a: PlainAxis, part: str) -> str:
    """The path of what a brake or clamp holds, as its place has it."""
    return f"{part}.holding_torque" if holds_by_torque(a, part) else f"{part}.holding_force"


def _cuts_torque(a: PlainAxis) -> bool:
    options = ("drive.stop_reaction.option", "drive.fault_reaction_option")
    return any(a.get(option) == CUT for option in options)


def _held_otherwise(a: PlainAxis) -> bool:
    locked = a.get("mechanics.self_locking") or a.get("mechanics.load_lock")
    return bool(locked) or (bool(a.get("mechanics.moved_by_gravity")) and not a.get(MOTOR_BRAKE))


def _hold(rng: Random, a: PlainAxis) -> None:
    """Two brakes, a brake on the load alone, or a clamp that holds a hanging load alone."""
    how = rng.random()
    if how < 0.8:
        _add_load_brake(rng, a)
        if how > 0.4:
            _without_motor_brake(a)
        if how > 0.65:
            _add_clamp(rng, a)
    else:
        _without_motor_brake(a)
        _add_clamp(rng, a)
        a.facts["mechanics"]["load_lock"] = True


def _without_motor_brake(a: PlainAxis) -> None:
    a.put(MOTOR_BRAKE, "none")


def _place(rng: Random, a: PlainAxis) -> str:
    on_rail = a.get("motion") == "linear" and (not a.turns_shaft or rng.random() < 0.4)
    return "carriage" if on_rail else "driving_shaft"


def _held(a: PlainAxis, place: str, force: Fraction) -> Plain:
    """What holds this force or torque of the load, at the place of a brake or clamp."""
    if place == "carriage":  # of a telescope it counts as acting on the driven section
        ratio = a.base("mechanics.telescope.travel_ratio") or 1
        return {"holding_force": spelled(up(force * ratio), "N")}
    return {"holding_torque": spelled(up(at_shaft(a, force)), "N·m")}


def _usual(a: PlainAxis) -> Fraction:
    """A part of what the motor gives, as force or torque of the load."""
    if a.get("motion") == "rotary" or not a.turns_shaft:
        return peak(a) / 4
    return peak(a) / 4 / (at_shaft(a, Fraction(1)))


def _add_load_brake(rng: Random, a: PlainAxis) -> None:
    place = _place(rng, a)
    release, apply = rng.choice((50, 80, 120)), rng.choice((25, 40, 60))
    brake: Plain = {
        "acts_on": place,
        **_held(a, place, max(pull(a) * Fraction(22, 10), _usual(a))),
        "release_time": f"{release} ms",
        "apply_time": f"{apply} ms",
        "voltage": "24 V",
        "opened_by": rng.choice(("drive", "controller")),
        "motion_waits_for_open": rng.random() < 0.5,
    }
    a.facts["mechanics"]["load_brake"] = brake
    if brake["opened_by"] == "controller":
        output = {"voltage": rng.choice(("24 V", "25 V", "23.5 V"))}
        output |= {"release_delay": f"{release + 20} ms", "off_delay": f"{apply * 2} ms"}
        a.facts["controller"]["load_brake_output"] = output
        return
    a.facts["controller"]["load_brake_output"] = "none"
    drive = a.facts["drive"]
    drive["brake_voltage"] = "24 V"
    # One output opens both brakes, so its delays are those of the slower one.
    for delay, needed in (("brake_release_delay", release + 20), ("brake_off_delay", apply * 2)):
        known = parts(drive[delay])[0] if delay in drive else 0
        drive[delay] = f"{max(int(known), needed)} ms"


def _add_clamp(rng: Random, a: PlainAxis) -> None:
    place = _place(rng, a)
    torque = rng.choice(("off", "off", "limited", "full"))
    process = _usual(a) * rng.choice((0, Fraction(1, 2), Fraction(3, 2)))
    # It holds the process and the weight with a margin, and all that the motor can push with.
    most = _usual(a) * 4 + pull(a) if torque == "full" else Fraction(0)
    holds = max(2 * (process + pull(a)), most * Fraction(5, 4), _usual(a))
    release, apply = rng.choice((60, 120, 200)), rng.choice((50, 100))
    clamp: Plain = {
        "acts_on": place,
        **_held(a, place, holds),
        "release_time": f"{release} ms",
        "apply_time": f"{apply} ms",
        "inhibits": ["automatic_motion", "homing", "jog"],
        "open_timeout": f"{release * rng.choice((2, 4))} ms",
        "closes_at_standstill": True,
        "closed_without_power": bool(a.get("mechanics.moved_by_gravity")) or rng.random() < 0.5,
        "opens_under_torque": bool(a.get("mechanics.moved_by_gravity")) or rng.random() < 0.5,
        "off_delay": f"{apply * 2} ms",
        "torque_while_closed": torque,
    }
    kind = "process_force" if a.get("motion") == "linear" else "process_torque"
    clamp[kind] = spelled(up(process) if process else 0, "N" if kind.endswith("force") else "N·m")
    if torque == "limited":
        if a.turns_shaft:
            limit = a.need("motor.peak_torque") / 8
            clamp["torque_limit_while_closed"] = spelled(up(limit), "N·m")
        else:
            limit = a.need("motor.peak_force") / 8
            clamp["force_limit_while_closed"] = spelled(up(limit), "N")
    a.facts["mechanics"]["clamp"] = clamp
