"""The motion of an axis, and a motor that can make it.

Elementary mechanics in floats, rounded to what people type and always towards the safe side, so
that a design stays clear of every bound by a margin.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from random import Random

from .mechanics import ROTARY, Kind, Transmission, up
from .plain_axis import Plain, factor, in_unit, rounded, spelled

G = 9.80665
"""Standard gravity in m/s² (CGPM 1901)."""


@dataclass
class AxisMotion:
    """Numbers in the axis's unit and seconds; forces of a linear load in N."""

    v: Fraction
    a: Fraction
    j: Fraction | None
    stop: Fraction
    stop_jerk: Fraction | None
    stop_delay: Fraction
    drive_stop: Fraction
    drive_delay: Fraction
    kv: int
    feedforward: Fraction
    cycle_time: Fraction
    turns_per_second: Fraction

    @property
    def lag(self) -> Fraction:
        return self.v * (1 - self.feedforward) / self.kv

    @property
    def controller_stops_in(self) -> Fraction:
        run = self.v * self.stop_delay + self.v**2 / (2 * self.stop)
        return run + (self.v * self.stop / (2 * self.stop_jerk) if self.stop_jerk else 0)

    @property
    def drive_stops_in(self) -> Fraction:
        return self.v * self.drive_delay + self.v**2 / (2 * self.drive_stop)


def motion(rng: Random, train: Transmission) -> AxisMotion:
    """Speeds and ramps for a motor between 600 and 2400 rpm."""
    v = rounded(train.per_turn * rng.randint(10, 38), 2)
    a = rounded(
        v / rng.choice((Fraction(1, 10), Fraction(3, 20), Fraction(1, 4), Fraction(2, 5))), 2
    )
    soft = rng.random() < 0.85
    j = rounded(a * rng.choice((12, 16, 20, 30)), 2) if soft else None
    stop = rounded(a * rng.choice((Fraction(3, 2), 2)), 2)
    stop_jerk = rounded(stop * rng.choice((15, 25)), 2) if rng.random() < 0.5 else None
    delay = Fraction(rng.choice((2, 4)), 1000)
    drive_stop = rounded(a * rng.choice((2, Fraction(5, 2), 3)), 2)
    gain, feedforward = rng.choice((15, 20, 25, 30, 40)), Fraction(rng.choice((80, 90, 95)), 100)
    cycle = Fraction(rng.choice((1, 1, 2, 4)), 1000)
    return AxisMotion(
        v, a, j, stop, stop_jerk, delay, drive_stop, Fraction(2, 1000), gain, feedforward, cycle,
        v / train.per_turn,
    )  # fmt: skip


@dataclass
class SizedMotor:
    """A motor that suits its load, and the torques of the load (N·m at the motor)."""

    facts: Plain
    rated: Fraction
    peak: Fraction
    gravity: float
    friction: float
    duty: list[Plain]
    returned: float
    """Power that flows back while the load drives, in W."""


def size(
    rng: Random, kind: Kind, train: Transmission, move: AxisMotion, mechanics: Plain
) -> SizedMotor:
    """Choose the load, state it in ``mechanics``, and a motor that moves it with a margin."""
    radians = math.tau * float(1 / train.per_turn)
    alpha, alpha_stop = float(move.a) * radians, float(max(move.drive_stop, move.stop)) * radians
    eta = rng.choice((Fraction(85, 100), Fraction(9, 10), Fraction(94, 100)))
    if any(stage["kind"] == "worm" for stage in train.stages):
        eta = Fraction(rng.choice((65, 70, 75)), 100)
    mechanics["efficiency"] = rng.choice((spelled(eta * 100, "%"), spelled(eta)))
    returned = gravity = 0.0
    if kind in ROTARY:
        load = rounded(Fraction(rng.uniform(0.05, 3)), 2)
        mechanics["load_inertia"] = spelled(load, "kg m^2")
        reflected = float(load / train.ratio**2)
        drag = rounded(Fraction(rng.uniform(0.5, 6)), 1)
        mechanics["friction_torque"] = spelled(drag, "N·m")
        friction = float(drag / train.ratio)
        if mechanics["moved_by_gravity"]:
            pull = rounded(load * Fraction(rng.uniform(5, 40)), 2)
            mechanics["unbalanced_torque"] = spelled(pull, "N·m")
            gravity = float(pull / train.ratio)
            turning = float(max(move.a, move.drive_stop) * factor(train.unit)) * math.tau
            most = float(drag) + float(load) * turning + float(pull)
            returned = 2 * most * float(move.v * factor(train.unit)) * math.tau
    else:
        arm = train.metres_per_radian
        load = rounded(Fraction(rng.uniform(4, 90)), 2)
        mechanics["load_mass"] = spelled(load, "kg")
        reflected = float(load) * arm**2
        if kind == "telescope":
            reflected += _sections(rng, train.extends, mechanics) * arm**2
        drag = rounded(Fraction(rng.uniform(0.3, 2.5)) * load, 2)
        mechanics["friction_force"] = spelled(drag, "N")
        friction = float(drag) * arm
        if mechanics["moved_by_gravity"]:
            share = 1.0
            if mechanics["counterbalance"] != "none":
                share -= float(mechanics["counterbalance"].split()[0]) / 100
            gravity = float(load) * G * share * arm
            acceleration = float(max(move.a, move.drive_stop) * factor(train.unit)) / 1000
            force = float(drag) + float(load) * (acceleration + G)
            returned = 2 * force * float(move.v * factor(train.unit)) / 1000
    rotor = up(reflected / rng.uniform(1.2, 5))
    added = rounded(rotor / rng.choice((4, 6, 10)), 2)
    mechanics["transmission_inertia"] = in_unit(added, "kg cm^2")
    own = float(rotor + added)
    steady = (friction + gravity) / float(eta)
    starting = own * alpha + reflected * alpha / float(eta) + steady
    stopping = (own + reflected) * alpha_stop + gravity
    peak_needed = 1.5 * max(starting, stopping, 2 * gravity, own * 10)
    duty, mean = _duty(move, starting, steady, gravity, own + reflected, alpha)
    rated = up(max(1.4 * mean, peak_needed / 3, 1.5 * steady))
    speed = up(move.turns_per_second * 60 * Fraction(12, 10))
    facts: Plain = {
        "rated_speed": spelled(speed, "rpm"),
        "max_speed": spelled(up(speed * Fraction(14, 10)), "rpm"),
        "rated_torque": spelled(rated, "N·m"),
        "peak_torque": spelled(3 * rated, "N·m"),
        "inertia": in_unit(rotor, "kg cm^2"),
        "brake": "none",
    }
    if mechanics["moved_by_gravity"] or rng.random() < 0.15:
        facts["brake"] = _brake(rng, max(2.2 * gravity, float(rated) / 2))
    return SizedMotor(facts, rated, 3 * rated, gravity, friction, duty, returned)


def _sections(rng: Random, extends: Fraction, mechanics: Plain) -> float:
    """State the sections of a telescope; return the mass at its end that is as inert."""
    shares = [1 / extends]
    if extends > 2 and rng.random() < 0.7:
        shares.append((1 + 1 / extends) / 2)
    masses = [rounded(Fraction(rng.uniform(2, 30)), 2) for _ in shares]
    sections = [
        {"mass": spelled(mass, "kg"), "travel_share": spelled(share)}
        for mass, share in zip(masses, shares, strict=True)
    ]
    mechanics["telescope"] = {"travel_ratio": spelled(extends), "sections": sections}
    return sum(float(m * s * s) for m, s in zip(masses, shares, strict=True))


def _brake(rng: Random, torque: float) -> Plain:
    """A brake with this holding torque in N·m."""
    return {
        "holding_torque": spelled(up(torque), "N·m"),
        "release_time": f"{rng.choice((40, 60, 80))} ms",
        "apply_time": f"{rng.choice((20, 30, 40))} ms",
        "voltage": "24 V",
    }


def _duty(
    move: AxisMotion, starting: float, steady: float, gravity: float, inertia: float, alpha: float
) -> tuple[list[Plain], float]:
    """Start, run, stop and rest, and the root mean square torque of that."""
    ramp = float(move.v / move.a)
    stopping = gravity - inertia * alpha
    rows = [(starting, ramp), (steady, 2 * ramp), (stopping, ramp), (gravity, 4 * ramp)]
    mean = math.sqrt(sum(t * t * s for t, s in rows) / sum(s for _, s in rows))
    duty = [
        {
            "torque": spelled(rounded(Fraction(torque), 2), "N·m"),
            "time": in_unit(up(seconds, 3), "ms"),
        }
        for torque, seconds in rows
    ]
    return duty, mean
