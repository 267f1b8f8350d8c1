"""Kinds of swap of a linear motor and of the drive that feeds it: force and current.

A linear motor has no shaft, so it does not run in ``swap_motion``. What is simulated here is the
force of its moves and stops (elementary mechanics); what must be taught is not.
"""

from __future__ import annotations

import copy
import math
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from random import Random
from typing import TYPE_CHECKING, Any, TypeAlias

from .plain_axis import PlainAxis, factor, parts, rounded, spelled
from .sound_machine import machine
from .swap_axis import DrawnSwap, put_in_place, spare_like_fitted
from .swap_loads import G

if TYPE_CHECKING:
    from .swap_measure import SwapOutcome

GROUP = "linear motor"
POOL = 3000

RESERVE = Fraction(13, 10)
"""A spare called strong enough has this much more than a careful person asks for."""

Alter: TypeAlias = Callable[[DrawnSwap], bool]


@dataclass(frozen=True)
class Forces:
    """In N: the highest of moves and stops, and the effective one of moves with rests.

    ``careful`` is the highest one for somebody who does not count on friction to help in a stop.
    """

    peak: Fraction
    rms: Fraction
    careful: Fraction


def forces(axis: PlainAxis) -> Forces:
    """Start up, run, brake and rest, and stop as hard as it is set on the way down."""
    mass = axis.need("mechanics.load_mass") + axis.need("motor.moving_mass")
    drag = axis.need("mechanics.friction_force")
    weight = mass * Fraction(G) * _weight_share(axis)
    weight *= 1 - (axis.base("mechanics.counterbalance") or 0)
    rate = _metres(axis, "controller.max_acceleration")
    quick = max(
        rate,
        _metres(axis, "controller.stop.deceleration"),
        _metres(axis, "drive.stop_reaction.deceleration"),
    )
    start, steady = mass * rate + drag + weight, drag + weight
    braking, stop = weight - drag - mass * rate, mass * quick + abs(weight) - drag
    ramp = _metres(axis, "controller.max_velocity") / rate
    rows = ((start, ramp), (steady, 2 * ramp), (braking, ramp), (weight, 4 * ramp))
    mean = sum(f * f * s for f, s in rows) / sum(s for _, s in rows)
    peak = max(start, abs(braking), stop)
    return Forces(peak, Fraction(math.sqrt(mean)), peak + 2 * drag)


def _weight_share(axis: PlainAxis) -> Fraction:
    """The share of the weight along the travel; a slope that friction holds has one too."""
    slope = axis.base("mechanics.inclination")
    if slope is None:
        return Fraction(1 if axis.get("mechanics.moved_by_gravity") else 0)
    return Fraction(math.sin(float(slope) * math.tau))


def _metres(axis: PlainAxis, path: str) -> Fraction:
    if axis.get(path) is None:
        return Fraction(0)
    number, unit = parts(axis.get(path))
    return number * factor(unit) / 1000


@cache
def linear_axis(seed: int) -> PlainAxis | None:
    """A sound axis with a linear motor, its force and its currents; None if it has another."""
    made = copy.deepcopy(
        machine(
            seed,
            1,
            second_encoders=False,
            load_brakes=False,
            index_marks=False,
            windings=False,
            torque_curves=False,
        )
    )
    axis = PlainAxis(made, next(iter(made["axes"])))
    if axis.turns_shaft or axis.get("mechanics.moved_by_gravity"):
        return None
    rng = Random(f"linear axis {seed}")
    load, per_amp = forces(axis), Fraction(rng.choice((30, 45, 60)))
    share = Fraction(rng.choice((5, 14)), 10)
    rated = rounded(max(load.rms * Fraction(14, 10), load.careful * share), 3)
    peak = rounded(max(load.careful * Fraction(17, 10), rated * 2), 3)
    volts = rng.choice(("230 V", "400 V"))
    axis.facts["motor"] |= {
        "model": "LM 1", "pole_pairs": 1, "rated_voltage": volts, "flange": "plate 120",
        "shaft": "no shaft", "rated_force": spelled(rated, "N"), "peak_force": spelled(peak, "N"),
        "rated_current": _amps(rated / per_amp), "peak_current": _amps(peak / per_amp),
        "force_constant": spelled(per_amp, "N/A"), "brake": "none",
    }  # fmt: skip
    axis.facts["drive"]["force_limit"] = axis.facts["motor"]["peak_force"]
    reserve = Fraction(rng.choice((11, 13, 16)), 10)
    axis.facts["drive"] |= {
        "model": "SD 20", "supply_voltage": volts, "discharge_time": "5 min",
        "rated_current": _amps(rated / per_amp * reserve),
        "peak_current": _amps(peak / per_amp * reserve),
        "brake_voltage": "none", "encoder_protocol": "serial A",
    }  # fmt: skip
    axis.facts["encoder"] |= {"protocol": "serial A", "supply_voltage": "5 V"}
    axis.facts["mechanics"] |= {"self_locking": False, "load_lock": False}
    axis.facts["storage"] |= {"homed_flag": "drive", "commutation": "drive", "offset": "drive"}
    return axis


def _amps(value: Fraction) -> str:
    return spelled(rounded(value, 4), "A")


# --- what is true ---------------------------------------------------------------------------------


def true_verdict(swap: DrawnSwap) -> tuple[str, str]:
    """The verdict of the simulation, and why; empty if the file leaves it open."""
    placed, load = put_in_place(swap.axis, swap.part, swap.spare), forces(swap.axis)
    of = placed.need
    if load.rms > of("motor.rated_force"):
        return "does not fit", "the motor gets too hot"
    if load.peak > of("motor.peak_force"):
        return "does not fit", "the motor is too weak for its moves"
    takes = load.rms * of("motor.rated_current") / of("motor.rated_force")
    if takes > of("drive.rated_current"):
        return "does not fit", "the drive gets too hot"
    if load.peak * of("motor.peak_current") / of("motor.peak_force") > of("drive.peak_current"):
        return "does not fit", "the drive gives too little current for the moves"
    for path in (
        "motor.rated_force",
        "motor.peak_force",
        "drive.rated_current",
        "drive.peak_current",
    ):
        if of(path) < swap.axis.need(path):
            return "fits with warnings", f"{path} is less"
    return "fits as it is", ""


# --- kinds ----------------------------------------------------------------------------------------


@dataclass(frozen=True)
class LinearKind:
    name: str
    part: str
    alter: Alter


def _set(path: str, value: Fraction) -> Alter:
    unit = "N" if path.endswith("force") else "A"
    return lambda swap: swap.put(path, spelled(rounded(value, 5), unit))


def _currents(share: Callable[[PlainAxis, Forces], Fraction], *which: str) -> Alter:
    """Currents of the spare motor of which the moves take this share of what the drive gives."""

    def alter(swap: DrawnSwap) -> bool:
        axis, load = swap.axis, forces(swap.axis)
        done = True
        for each in which:
            gives = axis.need(f"drive.{each}_current") * share(axis, load)
            force = load.careful if share is _within else load.peak if each == "peak" else load.rms
            current = gives * axis.need(f"motor.{each}_force") / force
            done = done and current > axis.need(f"drive.{each}_current")
            done = done and _set(f"motor.{each}_current", current)(swap)
            if each == "rated":
                constant = axis.need("motor.rated_force") / current
                done = done and swap.put(
                    "motor.force_constant", spelled(rounded(constant, 5), "N/A")
                )
        return done

    return alter


def _within(_: PlainAxis, __: Forces) -> Fraction:
    return Fraction(95, 100)


def _beyond(_: PlainAxis, __: Forces) -> Fraction:
    return Fraction(11, 10)


def _forces(which: str, of: Callable[[Forces], Fraction], share: Fraction) -> Alter:
    def alter(swap: DrawnSwap) -> bool:
        force = of(forces(swap.axis)) * share
        path = f"motor.{which}_force"
        if which == "peak" and force < swap.axis.need("motor.rated_force"):
            return False  # no motor gives less for a moment than for as long as it likes
        return force < swap.axis.need(path) and _set(path, force)(swap)

    return alter


def _drive(which: str, of: Callable[[Forces], Fraction], share: Fraction) -> Alter:
    def alter(swap: DrawnSwap) -> bool:
        axis = swap.axis
        per_newton = axis.need(f"motor.{which}_current") / axis.need(f"motor.{which}_force")
        current = of(forces(axis)) * per_newton * share
        path = f"drive.{which}_current"
        return current < axis.need(path) and _set(path, current)(swap)

    return alter


def _more(swap: DrawnSwap) -> bool:
    force = all(swap.scale(f"motor.{each}_force", Fraction(6, 5)) for each in ("rated", "peak"))
    more = force and swap.scale("motor.force_constant", Fraction(6, 5))
    return more and swap.put("motor.model", "LM 2")


def _peak(load: Forces) -> Fraction:
    return load.peak


def _careful(load: Forces) -> Fraction:
    return load.careful


def _rms(load: Forces) -> Fraction:
    return load.rms


LESS = Fraction(9, 10)
KINDS = (
    LinearKind("of the same type", "motor", lambda _: True),
    LinearKind("of more force for the same current", "motor", _more),
    LinearKind("of too little force for ever", "motor", _forces("rated", _rms, LESS)),
    LinearKind("of too little force for a moment", "motor", _forces("peak", _peak, LESS)),
    LinearKind("of less peak force, enough", "motor", _forces("peak", _careful, RESERVE)),
    LinearKind("that takes too much for ever", "motor", _currents(_beyond, "rated")),
    LinearKind("that takes too much for a moment", "motor", _currents(_beyond, "peak")),
    LinearKind("that takes too much", "motor", _currents(_beyond, "rated", "peak")),
    LinearKind("that could take more for ever than it does", "motor", _currents(_within, "rated")),
    LinearKind("that could take more for a moment", "motor", _currents(_within, "peak")),
    LinearKind("whose drive gives too little for ever", "drive", _drive("rated", _rms, LESS)),
    LinearKind("whose drive gives too little for a moment", "drive", _drive("peak", _peak, LESS)),
    LinearKind("whose drive gives less, enough", "drive", _drive("peak", _careful, RESERVE)),
)


def draw_linear(kind: LinearKind, dice: str, number: int) -> tuple[DrawnSwap, int] | None:
    """The swap ``number`` of a kind; None if no machine has a place for it."""
    rng = Random(f"{dice} linear {kind.name} {number}")
    for _ in range(POOL):
        seed = rng.randrange(POOL)
        axis = linear_axis(seed)
        if axis is None:
            continue
        spare: Any = spare_like_fitted(axis, kind.part, rng)
        swap = DrawnSwap(rng, axis.changed(), kind.part, spare)
        if kind.alter(swap):
            return swap, seed
    return None


def linear_outcomes(dice: str, per_kind: int, name: str = "") -> list[SwapOutcome]:
    """Every kind that has this in its name, asked and compared."""
    from .swap_measure import SwapOutcome, ask
    from .swap_truth import rank

    found = []
    for kind in KINDS:
        full = f"{GROUP}: {kind.name}"
        for number in range(per_kind if name in full else 0):
            drawn = draw_linear(kind, dice, number)
            assert drawn is not None, full
            swap, seed = drawn
            true, why = true_verdict(swap)
            said = ask(swap).verdict
            worse = rank(said) - rank(true)
            found.append(SwapOutcome(
                full, GROUP, seed, true, said,
                wrong_fit=f"it {true}" if worse < 0 else "",
                strict=f"it {true}" if worse > 0 else "",
                why=(why,) if why else (),
            ))  # fmt: skip
    return found
