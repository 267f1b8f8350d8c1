"""axisproof init: a starter file that is valid as it is, and stays so when uncommented."""

from __future__ import annotations

import re
from pathlib import Path

import click
import pytest
from axisproof import api, cli, cli_import
from axisproof.errors import UsageError
from axisproof.machine import read_plain
from axisproof.schema import axis_type, facts
from axisproof.source.files import Source, parse
from axisproof.starter import starter_yaml

HALL = Path("fixtures/sound/hall.yaml")


def plain_of(text: str) -> object:
    return parse(Source(Path("s.yaml"), "s.yaml", text, "yaml"))


def test_a_starter_is_a_valid_machine_with_nothing_decided() -> None:
    machine = read_plain(plain_of(starter_yaml("My cell", {"lift": "linear"})))
    assert machine.name == "My cell"
    stated = {key for key in machine.axes[0] if key[0] not in "@#"}
    assert stated == {"name", "motion"}


@pytest.mark.parametrize("motion", ["linear", "rotary"])
def test_every_commented_fact_is_one_the_reader_takes_with_its_example(motion: str) -> None:
    text = starter_yaml("M", {"a": motion})  # type: ignore[dict-item]
    body = text[text.index("format: 1") :]
    bare = re.sub(r"^( *)# ", r"\1", body, flags=re.MULTILINE)
    bare = bare.replace("another_axis", "a")
    machine = read_plain(plain_of(bare))
    assert not machine.misfits
    stated = set(machine.axes[0])
    missing = {path for path in facts(axis_type()) if path not in stated}
    assert not missing


def test_facts_of_a_known_file_are_filled_in_with_their_origin() -> None:
    text = api.starter("", {}, HALL)
    assert "machine: Bottling hall" in text
    assert "max_speed: 5000 rpm # fixtures/sound/hall.yaml, line " in text
    assert "\n      # peak_torque" not in text.split("crate_shift")[0]
    again = read_plain(plain_of(text))
    from axisproof.machine import load_machine

    for one, two in zip(again.axes, load_machine(HALL).axes, strict=True):
        assert {k: v for k, v in one.items() if k != "@machine"} == {
            k: v for k, v in two.items() if k != "@machine"
        }


def test_a_project_is_filled_in_with_both_claims() -> None:
    text = api.starter("Cell", {"extra": "rotary"}, Path("fixtures/imports/cell/project.yaml"))
    machine = read_plain(plain_of(text))
    assert [axis["name"] for axis in machine.axes] == ["lift", "index_table", "extra"]
    assert [d.path for d in machine.disputes] == ["axes.lift.controller.homing.reference_position"]


@pytest.mark.parametrize(
    ("machine", "axes", "words"),
    [
        ("", {"a": "linear"}, "no name for a machine"),
        ("M", {"1a": "linear"}, "no name for an axis"),
        ("M", {}, "no axis"),
    ],
)
def test_names_that_are_none_are_refused(machine: str, axes: dict[str, str], words: str) -> None:
    with pytest.raises(UsageError, match=words):
        starter_yaml(machine, axes)  # type: ignore[arg-type]


def test_the_command_writes_the_file_and_says_how_to_go_on(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "m.yaml"
    arguments = ["init", str(out), "--machine", "M", "--axis", "a:linear", "--axis", "b:rotary"]
    assert cli.run(arguments) == 0
    assert "says which facts it lacks" in capsys.readouterr().out
    assert cli.run(["check", str(out)]) == 0
    assert cli.run(["init", "-", "--machine", "M", "--axis", "a:linear"]) == 0
    assert "format: 1" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--axis", "a:linear"], "--machine and its name"),
        (["--machine", "M", "--axis", "a"], "lift:linear"),
        (["--machine", "M", "--axis", "a:straight"], "lift:linear"),
        (["--machine", "M"], "no axis"),
    ],
)
def test_options_that_say_too_little_are_refused_when_nobody_can_be_asked(
    arguments: list[str], words: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert cli.run(["init", str(tmp_path / "m.yaml"), *arguments]) == 2
    assert words in " ".join(capsys.readouterr().err.split())
    assert not (tmp_path / "m.yaml").exists()


def test_on_a_terminal_it_asks(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    answers = iter(["My cell", "lift", "linear", "table", "rotary", ""])
    monkeypatch.setattr(cli_import.sys.stdin, "isatty", lambda: True, raising=False)
    monkeypatch.setattr(click, "prompt", lambda *a, **k: next(answers))
    out = tmp_path / "m.yaml"
    assert cli.run(["init", str(out)]) == 0
    machine = read_plain(plain_of(out.read_text()))
    assert machine.name == "My cell"
    assert [(axis["name"], axis["motion"]) for axis in machine.axes] == [
        ("lift", "linear"),
        ("table", "rotary"),
    ]
