"""A linear motor in place of the shaft of a drafted axis: force, current, velocity, guides.

Elementary mechanics: F = m·a + friction + gravity, with the mass of load and moving part, and with
the friction of guides that carry the attraction of the magnets and the weight across the travel.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from random import Random

from .axis_draft import AxisDraft
from .mechanics import up
from .plain_axis import Plain, factor, in_unit, parts, rounded, spelled
from .sizing import G


@dataclass(frozen=True)
class LinearLoad:
    """What the motor moves: kg, N, m/s and m/s²."""

    mass: float
    friction: float
    gravity: float
    velocity: float
    acceleration: float
    hardest: float

    @property
    def starting(self) -> float:
        return self.mass * self.acceleration + self.friction + self.gravity

    @property
    def stopping(self) -> float:
        """With friction against the motor, as a careful person reckons."""
        return self.mass * self.hardest + self.friction + self.gravity


def give_linear_motor(d: AxisDraft, facts: Plain, *, absolute: bool) -> None:
    """Replace the motor of a shaft by a linear one that suits the load, in place."""
    dice = Random(f"linear motor {d.number} {d.move.v} {d.mechanics['load_mass']}")
    _without_shaft(facts)
    load = _load(d, facts, dice)
    rated = _size(load, facts, dice)
    _feed(d, facts, rated, dice)
    if d.mechanics["moved_by_gravity"]:
        facts["drive"]["braking_power"] = spelled(up(load.stopping * load.velocity * 1.5), "W")
    if facts["motor"]["brake"] != "none":
        held = up(max(2.2 * load.gravity, float(rated) / 2))
        del facts["motor"]["brake"]["holding_torque"]
        facts["motor"]["brake"]["holding_force"] = spelled(held, "N")
    level = not d.mechanics["moved_by_gravity"]
    if absolute and level and d.layout and d.layout.switches and dice.random() < 0.3:
        _home_at_hard_stop(d, facts, load, rated)


def _without_shaft(facts: Plain) -> None:
    """Leave out what a linear motor does not have: revolutions, and the torque of a shaft."""
    kept = ("serial", "brake", "commutation")
    facts["motor"] = {key: facts["motor"][key] for key in kept}
    for key in ("gear_ratio", "feed_constant", "max_speed", "torque_limit"):
        del facts["drive"][key]
    for key in ("efficiency", "transmission_inertia", "stated_ratio"):
        facts["mechanics"].pop(key, None)
    facts["mechanics"]["couplings"] = []


def _load(d: AxisDraft, facts: Plain, dice: Random) -> LinearLoad:
    """State the moving part, the attraction and the guides; return what they make of the load."""
    mechanics, motor, move = d.mechanics, facts["motor"], d.move
    metre = float(factor(d.unit)) / 1000
    carried = parts(mechanics["load_mass"])[0]
    moving = up(carried * Fraction(dice.uniform(0.05, 0.4)))
    mass = float(carried + moving)
    motor["moving_mass"] = spelled(moving, "kg")
    hardest = float(max(move.a, move.stop, move.drive_stop)) * metre
    attraction = Fraction(0)
    motor["attraction_force"] = "none"
    if dice.random() < 0.6:  # with iron, the magnets pull several times as hard as they push
        attraction = up(mass * hardest * dice.uniform(3, 8))
        motor["attraction_force"] = (
            in_unit(attraction, "kN") if attraction > 1000 else spelled(attraction, "N")
        )
    coefficient = Fraction(dice.choice((5, 10, 15, 20)), 1000)
    mechanics["friction_coefficient"] = spelled(coefficient * 100, "%")
    pressing = float(attraction) + (0.0 if mechanics["moved_by_gravity"] else mass * G)
    seals = rounded(Fraction(dice.uniform(2, 12)), 1)
    friction = up(float(coefficient) * pressing + float(seals))
    mechanics["friction_force"] = spelled(friction, "N")
    gravity = 0.0
    if mechanics["moved_by_gravity"]:
        balance = mechanics["counterbalance"]
        gravity = mass * G * (1 - (float(parts(balance)[0]) / 100 if balance != "none" else 0))
    speed, ramp = float(move.v) * metre, float(move.a) * metre
    return LinearLoad(mass, float(friction), gravity, speed, ramp, hardest)


def _size(load: LinearLoad, facts: Plain, dice: Random) -> Fraction:
    """State the forces of a motor that moves the load, and the duty; return its rated force."""
    seconds = load.velocity / load.acceleration
    steady = load.friction + load.gravity
    braking = load.gravity - load.mass * load.acceleration
    rows = (
        (load.starting, seconds),
        (steady, 2 * seconds),
        (braking, seconds),
        (load.gravity, 4 * seconds),
    )
    mean = math.sqrt(sum(f * f * s for f, s in rows) / sum(s for _, s in rows))
    facts["controller"]["duty"] = [
        {
            "force": spelled(rounded(Fraction(force), 3), "N"),
            "time": in_unit(up(time, 3), "ms"),
        }
        for force, time in rows
    ]
    needed = 1.5 * max(load.starting, load.stopping, 2 * load.gravity)
    rated = up(max(1.4 * mean, needed / 3, 1.5 * steady))
    facts["motor"] |= {"rated_force": spelled(rated, "N"), "peak_force": spelled(3 * rated, "N")}
    constant = Fraction(dice.choice((18, 30, 45, 60, 95)))
    facts["motor"] |= {
        "force_constant": spelled(constant, "N/A"),
        "rated_current": spelled(rounded(rated / constant, 3), "A"),
        # Near its peak the iron is full, and a motor makes less force for each ampere.
        "peak_current": spelled(rounded(rated / constant * Fraction(35, 10), 3), "A"),
    }
    return rated


def _feed(d: AxisDraft, facts: Plain, rated: Fraction, dice: Random) -> None:
    """State velocities and currents of motor and drive, and the limits in the drive."""
    motor, drive, move = facts["motor"], facts["drive"], d.move
    given = up(move.v * Fraction(12, 10))
    highest = up(given * Fraction(13, 10))
    motor |= {"rated_velocity": d.say(given, "/s"), "max_velocity": d.say(highest, "/s")}
    drive["max_velocity"] = d.say(dice.choice((given, highest)), "/s")
    drive["force_limit"] = spelled(3 * rated, "N")
    for which in ("rated", "peak"):
        amperes = parts(motor[f"{which}_current"])[0]
        drive[f"{which}_current"] = spelled(up(amperes * Fraction(12, 10)), "A")


def _home_at_hard_stop(d: AxisDraft, facts: Plain, load: LinearLoad, rated: Fraction) -> None:
    """Home against the lower stop, with more force than friction takes and less than does harm."""
    assert d.layout
    force = rounded(rated * Fraction(4, 10), 2)
    if force < Fraction(load.friction) * Fraction(13, 10):
        return
    slow = rounded(min(d.move.v / 80, Fraction(20) / factor(d.unit)), 1)
    facts["controller"]["homing"] = {
        "after": [],
        "switch": "none",
        "method": "hard_stop_negative",
        "direction": "negative",
        "reference_position": d.say(d.layout.hard[0]),
        "search_speed": d.say(slow, "/s"),
        "force_limit": spelled(force, "N"),
        "following_error_reaction": "wide",
        "taught": facts["controller"]["homing"]["taught"],
    }
    methods = facts["drive"]["supported_homing_methods"]
    facts["drive"]["supported_homing_methods"] = [*methods, "hard_stop_negative"]
