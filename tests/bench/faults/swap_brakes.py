"""What holds the load of an axis after a swap: brakes of motor and load, and clamps."""

from __future__ import annotations

from fractions import Fraction

from .braked_loads import CLAMP, LOAD_BRAKE, held_besides, holding, peak, pull
from .braked_loads import at_shaft as force_at_shaft
from .plain_axis import PlainAxis
from .swap_loads import friction, gravity_torque

HOLD = 1.5
"""A holding brake has this much more than the load: common practice, no source."""

BY_DRIVE = "drive"


def drive_opens_load_brake(axis: PlainAxis) -> bool:
    return bool(axis.get(f"{LOAD_BRAKE}.opened_by") == BY_DRIVE)


def holding_troubles(axis: PlainAxis, fitted: PlainAxis) -> list[str]:
    """What goes wrong with what holds the load: opened, closed, and left without torque."""
    return _motor_brake(axis, fitted) + _load_brake(axis) + _clamp(axis)


def _motor_brake(axis: PlainAxis, fitted: PlainAxis) -> list[str]:
    wrong = []
    weight = gravity_torque(axis)
    reserve = fitted.base("motor.brake.holding_torque")
    if axis.get("motor.brake") is None:
        falls = abs(weight) > friction(axis) and not held_besides(axis)
        return ["nothing holds what the brake held"] if reserve or falls else []
    coil = axis.need("motor.brake.voltage")
    output = axis.base("drive.brake_voltage")
    if output is None and fitted.get("motor.brake") and not fitted.get("drive.brake_voltage"):
        output = fitted.need("motor.brake.voltage")  # a supply of its own
    if output is None:
        return ["nothing releases the brake"]
    if output != coil:
        wrong.append("the brake coil gets another voltage than it needs")
    if float(axis.need("motor.brake.holding_torque")) < HOLD * weight:
        wrong.append("the brake does not hold the load")
    elif not weight and reserve and axis.need("motor.brake.holding_torque") < reserve:
        # What it holds on a level axis, process forces perhaps, is not on record.
        wrong.append("the brake holds less than the one that was needed here")
    release, wait = axis.need("motor.brake.release_time"), axis.base("drive.brake_release_delay")
    if wait is None or wait < release:
        wrong.append("the motor starts against its brake")
    apply, off = axis.need("motor.brake.apply_time"), axis.base("drive.brake_off_delay")
    if weight and (off is None or off < apply):
        wrong.append("the load drops before the brake holds")
    return wrong


def _load_brake(axis: PlainAxis) -> list[str]:
    """A brake on the load stays where it is; the drive that opens it may be another one."""
    if not axis.get(LOAD_BRAKE):
        return []
    wrong = []
    if axis.need(holding(axis, LOAD_BRAKE)) < Fraction(HOLD) * _at_place(axis, LOAD_BRAKE):
        wrong.append("the brake on the load does not hold it")
    if not drive_opens_load_brake(axis):
        return wrong
    output = axis.base("drive.brake_voltage")
    if output is None:
        return [*wrong, "nothing releases the brake on the load"]
    if output != axis.need(f"{LOAD_BRAKE}.voltage"):
        wrong.append("the coil of the brake on the load gets another voltage than it needs")
    wait, off = axis.base("drive.brake_release_delay"), axis.base("drive.brake_off_delay")
    waits = bool(axis.get(f"{LOAD_BRAKE}.motion_waits_for_open"))
    if not waits and (wait is None or wait < axis.need(f"{LOAD_BRAKE}.release_time")):
        wrong.append("the motor starts against the brake on the load")
    if gravity_torque(axis) and (off is None or off < axis.need(f"{LOAD_BRAKE}.apply_time")):
        wrong.append("the load drops before the brake on it holds")
    return wrong


def _at_place(axis: PlainAxis, part: str) -> Fraction:
    """The pull of gravity at a brake or clamp, in its force or torque."""
    force = pull(axis)
    if holding(axis, part).endswith("torque"):
        return force_at_shaft(axis, force)
    return force * (axis.base("mechanics.telescope.travel_ratio") or 1)


def _clamp(axis: PlainAxis) -> list[str]:
    """A motor whose torque stays on pushes with all its torque against a clamp that is closed."""
    if axis.get(f"{CLAMP}.torque_while_closed") != "full":
        return []
    most = peak(axis)
    limit = axis.base("drive.torque_limit")
    if limit is not None:
        most = min(most, limit * axis.ratio)
    if holding(axis, CLAMP).endswith("force"):
        most = most / force_at_shaft(axis, Fraction(1))
        most *= axis.base("mechanics.telescope.travel_ratio") or 1
    if most + _at_place(axis, CLAMP) > axis.need(holding(axis, CLAMP)):
        return ["the motor moves the axis through its closed clamp"]
    return []
