"""The site file: found by itself, told in every form, bounded, and no way for a change to pass."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from axisproof import api
from axisproof.base.errors import AxisproofError, InputError, UsageError
from axisproof.cli import main as cli
from axisproof.importing.shape import _validator
from axisproof.importing.site_file import find_site_file, fits, read_site_file
from axisproof.report.formats import FORMS
from axisproof.source.site_search import one_site_file, site_file_above
from hypothesis import given
from hypothesis import strategies as st

ROOT = Path(__file__).parents[2]
WEAK = ROOT / "fixtures" / "faults" / "brake-holds-load.yaml"
RULE = "brake-holds-load"
DAY = ["--on", "2026-03-02"]

Captured = pytest.CaptureFixture[str]


def git(folder: Path, *arguments: str) -> None:
    names = ("-c", "user.name=n", "-c", "user.email=e@example.invalid")
    subprocess.run(["git", *names, *arguments], cwd=folder, check=True, capture_output=True)


def commit(folder: Path) -> None:
    git(folder, "add", "-A")
    git(folder, "commit", "-q", "--allow-empty", "-m", "m")


@pytest.fixture
def hall(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A repository with a machine that has one fault, which the present folder is."""
    top = tmp_path / "repository"
    (top / "machines").mkdir(parents=True)
    git(top, "init", "-q")
    shutil.copy(WEAK, top / "machines" / "weak.yaml")
    monkeypatch.chdir(top)
    commit(top)
    return top


def write_site(folder: Path, text: str) -> Path:
    path = folder / "axisproof.yaml"
    path.write_text(f"axisproof: 1\n{text}", "utf-8")
    return path


def settings(folder: Path, level: str, rule: str = RULE) -> None:
    text = f"levels: {{{rule}: {{level: '{level}', reason: tried by hand}}}}\n"
    (folder / "settings.yaml").write_text(text, "utf-8")


def out(capsys: Captured, *arguments: str) -> tuple[int, str]:
    status = cli.run([*arguments])
    told = capsys.readouterr()
    assert "Unforeseen" not in told.err
    return status, " ".join((told.out + told.err).split())


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


# Hostile and broken ones --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "said", "column"),
    [
        ("settings: ../outside.yaml\n", "leads out of the repository", 11),
        ("settings: /etc/passwd\n", "is an absolute path", 11),
        ("rules: [out]\n", "leads out of the repository", 9),
        ("accepted: link.json\n", "leads out of the repository", 11),
        ("waivers: nowhere.yaml\n", "there is no file or folder nowhere.yaml", 10),
        ("check: ['a\\0b']\n", "", 0),
        ("output: report.html\n", "output is not known here", 1),
        ("cache: kept\n", "cache is not known here", 1),
        ("cluster: tcp://host\n", "cluster is not known here", 1),
        ("fail_at: never\n", "is 'never'", 10),
        ("forms: {check: pdf}\n", "is 'pdf'", 16),
        ("exclude: ['a ']\n", "blanks", 11),
        ("check: []\n", "check", 8),
    ],
)
def test_what_it_must_not_say_is_an_error_with_its_place(
    hall: Path, text: str, said: str, column: int
) -> None:
    outside = hall.parent / "outside.yaml"
    outside.write_text("secret: 1\n", "utf-8")
    (hall.parent / "rules").mkdir()
    (hall / "out").symlink_to(hall.parent / "rules")
    (hall / "link.json").symlink_to(outside)
    write_site(hall, text)
    with pytest.raises(InputError) as caught:
        find_site_file([hall])
    assert said in str(caught.value)
    assert "secret" not in str(caught.value)
    if column:
        assert caught.value.place is not None
        assert (caught.value.place.line, caught.value.place.column) == (2, column)


def test_a_site_file_that_is_a_link_out_of_the_repository_is_refused(hall: Path) -> None:
    outside = hall.parent / "axisproof.yaml"
    outside.write_text("axisproof: 1\n", "utf-8")
    (hall / "axisproof.yaml").symlink_to(outside)
    with pytest.raises(UsageError, match="leads out of the repository"):
        find_site_file([hall])


def test_what_is_no_plain_file_is_no_site_file(hall: Path, capsys: Captured) -> None:
    (hall / "axisproof.yaml").mkdir()
    assert find_site_file([hall]) is None
    (hall / "axisproof.yaml").rmdir()
    (hall / "axisproof.yaml").symlink_to("axisproof.yaml")
    assert out(capsys, "check", "machines")[0] == 2
    (hall / "axisproof.yaml").unlink()
    os.mkfifo(hall / "axisproof.yaml")
    status, text = out(capsys, "check", "machines")
    assert status == 2
    assert "not a regular file" in text
    (hall / "axisproof.yaml").unlink()
    write_site(hall, "".join(f"x{number}: 1\n" for number in range(50)))
    with pytest.raises(InputError) as caught:
        find_site_file([hall])
    assert len(caught.value.others) <= 19


def test_a_link_inside_of_the_repository_is_followed(hall: Path) -> None:
    settings(hall, "off")
    (hall / "link.yaml").symlink_to("settings.yaml")
    (hall / "up").symlink_to("machines")
    write_site(hall, "settings: up/../link.yaml\n")
    site = find_site_file([hall])
    assert site is not None
    assert site.settings is not None
    assert site.settings.resolve() == hall / "settings.yaml"


def test_rules_of_a_repository_reach_nothing_outside_and_have_bounds(
    hall: Path, capsys: Captured
) -> None:
    (hall / "own").mkdir()
    secret = hall.parent / "secret.rules"
    secret.write_text("rule secret\n", "utf-8")
    (hall / "own" / "a.rules").symlink_to(secret)
    write_site(hall, "rules: [own]\n")
    status, text = out(capsys, "check", "machines", *DAY)
    assert status == 2
    assert "leads out of the folder" in text
    (hall / "own" / "a.rules").unlink()
    nested = "(" * 60 + "1" + ")" * 60
    (hall / "own" / "a.rules").write_text(
        f'rule deep\n  level error\n  title "T"\n  each axis\n  require {nested} = 1\n', "utf-8"
    )
    status, text = out(capsys, "check", "machines", *DAY)
    assert status == 2
    assert "own/a.rules" in text


def test_a_site_file_in_a_checked_folder_is_no_machine_and_not_skipped(hall: Path) -> None:
    write_site(hall / "machines", "")
    report = api.check(["machines"], api.CheckOptions())
    assert report.skipped == ()
    assert len(report.machines) == 1
    with pytest.raises(InputError, match="is a site file"):
        api.check(["machines/axisproof.yaml"], api.CheckOptions())


def test_a_site_file_below_does_not_count_and_is_told(hall: Path, capsys: Captured) -> None:
    write_site(hall, "")
    write_site(hall / "machines", "fail_at: note\n")
    text = out(capsys, "check", ".", *DAY)[1]
    assert "Site files in folders below do not count: machines/axisproof.yaml." in text


plain_values = st.recursive(
    st.none() | st.booleans() | st.integers(0, 2) | st.sampled_from(["error", "a", "", "never"]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.just("check"), inner),
    max_leaves=4,
)
keys = st.sampled_from(
    "axisproof check exclude rules settings waivers accepted fail_at forms output".split()
)


@given(st.dictionaries(keys, plain_values) | plain_values)
def test_the_quick_look_never_takes_what_the_schema_refuses(plain: object) -> None:
    for value in (plain, {**plain, "axisproof": 1} if isinstance(plain, dict) else plain):
        if fits(value):
            assert _validator("site").is_valid(value)


def test_start_up_with_a_site_file_loads_no_validator(hall: Path) -> None:
    write_site(hall, "check: [machines]\nfail_at: note\n")
    code = (
        "import sys; from axisproof.cli import start;"
        "sys.argv = ['axisproof', 'check', 'machines'];"
        "start._status(); print({'jsonschema', 'pathspec', 'click'} & set(sys.modules))"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert ran.stdout.endswith("set()\n"), ran.stdout[-300:] + ran.stderr


# A change must not pass by excusing itself --------------------------------------------------------


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
    hall: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
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
