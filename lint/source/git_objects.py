"""Objects of a git repository, read so that nothing the repository brings can run a program.

A repository's own configuration names programs: monitors, pagers, filters, hooks, signature
checks, transports that fetch what is missing. So git never meets that configuration. It runs as
``git cat-file --batch`` in a folder of its own (`_view`) that holds links to the objects and the
names of the repository and no configuration, hooks, attributes, replacements or borrowed objects.
The files of the index are those of ``git ls-files --stage`` in the same folder.
Of the environment it gets nothing that begins with GIT_; of the configuration of the user and the
system nothing at all.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from threading import Timer
from time import monotonic
from typing import Final, TypeAlias

from ..base.errors import UsageError
from .limits import MAX_BYTES, shortened

TIMEOUT: Final = 60.0
"""Seconds that git may take for all it is asked, the time between its answers left out."""

MEMORY: Final = 2 << 30
"""Bytes of address space that git may take, where the system can hold it to that."""

_MAX_CONFIGURATION: Final = 1 << 20
_MAX_POINTER: Final = 64 << 10
_MAX_INDEX: Final = 4 * MAX_BYTES

_ELSEWHERE: Final = "borrowed objects and those of a remote are not followed"


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of a folder in git: ``kind`` is "tree", "blob", "link", "commit" or "unmerged".

    An unmerged file of the index is one whose merge is not settled.
    """

    name: str
    kind: str
    id: str


@dataclass(frozen=True, slots=True)
class _Repository:
    """Where a repository has its parts; ``common`` differs from ``own`` in a linked work tree."""

    own: Path
    common: Path
    inside: str
    """The present folder, seen from the top of the work tree; empty at the top."""


Start: TypeAlias = "Callable[..., subprocess.Popen[bytes]]"
"""Starts git with some arguments."""


class Objects:
    """Objects by name, one at a time, of a process that serves them."""

    def __init__(self, start: Start, inside: str, borrows: bool = False) -> None:
        self._start = start
        self._server = start("cat-file", "--batch")
        self.inside = inside
        self._borrows = borrows
        self._hash = 0
        self._left = TIMEOUT

    def close(self) -> None:
        """End the process."""
        _end(self._server)

    @contextmanager
    def _in_time(self, process: subprocess.Popen[bytes]) -> Iterator[None]:
        """End a process that takes longer to answer than what is left of the time."""
        start = monotonic()
        watch = Timer(max(self._left, 0), process.kill)
        watch.daemon = True
        watch.start()
        try:
            yield
        finally:
            watch.cancel()
            self._left -= monotonic() - start

    def tree(self, revision: str) -> list[Entry]:
        """The top folder of a revision. Raises UsageError if git has no such revision."""
        data = self._object(f"{revision}^{{tree}}", "tree")
        if data is None:
            raise UsageError(
                f"git cannot show {shortened(revision)}: there is no such revision",
                expected="a revision of the git repository one is in",
            )
        return _entries(data, self._hash, revision)

    def folder(self, entry: Entry, told: str) -> list[Entry]:
        """What a folder holds; ``told`` names it in an error."""
        return _entries(self._needed(entry, "tree", told), self._hash, told)

    def file(self, entry: Entry, told: str) -> bytes:
        """What a file holds; ``told`` names it in an error."""
        return self._needed(entry, "blob", told)

    def has_folder(self, revision: str, path: str) -> bool:
        """Whether a revision holds a folder, of which nothing else is read."""
        return self._object(f"{revision}:{path}", "tree") is not None

    def staged(self) -> list[Entry]:
        """The files of the index, named from the top; one that is not merged may stand twice.

        Raises UsageError for an index that is damaged, or of more than 256 MiB of names.
        """
        process = self._start("ls-files", "--stage", "-z")
        assert process.stdout is not None
        try:
            with self._in_time(process):
                data = process.stdout.read(_MAX_INDEX + 1)
                failed = len(data) > _MAX_INDEX or process.wait() != 0
        finally:
            _end(process)
        if failed:
            raise UsageError(
                "git cannot show the index: it is damaged, too large, or git gave no answer within"
                f" {TIMEOUT:.0f} s",
                expected="an index that `git ls-files` lists",
            )
        lines = (line.partition(b"\t") for line in data.split(b"\0") if line)
        return [_staged(head.split(b" "), os.fsdecode(name)) for head, _, name in lines]

    def may_track(self, path: str) -> bool:
        """Whether the index may hold a file, also one whose merge is not settled.

        Objects that are borrowed from another repository are not seen, so then any file may be.
        """
        held = (self._object(f":{stage}:{path}", "blob") is not None for stage in range(4))
        return self._borrows or "\n" in path or any(held)

    def _needed(self, entry: Entry, kind: str, told: str) -> bytes:
        data = self._object(entry.id, kind, told)
        if data is None:
            raise UsageError(
                f"git cannot show {shortened(told, 200)}: its object is not in this repository",
                expected=f"a repository with all its objects, because {_ELSEWHERE}",
            )
        return data

    def _object(self, name: str, kind: str, told: str = "") -> bytes | None:
        """An object by name; None if there is none, or none of that kind, by that name.

        ``told`` names it in an error.
        """
        if "\n" in name or "\0" in name:
            return None
        with self._in_time(self._server):
            return self._answer(name, kind, told or name)

    def _answer(self, name: str, kind: str, told: str) -> bytes | None:
        requests, answers = self._server.stdin, self._server.stdout
        assert requests is not None
        assert answers is not None
        try:
            requests.write(os.fsencode(name) + b"\n")
            requests.flush()
        except OSError:
            raise _silent(told) from None
        head = answers.readline(_MAX_POINTER)
        found = re.fullmatch(rb"([0-9a-f]+) (\w+) (\d+)\n", head)
        if found is None:
            if not head.endswith(b"\n"):
                raise _silent(told)
            return None
        size = int(found[3])
        if size > MAX_BYTES:
            raise UsageError(
                f"git cannot show {shortened(told, 200)}: it is larger than {MAX_BYTES >> 20} MiB",
                expected="a smaller file",
            )
        data = answers.read(size + 1)
        if len(data) != size + 1:
            raise _silent(told)
        self._hash = len(found[1]) // 2
        return data[:-1] if found[2].decode() == kind else None


def _staged(head: list[bytes], name: str) -> Entry:
    """A file of the index from its mode, object and stage."""
    mode, number, stage = head
    return Entry(name, _kind(int(mode, 8)) if stage == b"0" else "unmerged", number.decode())


def _silent(name: str) -> UsageError:
    return UsageError(
        f"git cannot show {shortened(name, 200)}: it ended, or gave no answer within"
        f" {TIMEOUT:.0f} s",
        expected="a repository that is whole",
    )


def _entries(data: bytes, width: int, told: str) -> list[Entry]:
    """The lines of a folder as git keeps it. Raises UsageError for a damaged one."""
    found: dict[str, Entry] = {}
    at = 0
    while at < len(data):
        space, end = data.find(b" ", at), data.find(b"\0", at)
        number = data[end + 1 : end + 1 + width]
        mode = data[at:space]
        if not at < space < end or len(number) != width or not re.fullmatch(b"[0-7]{5,6}", mode):
            raise _damaged(told)
        name = os.fsdecode(data[space + 1 : end])
        if name in found:
            raise _damaged(told)
        found[name] = Entry(name, _kind(int(mode, 8)), number.hex())
        at = end + 1 + width
    return list(found.values())


def _damaged(told: str) -> UsageError:
    return UsageError(
        f"git cannot show {shortened(told, 200)}: the folder is damaged",
        expected="a repository that `git fsck` finds whole",
    )


def _kind(mode: int) -> str:
    return {0o040000: "tree", 0o120000: "link", 0o160000: "commit"}.get(mode & 0o170000, "blob")


@contextmanager
def opened(start: Path | None = None) -> Iterator[Objects]:
    """Serve the objects of the repository that ``start`` (else the present folder) lies in.

    Raises UsageError if there is no repository or no git.
    """
    repository = _found(start or Path.cwd())
    program = _program()
    with TemporaryDirectory(prefix="axisproof-") as scratch:
        view = _view(repository, Path(scratch))

        def start_git(*arguments: str) -> subprocess.Popen[bytes]:
            process = subprocess.Popen(
                [program, "--no-pager", *_SETTINGS, *arguments],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                cwd=view,
                env=_environment(view, Path(scratch)),
            )
            _hold(process.pid)
            return process

        borrows = (repository.common / "objects/info/alternates").exists()
        objects = Objects(start_git, repository.inside, borrows)
        try:
            yield objects
        finally:
            objects.close()


def _end(process: subprocess.Popen[bytes]) -> None:
    process.kill()
    for stream in (process.stdin, process.stdout):
        with suppress(OSError):
            if stream is not None:
                stream.close()
    process.wait()


_SETTINGS: Final = (
    *("-c", "protocol.allow=never"),
    *("-c", "core.fsmonitor=false"),
    *("-c", "core.hooksPath=/dev/null"),
    *("-c", "core.packedGitWindowSize=32m"),
    *("-c", "core.packedGitLimit=256m"),
    *("-c", "core.bigFileThreshold=1m"),
)
"""A second wall: the view has no configuration that could say otherwise."""


def _environment(view: Path, scratch: Path) -> dict[str, str]:
    kept = {name: value for name, value in os.environ.items() if not name.startswith("GIT_")}
    return {
        **kept,
        "PATH": _path(),
        "LC_ALL": "C",
        "HOME": str(scratch),
        "XDG_CONFIG_HOME": str(scratch),
        "GIT_DIR": str(view),
        "GIT_CONFIG_NOSYSTEM": "1",
        "GIT_CONFIG_SYSTEM": os.devnull,
        "GIT_CONFIG_GLOBAL": os.devnull,
        "GIT_ATTR_NOSYSTEM": "1",
        "GIT_NO_LAZY_FETCH": "1",
        "GIT_NO_REPLACE_OBJECTS": "1",
        "GIT_ALLOW_PROTOCOL": "none",
        "GIT_PROTOCOL_FROM_USER": "0",
        "GIT_OPTIONAL_LOCKS": "0",
        "GIT_TERMINAL_PROMPT": "0",
    }


def _path() -> str:
    """The folders of programs, without those that mean the folder one is in."""
    folders = os.environ.get("PATH", os.defpath).split(os.pathsep)
    return os.pathsep.join(folder for folder in folders if Path(folder).is_absolute())


def _program() -> str:
    program = shutil.which("git", path=_path())
    if program is None:
        raise UsageError("git is not installed", expected="git, or files and folders")
    return program


def _hold(process: int) -> None:
    """Bound what a hostile object can make git take."""
    with suppress(ImportError, AttributeError, OSError, ValueError):  # not every system can
        import resource

        resource.prlimit(process, resource.RLIMIT_AS, (MEMORY, MEMORY))


# Where a repository has its parts -----------------------------------------------------------------


def _found(start: Path) -> _Repository:
    named = os.environ.get("GIT_DIR")
    if named:
        return _parts(Path(named).absolute(), os.environ.get("GIT_WORK_TREE", ""), start)
    ceilings = os.environ.get("GIT_CEILING_DIRECTORIES", "").split(os.pathsep)
    for folder in (start, *start.parents):
        if str(folder) in ceilings and folder != start:
            break
        own = _pointed(folder / ".git")
        if _is_repository(own):
            return _parts(own, str(folder), start)
        if _is_repository(folder):
            return _parts(folder, "", start)
    raise UsageError(
        "git cannot show this: the present folder is not in a git repository"
        " (not a git repository)",
        expected="a folder of a git repository, or files and folders",
    )


def _is_repository(folder: Path) -> bool:
    if not (folder / "HEAD").is_file():
        return False
    common = _common(folder)
    return (common / "objects").is_dir() and (common / "refs").is_dir()


def _parts(own: Path, top: str, start: Path) -> _Repository:
    inside = ""
    if top:
        with suppress(ValueError):
            inside = start.resolve().relative_to(Path(top).resolve()).as_posix()
    return _Repository(own, _common(own), "" if inside == "." else inside)


def _pointed(place: Path) -> Path:
    """The folder of a repository: ``.git`` itself, or what the file of that name points to."""
    if not place.is_file():
        return place
    text = _small(place)
    return place.parent / text.removeprefix("gitdir: ") if text.startswith("gitdir: ") else place


def _common(own: Path) -> Path:
    text = _small(own / "commondir")
    return own / text if text else own


def _small(path: Path, most: int = _MAX_POINTER) -> str:
    """The text of a small file without its line break; empty if it is none."""
    try:
        if not path.is_file():
            return ""
        with path.open("rb") as stream:
            text = os.fsdecode(stream.read(most)).rstrip("\r\n")
    except OSError:
        return ""
    return "" if "\0" in text else text


# The view -----------------------------------------------------------------------------------------

_NAMES: Final = ("HEAD", "ORIG_HEAD", "FETCH_HEAD", "MERGE_HEAD", "CHERRY_PICK_HEAD")
_SHARED: Final = ("packed-refs", "refs", "shallow")


def _view(repository: _Repository, scratch: Path) -> Path:
    """A folder that is to git the same repository, without all that could run or lead elsewhere."""
    view = scratch / "view"
    objects = view / "objects"
    objects.mkdir(parents=True)
    try:
        for name in _NAMES:  # git takes a link there for a name of its own
            if text := _small(repository.own / name):
                (view / name).write_bytes(os.fsencode(f"{text}\n"))
        _link(repository.own / "index", view / "index")
        for each in repository.own.glob("sharedindex.*"):
            _link(each, view / each.name)
        for name in _SHARED:
            _link(repository.common / name, view / name)
        index = os.environ.get("GIT_INDEX_FILE")
        if index:
            (view / "index").unlink(missing_ok=True)
            _link(Path(index).absolute(), view / "index")
        for name in ("pack", *(f"{number:02x}" for number in range(256))):
            _link(repository.common / "objects" / name, objects / name)
        _link_logs(repository, view / "logs")
        _link(repository.own / "reftable", view / "reftable")
    except OSError as error:
        raise UsageError(
            f"git's objects cannot be laid out to be read: {error.strerror}",
            expected="a system with links to files",
        ) from None
    (view / "config").write_text(_configuration(repository.common), "utf-8")
    return view


def _link_logs(repository: _Repository, logs: Path) -> None:
    """Where names of revisions stood before, for ``main@{1}``."""
    logs.mkdir()
    _link(repository.own / "logs/HEAD", logs / "HEAD")
    _link(repository.common / "logs/refs", logs / "refs")


def _link(target: Path, link: Path) -> None:
    if target.exists():
        link.symlink_to(target.resolve())


_EXTENSIONS: Final = {"objectformat": ("sha1", "sha256"), "refstorage": ("files", "reftable")}


def _configuration(common: Path) -> str:
    """All that the view is configured with: how objects and names are kept, and nothing else."""
    said: dict[str, str] = {}
    section = ""
    for line in _small(common / "config", _MAX_CONFIGURATION).splitlines():
        head = re.fullmatch(r"\s*\[\s*([A-Za-z0-9.-]+)\s*\]\s*", line)
        if head or line.lstrip().startswith("["):
            section = head[1].lower() if head else ""
        key, equals, value = (part.strip().lower() for part in line.partition("="))
        if section == "extensions" and equals and value in _EXTENSIONS.get(key, ()):
            said[key] = value
    lines = [f"\trepositoryformatversion = {1 if said else 0}", "\tbare = true"]
    extensions = [f"\t{key} = {value}" for key, value in said.items()]
    return "\n".join(["[core]", *lines, *(["[extensions]", *extensions] if said else []), ""])
