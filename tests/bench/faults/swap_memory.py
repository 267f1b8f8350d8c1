"""What an axis remembers, simulated: parts are pulled, turned, unplugged and powered up again.

Nothing here names what to teach in advance. The axis is taught, the work is done to it, it is
switched on, and where it then indicates, commutates or believes wrongly, that has to be taught.
What a fresh device holds is arbitrary. Physics from the working knowledge of the trade:
common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from random import Random
from typing import Any

from .plain_axis import PlainAxis
from .swap_axis import built_in
from .swap_motion import meant

REFERENCE = "controller.homing.reference_position"

DRIVE_END = frozenset({"drive"})
ENCODER_END = frozenset({"motor", "encoder", "feedback_cable", "motor_refitted"})
"""Work for which the feedback cable is unplugged, by the end at which it is."""

UNCOUPLED = frozenset({"motor", "gearbox", "coupling", "belt", "chain", "motor_refitted"})
"""Work that parts the motor shaft from the load, so that it may be turned."""


def _angle(rng: Random) -> Fraction:
    """A part of a revolution that nobody takes for none."""
    return Fraction(rng.randint(100, 900), 1000)


@dataclass
class Devices:
    """Where parts stand to each other, in encoder revolutions, and what each device holds."""

    rng: Random
    axis: PlainAxis
    zero: Fraction = Fraction(0)
    """Where the load's zero stands in the encoder's reading, turns included."""
    pole: Fraction = Fraction(0)
    """Angle between the encoder's zero and the motor's field."""
    switch: Fraction = Fraction(0)
    """How far the home switch was moved, in user units."""
    data: tuple[Any, ...] = ()
    """What the fitted motor is."""
    held: dict[str, dict[str, Any]] = field(default_factory=dict)
    keepers: dict[str, str] = field(default_factory=dict)
    taught_zero: Fraction = Fraction(0)
    """Where the load's zero stood when the axis was taught."""
    due: int = 0
    """Wraps of the counter up to now, as one who had counted without a break would hold them."""
    error: bool = False
    """Whether the encoder reports that it has lost its turns; a drive that asks for them trips."""
    skipped: int = 0
    """Index pulses between the one that homing found and the one that it finds now."""

    @property
    def turns(self) -> int:
        """States of the turn counter; 0 for an encoder that forgets its position."""
        kind = self.axis.get("encoder.kind")
        if kind == "absolute_multiturn":
            return self.axis.turns
        return 1 if kind == "absolute_singleturn" else 0

    def reading(self, at: Fraction) -> Fraction:
        """The encoder's true reading in revolutions, without its wraps taken off."""
        return at / self.axis.per_encoder_turn + self.zero

    def hold(self, memory: str, value: Any) -> None:
        self.held[self.keepers[memory]][memory] = value

    def recall(self, memory: str) -> Any:
        return self.held[self.keepers[memory]].get(memory)

    # --- indication -------------------------------------------------------------------------------

    @property
    def retains_wraps(self) -> bool:
        return bool(
            self.axis.get("controller.wraps_retained")
            or self.axis.get("controller.unfolding") == "tracked"
        )

    def mark(self) -> Fraction | None:
        """Where homing finds its mark: a switch edge, or the index pulse behind it."""
        (method, *_), position = meant(self.axis), self.axis.base(REFERENCE)
        if position is None or not (isinstance(method, int) and method < 33):
            return None
        after = self.axis.base("controller.homing.index_after_switch")
        if after is None:
            return position + self.switch
        # Another zero has its index at another angle; a switch far off chooses another index.
        turned = (self.taught_zero - self.zero) % 1 + self.skipped
        return Fraction(position + turned * self.axis.per_encoder_turn)

    def indicate(self, at: Fraction) -> Fraction | None:
        """What the axis shows after power-up at a place; None if it cannot."""
        if self.turns == 0:
            offset, mark = self.recall("offset"), self.mark()
            if offset is None:
                return None
            shown = at if mark is None else offset["position"] + at - mark
            return Fraction(shown)
        offset = self.recall("offset")
        if offset is None:
            return None
        seen = self.reading(at)
        if self.retains_wraps:
            wraps = self.recall("wraps")
            if wraps is None:
                return None
            seen += (wraps - self.due) * self.turns
        else:
            half = Fraction(self.turns, 2)
            seen = offset["reading"] + (seen - offset["reading"] + half) % self.turns - half
        moved = (seen - offset["reading"]) * self.axis.per_encoder_turn
        return Fraction(offset["position"] + moved)


def taught(axis: PlainAxis, rng: Random) -> Devices:
    """The devices of an axis that was homed, calibrated and commutated."""
    storage = axis.facts["storage"]
    made = Devices(rng, axis)
    made.keepers = {
        "offset": storage["offset"],
        "homed_flag": storage["homed_flag"],
        "wraps": storage["wraps"],
        "commutation": storage["commutation"],
        "motor_data": storage["motor_data"],
    }
    made.held = {keeper: {} for keeper in ("encoder", "drive", "controller")}
    turns = made.turns
    middle = Fraction(turns // 2 + 3 * turns) if turns > 1 else Fraction(1, 3)
    reference = axis.base("controller.homing.reference_position") or Fraction(0)
    made.zero = middle + _angle(rng) - reference / axis.per_encoder_turn
    made.taught_zero = made.zero
    made.pole = _angle(rng)
    made.data = motor_data(axis)
    made.hold("offset", {"position": reference, "reading": made.reading(reference)})
    if turns:
        made.due = 3
        made.hold("wraps", made.due)
    made.hold("homed_flag", True)
    made.hold("commutation", made.pole)
    made.hold("motor_data", made.data)
    return made


def motor_data(axis: PlainAxis) -> tuple[Any, ...]:
    """What a drive has to know of a motor."""
    names = ("rated_current", "peak_current", "pole_pairs", "rated_torque", "peak_torque")
    more = ("rated_voltage", "rated_speed", "max_speed", "inertia", "model")
    return tuple(axis.get(f"motor.{name}") for name in (*names, *more))


def work_done(before: Devices, after: PlainAxis, part: str) -> Devices:
    """The devices once a part was replaced, touched or restored; not yet taught again."""
    rng, here = before.rng, before.axis
    on_motor = built_in(here)
    new_encoder = part == "encoder" or (
        part == "motor" and on_motor and after.get("encoder.serial") != here.get("encoder.serial")
    )
    moved = before.zero
    # A motor put in with the fitted encoder has that encoder set on its shaft anew.
    if new_encoder or (part in UNCOUPLED and _on_path(here, part)):
        moved += rng.randint(3, 200) + _angle(rng)
    forgotten = new_encoder or _turns_forgotten(here, part)
    if forgotten:
        moved += rng.randint(3, 200)
    made = Devices(rng, after, moved, before.pole, before.switch, motor_data(after))
    made.held = {keeper: dict(kept) for keeper, kept in before.held.items()}
    made.keepers, made.taught_zero = dict(before.keepers), before.taught_zero
    # Turning while uncoupled is followed like any motion while off; a count that is gone is not.
    made.due = before.due + (1 if forgotten else 0)
    made.error = forgotten and after.battery
    if new_encoder or part == "motor" or (part in UNCOUPLED and not on_motor):
        made.pole = before.pole + _angle(rng)
    if new_encoder:
        made.held["encoder"] = {}
    if part in ("drive", "controller"):
        made.held[part] = {}
    if part == "backup":
        for keeper in ("drive", "controller"):
            made.held[keeper] = {
                name: _older(rng, name, value) for name, value in before.held[keeper].items()
            }
    if part == "home_switch":
        made.switch += here.per_encoder_turn * _angle(rng) / 2
        made.skipped = rng.choice((1, -1))
    return made


def _on_path(axis: PlainAxis, part: str) -> bool:
    """Whether the part may stand between encoder and load; a belt or chain has to be there."""
    if axis.linear_scale:
        return False
    if part in ("belt", "chain"):
        stages = axis.get("mechanics.stages") or []
        final = axis.get("mechanics.final.kind") == part
        return final or (built_in(axis) and any(stage["kind"] == part for stage in stages))
    # Where a coupling sits is not said: also behind the encoder, perhaps.
    return built_in(axis) or part == "coupling"


def _turns_forgotten(axis: PlainAxis, part: str) -> bool:
    """Whether the encoder is off its battery at some moment of the work."""
    if not axis.battery:
        return False
    if part in ("motor", "motor_refitted") and not built_in(axis):
        return False
    (place,) = axis.get("encoder.turn_counter.battery.places")
    if part in DRIVE_END:
        return place in ("drive", "cabinet")
    return part in ENCODER_END and place != "encoder"


def _older(rng: Random, name: str, value: Any) -> Any:
    """What a backup of last year holds in place of this."""
    if name == "offset":
        shift = _angle(rng) * 3
        return {"position": value["position"] + shift, "reading": value["reading"]}
    if name == "wraps":
        return value - 2
    if name == "commutation":
        return value + _angle(rng)
    return None if name == "homed_flag" else ()


def to_teach(devices: Devices, before: Devices) -> set[str]:
    """Switch on, look, home once more where there is a mark: what does not hold is to be taught."""
    axis, wrong = devices.axis, set()
    if axis.get("controller.position_matters") is False:
        return _to_start(devices, before)  # it may stand anywhere
    places = _places(axis)
    if any(_apart(axis, devices.indicate(at), at) for at in places):
        wrong.add("reference")
    mark, offset = devices.mark(), devices.recall("offset")
    if mark is not None and offset is not None and _apart(axis, offset["position"], mark):
        wrong.add("reference")
    if devices.turns > 1:
        moved = (devices.zero - before.zero) % devices.turns
        if not (moved < 1 or devices.turns - moved < 1):
            wrong.add("turns")
    if devices.retains_wraps and devices.turns and devices.recall("wraps") != devices.due:
        wrong |= {"wraps", "reference"}
    if axis.get("controller.homed_flag_retained"):
        flag = devices.recall("homed_flag")
        if flag is None or (flag and "reference" in wrong):
            wrong.add("homed_flag")
    return wrong | _to_start(devices, before)


def _to_start(devices: Devices, before: Devices) -> set[str]:
    """Enable the motor: what stops it, or lets it run away."""
    wrong = set()
    if devices.error and devices.axis.get("drive.encoder_use") == "absolute":
        wrong.add("turns")
    if before.axis.get("motor.commutation") is not None and (
        devices.recall("commutation") != devices.pole
    ):
        wrong.add("commutation")
    if devices.recall("motor_data") != devices.data:
        wrong.add("motor_data")
    return wrong


def _places(axis: PlainAxis) -> list[Fraction]:
    if axis.endless:
        cycle = axis.need("controller.cycle")
        return [cycle * part / 8 for part in range(8)]
    low, high = axis.need("mechanics.travel.min"), axis.need("mechanics.travel.max")
    return [low, (low + high) / 2, high]


def _apart(axis: PlainAxis, shown: Fraction | None, true: Fraction) -> bool:
    if shown is None:
        return True
    off = shown - true
    if axis.endless:
        cycle = axis.need("controller.cycle")
        off = (off + cycle / 2) % cycle - cycle / 2
    return abs(off) > axis.per_encoder_turn / 10**6
