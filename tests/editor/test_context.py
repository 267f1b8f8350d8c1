"""Where the cursor stands in text that is still being typed: | marks it."""

from __future__ import annotations

from pathlib import Path

import pytest
from axisproof.editor.context import CursorContext, context_at
from axisproof.source.files import Plain
from axisproof.source.parsing import locate, parse
from axisproof.source.reader import read_source
from hypothesis import given
from hypothesis import strategies as st

SOUND = Path(__file__).parent.parent.parent / "fixtures" / "sound"


def at(marked: str, form: str = "yaml") -> CursorContext:
    before, after = marked.split("|")
    return context_at(before + after, len(before), form)


@pytest.mark.parametrize(
    ("text", "path", "is_key", "word"),
    [
        ("|", (), True, ""),
        ("axes:\n  a:\n    mot|", ("axes", "a"), True, "mot"),
        ("axes:\n  a:\n    motion: li|near\n", ("axes", "a", "motion"), False, "li"),
        ("axes:\n  a:\n    motion:|\n", ("axes", "a", "motion"), False, ""),
        ("axes:\n  a:\n    drive:\n      |\n", ("axes", "a", "drive"), True, ""),
        ("axes:\n  a:\n    drive:\n      node: 1\n    |\n", ("axes", "a"), True, ""),
        ("axes:\n\n  # a: b\n  a:\n    |", ("axes", "a"), True, ""),
        ("a:\n  - {b: 1}\n  - {c|", ("a", 1), True, "c"),
        ("a:\n  - b: 1\n    c|", ("a", 0), True, "c"),
        ("a:\n- b: 1\n- c: x|", ("a", 1, "c"), False, "x"),
        ("a:\n  - x\n  - y|", ("a", 1), True, "y"),
        ("a: {b: {c: 1, d|", ("a", "b"), True, "d"),
        ("a: {b: [x, y|", ("a", "b", 1), False, "y"),
        ('a: "x|', ("a",), False, "x"),
        ("'a': x|", ("a",), False, "x"),
        ("a:\r\n  b: x|", ("a", "b"), False, "x"),
        ("- - a: |", (0, 0, "a"), False, ""),
        ("a:\n  b: {c: 1,\n      d: [x,  # {\n          y|", ("a", "b", "d", 1), False, "y"),
        ("a:\n  b: {c: 1, d: '{',\n      e|", ("a", "b"), True, "e"),
        ("a:\n  b: {c: 1,\n      d: 2}\n  e: |", ("a", "e"), False, ""),
        ("a:\n  b: {c: 1, d: \n  e: |", ("a", "e"), False, ""),
        ("a:\n  b: it's {\n  e: |", ("a", "e"), False, ""),
    ],
)
def test_yaml(text: str, path: tuple[str | int, ...], is_key: bool, word: str) -> None:
    found = at(text)
    assert (found.path, found.is_key, found.word) == (path, is_key, word)


@pytest.mark.parametrize(
    ("text", "path", "is_key", "word", "quoted"),
    [
        ("{|", (), True, "", False),
        ('{"a|', (), True, "a", True),
        ('{"a": {"b": "x|', ("a", "b"), False, "x", True),
        ('{"a": [{"b": 1}, {"c|', ("a", 1), True, "c", True),
        ('{"a": {"b": 1}, "c": |', ("c",), False, "", False),
        ('{"a, {\\"": "x: {", |', (), True, "", False),
    ],
)
def test_json(
    text: str, path: tuple[str | int, ...], is_key: bool, word: str, quoted: bool
) -> None:
    assert at(text, "json") == CursorContext(path, is_key, word, quoted)


def scalars(plain: Plain, path: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    if isinstance(plain, dict):
        return [found for key in plain for found in scalars(plain[key], (*path, key))]
    if isinstance(plain, list):
        return [found for n, item in enumerate(plain) for found in scalars(item, (*path, n))]
    return [path]


SOURCES = [read_source(SOUND / name) for name in ("hall.yaml", "mechanics.yaml", "table.json")]


@given(st.data())
def test_at_every_value_of_a_sound_file_the_context_is_the_path_the_reader_finds(
    data: st.DataObject,
) -> None:
    source = data.draw(st.sampled_from(SOURCES))
    path = data.draw(st.sampled_from(scalars(parse(source))))
    scalar = locate(source).scalar(path)
    assert scalar is not None
    quoted = scalar.quoting in ("single", "double")
    found = context_at(source.text, scalar.start_offset + quoted, source.form)
    in_block_list = found.is_key and isinstance(path[-1], int)
    assert found.path == path
    assert not found.is_key or in_block_list
    assert found.word == ""
