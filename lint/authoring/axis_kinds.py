"""Kinds of axis that a starter file can be made for, and the facts that it asks for first.

A kind fills in only what follows from its name. It never states gravity, a brake, stops, or a value
that somebody could have set otherwise.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any, Final, Literal

Motion = Literal["linear", "rotary"]


@dataclass(frozen=True, slots=True)
class AxisKind:
    """What follows from the kind of an axis; paths of facts are dotted, without list numbers."""

    motion: Motion
    settled: Mapping[str, Any] = field(default_factory=dict)
    asked: tuple[str, ...] = ()
    """Facts that its starter asks for besides the usual ones."""
    without: tuple[str, ...] = ()
    """Facts, or records of facts, that such an axis cannot have."""


_FINAL: Final = "mechanics.final"
_SCREW: Final = tuple(
    f"{_FINAL}.{name}"
    for name in (
        *("lead", "starts", "root_diameter", "support", "unsupported_length"),
        *("nominal_diameter", "rated_speed", "speed_index", "turning_part"),
        "nut_rated_speed",
    )
)
_RACK: Final = (f"{_FINAL}.module", f"{_FINAL}.helix", f"{_FINAL}.helix_angle")
_TEETH: Final = (f"{_FINAL}.pitch", f"{_FINAL}.teeth")
_ROLLER: Final = (f"{_FINAL}.diameter",)
_ENDLESS: Final = ("controller.cycle", "controller.wraps_retained")
_OF_A_SLIDE: Final = (
    *("mechanics.load_mass", "mechanics.friction_force", "mechanics.clamp.process_force"),
    *("mechanics.load_brake.holding_force", "mechanics.clamp.holding_force"),
    *("controller.motion_cycle.moves.load_mass", "controller.motion_cycle.moves.process_force"),
    "mechanics.telescope",
)
_REEL: Final = tuple(
    f"mechanics.winding.{name}"
    for name in ("line_speed", "full_mass", "change_clears_diameter", "reel_is_changed")
)
"""What only a reel on a rotary axis has."""
_THRUST: Final = (
    *("motor.rated_force", "motor.peak_force", "motor.rated_velocity", "motor.max_velocity"),
    *("motor.force_constant", "motor.attraction_force", "motor.moving_mass"),
    *("drive.force_limit", "drive.max_velocity", "mechanics.friction_coefficient"),
)
"""What a linear motor is judged by in place of torque and speed of a shaft."""
_FORCE: Final = (
    *("motor.brake.holding_force", "controller.homing.force_limit", "controller.duty.force"),
    "mechanics.clamp.force_limit_while_closed",
    *_THRUST,
)
_RIM: Final = ("mechanics.rim",)
_MARKS_OF_A_SCALE: Final = (
    *("encoder.index_marks.spacing", "encoder.index_marks.difference"),
    "controller.homing.mark_after_switch",
)
_MARKS_OF_A_RING: Final = (
    *("encoder.index_marks.spacing_angle", "encoder.index_marks.difference_angle"),
    "controller.homing.index_after_switch",
)
_OF_A_LINEAR_MOTOR: Final = (*_FORCE, "encoder.measuring_step", *_MARKS_OF_A_SCALE)
_OF_A_SHAFT: Final = (
    *("encoder.counts_per_revolution", "encoder.lines_per_revolution", "encoder.turn_counter"),
    *("encoder.distinguishable_revolutions", "encoder.capability", "encoder.angle_at_reference"),
    *("encoder.turns_per_driving_shaft_turn", "encoder.mounted_on", "motor.brake.holding_torque"),
    *_MARKS_OF_A_RING,
    *("motor.rated_torque", "motor.peak_torque", "motor.inertia", "motor.rated_speed"),
    *("motor.max_speed", "drive.max_speed", "drive.torque_limit", "controller.duty.torque"),
    *("controller.homing.torque_limit", "mechanics.efficiency", "motor.field_weakening"),
    *("motor.torque_curve", "motor.voltage_constant"),
    *("drive.distinguishable_revolutions", "drive.counts_per_revolution"),
    *("drive.gear_ratio", "drive.feed_constant"),
    *("mechanics.stated_ratio", "mechanics.couplings", "mechanics.transmission_inertia"),
    "mechanics.telescope",
    *("mechanics.load_brake.holding_torque", "mechanics.clamp.holding_torque"),
    "mechanics.clamp.torque_limit_while_closed",
)
_OF_A_TURNING_LOAD: Final = (
    *("mechanics.load_inertia", "mechanics.unbalanced_torque", "mechanics.friction_torque"),
    *("mechanics.clamp.process_torque", "controller.motion_cycle.moves.process_torque"),
    *("mechanics.unbalance", "controller.motion_cycle.moves.load_inertia"),
    *_REEL,
    "mechanics.crank.slide_speed",
    *_RIM,
)

KINDS: Final[Mapping[str, AxisKind]] = MappingProxyType(
    {
        "linear": AxisKind("linear", asked=(f"{_FINAL}.lead",)),
        "rotary": AxisKind(
            "rotary",
            asked=_ENDLESS,
            without=(*_SCREW, *_RACK, *_TEETH, *_ROLLER, *_OF_A_SLIDE, *_FORCE),
        ),
        "screw": AxisKind(
            "linear",
            {f"{_FINAL}.kind": "screw"},
            (f"{_FINAL}.lead",),
            (*_RACK, f"{_FINAL}.teeth", *_ROLLER, *_OF_A_TURNING_LOAD, *_OF_A_LINEAR_MOTOR),
        ),
        "turning-nut": AxisKind(
            "linear",
            {f"{_FINAL}.kind": "screw", f"{_FINAL}.turning_part": "nut"},
            (f"{_FINAL}.lead", f"{_FINAL}.nut_rated_speed"),
            (*_RACK, f"{_FINAL}.teeth", *_ROLLER, *_OF_A_TURNING_LOAD, *_OF_A_LINEAR_MOTOR),
        ),
        "belt": AxisKind(
            "linear",
            {f"{_FINAL}.kind": "belt"},
            _TEETH,
            (*_SCREW, *_RACK, *_ROLLER, *_OF_A_TURNING_LOAD, *_OF_A_LINEAR_MOTOR),
        ),
        "chain": AxisKind(
            "linear",
            {f"{_FINAL}.kind": "chain"},
            _TEETH,
            (*_SCREW, *_RACK, *_ROLLER, *_OF_A_TURNING_LOAD, *_OF_A_LINEAR_MOTOR),
        ),
        "rack": AxisKind(
            "linear",
            {f"{_FINAL}.kind": "rack"},
            (f"{_FINAL}.module", f"{_FINAL}.helix", f"{_FINAL}.teeth"),
            (*_SCREW, *_ROLLER, *_OF_A_TURNING_LOAD, *_OF_A_LINEAR_MOTOR),
        ),
        "table": AxisKind(
            "rotary",
            {f"{_FINAL}.kind": "rotary_table"},
            _ENDLESS,
            (*_SCREW, *_RACK, *_TEETH, *_ROLLER, *_OF_A_SLIDE, *_FORCE),
        ),
        "arm": AxisKind(
            "rotary",
            {},
            (
                *("mechanics.moved_by_gravity", "mechanics.unbalance.mass"),
                *("mechanics.unbalance.radius", "mechanics.unbalance.lowest_at"),
                "mechanics.unbalance.axis_tilt",
            ),
            (*_SCREW, *_RACK, *_TEETH, *_ROLLER, *_OF_A_SLIDE, *_FORCE),
        ),
        "telescope": AxisKind(
            "linear",
            {},
            (
                "mechanics.telescope.travel_ratio",
                *("mechanics.telescope.sections.mass", "mechanics.telescope.sections.travel_share"),
            ),
            (*_OF_A_TURNING_LOAD, *_OF_A_LINEAR_MOTOR),
        ),
        "conveyor": AxisKind(
            "linear",
            {},
            (*_ENDLESS, *_ROLLER),
            (*_SCREW, *_RACK, *_OF_A_TURNING_LOAD, *_OF_A_LINEAR_MOTOR),
        ),
        "linear-motor": AxisKind(
            "linear",
            {"mechanics.stages": [], f"{_FINAL}.kind": "direct", "encoder.form": "linear"},
            (
                *("encoder.measuring_step", "controller.polarity", "drive.force_limit"),
                *("motor.rated_force", "motor.peak_force", "motor.moving_mass"),
                *("drive.position_register.bits", "drive.position_register.signed"),
            ),
            (*_SCREW, *_RACK, *_TEETH, *_ROLLER, *_OF_A_TURNING_LOAD, *_OF_A_SHAFT),
        ),
    }
)
"""Kinds of axis by the word that ``init --axis NAME:KIND`` takes."""

ASKED_FIRST: Final = frozenset(
    {
        *("encoder.serial", "encoder.kind", "encoder.counts_per_revolution"),
        "encoder.distinguishable_revolutions",
        *("drive.encoder_use", "drive.counts_per_revolution"),
        *("drive.distinguishable_revolutions",),
        *("drive.gear.numerator", "drive.gear.denominator"),
        *("drive.gear.multiplies", "drive.gear.command_increment"),
        *("controller.type", "controller.units", "controller.counts_per_unit"),
        "controller.unfolding",
        *("controller.homed_flag_retained",),
        *("controller.homing.method", "controller.homing.reference_position"),
        *("controller.homing.taught.encoder_serial", "controller.homing.taught.on"),
        *("mechanics.stages.motor_side_teeth", "mechanics.stages.load_side_teeth"),
        *("mechanics.final.kind", "mechanics.travel.min", "mechanics.travel.max"),
        *("interlocks.triggers", "interlocks.inhibits", "interlocks.released_by"),
        *("interlocks.latched", "gantry"),
    }
)
"""What rollover, gearing, homing and interlock are judged by."""
