"""Packed positions: children are found by key and position, and a value takes a few bytes."""

from __future__ import annotations

import gc
import json
import tracemalloc
from pathlib import Path
from typing import Any

import pytest
from axisproof.base.errors import InputError
from axisproof.source.files import Form, Source
from axisproof.source.json import parse_json
from axisproof.source.outline import CHUNK, LIST, MAPPING, PLAIN, Outline
from axisproof.source.parsing import locate
from hypothesis import given
from hypothesis import strategies as st


def source(text: str, form: Form = "yaml") -> Source:
    return Source(Path("m"), "m", text, form)


KEYS = st.text("abcé", min_size=1, max_size=2)
VALUES = st.recursive(
    st.integers(0, 999),
    lambda inner: st.lists(inner, max_size=40) | st.dictionaries(KEYS, inner, max_size=20),
    max_leaves=120,
)


@pytest.mark.parametrize("form", ["json", "yaml"])
@given(value=VALUES)
def test_every_value_is_found_by_its_path_and_stands_where_it_is_written(
    form: Form, value: Any
) -> None:
    text = json.dumps(value, ensure_ascii=False)
    here = locate(source(text, form))

    def look(value: Any, path: tuple[str | int, ...]) -> None:
        node = here.node(path)
        assert node is not None
        assert json.loads(text[node.start : node.end]) == value
        assert node.is_mapping == isinstance(value, dict)
        items: list[tuple[str | int, Any]] = []
        if isinstance(value, dict | list):
            items = [*(value.items() if isinstance(value, dict) else enumerate(value))]
        assert [part for part, _ in node.parts()] == [part for part, _ in items]
        for part, inner in items:
            child = here.node((*path, part))
            assert child is not None
            key = text[child.key_start : child.key_end] if child.key_start >= 0 else None
            assert key == (json.dumps(part, ensure_ascii=False) if isinstance(part, str) else None)
            look(inner, (*path, part))
        assert here.node((*path, "zz")) is None
        assert here.node((*path, len(items))) is None
        assert here.node((*path, -1)) is None

    look(value, ())


@pytest.mark.parametrize("count", [3, 31, 32, 33, 34, 500])
def test_however_many_children_each_is_found_and_no_other(count: int) -> None:
    text = "".join(f"k{n}: [{n}]\n" for n in range(count))
    listed = "".join(f"- {n}\n" for n in range(count))
    for _ in range(2):  # by steps, then by the index
        here, in_list = locate(source(text)), locate(source(listed))
        for n in [*range(count), *range(count)]:
            node, item = here.node((f"k{n}", 0)), in_list.node((n,))
            assert node is not None
            assert item is not None
            assert text[node.start : node.end] == listed[item.start : item.end] == str(n)
        assert here.node((f"k{count}",)) is None
        assert in_list.node((count,)) is None


def test_of_duplicate_keys_the_first_counts() -> None:
    here = locate(source("a: 1\nb: 2\na: {c: 3}\n"))
    node = here.node(("a",))
    assert node is not None
    assert (node.start, node.end) == (3, 4)
    assert here.node(("a", "c")) is None
    assert here.root is not None
    assert [part for part, _ in here.root.parts()] == ["a", "b"]


def test_an_alias_has_the_parts_of_what_is_anchored() -> None:
    text = "a: &x {b: [1, 2]}\nc: *x\n"
    here = locate(source(text))
    for path in (("a", "b", 1), ("c", "b", 1)):
        node = here.node(path)
        assert node is not None
        assert text[node.start : node.end] == "2"
    alias = here.node(("c",))
    assert alias is not None
    assert alias.quoting == "alias"
    assert alias.is_mapping
    assert [part for part, _ in alias.parts()] == ["b"]


def test_a_collection_that_is_never_closed_holds_what_comes_after_it() -> None:
    outline = Outline()
    top = outline.add(0, 1, MAPPING, None)
    inner = outline.add(5, 6, LIST, ("a", 1, 2))
    outline.add(6, 7, PLAIN, None)
    assert outline.child(top, "a") == inner
    assert outline.child(inner, 0) == 2
    assert outline.child(inner, 1) == -1
    assert [outline.key(number) for number in range(3)] == [None, "a", None]


@pytest.mark.parametrize("form", ["json", "yaml"])
def test_a_file_is_scanned_as_far_as_somebody_asks(form: Form) -> None:
    text = json.dumps({"axes": {f"a{n}": {"node": n} for n in range(5000)}}, indent=1)
    here = locate(source(text, form))
    asked = []
    for path in (("axes", "a7", "node"), ("axes", "a2500", "node"), ("axes", "a4999", "node")):
        node = here.node(path)
        assert node is not None
        assert text[node.start : node.end] == path[1][1:]
        asked.append(len(here.outline))
    assert asked[0] <= 2 * CHUNK < 4 * CHUNK < asked[1] <= 7 * CHUNK < asked[2]
    assert here.node(("axes",)) is not None
    assert here.node(("axes", "a5000")) is None
    assert len(here.outline) == 2 + 2 * 5000


def test_short_members_are_read_together_and_each_has_its_place() -> None:
    values = {f"k{n}": [n, -n / 8, "two words", True, "\u00e9\n", {}][n % 6] for n in range(700)}
    for text in (json.dumps(values), json.dumps(values, indent=1), json.dumps(values, indent="\t")):
        here = locate(source(text, "json"))
        for key, value in values.items():
            node = here.node((key,))
            assert node is not None
            assert json.loads(text[node.start : node.end]) == value
            assert text[node.key_start : node.key_end] == f'"{key}"'
        twice = text.replace("k350", "k340")
        with pytest.raises(InputError) as caught:
            parse_json(source(twice, "json"))
        assert "'k340' stands twice" in caught.value.what
        assert caught.value.place == source(twice, "json").place(*_last(twice, '"k340"'))
        assert locate(source(twice, "json")).node(("k351",)) is None  # places end at the error


def _last(text: str, word: str) -> tuple[int, int]:
    at = text.rindex(word)
    return at, at + len(word)


@pytest.mark.parametrize("form", ["json", "yaml"])
def test_a_collection_that_is_open_where_the_scan_pauses_ends_where_it_is_closed(
    form: Form,
) -> None:
    text = json.dumps({"axes": {f"a{n}": [[n], n] for n in range(1000)}})
    here = locate(source(text, form))
    for n in (0, 999, 500):
        node = here.node(("axes", f"a{n}"))
        assert node is not None
        assert json.loads(text[node.start : node.end]) == [[n], n]
    for path in (("axes",), ()):
        whole = here.node(path)
        assert whole is not None
        assert len(json.loads(text[whole.start : whole.end])) == (1000 if path else 1)


def test_a_value_takes_few_bytes() -> None:
    text = "".join(f"axis{n}: {{motor: {{speed: 10, torque: [1, 2]}}}}\n" for n in range(2000))
    read = source(text)
    locate(source("a: 1\n"))  # what the first use alone loads does not count
    gc.collect()
    tracemalloc.start()
    outline = locate(read).outline
    outline.end(outline.top())  # scans it to its end
    size = tracemalloc.get_traced_memory()[0]
    tracemalloc.stop()
    assert size / len(outline) < 60  # a name for each axis included
