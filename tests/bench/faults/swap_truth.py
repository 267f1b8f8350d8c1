"""What is true of a swap: run it as it comes, with every setting written, and after the work."""

from __future__ import annotations

import copy
import math
from dataclasses import dataclass
from fractions import Fraction
from random import Random
from typing import Any

from .plain_axis import PlainAxis, in_unit, parts, spelled
from .swap_axis import DrawnSwap, put_in_place
from .swap_loads import load_inertia, own_inertia
from .swap_memory import taught, to_teach, work_done
from .swap_motion import PROCESS, counts, meant, troubles

VERDICTS = (
    "fits as it is", "fits after settings", "fits with warnings", "cannot be said yet",
    "does not fit",
)  # fmt: skip
"""From the best to the worst."""

FITS = VERDICTS[:3]
NOTHING = "nothing to compare"

BUILT = frozenset({
    "serial", "model", "firmware", "position_register", "supported_homing_methods", "rated_current",
    "peak_current", "supply_voltage", "encoder_protocol", "brake_voltage", "braking_power",
    "feedback_frequency_limit", "command_frequency_limit", "input_scan", "discharge_time",
    "limit_inputs", "gear", "home_input",
})  # fmt: skip
"""What a drive is and not what it is set to; parts of the last three are set, see below."""

STRENGTHS = (
    "motor.rated_torque",
    "motor.peak_torque",
    "motor.brake.holding_torque",
    "drive.rated_current",
    "drive.peak_current",
    "drive.braking_power",
    "encoder.turn_counter.battery.life",
)
"""Facts of which more is more, and of which the axis takes what its load and wear make it take.

How fast it runs is a setting, so speeds and rates need no reserve.
"""

DETUNED = 1.3
"""A loop was tuned for an inertia: beyond this ratio it is another axis. From memory."""


@dataclass(frozen=True)
class SwapTruth:
    """The verdicts that the worlds allow which the files leave open, and what is to be taught."""

    verdicts: frozenset[str]
    teach: frozenset[str]
    surely: frozenset[str]
    """What is to be taught in every such world."""
    why: tuple[str, ...]

    @property
    def verdict(self) -> str:
        """The verdict that a careful person gives."""
        if NOTHING in self.verdicts:
            return NOTHING
        worst = max(self.verdicts, key=rank)
        fits = {each in FITS for each in self.verdicts}
        return worst if len(fits) == 1 else "cannot be said yet"

    @property
    def open(self) -> bool:
        return len(self.verdicts) > 1


def rank(verdict: str) -> int:
    return VERDICTS.index(verdict)


def truth(swap: DrawnSwap, seed: int) -> SwapTruth:
    """Run the swap in every world that the stated facts leave open."""
    verdicts: set[str] = set()
    taught_somewhere: set[str] = set()
    everywhere: set[str] | None = None
    why: tuple[str, ...] = ()
    for axis, spare in worlds(swap):
        if swap.part in WITHOUT_SPARE:
            placed, verdict = axis, NOTHING
            reasons: tuple[str, ...] = ()
        else:
            placed = put_in_place(axis, swap.part, spare)
            verdict, reasons = judged(axis, placed)
        verdicts.add(verdict)
        why = why or reasons
        before = taught(axis, Random(f"memory {seed}"))
        lessons = to_teach(work_done(before, placed, swap.part), before)
        taught_somewhere |= lessons
        everywhere = lessons if everywhere is None else everywhere & lessons
    return SwapTruth(
        frozenset(verdicts), frozenset(taught_somewhere), frozenset(everywhere or ()), why
    )


WITHOUT_SPARE = frozenset({
    "coupling", "belt", "chain", "feedback_cable", "home_switch", "controller", "motor_refitted",
    "backup",
})  # fmt: skip


def worlds(swap: DrawnSwap) -> list[tuple[PlainAxis, dict[str, Any]]]:
    """The true world first, then those where one fact that no file states is another."""
    made = [(axis, swap.spare) for axis in _homed(swap.axis)]
    for each in swap.hidden:
        for other in each.others:
            axis, spare = swap.axis.changed(), copy.deepcopy(swap.spare)
            if each.of_spare:
                DrawnSwap(swap.rng, axis, swap.part, spare).put(each.path, other)
            else:
                axis.put(each.path, other)
                for joined in each.joined:
                    axis.put(joined, other)
                if troubles(axis, axis):
                    continue  # it ran with the fitted part
            made.append((axis, spare))
    if swap.axis.get("controller.duty") is None:
        made.append((_worked_hard(swap.axis), swap.spare))
    return made


def _worked_hard(axis: PlainAxis) -> PlainAxis:
    """The axis whose process takes as much for ever as its motor and drive give.

    How often it moves, and what it presses or cuts, stands in the duty alone; the load tells moves.
    """
    hard = axis.changed()
    rated = axis.need("motor.rated_torque")
    by_drive = rated / axis.need("motor.rated_current") * axis.need("drive.rated_current")
    hard.put(PROCESS, in_unit(min(rated, by_drive), "N·m"))
    return hard


def _homed(axis: PlainAxis) -> list[PlainAxis]:
    """The axis with each method that its name can be, and that its drive knows."""
    known = axis.get("drive.supported_homing_methods") or []
    numbers = [each for each in meant(axis) if each in known]
    if len(numbers) < 2:
        return [axis]
    made = [axis.changed() for _ in numbers]
    for each, number in zip(made, numbers, strict=True):
        each.put("controller.homing.method", number)
    return made


def judged(fitted: PlainAxis, placed: PlainAxis) -> tuple[str, tuple[str, ...]]:
    """The verdict in one world, and why."""
    as_it_comes = troubles(placed, fitted)
    left = troubles(written(fitted, placed), fitted)
    if left:
        return "does not fit", tuple(left)
    less = weaker(fitted, placed)
    if less:
        return "fits with warnings", tuple(less)
    if as_it_comes:
        return "fits after settings", tuple(as_it_comes)
    return "fits as it is", ()


def weaker(fitted: PlainAxis, placed: PlainAxis) -> list[str]:
    """In what the spare has less in reserve than the part that ran here, though it is enough."""
    found = []
    for path in STRENGTHS:
        old, new = fitted.base(path), placed.base(path)
        if old is not None and new is not None and new < old * Fraction(999, 1000):
            found.append(f"{path} is less")
    poles = [each.base("motor.pole_pairs") or 0 for each in (fitted, placed)]
    if poles[1] > poles[0]:
        found.append("the drive has to give a higher frequency, and nobody says whether it can")
    inertias = [own_inertia(each) + load_inertia(each) for each in (fitted, placed)]
    if max(inertias) > DETUNED * min(inertias):
        found.append("the loop is tuned for another inertia")
    if placed.battery and placed.get("encoder.turn_counter.backup") == "batteryless":
        found.append("a battery that nobody needs runs down and raises its alarm")
    lowest, has = placed.get("drive.firmware_minimum"), placed.get("drive.firmware")
    if lowest and has and _version(has) < _version(lowest):
        found.append("the firmware is older than the settings need")
    return found


def _version(text: str) -> tuple[int, ...]:
    return tuple(int(part) for part in text.split("."))


# --- settings -------------------------------------------------------------------------------------


def written(fitted: PlainAxis, placed: PlainAxis) -> PlainAxis:
    """The axis with every setting at the value that suits the part in its place."""
    axis = placed.changed()
    drive, was = axis.facts["drive"], fitted.facts["drive"]
    for name, value in was.items():
        if name not in BUILT:
            drive[name] = copy.deepcopy(value)
    for name in ("negative", "positive", "negative_guards"):
        if name in was.get("limit_inputs", {}) and isinstance(drive.get("limit_inputs"), dict):
            drive["limit_inputs"][name] = was["limit_inputs"][name]
    if "home_input" in was:
        drive["home_input"] = was["home_input"]
    _write_encoder(fitted, axis)
    _write_motor(fitted, axis)
    _write_chain(fitted, axis)
    return axis


def _write_encoder(fitted: PlainAxis, axis: PlainAxis) -> None:
    drive, encoder = axis.facts["drive"], axis.facts["encoder"]
    drive["encoder_direction"] = encoder.get("count_direction")
    if axis.linear_scale:
        return
    able = axis.base("encoder.capability.counts_per_revolution")
    wanted = fitted.base("encoder.counts_per_revolution")
    if able is not None and wanted is not None and wanted <= able:
        encoder["counts_per_revolution"] = int(wanted)
    drive["counts_per_revolution"] = int(counts(axis))
    if not axis.multiturn:
        return
    able = axis.base("encoder.capability.distinguishable_revolutions")
    if able is not None:
        wanted = Fraction(fitted.turns if fitted.multiturn else axis.turns)
        turns = int(min(wanted, able))
        if axis.endless and not axis.get("controller.wraps_retained"):
            share = axis.per_encoder_turn / axis.need("controller.cycle")
            if turns % share.denominator:
                turns = int(able) - int(able) % share.denominator
        if turns:
            encoder["distinguishable_revolutions"] = turns
    drive["distinguishable_revolutions"] = axis.turns


def _write_motor(fitted: PlainAxis, axis: PlainAxis) -> None:
    drive = axis.facts["drive"]
    for name, most in (("torque_limit", "motor.peak_torque"), ("max_speed", "motor.max_speed")):
        limit, stands = axis.base(f"drive.{name}"), axis.base(most)
        if limit is not None and stands is not None and stands < limit:
            drive[name] = axis.get(most)
    for name, takes in (
        ("brake_release_delay", "motor.brake.release_time"),
        ("brake_off_delay", "motor.brake.apply_time"),
    ):
        time, has = axis.base(takes), axis.base(f"drive.{name}")
        if time is not None and (has is None or has < time):
            drive[name] = in_unit(time * 2, "ms")


def _write_chain(fitted: PlainAxis, axis: PlainAxis) -> None:
    """Ratios, and the scaling of controller or electronic gear, where the chain is another one."""
    drive, controller = axis.facts["drive"], axis.facts["controller"]
    drive["gear_ratio"] = {
        "motor_turns": axis.ratio.numerator, "shaft_turns": axis.ratio.denominator,
    }  # fmt: skip
    if axis.linear_scale:
        if isinstance(fitted.facts["drive"].get("gear"), str):
            drive["gear"] = "none"
        return
    old = counts(fitted) / fitted.per_encoder_turn
    change = counts(axis) / axis.per_encoder_turn / old
    gear = fitted.get("drive.gear")
    if gear:
        own = axis.get("drive.gear") or {}
        built = {
            name: own[name] for name in ("multiplies", "min_ratio", "max_ratio") if name in own
        }
        new = gear | built
        times = Fraction(gear["numerator"], gear["denominator"])
        command = (times if gear["multiplies"] == "command" else 1 / times) * change
        times = command if new["multiplies"] == "command" else 1 / command
        drive["gear"] = new | {"numerator": times.numerator, "denominator": times.denominator}
        return
    drive["gear"] = "none"
    if change == 1:
        return
    if axis.get("controller.scaling"):
        number, unit = parts(controller["scaling"]["distance"])
        total = controller["scaling"]["counts"] * change / number
        controller["scaling"] = {
            "counts": total.numerator, "distance": f"{total.denominator} {unit}",
        }  # fmt: skip
    else:
        number, unit = parts(controller["counts_per_unit"])
        controller["counts_per_unit"] = spelled(number * change, unit)
    limits = fitted.get("drive.position_range")
    if limits:
        top = math.floor((limits["max"] + 1) * change) - 1
        drive["position_range"] = {"min": limits["min"], "max": top}


def with_writes(placed: PlainAxis, writes: list[tuple[str, str]]) -> PlainAxis:
    """The axis with the settings that the tool asks for."""
    axis = placed.changed()
    for path, text in writes:
        below = path.removeprefix(f"axes.{axis.name}.")
        keys = below.replace("[", ".").replace("]", "").split(".")
        at: Any = axis.facts
        for key in keys[:-1]:
            if isinstance(at, list):
                at = at[int(key)]
            else:
                if not isinstance(at.get(key), (dict, list)):
                    at[key] = {}
                at = at[key]
        at[keys[-1]] = _typed(text)
    return axis


def _typed(text: str) -> Any:
    if text in ("true", "false", "yes", "no"):
        return text in ("true", "yes")
    bare = text.replace(" ", "")
    return int(bare) if bare.lstrip("-").isdigit() else text
