"""A swap on one of two axes that share their motors: both are taught again, so it fits."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest
from axisproof.swap.api import spare

STORE = Path(__file__).parents[2] / "fixtures" / "sound" / "store.yaml"
DAY = datetime.date(2026, 6, 1)


@pytest.mark.parametrize("axis", ["picker_along", "picker_across"])
def test_the_day_of_teaching_is_that_of_both_axes(axis: str) -> None:
    report = spare(STORE, axis, "motor", STORE, spare_axis=axis, on=DAY)
    assert {each.what for each in report.lessons} >= {"reference"}
    assert "coupled-axes-taught-together" not in {each.rule for each in report.broken}
    assert report.verdict != "does not fit"
