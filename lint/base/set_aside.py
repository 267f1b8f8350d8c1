"""Values that wait in a temporary file, so that memory does not grow with their number."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager

from .errors import AxisproofError

TYPE_CHECKING = False
if TYPE_CHECKING:
    from array import array
    from typing import IO, Any, Final, TypeVar

    _Value = TypeVar("_Value")
else:
    _Value = None


IN_MEMORY: Final = 500
"""Number of values up to which memory holds them."""

TEXT_IN_MEMORY: Final = 1 << 20
"""Number of characters up to which memory holds a text."""


class ValueFile:
    """Values in a temporary file, each at its own offset.

    The file has no name, nobody else can open it, and it goes when this object or the process goes.
    Raises AxisproofError if it cannot be written or read.
    """

    def __init__(self) -> None:
        import pickle

        self._load, self._dump = pickle.load, pickle.dump
        self._stream = _temporary()

    def add(self, value: object) -> int:
        """Keep a value; return its offset."""
        with _told():
            offset = self._stream.seek(0, 2)
            self._dump(value, self._stream, 5)
            return offset

    def at(self, offset: int) -> Any:
        """The value at an offset."""
        with _told():
            self._stream.seek(offset)
            return self._load(self._stream)


class SetAside(Iterable[_Value]):
    """Values in their order. All beyond the first ones lie in a temporary file."""

    def __init__(self, values: Iterable[_Value]) -> None:
        self._first: list[_Value] = []
        self._rest: array[int] | None = None
        for value in values:
            if len(self._first) < IN_MEMORY:
                self._first.append(value)
                continue
            if self._rest is None:
                from array import array

                self._rest = array("Q")
                self._file = ValueFile()
            self._rest.append(self._file.add(value))

    def __len__(self) -> int:
        return len(self._first) + len(self._rest or ())

    def __iter__(self) -> Iterator[_Value]:
        yield from self._first
        for offset in self._rest or ():
            yield self._file.at(offset)


class TextAside:
    """A text that is made piece by piece. A long one lies in a temporary file."""

    def __init__(self, pieces: Iterable[str]) -> None:
        self._pieces: list[str] = []
        self._stream: IO[bytes] | None = None
        length = 0
        for piece in pieces:
            self._pieces.append(piece)
            length += len(piece)
            if length > TEXT_IN_MEMORY:
                self._write()
                length = 0
        if self._stream is not None:
            self._write()

    def _write(self) -> None:
        with _told():
            if self._stream is None:
                self._stream = _temporary()
            self._stream.write("".join(self._pieces).encode("utf-8", "surrogatepass"))
        self._pieces.clear()

    def __iter__(self) -> Iterator[str]:
        """The text in whole lines, as many at a time as are good to handle."""
        if self._stream is None:
            yield "".join(self._pieces)
            return
        with _told():
            self._stream.seek(0)
            while lines := self._stream.readlines(1 << 16):
                yield b"".join(lines).decode("utf-8", "surrogatepass")


def _temporary() -> IO[bytes]:
    from tempfile import TemporaryFile

    with _told():
        return TemporaryFile(prefix="axisproof-")


@contextmanager
def _told() -> Iterator[None]:
    """Turn a failure of the temporary file into one message."""
    try:
        yield
    except OSError as fault:
        reason = (fault.strerror or type(fault).__name__).lower()
        raise AxisproofError(
            f"the folder for temporary files cannot be used: {reason}",
            expected="room in it, or another folder in the environment variable TMPDIR",
        ) from None
