"""Results kept for files that have not changed: never stale, never in the way."""

from __future__ import annotations

import datetime
import shutil
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from axisproof import api
from axisproof.base.errors import InputError
from axisproof.batch import run_conditions
from axisproof.report.formats import FORMS, renderer
from axisproof.report.rendering import RenderOptions

from tests.batch.cache_helpers import DAY, checked


@pytest.mark.exhaustive
def test_reports_from_the_cache_are_the_same_in_every_form(plant: Path, judged: list[str]) -> None:
    all_there_is = {"workings": True, "every_outcome": True, "sketches": True}
    without = checked(plant, cache=None, **all_there_is)
    first = checked(plant, **all_there_is)
    assert len(without.findings) > 5
    assert len(without.undecided) > 5
    assert without.sketches
    judged.clear()
    second = checked(plant, **all_there_is)
    assert judged == []
    assert without == first == second
    for form in FORMS:
        options = RenderOptions(workings=True)
        assert renderer(form)(without, options) == renderer(form)(second, options), form


def append(path: Path, text: str) -> None:
    path.write_text(path.read_text("utf-8") + text, "utf-8")


def replace_in(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), "utf-8")


CHANGES: dict[str, tuple[Callable[[Path], Any], set[str]]] = {
    "the file itself": (lambda p: append(p / "machines/m001.yaml", "# a\n"), {"m001.yaml"}),
    "a file that it includes": (
        lambda p: replace_in(p / "machines/mechanics.yaml", "45 kg", "46 kg"),
        {"hall.yaml"},
    ),
    "the mapping of an export": (
        lambda p: append(p / "machines/cell/controller.mapping.yaml", "# a\n"),
        {"project.yaml"},
    ),
    "a parameter list": (
        lambda p: [append(each, "\n") for each in (p / "machines/cell").glob("*.csv")],
        {"project.yaml"},
    ),
    "a device file": (
        lambda p: [append(each, "\n") for each in (p / "machines/cell").glob("*.dcf")],
        {"project.yaml"},
    ),
    "the name of the file": (
        lambda p: shutil.move(p / "machines/m001.yaml", p / "machines/m009.yaml"),
        {"m009.yaml"},
    ),
}


@pytest.mark.exhaustive
@pytest.mark.parametrize("what", CHANGES)
def test_a_change_of_a_file_is_seen_and_nothing_else_is_checked_again(
    plant: Path, judged: list[str], what: str
) -> None:
    change, again = CHANGES[what]
    checked(plant)
    change(plant)
    judged.clear()
    kept = checked(plant)
    assert set(judged) == again
    assert kept == checked(plant, cache=None)


def test_an_included_file_that_is_gone_is_missed(plant: Path) -> None:
    checked(plant)
    (plant / "machines" / "mechanics.yaml").unlink()
    errors = set()
    for folder in (plant / "kept", None):
        with pytest.raises(InputError, match="yaml cannot be read") as raised:
            checked(plant, cache=folder)
        errors.add(str(raised.value))
    assert len(errors) == 1


OPTIONS: dict[str, dict[str, Any]] = {
    "the day": {"on": datetime.date(2026, 6, 2)},
    "workings": {"workings": True},
    "every outcome": {"every_outcome": True},
    "pictures": {"sketches": True},
    "no rules of the site": {"rules": [], "settings": None},
    "no settings": {"settings": None},
}


@pytest.mark.exhaustive
@pytest.mark.parametrize("what", OPTIONS)
def test_whatever_alters_the_outcome_lets_all_be_checked_again(
    plant: Path, judged: list[str], what: str
) -> None:
    checked(plant)
    number = len(judged)
    judged.clear()
    kept = checked(plant, **OPTIONS[what])
    assert len(judged) == number
    assert kept == checked(plant, cache=None, **OPTIONS[what])
    judged.clear()
    checked(plant)  # what was kept before is still there
    assert judged == []


def rewrite_rule(plant: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    replace_in(plant / "site.rules", "drive.node > 3", "drive.node > 2")
    replace_in(plant / "site.rules", "drive.node = 3", "drive.node = 2")


SITE_CHANGES: dict[str, Callable[[Path, pytest.MonkeyPatch], Any]] = {
    "a rule of the site": rewrite_rule,
    "a setting": lambda p, m: replace_in(p / "site.yaml", "100 d", "101 d"),
    "a reason": lambda p, m: replace_in(p / "site.yaml", "we are slow", "we are not"),
    "a level": lambda p, m: replace_in(p / "site.yaml", '"off"', '"note"'),
    "the code": lambda p, m: m.setattr(run_conditions, "code_digest", lambda: "other"),
    "the version of a library": lambda p, m: m.setattr(
        run_conditions, "_version", lambda name: name
    ),
    "the interpreter": lambda p, m: m.setattr(sys, "version", "4.0"),
}


@pytest.mark.exhaustive
@pytest.mark.parametrize("what", SITE_CHANGES)
def test_a_change_of_rules_settings_or_program_lets_all_be_checked_again(
    plant: Path, judged: list[str], what: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    checked(plant)
    number = len(judged)
    SITE_CHANGES[what](plant, monkeypatch)
    judged.clear()
    kept = checked(plant)
    assert len(judged) == number
    assert kept == checked(plant, cache=None)


def test_the_digest_of_the_code_covers_code_rules_and_schemas(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen = set()
    monkeypatch.syspath_prepend(tmp_path)
    for package in ("onepart", "onepart.inner"):
        folder = tmp_path / package.replace(".", "/")
        folder.mkdir()
        (folder / "__init__.py").write_text("x = 1\n", "utf-8")
    monkeypatch.setattr(run_conditions, "PACKAGES", ("onepart",))
    for change in ("__init__.py", "inner/__init__.py", "new.rules", "inner/machine.schema.json"):
        seen.add(run_conditions.code_digest.__wrapped__())
        path = tmp_path / "onepart" / change
        path.write_text((path.read_text("utf-8") if path.exists() else "") + "#\n", "utf-8")
    seen.add(run_conditions.code_digest.__wrapped__())
    assert len(seen) == 5
    cached = tmp_path / "onepart" / "__pycache__"
    cached.mkdir(exist_ok=True)
    (cached / "x.pyc").write_bytes(b"x")
    assert run_conditions.code_digest.__wrapped__() in seen


def test_a_link_that_leads_elsewhere_is_noticed(plant: Path, judged: list[str]) -> None:
    machines = plant / "machines"
    shutil.copy(machines / "mechanics.yaml", machines / "other.yaml")
    (machines / "mechanics.yaml").rename(machines / "one.yaml")
    (machines / "mechanics.yaml").symlink_to("one.yaml")
    first = checked(plant)
    assert any(name.endswith("one.yaml") for name in first.files)
    (machines / "mechanics.yaml").unlink()
    (machines / "mechanics.yaml").symlink_to("other.yaml")
    judged.clear()
    second = checked(plant)
    assert "hall.yaml" in judged  # the content is the same, but it stands in another file
    assert second == checked(plant, cache=None)
    assert second != first


def test_files_of_one_name_in_two_checkouts_share_entries(
    plant: Path, judged: list[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    shutil.copytree(plant, tmp_path / "again", ignore=shutil.ignore_patterns("kept"))
    reports = []
    for place in (plant, tmp_path / "again"):
        monkeypatch.chdir(place)
        judged.clear()
        reports.append(api.check(["machines"], api.CheckOptions(on=DAY, cache=plant / "kept")))
    assert judged == []
    assert reports[0] == reports[1]


def test_a_file_with_an_error_is_not_kept(plant: Path) -> None:
    bad = plant / "machines" / "m001.yaml"
    bad.write_text("format: 1\nmachine: x\naxes: {a: {motion: up}}\n", "utf-8")
    messages = set()
    for _ in range(2):
        with pytest.raises(InputError) as raised:
            checked(plant)
        messages.add(str(raised.value))
    assert len(messages) == 1


def test_unsaved_texts_neither_use_nor_fill_the_cache(plant: Path) -> None:
    file = plant / "machines" / "m001.yaml"
    checked(plant, texts={file: file.read_text("utf-8") + "# x\n"})
    assert not (plant / "kept").exists()
