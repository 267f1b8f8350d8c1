"""The site file: found by itself, used by every command, told in every form."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from axisproof import api
from axisproof.base.errors import UsageError
from axisproof.cli import main as cli
from axisproof.report.formats import FORMS
from axisproof.source.site_search import one_site_file, site_file_above

from tests.captured import Captured
from tests.cli.site_repository import DAY, RULE, WEAK, out, settings, write_site

ROOT = Path(__file__).parents[2]


# Finding it ---------------------------------------------------------------------------------------


def test_the_nearest_site_file_up_to_the_top_of_the_repository_counts(hall: Path) -> None:
    assert site_file_above(hall / "machines") is None
    write_site(hall, "")
    assert site_file_above(hall / "machines" / "weak.yaml") == Path("axisproof.yaml")
    near = write_site(hall / "machines", "")
    assert site_file_above(hall / "machines") == near.relative_to(hall)
    near.unlink()
    write_site(hall.parent, "")
    (hall / "axisproof.yaml").unlink()
    assert site_file_above(hall / "machines") is None


def test_outside_of_a_repository_only_the_checked_folder_is_searched(tmp_path: Path) -> None:
    inner = tmp_path / "a" / "b"
    inner.mkdir(parents=True)
    write_site(tmp_path / "a", "")
    assert site_file_above(inner) is None
    assert site_file_above(tmp_path / "a") is not None


def test_paths_of_two_site_files_are_refused(hall: Path, tmp_path: Path) -> None:
    write_site(hall, "")
    other = tmp_path / "other"
    other.mkdir()
    with pytest.raises(UsageError, match="different site files"):
        one_site_file([hall, other])
    assert one_site_file([hall, hall / "machines"]) == Path("axisproof.yaml")


def test_a_plain_check_and_one_through_the_whole_command_line_use_it_alike(hall: Path) -> None:
    settings(hall, "off")
    write_site(hall, "settings: settings.yaml\n")
    told = []
    for extra in ([], ["--jobs", "1"]):
        command = [sys.executable, "-m", "axisproof", "check", "machines", *DAY, *extra]
        told.append(subprocess.run(command, capture_output=True, text=True, check=False))
    assert told[0].returncode == told[1].returncode == 0
    assert told[0].stdout == told[1].stdout
    assert "1 rule switched off (site file)" in told[0].stdout.splitlines()[0]


# What it does -------------------------------------------------------------------------------------


@pytest.mark.parametrize("form", list(FORMS))
def test_every_form_counts_what_the_site_file_loosens(
    hall: Path, capsys: Captured, form: str
) -> None:
    shutil.copy(WEAK, hall / "machines" / "old.yaml")
    settings(hall, "off", "brake-voltage-fits")
    assert cli.run(["accept", "machines/weak.yaml", "-o", "accepted.json", *DAY]) == 0
    write_site(
        hall,
        "settings: settings.yaml\naccepted: accepted.json\nexclude: [old.yaml]\nfail_at: error\n",
    )
    capsys.readouterr()
    status, text = out(capsys, "check", "machines", "--format", form, *DAY)
    assert status == 0
    if form == "json":
        use = json.loads(text)["site_file"]
        assert use["switched_off"] == ["brake-voltage-fits"]
        assert use["excluded"] == ["machines/old.yaml"]
        assert (use["accepted"], use["fail_at"]) == (1, "error")
        return
    for words in ("1 rule switched off", "1 finding accepted", "1 file excluded"):
        assert words in text.replace("\\", ""), words
    assert "warnings do not fail" in text
    assert "axisproof.yaml" in text.replace("\\", "")


def test_the_first_line_says_what_is_loosened(hall: Path, capsys: Captured) -> None:
    settings(hall, "note")
    write_site(hall, "settings: settings.yaml\n")
    assert cli.run(["check", "machines", *DAY]) == 0
    assert "1 rule lowered (site file)" in capsys.readouterr().out.splitlines()[0]


def test_options_win(hall: Path, capsys: Captured) -> None:
    settings(hall, "off")
    write_site(hall, "settings: settings.yaml\nforms: {check: json}\nfail_at: error\n")
    (hall / "strict.yaml").write_text("settings: {}\n", "utf-8")
    status, text = out(capsys, "check", "machines", "--settings", "strict.yaml", *DAY)
    assert status == 1
    assert json.loads(text)["site_file"]["switched_off"] == []
    status, text = out(capsys, "check", "machines", "--format", "lines", *DAY)
    assert (status, text[:1]) == (0, "a")
    status, text = out(capsys, "check", "machines", "--no-site-file", *DAY)
    assert status == 1
    assert "site file" not in text
    settings(hall, "warning")
    assert out(capsys, "check", "machines", *DAY)[0] == 0
    assert out(capsys, "check", "machines", "--fail-at", "warning", *DAY)[0] == 1


def test_without_a_path_the_site_file_says_what_to_check(hall: Path, capsys: Captured) -> None:
    status, text = out(capsys, "check")
    assert status == 2
    assert "PATH" in text
    write_site(hall, "check: [machines]\n")
    assert out(capsys, "check", *DAY)[0] == 1
    assert out(capsys, "fix", *DAY)[0] == 0
    assert out(capsys, "accept", "-o", "kept.json", *DAY)[0] == 0
    os.chdir(hall / "machines")
    status, text = out(capsys, "check", "--format", "lines", *DAY)
    assert "weak.yaml:" in text


def test_excluded_files_are_listed_and_named_ones_are_checked(hall: Path, capsys: Captured) -> None:
    write_site(hall, "exclude: ['*.yaml']\n")
    status, text = out(capsys, "check", "machines", *DAY)
    assert status == 2
    assert "the site file excludes 1 file" in text
    assert out(capsys, "check", "machines/weak.yaml", *DAY)[0] == 1
    write_site(hall, "exclude: [other.yaml]\n")
    shutil.copy(WEAK, "machines/other.yaml")
    status, text = out(capsys, "check", "machines", "--verbose", *DAY)
    assert "machines/other.yaml (excluded)" in text


def test_every_command_uses_it(hall: Path, capsys: Captured) -> None:
    shutil.copytree(ROOT / "fixtures" / "site" / "rules", hall / "own")
    shutil.copy(ROOT / "fixtures" / "site" / "settings.yaml", hall / "settings.yaml")
    shutil.copy(ROOT / "fixtures" / "site" / "cell.yaml", hall / "machines" / "cell.yaml")
    known = {rule.name for rule in api.list_rules()}
    own = next(rule.name for rule in api.list_rules([hall / "own"]) if rule.name not in known)
    write_site(hall, "rules: [own]\nsettings: settings.yaml\n")
    for command in (["rules", "list", "--all"], ["explain", own], ["check", "machines/cell.yaml"]):
        status, text = out(capsys, *command)
        assert status < 2, text
        assert own in text or "the site's own" in text
        if command[0] != "check":
            plain = out(capsys, *command, "--no-site-file")
            assert plain[0] == 2 or own not in plain[1]
    for command in (
        ["show", "machines/cell.yaml"],
        ["fix", "machines/cell.yaml"],
        ["accept", "machines/cell.yaml", "-o", "a.json"],
        ["changes", "machines/cell.yaml", "machines/cell.yaml"],
        ["rules", "facts", "gravity"],
        ["rules", "pages", "pages"],
        ["site"],
    ):
        status, text = out(capsys, *command)
        assert status < 2, text


def test_spare_says_what_the_site_file_loosens(hall: Path, capsys: Captured) -> None:
    for name in ("hall.yaml", "mechanics.yaml"):
        shutil.copy(ROOT / "fixtures" / "sound" / name, hall / "machines" / name)
    shutil.copytree(ROOT / "fixtures" / "spares", hall / "spares")
    settings(hall, "off", "spare-brake-holds-like-fitted")
    write_site(hall, "settings: settings.yaml\nforms: {spare: json}\n")
    command = "spare machines/hall.yaml --axis lift --part motor spares/motor_weak_brake.yaml"
    plain = json.loads(out(capsys, *command.split(), *DAY)[1])
    assert plain["site_file"]["switched_off"] == ["spare-brake-holds-like-fitted"]
    text = out(capsys, *command.split(), "--format", "text", *DAY)[1]
    assert "1 rule switched off (site file)" in text


def test_shards_and_their_merge_count_what_the_site_file_loosens(
    hall: Path, capsys: Captured
) -> None:
    shutil.copy(WEAK, hall / "machines" / "other.yaml")
    shutil.copy(WEAK, hall / "machines" / "left.yaml")
    assert cli.run(["accept", "machines", "-o", "accepted.json", *DAY]) == 0
    write_site(hall, "accepted: accepted.json\nexclude: [left.yaml]\n")
    for number in (1, 2):
        arguments = f"check machines --shard {number}/2 --record r{number}.json --fail-at never"
        assert cli.run([*arguments.split(), *DAY]) == 0
    capsys.readouterr()
    merged = json.loads(out(capsys, "merge", "r1.json", "r2.json", "--format", "json")[1])
    whole = json.loads(out(capsys, "check", "machines", "--format", "json", *DAY)[1])
    assert merged["site_file"] == whole["site_file"]
    assert merged["site_file"]["accepted"] == 2
    assert merged["site_file"]["excluded"] == ["machines/left.yaml"]
    assert out(capsys, "merge", "r1.json", "r2.json", "--no-site-file")[0] == 1


def test_site_prints_what_is_in_force_and_from_where(hall: Path, capsys: Captured) -> None:
    text = out(capsys, "site")[1]
    assert "No site file is in force" in text
    settings(hall, "off")
    write_site(hall, "check: [machines]\nsettings: settings.yaml\nfail_at: note\n")
    text = out(capsys, "site", "machines/weak.yaml")[1]
    assert "Site file axisproof.yaml" in text
    assert "check machines (axisproof.yaml:2)" in text
    assert f"{RULE} is switched off, error by default: tried by hand" in text
    assert "fail_at note (axisproof.yaml:4)" in text
    assert "forms text (default)" in text
