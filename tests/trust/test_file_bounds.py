"""The bounds of files: what is at a bound is taken, what is just over it refused."""

from __future__ import annotations

import json
from collections.abc import Callable
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from axisproof.editor.context import context_at
from axisproof.importing.device_reader import read_device
from axisproof.source import json as json_source
from axisproof.source import reader as source_files
from axisproof.source import yaml as yaml_source
from axisproof.source.files import Source
from axisproof.source.limits import (
    MAX_AXES,
    MAX_EXPONENT,
    MAX_INCLUDED_FILES,
    MAX_NUMBER_DIGITS,
    MAX_TEXT,
)
from axisproof.source.limits import MAX_DEPTH as MAX_NESTING
from axisproof.source.merge import load_tree
from axisproof.source.parsing import parse
from axisproof.source.reader import read_source

from tests.bench.fuzz.targets import bounded
from tests.trust.refusing import refused

Patch = pytest.MonkeyPatch


def yaml(text: str) -> Any:
    return parse(Source(Path("m.yaml"), "m.yaml", text, "yaml"))


def as_json(text: str) -> Any:
    return parse(Source(Path("m.json"), "m.json", text, "json"))


def test_a_file_may_be_so_large_and_no_larger(tmp_path: Path, monkeypatch: Patch) -> None:
    assert source_files.MAX_BYTES == 64 * 2**20
    monkeypatch.setattr(source_files, "MAX_BYTES", 2**20)
    path = tmp_path / "m.yaml"
    path.write_text("a: 1 # " + "x" * (2**20 - 8) + "\n")
    assert path.stat().st_size == 2**20
    assert read_source(path).text
    path.write_text(path.read_text() + "\n")
    refused(lambda: read_source(path), "is larger than 1 MiB")


@pytest.mark.parametrize("read", [yaml, as_json])
def test_values_may_be_nested_so_deep_and_no_deeper(read: Callable[[str], Any]) -> None:
    assert read("[" * MAX_NESTING + "1" + "]" * MAX_NESTING)
    deeper = MAX_NESTING + 1
    refused(lambda: read("[" * deeper + "1" + "]" * deeper), f"deeper than {MAX_NESTING} levels")


@pytest.mark.parametrize("read", [yaml, as_json])
def test_a_file_may_hold_so_many_values_and_no_more(
    read: Callable[[str], Any], monkeypatch: Patch
) -> None:
    assert yaml_source.MAX_NODES == json_source.MAX_NODES == 5_000_000
    for module in (yaml_source, json_source):
        monkeypatch.setattr(module, "MAX_NODES", 1000)
    assert len(read(json.dumps([1] * 999))) == 999
    refused(lambda: read(json.dumps([1] * 1000)), "more than 1000 values")


def test_aliases_count_as_if_they_were_written_out(monkeypatch: Patch) -> None:
    monkeypatch.setattr(yaml_source, "MAX_NODES", 1000)
    # 1 + 1 + (1 + 9) values before the aliases, and 10 more for each.
    ten = "a: &a [1, 2, 3, 4, 5, 6, 7, 8, 9]\nb: ["
    assert yaml(ten + ", ".join(["*a"] * 98) + "]\n")
    refused(lambda: yaml(ten + ", ".join(["*a"] * 99) + "]\n"), "beyond 1000 values")


def test_a_few_lines_of_aliases_of_aliases_do_not_fill_the_memory() -> None:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]" for n in range(1, 9)]
    refused(lambda: yaml("\n".join(lines)), "stand for more than 500000 values")


def test_the_records_in_all_lists_of_a_machine_are_bounded(monkeypatch: Patch) -> None:
    from axisproof.machine import fact_readers
    from axisproof.machine.reader import read_plain

    stages = [{"motor_turns_per_load_turn": 1}] * 10
    axes = {f"a{n}": {"motion": "linear", "mechanics": {"stages": stages}} for n in range(3)}
    monkeypatch.setattr(fact_readers, "MAX_ENTRIES", 30)
    assert len(read_plain({"axes": axes}).axes) == 3
    monkeypatch.setattr(fact_readers, "MAX_ENTRIES", 29)
    refused(lambda: read_plain({"axes": axes}), "to 30 entries")


def test_aliases_nest_as_if_they_were_written_out() -> None:
    half = MAX_NESTING // 2
    text = f"a: &a {'[' * (half - 1)}1{']' * (half - 1)}\nb: {'[' * half}*a{']' * half}\n"
    assert yaml(text)
    deeper = text.replace("b: [", "b: [[").replace("]\n", "]]\n", 2).replace("]]\nb", "]\nb")
    refused(lambda: yaml(deeper), f"deeper than {MAX_NESTING} levels")


@pytest.mark.parametrize("read", [yaml, as_json])
def test_a_text_may_be_so_long_and_no_longer(read: Callable[[str], Any]) -> None:
    assert read(json.dumps(["x" * MAX_TEXT]))
    refused(lambda: read(json.dumps(["x" * (MAX_TEXT + 1)])), f"has {MAX_TEXT + 1} characters")


@pytest.mark.parametrize("read", [yaml, as_json])
def test_a_number_may_have_so_many_digits_and_no_more(read: Callable[[str], Any]) -> None:
    digits = "1" * MAX_NUMBER_DIGITS
    assert read(f"[{digits}, 1e{MAX_EXPONENT}, 1e-{MAX_EXPONENT}]")
    refused(lambda: read(f"[{digits}1]"), f"has {MAX_NUMBER_DIGITS + 1} digits")
    refused(lambda: read(f"[1e{MAX_EXPONENT + 1}]"), f"exponent {MAX_EXPONENT + 1}")
    refused(lambda: read(f"[1e-{MAX_EXPONENT + 1}]"), f"exponent -{MAX_EXPONENT + 1}")
    refused(lambda: read("[1e999999999999]"), "exponent 999999999999")


def test_a_machine_may_include_so_many_files_and_no_more(tmp_path: Path) -> None:
    names = [f"part{number}.yaml" for number in range(MAX_INCLUDED_FILES + 1)]
    for name in names:
        (tmp_path / name).write_text("description: same\n")
    top = tmp_path / "m.yaml"
    top.write_text(f"include: [{', '.join(names[:-1])}]\n")
    assert len(load_tree(top).sources) == MAX_INCLUDED_FILES + 1
    top.write_text(f"include: [{', '.join(names)}]\n")
    refused(lambda: load_tree(top), f"more than {MAX_INCLUDED_FILES} files are included")


def test_a_list_may_have_so_many_entries_and_no_more(tmp_path: Path) -> None:
    path = tmp_path / "m.json"

    def write(count: int) -> None:
        stages = [{"motor_turns_per_load_turn": 1}] * count
        axis = {"motion": "linear", "mechanics": {"stages": stages}}
        path.write_text(json.dumps({"format": 1, "machine": "M", "axes": {"x": axis}}))

    from axisproof.machine.reader import read_machine

    def read() -> Any:
        return read_machine(load_tree(path))

    most = _most_stages()
    write(most)
    assert read().axes
    write(most + 1)
    refused(read, f"has {most + 1} entries")


def test_a_machine_may_have_so_many_axes_and_no_more(tmp_path: Path) -> None:
    from axisproof.machine.reader import read_machine

    path = tmp_path / "m.json"

    def read(count: int) -> Any:
        axes = {f"a{number}": {"motion": "linear"} for number in range(count)}
        path.write_text(json.dumps({"format": 1, "machine": "M", "axes": axes}))
        return read_machine(load_tree(path))

    assert len(read(MAX_AXES).axes) == MAX_AXES
    refused(lambda: read(MAX_AXES + 1), f"names {MAX_AXES + 1} axes")
    schema = json.loads(files("axisproof.schemas").joinpath("machine.schema.json").read_text())
    assert schema["properties"]["axes"]["maxProperties"] == MAX_AXES


def _most_stages() -> int:
    from axisproof.machine.schema import ListType, axis_type, lookup

    found = lookup(axis_type(), "mechanics.stages").type
    assert isinstance(found, ListType)
    return found.max_items


def test_a_device_file_that_announces_endless_subindexes_is_read_at_once(tmp_path: Path) -> None:
    path = tmp_path / "d.dcf"
    head = "[6091]\nParameterName=G\nObjectType=8\nDataType=7\nAccessType=rw\nDefaultValue=1\n"
    path.write_text(head + "CompactSubObj=99999999999999\n")
    assert len(read_device(path).values) == 254  # subindexes 1 to 254 (CiA 301)
    path.write_text(head + "CompactSubObj=2\n[6091Name]\nNrOfEntries=99999999999999\n")
    assert len(read_device(path).values) == 2  # the number of names is not believed


LONG = {"spaces": f"1{' ' * 200_000}x", "words": "a " * 100_000, "a word": "a" * 200_000}


@pytest.mark.parametrize("line", LONG.values(), ids=LONG.keys())
def test_a_long_line_of_a_device_file_takes_no_longer_than_many_short_ones(
    line: str, tmp_path: Path
) -> None:
    path = tmp_path / "d.dcf"
    path.write_text(f"[1000]\n{line}\n")
    with bounded(10):
        refused(lambda: read_device(path), "is neither a section nor an entry")


@pytest.mark.parametrize("line", LONG.values(), ids=LONG.keys())
def test_the_cursor_in_a_long_line_is_found_no_later_than_among_many(line: str) -> None:
    text = f"axes:\n  x:\n    {line}\n    dri"
    with bounded(10):
        context = context_at(text, len(text), "yaml")
    assert context.path == ("axes", "x")
    assert context.word == "dri"
