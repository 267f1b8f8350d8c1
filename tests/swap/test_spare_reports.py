"""Text, JSON and the sheet to check off, and the exit status of the commands."""

from __future__ import annotations

import json
import re
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
from axisproof.catalogue.catalogue import shipped
from axisproof.cli.main import run
from axisproof.swap.roles import read_roles, record_facts
from jsonschema import Draft202012Validator
from referencing import Registry, Resource

ROOT = Path(__file__).parents[2]
HALL = ROOT / "fixtures" / "sound" / "hall.yaml"
SPARES = ROOT / "fixtures" / "spares"
ON = ["--on", "2026-03-01"]


def validator(name: str) -> Draft202012Validator:
    schemas = {
        each: json.loads((ROOT / "schemas" / f"{each}.schema.json").read_text("utf-8"))
        for each in (name, "findings")
    }
    Draft202012Validator.check_schema(schemas[name])
    registry: Registry[Any] = Registry().with_resources(
        (each["$id"], Resource.from_contents(each)) for each in schemas.values()
    )
    return Draft202012Validator(schemas[name], registry=registry)


def spare(axis: str, part: str, file: str, *options: str) -> int:
    path = str(SPARES / f"{file}.yaml")
    return run(["spare", str(HALL), "--axis", axis, "--part", part, path, *ON, *options])


@pytest.mark.parametrize(
    ("axis", "part", "file", "status"),
    [
        ("infeed_pusher", "motor", "motor_like_fitted", 0),
        ("infeed_pusher", "motor", "motor_fewer_turns", 1),
        ("infeed_pusher", "motor", "motor_too_slow", 1),
        ("infeed_pusher", "motor", "motor_light_rotor", 1),
        ("infeed_pusher", "motor", "motor_encoder_not_said", 1),
    ],
)
def test_the_exit_status_is_zero_only_if_it_fits_as_it_is(
    axis: str, part: str, file: str, status: int, capsys: pytest.CaptureFixture[str]
) -> None:
    assert spare(axis, part, file) == status
    assert capsys.readouterr().err == ""


@pytest.mark.parametrize("width", [80, 90, 120])
def test_text_keeps_to_its_width_and_says_both_verdicts(
    width: int, capsys: pytest.CaptureFixture[str]
) -> None:
    spare("infeed_pusher", "motor", "motor_fewer_turns", "--plan", "--width", str(width))
    out = capsys.readouterr().out
    assert max(map(len, out.splitlines())) <= width
    flat = " ".join(out.split())
    assert "Fits after 2 settings below are written." in flat
    assert "Teach again after the work: the reference of the axis" in flat
    assert "65536 → 4096 (required: Drive and encoder count the same number of turns)" in flat
    assert "absolute range 655360 mm → 40960 mm" in flat
    assert "[ ] 1 Back up" in flat


def test_text_says_by_how_much_it_does_not_fit(capsys: pytest.CaptureFixture[str]) -> None:
    spare("infeed_pusher", "motor", "motor_too_slow")
    lines = capsys.readouterr().out.splitlines()
    first = next(line for line in lines[:6] if line.startswith("Does not fit. "))
    assert "too slow" in first
    assert "(by 500 rpm)" in first


def test_what_a_part_that_does_not_fit_would_need_is_told_only_on_request(
    capsys: pytest.CaptureFixture[str],
) -> None:
    spare("lift", "motor", "motor_weak_brake")
    flat = " ".join(capsys.readouterr().out.split())
    assert "Do not fit it until this is solved. --detail tells" in flat
    assert "each again after the work" not in flat
    assert "Settings to write" not in flat
    spare("lift", "motor", "motor_weak_brake", "--detail")
    flat = " ".join(capsys.readouterr().out.split())
    assert "To be taught again if you solve this first" in flat
    spare("infeed_pusher", "motor", "motor_encoder_not_said")
    flat = " ".join(capsys.readouterr().out.split())
    assert "Do not fit it until this is known." in flat
    assert "each again after the work" not in flat


def test_a_part_that_fits_is_not_said_to_need_nothing_where_something_is_taught(
    capsys: pytest.CaptureFixture[str],
) -> None:
    spare("infeed_pusher", "motor", "motor_like_fitted")
    told = "\nFits. No setting has to be written.\nTeach again after the work:\n  the reference of"
    assert told in capsys.readouterr().out


@pytest.mark.parametrize(
    ("axis", "part", "file"),
    [
        ("infeed_pusher", "motor", "motor_like_fitted"),
        ("infeed_pusher", "motor", "motor_encoder_not_said"),
        ("crate_shift", "motor", "motor_too_many_positions"),
        ("index_table", "gearbox", "gearbox_nine_to_one"),
        ("infeed_pusher", "drive", "drive_from_the_factory"),
        ("infeed_pusher", "battery", "battery_short_life"),
        ("infeed_pusher", "motor", "motor_light_rotor"),
    ],
)
@pytest.mark.parametrize("plan", [True, False])
def test_json_is_as_published(
    axis: str, part: str, file: str, plan: bool, capsys: pytest.CaptureFixture[str]
) -> None:
    spare(axis, part, file, "--format", "json", *(["--plan"] if plan else []))
    document = json.loads(capsys.readouterr().out)
    assert not list(validator("spare").iter_errors(document))
    assert (document["plan"] is not None) == plan


MOTOR = ("--after", "motor")
SWITCH = ("--after", "home-switch")


@pytest.mark.parametrize(
    ("arguments", "status"),
    [
        (["infeed_pusher", "--true", "100mm", "--indicated", "98.6mm", *SWITCH], 0),
        (["infeed_pusher", "--true", "100mm", "--indicated", "98.6mm"], 1),
        (["infeed_pusher", "--true", "100mm", "--indicated", "90mm", "--after", "motor"], 1),
        (
            [
                "index_table",
                "--true",
                "1deg",
                "--indicated",
                "7deg",
                "--tolerance",
                "26deg",
                *MOTOR,
            ],
            0,
        ),
        (["outfeed_belt", "--true", "1mm", "--indicated", "7mm", *MOTOR], 0),
        (["label_slide", "--true", "100mm", "--indicated", "98.75mm", "--after", "motor"], 1),
        (
            [
                "label_slide",
                "--true",
                "100mm",
                "--indicated",
                "98.75mm",
                "--after",
                "motor-refitted",
                "--index-angle",
                "0.75rev",
            ],
            0,
        ),
        (
            [
                "infeed_pusher",
                "--true",
                "100mm",
                "--indicated",
                "-999mm",
                "--after",
                "home-switch",
                "--reading",
                "32768",
            ],
            1,
        ),
    ],
)
def test_recalibration_as_json_is_as_published(
    arguments: list[str], status: int, capsys: pytest.CaptureFixture[str]
) -> None:
    axis, *rest = arguments
    command = ["recalibrate", str(HALL), "--axis", axis, *rest]
    assert run([*command, "--format", "json"]) == status
    document = json.loads(capsys.readouterr().out)
    assert not list(validator("recalibration").iter_errors(document))
    assert run(command) == status
    flat = " ".join(capsys.readouterr().out.split())
    assert document["plausibility"] in flat
    assert document["new_reference"]["text"] in flat


def test_a_test_without_power_says_so(capsys: pytest.CaptureFixture[str]) -> None:
    run(["recalibrate", str(HALL), "--axis", "index_table", "--true", "1deg", "--indicated",
         "7deg", "--tolerance", "26deg", "--after", "nothing"])  # fmt: skip
    flat = " ".join(capsys.readouterr().out.split())
    # 360 deg / 7 = 51.43 deg apart
    assert "no power. Their multiples lead to places 51.42857 deg apart" in flat


class Page(HTMLParser):
    """Collects elements and what they would load."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.loads: list[str] = []
        self.ids: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        named = dict(attrs)
        self.loads += [str(named[key]) for key in ("src", "href", "data") if key in named]
        self.ids += [str(named["id"])] if "id" in named else []


def test_the_sheet_is_one_page_with_a_box_for_every_step(
    capsys: pytest.CaptureFixture[str],
) -> None:
    spare("lift", "motor", "motor_weak_brake", "--format", "html")
    text = capsys.readouterr().out
    page = Page()
    page.feed(text)
    assert page.loads == []
    assert "script" not in page.tags
    assert "default-src 'none'" in text
    assert len(set(page.ids)) == len(page.ids)
    boxes = len(re.findall(r'type="checkbox"', text))
    assert boxes == len(re.findall(r'<li class="step"', text)) > 25
    assert "The spare does not fit as stated: do not start." in text
    assert "too large" not in text


def test_every_form_names_the_one_day_that_all_is_checked_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    spare("infeed_pusher", "motor", "motor_like_fitted")
    assert capsys.readouterr().out.endswith("\nChecked for the day 2026-03-01.\n")
    spare("infeed_pusher", "motor", "motor_like_fitted", "--format", "json")
    assert json.loads(capsys.readouterr().out)["day"] == "2026-03-01"
    sheet = tmp_path / "sheet.html"
    spare(
        "infeed_pusher",
        "motor",
        "motor_like_fitted",
        "--plan",
        "--format",
        "html",
        "--output",
        str(sheet),
    )
    assert sheet.read_text("utf-8").count("checked for the day 2026-03-01") == 1


def test_the_sheet_escapes_what_the_files_say(tmp_path: Path) -> None:
    evil = "<script>alert(1)</script>\u202e"
    file = tmp_path / "spare.json"
    plain = {"format": 1, "part": "battery", "battery": {"places": ["cable"], "life": "3 years"}}
    file.write_text(json.dumps(plain))
    machine = tmp_path / "machine.yaml"
    text = HALL.read_text("utf-8").replace("include: [mechanics.yaml]", "")
    text = text.replace("Change the battery this week.", evil.replace("\u202e", "\\u202e"))
    machine.write_text(text, "utf-8")
    out = tmp_path / "sheet.html"
    status = run(["spare", str(machine), "--axis", "infeed_pusher", "--part", "battery", str(file),
                  "--format", "html", "--output", str(out), *ON])  # fmt: skip
    assert status in (0, 1)
    page = out.read_text("utf-8")
    assert "<script>" not in page
    assert "&lt;script&gt;alert(1)" in page
    assert "\u202e" not in page


def test_every_fact_of_a_part_has_a_role_and_every_role_a_fact() -> None:
    roles = read_roles(shipped())
    for record, stated in roles.roles.items():
        known = record_facts(record)
        for fact in stated:
            assert any(each == fact or each.startswith(f"{fact}.") for each in known), fact
        for fact in known:
            parts = fact.split(".")
            groups = {".".join(parts[:depth]) for depth in range(1, len(parts) + 1)}
            assert groups & set(stated), f"{record}.{fact} has no role in rules/swap.yaml"


def test_every_adaptation_is_about_a_rule_and_a_fact_that_exist() -> None:
    from axisproof.machine.schema import axis_type, lookup

    catalogue = shipped()
    for adaptation in read_roles(catalogue).adaptations:
        assert adaptation.rule in catalogue.rules
        assert lookup(axis_type(), adaptation.fact)
        fix = catalogue.rules[adaptation.rule].fix
        assert adaptation.value is not None or fix is not None


def test_a_plan_for_a_part_that_does_not_fit_says_so_and_marks_what_is_refused(
    capsys: pytest.CaptureFixture[str],
) -> None:
    spare("lift", "motor", "motor_weak_brake", "--plan")
    flat = " ".join(capsys.readouterr().out.split())
    _, _, plan = flat.partition("Plan of the work: motor of lift")
    assert plan.index("does not fit as stated: do not start") < plan.index("[ ] 1 ")
    holding = "motor.brake.holding_torque: 0.9 N·m (fitted: 4 N·m, NOT allowed: brake-holds-load"
    assert holding in plan
    spare("infeed_pusher", "motor", "motor_like_fitted", "--plan")
    sound = " ".join(capsys.readouterr().out.split())
    assert "do not start" not in sound
    assert "NOT allowed" not in sound


def test_a_warning_is_to_be_settled_and_does_not_keep_the_spare_from_fitting(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    spare("infeed_pusher", "drive", "drive_old_firmware", "--plan")
    flat = " ".join(capsys.readouterr().out.split())
    assert "Fits, with 1 warning to be settled." in flat
    assert "Does not fit" not in flat
    assert "do not start" not in flat
    assert flat.index("WARNING ") < flat.index("Rule drive-firmware-not-too-old")
    plan = flat[flat.index("Plan of the work") :]
    assert "- drive-firmware-not-too-old: " in plan
    assert plan.index("Decide about each warning") < plan.index("MAKE SAFE")
    assert "to be settled: drive-firmware-not-too-old" in plan
    spare("infeed_pusher", "drive", "drive_old_firmware", "--format", "html")
    page = capsys.readouterr().out
    assert "To be settled" in page
    assert "What stands against it" not in page
    # with settings to write as well
    old = (SPARES / "drive_of_another_axis.yaml").read_text("utf-8")
    file = tmp_path / "old.yaml"
    file.write_text(re.sub(r"firmware: .*", "firmware: 1.0.0", old), "utf-8")
    status = run(["spare", str(HALL), "--axis", "infeed_pusher", "--part", "drive", str(file), *ON])
    assert status == 1
    flat = " ".join(capsys.readouterr().out.split())
    both = "Fits after 4 settings below are written, with 1 warning to be settled."
    assert both in flat
    # an error remains an error beside it
    spare("lift", "motor", "motor_weak_brake", "--plan")
    assert "Decide about each warning" not in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize(
    ("axis", "part", "file", "settings", "tallies"),
    [
        # as many to write as the verdict says, whatever their role
        (
            "infeed_pusher", "drive", "drive_of_another_axis", 4,
            ["must match: 24 equal, 3 to be written", "set for this place: 1 to be written"],
        ),
        # what the spare cannot be set to counts as how it is built: other settings make up for it
        (
            "crate_shift", "motor", "motor_coarser_encoder_behind_gear", 2,
            ["must match: 8 equal", "what the rules allow: 14 equal, 1 different, 1 not known"],
        ),
        ("infeed_pusher", "motor", "motor_fewer_turns", 2, ["1 to be written"]),
        ("turret", "encoder", "encoder_incremental", None, ["must match: 4 equal, 1 different"]),
    ],
)  # fmt: skip
def test_the_facts_by_role_agree_with_the_verdict(
    axis: str,
    part: str,
    file: str,
    settings: int | None,
    tallies: list[str],
    capsys: pytest.CaptureFixture[str],
) -> None:
    spare(axis, part, file, "--detail")
    out = capsys.readouterr().out
    flat = " ".join(out.split())
    assert (f"Fits after {settings} settings" in flat) == (settings is not None)
    roles = out[out.index("Facts of the part by role") :]
    for tally in tallies:
        assert tally in " ".join(roles.split())
    if settings is not None:
        match = roles[roles.index("must match") :].partition("may differ")[0]
        assert "different" not in match
    spare(axis, part, file, "--format", "json")
    document = json.loads(capsys.readouterr().out)
    own = {row["fact"] for row in document["rows"] if row["state"] != "same"}
    written = own & {write["fact"] for write in document["writes"]}
    assert roles.count(", to be written") == len(written)


def test_what_an_encoder_cannot_be_set_to_is_compared_before_it_is_fitted(
    capsys: pytest.CaptureFixture[str],
) -> None:
    spare("crate_shift", "motor", "motor_coarser_encoder_behind_gear", "--plan")
    flat = " ".join(capsys.readouterr().out.split())
    _, _, plan = flat.partition("Plan of the work")
    row = "- encoder.counts_per_revolution: 131072 (fitted: 1048576, permitted)"
    assert row in plan
