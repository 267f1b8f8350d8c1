"""Torque over speed and the moves of a cycle for sound axes.

Dice of their own keep the machines as they were without them. What the load takes is worked out in
floats, as bounds and not phase by phase, so in another way than axisproof does it.
"""

from __future__ import annotations

import math
from fractions import Fraction
from random import Random

from .braked_loads import at_shaft, pull
from .mechanics import up
from .plain_axis import Plain, PlainAxis, factor, in_unit, rounded, spelled

CURVE, CYCLE = "motor.torque_curve", "controller.motion_cycle"
POINTS, MOVES = f"{CURVE}.points", f"{CYCLE}.moves"
V, A = "controller.max_velocity", "controller.max_acceleration"
BUS = {"400 V": "540 V", "230 V": "310 V", "48 V": "47 V"}
"""Supply voltages, and the bus voltage behind them under load."""


def give_curves(seed: int, built: Plain) -> None:
    """State the torque curve of some motors, and the moves of some axes, in place."""
    rng = Random(f"torque curve {seed}")
    for name in built["axes"]:
        curved, moving = rng.random() < 0.35, rng.random() < 0.3
        a = PlainAxis(built, name)
        if not a.turns_shaft or a.get("gantry") or a.get("differential"):
            continue
        if a.get("controller.position_matters") is False or not _is_sized(a):
            continue
        if curved:
            _add_curve(rng, a)
        if moving and not _swings(a):
            a.facts["motor"].setdefault("torque_curve", "none")
            _add_cycle(rng, a)


# --- what the load takes, in N·m at the motor -----------------------------------------------------


def top_speed(a: PlainAxis) -> Fraction:
    """Revolutions of the motor per second at the highest velocity."""
    return a.need(V) / a.per_motor_turn


def at_motor(a: PlainAxis, force: Fraction) -> float:
    """The torque at the motor of a force along the travel, or of a torque of the load."""
    return float(at_shaft(a, force) / a.ratio)


def own_inertia(a: PlainAxis) -> float:
    return float(a.need("motor.inertia") + a.need("mechanics.transmission_inertia"))


def load_inertia(a: PlainAxis) -> float:
    if a.get("motion") == "rotary":
        return float(a.need("mechanics.load_inertia") / a.ratio**2)
    return float(a.inert_mass) * (float(a.per_motor_turn) / 1000 / math.tau) ** 2


def friction(a: PlainAxis) -> float:
    kind = "torque" if a.get("motion") == "rotary" else "force"
    return at_motor(a, a.base(f"mechanics.friction_{kind}") or Fraction(0))


def weight(a: PlainAxis) -> float:
    """What gravity pulls with at the most: as much as friction holds where it moves nothing."""
    if not a.get("mechanics.moved_by_gravity"):
        return friction(a)
    more = Fraction(1)
    if a.get("motion") == "linear":
        more = a.weighing_mass / a.need("mechanics.load_mass")
    return at_motor(a, pull(a) * more)


def turning(a: PlainAxis, acceleration: Fraction) -> float:
    """rad/s² of the motor."""
    return float(acceleration / a.per_motor_turn) * math.tau


def efficiency(a: PlainAxis) -> float:
    return float(a.need("mechanics.efficiency"))


def most(a: PlainAxis) -> float:
    """More than any move or stop takes."""
    hardest = max(
        a.need(A),
        a.base("drive.stop_reaction.deceleration") or Fraction(0),
        a.base("controller.stop.deceleration") or Fraction(0),
    )
    eta, load = efficiency(a), load_inertia(a)
    start = own_inertia(a) * turning(a, a.need(A))
    start += (load * turning(a, a.need(A)) + friction(a) + weight(a)) / eta
    stop = (own_inertia(a) + load) * turning(a, hardest) + weight(a)
    return max(start, stop)


def least_start(a: PlainAxis) -> float:
    """No more than the start at the highest acceleration takes."""
    load = load_inertia(a) * turning(a, a.need(A)) + friction(a)
    return own_inertia(a) * turning(a, a.need(A)) + load / efficiency(a)


def _is_sized(a: PlainAxis) -> bool:
    needed = ("motor.rated_torque", "motor.peak_torque", "motor.max_speed", "motor.rated_speed")
    return all(a.base(path) is not None for path in (*needed, "motor.inertia", V, A))


def _swings(a: PlainAxis) -> bool:
    """How hard gravity pulls depends on where the axis or another one stands."""
    turned = a.get("motion") == "rotary" and a.get("mechanics.moved_by_gravity")
    return bool(turned or a.get("mechanics.tilted_by"))


# --- the curve ------------------------------------------------------------------------------------


def _add_curve(rng: Random, a: PlainAxis) -> None:
    rated, peak = a.need("motor.rated_torque"), a.need("motor.peak_torque")
    base, top, end = a.need("motor.rated_speed"), top_speed(a), a.need("motor.max_speed")
    enough = Fraction(most(a)) * Fraction(11, 10)
    if enough > peak or not top * Fraction(11, 10) < end or base >= end:
        return
    knee = max(enough, peak * rng.choice((1, Fraction(9, 10), Fraction(8, 10))))
    left = max(min(peak / 2, knee), enough if top > base else Fraction(0))
    last = min(rated * base / end * Fraction(98, 100), left)
    rows = [(base / 2, rated * Fraction(102, 100), peak), (base, rated, knee), (end, last, left)]
    if rated > knee:
        return
    a.facts["motor"]["torque_curve"] = {
        "voltage": (supply := rng.choice(tuple(BUS))),
        "between_points": rng.choice(("straight", "lower")),
        "points": [
            {
                "speed": in_unit(speed, "rpm"),
                "continuous_torque": spelled(rounded(steady, 4), "N·m"),
                "peak_torque": spelled(rounded(most_, 4), "N·m"),
            }
            for speed, steady, most_ in rows
        ],
    }
    drive = a.facts["drive"]
    drive |= {"supply_voltage": supply, "bus_voltage": BUS[supply]}
    bus = Fraction(BUS[supply].split()[0])
    constant = bus / Fraction(math.sqrt(2)) / (max(top, base) * 60 * Fraction(5, 4))
    a.facts["motor"]["voltage_constant"] = spelled(rounded(constant * 1000, 4), "V/krpm")


# --- the moves ------------------------------------------------------------------------------------


def _say(a: PlainAxis, value: Fraction, per: str = "") -> str:
    return f"{in_unit(value, a.unit)}{per}"


def profile(distance: Fraction, v: Fraction, a: Fraction) -> float:
    """The time of a move from standstill to standstill, without a jerk limit."""
    if abs(distance) * a >= v * v:
        return float(abs(distance) / v + v / a)
    return 2 * math.sqrt(abs(distance) / a)


def _add_cycle(rng: Random, a: PlainAxis) -> None:
    """Out and back with a smaller load, with as much rest as the motor needs."""
    v, acc = a.need(V), a.need(A)
    way = v * v / acc * rng.choice((Fraction(1, 2), 2, 3))
    if not a.endless:
        low, high = (
            a.base("controller.software_limits.min"),
            a.base("controller.software_limits.max"),
        )
        if low is None or high is None:
            return
        way = min(way, (high - low) * Fraction(8, 10))
    way = rounded(way / factor(a.unit), 3) * factor(a.unit)
    jerk = a.base("controller.max_jerk")
    moves: list[Plain] = []
    for name, sign, share in (
        ("out", 1, Fraction(1)),
        ("back", 1 if a.endless else -1, Fraction(7, 10)),
    ):
        took = profile(way, v * share, acc) + (float(acc / jerk) if jerk else 0)
        moves.append(
            {
                "name": name,
                "distance": _say(a, sign * way),
                "velocity": _say(a, v * share, "/s"),
                "acceleration": _say(a, acc, "/s^2"),
                "time": in_unit(up(took * 1.02, 4), "ms"),
                **_carried(a, Fraction(1) if a.get("mechanics.counterbalance") else share),
            }
        )
    thermal = float(a.need("motor.rated_torque")) * 0.8
    moved = sum(float(Fraction(each["time"].split()[0])) / 1000 for each in moves)
    pulls = weight(a) if a.get("mechanics.moved_by_gravity") else 0.0
    if pulls >= thermal:
        return
    # Moving takes no more than this, and resting no more than the weight.
    rest = moved * (most(a) ** 2 - thermal**2) / (thermal**2 - pulls**2)
    for each in moves:
        each["dwell"] = in_unit(up(max(rest / 2, 0.05), 3), "ms")
    total = sum(Fraction(m[key].split()[0]) for m in moves for key in ("time", "dwell"))
    if a.get("mechanics.moved_by_gravity") or a.base("mechanics.inclination"):
        a.facts["mechanics"].setdefault("falls_towards", "negative")
    a.facts["controller"]["motion_cycle"] = {"repeats_after": spelled(total, "ms"), "moves": moves}


def _carried(a: PlainAxis, share: Fraction) -> Plain:
    if a.get("motion") == "rotary":
        inertia = a.need("mechanics.load_inertia") * share
        return {"load_inertia": spelled(inertia, "kg m^2"), "process_torque": "0 N·m"}
    mass = a.need("mechanics.load_mass") * share
    return {"load_mass": spelled(mass, "kg"), "process_force": "0 N"}
