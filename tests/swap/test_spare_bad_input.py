"""What cannot be used is refused in one message with its place, and exit status 2."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from axisproof.base.errors import AxisproofError, InputError, UsageError
from axisproof.cli.main import run
from axisproof.swap.api import spare
from axisproof.swap.part import KINDS, Kind, load_part
from jsonschema import Draft202012Validator
from referencing import Registry, Resource

ROOT = Path(__file__).parents[2]
HALL = ROOT / "fixtures" / "sound" / "hall.yaml"
SPARES = ROOT / "fixtures" / "spares"


def schema(name: str) -> Any:
    return json.loads((ROOT / "schemas" / f"{name}.schema.json").read_text("utf-8"))


def part_validator() -> Draft202012Validator:
    machine, part = schema("machine"), schema("part")
    registry: Registry[Any] = Registry().with_resources(
        (each["$id"], Resource.from_contents(each)) for each in (machine, part)
    )
    return Draft202012Validator(part, registry=registry)


def refusal(tmp_path: Path, text: str, kind: Kind = "motor", motion: str = "linear") -> str:
    file = tmp_path / "spare.yaml"
    file.write_text(text, "utf-8")
    with pytest.raises(AxisproofError) as caught:
        load_part(file, kind, motion)
    return str(caught.value).replace(file.as_posix(), "")


HEAD = "format: 1\npart: motor\n"


@pytest.mark.parametrize(
    ("text", "place", "words"),
    [
        ("format: 1\npart: drive\ndrive: {node: 3}\n", ":2:7", "describes a drive"),
        ("format: 1\npart: moter\nmotor: {}\n", ":2:7", "perhaps motor"),
        ("format: 2\npart: motor\nmotor: {}\n", ":1:9", "too old to read"),
        ("part: motor\nmotor: {}\n", ":1:1", "does not state its format"),
        ("format: 1\nmotor: {}\n", ":1:1", "does not say what part"),
        (HEAD, ":2:7", "states nothing under motor"),
        (HEAD + "motor: none\n", ":3:8", "motor is no record"),
        (HEAD + "motor: {}\nencodr: {}\n", ":4:1", "perhaps encoder"),
        (HEAD + "motor: {}\ndrive: {node: 3}\n", ":4:1", "drive is not known"),
        (HEAD + "motor: {}\nencoder: 7\n", ":4:10", "or `none`"),
        (HEAD + "motor: {max_sped: 3000 rpm}\n", ":3:9", "'max_speed'"),
        (HEAD + "motor:\n  max_speed: 3000\n", ":4:14", "motor.max_speed is 3000"),
        (HEAD + "motor: {}\nencoder: {kind: laser}\n", ":4:17", "kind is 'laser'"),
        (HEAD + "motion: round\nmotor: {}\n", ":3:9", "linear or rotary"),
        ("- 1\n", ":1:1", "holds no record"),
    ],
)  # fmt: skip
def test_a_part_file_is_refused_with_its_place(
    tmp_path: Path, text: str, place: str, words: str
) -> None:
    said = refusal(tmp_path, text)
    assert said.startswith(place), said
    assert words in said


def test_a_drive_whose_settings_are_for_both_kinds_of_motion_is_refused(tmp_path: Path) -> None:
    text = (
        "format: 1\npart: drive\ndrive:\n  following_error_window: 2 mm\n"
        "  feed_constant: {feed: 360 deg}\n"
    )
    said = refusal(tmp_path, text, "drive")
    assert said.startswith(":5:25")
    assert "drive.feed_constant.feed is 360 deg, but the axis is linear" in said


@pytest.mark.parametrize(
    ("arguments", "options", "words"),
    [
        (("infeed", "motor", SPARES / "motor_like_fitted.yaml"), {}, "perhaps infeed_pusher"),
        (("infeed_pusher", "gearbox", SPARES / "gearbox_like_fitted.yaml"), {}, "no gearbox"),
        (("lift", "motor", SPARES / "motor_weak_brake.yaml"), {"stage": 1}, "--stage"),
        (("lift", "gearbox", SPARES / "gearbox_like_fitted.yaml"), {"stage": 4}, "no transmission"),
        (("lift", "motor", HALL), {}, "has 9 axes"),
        (("lift", "motor", HALL), {"spare_axis": "lifd"}, "perhaps lift"),
        (("lift", "motor", SPARES / "motor_weak_brake.yaml"), {"spare_axis": "x"}, "has no axis"),
        (("lift", "motor", SPARES / "motor_weak_brake.yaml"), {"name": "x"}, "no machine 'x'"),
        (("lift", "motor", SPARES / "nothing.yaml"), {}, "nothing.yaml"),
        (("label_slide", "battery", SPARES / "battery_like_fitted.yaml"), {}, "is incremental"),
    ],
)
def test_a_place_that_is_not_there_is_refused(
    arguments: tuple[str, Kind, Path], options: dict[str, Any], words: str
) -> None:
    with pytest.raises((InputError, UsageError)) as caught:
        spare(HALL, *arguments, **options)
    assert words in str(caught.value)


@pytest.mark.parametrize("part", [kind for kind in KINDS if kind != "motor"])
def test_a_spare_of_the_wrong_kind_ends_with_status_two(
    part: str, capsys: pytest.CaptureFixture[str]
) -> None:
    file = SPARES / "motor_like_fitted.yaml"
    option = part.replace("_", "-")
    status = run(["spare", str(HALL), "--axis", "infeed_pusher", "--part", option, str(file)])
    assert status == 2
    out, err = capsys.readouterr()
    assert out == ""
    article = "an" if part == "encoder" else "a"
    said, name = " ".join(err.split()), option.replace("-", " ")
    assert f"describes a motor, and {article} {name} is to be replaced" in said
    assert "part: motor" in err


def test_the_published_schema_takes_every_spare_and_refuses_what_the_reader_refuses(
    tmp_path: Path,
) -> None:
    import yaml

    validator = part_validator()
    for path in sorted(SPARES.glob("*.yaml")):
        if path.stem != "expected":
            plain = json.loads(json.dumps(yaml.safe_load(path.read_text("utf-8")), default=str))
            errors = list(validator.iter_errors(plain))
            assert not errors, (path, errors)
    for text in (
        "format: 1\npart: drive\nmotor: {}\n",
        "format: 1\npart: moter\nmotor: {}\n",
        "format: 2\npart: motor\nmotor: {}\n",
        "part: motor\nmotor: {}\n",
        HEAD,
        HEAD + "motor: none\n",
        HEAD + "motor: {}\nencodr: {}\n",
        HEAD + "motor: {}\ndrive: {node: 3}\n",
        HEAD + "motor: {max_sped: 3000 rpm}\n",
        HEAD + "motor: {max_speed: 3000}\n",
        "format: 1\npart: encoder\nencoder: none\n",
    ):
        assert list(validator.iter_errors(yaml.safe_load(text))), text
        kind: Kind = "encoder" if "part: encoder" in text else "motor"
        refusal(tmp_path, text, kind)
