"""Lists made to be read: columns between blanks, units behind numbers, digits in groups."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from axisproof import api
from axisproof.base.errors import InputError
from axisproof.importing.single_export import ImportOptions

HEAD = "mapping: 1\nform: csv\ncolumns: {parameter: Name, value: Value, unit: Unit}\n"
JOINED = "mapping: 1\nform: csv\nunit_in_value: true\ncolumns: {parameter: Name, value: Value}\n"


def axis_of(folder: Path, mapping: str, text: str, name: str = "list.csv") -> Any:
    """What an import of a list makes of the axis ``lift``."""
    (folder / "list.mapping.yaml").write_text(mapping, "utf-8")
    (folder / name).write_text(text, "utf-8")
    options = ImportOptions("Cell", "lift", "linear", folder / "list.mapping.yaml")
    plain: Any = api.import_([folder / name], options).tree.plain
    return plain["axes"]["lift"]


def test_columns_stand_between_blanks(tmp_path: Path) -> None:
    text = (
        "Axis 3\n\nName                Value  Unit\n---------------------------\n"
        "Rated speed          3000  rpm\nPole pairs              4\n"
    )
    mapping = HEAD + (
        "delimiter: blanks\nheader_row: 3\nparameters:\n"
        "  Rated speed: {to: motor.rated_speed, unit: as_written}\n"
        "  Pole pairs: {to: motor.pole_pairs}\n"
    )
    motor = axis_of(tmp_path, mapping, text)["motor"]
    assert motor == {"rated_speed": "3000 rpm", "pole_pairs": 4}


def test_a_fault_between_blanks_is_told_with_its_column(tmp_path: Path) -> None:
    mapping = HEAD + "delimiter: blanks\nparameters: {A: {to: motor.pole_pairs}}\n"
    with pytest.raises(InputError) as caught:
        axis_of(tmp_path, mapping, "Name   Value  Unit\nA       four\n")
    place = caught.value.place
    assert place is not None
    assert (place.line, place.column) == (2, 9)


@pytest.mark.parametrize(
    ("value", "read"),
    [
        ("3000 rpm", "3000 rpm"),
        ("3 000 U/min", "3000 rev/min"),
        ("3000 1/min", "3000 1/min"),
    ],
)
def test_a_unit_can_stand_behind_the_number(value: str, read: str, tmp_path: Path) -> None:
    mapping = JOINED + "parameters: {N: {to: motor.rated_speed, unit: as_written}}\n"
    motor = axis_of(tmp_path, mapping, f"Name,Value\nN,{value}\n")["motor"]
    assert motor["rated_speed"] == read


def test_a_text_keeps_what_stands_behind_a_number(tmp_path: Path) -> None:
    mapping = JOINED + "parameters: {S: {to: motor.serial}, C: {to: motor.pole_pairs}}\n"
    motor = axis_of(tmp_path, mapping, "Name,Value\nS,12 mm\nC,4\n")["motor"]
    assert motor == {"serial": "12 mm", "pole_pairs": 4}


def test_a_unit_column_and_units_behind_numbers_do_not_go_together(tmp_path: Path) -> None:
    mapping = HEAD + "unit_in_value: true\nparameters: {C: {to: motor.pole_pairs}}\n"
    with pytest.raises(InputError, match="unit_in_value"):
        axis_of(tmp_path, mapping, "Name,Value,Unit\nC,4,\n")


def test_entries_without_a_section_are_named_by_their_keys(tmp_path: Path) -> None:
    mapping = "mapping: 1\nform: ini\nparameters: {poles: {to: motor.pole_pairs}}\n"
    text = "# a list\npoles = 4\n[other]\nx = 1\n"
    assert axis_of(tmp_path, mapping, text, "list.ini")["motor"] == {"pole_pairs": 4}


@pytest.mark.parametrize(
    ("written", "scale", "read"),
    [("0.1 A", "0.1", "2.1 A"), ("1/10 A", "1/10", "2.1 A"), ("%", "1/10", "2.1 A")],
)
def test_a_scaled_unit_is_that_of_its_scale(
    written: str, scale: str, read: str, tmp_path: Path
) -> None:
    entry = f"{{to: motor.rated_current, unit: A, scale: {scale}}}"
    mapping = HEAD + f"parameters: {{I: {entry}}}\n"
    motor = axis_of(tmp_path, mapping, f"Name,Value,Unit\nI,21,{written}\n")["motor"]
    assert motor["rated_current"] == read


def test_a_scaled_unit_of_another_scale_is_refused(tmp_path: Path) -> None:
    mapping = HEAD + "parameters: {I: {to: motor.rated_current, unit: A, scale: 0.01}}\n"
    with pytest.raises(InputError, match=r"0\.1 A"):
        axis_of(tmp_path, mapping, "Name,Value,Unit\nI,21,0.1 A\n")
