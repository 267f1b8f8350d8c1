"""Units that are products of those in the table, such as N/mm² or kg/m³.

The table comes first. In a product the longest run of factors that the table knows is one unit:
N·m is a torque and kg·m² an inertia wherever they stand, so N·m/rad is a torque per angle. Energy
is J. After a / stands one factor.
"""

from __future__ import annotations

from functools import cache

from ..base.lazy import pattern
from .dimensions import DIMENSIONLESS, Dimension, dim_div, dim_mul, dim_pow
from .exact import Approx, Exact, Number, QuantityError, div, simplest
from .units import UNITS, Quantity, Unit, parse_quantity
from .written import parse_number

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final

MOST_FACTORS: Final = 6
_FACTOR: Final = pattern(r"([A-Za-zµμ°%‰]+)(?:\^([1-4])|([²³])|([2-4]))?")
_POWERS: Final = {"²": 2, "³": 3}
_LITERAL: Final = pattern(r"([0-9]+(?:\.[0-9]+)?(?:/[0-9]+)?) ?(.+)")


def parse_literal(text: str) -> Quantity:
    """Read a quantity whose unit is in the table or a product. Raises QuantityError."""
    try:
        return parse_quantity(text)
    except QuantityError:
        found = _LITERAL.fullmatch(text)
        unit = unit_named(found[2]) if found else None
        if found is None or unit is None:
            raise
        written, places = parse_number(found[1])
        value = simplest(written * unit.factor)
        if isinstance(value, Approx):
            raise
        return Quantity(value, unit.dimension, unit.name, places, written)


@cache
def unit_named(name: str) -> Unit | None:
    """The unit of the table, or the product of units, of this name; None if there is none."""
    if name in UNITS:
        return UNITS[name]
    dimension: Dimension = DIMENSIONLESS
    factor: Number = 1
    above, *below = name.split("/")
    parts = _runs(above.split("·"))
    if len(parts) + len(below) > MOST_FACTORS:
        return None
    for part, sign in (*((each, 1) for each in parts), *((each, -1) for each in below)):
        found = _single(part)
        if found is None:
            return None
        combine = dim_mul if sign > 0 else dim_div
        dimension = combine(dimension, found.dimension)
        quotient = factor * found.factor if sign > 0 else div(factor, found.factor)
        if quotient is None:
            return None
        factor = quotient
    exact = simplest(factor)
    return None if isinstance(exact, Approx) else Unit(name, dimension, exact)


def _runs(parts: list[str]) -> list[str]:
    """The factors of a product, with those together that the table knows as one unit."""
    found: list[str] = []
    while parts:
        for length in range(len(parts), 0, -1):
            run = "·".join(parts[:length])
            if run in UNITS or length == 1:
                found.append(run)
                parts = parts[length:]
                break
    return found


def _single(part: str) -> Unit | None:
    """A unit of the table, or a power of one."""
    if part in UNITS and part:
        return UNITS[part]
    found = _FACTOR.fullmatch(part)
    base = UNITS.get(found[1]) if found else None
    if found is None or base is None:
        return None
    power = _POWERS.get(found[3] or "", int(found[2] or found[4] or 1))
    factor: Exact = base.factor
    raised: Exact = 1
    for _ in range(power):
        product = simplest(raised * factor)
        assert not isinstance(product, Approx)
        raised = product
    return Unit(part, dim_pow(base.dimension, power), raised)
