"""A swap on an axis with two encoders: each part takes along what is its own, and no more.

Expected by common practice: the encoder that homes holds the reference, the encoder on the motor
commutates it, and the offset between both is wrong after each swap of one of them.
"""

from __future__ import annotations

import datetime
import json
from pathlib import Path
from typing import Any, Final

import pytest
from axisproof.swap.api import spare
from axisproof.swap.part import Kind
from axisproof.swap.result import SpareReport

SOUND: Final = Path(__file__).parents[2] / "fixtures" / "sound"
TWO: Final = SOUND / "two_encoders.yaml"
DAY: Final = datetime.date(2026, 3, 1)


def taught(report: SpareReport) -> set[str]:
    return {fate.memory for fate in report.memories if fate.lost.why or fate.wrong.why}


@pytest.mark.parametrize(
    ("axis", "kind", "wanted", "kept"),
    [
        ("cap_turner", "motor", {"commutation", "encoder_offset"}, {"reference", "zero"}),
        ("cap_turner", "second_encoder", {"commutation", "encoder_offset"}, {"reference", "zero"}),
        ("cap_turner", "encoder", {"reference", "zero", "encoder_offset"}, {"commutation"}),
        ("lift", "motor", {"reference", "turns", "encoder_offset"}, set()),
        ("lift", "second_encoder", {"encoder_offset"}, {"reference", "turns", "zero"}),
        ("lift", "drive", {"encoder_offset"}, {"turns", "zero"}),
    ],
)
def test_each_part_takes_along_what_is_its_own(
    axis: str, kind: Kind, wanted: set[str], kept: set[str]
) -> None:
    report = spare(TWO, axis, kind, TWO, spare_axis=axis, on=DAY, plan=False)
    assert wanted <= taught(report)
    assert not kept & taught(report)


def second(tmp_path: Path, **facts: Any) -> Path:
    path = tmp_path / "second.json"
    path.write_text(json.dumps({"format": 1, "part": "second_encoder", "second_encoder": facts}))
    return path


def test_a_finer_scale_that_counts_the_other_way_is_written_into_the_drive(tmp_path: Path) -> None:
    scale = {"kind": "incremental", "form": "linear", "measuring_step": "2 um"}
    file = second(tmp_path, **scale, max_frequency="2 Mcount/s", count_direction="same")
    report = spare(TWO, "crate_shift", "second_encoder", file, on=DAY, plan=False)
    written = {each.fact.partition(".drive.")[2]: each.new for each in report.writes}
    assert written == {"second_encoder.direction": "same", "second_encoder.scaling.counts": "500"}


def test_the_plan_compares_both_readings_before_the_first_enable() -> None:
    report = spare(TWO, "lift", "second_encoder", TWO, spare_axis="lift", on=DAY, plan=True)
    assert report.plan
    steps = [step.name for step in report.plan.steps]
    assert steps.index("prove-dead") < steps.index("fit-check-second-encoder")
    assert steps.index("both-encoders-agree") < steps.index("zero-the-encoder-difference")
    one = spare(SOUND / "hall.yaml", "lift", "encoder", SOUND / "hall.yaml", spare_axis="lift",
                on=DAY, plan=True)  # fmt: skip
    assert one.plan
    assert "both-encoders-agree" not in [step.name for step in one.plan.steps]
