"""Files that are no exports at all, shapes that are no mapping, damage at random."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from axisproof.base.errors import AxisproofError, InputError, Place
from axisproof.importing import export as exports
from axisproof.importing.axis_names import AxisNames
from axisproof.importing.device_reader import read_device
from axisproof.importing.entry import kind_of, load_trees
from axisproof.importing.export import Statement, Statements
from axisproof.importing.mapping import read_mapping
from axisproof.importing.project import load_project
from axisproof.importing.table_facts import table_export
from axisproof.machine.reader import read_machine
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

CELL = Path("fixtures/imports/cell")


def read_list(path: Path) -> object:
    return table_export(path, read_mapping(CELL / "controller.mapping.yaml"), AxisNames())


READERS: list[Callable[[Path], object]] = [read_device, read_list]


@pytest.mark.parametrize("reader", READERS)
def test_a_file_that_cannot_be_used_is_refused_in_one_sentence(
    reader: Callable[[Path], object], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "x.dcf"
    with pytest.raises(InputError, match="cannot be read: no such file"):
        reader(path)
    with pytest.raises(InputError, match="not a regular file"):
        reader(tmp_path)
    path.write_bytes(b"")
    with pytest.raises(InputError, match="is empty"):
        reader(path)
    path.write_bytes(b"x" * 100)
    monkeypatch.setattr(exports, "MAX_BYTES", 99)
    with pytest.raises(InputError, match="is larger than"):
        reader(path)


def test_an_ini_list_in_another_encoding_is_refused_at_the_byte(tmp_path: Path) -> None:
    (tmp_path / "m.yaml").write_text("mapping: 1\nform: ini\nparameters: {A: {to: drive.node}}\n")
    path = tmp_path / "x.ini"
    path.write_bytes(b"[a]\nb=caf\xe9\n")
    with pytest.raises(InputError, match="not utf-8") as caught:
        table_export(path, read_mapping(tmp_path / "m.yaml"), AxisNames(), "x")
    assert caught.value.place is not None
    assert (caught.value.place.line, caught.value.place.column) == (2, 6)


@pytest.mark.parametrize(
    ("text", "line", "column", "what"),
    [
        ("- 1\n", 1, 1, "Expected: a record"),
        ("mapping: 1\nform: csv\nheader_row: -1\n", 3, 13, "0 or more"),
        ("mapping: 1\nform: csv\nheader_row: 9999\n", 3, 13, "1000 or less"),
        ("mapping: 1\nform: csv\nparameters: 5\n", 3, 13, "Expected: a record"),
        ("mapping: 1\nform: csv\ncolumns: {value: ''}\n", 3, 18, "Expected: something"),
        ("mapping: 1\nform: csv\nparameters: {A: 5}\n", 3, 17, "parameters.A is 5"),
        ("mapping: 1\nform: csv\nparameters: {A: {to: 5}}\n", 3, 22, "Expected: text"),
        ("mapping: 1\nform: csv\nparameters: {A: {to: x, list: ', , , '}}\n", 3, 31, "at most 5"),
        ("mapping: 1\nform: csv\nparameters: {A: {bits: [{bits: a}]}}\n", 3, 32, "One bit"),
        (
            "mapping: 1\nform: csv\npacked: [{words: [A], word_bits: 8, to: x}]\n",
            3,
            18,
            "something",
        ),
    ],
)
def test_a_shape_that_is_no_mapping_is_refused_where_it_stands(
    text: str, line: int, column: int, what: str, tmp_path: Path
) -> None:
    path = tmp_path / "m.yaml"
    path.write_text(text)
    with pytest.raises(InputError) as caught:
        read_mapping(path)
    assert what in str(caught.value)
    assert caught.value.place is not None
    assert (caught.value.place.line, caught.value.place.column) == (line, column)


def test_an_axis_name_nobody_could_use_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "project.yaml"
    path.write_text("project: 1\nmachine: M\naxes: {1a: {}}\nsources: [{facts: x.yaml}]\n")
    with pytest.raises(InputError, match="begins with a letter") as caught:
        load_project(path)
    assert caught.value.place is not None
    assert caught.value.place.line == 3


def test_a_fact_of_the_machine_may_be_stated_by_every_axis_if_alike() -> None:
    place = Place("list.csv", 2, 3, 2, 4)
    statements = Statements()
    path = ("network", "cycle_time")
    for _ in range(2):
        statements.add(Statement(path, "1 ms", place, "Beat"), "line {}".format)
    with pytest.raises(InputError, match="stated twice: Beat here, Beat on line 2"):
        statements.add(Statement(path, "2 ms", place, "Beat"), "line {}".format)


def test_only_projects_and_mappings_are_taken_for_such(tmp_path: Path) -> None:
    kinds = {
        "project: 1\n": "project",
        '{"project": 1}': "project",
        "mapping: 1\n": "mapping",
        "format: 1\nproject: 1\n": None,
        "machine: project: 1\n": None,
        "project: [\n": None,
        "- project: 1\n": None,
        "axes: {}\n": None,
    }
    for text, kind in kinds.items():
        path = tmp_path / ("x.json" if text.startswith("{") else "x.yaml")
        path.write_text(text)
        assert kind_of(path) == kind
    assert kind_of(tmp_path / "nowhere.yaml") is None
    assert kind_of(tmp_path) is None


def test_files_a_folder_gives_twice_are_read_once(tmp_path: Path) -> None:
    cell = Path(shutil.copytree(CELL, tmp_path / "cell"))
    trees = load_trees([cell, cell / "project.yaml"])
    assert len(trees) == 1


PIECES = ["", "0", "-1", "\n", "[", "}", ":", "=", ";", ",", '"', "'", "\t", "\x00", "\ufeff", "é"]
PIECES += ["9" * 50, "1e99", "#", "- ", "none", "\r", "0x", "$NODEID", "[6091]\n", "\u2028", "*a"]
FILES = sorted(path.name for path in CELL.iterdir())


@settings(suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture])
@given(
    name=st.sampled_from(FILES),
    at=st.floats(0, 1),
    length=st.sampled_from([0, 1, 3, 20, 200]),
    piece=st.sampled_from(PIECES),
    cut=st.booleans(),
)
def test_damage_at_random_is_read_or_refused_with_a_place(
    name: str, at: float, length: int, piece: str, cut: bool, tmp_path_factory: Any
) -> None:
    folder = tmp_path_factory.mktemp("damaged") / "cell"
    shutil.copytree(CELL, folder)
    text = (folder / name).read_text()
    start = int(at * len(text))
    damaged = text[:start] + piece + ("" if cut else text[start + length :])
    (folder / name).write_text(damaged)
    error: AxisproofError | None = None
    try:
        read_machine(load_project(folder / "project.yaml").tree)
    except AxisproofError as fault:
        error = fault
    if error is not None:
        assert error.place is not None
        assert error.place.file.startswith(folder.as_posix())
        assert error.source_line is not None
