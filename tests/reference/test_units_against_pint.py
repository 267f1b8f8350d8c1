"""Every unit of the table against pint (https://pint.readthedocs.io), an independent unit library.

pint's radian is dimensionless (SI Brochure, 9th edition, section 5.4.8) where the table's angle is
a base dimension in turns. With pint's turn = 2 pi rad, a torque in N·m and an inertia in kg·m²
must come out as pint's N m and kg m^2: the factors 2 pi and 4 pi^2 are what this test would catch.
pint's count is dimensionless too. The spellings are read by the small grammar below, not by the
code that built the table.
"""

from __future__ import annotations

import re
from typing import Any

import pint
import pytest
from axisproof.numbers.exact import to_float
from axisproof.numbers.units import UNITS

REGISTRY: pint.UnitRegistry[Any] = pint.UnitRegistry()

BASES = {
    "length": "millimeter",
    "angle": "turn",
    "time": "second",
    "mass": "kilogram",
    "count": "count",
    "current": "ampere",
}
NAMES = {
    **{"nm": "nanometer", "um": "micrometer", "µm": "micrometer", "μm": "micrometer"},
    **{"mm": "millimeter", "cm": "centimeter", "dm": "decimeter", "m": "meter"},
    **{"in": "inch", "ft": "foot"},
    **{"turn": "turn", "rev": "revolution", "r": "revolution", "deg": "degree", "°": "degree"},
    **{"arcmin": "arcminute", "arcsec": "arcsecond", "rad": "radian", "mrad": "milliradian"},
    **{"gon": "grade", "rpm": "revolutions_per_minute", "krpm": "kilorpm"},
    **{"us": "microsecond", "µs": "microsecond", "μs": "microsecond", "ms": "millisecond"},
    **{"s": "second", "min": "minute", "h": "hour", "d": "day", "day": "day", "days": "day"},
    **{"year": "julian_year", "years": "julian_year"},
    **{"g": "gram", "kg": "kilogram", "t": "metric_ton", "lb": "pound"},
    **{"mN": "millinewton", "N": "newton", "kN": "kilonewton", "lbf": "force_pound"},
    **{"count": "count", "counts": "count", "kcount": "kilocount", "kcounts": "kilocount"},
    **{"Mcount": "megacount", "Mcounts": "megacount"},
    **{"Hz": "hertz", "kHz": "kilohertz", "MHz": "megahertz"},  # 1/second in pint, no angle
    **{"A": "ampere", "mA": "milliampere", "V": "volt", "mV": "millivolt"},
    **{"W": "watt", "kW": "kilowatt", "J": "joule"},
    **{"": "dimensionless", "%": "percent", "‰": "permille", "ppm": "ppm", "1": "dimensionless"},
}
REVOLUTIONS_PER_MINUTE = {"1/min", "min^-1", "min⁻¹"}  # the trade's convention for motor speeds
TORQUE = re.compile(r"(mN|N|kN|lbf)[ ·⋅*]?(m|cm|mm|in|ft)")
INERTIA = re.compile(r"(kg|g|lb)[ ·⋅*]?(m|cm|mm|in|ft)(?:²|\^2|2)")
POWERS = {"²": 2, "^2": 2, "2": 2, "³": 3, "^3": 3, "3": 3, "⁻¹": -1, "^-1": -1, "": 1}
TERM = re.compile(r"(.*?)(²|\^2|(?<=s)2|³|\^3|(?<=s)3|⁻¹|\^-1|)")


def in_pint(spelling: str) -> str:
    if spelling in REVOLUTIONS_PER_MINUTE:
        return "revolution/minute"
    if found := TORQUE.fullmatch(spelling):
        return f"{NAMES[found[1]]} * {NAMES[found[2]]}"
    if found := INERTIA.fullmatch(spelling):
        return f"{NAMES[found[1]]} * {NAMES[found[2]]}**2"
    parts = []
    for part in spelling.replace("(", "").replace(")", "").split("/"):
        term = TERM.fullmatch(part)
        assert term is not None
        parts.append(f"({NAMES[term[1]]})**{POWERS[term[2]]}")
    return " / ".join(parts)


@pytest.mark.parametrize("spelling", UNITS)
def test_a_unit_has_the_size_pint_gives_it(spelling: str) -> None:
    unit = UNITS[spelling]
    base = REGISTRY.Quantity(to_float(unit.factor), "dimensionless")
    for name, exponent in unit.dimension:
        base = base * REGISTRY.Quantity(1, BASES[name]) ** exponent
    theirs = REGISTRY.Quantity(1, in_pint(spelling))
    assert base.to(theirs.units).magnitude == pytest.approx(theirs.magnitude, rel=1e-13)


def test_the_radian_conventions_are_those_of_the_module_text() -> None:
    # tau [N m/rad] * angle [rad] = work, J/rad^2 * (rad/s)^2 / 2 = energy: radians drop out.
    one_turn = REGISTRY.Quantity(1, "newton*meter/radian") * REGISTRY.Quantity(1, "turn")
    ours = to_float(UNITS["N·m"].factor)  # kg mm²/s² per turn
    assert one_turn.to("kg*mm**2/s**2").magnitude == pytest.approx(ours, rel=1e-13)
    speed = REGISTRY.Quantity(1, "turn/second")
    energy = REGISTRY.Quantity(1, "kg*m**2/radian**2") * speed**2
    ours = to_float(UNITS["kg·m²"].factor)
    assert energy.to("kg*mm**2/s**2").magnitude == pytest.approx(ours, rel=1e-13)
