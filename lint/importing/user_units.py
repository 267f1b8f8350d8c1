"""The user units of a CiA 402 drive: what one increment of a position or speed object stands for.

SI unit objects 0x60A8 (position), 0x60A9 (velocity), 0x60AA (acceleration) and 0x60AB (jerk):
bits 31–24 power of ten (two's complement), 23–16 numerator, 15–8 denominator; numbers of units
after CiA 303-2. Both from memory; 0xB5 (increments), 0x03 and 0x57 are as in the device file in
the ``canopen`` source archive.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

from ..base.errors import UsageError
from ..numbers.exact import QuantityError
from ..numbers.rational import Fraction
from ..numbers.units import UNITS, in_unit, parse_quantity, units_of
from ..numbers.written import in_quotes
from .device import Device
from .device_values import DeviceValue, object_name
from .values import exact_text

Level = Literal["position", "velocity", "acceleration", "jerk"]

OBJECTS: Final[Mapping[Level, int]] = {
    "position": 0x60A8,
    "velocity": 0x60A9,
    "acceleration": 0x60AA,
    "jerk": 0x60AB,
}
KINDS: Final[Mapping[Level, str]] = {
    "position": "position",
    "velocity": "position_speed",
    "acceleration": "position_acceleration",
    "jerk": "position_jerk",
}
_INCREMENTS: Final = 0xB5
_NUMERATORS: Final[Mapping[int, tuple[str, int]]] = {
    0x01: ("mm", 1000),
    0x10: ("rad", 1),
    0x41: ("deg", 1),
    0x42: ("arcmin", 1),
    0x43: ("arcsec", 1),
    0xB4: ("rev", 1),
}
_DENOMINATORS: Final[Mapping[Level, Mapping[int, str]]] = {
    "position": {0x00: ""},
    "velocity": {0x03: "/s", 0x47: "/min"},
    "acceleration": {0x57: "/s^2"},
    "jerk": {0xA0: "/s^3"},
}


@dataclass(frozen=True, slots=True)
class UserUnit:
    """One increment is ``size`` times ``unit``, a spelling of units.UNITS.

    ``note`` names what states the unit.
    """

    size: Fraction
    unit: str
    note: str


def parse_user_unit(text: str, level: Level, note: str) -> UserUnit:
    """Read "0.001 mm" or "mm" as the user unit of a level.

    Raises UsageError for another kind of quantity and for what is not above zero.
    """
    kind = KINDS[level]
    allowed = units_of(kind)
    example = {"position": "0.001 mm", "velocity": "1 mm/s"}.get(level, f"1 {allowed[0]}")
    expected = f"the {level} that one increment stands for, such as {example!r}"
    try:
        quantity = parse_quantity(text if text[:1].isdigit() else f"1 {text}")
    except QuantityError as fault:
        raise UsageError(
            f"the {level} unit {in_quotes(text)}: {fault.what}", expected=expected
        ) from None
    size = Fraction(quantity.written)
    if quantity.unit not in allowed or size <= 0:
        raise UsageError(f"the {level} unit is {in_quotes(text)}", expected=expected)
    return UserUnit(size, quantity.unit, note)


def user_units(
    device: Device, stated: Mapping[Level, UserUnit], offset: int = 0
) -> dict[Level, UserUnit]:
    """The user units of a drive: from its SI unit objects, else as ``stated``.

    ``offset`` is added to the indexes. A level that neither tells is missing. Raises InputError for
    a unit number that is not known and for an object that contradicts what is stated.
    """
    found: dict[Level, UserUnit] = {}
    in_increments: set[Level] = set()
    for level, index in OBJECTS.items():
        given = device.whole((index + offset, 0))
        if given is not None and not given[1].configured:
            given = None  # a default is not how the drive is set
        own = None if given is None else _decoded(device, level, *given)
        if own is None and given is not None:
            in_increments.add(level)
        said = stated.get(level)
        if own is not None and said is not None and not _equal(own, said):
            assert given is not None
            raise device.error(
                f"{given[1].note} makes the {level} unit {_say(own)}, and {said.note} states "
                f"{_say(said)}",
                given[1].place,
                "one unit",
            )
        if own is not None or said is not None:
            found[level] = own or said  # type: ignore[assignment]
    position = found.get("position")
    if position is not None and "position" in in_increments:
        # What an increment stands for is stated, and speeds are in the same increments.
        for level, ending in (("velocity", "/s"), ("acceleration", "/s^2"), ("jerk", "/s^3")):
            if level in in_increments and level not in found:
                unit = f"{position.unit}{ending}"
                if unit in UNITS:
                    found[level] = UserUnit(position.size, unit, position.note)
    return found


def _decoded(
    device: Device, level: Level, value: int, device_value: DeviceValue
) -> UserUnit | None:
    """The unit that an SI unit object states; None if it counts increments."""
    power = value >> 24 & 0xFF
    power = power - 256 if power > 127 else power
    numerator, denominator = value >> 16 & 0xFF, value >> 8 & 0xFF
    ending = _DENOMINATORS[level].get(denominator)
    if ending is None:
        known = ", ".join(f"0x{n:02X}" for n in _DENOMINATORS[level])
        raise device.error(
            f"{device_value.note} has the denominator 0x{denominator:02X}",
            device_value.place,
            f"one of {known} for a {level}",
        )
    if numerator == _INCREMENTS:
        return None
    unit = _NUMERATORS.get(numerator)
    if unit is None:
        known = ", ".join(f"0x{n:02X} ({name})" for n, (name, _) in _NUMERATORS.items())
        raise device.error(
            f"{object_name(device_value.key)} has the unit number 0x{numerator:02X}",
            device_value.place,
            f"one of {known.replace('(mm)', '(m)')}",
        )
    name, factor = unit
    return UserUnit(factor * Fraction(10) ** power, f"{name}{ending}", device_value.note)


def _equal(one: UserUnit, two: UserUnit) -> bool:
    if UNITS[one.unit].dimension != UNITS[two.unit].dimension:
        return False
    return in_unit(one.size * UNITS[one.unit].factor, two.unit) == two.size


def _say(unit: UserUnit) -> str:
    return f"{exact_text(unit.size)} {unit.unit}"
