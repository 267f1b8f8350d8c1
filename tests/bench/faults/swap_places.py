"""Kinds of swap by where the axis keeps what it remembers, and by what the files leave out."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

from axisproof.swap.part import TOUCHED

from .plain_axis import PlainAxis
from .swap_axis import DrawnSwap, HiddenFact, built_in
from .swap_list import Alter, Where, add
from .swap_motors import (
    both,
    braked,
    commutated,
    enough,
    hanging,
    indexed,
    like_fitted,
    multiturn,
    unbraked,
    vertical,
)

REPLACED = ("motor", "encoder", "drive", "gearbox", "battery")


def _kept(memory: str, keeper: str) -> Where:
    return lambda axis: axis.get(f"storage.{memory}") == keeper


def _battery_in(place: str) -> Where:
    return lambda axis: (
        axis.battery and (axis.get("encoder.turn_counter.battery.places") == [place])
    )


def _batteryless(axis: PlainAxis) -> bool:
    return axis.multiturn and not axis.battery


def _switch_only(axis: PlainAxis) -> bool:
    incremental = axis.get("encoder.kind") == "incremental" and not axis.linear_scale
    return incremental and isinstance(axis.method, int) and 17 <= axis.method <= 30


def _index(axis: PlainAxis) -> bool:
    return axis.get("encoder.kind") == "incremental" and indexed(axis)


def _absolute_with_switch(axis: PlainAxis) -> bool:
    return axis.multiturn and isinstance(axis.method, int) and axis.method < 33


def _wraps(axis: PlainAxis) -> bool:
    return bool(axis.get("controller.wraps_retained"))


def _on_load(axis: PlainAxis) -> bool:
    return not built_in(axis) and not axis.linear_scale


CONTEXTS: tuple[tuple[str, Where], ...] = (
    ("battery in the cable", _battery_in("cable")),
    ("battery in the drive", _battery_in("drive")),
    ("battery in the encoder", _battery_in("encoder")),
    ("battery in the cabinet", _battery_in("cabinet")),
    ("turns without battery", _batteryless),
    ("incremental, homes to a switch", _switch_only),
    ("incremental, homes to an index", _index),
    ("absolute, homes to a switch", _absolute_with_switch),
    ("wraps retained", _wraps),
    ("encoder on the load", _on_load),
    ("scale on the load", lambda axis: axis.linear_scale),
    ("commutation in the drive", lambda a: commutated(a) and _kept("commutation", "drive")(a)),
    ("commutation in the encoder", lambda a: commutated(a) and _kept("commutation", "encoder")(a)),
    ("motor data in the drive", _kept("motor_data", "drive")),
    ("motor data in the encoder", _kept("motor_data", "encoder")),
    ("offset in the encoder", _kept("offset", "encoder")),
    ("offset in the drive", _kept("offset", "drive")),
    ("offset in the controller", _kept("offset", "controller")),
    ("homed flag in the drive", _kept("homed_flag", "drive")),
    ("homed flag in the controller", _kept("homed_flag", "controller")),
)


def _sits(part: str) -> Where:
    """Whether the axis has the part at all."""

    def where(axis: PlainAxis) -> bool:
        stages = axis.get("mechanics.stages") or []
        if part == "gearbox":
            return len(stages) == 1
        if part in ("belt", "chain"):
            within = [each for each in stages if each["kind"] == part]
            return bool(within) or axis.get("mechanics.final.kind") == part
        if part == "battery":
            return axis.battery
        if part == "home_switch":
            return axis.get("controller.homing.switch") is not None
        if part == "encoder":
            return not axis.linear_scale
        return True

    return where


def _places() -> None:
    for part in (*TOUCHED, *REPLACED):
        for name, where in CONTEXTS:
            if not _possible(part, name):
                continue
            sits = _sits(part)
            add(part, name, like_fitted, lambda axis, w=where, s=sits: s(axis) and w(axis))  # type: ignore[misc]


def _possible(part: str, name: str) -> bool:
    if part == "battery" and "battery in" not in name:
        return False
    if part == "encoder" and "scale" in name:
        return False
    # A home switch stands on incremental axes and scales in the sound machines.
    if part == "home_switch":
        return not any(word in name for word in ("battery", "absolute", "wraps", "load", "encoder"))
    return not (part in ("belt", "chain", "gearbox", "encoder") and "scale" in name)


# --- facts that files leave out -------------------------------------------------------------------


def powered(axis: PlainAxis) -> bool:
    """Whether the drive itself releases a brake."""
    return braked(axis) and axis.get("drive.brake_voltage") is not None


def hidden(path: str, *others: Any, of_spare: bool = True) -> Alter:
    """Left out, and it could be one of these instead."""
    return lambda swap: other_type(swap) and swap.hide(path, *others, of_spare=of_spare)


def other_type(swap: DrawnSwap) -> bool:
    """Give the spare another designation: that of the fitted part would tell what is left out."""
    for part in ("motor", "encoder", "drive"):
        if isinstance(swap.spare.get(part), dict):
            swap.put(f"{part}.model", "another")
    return True


def _far(path: str, *times: float, of_spare: bool = True) -> Alter:
    """Left out, and it could be these many times as much."""

    def alter(swap: DrawnSwap) -> bool:
        other_type(swap)
        known = swap.new(path) if of_spare else swap.axis.get(path)
        if known is None:
            return False
        others = []
        for by in times:
            trial = DrawnSwap(swap.rng, swap.axis.changed(), swap.part, {})
            trial.put(path, known)
            trial.scale(path, by)
            others.append(trial.new(path))
        return swap.hide(path, *others, of_spare=of_spare)

    return alter


SILENT: tuple[tuple[str, str, Callable[..., Alter], tuple[Any, ...], Where], ...] = (
    ("motor", "motor.flange", hidden, ("square 130",), lambda _: True),
    ("motor", "motor.shaft", hidden, ("28 mm, key",), lambda _: True),
    ("motor", "motor.rated_voltage", hidden, ("60 V",), lambda _: True),
    ("motor", "motor.rated_torque", _far, (0.2,), lambda _: True),
    ("motor", "motor.peak_torque", _far, (0.2,), lambda _: True),
    ("motor", "motor.max_speed", _far, (0.2,), lambda _: True),
    ("motor", "motor.rated_speed", _far, (0.2,), lambda _: True),
    ("motor", "motor.rated_current", _far, (20,), lambda _: True),
    ("motor", "motor.brake.holding_torque", _far, (0.05,), vertical),
    ("motor", "motor.brake.voltage", hidden, ("90 V",), braked),
    ("motor", "encoder.protocol", hidden, ("serial C",), built_in),
    ("motor", "encoder.kind", hidden, ("incremental",), lambda a: built_in(a) and a.multiturn),
    ("motor", "encoder.supply_voltage", hidden, ("24 V",), built_in),
    ("motor", "encoder.max_speed", _far, (0.0002,), built_in),
    ("encoder", "encoder.protocol", hidden, ("serial C",), lambda _: True),
    ("encoder", "encoder.supply_voltage", hidden, ("24 V",), lambda _: True),
    ("encoder", "encoder.kind", hidden, ("incremental",), multiturn),
    ("encoder", "encoder.max_speed", _far, (0.0002,), lambda _: True),
    ("encoder", "encoder.distinguishable_revolutions", hidden, (1,), multiturn),
    ("encoder", "encoder.counts_per_revolution", hidden, (3000,), multiturn),
    ("drive", "drive.supply_voltage", hidden, ("208 V", "380 V"), lambda _: True),
    ("drive", "drive.encoder_protocol", hidden, ("serial C",), lambda _: True),
    ("drive", "drive.rated_current", _far, (0.05,), lambda _: True),
    ("drive", "drive.peak_current", _far, (0.05,), lambda _: True),
    ("drive", "drive.supported_homing_methods", hidden, ([],), lambda _: True),
    ("drive", "drive.brake_voltage", hidden, ("90 V",), powered),
    ("drive", "drive.braking_power", _far, (0.0,), vertical),
    ("drive", "drive.position_register.bits", hidden, (16,), multiturn),
    ("battery", "battery.places", hidden, (["cable", "drive"],), lambda a: a.battery),
)  # fmt: skip
"""Part, fact that is left out, what else it could be, and on which axes that decides."""

ALONE = ("motor.flange", "motor.shaft", "drive.supply_voltage", "encoder.supply_voltage")
"""What the axis only tells by the fitted part: left out there, nothing is left to compare with."""


def _silent() -> None:
    for part, path, how, others, where in SILENT:
        add(part, f"{path} not stated", how(path, *others), where)
        if path in ALONE:
            add(
                part,
                f"{path} of the fitted one not stated",
                how(path, *others, of_spare=False),
                where,
            )


def _machine_silent() -> None:
    """The axis does not say what its spare has to stand."""
    less = enough("motor.brake.holding_torque", hanging, Fraction(21, 20))
    unsaid = _far("mechanics.load_mass", 1.3, *range(2, 12), of_spare=False)
    add(
        "motor",
        "of a weaker brake, and mechanics.load_mass not stated",
        both(less, unsaid),
        vertical,
    )
    for part in ("motor", "encoder"):
        add(part, "drive.encoder_protocol of the axis not stated", both_protocols, built_in)
    add(
        "motor",
        "drive.brake_voltage of the axis not stated, brake added",
        _brake_and_silence,
        unbraked,
    )
    for memory in ("offset", "homed_flag", "commutation", "motor_data"):
        keepers = (
            ("drive", "controller") if memory in ("offset", "homed_flag") else ("drive", "encoder")
        )
        for part in ("motor", "drive", "controller", "backup"):
            where = commutated if memory == "commutation" else (lambda _: True)
            add(
                part,
                f"storage.{memory} not stated",
                hidden(f"storage.{memory}", *keepers, of_spare=False),
                where,
            )
    for part in ("drive", "feedback_cable"):
        path = "encoder.turn_counter.battery.places"
        add(
            part,
            f"{path} not stated",
            hidden(path, ["cable"], ["drive"], of_spare=False),
            lambda a: a.battery,
        )


def both_protocols(swap: DrawnSwap) -> bool:
    """Neither the drive nor the fitted encoder says how they talk."""
    other_type(swap)
    paths = ("drive.encoder_protocol", "encoder.protocol")
    swap.hidden.append(HiddenFact(paths[0], ("serial C",), False, paths[1:]))
    return True


def _brake_and_silence(swap: DrawnSwap) -> bool:
    brake = {"holding_torque": "9 N·m", "release_time": "50 ms", "apply_time": "25 ms"}
    swap.put("motor.brake", brake | {"voltage": "24 V"})
    return swap.axis.get("drive.brake_voltage") is not None and (
        swap.hide("drive.brake_voltage", "none", of_spare=False)
    )


_places()
_silent()
_machine_silent()
