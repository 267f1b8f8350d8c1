"""A file that cannot be used among others: the others are checked, and nothing looks whole."""

from __future__ import annotations

import datetime
import json
import shutil
import xml.etree.ElementTree as ET
from pathlib import Path
from typing import Any

import pytest
from axisproof import api
from axisproof.base.errors import InputError, UsageError
from axisproof.cli import main as cli
from axisproof.findings.finding import Report
from axisproof.report.formats import FORMS, renderer
from axisproof.report.rendering import RenderOptions

from tests.batch.batch_helpers import archive

DAY = datetime.date(2026, 6, 1)
SIDEWAYS = "format: 1\nmachine: x\naxes: {a: {motion: sideways}}\n"
BROKEN = {
    "b_word.yaml": SIDEWAYS,
    "m003x.yaml": "a: [",
    "m004x.json": "",
    "p.yaml": "project: 1\nsources: 3\n",
    "z_missing.yaml": "include: [nowhere.yaml]\nformat: 1\nmachine: z\n",
}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    inside = archive(tmp_path / "machines", 8)
    for name, text in BROKEN.items():
        (inside / name).write_text(text, "utf-8")
    return inside


def checked(folder: Path, **options: Any) -> Report:
    return api.check([folder], api.CheckOptions(on=DAY, partial=True, **options))


def test_all_others_are_checked_and_each_broken_file_is_named(folder: Path) -> None:
    report = checked(folder)
    assert [Path(each.file).name for each in report.unusable] == sorted(BROKEN)
    for name in BROKEN:
        (folder / name).unlink()
    without = api.check([folder], api.CheckOptions(on=DAY))
    assert without.findings
    assert report.findings == without.findings
    assert report.machines == without.machines
    assert report.undecided == without.undecided


def test_each_is_told_as_it_would_be_alone(folder: Path) -> None:
    for each in checked(folder).unusable:
        with pytest.raises(InputError) as caught:
            api.check([each.file], api.CheckOptions(on=DAY, partial=True))
        alone = caught.value
        assert (each.what, each.expected, each.place, each.source_line) == (
            alone.what,
            alone.expected,
            alone.place,
            alone.source_line,
        )


def test_without_the_option_the_first_of_them_ends_the_check(folder: Path) -> None:
    for name in ("p.yaml", "z_missing.yaml"):  # what names other files is read first
        (folder / name).unlink()
    with pytest.raises(InputError, match="sideways"):
        api.check([folder], api.CheckOptions(on=DAY))


@pytest.mark.exhaustive
def test_any_number_of_processes_tells_the_same(folder: Path) -> None:
    assert checked(folder, jobs=2) == checked(folder)


def test_the_cache_keeps_none_of_them(folder: Path, tmp_path: Path) -> None:
    one = checked(folder)
    for _ in range(2):
        assert checked(folder, cache=tmp_path / "cache") == one


def test_shards_together_tell_what_one_check_tells(folder: Path, tmp_path: Path) -> None:
    whole = checked(folder)
    records = []
    for number in (1, 2, 3):
        record = tmp_path / f"{number}.json"
        options = api.CheckOptions(on=DAY, partial=True, shard=f"{number}/3")
        api.check([folder], options, recorded=lambda text, to=record: to.write_text("".join(text)))
        records.append(record)
    assert api.merge(records)[0] == whole
    assert cli.run(["merge", *map(str, records), "--fail-at", "never"]) == 2


def test_a_part_of_a_file_that_loads_is_not_told_beside_it(tmp_path: Path) -> None:
    (tmp_path / "a_part.yaml").write_text("description: what all share\n", "utf-8")
    broken = tmp_path / "m.yaml"
    broken.write_text("include: [a_part.yaml]\n" + SIDEWAYS, "utf-8")
    (tmp_path / "n.yaml").write_text(SIDEWAYS.replace("sideways", "linear"), "utf-8")
    report = checked(tmp_path)
    assert [Path(each.file).name for each in report.unusable] == ["m.yaml"]
    broken.write_text("include: [a_part.yaml]\naxes: [\n", "utf-8")
    report = checked(tmp_path)  # nobody knows what it includes
    assert [Path(each.file).name for each in report.unusable] == ["a_part.yaml", "m.yaml"]
    assert report.machines == ("x",)


def test_an_accepted_finding_of_such_a_file_is_not_said_to_be_gone(tmp_path: Path) -> None:
    inside = archive(tmp_path / "machines", 4)
    report = api.check([inside], api.CheckOptions(on=DAY))
    accepted = tmp_path / "accepted.json"
    accepted.write_text(api.accepted_text(report, DAY), "utf-8")
    lost = next(each for each in report.findings if each.marks[0].place.file.endswith("m000.yaml"))
    (inside / "m000.yaml").write_text("axes: [", "utf-8")
    later = checked(inside, accepted=accepted)
    assert later.unusable
    assert lost.machine not in {each.machine for each in later.accepted_gone}


# Forms and exit status ----------------------------------------------------------------------------


@pytest.mark.parametrize("form", FORMS)
def test_every_form_names_them_and_is_not_whole(folder: Path, form: str) -> None:
    needs = FORMS[form]
    report = checked(
        folder,
        workings=needs.workings,
        every_outcome=needs.every_outcome,
        sketches=needs.sketches,
    )
    text = renderer(form)(report, RenderOptions())
    for name in BROKEN:
        assert name in text.replace("\\", "")
    assert "sideways" in text
    said = " ".join(text.replace("\\", "").split())
    if form == "json":
        (first, *_) = json.loads(text)["unusable"]
        assert first["place"]["line"] == 3
        assert text.index('"unusable"') < text.index('"findings"')
    elif form == "sarif":
        (invocation,) = json.loads(text)["runs"][0]["invocations"]
        assert invocation["executionSuccessful"] is False
        first = invocation["toolExecutionNotifications"][0]
        assert first["level"] == "error"
        region = first["locations"][0]["physicalLocation"]["region"]
        assert (region["startLine"], region["startColumn"]) == (3, 20)
    elif form == "junit":
        root = ET.fromstring(text)
        assert root.get("errors") == "6"  # one of the five files has two faults
        assert len(root[0].findall("testcase/error")) == 6
    else:
        assert "This report is not whole: 5 files cannot be used." in said
    if form == "text":
        assert "not whole, 5 files cannot be used" in text.splitlines()[0]
        assert "b_word.yaml:3:20" in text


@pytest.mark.parametrize("form", FORMS)
def test_the_command_ends_in_2_in_every_form(
    folder: Path, form: str, capsys: pytest.CaptureFixture[str]
) -> None:
    arguments = ["check", str(folder), "--on", "2026-06-01", "--format", form]
    assert cli.run([*arguments, "--fail-at", "never"]) == 2
    out, err = capsys.readouterr()
    assert "z_missing.yaml" in out.replace("\\", "")
    assert ("The report is not whole." in " ".join(err.split())) == (form != "text")


def test_a_report_in_a_file_that_is_not_whole_is_told(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    output = tmp_path / "report.txt"
    arguments = ["check", str(folder), "--on", "2026-06-01", "--output", str(output)]
    assert cli.run(arguments) == 2
    out, err = capsys.readouterr()
    assert not out
    words = " ".join(err.split())
    assert words.startswith("Note: The report is not whole.")
    assert "z_missing.yaml could not be used and were not checked." in words


@pytest.mark.parametrize("option", ["--quiet", "--statistics", "--select=gearing"])
def test_no_option_hides_them(
    folder: Path, option: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert cli.run(["check", str(folder), "--on", "2026-06-01", option]) == 2
    out = capsys.readouterr().out
    for name in BROKEN:
        assert name in out


def test_where_no_file_can_be_used_all_are_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in ("a.yaml", "b.yaml"):
        (tmp_path / name).write_text(SIDEWAYS, "utf-8")
    for form in FORMS:
        assert cli.run(["check", str(tmp_path), "--format", form]) == 2
        out = capsys.readouterr().out
        assert "a.yaml" in out
        assert "b.yaml" in out


def test_no_set_is_accepted_and_nothing_is_fixed_of_a_part(folder: Path, tmp_path: Path) -> None:
    accepted = tmp_path / "accepted.json"
    assert cli.run(["accept", str(folder), "-o", str(accepted)]) == 2
    assert not accepted.exists()
    before = {path: path.read_bytes() for path in folder.rglob("*.yaml")}
    assert cli.run(["fix", str(folder), "--yes"]) == 2
    assert before == {path: path.read_bytes() for path in folder.rglob("*.yaml")}


def test_two_versions_are_not_compared_in_part(folder: Path, tmp_path: Path) -> None:
    old = tmp_path / "old"
    shutil.copytree(folder, old)
    with pytest.raises((InputError, UsageError)):
        api.changes(old, folder, on=DAY)
