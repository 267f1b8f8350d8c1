"""Site files that are hostile or wrong: refused at their place, and bounded."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from axisproof import api
from axisproof.base.errors import InputError, UsageError
from axisproof.importing.shape import _validator
from axisproof.importing.site_file import find_site_file, fits
from hypothesis import given
from hypothesis import strategies as st

from tests.captured import Captured
from tests.cli.site_repository import DAY, out, settings, write_site


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
