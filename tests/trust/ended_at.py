"""A process that runs a command and is ended at every moment of its writing, one after the other.

Run as a script, in the folder the command is for. It takes the command's arguments, and prints as
JSON what the files were after each end. The command itself runs once: where it begins to write, a
child is forked for each moment, which goes on until then.
"""

from __future__ import annotations

import contextlib
import hashlib
import itertools
import json
import os
import resource
import signal
import sys
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any

Files = dict[str, bytes]


def files() -> Files:
    return {str(path): path.read_bytes() for path in sorted(Path().rglob("*")) if path.is_file()}


def restore(wanted: Files, *, folders: bool = False) -> None:
    """Let files be as ``wanted``, and with ``folders`` no empty folder be left."""
    for name in files().keys() - wanted.keys():
        os.unlink(name)
    for name, data in wanted.items():
        path = Path(name)
        if not path.exists() or path.read_bytes() != data:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(data)
    for path in sorted(Path().rglob("*"), reverse=True):
        if folders and path.is_dir() and not os.listdir(path):
            path.rmdir()


def told(found: Files) -> dict[str, str]:
    return {name: hashlib.sha256(data).hexdigest() for name, data in found.items()}


def kill_at(moment: int) -> None:
    """End this process at the n-th line, or call into the system, of what writes files."""
    from axisproof.base import safe_write
    from axisproof.checking import fixing

    watched = {safe_write.__file__, fixing.__file__}
    left = moment

    def count(frame: Any, event: str, _: object) -> Any:
        nonlocal left
        if frame.f_code.co_filename not in watched:
            return None
        if event in ("line", "return", "c_call", "c_return"):
            left -= 1
            if left == 0:
                os.kill(os.getpid(), signal.SIGKILL)
        return count

    sys.setprofile(count)
    sys.settrace(count)


def kill_after(size: int) -> None:
    """Let the system end this process while it writes, when ``size`` bytes of a file are there."""
    signal.signal(signal.SIGXFSZ, signal.SIG_DFL)
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))


def child(do: Callable[[], int]) -> int:
    """The exit status of ``do`` in a process of its own; minus the signal that ended it."""
    sys.stdout.flush()
    pid = os.fork()
    if pid == 0:
        status = 99
        with contextlib.suppress(BaseException):
            status = do()
        os._exit(status)
    return os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1])


def main() -> None:
    answer = os.fdopen(os.dup(1), "w")
    quiet = os.open(os.devnull, os.O_WRONLY)
    os.dup2(quiet, 1)
    os.dup2(quiet, 2)
    from axisproof.base import safe_write
    from axisproof.batch import cache
    from axisproof.cli import main as cli

    before = files()
    ends: list[tuple[int, Files]] = []

    def ended(real: Callable[..., None], sizes: set[int], *arguments: Any, **options: Any) -> None:
        at_first = files()

        def until(begin: Callable[[int], None], number: int) -> int:
            def go() -> int:
                begin(number)
                real(*arguments, **options)
                sys.settrace(None)
                sys.setprofile(None)
                return 0

            status = child(go)
            ends.append((status, files()))
            restore(at_first)
            return status

        for size in sorted({part for whole in sizes for part in (0, 1, whole // 2, whole - 1)}):
            until(kill_after, size)
        for moment in itertools.count(1):
            if until(kill_at, moment) != -signal.SIGKILL:
                break
        real(*arguments, **options)

    write_files, put_file = safe_write.write_files, cache.put_file

    def write_in_pieces(texts: Mapping[Path, str | Iterable[str]], **options: Any) -> None:
        """Each text is one that comes in two pieces, as that of a long report does."""
        whole = {path: "".join(text) for path, text in texts.items()}
        halves = {path: [t[: len(t) // 2], t[len(t) // 2 :]] for path, t in whole.items()}
        sizes = {len(text.encode()) for text in whole.values()}
        ended(write_files, sizes, halves, **options)

    safe_write.write_files = write_in_pieces
    cache.put_file = lambda path, data: ended(put_file, {len(data)}, path, data)
    status = cli.run(sys.argv[1:])
    safe_write.write_files, cache.put_file = write_files, put_file
    after = files()
    states: dict[tuple[object, ...], tuple[Files, int, Files]] = {}
    for _, found in ends:
        whole = {name: data for name, data in found.items() if not name.endswith(".part")}
        key = (*whole.items(), len(whole) < len(found))
        if key not in states:
            restore(found, folders=True)
            again = child(lambda: cli.run(sys.argv[1:]))
            states[key] = (found, again, files())
    json.dump(
        {
            "status": status,
            "before": told(before),
            "after": told(after),
            "ends": [[ended, told(found)] for ended, found in ends],
            "again": [[told(one), ended, told(two)] for one, ended, two in states.values()],
        },
        answer,
    )


if __name__ == "__main__":
    main()
