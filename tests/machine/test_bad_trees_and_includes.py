"""Faults in included files and in plain trees, told where they are."""

from __future__ import annotations

from pathlib import Path

import pytest
from axisproof.base.errors import InputError
from axisproof.machine.reader import read_plain
from axisproof.machine.reading import Fault

from tests.machine.machine_texts import ONE_AXIS, axis, refused


def test_the_marker_spans_the_offending_value(tmp_path: Path) -> None:
    file = tmp_path / "m.yaml"
    file.write_text(axis("drive:\n  node: 70000  # too high"))
    place = refused(file).place
    assert place is not None
    assert (place.end_line, place.end_column - place.column) == (place.line, len("70000"))


def test_a_fault_in_an_included_file_is_told_there(tmp_path: Path) -> None:
    (tmp_path / "m.yaml").write_text(f"format: 1\nmachine: hall\ninclude: [d.yaml]\n{ONE_AXIS}")
    part = tmp_path / "d.yaml"
    part.write_text("axes:\n  a:\n    drive:\n      node: 0\n")
    error = refused(tmp_path / "m.yaml")
    assert error.place is not None
    assert (error.place.file, error.place.line) == (part.as_posix(), 4)


def test_two_files_that_name_the_machine_differently_are_refused(tmp_path: Path) -> None:
    (tmp_path / "m.yaml").write_text(f"format: 1\nmachine: hall\ninclude: [d.yaml]\n{ONE_AXIS}")
    (tmp_path / "d.yaml").write_text("machine: cell\n")
    error = refused(tmp_path / "m.yaml")
    assert error.what == "machine is claimed to be 'hall' and 'cell'"
    assert error.expected == "one value, the same in every file"
    assert error.place is not None
    assert error.place.line == 2


def test_an_unusable_claim_from_an_included_file_is_told_there(tmp_path: Path) -> None:
    (tmp_path / "m.yaml").write_text(
        f"format: 1\nmachine: hall\ninclude: [d.yaml]\n{ONE_AXIS}"
        "    drive: {counts_per_revolution: 3}\n"
    )
    part = tmp_path / "d.yaml"
    part.write_text("axes:\n  a:\n    drive:\n      counts_per_revolution: none\n")
    error = refused(tmp_path / "m.yaml")
    assert "axes.a.drive.counts_per_revolution.claims[1].value is none" in error.what
    assert error.place is not None
    assert (error.place.file, error.place.line, error.place.column) == (part.as_posix(), 4, 30)


def test_a_plain_tree_without_a_file_is_refused_by_path() -> None:
    plain = {"axes": {"a": {"motion": "linear", "drive": {"node": 0}}}}
    with pytest.raises(InputError) as caught:
        read_plain(plain)
    assert caught.value.place is None
    assert caught.value.what == "axes.a.drive.node is 0"


def test_the_caller_of_a_plain_tree_may_choose_the_error() -> None:
    seen: list[Fault] = []

    def where(fault: Fault) -> InputError:
        seen.append(fault)
        return InputError("in the example")

    with pytest.raises(InputError, match="in the example"):
        read_plain({"axes": {"a": {}}}, where)
    assert [(fault.path, fault.key) for fault in seen] == [(("axes", "a"), True)]


def test_a_plain_tree_that_is_no_example_needs_its_header() -> None:
    axes = {"axes": {"a": {"motion": "linear"}}}
    with pytest.raises(InputError, match="lacks 'format'"):
        read_plain(axes, headless=False)
    assert read_plain(axes).name == "example"


@pytest.mark.parametrize("plain", [None, 3, [], "x", {}, {"axes": None}, {"axes": {"a": None}}])
def test_odd_plain_trees_are_refused_like_any_other(plain: object) -> None:
    with pytest.raises(InputError):
        read_plain(plain)
