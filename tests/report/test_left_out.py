"""What an import does not take stands in every form of the report."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

import pytest
from axisproof import api
from axisproof.api import CheckOptions
from axisproof.cli.main import run
from axisproof.findings.finding import LeftOut
from axisproof.report.formats import FORMS, renderer
from axisproof.report.rendering import RenderOptions
from axisproof.swap.api import spare as judge_spare

from tests.report.report_samples import FULL, WEAKENED

CELL = Path(__file__).parents[2] / "fixtures" / "imports" / "cell" / "project.yaml"


def flat(text: str) -> str:
    return " ".join(text.replace("\\", "").split())


@pytest.mark.parametrize("form", list(FORMS))
def test_every_form_names_what_is_not_taken(form: str) -> None:
    (left,) = WEAKENED.left_out
    text = flat(renderer(form)(WEAKENED, RenderOptions()))
    assert left.text in text
    assert left.place.file in text
    assert left.text not in flat(renderer(form)(FULL, RenderOptions()))


def test_a_check_of_exports_names_what_their_imports_do_not_take() -> None:
    report = api.check([CELL])
    files = {Path(each.place.file).name for each in report.left_out}
    assert files == {"lift.dcf", "index_table.dcf", "controller.csv"}
    assert any("of communication" in each.text for each in report.left_out)
    assert api.check([CELL], CheckOptions(jobs=2)).left_out == report.left_out


def test_a_hand_written_machine_leaves_nothing_out() -> None:
    hall = CELL.parents[2] / "sound" / "hall.yaml"
    assert replace(api.check([hall]), left_out=()) == api.check([hall])


# A spare, and two versions ----------------------------------------------------------------------


def copied(folder: Path) -> Path:
    """Another folder with the same exports; gives its project file."""
    return Path(shutil.copytree(CELL.parent, folder)) / CELL.name


def files_left_out(left_out: Iterable[LeftOut]) -> set[str]:
    return {each.place.file for each in left_out}


def test_a_spare_shows_what_the_exports_of_machine_and_spare_leave_out(tmp_path: Path) -> None:
    spare = copied(tmp_path / "spare")
    files = files_left_out(api.check([CELL]).left_out) | files_left_out(api.check([spare]).left_out)
    report = judge_spare(CELL, "lift", "drive", spare, spare_axis="lift", plan=True)
    assert files_left_out(report.left_out) == files
    given = ["spare", str(CELL), "--axis", "lift", "--part", "drive", str(spare)]
    for form in ("text", "json", "html"):
        out = tmp_path / f"report.{form}"
        told = ["--spare-axis", "lift", "--plan", "--format", form, "--output", str(out)]
        assert run([*given, *told]) in (0, 1)
        said = "".join(out.read_text("utf-8").split())
        assert "ofcommunication" in said, form
        assert [file for file in files if file not in said] == [], form


def test_two_versions_show_what_either_leaves_out(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """An object that no fact takes may have changed, and nobody compared it."""
    old, new = copied(tmp_path / "old"), copied(tmp_path / "new")
    for folder, row in ((old, "LIFT;Old;1;"), (new, "LIFT;New;2;")):
        rows = folder.parent / "controller.csv"
        rows.write_text(f"{rows.read_text('utf-8')}{row}\n", "utf-8")
    report = api.changes(str(old), str(new))
    texts = [each.text for each in report.left_out]
    assert "New is not mapped" in texts
    assert texts[-1] == "Old is not mapped"
    assert len(texts) == len(set(texts)) + 1  # two drives leave out alike
    assert run(["changes", str(old), str(new)]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "New is not mapped" in said
    assert "Old is not mapped" in said
    assert run(["changes", str(old), str(new), "--format", "json"]) == 0
    document = json.loads(capsys.readouterr().out)
    assert [each["text"] for each in document["left_out"]] == texts
