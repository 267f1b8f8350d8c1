"""A fact leads back to the place where it was written."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from axisproof.machine.machine import Machine
from axisproof.machine.reader import load_machine

from tests.machine.plain_machines import full, machine

TEXT = """\
format: 1
machine: hall
axes:
  infeed:
    motion: linear
    drive:
      node: 3
    controller:
      cycle: {claims: [{value: 0x1F, source: a}]}
    interlocks:
      partial:
        - triggers: [position_lost]
          max_speed: none
"""


@pytest.fixture
def infeed(tmp_path: Path) -> Machine:
    text = TEXT.replace("0x1F", "500 mm")
    (tmp_path / "hall.yaml").write_text(text)
    return load_machine(tmp_path / "hall.yaml")


@pytest.mark.parametrize(
    ("path", "line", "column", "written"),
    [
        ("axes.infeed.motion", 5, 13, "linear"),
        ("axes.infeed.drive.node", 7, 13, "3"),
        ("axes.infeed.controller.cycle", 9, 32, "500 mm"),
        ("axes.infeed.interlocks[0].max_speed", 13, 22, "none"),
        ("axes.infeed.interlocks[0].triggers[0]", 12, 22, "position_lost"),
        ("machine", 2, 10, "hall"),
    ],
)
def test_a_path_leads_back_to_where_it_was_written(
    infeed: Machine, path: str, line: int, column: int, written: str
) -> None:
    (place,) = infeed.places(path)
    assert (place.line, place.column) == (line, column)
    assert infeed.written(path) == written
    assert written in infeed.line_text(place)


def test_a_missing_path_has_no_place_but_a_nearest_one(infeed: Machine) -> None:
    assert infeed.places("axes.infeed.drive.gear.numerator") == ()
    assert infeed.written("axes.infeed.drive.gear.numerator") is None
    nearest = infeed.nearest("axes.infeed.drive.gear.numerator")
    assert nearest is not None
    assert (nearest.line, nearest.column) == (6, 5)
    assert infeed.nearest("axes.infeed.interlocks[7].max_speed") is not None
    assert infeed.written("axes.infeed.interlocks[7].max_speed") is None
    assert infeed.written("axes.infeed.drive") is None


def test_a_machine_without_a_file_has_no_places() -> None:
    found = machine(drive={"node": 3})
    assert found.places("axes.a.drive.node") == ()
    assert found.nearest("axes.a.drive.node") is None
    assert found.written("axes.a.drive.node") == "3"


def test_unlike_files_become_a_dispute_with_a_place_in_each(tmp_path: Path) -> None:
    (tmp_path / "hall.yaml").write_text(TEXT.replace("0x1F", "500 mm") + "include: [drive.json]\n")
    part = {"axes": {"infeed": {"drive": {"node": 4, "firmware": "2"}}}}
    (tmp_path / "drive.json").write_text(json.dumps(part))
    found = load_machine(tmp_path / "hall.yaml")
    assert found.axes[0]["drive.firmware"] == "2"
    (dispute,) = found.disputes
    assert dispute.path == "axes.infeed.drive.node"
    assert [text for text, _ in dispute.claims] == ["3", "4"]
    files = [Path(place.file).name for place in found.places(dispute.path)]
    assert files == ["hall.yaml", "drive.json"]


def test_the_same_facts_come_from_yaml_and_from_json(tmp_path: Path) -> None:
    plain = full()
    (tmp_path / "m.json").write_text(json.dumps(plain))
    (tmp_path / "m.yaml").write_text(json.dumps(plain))  # JSON is YAML in flow style
    one, two = load_machine(tmp_path / "m.json"), load_machine(tmp_path / "m.yaml")
    for mine, other in zip(one.axes, two.axes, strict=True):
        assert mine == other
