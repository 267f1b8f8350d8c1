"""Values of the objects of a device, of whatever form its file is: typed, with their places.

Types after CiA 301 (from memory). A hexadecimal number of a signed type is two's complement.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from ..base.errors import Place
from .device_sections import ObjectKey

INTEGERS: Final[Mapping[int, tuple[str, int, bool]]] = {
    0x01: ("BOOLEAN", 1, False),
    0x02: ("INTEGER8", 8, True),
    0x03: ("INTEGER16", 16, True),
    0x04: ("INTEGER32", 32, True),
    0x05: ("UNSIGNED8", 8, False),
    0x06: ("UNSIGNED16", 16, False),
    0x07: ("UNSIGNED32", 32, False),
    0x10: ("INTEGER24", 24, True),
    0x12: ("INTEGER40", 40, True),
    0x13: ("INTEGER48", 48, True),
    0x14: ("INTEGER56", 56, True),
    0x15: ("INTEGER64", 64, True),
    0x16: ("UNSIGNED24", 24, False),
    0x18: ("UNSIGNED40", 40, False),
    0x19: ("UNSIGNED48", 48, False),
    0x1A: ("UNSIGNED56", 56, False),
    0x1B: ("UNSIGNED64", 64, False),
}
"""CiA 301 integer types by number: name, bits, signed."""

OTHER_TYPES: Final[Mapping[int, str]] = {
    0x08: "REAL32",
    0x09: "VISIBLE_STRING",
    0x0A: "OCTET_STRING",
    0x0B: "UNICODE_STRING",
    0x0C: "TIME_OF_DAY",
    0x0D: "TIME_DIFFERENCE",
    0x0F: "DOMAIN",
    0x11: "REAL64",
}
TEXT_TYPES: Final = (0x09, 0x0B)
DOMAIN: Final = 0x0F

Value = int | str | float | bytes

_NODE: Final = re.compile(r"\+?\$NODEID\+?")


@dataclass(frozen=True, slots=True)
class DeviceValue:
    """One value of a device: ``entry`` is the word by which the file states it.

    ``configured`` says whether somebody set it: a default says how the device comes, not how it is
    set. ``value`` is None if the file states none; ``fault`` then says what is wrong with the text,
    if there is any.
    """

    key: ObjectKey
    name: str
    data_type: int
    value: Value | None
    low: int | None
    high: int | None
    entry: str
    configured: bool
    raw: str
    place: Place
    fault: str = ""

    @property
    def type_name(self) -> str:
        """The CiA 301 name of the data type."""
        return type_name(self.data_type)

    @property
    def note(self) -> str:
        """What states the value, in words."""
        return f"{self.entry} of {object_name(self.key)}"


def type_name(number: int) -> str:
    """The CiA 301 name of a data type, or its number."""
    if number in INTEGERS:
        return INTEGERS[number][0]
    return OTHER_TYPES.get(number, f"0x{number:04X}")


def known_type(number: int) -> int:
    """The data type; DOMAIN, whose bytes nobody reads, for one that CiA 301 does not number."""
    return number if number in INTEGERS or number in OTHER_TYPES else DOMAIN


def object_name(key: ObjectKey) -> str:
    """``0x6091 sub 1`` as people write it."""
    return f"0x{key[0]:04X} sub {key[1]}" if key[1] else f"0x{key[0]:04X}"


def depends_on_node(text: str) -> bool:
    """Whether a value is reckoned from the node id."""
    return "$NODEID" in text.upper()


def typed_value(text: str, data_type: int, node: int | None) -> Value:
    """A value as CiA 306 and CiA 311 write it. Raises ValueError for a text of another type."""
    if data_type in TEXT_TYPES:
        return text
    if data_type in (0x08, 0x11):
        return float(text)
    if data_type not in INTEGERS:
        return bytes.fromhex(text)
    compact = text.replace(" ", "").upper()
    if depends_on_node(compact) and node is not None:
        return int(_NODE.sub("", compact), 0) + node
    return signed(int(compact, 0), data_type, compact)


def signed(number: int, data_type: int, raw: str) -> int:
    """A hexadecimal number of a signed type as two's complement."""
    _, bits, is_signed = INTEGERS[data_type]
    if is_signed and raw[:2].lower() == "0x" and 1 << bits - 1 <= number < 1 << bits:
        return number - (1 << bits)
    return number


def limit_value(text: str, data_type: int) -> int | None:
    """A limit; of a signed type, one beyond its numbers is two's complement. None for no number."""
    try:
        number = int(text, 0)
    except ValueError:
        return None
    if data_type not in INTEGERS:
        return number
    _, bits, is_signed = INTEGERS[data_type]
    return number - (1 << bits) if is_signed and number >= 1 << bits - 1 else number
