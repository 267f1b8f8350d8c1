"""A fact goes into a file without touching anything else."""

from __future__ import annotations

import difflib
from pathlib import Path

import pytest
from axisproof.authoring.insertion import with_fact
from axisproof.base.errors import UsageError
from axisproof.source.parsing import parse
from axisproof.source.reader import read_source

FILE = """\
# the hall
format: 1
machine: Hall   # ours

axes:
  lift:
    motion: linear
    # drive: # still to come
    motor: {serial: "M-1"}   # from the plate

    encoder:
      kind: absolute_multiturn  # measured
  # a second axis
  table:
    motion: rotary
    mechanics:
      stages:
        - kind: gearbox
        - {}
"""


def put(tmp_path: Path, text: str, path: tuple[str | int, ...], value: object) -> str:
    file = tmp_path / "m.yaml"
    file.write_bytes(text.encode())
    text: str = with_fact(read_source(file), path, value)
    return text


@pytest.mark.parametrize(
    ("path", "value", "added"),
    [
        ("axes lift encoder counts_per_revolution", 131072, "counts_per_revolution: 131072"),
        ("axes lift drive serial", "D-7", "drive:|serial: D-7"),
        ("axes lift drive gear numerator", 3, "drive:|gear:|numerator: 3"),
        ("axes lift motor brake", "none", '{serial: "M-1", brake: none}'),
        ("axes lift motor rated_speed", "3000 rpm", '{serial: "M-1", rated_speed: 3000 rpm}'),
        ("axes table mechanics stages 1 motor_side_teeth", 20, "- {motor_side_teeth: 20}"),
        ("axes table mechanics stages 0 reversing", True, "reversing: true"),
        ("conditions", [], "conditions: []"),
    ],
)
def test_only_the_fact_is_added(tmp_path: Path, path: str, value: object, added: str) -> None:
    keys = tuple(int(key) if key.isdecimal() else key for key in path.split())
    text = put(tmp_path, FILE, keys, value)
    changed = [
        line for line in difflib.ndiff(FILE.split("\n"), text.split("\n")) if line[0] in "+-"
    ]
    for part in added.split("|"):
        assert any(line[0] == "+" and part in line for line in changed), changed
    removed = [line for line in changed if line[0] == "-"]
    assert len(removed) == added.count("{")  # a record in braces is one line, with one more entry
    assert "# from the plate" in text
    assert "# measured" in text


def test_what_is_written_reads_back(tmp_path: Path) -> None:
    text = put(tmp_path, FILE, ("axes", "lift", "drive", "firmware"), "2.10")
    (tmp_path / "n.yaml").write_text(text)
    plain = parse(read_source(tmp_path / "n.yaml"))
    assert plain["axes"]["lift"]["drive"] == {"firmware": "2.10"}  # type: ignore[index, call-overload]


def test_line_ends_and_a_missing_last_line_end_are_kept(tmp_path: Path) -> None:
    text = put(
        tmp_path,
        "format: 1\r\nmachine: H\r\naxes:\r\n  a:\r\n    motion: linear",
        ("axes", "a", "gantry"),
        "none",
    )
    assert text.endswith("    motion: linear\r\n    gantry: none\r\n")
    assert text.count("\r\n") == text.count("\n")


@pytest.mark.parametrize(
    ("text", "path"),
    [
        ("a: &x {b: 1}\nc: *x\n", ("c", "d")),
        ("a: &x\n  b: 1\nc: *x\n", ("a", "d")),
    ],
)
def test_a_file_is_refused_where_more_than_the_fact_would_change(
    tmp_path: Path, text: str, path: tuple[str, ...]
) -> None:
    with pytest.raises(UsageError, match="cannot be written without changing more"):
        put(tmp_path, text, path, 5)


def test_only_yaml_is_written(tmp_path: Path) -> None:
    file = tmp_path / "m.json"
    file.write_text("{}")
    with pytest.raises(UsageError, match="is not YAML"):
        with_fact(read_source(file), ("a",), 1)
