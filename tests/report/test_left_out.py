"""What an import does not take stands in every form of the report."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from axisproof import api
from axisproof.api import CheckOptions
from axisproof.report.formats import FORMS, renderer
from axisproof.report.rendering import RenderOptions

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
