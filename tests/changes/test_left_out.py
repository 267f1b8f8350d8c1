"""A check that ends with a deleted line fails the comparison, whatever its concern.

Nobody would see otherwise that a line is gone: what is not stated has nothing to be compared with.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from axisproof import api
from axisproof.findings.change_report import ChangeReport, EndedCheck

from tests.changes.two_versions import PAIRS

SOUND = Path(__file__).parents[2] / "fixtures/sound/table_single.yaml"
FACTORS = ("velocity_factor", "velocity_encoder_factor", "motor_data_factor", "acceleration_factor")


def changed(folder: Path, *replaced: tuple[str, str], without: str = "") -> ChangeReport:
    """What a comparison tells of a sound table with texts replaced and lines left out."""
    lines = SOUND.read_text("utf-8").splitlines(keepends=True)
    kept = [line for line in lines if not without or not line.lstrip().startswith(without)]
    assert bool(without) == (len(kept) < len(lines))
    text = "".join(kept)
    for old, new in replaced:
        assert old in text, old
        text = text.replace(old, new)
    path = folder / "head.yaml"
    path.write_text(text, "utf-8")
    return api.changes(SOUND, path)


def ended(report: ChangeReport, rule: str) -> EndedCheck:
    (found,) = [each for each in report.ended_checks if each.rule == rule]
    return found


@pytest.mark.parametrize("factor", FACTORS)
def test_a_factor_of_speed_that_is_left_out_fails_the_comparison(
    factor: str, tmp_path: Path
) -> None:
    report = changed(tmp_path, without=f"{factor}:")
    found = ended(report, f"{factor.replace('_', '-')}-agrees-with-gearing")
    assert found.failure
    assert all(f"drive.{factor}" in fact for fact in found.facts)
    assert report.fails_by_silence


def test_another_gearbox_does_not_excuse_the_factor_that_is_left_out(tmp_path: Path) -> None:
    stage = ("motor_turns_per_load_turn: 7", "motor_turns_per_load_turn: 8")
    papers = ("stated_ratio: 7", "stated_ratio: 8")
    report = changed(tmp_path, stage, papers, without="velocity_factor:")
    assert ended(report, "velocity-factor-agrees-with-gearing").failure


def test_a_fact_that_another_change_makes_idle_may_go(tmp_path: Path) -> None:
    """An incremental encoder has no turn that could repeat, whether a homed flag stays or not."""
    kind = ("kind: absolute_singleturn", "kind: incremental")
    report = changed(tmp_path, kind, without="homed_flag_retained:")
    assert not ended(report, "cycle-repeats-with-single-turn").failure


def test_a_part_that_is_stated_to_be_absent_is_no_silence() -> None:
    report = api.changes(PAIRS / "brakes/before.yaml", PAIRS / "brakes/clamp-taken-out.yaml")
    assert ended(report, "clamp-fits-axis")
    assert not any(each.failure for each in report.ended_checks)
