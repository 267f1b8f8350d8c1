"""Projects: several sources, one machine; findings point into the exports, claims keep both."""

from __future__ import annotations

import shutil
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest
from axisproof import api
from axisproof.base.errors import InputError
from axisproof.findings.finding import Finding
from axisproof.importing.entry import load_trees
from axisproof.importing.project import load_project
from axisproof.machine.machine import Machine
from axisproof.machine.reader import read_machine

CELL = Path("fixtures/imports/cell")


@pytest.fixture
def cell(tmp_path: Path) -> Path:
    """A copy of the demo's folder, to be changed."""
    return Path(shutil.copytree(CELL, tmp_path / "cell"))


def change(folder: Path, file: str, old: str, new: str) -> None:
    path = folder / file
    text = path.read_text()
    assert old in text
    path.write_text(text.replace(old, new, 1))


def machine_of(folder: Path) -> Machine:
    return read_machine(load_project(folder / "project.yaml").tree)


def errors(folder: Path) -> dict[str, Finding]:
    report = api.check([folder / "project.yaml"], api.CheckOptions(on=date(2026, 6, 1)))
    return {finding.rule: finding for finding in report.findings if finding.level == "error"}


# The demo ---------------------------------------------------------------------------------------


def test_the_demo_finds_just_its_two_faults_and_points_into_the_exports() -> None:
    found = errors(CELL)
    assert set(found) == {"sources-agree", "rollover-divides-cycle"}
    disputed = found["sources-agree"].marks
    assert [(Path(m.place.file).name, m.line_text) for m in disputed] == [
        ("lift.dcf", "ParameterValue=40000"),
        ("controller.csv", "LIFT;Datum;-45;mm"),
    ]
    marks = found["rollover-divides-cycle"].marks
    mark = marks[0]
    assert Path(mark.place.file).name == "encoders.csv"
    assert mark.line_text[mark.place.column - 1 : mark.place.end_column - 1] == "65534"
    for mark in (*disputed, *marks):
        lines = Path(mark.place.file).read_text().splitlines()
        assert lines[mark.place.line - 1] == mark.line_text


def test_the_finding_says_which_object_and_parameter_disagree() -> None:
    message = errors(CELL)["sources-agree"].message
    assert "ParameterValue of 0x607C" in message
    assert "controller.csv, Datum" in message


def test_no_value_is_offered_as_a_replacement_inside_an_export() -> None:
    fix = errors(CELL)["rollover-divides-cycle"].fix
    assert fix is not None
    assert (fix.value, fix.place) == ("65534", None)


def test_one_command_checks_the_demo_as_file_and_as_folder() -> None:
    for path in (CELL / "project.yaml", CELL):
        done = subprocess.run(
            [sys.executable, "-m", "axisproof", "check", str(path), "--on", "2026-06-01"],
            capture_output=True,
            text=True,
        )
        assert done.returncode == 1
        assert "controller.csv:6:12  controller.homing.reference_position -45" in done.stdout
        assert "Checked 2 axes of 1 machine" in done.stdout


def test_facts_of_all_sources_meet_in_one_axis() -> None:
    lift = machine_of(CELL).axes[0]
    assert lift["drive.gear_ratio.motor_turns"] == 2  # device file, joined on its node
    assert lift["controller.max_velocity"] == 300  # device file and list, alike in other units
    assert lift["encoder.distinguishable_revolutions"] == 65536  # list, joined on the node
    assert lift["encoder.turn_counter.reading_at_reference"] == 3  # packed words
    assert lift["mechanics.moved_by_gravity"] is True  # hand-written
    assert lift["controller.homed_flag_retained"] is True  # a bit


# Sign conventions -------------------------------------------------------------------------------


def test_a_wrong_sign_convention_disagrees_with_the_controllers_datum(cell: Path) -> None:
    change(cell, "controller.csv", "LIFT;Datum;-45", "LIFT;Datum;-40")
    assert "sources-agree" not in errors(cell)
    change(cell, "project.yaml", "reference_reads: minus_offset", "reference_reads: offset")
    finding = errors(cell)["sources-agree"]
    assert "40 mm" in finding.message
    assert "-40 mm" in finding.message


def test_a_wrong_sign_convention_shows_where_travel_makes_it_visible(cell: Path) -> None:
    """Unfolded from the reference upwards, the reference has to be the lower end of travel."""
    change(cell, "controller.csv", "LIFT;Datum;-45;mm\n", "")
    change(cell, "controller.csv", "LIFT;Unroll;0", "LIFT;Unroll;1")
    change(cell, "mechanics.yaml", "travel: {min: -60 mm", "travel: {min: -40 mm")
    assert "wrap-outside-travel" not in errors(cell)
    change(cell, "project.yaml", "reference_reads: minus_offset", "reference_reads: offset")
    finding = errors(cell)["wrap-outside-travel"]
    assert "40 mm" in finding.message


def test_the_convention_has_to_be_chosen(cell: Path) -> None:
    change(cell, "project.yaml", "reference_reads: minus_offset", "part: 0")
    with pytest.raises(InputError, match="sign convention is not chosen") as caught:
        machine_of(cell)
    assert caught.value.source_line == "ParameterValue=40000"


# Merging ----------------------------------------------------------------------------------------


def test_the_same_value_from_two_sources_is_one_fact_with_two_places() -> None:
    machine = machine_of(CELL)
    places = machine.places("axes.lift.controller.software_limits.max")
    assert [Path(place.file).name for place in places] == ["lift.dcf", "controller.csv"]


def test_a_fault_the_machine_reader_finds_is_shown_in_the_hand_written_file(cell: Path) -> None:
    change(cell, "mechanics.yaml", "load_mass: 12 kg", "load_mass: 12 mm")
    with pytest.raises(InputError, match="load_mass") as caught:
        machine_of(cell)
    assert caught.value.place is not None
    assert Path(caught.value.place.file).name == "mechanics.yaml"
    assert caught.value.source_line == "      load_mass: 12 mm"


def test_a_length_on_a_rotary_axis_is_a_finding_in_the_export(cell: Path) -> None:
    change(cell, "controller.csv", "TABLE;TopPace;720;deg/s", "TABLE;TopPace;720;mm/s")
    finding = errors(cell)["unit-fits-motion"]
    assert finding.marks[0].line_text == "TABLE;TopPace;720;mm/s"


def test_a_machine_without_motion_is_refused_at_the_axis(cell: Path) -> None:
    change(cell, "project.yaml", "motion: linear, ", "")
    change(cell, "mechanics.yaml", "    motion: linear\n", "")
    with pytest.raises(InputError, match="lacks 'motion'"):
        machine_of(cell)


def test_a_folder_with_a_project_and_a_machine_gives_both(cell: Path) -> None:
    (cell / "other.yaml").write_text("format: 1\nmachine: Other\naxes: {a: {motion: linear}}\n")
    trees = load_trees([cell])
    assert {read_machine(tree).name for tree in trees} == {"Packing cell", "Other"}


# What is refused --------------------------------------------------------------------------------

CASES: list[tuple[str, str, str, str, str, str]] = [
    # name, file, old, new, file of the error, words
    (
        "a source nobody has",
        "project.yaml",
        "lift.dcf",
        "left.dcf",
        "project.yaml",
        "no file left.dcf",
    ),
    (
        "a source outside",
        "project.yaml",
        "lift.dcf",
        "../lift.dcf",
        "project.yaml",
        "leaves the project",
    ),
    (
        "an absolute source",
        "project.yaml",
        "lift.dcf",
        "/etc/passwd",
        "project.yaml",
        "absolute path",
    ),
    (
        "a table without mapping",
        "project.yaml",
        "    mapping: controller.mapping.yaml\n",
        "",
        "project.yaml",
        "lacks 'mapping'",
    ),
    (
        "a misspelt key",
        "project.yaml",
        "reference_reads",
        "reference_read",
        "project.yaml",
        "perhaps 'reference_reads'",
    ),
    (
        "a version of tomorrow",
        "project.yaml",
        "project: 1",
        "project: 2",
        "project.yaml",
        "Expected: 1",
    ),
    ("no sources", "project.yaml", "sources:", "source:", "project.yaml", "source"),
    (
        "no motion of that name",
        "project.yaml",
        "motion: linear",
        "motion: straight",
        "project.yaml",
        "linear, rotary",
    ),
    (
        "one name for two axes",
        "project.yaml",
        "called: [TABLE]",
        "called: [LIFT]",
        "project.yaml",
        "another axis",
    ),
    (
        "an axis nobody has",
        "project.yaml",
        "  - device: index_table.dcf",
        "  - device: index_table.dcf\n    axis: tabel",
        "project.yaml",
        "tabel",
    ),
    ("a node nobody has", "lift.dcf", "NodeID=5", "NodeID=7", "lift.dcf", "no axis has the node 7"),
    (
        "one node for two axes",
        "project.yaml",
        "node: 6",
        "node: 5",
        "lift.dcf",
        "node 5 is that of lift and index_table",
    ),
    (
        "an axis the project lacks",
        "controller.csv",
        "TABLE;Sort",
        "TABEL;Sort",
        "controller.csv",
        "perhaps 'TABLE'",
    ),
    (
        "a node the project lacks",
        "encoders.csv",
        "6,E-99402",
        "8,E-99402",
        "encoders.csv",
        "no axis has the node 8",
    ),
    (
        "another machine's name",
        "mechanics.yaml",
        "machine: Packing cell",
        "machine: Other",
        "project.yaml",
        "Packing cell",
    ),
    (
        "an axis only drawn",
        "mechanics.yaml",
        "  index_table:",
        "  index_tabel:",
        "mechanics.yaml",
        "index_tabel",
    ),
    (
        "another name in a drawing",
        "mechanics.yaml",
        "  lift:",
        "  LIFT:",
        "mechanics.yaml",
        "another name",
    ),
    (
        "a broken mapping",
        "encoders.mapping.yaml",
        "layout: row_per_axis",
        "layout: rows",
        "encoders.mapping.yaml",
        "row_per_axis",
    ),
    (
        "a unit that is none",
        "project.yaml",
        "  - device: index_table.dcf",
        "  - device: index_table.dcf\n    units: {position: 5 kg}",
        "project.yaml",
        "5 kg",
    ),
    (
        "a contradicted unit",
        "project.yaml",
        "  - device: index_table.dcf",
        "  - device: index_table.dcf\n    units: {position: 1 deg}",
        "index_table.dcf",
        "states 1 deg",
    ),
]


@pytest.mark.parametrize(
    ("file", "old", "new", "where", "what"), [c[1:] for c in CASES], ids=[c[0] for c in CASES]
)
def test_a_bad_project_is_refused_with_its_place(
    file: str, old: str, new: str, where: str, what: str, cell: Path
) -> None:
    change(cell, file, old, new)
    with pytest.raises(InputError) as caught:
        machine_of(cell)
    error = caught.value
    assert what in str(error)
    assert error.place is not None
    assert Path(error.place.file).name == where
    assert error.source_line


def test_refusals_leave_with_status_2_and_a_marked_line(cell: Path) -> None:
    change(cell, "encoders.csv", "6,E-99402", "8,E-99402")
    done = subprocess.run(
        [sys.executable, "-m", "axisproof", "check", str(cell / "project.yaml")],
        capture_output=True,
        text=True,
    )
    assert done.returncode == 2
    assert "encoders.csv:3:1" in " ".join(done.stderr.split())
    assert "8,E-99402,131072" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_mapping_file_is_no_machine() -> None:
    with pytest.raises(InputError, match="mapping file"):
        load_trees([CELL / "controller.mapping.yaml"])


def test_checking_a_machine_file_imports_nothing_that_only_exports_need() -> None:
    code = (
        "import sys; from axisproof import api; api.check(['fixtures/sound']); "
        "print([m for m in ('canopen', 'can', 'jsonschema', 'csv') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
