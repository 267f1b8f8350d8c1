"""A second encoder for sound axes: a load encoder beside that of the motor, or the other way round.

Dice of their own keep the machines as they were without it. About a quarter of the axes that can
have one get one.
"""

from __future__ import annotations

import math
from fractions import Fraction
from random import Random

from .mechanics import up
from .plain_axis import Plain, PlainAxis, factor, in_unit, rounded, spelled

SECOND = "second_encoder"
DRIVE = "drive.second_encoder"
MONITORING = "drive.encoder_monitoring"


def equip(seed: int, built: Plain) -> None:
    """Give some axes of a machine a second encoder, in place."""
    rng = Random(f"second encoder {seed}")
    for name in built["axes"]:
        if rng.random() < Fraction(1, 3):
            changed = PlainAxis(built, name).changed()
            if _add(rng, changed):
                built["axes"][name] = changed.facts


def has_second(a: PlainAxis) -> bool:
    return bool(a.get(SECOND))


def load_side(a: PlainAxis, which: str) -> bool:
    """Whether one of the two encoders is on the load."""
    return bool(a.get(f"{which}.mounted_on") == "load")


def counts_per_unit(a: PlainAxis, which: str) -> Fraction:
    """Counts per mm or revolution of the load, of one of the two encoders."""
    step = a.base(f"{which}.measuring_step")
    if step is not None:
        return 1 / step
    lines = a.base(f"{which}.lines_per_revolution")
    counts = a.need(f"{which}.counts_per_revolution") if lines is None else lines * 4
    turns = a.ratio
    if load_side(a, which):
        turns = a.base(f"{which}.turns_per_driving_shaft_turn") or Fraction(1)
    return counts * turns / a.feed


def smallest_slip(a: PlainAxis) -> Fraction:
    """What the smallest slip between the encoders moves: a tooth of one stage, or a motor turn."""
    slips = [a.per_motor_turn]
    stages = a.get("mechanics.stages") or []
    if len(stages) == 1 and stages[0]["kind"] in ("belt", "chain"):
        teeth = a.base("mechanics.stages.0.load_side_teeth")
        if teeth is not None:
            slips.append(a.feed / teeth)
    scale = "linear" in (a.get(f"{SECOND}.form"), a.get("encoder.form"))
    if scale and a.get("mechanics.final.kind") in ("belt", "chain"):
        # A tooth of the driven section moves the last one of a telescope further.
        slips.append(
            a.need("mechanics.final.pitch") * (a.base("mechanics.telescope.travel_ratio") or 1)
        )
    return min(slips)


def typed(counts: Fraction, unit: str) -> Plain:
    """A scaling of counts per base unit, as a pair: exact if it can be, else of 12 figures."""
    per_unit = counts * factor(unit)
    if per_unit.denominator < 10**6 and per_unit.numerator < 10**12:
        return {"counts": per_unit.numerator, "distance": spelled(per_unit.denominator, unit)}
    distance = rounded(1000000 / per_unit, 12)
    return {"counts": 1000000, "distance": spelled(distance, unit)}


def _add(rng: Random, a: PlainAxis) -> bool:
    if a.partners or not a.turns_shaft or a.get("controller.position_matters") is False:
        return False
    if a.endless and a.has_pi:
        return False
    on_load = a.get("encoder.mounted_on") == "motor"
    a.facts[SECOND] = _load_encoder(rng, a) if on_load else _motor_encoder(rng, a)
    a.facts[SECOND] |= {"count_direction": rng.choice(("same", "reversed")), "serial": _serial(a)}
    near, far = ("encoder", SECOND) if on_load else (SECOND, "encoder")
    loop = rng.choice((near, far, far))
    if (a.endless or a.get("drive.gear") or a.get("drive.position_range")) and loop == SECOND:
        loop = "encoder"
    if counts_per_unit(a, loop) * 10 * a.need("mechanics.required_accuracy") < 100:
        loop = "encoder"
    a.facts["drive"] |= {"position_feedback": loop, "velocity_feedback": near}
    a.facts["controller"]["homing"]["encoder"] = "encoder"
    if loop == SECOND:
        for each in ("scaling", "counts_per_unit"):
            a.facts["controller"].pop(each, None)
        a.facts["controller"]["scaling"] = typed(counts_per_unit(a, SECOND), a.unit)
    _tell_drive(rng, a)
    commutation = a.get("motor.commutation")
    if commutation:
        commutation["encoder_serial"] = a.get(f"{near}.serial")
    return _monitor(rng, a, load_side(a, loop))


def _serial(a: PlainAxis) -> str:
    return str(a.facts["encoder"]["serial"]).replace("E-", "F-")


def _load_encoder(rng: Random, a: PlainAxis) -> Plain:
    top = a.need("controller.max_velocity")
    if a.get("motion") == "linear" and not a.endless and rng.random() < 0.6:
        step = Fraction(rng.choice((1, 5, 10)), 10000)
        return {
            "kind": "incremental",
            "form": "linear",
            "mounted_on": "load",
            "measuring_step": in_unit(step, "um"),
            "max_frequency": in_unit(up(top / step * 2), "count/s"),
        }
    its = Fraction(rng.choice(("1", "1", "2", "5/2", "5/3", "7/3")))
    facts: Plain = {"form": "rotary", "mounted_on": "load"}
    facts["turns_per_driving_shaft_turn"] = int(its) if its.denominator == 1 else spelled(its)
    return facts | _rotary(rng, a, a.feed / its)


def _motor_encoder(rng: Random, a: PlainAxis) -> Plain:
    return {"form": "rotary", "mounted_on": "motor", **_rotary(rng, a, a.per_motor_turn)}


def _rotary(rng: Random, a: PlainAxis, turn: Fraction) -> Plain:
    """Facts of a rotary encoder of which one revolution moves the load by ``turn``."""
    top = a.need("controller.max_velocity") / turn
    facts: Plain = {"max_speed": f"{max(6000, math.ceil(top * 120))} rpm"}
    kind = rng.choice(("incremental", "absolute_singleturn", "absolute_multiturn"))
    facts["kind"] = kind
    if kind == "incremental":
        lines = rng.choice((1024, 2048, 5000))
        facts |= {"lines_per_revolution": lines, "edges_per_line": 4}
        facts["max_frequency"] = in_unit(up(top * lines * 8), "count/s")
        return facts
    facts["counts_per_revolution"] = 1 << rng.choice((13, 17, 20, 23))
    if kind == "absolute_multiturn":
        turns = 4096
        while not a.endless and turns * turn < 2 * a.span:
            turns *= 2
        facts["distinguishable_revolutions"] = turns
        facts["turn_counter"] = {"backup": rng.choice(("battery", "batteryless"))}
    return facts


def _tell_drive(rng: Random, a: PlainAxis) -> None:
    """Set the drive to the second encoder: as a pair, or by counts, ratio and feed constant."""
    told: Plain = {"direction": a.get(f"{SECOND}.count_direction")}
    if a.get(f"{SECOND}.form") == "linear" or rng.random() < 0.4:
        told["scaling"] = typed(counts_per_unit(a, SECOND), a.unit)
    else:
        lines = a.get(f"{SECOND}.lines_per_revolution")
        told["counts_per_revolution"] = (
            lines * 4 if lines else a.get(f"{SECOND}.counts_per_revolution")
        )
        turns = a.ratio
        if load_side(a, SECOND):
            turns = a.base(f"{SECOND}.turns_per_driving_shaft_turn") or Fraction(1)
        told["gear_ratio"] = {"motor_turns": turns.numerator, "shaft_turns": turns.denominator}
        feed = rounded(a.feed, 12) if a.has_pi else a.feed
        told["feed_constant"] = {"feed": in_unit(feed, a.unit), "shaft_turns": 1}
    a.facts["drive"]["second_encoder"] = told


def _monitor(rng: Random, a: PlainAxis, loop_on_load: bool) -> bool:
    """Monitor the difference, with a window between what bends and what slips."""
    window = rounded(min(a.per_motor_turn / 60, smallest_slip(a) / Fraction(11, 5)), 3)
    backlash = a.need("mechanics.backlash")
    rest = window * Fraction(45, 100) - backlash
    if rest <= 0:
        return False
    bent = rounded(rest * rng.randint(1, 9) / 10, 2)
    a.facts["mechanics"]["elastic_deflection"] = in_unit(bent, a.unit)
    a.facts["drive"]["encoder_monitoring"] = {
        "window": in_unit(window, a.unit),
        "timeout": f"{rng.choice((2, 5, 10))} ms",
        "reaction": "stops" if loop_on_load else rng.choice(("stops", "warns")),
    }
    return True
