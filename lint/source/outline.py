"""Where every value of a file stands, packed: some 25 bytes for a value, whatever its name.

Values are numbered in the order of the text, a collection before what is inside it. Each has its
offsets, those of its key, the key itself as a number, and the number of the value that follows all
that is inside it; so children are found by stepping from one to the next.
"""

from __future__ import annotations

from array import array
from collections.abc import Iterator

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Final, Literal, TypeAlias


Quoting: TypeAlias = (
    'Literal["plain", "single", "double", "literal", "folded", "alias", "collection"]'
)
"""How a value is written. ``literal`` and ``folded`` are YAML's block scalars."""

PLAIN, SINGLE, DOUBLE, LITERAL, FOLDED, ALIAS, LIST, MAPPING = range(8)
"""What a value is, and how it is written."""

_QUOTING: Final[tuple[Quoting, ...]] = (
    "plain", "single", "double", "literal", "folded", "alias", "collection", "collection",
)  # fmt: skip

_OPEN: Final = 2**31 - 1
"""Follows a collection that is not closed, and so is taken to hold all that comes after it."""

_STEPS: Final = 32
"""Children that are looked through one by one; of more, an index is made."""

CHUNK: Final = 1000
"""After about so many values a scanner pauses."""


class Outline:
    """The values of a file, in the order they are added.

    ``scanning`` adds values, closes collections, and pauses now and then; it is run when a value is
    asked for that is not among those added so far. ``beside`` is another outline of the same file,
    with which it shares the names of keys.
    """

    def __init__(self, beside: Outline | None = None) -> None:
        self.scanning: Iterator[None] = iter(())
        self._at_end = False
        self.starts = array("i")
        self.ends = array("i")
        self.kinds = bytearray()
        self._key_starts = array("i")
        self._key_ends = array("i")
        self._keys = array("i")  # -1 for none
        self._next = array("i")
        self._names: list[str] = beside._names if beside else []
        self._numbers: dict[str, int] = beside._numbers if beside else {}
        self._meant: dict[int, int] = {}  # by alias, the value that is anchored
        # Children by key, or by position in a list; with the next child to index and its position.
        self._indexes: dict[int, tuple[dict[int, int], int, int]] = {}

    def __len__(self) -> int:
        """How many values have been added so far."""
        return len(self.starts)

    def top(self) -> int:
        """The number of the value that is the whole file; -1 if nothing can be read."""
        while not self.starts and self._read_on():
            pass
        return 0 if self.starts else -1

    def _read_on(self) -> bool:
        """Scan the text a little further; False if it was scanned to its end before."""
        if self._at_end:
            return False
        self._at_end = next(self.scanning, self) is self
        return True

    def _read_through(self, number: int) -> None:
        """Scan until a collection is closed."""
        while self._next[number] == _OPEN and self._read_on():
            pass

    def add(
        self, start: int, end: int, kind: int, key: tuple[str, int, int] | None, meant: int = -1
    ) -> int:
        """Add a value, with its key and where that stands; returns its number.

        ``meant`` is the number of the value that an alias stands for.
        """
        number = len(self.starts)
        self.starts.append(start)
        self.ends.append(end)
        self.kinds.append(kind)
        self._next.append(_OPEN if kind >= LIST else number + 1)
        if key is None:
            self._keys.append(-1)
            self._key_starts.append(-1)
            self._key_ends.append(-1)
        else:
            name, key_start, key_end = key
            named = self._numbers.get(name, -1)
            if named < 0:
                named = self._numbers[name] = len(self._names)
                self._names.append(name)
            self._keys.append(named)
            self._key_starts.append(key_start)
            self._key_ends.append(key_end)
        if meant >= 0:
            self._meant[number] = meant
        return number

    def close(self, number: int, end: int) -> None:
        """End a collection: what is added from now on is not inside it."""
        self.ends[number] = end
        self._next[number] = len(self.starts)

    def node(self, number: int) -> Node:
        """One value."""
        return Node(self, number)

    def key(self, number: int) -> str | None:
        """The key of a value; None for one that has none."""
        named = self._keys[number]
        return None if named < 0 else self._names[named]

    def key_span(self, number: int) -> tuple[int, int]:
        """The offsets of the key of a value; -1 and -1 for one that has none."""
        return self._key_starts[number], self._key_ends[number]

    def end(self, number: int) -> int:
        """The offset at which a value ends."""
        self._read_through(number)
        return self.ends[number]

    def inside(self, number: int) -> int:
        """The collection whose parts a value has: itself, unless it is an alias."""
        return self._meant.get(number, number)

    def children(self, number: int) -> Iterator[int]:
        """The numbers of the values directly inside one; of duplicate keys, all."""
        number = self.inside(number)
        self._read_through(number)
        return self._added(number)

    def _added(self, number: int) -> Iterator[int]:
        """The children that were added so far."""
        if self.kinds[number] < LIST:
            return
        child, last = number + 1, min(self._next[number], len(self.starts))
        while child < last:
            yield child
            child = self._next[child]

    def child(self, number: int, part: str | int) -> int:
        """The number of the value at a key or position inside one; -1 if there is none.

        The first of duplicate keys counts.
        """
        number = self.inside(number)
        kind = self.kinds[number]
        if not (kind == MAPPING and isinstance(part, str)) and not (
            kind == LIST and isinstance(part, int) and part >= 0
        ):
            return -1
        while True:
            wanted = self._numbers.get(part, -1) if isinstance(part, str) else part
            found = -1 if wanted < 0 else self._among(number, wanted)
            if found >= 0 or self._next[number] != _OPEN or not self._read_on():
                return found

    def _among(self, number: int, wanted: int) -> int:
        """The child of this key or position among those added so far; -1 if there is none."""
        keys, mapping = self._keys, self.kinds[number] == MAPPING
        if number not in self._indexes:
            for position, child in enumerate(self._added(number)):
                if (keys[child] if mapping else position) == wanted:
                    return child
                if position == _STEPS:
                    break
            else:
                return -1
        index, child, position = self._indexes.get(number) or ({}, number + 1, 0)
        last = min(self._next[number], len(self.starts))
        while child < last:
            index.setdefault(keys[child] if mapping else position, child)
            if self._next[child] == _OPEN:
                break  # what follows it is not known yet
            child, position = self._next[child], position + 1
        self._indexes[number] = index, child, position
        return index.get(wanted, -1)


class Node:
    """A value's stretch of text [start, end), that of its key (-1 without one), and its parts."""

    __slots__ = ("_number", "_outline")

    def __init__(self, outline: Outline, number: int) -> None:
        self._outline = outline
        self._number = number

    @property
    def start(self) -> int:
        """Where the value begins."""
        return self._outline.starts[self._number]

    @property
    def end(self) -> int:
        """Where the value ends."""
        return self._outline.end(self._number)

    @property
    def key_start(self) -> int:
        """Where the key begins."""
        return self._outline.key_span(self._number)[0]

    @property
    def key_end(self) -> int:
        """Where the key ends."""
        return self._outline.key_span(self._number)[1]

    @property
    def quoting(self) -> Quoting:
        """How the value is written."""
        return _QUOTING[self._outline.kinds[self._number]]

    def parts(self) -> Iterator[tuple[str | int, Node]]:
        """What is directly inside, by key or position; of duplicate keys, the first."""
        seen: set[str | int] = set()
        for position, number in enumerate(self._outline.children(self._number)):
            key = self._outline.key(number)
            part = position if key is None else key
            if part not in seen:
                seen.add(part)
                yield part, Node(self._outline, number)

    @property
    def is_mapping(self) -> bool:
        """Whether it holds values by key (or is an alias of such)."""
        return self._outline.kinds[self._outline.inside(self._number)] == MAPPING
