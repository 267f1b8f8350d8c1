"""axisproof match on the command line: what it writes, what it says, and how it ends."""

from __future__ import annotations

from pathlib import Path

import pytest
from axisproof.cli import main as cli

FEEDER = "fixtures/imports/press/feeder.csv"
MAPPING = "fixtures/imports/press/feeder.mapping.yaml"


def test_the_mapping_goes_to_standard_output_and_the_summary_beside_it(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert cli.run(["match", FEEDER]) == 0
    written, told = capsys.readouterr()
    assert '\n  "F102": {to: motor.rated_speed, unit: as_written}\n' in written
    assert '\n  #"F402": {to: motor.brake.release_time, unit: as_written}\n' in written
    assert "\n#   F506 Following error warning: 1500 inc\n" in written
    assert told.startswith("feeder.csv: 23 parameters, 16 proposed, 5 doubtful, 2 not mapped\n")
    assert "decimal comma, names in English." in told


def test_a_file_is_written_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "m.yaml"
    assert cli.run(["match", FEEDER, "-o", str(path)]) == 0
    text = path.read_text("utf-8")
    assert f"axisproof import {FEEDER} --mapping {path}" in capsys.readouterr().out
    path.write_text("kept", "utf-8")
    assert cli.run(["match", FEEDER, "-o", str(path)]) == 2
    assert path.read_text("utf-8") == "kept"
    assert cli.run(["match", FEEDER, "-o", str(path), "--force"]) == 0
    assert path.read_text("utf-8") == text


def test_the_list_itself_is_never_replaced(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text("Name;Value\nPole pairs;4\n", "utf-8")
    assert cli.run(["match", str(path), "-o", str(path), "--force"]) == 2
    assert path.read_text("utf-8") == "Name;Value\nPole pairs;4\n"


def test_of_axes_side_by_side_each_is_mapped_by_its_column(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "list.csv"
    rows = "Motor rated speed;rpm;3000;2000\nMotor rated current;A;3,5;2\nPole pairs;;4;3\n"
    path.write_text(f"Name;Unit;Axis X;Axis Y\n{rows}", "utf-8")
    assert cli.run(["match", str(path)]) == 0
    written, told = capsys.readouterr()
    assert 'value: "Axis X"' in written
    told = " ".join(told.split())
    assert "reads the column Axis X. Values stand in Axis Y too: `--column 'Axis Y'`" in told
    assert cli.run(["match", str(path), "--column", "axis y"]) == 0
    written, _ = capsys.readouterr()
    assert 'value: "Axis Y"' in written
    assert cli.run(["match", str(path), "--column", "Unit"]) == 2
    assert "one of Axis X, Axis Y" in capsys.readouterr().err
    assert cli.run(["match", "fixtures/imports/press/feeder.csv", "--column", "Axis Y"]) == 2
    assert "several columns of values" in " ".join(capsys.readouterr().err.split())


def test_a_list_without_a_proposal_ends_in_one(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "list.csv"
    path.write_text("Name;Value\nX17;4\nX18;5\n", "utf-8")
    assert cli.run(["match", str(path)]) == 1
    assert "0 proposed, 0 doubtful, 2 not mapped" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("text", "what"),
    [("", "empty"), ("words\n", "the list has no columns"), ("{", "list.csv:1:")],
)
def test_a_file_that_is_no_list_gets_one_message(
    text: str, what: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "list.csv"
    path.write_text(text, "utf-8")
    assert cli.run(["match", str(path)]) == 2
    told = capsys.readouterr().err
    assert what in told
    assert "Traceback" not in told


def test_machine_and_axis_belong_together(capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.run(["match", FEEDER, "--axis", "lift"]) == 2
    assert "--machine and --axis belong together" in capsys.readouterr().err
    assert cli.run(["match", FEEDER, "--machine", "fixtures/sound/hall.yaml", "--axis", "x"]) == 2
    assert "has no axis x" in capsys.readouterr().err


def test_values_of_a_machine_file_settle_what_names_leave_open(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    machine = tmp_path / "press.yaml"
    command = ["import", FEEDER, "--mapping", MAPPING, "--machine", "Press", "--axis", "feeder"]
    assert cli.run([*command, "--motion", "linear", "-o", str(machine)]) == 0
    capsys.readouterr()
    assert cli.run(["match", FEEDER, "--machine", str(machine), "--axis", "feeder"]) == 0
    written, _ = capsys.readouterr()
    assert '\n  "F402": {to: motor.brake.release_time, unit: as_written}\n' in written
    assert '\n  #"F601": {to: controller.homing.method}\n' in written


def test_a_row_without_a_name_is_found_by_its_value_as_a_doubt(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    machine = tmp_path / "press.yaml"
    machine.write_text(
        "format: 1\nmachine: Press\naxes:\n  feeder:\n    motion: linear\n"
        "    motor: {rated_speed: 2870 rpm}\n",
        "utf-8",
    )
    path = tmp_path / "list.csv"
    path.write_text("Name;Value;Unit\nX17;2870;rpm\nX18;3;\nPole pairs;4;\n", "utf-8")
    assert cli.run(["match", str(path), "--machine", str(machine), "--axis", "feeder"]) == 0
    written = capsys.readouterr().out
    assert '\n  #"X17": {to: motor.rated_speed, unit: as_written}\n' in written
    assert "# only the value tells of it" in written
