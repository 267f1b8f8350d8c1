"""The units a machine file or a rule may use: one finite table, looked up by spelling.

Base units are mm, turn, s, kg, count and A. Angle is a base dimension, so a torque is energy per
angle and an inertia is mass * length^2 / angle^2; the radian is turn / (2 pi), which makes
1 N·m = 2 pi * 10^6 and 1 kg·m² = 4 pi^2 * 10^6 base units. Conventions worth knowing: ``1/min``
is an angular speed (revolutions), ``1/s`` and ``Hz`` are rates; a year is the Julian year.

Sources: SI Brochure (9th edition) for SI units and prefixes, day, hour, minute and degree; the
International Yard and Pound Agreement (1959) for in, ft, lb; CGPM 1901 for standard gravity (lbf);
IAU for the Julian year of 365.25 days; ISO 80000-3 for the revolution.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache

from ..base.lazy import NamedTuple, pattern
from .dimensions import DIMENSIONLESS, Dimension, dim, plain_position
from .exact import Approx, Exact, Number, Pi, QuantityError, div, simplest
from .rational import Fraction, norm
from .written import NUMBER_EXPECTED, NUMBER_PATTERN, WRITTEN, in_quotes, number_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final


class Unit(NamedTuple):
    """One spelling of a unit: a value in it times ``factor`` is the value in base units."""

    name: str
    dimension: Dimension
    factor: Exact


class Quantity(NamedTuple):
    """A number with its unit as it was written, and its exact value in base units.

    ``decimals`` counts the digits written after the decimal point, ``written`` is the number
    before the unit.
    """

    value: Exact
    dimension: Dimension
    unit: str
    decimals: int
    written: int | Fraction


# Building the table -----------------------------------------------------------------------------

UNITS: Final[dict[str, Unit]] = {}
"""Every accepted spelling; the empty one is a plain number."""

_GROUPS: Final[dict[str, list[str]]] = {}

_MICRO: Final = ("u", "µ", "μ")  # letter u, micro sign, Greek mu
_INCH: Final = Fraction(127, 5)
_POUND: Final = Fraction(45359237, 100000000)
_POUND_FORCE: Final = _POUND * Fraction(980665, 100)  # kg·mm/s²
_TURN_PER_RADIAN: Final = Pi(Fraction(1, 2), -1)
_SEPARATORS: Final = ("·", "*", " ", "", "⋅")
_SQUARES: Final = ("²", "^2", "2")
_CUBES: Final = ("³", "^3", "3")
_PER_TURN: Final = ("rev", "turn", "r")

_LENGTH: Final[dict[str, int | Fraction]] = {
    "nm": Fraction(1, 10**6),
    **{f"{micro}m": Fraction(1, 1000) for micro in _MICRO},
    "mm": 1,
    "cm": 10,
    "dm": 100,
    "m": 1000,
    "in": _INCH,
    "ft": 12 * _INCH,
}
_ANGLE: Final[dict[str, Exact]] = {
    "turn": 1,
    "rev": 1,
    "deg": Fraction(1, 360),
    "°": Fraction(1, 360),
    "arcmin": Fraction(1, 360 * 60),
    "arcsec": Fraction(1, 360 * 3600),
    "rad": _TURN_PER_RADIAN,
    "mrad": Pi(Fraction(1, 2000), -1),
    "gon": Fraction(1, 400),
}
_TIME: Final[dict[str, int | Fraction]] = {
    **{f"{micro}s": Fraction(1, 10**6) for micro in _MICRO},
    "ms": Fraction(1, 1000),
    "s": 1,
    "min": 60,
    "h": 3600,
    "d": 86400,
    "day": 86400,
    "days": 86400,
    "year": 31557600,
    "years": 31557600,
}


def _put(group: str, dimension: Dimension, spellings: Iterable[str], factor: Exact) -> None:
    factor = norm(factor) if isinstance(factor, Fraction) else factor
    names = _GROUPS.setdefault(group, [])
    for name in spellings:
        if name in UNITS:
            raise AssertionError(f"unit {name!r} is in the table twice")
        UNITS[name] = Unit(name, dimension, factor)
        names.append(name)


def _over(factor: Exact, divisor: int | Fraction) -> Exact:
    if isinstance(factor, Pi):
        return Pi(Fraction(factor.coefficient) / divisor, factor.exponent)
    return Fraction(factor) / divisor


def _inverse(factor: Exact) -> Exact:
    if isinstance(factor, Pi):
        return Pi(1 / Fraction(factor.coefficient), -factor.exponent)
    return 1 / Fraction(factor)


def _put_lengths() -> None:
    length, speed, feed = dim(length=1), dim(length=1, time=-1), dim(length=1, angle=-1)
    for name, factor in _LENGTH.items():
        _put("length", length, (name,), factor)
        for per in ("s", "min", "h"):
            _put("speed", speed, (f"{name}/{per}",), _over(factor, _TIME[per]))
        _put(
            "acceleration",
            dim(length=1, time=-2),
            [f"{name}/s{square}" for square in _SQUARES],
            factor,
        )
        _put("jerk", dim(length=1, time=-3), [f"{name}/s{cube}" for cube in _CUBES], factor)
        _put("feed", feed, [f"{name}/{turn}" for turn in _PER_TURN], factor)
        _put(
            "resolution",
            dim(count=1, length=-1),
            (f"count/{name}", f"counts/{name}"),
            1 / Fraction(factor),
        )


def _put_angles() -> None:
    angle, turning = dim(angle=1), dim(angle=1, time=-1)
    for name, factor in _ANGLE.items():
        _put("angle", angle, (name,), factor)
        for per in ("s", "min", "h"):
            _put("angular_speed", turning, (f"{name}/{per}",), _over(factor, _TIME[per]))
        _put(
            "angular_acceleration",
            dim(angle=1, time=-2),
            [f"{name}/s{square}" for square in _SQUARES],
            factor,
        )
        _put(
            "angular_jerk",
            dim(angle=1, time=-3),
            [f"{name}/s{cube}" for cube in _CUBES],
            factor,
        )
        _put(
            "resolution",
            dim(count=1, angle=-1),
            (f"count/{name}", f"counts/{name}"),
            _inverse(factor),
        )
    _put("angular_speed", turning, ("rpm", "r/min", "1/min", "min^-1", "min⁻¹"), Fraction(1, 60))
    _put("angular_speed", turning, ("r/s",), 1)
    _put("angular_acceleration", dim(angle=1, time=-2), ("rpm/s",), Fraction(1, 60))
    _put("feed", DIMENSIONLESS, [f"deg/{turn}" for turn in _PER_TURN], Fraction(1, 360))
    _put("feed", DIMENSIONLESS, [f"°/{turn}" for turn in _PER_TURN], Fraction(1, 360))


def _put_masses() -> None:
    for name, mass in (("g", Fraction(1, 1000)), ("kg", 1), ("t", 1000), ("lb", _POUND)):
        _put("mass", dim(mass=1), (name,), mass)
    for mass_name, mass, arms in (
        ("kg", 1, ("m", "cm", "mm")),
        ("g", Fraction(1, 1000), ("m", "cm", "mm")),
        ("lb", _POUND, ("in", "ft")),
    ):
        for arm in arms:
            _put(
                "inertia",
                dim(length=2, mass=1, angle=-2),
                [f"{mass_name}{sep}{arm}{square}" for sep in _SEPARATORS for square in _SQUARES],
                Pi(mass * _LENGTH[arm] ** 2 * 4, 2),
            )


def _put_forces() -> None:
    for force_name, force, arms in (
        ("mN", 1, ("m", "cm", "mm")),
        ("N", 1000, ("m", "cm", "mm")),
        ("kN", 10**6, ("m", "cm", "mm")),
        ("lbf", _POUND_FORCE, ("in", "ft")),
    ):
        _put("force", dim(length=1, mass=1, time=-2), (force_name,), force)
        for arm in arms:
            _put(
                "torque",
                dim(length=2, mass=1, time=-2, angle=-1),
                [f"{force_name}{sep}{arm}" for sep in _SEPARATORS],
                Pi(force * _LENGTH[arm] * 2, 1),
            )


def _put_counts_and_rates() -> None:
    rate, count_rate = dim(time=-1), dim(count=1, time=-1)
    _put("count", dim(count=1), ("count", "counts"), 1)
    _put("resolution", dim(count=1, angle=-1), ("count/r", "counts/r"), 1)
    for prefix, times in (("", 1), ("k", 1000), ("M", 10**6)):
        _put("count_rate", count_rate, (f"{prefix}count/s", f"{prefix}counts/s"), times)
        _put("rate", rate, (f"{prefix}Hz",), times)
    _put("rate", rate, ("1/s", "s^-1", "s⁻¹"), 1)
    _put("rate", rate, ("m/min/mm", "(m/min)/mm"), Fraction(1000, 60))


def _put_electric() -> None:
    _put("current", dim(current=1), ("A",), 1)
    _put("current", dim(current=1), ("mA",), Fraction(1, 1000))
    per_ampere = dim(length=1, mass=1, time=-2, current=-1)
    for force_name, force in (("N", 1000), ("kN", 10**6), ("lbf", _POUND_FORCE)):
        _put("force_constant", per_ampere, (f"{force_name}/A",), force)
    watt = dim(length=2, mass=1, time=-3)
    _put("voltage", dim(length=2, mass=1, time=-3, current=-1), ("V",), 10**6)
    _put("voltage", dim(length=2, mass=1, time=-3, current=-1), ("mV",), 1000)
    per_speed = dim(length=2, mass=1, time=-2, current=-1, angle=-1)
    _put("voltage_constant", per_speed, ("V/rpm",), 60 * 10**6)
    _put("voltage_constant", per_speed, ("V/krpm",), 60000)
    _put("power", watt, ("W",), 10**6)
    _put("power", watt, ("kW",), 10**9)
    _put("energy", dim(length=2, mass=1, time=-2), ("J",), 10**6)


def _put_ratios() -> None:
    _put("ratio", DIMENSIONLESS, ("",), 1)
    _put("ratio", DIMENSIONLESS, ("%",), Fraction(1, 100))
    _put("ratio", DIMENSIONLESS, ("‰",), Fraction(1, 1000))
    _put("ratio", DIMENSIONLESS, ("ppm",), Fraction(1, 10**6))


_put_lengths()
_put_angles()
for _name, _seconds in _TIME.items():
    _put("time", dim(time=1), (_name,), _seconds)
_put_masses()
_put_forces()
_put_counts_and_rates()
_put_electric()
_put_ratios()


# Kinds of quantity ------------------------------------------------------------------------------

_KIND_GROUPS: Final[dict[str, tuple[str, ...]]] = {
    "length": ("length",),
    "angle": ("angle",),
    "position": ("length", "angle"),
    "time": ("time",),
    "speed": ("speed",),
    "angular_speed": ("angular_speed",),
    "position_speed": ("speed", "angular_speed"),
    "acceleration": ("acceleration",),
    "angular_acceleration": ("angular_acceleration",),
    "position_acceleration": ("acceleration", "angular_acceleration"),
    "jerk": ("jerk",),
    "angular_jerk": ("angular_jerk",),
    "position_jerk": ("jerk", "angular_jerk"),
    "feed": ("feed",),
    "mass": ("mass",),
    "inertia": ("inertia",),
    "torque": ("torque",),
    "force": ("force",),
    "force_constant": ("force_constant",),
    "energy": ("energy",),
    "count": ("count",),
    "count_rate": ("count_rate",),
    "rate": ("rate",),
    "ratio": ("ratio",),
    "resolution": ("resolution",),
    "current": ("current",),
    "voltage": ("voltage",),
    "voltage_constant": ("voltage_constant",),
    "power": ("power",),
}

KINDS: Final[dict[str, frozenset[Dimension]]] = {
    kind: frozenset(UNITS[name].dimension for group in groups for name in _GROUPS[group])
    for kind, groups in _KIND_GROUPS.items()
}
"""The dimensions each kind of quantity may have.

``feed`` includes the plain number (deg/rev is an angle per angle), so a dimension alone does not
tell a feed in deg/rev from a ratio in percent; ``units_of`` does.
"""


@cache
def units_of(kind: str) -> tuple[str, ...]:
    """Give the sorted unit spellings of a kind; KeyError for an unknown kind."""
    return tuple(sorted(name for group in _KIND_GROUPS[kind] for name in _GROUPS[group]))


@cache
def pattern_of(kind: str) -> str:
    """Give an anchored pattern (ECMA 262 and Python) for "number unit" of a kind.

    It accepts what ``parse_quantity`` accepts with a unit of the kind, apart from the caps on the
    digits and the power of ten. The lookahead keeps Python's ``$`` from passing a final newline.
    """
    close: list[str] = []
    apart: list[str] = []
    for name in units_of(kind):
        if name:
            escaped = re.sub(r"[\^$\\.*+?()\[\]{}|]", r"\\\g<0>", name)
            (apart if name[0].isdigit() else close).append(escaped)
    choices = []
    if close:
        choices.append(f" ?(?:{'|'.join(close)})")
    if apart:
        choices.append(f" (?:{'|'.join(apart)})")
    optional = "?" if "" in units_of(kind) else ""
    return f"^{NUMBER_PATTERN}(?:{'|'.join(choices)}){optional}(?!\\n)$"


_DISPLAY: Final[dict[Dimension, str]] = {
    UNITS[name].dimension: name
    for name in (
        "mm",
        "deg",
        "s",
        "kg",
        "count",
        "A",
        "mm/s",
        "rpm",
        "mm/s²",
        "deg/s²",
        "mm/s³",
        "deg/s³",
        "mm/rev",
        "kg·m²",
        "N·m",
        "N",
        "N/A",
        "J",
        "count/s",
        "1/s",
        "count/mm",
        "count/rev",
        "V",
        "V/rpm",
        "W",
        "",
    )
}

_BASE_SYMBOLS: Final = {
    "length": "mm",
    "angle": "turn",
    "time": "s",
    "mass": "kg",
    "count": "count",
    "current": "A",
    "position": "unit",
}


def default_unit(dimension: Dimension) -> str:
    """Give the unit to show a dimension in.

    Dimensions the table lacks are spelled in base units ("mm²·s"), with "unit" for the user unit
    of an axis; such a spelling is for display and is not in UNITS.
    """
    known = _DISPLAY.get(dimension)
    if known is not None:
        return known
    above: list[str] = []
    below: list[str] = []
    for base, power in plain_position(dimension):
        symbol = _BASE_SYMBOLS.get(base, "unit")
        size = abs(power)
        raised = symbol if size == 1 else symbol + {2: "²", 3: "³"}.get(size, f"^{size}")
        (above if power > 0 else below).append(raised)
    top = "·".join(above) or "1"
    if not below:
        return top
    return f"{top}/{below[0]}" if len(below) == 1 else f"{top}/({'·'.join(below)})"


# Reading and converting -------------------------------------------------------------------------

_SPLIT: Final = pattern(rf"({WRITTEN})( ?)(.*)", re.DOTALL)


def parse_quantity(text: str) -> Quantity:
    """Read "62.5 mm/s", "62.5mm/s" or a plain number; at most one space before the unit.

    A unit that begins with a digit (1/min) needs the space. Raises QuantityError for a text that
    does not begin with a number, a number beyond the caps, or a unit that is not in the table.
    """
    found = _SPLIT.fullmatch(text)
    if found is None:
        raise QuantityError(
            f"{in_quotes(text)} does not begin with a number", f"{NUMBER_EXPECTED}, then its unit"
        )
    number, sign, whole, denominator, decimals, exponent, space, name = found.groups()
    unit = UNITS.get(name)
    if unit is None or (space and not name):
        raise _unknown_unit(text, name)
    written, places = number_of(number, sign, whole, denominator, decimals, exponent)
    value = simplest(written * unit.factor)
    assert not isinstance(value, Approx)  # of exact numbers
    return Quantity(value, unit.dimension, name, places, written)


def in_unit(value: Number, unit: str) -> Number:
    """Convert a value in base units to ``unit``; raises QuantityError for an unknown unit."""
    known = UNITS.get(unit)
    if known is None:
        raise _unknown_unit(unit, unit)
    result = div(value, known.factor)
    assert result is not None
    return result


_WORDS: Final = {
    "sec": "s",
    "second": "s",
    "minute": "min",
    "hour": "h",
    "hr": "h",
    "degree": "deg",
    "revolution": "rev",
    "inch": "in",
    "inche": "in",
    "foot": "ft",
    "feet": "ft",
    "metre": "m",
    "meter": "m",
    "millimetre": "mm",
    "millimeter": "mm",
    "micron": "µm",
    "percent": "%",
    "u/min": "rpm",
    "msec": "ms",
    "millisecond": "ms",
    "increment": "count",
    "pulse": "count",
}


def suggest_unit(name: str, choices: Iterable[str] | None = None) -> str:
    """Give the unit spelling that looks most like ``name``, "" if none comes near."""
    from difflib import get_close_matches

    known = [unit for unit in (UNITS if choices is None else choices) if unit]
    short = name[:24].strip()
    by_case = {unit.lower(): unit for unit in reversed(known)}
    single = short.lower().removesuffix("s")
    for attempt in (short.replace(" ", ""), short.replace("**", "^"), single):
        if attempt in known:
            return attempt
        if attempt.lower() in by_case:
            return by_case[attempt.lower()]
    if _WORDS.get(single) in known:
        return _WORDS[single]
    close = get_close_matches(short, known, n=1, cutoff=0.66)
    return close[0] if close else ""


def _unknown_unit(text: str, name: str) -> QuantityError:
    if not name:
        return QuantityError(f"{in_quotes(text)} ends in a space", "no space without a unit")
    what = f"{in_quotes(name)} is not a known unit"
    if f"1{name}" in UNITS:  # "501/min": the number took the 1
        return QuantityError(what, f"a space before '1{name}', as in '50 1{name}'")
    near = suggest_unit(name)
    if near:
        return QuantityError(what, f"perhaps {near!r}")
    return QuantityError(what, "a unit such as mm, deg, mm/s, rpm, kg·m² or N·m")
