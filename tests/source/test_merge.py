"""A machine from several files: what is merged, what is disputed, and where it stands."""

from __future__ import annotations

from pathlib import Path

import pytest
from axisproof.base.errors import InputError
from axisproof.source.merge import Tree, load_tree, load_trees
from axisproof.source.places import KeyPath


def load(folder: Path, **files: str) -> Tree:
    """Write the files (``m`` includes the others) and load ``m.yaml``."""
    for name, text in files.items():
        (folder / f"{name}.yaml").write_text(text)
    return load_tree(folder / "m.yaml")


def stands(tree: Tree, path: KeyPath) -> list[tuple[str, int, int]]:
    return [(Path(p.file).name, p.line, p.column) for p in tree.places(path)]


def test_mappings_merge_key_by_key_and_include_is_dropped(tmp_path: Path) -> None:
    tree = load(
        tmp_path,
        m="include: [a.yaml, b.yaml]\nformat: 1\naxes:\n  x: {motor: 1}\n",
        a="$schema: ../s.json\naxes:\n  x: {drive: 2}\n  y: {list: [1]}\n",
        b="axes: {y: {list: [1]}}\nformat: 1.0\n",
    )
    assert tree.plain == {"format": 1, "axes": {"x": {"motor": 1, "drive": 2}, "y": {"list": [1]}}}
    assert [source.path.name for source in tree.sources] == ["m.yaml", "a.yaml", "b.yaml"]
    assert stands(tree, ("axes", "x", "drive")) == [("a.yaml", 3, 14)]
    assert stands(tree, ("axes", "y", "list", 0)) == [("a.yaml", 4, 14), ("b.yaml", 1, 19)]
    assert stands(tree, ("format",)) == [("m.yaml", 2, 9), ("b.yaml", 2, 9)]
    assert stands(tree, ("axes", "z")) == []


def test_unlike_scalars_become_claims_that_name_their_files(tmp_path: Path) -> None:
    tree = load(
        tmp_path,
        m="include: [a.yaml, b.yaml, c.yaml]\nx: {v: 5 mm}\n",
        a="x: {v: 5 mm, w: true}\n",
        b="x: {w: 1}\nx2: 1\n",
        c="x:\n  v: 6 mm\n  w: true\n",
    )
    folder = tmp_path.as_posix()
    assert tree.plain == {
        "x": {
            "v": {
                "claims": [
                    {"value": "5 mm", "source": f"{folder}/m.yaml"},
                    {"value": "6 mm", "source": f"{folder}/c.yaml"},
                ]
            },
            "w": {
                "claims": [
                    {"value": True, "source": f"{folder}/a.yaml"},
                    {"value": 1, "source": f"{folder}/b.yaml"},
                    {"value": True, "source": f"{folder}/c.yaml"},
                ]
            },
        },
        "x2": 1,
    }
    claim = ("x", "v", "claims")
    assert stands(tree, (*claim, 0, "value")) == [("m.yaml", 2, 8)]
    assert stands(tree, (*claim, 1)) == [("c.yaml", 2, 6)]
    assert stands(tree, (*claim, 1, "source")) == [("c.yaml", 2, 6)]
    assert stands(tree, claim) == [("m.yaml", 2, 8), ("a.yaml", 1, 8), ("c.yaml", 2, 6)]
    assert stands(tree, ("x", "w", "claims", 2, "value")) == [("c.yaml", 3, 6)]
    ((source, scalar),) = tree.scalars((*claim, 1, "value"))
    assert (source.path.name, scalar.raw) == ("c.yaml", "6 mm")


def test_written_claims_are_extended_from_either_side(tmp_path: Path) -> None:
    tree = load(
        tmp_path,
        m="include: [a.yaml, b.yaml]\nv: 1\n",
        a="v:\n  claims:\n    - {value: 2, source: plate}\n    - {value: 3, source: panel}\n",
        b="v: {claims: [{value: 4, source: sheet}]}\n",
    )
    top = f"{tmp_path.as_posix()}/m.yaml"
    assert tree.plain == {
        "v": {
            "claims": [
                {"value": 1, "source": top},
                {"value": 2, "source": "plate"},
                {"value": 3, "source": "panel"},
                {"value": 4, "source": "sheet"},
            ]
        }
    }
    claim = ("v", "claims")
    assert stands(tree, (*claim, 0, "value")) == [("m.yaml", 2, 4)]
    assert stands(tree, (*claim, 1, "value")) == [("a.yaml", 3, 15)]
    assert stands(tree, (*claim, 2, "source")) == [("a.yaml", 4, 26)]
    assert stands(tree, (*claim, 3, "value")) == [("b.yaml", 1, 22)]


def test_what_else_stands_beside_claims_is_merged_too(tmp_path: Path) -> None:
    tree = load(
        tmp_path,
        m="include: [a.yaml]\nv: {claims: [{value: 1, source: s}], note: n}\n",
        a="v: {claims: [{value: 2, source: t}], note: n, more: 1}\n",
    )
    claims = [{"value": 1, "source": "s"}, {"value": 2, "source": "t"}]
    assert tree.plain == {"v": {"claims": claims, "note": "n", "more": 1}}


def test_merging_leaves_aliased_values_alone(tmp_path: Path) -> None:
    tree = load(
        tmp_path,
        m="include: [a.yaml]\nx: &x {v: 1}\ny: *x\n",
        a="y: {v: 2}\n",
    )
    assert isinstance(tree.plain, dict)
    assert tree.plain["x"] == {"v": 1}
    assert tree.plain["y"] != {"v": 1}


def test_includes_nest_and_a_file_met_twice_is_read_once(tmp_path: Path) -> None:
    inner = tmp_path / "axes" / "deep"
    inner.mkdir(parents=True)
    (inner / "x.json").write_text('{"include": ["../../common.yaml"], "x": 1}')
    (tmp_path / "axes" / "x.yaml").write_text("include: [deep/x.json, ../common.yaml]\n")
    (tmp_path / "common.yaml").write_text("c: 1\n")
    (tmp_path / "m.yaml").write_text("include: [axes/x.yaml, ./common.yaml]\nm: 1\n")
    tree = load_tree(tmp_path / "m.yaml")
    assert tree.plain == {"m": 1, "x": 1, "c": 1}
    names = [source.path.relative_to(tmp_path).as_posix() for source in tree.sources]
    assert names == ["m.yaml", "axes/x.yaml", "axes/deep/x.json", "common.yaml"]


def test_a_wider_root_lets_includes_reach_a_neighbouring_folder(tmp_path: Path) -> None:
    for name in ("one", "shared"):
        (tmp_path / name).mkdir()
    (tmp_path / "one" / "m.yaml").write_text("include: [../shared/s.yaml]\n")
    (tmp_path / "shared" / "s.yaml").write_text("s: 1\n")
    with pytest.raises(InputError, match="leaves the folder"):
        load_tree(tmp_path / "one" / "m.yaml")
    assert load_tree(tmp_path / "one" / "m.yaml", tmp_path).plain == {"s": 1}


def test_the_nearest_place_is_the_key_of_the_closest_thing_present(tmp_path: Path) -> None:
    tree = load(
        tmp_path,
        m="include: [a.yaml]\naxes:\n  x: {motor: {}}\nlist: [{k: 1}]\n",
        a="axes:\n  x:\n    motor:\n      speed: 3 rpm\n",
    )
    nearest = {
        ("axes", "x", "motor", "torque"): ("m.yaml", 3, 7),
        ("axes", "x", "motor", "speed", "deep"): ("a.yaml", 4, 7),
        ("axes", "x", "motor", "speed"): ("a.yaml", 4, 14),
        ("axes", "y"): ("m.yaml", 2, 1),
        ("list", 0, "absent"): ("m.yaml", 4, 8),
        ("machine",): ("m.yaml", 1, 1),
        (): ("m.yaml", 1, 1),
    }
    for path, expected in nearest.items():
        place = tree.nearest(path)
        assert (Path(place.file).name, place.line, place.column) == expected
    assert tree.line_text(tree.nearest(("axes", "y"))) == "axes:"
    keys = tree.key_places(("axes", "x", "motor"))
    assert [(place.line, place.column) for place in keys] == [(3, 7), (3, 5)]


def test_a_top_that_is_no_mapping_is_left_to_the_reader_of_machines(tmp_path: Path) -> None:
    assert load(tmp_path, m="- 1\n").plain == [1]


def test_a_part_of_another_machine_found_in_a_folder_is_no_machine(tmp_path: Path) -> None:
    (tmp_path / "m.yaml").write_text("include: [a.yaml]\n")
    (tmp_path / "a.yaml").write_text("a: 1\n")
    (tmp_path / "z.json").write_text('{"z": 1}')

    def tops(*paths: Path) -> list[str]:
        return [tree.sources[0].path.name for tree in load_trees(paths)]

    assert tops(tmp_path) == ["m.yaml", "z.json"]
    assert tops(tmp_path / "a.yaml", tmp_path) == ["a.yaml", "m.yaml", "z.json"]
