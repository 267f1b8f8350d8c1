"""The algebra of dimensions, and their names."""

from __future__ import annotations

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final, TypeAlias


Dimension: TypeAlias = tuple[tuple[str, int], ...]
"""Base names with their exponents, sorted by name, none zero.

Bases are length, angle, time, mass, count, current, and ``position:NAME``: the user unit of one
axis, a length or an angle that is not known until the axis is.
"""

DIMENSIONLESS: Final[Dimension] = ()


def dim(**exponents: int) -> Dimension:
    """Build a dimension: ``dim(length=1, time=-1)`` is a speed."""
    return tuple(sorted((base, exponent) for base, exponent in exponents.items() if exponent))


def dim_mul(a: Dimension, b: Dimension) -> Dimension:
    """Give the dimension of a product."""
    if not b:
        return a
    if not a:
        return b
    exponents = dict(a)
    for base, exponent in b:
        exponents[base] = exponents.get(base, 0) + exponent
    return dim(**exponents)


def dim_div(a: Dimension, b: Dimension) -> Dimension:
    """Give the dimension of a quotient."""
    return dim_mul(a, dim_pow(b, -1))


def dim_pow(a: Dimension, exponent: int) -> Dimension:
    """Give the dimension of a power."""
    return tuple((base, power * exponent) for base, power in a) if exponent else ()


DIMENSION_WORDS: Final[dict[Dimension, str]] = {
    DIMENSIONLESS: "plain number",
    dim(length=1): "length",
    dim(length=2): "area",
    dim(length=3): "volume",
    dim(angle=1): "angle",
    dim(time=1): "time",
    dim(mass=1): "mass",
    dim(count=1): "count",
    dim(current=1): "current",
    dim(length=1, time=-1): "speed",
    dim(length=1, time=-2): "acceleration",
    dim(length=1, time=-3): "jerk",
    dim(angle=1, time=-1): "angular speed",
    dim(angle=1, time=-2): "angular acceleration",
    dim(angle=1, time=-3): "angular jerk",
    dim(length=1, angle=-1): "feed per turn",
    dim(length=1, mass=1, time=-2): "force",
    dim(length=1, mass=1, time=-2, current=-1): "force constant",
    dim(length=2, mass=1, time=-2, current=-1, angle=-1): "voltage per speed",
    dim(length=2, mass=1, time=-2): "energy",
    dim(length=2, mass=1, time=-3): "power",
    dim(length=2, mass=1, time=-2, angle=-1): "torque",
    dim(length=2, mass=1, angle=-2): "inertia",
    dim(length=2, mass=1, time=-3, current=-1): "voltage",
    dim(time=-1): "rate",
    dim(count=1, time=-1): "count rate",
    dim(count=1, length=-1): "counts per length",
    dim(count=1, angle=-1): "counts per angle",
    dim(position=1): "position",
    dim(position=1, time=-1): "position speed",
    dim(position=1, time=-2): "position acceleration",
    dim(position=1, time=-3): "position jerk",
    dim(position=1, angle=-1): "position per turn",
    dim(count=1, position=-1): "counts per position",
}
"""The everyday names of dimensions; ``position`` stands for any ``position:NAME``."""


def dim_words(dimension: Dimension) -> str:
    """Name a dimension in words ("torque"), or as a product of bases ("length·time^-2")."""
    plain = plain_position(dimension)
    known = DIMENSION_WORDS.get(plain)
    if known is not None:
        return known
    ordered = sorted(plain, key=lambda part: part[1] < 0)
    return "·".join(base if power == 1 else f"{base}^{power}" for base, power in ordered)


def plain_position(dimension: Dimension) -> Dimension:
    """Give the dimension with ``position:NAME`` as ``position`` when only one axis is in it."""
    named = [base for base, _ in dimension if base.startswith("position:")]
    if len(named) != 1:
        return dimension
    return dim(**{("position" if base == named[0] else base): power for base, power in dimension})
