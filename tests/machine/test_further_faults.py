"""All faults of a file are told in one run, in its order, at most 20, each at its own place."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from axisproof import api
from axisproof.base.errors import InputError
from axisproof.catalogue.catalogue import catalogue
from axisproof.checking.waivers import read_waivers
from axisproof.cli import main as cli
from axisproof.machine.reader import load_machine, read_plain
from axisproof.report.formats import FORMS
from hypothesis import given
from hypothesis import strategies as st

from tests.captured import Captured

HEAD = "format: 1\nmachine: m\naxes:\n  a:\n    motion: linear\n"
BAD = (
    HEAD
    + "    motor:\n      max_sped: 3000 rpm\n      brake: {holding_torque: 4 mm}\n"
    + "    encoder: {kind: laser}\n"
    + "    interlocks:\n    - {name: 3}\n    - 7\n"
    + "  b:\n    motion: round\n"
)


def faults(path: Path) -> list[tuple[int, int]]:
    with pytest.raises(InputError) as caught:
        load_machine(path)
    each = [caught.value, *caught.value.others]
    return [(error.place.line, error.place.column) for error in each if error.place]


def test_each_fault_has_its_own_place_in_the_order_of_the_file(tmp_path: Path) -> None:
    path = tmp_path / "m.yaml"
    path.write_text(BAD, "utf-8")
    places = faults(path)
    assert places == [(7, 7), (8, 31), (9, 21), (11, 7), (11, 14), (12, 7), (14, 13)]


def test_what_was_taken_out_is_not_missed(tmp_path: Path) -> None:
    path = tmp_path / "m.yaml"
    path.write_text(HEAD.replace("motion: linear", "motion: round"), "utf-8")
    assert faults(path) == [(5, 13)]
    path.write_text(HEAD.replace("format: 1", "format: 1\nx: 1").replace("m\n", "[]\n"), "utf-8")
    assert faults(path) == [(2, 1), (3, 10)]


@pytest.mark.parametrize("motion", ["", "motoin: linear, ", "motion: round, "])
def test_an_axis_without_its_motion_is_read_all_the_same(tmp_path: Path, motion: str) -> None:
    path = tmp_path / "m.yaml"
    rest = "motor: {max_speed: 4 kg}, interlocks: [{latched: 3}]}\n"
    path.write_text(f"format: 1\nmachine: m\naxes:\n  a: {{{motion}{rest}", "utf-8")
    with pytest.raises(InputError) as caught:
        load_machine(path)
    each = [str(error).partition("axes.")[2] for error in (caught.value, *caught.value.others)]
    assert len(each) == 4
    assert each[0].startswith(("a lacks 'motion'", "a.motoin is not", "a.motion is"))
    assert [text.split()[0] for text in each[1:]] == [
        "a.motor.max_speed",
        "a.interlocks[0]",
        "a.interlocks[0].latched",
    ]


def test_a_file_without_its_head_is_read_all_the_same(tmp_path: Path) -> None:
    path = tmp_path / "m.yaml"
    path.write_text("fromat: 1\naxes:\n  a: {motion: linear, motr: {}}\n", "utf-8")
    assert faults(path) == [(1, 1), (1, 1), (3, 23)]
    path.write_text("format: 2\nmachine: []\naxes:\n  a: {motr: {}}\n", "utf-8")
    assert faults(path) == [(1, 9)]  # another format may mean something else


def test_at_most_twenty_faults_are_told(tmp_path: Path) -> None:
    path = tmp_path / "m.yaml"
    path.write_text(HEAD + "".join(f"    x{n}: 1\n" for n in range(30)), "utf-8")
    assert faults(path) == [(line, 5) for line in range(6, 26)]


def test_a_part_that_two_places_share_is_read_as_it_stands(tmp_path: Path) -> None:
    path = tmp_path / "m.yaml"
    path.write_text(
        HEAD + "    motor: &x {y: 1}\n  b:\n    motor: *x\n    motion: linear\n", "utf-8"
    )
    assert len(faults(path)) == 2


def test_faults_against_a_published_schema_are_told_together(tmp_path: Path) -> None:
    path = tmp_path / "w.yaml"
    path.write_text("waivers: 1\nentries:\n- {rule: 3}\n- 4\nx: 1\n", "utf-8")
    with pytest.raises(InputError) as caught:
        read_waivers(path, catalogue())
    each = [caught.value, *caught.value.others]
    assert [error.place.line for error in each if error.place] == sorted(
        error.place.line for error in each if error.place
    )
    assert {error.place.line for error in each if error.place} == {3, 4, 5}


@pytest.mark.parametrize("form", list(FORMS))
def test_every_form_tells_each_fault_at_its_place(
    tmp_path: Path, capsys: Captured, form: str
) -> None:
    (tmp_path / "bad.yaml").write_text(BAD, "utf-8")
    (tmp_path / "good.yaml").write_text(HEAD, "utf-8")
    assert cli.run(["check", str(tmp_path), "--format", form]) == 2
    raw = capsys.readouterr().out
    text = raw.replace("\\", "")
    assert "max_sped" in text
    assert "laser" in text
    if form == "json":
        (broken,) = json.loads(raw)["unusable"]
        assert [each["place"]["line"] for each in broken["further"]] == sorted(
            each["place"]["line"] for each in broken["further"]
        )


def test_shards_keep_all_faults(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("bad.yaml").write_text(BAD, "utf-8")
    Path("good.yaml").write_text(HEAD, "utf-8")
    whole = api.check(["."], api.CheckOptions(partial=True))
    texts: list[str] = []
    for number in (1, 2):
        options = api.CheckOptions(partial=True, shard=f"{number}/2")
        api.check(["."], options, recorded=lambda text: texts.append("".join(text)))
    for number, text in enumerate(texts):
        Path(f"r{number}").write_text(text, "utf-8")
    merged, _ = api.merge(["r0", "r1"])
    assert merged.unusable == whole.unusable
    assert len(merged.unusable[0].further) >= 3


@given(
    st.recursive(
        st.sampled_from([1, "x", "3 mm", True]),
        lambda inner: (
            st.lists(inner, max_size=2)
            | st.dictionaries(
                st.sampled_from("axes a motor encoder kind max_speed brake motion y".split()), inner
            )
        ),
        max_leaves=12,
    )
)
def test_any_tree_ends_in_at_most_twenty_different_faults(plain: object) -> None:
    try:
        read_plain(plain)
    except InputError as error:
        each = [str(fault) for fault in (error, *error.others)]
        assert len(each) <= 20
        assert len(set(each)) == len(each)
