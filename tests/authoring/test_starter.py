"""axisproof init: a starter file that is valid as it is, and stays so when uncommented."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import click
import pytest
from axisproof import api
from axisproof.authoring.axis_kinds import KINDS
from axisproof.authoring.starter import starter_yaml
from axisproof.authoring.starter_examples import ROTARY
from axisproof.base.errors import UsageError
from axisproof.cli import importing as cli_import
from axisproof.cli import main as cli
from axisproof.machine.reader import read_plain
from axisproof.machine.records import NOTES
from axisproof.machine.schema import Leaf, axis_type, facts
from axisproof.numbers.rational import Fraction
from axisproof.source.files import Source
from axisproof.source.parsing import parse

HALL = Path("fixtures/sound/hall.yaml")


def plain_of(text: str) -> object:
    return parse(Source(Path("s.yaml"), "s.yaml", text, "yaml"))


def test_a_starter_is_a_valid_machine_with_nothing_decided() -> None:
    machine = read_plain(plain_of(starter_yaml("My cell", {"lift": "linear"})))
    assert machine.name == "My cell"
    stated = {key for key in machine.axes[0] if key != NOTES}
    assert stated == {"name", "motion"}


def uncommented(kind: str, *, long: bool = True) -> str:
    """The starter of one axis with every # taken away, as its introduction tells."""
    text = starter_yaml("M", {"a": kind}, long=long)
    body = text[text.index("format: 1") :]
    return re.sub(r"^( *)# ", r"\1", body, flags=re.MULTILINE).replace("…", "a")


@pytest.mark.parametrize("kind", KINDS)
def test_every_commented_fact_is_one_the_reader_takes_with_its_example(kind: str) -> None:
    machine = read_plain(plain_of(uncommented(kind)))
    assert not machine.misfits
    without = KINDS[kind].without
    left_out = {
        fact
        for fact in facts(axis_type())
        if f"{fact}.".startswith(tuple(f"{w}." for w in without))
    }
    # Facts of the items of a list are not among all facts.
    assert len(left_out) >= len([each for each in without if "duty." not in each])
    assert set(facts(axis_type())) - set(machine.axes[0]) == left_out


@pytest.mark.parametrize("kind", KINDS)
def test_a_short_starter_has_what_decides_something_of_each_concern(
    kind: str, tmp_path: Path
) -> None:
    text = starter_yaml("M", {"a": kind})
    assert len(text[text.index("  a:") :].splitlines()) <= 42
    path = tmp_path / "m.yaml"
    path.write_text(uncommented(kind, long=False), "utf-8")
    report = api.check([path])
    # What holds the load or keeps the turns is asked in the long form: an example of it could be
    # taken for a fact.
    whole = {each.concern for each in report.undecided_concerns if not each.partly}
    turns = set() if kind == "linear-motor" else {"turn counter while power is off"}
    assert whole == {"brake"} | turns
    assert report.axes == 1


@pytest.mark.parametrize("kind", KINDS)
def test_a_kind_settles_neither_gravity_nor_brake_nor_stops_nor_settings(kind: str) -> None:
    stated = set(dict(leaves(plain_of(starter_yaml("M", {"a": kind}))["axes"]["a"])))  # type: ignore[index]
    assert stated <= {
        *("motion", "mechanics.final.kind", "mechanics.final.turning_part", "encoder.form"),
    }
    final = KINDS[kind].settled.get("mechanics.final.kind")
    assert (final is None) == (kind in ("linear", "rotary", "conveyor", "arm", "telescope"))


def test_what_a_known_file_states_wins_over_the_kind() -> None:
    text = api.starter("", {"lift": "rack"}, HALL)
    lift = plain_of(text)["axes"]["lift"]  # type: ignore[index]
    assert lift["mechanics"]["final"]["kind"] != "rack"
    assert lift["mechanics"]["moved_by_gravity"] is True


def leaves(plain: object, path: str = "") -> Iterator[tuple[str, object]]:
    """Each value with its dotted path, items of lists without a number."""
    if isinstance(plain, dict):
        for key, value in plain.items():
            yield from leaves(value, f"{path}.{key}".lstrip("."))
    elif isinstance(plain, list):
        for item in plain:
            yield from leaves(item, path)
    else:
        yield path, plain


def test_positions_of_a_rotary_starter_are_angles_and_those_of_a_linear_one_lengths() -> None:
    units = {"linear": "mm", "rotary": "deg"}
    for motion in units:
        axis = plain_of(uncommented(motion))["axes"]["a"]  # type: ignore[index]
        stated = dict(leaves(axis))
        assert stated["controller.units"] == units[motion]
        positions = [
            path
            for path, field in facts(axis_type()).items()
            if isinstance(field.type, Leaf) and field.type.in_user_units and path in stated
        ]
        assert len(positions) > 25
        for path in positions:
            assert units[motion] in str(stated[path]), path


def test_examples_of_a_rotary_starter_are_those_of_one_table() -> None:
    axis = plain_of(uncommented("rotary"))["axes"]["a"]  # type: ignore[index]
    stated = dict(leaves(axis))
    assert {path: stated.get(path) for path in ROTARY} == dict(ROTARY)
    assert stated["mechanics.final.kind"] == "rotary_table"
    scaling = 1000 * 360
    assert stated["controller.counts_per_unit"] == "1000 count/deg"
    assert (stated["controller.scaling.counts"], stated["controller.cycle"]) == (scaling, "360 deg")
    assert stated["drive.position_range.max"] == scaling - 1
    # Encoder counts to a command increment: 131072 counts, 25 motor turns to 360 000 increments.
    assert stated["encoder.counts_per_revolution"] == 131072
    gear = Fraction(stated["drive.gear.numerator"], stated["drive.gear.denominator"])  # type: ignore[call-overload]
    assert gear == Fraction(131072 * 25, scaling)


@pytest.mark.parametrize("motion", ["linear", "rotary"])
def test_lower_ends_of_a_starter_lie_below_upper_ends(motion: str) -> None:
    stated = dict(leaves(plain_of(uncommented(motion))["axes"]["a"]))  # type: ignore[index]
    pairs = [path.removesuffix(".min") for path in stated if path.endswith(".min")]
    assert len(pairs) >= 3
    for path in pairs:
        low, high = (float(str(stated[f"{path}.{end}"]).split()[0]) for end in ("min", "max"))
        assert low < high, path


def test_the_schema_put_beside_a_starter_as_told_does_not_stand_in_the_way(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert cli.run(["init", "--machine", "M", "--axis", "a:rotary"]) == 0
    told = capsys.readouterr().out
    assert "is ready" not in told
    assert "is a form. Fill in its facts from plates" in " ".join(told.split())
    assert "axisproof schema machine > machine.schema.json" in " ".join(told.split())
    top = Path("machine.yaml").read_text("utf-8").splitlines()[:3]
    assert top[0].endswith("$schema=machine.schema.json")
    assert top[2] == "#   axisproof schema machine > machine.schema.json"
    assert cli.run(["schema", "machine"]) == 0
    Path("machine.schema.json").write_text(capsys.readouterr().out, "utf-8")
    assert cli.run(["check", "."]) == 1  # nothing is filled in, so nothing could be decided
    assert "1 axis" in capsys.readouterr().out


def test_facts_of_a_known_file_are_filled_in_with_their_origin() -> None:
    text = api.starter("", {}, HALL)
    assert "machine: Bottling hall" in text
    assert "max_speed: 5000 rpm # fixtures/sound/hall.yaml, line " in text
    assert "\n      # peak_torque" not in text.split("crate_shift")[0]
    again = read_plain(plain_of(text))
    from axisproof.machine.reader import load_machine

    for one, two in zip(again.axes, load_machine(HALL).axes, strict=True):
        assert one == two


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
        ("M", {"a": "straight"}, "'straight' is no kind of axis"),
        ("M", {}, "no axis"),
    ],
)
def test_names_that_are_none_are_refused(machine: str, axes: dict[str, str], words: str) -> None:
    with pytest.raises(UsageError, match=words):
        starter_yaml(machine, axes)


def test_the_command_writes_the_file_and_says_how_to_go_on(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "m.yaml"
    arguments = ["init", str(out), "--machine", "M", "--axis", "a:linear", "--axis", "b:rotary"]
    assert cli.run(arguments) == 0
    assert "says which facts it lacks" in capsys.readouterr().out
    assert cli.run(["check", str(out)]) == 1  # nothing is filled in, so nothing could be decided
    assert cli.run(["init", "-", "--machine", "M", "--axis", "a:linear"]) == 0
    assert "format: 1" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--axis", "a:linear"], "--machine and its name"),
        (["--machine", "M", "--axis", "a"], "lift:screw"),
        (["--machine", "M", "--axis", "a:straight"], "lift:screw. The kinds are linear, rotary"),
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
    answers = iter(["My cell", "lift", "belt", "table", "table", ""])
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
