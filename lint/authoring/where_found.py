"""Where people find a fact: on a plate, in a drive, on a drawing. The longest path counts.

All of it is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

_PLATE: Final = "on the plate of"
_SHEET: Final = "in the data sheet of"
_LIST: Final = "in the parameter list of"

WHERE: Final[Mapping[str, str]] = MappingProxyType(
    {
        "motion": "at the machine: does the load move along a line or round an axis?",
        "motor": f"{_PLATE} the motor, or {_SHEET} the motor",
        "motor.serial": f"{_PLATE} the motor",
        "motor.model": f"{_PLATE} the motor",
        "motor.peak_torque": f"{_SHEET} the motor",
        "motor.peak_force": f"{_SHEET} the motor",
        "motor.force_constant": f"{_SHEET} the motor: per ampere of effective or of peak current?",
        "motor.attraction_force": f"{_SHEET} the motor",
        "motor.moving_mass": f"{_SHEET} the motor: of the part that moves",
        "motor.inertia": f"{_SHEET} the motor, with brake, if it has one",
        "motor.pole_pairs": f"{_SHEET} the motor, or {_LIST} the drive",
        "motor.brake": f"{_PLATE} the motor, or {_SHEET} the brake",
        "motor.brake.release_time": f"{_SHEET} the brake",
        "motor.brake.apply_time": f"{_SHEET} the brake",
        "motor.commutation": "in the service record of the axis",
        "encoder": f"{_PLATE} the encoder, or {_SHEET} the encoder",
        "encoder.serial": f"{_PLATE} the encoder",
        "encoder.mounted_on": "at the machine: look where the encoder sits",
        "encoder.counts_per_revolution": f"{_PLATE} the encoder. 17 bits are 131072 counts",
        "encoder.lines_per_revolution": f"{_PLATE} the encoder",
        "encoder.edges_per_line": f"{_LIST} the drive",
        "encoder.index_marks": f"{_SHEET} the encoder: how many marks, and how far apart?",
        "encoder.index_marks.marks": "at the machine: which marks of the scale are switched on?",
        "encoder.distinguishable_revolutions": f"{_PLATE} the encoder. 16 bits are 65536 turns",
        "encoder.turn_counter.backup": f"{_SHEET} the encoder",
        "encoder.turn_counter.battery": "at the machine: in the encoder's cable or in the drive",
        "encoder.turn_counter.battery.fitted_on": "on the battery, or in the service record",
        "encoder.turn_counter.reading_at_reference": "in the drive's diagnosis, at the reference",
        "encoder.angle_at_reference": "in the drive's diagnosis, at the reference",
        "encoder.count_direction": "at the machine: turn the shaft and watch the reading",
        "encoder.serial_at_calibration": "in the service record of the axis",
        "second_encoder": f"{_PLATE} the second encoder, or {_SHEET} it",
        "second_encoder.serial": f"{_PLATE} the second encoder",
        "second_encoder.mounted_on": "at the machine: look where the second encoder sits",
        "second_encoder.count_direction": "at the machine: move the axis and watch both readings",
        "drive": f"{_LIST} the drive",
        "drive.serial": f"{_PLATE} the drive",
        "drive.model": f"{_PLATE} the drive",
        "drive.node": "on the address switches of the drive, or in the network list",
        "drive.firmware": "on the display or in the parameter list of the drive",
        "drive.firmware_minimum": "in the notes on the settings of this axis",
        "drive.supported_homing_methods": "in the manual of the drive",
        "drive.reads_coded_marks": "in the manual of the drive",
        "drive.command_frequency_limit": "in the manual of the drive",
        "drive.feedback_frequency_limit": "in the manual of the drive",
        "drive.position_register": "in the manual of the drive",
        "drive.gear.min_ratio": "in the manual of the drive",
        "drive.gear.max_ratio": "in the manual of the drive",
        "drive.fault_deceleration": "in the parameter list of the drive, or from a measured stop",
        "drive.brake_off_delay_always": "in the manual of the drive",
        "drive.velocity_factor.motor_speed": "in the manual of the drive",
        "drive.motor_data_factor.motor_speed": "in the manual of the drive",
        "drive.acceleration_factor.motor_speed_per_second": "in the manual of the drive",
        "drive.braking_power": f"{_SHEET} the drive or its braking resistor",
        "controller": "in the axis settings of the controller",
        "controller.position_register": "in the manual of the controller",
        "controller.unfolding": "in the manual of the controller",
        "controller.homing.switch": "on the drawing of the axis, or measured",
        "controller.homing.switch.scatter": "in the data sheet of the switch",
        "controller.homing.index_after_switch": "in the diagnosis of the drive after a homing",
        "controller.homing.mark_after_switch": "in the diagnosis of the drive after a homing",
        "controller.homing.marks_read": "in the manual of the drive, or in its parameter list",
        "controller.homing.taught": "in the service record of the axis",
        "controller.duty": "in the sizing of the motor, or in a recording of the drive",
        "controller.load_brake_output": "in the circuit diagram and the program of the controller",
        "controller.power_off_motion": "at the machine: how far can it move while power is off?",
        "mechanics": "on the drawing of the axis",
        "mechanics.stages": f"{_PLATE} the gearbox, or count the teeth",
        "mechanics.final.lead": "on the drawing, or measured: travel in one turn of the screw",
        "mechanics.final.teeth": "on the drawing, or count the teeth",
        "mechanics.final.helix_angle": "on the drawing of the rack",
        "mechanics.final.turning_part": "at the machine: does the screw or its nut turn?",
        "mechanics.final.nut_rated_speed": f"{_SHEET} the nut",
        "mechanics.stated_ratio": "in the papers of the machine",
        "mechanics.travel": "on the drawing, or measured from hard stop to hard stop",
        "mechanics.limit_switches": "on the drawing of the axis, or measured",
        "mechanics.moved_by_gravity": "at the machine: does the load sink without torque?",
        "mechanics.load_brake": f"{_PLATE} the brake on the load, or {_SHEET} it",
        "mechanics.load_brake.acts_on": "at the machine: look where the brake on the load acts",
        "mechanics.load_brake.opened_by": "in the circuit diagram",
        "mechanics.load_brake.motion_waits_for_open": "in the program of the controller",
        "mechanics.clamp": f"{_PLATE} the clamp, or {_SHEET} the clamp",
        "mechanics.clamp.acts_on": "at the machine: look where the clamp acts",
        "mechanics.clamp.inhibits": "in the program of the controller",
        "mechanics.clamp.open_timeout": "in the program of the controller",
        "mechanics.clamp.off_delay": "in the program of the controller",
        "mechanics.clamp.closes_at_standstill": "in the program of the controller",
        "mechanics.clamp.opens_under_torque": "in the program of the controller",
        "mechanics.clamp.torque_while_closed": "in the program of the controller",
        "mechanics.clamp.torque_limit_while_closed": "in the program of the controller",
        "mechanics.clamp.force_limit_while_closed": "in the program of the controller",
        "mechanics.clamp.process_force": "in the requirements of the process",
        "mechanics.clamp.process_torque": "in the requirements of the process",
        "mechanics.unbalance": "on the drawing of all that turns, with tool and product",
        "mechanics.unbalance.lowest_at": "at the machine: where does the load hang at rest?",
        "mechanics.tilted_by": "at the machine: which axis tilts this one?",
        "mechanics.telescope": "on the drawing, or measured with one slow move",
        "mechanics.load_mass": "on the drawing, or weighed",
        "mechanics.friction_force": "in the sizing of the motor, or measured with a slow move",
        "mechanics.friction_coefficient": f"{_SHEET} the guides",
        "mechanics.rim": f"{_PLATE} the tool, the wheel or the table",
        "mechanics.friction_torque": "in the sizing of the motor, or measured with a slow move",
        "mechanics.efficiency": f"{_SHEET} the gearbox or the screw",
        "mechanics.backlash": f"{_SHEET} the gearbox, or measured with a gauge",
        "mechanics.elastic_deflection": "in the sizing of the axis, or measured under load",
        "mechanics.required_accuracy": "in the requirements of the process",
        "mechanics.free_distance": "on the drawing, or measured: the gap to what would be hit",
        "mechanics.couplings": f"{_SHEET} the coupling",
        "interlocks": "in the program of the controller",
        "interlocks.guidance": "on the screen of the operator",
        "gantry": "at the machine: is the load carried by two motors side by side?",
        "storage": "in the manuals of the drive and the encoder",
        "network": "in the network list of the controller",
        "conditions": "in the alarm list of the controller",
        "collision_pairs": "on the layout of the machine: which axes can hit each other?",
    }
)
"""Path of a fact or part, without numbers of list items, to the place."""

ABSENT: Final[Mapping[str, str]] = MappingProxyType(
    {
        "motor.brake": "This axis has no brake.",
        "motor.attraction_force": "This linear motor has no iron, so its magnets attract nothing.",
        "motor.commutation": "Nobody has to teach the commutation of this motor.",
        "encoder.turn_counter.battery": "No battery keeps the turns of this encoder.",
        "drive.gear": "The drive has no electronic gear in use.",
        "drive.encoder_monitoring": "The drive does not compare its two encoders.",
        "second_encoder": "This axis has one encoder.",
        "drive.node": "This drive is on no network.",
        "drive.firmware_minimum": "The settings of this axis need no certain firmware.",
        "drive.position_range": "The drive does not limit the position range.",
        "drive.command_frequency_limit": "The drive does not limit the rate of commands.",
        "drive.brake_voltage": "The drive does not feed the brake.",
        "drive.stop_reaction.jerk": "This stop of the drive has no jerk limit.",
        "controller.software_limits": "This axis has no software limits.",
        "controller.max_jerk": "The controller does not limit the jerk.",
        "controller.stop.jerk": "This stop of the controller has no jerk limit.",
        "controller.homing": "Nobody homes this axis.",
        "controller.homing.switch": "This axis has no home switch.",
        "controller.homing.taught": "Nobody has taught the reference of this axis.",
        "mechanics.travel": "This axis has no hard stops.",
        "mechanics.limit_switches": "This axis has no limit switches.",
        "mechanics.counterbalance": "This axis has no counterbalance.",
        "mechanics.load_brake": "No brake acts on the load.",
        "mechanics.clamp": "This axis has no clamp.",
        "controller.load_brake_output": "The controller opens no brake on the load.",
        "mechanics.telescope": "No part of this axis extends like a telescope.",
        "mechanics.unbalance": "The centre of gravity lies on the axis of rotation.",
        "mechanics.tilted_by": "No other axis tilts this one.",
        "interlocks.max_speed": "The interlock does not limit the speed.",
        "interlocks.guidance": "The interlock tells the operator nothing.",
        "gantry": "This axis is part of no gantry.",
        "drive.safety_scaling": "The safety functions of the drive watch no speed and no position.",
        "network": "The drives get their commands in another way than over a network.",
    }
)
"""What `none` says, as a sentence to confirm."""

NO_ITEMS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "mechanics.stages": "Motor and driving shaft are coupled directly.",
        "mechanics.couplings": "There is no coupling between motor and load.",
        "mechanics.telescope.sections": "No other section of the telescope has a mass that counts.",
        "interlocks": "This axis has no interlock.",
        "interlocks.triggers": "Nothing sets this interlock.",
        "interlocks.inhibits": "This interlock stops no motion.",
        "interlocks.released_by": "Nothing releases this interlock.",
        "conditions.cleared_by": "Nothing clears this condition.",
        "drive.supported_homing_methods": "The drive supports no homing method.",
        "controller.duty": "Nobody recorded a duty cycle.",
        "mechanics.clamp.inhibits": "Nothing is inhibited while the clamp is closed.",
        "controller.homing.after": "This axis waits for no other axis.",
        "collision_pairs": "No two axes of this machine can collide.",
        "encoder.index_marks.marks": "No index mark of this encoder is switched on.",
        "conditions": "The controller has no alarm codes for its axes.",
        "network.nodes": "No device is on the network.",
    }
)
"""What an empty list says, as a sentence to confirm."""


def where_found(fact: str) -> str:
    """Where a fact (its path without numbers) is found; empty if nothing is known of it."""
    while fact:
        if fact in WHERE:
            return WHERE[fact]
        fact = fact.rpartition(".")[0]
    return ""
