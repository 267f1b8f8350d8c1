"""Examples of the starter file for a rotary axis, where those of the schema are for a linear one.

All are of one invented axis: an endless table with a gearbox of 25:1, in degrees, with 1000 command
increments per degree. None is a recommendation.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

ROTARY: Final[Mapping[str, str | int]] = MappingProxyType(
    {
        "encoder.total_range": 8_589_934_592,
        "drive.gear.numerator": 2048,
        "drive.gear.denominator": 225,
        "encoder.index_marks.marks.position": "35 deg",
        "encoder.index_marks.unique_range": "360 deg",
        "drive.gear.command_increment": "0.001 deg",
        "drive.gear_ratio.motor_turns": 25,
        "drive.feed_constant.feed": "360 deg",
        "drive.second_encoder.gear_ratio.motor_turns": 1,
        "drive.second_encoder.feed_constant.feed": "360 deg",
        "drive.second_encoder.scaling.counts": 131_072,
        "drive.second_encoder.scaling.distance": "360 deg",
        "drive.encoder_monitoring.window": "0.1 deg",
        "drive.position_range.min": 0,
        "drive.position_range.max": 359_999,
        "drive.stop_reaction.deceleration": "3000 deg/s^2",
        "drive.stop_reaction.jerk": "30000 deg/s^3",
        "drive.fault_deceleration": "3000 deg/s^2",
        "drive.velocity_factor.command": "0.1 deg/s",
        "drive.velocity_encoder_factor.command": "0.1 deg/s",
        "drive.motor_data_factor.command": "0.1 deg/s",
        "drive.acceleration_factor.command": "1 deg/s^2",
        "drive.safety_scaling.distance": "360 deg",
        "drive.following_error_window": "2 deg",
        "controller.type": "modulo",
        "controller.units": "deg",
        "controller.counts_per_unit": "1000 count/deg",
        "controller.scaling.counts": 360_000,
        "controller.scaling.distance": "360 deg",
        "controller.cycle": "360 deg",
        "controller.homing.method": 33,
        "controller.homing.reference_position": "0 deg",
        "controller.homing.search_speed": "30 deg/s",
        "controller.homing.creep_speed": "2 deg/s",
        "controller.homing.acceleration": "200 deg/s^2",
        "controller.homing.switch.position": "10 deg",
        "controller.homing.switch.width": "5 deg",
        "controller.homing.switch.scatter": "0.02 deg",
        "controller.homing.mark_after_switch": "10 deg",
        "controller.homing.repeatability": "0.05 deg",
        "controller.software_limits.min": "-170 deg",
        "controller.software_limits.max": "170 deg",
        "controller.stop.deceleration": "3000 deg/s^2",
        "controller.stop.jerk": "30000 deg/s^3",
        "controller.max_velocity": "600 deg/s",
        "controller.max_acceleration": "3000 deg/s^2",
        "controller.max_jerk": "30000 deg/s^3",
        "controller.motion_cycle.moves.distance": "90 deg",
        "controller.motion_cycle.moves.velocity": "600 deg/s",
        "controller.motion_cycle.moves.acceleration": "3000 deg/s^2",
        "controller.overshoot": "0.2 deg",
        "controller.power_off_motion": "20 deg",
        "mechanics.stages.motor_side_teeth": 20,
        "mechanics.stages.load_side_teeth": 500,
        "mechanics.stages.motor_turns_per_load_turn": "25",
        "mechanics.final.kind": "rotary_table",
        "mechanics.stated_ratio": "25",
        "mechanics.elastic_deflection": "0.01 deg",
        "mechanics.travel.min": "-180 deg",
        "mechanics.travel.max": "180 deg",
        "mechanics.limit_switches.negative": "-175 deg",
        "mechanics.limit_switches.positive": "175 deg",
        "mechanics.limit_switches.scatter": "0.02 deg",
        "mechanics.backlash": "0.02 deg",
        "mechanics.required_accuracy": "0.05 deg",
        "mechanics.free_distance": "6 deg",
        "interlocks.max_speed": "10 deg/s",
        "gantry.racking_tolerance": "0.05 deg",
    }
)
"""Dotted path of an axis's fact (list items without a number) to its example."""
