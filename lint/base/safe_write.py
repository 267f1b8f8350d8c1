"""Writing a file so that no reader ever sees half of it, and nothing is lost by accident."""

from __future__ import annotations

import contextlib
import errno
import os
import stat
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Final, TypeAlias

from .errors import UsageError
from .set_aside import TextAside

Action: TypeAlias = "Callable[[], None]"

Text: TypeAlias = "str | Iterable[str]"
"""A text, or its pieces, which are made while it is written."""

PART: Final = ".part"
"""How the name of a file ends that is being written and has not taken its name yet."""

_BINARY: Final = getattr(os, "O_BINARY", 0)
_NO_LINK: Final = getattr(os, "O_NOFOLLOW", 0)


def refuse_to_replace(path: Path, force: bool, sources: Iterable[Path] = ()) -> None:
    """Raise UsageError if ``path`` exists and ``force`` is off, or if it is one of ``sources``.

    A file that is read is never replaced, whatever ``force`` says.
    """
    if not os.path.lexists(path):
        refuse_links(path)
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
    refuse_links(path)


def refuse_links(path: Path) -> None:
    """Raise UsageError if a link would let ``path`` lead elsewhere than it says.

    A repository that is checked can bring links. So a file that is a link is never written through,
    and a link to a folder only if it stays in the present folder and in the repository it lies in.
    What the system itself links to, such as /dev/stdout, is as good as named.
    """
    if path.is_symlink() and not _is_of_the_system(path):
        raise UsageError(
            f"{path} is a link and is not followed", expected="the file itself, by its own name"
        )
    said = Path(os.path.abspath(path.parent))
    real = Path(os.path.realpath(said))
    here = Path(os.path.abspath(os.curdir))
    for top in (said, *said.parents):
        bounds = top == here or os.path.lexists(top / ".git")
        if bounds and not real.is_relative_to(os.path.realpath(top)):
            raise UsageError(
                f"{path} leads out of the folder {top} by a link", expected="a folder in it"
            )


def _is_of_the_system(path: Path) -> bool:
    """Whether a path is a stream of this process or a device; /dev/shm holds files of anybody."""
    folder, name = os.path.split(os.path.abspath(path))
    if folder == "/dev":
        return True
    streams = ("/dev/fd", "/proc/self/fd", f"/proc/{os.getpid()}/fd", "/proc/thread-self/fd")
    return folder in streams and name.isdigit()


def write_file(path: Path, text: Text, *, force: bool = False) -> None:
    """Write ``text`` as UTF-8 to ``path``, all of it or nothing: see ``write_files``."""
    write_files({path: text}, force=force)


def write_files(
    texts: Mapping[Path, Text], *, force: bool = False, last_look: Action | None = None
) -> None:
    """Write texts as UTF-8 files, each of them all of it or nothing.

    Every text first goes to a file beside its place, named .axisproof-*.part, and is flushed to the
    disk; when all are there, ``last_look`` may still raise, and then each takes its name in one
    step. So a full disk or a read-only folder stops all of them, and a process that is ended leaves
    old files and new ones, no halves; at most it leaves a part file, which nothing reads.

    No link is followed that may have come with what is checked (refuse_links). Rights and, as far
    as the system lets, the owner of a file are kept.

    Raises UsageError that names the file and the reason if one exists and ``force`` is off (also if
    it came to be meanwhile), is write-protected or cannot be written; what was there is as it was,
    and what was written before is named.
    """
    written: list[str] = []
    with contextlib.ExitStack() as stack:
        steps = [
            (path, stack.enter_context(_staged(path, text, force))) for path, text in texts.items()
        ]
        if last_look is not None:
            last_look()
        for path, take_name in steps:
            try:
                take_name()
            except UsageError as error:
                if not written:
                    raise
                what = f"{error.what}. Written before that: {', '.join(written)}"
                raise UsageError(what, expected=error.expected) from None
            written.append(str(path))


def write_folder(folder: Path, texts: Mapping[str, str], *, force: bool = False) -> None:
    """Write texts as files of a folder, which is made if it is not there: see ``write_files``.

    Raises UsageError as that does, and if ``folder`` is a file.
    """
    if folder.exists() and not folder.is_dir():
        raise UsageError(f"{folder} is a file", expected="a folder")
    for name in texts:
        refuse_to_replace(folder / name, force)
    refuse_links(folder / "any")
    with _named(folder):
        folder.mkdir(parents=True, exist_ok=True)
    write_files({folder / name: text for name, text in texts.items()}, force=force)


def put_file(path: Path, data: bytes) -> None:
    """Write ``data`` to ``path``, all of it or nothing, in place of whatever file is there.

    It is not flushed to the disk: this is for what can be made again. Raises OSError if it cannot
    be written, or if its folder is a link.
    """
    if path.parent.is_symlink():
        raise OSError(errno.ELOOP, os.strerror(errno.ELOOP), str(path.parent))
    part = _part(path)
    try:
        handle = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL | _BINARY, 0o666)
        with open(handle, "wb") as stream:
            stream.write(data)
        os.replace(part, path)
    finally:
        with contextlib.suppress(OSError):
            part.unlink(missing_ok=True)


def _part(path: Path) -> Path:
    return path.parent / f".axisproof-{os.urandom(8).hex()}{PART}"


@contextmanager
def _named(path: Path) -> Iterator[None]:
    """Turn a failure of the system into one message that names the user's file and the reason."""
    try:
        yield
    except OSError as error:
        reason = (error.strerror or type(error).__name__).lower()
        raise UsageError(
            f"{path} cannot be written: {reason}", expected="a place that takes the file"
        ) from None


@contextmanager
def _staged(path: Path, text: Text, force: bool) -> Iterator[Action]:
    """Lay ``text`` down beside ``path``; what is given puts it in place. Clears up at the end."""
    refuse_to_replace(path, force)
    with _named(path):
        target = _behind_links(path)
        old = target.stat() if target.exists() else None
        if old is not None and stat.S_ISREG(old.st_mode):
            handle = os.open(target, os.O_WRONLY | _NO_LINK)
            os.close(handle)  # a protected file is not replaced either
    if old is not None and not stat.S_ISREG(old.st_mode):
        yield lambda: _pour(path, text)
        return
    part = _part(target)
    try:
        with _named(path):
            _fill(part, text, old)
        yield lambda: _take_name(part, target, path, force)
    finally:
        with contextlib.suppress(OSError):
            part.unlink(missing_ok=True)


def _behind_links(path: Path) -> Path:
    """Where a path leads: its folder resolved, and a link only if the system made it."""
    if path.is_symlink() and _is_of_the_system(path):
        return Path(os.path.realpath(path))
    return Path(os.path.realpath(path.parent), path.name)


def _pour(path: Path, text: Text) -> None:
    """Write to a pipe or a device, which takes text and keeps its place.

    Nothing is written before all pieces of the text are made.
    """
    whole = TextAside(_pieces(text))
    with _named(path), path.open("w", encoding="utf-8", newline="\n") as stream:
        stream.writelines(whole)


def _pieces(text: Text) -> Iterable[str]:
    return [text] if isinstance(text, str) else text


def _fill(part: Path, text: Text, old: os.stat_result | None) -> None:
    """Make the part file, with the rights and owner of ``old``, and see it to the disk."""
    mode = 0o666 if old is None else old.st_mode & 0o777
    handle = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, mode)
    with open(handle, "w", encoding="utf-8", newline="\n") as stream:
        stream.writelines(_pieces(text))
        stream.flush()
        if old is not None:
            with contextlib.suppress(OSError):  # only root may give files away
                os.chown(part, old.st_uid, old.st_gid)
            part.chmod(mode)
        os.fsync(stream.fileno())


def _take_name(part: Path, target: Path, path: Path, force: bool) -> None:
    """Give the finished file its name; without ``force`` only if nothing has that name by now."""
    with _named(path):
        if force:
            os.replace(part, target)
        else:
            try:
                os.link(part, target)
            except FileExistsError:
                refuse_to_replace(path, force=False)
                raise
            except OSError:  # a file system without links: as good as it gets there
                refuse_to_replace(path, force=False)
                os.replace(part, target)
        _sync_folder(target.parent)


def _sync_folder(folder: Path) -> None:
    with contextlib.suppress(OSError):  # not every system can open a folder
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
