"""A sound random axis with the facts that a swap needs, and a spare for one of its parts.

The facts are true: a simulation runs on them. A file may state less (see ``hide``).
"""

from __future__ import annotations

import copy
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cache
from random import Random
from typing import Any

from .mechanics import up
from .plain_axis import Plain, PlainAxis, rounded, spelled
from .sound_machine import machine
from .swap_brakes import drive_opens_load_brake
from .swap_loads import pull
from .swap_motion import duty

MOTOR_SIZES = (
    ("square 60", "14 mm, key"),
    ("square 80", "19 mm, plain"),
    ("square 100", "24 mm, key"),
)
PROTOCOLS = ("serial A", "serial B", "two sine waves and index")

RECORDS = ("serial_at_calibration", "mounted_on", "turns_per_driving_shaft_turn")
"""Facts of an encoder that are facts of its place."""


@dataclass
class HiddenFact:
    """A fact that a file does not state, and what else it could be (None: no such thing)."""

    path: str
    others: tuple[Any, ...]
    of_spare: bool
    joined: tuple[str, ...] = ()
    """Facts of the axis that are left out too, and are then the same."""


@dataclass
class DrawnSwap:
    """A part of a true axis and the true spare for it; ``hidden`` is what files leave out."""

    rng: Random
    axis: PlainAxis
    part: str
    spare: Plain
    hidden: list[HiddenFact] = field(default_factory=list)
    used_elsewhere: str = ""
    """Kind of motion of the axis where it ran before; empty if nobody says."""

    def new(self, path: str) -> Any:
        """The value of the spare at a path (``motor.brake``); None if missing or ``none``."""
        at: Any = self.spare
        for key in path.split("."):
            at = at.get(key) if isinstance(at, dict) else None
        return None if at == "none" else at

    def put(self, path: str, value: Any) -> bool:
        """Give the spare another value; True if it differs."""
        *above, last = path.split(".")
        at: Any = self.spare
        for key in above:
            at = at.setdefault(key, {}) if isinstance(at, dict) else None
            if not isinstance(at, dict):
                return False
        old, at[last] = at.get(last), value
        return bool(old != value)

    def drop(self, path: str) -> bool:
        """Leave a value out of the spare for good: nobody knows or cares."""
        *above, last = path.split(".")
        at: Any = self.spare
        for key in above:
            at = at.get(key)
            if not isinstance(at, dict):
                return False
        return at.pop(last, None) is not None

    def scale(self, path: str, by: Fraction | float, figures: int = 4) -> bool:
        """Multiply a number of the spare."""
        value = self.new(path)
        if value is None:
            return False
        number, unit = str(value).split(" ", 1)
        return self.put(path, spelled(rounded(Fraction(number) * Fraction(by), figures), unit))

    def hide(self, path: str, *others: Any, of_spare: bool = True) -> bool:
        """Leave a fact out of a file; ``others`` are what it could be beside what it is."""
        known = self.new(path) if of_spare else self.axis.get(path)
        if known is None:
            return False
        self.hidden.append(HiddenFact(path, others, of_spare))
        return True

    def hide_absent(self, path: str, *others: Any) -> None:
        """A fact that the true spare lacks, and could have as far as its file goes."""
        self.hidden.append(HiddenFact(path, others, of_spare=True))


@cache
def _shared(seed: int) -> Plain:
    return machine(
        seed, axes=1, second_encoders=False, index_marks=False, windings=False, torque_curves=False
    )


def swap_axis(seed: int) -> PlainAxis | None:
    """A sound axis with the facts of a swap; None for a linear motor, which has no shaft."""
    made = copy.deepcopy(_shared(seed))
    rng = Random(f"swap axis {seed}")
    for name in made["axes"]:
        axis = PlainAxis(made, name)
        if not axis.turns_shaft:
            return None
        _complete(rng, axis)
    return PlainAxis(made, next(iter(made["axes"])))


def _complete(rng: Random, axis: PlainAxis) -> None:
    """State what decides whether parts suit each other, and where each memory lives."""
    facts = axis.facts
    motor, encoder, drive = facts["motor"], facts["encoder"], facts["drive"]
    volts = rng.choice(("230 V", "400 V"))
    per_amp = Fraction(rng.choice((80, 110, 125)), 100)
    flange, shaft = rng.choice(MOTOR_SIZES)
    motor |= {"model": f"SM {flange[-2:]}", "pole_pairs": rng.choice((3, 4, 5))}
    motor |= {"flange": flange, "shaft": shaft, "rated_voltage": volts}
    rated, peak = axis.need("motor.rated_torque"), axis.need("motor.peak_torque")
    motor["rated_current"] = spelled(up(rated / per_amp, 3), "A")
    motor["peak_current"] = spelled(up(peak / per_amp, 3), "A")
    drive |= {"model": "SD 20", "supply_voltage": volts, "discharge_time": "5 min"}
    drive["rated_current"] = spelled(up(rated / per_amp * Fraction(13, 10), 2), "A")
    drive["peak_current"] = spelled(up(peak / per_amp * Fraction(13, 10), 2), "A")
    protocol = "two square waves and index" if encoder["kind"] == "incremental" else None
    encoder["protocol"] = drive["encoder_protocol"] = protocol or rng.choice(PROTOCOLS)
    encoder |= {"supply_voltage": rng.choice(("5 V", "10 V")), "model": "SE 1"}
    if drive_opens_load_brake(axis):
        rng.random()  # its output stays as it is
    elif motor["brake"] == "none":
        drive["brake_voltage"] = rng.choice(("none", "24 V"))
        drive |= {"brake_release_delay": "90 ms", "brake_off_delay": "90 ms"}
    elif rng.random() < 0.2:
        drive["brake_voltage"] = "none"
    facts["mechanics"].setdefault("inclination", "0 deg")
    if facts["motion"] == "rotary":
        facts["mechanics"].setdefault("unbalanced_torque", "0 N·m")
    if axis.get("controller.duty") and not axis.get("mechanics.moved_by_gravity") and pull(axis):
        # A slope, or a load out of balance, came after the duty: the facts are true, so it is new.
        facts["controller"]["duty"] = duty(axis)
    storage = facts["storage"]
    storage["offset"] = rng.choice(("encoder", "drive", "controller"))
    if encoder["kind"] == "incremental":
        storage["offset"] = rng.choice(("drive", "controller"))
    for memory in ("homed_flag", "wraps"):
        storage[memory] = rng.choice(("drive", "controller"))
    storage["commutation"] = rng.choice(("drive", "encoder"))
    _complete_battery(rng, axis)


def _complete_battery(rng: Random, axis: PlainAxis) -> None:
    if not axis.battery:
        return
    battery = axis.facts["encoder"]["turn_counter"]["battery"]
    place = rng.choice(("cable", "drive", "encoder", "cabinet"))
    battery["places"] = [place]
    battery["offered_places"] = sorted({place, rng.choice(("cable", "drive"))})
    battery["made_on"] = "2025-12-15"


def spare_like_fitted(axis: PlainAxis, part: str, rng: Random) -> Plain | None:
    """A spare of the same type with every setting loaded; None where the axis has no such part."""
    facts = copy.deepcopy(axis.facts)
    if part == "motor":
        motor = facts["motor"] | {"serial": "M-77001"}
        if motor["commutation"] != "none":
            del motor["commutation"]
        return {"motor": motor, "encoder": _plain_encoder(facts) if built_in(axis) else "none"}
    if part == "encoder":
        return {"encoder": _plain_encoder(facts)}
    if part == "drive":
        drive = facts["drive"] | {"serial": "D-77001"}
        del drive["firmware_minimum"]
        return {"drive": drive}
    if part == "gearbox":
        stages = facts["mechanics"]["stages"]
        return {"gearbox": stages[0]} if len(stages) == 1 else None
    if part == "battery" and axis.battery:
        battery = facts["encoder"]["turn_counter"]["battery"]
        battery.pop("offered_places")
        battery.pop("low_warning")
        return {"battery": battery | {"fitted_on": "2026-06-01", "made_on": "2026-04-20"}}
    return None


def built_in(axis: PlainAxis) -> bool:
    """Whether the encoder comes and goes with the motor."""
    return bool(axis.get("encoder.mounted_on") == "motor")


def _plain_encoder(facts: Plain) -> Plain:
    encoder: Plain = facts["encoder"] | {"serial": "E-77001"}
    for name in RECORDS:
        encoder.pop(name, None)
    if "turn_counter" in encoder:
        for name in ("battery", "reading_at_reference"):
            encoder["turn_counter"].pop(name, None)
    return encoder


def put_in_place(axis: PlainAxis, part: str, spare: Plain) -> PlainAxis:
    """The axis with the spare in place of the fitted part; what belongs to the place stays."""
    changed = axis.changed()
    facts = changed.facts
    if "motor" in spare:
        facts["motor"] = copy.deepcopy(spare["motor"])
    if isinstance(spare.get("encoder"), dict):
        facts["encoder"] = _encoder_in_place(facts["encoder"], spare["encoder"])
    if "drive" in spare:
        drive = copy.deepcopy(spare["drive"])
        drive["firmware_minimum"] = facts["drive"].get("firmware_minimum", "none")
        facts["drive"] = drive
    if "gearbox" in spare:
        facts["mechanics"]["stages"] = [copy.deepcopy(spare["gearbox"])]
        facts["mechanics"].pop("stated_ratio", None)
    if "battery" in spare:
        counter = facts["encoder"]["turn_counter"]
        counter["battery"] = counter["battery"] | copy.deepcopy(spare["battery"])
    return changed


def _encoder_in_place(fitted: Plain, spare: Plain) -> Plain:
    encoder = copy.deepcopy(spare)
    for name in RECORDS[1:]:
        if name in fitted:
            encoder[name] = fitted[name]
    if "turn_counter" in encoder and "turn_counter" in fitted:
        encoder["turn_counter"].setdefault("battery", fitted["turn_counter"].get("battery"))
    return encoder
