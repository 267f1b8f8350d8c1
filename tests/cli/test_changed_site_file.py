"""A change does not pass by excusing itself in the site file."""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from axisproof import api
from axisproof.base.errors import AxisproofError
from axisproof.cli import main as cli
from axisproof.importing.site_file import read_site_file

from tests.captured import Captured
from tests.cli.site_repository import DAY, RULE, WEAK, out, settings, write_site
from tests.repositories import commit

ROOT = Path(__file__).parents[2]


def loosened(*arguments: str) -> tuple[str, ...]:
    old, new = arguments
    found: tuple[str, ...] = api.changes(old, new, site_files=True).loosened
    return found


GROWTH: dict[str, tuple[Callable[[Path], object], str]] = {
    "off": (lambda top: settings(top, "off"), "is switched off now"),
    "lowered": (lambda top: settings(top, "note"), "has the level note now"),
    "excluded": (lambda top: write_site(top, "exclude: [x/]\n"), "excludes x/ now"),
    "level": (lambda top: write_site(top, "fail_at: error\n"), "failing level is error now"),
}


@pytest.mark.parametrize("kind", GROWTH)
def test_a_change_that_loosens_by_the_site_file_fails(
    hall: Path, capsys: Captured, kind: str
) -> None:
    settings(hall, "error")
    write_site(hall, "settings: settings.yaml\n")
    commit(hall)
    act, said = GROWTH[kind]
    act(hall)
    assert any(said in text for text in loosened("HEAD:machines", "machines"))
    status, text = out(capsys, "changes", "HEAD:machines", "machines", *DAY)
    assert status == 1
    assert said in text
    assert "The site file loosens more than before. This is a failure." in text
    assert out(capsys, "changes", "HEAD:machines", "machines", "--no-site-file", *DAY)[0] == 0
    commit(hall)
    assert any(said in text for text in loosened("HEAD~1:machines", "HEAD:machines"))
    assert loosened("HEAD:machines", "machines") == ()
    assert loosened("HEAD:machines", "HEAD:machines/weak.yaml") == ()


def test_a_file_that_is_excluded_now_is_told_with_the_reason(hall: Path, capsys: Captured) -> None:
    shutil.copy(WEAK, hall / "machines" / "old.yaml")
    commit(hall)
    write_site(hall, "exclude: [old.yaml]\n")
    status, text = out(capsys, "changes", "HEAD:machines", "machines", *DAY)
    assert status == 1
    assert "machines/old.yaml The site file excludes it." in text


def test_a_new_waiver_and_a_newly_accepted_finding_are_told(hall: Path) -> None:
    assert cli.run(["accept", "machines", "-o", "accepted.json", *DAY]) == 0
    empty = json.loads(Path("accepted.json").read_text("utf-8")) | {"findings": []}
    full = Path("accepted.json").read_text("utf-8")
    Path("accepted.json").write_text(json.dumps(empty), "utf-8")
    Path("waivers.yaml").write_text("waivers: 1\nentries: []\n", "utf-8")
    write_site(hall, "accepted: accepted.json\nwaivers: waivers.yaml\n")
    commit(hall)
    Path("accepted.json").write_text(full, "utf-8")
    [told] = loosened("HEAD:machines", "machines")
    assert told.startswith(f"A finding is accepted now: {RULE} on ")
    machine = api.check(["machines"]).machines[0]
    Path("accepted.json").write_text(json.dumps(empty), "utf-8")
    Path("waivers.yaml").write_text(
        f"waivers: 1\nentries:\n- {{rule: {RULE}, machine: {machine}, axis: lift, reason: r,"
        " approved_by: lead, expires: '2030-01-01', values: {motor.brake.holding_torque: 1 N·m}}\n",
        "utf-8",
    )
    [told] = loosened("HEAD:machines", "machines")
    assert told.startswith(f"A waiver is new: {RULE} on ")
    commit(hall)
    assert loosened("HEAD:machines", "machines") == ()
    text = Path("waivers.yaml").read_text("utf-8").replace("2030", "2031")
    Path("waivers.yaml").write_text(text, "utf-8")
    assert len(loosened("HEAD:machines", "machines")) == 1


def test_own_rules_that_go_or_change_and_other_settings_are_told(hall: Path) -> None:
    shutil.copytree(ROOT / "fixtures" / "site" / "rules", hall / "own")
    shutil.copy(ROOT / "fixtures" / "site" / "settings.yaml", hall / "settings.yaml")
    write_site(hall, "rules: [own]\nsettings: settings.yaml\n")
    commit(hall)
    file = sorted((hall / "own").glob("*.rules"))[0]
    text = file.read_text("utf-8")
    file.write_text("# a remark\n" + text, "utf-8")
    assert loosened("HEAD:machines", "machines") == ()
    (hall / "axisproof.yaml").unlink()
    told = loosened("HEAD:machines", "machines")
    assert any("of the site is gone" in each for each in told)
    assert any(each.startswith("The setting ") for each in told)


def test_a_site_file_of_a_revision_is_found_from_the_present_folder(hall: Path) -> None:
    settings(hall, "off")
    write_site(hall, "settings: settings.yaml\n")
    commit(hall)
    os.chdir(hall / "machines")
    report = api.changes("HEAD:./weak.yaml", "weak.yaml", site_files=True)
    assert report.loosened == ()
    assert report.site_file is not None
    assert report.site_file.switched_off == (RULE,)
    write_site(hall, "settings: gone.yaml\n")
    commit(hall)
    write_site(hall, "")
    with pytest.raises(AxisproofError, match=r"HEAD:axisproof\.yaml"):
        api.changes("weak.yaml", "HEAD:./weak.yaml", site_files=True)


def test_a_backup_outside_of_a_repository_has_no_site_file_to_compare(
    hall: Path, tmp_path: Path, capsys: Captured
) -> None:
    shutil.copy(WEAK, tmp_path / "backup.yaml")
    settings(hall, "off")
    write_site(hall, "settings: settings.yaml\n")
    assert loosened(str(tmp_path / "backup.yaml"), "machines/weak.yaml") == ()
    cli.run(["changes", str(tmp_path / "backup.yaml"), "machines/weak.yaml"])
    said = " ".join(capsys.readouterr().out.split())
    assert "nobody compared what the site file of the new version loosens" in said
    (tmp_path / "backup").mkdir()
    shutil.copy(WEAK, tmp_path / "backup" / "weak.yaml")
    assert loosened(str(tmp_path / "backup"), "machines") != ()


def test_waivers_of_the_site_file_count_in_changes(hall: Path) -> None:
    assert cli.run(["accept", "machines", "-o", "accepted.json", *DAY]) == 0
    write_site(hall, "accepted: accepted.json\n")
    commit(hall)
    report = api.changes("HEAD:machines", "machines", site_files=True)
    assert [each.finding.waived is not None for each in report.persisting] == [True]


def test_a_nested_read_of_a_site_file_names_its_place(hall: Path) -> None:
    path = write_site(hall, "settings: settings.yaml\n")
    settings(hall, "off")
    assert read_site_file(path).settings == hall / "settings.yaml"
