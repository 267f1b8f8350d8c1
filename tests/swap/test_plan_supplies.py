"""Every plan, part by part and kind of axis by kind, done on a simulated machine with a lock.

The machine is simulated from what a lock, a supply, a brake and a support do. It knows no plan. Of
each step it is told what the step needs, from its words, and a step that is not known fails.
"""

from __future__ import annotations

import copy
import itertools
import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Final

import pytest
from axisproof.catalogue.catalogue import shipped
from axisproof.importing.entry import load_trees
from axisproof.swap.api import spare
from axisproof.swap.part import KINDS, TOUCHED, Kind
from axisproof.swap.planning import plan_file
from axisproof.swap.result import PlanStep, SpareReport

from tests.swap.planned_work import DAY, HALL, axis_with, hall_axes, part_of

# What a step needs or does --------------------------------------------------------------------

TALKS: Final = frozenset({
    "clear-the-area", "what-leaves", "settle-warnings", "partner", "coupled-partner",
    "secure-load-both-ways", "secure-axis-that-tilts", "secure-axes-that-it-tilts",
})  # fmt: skip
"""Nothing at the machine, or a partner axis, or a support that is put from outside."""

READS: Final = frozenset({
    "back-up", "offset-leaves-with-drive", "offset-leaves-with-encoder", "expected-conditions",
    "no-condition-expected",
    "motor-data-leave-with-drive", "motor-data-come-with-encoder", "interlock-at-power-up",
    "interlock-at-power-up-after-loss", "load-controller", "state-of-delivery", "write-settings",
    "take-over-settings", "motor-data", "encoder-reset", "clear-turns", "turn-count-setting",
    "restore-backup", "software-limits-for-the-jog", "wrap-unsigned", "wrap-unsigned-falling",
    "wrap-signed", "wrap-follows-reference", "wrap-modulo", "wrap-unsure", "retained-wraps",
    "homed-flag", "torque-limit-back", "torque-limit-back-after-battery", "record",
    "check-and-compare", "zero-the-encoder-difference", "record-position",
    "record-position-incremental", "record-position-unsure", "collision-partners",
    "find-diameter",
})  # fmt: skip
"""The control supply must be on."""

HANDS: Final = frozenset({
    "exchange", "mark-coupling", "keep-uncoupled", "magnets-of-a-linear-motor", "battery-connected",
} | {
    f"fit-check-{kind}"
    for kind in ("motor", "encoder", "second-encoder", "drive", "gearbox", "battery")
})  # fmt: skip
"""Hands are in the machine."""

BY_HAND: Final = frozenset({"free-the-load", "turn-by-hand", "push-by-hand", "both-encoders-agree"})
"""The axis is moved by hand, and read."""

MOVES: Final = frozenset({
    "commutation-first-enable", "enable-on-support", "jog-off-the-support", "brake-test",
    "brake-holds-load", "low-torque-jog", "limit-switches", "home", "set-at-gauge", "calibrate",
    "home-from-gauge", "calibrate-from-gauge", "shift-offset", "preset-at-gauge",
    "correct-where-it-lives", "index-distance", "two-points", "read-again", "home-again",
    "read-again-unsure", "battery-position-kept", "interlock-test", "home-and-release",
    "release-interlock", "software-limits-on-again", "safety-functions", "gantry-square",
    "gantry-moves-as-one", "load-brake-test", "clamp-test", "mark-distance",
    "coupled-teach-both",
})  # fmt: skip
"""The drive is enabled, or the axis is moved under power."""

CUTS: Final = frozenset({"limit-switches", "full-power-cycle", "interlock-test"})
"""In these steps torque goes off, after the support may be gone."""


@dataclass
class Room:
    """A machine with its supplies, its lock, its drive and its load."""

    control: bool = True
    power: bool = True
    locked: bool = False
    dead: bool = False
    secured: bool = False
    """Nothing may enable the drive but the step that says so."""
    taught: bool = True
    hangs: bool = False
    braked: bool = True
    supported: bool = False
    carries: bool = True
    """What carries the load is known to, without the support."""
    done: list[str] = field(default_factory=list)

    def do(self, step: PlanStep) -> None:
        name = step.name
        self.done.append(name)
        act = getattr(self, f"_{name.replace('-', '_')}", None)
        groups = [TALKS, READS, HANDS, BY_HAND, MOVES, CUTS]
        assert act is not None or any(name in group for group in groups), f"{name} is not known"
        if name in READS | BY_HAND | MOVES:
            assert self.control, f"{name} without control supply"
        if name in HANDS:
            assert self.locked, f"{name} without a lock"
            assert not self.power, f"{name} with the power circuit on"
            assert self.dead, f"{name} before the machine is proven dead"
            assert self.supported or not self.hangs, f"{name} below a load without support"
        if name in BY_HAND:
            assert self.secured, f"{name} with a drive that can enable"
            assert not self.locked, f"{name} behind a lock"
        if name in MOVES:
            assert self.power, f"{name} with the power circuit off"
            assert not self.locked, f"{name} behind a lock"
            self.dead = False
        if name in CUTS and self.hangs and not self.braked and not self.supported:
            assert "put its support back" in step.caution, f"{name} drops the load"
        if act is not None:
            act(step)

    def _support_load(self, step: PlanStep) -> None:
        self.supported, self.carries = True, False

    def _support_load_unknown_counterbalance(self, step: PlanStep) -> None:
        assert self.supported

    def _isolate(self, step: PlanStep) -> None:
        self.control = self.power = False
        self.locked = self.secured = True

    def _control_supply_stays_on(self, step: PlanStep) -> None:
        self.power, self.locked, self.secured = False, True, True

    def _drive_stays_disabled(self, step: PlanStep) -> None:
        self.secured = True

    def _stored_energy(self, step: PlanStep) -> None:
        assert self.locked

    def _prove_dead(self, step: PlanStep) -> None:
        assert self.done[-2] == "stored-energy"
        self.dead = True

    def _change_battery(self, step: PlanStep) -> None:
        assert self.control, "the turns are lost"
        assert self.locked
        assert self.dead

    def _power_without_enable(self, step: PlanStep) -> None:
        assert "Remove the lock" in step.do
        assert "disabled" in step.do
        self.control = self.power = True
        self.locked = self.dead = False

    def _power_after_battery(self, step: PlanStep) -> None:
        assert self.control
        self._power_without_enable(step)

    def _power_cycle(self, step: PlanStep) -> None:
        assert not self.locked, "a supply that is locked off cannot be cycled"

    _full_power_cycle = _power_cycle

    def _commutation(self, step: PlanStep) -> None:
        assert self.control
        assert self.power
        assert not self.locked
        assert "enable it for this only" in step.do
        assert self.supported or not self.hangs

    def _couple(self, step: PlanStep) -> None:
        at = [step.do.index(word) for word in ("isolate", "lock it out", "prove", "couple the two")]
        assert at == sorted(at)
        assert step.do.index("Remove the lock") > at[-1]
        assert step.do.endswith("with the drive disabled.")

    def _enable_on_support(self, step: PlanStep) -> None:
        assert self.supported
        assert self.secured, "the drive was enabled before"

    def _jog_off_the_support(self, step: PlanStep) -> None:
        assert self.done[-2] == "enable-on-support"
        self.carries = not self.braked  # the motor does, and nothing else has to

    def _brake_test(self, step: PlanStep) -> None:
        self.carries = True

    _brake_holds_load = _brake_test

    def _take_support_away(self, step: PlanStep) -> None:
        assert self.power
        assert not self.locked
        assert self.carries, "nothing was seen to carry the load"
        self.supported = False


SAID: Final = {
    "The supplies are as you find them. Isolate nothing yet.": (True, True, False),
    "Switch off all supplies in this section.": (False, False, True),
    "The control supply stays on. Switch off the power circuit in this section.": (
        True, False, True,
    ),
    "The supplies stay on. Keep the drive disabled.": (True, True, False),
    "All supplies are off and locked out.": (False, False, True),
    "The control supply is on. The power circuit is off and locked out.": (True, False, True),
    "Switch on all supplies in this section. Keep the drive disabled, unless a step says "
    "otherwise.": (True, True, False),
    "The control supply is on. Switch on the power circuit in this section. Keep the drive "
    "disabled.": (True, True, False),
    "All supplies are on. Keep the drive disabled, unless a step says otherwise.": (
        True, True, False,
    ),
    "All supplies are on, unless a step says otherwise. Enable the drive only where a step says "
    "so.": (True, True, False),
    "All supplies are on. The axis moves.": (True, True, False),
    "All supplies are on, unless a step cycles the power. The axis moves.": (True, True, False),
    "All supplies are on.": (True, True, False),
}  # fmt: skip
"""Control supply, power circuit and lock at the end of a section, as its first line tells them."""


def carry_out(axis: dict[str, Any], report: SpareReport) -> None:
    """Do every step of a plan, and compare each section with what is said of its supplies."""
    assert report.plan is not None
    vertical = axis["mechanics"].get("moved_by_gravity", True)
    braked = axis.get("motor", {}).get("brake", "none") != "none"
    room = Room(hangs=vertical, braked=braked)
    names = [step.name for step in report.plan.steps]
    assert len(set(names)) == len(names)
    for phase, steps in itertools.groupby(report.plan.steps, key=lambda step: step.phase):
        said = ""
        for step in steps:
            said = step.supplies
            room.do(step)
        state = (room.control, room.power, room.locked)
        assert SAID[said] == state, f"{phase}: {said!r}, but it is {state}"
    assert not room.locked
    assert not room.supported
    if axis.get("gantry", "none") != "none":
        moved = (MOVES | BY_HAND | {"commutation"}) - {"gantry-moves-as-one"}
        first = min(names.index(name) for name in names if name in moved)
        assert names.index("gantry-moves-as-one") < first


# Every part, and every kind of axis -----------------------------------------------------------


def kinds_of_axis() -> Iterator[tuple[str, dict[str, Any]]]:
    """The axes of the hall, and the lift altered in what a plan asks about."""
    for name, axis in hall_axes().items():
        yield f"hall {name}", axis
    for encoder in ("incremental", "absolute_singleturn", "battery", "batteryless"):
        for brake, vertical in itertools.product((True, False), repeat=2):
            words = f"{'hanging' if vertical else 'level'}, {'brake' if brake else 'no brake'}"
            yield f"{encoder}, {words}", axis_with(encoder, brake, vertical)
    for method in (1, 33, 37, -3, "none"):
        axis = axis_with("battery", True, True)
        axis["controller"]["homing"] = (
            "none" if method == "none" else axis["controller"]["homing"] | {"method": method}
        )
        yield f"homing {method}", axis
    for path in (
        "mechanics.moved_by_gravity",
        "motor.brake",
        "storage",
        "encoder.mounted_on",
        "controller.homing",
        "encoder.turn_counter",
        "mechanics.limit_switches",
    ):
        axis = axis_with("battery", True, True)
        *above, last = path.split(".")
        holder = axis
        for key in above:
            holder = holder[key]
        del holder[last]
        yield f"{path} not stated", axis
    axis = axis_with("battery", True, True)
    axis["mechanics"] |= {"counterbalance": "50 %"}
    yield "counterbalanced", axis
    axis = axis_with("absolute_singleturn", True, True)
    axis["mechanics"] |= {"stages": [], "final": {"kind": "direct"}}
    yield "linear motor", axis
    plain = load_trees([HALL.with_name("two_encoders.yaml")])[0].plain
    two = json.loads(json.dumps(plain["axes"], default=str))
    yield from ((f"two {name}", axis) for name, axis in two.items())


AXES: Final = dict(kinds_of_axis())
PARTS: Final = (*KINDS, *TOUCHED)

OFTEN: Final = ("motor", "encoder", "drive", "battery")
"""What is replaced most; the plans of the other parts are carried out in the exhaustive group."""


def has_part(part: Kind, axis: dict[str, Any]) -> bool:
    if part == "gearbox":
        return bool(axis["mechanics"].get("stages"))
    if part == "battery":
        counter = axis["encoder"].get("turn_counter", {})
        return isinstance(counter, dict) and counter.get("backup") == "battery"
    return part not in KINDS or isinstance(axis.get(part), dict)


@lru_cache(maxsize=1)
def machine_of_all() -> str:
    """A machine with the axes of the hall, whose partners are each other's."""
    return json.dumps({"format": 1, "machine": "m", "axes": hall_axes()})


def planned(part: Kind, kind: str) -> SpareReport:
    axis = copy.deepcopy(AXES[kind])
    name = kind.removeprefix("hall ")
    with TemporaryDirectory() as folder:
        machine, file = Path(folder, "machine.json"), Path(folder, "spare.json")
        if kind.startswith("hall "):
            machine.write_text(machine_of_all())
        else:
            name = "x"
            machine.write_text(json.dumps({"format": 1, "machine": "m", "axes": {"x": axis}}))
        if part not in KINDS:
            return spare(machine, name, part, on=DAY, plan=True)
        file.write_text(json.dumps(part_of(part, axis)))
        return spare(machine, name, part, file, on=DAY, plan=True)


def all_done(room: Room, steps: Iterable[PlanStep]) -> None:
    for step in steps:
        room.do(step)


@pytest.mark.parametrize(
    "part",
    [pytest.param(part, marks=() if part in OFTEN else pytest.mark.exhaustive) for part in PARTS],
)
def test_every_plan_states_its_supplies_takes_its_lock_off_and_drops_no_load(part: Kind) -> None:
    plans = 0
    for kind, axis in AXES.items():
        if has_part(part, axis):
            try:
                carry_out(axis, planned(part, kind))
            except (AssertionError, KeyError) as fault:
                raise AssertionError(f"{part}, {kind}: {fault}") from fault
            plans += 1
    assert plans >= 5


def test_every_step_of_the_file_is_known_here() -> None:
    file = plan_file(shipped())
    acts = {name[1:].replace("_", "-") for name in dir(Room) if name[0] == "_" != name[1]}
    known = TALKS | READS | HANDS | BY_HAND | MOVES | CUTS | acts
    assert {step.name for step in file.stated_steps} == known
    texts = {each["text"] for phase in file.plain["phases"] for each in phase["supplies"]}
    assert texts == set(SAID)


@pytest.mark.parametrize(
    ("part", "left_out", "words"),
    [
        ("battery", "power-after-battery", "power"),
        ("motor", "power-without-enable", "without control supply"),
        ("motor", "prove-dead", "proven dead"),
        ("encoder", "support-load", "without support"),
        ("drive", "brake-test", "seen to carry"),
    ],
)
def test_a_plan_without_a_step_is_found(part: Kind, left_out: str, words: str) -> None:
    report = planned(part, "battery, hanging, brake")
    assert report.plan is not None
    steps = [step for step in report.plan.steps if step.name != left_out]
    assert len(steps) == len(report.plan.steps) - 1
    with pytest.raises(AssertionError, match=words):
        all_done(Room(hangs=True), steps)
