"""axisproof show: derived numbers against figures worked out by hand, and their table."""

from __future__ import annotations

from pathlib import Path

import pytest
from axisproof import api
from axisproof.base.errors import UsageError
from axisproof.catalogue.catalogue import shipped
from axisproof.cli import main as cli
from axisproof.engine.derived import DerivedAxis
from axisproof.report.derived_table import MAIN, render_derived
from axisproof.report.rendering import RenderOptions

HALL = Path("fixtures/sound/hall.yaml")


@pytest.fixture(scope="module")
def hall() -> dict[str, DerivedAxis]:
    return {axis.axis: axis for axis in api.show(HALL)}


def texts(axis: DerivedAxis) -> dict[str, str]:
    return {number.name: number.text for number in (*axis.numbers, *axis.speeds)}


def test_numbers_of_a_screw_axis_are_those_worked_out_by_hand(
    hall: dict[str, DerivedAxis],
) -> None:
    """10 mm lead on the motor, 131072 counts, 65536 turns (fixtures/sound/hall.yaml)."""
    found = texts(hall["infeed_pusher"])
    assert found["counts_per_unit"] == "13107.2 count/mm"  # 131072 / 10
    assert found["absolute_range"] == "655360 mm"  # 65536 · 10
    assert found["speed_by_drive"] == "750 mm/s"  # 4500 rpm · 10 mm / 60 s
    assert found["speed_by_motor"] == "833.3 mm/s"  # 5000 · 10 / 60
    assert found["speed_by_encoder"] == "1000 mm/s"  # 6000 · 10 / 60


def test_numbers_of_an_index_table_are_those_worked_out_by_hand(
    hall: dict[str, DerivedAxis],
) -> None:
    """7:1 gearbox, 360 deg, 65534 turns: 65534 · 360 / 7 deg until the counter rolls over."""
    found = texts(hall["index_table"])
    assert found["absolute_range"] == "3370320 deg"
    assert found["turns_that_close_the_cycle"] == "7 rev"
    assert found["speed_by_drive"] == "2571 deg/s"  # 3000 · 360 / 7 / 60


def test_speeds_by_counts_follow_from_rates(hall: dict[str, DerivedAxis]) -> None:
    """10000 counts for 5 mm: 1.2 Mcount/s are 600 mm/s, 4 Mcount/s are 2000 mm/s."""
    found = texts(hall["label_slide"])
    assert found["speed_by_encoder_counts"] == "600 mm/s"
    assert found["speed_by_feedback_input"] == "2000 mm/s"


def test_the_lowest_speed_is_marked_once(hall: dict[str, DerivedAxis]) -> None:
    for axis in hall.values():
        marked = [speed.name for speed in axis.speeds if speed.lowest]
        assert marked == ["speed_by_controller"]


def test_an_unknown_number_says_which_facts_would_give_it(hall: dict[str, DerivedAxis]) -> None:
    speeds = {speed.name: speed for speed in hall["infeed_pusher"].speeds}
    assert speeds["speed_by_encoder_counts"].missing == (
        "axes.infeed_pusher.encoder.max_frequency",
    )


def test_the_main_numbers_are_definitions_of_the_shipped_rules() -> None:
    assert set(MAIN) <= {name for record, name in shipped().definitions if record == "axis"}


def test_the_table_fits_its_width_and_names_what_is_not_known(
    hall: dict[str, DerivedAxis],
) -> None:
    for width in (50, 80, 120):
        for everything in (False, True):
            text = render_derived(
                list(hall.values()), RenderOptions(width=width), everything=everything
            )
            for (
                line
            ) in text.splitlines():  # a name is never cut: it stands alone where it is too long
                assert len(line) <= width or len(line.split()) == 1, line
            assert "rollover distance" in text
    short = render_derived([hall["index_table"]], RenderOptions())
    assert "Data is missing for: drive stopping distance." in short
    full = render_derived([hall["index_table"]], RenderOptions(), everything=True)
    assert "Data that would give more" in full
    assert "travel span" not in short, "an endless axis has none"


def test_an_unknown_axis_is_refused_with_a_suggestion() -> None:
    with pytest.raises(UsageError, match="no axis lft"):
        api.show(HALL, ["lft"])


def test_the_command_shows_an_axis_of_a_project(capsys: pytest.CaptureFixture[str]) -> None:
    project = "fixtures/imports/cell/project.yaml"
    assert cli.run(["show", project, "index_table"]) == 0
    shown = capsys.readouterr().out
    assert "Packing cell · index_table" in shown
    assert "2548.62 count/deg" in shown
    assert "lift" not in shown
    assert cli.run(["show", project, "nothing"]) == 2
    assert "one of lift, index_table" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("encoder", "form"),
    [
        ("{form: rotary, counts_per_revolution: 4096}", "rotary, as stated"),
        ("{counts_per_revolution: 4096}", "rotary, inferred from what is stated of it"),
        (
            "{lines_per_revolution: 1024, edges_per_line: 4}",
            "rotary, inferred from what is stated of it",
        ),
        ("{form: linear, measuring_step: 1 um}", "linear, as stated"),
        ("{measuring_step: 1 um}", "linear, inferred from what is stated of it"),
        ("{counts_per_revolution: 4096, measuring_step: 1 um}", ""),
        ("{kind: incremental}", ""),
    ],
)
def test_the_form_of_an_encoder_that_is_inferred_is_told_as_inferred(
    encoder: str, form: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "m.yaml"
    file.write_text(
        "format: 1\nmachine: m\naxes:\n  a:\n    motion: linear\n"
        f"    encoder: {encoder}\n    drive: {{counts_per_revolution: 4000}}\n"
    )
    (axis,) = api.show(file)
    assert texts(axis)["encoder_form"] == form
    assert cli.run(["show", str(file)]) == 0
    shown = " ".join(capsys.readouterr().out.split())
    assert (f"encoder form {form}" in shown) == bool(form)
    found = {each.rule: each for each in api.check([file]).findings}
    if form.startswith("rotary"):
        # 4096 counts, and the drive is set to 4000
        figures = {each.name: each.text for each in found["encoder-counts-match"].figures}
        assert figures["form of the encoder"] == form
    else:
        assert "encoder-counts-match" not in found


def test_what_cannot_apply_is_left_out_and_said_only_with_all(
    capsys: pytest.CaptureFixture[str],
) -> None:
    (axis,) = api.show(HALL, ["outfeed_belt"])
    numbers = {number.name: number for number in axis.numbers}
    assert not numbers["travel_span"].applies, "an endless belt has no hard stops"
    assert numbers["screw_feed"].applies, "its lead is only not stated"
    assert cli.run(["show", str(HALL), "outfeed_belt"]) == 0
    shown = " ".join(capsys.readouterr().out.split())
    assert "travel span" not in shown
    assert cli.run(["show", str(HALL), "outfeed_belt", "--all"]) == 0
    shown = " ".join(capsys.readouterr().out.split())
    assert "travel span does not apply" in shown
