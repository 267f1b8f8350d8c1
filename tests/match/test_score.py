"""The twelve lists: how many rows are proposed right, and that nothing wrong is active."""

from __future__ import annotations

from pathlib import Path

import pytest
from axisproof import api
from axisproof.authoring.mapping_text import mapping_text
from axisproof.cli import main as cli
from axisproof.importing.mapping import fact_sources_of, read_mapping

from tests.match.score import LISTS, scores, truth_of

TRUTHS = sorted(LISTS.glob("*.truth.yaml"))
OTHERS = [each for each in TRUTHS if each not in TRUTHS[::3]]


@pytest.mark.exhaustive
def test_most_rows_are_proposed_right_and_nothing_wrong_is_active() -> None:
    found = scores()
    assert [each.error for each in found] == [""] * 12
    assert [row for each in found for row in each.wrong_active] == []
    right, mappable = (sum(getattr(each, name) for each in found) for name in ("right", "mappable"))
    assert right >= 0.9 * mappable
    assert [each.name for each in found if each.right < 0.8 * each.mappable] == []
    assert sum(each.active for each in found) >= 0.5 * mappable


@pytest.mark.parametrize(
    "truth",
    [*TRUTHS[::3], *(pytest.param(each, marks=pytest.mark.exhaustive) for each in OTHERS)],
    ids=lambda path: path.name,
)
def test_import_takes_each_proposed_mapping_as_it_is(truth: Path, tmp_path: Path) -> None:
    path = LISTS / str(truth_of(truth)["list"])
    match = api.match(path)
    mapping = tmp_path / "list.mapping.yaml"
    mapping.write_text(mapping_text(match, path.name), "utf-8")
    active = {each.fact for each in match.proposals if each.active}
    assert {feed.to for feed in fact_sources_of(read_mapping(mapping))} == active
    axis = match.shape.subjects[0] if match.shape.subject else "lift"
    command = ["import", str(path), "--mapping", str(mapping), "--machine", "Cell", "--axis", axis]
    made = tmp_path / "made.yaml"
    assert cli.run([*command, "--motion", "linear", "-o", str(made)]) == 0
    if match.shape.subject:
        assert f"{axis}:" in made.read_text("utf-8")
