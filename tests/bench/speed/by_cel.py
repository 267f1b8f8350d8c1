"""The same twenty rules as expressions of CEL, evaluated by its evaluator in Rust.

CEL knows neither units nor the machine file, so the numbers are put into base units beforehand, by
the function of the checks by hand. Where a fact is missing, an expression gives an error. The lines
of this module are counted, with those of that function.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from .by_hand import Found, number

LINEAR = 'axis.controller.type == "linear"'
SHAFT = '(axis.motion == "rotary" || !(axis.mechanics.final.kind in ["direct", "rotary_table"]))'
ANGLES = '["deg", "rev", "rad", "arcmin", "arcsec"]'

RULES = {
    "homing-order-names-axes": (
        'axis.controller.homing != "none"',
        "axis.controller.homing.after.all(name, name in names)",
    ),
    "commutation-taught-with-fitted-pair": (
        'axis.motor.commutation != "none"',
        "axis.motor.commutation.motor_serial == axis.motor.serial"
        " && axis.motor.commutation.encoder_serial == axis.encoder.serial",
    ),
    "brake-releases-before-motion": (
        'axis.motor.brake != "none"',
        "axis.motor.brake.release_time <= axis.drive.brake_release_delay",
    ),
    "polarity-of-position-and-velocity-agree": (
        "true",
        "axis.drive.velocity_polarity == axis.drive.polarity",
    ),
    "drive-knows-count-direction": (
        "true",
        "axis.drive.encoder_direction == axis.encoder.count_direction",
    ),
    "drive-gear-limits-in-order": (
        'axis.drive.gear != "none"',
        "axis.drive.gear.min_ratio <= axis.drive.gear.max_ratio",
    ),
    "limit-switch-inputs-in-use": (
        'axis.mechanics.limit_switches != "none"',
        'axis.drive.limit_inputs.negative == "wired"'
        ' && axis.drive.limit_inputs.positive == "wired"',
    ),
    "incremental-encoder-used-as-incremental": (
        'axis.encoder.kind == "incremental"',
        'axis.drive.encoder_use == "incremental"',
    ),
    "limit-switches-in-order": (
        LINEAR + ' && axis.mechanics.limit_switches != "none"',
        "axis.mechanics.limit_switches.negative < axis.mechanics.limit_switches.positive",
    ),
    "hard-stop-is-not-the-only-limit": (
        LINEAR + ' && axis.mechanics.travel != "none"',
        'axis.mechanics.limit_switches != "none" || axis.controller.software_limits != "none"',
    ),
    "following-error-window-within-free-distance": (
        "true",
        "axis.drive.following_error_window <= axis.mechanics.free_distance",
    ),
    "position-gain-fits-cycle": (
        "true",
        "axis.controller.position_loop_gain * axis.controller.cycle_time <= 0.25",
    ),
    "backlash-within-accuracy": (
        'axis.encoder.mounted_on == "motor"',
        "axis.mechanics.backlash <= axis.mechanics.required_accuracy",
    ),
    "controller-unit-fits-motion": (
        "true",
        f'(axis.controller.units in {ANGLES}) == (axis.motion == "rotary")',
    ),
    "hard-stops-in-order": (
        LINEAR + ' && axis.mechanics.travel != "none"',
        "axis.mechanics.travel.min < axis.mechanics.travel.max",
    ),
    "software-limits-in-order": (
        LINEAR + ' && axis.controller.software_limits != "none"',
        "axis.controller.software_limits.min < axis.controller.software_limits.max",
    ),
    "motor-data-in-order": (
        SHAFT,
        "axis.motor.rated_torque <= axis.motor.peak_torque"
        " && axis.motor.rated_speed <= axis.motor.max_speed",
    ),
    "torque-limit-within-motor-peak": (
        SHAFT,
        "axis.drive.torque_limit <= axis.motor.peak_torque",
    ),
    "homing-search-within-top-speed": (
        'axis.controller.homing != "none" && !(axis.controller.homing.method in [35.0, 37.0])',
        "axis.controller.homing.search_speed <= axis.controller.max_velocity",
    ),
    "efficiency-is-a-share": (SHAFT, "axis.mechanics.efficiency <= 1.0"),
}


def with_numbers(value: Any) -> Any:
    """A plain tree with its quantities as floats in base units."""
    if isinstance(value, dict):
        return {key: with_numbers(each) for key, each in value.items()}
    if isinstance(value, list):
        return [with_numbers(each) for each in value]
    found = None if isinstance(value, bool) else number(value)
    return value if found is None else found


def compiled() -> Callable[[dict[str, Any]], list[Found]]:
    """What judges a machine; the expressions are compiled beforehand."""
    import cel

    programs = {
        rule: (cel.compile(when), cel.compile(require)) for rule, (when, require) in RULES.items()
    }

    def judge(machine: dict[str, Any]) -> list[Found]:
        found: list[Found] = []
        names = list(machine["axes"])
        for name, axis in machine["axes"].items():
            context = cel.Context({"axis": with_numbers(axis), "names": names})
            for rule, (when, require) in programs.items():
                try:
                    if when.execute(context) and not require.execute(context):
                        found.append((name, rule, "false"))
                except (KeyError, RuntimeError, TypeError, ValueError) as fault:
                    found.append((name, rule, f"not known: {fault}"))
        return found

    return judge
