"""Writing a file so that no reader ever sees half of it, and nothing is lost by accident."""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Iterable, Mapping
from pathlib import Path

from .errors import UsageError


def refuse_to_replace(path: Path, force: bool, sources: Iterable[Path] = ()) -> None:
    """Raise UsageError if ``path`` exists and ``force`` is off, or if it is one of ``sources``.

    A file that is read is never replaced, whatever ``force`` says.
    """
    if not os.path.lexists(path):
        return
    for source in sources:
        with contextlib.suppress(OSError):
            if path.samefile(source):
                raise UsageError(
                    f"{path} is one of the files that are read and is not overwritten",
                    expected="another file",
                )
    if path.is_dir():
        raise UsageError(f"{path} is a folder", expected="a file")
    if not force:
        raise UsageError(
            f"{path} exists and would be overwritten", expected="a new file, or --force"
        )


def write_file(path: Path, text: str, *, force: bool = False) -> None:
    """Write ``text`` as UTF-8 to ``path``, all of it or nothing.

    The text goes to a file beside it, is flushed to the disk and then takes its name in one step.
    Raises UsageError if ``path`` exists and ``force`` is off, also if it came to be meanwhile, and
    OSError if it cannot be written; what was there before is then as it was. A link is followed.
    """
    refuse_to_replace(path, force)
    if path.exists() and not path.is_file():  # a pipe or a device takes text, and keeps its place
        path.write_text(text, "utf-8", newline="\n")
        return
    if path.is_symlink():
        path = path.resolve()
    folder = path.parent
    handle, name = tempfile.mkstemp(prefix=f".{path.name}.", suffix=".part", dir=folder)
    part = Path(name)
    try:
        with open(handle, "w", encoding="utf-8", newline="\n") as stream:
            stream.write(text)
            stream.flush()
            os.fsync(stream.fileno())
        part.chmod(_mode(path))
        if force:
            os.replace(part, path)
        else:
            _take_name(part, path)
    finally:
        part.unlink(missing_ok=True)
    _sync_folder(folder)


def write_folder(folder: Path, texts: Mapping[str, str], *, force: bool = False) -> None:
    """Write texts as files of a folder, which is made if it is not there; each whole or not at all.

    Raises UsageError, with nothing written, if one of the files exists and ``force`` is off or if
    ``folder`` is a file; OSError if one cannot be written.
    """
    if folder.exists() and not folder.is_dir():
        raise UsageError(f"{folder} is a file", expected="a folder")
    for name in texts:
        refuse_to_replace(folder / name, force)
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in texts.items():
        write_file(folder / name, text, force=force)


def _take_name(part: Path, path: Path) -> None:
    """Give the finished file its name, unless something has that name by now."""
    try:
        os.link(part, path)
    except FileExistsError:
        refuse_to_replace(path, force=False)
        raise
    except OSError:  # a file system without links: as good as it gets there
        refuse_to_replace(path, force=False)
        os.replace(part, path)


def _mode(path: Path) -> int:
    if path.exists():
        return path.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def _sync_folder(folder: Path) -> None:
    with contextlib.suppress(OSError):  # not every system can open a folder
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
