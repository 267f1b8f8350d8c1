"""The closed set of domain functions of the rule language.

Each has a signature in dimensions, a formula and a source. A function returns None where it
cannot decide (an argument outside its domain), which makes the rule undecided, never wrong.
Numbers come and go in base units (mm, turn, s, kg, count, A).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from types import MappingProxyType

from ..base.lazy import dataclass
from ..machine import homing_methods as homing
from ..numbers.cranks import crank_travel, largest_crank_slope, smallest_crank_slope
from ..numbers.dimensions import DIMENSIONLESS, Dimension, dim
from ..numbers.exact import (
    Approx,
    Number,
    Pi,
    absolute,
    div,
    eq,
    maximum,
    minimum,
    simplest,
    to_approx,
)
from ..numbers.near_fractions import nearby_fraction, simple_fraction
from ..numbers.powers import sqrt
from ..numbers.rational import Fraction, norm
from ..numbers.whole import ceil, floor, nearest_remainder, remainder
from ..numbers.written import MAX_DIGITS
from .angles import largest_sine, sine
from .moves import move_heat, move_torque

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, Final


@dataclass(frozen=True, slots=True)
class Shape:
    """One place of a signature: a kind, and for numbers the dimension P (if free) times ``dim``."""

    kind: str
    free: bool = False
    dim: Dimension = DIMENSIONLESS


@dataclass(frozen=True, slots=True)
class Function:
    """A domain function: parameter names and shapes, result shape, formula and source in words.

    ``growth`` bounds the bits of the result, as a multiple of those of all arguments together (see
    bounds.py); 0 if it holds a float or a few digits, whatever the arguments are. ``divisors`` are
    the parameters it divides by. ``worked`` gives, for the values of the parameters, the formula
    in their ``symbols`` by which the result is found, for workings. ``reason`` is a
    sentence that says why there is no result, where the formula alone does not tell.
    """

    name: str
    parameters: tuple[tuple[str, Shape], ...]
    result: Shape
    call: Callable[..., Any]
    formula: str
    source: str
    approx: bool = False
    growth: int = 1
    symbols: tuple[str, ...] = ()
    worked: Callable[..., str] | None = None
    divisors: tuple[int, ...] = ()
    reason: str = ""


RATIO: Final = Shape("number")
FREE: Final = Shape("number", True)
FREE_SPEED: Final = Shape("number", True, dim(time=-1))
FREE_ACCELERATION: Final = Shape("number", True, dim(time=-2))
FREE_JERK: Final = Shape("number", True, dim(time=-3))
TIME: Final = Shape("number", False, dim(time=1))
ANGLE: Final = Shape("number", False, dim(angle=1))
METHOD: Final = Shape("method")
FLAG: Final = Shape("flag")
TEXT: Final = Shape("text")


def stopping_distance(v: Number, a: Number, t: Number) -> Number | None:
    """s = v·t + v²/(2a): delay at full speed, then constant deceleration (uniform acceleration)."""
    braking = div(v * v, 2 * a)
    return None if braking is None else v * t + braking


def stopping_distance_with_jerk(v: Number, a: Number, j: Number, t: Number) -> Number | None:
    """s = v·t + v²/(2a) + v·a/(2j) if v ≥ a²/j, else v·t + v·√(v/j).

    A deceleration ramp that reaches a, or a triangular one that does not. Integrating the
    trapezoidal deceleration profile gives v/2 times the ramp time, which is both branches.
    """
    threshold = div(a * a, j)
    if threshold is None:
        return None
    reaches = v >= threshold
    if reaches is None:
        return None
    if reaches:
        braking, rounding = div(v * v, 2 * a), div(v * a, 2 * j)
        if braking is None or rounding is None:
            return None
        return v * t + braking + rounding
    ratio = div(v, j)
    root = None if ratio is None else exact_root(ratio)
    return None if root is None else v * t + v * root


def worked_stopping_distance(v: Number, a: Number, t: Number) -> str:
    """The formula of stopping_distance."""
    return "v·t + v²/(2·a)"


def worked_stopping_distance_with_jerk(v: Number, a: Number, j: Number, t: Number) -> str:
    """The branch of stopping_distance_with_jerk that these values take."""
    threshold = div(a * a, j)
    if threshold is not None and (v >= threshold) is True:
        return "v·t + v²/(2·a) + v·a/(2·j)"
    return "v·t + v·√(v/j)"


def exact_root(value: Number) -> Number | None:
    """The square root: exact where numerator and denominator are squares, else approximate."""
    if isinstance(value, (int, Fraction)) and value >= 0:
        fraction = Fraction(value)
        top, bottom = math.isqrt(fraction.numerator), math.isqrt(fraction.denominator)
        if top * top == fraction.numerator and bottom * bottom == fraction.denominator:
            return norm(Fraction(top, bottom))
    return sqrt(value)


FEW_BITS: Final = 64
"""Of numerator and denominator of a measured number that stays exact."""


def measured(value: Number) -> Number:
    """A result of measured numbers, so that it cannot grow: exact if it takes few digits.

    Otherwise a float with a bound on its error.
    """
    value = simplest(value)
    exact = value.coefficient if isinstance(value, Pi) else value
    if not isinstance(exact, (int, Fraction)):
        return to_approx(value)
    bits = max(exact.numerator.bit_length(), exact.denominator.bit_length())
    return value if bits <= FEW_BITS else to_approx(value)


def square_root(value: Number) -> Number | None:
    """√x, exact where numerator and denominator are squares."""
    return exact_root(value)


def numerator(value: Number) -> int | None:
    """Numerator in lowest terms."""
    return value.numerator if isinstance(value, (int, Fraction)) else None


def denominator(value: Number) -> int | None:
    """Denominator in lowest terms."""
    return value.denominator if isinstance(value, (int, Fraction)) else None


def largest_multiple(step: Number, limit: Number) -> Number | None:
    """The largest whole multiple of ``step`` that is not above ``limit``."""
    quotient = div(limit, step)
    times = None if quotient is None else floor(quotient)
    return None if times is None else times * step


def smallest_multiple(step: Number, limit: Number) -> Number | None:
    """The smallest whole multiple of ``step`` that is not below ``limit``."""
    quotient = div(limit, step)
    times = None if quotient is None else ceil(quotient)
    return None if times is None else times * step


def involves_pi(value: Number) -> bool | None:
    """Whether an exact number holds a power of π; None for one known only by approximation."""
    value = simplest(value)
    return None if isinstance(value, Approx) else isinstance(value, Pi)


def power_of_two(exponent: Number) -> Number | None:
    """2^n for whole n from 0 to 128."""
    exponent = simplest(exponent)
    if isinstance(exponent, int) and 0 <= exponent <= 128:
        return 1 << exponent
    return None


def version_at_least(version: str, least: str) -> bool | None:
    """Whether a dotted version is ``least`` or later, compared part by part as whole numbers.

    2.10 is later than 2.9; missing parts are zero. None where a version is more than digits and
    dots (after a leading v), since how letters rank is the maker's own. Common practice, no source.
    """
    parts = []
    for text in (version, least):
        words = text.strip().lower().removeprefix("v").split(".")
        if not all(word.isascii() and word.isdigit() and len(word) <= MAX_DIGITS for word in words):
            return None
        numbers = [int(word) for word in words]
        while numbers and numbers[-1] == 0:
            numbers.pop()
        parts.append(numbers)
    return parts[0] >= parts[1]


def smaller_of(a: Number, b: Number) -> Number | None:
    """The smaller of two."""
    return minimum((a, b))


def larger_of(a: Number, b: Number) -> Number | None:
    """The larger of two."""
    return maximum((a, b))


def same_everywhere(first: Number, second: Number) -> Number | None:
    """The value where both are equal; none where they differ, since it changes between them."""
    return first if eq(first, second) is True else None


def circumference(diameter: Number) -> Number:
    """π·d."""
    return diameter * Pi(Fraction(1), 1)


def _by_name(*functions: Function) -> Mapping[str, Function]:
    return MappingProxyType({function.name: function for function in functions})


FUNCTIONS: Final = _by_name(
    Function(
        "stopping_distance",
        (("speed", FREE_SPEED), ("deceleration", FREE_ACCELERATION), ("delay", TIME)),
        FREE,
        stopping_distance,
        "v·t + v²/(2a)",
        "uniform deceleration, elementary kinematics",
        growth=3,
        divisors=(1,),
        symbols=("v", "a", "t"),
        worked=worked_stopping_distance,
    ),
    Function(
        "stopping_distance_with_jerk",
        (
            ("speed", FREE_SPEED),
            ("deceleration", FREE_ACCELERATION),
            ("jerk", FREE_JERK),
            ("delay", TIME),
        ),
        FREE,
        stopping_distance_with_jerk,
        "v·t + v²/(2a) + v·a/(2j) if v ≥ a²/j, else v·t + v·√(v/j)",
        "jerk-limited deceleration, integral of the trapezoidal profile",
        growth=4,
        divisors=(1, 2),
        symbols=("v", "a", "j", "t"),
        worked=worked_stopping_distance_with_jerk,
    ),
    Function(
        "sine",
        (("angle", ANGLE),),
        RATIO,
        sine,
        "sin(angle), exact at 0, 30, 90, 150 … deg",
        "trigonometry, with rational values by Niven's theorem",
        growth=0,
    ),
    Function(
        "largest_sine",
        (("low", ANGLE), ("high", ANGLE)),
        RATIO,
        largest_sine,
        "the largest |sin| from low to high, 1 where 90 deg or 270 deg lies between",
        "trigonometry",
        growth=0,
    ),
    Function(
        "move_torque",
        (("rotor", FREE), ("inertia", FREE), ("steady", FREE), ("efficiency", RATIO)),
        FREE,
        move_torque,
        "the largest of |±rotor + max(load/efficiency, load·efficiency)|, load = steady ± inertia "
        "in the ramps, and without rotor and inertia between them",
        "elementary mechanics: the motor drives the load, or the load the motor",
        growth=4,
        divisors=(3,),
    ),
    Function(
        "move_heat",
        (
            *(("rotor", FREE), ("inertia", FREE), ("steady", FREE), ("efficiency", RATIO)),
            *(("ramp", TIME), ("even", TIME), ("torque", FREE)),
        ),
        TIME,
        move_heat,
        "(start²·ramp + even²·even time + stop²·ramp) / torque², torques as for move_torque",
        "√(Σ T²·t / Σ t) is the torque that heats as much (Schröder, Elektrische Antriebe, from "
        "memory)",
        growth=7,
        divisors=(3, 6),
    ),
    Function(
        "measured",
        (("x", FREE),),
        FREE,
        measured,
        "x, as a float if it takes many digits",
        "arithmetic",
        growth=0,
    ),
    Function("square_root", (("x", RATIO),), RATIO, square_root, "√x", "arithmetic"),
    Function("numerator", (("x", RATIO),), RATIO, numerator, "p of p/q", "arithmetic"),
    Function("denominator", (("x", RATIO),), RATIO, denominator, "q of p/q", "arithmetic"),
    Function("floor", (("x", RATIO),), RATIO, floor, "⌊x⌋", "arithmetic"),
    Function("ceiling", (("x", RATIO),), RATIO, ceil, "⌈x⌉", "arithmetic"),
    Function(
        "remainder",
        (("a", FREE), ("b", FREE)),
        FREE,
        remainder,
        "a − b·⌊a/b⌋",
        "arithmetic",
        growth=2,
        divisors=(1,),
    ),
    Function(
        "nearest_remainder",
        (("a", FREE), ("b", FREE)),
        FREE,
        nearest_remainder,
        "a − b·round(a/b), the nearest signed remainder",
        "arithmetic",
        growth=2,
        divisors=(1,),
    ),
    Function("absolute", (("x", FREE),), FREE, absolute, "|x|", "arithmetic"),
    Function("min", (("a", FREE), ("b", FREE)), FREE, smaller_of, "min(a, b)", "arithmetic"),
    Function("max", (("a", FREE), ("b", FREE)), FREE, larger_of, "max(a, b)", "arithmetic"),
    Function(
        "largest_multiple",
        (("step", FREE), ("limit", FREE)),
        FREE,
        largest_multiple,
        "step·⌊limit/step⌋",
        "arithmetic",
        growth=2,
        divisors=(0,),
    ),
    Function(
        "smallest_multiple",
        (("step", FREE), ("limit", FREE)),
        FREE,
        smallest_multiple,
        "step·⌈limit/step⌉",
        "arithmetic",
        growth=2,
        divisors=(0,),
    ),
    Function(
        "nearby_fraction",
        (("x", RATIO), ("decimals", RATIO)),
        RATIO,
        nearby_fraction,
        "the p/q of least q ≤ 100 within the last digit of a typed decimal",
        "common practice, no source",
    ),
    Function(
        "involves_pi",
        (("x", FREE),),
        FLAG,
        involves_pi,
        "whether x holds a power of π, so that no number that can be typed equals it",
        "arithmetic",
    ),
    Function(
        "simple_fraction",
        (("x", RATIO), ("tolerance", RATIO)),
        RATIO,
        simple_fraction,
        "the p/q of least q from x·(1 − tolerance) to x·(1 + tolerance), x itself at tolerance 0",
        "number theory (Stern–Brocot tree), from memory",
        growth=2,
    ),
    Function(
        "version_at_least",
        (("version", TEXT), ("least", TEXT)),
        FLAG,
        version_at_least,
        "whether a dotted version is the least one or later, part by part as whole numbers",
        "common practice, no source",
    ),
    Function("power_of_two", (("n", RATIO),), RATIO, power_of_two, "2^n", "arithmetic"),
    *(
        Function(
            name,
            (("ratio", RATIO), ("low", ANGLE), ("high", ANGLE)),
            RATIO,
            call,
            words,
            "triangle of crank and rod, elementary geometry",
            growth=0,
            reason="a crank with these lengths and angles does not turn",
        )
        for name, call, words in (
            ("largest_crank_slope", largest_crank_slope, "the largest |dx/dθ| / radius"),
            ("smallest_crank_slope", smallest_crank_slope, "the smallest |dx/dθ| / radius"),
            ("crank_travel", crank_travel, "the travel / radius, 2 over both dead points"),
        )
    ),
    Function(
        "same_everywhere",
        (("a", FREE), ("b", FREE)),
        FREE,
        same_everywhere,
        "a where a = b, not known where they differ",
        "arithmetic",
        reason="the travel per revolution is not the same along the travel",
    ),
    Function("circumference", (("diameter", FREE),), FREE, circumference, "π·d", "geometry"),
    Function(
        "meant_method",
        (("method", METHOD), ("place", RATIO)),
        METHOD,
        homing.meant_method,
        "one of the six numbers that a neutral name can mean, by its place",
        "CiA 402 homing, from memory",
    ),
    *(
        Function(name, (("method", METHOD),), FLAG, call, words, "CiA 402 homing, from memory")
        for name, call, words in (
            ("uses_index", homing.uses_index, "whether the method ends at an index pulse"),
            ("uses_home_switch", homing.uses_home_switch, "whether it needs a home switch"),
            ("uses_limit_switch", homing.uses_limit_switch, "whether it needs a limit switch"),
            ("uses_hard_stop", homing.uses_hard_stop, "whether it runs against a hard stop"),
            (
                "sets_current_position",
                homing.sets_current_position,
                "whether it takes the present position as reference, without motion",
            ),
            (
                "means_several_methods",
                homing.means_several,
                "whether it is a neutral name that several numbers can mean",
            ),
            (
                "needs_held_switch",
                homing.needs_held_switch,
                "whether the switch must stay actuated",
            ),
            (
                "searches_negative",
                homing.searches_negative,
                "whether an axis on no switch searches its reference in the negative direction",
            ),
            (
                "approaches_negative",
                homing.approaches_negative,
                "whether the reference is met in the negative direction",
            ),
            ("is_makers_own", homing.is_makers_own, "whether the number is the maker's own"),
            ("is_reserved", homing.is_reserved, "whether the number is reserved"),
            ("is_withdrawn", homing.is_withdrawn, "whether the number was withdrawn"),
        )
    ),
)
"""All functions by name. Nothing outside this table can be called from a rule."""
