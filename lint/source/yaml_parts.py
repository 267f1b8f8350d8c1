"""A long YAML text read axis by axis, so that after an edit only the lines of one axis are parsed.

This holds only for a text of the plainest shape: a line ``axes:`` at the left margin, and below it
the axes, each begun by its bare name at one and the same indent. The lines of each axis are parsed
by themselves, below a line ``axes:``, and the rest of the text with a stand-in for the axes. The
scanner of YAML keeps only its open collections from one line to the next. So where each of these
texts is complete by itself, the whole text has the same values and places. Whatever could reach
from one part into another makes the text one that is parsed as a whole: anchors, directives, tabs,
names that stand twice, or a part that cannot be used.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from pathlib import Path
from typing import Final

import yaml

from ..base.errors import AxisproofError, InputError
from .files import Plain, Source
from .limits import MAX_NODES
from .outline import Node, Outline
from .parsing import locate, parse
from .places import KeyPath, Locations, ParsedSource
from .yaml import build

AXES: Final = "axes"
_ABOVE: Final = "axes:\n"
"""The line under which the lines of an axis are parsed."""

_AXES_LINE: Final = re.compile(r"^axes:[ ]*(?:[ ]#[^\n]*)?\n", re.MULTILINE)
_AT_MARGIN: Final = re.compile(r"^[^ #\r\n]", re.MULTILINE)
_INDENTED: Final = re.compile(r"^( +)[^ #\r\n]", re.MULTILINE)


@lru_cache(maxsize=8)
def _heads(indent: int) -> re.Pattern[str]:
    """Finds what stands at an indent or left of it, and the name where an axis begins."""
    name = r"([A-Za-z][A-Za-z0-9_-]*):(?=[ \r\n])"
    return re.compile(rf"^ {{1,{indent}}}(?=[^ #\r\n])(?:(?<=^ {{{indent}}}){name})?", re.MULTILINE)


class AxisLines:
    """The lines of one axis: its name and value, and where what it holds stands in these lines."""

    def __init__(self, lines: str, name: str, plain: Plain) -> None:
        self.lines = lines
        self.name = name
        self.plain = plain

    @cached_property
    def locations(self) -> Locations:
        """The places in the lines below a line ``axes:``, which are scanned on the first call."""
        return locate(_source_of(_ABOVE + self.lines))


class PartMemory:
    """The parts of a text as it was last, by their lines; and its rest, by its text.

    Nothing but their own lines decides about parts, so they can be used for any other text.
    """

    def __init__(self) -> None:
        self.parts: dict[str, AxisLines] = {}
        self.rests: dict[str, dict[str, Plain]] = {}


@dataclass(frozen=True, slots=True)
class Parts:
    """A text in parts: each with the offset at which its lines begin, and the rest.

    ``rest`` has a stand-in for the axes. It takes the place of the text from offset ``begin`` to
    ``end``, and ends at offset ``rest_end`` of the rest. ``top`` is the value of the rest.
    """

    parts: tuple[tuple[AxisLines, int], ...]
    indent: int
    rest: str
    begin: int
    end: int
    rest_end: int
    top: dict[str, Plain]

    @property
    def plain(self) -> Plain:
        """The value of the whole text."""
        axes: dict[str, Plain] = {part.name: part.plain for part, _ in self.parts}
        return {key: axes if key == AXES else value for key, value in self.top.items()}


def parts_of(text: str, memory: PartMemory) -> Parts | None:
    """A text in parts; None if it must be parsed as a whole.

    The text is one that ``check_text`` takes. The memory is brought up to date.
    """
    if (
        len(text) > MAX_NODES  # no value takes less than a character
        or "\t" in text
        or text.startswith("%")
        or "\n%" in text
        or text.count("\r") != text.count("\r\n")
    ):
        return None
    lines = [*_AXES_LINE.finditer(text.replace("\r\n", " \n") if "\r" in text else text)]
    if len(lines) != 1:
        return None
    begin = lines[0].end()
    margin = _AT_MARGIN.search(text, begin)
    end = margin.start() if margin else len(text)
    first = _INDENTED.search(text, begin, end)
    if first is None:
        return None
    indent = len(first[1])
    heads = [*_heads(indent).finditer(text, begin, end)]
    names = [head[1] for head in heads]
    if None in names or len(set(names)) < len(names):
        return None
    starts = [head.start() for head in heads]
    parts = _parsed_parts(text, names, starts, end, memory)
    if parts is None:
        return None
    stand_in = "stand-in"
    while stand_in in text:
        stand_in += "-"
    inserted = f"{' ' * indent}{stand_in}: 0\n"
    rest = text[:begin] + inserted + text[end:]
    top = memory.rests.get(rest) or _value(rest)
    if not isinstance(top, dict) or top.get(AXES) != {stand_in: 0}:
        return None
    memory.rests = {rest: top}
    return Parts(parts, indent, rest, begin, end, begin + len(inserted), top)


def _parsed_parts(
    text: str, names: list[str], starts: list[int], end: int, memory: PartMemory
) -> tuple[tuple[AxisLines, int], ...] | None:
    """Each part with its offset; None if one of them cannot be used by itself."""
    found: list[tuple[AxisLines, int]] = []
    for number, name in enumerate(names):
        start = starts[number]
        lines = text[start : starts[number + 1] if number + 1 < len(starts) else end]
        part = memory.parts.get(lines)
        if part is None:
            value = _value(_ABOVE + lines)
            inner = value.get(AXES) if isinstance(value, dict) and len(value) == 1 else None
            if not isinstance(inner, dict) or [*inner] != [name]:
                return None
            part = AxisLines(lines, name, inner[name])
        found.append((part, start))
    memory.parts = {part.lines: part for part, _ in found}
    return tuple(found)


def _source_of(text: str) -> Source:
    return Source(Path("part"), "part", text, "yaml")


def _value(text: str) -> Plain | None:
    """The value of a text; None if it cannot be used, or if it names an anchor."""
    anchors: dict[str, object] = {}
    try:
        value = build(_source_of(text), anchors)
    except (InputError, yaml.YAMLError, ValueError, OverflowError):
        return None
    return None if anchors else value


# Places -------------------------------------------------------------------------------------------


class _MovedNode(Node):
    """A node of a part, at the offsets of the whole text."""

    __slots__ = ("_moved",)

    def __init__(self, outline: Outline, number: int, moved: int) -> None:
        super().__init__(outline, number)
        self._moved = moved

    @classmethod
    def of(cls, node: Node, moved: int) -> _MovedNode:
        """A node that stands so many characters further down."""
        return cls(node._outline, node._number, moved)

    @property
    def start(self) -> int:
        return super().start + self._moved

    @property
    def end(self) -> int:
        return super().end + self._moved

    @property
    def key_start(self) -> int:
        start = super().key_start
        return start if start < 0 else start + self._moved

    @property
    def key_end(self) -> int:
        end = super().key_end
        return end if end < 0 else end + self._moved

    def parts(self) -> Iterator[tuple[str | int, Node]]:
        for part, node in super().parts():
            yield part, _MovedNode.of(node, self._moved)


class _AxesNode(Node):
    """The axes of the whole text, each a node of its part."""

    __slots__ = ("_locations",)

    def __init__(self, stand_in: Node, locations: PartedLocations) -> None:
        super().__init__(stand_in._outline, stand_in._number)
        self._locations = locations

    @property
    def start(self) -> int:
        parts = self._locations.parts
        return parts.parts[0][1] + parts.indent

    @property
    def end(self) -> int:
        last = self._locations.parts.parts[-1][0]
        node = self._locations.node((AXES, last.name))
        assert node is not None
        return node.end

    def parts(self) -> Iterator[tuple[str | int, Node]]:
        for part, _ in self._locations.parts.parts:
            node = self._locations.node((AXES, part.name))
            assert node is not None
            yield part.name, node


class _TopNode(Node):
    """The whole text."""

    __slots__ = ("_locations",)

    def __init__(self, rest: Node, locations: PartedLocations) -> None:
        super().__init__(rest._outline, rest._number)
        self._locations = locations

    @property
    def end(self) -> int:
        parts = self._locations.parts
        end = super().end
        axes = self._locations.node((AXES,))
        assert axes is not None
        return end + parts.end - parts.rest_end if end > parts.rest_end else axes.end

    def parts(self) -> Iterator[tuple[str | int, Node]]:
        for part, _ in super().parts():
            node = self._locations.node((part,))
            assert node is not None
            yield part, node


@dataclass(frozen=True)
class PartedLocations(Locations):
    """Places in a text in parts. Only a part in which something is looked for is scanned.

    ``outline`` is that of the whole text, which is scanned only if somebody asks for it.
    """

    parts: Parts
    rest: Locations

    @cached_property
    def by_name(self) -> dict[str | int, tuple[AxisLines, int]]:
        """The parts with their offsets, by the name of the axis."""
        return {part.name: (part, start) for part, start in self.parts.parts}

    def node(self, path: KeyPath) -> Node | None:
        """The node at ``path``, or None if the text has none."""
        rest = self.rest.node(path[:1])
        if rest is None or not path:
            return rest and _TopNode(rest, self)
        if path[0] != AXES:
            found = self.rest.node(path)
            moved = self.parts.end - self.parts.rest_end
            before = rest.start < self.parts.begin
            return found and _MovedNode.of(found, 0 if before else moved)
        if len(path) == 1:
            return _AxesNode(rest, self)
        part, start = self.by_name.get(path[1], (None, 0))
        found = part.locations.node(path) if part is not None else None
        return found and _MovedNode.of(found, start - len(_ABOVE))


# Texts --------------------------------------------------------------------------------------------


@dataclass(frozen=True, eq=False)
class RememberedText(ParsedSource):
    """A text of which a memory has parts, and that keeps its value and places."""

    memory: PartMemory = field(default_factory=PartMemory)

    @cached_property
    def _whole(self) -> Source:
        return Source(self.path, self.name, self.text, self.form, self.bom)

    @cached_property
    def _parts(self) -> Parts | None:
        return parts_of(self.text, self.memory) if self.form == "yaml" else None

    @cached_property
    def _parsed(self) -> Plain | AxisproofError:
        if self._parts is not None:
            return self._parts.plain
        try:
            return parse(self._whole)
        except InputError as error:
            return error

    @property
    def by_axis(self) -> bool:
        """Whether the text is read axis by axis, and not as a whole."""
        return self._parts is not None

    def parsed(self) -> Plain:
        """The value of the text. Raises InputError as ``parse`` does."""
        found = self._parsed
        if isinstance(found, AxisproofError):
            raise found.copy()
        return found

    def moved_since(self, before: RememberedText, name: str) -> int | None:
        """By how many lines an axis stands further down than in an earlier text of the file.

        None if its lines are not the same ones, or if one of the texts is not in parts.
        """
        now, then = self._spots.get(name), before._spots.get(name)
        if now is None or then is None or now[0].lines != then[0].lines:
            return None
        return self.position(now[1])[0] - before.position(then[1])[0]

    @cached_property
    def _spots(self) -> dict[str, tuple[AxisLines, int]]:
        parts = self._parts.parts if self._parts else ()
        return {part.name: (part, start) for part, start in parts}

    @cached_property
    def locations(self) -> Locations:
        """Where its values stand."""
        whole = locate(self._whole)
        if self._parts is None:
            return whole
        rest = locate(_source_of(self._parts.rest))
        return PartedLocations(self, whole.outline, self._parts, rest)


def remembered(source: Source, before: RememberedText | None) -> RememberedText:
    """A source that ``check_text`` takes, read with what is remembered of its text before."""
    if before is not None and _is_of(before, source):
        return before
    memory = before.memory if before else PartMemory()
    return RememberedText(source.path, source.name, source.text, source.form, source.bom, memory)


def _is_of(kept: RememberedText, source: Source) -> bool:
    return (
        kept.path == source.path
        and kept.name == source.name
        and kept.form == source.form
        and kept.bom == source.bom
        and kept.text == source.text
    )
