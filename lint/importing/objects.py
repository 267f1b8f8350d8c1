"""Which object of CiA 402 and CiA 406 is which fact of the machine file: data, no code.

Indexes, subindexes and units after CiA 402-2 / IEC 61800-7-201 and CiA 406 (from memory): currents
in mA, torques in mN·m and per mille of rated torque, speeds of 0x6080 in rpm, times in ms. Objects
in user units need the unit of the drive (see user_units.py).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Final, Literal

from ..numbers.rational import Fraction
from .device_sections import ObjectKey

Combine = Literal[
    "value", "quotient", "whole_quotient", "product", "power_of_ten", "list", "counts", "text",
    "user_unit",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class ObjectMapping:
    """How ``objects`` feed the fact ``to`` (a path in an axis, or after ``machine.``).

    ``combine``: the one value; first over second (must be whole, or is left out if it is not); the
    product; first times ten to the second; a list of the values of an array; a user position as
    counts by CiA 402's position formula; a text; the user unit of the level ``unit``, where it is
    known and the object is configured. ``unit`` is a spelling of units.UNITS, or the name of a user
    unit level, or empty. ``scale`` turns the number into ``unit``. ``bit`` picks one bit. ``words``
    name the numbers of an enumeration; None is a number the machine file has no word for.
    ``without`` gives numbers that state nothing, with the reason. The mapping applies only if the
    object of ``when`` (object, mask, values), masked, is one of the values. ``limits`` are further
    objects of which the lowest applies; ``by_direction``: the first limits the positive direction
    and the second the negative one, and the lower one is taken. ``other_way`` limits the other
    direction, and the fact is stated only if the two differ. ``inherent``: the objects say what the
    device is or can do, so that a default states it too.
    """

    to: str
    objects: tuple[ObjectKey, ...]
    combine: Combine = "value"
    unit: str = ""
    scale: Fraction = Fraction(1)
    bit: int | None = None
    words: Mapping[int, str | None] | None = None
    without: Mapping[int, str] = field(default_factory=dict)
    when: tuple[ObjectKey, int, tuple[int, ...]] | None = None
    home_offset: bool = False
    limits: tuple[ObjectKey, ...] = ()
    by_direction: bool = False
    other_way: ObjectKey | None = None
    inherent: bool = False


_POLARITY: Final[Mapping[int, str | None]] = {0: "normal", 1: "reversed"}
_QUICK_STOP: Final[Mapping[int, str | None]] = {
    0: "disable_at_once",
    1: "slow_down_then_disable",
    2: "quick_stop_then_disable",
    3: None,
    4: None,
    5: "slow_down_and_hold",
    6: "quick_stop_and_hold",
    7: None,
    8: None,
}
_FAULT: Final[Mapping[int, str | None]] = {
    0: "disable_at_once",
    1: "slow_down_then_disable",
    2: "quick_stop_then_disable",
    3: "current_limit_then_disable",
    4: "voltage_limit_then_disable",
}
_SHUTDOWN: Final[Mapping[int, str | None]] = {0: "disable_at_once", 1: "slow_down_then_disable"}
_HALT: Final[Mapping[int, str | None]] = {
    0: "disable_at_once",  # of older editions; later ones reserve it
    1: "slow_down_and_hold",
    2: "quick_stop_and_hold",
    3: "current_limit_and_hold",
    4: "voltage_limit_and_hold",
}
_NO_FACTOR: Final[Mapping[int, str]] = {0: "a factor of 0 converts nothing"}
_THOUSANDTH: Final = Fraction(1, 1000)
_MILLION: Final = Fraction(1, 10**6)


def _factor(name: str, index: int, level: str = "velocity") -> tuple[ObjectMapping, ...]:
    """Numerator and divisor of a factor, and the user unit that it converts."""
    return (
        ObjectMapping(f"drive.{name}.numerator", ((index, 1),), without=_NO_FACTOR),
        ObjectMapping(f"drive.{name}.divisor", ((index, 2),), without=_NO_FACTOR),
        ObjectMapping(f"drive.{name}.command", ((index, 1),), "user_unit", level),
    )


DRIVE: Final[tuple[ObjectMapping, ...]] = (
    ObjectMapping("drive.model", ((0x1008, 0),), "text", inherent=True),
    ObjectMapping("drive.firmware", ((0x100A, 0),), "text"),
    ObjectMapping(
        "drive.serial", ((0x1018, 4),), "text", without={0: "the device states no serial number"}
    ),
    ObjectMapping("drive.stop_reaction.option", ((0x605A, 0),), words=_QUICK_STOP),
    ObjectMapping("drive.shutdown_option", ((0x605B, 0),), words=_SHUTDOWN),
    ObjectMapping("drive.disable_operation_option", ((0x605C, 0),), words=_SHUTDOWN),
    ObjectMapping("drive.halt_option", ((0x605D, 0),), words=_HALT),
    ObjectMapping("drive.fault_reaction_option", ((0x605E, 0),), words=_FAULT),
    ObjectMapping(
        "drive.following_error_window",
        ((0x6065, 0),),
        unit="position",
        without={0xFFFFFFFF: "following error control is switched off"},
    ),
    ObjectMapping("drive.following_error_timeout", ((0x6066, 0),), unit="ms"),
    ObjectMapping(
        "drive.torque_limit",
        ((0x6072, 0), (0x6076, 0)),
        "product",
        "N·m",
        _MILLION,
        without={0: "no torque is allowed or no rated torque is set"},
        limits=((0x60E0, 0), (0x60E1, 0)),
        by_direction=True,
    ),
    ObjectMapping(
        "drive.torque_limit_positive",
        ((0x60E0, 0), (0x6076, 0)),
        "product",
        "N·m",
        _MILLION,
        without={0: "no torque is allowed or no rated torque is set"},
        limits=((0x6072, 0),),
        other_way=(0x60E1, 0),
    ),
    ObjectMapping(
        "drive.torque_limit_negative",
        ((0x60E1, 0), (0x6076, 0)),
        "product",
        "N·m",
        _MILLION,
        without={0: "no torque is allowed or no rated torque is set"},
        limits=((0x6072, 0),),
        other_way=(0x60E0, 0),
    ),
    ObjectMapping(
        "motor.rated_torque",
        ((0x6076, 0),),
        unit="N·m",
        scale=_THOUSANDTH,
        without={0: "no rated torque is set"},
    ),
    ObjectMapping(
        "motor.rated_current",
        ((0x6075, 0),),
        unit="A",
        scale=_THOUSANDTH,
        without={0: "no rated current is set"},
    ),
    ObjectMapping("drive.position_range.min", ((0x607B, 1),), "counts"),
    ObjectMapping("drive.position_range.max", ((0x607B, 2),), "counts"),
    ObjectMapping(
        "controller.homing.reference_position", ((0x607C, 0),), unit="position", home_offset=True
    ),
    ObjectMapping("controller.software_limits.min", ((0x607D, 1),), unit="position"),
    ObjectMapping("controller.software_limits.max", ((0x607D, 2),), unit="position"),
    ObjectMapping("drive.polarity", ((0x607E, 0),), bit=7, words=_POLARITY),
    ObjectMapping("drive.velocity_polarity", ((0x607E, 0),), bit=6, words=_POLARITY),
    ObjectMapping("controller.max_velocity", ((0x607F, 0),), unit="velocity"),
    ObjectMapping("drive.max_speed", ((0x6080, 0),), unit="rpm"),
    ObjectMapping(
        "controller.max_acceleration",
        ((0x6083, 0),),
        unit="acceleration",
        limits=((0x60C5, 0),),
    ),
    ObjectMapping(
        "drive.stop_reaction.deceleration",
        ((0x6084, 0),),
        unit="acceleration",
        limits=((0x60C6, 0),),
        when=((0x605A, 0), 0xFFFF, (1, 5)),
    ),
    ObjectMapping(
        "drive.stop_reaction.deceleration",
        ((0x6085, 0),),
        unit="acceleration",
        limits=((0x60C6, 0),),
        when=((0x605A, 0), 0xFFFF, (2, 6)),
    ),
    ObjectMapping(
        "drive.fault_deceleration",
        ((0x6084, 0),),
        unit="acceleration",
        limits=((0x60C6, 0),),
        when=((0x605E, 0), 0xFFFF, (1,)),
    ),
    ObjectMapping(
        "drive.fault_deceleration",
        ((0x6085, 0),),
        unit="acceleration",
        limits=((0x60C6, 0),),
        when=((0x605E, 0), 0xFFFF, (2,)),
    ),
    ObjectMapping("drive.counts_per_revolution", ((0x608F, 1), (0x608F, 2)), "quotient"),
    ObjectMapping("drive.gear_ratio.motor_turns", ((0x6091, 1),)),
    ObjectMapping("drive.gear_ratio.shaft_turns", ((0x6091, 2),)),
    ObjectMapping("drive.feed_constant.feed", ((0x6092, 1),), unit="position"),
    ObjectMapping("drive.feed_constant.shaft_turns", ((0x6092, 2),)),
    ObjectMapping(
        "drive.second_encoder.counts_per_revolution", ((0x60E6, 1), (0x60EB, 1)), "quotient"
    ),
    ObjectMapping("drive.second_encoder.gear_ratio.motor_turns", ((0x60E8, 1),)),
    ObjectMapping("drive.second_encoder.gear_ratio.shaft_turns", ((0x60ED, 1),)),
    ObjectMapping("drive.second_encoder.feed_constant.feed", ((0x60E9, 1),), unit="position"),
    ObjectMapping("drive.second_encoder.feed_constant.shaft_turns", ((0x60EE, 1),)),
    ObjectMapping("drive.gear.numerator", ((0x6093, 1),)),
    ObjectMapping("drive.gear.denominator", ((0x6093, 2),)),
    *_factor("velocity_encoder_factor", 0x6094),
    ObjectMapping(
        "drive.velocity_encoder_factor.counts_per_revolution",
        ((0x6090, 1), (0x6090, 2)),
        "whole_quotient",
    ),
    *_factor("motor_data_factor", 0x6095),
    *_factor("velocity_factor", 0x6096),
    *_factor("acceleration_factor", 0x6097, "acceleration"),
    ObjectMapping(
        "controller.homing.method", ((0x6098, 0),), without={0: "no homing method is chosen"}
    ),
    ObjectMapping("controller.homing.search_speed", ((0x6099, 1),), unit="velocity"),
    ObjectMapping("controller.homing.creep_speed", ((0x6099, 2),), unit="velocity"),
    ObjectMapping("controller.homing.acceleration", ((0x609A, 0),), unit="acceleration"),
    ObjectMapping("machine.network.cycle_time", ((0x60C2, 1), (0x60C2, 2)), "power_of_ten", "s"),
    ObjectMapping("drive.supported_homing_methods", ((0x60E3, 0),), "list", inherent=True),
    ObjectMapping("motor.model", ((0x6403, 0),), "text"),
)
"""CiA 402 (device profile 402)."""

_OF_A_LINEAR_MOTOR: Final[Mapping[str, tuple[str, str]]] = {
    "drive.torque_limit": ("drive.force_limit", "N"),
    "motor.rated_torque": ("motor.rated_force", "N"),
    "drive.max_speed": ("drive.max_velocity", "velocity"),
}
"""Facts that are others where the drive feeds a linear motor, with their unit.

0x6076 then holds the rated force in mN, and 0x6080 is in the user unit of velocity (CiA 402-2, from
memory).
"""


def of_linear_motor(mapping: ObjectMapping) -> ObjectMapping:
    """The mapping as it is on a drive that feeds a linear motor."""
    if mapping.to not in _OF_A_LINEAR_MOTOR:
        return mapping
    to, unit = _OF_A_LINEAR_MOTOR[mapping.to]
    return replace(mapping, to=to, unit=unit)


_SCALED: Final[tuple[ObjectKey, int, tuple[int, ...]]] = ((0x6000, 0), 0b100, (0b100,))
_UNSCALED: Final[tuple[ObjectKey, int, tuple[int, ...]]] = ((0x6000, 0), 0b100, (0,))

ENCODER: Final[tuple[ObjectMapping, ...]] = (
    ObjectMapping("encoder.model", ((0x1008, 0),), "text", inherent=True),
    ObjectMapping(
        "encoder.serial", ((0x1018, 4),), "text", without={0: "the device states no serial number"}
    ),
    ObjectMapping("encoder.capability.counts_per_revolution", ((0x6501, 0),), inherent=True),
    ObjectMapping("encoder.capability.distinguishable_revolutions", ((0x6502, 0),), inherent=True),
    ObjectMapping("encoder.counts_per_revolution", ((0x6001, 0),), when=_SCALED),
    ObjectMapping("encoder.counts_per_revolution", ((0x6501, 0),), when=_UNSCALED, inherent=True),
    ObjectMapping("encoder.total_range", ((0x6002, 0),), when=_SCALED),
    ObjectMapping(
        "encoder.distinguishable_revolutions",
        ((0x6002, 0), (0x6001, 0)),
        "quotient",
        when=_SCALED,
    ),
    ObjectMapping(
        "encoder.distinguishable_revolutions", ((0x6502, 0),), when=_UNSCALED, inherent=True
    ),
)
"""CiA 406 (device profile 406). Bit 2 of 0x6000 switches scaling on."""

PROFILES: Final[Mapping[int, tuple[str, tuple[ObjectMapping, ...]]]] = {
    402: ("drive", DRIVE),
    406: ("encoder", ENCODER),
}
"""By device profile number (low 16 bits of 0x1000): what it is, and its feeds."""
