"""Sound axes whose weight pulls by where they stand: arms, and axes that another axis tilts.

The angles are worked out by sampling, in another way than axisproof does it.
"""

from __future__ import annotations

import math
from fractions import Fraction
from random import Random

from .plain_axis import Plain, PlainAxis, in_unit, rounded, spelled

G = 9.80665
UNBALANCE, TILTED = "mechanics.unbalance", "mechanics.tilted_by"
STEPS = 2000


def largest_sine(low: float, high: float) -> float:
    """The largest |sin| from one angle to another, in turns, by trying many."""
    angles = [low + (high - low) * step / STEPS for step in range(STEPS + 1)]
    return max(abs(math.sin(math.tau * angle)) for angle in angles)


def rests_between(low: float, high: float) -> bool:
    """Whether a whole half turn lies between two angles, by trying many."""
    sines = [math.sin(math.tau * (low + (high - low) * s / STEPS)) for s in range(1, STEPS)]
    return min(sines) < 0 < max(sines)


def reach(a: PlainAxis) -> tuple[float, float]:
    """From hard stop to hard stop in turns; a whole turn without stops."""
    if a.get("mechanics.travel") is None:
        return 0.0, 1.0
    return float(a.need("mechanics.travel.min")), float(a.need("mechanics.travel.max"))


def swing(a: PlainAxis) -> tuple[float, float]:
    """The reach of an arm from where its load hangs, in turns."""
    low, high = reach(a)
    hangs = float(a.need(f"{UNBALANCE}.lowest_at"))
    return low - hangs, high - hangs


def tilt(a: PlainAxis) -> tuple[float, float]:
    """How far the axis that tilts this one does so, in turns."""
    low, high = reach(a.of(a.get(f"{TILTED}.axis")))
    level = float(a.need(f"{TILTED}.level_at"))
    return low - level, high - level


def lever(a: PlainAxis) -> float:
    """The largest share of the weight that can turn an arm."""
    if a.get(TILTED):
        low, high = tilt(a)
        return largest_sine(low + 0.25, high + 0.25)
    return abs(math.cos(math.tau * float(a.need(f"{UNBALANCE}.axis_tilt"))))


def pull(a: PlainAxis) -> float:
    """The largest torque in N·m with which the weight turns an arm."""
    moment = float(a.need(f"{UNBALANCE}.mass") * a.need(f"{UNBALANCE}.radius")) / 1000
    return moment * G * largest_sine(*swing(a)) * lever(a)


def tilted_share(a: PlainAxis) -> float:
    """The largest share of the weight along a travel that another axis tilts; 1 if none does."""
    return largest_sine(*tilt(a)) if a.get(TILTED) else 1.0


def falls_both_ways(a: PlainAxis) -> bool:
    """Whether gravity moves the load to one end here and to the other end there."""
    if a.get(UNBALANCE):
        return bool(a.get(TILTED)) or rests_between(*swing(a))
    return bool(a.get(TILTED)) and rests_between(*tilt(a))


def give_weight(rng: Random, name: str, facts: Plain) -> None:
    """State the weight of an arm by mass and place, for the unbalanced torque it was sized for."""
    a = PlainAxis({"axes": {name: facts}}, name)
    torque = float(a.need("mechanics.unbalanced_torque"))
    low, high = reach(a)
    weight: Plain = {"axis_tilt": rng.choice(("0 deg", "0 deg", "0 deg", "30 deg", "-17.5 deg"))}
    facts["mechanics"]["unbalance"] = weight | {"mass": "1 kg", "radius": "1000 mm"}
    middle = (low + high) / 2
    while True:
        weight["lowest_at"] = in_unit(Fraction(rng.randint(-3600, 3600), 3600), "deg")
        facts["mechanics"]["unbalance"]["lowest_at"] = weight["lowest_at"]
        if largest_sine(*swing(a)) > 0.5 and _clear_of_rest(swing(a)):
            break
    moment = torque / (G * largest_sine(*swing(a)) * lever(a))
    inertia = float(a.need("mechanics.load_inertia"))
    radius = rounded(Fraction(rng.uniform(0.3, 0.9) * inertia / moment), 3)
    mass = rounded(Fraction(moment) / radius, 4)
    facts["mechanics"]["unbalance"] |= {
        "mass": spelled(mass, "kg"),
        "radius": spelled(radius * 1000, "mm"),
    }
    if rng.random() < 0.5:
        del facts["mechanics"]["unbalanced_torque"]
    if not falls_both_ways(a):
        positive = math.sin(math.tau * (middle - float(a.need(f"{UNBALANCE}.lowest_at")))) < 0
        facts["mechanics"]["falls_towards"] = "positive" if positive else "negative"


def _clear_of_rest(ends: tuple[float, float]) -> bool:
    """No end lies close to where the load hangs or stands, where sampling could miss it."""
    return all(abs(end * 2 - round(end * 2)) > 0.01 for end in ends)


def tilt_some(seed: int, built: Plain) -> None:
    """Let rotary axes between stops tilt other axes of a machine, in place."""
    rng = Random(f"tilted {seed}")
    names = list(built["axes"])
    carriers = [
        name
        for name in names
        if (a := PlainAxis(built, name)).get("motion") == "rotary" and not a.endless
    ]
    for name in names:
        others = [each for each in carriers if each != name]
        a = PlainAxis(built, name)
        if not others or not a.turns_shaft or not a.get("mechanics.moved_by_gravity"):
            continue
        if rng.random() < Fraction(1, 2) and a.get("mechanics.counterbalance") is None:
            _tilt(rng, a, rng.choice(others))


def _tilt(rng: Random, a: PlainAxis, carrier: str) -> None:
    """Tilt a hanging axis so far that nearly all of its weight can pull."""
    if a.get(UNBALANCE) and carrier == a.name:
        return
    before = a.facts["mechanics"]
    made: Plain = {"axis": carrier, "level_at": "0 deg"}
    low, high = reach(a.of(carrier))
    for _ in range(40):
        at = Fraction(rng.uniform(low - 0.3, high + 0.3))
        made["level_at"] = in_unit(round(at * 3600) / Fraction(3600), "deg")
        changed = {**before, "tilted_by": made}
        tilted = PlainAxis(
            {"axes": {**a.machine["axes"], a.name: {**a.facts, "mechanics": changed}}}, a.name
        )
        if not _clear_of_rest(tilt(tilted)):
            continue
        if a.get("motion") == "linear" and largest_sine(*tilt(tilted)) > 0.9:
            a.facts["mechanics"] = changed
            _say_slope(rng, a)
            return
        if a.get(UNBALANCE) and 0.98 * lever(a) < lever(tilted) <= lever(a):
            weight = dict(before["unbalance"])
            del weight["axis_tilt"]
            a.facts["mechanics"] = {**changed, "unbalance": weight}
            a.facts["mechanics"].pop("falls_towards", None)
            return


def _say_slope(rng: Random, a: PlainAxis) -> None:
    mechanics = a.facts["mechanics"]
    mechanics.pop("falls_towards", None)
    mechanics.pop("inclination", None)
    if rng.random() < 0.6:
        steepest = math.degrees(math.asin(largest_sine(*tilt(a))))
        mechanics["inclination"] = f"{steepest:.1f} deg"
    if not falls_both_ways(a):
        mechanics["falls_towards"] = rng.choice(("negative", "positive"))
