"""Runs one command where it cannot write: a process with mounts of its own, or a limit on files.

Arguments: the kind of trouble, a folder to copy from, an empty folder, the command's arguments.
Prints as JSON the status, what was said, and the files before and after.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import resource
import shutil
import subprocess
import sys
from pathlib import Path

PAGE = 4096


def files() -> dict[str, str]:
    return {
        str(path): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(Path().rglob("*"))
        if path.is_file() and path.name != "filler"
    }


def mount(disk: str, options: str) -> None:
    subprocess.run(["mount", "-t", "tmpfs", "-o", options, "tmpfs", disk], check=True)


def fill() -> None:
    with open("filler", "ab", buffering=0) as filler, contextlib.suppress(OSError):
        while True:
            filler.write(bytes(PAGE))


def trouble(kind: str, source: str, disk: str) -> None:
    """Go into ``disk``, a copy of ``source`` where nothing can be written any more."""
    here = sum(1 for _ in Path(source).rglob("*")) + 1
    if kind != "limit":
        mount(disk, f"size=1m,nr_inodes={here if kind == 'no more files' else 1000}")
    shutil.copytree(source, disk, dirs_exist_ok=True)
    os.chdir(disk)
    if kind == "read only":
        subprocess.run(["mount", "-o", "remount,ro", disk], check=True)
    elif kind in ("no room", "one page"):
        fill()
        if kind == "one page":
            os.truncate("filler", os.path.getsize("filler") - PAGE)
    elif kind == "limit":
        resource.setrlimit(resource.RLIMIT_FSIZE, (10, 10))


def main() -> None:
    kind, source, disk, *arguments = sys.argv[1:]
    from axisproof.cli import main as cli

    said, saying = os.pipe()
    answer = os.fdopen(os.dup(1), "w")
    trouble(kind, source, disk)
    os.dup2(saying, 2)
    os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
    before = files()
    status = cli.run(arguments)
    sys.stderr.flush()
    os.dup2(1, 2)
    os.close(saying)
    message = os.read(said, 2**16).decode()
    told = {"status": status, "stderr": message, "before": before, "after": files()}
    json.dump(told, answer)


if __name__ == "__main__":
    main()
