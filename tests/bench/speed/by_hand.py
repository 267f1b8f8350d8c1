"""Twenty rules as somebody writes them in Python by hand, for a machine file that a schema allows.

No line of it uses axisproof. Numbers are floats in base units. A check of which a fact is missing
is passed over, as is usual in such scripts. The lines of this module are counted.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

Axis = dict[str, Any]
Found = tuple[str, str, str]
"""The axis, the rule, and what is told of it."""

UNITS = {
    **{"m": 1.0, "cm": 0.01, "mm": 0.001, "um": 1e-6, "in": 0.0254},
    **{"rev": 1.0, "deg": 1 / 360, "arcmin": 1 / 21600, "rpm": 1 / 60},
    **{"s": 1.0, "ms": 0.001, "1/s": 1.0, "N·m": 1.0, "%": 0.01, "": 1.0},
}


def number(text: Any) -> float | None:
    """A number with its unit in base units; None for what is no number."""
    value, _, unit = str(text).partition(" ")
    length, slash, time = unit.partition("/")
    factor = UNITS.get(unit, UNITS.get(length) if slash and time == "s" else None)
    try:
        return None if factor is None else float(value) * factor
    except ValueError:
        return None


def fact(axis: Axis, path: str) -> Any:
    """The fact at a path below the axis; None if it is missing."""
    here: Any = axis
    for key in path.split("."):
        here = here.get(key) if isinstance(here, dict) else None
    return here


def at_most(axis: Axis, small: str, large: str, *, strictly: bool = False) -> str | None:
    """What is told where the first fact is above the second."""
    low, high = number(fact(axis, small)), number(fact(axis, large))
    if low is None or high is None or low < high or (low == high and not strictly):
        return None
    return f"{small} {fact(axis, small)} is above {large} {fact(axis, large)}"


def same(axis: Axis, first: str, second: str) -> str | None:
    """What is told where two facts differ."""
    one, other = fact(axis, first), fact(axis, second)
    if one is None or other is None or one == other:
        return None
    return f"{first} {one} is not {second} {other}"


def is_given(axis: Axis, path: str) -> bool:
    """Whether a part is described, and not missing or absent."""
    return fact(axis, path) not in (None, "none")


def is_linear(axis: Axis) -> bool:
    """Whether positions end at both sides."""
    return bool(fact(axis, "controller.type") == "linear")


def has_shaft(axis: Axis) -> bool:
    """Whether a shaft turns between motor and load."""
    kind = fact(axis, "mechanics.final.kind")
    return axis.get("motion") == "rotary" or kind not in ("direct", "rotary_table")


def homing_order(axis: Axis, names: set[str]) -> str | None:
    """Homing waits only for axes of this machine."""
    strangers = [name for name in fact(axis, "controller.homing.after") or () if name not in names]
    return f"controller.homing.after names {strangers}" if strangers else None


def commutation(axis: Axis) -> str | None:
    """The commutation was taught with the fitted pair."""
    return same(axis, "motor.commutation.motor_serial", "motor.serial") or same(
        axis, "motor.commutation.encoder_serial", "encoder.serial"
    )


def inputs_in_use(axis: Axis) -> str | None:
    """Both limit switches are wired to the drive."""
    if not is_given(axis, "mechanics.limit_switches"):
        return None
    for side in ("negative", "positive"):
        use = fact(axis, f"drive.limit_inputs.{side}")
        if use not in (None, "wired"):
            return f"drive.limit_inputs.{side} is {use}"
    return None


def used_as_incremental(axis: Axis) -> str | None:
    """The drive takes an incremental encoder as one."""
    use = fact(axis, "drive.encoder_use")
    if fact(axis, "encoder.kind") != "incremental" or use in (None, "incremental"):
        return None
    return f"drive.encoder_use is {use}"


def second_limit(axis: Axis) -> str | None:
    """The hard stop is not the only limit."""
    if not is_linear(axis) or not is_given(axis, "mechanics.travel"):
        return None
    limits = ("mechanics.limit_switches", "controller.software_limits")
    return None if any(fact(axis, path) != "none" for path in limits) else "no limit but the stop"


def gain(axis: Axis) -> str | None:
    """The position loop is fast enough for its gain."""
    paths = ("controller.position_loop_gain", "controller.cycle_time")
    gain_, cycle = (number(fact(axis, path)) for path in paths)
    if gain_ is None or cycle is None or gain_ * cycle <= 0.25:
        return None
    return f"{paths[0]} {fact(axis, paths[0])} is too high for {paths[1]} {fact(axis, paths[1])}"


def unit_fits(axis: Axis) -> str | None:
    """The unit of the controller is an angle on a rotary axis alone."""
    unit, motion = fact(axis, "controller.units"), axis.get("motion")
    angle = unit in ("deg", "rev", "rad", "arcmin", "arcsec")
    if unit is None or motion is None or angle == (motion == "rotary"):
        return None
    return f"controller.units {unit} on a {motion} axis"


def search_speed(axis: Axis) -> str | None:
    """The search of the homing move is not faster than the axis."""
    if fact(axis, "controller.homing.method") in (35, 37):
        return None
    return at_most(axis, "controller.homing.search_speed", "controller.max_velocity")


def efficiency(axis: Axis) -> str | None:
    """The transmission gives out no more than it takes in."""
    share = number(fact(axis, "mechanics.efficiency"))
    if not has_shaft(axis) or share is None or share <= 1:
        return None
    return f"mechanics.efficiency is {fact(axis, 'mechanics.efficiency')}"


def _order(small: str, large: str, *, strictly: bool = False) -> Callable[[Axis], str | None]:
    return lambda axis: at_most(axis, small, large, strictly=strictly)


def _equal(first: str, second: str) -> Callable[[Axis], str | None]:
    return lambda axis: same(axis, first, second)


def _between_ends(record: str, low: str, high: str) -> Callable[[Axis], str | None]:
    def told(axis: Axis) -> str | None:
        ends = (f"{record}.{low}", f"{record}.{high}")
        return at_most(axis, *ends, strictly=True) if is_linear(axis) else None

    return told


CHECKS: dict[str, Callable[[Axis], str | None]] = {
    "commutation-taught-with-fitted-pair": commutation,
    "brake-releases-before-motion": _order("motor.brake.release_time", "drive.brake_release_delay"),
    "polarity-of-position-and-velocity-agree": _equal("drive.velocity_polarity", "drive.polarity"),
    "drive-knows-count-direction": _equal("drive.encoder_direction", "encoder.count_direction"),
    "drive-gear-limits-in-order": _order("drive.gear.min_ratio", "drive.gear.max_ratio"),
    "limit-switch-inputs-in-use": inputs_in_use,
    "incremental-encoder-used-as-incremental": used_as_incremental,
    "limit-switches-in-order": _between_ends("mechanics.limit_switches", "negative", "positive"),
    "hard-stop-is-not-the-only-limit": second_limit,
    "following-error-window-within-free-distance": _order(
        "drive.following_error_window", "mechanics.free_distance"
    ),
    "position-gain-fits-cycle": gain,
    "backlash-within-accuracy": lambda axis: (
        at_most(axis, "mechanics.backlash", "mechanics.required_accuracy")
        if fact(axis, "encoder.mounted_on") == "motor"
        else None
    ),
    "controller-unit-fits-motion": unit_fits,
    "hard-stops-in-order": _between_ends("mechanics.travel", "min", "max"),
    "software-limits-in-order": _between_ends("controller.software_limits", "min", "max"),
    "motor-data-in-order": lambda axis: (
        at_most(axis, "motor.rated_torque", "motor.peak_torque")
        or at_most(axis, "motor.rated_speed", "motor.max_speed")
        if has_shaft(axis)
        else None
    ),
    "torque-limit-within-motor-peak": lambda axis: (
        at_most(axis, "drive.torque_limit", "motor.peak_torque") if has_shaft(axis) else None
    ),
    "homing-search-within-top-speed": search_speed,
    "efficiency-is-a-share": efficiency,
}


def judge(machine: dict[str, Any]) -> list[Found]:
    """What the twenty checks find."""
    found: list[Found] = []
    names = set(machine["axes"])
    for name, axis in machine["axes"].items():
        told = homing_order(axis, names)
        if told:
            found.append((name, "homing-order-names-axes", told))
        for rule, check in CHECKS.items():
            told = check(axis)
            if told:
                found.append((name, rule, told))
    return found
