"""Marks for what nobody filled in are no values."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from axisproof.base.errors import InputError
from axisproof.machine.reader import load_machine
from axisproof.machine.schema import load_schema
from jsonschema import Draft202012Validator

MARKS = ("…", "...", "?", "???", "<serial>", "tbd", "TODO", "xxx", "n/a", "Unknown", " … ",
         "-", "#", "·", "?-?", "to do")  # fmt: skip

NO_SERIALS = ("M-…", "…ask", "…\u200b", "0", "00000", "none", "NULL", "missing")
"""What is no serial number, and can be another text."""


@pytest.mark.parametrize("mark", MARKS)
@pytest.mark.parametrize(
    "fact",
    ["motor: {serial: %s}", "motor: {model: %s}", "encoder: {kind: %s}", "encoder: {max_speed: %s}",
     "encoder: {counts_per_revolution: %s}", "encoder: {index_pulse: %s}", "motion: %s",
     "controller: {homing: {method: %s}}", "controller: {homing: {taught: {on: %s}}}",
     "gantry: {partner: %s}", "description: %s"],
)  # fmt: skip
def test_a_mark_for_a_value_that_nobody_filled_in_is_no_value(
    fact: str, mark: str, tmp_path: Path
) -> None:
    if "partner" in fact and mark.isalpha():
        return  # a word may be the name of an axis, and a rule tells whether it is one
    file = tmp_path / "m.yaml"
    motion = "" if fact.startswith("motion") else "    motion: linear\n"
    line = fact % f'"{mark}"'
    file.write_text(f"format: 1\nmachine: m\naxes:\n  a:\n{motion}    {line}\n", "utf-8")
    with pytest.raises(InputError) as caught:
        load_machine(file)
    text = str(caught.value)
    assert f"m.yaml:{6 if motion else 5}:{line.index(mark) + 4}" in text
    assert "which marks a value that is not filled in" in text
    assert "Leave the fact out if it is not known" in text


@pytest.mark.parametrize(
    "text", ["M-20417", "nn", "x", "unknown cause, ask", "a ... b", "n.a.", "?x"]
)
def test_a_text_that_holds_more_than_a_mark_is_a_value(text: str, tmp_path: Path) -> None:
    file = tmp_path / "m.json"
    plain = {
        "format": 1,
        "machine": "m",
        "axes": {"a": {"motion": "linear", "motor": {"serial": text}}},
    }
    file.write_text(json.dumps(plain))
    assert load_machine(file).axes[0]["motor.serial"] == text


def test_a_long_text_of_blanks_is_looked_at_once(tmp_path: Path) -> None:
    """A mark that may match blanks in several places would take hours here."""
    file = tmp_path / "m.json"
    axes = {"a": {"motion": "linear", "motor": {"serial": " " * 60_000 + "x"}}}
    file.write_text(json.dumps({"format": 1, "machine": "m", "axes": axes}))
    with pytest.raises(InputError, match="200"):
        load_machine(file)


@pytest.mark.parametrize("text", NO_SERIALS)
@pytest.mark.parametrize("fact", ["motor", "controller.homing.taught"])
def test_a_serial_number_that_nobody_filled_in_is_no_value(
    fact: str, text: str, tmp_path: Path
) -> None:
    """Two of them would be alike, and a check that compares two parts would hold."""
    name = "serial" if fact == "motor" else "motor_serial"
    plain: dict[str, object] = {name: text}
    for part in reversed(fact.split(".")):
        plain = {part: plain}
    file = tmp_path / "m.json"
    axes = {"a": {"motion": "linear", **plain}}
    file.write_text(json.dumps({"format": 1, "machine": "m", "axes": axes}))
    with pytest.raises(InputError, match="which marks a value that is not filled in"):
        load_machine(file)


@pytest.mark.parametrize("definition", ["serial_value", "text_value"])
def test_the_schema_refuses_marks_as_the_reader_does(definition: str) -> None:
    check = Draft202012Validator(load_schema()["$defs"][definition])
    assert [mark for mark in (*MARKS, "UNKNOWN", "not known") if check.is_valid(mark)] == []
    serial = definition == "serial_value"
    assert [text for text in NO_SERIALS if check.is_valid(text) == serial] == []
    assert check.is_valid("M-20417")
    assert check.is_valid("n.a.")
