"""The draft of a sound axis: its transmission, motion, motor and travel, before its devices."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from random import Random

from .mechanics import ENDLESS, HANGING, Kind, Transmission, bear, couplings, train, up
from .plain_axis import Plain, factor, rounded, spelled
from .sizing import AxisMotion, SizedMotor, motion, size

SCALES = ("scale", "shuttle", "linear_lift")
"""Kinds with a linear encoder."""


@dataclass
class TravelLayout:
    """Positions of stops, switches and limits on an axis of limited travel, in its unit."""

    hard: tuple[Fraction, Fraction]
    switches: tuple[Fraction, Fraction] | None
    soft: tuple[Fraction, Fraction]
    planned: bool
    overshoot: Fraction

    @property
    def span(self) -> Fraction:
        return self.hard[1] - self.hard[0]


@dataclass
class AxisDraft:
    """The chosen parts of an axis, from which the design of its devices follows."""

    rng: Random
    kind: Kind
    name: str
    number: int
    train: Transmission
    move: AxisMotion
    motor: SizedMotor
    mechanics: Plain
    layout: TravelLayout | None

    @property
    def unit(self) -> str:
        return self.train.unit

    @property
    def absolute(self) -> bool:
        return self.kind not in ("slide", *SCALES)

    def say(self, value: Fraction | int, per: str = "") -> str:
        """A number in the axis's unit, with ``per`` such as "/s"."""
        return spelled(Fraction(value), self.unit + per)


def is_length_unit(unit: str) -> bool:
    return unit not in ("deg", "rev", "arcmin")


def draft_axis(rng: Random, kind: Kind, name: str, number: int) -> AxisDraft | None:
    transmission = train(rng, kind)
    move = motion(rng, transmission)
    vertical = kind in HANGING
    balanced = kind in ("hoist", "chain_hoist", "linear_lift") and rng.random() < 0.5
    balance = "80 %" if balanced else "none"
    mechanics: Plain = {"moved_by_gravity": vertical, "counterbalance": balance}
    if not vertical:
        rng.random()  # keeps the dice of earlier machines
    if is_length_unit(transmission.unit):
        mechanics["inclination"] = "90 deg" if vertical else "0 deg"
    else:
        mechanics["unbalanced_torque"] = "0 N·m"
    motor = size(rng, kind, transmission, move, mechanics)
    layout = None if kind in ENDLESS else _travel_layout(rng, kind, transmission, move)
    if transmission.final["kind"] == "screw":
        assert layout is not None
        in_mm = layout.span * factor(transmission.unit)
        push = float(motor.peak) / transmission.metres_per_radian  # when the axis hits an obstacle
        if not bear(rng, transmission.final, in_mm, move.v / transmission.feed, push):
            return None
    mechanics |= {"stages": transmission.stages, "final": transmission.final}
    if transmission.stages or rng.random() < 0.5:
        mechanics["stated_ratio"] = spelled(transmission.ratio)
    mechanics["couplings"] = couplings(rng, motor.peak, transmission.ratio)
    return AxisDraft(rng, kind, name, number, transmission, move, motor, mechanics, layout)


def _travel_layout(
    rng: Random, kind: Kind, transmission: Transmission, move: AxisMotion
) -> TravelLayout:
    stroke = rounded(move.v * Fraction(rng.randint(4, 30), 10), 2)
    low = rng.choice((Fraction(0), -stroke / 2, -stroke, rounded(stroke / 8, 1)))
    high = low + stroke
    overshoot = up(move.lag * Fraction(12, 10))
    planned = rng.random() < 0.15
    first = up(max(move.controller_stops_in, overshoot) * Fraction(12, 10))
    second = up(move.drive_stops_in * Fraction(12, 10))
    switches: tuple[Fraction, Fraction] | None = (low - first, high + first)
    if kind in ("screw", "belt", "swivel") and rng.random() < 0.15:
        switches = None
    beyond = first + second
    return TravelLayout((low - beyond, high + beyond), switches, (low, high), planned, overshoot)
