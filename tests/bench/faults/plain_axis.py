"""Plain machines, as a file states them: numbers in texts, read and written exactly.

This does not use axisproof's own reader, so a fault of the reader cannot hide here.
"""

from __future__ import annotations

import copy
import math
import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, TypeAlias

Plain: TypeAlias = dict[str, Any]

PI = Fraction(math.pi)
"""Close enough for a design; no check rests on it."""

BASE: dict[str, Fraction] = {
    "": Fraction(1),
    "%": Fraction(1, 100),
    "mm": Fraction(1),
    "um": Fraction(1, 1000),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(254, 10),
    "rev": Fraction(1),
    "deg": Fraction(1, 360),
    "arcmin": Fraction(1, 21600),
    "s": Fraction(1),
    "ms": Fraction(1, 1000),
    "rpm": Fraction(1, 60),
    "N": Fraction(1),
    "N·m": Fraction(1),
    "W": Fraction(1),
    "V": Fraction(1),
    "A": Fraction(1),
    "kN": Fraction(1000),
    "kg": Fraction(1),
    "kg cm^2": Fraction(1, 10000),
    "kg m^2": Fraction(1),
    "count": Fraction(1),
    "Mcount": Fraction(1000000),
    "years": Fraction(365),
    "1": Fraction(1),
}
"""Units by name in mm, rev, s, N, N·m, W, V, kg, kg m^2, counts; speeds and rates stand per s."""

_NUMBER = re.compile(r"^([+-]?\d+(?:\.\d+)?)(?:/(\d+))?\s*(.*)$")


def parts(value: object) -> tuple[Fraction, str]:
    """The number and unit of a plain value: ``"40/3 mm"`` → (40/3, "mm")."""
    found = _NUMBER.match(str(value))
    assert found, value
    return Fraction(found[1]) / int(found[2] or 1), found[3]


def factor(unit: str) -> Fraction:
    """Size of ``unit`` in base units; units of time after ``/`` do not change it."""
    return BASE[unit.partition("/")[0]]


def digits(value: Fraction) -> str:
    """The number as text, exactly: a decimal if it ends within twelve places, else n/d."""
    for places in range(13):
        if (value * 10**places).denominator == 1:
            whole = abs(value * 10**places).numerator
            text = str(whole).rjust(places + 1, "0")
            sign = "-" if value < 0 else ""
            return sign + (f"{text[:-places]}.{text[-places:]}" if places else text)
    return f"{value.numerator}/{value.denominator}"


def spelled(value: Fraction | int, unit: str = "") -> str:
    """A number of ``unit`` as text."""
    return f"{digits(Fraction(value))} {unit}".strip()


MOST_DIGITS = 40
"""Digits of a number that a machine file takes at most."""


def in_unit(base: Fraction | int, unit: str) -> str:
    """A number of base units, written in ``unit``; one of too many digits is rounded."""
    value = Fraction(base) / factor(unit)
    digits = len(f"{abs(value.numerator)}{value.denominator}")
    return spelled(value if digits <= MOST_DIGITS else rounded(value, 15), unit)


@dataclass
class PlainAxis:
    """One axis of a machine that a fault may change. Paths are dotted; list items by number."""

    machine: Plain
    name: str

    @property
    def facts(self) -> Plain:
        axis: Plain = self.machine["axes"][self.name]
        return axis

    def get(self, path: str) -> Any:
        """The value at a path; None if it is missing or ``none``."""
        at: Any = self.facts
        for key in path.split("."):
            if isinstance(at, list):
                at = at[int(key)] if int(key) < len(at) else None
            elif isinstance(at, dict):
                at = at.get(key)
            else:
                return None
        return None if at == "none" else at

    def put(self, path: str, value: Any) -> bool:
        """Write a value; True if this changed an existing value."""
        *above, last = path.split(".")
        at: Any = self.facts
        for key in above:
            at = at[int(key)] if isinstance(at, list) else at[key]
        if isinstance(at, list):
            old, at[int(last)] = at[int(last)], value
        else:
            old, at[last] = at.get(last), value
        return bool(old != value)

    def base(self, path: str) -> Fraction | None:
        """The number at a path in base units; None if there is none."""
        value = self.get(path)
        if value is None or isinstance(value, (bool, list, dict)):
            return None
        number, unit = parts(value)
        return number * factor(unit)

    def need(self, path: str) -> Fraction:
        """The existing number at a path, in base units."""
        value = self.base(path)
        assert value is not None, path
        return value

    def write(self, path: str, base: Fraction | int) -> bool:
        """Write a number of base units in the unit of the existing value."""
        value = self.get(path)
        if value is None:
            return False
        if isinstance(value, int):
            assert Fraction(base).denominator == 1, (path, base)
            return self.put(path, int(base))
        return self.put(path, in_unit(base, parts(value)[1]))

    def scale(self, path: str, by: Fraction | int) -> bool:
        """Multiply the number at a path; False if there is none, or the result is not allowed."""
        value = self.base(path)
        if value is None:
            return False
        if isinstance(self.get(path), int) and (value * by).denominator != 1:
            return False
        return self.write(path, value * by)

    def retype(self, path: str, unit: str) -> bool:
        """Keep the digits and change the unit."""
        value = self.get(path)
        if value is None:
            return False
        number, _ = parts(value)
        return self.put(path, spelled(number, unit))

    def swap(self, one: str, other: str) -> bool:
        """Exchange the values at two paths; False if they are equal or missing."""
        first, second = self.get(one), self.get(other)
        if first is None or second is None or first == second:
            return False
        self.put(one, second)
        self.put(other, first)
        return True

    # The position chain, for telling where a fault applies.

    @property
    def unit(self) -> str:
        return str(self.get("controller.units"))

    @property
    def stage_ratios(self) -> list[Fraction]:
        ratios = []
        for number in range(len(self.get("mechanics.stages") or [])):
            stage = f"mechanics.stages.{number}"
            ratio = self.base(f"{stage}.motor_turns_per_load_turn")
            if ratio is None:
                ratio = self.need(f"{stage}.load_side_teeth") / self.need(
                    f"{stage}.motor_side_teeth"
                )
            ratios.append(ratio)
        return ratios

    @property
    def ratio(self) -> Fraction:
        """Motor revolutions per driving shaft revolution."""
        return Fraction(math.prod(self.stage_ratios, start=Fraction(1)))

    @property
    def feed(self) -> Fraction:
        """mm or rev per driving shaft revolution: of the last section, if there is a telescope."""
        return self.driven_feed * (self.base("mechanics.telescope.travel_ratio") or 1)

    @property
    def driven_feed(self) -> Fraction:
        """mm or rev per driving shaft revolution, as the final element makes it."""
        final = "mechanics.final"
        kind = self.get(f"{final}.kind")
        if kind == "screw":
            return self.need(f"{final}.lead")
        if kind in ("belt", "chain"):
            return self.need(f"{final}.teeth") * self.need(f"{final}.pitch")
        if kind == "rack":
            arc = self.need(f"{final}.teeth") * self.need(f"{final}.module")
            angle = self.base(f"{final}.helix_angle")
            if angle is not None:
                return arc * PI / Fraction(math.cos(math.tau * float(angle)))
            return arc * (PI if self.get(f"{final}.helix") == "straight" else Fraction(10, 3))
        if kind == "roller":
            return self.need(f"{final}.diameter") * PI
        return Fraction(1)

    @property
    def feed_changes(self) -> bool:
        """The travel per revolution is another one at each place."""
        return self.get("mechanics.final.kind") in ("reel", "crank")

    def _moves(self, power: int) -> Fraction:
        """Mass of the load, and of each section of a telescope by a power of its share."""
        sections = range(len(self.get("mechanics.telescope.sections") or []))
        paths = [f"mechanics.telescope.sections.{number}" for number in sections]
        mass = self.need("mechanics.load_mass")
        for path in paths:
            mass += self.need(f"{path}.mass") * self.need(f"{path}.travel_share") ** power
        return mass

    @property
    def weighing_mass(self) -> Fraction:
        """The mass at the load that weighs as much as all that moves."""
        return self._moves(1)

    @property
    def inert_mass(self) -> Fraction:
        """The mass at the load that is as inert as all that moves."""
        return self._moves(2)

    @property
    def has_pi(self) -> bool:
        """The feed constant involves pi."""
        kind, helix = self.get("mechanics.final.kind"), self.get("mechanics.final.helix")
        angle = self.get("mechanics.final.helix_angle")
        return bool(kind == "roller" or helix == "straight" or angle)

    @property
    def encoder_ratio(self) -> Fraction:
        """Encoder revolutions per driving shaft revolution."""
        if self.get("encoder.mounted_on") == "motor":
            return self.ratio
        return self.base("encoder.turns_per_driving_shaft_turn") or Fraction(1)

    @property
    def per_motor_turn(self) -> Fraction:
        return self.feed / self.ratio

    @property
    def per_encoder_turn(self) -> Fraction:
        return self.feed / self.encoder_ratio

    @property
    def turns_shaft(self) -> bool:
        """Whether there is a shaft, which a linear motor does not have."""
        direct = self.get("mechanics.final.kind") == "direct"
        return not (direct and self.get("motion") == "linear")

    @property
    def linear_scale(self) -> bool:
        return bool(self.get("encoder.form") == "linear")

    @property
    def multiturn(self) -> bool:
        return bool(self.get("encoder.kind") == "absolute_multiturn")

    @property
    def endless(self) -> bool:
        return bool(self.get("controller.type") == "modulo")

    @property
    def turns(self) -> int:
        return int(self.get("encoder.distinguishable_revolutions"))

    @property
    def span(self) -> Fraction:
        return self.need("mechanics.travel.max") - self.need("mechanics.travel.min")

    @property
    def scaling(self) -> Fraction:
        """Counts per mm or rev by the scaling of the controller."""
        distance = self.base("controller.scaling.distance")
        if distance is not None:
            return self.need("controller.scaling.counts") / distance
        number, unit = parts(self.get("controller.counts_per_unit"))
        return number / factor(unit.partition("/")[2])

    @property
    def battery(self) -> bool:
        return bool(self.get("encoder.turn_counter.battery"))

    @property
    def method(self) -> int | str:
        method: int | str = self.get("controller.homing.method")
        return method

    @property
    def partners(self) -> set[str]:
        """The gantry partners, the coupled axis, and the axes that this one can collide with."""
        names = {self.get("gantry.partner"), *(self.get("gantry.followers") or ())}
        names = (names | {self.get("differential.partner")}) - {None}
        for pair in self.machine.get("collision_pairs", []):
            both = {pair["first"], pair["second"]}
            if self.name in both:
                names |= both - {self.name}
        return names

    @property
    def others(self) -> list[str]:
        return [name for name in self.machine["axes"] if name != self.name]

    def of(self, name: str) -> PlainAxis:
        """Another axis of the machine."""
        return PlainAxis(self.machine, name)

    def changed(self) -> PlainAxis:
        """The same axis of a copy of the machine."""
        return PlainAxis(copy.deepcopy(self.machine), self.name)


def rounded(value: Fraction, figures: int) -> Fraction:
    """Rounded to a number of significant figures, as people type."""
    if value == 0:
        return value
    exponent = math.floor(math.log10(abs(value))) - figures + 1
    step = Fraction(10) ** exponent
    return round(value / step) * step
