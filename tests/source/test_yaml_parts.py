"""A text read axis by axis has the values and places of the whole, or is read as a whole."""

from __future__ import annotations

from pathlib import Path
from random import Random
from typing import Any

import pytest
from axisproof.base.errors import InputError
from axisproof.source.files import Source, check_text
from axisproof.source.outline import Node
from axisproof.source.parsing import locate, parse
from axisproof.source.places import KeyPath, Locations
from axisproof.source.yaml_parts import RememberedText, remembered

from tests.editor.edits import edited

TEXT = """# head
format: 1
machine: M
axes: # all
  # first
  a:
    motion: linear
    drive: {node: 1,
      serial: "x
   y"}
    notes: |
      text
       more

  b:
    motion: 'ro
      tary'
    list:
    - a
    - {x: 1, y: [1, 2]}

  # c comes
  c: {motion: linear}
  d:
    f: >-
      folded
      text
# tail
network:
  cycle_time: 4 ms
  nodes:
  - {a: 1}
"""


def value_of(source: Source) -> tuple[str, str]:
    """The value of a text to the letter, or what is wrong with it."""
    try:
        return "value", repr(parse(source))
    except InputError as error:
        return "error", f"{error} {[str(each) for each in error.others]}"


def places(located: Locations) -> list[Any]:
    """Where all values stand."""
    found: list[Any] = []

    def walk(node: Node, path: KeyPath) -> None:
        span = (node.start, node.end, node.key_start, node.key_end)
        found.append((path, *span, node.quoting, node.is_mapping))
        found.append((located.value(path), located.key(path), located.scalar(path)))
        for part, child in node.parts():
            walk(child, (*path, part))

    if located.root is not None:
        walk(located.root, ())
    return found


def compare(seed: int) -> int:
    """Compare a text with the whole after each of some edits; how often it was read in parts."""
    random = Random(f"parts {seed}")
    text = TEXT.replace("\n", "\r\n") if seed % 7 == 0 else TEXT
    kept: RememberedText | None = None
    in_parts = 0
    for _ in range(6):
        source = Source(Path("f"), "f", text, "yaml")
        try:
            check_text(source)
        except InputError:
            return in_parts
        kept = remembered(source, kept)
        whole = value_of(source)
        assert value_of(kept) == whole, text
        if whole[0] == "value":
            assert places(locate(kept)) == places(locate(source)), text
            in_parts += kept.by_axis
        text = edited(text, random)
    return in_parts


def test_parts_and_whole_are_alike_after_any_edits() -> None:
    assert sum(map(compare, range(25))) > 25


@pytest.mark.exhaustive
def test_parts_and_whole_are_alike_after_many_edits() -> None:
    assert sum(map(compare, range(25, 1500))) > 1500


@pytest.mark.parametrize(
    "text",
    [
        TEXT.replace("a:\n", "a: &x\n", 1),
        TEXT.replace("motion: linear", "motion: *x", 1),
        "%YAML 1.2\n---\n" + TEXT,
        TEXT.replace("  b:", "  a:"),
        TEXT.replace("  b:", " b:"),
        TEXT.replace("  b:", "  ? b\n  :"),
        TEXT.replace('y"}', "y}"),
        "{\n" + TEXT + "}\n",
        "text: |2\n" + TEXT.replace("\n", "\n  "),
        'note: "\n' + TEXT + '"\n',
        TEXT + "axes:\n  e: {motion: linear}\n",
        TEXT + '"axes":\n  e: {motion: linear}\n',
        TEXT + "---\nformat: 1\n",
        TEXT.replace("  cycle_time", "\tcycle_time"),
        TEXT.replace("a:\n", "a:\n    <<: {x: 1}\n", 1),
    ],
)
def test_a_text_whose_parts_could_hang_together_is_read_as_a_whole(text: str) -> None:
    source = Source(Path("f"), "f", text, "yaml")
    kept = remembered(source, None)
    assert value_of(kept) == value_of(source)
    assert not kept.by_axis


def test_only_the_axis_that_changed_is_parsed_again() -> None:
    before = remembered(Source(Path("f"), "f", TEXT, "yaml"), None)
    text = TEXT.replace("text\n       more", "text\n       much more\n       and more")
    after = remembered(Source(Path("f"), "f", text, "yaml"), before)
    old: Any = parse(before)
    new: Any = parse(after)
    same = {name for name in old["axes"] if new["axes"][name] is old["axes"][name]}
    assert same == {"b", "c", "d"}
    assert after.moved_since(before, "a") is None
    assert after.moved_since(before, "b") == 1
    assert remembered(Source(Path("f"), "f", text, "yaml"), after) is after
