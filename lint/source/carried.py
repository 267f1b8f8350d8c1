"""Files that travel with a task, to be read where the disk does not hold them.

What the reading of a machine will ask is asked beforehand where the files lie, and the answers
travel. A question without an answer raises NotCarried. Then the machine is read where its files
lie, so an answer that is missing costs time and changes no result.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Final, TypeVar

from ..base.lazy import dataclass, field
from .files import Kind
from .limits import MAX_BYTES
from .reader import DISK, Reader


class NotCarried(Exception):
    """What is asked about a file did not come with the task."""


@dataclass(frozen=True, slots=True)
class Carried:
    """Answers by path: where it leads, what stands there, and the bytes of a file.

    As a store of a reader it holds every path, so nothing is read from the disk.
    """

    reals: Mapping[str, str] = field(default_factory=dict)
    kinds: Mapping[str, Kind | None] = field(default_factory=dict)
    files: Mapping[str, bytes] = field(default_factory=dict)

    @property
    def root(self) -> Path:
        """The top of all paths."""
        return Path("/")

    @property
    def size(self) -> int:
        """The number of bytes of all files."""
        return sum(map(len, self.files.values()))

    def holds(self, path: Path) -> bool:
        """True: no path is one of the disk."""
        return True

    def name(self, path: Path) -> str:
        """A path as the user knows it."""
        return path.as_posix()

    def path(self, name: str) -> Path:
        """The path of a name that ``name`` made."""
        return Path(name)

    def real(self, path: Path) -> Path:
        """Where a path leads. Raises NotCarried, as all that follow."""
        return Path(_answer(self.reals, path))

    def kind(self, path: Path) -> Kind | None:
        """What stands at a path; None for nothing."""
        return "file" if path.as_posix() in self.files else _answer(self.kinds, path)

    def status(self, path: Path) -> tuple[Kind, int]:
        """The kind and the size of a file."""
        return "file", len(self.read(path))

    def read(self, path: Path) -> bytes:
        """What a file holds."""
        return _answer(self.files, path)

    def files_below(self, folder: Path, wanted: Callable[[str], bool], hidden: bool) -> list[Path]:
        """Nothing: folders are searched where they lie."""
        raise NotCarried(folder.as_posix())


Value = TypeVar("Value")


def _answer(answers: Mapping[str, Value], path: Path) -> Value:
    try:
        return answers[path.as_posix()]
    except KeyError:
        raise NotCarried(path.as_posix()) from None


MAX_CARRIED: Final = MAX_BYTES
"""Most bytes that travel for one machine; one with more is read where its files lie."""


class Noting:
    """A store that asks a reader, and notes its answers.

    It raises as the reader does, and NotCarried for what does not travel: what is no file, and more
    than MAX_CARRIED bytes.
    """

    root: Final = Path("/")

    def __init__(self, reader: Reader = DISK) -> None:
        self.reader = reader
        self.reals: dict[str, str] = {}
        self.kinds: dict[str, Kind | None] = {}
        self.files: dict[str, bytes] = {}
        self.left = MAX_CARRIED

    def carried(self) -> Carried:
        """The answers so far."""
        return Carried(self.reals, self.kinds, self.files)

    def holds(self, path: Path) -> bool:
        """True: whatever is asked goes to the reader."""
        return True

    def name(self, path: Path) -> str:
        """A path as the user knows it."""
        return self.reader.name(path)

    def path(self, name: str) -> Path:
        """The path of a name that ``name`` made."""
        return self.reader.path(name)

    def real(self, path: Path) -> Path:
        """Where a path leads."""
        real = self.reader.real(path)
        self.reals[path.as_posix()] = real.as_posix()
        return real

    def kind(self, path: Path) -> Kind | None:
        """What stands at a path; None for nothing."""
        kind = self.kinds[path.as_posix()] = self.reader.kind(path)
        return kind

    def status(self, path: Path) -> tuple[Kind, int]:
        """The kind and the size of a file, which travels whole."""
        return "file", len(self.read(path))

    def read(self, path: Path) -> bytes:
        """What a file holds."""
        known = self.files.get(path.as_posix())
        if known is not None:
            return known
        kind, size = self.reader.status(path)
        if kind != "file" or size > self.left:
            raise NotCarried(path.as_posix())
        with self.reader.open(path) as stream:
            data = stream.read(self.left + 1)
        if len(data) > self.left:
            raise NotCarried(path.as_posix())
        self.left -= len(data)
        self.files[path.as_posix()] = data
        return data

    def files_below(self, folder: Path, wanted: Callable[[str], bool], hidden: bool) -> list[Path]:
        """Nothing: no machine searches a folder."""
        raise NotCarried(folder.as_posix())
