"""Sound gantries of two to four members, with torque that they share or not.

Dice of their own keep the other machines as they were.
"""

from __future__ import annotations

import copy
from fractions import Fraction
from random import Random

from .plain_axis import Plain, PlainAxis, in_unit, parts


def widen(seed: int, built: Plain) -> None:
    """Give some gantries of a machine a third and a fourth member, in place."""
    rng = Random(f"gantry {seed}")
    axes = built["axes"]
    for name in [*axes]:
        gantry = axes[name]["gantry"]
        if gantry == "none" or gantry["role"] != "leader" or rng.random() < 0.4:
            continue
        follower = gantry.pop("partner")
        members = [follower]
        for _ in range(rng.choice((1, 1, 2))):
            members.append(_another(built, name, follower, len(axes) + 1))
        rng.shuffle(members)
        gantry["followers"] = members
    for name in [*axes]:
        if axes[name]["gantry"] != "none" and axes[name]["gantry"]["role"] == "leader":
            reserve = rng.choice((Fraction(1), Fraction(1), Fraction(9, 10)))
            _share(PlainAxis(built, name), reserve, shared=rng.random() < 0.3)


def tell_of_pairs(built: Plain) -> None:
    """State of each gantry its whole mass, and that each member has a loop of its own."""
    for name, axis in built["axes"].items():
        if axis["gantry"] != "none" and axis["gantry"]["role"] == "leader":
            _share(PlainAxis(built, name), Fraction(1), shared=False)


def _share(leader: PlainAxis, reserve: Fraction, *, shared: bool) -> None:
    """State the whole mass of a gantry, and if its followers take torque from the leader."""
    gantry = leader.facts["gantry"]
    names = gantry.get("followers") or [gantry["partner"]]
    members = [leader, *map(leader.of, names)]
    masses = [each.need("mechanics.load_mass") for each in members]
    unit = parts(leader.get("mechanics.load_mass"))[1]
    gantry["moved_mass"] = in_unit(sum(masses) * reserve, unit)
    for each in members:
        each.facts["gantry"]["torque"] = "shared" if shared else "separate"
        if shared and each is not leader:
            each.facts["controller"] |= {"position_matters": False, "homing": "none"}
            each.facts["controller"]["software_limits"] = "none"


def _another(built: Plain, leader: str, follower: str, number: int) -> str:
    """Add one more member like a follower, with its own parts and node."""
    axes = built["axes"]
    name, each = f"rack_{number}", copy.deepcopy(axes[follower])
    old = {part: each[part]["serial"] for part in ("motor", "encoder", "drive")}
    new = {old[part]: f"{letter}-{number:05}" for part, letter in zip(old, "MED", strict=True)}
    axes[name] = renamed(each, {**new, follower: name})
    axes[name]["drive"]["node"] = number
    axes[name]["interlocks"][0]["guidance"] = f"Check squareness, then home and calibrate {name}."
    drive = axes[name]["drive"]
    node = {"address": number, "serial": drive["serial"], "firmware": drive["firmware"]}
    built["network"]["nodes"].append({**node, "drive": True})
    return name


def renamed(value: object, names: dict[str, str]) -> Plain:
    """A copy of a record in which some texts are replaced."""

    def each(part: object) -> object:
        if isinstance(part, dict):
            return {key: each(inner) for key, inner in part.items()}
        if isinstance(part, list):
            return [each(inner) for inner in part]
        return names.get(part, part) if isinstance(part, str) else part

    found = each(value)
    assert isinstance(found, dict)
    return found
