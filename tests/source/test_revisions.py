"""A git revision as a place to read from: the same as its files on the disk, and none written."""

from __future__ import annotations

import datetime
import json
import os
import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from axisproof import api
from axisproof.base.errors import AxisproofError, InputError, UsageError
from axisproof.changes import changes as comparing
from axisproof.report.changes_json import document
from axisproof.source.reader import Reader
from axisproof.source.revisions import ROOT
from axisproof.source.versions import opened_version

from tests.repositories import commit, git

FIXTURES = Path(__file__).parents[2] / "fixtures"

SITE = """\
axisproof: 1
check: [machines]
exclude: [old/]
rules: [plant/rules]
settings: plant/settings.yaml
waivers: plant/waivers.yaml
accepted: plant/accepted.json
"""
MACHINE = "format: 1\nmachine: M\naxes: {x: {motion: linear}}\n"


@pytest.fixture
def plant(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A repository of machines with includes, exports of each kind, and a whole site."""
    top = tmp_path / "plant"
    shutil.copytree(FIXTURES / "sound", top / "machines/sound")
    shutil.copytree(FIXTURES / "imports/cell", top / "machines/import/cell")
    shutil.copytree(FIXTURES / "site/rules", top / "plant/rules/.deep/er")
    shutil.copy(FIXTURES / "site/settings.yaml", top / "plant/settings.yaml")
    weak = (FIXTURES / "faults/brake-holds-load.yaml").read_text("utf-8")
    weak = re.sub("(?m)^machine: .*$", "machine: weak one", weak)
    (top / "machines/weak.yaml").write_text(weak, "utf-8")
    (top / "machines/old").mkdir()
    (top / "machines/old/broken.yaml").write_text("format: 1\nmachine: [\n")
    (top / "machines/other.yaml").write_text("jobs: {build: {steps: []}}\n")
    (top / "machines/.gitignore").write_text("weak.yaml\n")
    (top / "axisproof.yaml").write_text(SITE)
    (top / "plant/waivers.yaml").write_text("waivers: 1\nentries: []\n")
    monkeypatch.chdir(top)
    git(top, "init", "-q")
    git(top, "add", "-f", "machines/weak.yaml")
    report = api.check([Path("machines/weak.yaml")])
    accepted = api.accepted_text(report, datetime.date(2026, 1, 1))
    (top / "plant/accepted.json").write_text(accepted)
    commit(top)
    return top


def told(old: str, new: str, site_files: bool = True) -> Any:
    report = api.changes(old, new, site_files=site_files)
    return document(report)


@pytest.mark.parametrize(
    "revision", ["HEAD:", ":", pytest.param("HEAD:./", marks=pytest.mark.exhaustive)]
)
def test_a_version_of_a_plant_tells_what_its_files_on_the_disk_tell(
    plant: Path, revision: str
) -> None:
    on_disk = json.dumps(told("machines", "machines"))
    there = json.dumps(told(f"{revision}machines", f"{revision}machines"))
    assert there.count(f'"{revision}machines/') > 10
    for name in ("plant/rules", "machines/old/broken.yaml", "machines/other.yaml"):
        assert name in there
    assert json.loads(there)["site_file"]["accepted"] > 0
    assert there.replace(f"{revision}machines", "machines") == on_disk.replace(
        '"axisproof.yaml"', f'"{revision}axisproof.yaml"'
    ).replace("plant/", f"{revision}plant/")
    mixed = told(f"{revision}machines", "machines")
    # A fact that two files dispute is told with the names of both, and so differs.
    assert {each["fact"] for each in mixed["facts"]} <= {"controller.homing.reference_position"}
    assert not mixed["new_findings"]


def test_no_file_of_a_revision_is_written(
    plant: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    own = tmp_path / "temporary"
    own.mkdir()
    monkeypatch.setattr("tempfile.tempdir", str(own))
    seen: list[str] = []
    read = comparing.read_machines

    def watched(*arguments: Any) -> Any:
        made = read(*arguments)
        found = [Path(top, name) for top, _, files in os.walk(own) for name in files]
        seen.extend(each.name for each in found if not each.is_symlink())
        return made

    monkeypatch.setattr(comparing, "read_machines", watched)
    api.changes("HEAD:machines", ":machines", site_files=True)
    assert set(seen) == {
        "HEAD",
        "config",
    }  # names of revisions and how objects are kept: no content
    assert list(own.iterdir()) == []


def test_a_name_that_no_disk_takes_is_read(plant: Path) -> None:
    blob = git(plant, "hash-object", "-w", "--stdin", stdin=MACHINE.encode()).strip()
    name = "x" * 300 + ".yaml"
    tree = git(plant, "mktree", stdin=f"100644 blob {blob}\t{name}\n".encode()).strip()
    report = api.changes(f"{tree}:", f"{tree}:{name}")
    assert report.files == (f"{tree}:{name}",)


BAD: dict[str, tuple[dict[str, str], str]] = {
    "an include": ({"m.yaml": "include: [gone.yaml]\n" + MACHINE}, "m.yaml:1:11"),
    "an include out": ({"m.yaml": "include: [../../x.yaml]\n" + MACHINE}, "m.yaml:1:11"),
    "a project's source": (
        {"m.yaml": "project: 1\nmachine: M\nsources: [{facts: gone.yaml}]\n"},
        "m.yaml:3:19",
    ),
    "a cell of a list": (
        {
            "m.yaml": "project: 1\nmachine: M\naxes: {x: {motion: linear}}\n"
            "sources: [{table: t.csv, mapping: map.yaml}]\n",
            "map.yaml": "mapping: 1\nform: csv\nsubject: axis\n"
            "columns: {subject: axis, parameter: name, value: value}\n"
            "parameters: {n: {to: drive.node}}\n",
            "t.csv": "axis,name,value\nx,n,5\nx,n\n",
        },
        "t.csv:3:",
    ),
    "a fact": ({"m.yaml": MACHINE.replace("linear", "up")}, "m.yaml:3:20"),
    "a rule": (
        {"m.yaml": MACHINE, "axisproof.yaml": "axisproof: 1\nrules: [r.rules]\n", "r.rules": "x"},
        "r.rules:1:1",
    ),
    "a path of the site file": (
        {"m.yaml": MACHINE, "axisproof.yaml": "axisproof: 1\nrules: [r]\n"},
        "axisproof.yaml:2:9",
    ),
    "a waiver": (
        {"m.yaml": MACHINE, "axisproof.yaml": "axisproof: 1\nwaivers: w.yaml\n", "w.yaml": "a: 1"},
        "w.yaml:1:1",
    ),
}


@pytest.mark.parametrize("revision", ["HEAD:", ":", "HEAD:./", ":./"])
@pytest.mark.parametrize(("files", "place"), BAD.values(), ids=BAD.keys())
def test_a_fault_is_told_at_its_place_in_the_revision(
    files: dict[str, str],
    place: str,
    revision: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    for name, text in files.items():
        (tmp_path / name).write_text(text)
    git(tmp_path, "init", "-q")
    commit(tmp_path)
    (tmp_path / "m.yaml").write_text(MACHINE)
    monkeypatch.chdir(tmp_path)
    with pytest.raises(AxisproofError) as caught:
        api.changes(f"{revision}m.yaml", f"{revision}m.yaml", site_files=True)
    assert str(caught.value.place).startswith(revision + place), str(caught.value)
    assert caught.value.source_line
    assert ROOT.as_posix() not in str(caught.value)


def test_links_are_not_followed_wherever_they_stand(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "real/part.yaml").write_text("description: d\n")
    (tmp_path / "link.yaml").symlink_to("real/part.yaml")
    (tmp_path / "linked").symlink_to("real")
    for name, entry in {"a": "link.yaml", "b": "linked/part.yaml", "c": "linked/../a.yaml"}.items():
        (tmp_path / f"{name}.yaml").write_text(f"include: [{entry}]\n{MACHINE}")
    git(tmp_path, "init", "-q")
    commit(tmp_path)
    monkeypatch.chdir(tmp_path)
    expected = {"a": "is a link", "b": "no such file", "c": "leads nowhere"}
    for revision in ("HEAD:", ":"):
        for name, words in expected.items():
            with pytest.raises(InputError, match=rf"{name}\.yaml:1:11: .*{words}"):
                api.changes(f"{revision}{name}.yaml", "a.yaml")
        with pytest.raises(UsageError, match=r"link\.yaml is a link"):
            api.changes(f"{revision}link.yaml", "a.yaml")
        with pytest.raises(UsageError, match=r"link\.yaml is a link"):
            api.changes(revision, "a.yaml")


def test_a_file_whose_merge_is_not_settled_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    git(tmp_path, "init", "-q")
    (tmp_path / "m.yaml").write_text(MACHINE)
    monkeypatch.chdir(tmp_path)
    blob = git(tmp_path, "hash-object", "-w", "m.yaml").strip()
    lines = "".join(f"100644 {blob} {stage}\tm.yaml\n" for stage in (1, 2, 3))
    git(tmp_path, "update-index", "--index-info", stdin=lines.encode())
    for version in (":", ":m.yaml"):
        with pytest.raises(UsageError, match=r":m\.yaml: its merge is not settled"):
            api.changes(version, "m.yaml")


@pytest.fixture
def staged(plant: Path) -> Iterator[tuple[Path, Reader]]:
    with opened_version(":./machines") as version:
        yield version.path, version.reader


def test_a_reader_of_a_revision_answers_what_stands_where(staged: tuple[Path, Reader]) -> None:
    machines, reader = staged
    kinds = {"": "folder", "weak.yaml": "file", "sound": "folder", "none.yaml": None}
    for name, kind in kinds.items():
        assert reader.kind(machines / name) == kind
        assert reader.exists(machines / name) == (kind is not None)
    assert reader.real(machines / "sound/../weak.yaml") == machines / "weak.yaml"
    out = machines / "../../../../../../etc/hosts"
    assert reader.kind(out) is None
    assert reader.kind(reader.real(out)) is None
    with pytest.raises(OSError, match="No such file"):
        reader.open(out)
    with pytest.raises(OSError, match="directory"):
        reader.open(machines)
    assert reader.name(machines / "weak.yaml") == ":./machines/weak.yaml"
    assert reader.path(":./machines/weak.yaml") == machines / "weak.yaml"
    assert reader.path("weak.yaml") == Path("weak.yaml")  # of the disk
