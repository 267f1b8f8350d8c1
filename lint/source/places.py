"""Where the values of a file stand, by their path, and how a path is written."""

from __future__ import annotations

import re
from collections.abc import Iterable

from ..base.errors import Place
from ..base.lazy import dataclass, pattern
from .files import Plain, Source
from .outline import Node, Outline, Quoting

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final, TypeAlias


KeyPath: TypeAlias = "tuple[str | int, ...]"
"""Keys and list indexes (from 0) from the top of a file to a value."""


@dataclass(frozen=True, slots=True)
class Scalar:
    """A scalar as written: ``raw`` is the text between the offsets, quotes and all."""

    start_offset: int
    end_offset: int
    quoting: Quoting
    raw: str


@dataclass(frozen=True)
class Locations:
    """Places of all values in one file, by path."""

    source: Source
    outline: Outline

    @property
    def root(self) -> Node | None:
        """The value that is the whole file; None if nothing could be read."""
        return self.node(())

    def node(self, path: KeyPath) -> Node | None:
        """The node at ``path``, or None if the file has none."""
        outline = self.outline
        number = outline.top()
        for part in path:
            if number < 0:
                break
            number = outline.child(number, part)
        return None if number < 0 else outline.node(number)

    def value(self, path: KeyPath) -> Place | None:
        """Where the value stands. An alias stands where it is used, its parts where anchored."""
        node = self.node(path)
        return self.source.place(node.start, node.end) if node else None

    def key(self, path: KeyPath) -> Place | None:
        """Where the key of the value stands; None for list elements and the top of the file."""
        node = self.node(path)
        if node is None or node.key_start < 0:
            return None
        return self.source.place(node.key_start, node.key_end)

    def scalar(self, path: KeyPath) -> Scalar | None:
        """The scalar (or alias) as written; None for a collection or an absent path."""
        node = self.node(path)
        if node is None or node.quoting == "collection":
            return None
        raw = self.source.text[node.start : node.end]
        return Scalar(node.start, node.end, node.quoting, raw)

    def line_text(self, line: int) -> str:
        """The text of the 1-based line, without its line break."""
        return self.source.line_text(line)


class LocatedSource(Source):
    """A source that states by itself where its values stand, so that no scanner reads its text."""

    @property
    def locations(self) -> Locations:
        """Where its values stand."""
        raise NotImplementedError


class ParsedSource(LocatedSource):
    """A source that keeps what its text was parsed to, so that no parser reads it again."""

    def parsed(self) -> Plain:
        """Its value. Raises InputError as ``parse`` does."""
        raise NotImplementedError


_BARE: Final = pattern(r"[^\s.\"\[\]\\]+")
_PART: Final = pattern(r"\[(\d{1,9})\]|\.?(?:\"((?:[^\"\\]|\\.)*)\"|([^\s.\"\[\]\\]+))", re.DOTALL)


def path_text(path: Iterable[str | int]) -> str:
    """A path as people write it: ``axes.infeed.interlocks[0]``; odd keys stand in quotes."""
    out = ""
    for part in path:
        if isinstance(part, int):
            out += f"[{part}]"
            continue
        if not _BARE.fullmatch(part):
            escaped = part.replace("\\", "\\\\").replace('"', '\\"')
            part = f'"{escaped}"'
        out += f".{part}" if out else part
    return out


def path_parts(text: str) -> KeyPath:
    """The inverse of path_text. Raises ValueError for text that is no path."""
    parts: list[str | int] = []
    at = 0
    while at < len(text):
        match = _PART.match(text, at)
        if match is None or (match[1] is None and text.startswith(".", at) != (at > 0)):
            raise ValueError(f"not a path: {text!r}")
        if match[1] is not None:
            parts.append(int(match[1]))
        elif match[2] is not None:
            parts.append(re.sub(r"\\(.)", r"\1", match[2], flags=re.DOTALL))
        else:
            parts.append(match[3])
        at = match.end()
    return tuple(parts)
