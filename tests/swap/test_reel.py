"""After a swap on an axis with a reel, the diameter is found again: no encoder tells it."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest
from axisproof.swap.api import spare

SOUND = Path(__file__).parents[2] / "fixtures" / "sound"
DAY = datetime.date(2026, 6, 1)


@pytest.mark.parametrize(
    ("file", "axis", "found"),
    [
        ("winder.yaml", "film_winder", True),
        ("winder.yaml", "reel_hoist", False),
        ("crank.yaml", "can_press", False),
    ],
)
def test_the_diameter_of_a_reel_is_found_again(file: str, axis: str, *, found: bool) -> None:
    machine = SOUND / file
    report = spare(machine, axis, "motor", machine, spare_axis=axis, on=DAY, plan=True)
    assert report.plan is not None
    assert ("find-diameter" in {step.name for step in report.plan.steps}) is found
