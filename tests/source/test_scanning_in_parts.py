"""The places in a part of a YAML text are those that a scan of the whole text gives."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from axisproof.source.files import Plain, Source
from axisproof.source.parsing import locate, parse
from axisproof.source.places import KeyPath, Locations
from axisproof.source.yaml_places import YamlLocations, scan_yaml

IN_PARTS = """\
# a note
name: "Cell: one"
axes:
  lift: # of the load
    drive: {node: 5, serial: 'D-1',
    odd: no}
    "mechanics":
      stages:
      - {ratio: 3}
      -
        ratio: 4
    notes: |
      drive: here is text

  turn:
    drive:
      node: !!int 6
# between
    words: one
      two
other:
- axes:
    lift: 1
last: {axes: {lift: 2}}
"""


def paths(value: Plain, above: KeyPath = ()) -> Iterator[KeyPath]:
    yield above
    if isinstance(value, dict):
        for name, inner in value.items():
            yield from paths(inner, (*above, name))
    elif isinstance(value, list):
        for number, inner in enumerate(value):
            yield from paths(inner, (*above, number))


def both(text: str) -> tuple[Plain, YamlLocations, Locations]:
    source = Source(Path("m.yaml"), "m.yaml", text, "yaml")
    plain = parse(source)
    alone = locate(source)
    assert isinstance(alone, YamlLocations)
    return plain, alone, Locations(source, scan_yaml(source))


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        (IN_PARTS, 7),
        (IN_PARTS.replace("\n", "\r\n"), 7),
        (IN_PARTS.replace("ratio: 4", "ratio: &four 4"), 0),
        (IN_PARTS.replace("  turn:", "  ? turn\n  :"), 0),
    ],
    ids=["block", "carriage returns", "anchor", "explicit key"],
)
def test_a_part_that_is_scanned_alone_has_the_same_places(text: str, parts: int) -> None:
    plain, alone, whole = both(text)
    assert len([path for path in alone.alone.spans if len(path) > 1]) == parts
    for path in reversed([*paths(plain)]):
        found, expected = alone.node(path), whole.node(path)
        assert found is not None
        assert expected is not None
        assert (found.start, found.end) == (expected.start, expected.end), path
        assert alone.key(path) == whole.key(path)
        assert [key for key, _ in found.parts()] == [key for key, _ in expected.parts()]
        assert alone.node((*path, "absent")) is None


def test_only_the_part_that_is_asked_for_is_scanned() -> None:
    _, alone, _ = both(IN_PARTS)
    place = alone.value(("axes", "turn", "drive", "node"))
    assert place is not None
    assert place.line == 17
    assert [*alone.alone.scanned] == [("axes", "turn", "drive")]
    assert len(alone.outline) == 0
