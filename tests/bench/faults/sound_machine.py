"""Sound machines at random: axes on one network, gantries, axes that can collide, codes."""

from __future__ import annotations

import copy
from random import Random
from typing import get_args

from .axis_design import axis
from .braked_loads import give_brakes
from .coupled_axes import couple
from .crank import crank_some
from .curved_motors import give_curves
from .marks import mark
from .mechanics import Kind
from .plain_axis import Plain
from .swinging import tilt_some
from .two_encoders import equip
from .variations import vary
from .wide_gantries import tell_of_pairs, widen
from .winding import wind_some

KINDS: tuple[Kind, ...] = get_args(Kind)

FLIPPED = {"normal": "reversed", "reversed": "normal", "same": "reversed"}


def machine(
    seed: int,
    axes: int | None = None,
    *,
    varied: bool = True,
    second_encoders: bool = True,
    load_brakes: bool = True,
    index_marks: bool = True,
    windings: bool = True,
    torque_curves: bool = True,
) -> Plain:
    """A sound machine of ``axes`` axes (1 to 8 at random for None); one seed gives one machine.

    Some axes are ``varied`` and may have a second encoder, a brake on the load or a clamp. A
    variation may leave facts out, so that checks are undecided. Linear encoders have index marks.
    Some endless axes are reels, some hoists have drums, and some axes cranks (``windings``).
    Some motors have a torque curve, and some axes a list of moves.
    """
    rng = Random(f"sound machine {seed}")
    wanted = axes or rng.randint(1, 8)
    made: dict[str, Plain] = {}
    while len(made) < wanted:
        kind = rng.choice(KINDS)
        number = len(made) + 1
        name = f"{kind}_{number}"
        made[name] = axis(rng, kind, name, number)
        if kind == "rack":
            _pair(rng, made, name, number + 1)
    built: Plain = {"format": 1, "machine": f"Bench {seed}", "axes": made}
    cycle = min(int(each["controller"]["cycle_time"].split()[0]) for each in made.values())
    built["network"] = {"cycle_time": f"{cycle} ms", "nodes": [_node(a) for a in made.values()]}
    if rng.random() < 0.4:
        station = {"address": max(50, len(made) + 1), "serial": "IO-0815", "drive": False}
        built["network"]["nodes"].append(station)
    if varied:
        widen(seed, built)
        couple(seed, built)
    else:
        tell_of_pairs(built)
    built["collision_pairs"] = _collisions(rng, made)
    built["conditions"] = copy.deepcopy(CONDITIONS)
    tilt_some(seed, built)
    if varied:
        vary(seed, built)
        if second_encoders:
            equip(seed, built)
        if load_brakes:
            give_brakes(seed, built)
    if index_marks:
        mark(seed, built)
    if varied and windings:
        wind_some(seed, built)
        crank_some(seed, built)
    if varied and torque_curves:
        give_curves(seed, built)
    return built


def _node(each: Plain) -> Plain:
    drive = each["drive"]
    same = {"serial": drive["serial"], "firmware": drive["firmware"], "drive": True}
    return {"address": drive["node"], **same}


def _pair(rng: Random, made: dict[str, Plain], name: str, number: int) -> None:
    """Give a rack axis its other side, whose motor may face the first one."""
    leader = made[name]
    follower = copy.deepcopy(leader)
    other = f"rack_{number}"
    for part, letter in (("motor", "M"), ("encoder", "E"), ("drive", "D")):
        follower[part]["serial"] = f"{letter}-{number:05}"
    follower["encoder"]["serial_at_calibration"] = follower["encoder"]["serial"]
    follower["drive"]["node"] = number
    records = [follower["controller"]["homing"]["taught"]]
    if follower["motor"]["commutation"] != "none":
        records.append(follower["motor"]["commutation"])
    for record in records:
        for part in ("motor", "encoder", "drive"):
            if f"{part}_serial" in record:
                record[f"{part}_serial"] = follower[part]["serial"]
    if rng.random() < 0.6:
        _face(follower)
    follower["interlocks"][0]["guidance"] = f"Check squareness, then home and calibrate {other}."
    tolerance = {"racking_tolerance": "0.5 mm"}
    leader["gantry"] = {"partner": other, "role": "leader", **tolerance}
    follower["gantry"] = {"partner": name, "role": "follower", **tolerance}
    made[other] = follower


def _face(each: Plain) -> None:
    """Turn the motor round: the load moves the other way, and the drive corrects the direction."""
    final, drive = each["mechanics"]["final"], each["drive"]
    final["direction"] = "same" if final["direction"] == "reversed" else "reversed"
    polarity = FLIPPED[drive["polarity"]]
    drive["polarity"] = drive["velocity_polarity"] = polarity
    inputs = drive["limit_inputs"]
    if "negative_guards" in inputs and not inputs["follows_polarity"]:
        guards = inputs["negative_guards"]
        inputs["negative_guards"] = "positive" if guards == "negative" else "negative"
    # Seen from the encoder, the travel now lies the other way round its zero.
    counter = each["encoder"]["turn_counter"]
    turns = each["encoder"]["distinguishable_revolutions"]
    counter["reading_at_reference"] = (turns - 1 - counter["reading_at_reference"]) % turns


def _collisions(rng: Random, made: dict[str, Plain]) -> list[dict[str, str]]:
    """Perhaps a pair of axes that can collide; the second homes after the first."""
    free = [
        name
        for name, each in made.items()
        if each["gantry"] == "none" and "differential" not in each
    ]
    if len(free) < 2 or rng.random() < 0.5:
        return []
    first, second = rng.sample(free, 2)
    made[second]["controller"]["homing"]["after"] = [first]
    return [{"first": first, "second": second}]


CONDITIONS: list[Plain] = [
    {
        "code": "cell-weak",
        "condition": "battery_low",
        "cleared_by": ["by_itself"],
        "guidance": "Change the battery this week. Leave the control supply on.",
    },
    {
        "code": "cell-empty",
        "condition": "battery_dead",
        "cleared_by": ["encoder_reset", "power_cycle", "homing"],
        "guidance": "Do not run the axis. Change the battery, then home and calibrate.",
    },
    {
        "code": "place-lost",
        "condition": "position_lost",
        "cleared_by": ["encoder_reset", "power_cycle", "homing"],
        "guidance": "Do not run the axis. Home and calibrate it.",
    },
    {
        "code": "turns-differ",
        "condition": "turn_count_disagreement",
        "cleared_by": ["alarm_reset", "homing"],
        "guidance": "Do not run the axis. Call maintenance.",
    },
    {
        "code": "motor-new",
        "condition": "motor_unlike_record",
        "cleared_by": ["power_cycle", "homing"],
        "guidance": "Do not run the axis. Call maintenance, then home and calibrate.",
    },
    {
        "code": "drive-new",
        "condition": "drive_unlike_record",
        "cleared_by": ["power_cycle", "homing"],
        "guidance": "Do not run the axis. Call maintenance, then home and calibrate.",
    },
    {
        "code": "angle-open",
        "condition": "commutation_unknown",
        "cleared_by": ["commutation_teaching", "power_cycle"],
        "guidance": "Do not enable the axis. Call maintenance.",
    },
    {
        "code": "lag",
        "condition": "following_error",
        "cleared_by": ["alarm_reset"],
        "guidance": "Look for what blocks the axis before you reset.",
    },
]
