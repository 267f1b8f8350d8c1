"""Ratio, efficiency and self-locking of worms against gearpy from the registry (the extra
``worms``).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from typing import Any

import pytest
from axisproof.numbers.rational import Fraction

from tests.properties.acquittals import results
from tests.reference.test_position_chain import derived

WANTED = "gearpy is not installed: pip install -e '.[worms]'"

# Pressure angle and steepest helix angle in deg, as gearpy has them.
STEEPEST = {14.5: 16, 20: 25, 25: 35, 30: 45}
FRICTION = [0.02, 0.05, 0.1, 0.2, 0.3, 0.5]


@dataclass(frozen=True)
class Worm:
    """What gearpy says of a worm that drives its wheel."""

    ratio: float
    efficiency: float
    locks: bool


@cache
def mated(starts: int, teeth: int, pressure: float, helix: float, friction: float) -> Worm:
    gearpy = pytest.importorskip("gearpy.mechanical_objects", reason=WANTED)
    units = pytest.importorskip("gearpy.units", reason=WANTED)
    utils = pytest.importorskip("gearpy.utils", reason=WANTED)
    same = {
        "inertia_moment": units.InertiaMoment(1, "kgm^2"),
        "pressure_angle": units.Angle(pressure, "deg"),
        "helix_angle": units.Angle(helix, "deg"),
    }
    worm = gearpy.WormGear(name="worm", n_starts=starts, **same)
    wheel = gearpy.WormWheel(name="wheel", n_teeth=teeth, **same)
    utils.add_worm_gear_mating(master=worm, slave=wheel, friction_coefficient=friction)
    return Worm(wheel.master_gear_ratio, wheel.master_gear_efficiency, bool(worm.self_locking))


def worms() -> list[Worm]:
    """Worms of every pressure angle, flat and steep, smooth and rough."""
    return [
        mated(1, 40, pressure, helix, friction)
        for pressure, steepest in STEEPEST.items()
        for helix in range(1, steepest, 3)
        for friction in FRICTION
    ]


@pytest.mark.parametrize(("starts", "teeth"), [(1, 20), (2, 49), (3, 50), (4, 30)])
def test_the_ratio_of_a_worm_is_teeth_over_starts(starts: int, teeth: int) -> None:
    stage = {"kind": "worm", "motor_side_teeth": starts, "load_side_teeth": teeth}
    ours = derived("gear_ratio", {"motion": "rotary", "mechanics": {"stages": [stage]}})
    assert ours == Fraction(teeth, starts)
    assert float(ours) == pytest.approx(mated(starts, teeth, 20, 10, 0.1).ratio)


def test_every_worm_that_locks_itself_is_taken_for_one_that_may() -> None:
    locked = [each for each in worms() if each.locks]
    assert len(locked) > 50
    for worm in locked:
        share = {"efficiency": f"{100 * worm.efficiency:.6f} %", "stages": []}
        assert derived("may_lock_itself", {"motion": "rotary", "mechanics": share}) is True


def test_a_poor_efficiency_proves_no_self_locking() -> None:
    """Worms below one half that gearpy does not call self-locking: the load drives them back."""
    driven = [each for each in worms() if each.efficiency < 0.5 and not each.locks]
    assert driven
    assert max(each.efficiency for each in worms()) > 0.9


@pytest.mark.parametrize("stated", [None, True, False])
def test_a_worm_holds_a_load_only_if_somebody_states_that_it_locks(stated: bool | None) -> None:
    """Of two worms with one efficiency, gearpy may call one self-locking and the other not."""
    alike = sorted(worms(), key=lambda each: each.efficiency)
    pairs = [(a, b) for a, b in pairwise(alike) if a.locks is not b.locks]
    assert min(b.efficiency - a.efficiency for a, b in pairs) < 0.01
    worm = pairs[0][0]
    mechanics: dict[str, Any] = {
        "moved_by_gravity": True, "counterbalance": "none", "load_mass": "120 kg",
        "efficiency": f"{100 * worm.efficiency:.4f} %", "load_lock": False,
        "stages": [{"kind": "worm", "motor_turns_per_load_turn": 40}],
        "final": {"kind": "belt", "teeth": 32, "pitch": "5 mm"},
    }  # fmt: skip
    if stated is not None:
        mechanics["self_locking"] = stated
    axis = {"motion": "linear", "motor": {"brake": "none"}, "mechanics": mechanics}
    found = results({"format": 1, "machine": "m", "axes": {"a": axis}}).findings
    fails = "vertical-axis-has-brake" in {each.rule for each in found}
    assert fails is (stated is not True)
