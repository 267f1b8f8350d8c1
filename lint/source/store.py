"""What a reader asks of files that do not lie on the disk."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Protocol

from .files import Kind


class Store(Protocol):
    """Where files lie that are not read from the disk: a git revision, or what came with a task.

    Its methods raise as those of ``Reader`` that have the same names.
    """

    @property
    def root(self) -> Path:
        """The top of all paths that the store holds."""

    def holds(self, path: Path) -> bool:
        """Whether a path belongs to the store. Nothing else is asked about one that does not."""

    def name(self, path: Path) -> str:
        """A path as the user knows it."""

    def path(self, name: str) -> Path:
        """The path of a name that ``name`` made."""

    def real(self, path: Path) -> Path:
        """Where a path leads through links."""

    def kind(self, path: Path) -> Kind | None:
        """What stands at a path; None for nothing."""

    def status(self, path: Path) -> tuple[Kind, int]:
        """What stands at a path, and the size of a file in bytes. Raises OSError for nothing."""

    def read(self, path: Path) -> bytes:
        """What a file holds. Raises OSError."""

    def files_below(self, folder: Path, wanted: Callable[[str], bool], hidden: bool) -> list[Path]:
        """The files of a folder and of those in it whose names are wanted, sorted."""
